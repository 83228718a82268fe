"""An event for people who may not drink: what is poured there, what asks, and whether any drink holds alcohol."""

from textwrap import dedent

import pytest

from menugen.facts import holds_alcohol, work_out_event
from menugen.problems import Problem, Severity
from menugen.reading import HouseReading
from tests.houses import EVENT, STOCK, reading_of, with_drinks

BOTTLES = """
house cordial:
  contains: none
  checked: 2026-11-01
river cordial:
  kind: fruit_cordial
  contains: none
  checked: 2026-11-01
brandied cherry:
  abv: 15 %
  contains: none
  checked: 2026-11-01
cherry in kirsch:
  contains: none
  checked: 2026-11-01
orange bitters:
  abv: 28 %
  contains: none
  checked: 2026-11-01
low beer:
  aliases: [beer]
  abv: 0.3 %
  contains: [barley]
  checked: 2026-11-01
free beer:
  abv: 0.05 %
  contains: [barley]
  checked: 2026-11-01
grain syrup:
  distilled from: [wheat]
  contains: none
  checked: 2026-11-01
lost gin:
  contains: none
  checked: 2026-11-01
"""


def reading(front: str, *, head: str = "alcohol: none\n", name: str = "Tried") -> HouseReading:
    text = f"---\nname: {name}\nglass: highball\nmethod: [build]\n{dedent(front).strip()}\n---\nFizz.\n"
    event = EVENT.replace("address:", f"{head}address:")
    found = reading_of(with_drinks({"tried": text}, event=event, stock=STOCK + BOTTLES))
    assert not found.problems, found.problems
    return found


def told(front: str, **options: str) -> tuple[Problem, ...]:
    house = reading(front, **options).house
    assert house is not None
    _, problems = work_out_event(house, house.events["small-supper"])
    return problems


def codes(front: str, **options: str) -> list[str]:
    return [problem.code for problem in told(front, **options)]


SOFT = "pour:\n  - 50 ml lemon juice\n  - top with soda water\ngarnish: lemon twist"


def test_a_soft_drink_passes():
    assert codes(SOFT) == []


@pytest.mark.parametrize(
    ("front", "what"),
    [
        ("pour: [50 ml gin]", 'Tried has garden gin (40 % vol) in it for "gin"'),
        ("pour: [20 ml lemon juice, 2 dashes orange bitters]", "Tried has orange bitters (28 % vol) in it"),
        ("pour: [50 ml lemon juice, top with white wine]", "Tried has white wine (12 % vol) in it"),
        ("pour: [50 ml lemon juice]\nfloat: 5 ml gin", 'Tried has garden gin (40 % vol) in it for "gin"'),
        ("pour: [50 ml lemon juice]\nrinse: 5 ml gin", 'Tried has garden gin (40 % vol) in it for "gin"'),
        ("pour: [50 ml lemon juice]\nrim: brandied cherry", "Tried has brandied cherry (15 % vol) in it"),
        ("pour: [50 ml lemon juice]\ngarnish: brandied cherry", "Tried has brandied cherry (15 % vol) in it"),
        ("pour: [50 ml beer]", 'Tried has low beer (0.3 % vol) in it for "beer"'),
        (
            f"{SOFT}\nswap:\n  soda water: white wine",
            "Tried has white wine (12 % vol) in it instead of soda water",
        ),
        (
            f"{SOFT}\nswap:\n  lemon twist: brandied cherry",
            "Tried has brandied cherry (15 % vol) in it instead of",
        ),
    ],
)
def test_alcohol_in_any_part_of_a_drink_stops_the_publish_and_is_named(front, what):
    (problem,) = told(front)
    assert (problem.code, problem.severity) == ("alcohol-poured", Severity.ERROR)
    assert problem.message.startswith(what)
    assert problem.message.endswith('and Small Supper is "alcohol: none"')
    assert problem.where.file == "events/small-supper.yaml"
    (((place, _),), hints) = problem.also, problem.hints
    assert place.file == "specs/tried.md"
    assert '"bottles:"' in hints[0]


def test_the_bottle_of_the_night_is_the_one_that_counts():
    head = "alcohol: none\nbottles:\n  gin: free beer\n"
    assert codes("pour: [50 ml gin]", head=head) == []
    head = "alcohol: none\nbottles:\n  soda water: orange bitters\n"
    assert codes(SOFT, head=head) == ["alcohol-poured"]


def test_a_trace_of_a_twentieth_of_a_per_cent_passes_and_more_does_not():
    assert codes("pour: [50 ml free beer]") == []
    assert codes("pour: [50 ml low beer]") == ["alcohol-poured"]


def test_a_sold_out_drink_may_not_hold_any_either():
    assert codes("pour: [50 ml gin]", head="alcohol: none\noff: [tried]\n") == ["alcohol-poured"]


def test_what_neither_says_its_strength_nor_is_known_asks_once_with_its_drinks():
    front = "pour: [20 ml house cordial, 20 ml river cordial]\ngarnish: cherry in kirsch"
    cherry, cordial = sorted(told(front), key=lambda problem: problem.message)
    assert (cordial.code, cordial.severity) == ("alcohol-not-known", Severity.ERROR)
    assert cordial.message == (
        '"house cordial" does not say whether it holds alcohol, and it is in Tried, at an event that is "alcohol: none"'
    )
    assert cordial.where.file == "stock/all.yaml"
    assert '"abv: 0 %"' in cordial.hints[0]
    assert cherry.code == "alcohol-not-known"
    assert cherry.message.startswith('"cherry in kirsch"')


def test_a_bottle_in_two_drinks_is_asked_about_once():
    specs = {
        slug: f"---\nname: {slug.title()}\npour: [20 ml house cordial]\nglass: coupe\nmethod: [build]\n---\n"
        for slug in ("ebb", "flow", "neap")
    }
    event = EVENT.replace("address:", "alcohol: none\naddress:")
    house = reading_of(with_drinks(specs, event=event, stock=STOCK + BOTTLES)).house
    assert house is not None
    _, problems = work_out_event(house, house.events["small-supper"])
    (problem,) = problems
    assert "it is in Ebb, Flow and Neap" in problem.message


def test_a_spirit_that_says_no_strength_is_told_of_once():
    assert codes("pour: [50 ml lost gin]") == ["strength-not-stated"]
    assert codes("pour: [50 ml lemon juice]\ngarnish: lost gin") == ["alcohol-not-known"]


def test_what_was_distilled_is_asked_about_whatever_it_is_called():
    assert codes("pour: [50 ml lemon juice]\ngarnish: grain syrup") == ["alcohol-not-known"]


@pytest.mark.parametrize("front", ["pour: [50 ml gin]", "pour: [20 ml house cordial]"])
def test_without_the_key_nothing_is_asked(front):
    assert codes(front, head="") == []


@pytest.mark.parametrize(
    ("front", "holds"),
    [
        (SOFT, False),
        ("pour: [20 ml house cordial]", False),
        ("pour: [50 ml free beer]", False),
        ("pour: [50 ml low beer]", True),
        ("pour: [50 ml gin]", True),
        ("pour: [20 ml lemon juice, 1 dash orange bitters]", True),
        ("pour: [50 ml lemon juice]\ngarnish: brandied cherry", True),
        ("pour: [50 ml lemon juice]\ngarnish: cherry in kirsch", True),
        (f"{SOFT}\nswap:\n  soda water: white wine", True),
    ],
)
def test_whether_any_way_of_making_a_drink_holds_alcohol(front, holds):
    house = reading(front, head="").house
    assert house is not None
    facts, _ = work_out_event(house, house.events["small-supper"])
    assert facts is not None
    assert holds_alcohol(facts.drinks.values()) is holds


@pytest.mark.parametrize("role", ["garnish", "rim"])
def test_alcohol_that_is_measured_counts_whatever_role_it_has(role):
    def served(front: str) -> tuple[float, float]:
        house = reading(front, head="").house
        facts, problems = work_out_event(house, house.events["small-supper"])
        assert [problem.code for problem in problems] == []
        serve = facts.drinks["tried"].serve
        # Nothing on a glass goes into a shaker with the rest.
        assert serve.lines[-1].on_top == (serve.lines[-1].volume_ml > 0)
        return serve.made.ethanol_ml, serve.made.volume_ml.value

    on_the_glass = served(f"pour: [150 ml soda water]\n{role}: 20 ml gin")
    assert on_the_glass == pytest.approx(served("pour: [150 ml soda water]\nfloat: [20 ml gin]"))
    assert on_the_glass[0] == pytest.approx(8.0)
    # What holds none is on the glass, and no part of the drink.
    assert served(f"pour: [150 ml soda water]\n{role}: 5 ml lemon juice")[0] == 0.0
    assert codes(f"pour: [150 ml soda water]\n{role}: 20 ml lost gin", head="") == ["strength-not-stated"]


@pytest.mark.parametrize(
    ("front", "named"),
    [
        ("pour: [150 ml soda water]\ngarnish: brandied cherry", "brandied cherry on it holds alcohol"),
        ("pour: [150 ml free beer]\nrim: brandied cherry", "brandied cherry on it holds alcohol"),
        ("pour: [150 ml soda water]\ngarnish: cherry in kirsch", "cherry in kirsch on it may hold alcohol"),
        ("pour: [150 ml soda water]\ngarnish: lost gin", "lost gin on it may hold alcohol"),
        (f"{SOFT}\nswap:\n  lemon twist: brandied cherry", "brandied cherry on it holds alcohol"),
        (
            "pour: [50 ml gin]\ngarnish: brandied cherry\nswap:\n  gin: 50 ml soda water",
            "brandied cherry on it holds alcohol",
        ),
    ],
)
def test_no_drink_with_alcohol_on_its_glass_is_called_free_of_it(front, named):
    (problem,) = told(front, head="")
    assert (problem.code, problem.severity) == ("alcohol-on-the-glass", Severity.ERROR)
    assert problem.message == f"guests would read that Tried has no alcohol in it, and {named}"
    assert problem.where.file == "specs/tried.md"


def test_a_drink_with_alcohol_may_have_it_on_the_glass_too():
    assert codes("pour: [50 ml gin]\ngarnish: brandied cherry", head="") == []
    assert codes("pour: [150 ml soda water]\ngarnish: 5 ml brandied cherry", head="") == []
