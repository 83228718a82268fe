"""Fold-over table cards: the code as the hero, the event's name, one sentence, the address in letters.

Comes in: a GuestMenu. Goes out: print-ready pages for A4 and Letter, and the code alone as SVG and PNG.
A card is cut at the corner marks, folded at the dashed ones, and shows the same face to either side.
"""

import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

from markupsafe import Markup

from menugen.menu import GuestMenu
from menugen.shipped import shipped_folder
from menugen.writing.card_fit import FaceTexts, sizes_of
from menugen.writing.output import Output
from menugen.writing.policy import seal
from menugen.writing.qr import SYMBOL_MM, dark_path, menu_qr, png_bytes, svg_text
from menugen.writing.templates import BASE, ThemeTemplates
from menugen.writing.theme import tight

PAPERS = {"a4": "210mm 297mm", "letter": "215.9mm 279.4mm"}
"""Width and height by name. Source: ISO 216 (A4); ANSI/ASME Y14.1 (Letter, 8.5 x 11 in; from memory)."""

CARD_MM = (90.0, 252.0)
"""Width and height of a card laid flat, as themes/base/cards.css has it; two fit on either paper."""

CARDS_PER_SHEET = 2

MARK_FROM_MM, MARK_TO_MM = 1.5, 6.0
"""Where a mark begins and ends, counted outwards from the card's edge, so that no stub of it is left."""

MARKS_ROOM_MM = 7.0

LINE_MM, FACE_MM = 77.0, 115.0
"""How long a line is and how high all that stands on a face, as themes/base/cards.css pads it; 1 mm of each is left."""


@dataclass(frozen=True, slots=True)
class Card:
    """One card of a sheet.

    Attributes:
        table: "Table 7"; empty on a card for every table.
        repeat: Whether it only fills the sheet with a second copy.
        code_text: What a phone reads from the code.
        code_path: The code's dark modules, as an SVG path.
        code_modules: Modules a side, quiet zone and all.
        code_mm: Width of the code on paper, quiet zone and all.
    """

    table: str
    repeat: bool
    code_text: str
    code_path: str
    code_modules: int
    code_mm: str


@dataclass(frozen=True, slots=True)
class Sheets:
    """All that the template places. Every text is final.

    Attributes:
        language: BCP 47.
        direction: Of the language.
        event: The headline.
        event_language: BCP 47 of it where it is not the page's; empty otherwise.
        scan: The one sentence.
        or_type: What stands before the address.
        address_parts: The address as a guest types it, where a line may break.
        version: Which menu these were made with and the day of the event, in small type: a new price needs no new
            cards, and a guest with an allergy can see whether the page says what the card's menu said.
        style: The style sheet, the sizes of this paper and of these texts included.
        crop: Marks at the corners of a card, as an SVG path in mm.
        fold: Marks at the ends of its fold.
        marks_width_mm: Of the drawing of the marks.
        marks_height_mm: The same.
        sheets: Cards, sheet by sheet.
    """

    language: str
    direction: Literal["ltr", "rtl"]
    event: str
    event_language: str
    scan: str
    or_type: str
    address_parts: tuple[str, ...]
    version: str
    style: Markup
    crop: str
    fold: str
    marks_width_mm: str
    marks_height_mm: str
    sheets: tuple[tuple[Card, ...], ...]


def lay_cards(menu: GuestMenu, out: Output) -> None:
    """Write the files of the table cards: cards-a4.html, cards-letter.html, qr.svg, qr.png.

    Each page carries all it needs and is printed as it is. The files "qr" hold the code for every table.

    Args:
        menu: What the guests may see. Without an address there is nothing a code could open, and no file.
        out: Where the files go.

    Raises:
        AddressError: The address cannot be put in a code: `check` says so first.
    """
    if not menu.address:
        return
    code = menu_qr(menu.address)
    for paper, size in PAPERS.items():
        out.text(f"cards-{paper}.html", (_page(menu, size),))
    out.text("qr.svg", (svg_text(code),))
    out.data("qr.png", png_bytes(code))


def _page(menu: GuestMenu, paper: str) -> str:
    """Return the page for one paper, given as "width height" with units."""
    base = shipped_folder("themes") / BASE
    width, height = paper.split()
    size = f"@page{{size:{paper};margin:0}}.sheet{{width:{width};height:{height}}}"
    card_width, card_height = CARD_MM
    address = _typed(menu.address)
    laid = _sheets(menu)
    fit = _fit(menu, address, [card for sheet in laid for card in sheet])
    sheets = Sheets(
        language=menu.language,
        direction=menu.direction,
        event=menu.event,
        event_language=menu.event_language,
        scan=menu.words["scan"],
        or_type=menu.words["or_type"],
        address_parts=tuple(re.findall(r"[^/.]*[/.]*", address)),
        version=menu.version_line,
        # Our own file, without anything of the user's.
        style=Markup(tight((base / "cards.css").read_text(encoding="utf-8")) + size + fit),  # noqa: S704
        crop=_crop_marks(card_width, card_height),
        fold=_fold_marks(card_width, card_height),
        marks_width_mm=f"{card_width + 2 * MARKS_ROOM_MM:g}",
        marks_height_mm=f"{card_height + 2 * MARKS_ROOM_MM:g}",
        sheets=laid,
    )
    return seal(_templates().get_template("cards.html.jinja").render(sheets=sheets))


@cache
def _templates() -> ThemeTemplates:
    # Looks do not reach the cards: what is printed and cut has one form.
    return ThemeTemplates((shipped_folder("themes") / BASE,))


def _sheets(menu: GuestMenu) -> tuple[tuple[Card, ...], ...]:
    """Lay the cards on sheets in the order of the tables; a card for every table fills its sheet."""
    if menu.tables:
        cards = [_card(menu, table, repeat=False) for table in menu.tables]
    else:
        cards = [_card(menu, None, repeat=copy > 0) for copy in range(CARDS_PER_SHEET)]
    return tuple(
        tuple(cards[start : start + CARDS_PER_SHEET]) for start in range(0, len(cards), CARDS_PER_SHEET)
    )


def _card(menu: GuestMenu, table: int | None, *, repeat: bool) -> Card:
    code = menu_qr(menu.address, table)
    return Card(
        table="" if table is None else menu.words["table"].format(number=table),
        repeat=repeat,
        code_text=code.text,
        code_path=dark_path(code),
        code_modules=code.width_modules,
        code_mm=f"{SYMBOL_MM * code.width_modules / code.modules:.2f}",
    )


def _typed(address: str) -> str:
    """Return the address as a guest types it: a browser adds "https://" by itself, and nothing else."""
    short = address.strip().removeprefix("https://")
    return short.removesuffix("/") if short.count("/") == 1 else short


def _fit(menu: GuestMenu, address: str, cards: list[Card]) -> str:
    """Return the rules for the sizes of the texts: the same on all cards, so that the fullest of them fits."""
    texts = FaceTexts(
        event=menu.event,
        scan=menu.words["scan"],
        or_type=menu.words["or_type"],
        address=address,
        table=max((card.table for card in cards), key=len, default=""),
        version=menu.version_line,
    )
    code_mm = max(float(card.code_mm) for card in cards)
    return sizes_of(texts, LINE_MM, FACE_MM - code_mm).style


def _crop_marks(width: float, height: float) -> str:
    """Two strokes at each corner, in mm from the card's top left."""
    across = "".join(
        f"M{_left_of(0)} {y:g}h{_MARK:g}M{_right_of(width)} {y:g}h{_MARK:g}" for y in (0, height)
    )
    down = "".join(f"M{x:g} {_left_of(0)}v{_MARK:g}M{x:g} {_right_of(height)}v{_MARK:g}" for x in (0, width))
    return across + down


def _fold_marks(width: float, height: float) -> str:
    """A stroke at each end of the fold, halfway down."""
    return f"M{_left_of(0)} {height / 2:g}h{_MARK:g}M{_right_of(width)} {height / 2:g}h{_MARK:g}"


_MARK = MARK_TO_MM - MARK_FROM_MM


def _left_of(edge: float) -> str:
    return f"{edge - MARK_TO_MM:g}"


def _right_of(edge: float) -> str:
    return f"{edge + MARK_FROM_MM:g}"
