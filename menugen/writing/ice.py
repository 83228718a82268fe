"""Ice as plain cuts: as many cubes as there are, one large cube of its own size, or crushed and domed.

Comes in: the wall of a glass and the level in it, mm as in glass_curve.py, and what the sum of the glass says of its
ice. Goes out: a line.
"""

from menugen.writing.glass_curve import Wall, at_height, band, fall, rise
from menugen.writing.strokes import Line, path

DOME_MM = 14.0
"""How far crushed ice stands over the rim."""

_CUT = 0.88
"""A cube as it is drawn to its size: its edges have melted, and cubes lie apart."""
_LEAN = 0.1
"""How far the corners of a large cube that lies a little askew reach beyond its sides, as a share of half of one."""

_TILTS = ((0.99, -0.14), (0.98, 0.2), (1.0, 0.05), (0.97, -0.24), (0.99, 0.12), (0.98, -0.19))
"""Cosine and sine of the angles cubes lie at, in turn: written out, so that every machine draws the same."""
_SHARDS = ((4, 2, -1, 4), (3, -3, 3, 3), (-3, 4, 5, 0), (2, 4, -4, 1), (5, 1, -3, 3))


def cubes(wall: Wall, level_mm: float, count: int, side_mm: float) -> Line:
    """Return so many cubes in rows from the surface down, as far as there is room for them, the top ones a little out.

    Args:
        wall: The glass.
        level_mm: The surface.
        count: How many cubes there are.
        side_mm: Of each.
    """
    half = side_mm * _CUT / 2
    found: list[Line] = []
    # In a low drink cubes stand on the bottom and out of it.
    middle = max(level_mm - half + 4.0, 1.25 * half + 2.5)
    while len(found) < count and (middle - half > 5.0 or not found):
        room = min(at_height(wall, middle + way * half).radius for way in (-1.25, 0, 1)) - 1.0
        fit = min(int(2 * room // side_mm), count - len(found))
        if fit <= 0:
            # Too narrow for a whole one: a small one on top, nothing below.
            small = _square(0.0, -middle, room * 0.7, _TILTS[0]) if room > 5 else ()
            return sum(found, ()) or small
        slack = min(room - fit * side_mm / 2, 2.0) * (1 if len(found) % 2 else -1)
        for at in range(fit):
            x = (at - (fit - 1) / 2) * side_mm + slack
            sink = (0.0, 2.5, -1.0)[(len(found) + at) % 3]
            found.append(_square(x, -middle + sink, half, _TILTS[len(found) % len(_TILTS)]))
        middle -= side_mm
    return sum(found, ())


def large_cube(wall: Wall, foot_mm: float, side_mm: float) -> Line:
    """Return one large cube, with the bevel that tells it from a small one.

    Args:
        wall: The glass.
        foot_mm: How high over the bottom of the bowl it stands or floats.
        side_mm: Its side; where the glass is narrower than that, it is drawn as large as the glass takes.
    """
    half, foot = side_mm / 2, foot_mm
    # It hangs where the glass is wide enough for it, else it is drawn smaller.
    while half > 4.0 and not _has_room(wall, foot, half):
        foot += 0.5
        if foot > wall[-1].height - half:
            half, foot = half - 0.5, foot_mm
    middle = max(foot, _LEAN * half) + half
    bevel = path("M", -half * 0.8, -middle - half * 0.6, "l", half * 1.5, half * 0.1)
    return _square(0.0, -middle, half, (1.0, 0.06)) + bevel


def _has_room(wall: Wall, foot: float, half: float) -> bool:
    lowest = max(0.0, foot - _LEAN * half)
    return (
        min(at_height(wall, height).radius for height in (lowest, foot + half, foot + 2 * half)) >= half * 1.1
    )


def crushed(wall: Wall, level_mm: float, *, domed: bool) -> Line:
    """Return shards all through the drink, and the dome from its surface over the rim where there is ice for one."""
    rim = wall[-1]
    lip = band(wall, min(level_mm, rim.height - 0.5), rim.height)
    r = rim.radius
    ridge = path(
        *("l", -r * 0.15, -6.0, -r * 0.3, -3.0, -r * 0.25, -4.0),
        *(-r * 0.3, 1.0, -r * 0.35, 1.0, -r * 0.35, 4.0, "L", -r, -rim.height),
    )
    dome = (
        path("M", lip[0].radius, -lip[0].height) + rise(lip) + ridge + fall(lip) + path("z") if domed else ()
    )
    shards: list[Line] = []
    row = 0
    height = rim.height + 4.0 if domed else level_mm
    while height > rim.height * 0.12:
        room = at_height(wall, height).radius * (0.6 if height > rim.height else 1.0) - 6.0
        x = -room + (3.0 if row % 2 else 0.0)
        while x <= room:
            shards.append(path("M", x, -height, "l", *_SHARDS[(row * 2 + len(shards)) % len(_SHARDS)]))
            x += 12.0
        height -= 9.0
        row += 1
    return dome + sum(shards, ())


def _square(x: float, y: float, half: float, tilt: tuple[float, float]) -> Line:
    """A square round a point, half its side wide each way, turned by the angle of this cosine and sine."""
    c, s = half * tilt[0], half * tilt[1]
    return path("M", x - c + s, y - c - s, "l", 2 * c, 2 * s, -2 * s, 2 * c, -2 * c, -2 * s, "z")
