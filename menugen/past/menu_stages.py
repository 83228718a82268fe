"""One event's menus: the one it began with, each that followed while it was on, and those that nobody could publish."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

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
class PossibleMenu:
    """A menu written by an event's end that was not on the main line then: it may have been on the tables.

    Attributes:
        stage: The menu, since it was written; its changes are those against the last menu that is certain.
        merge: What brought it to the main line afterwards; None where it was committed anew, as a rebase does.
        beneath: A commit made after the event that is in it now: what that one changed was on no table.
    """

    stage: MenuStage
    merge: Commit | None
    beneath: Commit | None


@dataclass(frozen=True, slots=True)
class EventServed:
    """One event as it was.

    Attributes:
        event: What was known of it at its end.
        stages: Its menus, in order; the first is the one it began with.
        unpublishable: Commits up to its end whose menus could not be published, the oldest first.
        possible: Other menus that may have been on the tables, the oldest first.
        doubt: A commit that is in its last menu, and by its clock was made after the event; None where all is in order.
        by_authors: Why the times are those at which commits were written; empty where they are those of committing.
    """

    event: EventFile
    stages: tuple[MenuStage, ...]
    unpublishable: tuple[UnpublishableMenu, ...] = ()
    possible: tuple[PossibleMenu, ...] = ()
    doubt: Commit | None = None
    by_authors: str = ""

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
    mainline: Sequence[Commit],
    identity: EventIdentity,
    event: EventFile,
    brought: Mapping[Commit, Commit],
) -> EventServed | str:
    """Return the menus of one event, or a sentence where none can be told.

    Args:
        states: Where events are looked up.
        mainline: The commits of the main line, the newest first.
        identity: The event.
        event: The same, as it was known at its end.
        brought: Commits of branches, each with the merge that brought it.
    """
    past = [commit for commit in mainline if commit.clock <= event.end]
    found, passed = _walked(states, past, identity, event.start)
    if not found:
        return f"{passed[-1].commit.short}: {passed[-1].problem}"
    stages: list[MenuStage] = []
    for before, read in zip([None, *found], found, strict=False):
        since = max([read.commit.clock, event.start, *(stage.since for stage in stages if stage.since)])
        stages.append(_stage(read, before, since))
    seen = {states.key(read.commit, read.known) for read in found}
    possible = _Possible(states, identity, event, found[-1], seen)
    by_then = {commit.revision for commit in past}
    branches: dict[Commit, list[Commit]] = {}
    for commit, merge in brought.items():
        if merge.revision not in by_then:
            branches.setdefault(merge, []).append(commit)
    menus = [*possible.among(mainline[: mainline.index(past[0])], None)]
    menus += (menu for merge, commits in branches.items() for menu in possible.among(commits, merge))
    menus.sort(key=lambda menu: menu.stage.since or event.start)
    before_last = mainline[mainline.index(past[0]) :]
    doubt = next((commit for commit in before_last if commit.clock > event.end), None)
    return EventServed(event, tuple(stages), passed, tuple(menus), doubt)


def _walked(
    states: EventStates, past: Sequence[Commit], identity: EventIdentity, start: datetime
) -> tuple[list[WorkedOutMenu], tuple[UnpublishableMenu, ...]]:
    """Return the menus that could be published, and commits that had none, both the oldest first.

    Where none could be published, the last one that can be worked out stands for all.
    """
    found: list[WorkedOutMenu] = []
    unsound: list[WorkedOutMenu] = []
    passed: list[UnpublishableMenu] = []
    gone: list[UnpublishableMenu] = []
    for commit, known in _changes(states, past, identity, start):
        if known is None:
            # Only where it was there before that, too.
            gone = [UnpublishableMenu(commit, "the house had no such event on that day")]
            continue
        passed += gone
        gone = []
        read = read_menu(states, commit, known)
        if read.sound:
            found.append(read)
        else:
            unsound.append(read)
            passed.append(UnpublishableMenu(commit, why_unpublishable(read)))
        if commit.clock <= start and (found or len(unsound) == MOST_UNPUBLISHABLE):
            break
    if not found and unsound[0].facts is not None:
        return unsound[:1], ()
    return found[::-1], tuple(reversed(passed))


def _stage(read: WorkedOutMenu, before: WorkedOutMenu | None, since: datetime) -> MenuStage:
    if read.facts is None:
        raise AssertionError("a menu without facts is never told")
    changes = compare(before.version, read.version).changes if before else ()
    # What a bottle would bring that this menu does not pour is no part of the evening.
    served = tuple(one for one in changes if not one.unlisted)
    return MenuStage(since, read.commit, read.facts, read.errors, served)


def _changes(
    states: EventStates, past: Sequence[Commit], event: EventIdentity, start: datetime
) -> Iterator[tuple[Commit, EventFile | None]]:
    """Yield each commit that changed what the event's menu is made from, the newest first, and the event then.

    What held when the event began goes by the name of the last commit before that, since a menu does.
    """
    key: tuple[str, ...] | None = None
    held: tuple[Commit, EventFile | None] | None = None
    for commit in past:
        known = states.find(commit, event)
        now = states.key(commit, known) if known is not None else ()
        if now != key:
            if held is not None:
                yield held
            key, held = now, (commit, known)
        elif held is not None and held[0].clock > start:
            held = commit, known
    if held is not None:
        yield held


class _Possible:
    """Looks for menus that may have been on an event's tables, and are not those known for certain."""

    def __init__(
        self,
        states: EventStates,
        identity: EventIdentity,
        event: EventFile,
        last: WorkedOutMenu,
        seen: set[tuple[str, ...]],
    ) -> None:
        self._states = states
        self._identity = identity
        self._event = event
        self._last = last
        self._seen = seen

    def among(self, commits: Sequence[Commit], merge: Commit | None) -> Iterator[PossibleMenu]:
        """Yield the menus that were written by the event's end: each of its hours, and the last one before it.

        Args:
            commits: Of the main line or of one branch, the newest first.
            merge: What brought the branch; None for the main line.
        """
        tried = 0
        for place, commit in enumerate(commits):
            written = min(commit.clock, commit.written)
            known = self._states.find(commit, self._identity) if written <= self._event.end else None
            if known is None:
                continue
            key = self._states.key(commit, known)
            if key not in self._seen:
                read = read_menu(self._states, commit, known)
                tried += 1
                if read.sound:
                    self._seen.add(key)
                    later = (one for one in commits[place:] if min(one.clock, one.written) > self._event.end)
                    stage = _stage(read, self._last, max(written, self._event.start))
                    yield PossibleMenu(stage, merge, next(later, None))
            if written <= self._event.start and (key in self._seen or tried == MOST_UNPUBLISHABLE):
                break
