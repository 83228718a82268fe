"""How a drink sits in its glass: what the method leaves behind, its ice, its foam."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from menugen import mixing
from menugen.facts.glasses import Vessel
from menugen.records import MethodStep, Role

LEFT_BEHIND_ML: dict[str, float] = {
    "shake": 3.0,
    "dry shake": 3.0,
    "reverse dry shake": 3.0,
    "stir": 2.0,
    "throw": 4.0,
    "roll": 3.0,
    "blend": 8.0,
    "flash blend": 5.0,
    "heat": 2.0,
}
"""What stays on the walls of the tin, the mixing glass or the jug, on the ice and in the strainer. Common practice, no
published source; a bar weighs a tin before and after to know its own."""

LEFT_BY_MUDDLING_ML = 2.0
"""What crushed fruit and leaves hold back when they are strained off. Common practice, no published source."""

LEFT_BY_FINE_STRAINING_ML = 1.0
"""What a fine sieve holds back. Common practice, no published source."""

LEFT_BEHIND_SOURCE = "common practice, no published source"

AIR_ML_PER_ML: dict[str, float] = {"egg_white": 0.8, "aquafaba": 0.8, "whole_egg": 0.3}
"""Air that a shaken or blended millilitre holds above the drink: a collar of about a centimetre in a sour glass.
Common practice, no published source."""

WHIPPED_AIR_ML_PER_ML = 0.5
"""The same for cream laid on top lightly whipped; fully whipped cream doubles. Common practice, no published source."""

LEAST_FAT_TO_WHIP_G_PER_L = 300.0
"""Cream with less fat does not whip. Dairy rule of thumb, from memory."""

_AERATING = ("shake", "dry shake", "reverse dry shake", "blend", "flash blend")
_ON_TOP = (Role.FLOAT, Role.TOP)


@dataclass(frozen=True, slots=True)
class Froth:
    """A line as far as foam is concerned.

    Attributes:
        kind: Its reference kind; empty where not known.
        role: What it does in the drink.
        volume_ml: How much of it.
        fat_g_per_l: Its fat.
    """

    kind: str
    role: Role
    volume_ml: float
    fat_g_per_l: float


@dataclass(frozen=True, slots=True)
class InGlass:
    """A drink in its glass.

    Attributes:
        left_ml: What the method leaves behind.
        liquid_ml: What comes into the glass, ice and air left out.
        ice_ml: Room the ice takes under the surface.
        foam_ml: Air in the foam above the surface.
        surface_ml: Liquid and ice under the surface: the level in the glass, foam left out.
        over_brim_ml: What spills, foam counted, in ml of glass; 0 if it fits.
        under_wash_line_ml: How far the surface stays under the wash line; 0 if it reaches it.
        smaller_by_ml: By how much less the drink must be to fit, beside as little ice as there may be; 0 if it fits.
        room_ml: Liquid that still fits to the brim, beside as little ice and under the foam; 0 if none does.
        less_ice: Whether there is less ice than usual, since the drink needs the room.
        ice_g: All the ice in the glass: a large cube whole, of loose ice what is under the surface.
        piece_g: What one cube weighs; 0 for ice that is no cubes.
        glass_that_fits_ml: The size of glass that would hold it at nine tenths, its usual ice beside it, in tens of ml.
        fits_without_ice: Whether it would fit if there were no ice.
    """

    left_ml: float
    liquid_ml: float
    ice_ml: float
    foam_ml: float
    surface_ml: float
    over_brim_ml: float
    under_wash_line_ml: float
    smaller_by_ml: float
    room_ml: float
    less_ice: bool
    ice_g: float
    piece_g: float
    glass_that_fits_ml: int
    fits_without_ice: bool

    @property
    def pieces(self) -> int:
        """How many cubes that ice is; 0 for ice that is no cubes."""
        return max(1, round(self.ice_g / self.piece_g)) if self.piece_g > 0.0 and self.ice_g > 0.0 else 0


def held_back_ml(method: Iterable[MethodStep], strain: str) -> float:
    """Return what stays in the tin, the ice and the strainer of all but very small drinks.

    Args:
        method: The steps; nothing stays behind of a drink made in its glass.
        strain: "fine", "single", "dump" or empty.
    """
    verbs = {step.verb for step in method}
    held_ml = max((LEFT_BEHIND_ML[verb] for verb in verbs if verb in LEFT_BEHIND_ML), default=0.0)
    if held_ml == 0.0:
        return 0.0
    if "muddle" in verbs and strain != "dump":
        held_ml += LEFT_BY_MUDDLING_ML
    if strain == "fine":
        held_ml += LEFT_BY_FINE_STRAINING_ML
    return held_ml


def foam_ml(method: Iterable[MethodStep], lines: Sequence[Froth]) -> float:
    """Return the air in the foam on top: of shaken egg white and its like, and of cream whipped for the top."""
    shaken = any(step.verb in _AERATING for step in method)
    air_ml = 0.0
    for line in lines:
        if shaken and line.role is Role.POUR:
            air_ml += AIR_ML_PER_ML.get(line.kind, 0.0) * line.volume_ml
        elif line.role in _ON_TOP and line.fat_g_per_l >= LEAST_FAT_TO_WHIP_G_PER_L:
            air_ml += WHIPPED_AIR_ML_PER_ML * line.volume_ml
    return air_ml


def in_glass(liquid_ml: float, left_ml: float, air_ml: float, vessel: Vessel, ice: str) -> InGlass:
    """Return how a drink sits in its glass.

    Args:
        liquid_ml: What comes into the glass, melt water and tops included.
        left_ml: What the method left behind of it.
        air_ml: Air in the foam.
        vessel: The glass.
        ice: The ice in the glass.
    """
    fit = mixing.fit(
        liquid_ml,
        vessel.brim_ml,
        vessel.wash_line_ml,
        ice,
        air_ml=air_ml,
        profile=vessel.profile_mm,
        cube_g=vessel.ice.large_cube_g,
    )
    is_large = ice == "large cube"
    return InGlass(
        left_ml=left_ml,
        liquid_ml=liquid_ml,
        ice_ml=fit.ice_ml,
        foam_ml=air_ml,
        surface_ml=fit.surface_ml,
        over_brim_ml=fit.over_brim_ml,
        under_wash_line_ml=fit.under_wash_line_ml,
        smaller_by_ml=fit.smaller_by_ml,
        room_ml=fit.room_ml,
        less_ice=fit.gave_way,
        ice_g=vessel.ice.large_cube_g if is_large else fit.ice_ml * mixing.ICE_KG_PER_M3 / 1000.0,
        piece_g=vessel.ice.large_cube_g if is_large else vessel.ice.cube_g if ice == "cubed" else 0.0,
        glass_that_fits_ml=_glass_that_fits_ml(fit.usual_surface_ml + air_ml),
        fits_without_ice=liquid_ml + air_ml <= vessel.brim_ml,
    )


def _glass_that_fits_ml(filled_ml: float) -> int:
    return 10 * ceil(filled_ml / 0.9 / 10.0 - 1e-9)


def less_ice_words(ice: str, fit: InGlass) -> str:
    """Return how less ice would make room for a drink that runs over; empty where no ice is too much of it."""
    if fit.ice_ml <= 0.0 or not fit.fits_without_ice:
        return ""
    return "a smaller cube or none" if ice == "large cube" else "still less ice or none"


def liquid_to_line_ml(air_ml: float, vessel: Vessel, ice: str) -> float:
    """Return the liquid that reaches the wash line beside the usual ice, the foam still under the brim."""
    line_ml = min(vessel.wash_line_ml, max(0.0, vessel.brim_ml - air_ml))
    return mixing.liquid_to_ml(
        line_ml, vessel.brim_ml, ice, profile=vessel.profile_mm, cube_g=vessel.ice.large_cube_g
    )
