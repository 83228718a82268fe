"""The alcohol tables both ways, and where they end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.mixing import oiml


@given(st.floats(0.0, 1.0, allow_subnormal=False), st.sampled_from([20.0, 15.56, 0.0, 40.0, -5.0]))
def test_by_mass_and_back(share, celsius):
    back = oiml.volume_fraction(oiml.mass_fraction(share, celsius), celsius)
    assert back == pytest.approx(share, abs=1e-12)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_by_mass_is_more_by_volume(one, other):
    low, high = sorted((one, other))
    assert oiml.volume_fraction(low) <= oiml.volume_fraction(high) + 1e-15


@pytest.mark.parametrize(
    ("percent_vol", "percent_mass", "kg_per_m3"),
    [(5, 3.982, 991.06), (40, 33.300, 948.05), (50, 42.426, 930.14), (96, 93.838, 807.42)],
)
def test_ordinary_strengths(percent_vol, percent_mass, kg_per_m3):
    share = oiml.mass_fraction(percent_vol / 100)
    assert 100 * share == pytest.approx(percent_mass, abs=0.0006)
    assert 1000 * oiml.density_g_per_ml(share) == pytest.approx(kg_per_m3, abs=0.006)


def test_at_20_c_both_sums_are_one():
    assert oiml.density_g_per_ml(0.3) == oiml.density_at_20_c_g_per_ml(0.3)


@pytest.mark.parametrize("call", [
    lambda: oiml.density_g_per_ml(1.01),
    lambda: oiml.density_g_per_ml(-0.01),
    lambda: oiml.density_g_per_ml(0.4, 41),
    lambda: oiml.density_g_per_ml(0.4, -21),
    lambda: oiml.mass_fraction(1.2),
    lambda: oiml.volume_fraction(float("nan")),
])  # fmt: skip
def test_nothing_is_read_off_beyond_the_tables(call):
    with pytest.raises(ValueError, match=r"lies between|hold from"):
        call()
