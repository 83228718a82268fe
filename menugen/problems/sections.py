"""A report for a terminal: headings with their lines, 80 columns wide; what must not be missed begins with a mark."""

import textwrap
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from menugen.problems.drawing import visible

WIDTH = 80

ALARM = "!! "
"""Begins each line that must not be missed, and needs no colour for it."""


class Item(NamedTuple):
    """One line of a section, and what stands indented under it."""

    text: str
    under: tuple[str, ...] = ()


class Section(NamedTuple):
    """A heading with its lines; `lead` begins each of them where they must not be missed."""

    title: str
    items: tuple[Item, ...]
    lead: str = ""


def section_lines(sections: Iterable[Section], *, bold: bool) -> Iterator[str]:
    """Yield the lines of sections, an empty one before each.

    Args:
        sections: Each with a line at least.
        bold: Whether headings may be set bold; nothing is said by that alone.
    """
    for section in sections:
        title = f"\x1b[1m{section.title}\x1b[0m" if bold else section.title
        yield ""
        yield section.lead + title
        for item in section.items:
            yield from wrapped(item.text, section.lead + "  ", section.lead + "    ")
            for line in item.under:
                yield from wrapped(line, section.lead + "    ", section.lead + "      ")


def wrapped(text: str, first: str = "", later: str = "") -> list[str]:
    """Return a text as lines of 80 columns at most; what each begins with is part of them."""
    return textwrap.wrap(
        visible(text), WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    ) or [first.rstrip()]


def counted(number: int, noun: str) -> str:
    """Return "1 drink" or "3 drinks"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
