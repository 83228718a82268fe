"""The picture shown beside a menu's address when someone posts it: the event's words, and a glass from the menu.

Comes in: a GuestMenu and the colours of its look. Goes out: a PNG of 1200 by 630 pixels, the shape that pages and
messages crop least (Open Graph names none; common practice, no published source). Nothing is fetched: the letters are
Noto Serif, cut down to Latin, Greek and Cyrillic, and lie in data/letters with their licence. A line with letters
that are not among these is left out: the page's title and description say it all in words.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files as resources
from io import BytesIO
from typing import TYPE_CHECKING

from menugen.menu import GlassPicture, GuestMenu
from menugen.writing.drawing import draw_glass
from menugen.writing.drawing_pixels import drawing_pixels
from menugen.writing.file_cache import NO_CACHE, FileCache

if TYPE_CHECKING:
    from PIL import Image, ImageDraw, ImageFont

WIDTH, HEIGHT = 1200, 630

_EDGE = 80
"""Pixels round everything; messengers that crop to a square cut the sides, and the words begin within it."""

_GLASS_MOST = (360, 470)

_NAME_SIZES = (104, 92, 80, 70, 62, 54)
_NAME_LINES = 3
_SMALL = 30
_LEADING = 1.2
_GAP = 28
_LONGEST = 240
"""More of a text could not be read in a picture, whatever the user wrote."""

_HEAVIER = 1.6
"""How much thicker than on a page the glass is drawn, since messages show the picture at a third of its size."""

_LETTERS = re.compile(
    "[ -~\u00a0-\u017f\u01a0\u01a1\u01af\u01b0\u01cd-\u01dc\u01fa-\u021b\u0384-\u038a\u038c\u038e-\u03a1\u03a3-\u03ce"
    "\u0400-\u045f\u0490\u0491\u1e80-\u1e85\u1ea0-\u1ef9\u2010-\u2015\u2018-\u201e\u2020-\u2022\u2026\u2030\u2032"
    "\u2033\u2039\u203a\u2044\u20a9-\u20bf\u2116\u2122]*"
)
"""Letters that noto-serif.ttf holds; a test looks for each of them."""

_SPACES = {"\u202f": "\u00a0", "\u2009": " "}
"""Thin spaces, with which some languages write hours, by one the letters have."""


@dataclass(frozen=True, slots=True)
class LinkCard:
    """What the picture shows.

    Attributes:
        house: The bar's name.
        event: The event's.
        lines: Day and place; each may wrap.
        glass: None where no drink on the menu is drawn.
        colours: "#rrggbb" of ground, text, strong, quiet and rule, in this order.
        from_right: Whether the language runs from right to left: then the glass stands on the left.
    """

    house: str
    event: str
    lines: tuple[str, ...]
    glass: GlassPicture | None
    colours: tuple[str, str, str, str, str]
    from_right: bool


def link_card(menu: GuestMenu, colours: Mapping[str, str]) -> LinkCard:
    """Return what the picture of a menu shows.

    Args:
        menu: The first drink that can be had and is drawn lends its glass.
        colours: "#rrggbb" by the names of a theme.
    """
    drinks = [drink for section in menu.sections for drink in section.drinks if drink.picture]
    drinks.sort(key=lambda drink: drink.off)
    return LinkCard(
        house=menu.house,
        event=menu.event,
        lines=tuple(line for line in (menu.when, menu.venue) if line),
        glass=drinks[0].picture if drinks else None,
        colours=(colours["ground"], colours["text"], colours["strong"], colours["quiet"], colours["rule"]),
        from_right=menu.direction == "rtl",
    )


@lru_cache(maxsize=16)
def draw_card(card: LinkCard, cache: FileCache = NO_CACHE) -> bytes:
    """Return the picture as PNG; the same card gives the same bytes from the same version of Pillow.

    Remembered, since a preview draws it again at every save.

    Args:
        card: What it shows.
        cache: Where the same pixels as PNG, which take longer than drawing them, are kept.
    """
    from PIL import __version__, features

    image = _drawn(card)
    made_of = (image.tobytes(), __version__.encode(), str(features.version("zlib")).encode())
    return cache.get_or_make("png", made_of, lambda: _png(image))


def _png(image: "Image.Image") -> bytes:
    content = BytesIO()
    image.save(content, "PNG", compress_level=6)
    return content.getvalue()


def _drawn(card: LinkCard) -> "Image.Image":
    from PIL import Image, ImageDraw

    ground, text, strong, quiet, rule = card.colours
    image = Image.new("RGB", (WIDTH, HEIGHT), ground)
    pen = ImageDraw.Draw(image)
    room = WIDTH - 2 * _EDGE
    if card.glass is not None:
        glass = _glass(card.glass, ground, text)
        left = _EDGE - 20 if card.from_right else WIDTH - _EDGE - glass.width + 20
        # Every glass stands on one line, as on the menu.
        image.paste(glass, (left, HEIGHT - _EDGE - glass.height))
        room -= glass.width
    told = [part for line in card.lines for part in _few(_shown(line), _SMALL, room, most=2)]
    head = _set(pen, _few(_shown(card.house), _SMALL, room, most=1), _SMALL, _EDGE, quiet, card)
    foot = HEIGHT - _EDGE - _SMALL * _LEADING * len(told)
    _set(pen, told, _SMALL, foot, text, card)
    start = WIDTH - _EDGE - 96 if card.from_right else _EDGE
    bar = foot - _GAP
    pen.rectangle((start, bar, start + 96, bar + 3), fill=rule)
    high = bar - _GAP - head
    name, size = _name(_shown(card.event), room, high)
    _set(pen, name, size, head + (high - size * _LEADING * len(name)) / 2, strong, card)
    return image


def _shown(text: str) -> str:
    """Return a text as it can be set; empty where a letter of it is missing."""
    text = unicodedata.normalize("NFC", text[:_LONGEST])
    for space, other in _SPACES.items():
        text = text.replace(space, other)
    return text if _LETTERS.fullmatch(text) else ""


def _name(name: str, room: float, high: float) -> tuple[list[str], int]:
    """Return the event's name in lines, as large as it fits, and that size."""
    for size in _NAME_SIZES:
        lines = _wrapped(name, size, room)
        widest = max((_font(size).getlength(line) for line in lines), default=0.0)
        if len(lines) <= _NAME_LINES and widest <= room and len(lines) * size * _LEADING <= high:
            return lines, size
    return _few(name, _NAME_SIZES[-1], room, most=_NAME_LINES), _NAME_SIZES[-1]


def _few(text: str, size: int, room: float, *, most: int) -> list[str]:
    """Return a text in no more lines than this, with dots where some is missing."""
    lines = _wrapped(text, size, room)
    if len(lines) > most:
        lines[most - 1 :] = [" ".join(lines[most - 1 :])]
    return [_cut(line, size, room) for line in lines]


def _cut(line: str, size: int, room: float) -> str:
    font = _font(size)
    if font.getlength(line) <= room:
        return line
    while line and font.getlength(f"{line}…") > room:
        line = line[:-1]
    return f"{line.rstrip()}…"


def _wrapped(text: str, size: int, room: float) -> list[str]:
    font = _font(size)
    lines: list[str] = []
    for word in text.split(" "):
        if lines and font.getlength(f"{lines[-1]} {word}") <= room:
            lines[-1] += f" {word}"
        elif word:
            lines.append(word)
    return lines


def _set(
    pen: "ImageDraw.ImageDraw", lines: list[str], size: int, y: float, colour: str, card: LinkCard
) -> float:
    """Set lines from a height down, and return where they end."""
    font = _font(size)
    for line in lines:
        x = WIDTH - _EDGE - font.getlength(line) if card.from_right else float(_EDGE)
        pen.text((round(x), round(y)), line, font=font, fill=colour, anchor="la")
        y += size * _LEADING
    return y


@cache
def _font(size: int) -> "ImageFont.FreeTypeFont":
    from PIL import ImageFont

    letters = resources("menugen.writing") / "data" / "letters" / "noto-serif.ttf"
    # The basic layout is in every build of Pillow; the other depends on what else a machine has.
    return ImageFont.truetype(BytesIO(letters.read_bytes()), size, layout_engine=ImageFont.Layout.BASIC)


# In each of its languages an event has the same glass.
@lru_cache(maxsize=4)
def _glass(picture: GlassPicture, ground: str, line: str) -> "Image.Image":
    drawn = draw_glass(picture, size="large")
    return drawing_pixels(drawn, most=_GLASS_MOST, ground=ground, line=line, heavier=_HEAVIER)
