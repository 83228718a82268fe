"""One event's menus: the one it began with, each that followed while it was on, and those that nobody could publish."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time

from menugen.comparing import Change, HouseVersion, compare
from menugen.facts import Broken, EventFacts, work_out_event
from menugen.past.event_states import EventFile, EventIdentity, EventStates
from menugen.past.part_of_house import PartOfHouse
from menugen.problems import Problem, Severity
from menugen.reading import HouseReading, read_house
from menugen.revisions import Commit

MOST_UNPUBLISHABLE = 50
"""Menus with faults that are passed over, at most, on the way back to one that could be published."""

_EMPTY_PART = "folder-empty"
"""A fault of a part of a house alone: its folder holds nothing that was asked for."""


@dataclass(frozen=True, slots=True)
class MenuStage:
    """One menu an event had.

    Attributes:
        since: From when it held: the start of the event, or the commit's clock; None where a revision was asked for.
        commit: The house it was made from.
        facts: The event worked out.
        errors: What kept a drink from being worked out; nothing was published with these.
        changes: What is not as it was on the menu before.
    """

    since: datetime | None
    commit: Commit
    facts: EventFacts
    errors: tuple[Problem, ...] = ()
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class UnpublishableMenu:
    """A commit whose menu could not be published.

    Attributes:
        commit: The commit.
        problem: The first of its errors, in words.
    """

    commit: Commit
    problem: str


@dataclass(frozen=True, slots=True)
class BranchCommit:
    """A commit of an event's day that was not on the main line then.

    Attributes:
        commit: The commit.
        merge: What brought it to the main line afterwards.
        changes: What is not as it was on the last menu.
    """

    commit: Commit
    merge: Commit
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class EventServed:
    """One event as it was.

    Attributes:
        stages: Its menus, in order; the first is the one it began with.
        unpublishable: Commits up to its end whose menus could not be published, the oldest first.
        on_branches: Commits of its day that were merged only after it; a menu may have been published from them.
    """

    stages: tuple[MenuStage, ...]
    unpublishable: tuple[UnpublishableMenu, ...] = ()
    on_branches: tuple[BranchCommit, ...] = ()

    @property
    def last(self) -> MenuStage:
        """The menu it ended with."""
        return self.stages[-1]


@dataclass(frozen=True, slots=True)
class WorkedOutMenu:
    """An event's menu as one commit had it.

    Attributes:
        commit: The commit.
        known: The event then.
        reading: The house then, with this event and its drinks alone.
        facts: The event worked out; None where it could not be.
        errors: What keeps it from being published.
    """

    commit: Commit
    known: EventFile
    reading: HouseReading
    facts: EventFacts | None
    errors: tuple[Problem, ...]

    @property
    def sound(self) -> bool:
        """Whether it could be published."""
        return self.facts is not None and not self.errors

    @property
    def version(self) -> HouseVersion:
        """The house for a comparison."""
        return HouseVersion(self.commit.short, self.commit.revision, self.reading)


def read_menu(states: EventStates, commit: Commit, known: EventFile) -> WorkedOutMenu:
    """Return an event's menu as a commit has it, read and worked out."""
    reading = read_house(PartOfHouse(states.files(commit), known.drinks, (known.slug,)))
    facts: EventFacts | None = None
    problems = [problem for problem in reading.problems if problem.code != _EMPTY_PART]
    if reading.house is not None and known.slug in reading.house.events:
        broken = Broken(reading.broken_specs, reading.broken_stock)
        facts, found = work_out_event(reading.house, reading.house.events[known.slug], broken)
        problems += found
    errors = dict.fromkeys(problem for problem in problems if problem.severity is Severity.ERROR)
    return WorkedOutMenu(commit, known, reading, facts, tuple(errors))


def why_unpublishable(read: WorkedOutMenu) -> str:
    """Return the first thing that keeps a menu from being published, in words."""
    return next((f"{one.where.file}: {one.message}" for one in read.errors), "it cannot be worked out")


def menus_of(
    states: EventStates,
    past: Sequence[Commit],
    identity: EventIdentity,
    event: EventFile,
    beside: Mapping[Commit, Commit],
) -> EventServed | str:
    """Return the menus of one event, or a sentence where none can be told.

    Args:
        states: Where events are looked up.
        past: The commits of the main line up to the event's end, the newest first.
        identity: The event.
        event: The same, as that commit has it.
        beside: Commits that were on no main line then, each with the merge that brought it.
    """
    found: list[WorkedOutMenu] = []
    unpublishable: list[WorkedOutMenu] = []
    for commit, known in _changes(states, past, identity, event.start):
        read = read_menu(states, commit, known)
        (found if read.sound else unpublishable).append(read)
        if commit.clock <= event.start and (found or len(unpublishable) == MOST_UNPUBLISHABLE):
            break
    if not found:
        last = unpublishable[0]
        if last.facts is None:
            return f"{event.name}, {event.day}, is not told: {last.commit.short}: {why_unpublishable(last)}"
        found, unpublishable = [last], []
    found.reverse()
    stages: list[MenuStage] = []
    for index, read in enumerate(found):
        if read.facts is None:
            raise AssertionError("a menu without facts is never told")
        since = max([read.commit.clock, event.start, *(stage.since for stage in stages if stage.since)])
        stages.append(
            MenuStage(
                since,
                read.commit,
                read.facts,
                read.errors,
                compare(found[index - 1].version, read.version).changes if index else (),
            )
        )
    return EventServed(
        tuple(stages),
        tuple(UnpublishableMenu(read.commit, why_unpublishable(read)) for read in reversed(unpublishable)),
        tuple(_on_branches(states, found[-1], identity, event.end, beside)),
    )


def _changes(
    states: EventStates, past: Sequence[Commit], event: EventIdentity, start: datetime
) -> Iterator[tuple[Commit, EventFile]]:
    """Yield each commit that changed what the event's menu is made from, the newest first, and the event then.

    What held when the event began goes by the name of the last commit before that, since a menu does.
    """
    key: tuple[str, ...] | None = None
    held: tuple[Commit, EventFile] | None = None
    for commit in past:
        known = states.find(commit, event)
        if known is None:
            break
        now = states.key(commit, known)
        if now != key:
            if held is not None:
                yield held
            key, held = now, (commit, known)
        elif held is not None and held[0].clock > start:
            held = commit, known
    if held is not None:
        yield held


def _on_branches(
    states: EventStates,
    last: WorkedOutMenu,
    event: EventIdentity,
    end: datetime,
    beside: Mapping[Commit, Commit],
) -> Iterator[BranchCommit]:
    """Yield the commits of the event's day that would have made another menu, the oldest first."""
    morning = datetime.combine(event.day, time.min)
    for commit, merge in sorted(beside.items(), key=lambda item: item[0].clock):
        if not morning <= commit.clock <= end:
            continue
        known = states.find(commit, event)
        if known is not None and states.key(commit, known) != states.key(last.commit, last.known):
            moved = compare(last.version, read_menu(states, commit, known).version)
            yield BranchCommit(commit, merge, moved.changes)
