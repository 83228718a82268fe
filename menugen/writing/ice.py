"""Ice as plain cuts: cubes, one large block, or crushed and domed.

Comes in: the wall of a glass and the level in it, mm as in wall.py. Goes out: an SVG path.
Sizes of ice are common practice, no published source.
"""

from menugen.writing.wall import Wall, at_height, band, fall, path, rise

DOME_MM = 14.0
"""How far crushed ice stands over the rim."""

_CUBE_MM = 22.0
_PITCH_MM = 25.0
_BLOCK_MM = 48.0
_TILTS = ((0.99, -0.14), (0.98, 0.2), (1.0, 0.05), (0.97, -0.24), (0.99, 0.12), (0.98, -0.19))
"""Cosine and sine of the angles cubes lie at, in turn: written out, so that every machine draws the same."""
_SHARDS = ("l4 2-1 4", "l3-3 3 3", "l-3 4 5 0", "l2 4-4 1", "l5 1-3 3")


def cubes(wall: Wall, level_mm: float) -> str:
    """Return rows of cubes from the surface down, as many as there is room for, the top ones a little out."""
    half = _CUBE_MM / 2
    found: list[str] = []
    middle = level_mm - half + 4.0
    while middle - half > 5.0 or not found:
        room = min(at_height(wall, middle + way * half).radius for way in (-1, 0, 1)) - 1.0
        count = int(2 * room // _PITCH_MM)
        if count == 0:
            # Too narrow for a whole one: a small one on top, nothing below.
            return "".join(found) or (_square(0.0, -middle, room * 0.7, _TILTS[0]) if room > 5 else "")
        slack = min(room - count * _PITCH_MM / 2, 2.0) * (1 if len(found) % 2 else -1)
        for at in range(count):
            x = (at - (count - 1) / 2) * _PITCH_MM + slack
            sink = (0.0, 2.5, -1.0)[(len(found) + at) % 3]
            found.append(_square(x, -middle + sink, half, _TILTS[len(found) % len(_TILTS)]))
        middle -= _PITCH_MM
    return "".join(found)


def large_cube(wall: Wall, level_mm: float) -> str:
    """Return one block as large as the glass takes, floating or standing, with the bevel that tells it from a cube."""
    half = _BLOCK_MM / 2 + 1.0
    room = 0.0
    top = level_mm
    while half > 4.0 and room < half * 1.1:
        half -= 1.0
        top = max(level_mm + 5.0, 2.1 * half)
        room = min(at_height(wall, top - way * half).radius for way in (0, 1, 2))
    y = half - top
    bevel = path("M", -half * 0.8, y - half * 0.6, "l", half * 1.5, half * 0.1)
    return _square(0.0, y, half, (1.0, 0.06)) + bevel


def crushed(wall: Wall, level_mm: float) -> str:
    """Return a dome from the surface over the rim, and shards all through the drink."""
    rim = wall[-1]
    lip = band(wall, min(level_mm, rim.height - 0.5), rim.height)
    r = rim.radius
    ridge = path(
        *("l", -r * 0.15, -6.0, -r * 0.3, -3.0, -r * 0.25, -4.0),
        *(-r * 0.3, 1.0, -r * 0.35, 1.0, -r * 0.35, 4.0, "L", -r, -rim.height),
    )
    dome = path("M", lip[0].radius, -lip[0].height) + rise(lip) + ridge + fall(lip) + "z"
    shards: list[str] = []
    row = 0
    height = rim.height + 4.0
    while height > rim.height * 0.12:
        room = at_height(wall, height).radius * (0.6 if height > rim.height else 1.0) - 6.0
        x = -room + (3.0 if row % 2 else 0.0)
        while x <= room:
            shards.append(path("M", x, -height) + _SHARDS[(row * 2 + len(shards)) % len(_SHARDS)])
            x += 12.0
        height -= 9.0
        row += 1
    return dome + "".join(shards)


def _square(x: float, y: float, half: float, tilt: tuple[float, float]) -> str:
    """A square round a point, half its side wide each way, turned by the angle of this cosine and sine."""
    c, s = half * tilt[0], half * tilt[1]
    return path("M", x - c + s, y - c - s, "l", 2 * c, 2 * s, -2 * s, 2 * c, -2 * c, -2 * s, "z")
