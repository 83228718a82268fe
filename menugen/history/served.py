"""What was served then: the events of a day or a month, each from the house as it was committed by its last hour."""

import re
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from menugen.facts import Broken, EventFacts, work_out_event
from menugen.history.git import Commit, NoHistory, commits, find_commit, find_repository
from menugen.history.objects import Objects
from menugen.history.revision import GitFiles
from menugen.problems import Problem, Severity
from menugen.reading import read_house
from menugen.records import Event

_DAY_OR_MONTH = re.compile(r"\d{4}-\d{2}(-\d{2})?")


@dataclass(frozen=True, slots=True)
class Served:
    """One event as it was.

    Attributes:
        commit: The house it was served from.
        facts: The event worked out.
        meanwhile: Other commits of its day, the newest first: the menu may have changed while it was on.
        errors: What kept a drink from being worked out; nothing was published with these.
    """

    commit: Commit
    facts: EventFacts
    meanwhile: tuple[Commit, ...]
    errors: tuple[Problem, ...]


def served(house: Path, when: str, event: str | None = None) -> tuple[Served, ...]:
    """Return the events of a day, a month or a revision, by date.

    Args:
        house: The house's folder.
        when: A day, "2026-06-20", or a month, "2026-06": the events with that date, from the last commit up to the end
            of theirs, the next day's where they go past midnight. Else a revision, as a card carries it: its events.
        event: Slug of the one event that is meant; None is all.

    Raises:
        NoHistory: No git, no repository, nothing that old, or no such revision.
    """
    repository = find_repository(house)
    objects = Objects(repository.top)
    # A card made from uncommitted files says so: "7f3a2c1+4be09d2"; what was committed is all git knows.
    word = when.partition("+")[0] or when
    newest = find_commit(repository, word)
    of_a_time = _DAY_OR_MONTH.fullmatch(word) is not None
    known = read_house(GitFiles(repository, newest, objects)).house
    if known is None:
        raise NoHistory(f"house.yaml cannot be read in {newest.short} ({newest.day})")
    found = []
    for item in known.events.values():
        if event not in (None, item.slug) or (of_a_time and not str(item.date).startswith(word)):
            continue
        commit = find_commit(repository, _last_day(item)) if of_a_time else newest
        worked_out = _worked_out(GitFiles(repository, commit, objects), item.slug)
        if worked_out is None:
            continue
        facts, errors = worked_out
        found.append(Served(commit, facts, _meanwhile(repository.top, commit, item), errors))
    return tuple(found)


def _last_day(event: Event) -> str:
    past_midnight = event.hours is not None and event.hours.end <= event.hours.start
    return str(event.date + timedelta(days=1) if past_midnight else event.date)


def _worked_out(files: GitFiles, slug: str) -> tuple[EventFacts, tuple[Problem, ...]] | None:
    reading = read_house(files)
    if reading.house is None or slug not in reading.house.events:
        return None
    broken = Broken(reading.broken_specs, reading.broken_stock)
    facts, problems = work_out_event(reading.house, reading.house.events[slug], broken)
    errors = (problem for problem in (*reading.problems, *problems) if problem.severity is Severity.ERROR)
    return None if facts is None else (facts, tuple(dict.fromkeys(errors)))


def _meanwhile(top: Path, commit: Commit, event: Event) -> tuple[Commit, ...]:
    days = {str(event.date), _last_day(event)}
    found = []
    for earlier in commits(top, "--first-parent", f"{commit.revision}^@"):
        if earlier.day not in days:
            break
        found.append(earlier)
    return tuple(found)
