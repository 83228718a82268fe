"""A drink's photo made ready for guests: upright, in sRGB, in three widths and three forms, and nothing else in it.

Comes in: the bytes of a JPEG, PNG or WebP. Goes out: a Photo, whose files hold pixels alone (no place, no time, no
camera), and the HTML that lets a browser choose among them: AVIF, WebP, or the JPEG that any can show. The same bytes
give the same files from the same version of Pillow and its encoders, which `recipe` names.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from markupsafe import Markup

from menugen.writing.photo_pixels import IN_FULL, TALLEST, WIDEST, PhotoFault, no_memory, shown_pixels

if TYPE_CHECKING:
    from PIL import Image

ENDINGS = (".jpg", ".jpeg", ".png", ".webp")

WIDTHS = (320, 640, WIDEST)
"""Pixels. A narrower photo is never made wider."""

_FORMS: Mapping[str, tuple[str, Mapping[str, int | bool]]] = {
    "avif": ("AVIF", {"quality": 60, "speed": 8, "max_threads": 1}),
    "webp": ("WEBP", {"quality": 78, "method": 4}),
    "jpg": ("JPEG", {"quality": 80, "progressive": True, "optimize": True}),
}
"""Best form first. One thread, as the number of a machine's cores must not change a byte."""

_TYPES = {"avif": "image/avif", "webp": "image/webp"}

_SHOWN = {"small": (("", "5rem"),), "large": (("(min-width: 45em) ", "22rem"), ("", "95vw"))}
"""How wide the pages show it; a browser chooses a file by this before it has the style sheet."""

WIDEST_SHOWN = 684
"""CSS pixels: 95 % of 45em, under which a page shows a photo as wide as its words. Our own looks come to 683."""

_SMALL_SQUARE = 104
"""CSS pixels a side of the largest square beside a name."""


@dataclass(frozen=True, slots=True)
class Rendition:
    """One file of a photo.

    Attributes:
        width: Pixels.
        height: Pixels.
        form: "avif", "webp" or "jpg"; the file's ending.
        content: The file.
    """

    width: int
    height: int
    form: str
    content: bytes

    @property
    def path(self) -> str:
        """Where it lies in the site: named by its content."""
        return f"assets/photo-{self.width}.{hashlib.sha256(self.content).hexdigest()[:12]}.{self.form}"


Photo = tuple[Rendition, ...]
"""Narrowest first, each width in every form, best form first."""


def recipe() -> str:
    """Return a text that changes when the same photo could come out as other bytes."""
    from PIL import __version__, features

    made_by = [f"{name} {features.version(name)}" for name in ("webp", "avif", "jpg", "libjpeg_turbo")]
    return f"{WIDTHS} {TALLEST} {IN_FULL} {dict(_FORMS)} {__version__} {made_by}"


def too_few_pixels(width: int) -> PhotoFault | None:
    """Return what is to be said of a photo that is narrower than the pages can show it; None where it is wide enough.

    Args:
        width: Pixels, as it is shown.
    """
    if width >= WIDEST_SHOWN:
        return None
    return PhotoFault(
        "photo-small",
        f"this photo is {width} px wide, and a page has room for {WIDEST_SHOWN} px: it is shown no wider than it is",
        f"save it {WIDEST_SHOWN} px wide or more; {WIDTHS[-1]} px are sharp on every phone",
        drawn=False,
    )


def make_photo(content: bytes) -> Photo | PhotoFault:
    """Return a photo's files, or why there are none.

    Args:
        content: The photo as it lies in the house.
    """
    pixels = shown_pixels(content)
    if isinstance(pixels, PhotoFault):
        return pixels
    try:
        return tuple(_renditions(pixels))
    except MemoryError:
        return no_memory()


def photo_html(photo: Photo, *, root: str, size: str, first: bool) -> Markup:
    """Return the picture element of a photo. It shows what the words say, so it has no words of its own.

    Args:
        photo: At least one rendition in each form.
        root: What leads from the page to the folder the photo's paths count from: "", "../", "../../".
        size: "small" beside a name or "large" on a drink's own page.
        first: Whether it is the first picture of its page: then nothing waits for it to come into view.
    """
    offered = photo if size == "large" else [shown for shown in photo if shown.width == photo[0].width]
    plain = [shown for shown in offered if shown.form == "jpg"]
    middle, most = plain[len(plain) // 2], plain[-1]
    # A photo of few pixels is shown at its own size: enlarged it would be a blur.
    narrow = most.width < WIDEST_SHOWN if size == "large" else min(most.width, most.height) < _SMALL_SQUARE
    sizes = _sizes(size, most.width if narrow else None)
    sources = "".join(
        f'<source type="{kind}" srcset="{_srcset((s for s in offered if s.form == form), root)}" sizes="{sizes}">'
        for form, kind in _TYPES.items()
    )
    classes = "glass photo narrow" if narrow else "glass photo"
    urgency = 'fetchpriority="high"' if first else 'loading="lazy"'
    # Numbers, digests and our own paths: nothing here was typed by anyone.
    return Markup(  # noqa: S704
        f'<picture class="{classes}">{sources}<img src="{root}{middle.path}" srcset="{_srcset(plain, root)}" '
        f'sizes="{sizes}" width="{middle.width}" height="{middle.height}" alt="" {urgency} decoding="async">'
        "</picture>"
    )


def _sizes(size: str, most: int | None) -> str:
    """Return how wide the pages show a photo: on a wide page, else; never wider than `most`, where that is given."""
    return ", ".join(
        f"{where}min({width}, {most}px)" if most else f"{where}{width}" for where, width in _SHOWN[size]
    )


def _srcset(renditions: Iterable[Rendition], root: str) -> str:
    return ", ".join(f"{root}{shown.path} {shown.width}w" for shown in renditions)


def _renditions(pixels: "Image.Image") -> Iterable[Rendition]:
    from PIL import Image

    widths = [*(width for width in WIDTHS if width < pixels.width), min(pixels.width, WIDTHS[-1])]
    for width in dict.fromkeys(widths):
        height = max(round(pixels.height * width / pixels.width), 1)
        sized = pixels.resize((width, height), Image.Resampling.LANCZOS)
        for form, (name, settings) in _FORMS.items():
            content = BytesIO()
            sized.save(content, name, **settings)
            yield Rendition(width, height, form, content.getvalue())
