"""The working of the lowest price of a drink adds up to it, and cites the law."""

from datetime import date

import pytest

from menugen.facts import least_price
from menugen.facts.working_price import price_working
from menugen.regions import load_region
from tests.facts.drinks import worked_out

ON = date(2026, 12, 12)
SPRITZ = "pour: [60 ml white wine, 20 ml gin]\nmethod: build"


@pytest.mark.parametrize(
    ("code", "steps"),
    [
        ("GB-SCT", ["0.65 GBP x 15.20 ml / 10.00 ml, rounded up: 0.99 GBP"]),
        ("GB-WLS", ["0.65 GBP x 15.20 ml / 10.00 ml, rounded to the nearest: 0.99 GBP"]),
        ("IE", ["0.10 EUR x 15.20 ml / 1.27 ml, rounded up: 1.20 EUR"]),
        (
            "CA-ON",
            [
                "wine: 2.00 CAD x 60.00 ml / 142 ml = 0.8451 CAD",
                "spirit: 1.34 CAD x 20.00 ml / 29 ml = 0.9241 CAD",
                "together, rounded up: 1.77 CAD",
                "the law's price is with tax",
            ],
        ),
    ],
)
def test_the_sum_is_shown_with_what_goes_in(code, steps):
    serve, region = worked_out(SPRITZ).serve, load_region(code, ON)
    [working] = price_working(serve, region)
    assert list(working.steps[: len(steps)]) == steps
    assert working.figure.value == float(least_price(serve, region))
    assert working.unit == region.currency
    assert {given.basis for given in working.given} == {"law"}
    assert all(region.name in given.source for given in working.given)
    assert len(working.given) == (2 if code == "CA-ON" else 1)


def test_there_is_none_where_there_is_no_lowest_price():
    assert list(price_working(worked_out(SPRITZ).serve, load_region("GB-ENG", ON))) == []
    juice = worked_out("pour: [60 ml lemon juice]\nmethod: build").serve
    assert list(price_working(juice, load_region("GB-SCT", ON))) == []
