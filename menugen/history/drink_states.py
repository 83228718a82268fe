"""What one drink was made from at each commit: the spec, the stock and the settings, followed back through renames."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from menugen.history.git import Commit, Repository, commits
from menugen.history.objects import Objects
from menugen.history.renames import renamed
from menugen.history.revision import GitFiles
from menugen.reading import HouseFiles, read_house
from menugen.reading.house_file import HOUSE_FILE, read_settings
from menugen.reading.slugs import slug_of
from menugen.reading.text import decode
from menugen.records import Spec

_EVENT_ENDINGS = (".yaml", ".yml")

MOST_BROUGHT = 200
"""Commits of one merged branch that are looked at, at most."""


@dataclass(frozen=True, slots=True)
class Folders:
    """Where a house keeps its files."""

    specs: tuple[str, ...]
    stock: tuple[str, ...]
    events: tuple[str, ...]


def folders_of(files: HouseFiles) -> Folders:
    """Return where a house keeps its files; the usual places where its settings cannot be read."""
    try:
        form = read_settings(decode(files.read(HOUSE_FILE), HOUSE_FILE).text).form
    except OSError:
        return Folders(("specs",), ("stock",), ("events",))
    return Folders(tuple(form.specs), tuple(form.stock), tuple(form.events))


class KnownFolders:
    """Looks into folders of one revision after another; one that is as it was is not looked into again."""

    def __init__(self) -> None:
        self._settings: dict[str, Folders] = {}
        self._files: dict[tuple[str, str, tuple[str, ...]], tuple[str, ...]] = {}
        self._links: dict[str, tuple[str, ...]] = {}

    def of(self, files: GitFiles) -> Folders:
        """Return where the house keeps its files."""
        known = oid_of(files, HOUSE_FILE)
        if known not in self._settings:
            self._settings[known] = folders_of(files)
        return self._settings[known]

    def paths(self, files: GitFiles, folder: str, slug: str, endings: tuple[str, ...]) -> tuple[str, ...]:
        """Return the paths of the files of a folder that have this slug, however git spells its letters."""
        key = (oid_of(files, folder), slug, endings)
        if not key[0]:
            return ()
        if key not in self._files:
            self._files[key] = tuple(name for name in files.names(folder) if is_of(name, slug, endings))
        return tuple(f"{folder}/{name}" for name in self._files[key])

    def content(self, files: GitFiles, folder: str) -> tuple[str, ...]:
        """Return what is another text once anything in a folder is: its own id, and that of each file linked to."""
        known = oid_of(files, folder)
        if known and known not in self._links:
            self._links[known] = files.links(folder)
        return (known, *(oid_of(files, f"{folder}/{name}") for name in self._links.get(known, ())))


def oid_of(files: GitFiles, path: str) -> str:
    """Return the id of a file or folder; empty where there is none, or it is not on this machine."""
    try:
        return files.oid(path)
    except FileNotFoundError:
        return ""


def is_of(name: str, slug: str, endings: tuple[str, ...]) -> bool:
    """Return whether a file's name is a slug with one of these endings, in whichever way its letters are put."""
    return name.endswith(endings) and slug_of(name) == slug


class OneDrink:
    """A house's files with one spec and at most one event; stock and settings stay."""

    def __init__(self, files: HouseFiles, slug: str, event: str | None) -> None:
        """Remember what to leave; nothing is read but the settings.

        Args:
            files: The house's files.
            slug: The spec that stays.
            event: The event that stays; None is none.
        """
        self._files = files
        self._slug = slug
        self._event = event
        self._folders = folders_of(files)

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files in a folder, of specs and events only those that stay."""
        return tuple(name for name in self._files.names(folder) if self._stays(folder, name))

    def _stays(self, folder: str, name: str) -> bool:
        return (
            folder in self._folders.stock
            or (folder in self._folders.specs and is_of(name, self._slug, (".md",)))
            or (
                folder in self._folders.events
                and self._event is not None
                and is_of(name, self._event, _EVENT_ENDINGS)
            )
        )

    def read(self, path: str) -> bytes:
        """Return a file's content, as the files themselves do."""
        return self._files.read(path)


@dataclass(frozen=True, slots=True)
class State:
    """What a drink was made from at one time.

    Attributes:
        commit: What made it so; None is what is not committed yet.
        files: The house then.
        slug: What the drink was called then.
        key: The same for the same content; empty for the files as they lie, which are like nothing else.
        there: Whether there was such a drink.
        becomes: Where it went away: the spec as which it goes on; None where it does not.
    """

    commit: Commit | None
    files: HouseFiles
    slug: str
    key: tuple[str, ...]
    there: bool = True
    becomes: Spec | None = None


class DrinkWalk:
    """One drink, looked for at one revision after another."""

    def __init__(self, repository: Repository, event: str | None) -> None:
        """Remember where to look; nothing is read yet.

        Args:
            repository: Where the house lies.
            event: The event whose bottles count; None is none.
        """
        self._repository = repository
        self._objects = Objects(repository.top)
        self._event = event
        self._known = KnownFolders()
        self.event_seen = False

    def states(self, listed: Sequence[Commit], slug: str, as_they_lie: HouseFiles | None) -> Iterator[State]:
        """Yield what the drink was made from, the newest first, each with the commit that made it so.

        Where the drink went away, and was there before that, a state says so.

        Args:
            listed: The commits, the newest first, each the parent of the one before it.
            slug: What the drink is called at the newest.
            as_they_lie: What is not committed yet counts as the newest; None leaves it out.
        """
        held: State | None = None
        absent: State | None = None
        if as_they_lie is not None:
            there = slug in spec_slugs(as_they_lie)
            state = State(None, as_they_lie, slug, (), there=there)
            held, absent = (state, None) if there else (None, state)
        for commit in listed:
            files = GitFiles(self._repository, commit, self._objects)
            found = self._state(files, slug)
            if found is None and held is not None and (before := old_name(files, held)):
                slug, found = before, self._state(files, before)
            if found is None:
                if held is not None:
                    yield held
                held, absent = None, State(commit, files, slug, (), there=False)
                continue
            if absent is not None:
                yield State(
                    absent.commit, absent.files, slug, (), there=False, becomes=lives_on(found, absent.files)
                )
                absent = None
            elif held is not None and found.key != held.key:
                yield held
            held = found
        if held is not None:
            yield held

    def brought(self, merge: Commit, slug: str) -> tuple[Commit, ...]:
        """Return the commits a merge brought that changed what a drink is made from, the oldest first."""
        whole = f"{merge.revision}^1..{merge.revision}"
        found = commits(self._repository.top, "--no-merges", f"-{MOST_BROUGHT}", whole)
        return tuple(reversed([commit for commit in found if self._bears_on(commit, slug)]))

    def _bears_on(self, commit: Commit, slug: str) -> bool:
        # The parent is asked for as git writes it: its own hash is not known here.
        both = commit, replace(commit, revision=f"{commit.revision}^")
        states = [self._state(GitFiles(self._repository, one, self._objects), slug) for one in both]
        return (states[0] and states[0].key) != (states[1] and states[1].key)

    def _state(self, files: GitFiles, slug: str) -> State | None:
        folders = self._known.of(files)
        specs = [
            oid_of(files, path)
            for folder in folders.specs
            for path in self._known.paths(files, folder, slug, (".md",))
        ]
        menus = [
            oid_of(files, path)
            for folder in folders.events
            for path in (
                self._known.paths(files, folder, self._event, _EVENT_ENDINGS)
                if self._event is not None
                else ()
            )
        ]
        self.event_seen = self.event_seen or bool(menus)
        if not specs:
            return None
        stock = [oid for folder in folders.stock for oid in self._known.content(files, folder)]
        return State(
            files.commit, files, slug, (slug, oid_of(files, HOUSE_FILE), *specs, "", *stock, "", *menus)
        )


def spec_slugs(files: HouseFiles) -> set[str]:
    """Return the slugs of a house's specs, from the names of its files alone."""
    return {
        slug_of(name)
        for folder in folders_of(files).specs
        for name in files.names(folder)
        if name.endswith(".md")
    }


def event_slugs(files: HouseFiles) -> set[str]:
    """Return the slugs of a house's events, from the names of its files alone."""
    return {
        slug_of(name)
        for folder in folders_of(files).events
        for name in files.names(folder)
        if name.endswith(_EVENT_ENDINGS)
    }


def old_name(files: HouseFiles, later: State) -> str:
    """Return what a drink was called in a house, where the next one has it under its later name; else empty."""
    gone = sorted(spec_slugs(files) - spec_slugs(later.files))
    now = _spec(later.files, later.slug)
    if now is None:
        return ""
    return next(iter(renamed(_specs(files, gone), {later.slug: now})), "")


def lives_on(earlier: State, files: HouseFiles) -> Spec | None:
    """Return the spec as which a drink that is gone from a house goes on there, by what is poured; None for none."""
    added = sorted(spec_slugs(files) - spec_slugs(earlier.files))
    then = _spec(earlier.files, earlier.slug)
    if then is None:
        return None
    specs = _specs(files, added)
    return specs.get(renamed({earlier.slug: then}, specs).get(earlier.slug, ""))


def _spec(files: HouseFiles, slug: str) -> Spec | None:
    house = read_house(OneDrink(files, slug, None)).house
    return house.specs.get(slug) if house else None


def _specs(files: HouseFiles, slugs: Sequence[str]) -> dict[str, Spec]:
    found = ((slug, _spec(files, slug)) for slug in slugs)
    return {slug: spec for slug, spec in found if spec is not None}
