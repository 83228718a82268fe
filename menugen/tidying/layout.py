"""A YAML text as its parts: keys, values and comments, each as it was typed, so that it can be set anew.

A comment belongs to the line it stands behind, else to what follows it; one that is indented deeper than what follows
belongs to what it stands under.
"""

import bisect
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from menugen.reading.yaml_text import LOADER


@dataclass(slots=True)
class Scalar:
    """One value.

    Attributes:
        text: As typed, quotes and all; of a block ("|", ">") its first line.
        value: What it means.
        style: Of the YAML: None is plain; a quote; "|" or ">".
        block: The lines of a block, without the indentation they share.
    """

    text: str
    value: str
    style: str | None
    block: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Listing:
    """A list, or the keys of a mapping.

    Attributes:
        entries: In order.
        keyed: Whether it is a mapping.
        flow: Whether it was written in brackets.
    """

    entries: "list[Entry]"
    keyed: bool
    flow: bool


Value = Scalar | Listing


@dataclass(slots=True)
class Entry:
    """One key with its value, or one item of a list, and the comments that belong to it.

    Attributes:
        key: As typed; None in a list.
        name: What the key means; empty in a list.
        value: What stands behind it.
        above: Comments before it, a line each; an empty text is a blank line between two of them.
        beside: The comment behind it; empty where there is none.
        below: Comments under it that are indented as it is.
    """

    key: str | None
    name: str
    value: Value
    above: list[str] = field(default_factory=list)
    beside: str = ""
    below: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Document:
    """A whole text.

    Attributes:
        head: Comments at the top that a blank line parts from the rest.
        top: The mapping.
        tail: Comments at the end that belong to nothing.
    """

    head: list[str]
    top: Listing
    tail: list[str]


@dataclass(slots=True)
class _Spot:
    """Where an entry begins, its column, where its brackets close (0 for none), and the spot it lies in."""

    at: int
    column: int
    entry: Entry
    around: "_Spot | None"
    closes: int = 0


class _Reader:
    """Takes one text apart; a class because its parts share the text and what of it is not a comment."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.spots: list[_Spot] = []
        self.taken: list[tuple[int, int]] = []
        self._line_starts = [0, *(at + 1 for at, letter in enumerate(text) if letter == "\n")]

    def column(self, at: int) -> int:
        return at - self._line_starts[self.line(at)]

    def line(self, at: int) -> int:
        return bisect.bisect_right(self._line_starts, at) - 1

    def listing(self, node: Any, around: "_Spot | None") -> Listing:
        keyed = isinstance(node, yaml.MappingNode)
        found = Listing([], keyed, bool(node.flow_style))
        for child in node.value:
            key, value = child if keyed else (None, child)
            start = (key or value).start_mark.index
            if key is None and not found.flow:
                start = self.text.rfind("-", 0, start)
            entry = Entry(self._typed(key) if key else None, key.value if key else "", Scalar("", "", None))
            spot = _Spot(start, self.column(start), entry, around)
            self.spots.append(spot)
            if key is not None:
                self.taken.append((key.start_mark.index, key.end_mark.index))
            entry.value = self._value(value, spot)
            found.entries.append(entry)
        return found

    def _typed(self, node: Any) -> str:
        typed: str = self.text[node.start_mark.index : node.end_mark.index]
        return typed

    def _value(self, node: Any, spot: _Spot) -> Value:
        if not isinstance(node, yaml.ScalarNode):
            spot.closes = node.end_mark.index if node.flow_style else 0
            return self.listing(node, spot)
        start, end = node.start_mark.index, node.end_mark.index
        if node.style in ("|", ">"):
            return self._block(node, spot)
        self.taken.append((start, end))
        return Scalar(self.text[start:end].rstrip(), node.value, node.style)

    def _block(self, node: Any, spot: _Spot) -> Scalar:
        """Return a block of lines: all that follow and are blank, or indented deeper than what they belong to."""
        start = node.start_mark.index
        number = self.line(start) + 1
        lines: list[str] = []
        all_lines = self.text.split("\n")
        while number < len(all_lines):
            line = all_lines[number]
            if line.strip() and len(line) - len(line.lstrip(" ")) <= spot.column:
                break
            lines.append(line)
            number += 1
        while lines and not lines[-1].strip():
            lines.pop()
        first_line_end = self.text.find("\n", start)
        header = self.text[start : first_line_end if first_line_end >= 0 else len(self.text)]
        end_line = self.line(start) + len(lines)
        end = self._line_starts[end_line + 1] if end_line + 1 < len(self._line_starts) else len(self.text)
        if first_line_end >= 0:
            self.taken.append((first_line_end, max(end, first_line_end)))
        indent = min((len(line) - len(line.lstrip(" ")) for line in lines if line.strip()), default=0)
        return Scalar(
            header.partition(" #")[0].rstrip(), node.value, node.style, [line[indent:] for line in lines]
        )

    def comments(self) -> Iterator[tuple[int, str]]:
        """Yield where each comment begins, and its text."""
        taken = sorted(self.taken)
        starts = [start for start, _ in taken]
        for start in self._line_starts:
            end = self.text.find("\n", start)
            end = len(self.text) if end < 0 else end
            at = self.text.find("#", start, end)
            while at >= 0:
                index = bisect.bisect_right(starts, at) - 1
                inside = index >= 0 and taken[index][0] <= at < taken[index][1]
                if not inside and (at == start or self.text[at - 1] in " \t"):
                    yield at, self.text[at:end].rstrip()
                    break
                at = self.text.find("#", at + 1, end)


def take_apart(text: str) -> Document:
    """Return the parts of a text that reading has found to be one sound mapping without references and tags."""
    reader = _Reader(text)
    node = yaml.compose(text, Loader=LOADER)
    if not isinstance(node, yaml.MappingNode):
        raise ValueError("not a mapping")
    document = Document([], reader.listing(node, None), [])
    _give_comments(reader, document)
    return document


def _give_comments(reader: _Reader, document: Document) -> None:
    spots = sorted(reader.spots, key=lambda spot: spot.at)
    starts = [spot.at for spot in spots]
    lines = reader.text.split("\n")
    last: tuple[list[str], int] | None = None
    first_line = reader.line(starts[0])
    blanks = [number for number in range(first_line) if not lines[number].strip()]
    for at, comment in reader.comments():
        number = reader.line(at)
        index = bisect.bisect_right(starts, at)
        before = spots[index - 1] if index else None
        if lines[number][: reader.column(at)].strip() and before is not None:
            while before.around is not None and 0 < before.around.closes <= at:
                before = before.around
            before.entry.beside = f"{before.entry.beside} {comment}".strip()
            continue
        following = spots[index] if index < len(spots) else None
        if following is not None and index == 0 and any(blank > number for blank in blanks):
            place = document.head
        else:
            place = _place(reader.column(at), before, following, document)
        if last is not None and last[0] is place and number > last[1] + 1:
            place.append("")
        place.append(comment)
        last = (place, number)


def _place(column: int, before: _Spot | None, following: _Spot | None, document: Document) -> list[str]:
    """Return the comments that a comment on a line of its own joins."""
    if following is not None and column <= following.column:
        return following.entry.above
    while before is not None and before.column > column:
        before = before.around
    if following is not None:
        deeper = before is not None and before.column > following.column
        return before.entry.below if deeper and before is not None else following.entry.above
    return before.entry.below if before is not None and before.around is not None else document.tail
