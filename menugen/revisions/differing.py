"""Whether the files a menu is made from are those of a commit: by their bytes alone.

`git status` would ask the programs that a repository names as filters, and its index for what counts as unchanged. Here
each file is compared with what git holds under its name, links followed on both sides. Three differences are none,
since a checkout makes them and the menu is the same: line ends, a large file that git keeps aside, and letters that the
disk spells otherwise and takes for the same.
"""

import hashlib
import os
import stat
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from menugen.names import folded
from menugen.reading import HOUSE_FILE, LARGEST_BYTES, DiskFiles, is_wanted, joined
from menugen.revisions.calls import NoHistory
from menugen.revisions.git import name_on_disk
from menugen.revisions.revision import GitFiles

_NOBODYS = ("~", ".swp", ".tmp", ".bak")
"""Endings of what editors leave beside a file."""

_MOST_COMPARED_BYTES = 1024**3
"""A file may say that it is larger than any disk, and have nothing in it."""

_KNOWN: dict[tuple[str, int, int, int, int], str] = {}
"""What large files were found to hold while they are as they were: the preview asks at each save."""


def differs(house: Path, files: GitFiles, read: Mapping[str, tuple[str, ...]]) -> bool:
    """Return whether a house on the disk is another than a revision of it.

    Args:
        house: The house's folder.
        files: The revision.
        read: The folders that are read, with the endings of the files read there; where there are none, whatever lies
            in them and in their own folders.
    """
    compared = _Compared(house, files)
    return compared.is_other(HOUSE_FILE) or any(
        compared.holds_other(folder, endings) for folder, endings in read.items()
    )


class _Compared:
    """A house on the disk beside a revision of it."""

    def __init__(self, house: Path, files: GitFiles) -> None:
        self._house = house
        self._disk = DiskFiles(house)
        self._git = files
        self._seen: set[tuple[str, str]] = set()

    def holds_other(self, folder: str, endings: tuple[str, ...]) -> bool:
        """Return whether something in a folder is not what git holds there."""
        on_disk = self._house / name_on_disk(folder)
        try:
            names = _counting(self._disk.names(folder), endings)
            known = _counting(self._git.names(folder), endings)
            if _as_known(on_disk, names, known) != known:
                return True
            if any(self.is_other(joined(folder, name)) for name in known):
                return True
            return not endings and self._below(folder, on_disk)
        except (OSError, NoHistory):
            # A link to where git has nothing, or what git has and this machine has not.
            return True

    def _below(self, folder: str, on_disk: Path) -> bool:
        place = (os.path.realpath(on_disk), self._git.oid(folder))
        if place in self._seen:  # links in a circle
            return False
        self._seen.add(place)
        links = {*self._git.links(folder)} - {*self._git.names(folder)}
        known = {*self._git.folders(folder), *links}
        names = _as_known(on_disk, set(_folders(on_disk)), known)
        return not known <= names or any(self.holds_other(joined(folder, name), ()) for name in sorted(names))

    def is_other(self, path: str) -> bool:
        """Return whether a file is not what git holds under its name."""
        file = self._house / name_on_disk(path)
        try:
            oid = self._git.oid(path)
            found = file.stat()
            if not stat.S_ISREG(found.st_mode):
                return True
            if found.st_size <= LARGEST_BYTES:
                content = file.read_bytes()
                return (
                    _oid(content, oid) != oid
                    and not _is_but_for_line_ends(content, oid)
                    and not self._is_kept_aside(path, file, found)
                )
            if _known(file, found, oid) == oid:
                return False
            # Only one of the same size is looked into.
            if (kept := self._git.kept(path)).digest:
                return not self._is_kept_aside(path, file, found)
            return kept.size != found.st_size or _digest(file, found, oid) != oid
        except (OSError, NoHistory):
            return True

    def _is_kept_aside(self, path: str, file: Path, found: os.stat_result) -> bool:
        """Return whether git holds only which file this is."""
        kept = self._git.kept(path)
        return kept.digest != "" and kept.size == found.st_size and _digest(file, found) == kept.digest


def _folders(folder: Path) -> Iterator[str]:
    """Yield the names of the folders in a folder; none where there is none."""
    if folder.is_dir():
        with os.scandir(folder) as entries:
            yield from (entry.name for entry in entries if entry.is_dir())


def _counting(names: Iterable[str], endings: tuple[str, ...]) -> set[str]:
    """Return the names of files that a menu may be made from."""
    return {
        name
        for name in names
        if not name.endswith(_NOBODYS)
        and not name.startswith((".", "#"))
        and (not endings or is_wanted(name, endings))
    }


def _as_known(folder: Path, names: set[str], known: set[str]) -> set[str]:
    """Return the names on a disk as git spells them, where the disk takes both spellings for one file's."""
    missing = {folded(name): name for name in known - names if os.path.lexists(folder / name_on_disk(name))}
    return {name if name in known else missing.get(folded(name), name) for name in names}


def _oid(content: bytes, like: str) -> str:
    """Return the name git gives a content, of the same kind as another."""
    begun = _begun(len(content), like)
    begun.update(content)
    return begun.hexdigest()


def _begun(size: int, like: str) -> "hashlib._Hash":
    # It names a content, as git does, and keeps nothing secret.
    return hashlib.new("sha256" if len(like) == 64 else "sha1", b"blob %d\0" % size, usedforsecurity=False)


def _is_but_for_line_ends(content: bytes, oid: str) -> bool:
    """Return whether a text is what git holds but for its line ends: a checkout on Windows makes two bytes of each."""
    return b"\r\n" in content and b"\0" not in content and _oid(content.replace(b"\r\n", b"\n"), oid) == oid


def _digest(file: Path, found: os.stat_result, like: str = "") -> str:
    """Return the name git gives a file's content, or its SHA-256 where no such name is given to be like.

    Raises:
        OSError: It cannot be read.
    """
    if known := _known(file, found, like):
        return known
    if found.st_size > _MOST_COMPARED_BYTES:
        raise OSError(f"{file} is too large to be compared")
    begun = _begun(found.st_size, like) if like else hashlib.sha256()
    with file.open("rb") as opened:
        while piece := opened.read(1 << 20):
            begun.update(piece)
    _KNOWN[_key(file, found, like)] = begun.hexdigest()
    return begun.hexdigest()


def _known(file: Path, found: os.stat_result, like: str) -> str:
    """Return what `_digest` found before of a file that is as it was; empty where it was not asked."""
    return _KNOWN.get(_key(file, found, like), "")


def _key(file: Path, found: os.stat_result, like: str) -> tuple[str, int, int, int, int]:
    return (str(file), found.st_ino, found.st_mtime_ns, found.st_size, len(like))
