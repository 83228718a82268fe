"""A photo's file as it is before a pixel of it is decoded: how large it is, and which parts of it hold pixels.

photo_forms.py takes files apart into this; photo_pixels.py decodes what is kept.
"""

import io
import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

_ORIENTATION = 0x0112

_TURNED_IN_XMP = re.compile(rb'tiff:Orientation(?:="|>)([0-9])')


class NotAPhoto(ValueError):
    """The file is not whole, or not what it says it is."""


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """What a photo's file says of itself.

    Attributes:
        form: "JPEG", "PNG" or "WEBP".
        name: The form as a person calls it: "progressive JPEG".
        width: Pixels, as they lie in the file.
        height: Pixels.
        pixel_bytes: Bytes of memory that a decoded pixel takes.
        held_bytes: Bytes that are held beside the pixels.
        decoding_bytes: Bytes that decoding takes beside both, and gives back.
        orientation: 1 to 8 as Exif counts, or 0 where it is not said.
        profile: The colour profile; empty where there is none.
        pixels: The parts of the file that hold the picture, in order.
    """

    form: str
    name: str
    width: int
    height: int
    pixel_bytes: int
    held_bytes: int
    decoding_bytes: int
    orientation: int
    profile: bytes
    pixels: tuple[memoryview, ...]


class Spliced(io.RawIOBase):
    """Parts of a file read as if nothing lay between them; none is copied."""

    def __init__(self, parts: Sequence[memoryview]) -> None:
        """Begin at the first."""
        super().__init__()
        self._parts = parts
        self._starts = [0]
        for part in parts:
            self._starts.append(self._starts[-1] + len(part))
        self._at = 0

    def readable(self) -> bool:
        """Return True."""
        return True

    def seekable(self) -> bool:
        """Return True."""
        return True

    def tell(self) -> int:
        """Return how many bytes lie before the place of reading."""
        return self._at

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        """Read from elsewhere."""
        base = {io.SEEK_SET: 0, io.SEEK_CUR: self._at, io.SEEK_END: self._starts[-1]}[whence]
        self._at = min(max(base + offset, 0), self._starts[-1])
        return self._at

    def read(self, size: int | None = -1) -> bytes:
        """Return this many bytes, fewer only at the end; all of them where no number is given."""
        left = self._starts[-1] - self._at
        wanted = left if size is None or size < 0 else min(size, left)
        found = b"".join(self._pieces(self._at, self._at + wanted))
        self._at += len(found)
        return found

    def _pieces(self, begin: int, end: int) -> Iterator[memoryview]:
        at = bisect_right(self._starts, begin) - 1
        while begin < end:
            start, part = self._starts[at], self._parts[at]
            yield part[begin - start : end - start]
            at, begin = at + 1, start + len(part)


class Kept:
    """The parts of a file that are kept; those that touch are one."""

    def __init__(self, content: bytes) -> None:
        self._content = content
        self._ranges: list[tuple[int, int]] = []

    def add(self, begin: int, end: int) -> None:
        """Keep what lies from `begin` to before `end`."""
        if self._ranges and self._ranges[-1][1] == begin:
            begin, _ = self._ranges.pop()
        self._ranges.append((begin, end))

    def parts(self) -> tuple[memoryview, ...]:
        """Return them in order."""
        whole = memoryview(self._content)
        return tuple(whole[begin:end] for begin, end in self._ranges if begin < end)


def turned(exif: bytes, xmp: bytes) -> int:
    """Return how a photo is turned, as Exif says it, or else XMP; 0 where neither does."""
    orders: dict[bytes, Literal["little", "big"]] = {b"II": "little", b"MM": "big"}
    if (order := orders.get(exif[:2])) is not None:
        number = partial(_number, exif, order)
        first = number(4, 4)
        for at in range(first + 2, first + 2 + 12 * number(first, 2), 12):
            if at + 12 > len(exif):
                break
            if number(at, 2) == _ORIENTATION and number(at + 4, 4) == 1:
                return number(at + 8, {1: 1, 4: 4}.get(number(at + 2, 2), 2))
    found = _TURNED_IN_XMP.search(xmp)
    return int(found[1]) if found else 0


def _number(content: bytes, order: Literal["little", "big"], at: int, size: int) -> int:
    return int.from_bytes(content[at : at + size], order)
