"""What a stock line's words bring into a drink, and what is asked of them."""

from datetime import date

import pytest

from menugen import regions
from menugen.facts.labels import carried, word_faults
from menugen.reading.stock_file import read_stock
from menugen.reference import ingredient
from menugen.regions import declare, load_region
from menugen.regions.data_files import load

ON = date(2026, 12, 12)
REGIONS = ("EU", "GB-ENG", "US", "CA", "AU")


def stock(rest: str, name: str = "bottle of ours"):
    reading = read_stock(f"{name}:\n  abv: 5 %\n  checked: 2026-11-01\n{rest}", "stock/a.yaml", "trade")
    assert reading.problems == ()
    [line] = reading.lines
    return line


def faults(rest: str) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(one.code, one.message, one.hints) for one in word_faults(stock(rest))]


def contained(rest: str, region: str, name: str = "bottle of ours") -> set[str]:
    declaration = declare(load_region(region, ON).regime, [carried(stock(rest, name), 50.0)], 100.0)
    return {one for group in declaration.contains for one in group.substances}


def test_the_sure_part_of_an_unclear_word_is_declared_while_the_rest_is_asked():
    rest = "  contains: [soy sauce]\n"
    for region in REGIONS:
        assert contained(rest, region) == {"soy"}
    [(code, message, hints)] = faults(rest)
    assert code == "unclear-substance"
    assert message == '"soy sauce" brings soybeans, and may bring wheat (gluten) or barley (gluten)'
    assert 'write "soybeans" in its place' in hints[0]


@pytest.mark.parametrize(
    "contains",
    [
        "soy sauce, wheat, barley",
        "soybeans",
        "soybeans, wheat",
        "lecithin (sunflower)",
        "malt, wheat",
        "gelatine, fish",
    ],
)
def test_an_answer_on_the_same_label_is_an_answer(contains):
    assert faults(f"  contains: [{contains}]\n") == []


def test_an_answer_may_stand_in_the_warning():
    assert faults("  contains: [malt]\n  may contain: [wheat]\n") == []


def test_another_substance_is_no_answer():
    assert [code for code, _, _ in faults("  contains: [malt, rye]\n")] == ["unclear-substance"]
    assert [code for code, _, _ in faults("  contains: [nuts, almonds]\n")] == ["unclear-substance"]


@pytest.mark.parametrize("key", ["contains", "may contain", "distilled from", "fined with"])
@pytest.mark.parametrize("word", ["nuts", "shellfish", "gluten", "Eiweiß"])
def test_a_word_that_says_nothing_by_itself_is_asked_about_wherever_it_stands(key, word):
    rest = f"  {key}: [{word}]\n" + ("" if key == "contains" else "  contains: none\n")
    [(code, message, _)] = faults(rest)
    assert (code, message) == ("unclear-substance", f'"{word}" does not say which substance it is')


def test_a_near_miss_is_never_kept_as_said():
    for key, word, meant in (
        ("contains", "walnutt", "walnut"),
        ("may contain", "mangoo", "mango"),
        ("distilled from", "barly", "barley"),
        ("distilled from", "maizee", "maize"),
        ("fined with", "istinglass", "isinglass"),
    ):
        rest = f"  {key}: [{word}]\n" + ("" if key == "contains" else "  contains: none\n")
        [(code, _, hints)] = faults(rest)
        assert code == "unknown-substance"
        assert f'"{meant}"' in hints[0]
        assert not any("unlisted" in hint for hint in hints), "a slip is not waved through"


def test_a_word_nobody_knows_is_refused_on_a_label_with_the_way_to_keep_it_and_taken_as_a_base():
    [(code, _, hints)] = faults("  contains: [quorble zest]\n")
    assert code == "unknown-substance"
    assert any("quorble zest (unlisted)" in hint for hint in hints)
    assert faults("  contains: [quorble zest (unlisted)]\n") == []
    assert faults("  contains: none\n  distilled from: [quorble]\n") == []


def test_what_no_law_lists_is_kept_as_said():
    brought = carried(
        stock("  contains: [Mango, milk]\n  may contain: [chestnut]\n  distilled from: [maize]\n"), 50.0
    )
    assert (brought.said, brought.may_said, brought.distilled_said) == (("Mango",), ("chestnut",), ("maize",))
    assert brought.substances == {"milk"}


@pytest.mark.parametrize(
    ("kind", "name", "region", "fish"),
    [
        ("ale", "house ale", "GB-ENG", set()),
        ("beer", "house ale", "EU", set()),
        ("red_wine", "house red", "AU", set()),
        ("ale", "house ale", "US", {"fish"}),
        ("cider", "house cider", "GB-ENG", {"fish"}),
        ("", "house ale", "GB-ENG", {"fish"}),
        ("", "ginger wine", "GB-ENG", {"fish"}),
        ("fruit_cordial", "house cordial", "GB-ENG", {"fish"}),
    ],
)
def test_a_fining_is_exempt_where_the_line_says_what_kind_of_drink_it_is_and_the_law_exempts_that(
    kind, name, region, fish
):
    rest = "  contains: none\n  fined with: [isinglass]\n" + (f"  kind: {kind}\n" if kind else "")
    assert contained(rest, region, name) == fish


def test_a_fining_with_egg_or_milk_is_declared_everywhere():
    for region in REGIONS:
        rest = "  kind: red_wine\n  contains: none\n  fined with: [egg white, casein, bentonite]\n"
        assert contained(rest, region) == {"egg", "milk"}


def test_isinglass_on_the_label_itself_is_fish_everywhere():
    for region in REGIONS:
        assert contained("  kind: ale\n  contains: [isinglass]\n", region) == {"fish"}


def test_whey_is_exempt_only_where_a_spirit_was_made_from_it():
    assert contained("  contains: none\n  distilled from: [whey]\n", "EU") == set()
    assert contained("  contains: [whey]\n", "EU") == {"milk"}


def test_kinds_that_exemptions_name_are_known_kinds():
    for kind in load("regimes.yaml")["beer_and_wine"]:
        assert ingredient(kind).id == kind
        assert ingredient(kind).kind in {"beer", "wine", "sparkling wine"}


def test_every_word_of_the_data_is_taken_on_a_stock_line():
    """The form splits nothing that the look-up knows whole."""
    words = regions.substance_words()
    line = stock("  contains:\n" + "".join(f'    - "{word}"\n' for word in words))
    assert line.contains == words
