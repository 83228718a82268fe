"""What was served then: the events of a day or a month, each with every menu it had while it was on."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import NamedTuple

from menugen.names import name_key
from menugen.past.event_states import EventFile, EventIdentity, EventStates, no_event
from menugen.past.main_line import followed, main_line
from menugen.past.menu_stages import Evening, EventServed, MenuStage, read_menu, why_unpublishable
from menugen.revisions import (
    Commit,
    brought_by,
    committed_part,
    find_commit,
    find_repository,
    of_branches,
)

_DAY_OR_MONTH = re.compile(r"\d{4}-\d{2}(-\d{2})?")


@dataclass(frozen=True, slots=True)
class ServedEvents:
    """What was served in a time.

    Attributes:
        events: By date.
        notes: What the reader must know: events that are not told, and why.
    """

    events: tuple[EventServed, ...]
    notes: tuple[str, ...]


class _Versions(NamedTuple):
    """An event, and what was written of it at one time or another."""

    event: EventIdentity
    written: list[EventFile]


def served(house: Path, when: str, event: str | None = None) -> ServedEvents:
    """Return what was served on a day, in a month, or from a revision.

    Times are those on the committer's wall, as the hours of an event are; the main line of the history is followed.

    Args:
        house: The house's folder.
        when: A day, "2026-06-20", or a month, "2026-06": the events with that date, each from the last commit up to its
            start and every one after that up to its end; without hours the whole day counts. Else a revision, as a card
            carries it: its events.
        event: Slug of the one event that is meant; None is all.

    Raises:
        NoHistory: No git, no repository, nothing that old, no such revision, or no such event.
    """
    repository = find_repository(house)
    # A card made from uncommitted files says so: "7f3a2c1+4be09d2"; what was committed is all git knows.
    word = committed_part(when)
    states = EventStates(repository)
    if _DAY_OR_MONTH.fullmatch(word) is None:
        return _of_revision(states, find_commit(repository, word), event)
    newest = find_commit(repository, "HEAD")
    mainline, notes = main_line(repository, newest)
    if not _is_written_by(word, mainline):
        find_commit(repository, word)  # it says when the history begins, or that there is no such day
    groups = _meant(_groups(states, mainline, word), event)
    merges = brought_by(repository, newest, mainline) if groups else {}
    branches = followed(repository, of_branches(repository, newest, merges), notes)
    brought = {commit: merges[commit.revision] for commit in branches}
    events: list[EventServed] = []
    for versions in groups:
        told = _evening(states, mainline, versions, brought)
        if isinstance(told, str):
            told = _by_authors(states, mainline, versions, brought, told)
        if isinstance(told, str):
            notes.append(f"{versions.written[0].called}, is not shown: {told}")
        # Asked for by its second day, it may have been over by midnight in the end.
        elif told.event.was_on(word):
            events.append(told)
    events.sort(key=lambda one: (one.last.facts.event.date, one.last.facts.event.slug))
    return ServedEvents(tuple(events), tuple(notes))


def _is_written_by(word: str, mainline: Sequence[Commit]) -> bool:
    try:
        date.fromisoformat(f"{word}-01"[:10])
    except ValueError:
        return False
    return any(str(commit.written) <= f"{word}-99" for commit in mainline)


def _of_revision(states: EventStates, commit: Commit, event: str | None) -> ServedEvents:
    """Return the events of one revision."""
    known = states.at(commit)
    chosen = [one for one in known if event in (None, one.slug)]
    if event is not None and not chosen:
        raise no_event(event, {one.slug for one in known})
    events: list[EventServed] = []
    notes: list[str] = []
    for one in sorted(chosen, key=lambda one: (one.day, one.slug)):
        read = read_menu(states, commit, one)
        if read.facts is None:
            notes.append(
                f"{one.called}: could not be worked out in {commit.short}: {why_unpublishable(read)}"
            )
        else:
            events.append(EventServed(one, (MenuStage(None, commit, read.facts, read.errors),)))
    return ServedEvents(tuple(events), tuple(notes))


def _groups(states: EventStates, mainline: Sequence[Commit], word: str) -> list[_Versions]:
    """Return the events of a time, each with every version it ever had, under whichever name its file had.

    A file of another name that says the same name and day is the same event, unless both were there at once.
    """
    found: dict[EventFile, None] = {}
    at_once: set[tuple[str, str]] = set()
    every = dict.fromkeys(states.at(commit) for commit in mainline)
    # Hours may be written anew: an event counts with all its versions if by one of them it was on then.
    days = {one.day for at in every for one in at if one.was_on(word)}
    for at in every:
        then = [one for one in at if one.day in days]
        found.update(dict.fromkeys(then))
        at_once.update((one.slug, other.slug) for one in then for other in then if one.slug != other.slug)
    groups: list[list[EventFile]] = []
    for one in found:
        group = next(
            (group for group in groups if all(_is_same(one, other, at_once) for other in group)), None
        )
        if group is None:
            groups.append([one])
        else:
            group.append(one)
    return [
        _Versions(EventIdentity(group[0].day, frozenset(one.slug for one in group)), group)
        for group in groups
        if any(one.was_on(word) for one in group)
    ]


def _is_same(one: EventFile, other: EventFile, at_once: set[tuple[str, str]]) -> bool:
    if one.day != other.day or (one.slug, other.slug) in at_once:
        return False
    return one.slug == other.slug or name_key(one.name) == name_key(other.name)


def _meant(groups: list[_Versions], event: str | None) -> list[_Versions]:
    if event is None:
        return groups
    chosen = [group for group in groups if event in group.event.slugs]
    if groups and not chosen:
        raise no_event(event, {slug for group in groups for slug in group.event.slugs})
    return chosen


def _evening(
    states: EventStates, mainline: Sequence[Commit], versions: _Versions, brought: Mapping[Commit, Commit]
) -> EventServed | str:
    """Return the menus of one event, or a sentence where there are none to tell."""
    event, written = versions
    for end in sorted({one.end for one in written}, reverse=True):
        past = [commit for commit in mainline if commit.clock <= end]
        known = (one for commit in past if (one := states.find(commit, event)) is not None)
        held = next(known, None)
        if held is not None and not held.sound:
            # What a fault hides is as it was before.
            held = next((one for one in known if one.sound), held)
        # Hours were written anew on the way: the end that counts is the one written down by then.
        if held is not None and held.end == end and _was_there(states, past, event, held.start):
            return Evening(states, event, held).menus(mainline, brought)
    return _missing(states, mainline, versions)


def _by_authors(
    states: EventStates,
    mainline: Sequence[Commit],
    versions: _Versions,
    brought: Mapping[Commit, Commit],
    why: str,
) -> EventServed | str:
    """Return the menus of one event by when they were written; why there are none, where it is not known so either.

    Where the main line never had it by then, a branch that was merged later may have had it.
    """
    end = max(one.end for one in versions.written)
    had_it = any(states.find(commit, versions.event) for commit in mainline if commit.clock <= end)
    branches: dict[Commit, list[Commit]] = {}
    for commit, merge in () if had_it else brought.items():
        branches.setdefault(merge, []).append(commit)
    lines = [mainline, *([*some, *mainline[mainline.index(at) + 1 :]] for at, some in branches.items())]
    for line in lines:
        known = {commit.revision: commit for commit in line}
        written = [replace(one, clock=min(one.clock, one.written)) for one in line]
        told = _evening(states, written, versions, brought)
        if not isinstance(told, str):
            stages = tuple(replace(one, commit=known[one.commit.revision]) for one in told.stages)
            passed = tuple(replace(one, commit=known[one.commit.revision]) for one in told.unpublishable)
            doubt = known[told.doubt.revision] if told.doubt else None
            return replace(told, stages=stages, unpublishable=passed, doubt=doubt, by_authors=why)
    return why


def _was_there(states: EventStates, past: Sequence[Commit], event: EventIdentity, start: datetime) -> bool:
    """Return whether an event was in the house when it began, or at some time until its end."""
    for commit in past:
        if states.find(commit, event) is not None:
            return True
        if commit.clock <= start:
            break
    return False


def _missing(states: EventStates, mainline: Sequence[Commit], versions: _Versions) -> str:
    """Return why there is no menu of an event."""
    event, one = versions
    end = max(version.end for version in one)
    by_then = [commit for commit in mainline if commit.clock <= end]
    for commit in by_then[:1]:
        if day := states.moved_to(commit, event):
            return f"by then its day was {day} ({commit.short})"
    gone: Commit | None = None
    for commit in by_then:
        if states.find(commit, event) is not None and gone is not None:
            return f"it was taken out of the house before it was over, in {gone.short} ({gone.day})"
        gone = commit
    first = next((commit for commit in reversed(mainline) if states.find(commit, event)), None)
    if first is None:
        return "it is in no commit that can be read"
    after = f"in {first.short} ({first.day}; menugen served {first.short} shows it)"
    return f"it was first committed after it was over, {after}"
