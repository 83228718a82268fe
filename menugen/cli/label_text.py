"""What the labels of a drink say, in words and as data; what no label has told yet is never called clean."""

from collections.abc import Iterable, Sequence
from typing import Any

from menugen.facts import Serve
from menugen.regions import Declaration, Declared

NOTHING_DECLARED = "none declared on the labels"


def words_of(items: Iterable[Declared]) -> list[str]:
    """Return the menu words of what is declared, in the order of the law's list."""
    return [word for item in items for word in item.words]


def distilled_words(declaration: Declaration) -> list[str]:
    """Return the words for what spirits in a drink were distilled from, where the law does not exempt it."""
    return [*declaration.distilled_words, *declaration.distilled_said]


def also_named(declaration: Declaration) -> list[str]:
    """Return what labels name and no law here lists, as typed: "mango", "perhaps chestnut"."""
    return [*declaration.said, *(f"perhaps {word}" for word in declaration.may_said)]


def not_read(names: Sequence[str]) -> str:
    """Return "not known: the label of gin has not been read"."""
    if len(names) == 1:
        return f"not known: the label of {names[0]} has not been read"
    return f"not known: the labels of {', '.join(names[:-1])} and {names[-1]} have not been read"


def contains_words(serve: Serve) -> str:
    """Return what a drink contains, as far as its labels have been read."""
    words = ", ".join(words_of(serve.declaration.contains))
    if not serve.unread:
        return words or NOTHING_DECLARED
    return not_read(serve.unread) + (f"; the labels read say {words}" if words else "")


def contains_phrase(serve: Serve) -> str:
    """Return the same as a phrase within a line: "contains eggs"."""
    return ("what it contains is " if serve.unread else "contains ") + contains_words(serve)


def label_data(serve: Serve) -> dict[str, Any]:
    """Return the same as plain data: None for a list that an unread label could add to."""
    declared = serve.declaration
    contains, may_contain = words_of(declared.contains), words_of(declared.may_contain)
    return {
        "contains": None if serve.unread else contains,
        "may_contain": None if serve.unread else may_contain,
        "distilled_from": None if serve.unread else distilled_words(declared),
        "also_named": list(declared.said),
        "also_warned_of": list(declared.may_said),
        "unread": list(serve.unread),
        "labels_read_say": {
            "contains": contains,
            "may_contain": may_contain,
            "distilled_from": distilled_words(declared),
        },
    }
