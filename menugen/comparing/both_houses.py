"""The two houses that are compared: read from git, or from the files as they lie."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from menugen.comparing.house_version import HouseVersion
from menugen.comparing.look_changes import looks_of
from menugen.names import name_key
from menugen.reading import DiskFiles, HouseFiles, HouseFolders, HouseReading, read_house
from menugen.records import House
from menugen.revisions import GitFiles, Objects, Repository, find_commit, find_repository, unfinished

WORKING_FILES = "your working files"


def two_houses(
    house: Path, old: str, new: str | None, progress: Callable[[str, int, int], None]
) -> tuple[HouseVersion, HouseVersion, HouseFiles, tuple[str, ...]]:
    """Return two houses to compare, the files of the newer one, and what is to be told of them.

    Args:
        house: The house's folder.
        old: The older revision: as git writes it, or a day.
        new: The newer one; None is the files as they lie.
        progress: Told of each reading.

    Raises:
        NoHistory: No git, no repository, no such revision, or a part of it is not on this machine.
    """
    repository = find_repository(house)
    objects = Objects(repository.top)
    before = GitFiles(repository, find_commit(repository, old), objects)
    after: HouseFolders = (
        DiskFiles(house) if new is None else GitFiles(repository, find_commit(repository, new), objects)
    )
    progress("reading the newer house", 0, 2)
    newer = read_house(after)
    progress("reading the older house", 1, 2)
    older = read_house(before)
    older, newer = _with_unread(older, newer), _with_unread(newer, older)
    return _version(before, older), _version(after, newer), after, _notes(repository, new)


def _with_unread(reading: HouseReading, other: HouseReading) -> HouseReading:
    """Return a reading in which what may lie in its unread folders and files has a fault: it is not known to be gone.

    Args:
        reading: Of one house.
        other: Of the other, whose names are all that is known of those.
    """
    house, others = reading.house, other.house
    if not reading.unread or house is None or others is None:
        return reading
    specs = others.specs.keys() - house.specs.keys() if "specs" in reading.unread else set()
    events = others.events.keys() - house.events.keys() if "events" in reading.unread else set()
    stock = set()
    if "stock" in reading.unread:
        stock = _stock_names(others) - _stock_names(house)
    return replace(
        reading,
        broken_specs=reading.broken_specs | specs,
        broken_events=reading.broken_events | events,
        broken_stock=reading.broken_stock | stock,
    )


def _stock_names(house: House) -> set[str]:
    return {name_key(name) for line in house.stock.values() for name in (line.name, *line.aliases)}


def _version(files: HouseFolders, reading: HouseReading) -> HouseVersion:
    if not isinstance(files, GitFiles):
        return HouseVersion(WORKING_FILES, "", reading, looks_of(files))
    commit = files.commit
    label = f"{commit.short} ({commit.day}, {commit.subject})"
    return HouseVersion(label, commit.revision, reading, looks_of(files))


def _notes(repository: Repository, new: str | None) -> tuple[str, ...]:
    if new is None and (half_done := unfinished(repository)):
        return (f"{half_done} is half done here: your working files may hold both sides of it",)
    return ()
