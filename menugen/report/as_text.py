"""A report for a terminal: 80 columns wide, readable without colour."""

import textwrap
from collections.abc import Iterable, Iterator

from menugen.problems import cells, visible
from menugen.report.tree import (
    Block,
    Column,
    Items,
    Note,
    Plot,
    Report,
    Row,
    Rows,
    Section,
    Table,
)

WIDTH = 80

ALARM = "!! "
"""Begins each line that must not be missed, and needs no colour for it."""

_LABEL = 14
_LEAST_LAST = 12
"""A last cell with less room than this is set below its row."""

_NO_BREAK = "\N{NO-BREAK SPACE}"

_SECOND_CELL = "\N{WORD JOINER}"
"""Stands before a wide letter while lines are folded."""


def as_text(report: Report, *, width: int = WIDTH, bold: bool = False) -> str:
    """Return a report as lines; no line's end after the last.

    Args:
        report: What to say.
        width: Of the terminal.
        bold: Whether titles may be set bold; nothing is said by that alone.
    """
    head = [_strong(line, bold) for line in fold(report.title, width)] if report.title else []
    head += _lines(report.lead, "", width, bold)
    parts = [head] if head else []
    parts += [list(section_text(section, width=width, bold=bold)) for section in report.sections]
    return "\n\n".join("\n".join(part) for part in parts)


def section_text(section: Section, *, width: int = WIDTH, bold: bool = False) -> Iterator[str]:
    """Yield the lines of one section."""
    alarm = ALARM if section.alarm else ""
    if section.title:
        title, room = visible(section.title), width - len(alarm)
        if not section.value:
            heads = fold(title, room)
        elif len(title) + len(section.value) + 2 <= room:
            heads = [title + section.value.rjust(room - len(title))]
        else:
            heads = [*fold(title, room), section.value.rjust(room)]
        yield from (alarm + _strong(head, bold) for head in heads)
    yield from _lines(section.blocks, alarm, width, bold)


def fold(
    text: str, width: int = WIDTH, first: str = "", later: str = "", *, long_words: bool = False
) -> list[str]:
    """Return a text as lines; a word longer than a line stays whole, so that it can be copied.

    Args:
        text: What a terminal would obey is shown as a mark.
        width: Of the lines.
        first: What the first line begins with; part of its width.
        later: The same of the others.
        long_words: Whether words longer than a line are cut.
    """
    shown = visible(text)
    spread = _spread(shown)
    lines = textwrap.wrap(
        spread,
        # A wide letter may be parted from its second cell: then it is wider by one than it was counted.
        width if spread == shown else width - 1,
        initial_indent=first,
        subsequent_indent=later,
        break_long_words=long_words,
        break_on_hyphens=False,
    )
    return [line.replace(_SECOND_CELL, "") for line in lines] or [first.rstrip()]


def _spread(text: str) -> str:
    """Return a text in which each letter that is two cells wide in a terminal is two."""
    if text.isascii():
        return text
    return "".join(f"{_SECOND_CELL}{letter}" if cells(letter) > 1 else letter for letter in text)


def _lines(blocks: Iterable[Block], alarm: str, width: int, bold: bool) -> Iterator[str]:
    for block in blocks:
        match block:
            case Note():
                first = alarm + " " * block.indent
                yield from _plain(
                    fold(block.text, width, first, first + " " * block.hang, long_words=block.cut)
                )
            case Rows():
                for row in block.rows:
                    yield from _row(row, alarm, width, bold)
            case Items():
                for item in block.items:
                    yield from fold(item.text, width, f"{alarm}  ", f"{alarm}    ", long_words=True)
                    for line in item.under:
                        yield from fold(line, width, f"{alarm}    ", f"{alarm}      ", long_words=True)
            case Table() if block.rows:
                yield from _table(block, alarm, width, bold)
            case Plot():
                yield from (alarm + visible(line) for line in block.text.split("\n"))


def _row(row: Row, alarm: str, width: int, bold: bool) -> Iterator[str]:
    first = alarm + row.label.ljust(_LABEL)
    for line in _plain(fold(row.text, width, first, " " * len(first))):
        yield _strong(line, bold and row.loud)


def _table(table: Table, alarm: str, width: int, bold: bool) -> Iterator[str]:
    rows = [[visible(str(cell)) for cell in row] for row in table.rows]
    heads = [[column.head for column in table.columns]] if any(one.head for one in table.columns) else []
    widths = [
        _width(column, [row[at] for row in (*heads, *rows)], width) for at, column in enumerate(table.columns)
    ]
    for row in heads:
        yield from _plain(_cells(table, row, widths, alarm, width))
    for number, row in enumerate(rows):
        for line in _plain(_cells(table, row, widths, alarm, width)):
            yield _strong(line, bold and number in table.strong)


def _width(column: Column, cells: list[str], width: int) -> int:
    """Return how wide a column is: as its bound says, or on a narrow terminal no wider than its cells."""
    widest = max([column.least, *map(len, cells)])
    if column.most:
        return column.most if width >= WIDTH else min(column.most, widest)
    return widest


def _cells(table: Table, row: list[str], widths: list[int], alarm: str, width: int) -> Iterator[str]:
    left = alarm
    *before, last = zip(table.columns, row, widths, strict=True)
    for column, cell, size in before:
        text = cell[:size] if column.cut else cell
        if column.most and len(text) > size:
            yield f"{left}{' ' * column.gap}{text}"
            text = ""
        left += " " * column.gap + (text.rjust(size) if column.right else text.ljust(size))
    column, text, size = last
    left += " " * column.gap
    if column.right:
        yield (left + text.rjust(size)).rstrip()
    elif not text:
        yield left.rstrip()
    elif width - len(left) < _LEAST_LAST and len(left) + len(text) > width:
        yield left.rstrip()
        indent = alarm + " " * (width // 4)
        yield from fold(text, width, indent, indent)
    else:
        yield from fold(text, width, left, " " * len(left))


def _plain(lines: Iterable[str]) -> Iterator[str]:
    """Yield lines with plain spaces: what keeps words together has done so once a text is folded."""
    return (line.replace(_NO_BREAK, " ").rstrip() for line in lines)


def _strong(text: str, bold: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if bold else text
