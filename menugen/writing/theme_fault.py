"""What is wrong with a look, and where."""

from pathlib import Path
from typing import NamedTuple


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
        place: Where in it.
    """

    def __init__(self, file: Path, message: str, place: TokenPlace | None = None) -> None:
        self.place = place or TokenPlace(file, 0, 0, 0)
        line = f":{self.place.line}" if self.place.line else ""
        super().__init__(f"{file}{line}: {message}")
        self.file = file
        self.message = message
