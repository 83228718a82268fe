"""The drawing of a glass rests on the same sum as the check whether the drink fits."""

import pytest

from menugen import mixing
from menugen.menu.picture import glass_picture
from tests.facts.drinks import worked_out


def test_the_foam_drawn_is_the_air_that_was_counted():
    facts = worked_out(
        "pour: [50 ml gin, 25 ml lemon juice, 15 ml sugar syrup, 1 egg white]\nmethod: shake\nglass: sour"
    )
    picture, fit = glass_picture(facts), facts.serve.fit
    assert picture is not None
    assert fit is not None
    assert fit.foam_ml > 0
    foam_ml = mixing.volume_to_mm(
        picture.profile_mm, picture.level_mm + picture.foam_mm
    ) - mixing.volume_to_mm(picture.profile_mm, picture.level_mm)
    assert foam_ml == pytest.approx(fit.foam_ml, abs=0.01)
    assert mixing.volume_to_mm(picture.profile_mm, picture.level_mm) == pytest.approx(
        fit.surface_ml, abs=0.01
    )


def test_no_foam_is_drawn_where_none_was_counted():
    picture = glass_picture(worked_out("pour: [50 ml gin, 1 egg white]\nmethod: stir\nglass: sour"))
    assert picture is not None
    assert picture.foam_mm == 0.0


def test_foam_is_drawn_no_higher_than_the_rim():
    facts = worked_out("pour: [60 ml gin, 40 ml lemon juice, 2 egg white]\nmethod: shake\nglass: sour")
    picture, fit = glass_picture(facts), facts.serve.fit
    assert picture is not None
    assert fit is not None
    assert fit.over_brim_ml > 0
    assert picture.level_mm + picture.foam_mm <= picture.profile_mm[-1][0]


@pytest.mark.parametrize(
    ("ice", "mm"), [("large cube", 45.0), ("cubed", 25.0), ("crushed", 0.0), ("none", 0.0)]
)
def test_cubes_are_drawn_as_wide_as_they_are_and_ice_of_no_shape_as_none(ice, mm):
    picture = glass_picture(
        worked_out(f"pour: [50 ml gin, 20 ml lemon juice]\nmethod: stir\nice: {ice}\nglass: rocks")
    )
    assert picture is not None
    assert picture.cube_mm == pytest.approx(mm)
    assert mm or picture.cube_foot_mm == 0.0


def test_a_float_is_drawn_in_a_colour_of_its_own():
    stock = "stout:\n  kind: stout\n  abv: 5 %\n  contains: [barley]\n  checked: 2026-11-01\n"
    poured = "pour: [50 ml gin, 20 ml lemon juice]\nmethod: build\nglass: rocks\n"
    floated = glass_picture(worked_out(f"{poured}float: 20 ml stout\n", stock=stock))
    plain = glass_picture(worked_out(poured))
    assert floated is not None
    assert plain is not None
    assert floated.float_colour not in ("", floated.liquid)
    assert plain.float_colour == ""
