"""A look that cannot be used, which stops a publish."""

from collections.abc import Iterable
from pathlib import Path

from menugen.problems import Problem, Span, error


class ThemeFault(Exception):
    """A theme cannot be used as it is.

    Attributes:
        problems: All that is wrong with it, each at a span whose file is a path on this machine.
    """

    def __init__(self, file: Path, message: str, where: Span | None = None, hint: str = "") -> None:
        """Keep one problem; `all_of` keeps several.

        Args:
            file: The file to look at.
            message: What is wrong with it; stands alone, no full stop.
            where: Where in it; None is the whole.
            hint: What to write instead; empty where the message says so.
        """
        found = error("theme-fault", message, where or Span(str(file), 1, 1, 1), *([hint] if hint else []))
        self.problems: tuple[Problem, ...] = (found,)
        line = f":{where.line}" if where is not None and where[1:] != (1, 1, 1) else ""
        super().__init__(f"{file}{line}: {message}")

    @classmethod
    def all_of(cls, problems: Iterable[Problem]) -> "ThemeFault":
        """Return the fault of everything that is wrong; there is something."""
        every = tuple(problems)
        first = every[0]
        where = first.where if isinstance(first.where, Span) else Span(first.where.file, 1, 1, 1)
        fault = cls(Path(where.file), first.message, where)
        fault.problems = every
        return fault


def raise_all(faults: Iterable[ThemeFault]) -> None:
    """Raise these faults as one; nothing where there are none.

    Raises:
        ThemeFault: There is one.
    """
    if problems := [problem for fault in faults for problem in fault.problems]:
        raise ThemeFault.all_of(problems)


def place_of(file: Path, text: str, line: int, word: str = "") -> Span:
    """Return the place of a line; of a word in it where the word stands there once."""
    lines = text.split("\n")
    said = lines[line - 1] if 0 < line <= len(lines) else ""
    if not word or said.count(word) != 1:
        return Span(str(file), max(line, 1), 1, 1)
    column = said.index(word) + 1
    return Span(str(file), line, column, column + len(word))
