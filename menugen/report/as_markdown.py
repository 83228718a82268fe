"""A report as CommonMark with tables, to paste where something is discussed."""

import re
from collections.abc import Iterable, Iterator

from menugen.problems import visible
from menugen.report.tree import Block, Items, Note, Plot, Report, Rows, Section, Table


def as_markdown(report: Report) -> str:
    """Return a report as Markdown; no line's end after the last."""
    parts = [f"## {escaped(report.title)}"] if report.title else []
    parts += _blocks(report.lead)
    for section in report.sections:
        parts += _section(section)
    return "\n\n".join(parts)


def escaped(text: str) -> str:
    """Return a text whose marks Markdown leaves alone; a user's name is no heading, link, tag or new line."""
    marks = re.sub(r"([\\`*_\[\]<#|~&]|^[+>-])", r"\\\1", visible(text))
    return re.sub(r"^(\d+)(?=[.)](\s|$))", r"\1\\", marks)


def _section(section: Section) -> Iterator[str]:
    if section.title:
        value = f": {escaped(section.value)}" if section.value else ""
        yield f"### {'⚠ ' if section.alarm else ''}{escaped(section.title)}{value}"
    yield from _blocks(section.blocks)


def _blocks(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        match block:
            case Note():
                yield escaped(block.text)
            case Rows():
                yield "\n".join(
                    f"- {escaped(row.label)}: {escaped(row.text)}"
                    if row.label
                    else f"  - {escaped(row.text)}"
                    for row in block.rows
                )
            case Items():
                yield "\n".join(
                    line
                    for item in block.items
                    for line in (
                        f"- {escaped(item.text)}",
                        *(f"  - {escaped(under)}" for under in item.under),
                    )
                )
            case Table() if block.rows:
                yield "\n".join(_table(block))
            case Plot():
                # Longer than any run of these marks inside it.
                fence = "`" * (max([2, *map(len, re.findall("`+", block.text))]) + 1)
                yield f"{fence}\n{block.text}\n{fence}"


def _table(table: Table) -> Iterator[str]:
    yield _line(escaped(column.head) for column in table.columns)
    yield _line("--:" if column.right else "---" for column in table.columns)
    for row in table.rows:
        yield _line(escaped(str(cell)) for cell in row)


def _line(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cells)} |"
