"""Two houses compared: what a bartender or a guest would want to know, each change once."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from menugen.comparing.changes import HOUSE, Change, Comparison, Subject, level
from menugen.comparing.declared import declared
from menugen.comparing.differences import Names, bottle_moves
from menugen.comparing.drink_changes import declared_changes, drink_changes, drink_subject, written_changes
from menugen.comparing.earlier_menus import EarlierMenus, HeldAgainst
from menugen.comparing.event_moves import event_moves, house_moves
from menugen.comparing.figures import DrinkInSetting
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


_ORDER = (
    "file",
    "name",
    "measure",
    "making",
    "swap",
    "allergen",
    "figure",
    "caution",
    "listing",
    "unread",
    "bottle",
)
"""In which order the changes of a drink are told."""


@dataclass(frozen=True, slots=True)
class _Reach:
    """The drinks that pour a stock line, by name.

    Attributes:
        on_menus: Those that pour it on a menu.
        at_home: Those that pour it as the house itself makes them.
    """

    on_menus: dict[str, None] = field(default_factory=dict)
    at_home: dict[str, None] = field(default_factory=dict)

    def note(self, drink: str, event: str) -> None:
        """Remember that a drink pours it at an event, or at home."""
        (self.at_home if event == NO_EVENT else self.on_menus)[drink] = None


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
        self._earlier = EarlierMenus(before, after, self._matches)

    def changes(self) -> Iterator[Change]:
        """Yield every change: drinks first, since which could not be worked out is only known then."""
        reach: dict[str, _Reach] = {}
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

    def _of_drinks(self, stock: Collection[str], reach: dict[str, _Reach]) -> Iterator[Change]:
        """Yield what changed under the name of each drink; note which are poured from stock that changed."""
        for slug, spec in _by_name(self.after.house.specs):
            held = {
                event: self._earlier.of(slug, event)
                for event, menu in self.after.menus.items()
                if slug in menu
            }
            for event in (*held, NO_EVENT) if stock else ():
                for line in self.after.bar(event).stock(spec):
                    if line is not None and line.name in stock:
                        reach.setdefault(line.name, _Reach()).note(spec.name, event)
            found = {event: list(self._at(spec, event, names)) for event, names in held.items()}
            stayed = {event for event, names in held.items() if any(one.is_same_menu for one in names)}
            at_home = list(self._at_home(spec, stayed=bool(stayed), is_reported=not held and _is_own(spec)))
            yield from self._once(found, stayed, at_home)

    def _at(self, new: Spec, event: str, names: Iterable[HeldAgainst]) -> Iterator[Change]:
        """Yield what one menu says otherwise under a drink's names: of all that is declared, and of all it comes to.

        What it comes to is told only of a drink that was on that event's menu before.
        """
        now, own = self.after.bar(event), self._own(new)
        for held in names:
            olds = [(self.before.house.specs[one.slug], self.before.bar(one.event)) for one in held.olds]
            if not olds and own is not None:
                olds = [(own, self._bar_before(event))]
            if not olds or _is_unchanged(olds, new, now):
                continue
            known, drink = self._worked_out(olds, new, now, was_told=bool(held.olds))
            if drink is None or not known:
                continue
            subject = drink_subject(known[0].facts.spec, new)
            if held.languages:
                subject = subject._replace(name=held.name, old_name=held.name)
            for one in declared_changes(known, drink, self._matches.names, subject):
                # What nobody was told is no loss.
                if held.olds or one.gained:
                    yield replace(one, languages=held.languages)
            if held.is_same_menu and (not held.languages or known[0].facts.spec is own):
                yield from self._come_to(known[0], drink)

    def _at_home(self, new: Spec, *, stayed: bool, is_reported: bool) -> Iterator[Change]:
        """Yield what changed of a drink as the house itself makes it.

        Args:
            new: The drink.
            stayed: Whether it is on a menu, and was. Then it is only what labels bring that are not poured there, and
                would be elsewhere.
            is_reported: Whether it is a fault where it cannot be made so.
        """
        own, then, now = self._own(new), self.before.bar(NO_EVENT), self.after.bar(NO_EVENT)
        if own is None or _is_unchanged([(own, then)], new, now):
            return
        if stayed and then.stock(own) == now.stock(new):
            return
        is_reported = is_reported and not (self.before.is_for_events(own) or self.after.is_for_events(new))
        known, drink = self._worked_out([(own, then)], new, now, is_reported=is_reported)
        if drink is not None and known:
            found = declared_changes(known, drink, self._matches.names, drink_subject(own, new))
            yield from (replace(one, unlisted=True) for one in found)
            yield from () if stayed else self._come_to(known[0], drink)
        elif not (stayed or own.slug in self.before.unknown or new.slug in self.after.unknown):
            yield from written_changes(own, new, self._matches.names)

    def _own(self, new: Spec) -> Spec | None:
        """Return what a drink was in the older house."""
        return self.before.house.specs.get(self._matches.drinks.get(new.slug, ""))

    def _bar_before(self, event: str) -> BarSetUp:
        """Return the bar of an event as it was; of a new one that of the older house, under the event's rules."""
        earlier = self._matches.events.get(event)
        return self.before.bar(earlier) if earlier else self.before.bar_for(self.after.house.events[event])

    def _worked_out(
        self,
        olds: Iterable[tuple[Spec, BarSetUp]],
        new: Spec,
        now: BarSetUp,
        *,
        is_reported: bool = True,
        was_told: bool = True,
    ) -> tuple[list[DrinkInSetting], DrinkInSetting | None]:
        """Return what drinks were and what one is, as far as they can be worked out.

        Args:
            olds: What they were, each in its setting.
            new: What one is.
            now: Its setting.
            is_reported: Whether a fault of it is to be told.
            was_told: Whether guests were told what it was: then a fault of that is told, too.
        """
        drink, problems = now.work_out(new)
        before = [(old, *then.work_out(old)) for old, then in olds]
        known = [one for _, one, _ in before if one is not None]
        if is_reported:
            self.after.problems += problems
            self.after.unknown |= {new.slug} if drink is None else set()
        if is_reported and was_told:
            self.before.problems += (fault for _, _, faults in before for fault in faults)
            self.before.unknown |= set() if known else {old.slug for old, _, _ in before}
        return known, drink

    def _come_to(self, old: DrinkInSetting, new: DrinkInSetting) -> Iterator[Change]:
        """Yield what a spec says differently, what it comes to, and which bottles took another's place."""
        names = self._matches.names
        yield from written_changes(old.facts.spec, new.facts.spec, names)
        yield from drink_changes(old, new, names)
        yield from _bottles(old.facts, new.facts, names)

    def _once(
        self, found: Mapping[str, Sequence[Change]], stayed: Collection[str], at_home: Sequence[Change]
    ) -> Iterator[Change]:
        """Yield everything that changed of one drink, each once, however many events it shows at.

        Args:
            found: What changed, by event.
            stayed: The events on whose menus the drink was before.
            at_home: What changed of it as the house itself makes it.
        """
        at: dict[Change, set[str]] = {}
        for event, changes in found.items():
            for change in changes:
                at.setdefault(change, set()).add(event)
        events = self.after.house.events
        for change, slugs in sorted(at.items(), key=lambda item: _ORDER.index(item[0].kind)):
            is_everywhere = bool(stayed) and slugs in (set(stayed), set(found))
            if change.kind != "bottle" and not is_everywhere:
                yield replace(
                    change, where=tuple(event.name for slug, event in events.items() if slug in slugs)
                )
            else:
                yield change
        on_menus = {_anywhere(change) for change in at}
        unlisted = (one for one in at_home if _anywhere(one) not in on_menus)
        yield from sorted(unlisted, key=lambda one: _ORDER.index(one.kind))

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
        self, phrases: Mapping[str, tuple[str, ...]], reach: Mapping[str, _Reach]
    ) -> Iterator[Change]:
        renamed = self._matches.stock
        for before, after in sorted(renamed.items()):
            yield Change("name", Subject("stock", after, old_name=before), before, after)
        for name, what in sorted(phrases.items()):
            subject = Subject("stock", name, old_name=name)
            drinks = reach.get(name, _Reach())
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
                if slug in self.after.house.specs and self._is_new_there(slug, new.slug):
                    own = self._own(spec := self.after.house.specs[slug])
                    subject = drink_subject(own, spec) if own else Subject("drink", spec.name, slug)
                    yield Change("not on cards", subject, after=printed, where=(new.name,))

    def _is_new_there(self, slug: str, event: str) -> bool:
        """Return whether a name is on an event's menu that was not on it, or in a file that nobody could read."""
        unread = slug in self._then.broken_specs and slug in self.before.menus[self._matches.events[event]]
        return not unread and not self._earlier.of(slug, event)[0].is_same_menu


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


def _is_own(spec: Spec) -> bool:
    """Return whether a spec lies in the house, and not in a library outside it."""
    return not spec.place.file.startswith("../")


def _is_unchanged(olds: Iterable[tuple[Spec, BarSetUp]], new: Spec, now: BarSetUp) -> bool:
    """Return whether a drink is made as it was in one setting then, and nothing in it is a fault to be reported.

    What is made of the same is declared as it was: it need not be worked out.
    """
    inputs = now.inputs(new)
    is_sound = inputs is not None and all(
        one is not None and not (isinstance(one, StockLine) and one.contains is None) for one in inputs
    )
    return is_sound and any((old is new or old == new) and then.inputs(old) == inputs for old, then in olds)


def _anywhere(one: Change) -> tuple[object, ...]:
    """Return what makes a change the same in another place, whose law may have other words for it."""
    sides = level(one.after) if one.kind == "allergen" else (one.before, one.after)
    return one.kind, one.subject, one.fact, one.swap, sides


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
