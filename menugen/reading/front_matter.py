"""The two halves of a spec file: YAML between "---" lines, then Markdown, public first and private last."""

import re
from typing import NamedTuple

from menugen.problems import Problem, Span, error, near
from menugen.reading.comments import without_comments
from menugen.reading.text import span_of

_CLOSING = re.compile(r"^---[ \t]*$", re.MULTILINE)
_FENCE = re.compile(r" {0,3}(?P<mark>`{3,}|~{3,})(?P<info>.*)")
_HEADING = re.compile(r" {0,3}#{1,6}[ \t]+bar[ \t]+notes[ \t]*#*[ \t]*", re.IGNORECASE)
_DECORATION = re.compile(r"[#*_:=\s-]+")
_MEANT = (
    "bar notes",
    "bar note",
    "barnotes",
    "notes for bar",
    "notes for the bar",
    "staff notes",
    "private notes",
)


class SpecText(NamedTuple):
    """A spec file, divided.

    Attributes:
        yaml_start: Where the front matter begins in the text.
        yaml_end: Where it ends: the start of its closing line.
        guest_notes: Markdown for guests, trimmed and without comments.
        bar_notes: Markdown under "## Bar notes", trimmed. Private.
        comments: What stood above them as comments. Private.
    """

    yaml_start: int
    yaml_end: int
    guest_notes: str
    bar_notes: str
    comments: tuple[str, ...]


def divide(text: str, file: str) -> tuple[SpecText | None, list[Problem]]:
    """Divide a spec file; None where it has no front matter to read."""
    first, newline, _ = text.partition("\n")
    if first.rstrip() != "---" or not newline:
        return None, [
            error(
                "front-matter-missing",
                'this spec does not begin with a line "---"',
                Span(file, 1, 1, len(first) + 1),
                'write "---", then "name:", "pour:" and "glass:", then "---" again, then the notes',
            )
        ]
    start = len(first) + 1
    end = _closing_line(text, start)
    if end is None:
        return None, [
            error(
                "front-matter-unclosed",
                'the part that begins with "---" is never closed',
                Span(file, 1, 1, 4),
                'write a line "---" between the measures and the notes',
            )
        ]
    body = text.find("\n", end) + 1 or len(text)
    split, problems = _bar_notes(text, file, body)
    notes_end = text.find("\n", split) + 1 or len(text)
    noted = without_comments(text[body:split])
    if noted.fault is not None:
        fault = noted.fault.fault
        span = span_of(text, file, body + noted.fault.start, body + noted.fault.end)
        problems.append(error(fault.code, fault.message, span, fault.hint))
    return SpecText(start, end, noted.text, text[notes_end:].strip(), noted.comments), problems


def front_matter_range(text: str) -> tuple[int, int]:
    """Return where the YAML of a spec file lies, as far as it can be told."""
    start = text.find("\n") + 1
    end = _closing_line(text, start)
    return start, len(text) if end is None else end


def _closing_line(text: str, start: int) -> int | None:
    found = _CLOSING.search(text, start)
    return found.start() if found else None


def _bar_notes(text: str, file: str, body: int) -> tuple[int, list[Problem]]:
    """Return where the private notes begin, and what may have been meant to begin them."""
    problems: list[Problem] = []
    fence = ""
    fence_start = at = body
    while at < len(text):
        newline = text.find("\n", at)
        line_end = newline if newline >= 0 else len(text)
        line = text[at:line_end]
        if found := _FENCE.fullmatch(line):
            if not fence:
                fence, fence_start = found["mark"], at
            elif found["mark"].startswith(fence) and not found["info"].strip():
                fence = ""
        elif not fence and _HEADING.fullmatch(line):
            return at, problems
        elif not fence and _looks_meant(line):
            problems.append(
                error(
                    "bar-notes-heading",
                    f'"{line.strip()}" does not begin the bar notes: guests would read what follows',
                    span_of(text, file, at, line_end),
                    'write "## Bar notes"',
                )
            )
        at = line_end + 1
    if fence:
        problems.append(
            error(
                "fence-unclosed",
                "this block of plain text is never closed: guests would read the bar notes in it",
                span_of(text, file, fence_start, len(text)),
                f'close it with a line "{fence}"',
            )
        )
    return len(text), problems


def _looks_meant(line: str) -> bool:
    if len(line) > 40:
        return False
    words = _DECORATION.sub(" ", line).strip().casefold()
    bare = words == line.strip().casefold()
    return words in _MEANT or (
        not bare and bool(words) and "note" in words and bool(near(words, ("bar notes",)))
    )
