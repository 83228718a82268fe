"""The parts of a YAML text set anew: two spaces a level, one item a line, short lists of words in brackets.

git takes changes to two lines that touch for one change to both. So what two people may change on the same evening, two
bottles or the prices of two drinks, has a blank line between.
"""

from collections.abc import Iterable
from typing import Literal

from menugen.records import Role
from menugen.tidying.layout import WHITE, Comments, Document, Entry, Listing, Scalar, Value

WIDTH = 100
"""What would be longer in brackets is set an item a line."""

Spaced = Literal["never", "always", "big"]

_ROLES = frozenset(role.value for role in Role)
_LISTS_IN_BRACKETS = frozenset(
    {
        "aliases",
        "cautions",
        "contains",
        "distilled from",
        "fined with",
        "equipment",
        "events",
        "languages",
        "may contain",
        "method",
        "profile",
        "specs",
        "stock",
    }
)
"""Lists of a few words, which read best in one line; all others are changed an item at a time, and stand so."""

_APART = frozenset({"drinks", "menu"})
"""Lists whose items have a blank line between."""

_UNSAFE_IN_BRACKETS = (",", "[", "]", "{", "}", ": ", " #")


def set_document(document: Document, *, spaced: Spaced) -> str:
    """Return a document as text.

    Args:
        document: Its parts.
        spaced: Where blank lines stand between the keys at the top: "never", "always", or "big" for those that take
            more than one line.
    """
    out: list[str] = [*document.head]
    above: Entry | None = None
    for entry in document.top.entries:
        if above is None:
            apart = bool(document.head) and document.touched is not entry
        else:
            apart = (
                spaced == "always" or bool(above.below) or (spaced == "big" and _stand_apart(above, entry))
            )
        out += [""] if apart else []
        out += _entry_lines(entry, 0)
        above = entry
    if document.tail:
        out += ["", *document.tail]
    return "\n".join(out) + "\n"


def _stand_apart(above: Entry, entry: Entry) -> bool:
    """Return whether a blank line parts two keys: one of them takes several lines, or the second has a comment."""
    return bool(entry.above) or any(len(_own_lines(one, 0, "")) > 1 for one in (above, entry))


def _entry_lines(entry: Entry, indent: int, of: str = "") -> list[str]:
    """Return the lines of one key or item, comments included; `of` is the key that it stands under."""
    above = _indented(entry.above, indent)
    if (first := _behind_the_dash(entry)) is not None:
        above += _indented(first.above, indent)
    return above + _own_lines(entry, indent, of)


def _own_lines(entry: Entry, indent: int, of: str) -> list[str]:
    """Return the same without the comments above it."""
    lead = "-" if entry.key is None else f"{entry.key}:"
    first, rest = _value_lines(entry, indent, of)
    line = f"{' ' * indent}{lead} {first}".rstrip(WHITE)
    return [
        f"{line}  {entry.beside}" if entry.beside else line,
        *rest,
        *_indented(entry.inside, indent + 2),
        *_indented(entry.below, indent),
    ]


def _behind_the_dash(entry: Entry) -> Entry | None:
    """Return the first key of a mapping in a list, which stands behind the dash; None where nothing can."""
    value = entry.value
    if entry.key is not None or entry.beside or not isinstance(value, Listing) or not value.keyed:
        return None
    return value.entries[0] if value.entries else None


def _indented(comments: Comments, indent: int) -> list[str]:
    return [f"{' ' * indent}{comment}" if comment else "" for comment in comments]


def _value_lines(entry: Entry, indent: int, of: str) -> tuple[str, list[str]]:
    """Return what stands behind a key or a dash, and the lines under it."""
    value = entry.value
    if isinstance(value, Scalar):
        return _scalar_lines(value, " " * (indent + 2))
    flow = in_brackets(value) if _wants_brackets(entry, value, of) else None
    if flow is not None and indent + len(entry.key or "") + len(flow) <= WIDTH:
        return flow, []
    if not value.entries:
        return flow or "", []
    behind = _behind_the_dash(entry)
    lines: list[str] = []
    above: Entry | None = None
    for child in value.entries:
        if above is not None and (above.below or entry.name in _APART):
            lines.append("")
        lines += (
            _own_lines(child, indent + 2, "")
            if child is behind
            else _entry_lines(child, indent + 2, entry.name)
        )
        above = child
    return (lines[0].lstrip(" "), lines[1:]) if behind else ("", lines)


def _scalar_lines(value: Scalar, pad: str) -> tuple[str, list[str]]:
    if value.style in ("|", ">"):
        return value.text, [f"{pad}{line}" if line.strip(WHITE) else "" for line in value.block]
    if "\n" not in value.text:
        return value.text, []
    lines = [line.strip(WHITE) for line in value.text.split("\n")]
    if not value.style and all(lines):
        return " ".join(lines), []
    first, *others = value.text.split("\n")
    return first.rstrip(WHITE), [f"{pad}{line.strip(WHITE)}" if line.strip(WHITE) else "" for line in others]


def _wants_brackets(entry: Entry, value: Listing, of: str) -> bool:
    """Return whether a list or mapping stands in brackets where it can.

    It does not depend on how it was written: two people's habits would stand side by side.
    """
    if not value.entries:
        return True
    if value.keyed:
        return entry.key is None and of in _ROLES
    return entry.key is None or entry.name in _LISTS_IN_BRACKETS or of == "swap"


def in_brackets(value: Value) -> str | None:
    """Return a value in one line, in brackets; None where comments or its letters do not let it be."""
    if isinstance(value, Scalar):
        unsafe = not value.style and _is_unsafe(value.text)
        return None if unsafe or "\n" in value.text or value.style in ("|", ">") else value.text
    parts: list[str] = []
    for entry in value.entries:
        inner = in_brackets(entry.value)
        if inner is None or _has_comment(entry) or (not inner and not value.keyed):
            return None
        if entry.key is not None and entry.key[:1] not in ("'", '"') and _is_unsafe(entry.key):
            return None
        # Without the space behind the colon, "{gin:}" is one word.
        parts.append(f"{entry.key}: {inner}" if value.keyed else inner)
    return ("{%s}" if value.keyed else "[%s]") % ", ".join(parts)


def _is_unsafe(plain: str) -> bool:
    """Return whether a text without quotes means something else in brackets."""
    return any(mark in plain for mark in _UNSAFE_IN_BRACKETS)


def _has_comment(entry: Entry) -> bool:
    return bool(entry.above or entry.beside or entry.inside or entry.below)


def all_comments(document: Document) -> list[str]:
    """Return every comment of a document, sorted: tidying may move them and must not lose one."""
    found = [*document.head, *document.tail, *_comments(document.top.entries)]
    return sorted(comment for comment in found if comment)


def _comments(entries: Iterable[Entry]) -> list[str]:
    found: list[str] = []
    for entry in entries:
        found += [*entry.above, entry.beside, *entry.inside, *entry.below]
        if isinstance(entry.value, Listing):
            found += _comments(entry.value.entries)
    return found
