"""A YAML parser's complaint, said in plain words."""

from typing import Any, NamedTuple


class Words(NamedTuple):
    """A complaint: where in the text it is, and what to say of it."""

    code: str
    message: str
    hints: tuple[str, ...]
    start: int
    end: int


def in_plain_words(fault: Any, text: str, base: int) -> Words:
    """Return what a parser's error means for the person who wrote the file.

    Args:
        fault: A yaml.YAMLError; the C and the Python parser word theirs differently.
        text: The whole file.
        base: Where in it the YAML begins.
    """
    complaint = f"{getattr(fault, 'problem', '') or ''}"
    context = f"{getattr(fault, 'context', '') or ''}"
    at = _index(getattr(fault, "problem_mark", None), text, base)
    opened = _index(getattr(fault, "context_mark", None), text, base, otherwise=at)
    if tab := _tab_in_indent(text, at):
        return Words("tab-indent", "this line is indented with a tab", ("indent with spaces",), *tab)
    code, hints = "yaml-syntax", ()
    message = "the text cannot be read from here on"
    start = at
    if "mapping values are not allowed" in complaint:
        message = "this colon cannot stand here"
        hints = ("put a text that holds a colon in quotes, and indent keys that belong together alike",)
    elif "could not find expected ':'" in complaint:
        message, start = "this line has no colon after its key", opened
        hints = ('write "key: value"',)
    elif "quoted scalar" in context and "end of stream" in complaint:
        message, start = "this quotation mark is never closed", opened
        hints = ("close it with the same mark",)
    elif "escape" in complaint:
        message = "a backslash in double quotes begins a code, and this is none"
        hints = ("use single quotes where a backslash is meant",)
    elif "flow sequence" in context:
        message, start = "this list is never closed, or a comma is missing in it", opened
        hints = ('close it with "]", and put a comma between two values',)
    elif "flow mapping" in context:
        message, start = 'this "{" is never closed, or a comma is missing behind it', opened
        hints = ('close it with "}", and put a comma between two pairs',)
    elif "cannot start any token" in complaint:
        message = f'a text cannot begin with "{text[at : at + 1]}"'
        hints = ("put the text in quotes",)
    elif "block collection" in context or "block sequence" in context:
        message = "the list ends here, but the line is indented as if it went on"
        hints = ('begin every line of one list with "- ", indented alike',)
    elif "block mapping" in context:
        message = "this does not fit the lines above it"
        hints = (
            "indent keys that belong together alike, and put a text that begins with a quote in quotes as a whole",
        )
    elif "document start" in complaint:
        code, message = "several-documents", "a second document begins here"
        hints = ("one file holds one document",)
    elif "directive" in context or "directive" in complaint:
        message = 'a line beginning with "%" cannot stand here'
        hints = ("take it out",)
    elif "block scalar" in context:
        message, start = 'nothing may follow "|" or ">" on this line', opened
        hints = ("begin the text on the next line",)
    end = max(text.find("\n", start), start) if code == "yaml-syntax" and start != at else start + 1
    return Words(code, message, hints, start, end)


def _index(mark: Any, text: str, base: int, otherwise: int = 0) -> int:
    if mark is None:
        return otherwise
    # Both parsers may point past the end, at a line that holds nothing: the last line with something is meant.
    return min(base + int(mark.index), max(len(text.rstrip()) - 1, 0))


def _tab_in_indent(text: str, at: int) -> tuple[int, int] | None:
    start = text.rfind("\n", 0, at) + 1
    indent = text[start : len(text) - len(text[start:].lstrip(" \t"))]
    if "\t" not in indent:
        return None
    tab = start + indent.index("\t")
    return tab, tab + 1
