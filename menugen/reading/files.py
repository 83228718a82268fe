"""Where the house's files come from."""

import os
import posixpath
from pathlib import Path
from typing import Protocol

LARGEST_BYTES = 1024 * 1024
"""No file a person writes by hand comes near this; one that does is something else."""


class HouseFiles(Protocol):
    """The files of a house: on disk, or at a revision of it."""

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder, sorted; none where there is no such folder.

        Args:
            folder: Relative to the house, with forward slashes; may begin with "../"; "" is the house itself.
        """
        ...

    def read(self, path: str) -> bytes:
        """Return a file's content; of one larger than LARGEST_BYTES at least one byte more than that.

        Args:
            path: Relative to the house, with forward slashes.

        Raises:
            FileNotFoundError: There is no such file.
            OSError: It cannot be read.
        """
        ...


class DiskFiles:
    """The files of a house on disk. Links are followed; they are the operator's own."""

    def __init__(self, root: Path) -> None:
        """Remember the folder house.yaml lies in; nothing is read yet."""
        self._root = root

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder, sorted; none where there is no such folder."""
        try:
            with os.scandir(self._root / folder) as entries:
                return tuple(sorted(entry.name for entry in entries if entry.is_file()))
        except (FileNotFoundError, NotADirectoryError):
            return ()

    def read(self, path: str, largest: int = LARGEST_BYTES) -> bytes:
        """Return a file's content, cut one byte past `largest`: photos are larger than what is written by hand."""
        with (self._root / path).open("rb") as file:
            return file.read(largest + 1)

    def mark(self, path: str) -> str:
        """Return a text that is another once the file is written again: which file it is, when, and how large."""
        file = (self._root / path).resolve()
        found = file.stat()
        return f"{file} {found.st_ino} {found.st_mtime_ns} {found.st_size}"


def joined(folder: str, name: str) -> str:
    """Return the path of a file in a folder of the house, in its shortest form."""
    return posixpath.normpath(posixpath.join(folder, name))
