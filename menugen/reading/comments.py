r"""Comments in notes: `<!-- like this -->` is for whoever writes, in one line or several, and guests read none of it.

It is one wherever it stands, within plain text as well: what somebody has hidden is never shown for a mark too many.
A backslash before it (`\<!--`) makes it words like any others.
"""

import re
from typing import NamedTuple

from menugen.measures import Fault

OPEN, CLOSE = "<!--", "-->"

_NOT_ESCAPED = r"(?<!\\)(?:\\\\)*"
_OPEN = re.compile(_NOT_ESCAPED + r"(?P<mark><!--)")
_MEANT = re.compile(_NOT_ESCAPED + r"(?P<mark><![ \t-]|<[ \t]+!-|<--|--[ \t]*>|-[ \t]+->|--!>)")
"""What is nearly the beginning or the end of a comment, where none is left."""


class CommentFault(NamedTuple):
    """A comment that is not one, and where in the text."""

    start: int
    end: int
    fault: Fault


class Commented(NamedTuple):
    """A note without its comments.

    Attributes:
        text: What guests read, trimmed.
        comments: What they do not, trimmed, in order.
        fault: The first thing wrong with a comment; None where nothing is.
    """

    text: str
    comments: tuple[str, ...]
    fault: CommentFault | None


def without_comments(text: str) -> Commented:
    """Return a note without its comments; of one that is never closed, all that follows is left out."""
    comments: list[str] = []
    shown: list[str] = []
    fault: CommentFault | None = None
    at = 0
    line_begins = True
    while found := _OPEN.search(text, at):
        start, inside = found.start("mark"), found.end("mark")
        fault = fault or _meant(text, at, start)
        end = text.find(CLOSE, inside)
        another = _OPEN.search(text, inside, end if end >= 0 else len(text)) is not None
        if end < 0 or another:
            fault = fault or CommentFault(start, inside, _unclosed(before_another=another))
        before = text[at:start]
        line_begins = (line_begins or "\n" in before) and not before.rpartition("\n")[2].strip()
        shown.append(before)
        comments.append(text[inside : end if end >= 0 else len(text)].strip())
        at = _after(shown, text, end + len(CLOSE) if end >= 0 else len(text), line_begins=line_begins)
    fault = fault or _meant(text, at, len(text))
    shown.append(text[at:])
    return Commented("".join(shown).strip(), tuple(filter(None, comments)), fault)


def _after(shown: list[str], text: str, at: int, *, line_begins: bool) -> int:
    """Return where a note goes on behind a comment that ends there, without the gap it leaves."""
    rest = at
    while text[rest : rest + 1] in (" ", "\t"):
        rest += 1
    line_ends = text[rest : rest + 1] in ("", "\n")
    if line_ends:
        while shown and not (kept := shown[-1].rstrip(" \t")):
            shown.pop()
        if shown:
            shown[-1] = kept
    if line_begins and line_ends:
        return rest + 1
    if line_begins or line_ends or (shown and shown[-1][-1:] in (" ", "\t")):
        return rest
    return at


def _meant(text: str, start: int, end: int) -> CommentFault | None:
    """Return the first mark, in a stretch without comments, by which a comment may have been meant."""
    found = _MEANT.search(text, start, end)
    if found is None:
        return None
    mark = found["mark"]
    at = found.start("mark")
    ends = mark.endswith(">")
    fault = Fault(
        "comment-form",
        f'"{mark.strip()}" {"ends" if ends else "begins"} no comment, and guests would read what '
        f"{'comes before it' if ends else 'follows it'}",
        'write "<!--" before what guests are not to read and "-->" after it; what they are to read, with a '
        f'backslash before it: "\\{mark.strip()}"',
        mark.rstrip(),
    )
    return CommentFault(at, at + len(mark.rstrip()), fault)


def _unclosed(*, before_another: bool) -> Fault:
    where = "before the next one begins" if before_another else "anywhere below"
    return Fault(
        "comment-unclosed",
        f"this comment is not closed {where}, and guests would miss all that follows it",
        f'write "{CLOSE}" where it ends',
        OPEN,
    )
