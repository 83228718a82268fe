"""Drawings as pixels.

Comes in: a Drawing, whose lines use the letters M L H V C S Q A Z of an SVG path, in capitals (from the origin) and
small (from where the pen is). Goes out: an image. Source of the letters' meaning: W3C SVG 2, "Paths".
"""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from menugen.writing.strokes import Drawing, Line, Stroke, as_written

if TYPE_CHECKING:
    from PIL import Image, ImageDraw

Point = tuple[float, float]

_FINER = 3
"""A drawing is made this many times larger and then smaller, which smooths its edges."""

_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "A": 7, "Z": 0}
_PIECES = 12
"""Straight pieces a curve: at the sizes drawn here no corner shows."""


def drawing_pixels(
    drawing: Drawing, *, most: tuple[int, int], ground: str, line: str, heavier: float
) -> "Image.Image":
    """Return a drawing as pixels on a ground.

    Args:
        drawing: What is drawn.
        most: Pixels it is wide and high at most; its proportions stay.
        ground: "#rrggbb" behind it.
        line: "#rrggbb" of the pen where the drawing has that of the words around.
        heavier: How many times thicker than drawn its pens are.
    """
    from PIL import Image

    left, top, wide, high = map(
        as_written, (drawing.left_mm, drawing.top_mm, drawing.width_mm, drawing.height_mm)
    )
    scale = min(most[0] / wide, most[1] / high)
    size = (round(wide * scale), round(high * scale))
    canvas = Image.new("RGB", (size[0] * _FINER, size[1] * _FINER), ground)
    for stroke in drawing.strokes:
        lines = [
            [((x - left) * scale * _FINER, (y - top) * scale * _FINER) for x, y in points]
            for points in _placed(stroke)
        ]
        if stroke.fill:
            with _paint(canvas, stroke.fill, stroke.fill_opacity) as (pen, paint):
                for points in lines:
                    pen.polygon(points, fill=paint)
        if stroke.ink:
            ink = line if stroke.ink == "currentColor" else stroke.ink
            with _paint(canvas, ink, stroke.ink_opacity) as (pen, paint):
                _trace(pen, lines, as_written(stroke.width_mm) * heavier * scale * _FINER, paint)
    return canvas.reduce(_FINER)


def line_points(line: Line) -> tuple[tuple[Point, ...], ...]:
    """Return each stretch of a line as points; one that is closed ends where it began.

    Raises:
        ValueError: A letter is unknown, a number is missing, or the line does not begin with a move.
    """
    pen = _Pen()
    for letter, numbers in _moves(line):
        if not pen.lines and letter.upper() != "M":
            raise ValueError(f"a path begins with a move: {line!r:.40}")
        _move(pen, letter, numbers)
    # A dot is a stretch of no length; a lone point after a close is none.
    return tuple(tuple(points) for points in pen.lines if len(points) > 1)


@contextmanager
def _paint(
    canvas: "Image.Image", colour: str, opacity: float
) -> Iterator[tuple["ImageDraw.ImageDraw", str | int]]:
    """Lend a pen and its paint; what is drawn with them is drawn on the canvas at that opacity."""
    from PIL import Image, ImageDraw

    if opacity == 1:
        yield ImageDraw.Draw(canvas), colour
        return
    mask = Image.new("L", canvas.size, 0)
    yield ImageDraw.Draw(mask), round(255 * opacity)
    # Most strokes reach over a small part of the canvas.
    if (box := mask.getbbox()) is not None:
        canvas.paste(colour, box, mask.crop(box))


def _trace(pen: "ImageDraw.ImageDraw", lines: list[list[Point]], width: float, paint: str | int) -> None:
    """Draw lines with round ends and corners."""
    half = width / 2
    for points in lines:
        pen.line(points, fill=paint, width=max(round(width), 1))
        for x, y in points:
            pen.ellipse((x - half, y - half, x + half, y + half), fill=paint)


def _placed(stroke: Stroke) -> Iterator[list[Point]]:
    """Yield the stretches of a stroke where they lie in the drawing."""
    right, down = map(as_written, stroke.at or (0.0, 0.0))
    way = -1 if stroke.mirrored else 1
    for points in line_points(stroke.line):
        yield [(right + way * x, down + y) for x, y in points]


@dataclass(slots=True)
class _Pen:
    """Where the pen is, and what it has drawn.

    Attributes:
        at: The end of what is drawn.
        start: Where this stretch began.
        pull: The last point a curve was pulled towards; the pen's own place after anything else.
        lines: The points so far.
    """

    at: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)
    pull: Point = (0.0, 0.0)
    lines: list[list[Point]] = field(default_factory=list)

    def lift_to(self, point: Point) -> None:
        self.at = self.start = self.pull = point
        self.lines.append([point])

    def draw_to(self, *points: Point, pull: Point | None = None) -> None:
        self.lines[-1].extend(points)
        self.at = points[-1]
        self.pull = pull or self.at

    def close(self) -> None:
        self.draw_to(self.start)
        self.lines.append([self.start])


def _moves(line: Line) -> Iterator[tuple[str, list[float]]]:
    """Yield each letter with the numbers it takes; one that is left out is the last one's, or a line after a move."""
    words = [word for step in line for word in step]
    at, letter = 0, ""
    while at < len(words):
        if (word := words[at]) in _LETTERS:
            letter = str(word)
            at += 1
        count = _TAKES.get(letter.upper(), -1)
        numbers = words[at : at + count]
        if count < 0 or len(numbers) < count or not _LETTERS.isdisjoint(numbers):
            raise ValueError(f"not a path of ours: {line!r:.40}")
        yield letter, list(map(as_written, numbers))
        at += count
        letter = {"M": "L", "m": "l", "Z": "", "z": ""}.get(letter, letter)


_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")


def _move(pen: _Pen, letter: str, numbers: list[float]) -> None:
    x, y = pen.at if letter.islower() else (0.0, 0.0)
    kind = letter.upper()
    if kind == "Z":
        pen.close()
    elif kind == "H":
        pen.draw_to((x + numbers[0], pen.at[1]))
    elif kind == "V":
        pen.draw_to((pen.at[0], y + numbers[0]))
    elif kind == "A":
        pen.draw_to(*_arc(pen.at, numbers, (x + numbers[5], y + numbers[6])))
    else:
        points = [(x + along, y + down) for along, down in zip(numbers[::2], numbers[1::2], strict=True)]
        if kind == "M":
            pen.lift_to(points[0])
        elif kind == "L":
            pen.draw_to(points[0])
        elif kind == "Q":
            pen.draw_to(*_curve(pen.at, points))
        else:
            if kind == "S":
                # It goes on as the curve before it arrived.
                points.insert(0, (2 * pen.at[0] - pen.pull[0], 2 * pen.at[1] - pen.pull[1]))
            pen.draw_to(*_curve(pen.at, points), pull=points[1])


def _curve(start: Point, points: list[Point]) -> list[Point]:
    """A curve of the second or third degree, by de Casteljau's halving at each share of the way."""
    found = []
    for number in range(1, _PIECES + 1):
        share = number / _PIECES
        level = [start, *points]
        while len(level) > 1:
            level = [
                (one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share)
                for one, two in pairwise(level)
            ]
        found.append(level[0])
    return found


def _arc(start: Point, numbers: list[float], end: Point) -> list[Point]:
    """A piece of a circle. Source: W3C SVG 2, "Elliptical arc implementation notes", for one radius and no turn."""
    radius, large, sweep = abs(numbers[0]), numbers[3] != 0, numbers[4] != 0
    half = ((end[0] - start[0]) / 2, (end[1] - start[1]) / 2)
    reach = math.hypot(*half)
    if reach == 0 or radius == 0:
        return [end]
    radius = max(radius, reach)
    away = math.sqrt(radius**2 - reach**2) / reach * (-1 if large == sweep else 1)
    centre = (start[0] + half[0] - half[1] * away, start[1] + half[1] + half[0] * away)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    turn = math.atan2(end[1] - centre[1], end[0] - centre[0]) - first
    turn %= 2 * math.pi
    if not sweep:
        turn -= 2 * math.pi
    pieces = 2 * _PIECES
    return [
        *(
            (
                centre[0] + radius * math.cos(first + turn * number / pieces),
                centre[1] + radius * math.sin(first + turn * number / pieces),
            )
            for number in range(1, pieces)
        ),
        end,
    ]
