"""Water from ice, rule by rule."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.mixing import (
    SHAKEN,
    STANDARD,
    STIRRED,
    Conditions,
    Liquid,
    Step,
    ceiling_ratio,
    floor_ratio,
    heat_capacity_j_per_k,
    liquid_from_label,
    melt_of,
    mix,
    water,
)
from menugen.mixing.balance import ceiling_melt_g, floor_melt_g, freezing_c
from tests.mixing.pours import ice_kinds, labelled, steps

SOUR = mix(
    [
        liquid_from_label(50, 40),
        liquid_from_label(25, 0, sugar_g_per_l=25, acid_g_per_l=48),
        liquid_from_label(20, 0, sugar_g_per_l=615),
    ]
)
LEMONADE = liquid_from_label(100, 0, sugar_g_per_l=100)


def melt(mixed, verb, *, ice="none", seconds=None, conditions=STANDARD):
    return melt_of(mixed, [Step(verb, seconds)], ice=ice, conditions=conditions)


@pytest.mark.parametrize("strength", [15.5, 20, 25, 30, 35, 39.5])
def test_the_published_equations_rule_within_their_range(strength):
    mixed = liquid_from_label(90, strength)
    a = strength / 100
    stirred, shaken = melt(mixed, "stir"), melt(mixed, "shake")
    assert stirred.basis == "stirred equation"
    assert stirred.ratio.value == pytest.approx(-1.21 * a * a + 1.246 * a + 0.145)
    assert shaken.basis == "shaken equation"
    assert shaken.ratio.value == pytest.approx(-1.567 * a * a + 1.742 * a + 0.203)
    assert "Liquid Intelligence" in shaken.source
    assert (stirred.ratio.low, stirred.ratio.high) == pytest.approx(
        (stirred.ratio.value - 0.08, stirred.ratio.value + 0.08)
    )


@pytest.mark.parametrize("equation", [STIRRED, SHAKEN])
@pytest.mark.parametrize("percent", range(15, 41))
def test_the_equations_lie_between_floor_and_ceiling_in_their_range(equation, percent):
    mixed = liquid_from_label(100, percent)
    assert floor_ratio(mixed) < equation.ratio(percent / 100) < ceiling_ratio(mixed)


@pytest.mark.parametrize("verb", ["stir", "shake"])
@pytest.mark.parametrize("edge", [15, 40])
@pytest.mark.parametrize("sugar_g_per_l", [0, 120])
def test_the_balance_takes_over_without_a_jump(verb, edge, sugar_g_per_l):
    inwards = 0.001 if edge == 15 else -0.001
    inside = melt(liquid_from_label(90, edge + inwards, sugar_g_per_l=sugar_g_per_l), verb)
    outside = melt(liquid_from_label(90, edge - inwards, sugar_g_per_l=sugar_g_per_l), verb)
    assert inside.basis.endswith("equation")
    assert outside.basis == "energy balance"
    assert inside.ratio.value == pytest.approx(outside.ratio.value, abs=2e-4)


@pytest.mark.parametrize("verb", ["stir", "shake"])
def test_alcohol_free_drinks_never_melt_less_than_it_takes_to_chill_them(verb):
    found = melt(LEMONADE, verb).ratio.value
    assert floor_ratio(LEMONADE) <= found <= ceiling_ratio(LEMONADE)
    assert found > {"stir": 0.145, "shake": 0.203}[verb], "the equation at no alcohol gives too little"


@pytest.mark.parametrize(("percent", "low", "high"), [(0, 0.23, 0.26), (23, 0.23, 0.26), (36, 0.23, 0.25)])
def test_the_floor_is_the_folk_quarter(percent, low, high):
    assert low < floor_ratio(liquid_from_label(100, percent)) < high


@pytest.mark.parametrize(
    ("percent", "bare", "with_tin"),
    [(0, (0.24, 0.28), (0.35, 0.41)), (23, (0.40, 0.45), (0.55, 0.60)), (27, (0.42, 0.49), (0.58, 0.65)),
     (36, (0.48, 0.59), (0.65, 0.79))],
)  # fmt: skip
def test_the_ceiling_with_and_without_a_tin(percent, bare, with_tin):
    mixed = liquid_from_label(100, percent)
    no_tin = Conditions(vessel_g_per_mix_ml=0)
    assert bare[0] < ceiling_ratio(mixed, no_tin) < bare[1]
    assert with_tin[0] < ceiling_ratio(mixed) < with_tin[1]


def test_cold_ice_and_cold_bottles_melt_less():
    warm, cold_ice, cold_bottles = STANDARD, Conditions(ice_c=-10), Conditions(ingredient_c=4)
    assert floor_ratio(SOUR, cold_ice) < floor_ratio(SOUR, warm)
    assert 0.09 < floor_ratio(liquid_from_label(100, 27), cold_ice) < 0.17
    assert 0.04 < floor_ratio(liquid_from_label(100, 27), cold_bottles) < 0.06
    for other in (cold_ice, cold_bottles):
        found = melt(SOUR, "shake", conditions=other)
        assert found.basis == "energy balance"
        assert floor_ratio(SOUR, other) < found.ratio.value < melt(SOUR, "shake").ratio.value
    assert floor_melt_g(SOUR, Conditions(ingredient_c=-5)) == 0


def test_without_ice_nothing_melts():
    assert melt(SOUR, "shake", conditions=Conditions(ice_g_per_mix_ml=0)).ratio.value == 0
    assert melt(SOUR, "blend", conditions=Conditions(ice_g_per_mix_ml=0)).ratio.value == 0


@pytest.mark.parametrize("verb", ["dry shake", "layer", "heat", "pour", "muddle"])
def test_steps_without_ice_add_no_water(verb):
    found = melt(SOUR, verb, ice="none")
    assert found.basis == "none"
    assert (found.ratio.low, found.ratio.value, found.ratio.high) == (0, 0, 0)


@pytest.mark.parametrize("verb", ["dry shake", "layer", "heat", "pour", "muddle"])
@pytest.mark.parametrize("ice", ["cubed", "crushed"])
def test_what_met_no_ice_before_meets_that_in_the_glass(verb, ice):
    assert melt(SOUR, verb, ice=ice) == melt(SOUR, "build", ice=ice)
    assert melt(SOUR, verb, ice=ice).ratio.value > 0


def test_a_built_drink_melts_the_floor_on_ice_and_nothing_without():
    assert melt(SOUR, "build").basis == "none"
    for ice in ("cubed", "large cube", "cracked"):
        found = melt(SOUR, "build", ice=ice)
        assert found.basis == "melting floor"
        assert found.ratio.value == floor_ratio(SOUR)
    crushed = melt(SOUR, "build", ice="crushed")
    assert crushed.basis == "energy balance"
    assert floor_ratio(SOUR) < crushed.ratio.value < melt(SOUR, "swizzle", ice="crushed").ratio.value


@pytest.mark.parametrize(
    ("verb", "low", "high"),
    [("throw", 0.35, 0.45), ("roll", 0.35, 0.45), ("flash blend", 0.40, 0.50), ("swizzle", 0.40, 0.55)],
)
@pytest.mark.parametrize("percent", [20, 25, 30])
def test_other_methods_fall_in_their_usual_range(verb, low, high, percent):
    found = melt(liquid_from_label(100, percent), verb, ice="crushed")
    assert found.basis == "energy balance"
    assert low <= found.ratio.value <= high
    assert "common practice" in found.source
    assert (found.ratio.low, found.ratio.high) == pytest.approx(
        (found.ratio.value - 0.15, found.ratio.value + 0.15)
    )


def test_syrup_takes_less_heat_than_water():
    syrup = liquid_from_label(100, 0, sugar_g_per_l=614.8)
    assert heat_capacity_j_per_k(syrup) / syrup.mass_g == pytest.approx(3.0, abs=0.05)


def test_blended_ice_is_drunk():
    found = melt(SOUR, "blend")
    assert (found.basis, found.ratio.value) == ("blended ice", 0.90)


def test_the_strongest_icy_step_rules():
    several = melt_of(SOUR, [Step("dry shake"), Step("stir"), Step("shake"), Step("build")], ice="cubed")
    assert several == melt(SOUR, "shake")


def test_a_reverse_dry_shake_holds_a_shake_on_ice_whose_time_is_not_said():
    assert melt(SOUR, "reverse dry shake", seconds=10) == melt(SOUR, "shake")


@pytest.mark.parametrize("verb", ["stir", "shake"])
def test_longer_melts_more_and_levels_off(verb):
    ratios = [melt(SOUR, verb, seconds=seconds).ratio.value for seconds in (0, 2, 8, 13.5, 30, 60, 600)]
    assert ratios == sorted(ratios)
    assert ratios[0] == floor_ratio(SOUR)
    assert ratios[-1] <= ceiling_ratio(SOUR)
    usual = {"stir": 30, "shake": 13.5}[verb]
    assert melt(SOUR, verb, seconds=usual).ratio.value == pytest.approx(melt(SOUR, verb).ratio.value)
    assert "common practice" in melt(SOUR, verb, seconds=usual).source


def test_the_houses_own_measure_rules_over_everything():
    found = melt_of(SOUR, [Step("shake")], ice="none", measured_ratio=0.31)
    assert (found.ratio.value, found.basis) == (0.31, "house's own measure")
    assert found.ratio.high - found.ratio.low == pytest.approx(0.04)
    assert melt_of(SOUR, [Step("shake")], ice="none", measured_ratio=0.0).ratio.value == 0


def test_a_stir_of_no_time_is_named_for_the_floor_it_melts():
    hurried = melt(SOUR, "stir", seconds=0)
    assert (hurried.basis, hurried.ratio.value) == ("melting floor", floor_ratio(SOUR))


def test_an_empty_mix_melts_nothing():
    assert melt(Liquid(), "shake").ratio.value == 0


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ({"steps": [Step("waltz")], "ice": "none"}, "waltz"),
        ({"steps": [Step("shake")], "ice": "snowball"}, "snowball"),
        ({"steps": [Step("shake", -1)], "ice": "none"}, "0 seconds"),
        ({"steps": [], "ice": "none", "measured_ratio": -0.1}, "0 or more"),
    ],
)
def test_what_cannot_be_is_told_in_plain_words(arguments, words):
    with pytest.raises(ValueError, match=words):
        melt_of(SOUR, arguments.pop("steps"), **arguments)


@pytest.mark.parametrize(
    "figures", [{"ice_c": 1}, {"ingredient_c": 150}, {"ice_g_per_mix_ml": -1}, {"vessel_c": math.nan}]
)
def test_conditions_are_of_this_world(figures):
    with pytest.raises(ValueError, match=r"temperatures|masses"):
        Conditions(**figures)


@given(labelled(most_abv=70.0), steps(), ice_kinds)
def test_melting_stays_between_floor_and_ceiling(mixed, method, ice):
    found = melt_of(mixed, method, ice=ice)
    assert found.ratio.low <= found.ratio.value <= found.ratio.high
    if found.basis in ("none", "blended ice"):
        return
    assert floor_ratio(mixed) - 1e-12 <= found.ratio.value <= ceiling_ratio(mixed) + 1e-12


CONDITIONS = st.builds(
    Conditions,
    ingredient_c=st.floats(-20.0, 40.0),
    ice_c=st.floats(-20.0, 0.0),
    vessel_c=st.floats(-20.0, 40.0),
    ice_g_per_mix_ml=st.floats(0.0, 5.0),
    vessel_g_per_mix_ml=st.floats(0.0, 10.0),
)


@given(labelled(most_abv=70.0), steps(), ice_kinds, CONDITIONS)
def test_melting_stays_between_floor_and_ceiling_whatever_the_temperatures(mixed, method, ice, conditions):
    found = melt_of(mixed, method, ice=ice, conditions=conditions)
    assert found.ratio.low <= found.ratio.value <= found.ratio.high
    if found.basis not in ("none", "blended ice"):
        floor, ceiling = floor_ratio(mixed, conditions), ceiling_ratio(mixed, conditions)
        assert floor - 1e-12 <= found.ratio.value <= ceiling + 1e-12


@given(labelled(most_abv=96.0))
def test_no_ceiling_lies_under_its_floor_nor_above_the_ice_there_is(mixed):
    assert floor_melt_g(mixed) <= ceiling_melt_g(mixed) <= STANDARD.ice_g_per_mix_ml * mixed.volume_ml + 1e-9


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_stronger_mixtures_freeze_no_sooner(one, other):
    low, high = sorted((one, other))
    assert freezing_c(high) <= freezing_c(low)


def test_at_the_ceiling_heat_given_is_heat_taken():
    mixed = liquid_from_label(100, 27)
    melt_g = ceiling_melt_g(mixed)
    cold_c = freezing_c(mix([mixed, water(melt_g)]).ethanol_mass_fraction)
    # Rough check from outside: drink 4.25 J/gK, steel 400 g at 0.5, ice 150 g at 2.1.
    given_j = mixed.mass_g * 4.25 * (20 - cold_c) + 400 * 0.5 * (20 - cold_c) + 150 * 2.1 * (0 - cold_c)
    taken_j = melt_g * (334 + 2.1 * cold_c)
    assert taken_j == pytest.approx(given_j, rel=0.01)
