"""A YAML parser's complaint, said in plain words."""

from typing import Any, NamedTuple


class Words(NamedTuple):
    """A complaint: where in the text it is, and what to say of it."""

    code: str
    message: str
    hint: str
    start: int
    end: int


class _Rule(NamedTuple):
    """What a complaint means; the first rule that fits is taken.

    Attributes:
        complaint: Words of the parser's own complaint; empty fits all.
        context: Words of what it was doing then; empty fits all.
        at_opening: Whether the place that was opened is meant, not where the parser gave up.
        message: What to say.
        hint: What to write instead.
    """

    complaint: str
    context: str
    at_opening: bool
    message: str
    hint: str


_RULES = (
    _Rule(
        "mapping values are not allowed",
        "",
        False,
        "this colon cannot stand here",
        "put a text that holds a colon in quotes, and indent keys that belong together alike",
    ),
    _Rule(
        "could not find expected ':'", "", True, "this line has no colon after its key", 'write "key: value"'
    ),
    _Rule(
        "end of stream",
        "quoted scalar",
        True,
        "this quotation mark is never closed",
        "close it with the same mark",
    ),
    _Rule(
        "escape",
        "",
        False,
        "a backslash in double quotes begins a code, and this is none",
        "use single quotes where a backslash is meant",
    ),
    _Rule(
        "",
        "flow sequence",
        True,
        "this list is never closed, or a comma is missing in it",
        'close it with "]", and put a comma between two values',
    ),
    _Rule(
        "",
        "flow mapping",
        True,
        'this "{" is never closed, or a comma is missing behind it',
        'close it with "}", and put a comma between two pairs',
    ),
    _Rule(
        "cannot start any token",
        "",
        False,
        "a text cannot begin with this character",
        "put the text in quotes",
    ),
    _Rule(
        "",
        "block collection",
        False,
        "the list breaks off here",
        'begin every line of one list with "- ", indented alike',
    ),
    _Rule(
        "",
        "block sequence",
        False,
        "the list breaks off here",
        'begin every line of one list with "- ", indented alike',
    ),
    _Rule(
        "",
        "block mapping",
        False,
        "this does not fit the lines above it",
        "indent keys that belong together alike, and let quotes enclose a text from end to end",
    ),
    _Rule("", "directive", True, 'a line that begins with "%" cannot stand here', "take it out"),
    _Rule(
        "",
        "block scalar",
        True,
        'only a line break may follow "|" or ">"',
        "begin the text on the next line",
    ),
)


def in_plain_words(fault: Any, text: str, base: int) -> Words:
    """Return what a parser's error means for the person who wrote the file.

    Args:
        fault: A yaml.YAMLError; the C and the Python parser word theirs differently.
        text: The whole file.
        base: Where in it the YAML begins.
    """
    complaint, context = str(getattr(fault, "problem", "")), str(getattr(fault, "context", ""))
    at = _index(getattr(fault, "problem_mark", None), text, base, otherwise=base)
    opened = _index(getattr(fault, "context_mark", None), text, base, otherwise=at)
    if tab := _tab_in_indent(text, at):
        return Words("tab-indent", "this line is indented with a tab", "indent with spaces", *tab)
    if "document start" in complaint:
        return Words("several-documents", "a second document begins here", "one file holds one", at, at + 1)
    if "escape" in complaint:
        # One parser points at the backslash, the other at the letter behind it.
        at = max(text.rfind("\\", base, at + 1), base)
    for rule in _RULES:
        if rule.complaint in complaint and rule.context in context:
            start = opened if rule.at_opening else at
            return Words("yaml-syntax", rule.message, rule.hint, start, _end(text, start, rule))
    return Words("yaml-syntax", "the text cannot be read from here on", "put it in quotes", at, at + 1)


def _end(text: str, start: int, rule: _Rule) -> int:
    """Return where what is meant ends: with the line where it was never closed, else after one character."""
    if not rule.at_opening:
        return start + 1
    line_end = text.find("\n", start)
    return len(text) if line_end < 0 else line_end


def _index(mark: Any, text: str, base: int, otherwise: int) -> int:
    if mark is None:
        return otherwise
    # Both parsers may point past the end, at a line that holds nothing: the last one with something is meant.
    return min(base + int(mark.index), max(len(text.rstrip()) - 1, 0))


def _tab_in_indent(text: str, at: int) -> tuple[int, int] | None:
    start = text.rfind("\n", 0, at) + 1
    indent = text[start : len(text) - len(text[start:].lstrip(" \t"))]
    if "\t" not in indent:
        return None
    tab = start + indent.index("\t")
    return tab, tab + 1
