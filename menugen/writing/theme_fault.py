"""What is wrong with a look, and where."""

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

_LONGEST_QUOTE = 60


class TokenPlace(NamedTuple):
    """A stretch of one line; line and columns count from 1, end is one past the last. Line 0 is the whole file."""

    file: Path
    line: int
    column: int
    end: int


class ThemeFault(Exception):
    """A theme cannot be used as it is.

    Attributes:
        file: The file to look at.
        message: What is wrong with it; stands alone, no full stop.
        hint: What to write instead; empty where the message says so.
        place: Where in it.
        others: What else is wrong with the same look.
    """

    def __init__(self, file: Path, message: str, place: TokenPlace | None = None, hint: str = "") -> None:
        self.place = place or TokenPlace(file, 0, 0, 0)
        self.file = file
        self.message = message
        self.hint = hint
        self.others: tuple[ThemeFault, ...] = ()
        line = f":{self.place.line}" if self.place.line else ""
        super().__init__(f"{file}{line}: {message}{f'; {hint}' if hint else ''}")

    @property
    def every(self) -> tuple["ThemeFault", ...]:
        """This fault and the others of the same look."""
        return (self, *self.others)


def raise_all(faults: Iterable[ThemeFault]) -> None:
    """Raise the first of these faults, with the rest as its others; nothing where there are none.

    Raises:
        ThemeFault: There is one.
    """
    every = [one for fault in faults for one in fault.every]
    if every:
        for one in every:
            one.others = ()
        every[0].others = tuple(every[1:])
        raise every[0]


def place_of(file: Path, text: str, line: int, word: str = "") -> TokenPlace:
    """Return the place of a line; of a word in it where the word stands there once."""
    lines = text.split("\n")
    said = lines[line - 1] if 0 < line <= len(lines) else ""
    if not word or said.count(word) != 1:
        return TokenPlace(file, line, 0, 0)
    column = said.index(word) + 1
    return TokenPlace(file, line, column, column + len(word))


def quoted(text: str) -> str:
    """Return a text in quotes, for a message; of a long one its beginning, and on one line."""
    plain = " ".join(text.split())
    return f'"{plain}"' if len(plain) <= _LONGEST_QUOTE else f'"{plain[:_LONGEST_QUOTE]}…"'
