"""Every change is told once, with its cause, and nothing else is told."""

import pytest

from menugen.history import Declared
from tests.history.repositories import Books, books, told
from tests.houses import EVENT, SOUR, texts

SHORE_GIN = """\
shore gin:
  kind: gin
  bottle: 700 ml
  price: 21.00
  abv: 45 %
  contains: [almond]
  checked: 2026-11-20
"""


@pytest.fixture
def house(tmp_path) -> Books:
    return books(tmp_path)


def figures(slug: str, cause: str, *facts: str) -> list[str]:
    return [f"{slug}: {fact} <{cause}" for fact in facts]


def test_untouched_files_tell_nothing(house):
    assert told(house.compared()) == []
    assert house.compared().nothing


def test_another_bottle_for_the_night_is_the_cause_of_all_it_changes(house):
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("A gin for the shore")
    house.edit("events/small-supper.yaml", "menu:", "bottles:\n  gin: shore gin\nmenu:")
    cause = "garden gin -> shore gin"
    assert told(house.compared()) == [
        f"marsh-sour: almond not -> contains <{cause}",
        *figures("marsh-sour", cause, "strength", "volume", "units", "sugar", "acid", "cost"),
        "bottle gin: garden gin -> shore gin (1)",
    ]


def test_an_alias_that_moves_to_another_bottle_is_the_same_swap(house):
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("A gin for the shore")
    house.edit("stock/all.yaml", "  aliases: [gin]\n  kind: gin\n", "  kind: gin\n")
    house.edit("stock/more.yaml", "  kind: gin\n", "  kind: gin\n  aliases: [gin]\n")
    lines = told(house.compared())
    assert "marsh-sour: almond not -> contains <garden gin -> shore gin" in lines
    assert lines[-1] == "bottle gin: garden gin -> shore gin (1)"


def test_a_label_read_again_is_told_with_its_day_and_what_it_brings(house):
    house.edit_stock(
        "garden gin",
        "contains: none\n  checked: 2026-11-01",
        "contains: none\n  may contain: [hazelnut]\n  checked: 2026-11-20",
    )
    assert told(house.compared()) == [
        "marsh-sour: hazelnut not -> may <garden gin: label read again 2026-11-20",
        "stock garden gin: label read again 2026-11-20; may contain + hazelnut (1)",
    ]


def test_a_label_read_again_that_says_the_same_changes_no_drink(house):
    house.edit_stock("garden gin", "2026-11-01", "2026-11-20")
    assert told(house.compared()) == ["stock garden gin: label read again 2026-11-20 (1)"]


def test_the_same_substance_in_other_words_is_no_change(house):
    house.edit("stock/all.yaml", "contains: [egg]", "contains: [eggs]")
    assert told(house.compared()) == []


def test_what_was_a_trace_and_is_now_an_ingredient_is_gained_once(house):
    house.edit_stock("garden gin", "contains: none", "contains: none\n  may contain: [almond]")
    house.commit("A warning on the label")
    house.edit_stock("garden gin", "contains: none\n  may contain: [almond]", "contains: [almond]")
    (drink,) = house.compared().drinks
    (one,) = drink.allergens
    assert (one.before, one.after, one.gained) == (Declared.MAY_CONTAIN, Declared.CONTAINS, True)
    (lost,) = house.compared("HEAD~1").drinks[0].allergens
    assert (lost.before, lost.after) == (Declared.NOT, Declared.CONTAINS)


def test_a_swap_tells_only_what_the_drink_itself_does_not(house):
    house.edit_stock("aquafaba", "may contain: [lupin]", "may contain: [lupin, soy]")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house.compared()) == [
        "marsh-sour: almond not -> contains <garden gin: contains + almond",
        "marsh-sour [aquafaba instead of egg white]: soy not -> may <aquafaba: may contain + soy",
        "stock aquafaba: may contain + soy (1)",
        "stock garden gin: contains + almond (1)",
    ]


def test_a_swap_whose_own_strength_moves_is_told_apart(house):
    house.edit("specs/marsh-sour.md", "aquafaba", "white wine")
    house.commit("Wine, not chickpeas")
    house.edit_stock("white wine", "abv: 12 %", "abv: 15 %")
    lines = told(house.compared())
    cause = "white wine: 12 -> 15 % vol"
    assert f"marsh-sour [white wine instead of egg white]: strength <{cause}" in lines
    assert not [line for line in lines if line.startswith("marsh-sour: ")]


def test_a_rename_is_told_as_one_whatever_else_was_tweaked(house):
    spec = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/salt-sour.md", spec.replace("Marsh Sour", "Salt Sour").replace("25 ml", "20 ml"))
    (house.house / "specs/marsh-sour.md").unlink()
    house.edit("events/small-supper.yaml", "marsh-sour", "salt-sour")
    assert told(house.compared()) == [
        "renamed marsh-sour salt-sour",
        "salt-sour: name Marsh Sour -> Salt Sour",
        "salt-sour: measure lemon juice 25 ml -> 20 ml",
        *figures("salt-sour", "lemon juice 25 ml -> 20 ml", "strength", "volume", "sugar", "acid", "cost"),
    ]


def test_one_drink_gone_and_a_different_one_new_is_no_rename(house):
    (house.house / "specs/marsh-sour.md").unlink()
    house.write(
        "specs/long-walk.md",
        "---\nname: Long Walk\npour: 150 ml white wine\ntop: soda water\nglass: wine\n---\nCold.\n",
    )
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "long-walk: 6.00")
    assert told(house.compared()) == [
        "new Long Walk",
        "gone Marsh Sour",
        "small-supper: on the menu now: Long Walk 6.00 GBP",
        "small-supper: off the menu: Marsh Sour",
    ]


@pytest.mark.parametrize(
    ("path", "before", "after"),
    [
        ("specs/marsh-sour.md", "Bright and short.", "Bright, and rather short."),
        ("specs/marsh-sour.md", "The secret is a cold tin.", "The secret is a very cold tin."),
        ("specs/marsh-sour.md", "50 ml gin", "5 cl   gin"),
        ("specs/marsh-sour.md", "method: [dry shake, shake]\nglass: sour", "glass: sour\nmethod: [dry shake, shake]"),
        ("stock/all.yaml", "supplier: Hidden Wharf Ltd", "supplier: Hidden Wharf Limited"),
        ("stock/all.yaml", "price: 14.00", "price: 14"),
        ("stock/all.yaml", "garden gin:", "Garden Gin:"),
        ("events/small-supper.yaml", "section: All", "section: All\n    note: Short ones."),
    ],
)  # fmt: skip
def test_what_changes_no_fact_is_told_as_nothing(house, path, before, after):
    house.edit(path, before, after)
    assert told(house.compared()) == []


def test_a_measure_is_told_with_all_it_comes_to_even_a_glass_too_small(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "75 ml gin")
    cause = "gin 50 ml -> 75 ml"
    assert told(house.compared()) == [
        "marsh-sour: measure gin 50 ml -> 75 ml",
        *figures("marsh-sour", cause, "strength", "volume", "units", "sugar", "acid", "cost", "fit"),
    ]
    (fit,) = [move for move in house.compared().drinks[0].moves if move.fact == "fit"]
    assert fit.before == "fits the sour"
    assert fit.after.endswith("ml over the brim of the sour")


def test_a_line_that_goes_takes_its_allergen_and_caution_along(house):
    house.edit("specs/marsh-sour.md", "  - 1 egg white\n", "")
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    lines = told(house.compared())
    assert lines[:3] == [
        "marsh-sour: egg contains -> not <- 1 egg white",
        "marsh-sour: measure 1 egg white -> ",
        "marsh-sour: swap 20 ml aquafaba instead of egg white -> ",
    ]
    assert lines[-1] == "marsh-sour: caution raw egg ->  <- 1 egg white"


def test_a_method_is_the_cause_of_what_its_melt_changes(house):
    house.edit("specs/marsh-sour.md", "[dry shake, shake]", "stir")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: method dry shake, shake -> stir"
    assert all(line.endswith("<method dry shake, shake -> stir") for line in lines[1:])
    assert not [line for line in lines if line.startswith("marsh-sour: units")]


def test_prices_and_what_is_sold_out_belong_to_the_event(house):
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 10.50")
    house.edit("events/small-supper.yaml", "menu:", "off: [marsh-sour]\nmenu:")
    assert told(house.compared()) == [
        "small-supper: Marsh Sour: price 9.50 GBP -> 10.50 GBP",
        "small-supper: sold out: Marsh Sour",
    ]
    house.commit("Sold out")
    house.edit("events/small-supper.yaml", "off: [marsh-sour]\n", "")
    assert told(house.compared()) == ["small-supper: back again: Marsh Sour"]


def test_another_place_changes_the_unit_and_is_said_once(house):
    house.edit("house.yaml", "GB-ENG", "AU")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: units <rules of GB-ENG -> AU"
    assert lines[1:] == ["house region GB-ENG -> AU"]


def test_a_house_ounce_that_changes_moves_every_measure_written_in_it(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "2 oz gin")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nounce: trade")
    house.commit("In ounces")
    house.edit("house.yaml", "ounce: trade", "ounce: us")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: measure gin 2 oz (60 ml) -> 2 oz (59.15 ml)"
    assert lines[-1] == "house ounce trade -> us"


def test_a_smaller_glass_in_the_house_is_why_a_drink_fits_no_more(house):
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nglasses:\n  sour: 300 ml")
    house.commit("Our own glasses")
    house.edit("house.yaml", "300 ml", "120 ml")
    assert told(house.compared()) == [
        "marsh-sour: fit <glass sour: holds 300 -> 120 ml",
        "house glass sour 300 ml -> 120 ml",
    ]


def test_a_change_in_stock_is_told_once_with_every_drink_it_reaches(tmp_path):
    files = texts()
    for number in range(2, 13):
        files[f"specs/sour-{number:02}.md"] = SOUR.lstrip("\n").replace("Marsh Sour", f"Sour {number:02}")
    files["events/small-supper.yaml"] += "".join(f"      - sour-{number:02}: 9\n" for number in range(2, 8))
    house = books(tmp_path, files)
    house.edit_stock("lemon juice", "contains: none", "contains: [sulphites]")
    comparison = house.compared()
    (stock,) = comparison.stock
    assert stock.what == ("contains + sulphites",)
    assert len(stock.reaches) == 12
    assert len(comparison.drinks) == 12
    assert all(len(drink.allergens) == 1 and not drink.moves for drink in comparison.drinks)


def test_a_drink_on_two_menus_tells_once_what_both_show(tmp_path):
    second = EVENT.replace("Small Supper", "Second Supper")
    house = books(tmp_path, texts(**{"events/second-supper.yaml": second.lstrip("\n")}))
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert told(house.compared()) == [
        "marsh-sour: almond not -> contains <garden gin: contains + almond",
        "stock garden gin: contains + almond (1)",
    ]


def test_what_only_one_event_shows_names_that_event(tmp_path):
    second = EVENT.replace("Small Supper", "Second Supper").replace(
        "menu:", "bottles:\n  egg white: aquafaba\nmenu:"
    )
    house = books(tmp_path, texts(**{"events/second-supper.yaml": second.lstrip("\n")}))
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: milk not -> contains @Small Supper <egg white: contains + milk"


def test_a_revision_with_faults_is_compared_as_far_as_it_can_be_read(house):
    house.write("specs/broken.md", "---\nname: Broken\npour: 50 xx\n")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    comparison = house.compared()
    assert "marsh-sour: measure gin 50 ml -> 60 ml" in told(comparison)
    assert comparison.notes == ("not compared, for its faults in the files as they lie: spec broken",)
    assert [problem.code for problem in comparison.new.errors] == ["front-matter-unclosed"]
    assert comparison.old.errors == ()
    assert not comparison.added


def test_stock_that_cannot_be_read_is_not_called_gone(house):
    house.edit("stock/all.yaml", "  abv: 40 %\n", "  abv: forty\n")
    comparison = house.compared()
    assert comparison.stock_gone == ()
    assert any("garden gin" in note for note in comparison.notes)


def test_an_unread_label_on_both_sides_is_told_as_a_problem_of_both(house):
    house.edit_stock("garden gin", "  contains: none\n", "")
    house.commit("Not read yet")
    house.edit("specs/marsh-sour.md", "Bright", "Very bright")
    comparison = house.compared()
    assert [problem.code for problem in comparison.old.errors] == ["label-not-read"]
    assert [problem.code for problem in comparison.new.errors] == ["label-not-read"]


def test_a_house_that_was_not_there_yet_is_said_so(tmp_path):
    house = books(tmp_path, {"README.txt": "soon"})
    for name, text in texts().items():
        house.write(name, text)
    comparison = house.compared()
    assert comparison.notes == (
        f"house.yaml cannot be read in {comparison.old.label}: nothing could be compared",
    )
