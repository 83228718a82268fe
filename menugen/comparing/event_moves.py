"""What an event, or the house itself, says differently: as phrases.

Told is what is served, to whom, where, when and for how much. Prose is no fact: notes, translations, house rules; nor
is the look, nor the order in which a menu lists its drinks.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from menugen import regions
from menugen.mixing import cube_mm
from menugen.names import name_key
from menugen.reading import EVENT, HOUSE, Inherited, differences
from menugen.records import Event, House

_SAID_OF_THE_MENU = frozenset({"menu", "off", "hide off", "equipment", "bottles"})
"""Keys whose changes are said drink by drink, or as what came and what went."""

_NOTHING_SAID = {"alcohol": "allowed", "hosted": "no"}
"""What holds where an event does not say; "none" where it is not here."""

_ORDER = (
    "event",
    "file",
    "date",
    "hours",
    "place",
    "guests",
    "tables",
    "address",
    "currency",
    "alcohol",
    "hosted",
)
"""What is said first; all other keys follow in the order of the table."""


class _Listed(NamedTuple):
    """A drink on a menu, as guests read it there."""

    name: str
    section: str
    price: Decimal | None
    is_off: bool


def event_moves(
    old: House, new: House, drinks: Mapping[str, str], events: Mapping[str, str]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the slug of each event that is in both houses, and a phrase for each thing that it says differently.

    Args:
        old: The older house.
        new: The newer house.
        drinks: Slug now -> slug then of the drinks in both.
        events: The same of the events.
    """
    became = {before: after for after, before in drinks.items()}
    for slug, event in new.events.items():
        earlier = old.events.get(events.get(slug, ""))
        if earlier is None:
            continue
        then, now = _listed(old, earlier, new), _listed(new, event, old)
        # A drink is known by its name; one that is called otherwise now, by its spec.
        names = {one: name_key(now[one].name) for one in now}
        there = set(names.values())
        before = {
            name_key(one.name) if name_key(one.name) in there else names.get(became.get(was, ""), was): one
            for was, one in then.items()
        }
        after = {names[one]: drink for one, drink in now.items()}
        if what := tuple(_Between(old, earlier, new, event, before, after).moves()):
            yield slug, what


def _listed(house: House, event: Event, other: House) -> dict[str, _Listed]:
    """Return what is on a menu, by slug; a spec that cannot be read has the name it has in the other house."""
    return {
        entry.slug: _Listed(
            spec.name if spec else entry.slug, part.name, entry.price, entry.slug in event.off
        )
        for part in event.sections
        for entry in part.entries
        for spec in (house.specs.get(entry.slug) or other.specs.get(entry.slug),)
    }


class _Between:
    """One event then and now."""

    def __init__(
        self,
        old_house: House,
        old: Event,
        new_house: House,
        new: Event,
        before: Mapping[str, _Listed],
        after: Mapping[str, _Listed],
    ) -> None:
        self._houses = old_house, new_house
        self._old = old
        self._new = new
        self._before = before
        self._after = after

    def moves(self) -> Iterator[str]:
        """Yield a phrase for each thing that differs."""
        yield from self._menu()
        yield from self._sold_out()
        yield from self._settings()

    def _menu(self) -> Iterator[str]:
        """Yield which drinks came and went, which moved to another section, and which prices moved."""
        before, after = self._before, self._after
        currency = money_of(self._new)
        if gained := [one for key, one in after.items() if key not in before]:
            told = (
                one.name + ("" if one.price is None else f" {price_text(one.price, currency)}")
                for one in gained
            )
            yield f"on the menu now: {', '.join(told)}"
        if lost := [one.name for key, one in before.items() if key not in after]:
            yield f"off the menu: {', '.join(lost)}"
        yield from self._sections()
        for key, one in after.items():
            if key in before and before[key].price != one.price:
                was = price_text(before[key].price, money_of(self._old))
                yield f"{one.name}: price {was} -> {price_text(one.price, currency)}"

    def _sections(self) -> Iterator[str]:
        before, after = self._before, self._after
        old_names = [part.name for part in self._old.sections]
        new_names = [part.name for part in self._new.sections]
        renamed: dict[str, str] = {}
        for name in old_names:
            # A section is the same under another name where most of what stays on the menu went there with it.
            went = [after[key].section for key, one in before.items() if one.section == name and key in after]
            target = max(new_names, key=went.count, default="")
            is_free = name not in new_names and target not in (*old_names, *renamed.values())
            if is_free and 2 * went.count(target) > len(went):
                renamed[name] = target
                yield f"section {name} is called {target}"
        for key, one in after.items():
            was = before[key].section if key in before else one.section
            if renamed.get(was, was) != one.section:
                yield f"{one.name}: from {was} to {one.section}"

    def _sold_out(self) -> Iterator[str]:
        was_off = {key for key, one in self._before.items() if one.is_off}
        now_off = {key for key, one in self._after.items() if one.is_off}
        for what, keys in (("sold out", now_off - was_off), ("back again", was_off - now_off)):
            if names := sorted(self._after[key].name for key in keys if key in self._after):
                yield f"{what}: {', '.join(names)}"
        if self._old.hide_off is not self._new.hide_off:
            yield "what is sold out is hidden now" if self._new.hide_off else "what is sold out is shown now"

    def _settings(self) -> Iterator[str]:
        moved = {key: (before, after) for key, before, after in differences(EVENT, self._old, self._new)}
        is_exchanged = all(
            self._new.slug in house.events and self._old.slug in house.events for house in self._houses
        )
        if not is_exchanged:
            moved["file"] = self._old.slug, self._new.slug
        moved["currency"] = money_of(self._old), money_of(self._new)
        for key in sorted(moved.keys() - _SAID_OF_THE_MENU, key=_place):
            was, now = (text or _NOTHING_SAID.get(key, "none") for text in moved[key])
            if was != now and not (key in Inherited._fields and self._is_inherited(key)):
                yield f"{'name' if key == 'event' else key} {was} -> {now}"

    def _is_inherited(self, what: str) -> bool:
        """Return whether an event says what its house says, then and now: it is told of the house."""
        return all(
            getattr(event, what) == getattr(house, what)
            for house, event in zip(self._houses, (self._old, self._new), strict=True)
        )


def money_of(event: Event) -> str:
    """Return the money of an event's menu, ISO 4217: its own, else that of its place; empty where that is not known."""
    try:
        return event.currency or regions.load_region(event.region, event.date).currency
    except regions.UnknownRegion:
        return ""


def _place(key: str) -> int:
    """Return where a key is said among the others."""
    return _ORDER.index(key) if key in _ORDER else len(_ORDER) + EVENT.names().index(key)


def price_text(price: Decimal | None, currency: str) -> str:
    """Return "9.50 GBP", "free" or "none" where a menu says no price."""
    if price is None:
        return "none"
    return f"{price:.2f} {currency}".rstrip() if price else "free"


def _house_text(key: str, text: str, house: House) -> str:
    """Return what a house says of a key; of its ice the side of a cube, which a bartender measures."""
    if key not in ("cube", "large cube"):
        return text or "none"
    mass_g = house.cube_g if key == "cube" else house.large_cube_g
    return "usual" if mass_g is None else f"{cube_mm(mass_g):.4g} mm"


def house_moves(old: House, new: House) -> tuple[str, ...]:
    """Return what house.yaml says differently of what drinks are worked out with, of tax, and its name."""
    told = [
        f"{key} {_house_text(key, before, old)} -> {_house_text(key, after, new)}"
        for key, before, after in differences(HOUSE, old, new)
        if key != "glasses"
    ]
    before = {name_key(name): glass for name, glass in old.glasses.items()}
    after = {name_key(name): glass for name, glass in new.glasses.items()}
    for name in sorted({*before, *after}):
        sizes = [
            f"{glass.brim_ml:g} ml" + (f", wash line {glass.wash_line_ml:g} ml" if glass.wash_line_ml else "")
            if (glass := glasses.get(name))
            else "none"
            for glasses in (before, after)
        ]
        if sizes[0] != sizes[1]:
            told.append(f"glass {name} {sizes[0]} -> {sizes[1]}")
    return tuple(told)
