"""What was served then: the events of a day or a month, each with every menu it had while it was on."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from menugen.names import name_key
from menugen.past.event_states import EventFile, EventIdentity, EventStates
from menugen.past.menu_stages import EventServed, MenuStage, menus_of, read_menu, why_unpublishable
from menugen.problems import near
from menugen.revisions import (
    Commit,
    NoHistory,
    brought_by,
    commits,
    committed_part,
    find_commit,
    find_repository,
    is_shallow,
    of_branches,
)

MOST_COMMITS = 20_000
"""Commits looked at, at most."""

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
    found = find_commit(repository, word)
    states = EventStates(repository)
    if _DAY_OR_MONTH.fullmatch(word) is None:
        return _of_revision(states, found, event)
    newest = find_commit(repository, "HEAD")
    mainline = list(commits(repository.top, "--first-parent", f"-{MOST_COMMITS}", newest.revision))
    notes: list[str] = []
    if is_shallow(repository.top):
        notes.append("this clone holds only the newest commits: older menus are not told")
    if len(mainline) == MOST_COMMITS:
        notes.append(f"only the newest {MOST_COMMITS} commits were looked at")
    groups = _meant(_groups(states, mainline, word), event)
    brought = brought_by(repository, newest, mainline) if groups else {}
    beside = {commit: brought[commit.revision] for commit in of_branches(repository, newest, brought)}
    events: list[EventServed] = []
    for versions in groups:
        told = _evening(states, mainline, versions, beside, notes)
        if isinstance(told, str):
            notes.append(told)
        else:
            events.append(told)
    events.sort(key=lambda one: (one.last.facts.event.date, one.last.facts.event.slug))
    return ServedEvents(tuple(events), tuple(notes))


def _of_revision(states: EventStates, commit: Commit, event: str | None) -> ServedEvents:
    """Return the events of one revision."""
    known = states.at(commit)
    chosen = [one for one in known if event in (None, one.slug)]
    if event is not None and not chosen:
        raise _no_event(event, {one.slug for one in known})
    events: list[EventServed] = []
    notes: list[str] = []
    for one in sorted(chosen, key=lambda one: (one.day, one.slug)):
        read = read_menu(states, commit, one)
        if read.facts is None:
            notes.append(
                f"{one.name}, {one.day}: could not be worked out in {commit.short}: {why_unpublishable(read)}"
            )
        else:
            events.append(EventServed((MenuStage(None, commit, read.facts, read.errors),)))
    return ServedEvents(tuple(events), tuple(notes))


def _groups(states: EventStates, mainline: Sequence[Commit], word: str) -> list[_Versions]:
    """Return the events of a time, each with every version it ever had, under whichever name its file had.

    A file of another name that says the same name and day is the same event, unless both were there at once.
    """
    found: dict[EventFile, None] = {}
    at_once: set[tuple[str, str]] = set()
    for at in dict.fromkeys(states.at(commit) for commit in mainline):
        then = [one for one in at if str(one.day).startswith(word)]
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
        raise _no_event(event, {slug for group in groups for slug in group.event.slugs})
    return chosen


def _no_event(event: str, known: set[str]) -> NoHistory:
    close = " or ".join(f'"{name}"' for name in near(event, sorted(known)))
    hint = f": did you mean {close}?" if close else f"; there are: {', '.join(sorted(known)) or 'none'}"
    return NoHistory(f'no event called "{event}" is known then{hint}')


def _evening(
    states: EventStates,
    mainline: Sequence[Commit],
    versions: _Versions,
    beside: Mapping[Commit, Commit],
    notes: list[str],
) -> EventServed | str:
    """Return the menus of one event, or a sentence where there are none to tell."""
    for end in sorted({one.end for one in versions.written}, reverse=True):
        past = [commit for commit in mainline if commit.clock <= end]
        held = states.find(past[0], versions.event) if past else None
        # Hours were written anew on the way: the end that counts is the one written down by then.
        if held is not None and held.end == end:
            notes += _out_of_order(mainline, past[0], held)
            by_then = {commit.revision for commit in past}
            later = {commit: merge for commit, merge in beside.items() if merge.revision not in by_then}
            return menus_of(states, past, versions.event, held, later)
    return _missing(states, mainline, versions)


def _out_of_order(mainline: Sequence[Commit], last: Commit, event: EventFile) -> list[str]:
    """Return a doubt where the last commit that counts was made from one that is dated after the event."""
    before = mainline[mainline.index(last) :]
    later = next((commit for commit in before if commit.clock > event.end), None)
    if later is None:
        return []
    made = f"{last.short} ({last.day}) was made from {later.short}, which is dated {later.day}"
    doubt = "one of their clocks was wrong, and so may be what is told here"
    return [f"{event.name}, {event.day}: {made}: {doubt}"]


def _missing(states: EventStates, mainline: Sequence[Commit], versions: _Versions) -> str:
    """Return why an event is not told."""
    event, one = versions
    name = f"{one[0].name}, {event.day}, is not told"
    end = max(version.end for version in one)
    by_then = [commit for commit in mainline if commit.clock <= end]
    for commit in by_then[:1]:
        if moved := next((other for other in states.at(commit) if other.slug in event.slugs), None):
            return f"{name}: by then its day was {moved.day} ({commit.short})"
    gone: Commit | None = None
    for commit in by_then:
        if states.find(commit, event) is not None and gone is not None:
            return f"{name}: it was taken out of the house before it was over, in {gone.short} ({gone.day})"
        gone = commit
    first = next((commit for commit in reversed(mainline) if states.find(commit, event)), None)
    if first is None:
        return f"{name}: it stands in no commit that can be read"
    return (
        f"{name}: it was first committed after it was over, in {first.short} ({first.day}); what was committed then: "
        f"menugen served {first.short}"
    )
