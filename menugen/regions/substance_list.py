"""The substances a label can name: their ids, the words menus have for them, their icons."""

from dataclasses import dataclass
from functools import cache

from menugen.regions.data_files import load


@dataclass(frozen=True, slots=True)
class Substance:
    """Something a guest can be allergic to.

    Attributes:
        id: "brazil-nut".
        word: What a menu in English says: "Brazil nuts", "barley (gluten)".
        icon: Name of its icon.
        base: The word where a spirit was distilled from it: "barley".
    """

    id: str
    word: str
    icon: str
    base: str


def substances() -> tuple[str, ...]:
    """Return every known id, in the order they are shown in."""
    return tuple(_table())


def substance(known: str) -> Substance:
    """Return a substance by its id.

    Raises:
        ValueError: The id is not known (a bug upstream: reading has already resolved it).
    """
    found = _table().get(known)
    if found is None:
        message = f"not a substance: {known!r}"
        raise ValueError(message)
    return found


@cache
def _table() -> dict[str, Substance]:
    entries = load("substances.yaml")["substances"]
    return {
        key: Substance(key, entry["word"], entry["icon"], entry.get("base", entry["word"]))
        for key, entry in entries.items()
    }
