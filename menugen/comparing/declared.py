"""What a menu says of each substance in one way to make a drink."""

from collections.abc import Mapping
from typing import NamedTuple

from menugen.comparing.changes import LEVELS
from menugen.facts import Serve

_, DISTILLED_FROM, MAY_CONTAIN, CONTAINS = LEVELS


class DeclaredAs(NamedTuple):
    """How a menu speaks of one substance.

    Attributes:
        level: One of LEVELS.
        word: The menu's word: "almonds".
        heading: The group of the law's list it is shown under.
    """

    level: str = ""
    word: str = ""
    heading: str = ""


NOT_DECLARED = DeclaredAs()


def declared(serve: Serve) -> dict[str, DeclaredAs]:
    """Return how a drink is declared with each substance; none stands at two levels."""
    groups = serve.declaration
    return {
        substance: DeclaredAs(level, word, group.entry_name)
        for level, found in (
            (DISTILLED_FROM, groups.distilled_from),
            (MAY_CONTAIN, groups.may_contain),
            (CONTAINS, groups.contains),
        )
        for group in found
        for substance, word in zip(group.substances, group.words, strict=True)
    }


def words_at(level: str, known: Mapping[str, DeclaredAs]) -> tuple[str, ...]:
    """Return the words of everything that is declared at one level."""
    return tuple(one.word for one in known.values() if one.level == level)
