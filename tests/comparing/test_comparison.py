"""Every change is told once, with its cause, and nothing else is told."""

import pytest

from menugen.comparing import HOUSE, Change
from tests.houses import EVENT, LONG, SHORE_GIN, SOUR, texts
from tests.revisions.repositories import books, figures, only_drink, told


def test_untouched_files_tell_nothing(house):
    assert told(house.compared()) == []
    assert not house.compared().changes


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
        "marsh-sour: hazelnut not -> may <garden gin: may contain + hazelnut",
        "stock garden gin: label read again 2026-11-20; may contain + hazelnut (1)",
    ]


def test_a_label_read_again_that_says_the_same_changes_no_drink(house):
    house.edit_stock("garden gin", "2026-11-01", "2026-11-20")
    assert told(house.compared()) == ["stock garden gin: label read again 2026-11-20 (1)"]


def test_the_same_substance_in_other_words_is_no_change(house):
    house.edit("stock/all.yaml", "contains: [egg]", "contains: [eggs]")
    assert told(house.compared()) == []


def test_a_word_of_a_label_that_is_unclear_still_counts_for_what_it_surely_brings(house):
    house.edit_stock("garden gin", "contains: none", "contains: [soy sauce]")
    assert told(house.compared()) == [
        "marsh-sour: soy not -> contains <garden gin: contains + soy",
        "stock garden gin: contains + soy (1)",
    ]


def test_what_no_law_lists_is_declared_all_the_same(house):
    house.edit_stock("garden gin", "contains: none", "contains: [mango]")
    assert told(house.compared()) == [
        "marsh-sour: mango not -> contains <garden gin: contains + mango",
        "stock garden gin: contains + mango (1)",
    ]


def test_a_spirit_distilled_from_another_grain_is_an_alarm_where_the_law_is_unsettled(house):
    house.edit("house.yaml", "GB-ENG", "US")
    house.commit("Over the sea")
    house.edit_stock("garden gin", "distilled from: [wheat]", "distilled from: [wheat, rye]")
    assert told(house.compared()) == [
        "marsh-sour: rye not -> distilled <garden gin: distilled from + rye",
        "stock garden gin: distilled from + rye (1)",
    ]
    house.edit_stock("garden gin", "contains: none", "contains: [wheat]")
    (wheat,) = [one for one in only_drink(house.compared())[0] if one.fact == "wheat"]
    assert (wheat.before, wheat.after, wheat.gained) == ("distilled from", "contains", True)


def test_a_spirit_distilled_from_another_grain_is_nothing_to_a_drink_where_the_law_exempts_it(house):
    house.edit_stock("garden gin", "distilled from: [wheat]", "distilled from: [wheat, rye]")
    assert told(house.compared()) == ["stock garden gin: distilled from + rye (1)"]


def test_the_rules_are_no_cause_where_both_places_list_a_substance_alike(house):
    house.edit("house.yaml", "GB-ENG", "DE")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    [line] = [line for line in told(house.compared()) if "almond" in line and line.startswith("marsh-sour")]
    assert "rules" not in line
    assert "garden gin" in line


def test_another_place_says_what_a_spirit_was_distilled_from_and_the_rules_are_why(house):
    house.edit("house.yaml", "GB-ENG", "US")
    [line] = [line for line in told(house.compared()) if "wheat" in line]
    assert line.startswith("marsh-sour: wheat not -> distilled <rules of GB-ENG -> US")


def test_a_fining_is_told_by_its_own_name_and_counts_where_the_law_exempts_it_not(house):
    house.edit_stock(
        "white wine", "contains: [sulphites]", "contains: [sulphites]\n  fined with: [isinglass]"
    )
    lines = told(house.compared())
    assert any("fined with + isinglass" in line for line in lines if line.startswith("stock white wine"))
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml white wine")
    house.commit("Wine")
    house.edit_stock("white wine", "  fined with: [isinglass]\n", "")
    assert "marsh-sour: fish contains -> not <white wine: fined with - isinglass" in told(house.compared())


def test_what_was_a_trace_and_is_now_an_ingredient_is_gained_once(house):
    house.edit_stock("garden gin", "contains: none", "contains: none\n  may contain: [almond]")
    house.commit("A warning on the label")
    house.edit_stock("garden gin", "contains: none\n  may contain: [almond]", "contains: [almond]")
    (one,), _ = only_drink(house.compared())
    assert (one.before, one.after, one.gained) == ("may contain", "contains", True)
    (lost,), _ = only_drink(house.compared("HEAD~1"))
    assert (lost.before, lost.after) == ("", "contains")


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


@pytest.mark.slow
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
    (fit,) = [one for one in only_drink(house.compared())[1] if one.called == "fit"]
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


def test_a_caution_that_a_kind_carries_is_compared_as_one_that_is_said(house):
    house.edit("stock/all.yaml", "  cautions: [raw egg]\n", "")
    assert told(house.compared()) == [], "nobody says it any more, and its kind carries it still"
    house.commit("Say nothing of cautions")
    house.edit("stock/all.yaml", "  kind: egg_white\n", "  kind: egg_white\n  cautions: none\n")
    assert told(house.compared()) == [
        "marsh-sour: caution raw egg ->  <egg white: caution - raw egg",
        "stock egg white: caution - raw egg (1)",
    ]


def test_a_bottle_of_the_night_brings_the_caution_of_its_kind(house):
    house.write("stock/more.yaml", "hedge honey:\n  contains: none\n  checked: 2026-11-20\n")
    house.commit("Honey")
    house.edit("events/small-supper.yaml", "menu:", "bottles:\n  sugar syrup: hedge honey\nmenu:")
    assert "marsh-sour: caution  -> honey <sugar syrup -> hedge honey" in told(house.compared())


def test_caffeine_with_alcohol_has_what_brought_either_as_its_cause(house):
    tea = "---\nname: Tea\npour: [80 ml black tea]\nglass: sour\nmethod: build\n---\nCold.\n"
    house.write(
        "stock/more.yaml", "black tea:\n  contains: none\n  checked: 2026-11-20\nwater:\n  contains: none\n"
    )
    house.write("specs/tea.md", tea)
    house.edit("events/small-supper.yaml", "- marsh-sour: 9.50", "- marsh-sour: 9.50\n      - tea: 5.00")
    house.commit("Tea")
    house.write("specs/tea.md", tea.replace("[80 ml black tea]", "[80 ml black tea, 20 ml gin]"))
    assert "tea: caution  -> caffeine with alcohol <+ 20 ml gin" in told(house.compared())
    house.commit("With gin")
    house.write("specs/tea.md", tea.replace("[80 ml black tea]", "[80 ml water, 20 ml gin]"))
    cautions = [line for line in told(house.compared()) if "caution" in line]
    assert {line.partition(" <")[0] for line in cautions} == {
        "tea: caution caffeine with alcohol -> ",
        "tea: caution caffeine -> ",
    }
    assert all("black tea" in line for line in cautions)


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


def test_a_drink_that_becomes_free_is_told_in_words(house):
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 0")
    assert told(house.compared()) == ["small-supper: Marsh Sour: price 9.50 GBP -> free"]
    house.commit("Free")
    house.edit("events/small-supper.yaml", "marsh-sour: 0", "marsh-sour")
    assert told(house.compared()) == ["small-supper: Marsh Sour: price free -> none"]


def test_who_pays_and_whether_alcohol_is_poured_belong_to_the_event(house):
    house.edit("events/small-supper.yaml", "menu:", "hosted: yes\nalcohol: none\nmenu:")
    assert told(house.compared()) == [
        "small-supper: alcohol allowed -> none",
        "small-supper: hosted no -> yes",
    ]


def test_what_the_house_says_of_tax_is_told(house):
    house.edit("house.yaml", "region:", "tax registered: yes\nprices include tax: no\nregion:")
    assert told(house.compared()) == [
        "house tax registered none -> yes",
        "house prices include tax none -> no",
    ]


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


ROCKS = "---\nname: Slow Stone\npour: 60 ml gin\nmethod: build\nice: large cube\nglass: rocks\n---\nCold and slow.\n"


def test_a_larger_cube_in_the_house_is_why_a_drink_fits_no_more_and_melts_more(house):
    house.write("specs/slow-stone.md", ROCKS.replace("60 ml", "160 ml"))
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 9.50\n      - slow-stone: 9.00")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nlarge cube: 10 g")
    house.commit("A rock, and small ice for it")
    house.edit("house.yaml", "large cube: 10 g", "large cube: 50 mm")
    cause = "the house's large cube 22 -> 50 mm"
    assert told(house.compared()) == [
        *figures("slow-stone", cause, "strength", "volume", "fit"),
        "house large cube 22.18 mm -> 50 mm",
    ]


def test_where_a_bottle_is_kept_is_a_cause(house):
    long = "---\nname: Long Stone\npour: 40 ml gin\ntop: 120 ml soda water\nmethod: build\nice: cubed\nglass: collins\n"
    house.write("specs/long-stone.md", long + "---\nCold and long.\n")
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 9.50\n      - long-stone: 9.00")
    house.commit("A long drink")
    house.edit("stock/all.yaml", "soda water:\n", "soda water:\n  kept: room\n")
    lines = told(house.compared())
    cause = "soda water: kept not said -> room"
    assert lines == [*figures("long-stone", cause, "strength", "volume"), f"stock {cause} (1)"]


def test_a_pour_written_as_a_top_moves_no_figure_of_a_built_drink(house):
    long = "---\nname: Long Stone\npour: [40 ml gin, 120 ml soda water]\nmethod: build\nice: cubed\nglass: collins\n"
    house.write("specs/long-stone.md", long + "---\nCold and long.\n")
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 9.50\n      - long-stone: 9.00")
    house.commit("A long drink")
    house.edit(
        "specs/long-stone.md",
        "pour: [40 ml gin, 120 ml soda water]",
        "pour: 40 ml gin\ntop: 120 ml soda water",
    )
    assert told(house.compared()) == ["long-stone: measure 120 ml soda water as pour -> as top"]


def test_a_change_in_stock_is_told_once_with_every_drink_it_reaches(tmp_path):
    files = texts()
    for number in range(2, 13):
        files[f"specs/sour-{number:02}.md"] = SOUR.lstrip("\n").replace("Marsh Sour", f"Sour {number:02}")
    files["events/small-supper.yaml"] += "".join(f"      - sour-{number:02}: 9\n" for number in range(2, 8))
    house = books(tmp_path, files)
    house.edit_stock("lemon juice", "contains: none", "contains: [sulphites]")
    comparison = house.compared()
    (stock,) = comparison.of("stock", "says")
    assert stock.after == "contains + sulphites"
    assert (len(stock.where), len(stock.would)) == (7, 5)
    assert len(comparison.drinks) == 12
    assert {tuple(one.kind for one in changes) for changes in comparison.drinks.values()} == {("allergen",)}


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
    _, (move,) = only_drink(house.compared())
    assert move.called == "cost"
    assert move.after.endswith(" GBP, mint sprig left out")


def test_what_was_and_is_not_known_is_no_change(house):
    house.edit_stock("garden gin", "  price: 14.00\n", "")
    house.commit("No price")
    house.edit("specs/marsh-sour.md", "garnish: lemon twist", "garnish: orgeat")
    assert "cost" not in {move.called for move in only_drink(house.compared())[1]}


def test_the_same_figure_in_another_unit_is_no_change(house):
    house.edit_stock("sugar syrup", "sugar: 615 g/l", "sugar: 61.5 g/100 ml")
    assert told(house.compared()) == []


def test_a_new_drink_says_what_is_in_it(house):
    house.write("specs/long-walk.md", LONG)
    comparison = house.compared()
    (new,) = comparison.of("drink", "added")
    strength, allergen = comparison.known_of(new)
    assert strength.after.endswith("% vol")
    assert (allergen.kind, allergen.after, allergen.word) == ("allergen", "contains", "sulphites")
    assert not comparison.drinks


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
    _, (move,) = only_drink(house.compared())
    assert move.called == "listing"
    assert (move.before, move.after) == ("contains", "contains")
    assert move.word == "coconut under Coconut, Tree nuts before"
    assert [cause.text for cause in move.causes] == ["other rules of US-OR on another day"]


def test_a_place_with_another_age_unit_and_lowest_price_says_so_of_each_drink(house):
    house.edit("house.yaml", "GB-ENG", "AT")
    house.commit("In Austria")
    house.edit("house.yaml", "region: AT", "region: LT")
    _, moves = only_drink(house.compared())
    assert {(move.called, move.before, move.after) for move in moves} == {
        ("units", "0.8 standard drinks", "16 g of alcohol"),
        ("age", "18 years", "20 years"),
    }
    assert {cause.text for move in moves for cause in move.causes} == {"rules of AT -> LT"}
    house.commit("In Lithuania")
    house.edit("house.yaml", "region: LT", "region: IE")
    moves = {move.called: (move.before, move.after) for move in only_drink(house.compared())[1]}
    assert moves["lowest price"] == ("none", "1.58 EUR")
    assert moves["age"] == ("20 years", "18 years")


def test_a_lowest_price_that_changes_with_the_day_names_the_rules_as_its_cause(house):
    house.edit("house.yaml", "GB-ENG", "GB-WLS")
    house.edit("events/small-supper.yaml", "2026-12-12", "2026-09-30")
    house.commit("In Wales")
    house.edit("events/small-supper.yaml", "2026-09-30", "2026-10-01")
    _, (move,) = only_drink(house.compared())
    assert (move.called, move.before, move.after) == ("lowest price", "1.00 GBP", "1.30 GBP")
    assert [cause.text for cause in move.causes] == ["other rules of GB-WLS on another day"]


def test_an_age_that_moves_with_the_place_is_not_laid_to_a_measure_that_moved_too(house):
    house.edit("house.yaml", "GB-ENG", "AT")
    house.commit("In Austria")
    house.edit("house.yaml", "region: AT", "region: LT")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    moves = {move.called: [cause.text for cause in move.causes] for move in only_drink(house.compared())[1]}
    assert "rules of AT -> LT" in moves["age"]
    assert "rules of AT -> LT" not in moves["strength"]


def test_a_bottle_of_another_kind_moves_the_age(house):
    house.edit("house.yaml", "GB-ENG", "AT")
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml white wine")
    house.commit("With wine")
    house.edit("specs/marsh-sour.md", "50 ml white wine", "50 ml gin")
    moves = {move.called: move for move in only_drink(house.compared())[1]}
    assert (moves["age"].before, moves["age"].after) == ("16 years", "18 years")
    assert any("gin" in cause.text for cause in moves["age"].causes)


def test_a_place_that_changes_nothing_in_a_drink_is_no_cause(house):
    house.edit("house.yaml", "GB-ENG", "GB-SCT")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    lines = told(house.compared())
    assert "marsh-sour: units <gin 50 ml -> 60 ml" in lines
    assert [line for line in lines if "rules" in line] == [
        "marsh-sour: lowest price <gin 50 ml -> 60 ml; rules of GB-ENG -> GB-SCT"
    ]


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
    (swap,) = [move for move in only_drink(comparison)[1] if move.called == "swap"]
    text = f"swap {swap.before} -> {swap.after}"
    assert text == "swap 20 ml aquafaba -> 25 ml aquafaba instead of egg white"
    assert {cause.text for move in only_drink(comparison)[1] for cause in move.causes} == {text}


def test_a_top_that_finds_no_room_costs_nothing(house):
    house.edit("specs/marsh-sour.md", "glass: sour", "glass: sour\ntop: white wine")
    house.commit("Topped")
    house.edit("specs/marsh-sour.md", "50 ml gin", "150 ml gin")
    moves = {move.called: move.after for move in only_drink(house.compared())[1]}
    assert moves["cost"].endswith(" GBP") or "left out" in moves["cost"]


def test_ounces_say_what_they_come_to_beside_millilitres(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "1 1/2 oz gin")
    assert "marsh-sour: measure gin 50 ml -> 1 1/2 oz (45 ml)" in told(house.compared())


BOWL = """\
---
name: Bowl
serves: 10
pour: [450 ml gin, 250 ml lemon juice]
glass: punch bowl
method: build
---
"""


def test_how_many_share_a_bowl_is_a_fact_and_moves_the_units_a_serve_alone(house):
    house.write("specs/bowl.md", BOWL)
    house.commit("A bowl")
    house.edit("specs/bowl.md", "serves: 10", "serves: 8")
    assert told(house.compared()) == [
        "bowl: serves 10 -> 8",
        "bowl: units a serve 1.8 units in one serve -> 2.3 units in one serve <serves 10 -> 8",
    ]


def test_a_drink_that_comes_to_be_shared_says_what_one_serve_was(house):
    house.write("specs/bowl.md", BOWL.replace("serves: 10\n", ""))
    house.commit("A bowl")
    house.edit("specs/bowl.md", "name: Bowl\n", "name: Bowl\nserves: 10\n")
    assert told(house.compared()) == [
        "bowl: serves 1 -> 10",
        "bowl: units a serve 18 units in one serve -> 1.8 units in one serve <serves 1 -> 10",
    ]


def test_a_stronger_bowl_moves_both_units_and_each_says_why(house):
    house.write("specs/bowl.md", BOWL)
    house.commit("A bowl")
    house.edit("specs/bowl.md", "450 ml gin", "600 ml gin")
    house.edit("specs/bowl.md", "serves: 10", "serves: 8")
    lines = told(house.compared())
    assert "bowl: units <gin 450 ml -> 600 ml" in lines
    (each,) = [line for line in lines if "units a serve" in line]
    assert each == (
        "bowl: units a serve 1.8 units in one serve -> 3 units in one serve "
        "<gin 450 ml -> 600 ml; serves 10 -> 8"
    )


def test_a_swap_stands_in_the_role_of_what_it_replaces(house):
    house.edit("specs/marsh-sour.md", "swap:\n", "swap:\n  lemon twist: single cream\n")
    (swap,) = [one for one in only_drink(house.compared())[1] if one.kind == "swap"]
    assert swap.after == "single cream (garnish) instead of lemon twist"


def test_a_level_that_is_as_it_was_is_no_gain():
    assert not Change("listing", HOUSE, "contains", "contains").gained
    assert Change("allergen", HOUSE, "may contain", "contains").gained
    assert not Change("allergen", HOUSE, "contains", "distilled from").gained
