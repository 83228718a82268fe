"""The inner wall of a glass as a smooth curve, and SVG paths along it.

Lengths are mm. Heights count upwards from the bottom of the bowl; in a path, y grows downwards from there, and x to
the right of the glass's axis.
"""

from itertools import pairwise
from typing import NamedTuple

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


def inner_wall(profile_mm: Profile) -> Wall:
    """Return the profile as knots of a smooth curve that keeps every measured point and adds no bulge.

    The curve is the monotone cubic of Fritsch and Carlson (SIAM Journal on Numerical Analysis 17, 1980; from
    memory) with the weighted harmonic mean of the neighbouring slopes; where a profile is straight, so is the curve.

    Raises:
        ValueError: Fewer than two points, or heights that do not grow.
    """
    if len(profile_mm) < 2:
        raise ValueError("a profile needs two points")
    pairs = tuple(pairwise(profile_mm))
    steps = [high[0] - low[0] for low, high in pairs]
    if min(steps) <= 0:
        raise ValueError("the heights of a profile must grow")
    slopes = [(high[1] - low[1]) / step for (low, high), step in zip(pairs, steps, strict=True)]
    tangents = [slopes[0]]
    for at in range(1, len(slopes)):
        before, after = slopes[at - 1], slopes[at]
        if before * after <= 0:
            tangents.append(0.0)
            continue
        weigh_before, weigh_after = 2 * steps[at] + steps[at - 1], steps[at] + 2 * steps[at - 1]
        tangents.append((weigh_before + weigh_after) / (weigh_before / before + weigh_after / after))
    tangents.append(slopes[-1])
    return tuple(
        Knot(height, radius, slope) for (height, radius), slope in zip(profile_mm, tangents, strict=True)
    )


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


def path(*parts: str | float) -> str:
    """Return an SVG path of letters and lengths, to a tenth of a mm and as short as can be."""
    text = ""
    for part in parts:
        word = part if isinstance(part, str) else length(part)
        apart = text and text[-1] in "0123456789" and word[:1] in "0123456789"
        text += f" {word}" if apart else word
    return text


def length(number: float) -> str:
    """Return a length as SVG has it: to a tenth of a mm, and short."""
    text = f"{number:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def rise(wall: Wall, *, out: float = 0.0) -> str:
    """Return curves up the right wall from its first knot, where the pen stands, `out` mm outside of it."""
    curves = []
    for low, high in pairwise(wall):
        step = (high.height - low.height) / 3
        curves.append(
            path(
                *("C", *_leaving(low, high, step, out)),
                *(high.radius - high.slope * step + out, -high.height + step),
                *(high.radius + out, -high.height),
            )
        )
    return "".join(curves)


def fall(wall: Wall, *, out: float = 0.0) -> str:
    """Return curves down the left wall from its last knot, where the pen stands, `out` mm outside of it."""
    curves = []
    for high, low in pairwise(wall[::-1]):
        step = (high.height - low.height) / 3
        x, y = _leaving(low, high, step, out)
        curves.append(
            path(
                *("C", -high.radius + high.slope * step - out, -high.height + step),
                *(-x, y),
                *(-low.radius - out, -low.height),
            )
        )
    return "".join(curves)


def _leaving(low: Knot, high: Knot, step: float, out: float) -> tuple[float, float]:
    """Where the curve up from a knot heads for; from a bottom of no width, straight out: bowls are round there."""
    if low.radius == 0:
        return high.radius * 0.55 + out, -low.height + out
    return low.radius + low.slope * step + out, -low.height - step


def filled(wall: Wall, low_mm: float, high_mm: float, *, bulge_mm: float = 0.0) -> str:
    """Return the outline of what fills the glass between two heights, its surface bulging by so much."""
    part = band(wall, low_mm, high_mm)
    foot, top = part[0], part[-1]
    lid = path("Q", 0.0, -top.height - 2 * bulge_mm, -top.radius, -top.height)
    return path("M", foot.radius, -foot.height) + rise(part) + lid + fall(part) + "z"
