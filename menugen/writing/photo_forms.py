"""JPEG, PNG and WebP files taken apart, which may be anyone's.

Comes in: a whole file. Goes out: a PhotoFile, whose `pixels` are the parts that make the picture and nothing else.
Texts, thumbnails, further pictures and frames are left out here, and so can cost no memory later: a decoder never sees
them.

Sources, all from memory: JPEG, ITU-T T.81 annex B; PNG, W3C Recommendation; WebP, Google's container specification.
"""

import re
import zlib
from collections.abc import Iterator

from menugen.writing.photo_file import Kept, NotAPhoto, PhotoFile, turned

MOST_PARTS = 50_000
"""A large PNG of the usual writers has some 5,000 parts; more of them cost time and are nobody's photo."""

MOST_SCANS = 100
"""Passes of a progressive JPEG over its picture. Cameras and programs write 3 to 14; each takes time, and few bytes."""

_LARGEST_PROFILE = 4 * 1024 * 1024
"""Bytes of a colour profile. Those of printing presses come to 2 MB; a screen's has some hundreds."""

_LARGEST_TEXT = 256 * 1024
"""Bytes of a text in which it may say how a photo is turned."""

_AFTER_SCAN = re.compile(rb"\xff+[^\x00\xd0-\xd7\xff]")
"""What ends the coded pixels of a JPEG: any marker but a stuffed byte and a restart."""

_OTHERS = (
    (re.compile(rb"GIF8"), "a GIF"),
    (re.compile(rb"II\*\0|MM\0\*|II\+\0|MM\0\+"), "a TIFF or a camera's raw file"),
    (re.compile(rb"BM.{4}\0{4}", re.DOTALL), "a BMP"),
    (re.compile(rb".{4}ftyp(?:heic|heix|hevc|heim|heis|mif1|msf1)", re.DOTALL), "a HEIC photo"),
    (re.compile(rb".{4}ftyp(?:avif|avis)", re.DOTALL), "an AVIF"),
    (re.compile(rb".{4}ftyp", re.DOTALL), "a film"),
    (re.compile(rb"\xff\x0a|\0\0\0\x0cJXL "), "a JPEG XL"),
    (re.compile(rb"\0\0\0\x0cjP  "), "a JPEG 2000"),
    (re.compile(rb"%PDF"), "a PDF"),
    (re.compile(rb"8BPS"), "a Photoshop file"),
    (re.compile(rb"(?:\xef\xbb\xbf)?\s*<(?:\?xml|svg|!DOCTYPE svg)", re.IGNORECASE), "a drawing (SVG)"),
    (re.compile(rb"(?:\xef\xbb\xbf)?\s*<(?:!doctype html|html)", re.IGNORECASE), "a web page"),
    (re.compile(rb"PK\x03\x04"), "a ZIP archive"),
)
"""How files begin that are given a photo's name by mistake, and what they are called."""


def other_form(content: bytes) -> str:
    """Return what a file is that is neither JPEG, PNG nor WebP, as "a GIF"; empty where that is not known."""
    head = content[:256]
    return next((name for pattern, name in _OTHERS if pattern.match(head)), "")


def take_apart(content: bytes) -> PhotoFile | None:
    """Return what a file says of itself; None where it is none of the three forms.

    Args:
        content: The whole file.

    Raises:
        NotAPhoto: It is one of them, and broken.
    """
    if content.startswith(b"\xff\xd8\xff"):
        return _jpeg(content)
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return _png(content)
    if content.startswith(b"RIFF") and content[8:12] == b"WEBP":
        return _webp(content)
    return None


def _jpeg(content: bytes) -> PhotoFile:
    kept = Kept(content)
    kept.add(0, 2)
    profiles: list[bytes] = []
    exif = xmp = frame = b""
    progressive = False
    colours = {0xE0: b"JFIF\0", 0xEE: b"Adobe"}
    for marker, begin, end in _segments(content):
        body = content[begin:end] if marker >= 0xE0 else b""
        if marker == 0xDA:
            return _scanned(content, begin, kept, frame, progressive, turned(exif, xmp), _joined(profiles))
        if marker in _FRAMES:
            if frame:
                raise NotAPhoto("two frames")
            frame, progressive = content[begin:end], marker in (0xC2, 0xCA)
        elif marker in _REFUSED_FRAMES:
            raise NotAPhoto("a form of JPEG that no browser reads")
        elif marker == 0xE1 and body.startswith(b"Exif\0\0"):
            exif = exif or body[6:]
        elif marker == 0xE1 and body.startswith(b"http://ns.adobe.com/xap/1.0/\0"):
            xmp = body
        elif marker == 0xE2 and body.startswith(b"ICC_PROFILE\0"):
            profiles.append(body)
        # JFIF's and Adobe's own say which colours the numbers are; nothing else that programs add is needed.
        if marker in _TABLES or (marker in colours and body.startswith(colours.pop(marker))):
            kept.add(begin - 4, end)
    raise NotAPhoto("no pixels")


_FRAMES = frozenset({0xC0, 0xC1, 0xC2, 0xC9, 0xCA})
"""Baseline, extended and progressive, and two of them in arithmetic coding."""

_REFUSED_FRAMES = frozenset({0xC3, 0xC5, 0xC6, 0xC7, 0xCB, 0xCD, 0xCE, 0xCF})
"""Lossless and hierarchical: what a decoder takes for them cannot be told beforehand."""

_TABLES = _FRAMES | {0xC4, 0xCC, 0xDB, 0xDD}
"""What a decoder needs before the scans: frame, codes, conditioning, divisors, restarts."""


def _segments(content: bytes) -> Iterator[tuple[int, int, int]]:
    """Yield each marker of a JPEG up to the first scan with where its body begins and ends."""
    at = 2
    for _ in range(MOST_PARTS):
        at = content.find(b"\xff", at)
        while at >= 0 and content[at : at + 1] == b"\xff":
            at += 1
        if at < 0 or at + 3 > len(content):
            return
        marker = content[at]
        at += 1
        if marker in (0x00, 0x01) or 0xD0 <= marker <= 0xD8:
            continue
        if marker == 0xD9:
            return
        length = int.from_bytes(content[at : at + 2], "big")
        if length < 2 or at + length > len(content):
            raise NotAPhoto("a part without its end")
        yield marker, at + 2, at + length
        at += length
    raise NotAPhoto("too many parts")


def _scanned(
    content: bytes,
    begin: int,
    kept: Kept,
    frame: bytes,
    progressive: bool,
    orientation: int,
    profile: bytes,
) -> PhotoFile:
    """Return a JPEG of which all is known that stands before its first scan, whose head begins at `begin`."""
    if len(frame) < 6 or len(frame) < 6 + 3 * frame[5] or begin >= len(content):
        raise NotAPhoto("no frame")
    height, width, channels = int.from_bytes(frame[1:3], "big"), int.from_bytes(frame[3:5], "big"), frame[5]
    if not (width and height and channels in (1, 3, 4) and frame[0] == 8):
        raise NotAPhoto("no size")
    end = _end_of_scans(content, begin)
    if content.count(b"\xff\xda", begin, end) >= MOST_SCANS:
        raise NotAPhoto("too many scans")
    several = progressive or content[begin] < channels
    kept.add(begin - 4, end)
    return PhotoFile(
        "JPEG",
        "progressive JPEG" if progressive else "JPEG",
        width,
        height,
        1 if channels == 1 else 4,
        0,
        _coefficient_bytes(frame, width, height) if several else 0,
        orientation,
        profile,
        kept.parts(),
    )


def _end_of_scans(content: bytes, begin: int) -> int:
    """Return where the first picture of a JPEG ends; what may follow is another, or a film."""
    at = begin - 2 + int.from_bytes(content[begin - 2 : begin], "big")
    while (found := _AFTER_SCAN.search(content, at)) is not None:
        at = found.end()
        if content[at - 1] == 0xD9:
            return at
        if content[at - 1] not in (0x01, 0xD8):
            at += int.from_bytes(content[at : at + 2], "big")
    return len(content)


def _coefficient_bytes(frame: bytes, width: int, height: int) -> int:
    """Return the memory of all coefficients, two bytes each: a JPEG in several scans is decoded after its last."""
    parts = [(frame[at + 1] >> 4, frame[at + 1] & 15) for at in range(6, 6 + 3 * frame[5], 3)]
    if not all(across and down for across, down in parts):
        raise NotAPhoto("no sampling")
    most_across, most_down = max(across for across, _ in parts), max(down for _, down in parts)
    # Whole units of a scan, each of as many blocks of 8 by 8 as the part is sampled finely.
    units = -(-width // (8 * most_across)) * -(-height // (8 * most_down))
    return units * sum(across * down for across, down in parts) * 128


def _joined(profiles: list[bytes]) -> bytes:
    """Return a JPEG's profile from its numbered pieces; empty where one is missing."""
    profiles.sort()
    if not profiles or len(profiles[0]) < 14 or profiles[0][13] != len(profiles):
        return b""
    return _bounded(b"".join(piece[14:] for piece in profiles))


def _bounded(profile: bytes) -> bytes:
    return profile if len(profile) <= _LARGEST_PROFILE else b""


_PNG_PIXEL_BYTES = {0: 1, 2: 4, 3: 1, 4: 4, 6: 4}
"""By colour type, as Pillow keeps them: grey and palette in one byte, all others in four; deep grey takes two."""

_PNG_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}


def _png(content: bytes) -> PhotoFile:
    kept = Kept(content)
    kept.add(0, 8)
    head = profile = b""
    said: dict[bytes, bytes] = {}
    for kind, begin, end in _chunks(content, 8, "big"):
        if not head and kind != b"IHDR":
            break
        if kind in (b"PLTE", b"tRNS", b"IDAT", b"IEND") or not head:
            kept.add(begin - 8, end + 4)
            head = head or content[begin:end]
        elif kind == b"iCCP":
            profile = _inflated(content[begin:end].partition(b"\0")[2][1:], _LARGEST_PROFILE)
        elif kind in (b"eXIf", b"iTXt", b"zTXt", b"tEXt") and end - begin <= _LARGEST_TEXT:
            said |= _png_text(kind, content[begin:end])
        if kind == b"IEND":
            break
    exif = said.get(b"eXIf") or _exif_in_text(said.get(b"Raw profile type exif", b""))
    return _headed(head, kept, turned(exif, said.get(b"XML:com.adobe.xmp", b"")), profile)


def _headed(head: bytes, kept: Kept, orientation: int, profile: bytes) -> PhotoFile:
    """Return a PNG by what its head says of its pixels."""
    if len(head) != 13:
        raise NotAPhoto("no head")
    width, height, depth, colour = (
        int.from_bytes(head[:4], "big"),
        int.from_bytes(head[4:8], "big"),
        *head[8:10],
    )
    if not (width and height and colour in _PNG_PIXEL_BYTES and depth in (1, 2, 4, 8, 16)):
        raise NotAPhoto("no size")
    row = (width * depth * _PNG_CHANNELS[colour] + 7) // 8
    return PhotoFile(
        "PNG",
        "PNG",
        width,
        height,
        2 if (depth, colour) == (16, 0) else _PNG_PIXEL_BYTES[colour],
        0,
        # The row that is read and the one before it, which it is written as a difference to.
        3 * row,
        orientation,
        profile,
        kept.parts(),
    )


def _png_text(kind: bytes, body: bytes) -> dict[bytes, bytes]:
    """Return a text of a PNG by its name, and Exif by that of its part; nothing where it is too large or broken."""
    if kind == b"eXIf":
        return {kind: body}
    name, _, rest = body.partition(b"\0")
    if kind == b"zTXt":
        return {name: _inflated(rest[1:], _LARGEST_TEXT)}
    if kind == b"iTXt":
        text = rest[2:].partition(b"\0")[2].partition(b"\0")[2]
        return {name: _inflated(text, _LARGEST_TEXT) if rest[:1] == b"\1" else text}
    return {name: rest}


def _exif_in_text(text: bytes) -> bytes:
    """Return Exif as older programs hid it in a text: hexadecimal, after three lines of their own."""
    try:
        found = bytes.fromhex("".join(text.decode("latin-1").split("\n")[3:]))
    except ValueError:
        return b""
    return found.removeprefix(b"Exif\0\0")


def _inflated(packed: bytes, most: int) -> bytes:
    """Return what was packed; empty where it is broken, or would be larger than allowed."""
    try:
        unpacker = zlib.decompressobj()
        found = unpacker.decompress(packed, most + 1)
    except zlib.error:
        return b""
    return found if len(found) <= most and unpacker.eof else b""


def _webp(content: bytes) -> PhotoFile:
    whole = min(int.from_bytes(content[4:8], "little") + 8, len(content))
    kept = Kept(content)
    exif = xmp = profile = head = b""
    size = (0, 0)
    begun = False
    for kind, begin, end in _chunks(content, 12, "little", whole):
        if kind == b"VP8X" and not head and not begun and end - begin == 10:
            # The flags say which parts there are: those that are left out are not promised.
            flags = bytes([content[begin] & _WEBP_KEPT])
            head = content[begin - 8 : begin] + flags + content[begin + 1 : end]
            size = _size_less_one(head[12:15]), _size_less_one(head[15:18])
        elif kind == b"ICCP" and end - begin <= _LARGEST_PROFILE:
            profile = profile or content[begin:end]
        elif kind == b"EXIF" and end - begin <= _LARGEST_TEXT:
            exif = exif or content[begin:end].removeprefix(b"Exif\0\0")
        elif kind == b"XMP " and end - begin <= _LARGEST_TEXT:
            xmp = xmp or content[begin:end]
        elif kind in (b"ALPH", b"ANIM", b"ANMF", b"VP8 ", b"VP8L") and not begun:
            # A film is its first frame, as nothing after that is kept.
            begun = kind not in (b"ALPH", b"ANIM")
            kept.add(begin - 8, min(end + (end - begin) % 2, whole))
            size = size if head else _webp_size(kind, content[begin : begin + 10])
    if not begun:
        raise NotAPhoto("no pixels")
    parts = kept.parts()
    length = 4 + len(head) + sum(map(len, parts))
    return PhotoFile(
        "WEBP",
        "WebP",
        *size,
        # Two canvases of the decoder, which lives as long as the image, and the image.
        pixel_bytes=12,
        # The decoder's own copy of the file.
        held_bytes=length,
        # The decoder is handed the file in one piece, and hands over the pixels in one.
        decoding_bytes=length + 4 * size[0] * size[1],
        orientation=turned(exif, xmp),
        profile=profile,
        pixels=(memoryview(b"RIFF" + length.to_bytes(4, "little") + b"WEBP" + head), *parts),
    )


def _size_less_one(number: bytes) -> int:
    return int.from_bytes(number, "little") + 1


_WEBP_KEPT = 0x12
"""Flags of VP8X: an animation, and clear pixels."""


def _webp_size(kind: bytes, head: bytes) -> tuple[int, int]:
    if kind == b"VP8 " and head[3:6] == b"\x9d\x01\x2a":
        return int.from_bytes(head[6:8], "little") & 0x3FFF, int.from_bytes(head[8:10], "little") & 0x3FFF
    if kind == b"VP8L" and head[:1] == b"\x2f":
        bits = int.from_bytes(head[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    raise NotAPhoto("no size")


def _chunks(content: bytes, at: int, order: str, end: int | None = None) -> Iterator[tuple[bytes, int, int]]:
    """Yield each part of a PNG ("big": length, name, body, sum) or WebP ("little": name, length, body, an even end)."""
    stop = len(content) if end is None else end
    for _ in range(MOST_PARTS):
        if at + 8 > stop:
            return
        first, second = content[at : at + 4], content[at + 4 : at + 8]
        kind, length = (
            (second, int.from_bytes(first, "big"))
            if order == "big"
            else (first, int.from_bytes(second, "little"))
        )
        at += 8
        if at + length > stop:
            if kind == b"IDAT":
                # The last rows are missing: whoever decodes it says so.
                yield kind, at, stop
                return
            raise NotAPhoto("a part without its end")
        yield kind, at, at + length
        at += length + (4 if order == "big" else length % 2)
    raise NotAPhoto("too many parts")
