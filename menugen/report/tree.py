"""The parts of a report. Texts are final: rounded and formatted; no part knows how it is drawn."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

Cell = str | int | float
"""What stands in a table."""


@dataclass(frozen=True, slots=True)
class Note:
    """A paragraph.

    Attributes:
        text: What it says.
        indent: Columns it is set in by.
        hang: Columns by which its further lines are set in beyond that.
        cut: Whether words longer than a line are cut: it holds no command or address to be copied.
    """

    text: str
    indent: int = 0
    hang: int = 0
    cut: bool = False


class Row(NamedTuple):
    """A labelled text.

    Attributes:
        label: "Served"; empty where the text goes on from the row above.
        text: "132 ml, 18.1 % vol".
        loud: Whether it must not be missed.
    """

    label: str
    text: str
    loud: bool = False


@dataclass(frozen=True, slots=True)
class Rows:
    """Labelled texts, one below the other."""

    rows: tuple[Row, ...]


class Item(NamedTuple):
    """One line of a list, and what stands below it; `loud` where it must not be missed."""

    text: str
    under: tuple[str, ...] = ()
    loud: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list.

    Attributes:
        items: Its lines.
    """

    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        head: What it is called; empty where its cells say so themselves.
        right: Whether its cells end below each other, as numbers do.
        least: Its width at the least.
        most: Its width at the most; 0 for no bound. A longer cell is cut short, or has a line of its own.
        cut: Whether a longer cell is cut short.
        gap: Columns left empty before it; for the first column, from the left edge.
    """

    head: str = ""
    right: bool = False
    least: int = 0
    most: int = 0
    cut: bool = False
    gap: int = 2


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells. The last column is folded where the line is full.

    Attributes:
        columns: From the left.
        rows: As many cells in each as there are columns.
        strong: Positions of rows that stand out.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    strong: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Plot:
    """A drawing.

    Attributes:
        text: Drawn in characters, line by line.
        wide: The same as an SVG element for a desk and for paper; empty where nobody drew it.
        narrow: The same for a phone.
        words: What must be known to read it; on a page only, where the drawing itself has no words for it.
    """

    text: str
    wide: str = ""
    narrow: str = ""
    words: str = ""


Block = Note | Rows | Items | Table | Plot


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands below it.

    Attributes:
        title: The heading; empty for a section that is only set apart.
        blocks: In order.
        alarm: Whether each of its lines must not be missed.
        value: A figure that stands in the heading's line, at its end.
    """

    title: str = ""
    blocks: tuple[Block, ...] = ()
    alarm: bool = False
    value: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """All that a command has to say.

    Attributes:
        title: What it is about: a drink, a list; may be empty.
        lead: What stands right below that.
        sections: In order.
    """

    title: str = ""
    lead: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()


def counted(number: int, noun: str) -> str:
    """Return "1 drink" or "3 drinks"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def listed(title: str, items: Iterable[Item], *, alarm: bool = False) -> tuple[Section, ...]:
    """Return a section of one list; none where there is nothing in it."""
    found = tuple(items)
    return (Section(title, (Items(found),), alarm=alarm),) if found else ()
