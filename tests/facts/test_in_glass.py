"""What the method leaves behind, foam, ice, and the remedy for a glass too small."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen import mixing
from menugen.facts import Vessel, work_out
from menugen.facts.glasses import USUAL_PIECES, IcePieces
from menugen.facts.in_glass import Froth, foam_ml, held_back_ml, in_glass, liquid_to_line_ml
from menugen.mixing import ICE_KINDS
from menugen.problems import Severity
from menugen.records import MethodStep, Role
from tests.facts.drinks import house_with, setting_of, worked_out

GLASS = Vessel("coupe", 180.0, 145.0, (), 0.0, 0.0)


def steps(*verbs: str) -> tuple[MethodStep, ...]:
    return tuple(MethodStep(verb) for verb in verbs)


@pytest.mark.parametrize(
    ("verbs", "strain", "left"),
    [
        (("build",), "", 0.0),
        (("muddle", "build"), "", 0.0),
        (("swizzle",), "", 0.0),
        (("stir",), "single", 2.0),
        (("shake",), "single", 3.0),
        (("dry shake", "shake"), "fine", 4.0),
        (("muddle", "shake"), "fine", 6.0),
        (("muddle", "shake"), "dump", 3.0),
        (("blend",), "", 8.0),
    ],
)
def test_what_stays_in_the_tin(verbs, strain, left):
    assert held_back_ml(steps(*verbs), strain) == left


def test_a_very_small_drink_does_not_stay_in_the_tin():
    made = worked_out("pour: 15 ml gin\nmethod: shake\nstrain: fine").serve.made
    tin_ml = made.mix.volume_ml + made.mix_melt_g.value / 0.9982
    assert made.left_ml == pytest.approx(tin_ml / 10, rel=0.01)
    assert made.kept_share == pytest.approx(0.9)


def test_foam_needs_shaking_and_cream_needs_fat():
    white, cream = Froth("egg_white", Role.POUR, 30.0, 0.0), Froth("double_cream", Role.FLOAT, 30.0, 470.0)
    thin, shaken_cream = (
        Froth("single_cream", Role.FLOAT, 30.0, 180.0),
        Froth("double_cream", Role.POUR, 30.0, 470.0),
    )
    assert foam_ml(steps("dry shake", "shake"), [white]) == pytest.approx(24.0)
    assert foam_ml(steps("stir"), [white]) == 0.0
    assert foam_ml(steps("build"), [cream]) == pytest.approx(15.0)
    assert foam_ml(steps("shake"), [thin, shaken_cream]) == 0.0


@given(st.floats(0.0, 400.0), st.floats(0.0, 40.0), st.sampled_from(ICE_KINDS))
def test_what_fits_adds_up(liquid_ml, air_ml, ice):
    found = in_glass(liquid_ml, 3.0, air_ml, GLASS, ice)
    assert found.liquid_ml == liquid_ml
    assert found.surface_ml == pytest.approx(found.liquid_ml + found.ice_ml)
    assert (found.over_brim_ml > 0) == (found.surface_ml + air_ml > GLASS.brim_ml)
    assert found.fits_without_ice == (liquid_ml + air_ml <= GLASS.brim_ml)
    if found.over_brim_ml > 0:
        # The remedies remedy: so much less, or so large a glass, and it fits.
        assert found.room_ml == 0.0
        smaller = in_glass(max(0.0, liquid_ml - found.smaller_by_ml), 3.0, air_ml, GLASS, ice)
        assert smaller.over_brim_ml == pytest.approx(0.0, abs=1e-6)
        larger = Vessel("coupe", float(found.glass_that_fits_ml), 100.0, (), 0.0, 0.0)
        assert in_glass(liquid_ml, 3.0, air_ml, larger, ice).over_brim_ml == 0.0
        if found.fits_without_ice:
            assert in_glass(liquid_ml, 3.0, air_ml, GLASS, "none").over_brim_ml == 0.0


@given(st.floats(0.0, 60.0), st.sampled_from(ICE_KINDS))
def test_a_top_never_runs_over_and_more_foam_never_makes_room(air_ml, ice):
    liquid_ml = liquid_to_line_ml(air_ml, GLASS, ice)
    assert 0.0 <= liquid_ml <= liquid_to_line_ml(0.0, GLASS, ice)
    assert in_glass(liquid_ml, 0.0, air_ml, GLASS, ice).over_brim_ml == pytest.approx(0.0, abs=1e-6)


@given(st.floats(1.0, 400.0), st.floats(20.0, 60.0))
def test_a_cube_weighs_the_same_whatever_the_drink(liquid_ml, side_mm):
    pieces = IcePieces(USUAL_PIECES.cube_g, mixing.cube_g(side_mm))
    found = in_glass(liquid_ml, 0.0, 0.0, replace(GLASS, ice=pieces), "large cube")
    assert (found.ice_g, found.piece_g, found.pieces) == (pieces.large_cube_g, pieces.large_cube_g, 1)
    assert found.ice_ml <= pieces.large_cube_g + 1e-6


def test_the_warning_has_the_numbers_and_a_remedy():
    house = house_with("pour: [900 ml white wine]\nmethod: build\nglass: coupe")
    facts, problems = work_out(house.specs["tried"], setting_of(house))
    assert facts is None
    (problem,) = problems
    assert (problem.code, problem.severity) == ("glass-far-too-small", Severity.ERROR)
    assert "900 ml" in problem.message
    assert "ml over the brim" in problem.message
    assert problem.hints == (
        "make it smaller by 710 ml, or serve it in a glass of 1000 ml or more",
        'if guests share it, write "serves: 10" and what it is served in: "glass: jug" or "glass: punch bowl"',
    )


def test_foam_alone_can_spill_a_drink():
    front = "pour: [40 ml gin, 25 ml lemon juice, 15 ml sugar syrup, 2 egg white]\nmethod: shake\nglass: sour"
    house = house_with(front)
    facts, problems = work_out(house.specs["tried"], setting_of(house))
    assert facts is not None
    assert facts.serve.fit is not None
    assert facts.serve.fit.surface_ml < 180.0
    (problem,) = problems
    assert "with its foam" in problem.message


def test_a_topped_drink_leaves_room_for_its_foam():
    facts = worked_out("pour: [40 ml gin, 2 egg white]\nmethod: shake\ntop: soda water\nglass: sour")
    fit = facts.serve.fit
    assert fit is not None
    assert facts.serve.top_room_ml is not None
    assert facts.serve.top_room_ml > 0
    assert fit.surface_ml + fit.foam_ml <= 180.0 + 0.5
