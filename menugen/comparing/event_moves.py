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

_Drinks = Mapping[str, str]
"""Slug now -> slug then."""


class EventMoves(NamedTuple):
    """One event, and what its menu says differently.

    Attributes:
        slug: The event's file's name now.
        what: A phrase each: "on the menu now: Fog Bell", "Marsh Sour: 9.50 -> 10.00 GBP".
    """

    slug: str
    what: tuple[str, ...]


def event_moves(
    old: House, new: House, drinks: Mapping[str, str], events: Mapping[str, str]
) -> tuple[EventMoves, ...]:
    """Return what each event that is in both houses says differently of its menu, prices and rules.

    Args:
        old: The older house.
        new: The newer house.
        drinks: Slug now -> slug then of the drinks in both.
        events: The same of the events.
    """
    names = {slug: spec.name for house in (old, new) for slug, spec in house.specs.items()}
    found = []
    for slug, event in new.events.items():
        earlier = old.events.get(events.get(slug, ""))
        if earlier is None or (earlier is event and _same_drinks(event, drinks)):
            continue
        of_one_name = _of_one_name(old, earlier, new, event)
        # The last has the word: one spec of two houses may be known by its file, and another by its name there.
        pairs = {slug: before for slug, before in drinks.items() if slug not in of_one_name} | of_one_name
        what = tuple(_Between(old, earlier, new, event, pairs, names).moves())
        if what:
            found.append(EventMoves(slug, what))
    return tuple(found)


def _same_drinks(event: Event, drinks: Mapping[str, str]) -> bool:
    """Return whether every name on a menu stands for the drink it stood for."""
    return all(
        drinks.get(entry.slug, entry.slug) == entry.slug for part in event.sections for entry in part.entries
    )


def _of_one_name(old_house: House, old: Event, new_house: House, new: Event) -> dict[str, str]:
    """Return slug now -> slug then of what has the name on a menu that another spec had: guests know it by that."""
    before, after = (
        {
            name_key(house.specs[entry.slug].name): entry.slug
            for part in event.sections
            for entry in part.entries
            if entry.slug in house.specs
        }
        for house, event in ((old_house, old), (new_house, new))
    )
    return {slug: before[name] for name, slug in after.items() if name in before and before[name] != slug}


class _Between:
    """One event then and now."""

    def __init__(
        self,
        old_house: House,
        old: Event,
        new_house: House,
        new: Event,
        drinks: Mapping[str, str],
        names: Mapping[str, str],
    ) -> None:
        self._houses = old_house, new_house
        self._old = old
        self._new = new
        # A drink that is gone keeps its slug, unless another drink has it now.
        self._now = {before: after for after, before in drinks.items()}
        self._known = drinks
        self._names = names

    def moves(self) -> Iterator[str]:
        """Yield a phrase for each thing that differs."""
        yield from self._menu()
        yield from self._sold_out()
        yield from self._settings()

    def _called(self, slug: str) -> str:
        return self._names.get(slug, slug)

    def _current(self, slug: str) -> str:
        """Return the slug now of a drink by its slug then; one that is gone and whose slug another has is marked."""
        if slug in self._now:
            return self._now[slug]
        return f"{slug}\0" if slug in self._known else slug

    def _menu(self) -> Iterator[str]:
        """Yield which drinks came and went, which moved to another section, and which prices moved."""
        before = {self._current(slug): price for slug, price in _prices(self._old).items()}
        after = _prices(self._new)
        currency = money_of(self._new)
        if gained := [slug for slug in after if slug not in before]:
            told = (
                self._called(slug)
                + (f" {price_text(price, currency)}" if (price := after[slug]) is not None else "")
                for slug in gained
            )
            yield f"on the menu now: {', '.join(told)}"
        if lost := [slug for slug in before if slug not in after]:
            yield f"off the menu: {', '.join(self._called(slug.rstrip(chr(0))) for slug in lost)}"
        yield from self._sections()
        for slug, price in after.items():
            if slug in before and before[slug] != price:
                was, now = price_text(before[slug], money_of(self._old)), price_text(price, currency)
                yield f"{self._called(slug)}: price {was} -> {now}"

    def _sections(self) -> Iterator[str]:
        was = {self._current(entry.slug): part.name for part in self._old.sections for entry in part.entries}
        now = {entry.slug: part.name for part in self._new.sections for entry in part.entries}
        old_names = [part.name for part in self._old.sections]
        new_names = [part.name for part in self._new.sections]
        renamed: dict[str, str] = {}
        for name in old_names:
            # A section is the same under another name where most of what stays on the menu went there with it.
            went = [now[slug] for slug, section in was.items() if section == name and slug in now]
            target = max(new_names, key=went.count, default="")
            is_free = name not in new_names and target not in (*old_names, *renamed.values())
            if is_free and 2 * went.count(target) > len(went):
                renamed[name] = target
                yield f"section {name} is called {target}"
        for slug, section in now.items():
            if slug in was and renamed.get(was[slug], was[slug]) != section:
                yield f"{self._called(slug)}: from {was[slug]} to {section}"

    def _sold_out(self) -> Iterator[str]:
        was_off = {self._current(slug) for slug in self._old.off}
        if sold_out := sorted(self._called(slug) for slug in set(self._new.off) - was_off):
            yield f"sold out: {', '.join(sold_out)}"
        listed = _prices(self._new)
        if again := sorted(self._called(slug) for slug in was_off - set(self._new.off) if slug in listed):
            yield f"back again: {', '.join(again)}"
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


def _prices(event: Event) -> dict[str, Decimal | None]:
    return {entry.slug: entry.price for part in event.sections for entry in part.entries}


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
