"""Water from ice, method by method: how much melts into a drink, by which rule, and how sure that is.

A drink that is shaken, stirred or the like meets its ice there; what is poured on top of it afterwards meets the ice in
the glass, at the temperature it is kept at. A drink that is built meets the ice in the glass with all that is in it,
whether a line pours it, tops it up or floats it.

Ratio means melt water over the volume of the mix, not over the finished drink. Two published equations hold
for stirred and shaken drinks of ordinary strength. Outside their range, and for every other method, the
balance of heat decides: a share of the way from the least that must melt to the most that can.
"""

import math
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from menugen.mixing.balance import STANDARD, Conditions, ceiling_melt_g, floor_melt_g
from menugen.mixing.figure import Figure, exactly
from menugen.mixing.ice import ICE_KINDS
from menugen.mixing.liquid import Liquid, liquid_from_label
from menugen.mixing.oiml import WATER_G_PER_ML

VERBS = (
    "shake",
    "dry shake",
    "reverse dry shake",
    "stir",
    "build",
    "blend",
    "flash blend",
    "throw",
    "roll",
    "swizzle",
    "muddle",
    "layer",
    "heat",
    "pour",
)
"""Every step a method can have."""

WORKED_ON_ICE = frozenset(
    {"shake", "reverse dry shake", "stir", "blend", "flash blend", "throw", "roll", "swizzle"}
)
"""The steps in which the mix is worked together with ice: it has met ice before anything is poured on top."""

MIXED_APART = WORKED_ON_ICE | {"dry shake"}
"""The steps that nothing with bubbles goes through: soda in a closed tin blows it open, and stirring drives the gas
out. It is poured on top whatever list of the spec it is in. Common practice, no published source."""

MELT_BASES = (
    "stirred equation",
    "shaken equation",
    "melting floor",
    "energy balance",
    "blended ice",
    "house's own measure",
    "none",
)
"""Every rule that can decide how much melts."""


class Step(NamedTuple):
    """One step of a method.

    Attributes:
        verb: One of `VERBS`.
        seconds: How long; None where nobody says.
    """

    verb: str
    seconds: float | None = None


class Melt(NamedTuple):
    """Water from ice.

    Attributes:
        ratio: Melt water over the volume of the mix.
        basis: The rule that decided, one of `MELT_BASES`.
        source: Where the rule comes from; empty for "none".
    """

    ratio: Figure
    basis: str
    source: str


class _Equation(NamedTuple):
    """ratio = square a^2 + linear a + constant, where a is the strength of the mix as a fraction."""

    square: float
    linear: float
    constant: float
    basis: str

    def ratio(self, strength: float) -> float:
        return (self.square * strength + self.linear) * strength + self.constant


STIRRED = _Equation(-1.21, 1.246, 0.145, "stirred equation")
SHAKEN = _Equation(-1.567, 1.742, 0.203, "shaken equation")
EQUATION_SOURCE = "D. Arnold, Liquid Intelligence (2014), equations for melt water over mix volume"
"""The shaken equation circulates with + 1.567 too: a misprint, by which strong drinks would melt more ice
than they have heat for. The book's own table of stirred drinks lies 0.6 to 1.5 % of final volume above its
equation."""

_EQUATIONS: Mapping[str, _Equation] = {"stir": STIRRED, "shake": SHAKEN}

EQUATIONS_FROM = 0.15
EQUATIONS_TO = 0.40
"""Strengths of mix the equations are used for. They are stated for about 0.15 to 0.35; to 0.40 they still lie
between floor and ceiling of the heat balance, computed."""

SHARES_OF_THE_WAY: Mapping[str, float] = {"throw": 0.4, "roll": 0.4, "flash blend": 0.55, "swizzle": 0.6}
"""How far from floor to ceiling a method goes. Common practice, no published source; chosen to give the usual
0.35 to 0.45 thrown or rolled, 0.4 to 0.5 flash blended and 0.40 to 0.55 swizzled."""

BUILT_ON_CRUSHED_SHARE = 0.3
"""The same for a drink built on crushed ice, whose wet surface is large. Common practice, no published
source."""

BLENDED_RATIO = 0.90
"""Ice blended into a drink, over its mix; all of it is drunk. D. Arnold, Liquid Intelligence (2014),
secondary source."""

BALANCE_SOURCE = (
    "heat balance between drink, vessel and ice; how far it goes is common practice, no published source"
)
FLOOR_SOURCE = "heat balance: the least melting that brings the drink to 0 C"
BLENDED_SOURCE = "D. Arnold, Liquid Intelligence (2014), as quoted in public calculations"
HOUSE_SOURCE = "measured by the house"
TIME_SOURCE = "time by common practice, no published source"

SPREAD_OF_EQUATIONS = 0.08
SPREAD_OF_THE_REST = 0.15
"""How far the ratio may lie off, either way: the spread of the sources, computed."""
SPREAD_OF_A_MEASURE = 0.02
"""The same for the house's own figure: a few ml on a drink. Common practice, no published source."""

_USUAL_AND_SLOWNESS_S: Mapping[str, tuple[float, float]] = {"shake": (13.5, 5.0), "stir": (30.0, 40.0)}
"""Seconds that the equations are taken to stand for, and the time constant of the approach to equilibrium. A
shake of 12 to 15 s is near equilibrium, and stirring takes over 2 minutes to match it (Cooking Issues, 2010):
the constants are set so; stirring 20 to 45 s is common practice, no published source."""

_ICY_AS: Mapping[str, str] = {"reverse dry shake": "shake"}
"""A reverse dry shake is a shake on ice, then one without."""

NO_MELT = Melt(exactly(0.0), "none", "")


def melt_of(
    mix: Liquid,
    steps: Iterable[Step],
    *,
    ice: str,
    measured_ratio: float | None = None,
    conditions: Conditions = STANDARD,
) -> Melt:
    """Return the water that ice adds to a mix. Where several steps use ice, the one that melts most rules.

    Where no step works the mix on ice, it melts what it meets in the glass, as a built drink does.

    Args:
        mix: All that meets the ice.
        steps: In order; the time of a step may be None.
        ice: The ice in the glass, a name of `ICE_KINDS`: what a built drink stands on.
        measured_ratio: The house's own figure, 0 or more; it rules over everything. None: not measured.
        conditions: Temperatures and masses.

    Raises:
        ValueError: An unknown step or ice, or a figure below 0.
    """
    if ice not in ICE_KINDS:
        raise ValueError(f'no kind of ice is called "{ice}"')
    every_step = tuple(steps)
    for step in every_step:
        if step.verb not in VERBS:
            raise ValueError(f'no step of a method is called "{step.verb}"')
        if step.seconds is not None and not 0.0 <= step.seconds < math.inf:
            raise ValueError("a step takes 0 seconds or more")
    if measured_ratio is not None:
        if not 0.0 <= measured_ratio < math.inf:
            raise ValueError("melt water over mix volume is 0 or more")
        spread = min(SPREAD_OF_A_MEASURE, measured_ratio)
        return Melt(
            Figure(measured_ratio, measured_ratio - spread, measured_ratio + spread),
            "house's own measure",
            HOUSE_SOURCE,
        )
    if mix.volume_ml == 0.0:
        return NO_MELT
    worked = [_worked_on_ice(mix, step, conditions) for step in every_step if step.verb in WORKED_ON_ICE]
    if not worked:
        return _in_the_glass(mix, ice, conditions)
    return max(worked, key=lambda melt: melt.ratio.value)


def is_worked_on_ice(steps: Iterable[Step]) -> bool:
    """Return whether any of these steps works the mix on ice, so that what comes later is poured on top of it."""
    return any(step.verb in WORKED_ON_ICE for step in steps)


def melt_on_top(top: Liquid, *, ice: str, conditions: Conditions = STANDARD) -> Melt:
    """Return the water that ice in the glass adds to what is poured on top of a drink that has met its ice.

    It is cooled to 0 C, no more: that the drink below is colder than that, and that both go on melting ice after, is
    left out. The two pull in opposite directions.

    Args:
        top: What is poured on top.
        ice: The ice in the glass.
        conditions: `ingredient_c` is the temperature of the top.
    """
    if ice == "none" or top.volume_ml == 0.0:
        return NO_MELT
    return _floor(top, conditions)


def floor_ratio(mix: Liquid, conditions: Conditions = STANDARD) -> float:
    """Return the least ratio that cools a mix to 0 C; see `balance.floor_melt_g`. The mix is not empty."""
    return floor_melt_g(mix, conditions) / (WATER_G_PER_ML * mix.volume_ml)


def ceiling_ratio(mix: Liquid, conditions: Conditions = STANDARD) -> float:
    """Return the most the heat can melt, as a ratio; see `balance.ceiling_melt_g`. The mix is not empty."""
    return ceiling_melt_g(mix, conditions) / (WATER_G_PER_ML * mix.volume_ml)


def _worked_on_ice(mix: Liquid, step: Step, conditions: Conditions) -> Melt:
    """Return what one step of `WORKED_ON_ICE` melts."""
    verb = _ICY_AS.get(step.verb, step.verb)
    # The seconds of a reverse dry shake are those without ice.
    seconds = step.seconds if verb == step.verb else None
    if verb in _EQUATIONS:
        return _worked(mix, verb, seconds, conditions)
    if verb in SHARES_OF_THE_WAY:
        return _part_way(mix, SHARES_OF_THE_WAY[verb], conditions)
    ratio = min(BLENDED_RATIO, _most(conditions))
    return Melt(_spread(ratio, SPREAD_OF_THE_REST, conditions), "blended ice", BLENDED_SOURCE)


def _in_the_glass(mix: Liquid, ice: str, conditions: Conditions) -> Melt:
    """Return what a drink melts of the ice it is built on."""
    if ice == "none":
        return NO_MELT
    if ice == "crushed":
        return _part_way(mix, BUILT_ON_CRUSHED_SHARE, conditions)
    return _floor(mix, conditions)


def _floor(mix: Liquid, conditions: Conditions) -> Melt:
    ratio = floor_ratio(mix, conditions)
    return Melt(_spread(ratio, SPREAD_OF_THE_REST, conditions), "melting floor", FLOOR_SOURCE)


def _part_way(mix: Liquid, share: float, conditions: Conditions) -> Melt:
    floor, ceiling = floor_ratio(mix, conditions), ceiling_ratio(mix, conditions)
    ratio = floor + share * (ceiling - floor)
    return Melt(_spread(ratio, SPREAD_OF_THE_REST, conditions), "energy balance", BALANCE_SOURCE)


def _worked(mix: Liquid, verb: str, seconds: float | None, conditions: Conditions) -> Melt:
    """Return the melt of a stirred or shaken drink."""
    strength = min(1.0, mix.abv_percent / 100.0)
    if conditions == STANDARD and EQUATIONS_FROM <= strength <= EQUATIONS_TO:
        ratio = _EQUATIONS[verb].ratio(strength)
        basis, source = _EQUATIONS[verb].basis, EQUATION_SOURCE
    else:
        ratio = _carried_on(verb, strength, conditions)
        basis, source = "energy balance", f"{BALANCE_SOURCE}; carried on from {EQUATION_SOURCE}"
    floor, ceiling = floor_ratio(mix, conditions), ceiling_ratio(mix, conditions)
    if seconds is not None:
        ratio = floor + (ratio - floor) * _approach(verb, seconds)
        source = f"{source}; {TIME_SOURCE}"
    if ratio <= floor:
        return Melt(_spread(floor, SPREAD_OF_EQUATIONS, conditions), "melting floor", FLOOR_SOURCE)
    return Melt(_spread(min(ratio, ceiling), SPREAD_OF_EQUATIONS, conditions), basis, source)


@lru_cache(maxsize=4096)
def _carried_on(verb: str, strength: float, conditions: Conditions) -> float:
    """Return the ratio where an equation does not hold: as far from floor to ceiling as it goes where it does.

    Like the equations it knows the strength of the mix alone, so that there is no step at their ends.
    """
    last = min(EQUATIONS_TO, max(EQUATIONS_FROM, strength))
    known = liquid_from_label(100.0, 100.0 * last)
    floor, ceiling = floor_ratio(known), ceiling_ratio(known)
    share = (_EQUATIONS[verb].ratio(last) - floor) / (ceiling - floor)
    plain = liquid_from_label(100.0, 100.0 * strength)
    floor, ceiling = floor_ratio(plain, conditions), ceiling_ratio(plain, conditions)
    return floor + share * (ceiling - floor)


def _approach(verb: str, seconds: float) -> float:
    """Return how far above the floor a step of so many seconds goes, 1 being the usual time."""
    usual_s, slowness_s = _USUAL_AND_SLOWNESS_S[verb]
    return math.expm1(-seconds / slowness_s) / math.expm1(-usual_s / slowness_s)


def _spread(ratio: float, spread: float, conditions: Conditions) -> Figure:
    return Figure(ratio, max(0.0, ratio - spread), max(ratio, min(_most(conditions), ratio + spread)))


def _most(conditions: Conditions) -> float:
    """Return the ratio at which all the ice has gone into the drink."""
    return conditions.ice_g_per_mix_ml / WATER_G_PER_ML
