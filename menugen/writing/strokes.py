"""Strokes: what a drawing is made of before it is SVG (drawing_svg.py) or pixels (drawing_pixels.py).

Lengths are mm: x to the right of the glass's axis, y downwards from the bottom of the bowl.
"""

import re
from dataclasses import dataclass

Step = tuple[str | float, ...]
"""Letters of an SVG path, each with its numbers: ("M", 0.0, -30.0, "H", 12.5). A number may be given as text, and is
then written as it is; the others are written to a tenth of a mm."""

Line = tuple[Step, ...]
"""Steps of one pen, each beginning with a letter."""

_WORD = re.compile(r"[A-Za-z]| ?-?(?:\d*\.)?\d+")


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line with its paint.

    Attributes:
        name: The class by which a theme dresses it; those of one name that follow one another are one thing.
        line: Where it runs.
        fill: Colour of what it encloses, "#rrggbb"; empty for none.
        fill_opacity: How dense that is, 0 to 1.
        ink: Colour of the pen: "#rrggbb", "currentColor" for that of the words around, or empty for none.
        ink_opacity: How dense that is, 0 to 1.
        width_mm: Of the pen.
        at: Where the origin of the line lies; None where it is the drawing's.
        mirrored: Whether left and right change places there.
    """

    name: str
    line: Line
    fill: str = ""
    fill_opacity: float = 1.0
    ink: str = ""
    ink_opacity: float = 1.0
    width_mm: float = 0.0
    at: tuple[float, float] | None = None
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Drawing:
    """Strokes, the first at the back, and the frame they are seen in.

    Attributes:
        strokes: In the order they are drawn.
        left_mm: Where the frame begins.
        top_mm: The same.
        width_mm: Of the frame.
        height_mm: The same.
    """

    strokes: tuple[Stroke, ...]
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


def path(*parts: str | float) -> Line:
    """Return a line of letters and lengths."""
    return (parts,)


def typed_path(text: str) -> Line:
    """Return a line typed as an SVG path, which stays as it is typed, spaces and all."""
    return (tuple(_WORD.findall(text)),)


def length(number: float) -> str:
    """Return a length as SVG has it: to a tenth of a mm, and short."""
    text = f"{number:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def as_written(number: str | float) -> float:
    """Return a length as it is once it is written: to a tenth of a mm, unless it was typed finer."""
    return float(number if isinstance(number, str) else length(number))
