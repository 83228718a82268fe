"""One of the two houses compared: its settings and bottles as they are asked for, and what is wrong with it."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from menugen.bar import stock_currency
from menugen.comparing.changes import Side
from menugen.comparing.figures import Seen
from menugen.facts import Broken, DrinkFacts, Setting, check_event, setting_for, work_out
from menugen.facts.glasses import Vessel, find_vessel, pieces_of
from menugen.problems import Place, Problem, Severity
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


class Shelf:
    """One house in one setting, with what has been looked up in it."""

    def __init__(self, house: House, event: Event | None, broken: Broken) -> None:
        """Set the bar of an event, or that of the house itself.

        Args:
            house: The house.
            event: One of its events; None for drinks on no menu.
            broken: What reading has already told of.
        """
        self.setting, self.problems = setting_for(house, event)
        self._house = house
        self._broken = broken
        self._vessels: dict[str, Vessel | None] = {}

    def inputs(self, spec: Spec) -> tuple[object, ...] | None:
        """Return all that a drink is worked out from but the spec; None where there is no setting."""
        setting = self.setting
        if setting is None:
            return None
        if spec.glass not in self._vessels:
            self._vessels[spec.glass] = find_vessel(spec.glass, self._house.glasses, pieces_of(self._house))
        return (setting.region, self._vessels[spec.glass], *self.stock(spec))

    def stock(self, spec: Spec) -> tuple[StockLine | None, ...]:
        """Return the bottle of each line and swap of a drink; None for a name that none fills."""
        if self.setting is None:
            return ()
        lines = (*spec.lines, *(swap.line for swap in spec.swaps))
        return tuple(self.setting.bottles.find(line.name) for line in lines)

    def work_out(self, spec: Spec) -> tuple[DrinkFacts | None, tuple[Problem, ...]]:
        """Return a drink worked out here, and what is wrong with it."""
        if self.setting is None:
            return None, self.problems
        return work_out(spec, self.setting, self._broken)

    def seen(self, facts: DrinkFacts) -> Seen:
        """Return a worked-out drink with the rules of this place and the money of the house."""
        setting: Setting | None = self.setting
        if setting is None:
            raise AssertionError("a drink was worked out without a setting")
        return Seen(facts, setting.region, stock_currency(self._house, setting.region))


class Half:
    """One of the two houses, with its settings as they are needed.

    Attributes:
        house: What its files say.
        label: What it is called.
        reading: The same with what is wrong with them.
        problems: What is wrong, as far as it was met.
        unknown: Slug -> name of the drinks that could not be worked out.
        menus: Slugs of the drinks on each event's menu, by the event's.
    """

    def __init__(self, edition: Edition, house: House) -> None:
        """Open a house that could be read."""
        self.house = house
        self.label = edition.label
        self.reading = edition.reading
        self.problems: list[Problem] = list(edition.reading.problems)
        self.unknown: dict[str, str] = {}
        self._broken = Broken(edition.reading.broken_specs, edition.reading.broken_stock)
        self._shelves: dict[str, Shelf] = {}
        self.menus = {
            slug: {entry.slug for part in event.sections for entry in part.entries}
            for slug, event in house.events.items()
        }

    def shelf(self, event: str) -> Shelf:
        """Return the bar of an event, by its slug; AT_HOME is the house itself."""
        if event not in self._shelves:
            self._shelves[event] = Shelf(self.house, self.house.events.get(event), self._broken)
        return self._shelves[event]

    def joined(self, slug: str, compared: Collection[str]) -> tuple[str, ...]:
        """Return the events that list a drink beside those it is compared at."""
        return tuple(event for event, menu in self.menus.items() if slug in menu and event not in compared)

    def check_events(self) -> None:
        """Find what is wrong with the events themselves: a drink on the menu that is not there."""
        for slug, event in self.house.events.items():
            shelf = self.shelf(slug)
            if shelf.setting is None:
                self.problems += shelf.problems
            else:
                self.problems += check_event(event, self.house, shelf.setting, self._broken)

    def told(self, revision: str) -> Side:
        """Return this house as one side of a comparison, with the errors that were met."""
        return Side(self.label, revision, errors_of(self.reading, self.problems))


def errors_of(reading: HouseReading, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the errors among these, each once, at its line of the file."""
    errors = dict.fromkeys(problem for problem in problems if problem.severity is Severity.ERROR)
    return tuple(
        replace(problem, where=reading.sources.span(problem.where))
        if isinstance(problem.where, Place)
        else problem
        for problem in errors
    )
