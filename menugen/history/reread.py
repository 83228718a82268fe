"""Reading a second house that is mostly the first: files with the same content are not read again.

Every file is read for itself, but for names that two of them claim; where that could be, the whole house is read.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import replace

from menugen.history.revision import GitFiles
from menugen.reading import HouseFiles, HouseReading, read_house
from menugen.reading.files import joined
from menugen.reading.house_file import HOUSE_FILE
from menugen.records import House, StockLine

_ENDINGS = (".md", ".yaml", ".yml")


class _Fewer:
    """A house's files without those that are known already; one of each folder stays, so that it is no empty one."""

    def __init__(self, files: HouseFiles, known: frozenset[str]) -> None:
        self._files = files
        self._known = known

    def names(self, folder: str) -> tuple[str, ...]:
        names = self._files.names(folder)
        left: list[str] = []
        for ending in _ENDINGS:
            ours = [name for name in names if name.casefold().endswith(ending)]
            left += [name for name in ours if joined(folder, name) not in self._known] or ours[:1]
        return tuple(name for name in names if name in left)

    def read(self, path: str) -> bytes:
        return self._files.read(path)


def read_beside(files: HouseFiles, first: HouseReading, first_files: HouseFiles) -> HouseReading:
    """Return the reading of a house, taking over what another reading has read of the very same content.

    Args:
        files: The house to read.
        first: A house read before: the same one at another time.
        first_files: The files it was read from.
    """
    house = first.house
    if house is None or not _same(HOUSE_FILE, files, first, first_files):
        return read_house(files)
    told_of = {problem.where.file for problem in first.problems}
    places = {spec.place.file for spec in house.specs.values()}
    places |= {event.place.file for event in house.events.values()}
    if not first.broken_stock and not any(file.endswith((".yaml", ".yml")) for file in told_of):
        # A fault in one line of stock may lie in another's file.
        places |= {line.place.file for line in house.stock.values()}
    known = frozenset(file for file in places - told_of if _same(file, files, first, first_files))
    second = read_house(_Fewer(files, known))
    if second.house is None or second.broken_stock or _meet(house, second, known):
        return read_house(files)
    return replace(second, house=_together(house, second.house, known))


def _together(first: House, second: House, known: frozenset[str]) -> House:
    """Return a house of what is known from the first and what was read of the second."""
    specs = {slug: spec for slug, spec in first.specs.items() if spec.place.file in known}
    stock = {name: line for name, line in first.stock.items() if line.place.file in known}
    events = {slug: event for slug, event in first.events.items() if event.place.file in known}
    all_events = {**second.events, **events}
    return replace(
        second,
        specs={**second.specs, **specs},
        stock={**second.stock, **stock},
        events=dict(sorted(all_events.items(), key=lambda item: (item[1].date, item[0]))),
    )


def _meet(first: House, second: HouseReading, known: frozenset[str]) -> bool:
    """Return whether a known file and one that was read claim the same name."""
    house = second.house
    if house is None:
        return False
    pairs: tuple[tuple[set[str], set[str]], ...] = (
        (
            {slug for slug, spec in first.specs.items() if spec.place.file in known},
            {slug for slug, spec in house.specs.items() if spec.place.file not in known}
            | second.broken_specs,
        ),
        (
            {slug for slug, event in first.events.items() if event.place.file in known},
            {slug for slug, event in house.events.items() if event.place.file not in known}
            | second.broken_events,
        ),
        (
            _names(line for line in first.stock.values() if line.place.file in known),
            _names(line for line in house.stock.values() if line.place.file not in known),
        ),
    )
    return any(_folded(taken) & _folded(read) for taken, read in pairs)


def _names(lines: Iterable[StockLine]) -> set[str]:
    return {name for line in lines for name in (line.name, *line.aliases)}


def _folded(names: Iterable[str]) -> set[str]:
    return {name.casefold() for name in names}


def _same(path: str, files: HouseFiles, first: HouseReading, first_files: HouseFiles) -> bool:
    """Return whether a file says the same in both houses."""
    ids = [files.oid(path) if isinstance(files, GitFiles) else "", ""]
    if isinstance(first_files, GitFiles):
        ids[1] = first_files.oid(path)
    try:
        if all(ids):
            return ids[0] == ids[1]
        before = first.sources.content(path)
        if ids[0]:
            return ids[0] == git_id(before, len(ids[0]))
        return files.read(path) == before
    except OSError:
        return False


def git_id(content: bytes, digits: int) -> str:
    """Return the id git gives to a file of this content, as many hex digits long as the repository's ids are."""
    digest = hashlib.sha256 if digits == 64 else hashlib.sha1
    return digest(b"blob %d\0" % len(content) + content, usedforsecurity=False).hexdigest()
