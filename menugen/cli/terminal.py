"""Talking to a person at a terminal: problems, progress, colour where it is wanted."""

import os
import sys
import time
from collections.abc import Sequence
from typing import TextIO

from menugen.problems import Problem, Severity, Sources, draw_json, draw_text, summary, visible
from menugen.report import WIDTH, Report, as_text


def wants_colour(stream: TextIO) -> bool:
    """Return whether a stream is a terminal whose user has not said NO_COLOR (no-color.org)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


_NARROWEST = 40


def print_report(report: Report) -> None:
    """Print a report, 80 columns wide; narrower on a terminal that is."""
    print(as_text(report, width=_width(sys.stdout), bold=wants_colour(sys.stdout)))


def _width(stream: TextIO) -> int:
    try:
        columns = os.get_terminal_size(stream.fileno()).columns if stream.isatty() else 0
    except OSError:
        columns = 0
    return max(_NARROWEST, min(WIDTH, columns or WIDTH))


def fail(message: str) -> int:
    """Say that the command was used wrongly, and return its exit code."""
    print(f"menugen: {visible(message)}", file=sys.stderr)
    return 2


def tell_problems(
    problems: Sequence[Problem],
    sources: Sources,
    prefix: str,
    *,
    as_json: bool,
    after: str,
    quiet: bool = False,
) -> None:
    """Print problems: to standard error for a person, to standard output as JSON for an editor.

    Args:
        problems: All of them; nothing is printed for none, but for "[]" as JSON.
        sources: The texts they lie in.
        prefix: What every file's name begins with, as the user typed the house.
        as_json: Whether an editor reads it.
        after: Ends the summary line: "; nothing was published".
        quiet: Leaves out warnings and the summary.
    """
    if as_json:
        print(draw_json(problems, sources, prefix=prefix))
        return
    shown = [problem for problem in problems if not quiet or problem.severity is Severity.ERROR]
    if shown:
        print(
            draw_text(shown, sources, prefix=prefix, colour=wants_colour(sys.stderr)), file=sys.stderr, end=""
        )
        if not quiet:
            print(summary(shown) + after, file=sys.stderr)


class Progress:
    """One line on a terminal that says how far long work has come; silent where it is quick or nobody looks."""

    def __init__(self, *, quiet: bool) -> None:
        self._shown = not quiet and sys.stderr.isatty()
        self._begun = time.monotonic()
        self._width = 0

    def __call__(self, what: str, done: int, total: int) -> None:
        """Say what is being done, once half a second has passed."""
        if self._shown and time.monotonic() - self._begun > 0.5:
            line = f"{what} ({done + 1} of {total})"[:79]
            print("\r" + line.ljust(self._width), end="", file=sys.stderr, flush=True)
            self._width = len(line)

    def clear(self) -> None:
        """Take the line away."""
        if self._width:
            print("\r" + " " * self._width + "\r", end="", file=sys.stderr, flush=True)
            self._width = 0
