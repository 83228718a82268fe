"""Where a bar keeps what it pours, how cold that is, and what holds gas."""

from functools import cache
from typing import Any, NamedTuple

from menugen.reference.ingredients import ReferenceIngredient
from menugen.reference.package_data import package_data

PLACES = ("fridge", "room", "freezer")
"""Every place; what is of no known kind is kept in the room."""


class KeptAt(NamedTuple):
    """A place, how cold it is and where that is known from."""

    place: str
    celsius: float
    source: str


def kept_at(place: str) -> KeptAt:
    """Return how cold a place is.

    Raises:
        KeyError: No such place.
    """
    known = _table()["places"][place]
    return KeptAt(place, float(known["c"]), known["source"])


def usually_kept(known: ReferenceIngredient | None) -> KeptAt:
    """Return where a kind is usually kept.

    Args:
        known: The kind; None where it is not known.
    """
    table = _table()
    said = None if known is None else table["kinds"].get(known.id) or table["classes"].get(known.kind)
    if said is None:
        return kept_at("room")._replace(source="its kind is not known, so it is taken for the shelf")
    place, _how, source = said
    return kept_at(place)._replace(source=source)


def holds_gas(known: ReferenceIngredient | None) -> bool:
    """Return whether a kind holds gas; one that is not known is taken to hold none."""
    if known is None:
        return False
    bubbles = _table()["bubbles"]
    return known.kind in bubbles["classes"] and known.id not in bubbles["but_not"]


@cache
def _table() -> Any:
    return package_data("kept")
