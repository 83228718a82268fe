"""Which house a menu was made from: the revision, and whether its files differed from it."""

import os
import posixpath
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from menugen.history.git import NoHistory, Repository, ask, find_repository, git_text, name_on_disk
from menugen.history.revision import GitFiles
from menugen.reading import HouseFiles, LostLink, what_is_read
from menugen.reading.house import is_wanted

LOOKS = "themes"
"""The folder of a house's own looks."""

_OTHER_FOLDERS = (LOOKS, "photos")
_NOBODYS = ("~", ".swp", ".tmp", ".bak")
"""Endings of what editors leave beside a file."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a menu says of where it comes from.

    Attributes:
        revision: The first seven digits of the commit; empty where there is no git, nothing of the house in it, or
            nothing committed yet.
        uncommitted: Whether the house's files differ from that commit.
        fault: Why git cannot be asked, where the house lies in a repository; empty where it can, or there is none.
    """

    revision: str
    uncommitted: bool
    fault: str = ""


NO_STAMP = Stamp("", uncommitted=False)


def stamp_of(house: Path, files: HouseFiles) -> Stamp:
    """Return where a house's files come from.

    Only what menugen reads counts: a publish that writes into the house makes no difference to itself, nor does a
    note that lies among the specs.

    Args:
        house: The house's folder.
        files: Its files: as they lie, or as they were at a revision.
    """
    if isinstance(files, GitFiles):
        return Stamp(files.commit.short, uncommitted=False)
    try:
        repository = find_repository(house)
        sources = _sources(house, repository)
        told = _status(repository.top, sources)
    except NoHistory as fault:
        # Where git keeps something and cannot be asked, a name must not pass for a revision.
        in_git = any((folder / ".git").exists() for folder in (house.resolve(), *house.resolve().parents))
        return Stamp("", uncommitted=True, fault=str(fault)) if in_git else NO_STAMP
    if told is None:
        return NO_STAMP
    entries = [entry for entry in git_text(told).split("\0") if entry]
    oid = next((entry.split()[2] for entry in entries if entry.startswith("# branch.oid ")), "(initial)")
    if oid == "(initial)":
        return Stamp("", uncommitted=True)
    changed = [_Changed.of(entry) for entry in entries if not entry.startswith("#")]
    if any(one.unknown and _holds(one.path, sources.settings) for one in changed):
        # The repository around it knows nothing of this house.
        return NO_STAMP
    return Stamp(oid[:7], uncommitted=sources.elsewhere or any(map(sources.hold, changed)))


class _Changed(NamedTuple):
    """Something that differs from the commit: its path in the repository, and whether git does not know it."""

    path: str
    unknown: bool

    @classmethod
    def of(cls, entry: str) -> "_Changed":
        """Return it as one entry of git's second porcelain form says it."""
        before_the_path = {"1": 8, "u": 10}.get(entry[0], 1)
        return cls(entry.split(" ", before_the_path)[-1].rstrip("/"), entry[0] in "?!")


@dataclass(frozen=True, slots=True)
class _Sources:
    """What a house's menus are made from, by paths from the top of its repository.

    Attributes:
        settings: house.yaml.
        folders: Where files are read, with the endings of those; whatever lies there where there are none.
        linked: Files that links in them lead to.
        elsewhere: Whether some of it lies outside the repository, and has no revision there.
    """

    settings: str
    folders: Mapping[str, tuple[str, ...]]
    linked: frozenset[str]
    elsewhere: bool

    def hold(self, changed: _Changed) -> bool:
        """Return whether a menu is made from something that changed."""
        if any(_holds(changed.path, place) for place in (self.settings, *self.linked, *self.folders)):
            return True
        folder, _, name = changed.path.rpartition("/")
        if name.endswith(_NOBODYS) or name.startswith((".", "#")):
            return False
        return any(
            is_wanted(name, endings) if endings and folder == place else not endings and _holds(place, folder)
            for place, endings in self.folders.items()
        )


def _holds(path: str, place: str) -> bool:
    """Return whether a path is a place, or the folder, submodule or link it lies in."""
    return path in ("", place) or place.startswith(f"{path}/")


def _sources(house: Path, repository: Repository) -> _Sources:
    top = repository.top.resolve()
    folders: dict[str, tuple[str, ...]] = {}
    linked: set[str] = set()
    elsewhere = False
    for folder, endings in {**what_is_read(house), **dict.fromkeys(_OTHER_FOLDERS, ())}.items():
        written = posixpath.normpath(posixpath.join(repository.inside, folder))
        on_disk = house / name_on_disk(folder)
        real = _in_top(on_disk, top)
        elsewhere = elsewhere or (real is None and on_disk.exists())
        for place in (written, real):
            if place is not None and not place.startswith(".."):
                folders[place] = endings
        for path in _links(on_disk, endings):
            target = _in_top(path, top)
            elsewhere = elsewhere or target is None
            linked.update([target] if target else [])
    settings = posixpath.join(repository.inside, "house.yaml")
    return _Sources(settings, folders, frozenset(linked), elsewhere)


def _in_top(path: Path, top: Path) -> str | None:
    """Return where a path leads, from the top of the repository; None where that is outside of it."""
    try:
        real = path.resolve()
    except (OSError, RuntimeError):  # a link in a circle
        return None
    if not real.is_relative_to(top):
        return None
    return git_text(os.fsencode(real.relative_to(top).as_posix()))


def _links(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    """Return the links to files that are read in a folder."""
    try:
        with os.scandir(folder) as entries:
            return [
                Path(one.path)
                for one in entries
                if one.is_symlink() and is_wanted(one.name, endings or ("",))
            ]
    except OSError:
        return []


def _status(top: Path, sources: _Sources) -> bytes | None:
    places = (sources.settings, *sources.folders, *sorted(sources.linked))
    return ask(
        top,
        "--literal-pathspecs",
        "status",
        "--porcelain=v2",
        "--branch",
        "-z",
        "--untracked-files=all",
        "--ignored=traditional",
        "--no-renames",
        "--ignore-submodules=none",
        "--",
        *map(name_on_disk, dict.fromkeys(_own_place(top, place) for place in places)),
    )


def _own_place(top: Path, place: str) -> str:
    """Return a place, or the submodule it lies in: of what is inside that, the repository itself knows nothing."""
    for folder in reversed(PurePosixPath(place).parents[:-1]):
        if os.path.lexists(top / name_on_disk(f"{folder}/.git")):
            return str(folder)
    return place


@contextmanager
def looks_of(house: Path, files: HouseFiles) -> Iterator[Path]:
    """Lend the folder that holds a house's own looks: the one on the disk, or a copy of that of a revision.

    Args:
        house: The house's folder.
        files: Its files: as they lie, or as they were at a revision.
    """
    if not isinstance(files, GitFiles):
        yield house / LOOKS
        return
    with tempfile.TemporaryDirectory(prefix="menugen-") as folder:
        _copy(files, LOOKS, Path(folder))
        yield Path(folder)


def _copy(files: GitFiles, folder: str, to: Path) -> None:
    try:
        contents = {name: files.read(f"{folder}/{name}") for name in files.names(folder)}
    except LostLink as fault:
        raise NoHistory(f"{fault.filename} of {files.commit.short}: {fault.why}") from None
    for name, content in contents.items():
        to.mkdir(parents=True, exist_ok=True)
        (to / name_on_disk(name)).write_bytes(content)
    for name in files.folders(folder):
        _copy(files, f"{folder}/{name}", to / name_on_disk(name))
