"""What a drink's alcohol asks for: its age, swaps included, and its lowest price."""

from datetime import date
from decimal import Decimal

import pytest

from menugen.facts import least_price, serving_age, strictest_age
from menugen.facts.sale_rules import alcohol_of
from menugen.regions import load_region
from tests.facts.drinks import worked_out

ON = date(2026, 12, 12)
BEER = """
harbour lager:
  bottle: 330 ml
  abv: 5 %
  contains: [barley]
  checked: 2026-11-01
night bitters:
  kind: aromatic_bitters
  bottle: 100 ml
  abv: 44 %
  contains: none
  checked: 2026-11-01
oddity:
  bottle: 700 ml
  abv: 6 %
  contains: none
  checked: 2026-11-01
"""


def age(front: str, code: str = "AT") -> int | None:
    return serving_age(worked_out(front, stock=BEER).serve, load_region(code, ON))


@pytest.mark.parametrize(
    ("front", "expected"),
    [
        ("pour: [330 ml harbour lager]\nmethod: build", 16),
        ("pour: [125 ml white wine]\nmethod: build", 16),
        ("pour: [90 ml white wine]\ntop: soda water\nmethod: build", 16),
        ("pour: [50 ml gin, 25 ml lemon juice]\nmethod: shake", 18),
        ("pour: [90 ml white wine, 10 ml gin]\nmethod: build", 18),
        ("pour: [200 ml harbour lager, 2 dashes night bitters]\nmethod: build", 18),
        ("pour: [100 ml oddity]\nmethod: build", 18),
        ("pour: [100 ml lemon juice]\nmethod: build", None),
    ],
)
def test_a_drink_is_served_from_the_age_of_what_is_in_it(front, expected):
    assert age(front) == expected


def test_a_spritz_is_a_cocktail_in_belgium_and_wine_in_germany():
    front = "pour: [90 ml white wine]\ntop: soda water\nmethod: build"
    assert (age(front, "BE"), age(front, "DE")) == (18, 16)
    assert age("pour: [125 ml white wine]\nmethod: build", "BE") == 16


def test_a_swap_can_raise_the_age():
    facts = worked_out("pour: [90 ml white wine]\nmethod: build\nswap:\n  white wine: 30 ml gin", stock=BEER)
    austria = load_region("AT", ON)
    assert serving_age(facts.serve, austria) == 16
    assert strictest_age([facts], austria) == 18
    assert strictest_age([], austria) is None


def test_a_trace_that_the_place_calls_alcohol_free_has_no_age():
    facts = worked_out("pour: [300 ml soda water, 0.2 ml night bitters]\nmethod: build", stock=BEER)
    assert 0 < facts.serve.made.served_abv_percent.high < 0.05
    assert serving_age(facts.serve, load_region("GB", ON)) is None
    assert alcohol_of(facts.serve)


def test_a_bottle_that_does_not_say_how_strong_it_is_makes_nothing_easier():
    unsaid = """
north brandy:
  kind: brandy
  bottle: 700 ml
  contains: none
  checked: 2026-11-01
"""
    facts = worked_out("pour: [60 ml white wine, 20 ml north brandy]\nmethod: build", stock=unsaid)
    assert facts.serve.strengthless == ("north brandy",)
    assert serving_age(facts.serve, load_region("AT", ON)) == 18
    assert serving_age(facts.serve, load_region("NO", ON)) == 20


def test_a_garnish_steeped_in_spirit_counts_for_the_age_and_not_for_the_price():
    cherry = (
        BEER
        + """
steeped cherry:
  pack: 30
  abv: 25 %
  contains: none
  checked: 2026-11-01
"""
    )
    austria, scotland = load_region("AT", ON), load_region("GB-SCT", ON)
    beer = worked_out("pour: [330 ml harbour lager]\ngarnish: steeped cherry\nmethod: build", stock=cherry)
    assert serving_age(beer.serve, austria) == 18
    plain = worked_out("pour: [330 ml harbour lager]\nmethod: build", stock=cherry)
    assert least_price(beer.serve, scotland) == least_price(plain.serve, scotland)
    soda = worked_out("pour: [200 ml soda water]\ngarnish: steeped cherry\nmethod: build", stock=cherry)
    assert serving_age(soda.serve, austria) == 18
    assert least_price(soda.serve, scotland) is None


def test_the_lowest_price_follows_all_the_alcohol_in_the_glass():
    facts = worked_out("pour: [50 ml gin, 25 ml lemon juice]\nmethod: shake", stock=BEER)
    # 20 ml of pure alcohol are two units of 65 pence.
    assert least_price(facts.serve, load_region("GB-SCT", ON)) == Decimal("1.30")
    assert least_price(facts.serve, load_region("GB-ENG", ON)) is None
    # 50 ml of spirits at 1.34 for 29 ml.
    assert least_price(facts.serve, load_region("CA-ON", ON)) == Decimal("2.32")
