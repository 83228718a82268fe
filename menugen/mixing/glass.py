"""How a drink sits in its glass: heights, volumes, and whether it fits beside its ice.

A glass is a profile: (height, inner radius) pairs in mm from the bottom of the bowl to the rim, joined by
straight lines, so it is a stack of cones with the tops cut off.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from menugen.mixing.ice import usual_share

Profile = Sequence[tuple[float, float]]

_MM3_PER_ML = 1000.0


@dataclass(frozen=True, slots=True)
class GlassFit:
    """How so much liquid sits in a glass with its ice.

    Attributes:
        ice_ml: Room the ice takes under the surface.
        surface_ml: Liquid and ice under the surface together: what the level in the glass shows.
        over_brim_ml: What spills, in ml of glass; 0 if it fits.
        under_wash_line_ml: How far the surface stays under the wash line, in ml of glass; 0 if it reaches it.
        room_ml: Liquid that still fits to the brim, beside more of the same ice; 0 if none does.
    """

    ice_ml: float
    surface_ml: float
    over_brim_ml: float
    under_wash_line_ml: float
    room_ml: float


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


def fit(liquid_ml: float, brim_ml: float, wash_line_ml: float, ice: str) -> GlassFit:
    """Return how a drink sits in its glass.

    Args:
        liquid_ml: The drink as served; 0 or more.
        brim_ml: What the glass holds to the brim; more than 0.
        wash_line_ml: What it holds to the wash line; 0 to the brim.
        ice: "none", "cubed", "large cube", "cracked" or "crushed"; as much as is usual, see ice.py.

    Raises:
        ValueError: A figure is outside its range, or no such ice.
    """
    return fit_with_share(liquid_ml, brim_ml, wash_line_ml, usual_share(ice))


def fit_with_share(liquid_ml: float, brim_ml: float, wash_line_ml: float, ice_share: float) -> GlassFit:
    """Return how a drink sits in its glass where the share of ice is known; otherwise as `fit`."""
    _check_glass(brim_ml, wash_line_ml)
    if liquid_ml < 0.0:
        raise ValueError("a drink holds 0 ml or more")
    most_ml = liquid_room_ml(brim_ml, ice_share)
    surface_ml = liquid_ml / (1.0 - ice_share)
    return GlassFit(
        ice_ml=surface_ml - liquid_ml,
        surface_ml=surface_ml,
        over_brim_ml=max(0.0, surface_ml - brim_ml),
        under_wash_line_ml=max(0.0, wash_line_ml - surface_ml),
        room_ml=max(0.0, most_ml - liquid_ml),
    )


def top_ml(wash_line_ml: float, brim_ml: float, liquid_so_far_ml: float, ice: str) -> float:
    """Return how much "top with" comes to: what is missing to the wash line beside the ice; 0 if none fits.

    Args:
        wash_line_ml: What the glass holds to the wash line.
        brim_ml: What it holds to the brim.
        liquid_so_far_ml: What is in it already; 0 or more.
        ice: As for `fit`.

    Raises:
        ValueError: A figure is outside its range, or no such ice.
    """
    _check_glass(brim_ml, wash_line_ml)
    if liquid_so_far_ml < 0.0:
        raise ValueError("a drink holds 0 ml or more")
    return max(0.0, liquid_room_ml(wash_line_ml, usual_share(ice)) - liquid_so_far_ml)


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
