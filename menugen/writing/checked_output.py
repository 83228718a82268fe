"""An event's files made and looked at as a publish looks at them, and put nowhere on the disk."""

import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from menugen.writing.file_cache import FileCache
from menugen.writing.output import Output
from menugen.writing.page_check import PageCheck, PageFault


class CheckingOutput(Output, Protocol):
    """An output that looks at the pages it takes."""

    def faults(self) -> tuple[PageFault, ...]:
        """Return what is wrong with its pages, now that all files are there."""
        ...


class CheckedOutput:
    """An output that looks at each page on its way into another."""

    def __init__(self, of: Output) -> None:
        """Remember where the files go."""
        self._of = of
        self._check = PageCheck()
        self._paths: set[str] = set()

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Take a text; see `Output`."""
        self._paths.add(path)
        self._of.text(path, self._check.page(path, pieces) if path.endswith(".html") else pieces)

    def data(self, path: str, content: bytes) -> None:
        """Take a file; see `Output`."""
        self._paths.add(path)
        self._of.data(path, content)

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return a file; see `Output`."""
        return self._of.kept(path)

    def faults(self) -> tuple[PageFault, ...]:
        """Return what is wrong with the pages; see `CheckingOutput`."""
        return self._check.faults(self._paths)


class Excerpt(CheckedOutput):
    """An output for some of an event's files: whether a link leads to one of the others is not asked."""

    def faults(self) -> tuple[PageFault, ...]:
        """Return what is wrong with the pages by themselves."""
        return self._check.faults(_Everything())


class _Everything:
    def __contains__(self, _path: object) -> bool:
        return True


@dataclass(frozen=True, slots=True)
class Packed:
    """Files held in memory, packed small: a site's pages are much alike."""

    _files: dict[str, tuple[int, list[bytes]]] = field(default_factory=dict)

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Take a text; see `Output`."""
        length = 0
        packed = []
        for piece in pieces:
            content = piece.encode()
            length += len(content)
            packed.append(zlib.compress(content, 1))
        self._files[path] = (length, packed)

    def data(self, path: str, content: bytes) -> None:
        """Take a file; see `Output`."""
        self._files[path] = (len(content), [zlib.compress(content, 1)])

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return a file; see `Output`."""
        length, packed = self._files[path]
        return length, map(zlib.decompress, packed)


class ReadOnlyCache(FileCache):
    """What was made before, and nothing more: who only looks leaves no file behind."""

    def __init__(self, of: FileCache) -> None:
        """Look where that one looks."""
        super().__init__(of.folder)

    def keep(self, key: str, parts: Mapping[str, bytes]) -> None:
        """Keep nothing; see `FileCache`."""
