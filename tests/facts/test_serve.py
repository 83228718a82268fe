"""One way of making a drink, where a mistake would not be seen on most drinks."""

from datetime import date

import pytest

from menugen.facts import serving_age
from menugen.records import Role
from menugen.regions import load_region
from tests.facts.drinks import worked_out

SULPHITED = """\
night wine:
  kind: wine
  bottle: 750 ml
  price: 9.00
  abv: 12 %
  contains: [sulphites]
  sulphites: {} mg/l
  checked: 2026-11-20
"""

SOUR = "pour:\n  - 60 ml night wine\n  - 40 ml lemon juice\nmethod: shake\n"


@pytest.mark.parametrize(("mg_per_l", "declared"), [(21, False), (22, True), (24, True)])
def test_sulphites_are_declared_where_the_drink_may_come_out_so_small_that_they_reach_the_threshold(
    mg_per_l, declared
):
    serve = worked_out(SOUR, stock=SULPHITED.format(mg_per_l)).serve
    middle, most = (mg_per_l * 60 / ml for ml in (serve.made.volume_ml.value, serve.made.volume_ml.low))
    assert (most >= 10) is declared
    assert mg_per_l == 24 or middle < 10
    assert [one.entry_id for one in serve.declaration.contains] == (["sulphites"] if declared else [])


@pytest.mark.parametrize(
    ("instead", "role", "ml"),
    [
        ("{pour: 15 ml orgeat, as: float}", Role.FLOAT, 15.0),
        ("{pour: orgeat, as: top}", Role.TOP, 20.0),
        ("orgeat", Role.POUR, 20.0),
        ("{pour: 15 ml orgeat, as: garnish}", Role.POUR, 15.0),
    ],
)
def test_a_swap_does_what_it_says_or_what_the_line_did_that_it_takes_the_place_of(instead, role, ml):
    facts = worked_out(
        "pour:\n  - 40 ml gin\n  - 20 ml lemon juice\nmethod: shake\nswap:\n  lemon juice: " + instead
    )
    (swap,) = facts.swaps
    changed = swap.serve.lines[1]
    assert (changed.stock.name, changed.line.role, changed.on_top) == ("orgeat", role, role is not Role.POUR)
    assert changed.volume_ml == ml


def test_a_drink_that_goes_by_another_word_of_strength_is_not_alcohol_free():
    stock = "strong coffee:\n  bottle: 1 l\n  contains: none\n  cautions: [caffeine]\n  checked: 2026-11-01\n"
    serve = worked_out("pour:\n  - 5 ml gin\n  - 300 ml strong coffee\nglass: pint\n", stock=stock).serve
    assert serve.descriptor is not None
    assert (serve.descriptor.term, serve.descriptor.alcohol_free) == ("low alcohol", False)
    assert serve.cautions == ("caffeine with alcohol", "caffeine")
    assert serving_age(serve, load_region("GB", date(2026, 12, 12))) == 18
