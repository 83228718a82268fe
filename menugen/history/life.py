"""One drink's life: every version that changed a fact, from the oldest to the files as they lie."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from menugen.facts import Broken, setting_for, work_out
from menugen.history.changes import DrinkMoves
from menugen.history.comparison import Edition, compare
from menugen.history.drink_moves import DrinkFigures, Seen, drink_figures
from menugen.history.editions import AS_THEY_LIE
from menugen.history.git import (
    Commit,
    Repository,
    commits,
    find_commit,
    find_repository,
    is_shallow,
)
from menugen.history.matching import renamed
from menugen.history.objects import Objects
from menugen.history.revision import GitFiles
from menugen.reading import DiskFiles, HouseFiles, read_house
from menugen.reading.house_file import HOUSE_FILE, read_settings
from menugen.reading.text import decode

MOST_VERSIONS = 500
"""States of a drink that are read at most; each means reading the stock of that day."""

MOST_COMMITS = 20_000
"""Commits looked at, at most."""

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Version:
    """A drink as one commit left it.

    Attributes:
        commit: What changed it; None is what is not committed yet.
        moved: What changed, against the version before; None for the first that is known.
        figures: What it comes to; None where it could not be worked out.
    """

    commit: Commit | None
    moved: DrinkMoves | None
    figures: DrinkFigures | None


@dataclass(frozen=True, slots=True)
class Life:
    """Everything that is known of one drink.

    Attributes:
        slug: Its name now.
        name: As guests read it now.
        versions: The oldest first; each after the first changed a fact.
        notes: What the reader must know: where the history was cut, what could not be read.
    """

    slug: str
    name: str
    versions: tuple[Version, ...]
    notes: tuple[str, ...]


class _OneDrink:
    """A house's files with one spec and at most one event; stock and settings stay."""

    def __init__(self, files: HouseFiles, slug: str, event: str | None) -> None:
        self._files = files
        self._spec = f"{slug}.md"
        self._event = event
        self._folders = _folders(files)

    def names(self, folder: str) -> tuple[str, ...]:
        names = self._files.names(folder)
        wanted: set[str] = set()
        if folder in self._folders.stock:
            wanted.update(names)
        if folder in self._folders.specs:
            wanted.add(self._spec)
        if folder in self._folders.events and self._event is not None:
            wanted |= {f"{self._event}.yaml", f"{self._event}.yml"}
        return tuple(name for name in names if name in wanted)

    def read(self, path: str) -> bytes:
        return self._files.read(path)


@dataclass(frozen=True, slots=True)
class _Folders:
    """Where a house keeps its files."""

    specs: tuple[str, ...]
    stock: tuple[str, ...]
    events: tuple[str, ...]


def _folders(files: HouseFiles) -> _Folders:
    try:
        form = read_settings(decode(files.read(HOUSE_FILE), HOUSE_FILE).text).form
    except OSError:
        return _Folders(("specs",), ("stock",), ("events",))
    return _Folders(tuple(form.specs), tuple(form.stock), tuple(form.events))


@dataclass(frozen=True, slots=True)
class _State:
    """What a drink was made from at one time; the same key, the same drink."""

    commit: Commit | None
    files: HouseFiles
    slug: str
    key: tuple[str, ...]


def life_of(
    house: Path, slug: str, *, event: str | None = None, until: str | None = None, progress: Progress
) -> Life:
    """Return the life of one drink.

    The main line of the history is followed, so that a drink tried on a branch counts from the day it was merged; a
    spec that was renamed is followed under its old name.

    Args:
        house: The house's folder.
        slug: The drink's name now.
        event: Work it out with this event's bottles and rules; None: at home.
        until: The newest revision that counts; None is the files as they lie.
        progress: Told of each version.

    Raises:
        NoHistory: No git, no repository, nothing committed, or no such revision.
    """
    repository = find_repository(house)
    newest = find_commit(repository, until or "HEAD")
    notes: list[str] = []
    if is_shallow(repository.top):
        notes.append("this clone holds only the newest commits: older versions are not told")
    states = list(_states(repository, newest, slug, event, notes))
    if until is None:
        states.insert(0, _State(None, DiskFiles(house), slug, ()))
    if len(states) > MOST_VERSIONS:
        notes.append(f"only the newest {MOST_VERSIONS} of {len(states)} versions were read")
        states = states[:MOST_VERSIONS]
    known: list[tuple[_State, Edition]] = []
    for number, state in enumerate(reversed(states)):
        progress(f"reading the versions of {slug}", number, len(states))
        files = _OneDrink(state.files, state.slug, event)
        reading = read_house(files)
        label = state.commit.short if state.commit else AS_THEY_LIE
        edition = Edition(label, state.commit.revision if state.commit else "", reading)
        if edition.reading.house is not None and state.slug in edition.reading.house.specs:
            known.append((state, edition))
        elif state.commit is not None:
            notes.append(
                f"{state.commit.short} ({state.commit.day}) could not be read: "
                + (edition.reading.problems[0].message if edition.reading.problems else "it is not there")
            )
    return _life(slug, known, event, notes)


def _life(slug: str, known: Sequence[tuple[_State, Edition]], event: str | None, notes: list[str]) -> Life:
    if not known:
        return Life(slug, slug, (), tuple(notes))
    versions = [Version(known[0][0].commit, None, _figures(known[0], event))]
    for (_, before), later in pairwise(known):
        moved = compare(before, later[1]).drinks
        if moved:
            versions.append(Version(later[0].commit, moved[0], _figures(later, event)))
    house = known[-1][1].reading.house
    name = house.specs[known[-1][0].slug].name if house else slug
    return Life(slug, name, tuple(versions), tuple(notes))


def _figures(version: tuple[_State, Edition], event: str | None) -> DrinkFigures | None:
    state, edition = version
    house = edition.reading.house
    if house is None:
        return None
    held = house.events.get(event) if event else None
    setting, _ = setting_for(house, held)
    if setting is None:
        return None
    facts, _ = work_out(
        house.specs[state.slug], setting, Broken(edition.reading.broken_specs, edition.reading.broken_stock)
    )
    if facts is None:
        return None
    currency = (held.currency if held else "") or house.currency or setting.region.currency
    return drink_figures(Seen(facts, setting.region, currency))


def _states(
    repository: Repository, newest: Commit, slug: str, event: str | None, notes: list[str]
) -> Iterator[_State]:
    """Yield what the drink was made from, the newest first, each with the commit that made it so."""
    objects = Objects(repository.top)
    held: _State | None = None
    listed = list(commits(repository.top, "--first-parent", f"-{MOST_COMMITS}", newest.revision))
    if len(listed) == MOST_COMMITS:
        notes.append(f"only the newest {MOST_COMMITS} commits were looked at")
    for commit in listed:
        files = GitFiles(repository, commit, objects)
        state = _state(files, commit, slug, event)
        if state is None and held is not None:
            before = _old_name(files, held)
            state = _state(files, commit, before, event) if before else None
            slug = before or slug
        if held is not None and (state is None or state.key != held.key):
            yield held
            if state is None:
                return
        held = state
    if held is not None:
        yield held


def _state(files: GitFiles, commit: Commit, slug: str, event: str | None) -> _State | None:
    """Return what a drink was made from at one commit; None where it was not there."""
    folders = _folders(files)
    specs = [oid for folder in folders.specs if (oid := files.oid(f"{folder}/{slug}.md"))]
    if not specs:
        return None
    stock = [files.oid(folder) for folder in folders.stock]
    menus = [
        files.oid(f"{folder}/{event}{ending}")
        for folder in folders.events
        for ending in (".yaml", ".yml")
        if event is not None
    ]
    return _State(commit, files, slug, (slug, files.oid(HOUSE_FILE), *specs, *stock, *menus))


def _old_name(files: GitFiles, later: _State) -> str | None:
    """Return what a drink was called at a commit, where the next commit has it under its later name."""
    if not isinstance(later.files, GitFiles):
        return None
    before, after = _spec_names(files), _spec_names(later.files)
    gone = sorted(before - after)
    now = read_house(_OneDrink(later.files, later.slug, None)).house
    if now is None or later.slug not in now.specs:
        return None
    then = [read_house(_OneDrink(files, slug, None)).house for slug in gone]
    specs = {
        slug: house.specs[slug]
        for slug, house in zip(gone, then, strict=True)
        if house and slug in house.specs
    }
    return next(iter(renamed(specs, {later.slug: now.specs[later.slug]})), None)


def _spec_names(files: GitFiles) -> set[str]:
    return {
        name.removesuffix(".md")
        for folder in _folders(files).specs
        for name in files.names(folder)
        if name.endswith(".md")
    }
