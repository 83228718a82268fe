from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.regions import known_regions, load_region

ON = date(2026, 12, 12)
UNITS = {code: load_region(code, ON).drink_unit for code, _ in known_regions()}


@pytest.mark.parametrize(
    ("code", "ethanol_ml", "shown"),
    [
        ("GB", 0, ""),
        ("GB", 10, "1 unit"),
        ("GB", 14.2, "1.4 units"),
        ("GB", 16.5, "1.7 units"),  # 330 ml at 5 %: 1.65, published as 1.7
        ("GB", 32.5, "3.3 units"),  # 250 ml at 13 %: 3.25, published as 3.3
        ("GB", 0.4, "less than 0.1 units"),
        ("GB", 0.5, "0.1 units"),
        ("GB", 9.6, "1 unit"),
        ("GB", 200, "20 units"),
        ("IE", 12.674, "1 standard drink"),
        ("IE", 19.0, "1½ standard drinks"),
        ("IE", 6.3, "½ standard drink"),
        ("IE", 2, "less than ½ standard drink"),
        ("US", 17.744, "1 standard drink"),
        ("US", 23.66, "1⅓ standard drinks"),
        ("US", 5.9, "⅓ standard drink"),
        ("US", 1, "less than ⅓ standard drink"),
        ("US", 29.57, "1⅔ standard drinks"),
        ("CA", 17.05, "1 standard drink"),
        ("DE", 20, "16 g of alcohol"),
        ("DE", 0.5, "less than 1 g of alcohol"),
        ("IT", 15, "1 unit of alcohol"),
        ("NL", 25.35, "2 standard glasses"),
    ],
)
def test_figures_read_as_the_place_writes_them(code, ethanol_ml, shown):
    assert UNITS[code].shown(ethanol_ml) == shown


def test_a_tie_goes_up_in_thirds_and_halves():
    # 11/6 lies as far from 1 2/3 as from 2.
    unit = UNITS["US"]
    assert unit.shown(unit.ethanol_ml * 11 / 6) == "2 standard drinks"


@given(st.sampled_from(sorted(UNITS)), st.floats(1e-6, 1000))
def test_no_alcohol_is_ever_rounded_away(code, ethanol_ml):
    shown = UNITS[code].shown(ethanol_ml)
    assert shown
    assert not shown.startswith("0 ")


@pytest.mark.slow
@given(st.sampled_from(sorted(UNITS)), st.floats(0, 1000), st.floats(0, 1000))
def test_more_alcohol_is_never_fewer_units(code, ethanol_ml, more_ml):
    unit = UNITS[code]
    assert unit.count(ethanol_ml) <= unit.count(ethanol_ml + more_ml)
    assert unit._nearest(unit.count(ethanol_ml)) <= unit._nearest(unit.count(ethanol_ml + more_ml))


@given(st.sampled_from(sorted(UNITS)), st.floats(0, 1000))
def test_the_figure_shown_is_never_further_off_than_half_the_finest_step(code, ethanol_ml):
    unit = UNITS[code]
    off = abs(unit._nearest(unit.count(ethanol_ml)) - Fraction(unit.count(ethanol_ml)))
    assert off <= min(unit.steps) / 2 + Fraction(1, 10**6)


@pytest.mark.parametrize("code", sorted(UNITS))
def test_units_by_mass_and_by_volume_agree_with_their_own_definition(code):
    unit = UNITS[code]
    assert unit.ethanol_ml > 0
    if unit.grams is not None:
        assert unit.density_g_per_ml is not None
        assert unit.ethanol_ml * unit.density_g_per_ml == pytest.approx(unit.grams)
