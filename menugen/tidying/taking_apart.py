"""Takes a YAML text apart into keys, values and the comments that belong to them.

Which comment belongs to what is decided in `ownership.py`.
"""

import bisect
from dataclasses import dataclass
from typing import Any

import yaml

from menugen.reading.yaml_nodes import _LOADER as LOADER
from menugen.tidying.layout import WHITE, Document, Entry, Listing, Scalar, Value
from menugen.tidying.ownership import Gap, Run, Spot, give_gap


def take_apart(text: str) -> Document:
    """Return the parts of a text that reading has found to be one sound mapping without references and tags."""
    reader = _Reader(text)
    node = yaml.compose(text, Loader=LOADER)
    if not isinstance(node, yaml.MappingNode):
        raise ValueError("not a mapping")
    document = Document([], None, reader.listing(node, None), [])
    reader.give_comments(document)
    return document


@dataclass(slots=True)
class _Comment:
    """One comment: where it begins, its line, its column, its text, and whether it has the line for itself."""

    at: int
    line: int
    column: int
    text: str
    alone: bool


class _Reader:
    """Takes one text apart; a class because its parts share the text and what of it is not a comment."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.lines = text.split("\n")
        self.spots: list[Spot] = []
        self.taken: list[tuple[int, int]] = []
        self._line_starts = [0, *(at + 1 for at, letter in enumerate(text) if letter == "\n")]
        self._dashes = [
            token.start_mark.index
            for token in yaml.scan(text, Loader=LOADER)
            if isinstance(token, yaml.BlockEntryToken)
        ]

    def column(self, at: int) -> int:
        return at - self._line_starts[self.line(at)]

    def line(self, at: int) -> int:
        return bisect.bisect_right(self._line_starts, at) - 1

    def listing(self, node: Any, around: Spot | None) -> Listing:
        keyed = isinstance(node, yaml.MappingNode)
        found = Listing([], keyed, bool(node.flow_style))
        for child in node.value:
            key, value = child if keyed else (None, child)
            start = (key or value).start_mark.index
            if key is None and not found.flow:
                start = self._dashes[bisect.bisect_left(self._dashes, start) - 1]
            entry = Entry(self._typed(key) if key else None, key.value if key else "", Scalar("", "", None))
            spot = Spot(start, self.column(start), entry, around)
            self.spots.append(spot)
            if key is not None:
                self.taken.append((key.start_mark.index, key.end_mark.index))
            entry.value = self._value(value, spot)
            found.entries.append(entry)
        return found

    def _typed(self, node: Any) -> str:
        typed: str = self.text[node.start_mark.index : node.end_mark.index]
        return typed

    def _value(self, node: Any, spot: Spot) -> Value:
        if not isinstance(node, yaml.ScalarNode):
            spot.closes = node.end_mark.index if node.flow_style else 0
            return self.listing(node, spot)
        start, end = node.start_mark.index, node.end_mark.index
        if node.style in ("|", ">"):
            return self._block(node, spot)
        self.taken.append((start, end))
        # The parser written in C calls a plain style "", the other one None.
        return Scalar(self.text[start:end].rstrip(WHITE), node.value, node.style or None)

    def _block(self, node: Any, spot: Spot) -> Scalar:
        """Return a block of lines: all that follow and are blank, or indented as deep as its first line."""
        start = node.start_mark.index
        number = self.line(start) + 1
        deep = next((_indent(line) for line in self.lines[number:] if line.strip(WHITE)), 0)
        deep = max(deep, spot.column + 1)
        lines: list[str] = []
        while number < len(self.lines):
            line = self.lines[number]
            if line.strip(WHITE) and _indent(line) < deep:
                break
            lines.append(line)
            number += 1
        while lines and not lines[-1].strip(WHITE):
            lines.pop()
        first_line_end = self.text.find("\n", start)
        header = self.text[start : first_line_end if first_line_end >= 0 else len(self.text)]
        end_line = self.line(start) + len(lines)
        end = self._line_starts[end_line + 1] if end_line + 1 < len(self._line_starts) else len(self.text)
        if first_line_end >= 0:
            self.taken.append((first_line_end, max(end, first_line_end)))
        indent = min((_indent(line) for line in lines if line.strip(WHITE)), default=0)
        typed = header.partition(" #")[0].rstrip()
        return Scalar(typed, node.value, node.style, [line[indent:] for line in lines])

    def _comments(self) -> list[_Comment]:
        taken = sorted(self.taken)
        starts = [start for start, _ in taken]
        found: list[_Comment] = []
        for number, start in enumerate(self._line_starts):
            line = self.lines[number]
            column = line.find("#")
            while column >= 0:
                at = start + column
                index = bisect.bisect_right(starts, at) - 1
                inside = index >= 0 and taken[index][0] <= at < taken[index][1]
                if not inside and (column == 0 or line[column - 1] in " \t"):
                    alone = not line[:column].strip(WHITE)
                    found.append(_Comment(at, number, column, line[column:].rstrip(), alone))
                    break
                column = line.find("#", column + 1)
        return found

    def give_comments(self, document: Document) -> None:
        """Give every comment to what it belongs to."""
        spots = sorted(self.spots, key=lambda spot: spot.at)
        starts = [spot.at for spot in spots]
        gaps: dict[tuple[int, int], Gap] = {}
        for comment in self._comments():
            index = bisect.bisect_right(starts, comment.at)
            before = spots[index - 1] if index else None
            if not comment.alone and before is not None:
                owner = before.out_of_brackets(comment.at).entry
                owner.beside = f"{owner.beside} {comment.text}".strip()
                continue
            following = spots[index] if index < len(spots) else None
            # A bracket that closes between two comments parts them as an entry does.
            brackets = before.open_brackets(comment.at) if before else None
            place = (index, brackets.at if brackets else -1)
            gap = gaps.setdefault(place, Gap(comment.at, before, following, []))
            _add(comment, gap.runs)
        for gap in gaps.values():
            self._see_what_touches(gap.runs)
            give_gap(gap, document)

    def _see_what_touches(self, runs: list[Run]) -> None:
        touches = True
        for run in runs:
            run.after_blank = run.first_line == 0 or self._is_blank(run.first_line - 1)
            touches = run.touches_above = touches and not run.after_blank
        touches = True
        for run in reversed(runs):
            touches = run.touches_below = touches and not self._is_blank(run.last_line + 1)

    def _is_blank(self, number: int) -> bool:
        return number >= len(self.lines) or not self.lines[number].strip(WHITE)


def _add(comment: _Comment, runs: list[Run]) -> None:
    if runs and runs[-1].column == comment.column and runs[-1].last_line == comment.line - 1:
        runs[-1].texts.append(comment.text)
        runs[-1].last_line = comment.line
    else:
        runs.append(Run(comment.column, [comment.text], comment.line, comment.line))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))
