"""Every drink of two houses: what is told otherwise under its names, menu by menu, and what brought that about.

Nothing unchanged is worked out: what is made of the same, by the same rules, is declared as it was.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from menugen.comparing.changes import NOT_READ, Change, level
from menugen.comparing.differences import Names, bottle_moves
from menugen.comparing.drink_changes import declared_changes, drink_changes, drink_subject, written_changes
from menugen.comparing.earlier_menus import EarlierMenus, HeldAgainst
from menugen.comparing.figures import DrinkInSetting
from menugen.comparing.house_version import NO_EVENT, BarSetUp, OpenedHouse
from menugen.comparing.matching import Matches
from menugen.facts import DrinkFacts
from menugen.records import Spec, StockLine


def by_name(specs: Mapping[str, Spec]) -> list[tuple[str, Spec]]:
    """Return specs by the names of their drinks."""
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
class Reach:
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


class ComparedDrinks:
    """The drinks of two houses.

    Attributes:
        reach: The drinks that pour each stock line that changed, by its name; known once `changes` is through.
    """

    def __init__(self, before: OpenedHouse, after: OpenedHouse, matches: Matches) -> None:
        """Remember the houses, and what of one is what in the other."""
        self.before = before
        self.after = after
        self.reach: dict[str, Reach] = {}
        self._matches = matches
        self._earlier = EarlierMenus(before, after, matches)

    def changes(self, stock: Collection[str]) -> Iterator[Change]:
        """Yield what changed under the name of each drink.

        Args:
            stock: Names of the stock lines that changed: which drinks they reach is noted.
        """
        for slug, spec in by_name(self.after.house.specs):
            held = {
                event: self._earlier.of(slug, event)
                for event, menu in self.after.menus.items()
                if slug in menu
            }
            for event in (*held, NO_EVENT) if stock else ():
                for line in self.after.bar(event).stock(spec):
                    if line is not None and line.name in stock:
                        self.reach.setdefault(line.name, Reach()).note(spec.name, event)
            found = {event: list(self._at(spec, event, names)) for event, names in held.items()}
            stayed = {event for event, names in held.items() if any(one.is_same_menu for one in names)}
            at_home = list(self._at_home(spec, stayed=bool(stayed), is_reported=not held and is_own(spec)))
            yield from self._once(found, stayed, at_home)

    def _at(self, new: Spec, event: str, names: Iterable[HeldAgainst]) -> Iterator[Change]:
        """Yield what one menu says otherwise under a drink's names: of all that is declared, and of all it comes to.

        What it comes to is told only of a drink that was on that event's menu before.
        """
        now, own = self.after.bar(event), self.own(new)
        for held in names:
            olds = _distinct(
                (self.before.house.specs[one.slug], self.before.bar(one.event)) for one in held.olds
            )
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
                if held.olds or one.gained or one.kind == "unread":
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
        own, then, now = self.own(new), self.before.bar(NO_EVENT), self.after.bar(NO_EVENT)
        if own is None or _is_unchanged([(own, then)], new, now):
            return
        if stayed and then.stock(own) == now.stock(new):
            return
        is_reported = is_reported and not (self.before.is_for_events(own) or self.after.is_for_events(new))
        known, drink = self._worked_out([(own, then)], new, now, is_reported=is_reported)
        if drink is not None and known:
            found = declared_changes(known, drink, self._matches.names, drink_subject(own, new))
            # A label that nobody ever read is a fault only of what the house may pour.
            yield from (replace(one, unlisted=True) for one in found if is_reported or one.before != NOT_READ)
            yield from () if stayed else self._come_to(known[0], drink)
        elif not (stayed or own.slug in self.before.unknown or new.slug in self.after.unknown):
            yield from written_changes(own, new, self._matches.names)

    def is_new_on(self, event: str, slug: str) -> bool:
        """Return whether a name is on an event's menu that was not on it."""
        return not any(held.is_same_menu for held in self._earlier.of(slug, event))

    def own(self, new: Spec) -> Spec | None:
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
            if drink is None:
                self.after.unknown[new.slug] = problems
        for old, _, faults in before if is_reported and was_told else ():
            self.before.problems += faults
            if not known:
                self.before.unknown[old.slug] = faults
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


def is_own(spec: Spec) -> bool:
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


def _distinct(olds: Iterable[tuple[Spec, BarSetUp]]) -> list[tuple[Spec, BarSetUp]]:
    """Return drinks in their settings, once where several menus made one of the same, by the same rules."""
    found: list[tuple[Spec, BarSetUp, object]] = []
    for old, then in olds:
        inputs = then.inputs(old)
        if inputs is None or not any(one is old and known == inputs for one, _, known in found):
            found.append((old, then, inputs))
    return [(old, then) for old, then, _ in found]


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
