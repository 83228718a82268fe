"""Two houses compared: what a bartender or a guest would want to know, each change once."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from menugen.comparing.changes import HOUSE, Change, Comparison, Subject
from menugen.comparing.declared import declared
from menugen.comparing.differences import Names, bottle_moves
from menugen.comparing.drink_changes import drink_changes, drink_subject, gained_at, written_changes
from menugen.comparing.event_moves import event_moves, house_moves
from menugen.comparing.house_version import NO_EVENT, BarSetUp, HouseVersion, OpenedHouse
from menugen.comparing.matching import Matches, match
from menugen.comparing.stock_moves import stock_moves
from menugen.facts import DrinkFacts
from menugen.names import name_key
from menugen.problems import Problem
from menugen.reading import HouseReading
from menugen.records import Event, House, Spec, StockLine


def compare(old: HouseVersion, new: HouseVersion, notes: Sequence[str] = ()) -> Comparison:
    """Return what changed from one house to another.

    A drink on the menu of an event that is in both is compared there, with that event's bottles and rules; one on no
    such menu is compared at home. Drinks of which nothing differs are not worked out at all.

    Args:
        old: The older house.
        new: The newer one.
        notes: What is to be told of the comparison itself.
    """
    houses = old.reading.house, new.reading.house
    if houses[0] is None or houses[1] is None:
        unread = (version for version in (old, new) if version.reading.house is None)
        why = [
            f"house.yaml cannot be read in {version.label}: nothing could be compared" for version in unread
        ]
        sides = [version.with_errors(version.reading.problems) for version in (old, new)]
        return Comparison(sides[0], sides[1], (), tuple(dict.fromkeys([*notes, *why])), readable=False)
    compared = _Compared(OpenedHouse(old, houses[0]), OpenedHouse(new, houses[1]))
    changes = tuple(compared.changes())
    return Comparison(
        old.with_errors(compared.before.problems),
        new.with_errors(compared.after.problems),
        changes,
        tuple(dict.fromkeys([*notes, *_not_read(old, new), *_not_read(new, old)])),
    )


def with_all_errors(comparison: Comparison, reading: HouseReading, problems: Iterable[Problem]) -> Comparison:
    """Return a comparison that tells every error of the newer house, and not only those met on the way.

    Args:
        comparison: What changed.
        reading: The newer house, for the lines of its files.
        problems: Everything that is wrong with it.
    """
    new = HouseVersion(comparison.new.label, comparison.new.revision, reading)
    return replace(comparison, new=new.with_errors(problems))


def _not_read(version: HouseVersion, other: HouseVersion) -> Iterator[str]:
    """Yield a sentence for what one of the two houses could not read: it is neither new nor gone."""
    reading, house = version.reading, other.reading.house
    if house is None:
        return
    stock = reading.house.stock if reading.house else {}
    lost = (
        line.name
        for line in house.stock.values()
        if name_key(line.name) in reading.broken_stock and line.name not in stock
    )
    for what, broken in (
        ("spec", reading.broken_specs - house.specs.keys()),
        ("event", reading.broken_events - house.events.keys()),
        ("stock", lost),
    ):
        if names := ", ".join(sorted(broken)):
            yield f"not compared, for its faults in {version.label}: {what} {names}"


def _by_name(specs: Mapping[str, Spec]) -> list[tuple[str, Spec]]:
    return sorted(specs.items(), key=lambda item: (item[1].name, item[0]))


class _Compared:
    """Two houses that could be read, and what of one is what in the other."""

    def __init__(self, before: OpenedHouse, after: OpenedHouse) -> None:
        self.before = before
        self.after = after
        self._then, self._now = before.version.reading, after.version.reading
        self._matches = match(
            before.house,
            after.house,
            old_broken=self._then.broken_specs,
            new_broken=self._now.broken_specs,
        )

    def changes(self) -> Iterator[Change]:
        """Yield every change: drinks first, since which could not be worked out is only known then."""
        reach: dict[str, dict[str, None]] = {}
        phrases = _stock_phrases(self.before.house, self.after.house, self._matches)
        yield from self._of_drinks(phrases.keys(), reach)
        yield from self._added()
        yield from self._gone()
        yield from self._unknown()
        yield from self._of_stock(phrases, reach)
        yield from (
            Change("says", HOUSE, after=what) for what in house_moves(self.before.house, self.after.house)
        )
        yield from self._of_events()

    def _of_drinks(self, stock: Iterable[str], reach: dict[str, dict[str, None]]) -> Iterator[Change]:
        """Yield what changed of drinks in both houses; note which are poured from stock that changed."""
        changed = set(stock)
        for slug, spec in _by_name(self.after.house.specs):
            old_slug = self._matches.drinks.get(slug)
            events = self._events_of(old_slug, slug)
            for event in events if changed else ():
                for line in self.after.bar(event).stock(spec):
                    if line is not None and line.name in changed:
                        reach.setdefault(line.name, {})[spec.name] = None
            if old_slug is None:
                continue
            earlier = self.before.house.specs[old_slug]
            found = {event: self._at(earlier, spec, event) for event in events}
            found |= {
                event: self._joined(earlier, spec, event)
                for event, menu in self.after.menus.items()
                if slug in menu and event not in events
            }
            known = {event: changes for event, changes in found.items() if changes is not None}
            if known or not (old_slug in self.before.unknown or slug in self.after.unknown):
                # Otherwise it is told as not compared; what its spec says is no fact yet.
                yield from self._of_drink(earlier, spec, known, events)

    def _events_of(self, old_slug: str | None, slug: str) -> tuple[str, ...]:
        """Return the events, by slug now, at which a drink is compared; NO_EVENT where it is on no menu of both houses.

        One that only the newer house has is poured at whatever event lists it.
        """
        shared = tuple(
            event
            for event, menu in self.after.menus.items()
            if slug in menu
            and (
                old_slug is None or old_slug in self.before.menus.get(self._matches.events.get(event, ""), ())
            )
        )
        return shared or (NO_EVENT,)

    def _at(self, old: Spec, new: Spec, event: str) -> tuple[Change, ...] | None:
        """Return what changed in one setting; None where nothing it is made of differs, or it cannot be known."""
        then = self.before.bar(self._matches.events.get(event, NO_EVENT))
        now = self.after.bar(event)
        if _is_unchanged(old, new, [then], now):
            return None
        one, faults = then.work_out(old)
        other, new_faults = now.work_out(new)
        # A drink of a library outside the house that is on no menu may name what nobody has in stock.
        if event != NO_EVENT or _is_own(new):
            self.before.problems += faults
            self.after.problems += new_faults
            for drink, house, spec in ((one, self.before, old), (other, self.after, new)):
                if drink is None:
                    house.unknown.add(spec.slug)
        if one is None or other is None:
            return None
        names = self._matches.names
        return (*drink_changes(one, other, names), *_bottles(one.facts, other.facts, names))

    def _joined(self, old: Spec, new: Spec, event: str) -> tuple[Change, ...] | None:
        """Return what a drink brings to a menu it was not on, beyond all that it was declared with elsewhere."""
        settings = [slug for slug, menu in self.before.menus.items() if old.slug in menu]
        olds = [self.before.bar(slug) for slug in (NO_EVENT, *settings)]
        now = self.after.bar(event)
        if _is_unchanged(old, new, olds, now):
            return None
        drink, faults = now.work_out(new)
        self.after.problems += faults
        if drink is None:
            self.after.unknown.add(new.slug)
            return None
        known = [one for then in olds if (one := then.work_out(old)[0]) is not None]
        return (gained_at(known, drink, self._matches.names) or None) if known else None

    def _of_drink(
        self, old: Spec, new: Spec, found: Mapping[str, tuple[Change, ...]], compared: Sequence[str]
    ) -> Iterator[Change]:
        """Yield everything that changed of one drink, each once, however many events it shows at."""
        at: dict[Change, set[str]] = {}
        for event, changes in found.items():
            for change in changes:
                at.setdefault(change, set()).add(event)
        titles = {slug: event.name for slug, event in self.after.house.events.items()}
        everywhere = set(compared)
        if not (old is new or old == new):
            yield from written_changes(old, new, self._matches.names)
        for change, events in at.items():
            if change.kind == "bottle" or events == everywhere:
                yield change
            else:
                yield replace(change, where=tuple(titles[slug] for slug in titles if slug in events))

    def _added(self) -> Iterator[Change]:
        for slug, spec in _by_name(self.after.house.specs):
            if slug not in self._matches.drinks and slug not in self._then.broken_specs:
                subject = Subject("drink", spec.name, slug)
                yield Change("added", subject)
                yield from self._facts(subject)

    def _gone(self) -> Iterator[Change]:
        kept = set(self._matches.drinks.values())
        for slug, spec in _by_name(self.before.house.specs):
            if slug not in kept and slug not in self._now.broken_specs:
                yield Change("gone", Subject("drink", old_name=spec.name, old_id=slug))

    def _unknown(self) -> Iterator[Change]:
        """Yield the drinks and events that one of the houses has a fault in, or both, by name."""
        labels = self.before.version.label, self.after.version.label
        then, now = self.before, self.after
        slugs = {
            **dict.fromkeys(self._then.broken_specs | self._now.broken_specs),
            **dict.fromkeys(self._now_of(slug) for slug in then.unknown),
            **dict.fromkeys(now.unknown),
        }
        told = []
        for slug in slugs:
            old_slug = self._matches.drinks.get(slug, slug)
            spec = now.house.specs.get(slug) or then.house.specs.get(old_slug)
            faults = (
                old_slug in then.unknown | self._then.broken_specs,
                slug in now.unknown | self._now.broken_specs,
            )
            told.append((spec.name if spec else slug, slug, faults))
        for name, slug, faults in sorted(told):
            subject = Subject("drink", name, slug)
            before, after = (label if fault else "" for label, fault in zip(labels, faults, strict=True))
            yield Change("unknown", subject, before, after)
            if slug in now.house.specs:
                yield from self._facts(subject)
        broken = self._then.broken_events, self._now.broken_events
        for slug in sorted(broken[0] | broken[1]):
            event = now.house.events.get(slug) or then.house.events.get(slug)
            before, after = (label if slug in one else "" for label, one in zip(labels, broken, strict=True))
            yield Change("unknown", Subject("event", event.name if event else slug, slug), before, after)

    def _now_of(self, old_slug: str) -> str:
        """Return the slug now of a drink by its slug then."""
        return next((slug for slug, before in self._matches.drinks.items() if before == old_slug), old_slug)

    def _facts(self, subject: Subject) -> Iterator[Change]:
        """Yield what a drink is like as the first menu that lists it, or the house itself, makes it."""
        spec = self.after.house.specs[subject.id]
        event = next((event for event, menu in self.after.menus.items() if subject.id in menu), NO_EVENT)
        drink, faults = self.after.bar(event).work_out(spec)
        if event != NO_EVENT or _is_own(spec):
            self.after.problems += faults
        if drink is None or drink.facts.serve.unread or drink.facts.serve.strengthless:
            return
        serve = drink.facts.serve
        yield Change(
            "figure", subject, after=f"{serve.made.served_abv_percent.value:.1f} % vol", fact="strength"
        )
        for substance, said in declared(serve).items():
            yield Change("allergen", subject, after=said.level, fact=substance, word=said.word)

    def _of_stock(
        self, phrases: Mapping[str, tuple[str, ...]], reach: Mapping[str, Mapping[str, None]]
    ) -> Iterator[Change]:
        renamed = self._matches.stock
        for before, after in sorted(renamed.items()):
            yield Change("name", Subject("stock", after, old_name=before), before, after)
        for name, what in sorted(phrases.items()):
            subject = Subject("stock", name, old_name=name)
            yield from (
                Change("says", subject, after=text, where=tuple(reach.get(name, ()))) for text in what
            )
        for name in _stock_only(self.after.house, self.before, set(renamed.values())):
            yield Change("added", Subject("stock", name))
        for name in _stock_only(self.before.house, self.after, set(renamed)):
            yield Change("gone", Subject("stock", old_name=name))

    def _new_event(self, event: Event) -> Change:
        specs = self.after.house.specs
        menu = (entry.slug for part in event.sections for entry in part.entries)
        names = tuple(specs[slug].name if slug in specs else slug for slug in menu)
        subject = Subject("event", event.name, event.slug)
        return Change("added", subject, after=event.date.isoformat(), where=names)

    def _of_events(self) -> Iterator[Change]:
        matched = self._matches.events
        for slug, event in self.after.house.events.items():
            if slug not in matched and slug not in self._then.broken_events:
                yield self._new_event(event)
        for slug, event in self.before.house.events.items():
            if slug not in matched.values() and slug not in self._now.broken_events:
                yield Change("gone", Subject("event", old_name=event.name, old_id=slug))
        for slug, phrases in event_moves(self.before.house, self.after.house, self._matches.drinks, matched):
            old, new = self.before.house.events[matched[slug]], self.after.house.events[slug]
            subject = Subject("event", new.name, slug, old.name, old.slug)
            yield from (Change("says", subject, after=phrase) for phrase in phrases)


def _stock_phrases(old: House, new: House, matches: Matches) -> dict[str, tuple[str, ...]]:
    """Return what each stock line says differently, by its name now."""
    called = {after: before for before, after in matches.stock.items()}
    before = {name_key(name): line for name, line in old.stock.items()}
    found = {
        name: tuple(phrase.text for phrase in stock_moves(earlier, line))
        for name, line in new.stock.items()
        if (earlier := before.get(name_key(called.get(name, name)))) is not None
    }
    return {name: what for name, what in found.items() if what}


def _stock_only(house: House, other: OpenedHouse, renamed: set[str]) -> list[str]:
    """Return the names only one house has in stock; another letter case is the same name."""
    known = {name_key(name) for name in other.house.stock}
    unread = other.version.reading.broken_stock
    return sorted(
        name
        for name in house.stock
        if name_key(name) not in known and name not in renamed and name_key(name) not in unread
    )


def _is_own(spec: Spec) -> bool:
    """Return whether a spec lies in the house, and not in a library outside it."""
    return not spec.place.file.startswith("../")


def _is_unchanged(old: Spec, new: Spec, then: Iterable[BarSetUp], now: BarSetUp) -> bool:
    """Return whether a drink is made as it was in one setting then, and nothing in it is a fault to be reported."""
    inputs = now.inputs(new)
    is_sound = inputs is not None and all(
        one is not None and not (isinstance(one, StockLine) and one.contains is None) for one in inputs
    )
    return is_sound and (old is new or old == new) and any(bar.inputs(old) == inputs for bar in then)


def _bottles(old: DrinkFacts, new: DrinkFacts, names: Names) -> Iterator[Change]:
    """Yield each bottle that took another's place, in the drink as written or in a swap that both have."""
    found = list(bottle_moves(old.serve.lines, new.serve.lines, names))
    earlier = {(swap.swap.replaces, swap.swap.line.name): swap for swap in old.swaps}
    for swap in new.swaps:
        if (then := earlier.get((swap.swap.replaces, swap.swap.line.name))) is not None:
            found += bottle_moves(then.serve.lines, swap.serve.lines, names)
    subject = drink_subject(old.spec, new.spec)
    for name, before, after in dict.fromkeys(found):
        yield Change("bottle", subject, before, after, fact=name)
