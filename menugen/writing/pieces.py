"""Pages in pieces, so that a menu of ten thousand drinks is never whole in memory.

A page comes from its template in shreds and goes on in pieces, each far larger than a drink and far smaller than such a
menu. What looks at a page looks at one piece at a time; therefore a piece ends at the end of a line, outside of every
tag, style, script and comment.
"""

import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Generic, TypeVar, overload

PIECE = 200_000
"""Characters a piece has at least, unless it is the last: most pages are one piece."""

_RAW = (("<style", "</style>"), ("<script", "</script>"), ("<!--", "-->"))

S = TypeVar("S")
T = TypeVar("T")


def in_pieces(shreds: Iterable[str], at_least: int = PIECE) -> Iterator[str]:
    """Yield a page in pieces; one piece where it is no longer than that, and none is empty.

    Args:
        shreds: The page, cut anywhere.
        at_least: Characters of every piece but the last.
    """
    kept: list[str] = []
    length = 0
    wanted = at_least
    for shred in shreds:
        kept.append(shred)
        length += len(shred)
        if length < wanted:
            continue
        text = "".join(kept)
        end = _seam(text)
        if end:
            yield text[:end]
        kept = [text[end:]]
        length = len(kept[0])
        # What could not be cut is not looked through again at every shred.
        wanted = max(at_least, 2 * length)
    text = "".join(kept)
    if text:
        yield text


def _seam(text: str) -> int:
    """Return where the last line begins that starts with a tag; 0 where there is none that a piece may end before."""
    end = text.rfind("\n<") + 1
    if any(text.rfind(opens, 0, end) > text.rfind(closes, 0, end) for opens, closes in _RAW):
        return 0
    return end


class PackedPieces:
    """Text put aside until what comes before it is known, packed small."""

    def __init__(self, pieces: Iterable[str]) -> None:
        self._packed = [zlib.compress(piece.encode(), 1) for piece in pieces]

    def __iter__(self) -> Iterator[str]:
        return (zlib.decompress(piece).decode() for piece in self._packed)


class LazySequence(Sequence[T], Generic[S, T]):
    """A row of things as a page places them, each made when it is placed and kept by nobody."""

    def __init__(self, things: Sequence[S], make: Callable[[S], T]) -> None:
        self._things = things
        self._make = make

    def __len__(self) -> int:
        return len(self._things)

    def __iter__(self) -> Iterator[T]:
        return map(self._make, self._things)

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[T]: ...
    def __getitem__(self, at: int | slice) -> T | Sequence[T]:
        if isinstance(at, slice):
            return LazySequence(self._things[at], self._make)
        return self._make(self._things[at])
