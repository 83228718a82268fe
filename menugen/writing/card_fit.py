"""How large the texts of a table card are set, so that a face holds them with whatever font the printer's computer has.

Comes in: the texts of one face and the room they have. Goes out: their sizes. No font is known here, so each letter
gets the room it takes in DejaVu Bold, which runs wider than almost any that a computer has: with another there is more
air.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

MM_PER_POINT = 25.4 / 72

LEADING, HEADING_LEADING = 1.25, 1.08
"""Height of a line as a share of its size, of all texts and of the event's name, as themes/base/cards.css has it."""

_GAPS_MM = {"address": 1.5, "table": 2.0, "version": 1.5}
"""Air above a text, as themes/base/cards.css has it."""

_HEADINGS = (25.0, 23.0, 21.0, 20.0, 19.0, 18.0, 17.0, 16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 10.0, 9.0, 8.0)
_WHOLE = 14.0
"""From which size on the words of the event's name are better broken than set smaller."""

_OTHERS = (
    (16.0, 13.0, 12.0, 15.0),
    (15.0, 12.0, 11.0, 13.0),
    (14.0, 11.0, 10.0, 12.0),
    (13.0, 10.0, 9.0, 12.0),
    (11.0, 9.0, 7.5, 12.0),
    (0.0, 8.0, 6.5, 10.0),
)
"""Sizes of the sentence, the address and the table that go together, best first, behind the least that the event's name
must then keep. The last are for an address that fills the largest code, under a name that fills its lines."""

_VERSION = 7.0
_SLACK_MM = 0.5

_WIDTHS = {
    0.35: "' ",
    0.4: ",./:;\\ijl|·‘’",
    0.45: "-f",
    0.5: "!()IJ[]_`t–",
    0.55: '"*r',
    0.6: "?sz",
    0.65: "cx",
    0.7: "$0123456789aekovy€£“”„«»",
    0.75: "FLSTYZbdghnpqu{}",
    0.8: "ACEPVXß",
    0.85: "#+<=>BR^~",
    0.9: "DGKOQUØ",
    0.95: "&HNw",
    1.0: "@—…",
    1.05: "%",
    1.1: "mæœ",
    1.2: "MWÆŒ№",
}
"""Widths of letters as shares of the size, rounded up: the wider of DejaVu Sans Bold and DejaVu Serif Bold 2.37."""

_EM = {letter: width for width, letters in _WIDTHS.items() for letter in letters}
_JOINED, _UPPER, _OTHER, _FULL = 0.85, 1.0, 0.85, 1.0
"""Letters that are not listed: those of scripts that join, capitals, the rest, and those as wide as high."""

_PIECES = re.compile(r"\s+|[^\s-]+-*|-+")
_ADDRESS_PIECES = re.compile(r"[^/.-]+[/.-]*|[/.-]+")


@dataclass(frozen=True, slots=True)
class FaceTexts:
    """What stands on a face under and over its code; every text is final.

    Attributes:
        event: The headline.
        scan: The one sentence.
        or_type: What stands before the address.
        address: As a guest types it.
        table: Empty on a card for every table.
        version: In small type.
    """

    event: str
    scan: str
    or_type: str
    address: str
    table: str
    version: str


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes in points."""

    event: float
    scan: float
    or_type: float
    address: float
    table: float
    version: float

    @property
    def style(self) -> str:
        """Style rules that set them."""
        set_in = {
            "h2": self.event,
            ".scan": self.scan,
            ".address": self.address,
            ".address span": self.or_type,
            ".table": self.table,
            ".version": self.version,
        }
        return "".join(f"{part}{{font-size:{points:g}pt}}" for part, points in set_in.items())


def sizes_of(texts: FaceTexts, width_mm: float, height_mm: float) -> Sizes:
    """Return the sizes in which the texts fit.

    The event's name is the headline: where it would be small, the other texts give way first. Its words are kept whole
    while that leaves it a headline.

    Args:
        texts: Of the fullest face.
        width_mm: How long a line may be.
        height_mm: What the texts may fill, one above the other.
    """
    for least, scan, address, table in _OTHERS:
        others = Sizes(0, scan, max(address - 2, scan - 4, 6.5), address, table, _VERSION)
        left = height_mm - _SLACK_MM - _below_mm(texts, others, width_mm)
        event = _heading(texts.event, width_mm, left)
        if event >= least:
            break
    return replace(others, event=event)


def lines_of(pieces: Iterable[str], points: float, width_mm: float) -> tuple[int, bool]:
    """Return how many lines the pieces fill, and whether each of them is whole on its line.

    Args:
        pieces: Between two of them a line may end; one that is longer than a line is broken anywhere.
        points: Their size.
        width_mm: How long a line may be.
    """
    room = width_mm / (points * MM_PER_POINT)
    lines, filled, whole = 1, 0.0, True
    for piece in pieces:
        wide = sum(map(_em, piece))
        if piece.isspace() or filled + wide <= room:
            filled += wide
        elif wide <= room:
            lines, filled = lines + 1, wide
        else:
            whole = False
            lines, filled = lines + (filled > 0), 0.0
            for letter in piece:
                if filled + _em(letter) > room:
                    lines, filled = lines + 1, 0.0
                filled += _em(letter)
    return lines, whole


def _heading(event: str, width_mm: float, height_mm: float) -> float:
    """Return the largest size of the event's name: of those that fit, one that keeps its words whole if it can."""
    pieces = list(_pieces(event))
    fit = [
        (points, whole)
        for points in _HEADINGS
        for lines, whole in (lines_of(pieces, points, width_mm),)
        if lines * points * HEADING_LEADING * MM_PER_POINT <= height_mm
    ]
    kept = [points for points, whole in fit if whole and points >= _WHOLE]
    return max([*kept, *(() if kept else (points for points, _ in fit))], default=_HEADINGS[-1])


def _below_mm(texts: FaceTexts, sizes: Sizes, width_mm: float) -> float:
    """Return the height of all texts but the event's name."""
    rows = [
        (_pieces(texts.scan), sizes.scan),
        (_pieces(texts.or_type), sizes.or_type),
        (_ADDRESS_PIECES.findall(texts.address), sizes.address),
        (_pieces(texts.version), sizes.version),
    ]
    gaps = _GAPS_MM["address"] + _GAPS_MM["version"]
    if texts.table:
        rows.append((_pieces(texts.table), sizes.table))
        gaps += _GAPS_MM["table"]
    return gaps + sum(
        lines_of(pieces, points, width_mm)[0] * points * LEADING * MM_PER_POINT for pieces, points in rows
    )


def _pieces(text: str) -> Iterator[str]:
    for piece in _PIECES.findall(text):
        # A line may end after each sign that is as wide as high.
        if any(unicodedata.east_asian_width(letter) in "WF" for letter in piece):
            yield from piece
        else:
            yield piece


def _em(letter: str) -> float:
    if letter in _EM:
        return _EM[letter]
    if unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0.0
    if unicodedata.east_asian_width(letter) in "WF":
        return _FULL
    base = unicodedata.normalize("NFD", letter)[0]
    if base in _EM:
        return _EM[base]
    if unicodedata.bidirectional(letter) == "AL":
        return _JOINED
    return _UPPER if letter.isupper() else _OTHER
