"""The order keys stand in, for each kind of file: that of the table of keys it is read by."""

from typing import Literal

from menugen.reading import EVENT, HOUSE, LOOK, SPEC, STOCK, Table
from menugen.records import Role
from menugen.tidying.layout import Document, Entry, Listing, Scalar

Kind = Literal["house", "spec", "stock", "event", "theme"]

_ROLES = frozenset(role.value for role in Role)
_TABLES: dict[Kind, Table] = {"house": HOUSE, "spec": SPEC, "stock": STOCK, "event": EVENT, "theme": LOOK}


def put_in_order(document: Document, kind: Kind) -> None:
    """Order the keys of a document, in place. Keys that are not known here stay behind the others, as they stood.

    The lines of a spec keep the order they were written in, whatever their role: guests read it as what the drink is
    made with. So do drinks, sections and swaps. The lines of stock, and the drinks that are off, have no order of their
    own and stand by the alphabet, so that two people who add one each seldom add it at the same place.
    """
    top = document.top
    table = _TABLES[kind]
    if kind == "stock":
        for entry in top.entries:
            _order(entry, table)
        _by_alphabet(top, document.touched)
        return
    _sort(top, table)
    for entry in top.entries:
        if kind == "event" and entry.name == "off" and isinstance(entry.value, Listing):
            _by_alphabet(entry.value, None)


def is_by_table(kind: Kind, name: str) -> bool:
    """Return whether the keys that stand behind a key are those of a table, and not the user's own names."""
    key = _TABLES[kind].by_name.get(name)
    return key is not None and key.value.table is not None and not key.value.is_by_name


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


def _order(entry: Entry, table: Table, *, is_by_name: bool = False) -> None:
    """Order the keys of a mapping, of each mapping in a list, or of each that stands behind a name of the user's."""
    if not isinstance(entry.value, Listing):
        return
    if entry.value.keyed and not is_by_name:
        _sort(entry.value, table)
        return
    for inner in entry.value.entries:
        _order(inner, table, is_by_name=is_by_name and not entry.value.keyed)


def _sort(listing: Listing, table: Table) -> None:
    """Order keys, and the keys inside what stands behind them."""
    places = {key: place for place, key in enumerate(table.names())}
    roles = [entry.name for entry in listing.entries if entry.name in _ROLES]
    first_role = min((places[role] for role in roles if role in places), default=0)

    def place(entry: Entry) -> float:
        if entry.name == "garnish" and roles[-1:] == ["garnish"] and "ice" in places:
            # Put on last, and read last: behind the glass and the ice.
            return places["ice"] + 0.5
        return first_role if entry.name in _ROLES else places.get(entry.name, len(places))

    listing.entries.sort(key=place)
    for entry in listing.entries:
        key = table.by_name.get(entry.name)
        if key is not None and key.value.table is not None:
            _order(entry, key.value.table, is_by_name=key.value.is_by_name)
