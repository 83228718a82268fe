"""Which house a menu was made from: the revision, and whether its files differed from it."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from menugen.history.git import NoHistory, ask
from menugen.history.revision import GitFiles
from menugen.reading import HouseFiles, outside_folders

LOOKS = "themes"
"""The folder of a house's own looks."""

_OTHER_FOLDERS = (LOOKS, "photos")
_NOBODYS = ("~", ".swp", ".tmp", ".bak")
"""Endings of what editors leave beside a file."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a menu says of where it comes from.

    Attributes:
        revision: The first seven digits of the commit; empty where there is no git, or nothing of the house in it.
        uncommitted: Whether the house's files differ from that commit.
    """

    revision: str
    uncommitted: bool


NO_STAMP = Stamp("", uncommitted=False)


def stamp_of(house: Path, files: HouseFiles) -> Stamp:
    """Return where a house's files come from.

    Only what menugen reads counts: a publish that writes into the house makes no difference to itself.

    Args:
        house: The house's folder.
        files: Its files: as they lie, or as they were at a revision.
    """
    if isinstance(files, GitFiles):
        return Stamp(files.commit.short, uncommitted=False)
    paths = ("house.yaml", *outside_folders(house), *_OTHER_FOLDERS)
    try:
        told = _status(house, paths)
        if told is None:
            # A folder outside the repository has no revision there: the rest is asked for alone.
            inner = [path for path in paths if not path.startswith("..")]
            told = _status(house, inner) if len(inner) < len(paths) else None
            elsewhere = True
        else:
            elsewhere = False
    except NoHistory:
        return NO_STAMP
    if told is None:
        return NO_STAMP
    entries = os.fsdecode(told).split("\0")
    oid = next((entry.split()[2] for entry in entries if entry.startswith("# branch.oid ")), "(initial)")
    if oid == "(initial)":
        return NO_STAMP
    changed = [entry for entry in entries if entry and not entry.startswith("#") and _counts(entry)]
    if any(entry[:2] in ("? ", "! ") and entry.endswith("house.yaml") for entry in changed):
        # The repository around it knows nothing of this house.
        return NO_STAMP
    return Stamp(oid[:7], uncommitted=elsewhere or bool(changed))


def _status(house: Path, paths: tuple[str, ...] | list[str]) -> bytes | None:
    return ask(
        house,
        "status",
        "--porcelain=v2",
        "--branch",
        "-z",
        "--untracked-files=all",
        "--ignored=traditional",
        "--no-renames",
        "--",
        *paths,
    )


def _counts(entry: str) -> bool:
    """Return whether a changed file is one that somebody meant to be there."""
    name = entry.rpartition("/")[2].rpartition(" ")[2]
    return not name.endswith(_NOBODYS) and not name.startswith((".", "#"))


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
    for name in files.names(folder):
        to.mkdir(parents=True, exist_ok=True)
        (to / name).write_bytes(files.read(f"{folder}/{name}"))
    for name in files.folders(folder):
        _copy(files, f"{folder}/{name}", to / name)
