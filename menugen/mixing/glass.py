"""How a drink sits in its glass: heights, volumes, and whether it fits beside its ice.

A glass is a profile: (height, inner radius) pairs in mm from the bottom of the bowl to the rim, joined by
straight lines, so it is a stack of cones with the tops cut off.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from menugen.mixing.block import Block, Profile, seat_mm, tumbler
from menugen.mixing.ice import LARGE_CUBE_G, cube_mm, least_share, usual_share

_MM3_PER_ML = 1000.0
_NOTICED_ML = 0.5
"""Less ice than usual by no more than this is what is usual: nobody sees it."""


@dataclass(frozen=True, slots=True)
class GlassFit:
    """How so much liquid sits in a glass with its ice.

    Attributes:
        ice_ml: Room the ice takes under the surface.
        surface_ml: Liquid and ice under the surface together: what the level in the glass shows.
        over_brim_ml: What spills, what stands above the surface counted in, in ml of glass; 0 if it fits.
        under_wash_line_ml: How far the surface stays under the wash line, in ml of glass; 0 if it reaches it.
        room_ml: Liquid that still fits to the brim, beside as little ice as there may be; 0 if none does.
        smaller_by_ml: How much less liquid would fit, beside as little ice as there may be; 0 if it fits.
        usual_surface_ml: What the level would show beside the usual ice, in a glass large enough for it.
        gave_way: Whether there is less ice than usual, since the drink needs the room.
    """

    ice_ml: float
    surface_ml: float
    over_brim_ml: float
    under_wash_line_ml: float
    room_ml: float
    smaller_by_ml: float
    usual_surface_ml: float
    gave_way: bool


def volume_to_mm(profile: Profile, height_mm: float) -> float:
    """Return what a glass holds up to a height, in ml.

    Args:
        profile: At least two (height, inner radius) pairs, heights rising.
        height_mm: On the profile's own scale; below its bottom gives 0, above its rim the brim.

    Raises:
        ValueError: The profile is no glass.
    """
    _check(profile)
    volume_mm3 = 0.0
    for (low_mm, low_radius), (high_mm, high_radius) in pairwise(profile):
        if height_mm <= low_mm:
            break
        top_mm = min(height_mm, high_mm)
        radius = low_radius + (high_radius - low_radius) * (top_mm - low_mm) / (high_mm - low_mm)
        volume_mm3 += _frustum_mm3(top_mm - low_mm, low_radius, radius)
    return volume_mm3 / _MM3_PER_ML


def height_of_ml(profile: Profile, ml: float) -> float:
    """Return the height that so many ml reach, in mm: the inverse of `volume_to_mm`.

    Args:
        profile: As there.
        ml: 0 or less gives the bottom, more than the glass holds gives the rim.

    Raises:
        ValueError: The profile is no glass.
    """
    _check(profile)
    left_mm3 = ml * _MM3_PER_ML
    if left_mm3 <= 0.0:
        return profile[0][0]
    for (low_mm, low_radius), (high_mm, high_radius) in pairwise(profile):
        whole_mm3 = _frustum_mm3(high_mm - low_mm, low_radius, high_radius)
        if left_mm3 < whole_mm3:
            return low_mm + _frustum_height_mm(left_mm3, high_mm - low_mm, low_radius, high_radius)
        left_mm3 -= whole_mm3
    return profile[-1][0]


def liquid_room_ml(filled_to_ml: float, ice_share: float) -> float:
    """Return the liquid in a glass filled to a mark, where ice takes a share of it.

    Args:
        filled_to_ml: What the glass holds to that mark without ice; 0 or more.
        ice_share: 0 for no ice, under 1.

    Raises:
        ValueError: A figure is outside its range.
    """
    if filled_to_ml < 0.0 or not 0.0 <= ice_share < 1.0:
        raise ValueError("a glass holds 0 ml or more, and ice takes less than all of it")
    return filled_to_ml * (1.0 - ice_share)


def fit(
    liquid_ml: float,
    brim_ml: float,
    wash_line_ml: float,
    ice: str,
    *,
    air_ml: float = 0.0,
    profile: Profile = (),
    cube_g: float = LARGE_CUBE_G,
) -> GlassFit:
    """Return how a drink sits in its glass.

    Loose ice is what is usual, see ice.py, and gives way so that the drink stands no higher than the wash line and its
    foam no higher than the brim; but there is never less of it than the least. A large cube is what it is.

    Args:
        liquid_ml: The drink as served; 0 or more.
        brim_ml: What the glass holds to the brim; more than 0.
        wash_line_ml: What it holds to the wash line; 0 to the brim.
        ice: "none", "cubed", "large cube", "cracked" or "crushed".
        air_ml: Foam above the surface.
        profile: The shape of the glass, for a large cube; empty: it is taken for a tumbler.
        cube_g: What a large cube weighs.

    Raises:
        ValueError: A figure is outside its range, or no such ice.
    """
    _check_glass(brim_ml, wash_line_ml)
    if liquid_ml < 0.0 or air_ml < 0.0:
        raise ValueError("a drink holds 0 ml or more")
    beside_ml = _line_ml(wash_line_ml, brim_ml, air_ml) - liquid_ml
    if ice == "large cube":
        shape = tuple(profile) or tumbler(brim_ml)
        block = _block(shape, brim_ml, cube_g)
        ice_ml = _under_ml(shape, block, liquid_ml)
        # In a larger glass it would float.
        usual_ml = max(ice_ml, block.most_ml) if liquid_ml + ice_ml > brim_ml else ice_ml
    else:
        usual_ml, least_ml = (
            liquid_ml * share / (1.0 - share) for share in (usual_share(ice), least_share(ice))
        )
        ice_ml = min(usual_ml, max(least_ml, beside_ml))
    surface_ml = liquid_ml + ice_ml
    room_ml = liquid_to_ml(
        max(0.0, brim_ml - air_ml), brim_ml, ice, least=True, profile=profile, cube_g=cube_g
    )
    return GlassFit(
        ice_ml=ice_ml,
        surface_ml=surface_ml,
        over_brim_ml=max(0.0, surface_ml + air_ml - brim_ml),
        under_wash_line_ml=max(0.0, wash_line_ml - surface_ml),
        room_ml=max(0.0, room_ml - liquid_ml),
        smaller_by_ml=max(0.0, liquid_ml - room_ml),
        usual_surface_ml=liquid_ml + usual_ml,
        gave_way=ice != "large cube" and ice_ml < usual_ml - _NOTICED_ML,
    )


def liquid_to_ml(
    mark_ml: float,
    brim_ml: float,
    ice: str,
    *,
    least: bool = False,
    profile: Profile = (),
    cube_g: float = LARGE_CUBE_G,
) -> float:
    """Return the liquid that reaches a mark of a glass beside its ice.

    Args:
        mark_ml: What the glass holds to the mark without ice; 0 to the brim.
        brim_ml: What it holds to the brim.
        ice: As for `fit`.
        least: With as little ice as there may be, not with the usual.
        profile: As for `fit`.
        cube_g: As for `fit`.

    Raises:
        ValueError: A figure is outside its range, or no such ice.
    """
    if ice == "large cube":
        shape = tuple(profile) or tumbler(brim_ml)
        block = _block(shape, brim_ml, cube_g)
        return max(0.0, mark_ml - block.under_ml(_height_mm(shape, block, mark_ml)))
    return liquid_room_ml(mark_ml, least_share(ice) if least else usual_share(ice))


def cube_goes_in(profile: Profile, cube_g: float) -> bool:
    """Return whether a large cube goes into a glass; a glass nobody has measured takes any."""
    return not profile or seat_mm(tuple(profile), cube_mm(cube_g)) is not None


def _line_ml(wash_line_ml: float, brim_ml: float, air_ml: float) -> float:
    """Return how high the surface is to stand: at the wash line, with its foam still under the brim."""
    return min(wash_line_ml, max(0.0, brim_ml - air_ml))


@lru_cache(maxsize=256)
def _whole_ml(profile: tuple[tuple[float, float], ...]) -> float:
    return volume_to_mm(profile, profile[-1][0])


def _block(shape: tuple[tuple[float, float], ...], brim_ml: float, cube_g: float) -> Block:
    """Return a large cube in a glass; one that does not go in is taken as floating, so that it takes no less room."""
    side_mm = cube_mm(cube_g)
    return Block(side_mm, brim_ml, seat_mm(shape, side_mm) or 0.0)


def _height_mm(shape: tuple[tuple[float, float], ...], block: Block, ml: float) -> float:
    """Return the height of so many ml of a glass; its shape is made to hold what the glass does."""
    return height_of_ml(shape, ml * _whole_ml(shape) / block.brim_ml)


@lru_cache(maxsize=4096)
def _under_ml(shape: tuple[tuple[float, float], ...], block: Block, liquid_ml: float) -> float:
    """Return how much of a large cube is under the surface of so much liquid: the higher it stands, the more."""
    low_ml, high_ml = 0.0, block.most_ml
    for _ in range(40):
        middle_ml = (low_ml + high_ml) / 2.0
        if block.under_ml(_height_mm(shape, block, liquid_ml + middle_ml)) > middle_ml:
            low_ml = middle_ml
        else:
            high_ml = middle_ml
    return (low_ml + high_ml) / 2.0


def _check(profile: Profile) -> None:
    if len(profile) < 2:
        raise ValueError("a glass needs at least two heights with their radii")
    if any(high[0] <= low[0] for low, high in pairwise(profile)):
        raise ValueError("the heights of a glass rise from the bottom to the rim")
    if any(radius < 0.0 for _, radius in profile) or not any(radius > 0.0 for _, radius in profile):
        raise ValueError("the radii of a glass are 0 or more, and not all 0")


def _check_glass(brim_ml: float, wash_line_ml: float) -> None:
    if not (brim_ml > 0.0 and 0.0 <= wash_line_ml <= brim_ml):
        raise ValueError("a glass holds more than 0 ml, and its wash line is not above its brim")


def _frustum_mm3(height_mm: float, low_radius: float, high_radius: float) -> float:
    return math.pi * height_mm * (low_radius**2 + low_radius * high_radius + high_radius**2) / 3.0


def _frustum_height_mm(volume_mm3: float, height_mm: float, low_radius: float, high_radius: float) -> float:
    """Return how high a volume stands in one cone with its top cut off, by Newton's rule.

    Where the cone widens the volume curves upwards, where it narrows downwards; starting at the matching end
    makes each step land on the same side, so it cannot overshoot.
    """
    slope = (high_radius - low_radius) / height_mm
    now_mm = height_mm if slope > 0.0 else 0.0
    for _ in range(60):
        radius = low_radius + slope * now_mm
        step_mm = (_frustum_mm3(now_mm, low_radius, radius) - volume_mm3) / (math.pi * radius**2)
        now_mm -= step_mm
        if abs(step_mm) < 1e-12 * height_mm:
            break
    return min(height_mm, max(0.0, now_mm))
