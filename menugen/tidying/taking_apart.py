"""Takes a YAML text apart into keys, values and the comments that belong to them.

Which comment belongs to what is decided in `ownership.py`.
"""

import bisect
import re
from dataclasses import dataclass

from menugen.reading import Node
from menugen.tidying.layout import WHITE, Document, Entry, Listing, Scalar, Value
from menugen.tidying.ownership import Gap, Run, Spot, give_gap

_BETWEEN_ITEMS = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
"""What may stand between an item of a list in lines and the dash of the next one."""


def take_apart(text: str, top: Node) -> Document:
    """Return the parts of a text that reading has found to be one sound mapping.

    Args:
        text: All of it.
        top: The mapping.
    """
    reader = _Reader(text)
    document = Document([], None, reader.listing(top, None), [])
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

    def column(self, at: int) -> int:
        return at - self._line_starts[self.line(at)]

    def line(self, at: int) -> int:
        return bisect.bisect_right(self._line_starts, at) - 1

    def listing(self, node: Node, around: Spot | None) -> Listing:
        keyed = isinstance(node.value, dict)
        found = Listing([], keyed, bool(node.style))
        end_of_last = node.start
        for name, child in node.children():
            entry = Entry(None, name, Scalar("", "", ""))
            if child.key is not None:
                start, end = child.key
                self.taken.append(child.key)
                entry.key = self.text[start:end]
            else:
                start = child.start if found.flow else self._dash(end_of_last)
            spot = Spot(start, self.column(start), entry, around)
            self.spots.append(spot)
            entry.value = self._value(child, spot)
            found.entries.append(entry)
            end_of_last = child.end
        return found

    def _dash(self, at: int) -> int:
        """Return where the dash of an item is, from where the one before it ends."""
        between = _BETWEEN_ITEMS.match(self.text, at)
        return between.end() if between else at

    def _value(self, node: Node, spot: Spot) -> Value:
        if not isinstance(node.value, str):
            spot.closes = node.end if node.style else 0
            return self.listing(node, spot)
        if node.style in ("|", ">"):
            return self._block(node, node.value, spot)
        self.taken.append((node.start, node.end))
        return Scalar(self.text[node.start : node.end].rstrip(WHITE), node.value, node.style)

    def _block(self, node: Node, value: str, spot: Spot) -> Scalar:
        """Return a block of lines: all that follow and are blank, or indented as deep as its first line."""
        start = node.start
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
        return Scalar(typed, value, node.style, [line[indent:] for line in lines])

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
