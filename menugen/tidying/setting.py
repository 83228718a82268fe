"""The parts of a YAML text set anew: two spaces a level, one item a line, short lists of words in brackets."""

from collections.abc import Iterable

from menugen.records import Role
from menugen.tidying.layout import Document, Entry, Listing, Scalar, Value

WIDTH = 100
"""A list in brackets that would be longer is set an item a line."""

IN_BRACKETS = frozenset(
    {
        "aliases",
        "cautions",
        "contains",
        "distilled from",
        "equipment",
        "languages",
        "may contain",
        "method",
    }
)
"""Lists of a few words, which read best in one line."""

A_LINE_EACH = frozenset({"drinks", "menu", "off", "rules", *(role.value for role in Role)})
"""Lists that people change an item at a time."""

_UNSAFE_IN_BRACKETS = (",", "[", "]", "{", "}", ": ", " #")


def set_document(document: Document, *, spaced: str) -> str:
    """Return a document as text.

    Args:
        document: Its parts.
        spaced: Where blank lines stand between the keys at the top: "never", "always", or "big" for those that take
            more than one line.
    """
    out: list[str] = [*document.head, ""] if document.head else []
    above: Entry | None = None
    for entry in document.top.entries:
        if above is not None and (spaced == "always" or (spaced == "big" and _stand_apart(above, entry))):
            out.append("")
        out += _entry_lines(entry, 0, keyed=True)
        above = entry
    if document.tail:
        out += ["", *document.tail]
    return "\n".join(out) + "\n"


def _stand_apart(above: Entry, entry: Entry) -> bool:
    """Return whether a blank line parts two keys: one of them takes several lines, or the second has a comment."""
    return bool(entry.above or any(_value_lines(one, 0, keyed=True)[1] for one in (above, entry)))


def _entry_lines(entry: Entry, indent: int, *, keyed: bool) -> list[str]:
    """Return the lines of one key, or of one item of a list, comments included."""
    pad = " " * indent
    lead = f"{entry.key}:" if keyed else "-"
    out = [f"{pad}{comment}" if comment else "" for comment in entry.above]
    first, rest = _value_lines(entry, indent, keyed=keyed)
    line = f"{pad}{lead} {first}".rstrip()
    out.append(f"{line}  {entry.beside}" if entry.beside else line)
    out += rest
    out += [f"{pad}{comment}" if comment else "" for comment in entry.below]
    return out


def _value_lines(entry: Entry, indent: int, *, keyed: bool) -> tuple[str, list[str]]:
    """Return what stands behind a key or a dash, and the lines under it."""
    value, pad = entry.value, " " * (indent + 2)
    if isinstance(value, Scalar):
        return _scalar_lines(value, pad)
    flow = in_brackets(value)
    if (
        flow is not None
        and _wants_brackets(entry, value)
        and indent + len(entry.key or "") + len(flow) <= WIDTH
    ):
        return flow, []
    if not value.entries:
        return flow or "", []
    if not keyed and value.keyed and not entry.beside:
        return _under_a_dash(value, indent)
    return "", [
        line for child in value.entries for line in _entry_lines(child, indent + 2, keyed=value.keyed)
    ]


def _under_a_dash(value: Listing, indent: int) -> tuple[str, list[str]]:
    """Return a mapping in a list: its first key stands behind the dash."""
    lines = [line for child in value.entries for line in _entry_lines(child, indent + 2, keyed=True)]
    if value.entries[0].above:
        return "", lines
    return lines[0].lstrip(" "), lines[1:]


def _scalar_lines(value: Scalar, pad: str) -> tuple[str, list[str]]:
    if value.style in ("|", ">"):
        return value.text, [f"{pad}{line}" if line.strip() else "" for line in value.block]
    if "\n" not in value.text:
        return value.text, []
    if value.style is None and "\n" not in value.value:
        return value.value, []
    first, *others = value.text.split("\n")
    return first.rstrip(), [f"{pad}{line.strip()}" if line.strip() else "" for line in others]


def _wants_brackets(entry: Entry, value: Listing) -> bool:
    """Return whether a list stands in brackets: as its key asks for, else as it was written."""
    if not value.entries or entry.name in IN_BRACKETS:
        return True
    if entry.key is not None and value.keyed:
        return False
    return value.flow and entry.name not in A_LINE_EACH


def in_brackets(value: Value) -> str | None:
    """Return a value in one line, in brackets; None where comments or its letters do not let it be."""
    if isinstance(value, Scalar):
        unsafe = value.style is None and any(mark in value.text for mark in _UNSAFE_IN_BRACKETS)
        return None if unsafe or "\n" in value.text or value.style in ("|", ">") else value.text
    parts: list[str] = []
    for entry in value.entries:
        inner = in_brackets(entry.value)
        if inner is None or _has_comment(entry) or (not inner and not value.keyed):
            return None
        parts.append(f"{entry.key}: {inner}".rstrip() if value.keyed else inner)
    return ("{%s}" if value.keyed else "[%s]") % ", ".join(parts)


def _has_comment(entry: Entry) -> bool:
    return bool(entry.above or entry.beside or entry.below)


def all_comments(document: Document) -> list[str]:
    """Return every comment of a document, sorted: tidying may move them and must not lose one."""
    found = [*document.head, *document.tail, *_comments(document.top.entries)]
    return sorted(comment for comment in found if comment)


def _comments(entries: Iterable[Entry]) -> list[str]:
    found: list[str] = []
    for entry in entries:
        found += [*entry.above, entry.beside, *entry.below]
        if isinstance(entry.value, Listing):
            found += _comments(entry.value.entries)
    return found
