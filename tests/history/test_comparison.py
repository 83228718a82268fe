"""Every change is told once, with its cause, and nothing else is told."""

import pytest

from menugen.history.changes import Declared
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


def test_an_event_under_another_file_name_is_the_same_event(house):
    text = (house.house / "events/small-supper.yaml").read_text("utf-8")
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("A gin for the shore")
    (house.house / "events/small-supper.yaml").unlink()
    house.write("events/supper.yaml", text.replace("menu:", "bottles:\n  gin: shore gin\nmenu:"))
    lines = told(house.compared())
    assert "marsh-sour: almond not -> contains <garden gin -> shore gin" in lines
    assert lines[-1] == "supper: file small-supper -> supper"
    assert not [line for line in lines if line.startswith("event ")]


def test_an_event_of_another_name_and_day_with_the_same_menu_is_the_same_event(house):
    text = (house.house / "events/small-supper.yaml").read_text("utf-8")
    (house.house / "events/small-supper.yaml").unlink()
    house.write("events/tall.yaml", text.replace("Small Supper", "Tall Supper").replace("12-12", "12-13"))
    assert told(house.compared()) == [
        "tall: name Small Supper -> Tall Supper",
        "tall: file small-supper -> tall",
        "tall: date 2026-12-12 -> 2026-12-13",
    ]


def test_a_swap_in_the_place_of_another_tells_what_it_brings(house):
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml single cream")
    assert told(house.compared()) == [
        "marsh-sour [single cream instead of egg white]: milk not -> contains <swap + 20 ml single cream",
        "marsh-sour: swap 20 ml aquafaba -> 20 ml single cream instead of egg white",
    ]


def test_a_new_swap_tells_what_the_drink_as_written_does_not_hold(house):
    house.edit("specs/marsh-sour.md", "aquafaba", "aquafaba\n  gin: 50 ml orgeat")
    assert told(house.compared()) == [
        "marsh-sour [orgeat instead of gin]: almond not -> contains <swap + 50 ml orgeat",
        "marsh-sour: swap  -> 50 ml orgeat instead of gin",
    ]


def test_a_strength_that_nobody_states_is_not_known_and_not_nothing(house):
    house.edit_stock("garden gin", "  abv: 40 %\n", "")
    comparison = house.compared()
    moves = {move.fact: move.after for move in comparison.drinks[0].moves}
    assert moves["strength"] == "not known (no strength stated: garden gin)"
    assert moves["units"] == "units not known"
    assert "menu's word" not in moves
    assert [problem.code for problem in comparison.new.errors] == ["strength-not-stated"]


LONG = "---\nname: Long Walk\npour: 100 ml white wine\ntop: soda water\nglass: wine\n---\nCold and long.\n"


def test_two_drinks_that_change_files_are_not_rewritten(house):
    house.write("specs/long-walk.md", LONG)
    house.commit("A second drink")
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", LONG)
    house.write("specs/long-walk.md", sour)
    assert sorted(told(house.compared())) == [
        "renamed long-walk marsh-sour",
        "renamed marsh-sour long-walk",
        "small-supper: off the menu: Marsh Sour",
        "small-supper: on the menu now: Long Walk 9.50 GBP",
    ]


def test_two_sours_that_change_names_are_told_by_their_names(house):
    other = SOUR.lstrip("\n").replace("Marsh Sour", "Fen Sour").replace("50 ml gin", "40 ml gin")
    house.write("specs/fen-sour.md", other)
    house.commit("A second sour")
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", other)
    house.write("specs/fen-sour.md", sour)
    lines = told(house.compared())
    assert "renamed marsh-sour fen-sour" in lines
    assert not [line for line in lines if "measure" in line or "strength" in line]


def test_a_menu_that_lists_what_is_not_there_is_a_problem_of_the_new_house(house):
    house.write("specs/long-walk.md", LONG)
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 9.50\n      - long-walk: 6.00")
    house.commit("On the menu")
    (house.house / "specs/long-walk.md").unlink()
    comparison = house.compared()
    assert [(one.code, one.where.line > 1) for one in comparison.new.errors] == [("unknown-drink", True)]
    assert comparison.old.errors == ()


def test_a_measure_is_no_cause_of_an_allergen_and_a_label_none_of_a_volume(house):
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("A gin for the shore")
    house.edit("events/small-supper.yaml", "menu:", "bottles:\n  gin: shore gin\nmenu:")
    house.edit("specs/marsh-sour.md", "50 ml gin", "55 ml gin")
    lines = told(house.compared())
    assert "marsh-sour: almond not -> contains <garden gin -> shore gin" in lines
    assert "marsh-sour: volume <gin 50 ml -> 55 ml" in lines
    house.commit("Both")
    house.edit("stock/more.yaml", "abv: 45 %", "abv: 40 %")
    house.edit("stock/more.yaml", "contains: [almond]", "contains: [hazelnut]")
    lines = told(house.compared())
    assert "marsh-sour: hazelnut not -> contains <shore gin: contains + hazelnut" in lines
    assert "marsh-sour: almond contains -> not <shore gin: contains - almond" in lines
    assert "marsh-sour: volume <shore gin: 45 -> 40 % vol" in lines


def test_money_is_that_of_the_menu(house):
    house.edit("house.yaml", "region: GB-ENG", "region: IE\ncurrency: EUR")
    house.edit("events/small-supper.yaml", "menu:", "region: GB-ENG\nmenu:")
    assert told(house.compared()) == ["house region GB-ENG -> IE", "house currency none -> EUR"]


def test_a_garnish_without_a_price_does_not_hide_what_a_drink_costs(house):
    house.edit("specs/marsh-sour.md", "garnish: lemon twist", "garnish: mint sprig")
    house.write("stock/more.yaml", "mint sprig:\n  contains: none\n  checked: 2026-11-01\n")
    house.commit("Mint")
    house.edit_stock("garden gin", "price: 14.00", "price: 15.00")
    (move,) = house.compared().drinks[0].moves
    assert move.fact == "cost"
    assert move.after.endswith(" GBP, mint sprig left out")


def test_what_was_and_is_not_known_is_no_change(house):
    house.edit_stock("garden gin", "  price: 14.00\n", "")
    house.commit("No price")
    house.edit("specs/marsh-sour.md", "garnish: lemon twist", "garnish: orgeat")
    assert "cost" not in {move.fact for move in house.compared().drinks[0].moves}


def test_the_same_figure_in_another_unit_is_no_change(house):
    house.edit_stock("sugar syrup", "sugar: 615 g/l", "sugar: 61.5 g/100 ml")
    assert told(house.compared()) == []


def test_a_stock_line_called_otherwise_is_told_once(house):
    house.edit("stock/all.yaml", "garden gin:\n", "walled garden gin:\n")
    assert told(house.compared()) == ["stock garden gin = walled garden gin"]
    house.edit_stock("walled garden gin", "price: 14.00", "price: 15.00")
    house.edit_stock("walled garden gin", "aliases: [gin]", "aliases: [gin, garden gin]")
    assert told(house.compared()) == [
        "marsh-sour: cost <walled garden gin: price 14.00 -> 15.00",
        "stock walled garden gin: price 14.00 -> 15.00 (1)",
        "stock garden gin = walled garden gin",
    ]


def test_another_name_for_the_same_bottle_is_no_change(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml garden gin")
    assert told(house.compared()) == []
    house.edit("specs/marsh-sour.md", "50 ml garden gin", "55 ml garden gin")
    assert "marsh-sour: measure garden gin 50 ml -> 55 ml" in told(house.compared())


def test_a_drink_at_fault_then_is_not_passed_over_now(house):
    house.edit("specs/marsh-sour.md", "name:", "nome:")
    house.commit("A slip")
    house.edit("specs/marsh-sour.md", "nome:", "name:")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    comparison = house.compared()
    (one,) = comparison.unseen
    assert one.now.contains == ("eggs", "almonds")
    assert one.fault_in == comparison.old.label
    assert told(comparison)[-1] == "stock garden gin: contains + almond (1)"


def test_a_new_drink_says_what_is_in_it(house):
    house.write("specs/long-walk.md", LONG)
    (new,) = house.compared().added
    assert new.strength.endswith("% vol")
    assert (new.contains, new.may_contain) == (("sulphites",), ())


MENU = """\
menu:
  - section: Short
    drinks:
      - marsh-sour: 9.50
  - section: Long
    drinks:
      - long-walk: 6.00
"""


def test_sections_and_what_guests_can_do_with_them(house):
    house.write("specs/long-walk.md", LONG)
    event = (house.house / "events/small-supper.yaml").read_text("utf-8")
    house.write("events/small-supper.yaml", event[: event.index("menu:")] + MENU)
    house.commit("Two sections")
    house.edit("events/small-supper.yaml", "section: Short", "section: Short and sharp")
    assert told(house.compared()) == ["small-supper: section Short is called Short and sharp"]
    house.edit("events/small-supper.yaml", "      - long-walk: 6.00\n", "")
    house.edit(
        "events/small-supper.yaml",
        "      - marsh-sour: 9.50\n",
        "      - marsh-sour: 9.50\n      - long-walk: 6.00\n",
    )
    house.edit("events/small-supper.yaml", "  - section: Long\n    drinks:\n", "")
    house.edit("events/small-supper.yaml", "menu:", "hide off: yes\nguests: 40\nplace: The Barn\nmenu:")
    assert told(house.compared()) == [
        "small-supper: section Short is called Short and sharp",
        "small-supper: Long Walk: from Long to Short and sharp",
        "small-supper: what is sold out is hidden now",
        "small-supper: place none -> The Barn",
        "small-supper: guests none -> 40",
    ]


def test_a_label_nobody_reads_any_more_says_so_once(house):
    house.edit_stock("egg white", "  contains: [egg]\n", "")
    (stock,) = house.compared().stock
    assert stock.what == ("what it contains is no longer said",)


def test_a_drink_that_joins_a_menu_tells_what_its_bottle_brings_there(tmp_path):
    second = EVENT.replace("Small Supper", "Second Supper").replace("marsh-sour: 9.50", "twin: 9.00")
    files = texts(
        **{
            "events/second-supper.yaml": second.lstrip("\n").replace(
                "menu:", "bottles:\n  gin: shore gin\nmenu:"
            )
        }
    )
    files["specs/twin.md"] = SOUR.lstrip("\n").replace("Marsh Sour", "Twin")
    files["stock/more.yaml"] = SHORE_GIN
    house = books(tmp_path, files)
    house.edit("events/second-supper.yaml", "- twin: 9.00", "- twin: 9.00\n      - marsh-sour: 9.00")
    assert told(house.compared()) == [
        "marsh-sour: almond not -> contains @Second Supper <garden gin -> shore gin",
        "second-supper: on the menu now: Marsh Sour 9.00 GBP",
    ]


def test_a_day_on_which_the_law_lists_a_thing_elsewhere_is_no_small_change(house):
    house.edit("house.yaml", "GB-ENG", "US-OR")
    house.edit_stock("garden gin", "contains: none", "contains: [coconut]")
    house.edit("events/small-supper.yaml", "2026-12-12", "2024-12-28")
    house.commit("In Oregon")
    house.edit("events/small-supper.yaml", "2024-12-28", "2025-02-08")
    (drink,) = house.compared().drinks
    (move,) = drink.moves
    assert move.fact == "listing"
    assert move.before != move.after
    assert [cause.text for cause in move.causes] == ["other rules of US-OR on another day"]


def test_a_place_that_changes_nothing_in_a_drink_is_no_cause(house):
    house.edit("house.yaml", "GB-ENG", "GB-SCT")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    lines = told(house.compared())
    assert "marsh-sour: units <gin 50 ml -> 60 ml" in lines
    assert not [line for line in lines if "rules" in line]


def test_ice_that_moves_nothing_is_no_cause(house):
    house.edit("specs/marsh-sour.md", "glass: sour", "glass: rocks")
    house.commit("In a larger glass")
    house.edit("specs/marsh-sour.md", "glass: rocks", "glass: rocks\nice: cubed")
    house.edit("specs/marsh-sour.md", "50 ml gin", "45 ml gin")
    lines = told(house.compared())
    assert "marsh-sour: strength <gin 50 ml -> 45 ml" in lines


def test_a_trace_that_comes_is_no_cause_of_an_ingredient(house):
    house.edit_stock("lemon juice", "contains: none", "contains: none\n  may contain: [almond]")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: almond not -> contains <garden gin: contains + almond"


def test_a_swap_measured_otherwise_is_told_in_one_place(house):
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "25 ml aquafaba")
    comparison = house.compared()
    (swap,) = [move for move in comparison.drinks[0].moves if move.fact == "swap"]
    text = f"swap {swap.before} -> {swap.after}"
    assert text == "swap 20 ml aquafaba -> 25 ml aquafaba instead of egg white"
    assert {cause.text for move in comparison.drinks[0].moves for cause in move.causes} == {text}


def test_a_renamed_bottle_whose_measure_moves_too_is_still_that_bottle(house):
    house.edit("specs/marsh-sour.md", "15 ml sugar syrup", "15 ml orgeat")
    house.commit("Orgeat")
    house.edit("stock/all.yaml", "orgeat:\n", "almond orgeat:\n")
    house.edit_stock("almond orgeat", "contains: [almond]", "contains: [almond]\n  may contain: [peanut]")
    house.edit("specs/marsh-sour.md", "15 ml orgeat", "20 ml almond orgeat")
    lines = told(house.compared())
    assert "stock orgeat = almond orgeat" in lines
    assert "marsh-sour: measure almond orgeat 15 ml -> 20 ml" in lines
    assert "marsh-sour: peanut not -> may <almond orgeat: may contain + peanut" in lines


def test_an_event_nobody_can_read_is_not_compared_and_said_so(house):
    house.edit("events/small-supper.yaml", "date:", "dat:")
    comparison = house.compared()
    assert [one.now.name for one in comparison.events_unseen] == ["Small Supper"]
    assert not comparison.nothing


def test_one_stock_file_nobody_can_read_leaves_the_others_compared(house):
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("Two files")
    house.write("stock/more.yaml", "x: [\n")
    house.edit_stock("garden gin", "price: 14.00", "price: 15.00")
    comparison = house.compared()
    assert comparison.notes == ("not compared, for its faults in the files as they lie: stock shore gin",)
    assert "stock garden gin: price 14.00 -> 15.00 (1)" in told(comparison)


def test_a_top_that_finds_no_room_costs_nothing(house):
    house.edit("specs/marsh-sour.md", "glass: sour", "glass: sour\ntop: white wine")
    house.commit("Topped")
    house.edit("specs/marsh-sour.md", "50 ml gin", "150 ml gin")
    moves = {move.fact: move.after for move in house.compared().drinks[0].moves}
    assert moves["cost"].endswith(" GBP") or "left out" in moves["cost"]


def test_ounces_say_what_they_come_to_beside_millilitres(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "1 1/2 oz gin")
    assert "marsh-sour: measure gin 50 ml -> 1 1/2 oz (45 ml)" in told(house.compared())
