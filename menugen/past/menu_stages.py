"""One event's menus: the one it began with, each that followed while it was on, and those that nobody could publish."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple

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
        changes: What is not as it was on the menu before; where it is only possible, on the last that is certain.
        merge: What brought it to the main line after the event; None where it was there, or was committed anew.
        beneath: A commit made after the event that is in it now: what that one changed was on no table.
    """

    since: datetime | None
    commit: Commit
    facts: EventFacts
    errors: tuple[Problem, ...] = ()
    changes: tuple[Change, ...] = ()
    merge: Commit | None = None
    beneath: Commit | None = None


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
class EventServed:
    """One event as it was.

    Attributes:
        event: What was known of it at its end.
        stages: Its menus, in order; the first is the one it began with.
        unpublishable: Commits up to its end whose menus could not be published, the oldest first.
        possible: Menus that were written by its end and came to the main line later: any of them may have been on the
            tables. The oldest first.
        doubt: A commit that is in its last menu, and by its clock was made after the event; None where all is in order.
        by_authors: Why the times are those at which commits were written; empty where they are those of committing.
    """

    event: EventFile
    stages: tuple[MenuStage, ...]
    unpublishable: tuple[UnpublishableMenu, ...] = ()
    possible: tuple[MenuStage, ...] = ()
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


class Evening(NamedTuple):
    """One event, to be followed through the history.

    Attributes:
        states: Where events are looked up.
        identity: The event, through all its versions.
        event: The same, as it was known at its end.
    """

    states: EventStates
    identity: EventIdentity
    event: EventFile

    def menus(self, mainline: Sequence[Commit], brought: Mapping[Commit, Commit]) -> EventServed | str:
        """Return the event's menus, or a sentence where none can be told.

        Args:
            mainline: The commits of the main line, the newest first.
            brought: Commits of branches, the newest first, each with the merge that brought it.
        """
        event = self.event
        past = [commit for commit in mainline if commit.clock <= event.end]
        found, passed = self._walked(past)
        if not found:
            return f"{passed[-1].commit.short}: {passed[-1].problem}"
        stages: list[MenuStage] = []
        for before, read in zip([None, *found], found, strict=False):
            since = max([read.commit.clock, event.start, *(stage.since for stage in stages if stage.since)])
            stages.append(_stage(read, before, since))
        at_first = {commit.revision for commit in past if commit.clock <= event.start}
        last = mainline.index(past[0])
        later: dict[Commit | None, list[Commit]] = {None: [*mainline[:last]]}
        for commit, merge in brought.items():
            if merge.revision not in at_first:
                later.setdefault(merge, []).append(commit)
        seen = {self.states.key(read.commit, read.known) for read in found}
        possible = [
            menu for merge, some in later.items() for menu in self._possible(some, merge, found[-1], seen)
        ]
        possible.sort(key=lambda menu: menu.since or event.start)
        doubt = next((commit for commit in mainline[last:] if commit.clock > event.end), None)
        return EventServed(event, tuple(stages), passed, tuple(possible), doubt)

    def _walked(self, past: Sequence[Commit]) -> tuple[list[WorkedOutMenu], tuple[UnpublishableMenu, ...]]:
        """Return the menus that could be published, and commits that had none, both the oldest first.

        Where none could be published, the last one that can be worked out stands for all.
        """
        found: list[WorkedOutMenu] = []
        unsound: list[WorkedOutMenu] = []
        passed: list[UnpublishableMenu] = []
        gone: list[UnpublishableMenu] = []
        for commit, known in self._changes(past):
            if known is None:
                # Only where it was there before that, too.
                day = self.states.moved_to(commit, self.identity)
                why = f"by then its day was {day}" if day else "the house had no such event on that day"
                gone = [UnpublishableMenu(commit, why)]
                continue
            passed += gone
            gone = []
            read = read_menu(self.states, commit, known)
            if read.sound:
                found.append(read)
            else:
                unsound.append(read)
                passed.append(UnpublishableMenu(commit, why_unpublishable(read)))
            if commit.clock <= self.event.start and (found or len(unsound) == MOST_UNPUBLISHABLE):
                break
        if not found and unsound[0].facts is not None:
            return unsound[:1], ()
        return found[::-1], tuple(reversed(passed))

    def _changes(self, past: Sequence[Commit]) -> Iterator[tuple[Commit, EventFile | None]]:
        """Yield each commit that changed what the menu is made from, the newest first, and the event then.

        What held when the event began goes by the name of the last commit before that, since a menu does.
        """
        key: tuple[str, ...] | None = None
        held: tuple[Commit, EventFile | None] | None = None
        for commit in past:
            known = self.states.find(commit, self.identity)
            now = self.states.key(commit, known) if known is not None else ()
            if now != key:
                if held is not None:
                    yield held
                key, held = now, (commit, known)
            elif held is not None and held[0].clock > self.event.start:
                held = commit, known
        if held is not None:
            yield held

    def _possible(
        self,
        commits: Sequence[Commit],
        merge: Commit | None,
        last: WorkedOutMenu,
        seen: set[tuple[str, ...]],
    ) -> Iterator[MenuStage]:
        """Yield the menus that were written by the event's end: each of its hours, and the last one before it.

        Args:
            commits: Of the main line after the event, or of one branch merged after it began; the newest first.
            merge: What brought the branch; None for the main line.
            last: The last menu that is certain.
            seen: What the menus are made from that are shown already.
        """
        tried = 0
        for place, commit in enumerate(commits):
            written = min(commit.clock, commit.written)
            known = self.states.find(commit, self.identity) if written <= self.event.end else None
            if known is None:
                continue
            key = self.states.key(commit, known)
            if key not in seen:
                read = read_menu(self.states, commit, known)
                tried += 1
                if read.sound:
                    seen.add(key)
                    after = (one for one in commits[place:] if min(one.clock, one.written) > self.event.end)
                    stage = _stage(read, last, max(written, self.event.start))
                    yield replace(stage, merge=merge, beneath=next(after, None))
            if written <= self.event.start and (key in seen or tried == MOST_UNPUBLISHABLE):
                break


def _stage(read: WorkedOutMenu, before: WorkedOutMenu | None, since: datetime) -> MenuStage:
    if read.facts is None:
        raise AssertionError("a menu without facts is never told")
    changes = compare(before.version, read.version).changes if before else ()
    # What a bottle would bring that this menu does not pour is no part of the evening.
    served = tuple(one for one in changes if not one.unlisted)
    return MenuStage(since, read.commit, read.facts, read.errors, served)
