"""The files of a house or a library, looked at one by one and written again where they are not tidy."""

import stat
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from menugen.disk import Changed, clear_unfinished, write_whole
from menugen.reading import HOUSE_FILE, HouseFiles, HouseFolders, decode, joined, look_files, read_settings
from menugen.tidying.order import Kind
from menugen.tidying.tidy import is_spec, tidy

_ENDINGS: dict[Kind, tuple[str, ...]] = {
    "spec": (".md",),
    "stock": (".yaml", ".yml"),
    "event": (".yaml", ".yml"),
}
_ANYBODY_WRITES = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH


class TidyResult(NamedTuple):
    """One file that was looked at.

    Attributes:
        file: Relative to the folder it was looked for in, with forward slashes.
        tidied: Its content as it should be; None where it is so already.
        before: Its content as it is.
        left_alone: Why it cannot be tidied; empty where it can.
    """

    file: str
    tidied: bytes | None
    before: bytes
    left_alone: str


class Protected(Exception):
    """A file may be read and not written; nothing was written to it."""


def files_of_house(files: HouseFolders) -> Iterator[tuple[str, Kind]]:
    """Yield the files of a house and what each holds: its settings, specs, stock, events and looks.

    A library outside the house, "../specs", belongs to others and is passed over.

    Raises:
        OSError: house.yaml cannot be read.
    """
    yield HOUSE_FILE, "house"
    house = read_settings(decode(files.read(HOUSE_FILE), HOUSE_FILE).text).house
    folders: tuple[tuple[Kind, tuple[str, ...]], ...] = (
        ("spec", house.spec_folders),
        ("stock", house.stock_folders),
        ("event", house.event_folders),
    )
    for kind, named in folders:
        for folder in named:
            if not joined(folder, "").startswith(".."):
                yield from ((joined(folder, name), kind) for name in _names(files, folder, kind))
    yield from ((file, "theme") for file in look_files(files))


def files_of_library(files: HouseFiles) -> Iterator[str]:
    """Yield what may be specs in a folder that belongs to no house."""
    yield from _names(files, "", "spec")


def _names(files: HouseFiles, folder: str, kind: Kind) -> Iterator[str]:
    for name in files.names(folder):
        hidden = name.startswith(".") or name.casefold() == "readme.md"
        if name.casefold().endswith(_ENDINGS[kind]) and not hidden:
            yield name


def tidy_result(files: HouseFiles, file: str, kind: Kind) -> TidyResult:
    """Return what tidying would make of one file.

    Raises:
        OSError: It cannot be read.
    """
    before = files.read(file)
    tidied, left_alone = tidy(before, file, kind)
    return TidyResult(file, None if tidied == before else tidied, before, left_alone)


def tidy_stray_result(files: HouseFiles, file: str) -> TidyResult:
    """Return the same for a file that no house says is a spec; anything else with front matter is left alone.

    Raises:
        OSError: It cannot be read.
    """
    looked = tidy_result(files, file, "spec")
    if looked.left_alone or is_spec(looked.before):
        return looked
    return looked._replace(tidied=None, left_alone="it is no spec: it has no name, or no pour")


def write(folder: Path, looked: TidyResult) -> None:
    """Put a tidied file in the place of the one that is there, all at once: a reader sees the one or the other.

    Raises:
        Changed: It is not the file that was looked at any more.
        Protected: Nobody may write it.
        OSError: It cannot be written; the file is as it was.
    """
    if looked.tidied is None:
        return
    # Where a disk does not say what is a link, a file must not take the place of one.
    path = (folder / looked.file).resolve(strict=True)
    mode = stat.S_IMODE(path.stat().st_mode)
    if not mode & _ANYBODY_WRITES:
        raise Protected(looked.file)
    write_whole(path, looked.tidied, mode=mode, before=looked.before, tidy=True)


def clear_beside(folder: Path, file: str) -> None:
    """Take away what a tidy that was killed left beside a file."""
    clear_unfinished((folder / file).resolve().parent)


__all__ = [
    "Changed",
    "Protected",
    "TidyResult",
    "clear_beside",
    "files_of_house",
    "files_of_library",
    "tidy_result",
    "tidy_stray_result",
    "write",
]
