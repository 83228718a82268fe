"""Two houses compared: what a bartender or a guest would want to know, each change once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from menugen.comparing.changes import (
    AllergenMove,
    BottleMove,
    Comparison,
    Declared,
    DrinkMoves,
    Move,
    NewDrink,
    Side,
    StockMove,
    Unseen,
)
from menugen.comparing.differences import Names, bottle_moves, name_of
from menugen.comparing.drink_moves import declared, gained_at, seen_moves, written_moves
from menugen.comparing.event_moves import event_moves, house_moves
from menugen.comparing.half import AT_HOME, Edition, Half, errors_of
from menugen.comparing.matching import Matches, match
from menugen.comparing.stock_moves import stock_moves
from menugen.facts import DrinkFacts
from menugen.problems import Problem
from menugen.reading import HouseReading
from menugen.records import House, Spec, StockLine


@dataclass(frozen=True, slots=True)
class _Looked:
    """What one setting shows of a drink that may have changed."""

    event: str
    allergens: tuple[AllergenMove, ...]
    moves: tuple[Move, ...]
    bottles: tuple[tuple[str, str, str], ...]


def compare(old: Edition, new: Edition, notes: Sequence[str] = ()) -> Comparison:
    """Return what changed from one house to another.

    A drink on the menu of an event that is in both is compared there, with that event's bottles and rules; one on no
    such menu is compared at home. Drinks of which nothing differs are not worked out at all.

    Args:
        old: The older house.
        new: The newer one.
        notes: What is to be told of the comparison itself.
    """
    told = list(notes)
    houses = [_house_of(edition, told) for edition in (old, new)]
    if houses[0] is None or houses[1] is None:
        return _nothing_known(old, new, told)
    before, after = Half(old, houses[0]), Half(new, houses[1])
    before.check_events()
    after.check_events()
    told += _not_read(old, new)
    matches = match(
        before.house,
        after.house,
        old_broken=old.reading.broken_specs,
        new_broken=new.reading.broken_specs,
    )
    stock_changes = _stock_changes(before.house, after.house, matches)
    reach: dict[str, list[str]] = {}
    drinks = []
    for new_slug, spec in sorted(after.house.specs.items(), key=lambda item: (item[1].name, item[0])):
        old_slug = matches.drinks.get(new_slug)
        events = _events_of(before, after, old_slug, new_slug, matches)
        for name in _poured(after, spec, events) if stock_changes else ():
            if name in stock_changes:
                reach.setdefault(name, []).append(spec.name)
        if old_slug is None:
            continue
        earlier = before.house.specs[old_slug]
        looked = [_look(before, after, earlier, spec, event, matches) for event in events]
        looked += [
            _joined(before, after, earlier, spec, event, matches) for event in after.joined(new_slug, events)
        ]
        known = [one for one in looked if one is not None]
        if not known and (old_slug in before.unknown or new_slug in after.unknown):
            # It is told as not compared; what its spec says is no fact yet.
            continue
        moved = _drink_moves(earlier, spec, known, set(events), after.house, matches.names)
        if moved is not None:
            drinks.append(moved)
    added = tuple(_new_drink(after, slug) for slug in _added(before, after, matches))
    unseen = tuple(_unseen(before, after, matches))
    return Comparison(
        old=before.told(old.revision),
        new=after.told(new.revision),
        added=added,
        gone=tuple(_gone(before, after, matches)),
        unseen=unseen,
        events_unseen=tuple(_events_unseen(before, after)),
        drinks=tuple(drinks),
        bottles=_bottle_moves(drinks),
        stock=tuple(
            StockMove(name, what, tuple(dict.fromkeys(reach.get(name, ()))))
            for name, what in sorted(stock_changes.items())
        ),
        stock_renamed=tuple(sorted(matches.stock.items())),
        stock_added=_names_only(after, before, set(matches.stock.values())),
        stock_gone=_names_only(before, after, set(matches.stock)),
        house=house_moves(before.house, after.house),
        events_added=_events_only(after, before, set(matches.events)),
        events_gone=_events_only(before, after, set(matches.events.values())),
        events=event_moves(before.house, after.house, matches.drinks, matches.events),
        notes=tuple(dict.fromkeys(told)),
    )


def with_all_errors(comparison: Comparison, reading: HouseReading, problems: Iterable[Problem]) -> Comparison:
    """Return a comparison that tells every error of the newer house, and not only those met on the way.

    Args:
        comparison: What changed.
        reading: The newer house, for the lines of its files.
        problems: Everything that is wrong with it.
    """
    return replace(comparison, new=replace(comparison.new, errors=errors_of(reading, problems)))


def _house_of(edition: Edition, told: list[str]) -> House | None:
    house = edition.reading.house
    if house is None:
        told.append(f"house.yaml cannot be read in {edition.label}: nothing could be compared")
    return house


def _nothing_known(old: Edition, new: Edition, notes: Iterable[str]) -> Comparison:
    sides = [
        Side(edition.label, edition.revision, errors_of(edition.reading, edition.reading.problems))
        for edition in (old, new)
    ]
    return Comparison(
        old=sides[0],
        new=sides[1],
        added=(),
        gone=(),
        unseen=(),
        events_unseen=(),
        drinks=(),
        bottles=(),
        stock=(),
        stock_renamed=(),
        stock_added=(),
        stock_gone=(),
        house=(),
        events_added=(),
        events_gone=(),
        events=(),
        notes=tuple(notes),
        readable=False,
    )


def _not_read(old: Edition, new: Edition) -> Iterator[str]:
    """Yield a sentence for what one of the two houses could not read: it is neither new nor gone."""
    for edition, other in ((old, new), (new, old)):
        reading = edition.reading
        specs = other.reading.house.specs if other.reading.house else {}
        events = other.reading.house.events if other.reading.house else {}
        for what, broken in (
            ("spec", {slug for slug in reading.broken_specs if slug not in specs}),
            ("event", {slug for slug in reading.broken_events if slug not in events}),
        ):
            if broken:
                yield f"not compared, for its faults in {edition.label}: {what} {', '.join(sorted(broken))}"
        lost = sorted(
            line.name
            for line in (other.reading.house.stock.values() if other.reading.house else ())
            if line.name.casefold() in reading.broken_stock
            and not (reading.house and line.name in reading.house.stock)
        )
        if lost:
            yield f"not compared, for its faults in {edition.label}: stock {', '.join(lost)}"


def _added(before: Half, after: Half, matches: Matches) -> Iterator[str]:
    """Yield the slugs of the drinks only the newer house has, by name."""
    for slug, _ in sorted(after.house.specs.items(), key=lambda item: (item[1].name, item[0])):
        if slug not in matches.drinks and slug not in before.reading.broken_specs:
            yield slug


def _unseen(before: Half, after: Half, matches: Matches) -> Iterator[Unseen]:
    """Yield the drinks that both houses have and that one of them has a fault in, by name."""
    faulty_then = {slug for slug, earlier in matches.drinks.items() if earlier in before.unknown}
    faulty_then |= {
        slug
        for slug in after.house.specs
        if slug not in matches.drinks and slug in before.reading.broken_specs
    }
    found = [_new_drink(after, slug) for slug in faulty_then | set(after.unknown)]
    # A spec that cannot be read any more has the name it had.
    found += [
        NewDrink(slug, before.house.specs[slug].name)
        for slug in after.reading.broken_specs
        if slug in before.house.specs
    ]
    for drink in sorted(found, key=lambda drink: (drink.name, drink.slug)):
        yield Unseen(before.label if drink.slug in faulty_then else after.label, drink)


def _events_unseen(before: Half, after: Half) -> Iterator[Unseen]:
    """Yield the events that both houses have and one of them cannot read."""
    for half, other in ((before, after), (after, before)):
        for slug in sorted(half.reading.broken_events):
            if (event := other.house.events.get(slug)) is not None:
                yield Unseen(half.label, NewDrink(slug, event.name))


def _new_drink(after: Half, slug: str) -> NewDrink:
    """Return a drink as the first menu that lists it, or the house itself, makes it."""
    spec = after.house.specs[slug]
    event = next((event for event, menu in after.menus.items() if slug in menu), AT_HOME)
    facts, faults = after.shelf(event).work_out(spec)
    if event != AT_HOME or not spec.place.file.startswith("../"):
        after.problems += faults
    if facts is None or facts.serve.unread or facts.serve.strengthless:
        return NewDrink(slug, spec.name)
    levels = declared(facts.serve).values()
    return NewDrink(
        slug,
        spec.name,
        f"{facts.serve.made.served_abv_percent.value:.1f} % vol",
        tuple(word for level, word in levels if level is Declared.CONTAINS),
        tuple(word for level, word in levels if level is Declared.MAY_CONTAIN),
        tuple(word for level, word in levels if level is Declared.DISTILLED_FROM),
    )


def _gone(before: Half, after: Half, matches: Matches) -> Iterator[tuple[str, str]]:
    """Yield (slug, name) of the drinks only the older house has, by name."""
    kept = set(matches.drinks.values())
    for slug, spec in sorted(before.house.specs.items(), key=lambda item: (item[1].name, item[0])):
        if slug not in kept and slug not in after.reading.broken_specs:
            yield slug, spec.name


def _names_only(half: Half, other: Half, renamed: set[str]) -> tuple[str, ...]:
    """Return the names only one house has in stock; another letter case is the same name."""
    known = {name_of(name) for name in other.house.stock}
    return tuple(
        sorted(
            name
            for name in half.house.stock
            if name_of(name) not in known
            and name not in renamed
            and name.casefold() not in other.reading.broken_stock
        )
    )


def _events_only(half: Half, other: Half, matched: set[str]) -> tuple[str, ...]:
    return tuple(
        event.name
        for slug, event in half.house.events.items()
        if slug not in matched and slug not in other.reading.broken_events
    )


def _stock_changes(old: House, new: House, matches: Matches) -> dict[str, tuple[str, ...]]:
    """Return what each stock line says differently, by its name now."""
    called = {after: before for before, after in matches.stock.items()}
    before = {name_of(name): line for name, line in old.stock.items()}
    found = {
        name: tuple(phrase.text for phrase in stock_moves(earlier, line))
        for name, line in new.stock.items()
        if (earlier := before.get(name_of(called.get(name, name)))) is not None
    }
    return {name: what for name, what in found.items() if what}


def _events_of(
    before: Half, after: Half, old_slug: str | None, new_slug: str, matches: Matches
) -> tuple[str, ...]:
    """Return the events, by slug now, at which a drink is compared; AT_HOME where it is on no menu of both houses.

    One that only the newer house has is poured at whatever event lists it.
    """
    shared = tuple(
        slug
        for slug, menu in after.menus.items()
        if new_slug in menu
        and (old_slug is None or old_slug in before.menus.get(matches.events.get(slug, ""), ()))
    )
    return shared or (AT_HOME,)


def _poured(half: Half, spec: Spec, events: Sequence[str]) -> Iterator[str]:
    for event in events:
        yield from (line.name for line in half.shelf(event).stock(spec) if line is not None)


def _look(before: Half, after: Half, old: Spec, new: Spec, event: str, matches: Matches) -> _Looked | None:
    """Return what moved of a drink in one setting; None where nothing it is made of differs, or it cannot be known."""
    old_event = matches.events.get(event, AT_HOME)
    then, now = before.shelf(old_event), after.shelf(event)
    inputs = now.inputs(new)
    if _is_sound(inputs) and (old is new or old == new) and then.inputs(old) == inputs:
        return None
    one, faults = then.work_out(old)
    other, new_faults = now.work_out(new)
    # A drink of a library outside the house that is on no menu may name what nobody has in stock.
    own = event != AT_HOME or not new.place.file.startswith("../")
    if own:
        before.problems += faults
        after.problems += new_faults
    if one is None or other is None:
        for facts, half, spec in ((one, before, old), (other, after, new)):
            if facts is None and own:
                half.unknown[spec.slug] = spec.name
        return None
    allergens, moves = seen_moves(then.seen(one), now.seen(other), matches.names)
    return _Looked(event, allergens, moves, _bottles(one, other, matches.names))


def _joined(before: Half, after: Half, old: Spec, new: Spec, event: str, matches: Matches) -> _Looked | None:
    """Return what a drink brings to a menu it was not on, beyond all that it was declared with elsewhere."""
    settings = [slug for slug, menu in before.menus.items() if old.slug in menu]
    olds = [before.shelf(slug) for slug in (AT_HOME, *settings)]
    now = after.shelf(event)
    inputs = now.inputs(new)
    if _is_sound(inputs) and (old is new or old == new) and any(then.inputs(old) == inputs for then in olds):
        return None
    facts, faults = now.work_out(new)
    after.problems += faults
    if facts is None:
        after.unknown[new.slug] = new.name
        return None
    seen = [then.seen(known) for then in olds if (known := then.work_out(old)[0]) is not None]
    if not seen:
        return None
    allergens = gained_at(seen, now.seen(facts), matches.names)
    return _Looked(event, allergens, (), ()) if allergens else None


def _is_sound(inputs: tuple[object, ...] | None) -> bool:
    """Return whether nothing in these inputs is a fault that both houses would have to tell."""
    return inputs is not None and all(
        one is not None and not (isinstance(one, StockLine) and one.contains is None) for one in inputs
    )


def _bottles(old: DrinkFacts, new: DrinkFacts, names: Names) -> tuple[tuple[str, str, str], ...]:
    found = list(bottle_moves(old.serve.lines, new.serve.lines, names))
    for swap in new.swaps:
        for earlier in old.swaps:
            if (earlier.swap.replaces, earlier.swap.line.name) == (swap.swap.replaces, swap.swap.line.name):
                found += bottle_moves(earlier.serve.lines, swap.serve.lines, names)
    return tuple(dict.fromkeys(found))


def _drink_moves(
    old: Spec, new: Spec, looked: Sequence[_Looked], all_events: set[str], house: House, names: Names
) -> DrinkMoves | None:
    """Return everything that moved of one drink, each once, however many events it shows at; None for nothing."""
    written = () if old is new or old == new else written_moves(old, new, names)
    titles = {slug: event.name for slug, event in house.events.items()}

    def where(events: set[str]) -> tuple[str, ...]:
        return () if events == all_events else tuple(titles[slug] for slug in titles if slug in events)

    allergens: dict[AllergenMove, set[str]] = {}
    moves: dict[Move, set[str]] = {}
    for one in looked:
        for allergen in one.allergens:
            allergens.setdefault(allergen, set()).add(one.event)
        for move in one.moves:
            moves.setdefault(move, set()).add(one.event)
    found = DrinkMoves(
        slug=new.slug,
        name=new.name,
        old_slug=old.slug,
        old_name=old.name,
        allergens=tuple(replace(one, where=where(events)) for one, events in allergens.items()),
        moves=(*written, *(replace(one, where=where(events)) for one, events in moves.items())),
        bottles=tuple(dict.fromkeys(bottle for one in looked for bottle in one.bottles)),
    )
    if found.allergens or found.moves or found.bottles or found.slug != found.old_slug:
        return found
    return None


def _bottle_moves(drinks: Iterable[DrinkMoves]) -> tuple[BottleMove, ...]:
    reached: dict[tuple[str, str, str], list[str]] = {}
    for drink in drinks:
        for bottle in drink.bottles:
            reached.setdefault(bottle, []).append(drink.name)
    return tuple(BottleMove(*bottle, tuple(names)) for bottle, names in sorted(reached.items()))
