"""One drink's life: every version that changed a fact, from the oldest to the files as they lie."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path
from typing import NamedTuple

from menugen.comparing import (
    WORKING_FILES,
    BarSetUp,
    Change,
    DrinkFigures,
    HouseVersion,
    compare,
    drink_figures,
    drink_subject,
    money_of,
    price_text,
)
from menugen.past.drink_states import DrinkState, DrinkWalk
from menugen.past.event_states import no_event
from menugen.past.main_line import main_line
from menugen.past.part_of_house import PartOfHouse, event_slugs
from menugen.reading import HouseFiles, read_house
from menugen.records import Event, House, Spec
from menugen.revisions import (
    Commit,
    GitFiles,
    NoHistory,
    Repository,
    ask,
    find_commit,
    find_repository,
    working_files,
)

MOST_STATES = 3_000
"""States of what a drink is made from that are read at most: each time its spec, any stock or a setting changed."""

Progress = Callable[[str, int, int], None]


class VersionKind(Enum):
    """What a version is in a drink's life."""

    FIRST = "first"
    CUT = "cut"
    CHANGED = "changed"
    GONE = "gone"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class DrinkVersion:
    """A drink as one commit left it.

    Attributes:
        kind: Whether the drink began, changed, went away or came back; CUT where the reading begins and not the drink.
        commit: What did it; None is what is not committed yet.
        changes: What is not as in the last version before it.
        figures: What it comes to; None where it could not be worked out, or is gone.
        fault: Why it could not be worked out; empty where it could.
        becomes: Of a drink that is gone: the spec as which it goes on; None where it does not.
        merged: Where a merge did it: the commits of the branch that changed the drink, the oldest first.
        name: As guests read it; empty where it is gone.
    """

    kind: VersionKind
    commit: Commit | None
    changes: tuple[Change, ...] = ()
    figures: DrinkFigures | None = None
    fault: str = ""
    becomes: Spec | None = None
    merged: tuple[Commit, ...] = ()
    name: str = ""


@dataclass(frozen=True, slots=True)
class DrinkHistory:
    """Everything that is known of one drink.

    Attributes:
        slug: Its name now.
        name: As guests read it now.
        versions: The oldest first; each after the first changed a fact.
        notes: What the reader must know: where the history was cut, what could not be read.
    """

    slug: str
    name: str
    versions: tuple[DrinkVersion, ...]
    notes: tuple[str, ...]


class NoSuchDrink(NoHistory):
    """No commit that was looked at has a spec of this name, nor have the files as they lie."""


class _Read(NamedTuple):
    """One state of the drink, read and worked out; without a house where it is gone."""

    state: DrinkState
    version: HouseVersion
    house: House | None
    figures: DrinkFigures | None
    fault: str


def history_of(
    house: Path, slug: str, *, event: str | None = None, until: str | None = None, progress: Progress
) -> DrinkHistory:
    """Return the life of one drink.

    The main line of the history is followed, so that a drink tried on a branch counts from the day it was merged; a
    spec that was renamed is followed under its old name, and one that was away for a while back to before that.

    Args:
        house: The house's folder.
        slug: The drink's name now.
        event: Work it out with this event's bottles and rules; None: at home.
        until: The newest revision that counts; None is the files as they lie.
        progress: Told of each version.

    Raises:
        NoSuchDrink: There is no such drink, and never was.
        NoHistory: No git, no repository, nothing committed, no such revision, or no such event at any time.
    """
    repository = find_repository(house)
    newest = find_commit(repository, "HEAD" if until is None else until)
    listed, notes = main_line(repository, newest)
    working: HouseFiles | None = None
    if until is None:
        working, left_out = working_files(house, repository)
        notes += left_out
    walk = DrinkWalk(repository, event)
    states = list(walk.states(listed, slug, working))
    if not any(state.there for state in states):
        raise NoSuchDrink(f'the history knows no spec called "{slug}"')
    if event is not None and not walk.event_seen:
        known = event_slugs(working or GitFiles(repository, newest))
        if event not in known:
            raise no_event(event, known)
    is_cut = len(states) > MOST_STATES
    if is_cut:
        oldest = states[MOST_STATES].commit
        goes_on = f'; "--at {oldest.short}" tells what was before' if oldest else ""
        notes.append(
            f"its spec, stock and settings changed {len(states)} times: the newest {MOST_STATES} were read{goes_on}"
        )
        states = states[:MOST_STATES]
    merges = _merges(repository, newest)
    name = slug
    versions: list[DrinkVersion] = []
    # One state at a time is held: thousands of them hold a house's stock each.
    for state, version in _versions(_all_read(states, slug, event, notes, progress), event):
        name = version.name or name
        kind = VersionKind.CUT if is_cut and version.kind is VersionKind.FIRST else version.kind
        is_merge = version.commit is not None and version.commit.revision in merges
        merged = walk.brought(version.commit, state.slug) if version.commit and is_merge else ()
        versions.append(replace(version, kind=kind, merged=merged))
    return DrinkHistory(slug, name, tuple(versions), tuple(notes))


def _all_read(
    states: Sequence[DrinkState], slug: str, event: str | None, notes: list[str], progress: Progress
) -> Iterator[_Read]:
    """Yield each state read and worked out, the oldest first; what cannot be read is noted."""
    for number, state in enumerate(reversed(states)):
        progress(f"reading the versions of {slug}", number, len(states))
        one = _read(state, event)
        if isinstance(one, str):
            notes.append(one)
        else:
            yield one


def _merges(repository: Repository, newest: Commit) -> frozenset[str]:
    """Return the merges of the main line."""
    told = ask(repository.top, "rev-list", "--first-parent", "--merges", newest.revision, "--")
    return frozenset((told or b"").decode("ascii").split())


def _read(state: DrinkState, event: str | None) -> _Read | str:
    """Return a state read and worked out, or a sentence where it could not be read."""
    label = state.commit.short if state.commit else WORKING_FILES
    reading = read_house(PartOfHouse(state.files, (state.slug,), (event,) if event else ()))
    version = HouseVersion(label, state.commit.revision if state.commit else "", reading)
    if not state.there:
        return _Read(state, version, None, None, "")
    house = reading.house
    if house is None or state.slug not in house.specs or event in reading.broken_events:
        day = f" ({state.commit.day})" if state.commit else ""
        fault = reading.problems[0].message if reading.problems else "it is not there"
        return f"{label}{day} could not be read: {fault}"
    bar = BarSetUp(house, house.events.get(event) if event else None, reading)
    drink, problems = bar.work_out(house.specs[state.slug])
    if drink is None:
        # A bottle that could not be read has been told of by reading alone.
        told = next((problem.message for problem in (*problems, *reading.problems)), "")
        return _Read(state, version, house, None, told)
    return _Read(state, version, house, drink_figures(drink), "")


def _versions(read: Iterable[_Read], event: str | None) -> Iterator[tuple[DrinkState, DrinkVersion]]:
    """Yield the versions that changed a fact, the oldest first, each with what it was made from."""
    before: _Read | None = None
    sound: _Read | None = None
    gone: DrinkState | None = None
    for one in read:
        state = one.state
        if one.house is None:
            gone = gone or (state if before is not None else None)
            continue
        if gone is not None and gone.commit != state.commit:
            yield gone, DrinkVersion(VersionKind.GONE, gone.commit, becomes=gone.becomes)
        # What moved since it could last be worked out is told once it can be again.
        base = sound if one.figures is not None and sound is not None else before
        changes = _changed(base, one, event) if base is not None else ()
        name = one.house.specs[state.slug].name
        version = DrinkVersion(VersionKind.CHANGED, state.commit, changes, one.figures, one.fault, name=name)
        if before is None:
            yield state, replace(version, kind=VersionKind.FIRST)
        elif gone is not None:
            yield state, replace(version, kind=VersionKind.BACK)
        elif changes or (one.figures is None) != (before.figures is None):
            yield state, version
        before, gone = one, None
        if one.figures is not None:
            sound = one
    if gone is not None:
        yield gone, DrinkVersion(VersionKind.GONE, gone.commit, becomes=gone.becomes)


def _changed(before: _Read, now: _Read, event: str | None) -> tuple[Change, ...]:
    changes = next(iter(compare(before.version, now.version).drinks.values()), ())
    if not changes and before.state.slug != now.state.slug:
        # Nothing but its history says that it is the same drink: it is compared as if the file had kept its name.
        changes = next(iter(compare(_under_slug_of(now, before), now.version).drinks.values()), ())
    if event is None:
        return changes
    if all(_on_menu(one, event)[1] != "no" for one in (before, now)):
        # What a bottle would bring that the event does not pour is no part of its menu.
        changes = tuple(one for one in changes if not one.unlisted)
    return (*changes, *_menu_changes(before, now, event))


def _under_slug_of(now: _Read, before: _Read) -> HouseVersion:
    """Return the older house with its one drink under the newer one's slug."""
    if before.house is None:
        raise AssertionError("a drink that is gone is compared with nothing")
    slug = now.state.slug
    spec = replace(before.house.specs[before.state.slug], slug=slug)
    reading = replace(before.version.reading, house=replace(before.house, specs={slug: spec}))
    return replace(before.version, reading=reading)


def _menu_changes(before: _Read, now: _Read, event: str) -> Iterator[Change]:
    """Yield what an event's menu says differently of the drink."""
    if before.house is None or now.house is None:
        return
    subject = drink_subject(before.house.specs[before.state.slug], now.house.specs[now.state.slug])
    (price, shown), (new_price, newly_shown) = (_on_menu(one, event) for one in (before, now))
    if shown != newly_shown:
        yield Change("on the menu", subject, shown, newly_shown)
    if price != new_price and "no" not in (shown, newly_shown):
        yield Change("price", subject, price, new_price)


def _on_menu(one: _Read, event: str) -> tuple[str, str]:
    """Return what a drink costs a guest, and whether it is on an event's menu: "yes", "sold out" or "no"."""
    held: Event | None = one.house.events.get(event) if one.house else None
    entries = [entry for section in held.sections for entry in section.entries] if held else []
    entry = next((entry for entry in entries if entry.slug == one.state.slug), None)
    if held is None or one.house is None or entry is None:
        return "", "no"
    return price_text(entry.price, money_of(held)), "sold out" if entry.slug in held.off else "yes"
