"""A problem: one fault in the user's files, with its place and what to write instead."""

from dataclasses import dataclass
from enum import Enum
from typing import Literal, NamedTuple


class Severity(Enum):
    """How much a problem matters: an ERROR stops a publish, a WARNING does not."""

    ERROR = "error"
    WARNING = "warning"


class Span(NamedTuple):
    """A stretch of one line of a file.

    Attributes:
        file: The file, relative to the house, with forward slashes.
        line: Counted from 1.
        column: Counted from 1, in characters.
        end: One past the last character, on the same line.
    """

    file: str
    line: int
    column: int
    end: int


class Place(NamedTuple):
    """A place in a YAML document, by keys; where it is on the page is looked up only when a problem needs it.

    Attributes:
        file: The file, relative to the house, with forward slashes.
        path: Keys and list positions from the top of the document: ("pour", 2). Empty is the document.
        on: Whether the key or the value is meant.
        quote: A stretch of the value to point at, as the user typed it; empty points at the whole value.
    """

    file: str
    path: tuple[str | int, ...] = ()
    on: Literal["key", "value"] = "value"
    quote: str = ""

    def at(self, *steps: str | int, on: Literal["key", "value"] = "value") -> "Place":
        """Return the place these steps further in."""
        return Place(self.file, (*self.path, *steps), on)


@dataclass(frozen=True, slots=True)
class Problem:
    """Something the user should change: one fault, one Problem.

    Attributes:
        code: Names the fault, never the cure: "unknown-stock". Stable and documented.
        severity: Whether it stops a publish.
        message: What is wrong, in the user's words; stands alone; no full stop.
        where: The place, or the exact stretch where it is known at once.
        hints: What to write instead, a sentence each.
        also: Other places that matter, each with a word on why.
    """

    code: str
    severity: Severity
    message: str
    where: Place | Span
    hints: tuple[str, ...] = ()
    also: tuple[tuple[Place | Span, str], ...] = ()


def error(code: str, message: str, where: Place | Span, *hints: str) -> Problem:
    """Return a problem that stops a publish."""
    return Problem(code, Severity.ERROR, message, where, hints)


def warning(code: str, message: str, where: Place | Span, *hints: str) -> Problem:
    """Return a problem that is told and does not stop a publish."""
    return Problem(code, Severity.WARNING, message, where, hints)
