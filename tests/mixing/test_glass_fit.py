"""Heights and volumes of glasses, and whether a drink fits beside its ice."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from menugen.mixing import (
    ICE_KINDS,
    cube_g,
    cube_goes_in,
    cube_mm,
    fit,
    height_of_ml,
    least_share,
    liquid_room_ml,
    liquid_to_ml,
    usual_share,
    volume_to_mm,
)
from menugen.mixing.block import tumbler
from menugen.mixing.ice import packed_share

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


@pytest.mark.slow
@given(profiles(), st.floats(0.0, 1.0))
def test_height_and_volume_are_each_others_inverse(profile, share):
    brim_ml = volume_to_mm(profile, profile[-1][0])
    ml = share * brim_ml
    assert volume_to_mm(profile, height_of_ml(profile, ml)) == pytest.approx(ml, rel=1e-6, abs=1e-6 * brim_ml)


@given(profiles(), st.floats(0.0, 400.0), st.floats(0.0, 400.0))
def test_higher_holds_more(profile, one, other):
    low, high = sorted((one, other))
    assert volume_to_mm(profile, low) <= volume_to_mm(profile, high) + 1e-9


@pytest.mark.slow
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


LOOSE = ("none", "cubed", "cracked", "crushed")
ROCKS = ((0.0, 33.0), (4.0, 35.0), (67.5, 38.0))


def test_a_drink_that_fits():
    found = fit(100, 300, 270, "cubed")
    share = usual_share("cubed")
    assert found.surface_ml == pytest.approx(100 / (1 - share))
    assert found.ice_ml == pytest.approx(100 * share / (1 - share))
    assert (found.over_brim_ml, found.smaller_by_ml, found.gave_way) == (0, 0, False)
    assert found.under_wash_line_ml == pytest.approx(270 - found.surface_ml)
    assert found.room_ml == pytest.approx(300 * (1 - least_share("cubed")) - 100)


def test_ice_gives_way_to_an_everyday_long_drink():
    found = fit(219, 330, 290, "cubed")
    assert found.surface_ml == pytest.approx(290), "a bartender fills it to the wash line, with less ice"
    assert found.ice_ml == pytest.approx(71)
    assert found.gave_way
    assert found.over_brim_ml == 0
    assert found.usual_surface_ml > 330


def test_ice_gives_way_to_foam():
    found = fit(150, 300, 270, "cubed", air_ml=60)
    assert found.surface_ml == pytest.approx(150 / (1 - usual_share("cubed")))
    foamy = fit(160, 300, 270, "cubed", air_ml=60)
    assert foamy.surface_ml == pytest.approx(240), "the foam stands to the brim"
    assert foamy.gave_way


def test_ice_gives_way_only_so_far():
    found = fit(300, 330, 290, "cubed")
    assert found.ice_ml / found.surface_ml == pytest.approx(least_share("cubed"))
    assert found.over_brim_ml == pytest.approx(found.surface_ml - 330)
    assert found.over_brim_ml > 0
    assert fit(300 - found.smaller_by_ml, 330, 290, "cubed").over_brim_ml == pytest.approx(0, abs=1e-9)


def test_a_mule_overfills_a_glass_packed_to_the_rim_and_not_one_with_the_usual_ice():
    assert 175 / (1 - packed_share("cubed")) > 350
    assert fit(175, 350, 315, "cubed").over_brim_ml == 0


def test_without_ice_the_surface_is_the_liquid():
    found = fit(120, 180, 150, "none")
    assert (found.ice_ml, found.surface_ml, found.gave_way) == (0, 120, False)


def test_top_with_fills_to_the_wash_line():
    assert liquid_to_ml(270, 300, "none") == 270
    assert liquid_to_ml(270, 300, "cubed") == pytest.approx(270 * (1 - usual_share("cubed")))
    least = liquid_to_ml(270, 300, "cubed", least=True)
    assert least == pytest.approx(270 * (1 - least_share("cubed")))


@given(
    volumes, volumes, st.floats(0.0, 1.0), st.floats(0.0, 60.0), st.sampled_from(ICE_KINDS), st.floats(10, 70)
)
def test_ice_never_spills_a_drink_unsaid(liquid_ml, brim_ml, wash_share, air_ml, ice, side_mm):
    found = fit(liquid_ml, brim_ml, wash_share * brim_ml, ice, air_ml=air_ml, cube_g=cube_g(side_mm))
    assert found.surface_ml == pytest.approx(liquid_ml + found.ice_ml)
    assert found.over_brim_ml == pytest.approx(max(0.0, found.surface_ml + air_ml - brim_ml))
    if found.over_brim_ml > 1e-6 * brim_ml:
        assert found.smaller_by_ml > 0
        if ice in LOOSE:
            assert found.ice_ml / found.surface_ml == pytest.approx(least_share(ice), abs=1e-9)
    if ice in LOOSE:
        assert least_share(ice) - 1e-9 <= found.ice_ml / found.surface_ml <= usual_share(ice) + 1e-9


@given(st.floats(1.0, 400.0), st.floats(10, 70), st.floats(10, 70), st.sampled_from(((), CYLINDER)))
def test_more_ice_never_makes_room(liquid_ml, one, other, profile):
    brim_ml = volume_to_mm(CYLINDER, 100)
    less, more = (
        fit(liquid_ml, brim_ml, 0.9 * brim_ml, "large cube", profile=profile, cube_g=cube_g(side_mm))
        for side_mm in sorted((one, other))
    )
    assert more.surface_ml >= less.surface_ml - 1e-6
    assert more.over_brim_ml >= less.over_brim_ml - 1e-6
    assert more.room_ml <= less.room_ml + 1e-6


@given(st.floats(250, 900), st.floats(0.3, 1.0), st.sampled_from(ICE_KINDS), st.sampled_from(((), ROCKS)))
def test_topping_up_never_spills(brim_ml, wash_share, ice, profile):
    wash_line_ml = wash_share * brim_ml
    liquid_ml = liquid_to_ml(wash_line_ml, brim_ml, ice, profile=profile)
    assert 0 <= liquid_ml <= wash_line_ml
    if liquid_ml > 0:
        found = fit(liquid_ml, brim_ml, wash_line_ml, ice, profile=profile)
        assert found.over_brim_ml <= 1e-6 * brim_ml
        assert found.surface_ml == pytest.approx(wash_line_ml, rel=1e-6, abs=1e-6)


def test_a_large_cube_stands_and_then_floats():
    cube = cube_g(45)
    brim_ml = volume_to_mm(ROCKS, 67.5)
    found = [
        fit(ml, brim_ml, 0.9 * brim_ml, "large cube", profile=ROCKS, cube_g=cube)
        for ml in (40, 80, 120, 160, 200)
    ]
    for one in found[:2]:
        height_mm = height_of_ml(ROCKS, one.surface_ml)
        assert one.ice_ml == pytest.approx(45 * 45 * height_mm / 1000, rel=1e-4), "it stands on the bottom"
    assert found[0].ice_ml < found[1].ice_ml < cube / 1.0
    for one in found[2:]:
        assert one.ice_ml == pytest.approx(cube, rel=1e-6), "floating, it drives out its own weight"


@given(st.floats(1.0, 1000.0), st.floats(20, 60))
def test_a_cube_takes_no_more_room_than_itself_however_large_the_drink(liquid_ml, side_mm):
    found = fit(liquid_ml, 2000, 1800, "large cube", cube_g=cube_g(side_mm))
    assert 0 <= found.ice_ml <= 0.917 * side_mm**3 / 1000 + 1e-6


def test_a_cube_weighs_what_its_side_says():
    assert cube_g(45) == pytest.approx(83.6, abs=0.05)
    assert cube_g(25) == pytest.approx(14.3, abs=0.05)
    assert cube_mm(cube_g(33)) == pytest.approx(33)


def test_a_cube_goes_in_where_its_corners_do():
    assert cube_goes_in(ROCKS, cube_g(53))
    assert not cube_goes_in(ROCKS, cube_g(54))
    assert cube_goes_in((), cube_g(300)), "nobody has measured the glass"
    coupe = ((0.0, 0.0), (17.0, 39.5), (40.0, 50.0))
    shallow = fit(30, volume_to_mm(coupe, 40), 150, "large cube", profile=coupe, cube_g=cube_g(45))
    assert shallow.ice_ml < 45 * 45 * height_of_ml(coupe, shallow.surface_ml) / 1000, (
        "it hangs over the bottom"
    )


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
        lambda: fit(100, 300, 270, "none", air_ml=-1),
        lambda: fit(100, 300, 310, "none"),
        lambda: fit(100, 0, 0, "none"),
        lambda: liquid_to_ml(270, 300, "hail"),
        lambda: packed_share("large cube"),
        lambda: liquid_room_ml(100, 1.0),
        lambda: liquid_room_ml(-1, 0.2),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError, match=r"ice|glass|drink|loose"):
        call()


def test_a_glass_that_nobody_has_measured_holds_its_brim_and_is_as_high_as_wide():
    (bottom_mm, radius_mm), (height_mm, rim_mm) = tumbler(300.0)
    assert (bottom_mm, radius_mm) == (0.0, rim_mm)
    assert height_mm == 2 * radius_mm
    assert math.pi * radius_mm**2 * height_mm / 1000 == pytest.approx(300.0)
