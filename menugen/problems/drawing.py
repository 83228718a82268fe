"""How problems are drawn: text for a terminal, JSON for an editor."""

import json
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from typing import Any, Protocol

from menugen.problems.problem import Place, Problem, Severity, Span

WIDTH_CELLS = 80
"""A line of the user's file is cut to a window of this width around what is meant."""

_CUT = "…"
_RED, _YELLOW, _BLUE, _BOLD, _PLAIN = "\x1b[1;31m", "\x1b[1;33m", "\x1b[34m", "\x1b[1m", "\x1b[0m"
_DIRECTION_MARKS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


class Sources(Protocol):
    """The user's files, as far as drawing needs them."""

    def text(self, file: str) -> str:
        """Return the file's text, its lines divided by line feeds; empty where there is no such file."""
        ...

    def span(self, place: Place) -> Span:
        """Return where a place is on the page."""
        ...


def draw_text(problems: Iterable[Problem], sources: Sources, *, prefix: str, colour: bool) -> str:
    """Return the problems as text, each with the user's own line under it; empty where there are none.

    Args:
        problems: In any order; one that stands twice is drawn once.
        sources: Where the lines come from.
        prefix: Put before each file's name, such as "demo_data/".
        colour: Whether to use the sixteen colours of a terminal.
    """
    paint = _painted if colour else _unpainted
    lines: list[str] = []
    texts: dict[str, list[str]] = {}
    for problem, where in _in_order(problems, sources):
        shade = _RED if problem.severity is Severity.ERROR else _YELLOW
        label = paint(f"{problem.severity.value}[{problem.code}]", shade)
        lines.append(f"{_spot(where, prefix)}: {label}: {paint(visible(problem.message), _BOLD)}")
        if where.file not in texts:
            texts[where.file] = sources.text(where.file).split("\n")
        lines += _excerpt(where, texts[where.file], paint)
        lines += [f"  {paint('hint:', _BLUE)} {visible(hint)}" for hint in problem.hints]
        for other, word in problem.also:
            lines.append(f"  {paint('also:', _BLUE)} {_spot(_span(other, sources), prefix)}: {visible(word)}")
    return "".join(f"{line}\n" for line in lines)


def draw_json(problems: Iterable[Problem], sources: Sources, *, prefix: str) -> str:
    """Return the problems as a JSON list; lines and columns count from 1, end_column is one past the last."""
    drawn = [
        {
            **_json_span(where, prefix),
            "severity": problem.severity.value,
            "code": problem.code,
            "message": problem.message,
            "hints": list(problem.hints),
            "also": [
                {**_json_span(_span(other, sources), prefix), "message": word} for other, word in problem.also
            ],
        }
        for problem, where in _in_order(problems, sources)
    ]
    text = json.dumps(drawn, ensure_ascii=False, indent=2)
    # Half a surrogate pair, from a file name that is no text, cannot be written as UTF-8.
    return text.encode("utf-8", errors="replace").decode("utf-8")


def summary(problems: Iterable[Problem]) -> str:
    """Return "2 problems in 2 files"; empty where there are none."""
    unique = list(dict.fromkeys(problems))
    files = {problem.where.file for problem in unique}
    if not unique:
        return ""
    return f"{_counted(len(unique), 'problem')} in {_counted(len(files), 'file')}"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _in_order(problems: Iterable[Problem], sources: Sources) -> Sequence[tuple[Problem, Span]]:
    """Return the problems by file, line, column and code, each once, with their spans."""
    placed = [(problem, _span(problem.where, sources)) for problem in problems]
    once = {(where, problem.code, problem.message): (problem, where) for problem, where in placed}
    return [
        once[key]
        for key in sorted(once, key=lambda key: (key[0].file, key[0].line, key[0].column, key[1], key[2]))
    ]


def _span(where: Place | Span, sources: Sources) -> Span:
    return sources.span(where) if isinstance(where, Place) else where


def _spot(where: Span, prefix: str) -> str:
    return visible(f"{prefix}{where.file}:{where.line}:{where.column}")


def _json_span(where: Span, prefix: str) -> dict[str, Any]:
    return {
        "file": visible(f"{prefix}{where.file}"),
        "line": where.line,
        "column": where.column,
        "end_column": where.end,
    }


def _excerpt(where: Span, lines: Sequence[str], paint: Callable[[str, str], str]) -> list[str]:
    """Return the user's line with carets under what is meant; nothing where there is no such line to show."""
    if (where.line, where.column, where.end) == (1, 1, 1):
        # An empty stretch at the very beginning stands for the file as a whole.
        return []
    if not 1 <= where.line <= len(lines) or not lines[where.line - 1].strip():
        return []
    line = visible(lines[where.line - 1], keep_tabs=True)
    start = min(where.column - 1, len(line))
    end = min(max(where.end - 1, start), len(line))
    number = str(where.line)
    line, start, end = _window(line, start, end, WIDTH_CELLS - len(number) - 3)
    lead = "".join("\t" if letter == "\t" else " " * cells(letter) for letter in line[:start])
    carets = "^" * max(1, sum(1 if letter == "\t" else cells(letter) for letter in line[start:end]))
    gutter = " " * len(number)
    bar = paint("|", _BLUE)
    return [
        f"{gutter} {bar}",
        f"{paint(number, _BLUE)} {bar} {line}",
        f"{gutter} {bar} {lead}{paint(carets, _RED)}",
    ]


def _window(line: str, start: int, end: int, width: int) -> tuple[str, int, int]:
    """Cut a long line so that what is meant, or its beginning, stays in sight."""
    if _width(line) <= width:
        return line, start, end
    # A third of the window leads up to what is meant; more where the line ends soon after.
    before = max(width // 3, width - 2 - _width(line[start : start + width]))
    first = start
    while first > 0 and before > 0:
        first -= 1
        before -= 1 if line[first] == "\t" else cells(line[first])
    last = first
    room = width - 1 - (1 if first else 0)
    for letter in line[first:]:
        room -= 1 if letter == "\t" else cells(letter)
        if room < 0:
            break
        last += 1
    shown = line[first:last] + (_CUT if last < len(line) else "")
    moved = 1 if first else 0
    return (_CUT if first else "") + shown, start - first + moved, min(end, last) - first + moved


def _width(text: str) -> int:
    return sum(1 if letter == "\t" else cells(letter) for letter in text)


def cells(letter: str) -> int:
    """Return how many columns of a terminal a character takes: 0, 1 or 2."""
    if letter.isascii():
        return 1
    if unicodedata.category(letter) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if unicodedata.east_asian_width(letter) in {"W", "F"} else 1


def visible(text: str, *, keep_tabs: bool = False) -> str:
    """Return the text with what a terminal would obey, or could not print, shown as one mark each."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_mark(letter, keep_tabs=keep_tabs) for letter in text)


def _mark(letter: str, *, keep_tabs: bool) -> str:
    if letter == "\t" and keep_tabs:
        return letter
    if letter < " ":
        return chr(0x2400 + ord(letter))
    if letter == "\x7f":
        return "\u2421"
    if unicodedata.category(letter) in {"Cc", "Cs", "Zl", "Zp"} or letter in _DIRECTION_MARKS:
        return "\ufffd"
    return letter


def _painted(text: str, shade: str) -> str:
    return f"{shade}{text}{_PLAIN}"


def _unpainted(text: str, _shade: str) -> str:
    return text
