"""Where the files of a publish go, one by one as they are made: memory, for a preview, or a folder on the disk."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Protocol

MARKER = ".menugen"
"""A file by which a folder is known to be a publish's, and so ours to replace."""


class Output(Protocol):
    """Takes files and keeps them, so that nobody else has to."""

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Take a text, or a page, under a POSIX path; what was there is replaced.

        Args:
            path: Within the output.
            pieces: Of the text, in order; of a page as pieces.py cuts them.
        """
        ...

    def data(self, path: str, content: bytes) -> None:
        """Take a file that is no text."""
        ...

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return how many bytes a file has that was taken, and its content, bit by bit."""
        ...


@dataclass(frozen=True, slots=True)
class Memory:
    """Files held in memory, by path."""

    files: dict[str, bytes] = field(default_factory=dict)

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Take a text; see `Output`."""
        self.files[path] = "".join(pieces).encode()

    def data(self, path: str, content: bytes) -> None:
        """Take a file; see `Output`."""
        self.files[path] = content

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return a file; see `Output`."""
        return len(self.files[path]), iter((self.files[path],))


@dataclass(frozen=True, slots=True)
class Folder:
    """A folder of an output, as an output.

    Attributes:
        of: The output.
        name: What its paths begin with here: "site/", or nothing.
    """

    of: Output
    name: str

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Take a text; see `Output`."""
        self.of.text(self.name + path, pieces)

    def data(self, path: str, content: bytes) -> None:
        """Take a file; see `Output`."""
        self.of.data(self.name + path, content)

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return a file; see `Output`."""
        return self.of.kept(self.name + path)
