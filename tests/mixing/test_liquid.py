"""A liquid is its masses: what it is made from, and the laws of putting liquids together."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.mixing import Liquid, liquid_from_label, mix, oiml, scaled, sucrose_solid, water
from tests.mixing.pours import anything, labelled, plain

MASSES = ("ethanol_g", "water_g", "sugar_g", "acid_g", "fat_g", "solids_g")


def close(one, other, relative=1e-9):
    slack = relative * max(one.mass_g, other.mass_g)
    return all(math.isclose(getattr(one, name), getattr(other, name), abs_tol=slack) for name in MASSES)


def test_a_label_gives_its_own_volume_and_strength_back():
    pour = liquid_from_label(50, 40, sugar_g_per_l=250)
    assert pour.volume_ml == pytest.approx(50, rel=1e-12)
    assert pour.abv_percent == pytest.approx(40, rel=1e-12)
    assert pour.ethanol_ml == pytest.approx(20, rel=1e-12)
    assert pour.sugar_g == 12.5


@given(labelled(), st.floats(1.0, 200.0))
def test_any_label_gives_its_own_volume_and_strength_back(pour, volume_ml):
    again = liquid_from_label(
        volume_ml,
        pour.abv_percent,
        sugar_g_per_l=1000 * pour.sugar_g / pour.volume_ml,
        acid_g_per_l=1000 * pour.acid_g / pour.volume_ml,
        fat_g_per_l=1000 * pour.fat_g / pour.volume_ml,
    )
    assert again.volume_ml == pytest.approx(volume_ml, rel=1e-9)
    assert again.abv_percent == pytest.approx(pour.abv_percent, rel=1e-9)


def test_pure_alcohol_and_no_alcohol():
    assert liquid_from_label(10, 100).water_g == 0
    assert liquid_from_label(10, 0).ethanol_g == 0
    assert liquid_from_label(10, 0).mass_g == pytest.approx(9.98201, abs=1e-5)
    assert liquid_from_label(0, 40) == Liquid()
    assert Liquid().abv_percent == 0
    assert Liquid().volume_ml == 0


def test_an_all_sugar_label_holds_no_water():
    syrup = liquid_from_label(62, 0, sugar_g_per_l=1000 / 0.62)
    assert syrup.water_g == pytest.approx(0, abs=1e-6)
    assert syrup.volume_ml == pytest.approx(62)


def test_a_measured_density_shows_other_solids():
    milk = liquid_from_label(100, 0, sugar_g_per_l=50, density_g_per_ml=1.033)
    assert milk.mass_g == pytest.approx(103.3)
    assert milk.volume_ml == pytest.approx(100)
    # Skimmed milk holds about 36 g of protein and 7 g of salts in a litre (from memory).
    assert 10 * milk.solids_g == pytest.approx(43, abs=5)


def test_a_household_weight_a_little_too_low_is_let_pass():
    assert liquid_from_label(100, 40, density_g_per_ml=0.94) == liquid_from_label(100, 40)


@pytest.mark.parametrize(
    ("label", "words"),
    [
        ({"volume_ml": 50, "abv_percent": 101}, "more than pure alcohol"),
        ({"volume_ml": -1, "abv_percent": 40}, "below 0"),
        ({"volume_ml": 50, "abv_percent": -0.1}, "below 0"),
        ({"volume_ml": 50, "abv_percent": math.nan}, "below 0"),
        ({"volume_ml": 50, "abv_percent": 40, "sugar_g_per_l": -1}, "below 0"),
        ({"volume_ml": 50, "abv_percent": 40, "sugar_g_per_l": 1200}, "no room"),
        ({"volume_ml": 50, "abv_percent": 0, "fat_g_per_l": 1000}, "no room"),
        ({"volume_ml": 50, "abv_percent": 40, "density_g_per_ml": 0.8}, "contradicts"),
        ({"volume_ml": 50, "abv_percent": 40, "density_g_per_ml": 1.5}, "no room"),
        ({"volume_ml": 50, "abv_percent": 40, "density_g_per_ml": 0}, "more than 0"),
    ],
)
def test_labels_that_cannot_be_are_told_apart_in_plain_words(label, words):
    volume_ml, abv_percent = label.pop("volume_ml"), label.pop("abv_percent")
    with pytest.raises(ValueError, match=words):
        liquid_from_label(volume_ml, abv_percent, **label)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_a_liquid_holds_real_masses(bad):
    with pytest.raises(ValueError, match="less than nothing"):
        Liquid(water_g=bad)


@pytest.mark.slow
@given(st.lists(anything(), max_size=6))
def test_mass_is_conserved(liquids):
    together = mix(liquids)
    for name in MASSES:
        total = math.fsum(getattr(liquid, name) for liquid in liquids)
        assert getattr(together, name) == total
    assert math.isclose(together.mass_g, sum(liquid.mass_g for liquid in liquids), rel_tol=1e-12)


@given(st.lists(anything(), min_size=2, max_size=6), st.randoms(use_true_random=False))
def test_the_order_of_pours_changes_nothing(liquids, random):
    shuffled = list(liquids)
    random.shuffle(shuffled)
    assert mix(shuffled) == mix(liquids)
    assert mix(shuffled).volume_ml == mix(liquids).volume_ml


@given(anything(), anything(), anything())
def test_mixing_in_two_goes_is_mixing_in_one(one, two, three):
    left, right = mix([mix([one, two]), three]), mix([one, mix([two, three])])
    assert close(left, right)
    assert math.isclose(left.volume_ml, right.volume_ml, rel_tol=1e-9)
    assert math.isclose(left.abv_percent, right.abv_percent, rel_tol=1e-9, abs_tol=1e-12)


@given(anything(), st.floats(0.001, 1000.0))
def test_scaling_scales(liquid, factor):
    larger = scaled(liquid, factor)
    assert math.isclose(larger.mass_g, factor * liquid.mass_g, rel_tol=1e-12)
    assert math.isclose(larger.volume_ml, factor * liquid.volume_ml, rel_tol=1e-9)
    assert math.isclose(larger.abv_percent, liquid.abv_percent, rel_tol=1e-9, abs_tol=1e-12)


@given(labelled(), st.floats(0.0, 500.0))
def test_water_never_raises_strength_and_never_touches_units(pour, water_g):
    thinned = mix([pour, water(water_g)])
    assert thinned.abv_percent <= pour.abv_percent * (1 + 1e-12)
    assert thinned.ethanol_ml == pour.ethanol_ml


@given(labelled(most_abv=60.0), st.floats(1.0, 500.0))
def test_water_does_lower_the_strength_of_what_has_any(pour, water_g):
    if pour.ethanol_g > 0.01:
        assert mix([pour, water(water_g)]).abv_percent < pour.abv_percent


@given(labelled(), st.floats(0.0, 200.0))
def test_dry_sugar_never_raises_strength(pour, sugar_g):
    assert mix([pour, sucrose_solid(sugar_g)]).abv_percent <= pour.abv_percent * (1 + 1e-12)


@given(st.lists(plain(), min_size=1, max_size=5))
def test_without_sugar_no_mix_is_stronger_than_its_strongest_part(pours):
    assert mix(pours).abv_percent <= max(pour.abv_percent for pour in pours) * (1 + 1e-9)


@given(st.lists(labelled(most_abv=60.0, most_sugar=450.0), min_size=1, max_size=5))
def test_with_sugar_contraction_lifts_a_mix_by_a_few_thousandths_at_most(pours):
    assert mix(pours).abv_percent <= max(pour.abv_percent for pour in pours) * 1.003


def test_contraction_in_sweet_strong_liquids_does_lift_a_mix():
    sweet = liquid_from_label(50, 40, sugar_g_per_l=350)
    plain_spirit = liquid_from_label(50, 40)
    assert 40 < mix([sweet, plain_spirit]).abv_percent < 40.2


@given(st.floats(0.0, 500.0), st.floats(0.0, 500.0))
def test_alcohol_and_water_never_take_more_room_than_apart(ethanol_ml, water_ml):
    apart = [liquid_from_label(ethanol_ml, 100), water(water_ml * oiml.WATER_G_PER_ML)]
    assert mix(apart).volume_ml <= sum(liquid.volume_ml for liquid in apart) * (1 + 1e-12)


@given(st.lists(anything(), min_size=1, max_size=4))
def test_strength_lies_between_none_and_all(liquids):
    assert 0.0 <= mix(liquids).abv_percent <= 100.0 * (1 + 1e-12)
