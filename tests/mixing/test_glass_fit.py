"""Heights and volumes of glasses, and whether a drink fits beside its ice."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from menugen.mixing import (
    ICE_KINDS,
    fit,
    fit_with_share,
    height_of_ml,
    liquid_room_ml,
    top_ml,
    volume_to_mm,
)
from menugen.mixing.ice import packed_share, usual_share

CONE = ((0.0, 0.0), (60.0, 50.0))
CYLINDER = ((0.0, 30.0), (100.0, 30.0))


@st.composite
def profiles(draw):
    steps = draw(st.lists(st.floats(0.5, 40.0), min_size=1, max_size=8))
    radii = draw(st.lists(st.floats(0.0, 60.0), min_size=len(steps) + 1, max_size=len(steps) + 1))
    assume(max(radii) > 0.5)
    heights = [0.0]
    for step in steps:
        heights.append(heights[-1] + step)
    return tuple(zip(heights, radii, strict=True))


shares = st.floats(0.0, 0.9)
volumes = st.floats(1.0, 900.0)


def test_known_bodies():
    assert volume_to_mm(CYLINDER, 100) == pytest.approx(math.pi * 30**2 * 100 / 1000)
    assert volume_to_mm(CONE, 60) == pytest.approx(math.pi * 50**2 * 60 / 3000)
    assert volume_to_mm(CONE, 30) == pytest.approx(volume_to_mm(CONE, 60) / 8)
    assert height_of_ml(CYLINDER, volume_to_mm(CYLINDER, 25)) == pytest.approx(25)


def test_beyond_the_glass():
    assert volume_to_mm(CONE, -5) == 0
    assert volume_to_mm(CONE, 500) == volume_to_mm(CONE, 60)
    assert height_of_ml(CONE, -1) == 0
    assert height_of_ml(CONE, 1e6) == 60


@given(profiles(), st.floats(0.0, 1.0))
def test_height_and_volume_are_each_others_inverse(profile, share):
    brim_ml = volume_to_mm(profile, profile[-1][0])
    ml = share * brim_ml
    assert volume_to_mm(profile, height_of_ml(profile, ml)) == pytest.approx(ml, rel=1e-6, abs=1e-6 * brim_ml)


@given(profiles(), st.floats(0.0, 400.0), st.floats(0.0, 400.0))
def test_higher_holds_more(profile, one, other):
    low, high = sorted((one, other))
    assert volume_to_mm(profile, low) <= volume_to_mm(profile, high) + 1e-9


@given(profiles(), st.floats(0.0, 1.0))
def test_the_volume_is_that_of_thin_slices(profile, share):
    top_mm = share * profile[-1][0]
    slices = 4000

    def radius(height):
        for (low, low_radius), (high, high_radius) in pairwise(profile):
            if height <= high:
                return low_radius + (high_radius - low_radius) * (height - low) / (high - low)
        return profile[-1][1]

    thickness = top_mm / slices
    areas = (math.pi * radius((index + 0.5) * thickness) ** 2 for index in range(slices))
    summed_ml = sum(areas) * thickness / 1000
    assert volume_to_mm(profile, top_mm) == pytest.approx(summed_ml, rel=1e-3, abs=1e-3)


@pytest.mark.parametrize(
    "profile",
    [(), ((0, 10),), ((0, 10), (0, 20)), ((10, 10), (0, 20)), ((0, -1), (10, 20)), ((0, 0), (10, 0))],
)
def test_what_is_no_glass_is_refused(profile):
    with pytest.raises(ValueError, match="glass"):
        volume_to_mm(profile, 5)
    with pytest.raises(ValueError, match="glass"):
        height_of_ml(profile, 5)


def test_a_drink_that_fits():
    found = fit_with_share(100, 300, 270, 0.5)
    assert (found.ice_ml, found.surface_ml) == (100, 200)
    assert (found.over_brim_ml, found.under_wash_line_ml, found.room_ml) == (0, 70, 50)


def test_a_drink_that_spills():
    found = fit_with_share(200, 300, 270, 0.5)
    assert (found.surface_ml, found.over_brim_ml, found.under_wash_line_ml, found.room_ml) == (400, 100, 0, 0)


def test_a_mule_overfills_a_glass_packed_to_the_rim_and_not_one_with_the_usual_ice():
    assert fit_with_share(175, 350, 315, packed_share("cubed")).over_brim_ml > 0
    assert fit(175, 350, 315, "cubed").over_brim_ml == 0


def test_without_ice_the_surface_is_the_liquid():
    found = fit(120, 180, 150, "none")
    assert (found.ice_ml, found.surface_ml) == (0, 120)


def test_top_with_fills_to_the_wash_line():
    assert top_ml(270, 300, 100, "none") == 170
    room = 270 * (1 - usual_share("cubed"))
    assert top_ml(270, 300, 100, "cubed") == pytest.approx(room - 100)
    assert top_ml(270, 300, 400, "cubed") == 0


@given(volumes, volumes, st.floats(0.0, 1.0), shares, shares)
def test_more_ice_never_makes_room(liquid_ml, brim_ml, wash_share, one, other):
    less, more = sorted((one, other))
    thin = fit_with_share(liquid_ml, brim_ml, wash_share * brim_ml, less)
    thick = fit_with_share(liquid_ml, brim_ml, wash_share * brim_ml, more)
    assert thick.room_ml <= thin.room_ml + 1e-9
    assert thick.surface_ml >= thin.surface_ml - 1e-9
    assert thick.over_brim_ml >= thin.over_brim_ml - 1e-9
    assert liquid_room_ml(brim_ml, more) <= liquid_room_ml(brim_ml, less)


@given(volumes, st.floats(0.0, 1.0), volumes, st.sampled_from(ICE_KINDS))
def test_topping_up_never_spills(brim_ml, wash_share, liquid_ml, ice):
    wash_line_ml = wash_share * brim_ml
    top = top_ml(wash_line_ml, brim_ml, liquid_ml, ice)
    assert top >= 0
    if top > 0:
        found = fit(liquid_ml + top, brim_ml, wash_line_ml, ice)
        assert found.over_brim_ml <= 1e-9 * brim_ml
        assert found.surface_ml == pytest.approx(wash_line_ml, rel=1e-9)


def test_finer_ice_takes_more_of_a_glass():
    packed = [packed_share(ice) for ice in ("none", "cubed", "cracked", "crushed")]
    assert packed == sorted(packed)
    assert 0.32 <= 1 - packed_share("cubed") <= 0.45, "liquid share computed from 1.6 to 2.0 m3/t"
    assert 0.22 <= 1 - packed_share("crushed") <= 0.27, "liquid share computed from 1.4 to 1.5 m3/t"


@pytest.mark.parametrize(
    "call",
    [
        lambda: fit(100, 300, 270, "hail"),
        lambda: fit(-1, 300, 270, "none"),
        lambda: fit(100, 300, 310, "none"),
        lambda: fit(100, 0, 0, "none"),
        lambda: top_ml(270, 300, -1, "none"),
        lambda: liquid_room_ml(100, 1.0),
        lambda: liquid_room_ml(-1, 0.2),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError, match=r"ice|glass|drink"):
        call()
