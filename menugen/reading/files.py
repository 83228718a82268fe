"""Where the house's files come from."""

import errno
import os
import posixpath
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Protocol

LARGEST_BYTES = 1024 * 1024
"""No file a person writes by hand comes near this; one that does is something else."""


class NotOnThisMachine(Exception):
    """A file of the house that is not on this machine, though the house has it: no fault of what somebody wrote.

    Reading a house lets it pass; `str()` says in plain words what is missing, and what brings it.
    """


class BrokenLink(OSError):
    """A link, or a folder named in house.yaml, that leads to nothing that can be read.

    Attributes:
        why: Says so in plain words.
    """

    def __init__(self, path: str, why: str) -> None:
        """Keep both where every OSError keeps them, too."""
        super().__init__(errno.ELOOP, why, path)
        self.why = why


class HouseFiles(Protocol):
    """The files of a house: on disk, or at a revision of it."""

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder, sorted; none where there is no such folder.

        A link that leads to nothing is among them: it is somebody's file, and reading it tells what is wrong.

        Args:
            folder: Relative to the house, with forward slashes; may begin with "../"; "" is the house itself.

        Raises:
            OSError: The folder cannot be looked into.
        """
        ...

    def read(self, path: str) -> bytes:
        """Return a file's content; of one larger than LARGEST_BYTES at least one byte more than that.

        Args:
            path: Relative to the house, with forward slashes.

        Raises:
            FileNotFoundError: There is no such file.
            BrokenLink: It is a link that leads to nothing.
            NotOnThisMachine: It is there, and cannot be had on this machine.
            OSError: It cannot be read.
        """
        ...


class HouseFolders(HouseFiles, Protocol):
    """The files of a whole house, its folders with them."""

    def folders(self, folder: str) -> tuple[str, ...]:
        """Return the names of the folders directly in a folder, sorted, without links; none where there are none."""
        ...

    def links(self, folder: str) -> tuple[str, ...]:
        """Return the names directly in a folder that are links, whatever they lead to."""
        ...


THEMES_FOLDER = "themes"
"""Where a house keeps looks of its own."""


def look_files(files: HouseFolders) -> Iterator[str]:
    """Yield the theme.yaml of each look of a house's own. A look is a stranger's: no link in it is followed."""
    for name in files.folders(THEMES_FOLDER):
        home = f"{THEMES_FOLDER}/{name}"
        if "theme.yaml" in files.names(home) and "theme.yaml" not in files.links(home):
            yield f"{home}/theme.yaml"


class DiskFiles:
    """The files of a house on disk. Links are followed; they are the operator's own."""

    def __init__(self, root: Path) -> None:
        """Remember the folder house.yaml lies in; nothing is read yet."""
        self._root = root

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder, sorted; none where there is no such folder."""
        try:
            with os.scandir(self._root / folder) as entries:
                return tuple(sorted(entry.name for entry in entries if _is_file(entry)))
        except NotADirectoryError:
            return ()
        except OSError as fault:
            if self._is_lost(folder):
                raise _lost(folder, fault) from None
            if isinstance(fault, FileNotFoundError):
                return ()
            raise

    def folders(self, folder: str) -> tuple[str, ...]:
        """Return the names of the folders directly in a folder, sorted, without links; none where there are none."""
        return self._entries(folder, lambda entry: entry.is_dir(follow_symlinks=False))

    def links(self, folder: str) -> tuple[str, ...]:
        """Return the names directly in a folder that are links, whatever they lead to."""
        return self._entries(folder, lambda entry: entry.is_symlink())

    def _entries(self, folder: str, wanted: Callable[[os.DirEntry[str]], bool]) -> tuple[str, ...]:
        try:
            with os.scandir(self._root / folder) as entries:
                return tuple(sorted(entry.name for entry in entries if wanted(entry)))
        except OSError:
            return ()

    def read(self, path: str, largest: int = LARGEST_BYTES) -> bytes:
        """Return a file's content, cut one byte past `largest`: photos are larger than what is written by hand."""
        try:
            with open(self._root / path, "rb", opener=_without_waiting) as file:  # only it takes an opener
                if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                    raise OSError(errno.EINVAL, "it is a pipe or a device, not a file", path)
                return file.read(largest + 1)
        except OSError as fault:
            if self._is_lost(path):
                raise _lost(path, fault) from None
            raise

    def size(self, path: str) -> int:
        """Return how many bytes a file has, unread."""
        return (self._root / path).stat().st_size

    def place(self, path: str) -> Path:
        """Return where a path of the house leads when every link is followed, as far as they lead anywhere."""
        # Path.resolve() raises, up to Python 3.12, where links lead in a circle.
        return Path(os.path.realpath(self._root / path))

    def _is_lost(self, path: str) -> bool:
        """Return whether a path is a link that leads to nothing."""
        place = self._root / path
        return place.is_symlink() and not place.exists()

    def mark(self, path: str) -> str:
        """Return a text that is another once the file is written again: which file it is, when, and how large."""
        file = self.place(path)
        found = file.stat()
        return f"{file} {found.st_ino} {found.st_mtime_ns} {found.st_size}"


def _without_waiting(path: str, flags: int) -> int:
    """Open a file; a pipe that nobody writes to would keep us waiting for ever."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _is_file(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_file() or (entry.is_symlink() and not Path(entry.path).exists())
    except OSError:
        # A link in a circle, for one.
        return True


def _lost(path: str, fault: OSError) -> BrokenLink:
    what = "leads in a circle" if fault.errno == errno.ELOOP else "leads to nothing"
    return BrokenLink(path, f"this is a link, and it {what}")


def joined(folder: str, name: str) -> str:
    """Return the path of a file in a folder of the house, in its shortest form."""
    return posixpath.normpath(posixpath.join(folder, name))
