"""The inner wall of a glass as a smooth curve, and lines along it.

Lengths are mm. Heights count upwards from the bottom of the bowl; in a line, y grows downwards from there (strokes.py).
"""

from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from menugen.writing.strokes import Line, path

Profile = tuple[tuple[float, float], ...]
"""(height, inner radius) from the bottom of the bowl to the rim."""


class Knot(NamedTuple):
    """A point of a glass's inner wall.

    Attributes:
        height: mm over the bottom of the bowl.
        radius: mm.
        slope: How the radius grows there, mm a mm.
    """

    height: float
    radius: float
    slope: float


Wall = tuple[Knot, ...]
"""Two knots or more, from low to high."""


@lru_cache(maxsize=256)
def inner_wall(profile_mm: Profile) -> Wall:
    """Return the profile with its corners rounded off, as knots of a smooth curve.

    A profile is joined by straight lines, and what the glass holds is worked out from those. The curve leaves them
    only near a corner, by half the shorter piece beside it, and on the inside: a parabola that touches both.

    Raises:
        ValueError: Fewer than two points, or heights that do not grow.
    """
    if len(profile_mm) < 2:
        raise ValueError("a profile needs two points")
    pieces = tuple(pairwise(profile_mm))
    if any(high[0] <= low[0] for low, high in pieces):
        raise ValueError("the heights of a profile must grow")
    slopes = [(high[1] - low[1]) / (high[0] - low[0]) for low, high in pieces]
    knots = [Knot(*profile_mm[0], slopes[0])]
    for corner, ((below, above), (before, after)) in zip(
        profile_mm[1:-1], zip(pairwise(pieces), pairwise(slopes), strict=True), strict=True
    ):
        height, radius = corner
        reach = min(below[1][0] - below[0][0], above[1][0] - above[0][0]) / 2
        if height - reach - knots[-1].height > 1e-6:
            knots.append(Knot(height - reach, radius - before * reach, before))
        knots.append(Knot(height + reach, radius + after * reach, after))
    height, radius = profile_mm[-1]
    return (*knots, Knot(height, radius, slopes[-1]))


def at_height(wall: Wall, height_mm: float) -> Knot:
    """Return the wall at a height, which is brought inside the glass if it lies outside."""
    height = min(max(height_mm, wall[0].height), wall[-1].height)
    upper = next(at for at in range(1, len(wall)) if height <= wall[at].height)
    low, high = wall[upper - 1], wall[upper]
    step = high.height - low.height
    t = (height - low.height) / step
    radius = (
        low.radius * (1 + 2 * t) * (1 - t) ** 2
        + low.slope * step * t * (1 - t) ** 2
        + high.radius * t**2 * (3 - 2 * t)
        + high.slope * step * t**2 * (t - 1)
    )
    slope = (
        (high.radius - low.radius) * 6 * t * (1 - t) / step
        + low.slope * (1 - t) * (1 - 3 * t)
        + high.slope * t * (3 * t - 2)
    )
    return Knot(height, radius, slope)


def band(wall: Wall, low_mm: float, high_mm: float) -> Wall:
    """Return the wall between two heights, ends and all."""
    inside = tuple(knot for knot in wall if low_mm < knot.height < high_mm)
    return (at_height(wall, low_mm), *inside, at_height(wall, high_mm))


def rise(wall: Wall, *, out: float = 0.0) -> Line:
    """Return the line up the right wall from its first knot, where the pen stands, `out` mm outside of it."""
    return sum((_piece(low, high, out, 1, up=True) for low, high in pairwise(wall)), ())


def fall(wall: Wall, *, out: float = 0.0) -> Line:
    """Return the line down the left wall from its last knot, where the pen stands, `out` mm outside of it."""
    return sum((_piece(low, high, out, -1, up=False) for high, low in pairwise(wall[::-1])), ())


def _piece(low: Knot, high: Knot, out: float, side: int, *, up: bool) -> Line:
    """One piece of the wall on the right (side 1) or left (-1), with the pen at its end that is behind."""
    rise_mm = high.height - low.height
    ends = ((low.radius + out, -low.height), (high.radius + out, -high.height))
    if low.radius == 0:
        # A bowl that narrows to nothing is round at its bottom, not pointed.
        leaving = (high.radius * 0.55 + out, -low.height + out)
    elif abs(high.radius - low.radius - low.slope * rise_mm) < 0.02 > abs(low.slope - high.slope) * rise_mm:
        x, y = ends[up]
        return path("L", side * x, y)
    else:
        leaving = (low.radius + low.slope * rise_mm / 3 + out, -low.height - rise_mm / 3)
    arriving = (high.radius - high.slope * rise_mm / 3 + out, -high.height + rise_mm / 3)
    order = (leaving, arriving, ends[1]) if up else (arriving, leaving, ends[0])
    return path("C", *(number for x, y in order for number in (side * x, y)))


def filled(wall: Wall, low_mm: float, high_mm: float, *, bulge_mm: float = 0.0) -> Line:
    """Return the outline of what fills the glass between two heights, its surface bulging by so much."""
    part = band(wall, low_mm, high_mm)
    foot, top = part[0], part[-1]
    lid = (
        path("Q", 0.0, -top.height - 2 * bulge_mm, -top.radius, -top.height)
        if bulge_mm
        else path("H", -top.radius)
    )
    return path("M", foot.radius, -foot.height) + rise(part) + lid + fall(part) + path("z")
