"""Two houses compared: what a bartender or a guest would want to know, each change once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from menugen.facts import Broken, DrinkFacts, Setting, setting_for, work_out
from menugen.facts.glasses import Vessel, find_vessel
from menugen.history.changes import (
    AllergenMove,
    BottleMove,
    Comparison,
    DrinkMoves,
    Move,
    Side,
    StockMove,
)
from menugen.history.differences import bottle_move, differences, name_of
from menugen.history.drink_moves import Seen, seen_moves, written_moves
from menugen.history.event_moves import event_moves, house_moves
from menugen.history.renames import renamed
from menugen.history.stock_moves import stock_moves
from menugen.problems import Problem, Severity
from menugen.reading import HouseReading
from menugen.records import Event, House, Spec, StockLine

AT_HOME = ""
"""Stands for the house itself, where a drink is on no menu."""


@dataclass(frozen=True, slots=True)
class Edition:
    """A house as it was read at one time.

    Attributes:
        label: What it is called: "7f3a2c1 (2026-11-20, Swap the gin)".
        revision: Full hash; empty for the files as they lie.
        reading: What its files say.
    """

    label: str
    revision: str
    reading: HouseReading


class _Shelf:
    """One house in one setting, with what has been looked up in it."""

    def __init__(self, house: House, event: Event | None, broken: Broken) -> None:
        self.setting, self.problems = setting_for(house, event)
        self._house = house
        self._broken = broken
        self._vessels: dict[str, Vessel | None] = {}
        self._found: dict[str, StockLine | None] = {}

    def inputs(self, spec: Spec) -> tuple[object, ...] | None:
        """Return all that a drink is worked out from but the spec; None where there is no setting."""
        setting = self.setting
        if setting is None:
            return None
        if spec.glass not in self._vessels:
            self._vessels[spec.glass] = find_vessel(spec.glass, self._house.glasses)
        return (setting.region, self._vessels[spec.glass], *self.stock(spec))

    def stock(self, spec: Spec) -> tuple[StockLine | None, ...]:
        """Return the bottle of each line and swap of a drink; None for a name that none fills."""
        if self.setting is None:
            return ()
        names = [line.name for line in spec.lines]
        names += [swap.line.name for swap in spec.swaps]
        for name in names:
            if name not in self._found:
                self._found[name] = self.setting.bottles.find(name)
        return tuple(self._found[name] for name in names)

    def work_out(self, spec: Spec) -> tuple[DrinkFacts | None, tuple[Problem, ...]]:
        """Return a drink worked out here, and what is wrong with it."""
        if self.setting is None:
            return None, self.problems
        return work_out(spec, self.setting, self._broken)

    def seen(self, facts: DrinkFacts, currency: str) -> Seen:
        """Return a worked-out drink with the rules and the currency of this place."""
        setting: Setting | None = self.setting
        if setting is None:
            raise AssertionError("a drink was worked out without a setting")
        return Seen(facts, setting.region, currency or self._house.currency or setting.region.currency)


class _Half:
    """One of the two houses, with its settings as they are needed."""

    def __init__(self, edition: Edition, house: House) -> None:
        self.house = house
        self.reading = edition.reading
        self.problems: list[Problem] = list(edition.reading.problems)
        self._broken = Broken(edition.reading.broken_specs, edition.reading.broken_stock)
        self._shelves: dict[str, _Shelf] = {}
        self.menus = {
            slug: {entry.slug for part in event.sections for entry in part.entries}
            for slug, event in house.events.items()
        }

    def shelf(self, event: str) -> _Shelf:
        if event not in self._shelves:
            self._shelves[event] = _Shelf(self.house, self.house.events.get(event), self._broken)
        return self._shelves[event]


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
    before, after = _Half(old, houses[0]), _Half(new, houses[1])
    told += _not_read(old, new)
    names = _renames(before, after)
    reach: dict[str, list[str]] = {}
    stock_changes = _stock_changes(before.house, after.house)
    drinks = []
    for new_slug, spec in sorted(after.house.specs.items(), key=lambda item: (item[1].name, item[0])):
        old_slug = names.get(new_slug, new_slug)
        if (earlier := before.house.specs.get(old_slug)) is None:
            continue
        events = _events_of(before, after, old_slug, new_slug)
        for name in _poured(after, spec, events) if stock_changes else ():
            if name in stock_changes:
                reach.setdefault(name, []).append(spec.name)
        looked = [_look(before, after, earlier, spec, event) for event in events]
        moved = _drink_moves(
            earlier, spec, [one for one in looked if one is not None], set(events), after.house
        )
        if moved is not None:
            drinks.append(moved)
    return Comparison(
        old=_side(old, before.problems),
        new=_side(new, after.problems),
        added=_only(after, before, {*names}),
        gone=_only(before, after, {*names.values()}),
        drinks=tuple(drinks),
        bottles=_bottle_moves(drinks),
        stock=tuple(
            StockMove(name, what, tuple(dict.fromkeys(reach.get(name, ()))))
            for name, what in sorted(stock_changes.items())
        ),
        stock_added=_names_only(after, before),
        stock_gone=_names_only(before, after),
        house=house_moves(before.house, after.house),
        events_added=_events_only(after, before),
        events_gone=_events_only(before, after),
        events=event_moves(before.house, after.house, names),
        notes=tuple(dict.fromkeys(told)),
    )


def _house_of(edition: Edition, told: list[str]) -> House | None:
    house = edition.reading.house
    if house is None:
        told.append(f"house.yaml cannot be read in {edition.label}: nothing could be compared")
    return house


def _nothing_known(old: Edition, new: Edition, notes: Iterable[str]) -> Comparison:
    sides = [_side(edition, edition.reading.problems) for edition in (old, new)]
    return Comparison(
        old=sides[0],
        new=sides[1],
        added=(),
        gone=(),
        drinks=(),
        bottles=(),
        stock=(),
        stock_added=(),
        stock_gone=(),
        house=(),
        events_added=(),
        events_gone=(),
        events=(),
        notes=tuple(notes),
    )


def _side(edition: Edition, problems: Iterable[Problem]) -> Side:
    errors = (problem for problem in problems if problem.severity is Severity.ERROR)
    return Side(edition.label, edition.revision, tuple(dict.fromkeys(errors)))


def _not_read(old: Edition, new: Edition) -> Iterator[str]:
    """Yield a sentence for what one of the two houses could not read: it is neither new nor gone."""
    for edition, other in ((old, new), (new, old)):
        reading = edition.reading
        for what, broken in (("spec", reading.broken_specs), ("event", reading.broken_events)):
            if broken:
                yield f"not compared, for its faults in {edition.label}: {what} {', '.join(sorted(broken))}"
        lost = sorted(
            line.name
            for line in (other.reading.house.stock.values() if other.reading.house else ())
            if line.name.casefold() in reading.broken_stock
        )
        if lost:
            yield f"not compared, for its faults in {edition.label}: stock {', '.join(lost)}"


def _renames(before: _Half, after: _Half) -> dict[str, str]:
    """Return new slug -> old slug of every drink with another slug now."""
    one, other = before.house.specs, after.house.specs
    gone = {
        slug: spec
        for slug, spec in one.items()
        if slug not in other and slug not in after.reading.broken_specs
    }
    added = {
        slug: spec
        for slug, spec in other.items()
        if slug not in one and slug not in before.reading.broken_specs
    }
    return {new: old for old, new in renamed(gone, added).items()}


def _only(half: _Half, other: _Half, renamed_slugs: set[str]) -> tuple[tuple[str, str], ...]:
    """Return (slug, name) of the drinks only one house has."""
    found = [
        (spec.name, slug)
        for slug, spec in half.house.specs.items()
        if slug not in other.house.specs
        and slug not in other.reading.broken_specs
        and slug not in renamed_slugs
    ]
    return tuple((slug, name) for name, slug in sorted(found))


def _names_only(half: _Half, other: _Half) -> tuple[str, ...]:
    """Return the names only one house has in stock; another letter case is the same name."""
    known = {name_of(name) for name in other.house.stock}
    return tuple(
        sorted(
            name
            for name in half.house.stock
            if name_of(name) not in known and name.casefold() not in other.reading.broken_stock
        )
    )


def _events_only(half: _Half, other: _Half) -> tuple[str, ...]:
    return tuple(
        event.name
        for slug, event in half.house.events.items()
        if slug not in other.house.events and slug not in other.reading.broken_events
    )


def _stock_changes(old: House, new: House) -> dict[str, tuple[str, ...]]:
    """Return what each stock line says differently, by its name now."""
    before = {name_of(name): line for name, line in old.stock.items()}
    found = {
        name: stock_moves(before[name_of(name)], line)
        for name, line in new.stock.items()
        if name_of(name) in before
    }
    return {name: what for name, what in found.items() if what}


def _events_of(before: _Half, after: _Half, old_slug: str, new_slug: str) -> tuple[str, ...]:
    """Return the events at which a drink is compared; AT_HOME where it is on no menu of both houses."""
    shared = tuple(
        slug
        for slug, menu in after.menus.items()
        if new_slug in menu and old_slug in before.menus.get(slug, ())
    )
    return shared or (AT_HOME,)


def _poured(half: _Half, spec: Spec, events: Sequence[str]) -> Iterator[str]:
    for event in events:
        yield from (line.name for line in half.shelf(event).stock(spec) if line is not None)


def _look(before: _Half, after: _Half, old: Spec, new: Spec, event: str) -> _Looked | None:
    """Return what moved of a drink in one setting; None where nothing it is made of differs, or it cannot be known."""
    then, now = before.shelf(event), after.shelf(event)
    inputs = now.inputs(new)
    if _is_sound(inputs) and old == new and then.inputs(old) == inputs:
        return None
    one, faults = then.work_out(old)
    other, new_faults = now.work_out(new)
    if event != AT_HOME or not new.place.file.startswith("../"):
        # A drink of a library outside the house that is on no menu may name what nobody has in stock.
        before.problems += faults
        after.problems += new_faults
    if one is None or other is None:
        return None
    events = before.house.events.get(event), after.house.events.get(event)
    seen = [
        shelf.seen(facts, held.currency if held else "")
        for shelf, facts, held in ((then, one, events[0]), (now, other, events[1]))
    ]
    allergens, moves = seen_moves(seen[0], seen[1])
    return _Looked(event, allergens, moves, _bottles(one, other))


def _is_sound(inputs: tuple[object, ...] | None) -> bool:
    """Return whether nothing in these inputs is a fault that both houses would have to tell."""
    return inputs is not None and all(
        one is not None and not (isinstance(one, StockLine) and one.contains is None) for one in inputs
    )


def _bottles(old: DrinkFacts, new: DrinkFacts) -> tuple[tuple[str, str, str], ...]:
    found = list(differences(old.serve.lines, new.serve.lines))
    for swap in new.swaps:
        for earlier in old.swaps:
            if (earlier.swap.replaces, earlier.swap.line.name) == (swap.swap.replaces, swap.swap.line.name):
                found += differences(earlier.serve.lines, swap.serve.lines)
    moved = (bottle_move(one) for one in found)
    return tuple(dict.fromkeys(one for one in moved if one is not None and one[0]))


def _drink_moves(
    old: Spec, new: Spec, looked: Sequence[_Looked], all_events: set[str], house: House
) -> DrinkMoves | None:
    """Return everything that moved of one drink, each once, however many events it shows at; None for nothing."""
    written = written_moves(old, new) if old != new else ()
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
