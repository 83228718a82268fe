"""Sugar solutions: both ways between Brix and grams per litre, and where the tables end."""

import pytest

from menugen.mixing import brix_to_g_per_l, sucrose


@pytest.mark.parametrize(("brix", "g_per_l"), [(50, 614.8), (60, 772.0), (65, 855.8), (70, 943.2)])
def test_usual_syrups(brix, g_per_l):
    assert brix_to_g_per_l(brix) == pytest.approx(g_per_l, abs=0.06)


def test_a_measured_density_rules_over_the_table():
    assert brix_to_g_per_l(50, 1.2) == pytest.approx(600)


def test_two_to_one_syrup_crystallises_in_a_fridge_and_not_at_room_temperature():
    assert sucrose.solubility_brix(4) < 200 / 3 < sucrose.solubility_brix(21)


@pytest.mark.parametrize("call", [
    lambda: sucrose.density_g_per_ml(86),
    lambda: sucrose.density_g_per_ml(-1),
    lambda: sucrose.solubility_brix(-1),
    lambda: brix_to_g_per_l(101, 1.2),
    lambda: brix_to_g_per_l(50, -1),
])  # fmt: skip
def test_nothing_is_read_off_beyond_the_tables(call):
    with pytest.raises(ValueError, match=r"Brix|hold from|cannot be|more than syrup"):
        call()


def test_water_holds_no_sugar_and_sugar_nothing_else():
    assert brix_to_g_per_l(0.0) == brix_to_g_per_l(0.0, 1.0) == 0.0
    assert brix_to_g_per_l(100.0, 1.5) == 1500.0
