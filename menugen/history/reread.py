"""Reading a second house that is mostly the first: specs with the same content are not read again.

Specs are the bulk of a house, and each is read for itself; stock and events are few and are always read.
"""

import hashlib
from dataclasses import replace

from menugen.history.revision import GitFiles
from menugen.reading import HouseFiles, HouseReading, read_house
from menugen.reading.files import joined

_ENDING = ".md"


class _Fewer:
    """A house's files without the specs that are known already; one spec of each folder stays, to be found there."""

    def __init__(self, files: HouseFiles, known: frozenset[str]) -> None:
        self._files = files
        self._known = known

    def names(self, folder: str) -> tuple[str, ...]:
        names = self._files.names(folder)
        specs = [name for name in names if name.casefold().endswith(_ENDING)]
        left = [name for name in specs if joined(folder, name) not in self._known] or specs[:1]
        return tuple(name for name in names if name in left or name not in specs)

    def read(self, path: str) -> bytes:
        return self._files.read(path)


def read_beside(files: HouseFiles, first: HouseReading, first_files: HouseFiles) -> HouseReading:
    """Return the reading of a house, taking over what another reading has read of the very same content.

    Args:
        files: The house to read.
        first: A house read before: the same one at another time.
        first_files: The files it was read from.
    """
    if first.house is None or not _same("house.yaml", files, first, first_files):
        return read_house(files)
    by_file = {spec.place.file: spec for spec in first.house.specs.values()}
    told_of = {problem.where.file for problem in first.problems}
    known = frozenset(
        file for file in by_file if file not in told_of and _same(file, files, first, first_files)
    )
    second = read_house(_Fewer(files, known))
    if second.house is None:
        return second
    taken = {spec.slug: spec for file, spec in by_file.items() if file in known}
    others = {slug.casefold() for slug in second.broken_specs}
    others |= {slug.casefold() for slug, spec in second.house.specs.items() if spec.place.file not in known}
    if any(slug.casefold() in others for slug in taken):
        # Two files want one slug: only a reading of the whole house tells that as it should be told.
        return read_house(files)
    specs = dict(sorted({**second.house.specs, **taken}.items(), key=lambda item: item[1].place.file))
    return replace(second, house=replace(second.house, specs=specs))


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
