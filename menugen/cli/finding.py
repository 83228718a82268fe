"""From what was typed to a house and, where one is meant, an event of it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from menugen.names import slug_of
from menugen.reading import DiskFiles, HouseFolders, HouseReading

_EVENT_ENDINGS = (".yaml", ".yml")


class NotFound(Exception):
    """What was typed leads to no house; the message says so in plain words. Wrong use of the command."""


@dataclass(frozen=True, slots=True)
class Target:
    """A house, and one of its events where one is meant.

    Attributes:
        folder: The house.
        typed: How the house's files are named to the user: the folder as typed, ending in "/"; empty for this folder.
        event: The event's slug; None means all.
    """

    folder: Path
    typed: str
    event: str | None


def _house_above(path: Path) -> Path | None:
    return next((folder for folder in (path, *path.parents) if (folder / "house.yaml").is_file()), None)


def _prefix(folder: Path) -> str:
    name = folder.as_posix()
    return "" if name == "." else name.rstrip("/") + "/"


@contextmanager
def _looked_into(typed: str) -> Iterator[None]:
    """Turn what the system refuses, while a path is looked at, into NotFound."""
    try:
        yield
    except PermissionError:
        raise NotFound(f"{typed} cannot be looked into: you may not read it, or a folder above it") from None
    except OSError as fault:
        raise NotFound(
            f"{typed[:80]} cannot be looked into: {(fault.strerror or str(fault)).lower()}"
        ) from None
    except RuntimeError:  # before Python 3.13
        raise NotFound(f"{typed} cannot be looked into: it is a link that leads in a circle") from None


def find_target(typed: str, *, at: str | None = None) -> Target:
    """Return the house or event that was typed.

    Args:
        typed: A folder or a file.
        at: The revision its files are read at; an event's file need not lie on the disk then. None: as they lie.

    Raises:
        NotFound: There is no such file, or no house.yaml in the folder or above the event.
    """
    with _looked_into(typed):
        return _target(typed, at)


def _target(typed: str, at: str | None) -> Target:
    path = Path(typed)
    if path.is_dir():
        if (path / "house.yaml").is_file():
            return Target(path, _prefix(path), None)
        above = _house_above(path.resolve())
        if above is not None and path.resolve() != above:
            raise NotFound(f"{typed} is inside the house {above}: name the house, or one event's file")
        raise NotFound(f'there is no house.yaml in {typed}: "menugen start {typed}" makes a house')
    was_there = at is not None and not path.exists() and path.suffix in _EVENT_ENDINGS
    if not path.is_file() and not was_there:
        raise NotFound(f"there is no folder or file called {typed}")
    if path.name == "house.yaml":
        return find_target(str(path.parent))
    house = next((folder for folder in path.parents if (folder / "house.yaml").is_file()), None)
    if house is None:
        house = _house_above(path.resolve().parent)
    if house is None:
        raise NotFound(f"there is no house.yaml above {typed}")
    if path.suffix not in _EVENT_ENDINGS:
        raise NotFound(f"{typed} is no event: events are YAML files in the house's events folder")
    return Target(house, _prefix(house), slug_of(path.name))


def find_house(spec: str, house: str | None) -> Target:
    """Return the house a spec is worked out in: the one named, else the one above the spec or above this folder.

    Raises:
        NotFound: There is none.
    """
    if house is not None:
        return find_target(house)
    with _looked_into(spec):
        for start in (Path(spec), Path()):
            for folder in (start, *start.parents):
                if (folder / "house.yaml").is_file():
                    return Target(folder, _prefix(folder), None)
            above = _house_above(start.resolve())
            if above is not None:
                return Target(above, _prefix(above), None)
    raise NotFound("there is no house.yaml above the spec or this folder: name the house with --house")


def files_of(target: Target, revision: str | None) -> HouseFolders:
    """Return the files of a house: as they lie, or as git has them at a revision.

    Raises:
        NoHistory: git has no such revision there.
    """
    if revision is None:
        return DiskFiles(target.folder)
    from menugen.revisions import files_at

    return files_at(target.folder, revision)


def check_event(target: Target, reading: HouseReading, revision: str | None) -> None:
    """Make sure that the event that was typed is one of the house as it was read.

    Raises:
        NotFound: It is not, nor is it one with a fault.
    """
    house = reading.house
    if target.event is None or house is None or target.event in (*house.events, *reading.broken_events):
        return
    when = "" if revision is None else f" at {revision}"
    raise NotFound(
        f'the house has no event called "{target.event}"{when}; it has: {", ".join(house.events) or "none"}'
    )
