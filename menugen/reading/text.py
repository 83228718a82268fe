"""From bytes to text: encoding, line ends, characters and marks no file of ours may hold."""

import codecs
import re
from typing import NamedTuple

from menugen.problems import Problem, Span, error
from menugen.reading.files import LARGEST_BYTES

# Overrides of writing direction (U+202A to U+202E) are among them: they make a name read as another.
FORBIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\ufffe\uffff\ud800-\udfff]"
)
_MERGE_MARK = re.compile(r"^(?:<{7}|\|{7}|>{7})(?= |$)", re.MULTILINE)
"""What git writes into a file that two people changed.

Source: the manual of git merge, "How conflicts are presented"; from memory.

The line of "=" between the two sides is not looked for: under a line of Markdown it makes a heading.
"""
_UTF_16_OR_32 = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")


class Decoded(NamedTuple):
    """A file's text, lines divided by line feeds, no byte-order mark; with a problem it is only for show."""

    text: str
    problem: Problem | None


def decode(content: bytes, file: str) -> Decoded:
    """Return the text of a file, or the one problem that keeps it from being read at all."""
    if content.startswith(_UTF_16_OR_32):
        text = content.decode("utf-16", errors="replace")
        return Decoded(
            _plain_lines(text),
            error(
                "not-utf8",
                "this file is written in UTF-16",
                Span(file, 1, 1, 1),
                "save it again with the encoding UTF-8",
            ),
        )
    if len(content) > LARGEST_BYTES:
        return Decoded(
            "",
            error(
                "file-too-large",
                f"this file is larger than {LARGEST_BYTES // 1024**2} MiB",
                Span(file, 1, 1, 1),
                "only text written by hand belongs here; split it, or keep it elsewhere",
            ),
        )
    mark = len(codecs.BOM_UTF8) if content.startswith(codecs.BOM_UTF8) else 0
    try:
        text = content[mark:].decode("utf-8")
    except UnicodeDecodeError as fault:
        shown = _plain_lines(content[mark:].decode("utf-8", errors="replace"))
        return Decoded(shown, _not_utf8(content, mark, mark + fault.start, file))
    text = _plain_lines(text)
    if found := FORBIDDEN.search(text):
        return Decoded(text, _forbidden(text, found, file))
    if found := _MERGE_MARK.search(text):
        return Decoded(text, merge_unfinished(text, found, file))
    return Decoded(text, None)


def span_of(text: str, file: str, start: int, end: int) -> Span:
    """Return the span of text[start:end], cut at the end of its first line."""
    line_start = text.rfind("\n", 0, start) + 1
    line_end = text.find("\n", start)
    stop = min(end, line_end if line_end >= 0 else len(text))
    line = text.count("\n", 0, start) + 1
    return Span(file, line, start - line_start + 1, max(stop, start) - line_start + 1)


def merge_unfinished(text: str, found: re.Match[str], file: str) -> Problem:
    """Return the problem of a file that holds one of git's marks."""
    line_end = text.find("\n", found.start())
    return error(
        "merge-unfinished",
        "a merge is not finished: git left this mark where two people changed the same lines",
        span_of(text, file, found.start(), line_end if line_end >= 0 else len(text)),
        'keep what holds of both sides, and take out the lines of "<", "=" and ">"',
    )


def _plain_lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _not_utf8(content: bytes, mark: int, at: int, file: str) -> Problem:
    before = _plain_lines(content[mark:at].decode("utf-8"))
    column = len(before) - (before.rfind("\n") + 1) + 1
    return error(
        "not-utf8",
        f"byte {at + 1} of this file (0x{content[at]:02x}) is not UTF-8",
        Span(file, before.count("\n") + 1, column, column + 1),
        "save it again with the encoding UTF-8",
    )


def _forbidden(text: str, found: re.Match[str], file: str) -> Problem:
    return error(
        "control-character",
        f"an invisible character (U+{ord(found.group()):04X}) stands here",
        span_of(text, file, found.start(), found.end()),
        "delete it; it often comes with text that was copied from elsewhere",
    )
