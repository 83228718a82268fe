"""A YAML text as its parts: keys, values and comments, each as it was typed, so that it can be set anew."""

from dataclasses import dataclass, field

WHITE = " \t\r\n"
"""What YAML passes over at the ends of a line; a space of another kind is part of what somebody wrote."""

Comments = list[str]
"""Comments on lines of their own, a line each; an empty text is a blank line."""


@dataclass(slots=True)
class Scalar:
    """One value.

    Attributes:
        text: As typed, quotes and all; of a block ("|", ">") its first line.
        value: What it means.
        style: Of the YAML: "" is plain; a quote; "|" or ">".
        block: The lines of a block, without the indentation they share.
    """

    text: str
    value: str
    style: str
    block: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Listing:
    """A list, or the keys of a mapping.

    Attributes:
        entries: In order.
        keyed: Whether it is a mapping.
        flow: Whether it was written in brackets.
    """

    entries: "list[Entry]"
    keyed: bool
    flow: bool


Value = Scalar | Listing


@dataclass(slots=True)
class Entry:
    """One key with its value, or one item of a list, and the comments that belong to it.

    Attributes:
        key: As typed; None in a list.
        name: What the key means; empty in a list.
        value: What stands behind it.
        above: Comments before it; a blank line at their end parts them from it.
        beside: The comment behind it; empty where there is none.
        inside: Comments under it that are indented deeper than it is.
        below: Comments under it that are indented as it is.
    """

    key: str | None
    name: str
    value: Value
    above: Comments = field(default_factory=list)
    beside: str = ""
    inside: Comments = field(default_factory=list)
    below: Comments = field(default_factory=list)


@dataclass(slots=True)
class Document:
    """A whole text.

    Attributes:
        head: Comments at the top, which speak of the whole and stay there.
        touched: The entry that stands right under them, without a blank line; None where there is one.
        top: The mapping.
        tail: Comments at the end that belong to nothing.
    """

    head: Comments
    touched: Entry | None
    top: Listing
    tail: Comments
