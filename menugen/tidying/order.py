"""The order keys stand in, for each kind of file."""

from collections.abc import Sequence
from typing import Literal

from menugen.reading.forms.event_form import EventForm, SectionForm
from menugen.reading.forms.house_form import HouseForm
from menugen.reading.forms.refusal import known_keys
from menugen.reading.forms.spec_form import SpecForm
from menugen.reading.keys import STOCK
from menugen.records import Role
from menugen.tidying.layout import Document, Entry, Listing, Scalar

Kind = Literal["house", "spec", "stock", "event"]

_ROLES = frozenset(role.value for role in Role)


def _first(*keys: str, then: Sequence[str]) -> tuple[str, ...]:
    return (*keys, *(key for key in then if key not in keys))


_SPEC = tuple(known_keys(SpecForm))
_STOCK = STOCK.names()
_EVENT = tuple(known_keys(EventForm))
_SECTION = (*(key for key in known_keys(SectionForm) if key != "drinks"), "drinks")
_HOUSE = _first(
    *(
        "name",
        "region",
        "currency",
        "languages",
        "ounce",
        "theme",
        "contact",
        "cube",
        "large cube",
        "specs",
        "stock",
        "events",
    ),
    then=tuple(known_keys(HouseForm)),
)
_WITHIN: dict[Kind, dict[str, tuple[str, ...]]] = {
    "house": {"glasses": ("brim", "wash line", "profile")},
    "spec": dict.fromkeys(_ROLES, ("pour", "as", "note")),
    "event": {"menu": _SECTION},
}
"""The order of the forms that read the files, so that a key is never in one and not in the other."""


def put_in_order(document: Document, kind: Kind) -> None:
    """Order the keys of a document, in place. Keys that are not known here stay behind the others, as they stood.

    The lines of a spec keep the order they were written in, whatever their role: guests read it as what the drink is
    made with. So do drinks, sections and swaps. The lines of stock, and the drinks that are off, have no order of their
    own and stand by the alphabet, so that two people who add one each seldom add it at the same place.
    """
    top = document.top
    if kind == "stock":
        for entry in top.entries:
            _order(entry, _STOCK)
        _by_alphabet(top, document.touched)
        return
    _sort(top, {"house": _HOUSE, "spec": _SPEC, "event": _EVENT}[kind])
    for entry in top.entries:
        keys = _WITHIN[kind].get(entry.name)
        if keys is not None and isinstance(entry.value, Listing):
            for inner in entry.value.entries:
                _order(inner, keys)
        if kind == "event" and entry.name == "off" and isinstance(entry.value, Listing):
            _by_alphabet(entry.value, None)


def _by_alphabet(listing: Listing, held: Entry | None) -> None:
    """Put entries in the order of their words, within groups: a comment on a line of its own begins one.

    It may be a heading, and what stands under it stays under it. One that touches its entry may speak of that entry
    alone, which then stays at the head of the group.

    Args:
        listing: Keys, or items that are words.
        held: An entry that stays first.
    """
    groups: list[list[Entry]] = []
    for entry in listing.entries:
        if entry.above or not groups:
            groups.append([])
        groups[-1].append(entry)
    for group in groups:
        first = group[0]
        heading = [] if first.above[-1:] != [""] else first.above
        is_held = first is held or (bool(first.above) and not heading)
        if heading:
            first.above = []
        group[is_held:] = sorted(group[is_held:], key=_word)
        if heading:
            group[0].above = heading
    listing.entries = [entry for group in groups for entry in group]


def _word(entry: Entry) -> tuple[str, str]:
    word = entry.name or (entry.value.value if isinstance(entry.value, Scalar) else "")
    return word.casefold(), word


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
