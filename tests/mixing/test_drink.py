"""A drink worked out: what goes in comes out, and every figure has an honest range."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.mixing import (
    MELT_BASES,
    Figure,
    Step,
    after_minutes_on_ice,
    liquid_from_label,
    make,
    mix,
    sugar_g_per_l,
    titratable_acid_g_per_l,
)
from tests.mixing.pours import alcohol_free, doubled, ice_kinds, labelled, steps

SOUR = [
    liquid_from_label(50, 40),
    liquid_from_label(25, 0, sugar_g_per_l=25, acid_g_per_l=48),
    liquid_from_label(20, 0, sugar_g_per_l=615),
]
SPARKLING = liquid_from_label(60, 12, sugar_g_per_l=8)
SHAKE = [Step("shake")]


def test_a_shaken_sour():
    made = make(SOUR, [], SHAKE, ice="none")
    assert made.mix == mix(SOUR)
    assert made.ethanol_ml == pytest.approx(20)
    assert made.poured_abv_percent.value == pytest.approx(21.07, abs=0.02)
    assert made.melt_ratio.value == pytest.approx(0.5005, abs=0.001)
    assert made.served_abv_percent.value == pytest.approx(14.03, abs=0.02)
    assert made.volume_ml.value == pytest.approx(142.6, abs=0.1)
    assert made.melt_basis == "shaken equation"


def test_the_range_of_a_shaken_drink_is_that_of_its_dilution_above_all():
    served = make(SOUR, [], SHAKE, ice="none").served_abv_percent
    assert 0.04 < (served.value - served.low) / served.value < 0.08
    assert 0.04 < (served.high - served.value) / served.value < 0.09


def test_a_strength_falls_to_what_the_most_melt_water_leaves_and_rises_to_what_the_least_does():
    served = make([liquid_from_label(60, 40)], [], SHAKE, ice="none")
    strength, ml, melt = served.served_abv_percent, served.drink.volume_ml, served.melt_g
    others = math.hypot(0.3 * 60 / ml, 0.003 * strength.value, (40 - strength.value) * 0.04 * 60 / ml)
    thinned = strength.value * ml / (ml + (melt.high - melt.value) / 0.9982)
    assert strength.low == pytest.approx(
        strength.value - math.hypot(others, strength.value - thinned), rel=1e-5
    )
    kept = strength.value * ml / (ml - (melt.value - melt.low) / 0.9982)
    assert strength.high == pytest.approx(
        strength.value + math.hypot(others, kept - strength.value), rel=1e-5
    )


def test_the_range_without_ice_is_that_of_labels_jigger_and_model():
    poured = make(
        [liquid_from_label(50, 40), liquid_from_label(50, 0)], [], [], ice="none"
    ).poured_abv_percent
    strength = poured.value
    jigger = 0.04 * math.hypot((40 - strength) * 0.5, strength * 0.5)
    spread = math.hypot(jigger, 0.3 * 0.5, 0.003 * strength)
    assert poured.high - strength == pytest.approx(spread, rel=0.01)
    assert strength - poured.low == pytest.approx(spread, rel=0.01)


def test_a_glass_holds_only_so_much_ice():
    made = make(SOUR, [], [Step("build")], ice="cubed")
    forgotten = after_minutes_on_ice(made, "cubed", 100_000).value
    assert forgotten == pytest.approx(20 / (made.volume_ml.value + 120) * 100, rel=0.01)


def test_what_is_topped_meets_no_ice():
    with_top = make(SOUR, [SPARKLING], SHAKE, ice="none")
    without = make(SOUR, [], SHAKE, ice="none")
    assert with_top.melt_g == without.melt_g
    assert with_top.mix == without.mix
    assert with_top.ethanol_ml == pytest.approx(20 + 7.2)


def test_a_single_pour_without_ice_keeps_its_label():
    made = make([liquid_from_label(50, 43)], [], [Step("pour")], ice="none")
    assert made.served_abv_percent == Figure(pytest.approx(43), pytest.approx(42.7), pytest.approx(43.3))
    assert made.served_abv_percent == made.poured_abv_percent


def test_no_method_means_built():
    assert make(SOUR, [], [], ice="cubed") == make(SOUR, [], [Step("build")], ice="cubed")


def test_nothing_at_all_is_nothing():
    made = make([], [], [], ice="none")
    assert made.volume_ml == Figure(0, 0, 0)
    assert made.served_abv_percent == Figure(0, 0, 0)


def test_sweetness_and_sourness():
    drink = make(SOUR, [], SHAKE, ice="none").drink
    assert sugar_g_per_l(drink) == pytest.approx(1000 * (12.3 + 0.625) / 142.56, rel=1e-3)
    assert titratable_acid_g_per_l(drink) == pytest.approx(1000 * 1.2 / 142.56, rel=1e-3)
    assert sugar_g_per_l(make([], [], [], ice="none").drink) == 0


@given(st.lists(alcohol_free(), max_size=4), st.lists(alcohol_free(), max_size=2), steps(), ice_kinds)
def test_no_alcohol_is_exactly_none(mixed, after, method, ice):
    made = make(mixed, after, method, ice=ice)
    assert made.served_abv_percent == Figure(0.0, 0.0, 0.0)
    assert made.poured_abv_percent == Figure(0.0, 0.0, 0.0)
    assert made.ethanol_ml == 0.0
    assert after_minutes_on_ice(made, "cubed", 10) == Figure(0.0, 0.0, 0.0)


drinks = (st.lists(labelled(), min_size=1, max_size=5), st.lists(labelled(), max_size=2), steps(), ice_kinds)


@given(*drinks)
def test_mass_goes_through(mixed, after, method, ice):
    made = make(mixed, after, method, ice=ice)
    poured_g = sum(liquid.mass_g for liquid in (*mixed, *after))
    assert math.isclose(made.drink.mass_g, poured_g + made.melt_g.value, rel_tol=1e-9)
    assert math.isclose(made.ethanol_g, sum(liquid.ethanol_g for liquid in (*mixed, *after)), abs_tol=1e-9)


@given(*drinks)
def test_ice_never_strengthens_and_ranges_hold_their_value(mixed, after, method, ice):
    made = make(mixed, after, method, ice=ice)
    assert made.served_abv_percent.value <= made.poured_abv_percent.value * (1 + 1e-9)
    assert made.melt_basis in MELT_BASES
    strengths = (made.poured_abv_percent, made.served_abv_percent)
    for figure in (made.melt_ratio, made.melt_g, made.volume_ml, *strengths):
        assert 0.0 <= figure.low <= figure.value <= figure.high < math.inf
    assert made.served_abv_percent.high <= 100.0


@given(*drinks)
def test_doubling_every_pour_changes_no_strength(mixed, after, method, ice):
    one = make(mixed, after, method, ice=ice)
    two = make(doubled(mixed), doubled(after), method, ice=ice)
    assert math.isclose(two.served_abv_percent.value, one.served_abv_percent.value, rel_tol=1e-6)
    assert math.isclose(two.volume_ml.value, 2 * one.volume_ml.value, rel_tol=1e-6)
    assert math.isclose(two.melt_ratio.value, one.melt_ratio.value, rel_tol=1e-6, abs_tol=1e-9)


@given(st.lists(labelled(), min_size=2, max_size=5), steps(), ice_kinds, st.randoms(use_true_random=False))
def test_the_order_of_pours_does_not_matter(mixed, method, ice, random):
    shuffled = list(mixed)
    random.shuffle(shuffled)
    one, other = make(mixed, [], method, ice=ice), make(shuffled, [], method, ice=ice)
    assert one.drink == other.drink
    assert one.melt_g == other.melt_g


@given(st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_more_melt_is_weaker_with_the_same_units(one, other):
    low, high = sorted((one, other))
    drier = make(SOUR, [], SHAKE, ice="none", measured_ratio=low)
    wetter = make(SOUR, [], SHAKE, ice="none", measured_ratio=high)
    assert wetter.served_abv_percent.value <= drier.served_abv_percent.value
    assert wetter.ethanol_ml == drier.ethanol_ml


@pytest.mark.slow
@given(ice_kinds, st.floats(0.0, 240.0), st.floats(0.0, 240.0))
def test_a_drink_on_ice_only_grows_weaker(ice, one, other):
    made = make(SOUR, [], [Step("build")], ice="cubed")
    sooner, later = (after_minutes_on_ice(made, ice, minutes) for minutes in sorted((one, other)))
    assert later.value <= sooner.value <= made.served_abv_percent.value
    assert 0.0 < later.low <= later.value <= later.high


def test_a_drink_on_ice_after_ten_minutes():
    made = make(SOUR, [], [Step("build")], ice="cubed")
    assert after_minutes_on_ice(made, "none", 10) == made.served_abv_percent
    assert after_minutes_on_ice(made, "cubed", 0) == made.served_abv_percent
    assert after_minutes_on_ice(made, "cubed", 10).value == pytest.approx(
        made.served_abv_percent.value * made.volume_ml.value / (made.volume_ml.value + 10), rel=0.003
    )
    standing = after_minutes_on_ice(made, "cubed", 10)
    volume_ml, served = made.volume_ml.value, made.served_abv_percent
    assert standing.low == pytest.approx(served.low * volume_ml / (volume_ml + 20 / 0.9982))
    assert standing.high == pytest.approx(served.high * volume_ml / (volume_ml + 5 / 0.9982))
    kinds = ("large cube", "cubed", "cracked", "crushed")
    strengths = [after_minutes_on_ice(made, ice, 10).value for ice in kinds]
    assert strengths == sorted(strengths, reverse=True)
    assert after_minutes_on_ice(made, "crushed", 10).value < after_minutes_on_ice(made, "cubed", 10).value


@pytest.mark.parametrize(("ice", "minutes"), [("slush", 5), ("cubed", -1), ("cubed", math.nan)])
def test_standing_on_ice_is_told_in_plain_words(ice, minutes):
    made = make(SOUR, [], [Step("build")], ice="cubed")
    with pytest.raises(ValueError, match=r"slush|minutes"):
        after_minutes_on_ice(made, ice, minutes)


GIN, SODA = liquid_from_label(50, 40), liquid_from_label(150, 0)
BUILD = [Step("build")]
FRIDGE_C, ROOM_C, FREEZER_C = 4.0, 20.0, -18.0


def highball(mixed, after, at, *, ice="cubed"):
    return make(mixed, after, BUILD, ice=ice, kept_c=at)


def test_a_highball_has_one_strength_whichever_line_pours_its_soda():
    poured = highball([GIN, SODA], [], [ROOM_C, FRIDGE_C])
    topped = highball([GIN], [SODA], [ROOM_C, FRIDGE_C])
    assert poured == topped
    # By hand: the heat of 50 ml of gin at 20 C and 150 ml of soda at 4 C, over 334 J to a gram of ice.
    heat_j = 50 * 0.948 * 4.14 * ROOM_C + 150 * 0.998 * 4.218 * FRIDGE_C
    assert poured.melt_g.value == pytest.approx(heat_j / 334, rel=0.03)
    assert poured.served_abv_percent.value == pytest.approx(9.1, abs=0.05)
    assert 0.05 <= poured.melt_ratio.value <= 0.15, "a build with a chilled mixer"


def test_what_is_kept_colder_melts_less():
    warm, cold, frozen = (
        highball([GIN], [SODA], [gin_c, soda_c])
        for gin_c, soda_c in ((ROOM_C, ROOM_C), (ROOM_C, FRIDGE_C), (FREEZER_C, FRIDGE_C))
    )
    assert warm.melt_g.value > 2 * cold.melt_g.value > 2 * frozen.melt_g.value >= 0
    assert warm.served_abv_percent.value < cold.served_abv_percent.value < frozen.served_abv_percent.value


def test_a_top_meets_the_ice_in_the_glass_when_the_mix_has_met_its_own():
    def sour(at_c, *, ice):
        return make(SOUR, [SODA], SHAKE, ice=ice, kept_c=[ROOM_C] * 3 + [at_c])

    tin = make(SOUR, [], SHAKE, ice="none")
    for at_c in (ROOM_C, FRIDGE_C):
        topped = sour(at_c, ice="cubed")
        assert topped.mix_melt_g == tin.melt_g
        assert topped.top_melt_g.value == pytest.approx(150 * 0.998 * 4.218 * at_c / 334, rel=0.01)
        assert topped.melt_g.value == pytest.approx(topped.mix_melt_g.value + topped.top_melt_g.value)
    assert sour(FRIDGE_C, ice="none").top_melt_g == Figure(0, 0, 0)
    assert sour(FREEZER_C, ice="cubed").top_melt_g.value == 0


def test_the_equations_are_for_bottles_kept_as_usual():
    def shaken(gin_c, lemon_c):
        at = [gin_c, lemon_c, ROOM_C]
        return make(SOUR, [], SHAKE, ice="none", kept_c=at, usual_c=[ROOM_C, FRIDGE_C, ROOM_C])

    usual = shaken(ROOM_C, FRIDGE_C)
    assert usual.melt_basis == "shaken equation"
    assert usual.melt_ratio == make(SOUR, [], SHAKE, ice="none").melt_ratio
    frozen, warm = shaken(FREEZER_C, FRIDGE_C), shaken(ROOM_C, ROOM_C)
    assert frozen.melt_g.value < usual.melt_g.value < warm.melt_g.value
    # No jump: a hair colder than usual melts a hair less.
    assert shaken(ROOM_C - 0.01, FRIDGE_C).melt_ratio.value == pytest.approx(
        usual.melt_ratio.value, abs=0.003
    )


def test_stating_the_melt_that_is_worked_out_changes_nothing():
    for steps_, after in ((SHAKE, [SODA]), (BUILD, [SODA])):
        worked = make(SOUR, after, steps_, ice="cubed")
        stated = make(SOUR, after, steps_, ice="cubed", measured_ratio=worked.melt_ratio.value)
        assert stated.served_abv_percent.value == pytest.approx(worked.served_abv_percent.value)


def test_no_more_melts_than_the_cube_there_is():
    large = make([liquid_from_label(400, 40)], [], BUILD, ice="large cube", ice_g=30.0)
    assert large.melt_g.value == pytest.approx(30.0)
    assert large.melt_g.high <= 30.0 + 1e-9
    forgotten = after_minutes_on_ice(large, "large cube", 10_000, 12.0)
    assert forgotten.value == pytest.approx(
        large.ethanol_ml / (large.volume_ml.value + 12 / 0.9982) * 100, rel=0.01
    )


def test_what_stays_in_the_tin_is_of_the_mix_and_not_of_the_top():
    whole = make(SOUR, [SPARKLING], SHAKE, ice="none")
    kept = make(SOUR, [SPARKLING], SHAKE, ice="none", held_back_ml=4.0)
    assert kept.left_ml == 4.0
    assert kept.volume_ml.value == pytest.approx(whole.volume_ml.value - 4.0, abs=0.02)
    tin = make(SOUR, [], SHAKE, ice="none")
    lost_ml = 4.0 * tin.served_abv_percent.value / 100
    assert kept.drink.ethanol_ml == pytest.approx(whole.drink.ethanol_ml - lost_ml)
    assert kept.ethanol_ml == whole.ethanol_ml, "units count all that is poured"
    assert kept.served_abv_percent.value == pytest.approx(100 * kept.drink.ethanol_ml / kept.volume_ml.value)


@given(
    st.lists(st.tuples(labelled(), st.floats(-18.0, 30.0)), min_size=1, max_size=5),
    st.integers(0, 5),
    ice_kinds,
    st.one_of(st.none(), st.floats(0.0, 1.0)),
)
def test_a_built_drink_is_the_same_whichever_line_pours_what(pours, mixed, ice, measured):
    liquids, at = [pour for pour, _ in pours], [celsius for _, celsius in pours]
    poured = make(liquids, [], BUILD, ice=ice, kept_c=at, measured_ratio=measured)
    topped = make(liquids[:mixed], liquids[mixed:], BUILD, ice=ice, kept_c=at, measured_ratio=measured)
    assert topped.drink == poured.drink
    assert topped.served_abv_percent == poured.served_abv_percent
    assert topped.volume_ml == poured.volume_ml


@pytest.mark.slow
@given(*drinks, st.floats(0.0, 12.0))
def test_volume_and_strength_are_of_one_liquid(mixed, after, method, ice, held_back_ml):
    made = make(mixed, after, method, ice=ice, held_back_ml=held_back_ml)
    poured_ml = sum(liquid.ethanol_ml for liquid in (*mixed, *after))
    assert made.ethanol_ml == pytest.approx(poured_ml)
    assert made.poured.volume_ml * made.poured_abv_percent.value / 100 == pytest.approx(poured_ml)
    in_glass_ml = made.volume_ml.value * made.served_abv_percent.value / 100
    assert in_glass_ml == pytest.approx(made.drink.ethanol_ml)
    assert made.volume_ml.value == pytest.approx(made.drink.volume_ml)
    kept = made.kept_share
    alcohol = [liquid.ethanol_ml for liquid in mixed], [liquid.ethanol_ml for liquid in after]
    assert in_glass_ml == pytest.approx(kept * sum(alcohol[0]) + sum(alcohol[1]), abs=1e-9)
    mass_g = kept * sum(liquid.mass_g for liquid in mixed) + sum(liquid.mass_g for liquid in after)
    assert made.drink.mass_g == pytest.approx(mass_g + made.melt_g.value)
    assert 0.9 - 1e-9 <= kept <= 1.0
