"""What bodies of the states of Europe call one unit or standard drink, against the unit menugen counts in there.

The serves are as those bodies print them: see the units in regions/data/places and their sources, reported or read.
Only the Polish ones print strengths; elsewhere beer of 5, wine of 12 and spirits of 40 % vol are ours, so the
tolerance is wide. It can tell a glass of 20 g from one of 10 or 12.
"""

from datetime import date

import pytest

from menugen.regions import load_region

ON = date(2026, 12, 12)
BEER, WINE, SPIRIT = 5.0, 12.0, 40.0
ONE = [
    *(("PL", ml, abv, 0.06) for ml, abv in ((250, 5.0), (100, 12.0), (30, 40.0))),
    *(("AT", ml, abv, 0.2) for ml, abv in ((500, BEER), (250, WINE), (60, SPIRIT))),
    *(("BE", ml, abv, 0.1) for ml, abv in ((250, BEER), (100, WINE), (30, SPIRIT))),
    *(("DK", ml, abv, 0.1) for ml, abv in ((330, BEER), (120, WINE), (40, SPIRIT))),
    *(("FI", ml, abv, 0.1) for ml, abv in ((330, BEER), (120, WINE), (40, SPIRIT))),
    *(("SE", ml, abv, 0.1) for ml, abv in ((330, BEER), (120, WINE), (40, SPIRIT))),
    *(("SI", ml, abv, 0.1) for ml, abv in ((250, BEER), (100, WINE), (30, SPIRIT))),
]


@pytest.mark.parametrize(("code", "ml", "abv", "within"), ONE)
def test_what_a_state_calls_one_is_about_one(code, ml, abv, within):
    assert load_region(code, ON).drink_unit.count(ml * abv / 100) == pytest.approx(1, rel=within)
