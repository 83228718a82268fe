"""Two houses compared: what a bartender or a guest would want to know, each change once."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from menugen.comparing.changes import HOUSE, Change, Comparison, Subject
from menugen.comparing.compared_drinks import ComparedDrinks, Reach, by_name, is_own
from menugen.comparing.declared import declared
from menugen.comparing.drink_changes import drink_subject
from menugen.comparing.event_moves import event_moves, house_moves
from menugen.comparing.house_version import NO_EVENT, HouseVersion, OpenedHouse
from menugen.comparing.look_changes import look_changes
from menugen.comparing.matching import Matches, match
from menugen.comparing.stock_moves import stock_moves
from menugen.names import name_key
from menugen.problems import Problem
from menugen.reading import HouseReading
from menugen.records import Event, House

_SIDES = ("the older house", "the newer house")


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
        unread = (side for side, house in zip(_SIDES, houses, strict=True) if house is None)
        why = [f"house.yaml cannot be read in {side}: nothing could be compared" for side in unread]
        sides = [version.with_errors(version.reading.problems) for version in (old, new)]
        return Comparison(sides[0], sides[1], (), tuple(dict.fromkeys([*notes, *why])), readable=False)
    compared = _Compared(OpenedHouse(old, houses[0]), OpenedHouse(new, houses[1]))
    changes = tuple(compared.changes())
    return Comparison(
        old.with_errors(compared.before.problems),
        new.with_errors(compared.after.problems),
        changes,
        tuple(dict.fromkeys([*notes, *_not_read(old, new, _SIDES[0]), *_not_read(new, old, _SIDES[1])])),
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


def _not_read(version: HouseVersion, other: HouseVersion, side: str) -> Iterator[str]:
    """Yield a sentence for the stock that one of the two houses could not read: it is neither new nor gone."""
    old, new = other.reading.house, version.reading.house
    known = new.stock if new else {}
    lines = old.stock.values() if old else ()
    lost = sorted(
        line.name
        for line in lines
        if name_key(line.name) in version.reading.broken_stock and line.name not in known
    )
    if lost:
        yield f"stock that cannot be read in {side}: {', '.join(lost)}"


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
        self._drinks = ComparedDrinks(before, after, self._matches)

    def changes(self) -> Iterator[Change]:
        """Yield every change: drinks first, since which could not be worked out is only known then."""
        phrases = _stock_phrases(self.before.house, self.after.house, self._matches)
        yield from self._drinks.changes(phrases.keys())
        yield from self._added()
        yield from self._gone()
        yield from self._unknown()
        yield from self._of_stock(phrases)
        said = house_moves(self.before.house, self.after.house)
        looks = look_changes(self.before.version.looks, self.after.version.looks)
        yield from (Change("says", HOUSE, after=what) for what in (*said, *looks))
        yield from self._of_events()

    def _added(self) -> Iterator[Change]:
        for slug, spec in by_name(self.after.house.specs):
            if slug not in self._matches.drinks and slug not in self._then.broken_specs:
                subject = Subject("drink", spec.name, slug)
                yield Change("added", subject)
                yield from self._facts(subject)

    def _gone(self) -> Iterator[Change]:
        kept = set(self._matches.drinks.values())
        for slug, spec in by_name(self.before.house.specs):
            if slug not in kept and slug not in self._now.broken_specs:
                yield Change("gone", Subject("drink", old_name=spec.name, old_id=slug))

    def _unknown(self) -> Iterator[Change]:
        """Yield the drinks and events that one of the houses has a fault in, or both, by name."""
        then, now, drinks = self.before, self.after, self._matches.drinks
        renamed = {before: slug for slug, before in drinks.items()}
        slugs = {renamed.get(slug, slug) for slug in then.unknown} | now.unknown.keys()
        specs = {
            slug: now.house.specs.get(slug) or then.house.specs.get(drinks.get(slug, slug)) for slug in slugs
        }
        names = {slug: spec.name if spec else slug for slug, spec in specs.items()}
        for slug, name in sorted(names.items(), key=lambda item: (item[1], item[0])):
            subject = Subject("drink", name, slug)
            yield self._not_known(subject, drinks.get(slug, slug))
            if slug in now.house.specs:
                yield from self._facts(subject)
        for slug in sorted(self._then.broken_events | self._now.broken_events):
            event = now.house.events.get(slug) or then.house.events.get(slug)
            yield self._not_known(Subject("event", event.name if event else slug, slug), slug)

    def _not_known(self, subject: Subject, old_id: str) -> Change:
        """Return that a thing is at fault in one of the houses, or in both, and why."""
        why = self.before.why_unknown(subject.sort, old_id), self.after.why_unknown(subject.sort, subject.id)
        labels = self.before.version.label, self.after.version.label
        before, after = (label if causes else "" for label, causes in zip(labels, why, strict=True))
        return Change("unknown", subject, before, after, tuple(dict.fromkeys((*why[0], *why[1]))))

    def _facts(self, subject: Subject) -> Iterator[Change]:
        """Yield what a drink is like as the first menu that lists it, or the house itself, makes it."""
        spec = self.after.house.specs[subject.id]
        event = next((event for event, menu in self.after.menus.items() if subject.id in menu), NO_EVENT)
        drink, faults = self.after.bar(event).work_out(spec)
        if event != NO_EVENT or is_own(spec):
            self.after.problems += faults
        if drink is None or drink.facts.serve.unread or drink.facts.serve.strengthless:
            return
        serve = drink.facts.serve
        yield Change(
            "figure", subject, after=f"{serve.made.served_abv_percent.value:.1f} % vol", fact="strength"
        )
        for substance, said in declared(serve).items():
            yield Change("allergen", subject, after=said.level, fact=substance, word=said.word)

    def _of_stock(self, phrases: Mapping[str, tuple[str, ...]]) -> Iterator[Change]:
        renamed = self._matches.stock
        for before, after in sorted(renamed.items()):
            yield Change("name", Subject("stock", after, old_name=before), before, after)
        for name, what in sorted(phrases.items()):
            subject = Subject("stock", name, old_name=name)
            drinks = self._drinks.reach.get(name, Reach())
            would = tuple(one for one in drinks.at_home if one not in drinks.on_menus)
            yield from (
                Change("says", subject, after=text, where=tuple(drinks.on_menus), would=would)
                for text in what
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
            subject = _event_subject(self.before.house.events[matched[slug]], self.after.house.events[slug])
            yield from (Change("says", subject, after=phrase) for phrase in phrases)
        for slug, old_slug in matched.items():
            yield from self._for_guests(self.before.house.events[old_slug], self.after.house.events[slug])

    def _for_guests(self, old: Event, new: Event) -> Iterator[Change]:
        """Yield what an event's guests are told of shared equipment, and which drinks its printed cards do not have."""
        shared = [{name_key(word): word for word in event.equipment} for event in (old, new)]
        for key in dict.fromkeys((*shared[1], *shared[0])):
            before, after = (words.get(key, "") for words in shared)
            if not (before and after):
                word = after or before
                yield Change("kitchen", _event_subject(old, new), before, after, fact=word, word=word)
        if printed := new.printed or old.printed:
            for slug in sorted(self.after.menus[new.slug]):
                spec = self.after.house.specs.get(slug)
                was_unread = slug in self._then.broken_specs and slug in self.before.menus[old.slug]
                if spec is not None and not was_unread and self._drinks.is_new_on(new.slug, slug):
                    own = self._drinks.own(spec)
                    subject = drink_subject(own, spec) if own else Subject("drink", spec.name, slug)
                    yield Change("not on cards", subject, after=printed, where=(new.name,))


def _event_subject(old: Event, new: Event) -> Subject:
    return Subject("event", new.name, new.slug, old.name, old.slug)


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
