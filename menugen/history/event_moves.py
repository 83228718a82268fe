"""What an event, or the house itself, says differently: as phrases."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from menugen.history.changes import EventMoves
from menugen.records import Event, House


def event_moves(old: House, new: House, renamed: Mapping[str, str]) -> tuple[EventMoves, ...]:
    """Return what each event that is in both houses says differently of its menu, prices and rules.

    Args:
        old: The older house.
        new: The newer house.
        renamed: New slug -> old slug of drinks with another slug now.
    """
    names = {slug: spec.name for house in (old, new) for slug, spec in house.specs.items()}
    found = []
    for slug, event in new.events.items():
        if (earlier := old.events.get(slug)) is not None and earlier != event:
            what = tuple(_moves(earlier, event, renamed, names))
            what += tuple(_place_moves(old, earlier, new, event))
            if what:
                found.append(EventMoves(slug, event.name, what))
    return tuple(found)


def _moves(old: Event, new: Event, renamed: Mapping[str, str], names: Mapping[str, str]) -> Iterator[str]:
    current = {before: after for after, before in renamed.items()}
    yield from _menu_moves(old, new, current, names)
    was_off = {current.get(slug, slug) for slug in old.off}
    if sold_out := sorted(names.get(slug, slug) for slug in set(new.off) - was_off):
        yield f"sold out: {', '.join(sold_out)}"
    if again := sorted(names.get(slug, slug) for slug in was_off - set(new.off) if slug in _prices(new)):
        yield f"back again: {', '.join(again)}"
    for what, was, now in (
        ("name", old.name, new.name),
        ("date", str(old.date), str(new.date)),
        ("hours", _hours(old), _hours(new)),
    ):
        if was != now:
            yield f"{what} {was} -> {now}"
    for what, words in (
        ("shared now", [word for word in new.equipment if word not in old.equipment]),
        ("shared no longer", [word for word in old.equipment if word not in new.equipment]),
    ):
        if words:
            yield f"{what}: {', '.join(words)}"


def _place_moves(old_house: House, old: Event, new_house: House, new: Event) -> Iterator[str]:
    """Yield which rules and money an event moved to; what it takes from the house is told there."""
    for what, was, now, inherited in (
        ("region", old.region, new.region, (old_house.region, new_house.region)),
        ("currency", old.currency, new.currency, (old_house.currency, new_house.currency)),
    ):
        if was != now and (was, now) != inherited:
            yield f"{what} {was or 'none'} -> {now or 'none'}"


def _menu_moves(
    old: Event, new: Event, current: Mapping[str, str], names: Mapping[str, str]
) -> Iterator[str]:
    """Yield which drinks came and went, and which prices moved."""
    before = {current.get(slug, slug): price for slug, price in _prices(old).items()}
    after = _prices(new)
    if gained := [names.get(slug, slug) for slug in after if slug not in before]:
        yield f"on the menu now: {', '.join(gained)}"
    if lost := [names.get(slug, slug) for slug in before if slug not in after]:
        yield f"off the menu: {', '.join(lost)}"
    for slug, price in after.items():
        if slug in before and before[slug] != price:
            yield f"{names.get(slug, slug)}: price {_money(before[slug], old)} -> {_money(price, new)}"


def _prices(event: Event) -> dict[str, Decimal | None]:
    return {entry.slug: entry.price for part in event.sections for entry in part.entries}


def _money(price: Decimal | None, event: Event) -> str:
    return "none" if price is None else f"{price:.2f} {event.currency}".rstrip()


def _hours(event: Event) -> str:
    return "none" if event.hours is None else f"{event.hours.start:%H:%M}-{event.hours.end:%H:%M}"


def house_moves(old: House, new: House) -> tuple[str, ...]:
    """Return what house.yaml says differently of what drinks are worked out with, and its name."""
    told = [
        f"{what} {was or 'none'} -> {now or 'none'}"
        for what, was, now in (
            ("name", old.name, new.name),
            ("region", old.region, new.region),
            ("currency", old.currency, new.currency),
            ("ounce", old.ounce, new.ounce),
        )
        if was != now
    ]
    for name in sorted({*old.glasses, *new.glasses}):
        sizes = [
            f"{glass.brim_ml:g} ml" + (f", wash line {glass.wash_line_ml:g} ml" if glass.wash_line_ml else "")
            if (glass := house.glasses.get(name))
            else "none"
            for house in (old, new)
        ]
        if sizes[0] != sizes[1]:
            told.append(f"glass {name} {sizes[0]} -> {sizes[1]}")
    return tuple(told)
