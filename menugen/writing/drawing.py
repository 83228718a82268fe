"""A drink drawn in its own glass, to scale and seen dead level, with one pen for all.

Comes in: a GlassPicture. Goes out: a Drawing, which drawing_svg.py and drawing_pixels.py write. Lengths are mm.

A theme dresses the drawing through its classes: `glass` (the whole), `glass-line` (the pen), `glass-fine` (thin
strokes of it), `glass-liquid`, `glass-float`, `glass-foam`, `glass-ice`, `glass-sauce`, `glass-rim`, `glass-garnish`.
Every drawing is `FRAME_MM` wide whatever the glass: set one width and no height in CSS, and drinks keep one scale. A
bowl is wider than that, and its drawing shows more mm in the same width, all of it to one smaller scale.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from menugen.menu import GlassPicture
from menugen.writing.garnish import SHAPES, Shape, garnish_glyph
from menugen.writing.glass_curve import Wall, at_height, band, fall, filled, inner_wall, rise
from menugen.writing.ice import DOME_MM, crushed, cubes, large_cube
from menugen.writing.strokes import Drawing, Line, Stroke, path

FRAME_MM = 130.0
"""Width of every drawing: the widest glass with something on its lip."""

WIDEST_MM = 58.0
"""Radius of the widest glass that is drawn at the scale of all others; a bowl is drawn smaller."""

PENS_MM = {"small": 2.1, "large": 0.9}
"""Width of the outline by size: about 1.2 px in a drawing 76 px wide, 1.7 px at 240 px."""

FOAM_COLOUR = "#f6ecd8"
SAUCE_COLOUR = "#9c6236"
"""Where the stock names no colour: between the brown of most sauces and a tone that shows on any liquid and page."""

GARNISHES = 3
"""More than this hides the glass."""

STANDS_OUT_MM = 12.0
"""How far over the surface the origin of a standing garnish may lie: its foot must still be in the drink."""

COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
GARNISH = "glass-garnish"
_FINE = 0.6
"""Of the outline's pen: width and opacity of a fine line."""
_BASE_MM = 4.0
_HANDLED = frozenset({"mug", "punch cup", "jug", "irish coffee"})
_DRIPS = ((-0.86, 0.6), (-0.5, 0.32), (-0.12, 0.66), (0.3, 0.42), (0.62, 0.24), (0.88, 0.54))
"""Where sauce runs down the inside: share of the radius, and how much of the height it has come."""


def draw_glass(picture: GlassPicture, *, size: str) -> Drawing:
    """Return the drink in its glass.

    Args:
        picture: Its measures. `level_mm` counts the float in and the foam not. Garnishes may be glyphs or the
            spec's own words; those that mean no glyph, and more than `GARNISHES`, are left out. A colour that is not
            "#rrggbb" is not painted.
        size: "small" beside a name or "large" on a drink's own page: the weight of the pen.

    Raises:
        ValueError: Another size, a profile of fewer than two points, or one whose heights do not grow.
    """
    if size not in PENS_MM:
        raise ValueError(f'a glass is drawn "small" or "large", not "{size}"')
    wall = inner_wall(picture.profile_mm)
    brim = wall[-1].height
    shrunk = max(1.0, max(knot.radius for knot in wall) / WIDEST_MM)
    frame_mm, pen = FRAME_MM * shrunk, PENS_MM[size] * shrunk
    level = min(max(picture.level_mm, 0.0), brim)
    # Crushed ice is domed over the rim, and carries what would float.
    domed = picture.ice == "crushed" and not picture.less_ice
    garnishes = _placed(picture, wall, brim if domed else min(level + picture.foam_mm, brim))
    strokes = (
        *_garnish([item for item in garnishes if item.shape.spot == "stand"], pen),
        *(_liquid(picture, wall, level) if level >= 0.5 else ()),
        *_sauce(picture, wall, pen),
        *_ice(picture, wall, level, pen),
        *(_surface(picture, wall, level, pen) if level >= 0.5 else ()),
        *_outline(wall, picture.glass, picture.stem_mm, picture.foot_mm, pen),
        *_dressed_rim(picture, wall, pen),
        *_garnish([item for item in garnishes if item.shape.spot != "stand"], pen),
    )
    dome = DOME_MM if domed else 0.0
    above = max([brim + dome, *(item.height + item.shape.above_mm for item in garnishes)]) + pen
    below = max(picture.stem_mm, _BASE_MM) + pen
    return Drawing(strokes, -frame_mm / 2, -above, frame_mm, above + below)


class _Placed(NamedTuple):
    """A garnish, x mm right of the axis and so high over the bottom of the bowl."""

    shape: Shape
    x: float
    height: float
    mirrored: bool


def _painted(name: str, colour: str, outline: Line) -> tuple[Stroke, ...]:
    return (Stroke(name, outline, fill=colour),) if COLOUR.fullmatch(colour) else ()


def _drawn(name: str, line: Line, width_mm: float, ink: str = "currentColor") -> tuple[Stroke, ...]:
    return (Stroke(name, line, ink=ink, width_mm=width_mm),) if line else ()


def _fine(line: Line, pen: float) -> Stroke:
    return Stroke("glass-fine", line, ink="currentColor", ink_opacity=_FINE, width_mm=pen * _FINE)


def _ink_on(colour: str) -> str:
    """Return a tone that stands out from a liquid and from a light or dark page as well: halfway to black or white."""
    if not COLOUR.fullmatch(colour):
        return "currentColor"
    channels = [int(colour[at : at + 2], 16) for at in (1, 3, 5)]
    # Weights of red, green and blue in how light a colour looks. Source: ITU-R BT.601 (luma).
    light = 0.299 * channels[0] + 0.587 * channels[1] + 0.114 * channels[2] > 110
    return "#" + "".join(f"{channel // 2 if light else (channel + 255) // 2:02x}" for channel in channels)


def _liquid(picture: GlassPicture, wall: Wall, level: float) -> tuple[Stroke, ...]:
    floating = min(picture.float_mm, level) if picture.float_colour else 0.0
    bed = level - floating
    body = _painted("glass-liquid", picture.liquid, filled(wall, 0.0, bed)) if bed > 0.5 else ()
    top = _painted("glass-float", picture.float_colour, filled(wall, bed, level)) if floating > 0.5 else ()
    return body + top


def _surface(picture: GlassPicture, wall: Wall, level: float, pen: float) -> tuple[Stroke, ...]:
    """The foam, or the line where the liquid ends."""
    radius, brim = at_height(wall, level).radius, wall[-1].height
    if picture.foam_mm <= 0 or brim - level < 0.5:
        return (_fine(path("M", -radius, -level, "H", radius), pen),)
    cap = filled(wall, level, min(level + picture.foam_mm, brim), bulge_mm=2.5)
    return (replace(_fine(cap, pen), name="glass-foam", fill=FOAM_COLOUR),)


def _sauce(picture: GlassPicture, wall: Wall, pen: float) -> tuple[Stroke, ...]:
    """Sauce run down the inside from just under the rim, each run a curve along the glass."""
    if not picture.inside:
        return ()
    brim = wall[-1].height
    runs: list[Line] = []
    for across, share in _DRIPS:
        places = [at_height(wall, brim * (0.95 - share * step / 3)) for step in range(4)]
        points = [number for knot in places for number in ((knot.radius - 2.0) * across, -knot.height)]
        runs.append(path("M", *points[:2], "C", *points[2:]))
    ink = picture.inside_colour if COLOUR.fullmatch(picture.inside_colour) else SAUCE_COLOUR
    return _drawn("glass-sauce", sum(runs, ()), pen + 2.2, ink)


def _ice(picture: GlassPicture, wall: Wall, level: float, pen: float) -> tuple[Stroke, ...]:
    line: Line = ()
    match picture.ice:
        case "cubed":
            line = cubes(wall, level, picture.cubes, picture.cube_mm)
        case "large cube":
            line = large_cube(wall, picture.cube_foot_mm, picture.cube_mm)
        case "crushed":
            line = crushed(wall, level, domed=not picture.less_ice)
    drawn = _drawn("glass-ice", line, pen * 0.6, _ink_on(picture.liquid))
    return tuple(replace(stroke, fill="#fff", fill_opacity=0.3) for stroke in drawn)


@lru_cache(maxsize=256)
def _outline(wall: Wall, glass: str, stem_mm: float, foot_mm: float, pen: float) -> tuple[Stroke, ...]:
    """The glass itself: bowl, thick bottom or stem, handle; then the thin lines of lip and bottom.

    Remembered, since a bar has few glasses and a menu many drinks.
    """
    out = pen / 2
    rim, foot = wall[-1], wall[0]
    lip = path("M", -rim.radius, -rim.height, "H", rim.radius)
    if stem_mm > 0:
        outer, bottom, thin = wall, out, lip
    else:
        # The outside of a tumbler runs straight down past the rounding of its inside.
        outer, bottom = band(wall, min(_BASE_MM, rim.height / 2), rim.height), _BASE_MM
        thin = lip + path("M", -foot.radius, 0.0, "H", foot.radius)
    heel = outer[0].radius + out
    bowl = (
        path("M", -rim.radius - out, -rim.height)
        + fall(outer, out=out)
        + path("V", bottom, "H", heel, "V", -outer[0].height)
        + rise(outer, out=out)
    )
    stem = _stem(stem_mm, foot_mm, wall, out) if stem_mm > 0 else ()
    handle = _handle(wall, out) if glass in _HANDLED else ()
    return (*_drawn("glass-line", bowl + stem + handle, pen), _fine(thin, pen))


def _stem(stem: float, foot: float, wall: Wall, out: float) -> Line:
    """The stem and foot, from where the right of the bowl runs into it round to the left."""
    neck = 2.6 if stem > 45 else 5.0
    joint = wall[0]
    while joint.radius < neck + 4.0 and joint.height < wall[-1].height / 4:
        joint = at_height(wall, joint.height + 0.25)
    x, y = min(joint.radius, neck + 6.0), out - joint.height
    waist, flare, sole = stem * 0.25, stem * 0.8, stem - 1.2
    return path(
        *("M", x, y, "C", neck + 1, y + 1.5, neck, y + 3, neck, waist, "V", flare),
        *("C", neck, sole - 2, foot * 0.4, sole, foot, sole, "V", stem, "H", -foot, "V", sole),
        *("C", -foot * 0.4, sole, -neck, sole - 2, -neck, flare, "V", waist),
        *("C", -neck, y + 3, -neck - 1, y + 1.5, -x, y),
    )


def _handle(wall: Wall, out: float) -> Line:
    high, low = (at_height(wall, wall[-1].height * share) for share in (0.82, 0.28))
    reach = min(24.0, (FRAME_MM / 2 - max(high.radius, low.radius)) * 1.3)
    return path(
        *("M", high.radius + out, -high.height, "C", high.radius + reach, -high.height - 4),
        *(low.radius + reach, -low.height + 4, low.radius + out, -low.height),
    )


def _dressed_rim(picture: GlassPicture, wall: Wall, pen: float) -> tuple[Stroke, ...]:
    """Grains on the outside of the lip: dots in two staggered columns each side."""
    if not picture.rim:
        return ()
    grain = max(pen * 0.8, 1.4)
    grains: list[Line] = []
    for row in range(4):
        height = wall[-1].height + 1.5 - grain * 1.7 * row
        edge = at_height(wall, height).radius + pen / 2 + grain * (1.1 if row % 2 else 2.2)
        grains.append(path("M", -edge, -height, "h", 0.0, "M", edge, -height, "h", 0.0))
    return _drawn("glass-rim", sum(grains, ()), grain)


def _placed(picture: GlassPicture, wall: Wall, surface: float) -> list[_Placed]:
    """Give each garnish its place, in order; where its spot is taken twice over, it is left out."""
    r, brim = wall[-1].radius, wall[-1].height
    over_lip = [(r, False), (-r, True)]
    if picture.glass in _HANDLED:
        over_lip.reverse()
    seats = {
        "rim": over_lip,
        "stand": [(-r * 0.4, False), (r * 0.25, True)],
        "surface": [(0.0, False), (r * 0.5, False), (-r * 0.5, True)],
    }
    glyphs = [glyph for glyph in dict.fromkeys(map(garnish_glyph, picture.garnish)) if glyph]
    heights = {"rim": brim, "stand": min(brim, surface + STANDS_OUT_MM), "surface": surface}
    placed = []
    for shape in (SHAPES[glyph] for glyph in glyphs[:GARNISHES]):
        if seats[shape.spot]:
            x, mirrored = seats[shape.spot].pop(0)
            placed.append(_Placed(shape, x, heights[shape.spot], mirrored))
    return placed


def _garnish(items: list[_Placed], pen: float) -> Iterator[Stroke]:
    """The garnishes, each moved to its place."""
    for item in items:
        at = (item.x, -item.height)
        yield Stroke(
            GARNISH, item.shape.line, ink="currentColor", width_mm=pen * 0.9, at=at, mirrored=item.mirrored
        )
