"""SVG paths as lines of short straight pieces, for drawing them as pixels.

Comes in: the text of a path. Goes out: points. Knows the letters our own drawings use: M L H V C S Q A Z, in capitals
(from the origin) and small (from where the pen is). Source of their meaning: W3C SVG 2, "Paths".
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

Point = tuple[float, float]

_WORD = re.compile(r"[A-Za-z]|-?(?:\d*\.)?\d+")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "A": 7, "Z": 0}
_PIECES = 12
"""Straight pieces a curve: at the sizes drawn here no corner shows."""


@dataclass(slots=True)
class _Pen:
    """Where the pen is, and what it has drawn.

    Attributes:
        at: The end of what is drawn.
        start: Where this line began.
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


def path_lines(path: str) -> tuple[tuple[Point, ...], ...]:
    """Return each stroke of a path as points; one that is closed ends where it began.

    Raises:
        ValueError: A letter is unknown, a number is missing, or the path does not begin with a move.
    """
    pen = _Pen()
    for letter, numbers in _steps(path):
        if not pen.lines and letter.upper() != "M":
            raise ValueError(f"a path begins with a move: {path[:40]!r}")
        _step(pen, letter, numbers)
    # A dot is a stroke of no length; a lone point after a close is none.
    return tuple(tuple(line) for line in pen.lines if len(line) > 1)


def _steps(path: str) -> Iterator[tuple[str, list[float]]]:
    words = _WORD.findall(path)
    at, letter = 0, ""
    while at < len(words):
        if words[at].isalpha():
            letter = words[at]
            at += 1
        count = _TAKES.get(letter.upper())
        numbers = words[at : at + (count or 0)]
        if count is None or len(numbers) < count or not all(_is_number(word) for word in numbers):
            raise ValueError(f"not a path of ours: {path[:40]!r}")
        yield letter, [float(word) for word in numbers]
        at += count
        if letter in "Mm":
            letter = "l" if letter == "m" else "L"
        elif letter in "Zz":
            letter = ""


def _is_number(word: str) -> bool:
    return not word.isalpha()


def _step(pen: _Pen, letter: str, numbers: list[float]) -> None:
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
