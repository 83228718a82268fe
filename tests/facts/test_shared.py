"""A drink that guests share: worked out whole in its bowl, and one serve an even part of it."""

import math
from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.facts import (
    DrinkFacts,
    Serve,
    aimed,
    one_serve,
    parse_aim,
    strength_on_ice,
    taste_of,
    work_out,
    working_of,
)
from menugen.facts.checks import MOST_ETHANOL_ML
from menugen.problems import Place, Problem, Severity
from tests.facts.drinks import house_with, setting_of, worked_out

PUNCH = """
serves: 10
pour: [450 ml gin, 250 ml lemon juice, 180 ml sugar syrup]
method: build
glass: punch bowl
swap:
  gin: 450 ml white wine
"""


def found(front: str, house: str = "") -> tuple[DrinkFacts | None, tuple[Problem, ...]]:
    made = house_with(front, **({"house": house} if house else {}))
    return work_out(made.specs["tried"], setting_of(made))


def parts(serve: Serve) -> dict[str, tuple[float, float]]:
    """Each figure of one serve, and the whole's."""
    taste = taste_of(serve, setting_of(house_with(PUNCH)).region.energy_factors)
    one = one_serve(serve, taste)
    worked = ("units_ml", "sugar_g", "acid_g", "fat_g", "energy_kj", "energy_kcal")
    return {
        "ml": (one.ml, serve.served_ml),
        "ethanol_ml": (one.ethanol_ml, serve.made.ethanol_ml),
        "ethanol_g": (one.ethanol_g, serve.made.ethanol_g),
        **{name: (getattr(one, name).figure.value, getattr(taste, name).figure.value) for name in worked},
    }


def test_a_bowl_is_as_strong_as_the_same_drink_poured_for_one() -> None:
    bowl = worked_out(PUNCH)
    glass = worked_out("pour: [45 ml gin, 25 ml lemon juice, 18 ml sugar syrup]\nmethod: build\nglass: coupe")
    whole, one = bowl.serve.made, glass.serve.made
    assert whole.served_abv_percent.value == pytest.approx(one.served_abv_percent.value)
    assert whole.ethanol_ml == pytest.approx(10 * one.ethanol_ml) == pytest.approx(180.0)
    assert bowl.serve.fit is not None
    assert bowl.serve.fit.over_brim_ml == 0
    assert bowl.vessel is not None
    assert (bowl.vessel.name, bowl.vessel.brim_ml) == ("punch bowl", 4000.0)


@given(st.integers(2, 60))
def test_one_serve_is_an_even_part_of_everything(serves: int) -> None:
    serve = worked_out(PUNCH.replace("serves: 10", f"serves: {serves}")).serve
    assert serve.serves == serves
    for name, (one, whole) in parts(serve).items():
        assert one * serves == pytest.approx(whole), name


def test_how_many_share_it_changes_nothing_of_the_whole() -> None:
    ten, six = (worked_out(PUNCH.replace("10", str(count))).serve for count in (10, 6))
    for field in fields(Serve):
        if field.name not in ("serves", "lines"):
            assert getattr(ten, field.name) == getattr(six, field.name), field.name


def test_a_swap_is_shared_by_as_many() -> None:
    (swap,) = worked_out(PUNCH).swaps
    assert swap.serve.serves == 10


def test_a_top_fills_the_bowl_to_its_wash_line() -> None:
    serve = worked_out(PUNCH.replace("glass:", "top: soda water\nglass:")).serve
    assert serve.fit is not None
    assert serve.fit.surface_ml == pytest.approx(3200, abs=5)
    assert serve.top_room_ml == pytest.approx(3200 - 880, rel=0.02)


def test_a_bowl_of_the_houses_own_serves_as_well() -> None:
    house = "name: The Test Bar\nregion: GB-ENG\nglasses: {copper tub: {brim: 12 l, wash line: 10 l}}\n"
    facts, problems = found(
        PUNCH.replace("punch bowl", "copper tub").replace("glass:", "top: soda water\nglass:"), house
    )
    assert problems == ()
    assert facts is not None
    assert facts.serve.fit is not None
    assert facts.serve.fit.surface_ml == pytest.approx(10_000, abs=10)


def test_what_ice_does_to_a_bowl_in_ten_minutes_is_not_said() -> None:
    facts = worked_out(f"{PUNCH.strip()}\nice: cubed\n")
    assert strength_on_ice(facts) is None
    names = [one.name for one in working_of(facts, setting_of(house_with(PUNCH)))]
    assert not [name for name in names if "on ice" in name]
    assert strength_on_ice(worked_out("pour: 50 ml gin\nice: cubed\nglass: rocks")) is not None


def test_the_working_says_the_whole_and_one_serve_apart() -> None:
    workings = {one.name: one for one in working_of(worked_out(PUNCH), setting_of(house_with(PUNCH)))}
    whole, one = workings["Units in the whole"], workings["Units in one serve"]
    assert (whole.figure.value, one.figure.value) == (pytest.approx(18.0), pytest.approx(1.8))
    assert one.steps == ("18.00 units in the whole / 10 = 1.800 units",)
    assert one.figure.low < 1.8 < one.figure.high
    # Its doubts make its range, as the whole's make the whole's.
    for working in (one, whole):
        below = math.hypot(*(doubt.below for doubt in working.doubts))
        assert working.figure.value - working.figure.low == pytest.approx(below)
    assert workings["Sugar in one serve"].figure.value == pytest.approx(
        workings["Sugar in the whole"].figure.value / 10
    )
    assert workings["Energy, kcal in one serve"].figure.value == pytest.approx(
        workings["Energy, kcal in the whole"].figure.value / 10
    )
    assert "Fat in one serve" not in workings
    alone = {one.name for one in working_of(worked_out("pour: 50 ml gin"), setting_of(house_with(PUNCH)))}
    assert not [name for name in alone if "the whole" in name or "one serve" in name]
    assert {"Units", "Sugar in a serve", "Energy, kJ"} <= alone


def told(front: str, code: str) -> Problem:
    (problem,) = [one for one in found(front)[1] if one.code == code]
    return problem


@pytest.mark.parametrize(
    "front",
    [
        "pour: 1 l white wine\nglass: jug",
        "pour: 750 ml white wine\nglass: jug",
        "pour: 1.2 l lemon juice\nglass: jug",
        "pour: [450 ml gin, 400 ml lemon juice]\nglass: punch bowl",
    ],
)
def test_a_drink_for_many_that_says_nothing_is_asked_how_many(front: str) -> None:
    problem = told(front, "serves-missing")
    assert problem.severity is Severity.WARNING
    assert isinstance(problem.where, Place)
    assert problem.where.path == ("name",)
    assert "each would read that as one drink" in problem.message
    assert '"serves: 10"' in problem.hints[0]


def test_the_warning_names_the_units_a_guest_would_read() -> None:
    message = told("pour: 750 ml white wine\nglass: jug", "serves-missing").message
    assert "750 ml and 9 units" in message
    assert "ml, and nothing" in told("pour: 1.2 l lemon juice\nglass: jug", "serves-missing").message


LAGER = (
    "strong lager:\n  bottle: 1 l\n  abv: 6.3 %\n  kind: lager\n  contains: [barley]\n  checked: 2026-11-01\n"
)


@pytest.mark.parametrize(
    "front",
    [
        "pour: 1 l strong lager\nglass: jug",
        "pour: [150 ml gin, 40 ml lemon juice]\nglass: hurricane\nmethod: build",
        "pour: 250 ml white wine\nglass: wine",
        "pour: 1 l lemon juice\nglass: jug",
    ],
)
def test_the_largest_drinks_of_one_guest_are_left_in_peace(front: str) -> None:
    house = house_with(front, stock=LAGER)
    facts, problems = work_out(house.specs["tried"], setting_of(house))
    assert facts is not None
    assert [one.code for one in problems if one.code.startswith("serve")] == []
    assert facts.serve.made.ethanol_ml < MOST_ETHANOL_ML


def test_a_serve_that_is_no_one_guests_drink_is_told_at_the_figure() -> None:
    problem = told(PUNCH.replace("10", "2"), "serve-too-large")
    assert "one of 2 serves of Tried comes to 440 ml and 9 units" in problem.message
    assert isinstance(problem.where, Place)
    assert problem.where.path == ("serves",)
    problem = told(PUNCH.replace("10", "60"), "serve-too-small")
    assert "one of 60 serves of Tried comes to 15 ml and 0.3 units: less than a shot" in problem.message
    assert [one.code for one in found(PUNCH)[1]] == []


def test_a_bowls_measures_in_a_glass_are_met_with_a_bowl() -> None:
    problem = told(PUNCH.replace("serves: 10\n", "").replace("punch bowl", "coupe"), "glass-far-too-small")
    assert problem.hints[1] == (
        'if guests share it, write "serves: 10" and what it is served in: "glass: jug" or "glass: punch bowl"'
    )
    # What the error says is not said again.
    facts, problems = found(PUNCH.replace("serves: 10\n", "").replace("punch bowl", "coupe"))
    assert facts is None
    assert "serves-missing" not in [one.code for one in problems]


def test_a_shared_drink_in_a_glass_is_met_with_its_bowl_first() -> None:
    problem = told(PUNCH.replace("punch bowl", "coupe"), "glass-far-too-small")
    assert problem.hints[0] == (
        'the glass of a drink that guests share is its bowl or jug: "glass: jug" or "glass: punch bowl"'
    )
    large = PUNCH.replace("450 ml gin, ", "450 ml gin, 2 l white wine, ").replace("punch bowl", "jug")
    assert told(large, "overfull-glass").hints[0].endswith('jug: "glass: punch bowl"')
    larger = PUNCH.replace("450 ml gin, ", "450 ml gin, 4 l white wine, ")
    assert '"glasses: {large bowl: 6 l}"' in told(larger, "overfull-glass").hints[0]


def test_a_drink_for_one_in_a_small_glass_hears_nothing_of_bowls() -> None:
    problem = told("pour: [60 ml gin, 60 ml lemon juice]\nglass: shot", "glass-far-too-small")
    assert len(problem.hints) == 1
    assert "serves" not in problem.hints[0]


def test_an_aim_moves_a_bowls_measures_in_steps_a_bar_pours() -> None:
    house = house_with(PUNCH)
    setting, spec = setting_of(house), house.specs["tried"]
    reached = aimed(spec, setting, worked_out(PUNCH), [parse_aim("abv=18 %")], (), None, "trade")
    assert reached.steps == ("10 ml",)
    assert reached.reached[0].is_there
    small = "pour: [45 ml gin, 25 ml lemon juice]\nglass: coupe"
    house = house_with(small)
    reached = aimed(
        house.specs["tried"], setting_of(house), worked_out(small), [parse_aim("abv=20 %")], (), None, "trade"
    )
    assert reached.steps == ("2.5 ml",)


def test_an_aim_for_units_is_for_what_one_guest_drinks() -> None:
    house = house_with(PUNCH)
    spec = house.specs["tried"]
    found = aimed(spec, setting_of(house), worked_out(PUNCH), [parse_aim("units=1.5")], (), None, "trade")
    (reached,) = found.reached
    assert (reached.unit, reached.is_there) == ("units in one serve", True)
    again = work_out(found.spec, setting_of(house))[0]
    assert again is not None
    assert again.serve.made.ethanol_ml == pytest.approx(150, abs=5)
    before = aimed(
        spec, setting_of(house), worked_out(PUNCH), [parse_aim("units=as before")], (), None, "trade"
    )
    assert before.reached[0].target == pytest.approx(1.8)
