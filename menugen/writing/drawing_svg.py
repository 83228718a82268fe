"""Drawings as SVG, to stand in a page.

A drawing repeats what the words say, so it is hidden from screen readers.
"""

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby

from markupsafe import Markup

from menugen.menu import GlassPicture
from menugen.writing.drawing import COLOUR, GARNISH, draw_glass
from menugen.writing.strokes import Drawing, Line, Step, Stroke, length

WIDTHS = {"small": "4.75em", "large": "15em"}
"""Width by size where a style sheet says nothing."""

_DIGITS = frozenset("0123456789")


# The same drink stands in a list and in that of each other language and event; a house mixes many alike.
@lru_cache(maxsize=1024)
def glass_svg(picture: GlassPicture, *, size: str) -> Markup:
    """Return the drink in its glass as a decorative SVG.

    Args:
        picture: As for `draw_glass`.
        size: As for `draw_glass`, and the width where a style sheet says nothing.

    Raises:
        ValueError: As `draw_glass`.
    """
    drawing = draw_glass(picture, size=size)
    frame = " ".join(map(length, (drawing.left_mm, drawing.top_mm, drawing.width_mm, drawing.height_mm)))
    # Built of numbers, our own shapes and colours matched against a pattern.
    return Markup(  # noqa: S704
        f'<svg class="glass" width="{WIDTHS[size]}" viewBox="{frame}" fill="none" stroke-linecap="round" '
        f'stroke-linejoin="round" aria-hidden="true">{_parts(drawing)}</svg>'
    )


def event_icon(*, ground: str = "#17130f", line: str = "#efe6d6", liquid: str = "#c98a3c") -> bytes:
    """Return the site's icon: a coupe from the same pen, seen level.

    Args:
        ground: Colour of the square it stands on, "#rrggbb".
        line: Colour of the pen.
        liquid: Colour in the glass.

    Raises:
        ValueError: A colour is not "#rrggbb".
    """
    for colour in (ground, line, liquid):
        if not COLOUR.fullmatch(colour):
            raise ValueError(f'"{colour}" is not a colour written as #rrggbb')
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64">'
        f'<path fill="{ground}" d="M0 0h64v64H0z"/>'
        f'<path fill="{liquid}" d="M12.5 18.5C15.5 29 22 35 32 35s16.5-6 19.5-16.5z"/>'
        f'<path fill="none" stroke="{line}" stroke-width="3" stroke-linecap="round" stroke-linejoin="round" '
        'd="M11.5 12C12.5 26 20 35 32 35s19.5-9 20.5-23zM32 35v18M21 53h22"/></svg>\n'
    ).encode()


def path_text(line: Line) -> str:
    """Return a line as the text of an SVG path, as short as can be."""
    return "".join(map(_step_text, line))


# Bars have few glasses, and but for its surface a drink is drawn along the same wall as the last one in its glass.
@lru_cache(maxsize=4096)
def _step_text(step: Step) -> str:
    words: list[str] = []
    after_number = False
    for part in step:
        word = part if isinstance(part, str) else length(part)
        if after_number and word[:1] in _DIGITS:
            words.append(" ")
        words.append(word)
        after_number = word[-1:] in _DIGITS
    return "".join(words)


def _parts(drawing: Drawing) -> str:
    return "".join(
        _group(strokes) if name == GARNISH else "".join(map(_stroke, strokes))
        for name, strokes in groupby(drawing.strokes, lambda stroke: stroke.name)
    )


def _stroke(stroke: Stroke) -> str:
    fill = f' fill="{stroke.fill}"{_opacity("fill", stroke.fill_opacity)}' if stroke.fill else ""
    # What is filled thinly is a line first of all.
    paint = _ink(stroke) + fill if stroke.fill_opacity < 1 else fill + _ink(stroke)
    return f'<path class="{stroke.name}"{paint} d="{path_text(stroke.line)}"/>'


def _group(strokes: Iterable[Stroke]) -> str:
    """Return what is drawn with one pen, each part moved to its place."""
    first, *others = strokes
    drawn = "".join(
        f'<path transform="translate({" ".join(map(length, one.at or (0, 0)))})'
        f'{" scale(-1 1)" if one.mirrored else ""}" d="{path_text(one.line)}"/>'
        for one in (first, *others)
    )
    return f'<g class="{first.name}"{_ink(first)}>{drawn}</g>'


def _ink(stroke: Stroke) -> str:
    if not stroke.ink:
        return ""
    opacity = _opacity("stroke", stroke.ink_opacity)
    return f' stroke="{stroke.ink}" stroke-width="{length(stroke.width_mm)}"{opacity}'


def _opacity(of: str, share: float) -> str:
    return f' {of}-opacity="{f"{share:g}".removeprefix("0")}"' if share < 1 else ""
