"""The order keys stand in, for each kind of file."""

from collections.abc import Sequence
from typing import Literal

from menugen.reading.forms.event_form import EventForm, SectionForm
from menugen.reading.forms.house_form import HouseForm
from menugen.reading.forms.refusal import known_keys
from menugen.reading.forms.spec_form import SpecForm
from menugen.reading.forms.stock_form import StockForm
from menugen.records import Role
from menugen.tidying.layout import Document, Entry, Listing

Kind = Literal["house", "spec", "stock", "event"]

_ROLES = frozenset(role.value for role in Role)


def _first(*keys: str, then: Sequence[str]) -> tuple[str, ...]:
    return (*keys, *(key for key in then if key not in keys))


_SPEC = tuple(known_keys(SpecForm))
_STOCK = _first("aliases", "kind", then=tuple(known_keys(StockForm)))
_EVENT = tuple(known_keys(EventForm))
_SECTION = (*(key for key in known_keys(SectionForm) if key != "drinks"), "drinks")
_GLASS = ("brim", "wash line", "profile")
_HOUSE = _first(
    *("name", "region", "currency", "languages", "ounce", "theme", "contact", "specs", "stock", "events"),
    then=tuple(known_keys(HouseForm)),
)
"""The order of the forms that read the files, so that a key is never in one and not in the other."""


def put_in_order(document: Document, kind: Kind) -> None:
    """Order the keys of a document, in place. Keys that are not known here stay behind the others, as they stood.

    The lines of a spec keep the order they were written in, whatever their role: guests read it as what the drink is
    made with. So do drinks, sections, swaps and the lines of stock.
    """
    top = document.top
    if kind == "stock":
        for entry in top.entries:
            _order(entry, _STOCK)
        return
    _sort(top, {"house": _HOUSE, "spec": _SPEC, "event": _EVENT}[kind])
    for entry in top.entries:
        if kind == "house" and entry.name == "glasses" and isinstance(entry.value, Listing):
            for glass in entry.value.entries:
                _order(glass, _GLASS)
        if kind == "event" and entry.name == "menu" and isinstance(entry.value, Listing):
            for section in entry.value.entries:
                _order(section, _SECTION)


def _order(entry: Entry, keys: Sequence[str]) -> None:
    if isinstance(entry.value, Listing) and entry.value.keyed:
        _sort(entry.value, keys)


def _sort(listing: Listing, keys: Sequence[str]) -> None:
    places = {key: place for place, key in enumerate(keys)}
    roles = [entry.name for entry in listing.entries if entry.name in _ROLES]
    first_role = min((places[role] for role in roles if role in places), default=0)

    def place(entry: Entry) -> float:
        if entry.name == "garnish" and roles[-1:] == ["garnish"] and "ice" in places:
            # Put on last, and read last: behind the glass and the ice.
            return places["ice"] + 0.5
        return first_role if entry.name in _ROLES else places.get(entry.name, len(places))

    listing.entries.sort(key=place)
