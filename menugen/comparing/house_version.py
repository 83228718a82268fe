"""A house as it was at one time: its bars set up as they are asked for, and what is wrong with it."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath

from menugen.bar import stock_currency
from menugen.comparing.changes import Cause, ComparedHouse
from menugen.comparing.figures import DrinkInSetting
from menugen.comparing.look_changes import Looks
from menugen.facts import Broken, Vessel, check_event, find_vessel, pieces_of, setting_for, work_out
from menugen.names import name_key
from menugen.problems import Place, Problem, Severity, Span
from menugen.reading import HouseReading
from menugen.records import Event, House, Line, Spec, StockLine

NO_EVENT = ""
"""Stands for the house itself, where a drink is on no menu."""


@dataclass(frozen=True, slots=True)
class HouseVersion:
    """A house as it was read at one time.

    Attributes:
        label: What it is called: "7f3a2c1 (2026-11-20, Swap the gin)".
        revision: Full hash; empty for the files as they lie.
        reading: What its files say.
        looks: Its own looks.
    """

    label: str
    revision: str
    reading: HouseReading
    looks: Looks = field(default_factory=dict)

    def with_errors(self, problems: Iterable[Problem]) -> ComparedHouse:
        """Return it as one of two houses that were compared, with the errors among these problems, each once."""
        errors = dict.fromkeys(problem for problem in problems if problem.severity is Severity.ERROR)
        return ComparedHouse(
            self.label,
            self.revision,
            tuple(
                replace(problem, where=self.reading.sources.span(problem.where))
                if isinstance(problem.where, Place)
                else problem
                for problem in errors
            ),
        )


class BarSetUp:
    """The bar of one event, or that of the house itself, with what has been looked up there."""

    def __init__(self, house: House, event: Event | None, reading: HouseReading) -> None:
        """Set up a bar.

        Args:
            house: The house.
            event: One of its events; None for drinks on no menu.
            reading: The house as it was read: what is broken in it has been reported already.
        """
        self.setting, self.problems = setting_for(house, event)
        self._house = house
        self._broken = Broken(reading.broken_specs, reading.broken_stock)
        self._vessels: dict[str, Vessel | None] = {}

    def inputs(self, spec: Spec) -> tuple[object, ...] | None:
        """Return all that a drink is worked out from but the spec; None where there is no setting."""
        if self.setting is None:
            return None
        if spec.glass not in self._vessels:
            self._vessels[spec.glass] = find_vessel(spec.glass, self._house.glasses, pieces_of(self._house))
        return (self.setting.region, self._vessels[spec.glass], *self.stock(spec))

    def stock(self, spec: Spec) -> tuple[StockLine | None, ...]:
        """Return the bottle of each line and swap of a drink; None for a name that none fills."""
        if self.setting is None:
            return ()
        return tuple(self.setting.bottles.find(line.name) for line in _lines(spec))

    def work_out(self, spec: Spec) -> tuple[DrinkInSetting | None, tuple[Problem, ...]]:
        """Return a drink worked out here, and what is wrong with it."""
        if self.setting is None:
            return None, self.problems
        facts, problems = work_out(spec, self.setting, self._broken)
        if facts is None:
            return None, problems
        region = self.setting.region
        return DrinkInSetting(facts, region, stock_currency(self._house, region)), problems

    def faults_of(self, event: Event) -> tuple[Problem, ...]:
        """Return what is wrong with the event itself: a drink on the menu that is not there."""
        if self.setting is None:
            return self.problems
        return tuple(check_event(event, self._house, self.setting, self._broken))


class OpenedHouse:
    """One of the two houses, with its bars.

    Attributes:
        house: What its files say.
        version: The same as it was read.
        problems: What is wrong, as far as it was met.
        unknown: The drinks that could not be read or worked out, by slug, with the problems met on the way.
        menus: Slugs of the drinks on each event's menu, by the event's.
    """

    def __init__(self, version: HouseVersion, house: House) -> None:
        """Open a house that could be read."""
        self.house = house
        self.version = version
        self.unknown: dict[str, tuple[Problem, ...]] = dict.fromkeys(version.reading.broken_specs, ())
        self._bars: dict[str, BarSetUp] = {}
        self.menus = {
            slug: {entry.slug for part in event.sections for entry in part.entries}
            for slug, event in house.events.items()
        }
        self.problems = list(version.reading.problems)
        for slug, event in house.events.items():
            self.problems += self.bar(slug).faults_of(event)

    def bar(self, event: str) -> BarSetUp:
        """Return the bar of an event, by its slug; NO_EVENT is the house itself."""
        if event not in self._bars:
            self._bars[event] = BarSetUp(self.house, self.house.events.get(event), self.version.reading)
        return self._bars[event]

    def bar_for(self, event: Event) -> BarSetUp:
        """Return the bar this house would have set up for an event of another, with bottles of its own."""
        known_as = f"{event.slug}\0"
        if known_as not in self._bars:
            self._bars[known_as] = BarSetUp(self.house, replace(event, bottles={}), self.version.reading)
        return self._bars[known_as]

    def is_for_events(self, spec: Spec) -> bool:
        """Return whether a drink asks for what events choose a bottle for and the house itself has none of."""
        filled = zip(_lines(spec), self.bar(NO_EVENT).stock(spec), strict=False)
        missing = {name_key(line.name) for line, stock in filled if stock is None}
        chosen = {name_key(name) for event in self.house.events.values() for name in event.bottles}
        return bool(missing) and missing <= chosen

    def why_unknown(self, sort: str, slug: str) -> tuple[Cause, ...]:
        """Return the fault that keeps a drink, or an event, from being known; empty where nothing does."""
        reading = self.version.reading
        if slug not in (self.unknown if sort == "drink" else reading.broken_events):
            return ()
        spec = self.house.specs.get(slug)
        asked = {name_key(line.name) for line in _lines(spec)} if spec else set()

        def is_its_own(problem: Problem) -> bool:
            path = problem.where.path if isinstance(problem.where, Place) else ()
            is_asked_for = bool(path) and name_key(str(path[0])) in asked
            return is_asked_for or PurePosixPath(problem.where.file).stem == slug

        read = [one for one in reading.problems if one.severity is Severity.ERROR]
        met = [one for one in self.unknown.get(slug, ()) if one.severity is Severity.ERROR]
        first = [*filter(is_its_own, read), *met, *read][:1]
        return tuple(
            Cause(fault.where.file, _fault_words(fault)) for fault in self.version.with_errors(first).errors
        ) or (Cause(slug, "it cannot be worked out"),)


def _lines(spec: Spec) -> tuple[Line, ...]:
    return (*spec.lines, *(swap.line for swap in spec.swaps))


def _fault_words(problem: Problem) -> str:
    """Return a fault with its place: "stock/larder.yaml line 4: ..."."""
    line = f" line {problem.where.line}" if isinstance(problem.where, Span) else ""
    return f"{problem.where.file}{line}: {problem.message}"
