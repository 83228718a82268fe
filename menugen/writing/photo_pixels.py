"""A photo's pixels: decoded within bounds, upright, in sRGB, on white where they are clear, cut where they are long.

Comes in: the bytes of a JPEG, PNG or WebP, which may be anyone's. Goes out: an image of Pillow's, or why there is none.
What opening a file will cost is worked out before a pixel is decoded, from its form, size and kind of pixels, and no
step keeps a second copy of all of them.
"""

import ctypes
import math
import struct
import warnings
import zlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from io import BytesIO
from typing import IO, TYPE_CHECKING, TypeVar, cast

from menugen.writing.photo_file import PhotoFile, Spliced
from menugen.writing.photo_forms import other_form, take_apart

if TYPE_CHECKING:
    from PIL import Image, ImageCms

LARGEST_BYTES = 40 * 1024 * 1024
LARGEST_PIXELS = 80_000_000
"""A phone's photo has 12 to 50 million pixels."""

WIDEST = 1280
"""Pixels. Wider is never shown, so that a JPEG is read at the smallest size that still has as many."""

LONGEST_SIDE = 32_767
"""Pixels. A row is kept whole, so that one of many millions would be as costly as a large photo."""

LARGEST_WORK = 175_000_000
"""Bytes of memory that opening a photo may take, its file included: under 200 MB with what is not counted."""

_Read = TypeVar("_Read")

IN_FULL = 10_000_000
"""Pixels that are worked on as they are; of more, the mean of 2 by 2 or 3 by 3 is taken first, as all are made smaller
later. A photo of a phone comes out of its JPEG with no more than 7 million."""

_AT_A_TIME = 250_000
"""Pixels whose colours are turned at once, so that the copies this takes are small."""

_COPIES = 40
"""Bytes for each of those pixels, by measuring: they are cut out, laid on white, turned into sRGB and averaged."""


TALLEST = 2.0
"""Longest side over the shortest; what is longer is cut to this round its middle."""


_POINTER = b"version https://git-lfs"
"""How the text begins that git holds for a large file kept aside. Source: Git LFS, docs/spec.md; from memory."""


@dataclass(frozen=True, slots=True)
class _Turn:
    """What a camera did to a photo, by the number in its Exif.

    Attributes:
        name: What undoes it: a member of Pillow's Transpose.
        swapped: Whether it lies on its side.
        mirrored: Whether its left lies on the right, in the file.
        upended: Whether its top lies below, in the file.
    """

    name: str
    swapped: bool
    mirrored: bool
    upended: bool


_TURNS: Mapping[int, _Turn] = {
    2: _Turn("FLIP_LEFT_RIGHT", swapped=False, mirrored=True, upended=False),
    3: _Turn("ROTATE_180", swapped=False, mirrored=True, upended=True),
    4: _Turn("FLIP_TOP_BOTTOM", swapped=False, mirrored=False, upended=True),
    5: _Turn("TRANSPOSE", swapped=True, mirrored=False, upended=False),
    6: _Turn("ROTATE_270", swapped=True, mirrored=False, upended=True),
    7: _Turn("TRANSVERSE", swapped=True, mirrored=True, upended=True),
    8: _Turn("ROTATE_90", swapped=True, mirrored=True, upended=False),
}
"""Orientations other than upright (Exif 2.3; from memory)."""


_FAULTS = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    EOFError,
    struct.error,
    zlib.error,
)
"""What Pillow raises for a file that is not whole or not what it claims to be."""


@dataclass(frozen=True, slots=True)
class PhotoFault:
    """Why a file cannot be shown as a photo.

    Attributes:
        code: Of the problem.
        message: What is wrong; stands alone, no full stop.
        hint: What to do.
        drawn: Whether the drink is drawn until that is done.
        passing: Whether the same file may be shown another time.
    """

    code: str
    message: str
    hint: str
    drawn: bool = True
    passing: bool = False


def shown_width(content: bytes) -> int | PhotoFault:
    """Return how many pixels wide a photo is, upright and cut, or why it cannot be shown; all of it is read.

    Args:
        content: The photo as it lies in the house.
    """
    return _within_bounds(_width, content)


def shown_pixels(content: bytes) -> "Image.Image | PhotoFault":
    """Return a photo as it is shown, in RGB and without a past, or why it cannot be.

    Args:
        content: The photo as it lies in the house.
    """
    return _within_bounds(_upright, content)


def _within_bounds(read: "Callable[[Image.Image, PhotoFile], _Read]", content: bytes) -> "_Read | PhotoFault":
    """Return what is read of an opened photo, or why nothing can be; what that took is given back."""
    opened: tuple[Image.Image, PhotoFile] | PhotoFault | None
    try:
        opened = _opened(content)
        return opened if isinstance(opened, PhotoFault) else read(*opened)
    except MemoryError:
        return no_memory()
    except _FAULTS:
        return _unreadable(content)
    finally:
        # glibc would keep much of it, and the next photo and the pages come on top; other libraries have no such word.
        opened = None
        with suppress(OSError, TypeError, AttributeError):
            ctypes.CDLL(None).malloc_trim(0)


def _width(image: "Image.Image", file: PhotoFile) -> int:
    width, height = image.size
    _load(image)
    turn = _TURNS.get(file.orientation)
    return _cut(height, width)[0] if turn and turn.swapped else _cut(width, height)[0]


def _upright(image: "Image.Image", file: PhotoFile) -> "Image.Image":
    from PIL import Image

    pixels = _pixels(image, file)
    # Turning makes a copy: what it was made from goes first.
    image.close()
    turn = _TURNS.get(file.orientation)
    return pixels.transpose(Image.Transpose[turn.name]) if turn else pixels


def _unreadable(content: bytes) -> PhotoFault:
    other = other_form(content)
    return PhotoFault(
        "photo-unreadable",
        f"this is {other}, whatever its name says: a photo is a JPEG, PNG or WebP"
        if other
        else "this cannot be read as a photo",
        f"open it and save it {'as' if other else 'again as'} JPEG",
    )


def no_memory() -> PhotoFault:
    """Return what is said where the machine could not open a photo that is not too large."""
    return PhotoFault(
        "photo-no-memory",
        "this machine has too little free memory to open this photo now",
        "close other programs, or save it smaller, 2,000 pixels wide is plenty",
        passing=True,
    )


def _too_large(message: str, how: str = "") -> PhotoFault:
    return PhotoFault(
        "photo-too-large",
        message,
        f"save it {how}smaller, 2,000 pixels wide is plenty",
    )


def heavy() -> PhotoFault:
    """Return what is said of a file of more bytes than a photo may have."""
    return _too_large(f"this photo is larger than {LARGEST_BYTES // 1024**2} MiB")


def _opened(content: bytes) -> "tuple[Image.Image, PhotoFile] | PhotoFault":
    """Return an image whose size is known and whose pixels are not read yet, or why it may not be opened."""
    if content.startswith(_POINTER):
        return PhotoFault(
            "photo-not-fetched",
            "git keeps this photo aside, and it is not on this machine",
            'fetch it: "git lfs pull"',
        )
    if len(content) > LARGEST_BYTES:
        return heavy()
    file = take_apart(content)
    return _unreadable(content) if file is None else _opened_file(file, content)


def _opened_file(file: PhotoFile, content: bytes) -> "tuple[Image.Image, PhotoFile] | PhotoFault":
    from PIL import Image

    if file.width * file.height > LARGEST_PIXELS or max(file.width, file.height) > LONGEST_SIDE:
        return _too_large(
            f"this {file.name} is {file.width:,} by {file.height:,} pixels; {LARGEST_PIXELS // 1_000_000} million "
            f"in all and {LONGEST_SIDE:,} a side are the most"
        )
    size = _read_size(file)
    work = len(content) + _work(file, *size)
    if work > LARGEST_WORK:
        return _too_large(
            f"this {file.name} is {file.width:,} by {file.height:,} pixels, and opening it would take "
            f"{_megabytes(work)} MB of memory; {_megabytes(LARGEST_WORK)} MB is the most",
            "" if file.name == "JPEG" else "as an ordinary JPEG, or ",
        )
    with warnings.catch_warnings():
        # Pillow's own warning of huge images is of fewer pixels than some that we know to be cheap.
        warnings.simplefilter("ignore")
        image = Image.open(cast("IO[bytes]", Spliced(file.pixels)), formats=(file.form,))
    image.draft(None, (WIDEST, WIDEST))
    # Pillow must have read the same as we did, or what was weighed was something else.
    return (image, file) if image.size == size else _unreadable(content)


def _read_size(file: PhotoFile) -> tuple[int, int]:
    """Return in what size a photo is decoded: a JPEG at the smallest of four that still has the pixels, as Pillow's."""
    enough = min(file.width // WIDEST, file.height // WIDEST)
    part = next((part for part in (8, 4, 2) if enough >= part), 1) if file.form == "JPEG" else 1
    return -(-file.width // part), -(-file.height // part)


def _megabytes(count: int) -> int:
    """Return bytes as the next whole number of megabytes."""
    return -(-count // 1_000_000)


def _work(file: PhotoFile, width: int, height: int) -> int:
    """Return how many bytes of memory it takes to turn a photo of this size into pixels of ours, beside its file."""
    across, down = _cut(width, height)
    shown = 4 * across * down // _step(across, down) ** 2 + _COPIES * _AT_A_TIME
    return width * height * file.pixel_bytes + file.held_bytes + max(file.decoding_bytes, shown)


def _step(width: int, height: int) -> int:
    """Return of how many pixels a side the mean is taken, 1 for a photo that is not too large to work on."""
    return max(math.ceil(math.sqrt(width * height / IN_FULL)), 1)


def _load(image: "Image.Image") -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what is odd and does no harm
        image.load()


def _pixels(image: "Image.Image", file: PhotoFile) -> "Image.Image":
    """Return an image in sRGB, on white where it is clear, no longer than allowed, and as it lies in the file.

    It is made piece by piece, as each step makes a copy.
    """
    from PIL import Image

    _load(image)
    left, top, across, down = _box(image.size, _TURNS.get(file.orientation))
    step = _step(across, down)
    rows = max(_AT_A_TIME // across // step, 1) * step
    clean = Image.new("RGB", (-(-across // step), -(-down // step)))
    into_srgb = _Colours(file.profile)
    for at in range(0, down, rows):
        piece = image.crop((left, top + at, left + across, top + min(at + rows, down)))
        coloured = into_srgb.of(_plain(piece))
        clean.paste(coloured.reduce(step) if step > 1 else coloured, (0, at // step))
    return clean


def _box(size: tuple[int, int], turn: _Turn | None) -> tuple[int, int, int, int]:
    """Return which part of a photo is shown, as it lies in the file: left, top, width and height.

    It is cut as somebody sees it upright: where a pixel more is cut on one side, that is the right or the bottom.
    """
    swapped = turn is not None and turn.swapped
    width, height = (size[1], size[0]) if swapped else size
    across, down = _cut(width, height)
    left, top = (width - across) // 2, (height - down) // 2
    if swapped:
        left, top, across, down = top, left, down, across
    if turn is not None and turn.mirrored:
        left = size[0] - left - across
    if turn is not None and turn.upended:
        top = size[1] - top - down
    return left, top, across, down


def _plain(image: "Image.Image") -> "Image.Image":
    """Return an image of at most eight bits a colour, on white where it is clear."""
    from PIL import Image

    if image.mode.startswith("I") or image.mode == "F":
        image = image.point(lambda level: level / 256).convert("L")
    if "A" in image.getbands() or "transparency" in image.info:
        layer = image.convert("RGBA")
        image = Image.new("RGBA", layer.size, "white")
        image.alpha_composite(layer)
    return image


def _cut(width: int, height: int) -> tuple[int, int]:
    """Return what is left of a photo's width and height where it is longer than allowed."""
    return min(width, round(height * TALLEST)), min(height, round(width * TALLEST))


class _Colours:
    """Turns colours of a profile into those of sRGB; without a profile, or with one that fits no pixels, into RGB."""

    def __init__(self, profile: bytes) -> None:
        self._profile = profile
        self._transform: ImageCms.ImageCmsTransform | None = None

    def of(self, image: "Image.Image") -> "Image.Image":
        """Return an image in RGB; all that are asked for are of one mode."""
        from PIL import ImageCms

        if self._profile and image.mode in ("RGB", "RGBA", "CMYK", "L"):
            plain = image.convert("RGB") if image.mode == "RGBA" else image
            try:
                if self._transform is None:
                    self._transform = ImageCms.buildTransform(
                        BytesIO(self._profile), ImageCms.createProfile("sRGB"), plain.mode, "RGB"
                    )
                found = ImageCms.applyTransform(plain, self._transform)
                if found is not None:
                    return found
            except ImageCms.PyCMSError:
                self._profile = b""  # it is as good as none
        return image.convert("RGB")
