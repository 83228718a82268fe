"""Photos that would fill the memory, take for ever, or are something else: refused in time, and told with numbers."""

import struct
import subprocess
import sys
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from menugen.writing import photo_pixels
from menugen.writing.photo_file import NotAPhoto, Spliced
from menugen.writing.photo_forms import MOST_PARTS, MOST_SCANS, take_apart
from menugen.writing.photo_pixels import LARGEST_WORK, PhotoFault, shown_pixels, shown_width
from tests.writing.test_photos import BLUE, ORIENTATION, RED, TURNS, near, saved, scene, swapped_profile


def chunk(kind: bytes, body: bytes) -> bytes:
    return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")


def png(
    width: int, height: int, depth: int = 8, colour: int = 2, *, woven: bool = False, more: bytes = b""
) -> bytes:
    """A PNG of one colour, with all of its rows."""
    channels = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[colour]
    passes = [
        (0, 0, 8, 8),
        (4, 0, 8, 8),
        (0, 4, 4, 8),
        (2, 0, 4, 4),
        (0, 2, 2, 4),
        (1, 0, 2, 2),
        (0, 1, 1, 2),
    ]
    packed, rows = zlib.compressobj(1), []
    for left, top, across, down in passes if woven else [(0, 0, 1, 1)]:
        wide, high = -(-(width - left) // across), -(-(height - top) // down)
        row = bytes(1 + (wide * depth * channels + 7) // 8)
        rows += [packed.compress(row) for _ in range(high)]
    palette = (
        chunk(b"PLTE", bytes(range(256)) * 3) + chunk(b"tRNS", bytes(range(256))) if colour == 3 else b""
    )
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, woven)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + more
        + palette
        + chunk(b"IDAT", b"".join(rows) + packed.flush())
        + chunk(b"IEND", b"")
    )


def four_to_three(million: float) -> tuple[int, int]:
    part = int((million * 1e6 / 12) ** 0.5)
    return 4 * part, 3 * part


def jpeg(million: float, **settings: object) -> bytes:
    return saved(Image.new("RGB", four_to_three(million), (200, 30, 40)), **settings)


def webp(million: float, *, lossless: bool) -> bytes:
    image = Image.new("RGBA", four_to_three(million), (10, 20, 30, 200))
    return saved(image, "WEBP", lossless=lossless, method=0)


def refused(content: bytes) -> str:
    """What is said of a photo, by both who look and who make."""
    fault = shown_width(content)
    assert isinstance(fault, PhotoFault)
    assert shown_pixels(content) == fault
    return fault.message


def head_only(form: str, width: int, height: int) -> bytes:
    """A file of a few bytes that says it is this large."""
    if form == "WEBP":
        size = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
        body = (
            b"VP8X"
            + (10).to_bytes(4, "little")
            + bytes(4)
            + size
            + b"VP8L"
            + (6).to_bytes(4, "little")
            + b"\x2f"
            + bytes(5)
        )
        return b"RIFF" + (len(body) + 4).to_bytes(4, "little") + b"WEBP" + body
    frame = struct.pack(">BHHB", 8, height, width, 3) + bytes([1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0])
    kind = 0xC2 if form == "progressive" else 0xC0
    scan = bytes([3, 1, 0, 2, 0, 3, 0, 0, 63, 0])
    return (
        b"\xff\xd8\xff"
        + bytes([kind])
        + (len(frame) + 2).to_bytes(2, "big")
        + frame
        + b"\xff\xda"
        + (len(scan) + 2).to_bytes(2, "big")
        + scan
        + b"\x12\x34\xff\xd9"
    )


TOO_MUCH = {
    "an export of a phone's": (
        lambda: png(8064, 6048),
        "this PNG is 8,064 by 6,048 pixels, and opening it would take",
    ),
    "woven": (
        lambda: png(7000, 5300, 16, 6, woven=True),
        "this PNG is 7,000 by 5,300 pixels, and opening it would",
    ),
    "deep": (
        lambda: png(7000, 5300, 16, 4),
        "this PNG is 7,000 by 5,300 pixels, and opening it would take",
    ),
    "deep and grey": (
        lambda: png(8900, 8900, 16, 0),
        "this PNG is 8,900 by 8,900 pixels, and opening it would take",
    ),
    "tall": (
        lambda: png(20, 32_768),
        "this PNG is 20 by 32,768 pixels; 80 million in all and 32,767 a side are the most",
    ),
    "a WebP": (
        lambda: head_only("WEBP", 4000, 3000),
        "this WebP is 4,000 by 3,000 pixels, and opening it would take",
    ),
    "a WebP's most": (
        lambda: head_only("WEBP", 16383, 16383),
        "this WebP is 16,383 by 16,383 pixels; 80 million in",
    ),
    "progressive": (
        lambda: head_only("progressive", 8160, 6120),
        "this progressive JPEG is 8,160 by 6,120 pixels, and opening it would take 313 MB of memory; 175 MB is",
    ),
    "wide": (
        lambda: head_only("baseline", 65_000, 1_000),
        "this JPEG is 65,000 by 1,000 pixels; 80 million in all",
    ),
    "long": (
        lambda: head_only("baseline", 30_000, 1_500),
        "this JPEG is 30,000 by 1,500 pixels, and opening it",
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("what", TOO_MUCH)
def test_what_would_take_too_much_memory_is_refused_with_numbers_and_undecoded(what, monkeypatch):
    make, said = TOO_MUCH[what]
    content = make()
    assert len(content) < 1_500_000
    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", lambda *_: pytest.fail("it was decoded"))
    assert refused(content).startswith(said)


@pytest.mark.parametrize(
    ("size", "width"),
    [
        ((4032, 3024), 2016),
        ((3024, 4032), 1512),
        ((8160, 6120), 2040),
        ((8064, 6048), 2016),
        ((16_000, 3_500), 3500),
    ],
)
def test_the_photos_phones_make_are_read_small(size, width, monkeypatch):
    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", lambda *_: None)
    assert shown_width(head_only("baseline", *size)) == width


def test_the_hint_names_a_form_that_takes_less():
    for content, hint in (
        (png(8064, 6048), "save it as an ordinary JPEG, or smaller, 2,000 pixels wide is plenty"),
        (head_only("baseline", 30_000, 1_500), "save it smaller, 2,000 pixels wide is plenty"),
    ):
        fault = shown_width(content)
        assert isinstance(fault, PhotoFault)
        assert fault.code == "photo-too-large"
        assert fault.hint == hint


MEASURED = """
import sys
from pathlib import Path

import PIL.AvifImagePlugin, PIL.ImageCms, PIL.ImageFile, PIL.JpegImagePlugin, PIL.PngImagePlugin, PIL.WebPImagePlugin
from menugen.writing.photo_pixels import PhotoFault, shown_pixels
from menugen.writing.photos import make_photo

def peak():
    return int(Path("/proc/self/status").read_text().partition("VmHWM:")[2].split()[0]) * 1024

before = peak()
for name in sys.argv[1:]:
    content = Path(name).read_bytes()
    look = make_photo if "made" in name else shown_pixels
    found = look(content)
    if isinstance(found, PhotoFault):
        sys.exit(f"{name}: {found.message}")
    del found
    print(name, peak() - before)
"""


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is measured as Linux tells it")
def test_the_worst_photos_that_are_taken_stay_under_two_hundred_megabytes_together(tmp_path):
    """One after the other in one process, which keeps what the system's allocator does not give back."""
    worst = {
        "phone-50-progressive-made.jpg": jpeg(49.9, subsampling=2, progressive=True),
        "rgba-deep.png": png(*four_to_three(32), 16, 6),
        "lossless.webp": webp(10.2, lossless=True),
    }
    for name, content in worst.items():
        (tmp_path / name).write_bytes(content)
    run = subprocess.run(
        [sys.executable, "-c", MEASURED, *worst],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(Path(__file__).parents[2])},
    )
    assert (run.returncode, run.stderr) == (0, "")
    most = max(int(line.split()[1]) for line in run.stdout.splitlines())
    assert most < 200_000_000, run.stdout
    assert most > LARGEST_WORK / 2  # else nothing was measured


def test_what_stands_beside_the_pixels_is_never_given_to_the_decoder():
    """So it can neither be published nor cost anything: further pictures, films, texts of any size, broken tags."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[0x010F] = "Tidewater Cameras"
    frames = [scene(400, 300).rotate(angle) for angle in range(0, 90, 30)]
    several = {"save_all": True, "append_images": frames[1:]}
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Comment", "boathouse " * 50, zip=False)
    notes.add_itxt("XML:com.adobe.xmp", "boathouse")
    kept = {"exif": exif, "icc_profile": swapped_profile(), "xmp": b"boathouse"}
    for content in (
        saved(frames[0], comment=b"boathouse", **kept),
        saved(frames[0], progressive=True, **kept) + b"boathouse" * 1000,
        saved(frames[0], "MPO", exif=exif, **several) + b"boathouse",
        saved(frames[0], "PNG", pnginfo=notes, exif=exif, icc_profile=swapped_profile()) + b"boathouse",
        saved(frames[0], "PNG", pnginfo=notes, exif=exif, **several),
        saved(frames[0], "WEBP", **kept),
        saved(frames[0], "WEBP", **kept, **several),
        saved(frames[0].convert("RGBA"), "WEBP", lossless=True, **kept),
    ):
        file = take_apart(content)
        assert file is not None
        assert file.orientation == 6
        given = Spliced(file.pixels).read()
        for word in (b"Tidewater", b"boathouse", b"ICC_PROFILE", b"iCCP", b"ICCP", b"Exif", b"acTL", b"MPF"):
            assert word not in given
        # A WebP says which parts it has: animation and clear pixels at most.
        assert given[12:16] != b"VP8X" or given[20] & ~0x12 == 0
        whole = Image.open(BytesIO(content))
        assert Image.open(BytesIO(given)).convert("RGBA").tobytes() == whole.convert("RGBA").tobytes()
        pixels = shown_pixels(content)
        assert not isinstance(pixels, PhotoFault)
        assert pixels.size == (300, 400)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_how_a_photo_is_turned_is_read_from_xmp_too(form):
    image = scene(800, 600).transpose(TURNS[6])
    said = b'<x:xmpmeta tiff:Orientation="6"/>'
    notes = PngImagePlugin.PngInfo()
    notes.add_itxt("XML:com.adobe.xmp", said.decode(), zip=True)
    content = saved(image, form, **({"pnginfo": notes} if form == "PNG" else {"xmp": said}))
    assert shown_width(content) == 800


def test_how_a_png_is_turned_is_read_where_older_programs_wrote_it():
    exif = Image.Exif()
    exif[ORIENTATION] = 8
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Raw profile type exif", f"\nexif\n      44\n{exif.tobytes().hex()}\n", zip=True)
    assert shown_width(saved(scene(800, 600).transpose(TURNS[8]), "PNG", pnginfo=notes)) == 800


TURNED_ODDLY = {
    "nothing": b"",
    "no end": b"II*\0",
    "no such place": b"II*\0\xff\xff\xff\xff",
    "a table without end": b"MM\0*\0\0\0\x08\xff\xff",
    "no such number": b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x63\0\0",
    "many": b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\xff\xff\xff\xff\0\x06\0\0",
    "no Exif": b"boathouse" * 10,
}


@pytest.mark.parametrize("what", TURNED_ODDLY)
def test_broken_tags_turn_nothing(what):
    assert shown_width(saved(scene(800, 600), exif=b"Exif\0\0" + TURNED_ODDLY[what])) == 800


def test_texts_and_profiles_that_unpack_to_gigabytes_are_passed_over():
    bomb = zlib.compress(bytes(60_000_000), 9)
    more = (
        chunk(b"iCCP", b"bar\0\0" + bomb)
        + chunk(b"zTXt", b"Raw profile type exif\0\0" + bomb)
        + chunk(b"iTXt", b"XML:com.adobe.xmp\0\1\0\0\0" + bomb)
        + chunk(b"tEXt", b"Comment\0" + b"x" * 300_000)
    )
    content = png(700, 500, more=more)
    assert len(content) < 600_000
    file = take_apart(content)
    assert file is not None
    assert (file.profile, file.orientation) == (b"", 0)
    assert sum(map(len, file.pixels)) < 10_000
    assert shown_width(content) == 700


def test_a_jpeg_of_too_many_scans_is_refused_undecoded(monkeypatch):
    one = head_only("progressive", 64, 48)
    scan = one[one.index(b"\xff\xda") : -2]
    assert take_apart(one[:-2] + scan * (MOST_SCANS - 1) + b"\xff\xd9") is not None
    monkeypatch.setattr("PIL.Image.open", lambda *_, **__: pytest.fail("it was opened"))
    assert refused(one[:-2] + scan * MOST_SCANS + b"\xff\xd9") == "this cannot be read as a photo"


@pytest.mark.parametrize("number", TURNS)
def test_what_is_cut_of_a_long_photo_is_the_same_however_it_lies(number):
    upright = Image.effect_noise((501, 100), 80)
    turn = TURNS[number]
    exif = Image.Exif()
    exif[ORIENTATION] = number
    wanted = shown_pixels(saved(upright, "PNG"))
    found = shown_pixels(saved(upright if turn is None else upright.transpose(turn), "PNG", exif=exif))
    assert not isinstance(wanted, PhotoFault)
    assert not isinstance(found, PhotoFault)
    assert (found.size, found.tobytes()) == (wanted.size, wanted.tobytes())


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_a_large_photo_is_made_smaller_piece_by_piece_and_shows_the_same(form, monkeypatch):
    monkeypatch.setattr(photo_pixels, "IN_FULL", 10_000)
    monkeypatch.setattr(photo_pixels, "_AT_A_TIME", 5_000)
    image = scene(401, 299)
    small = shown_pixels(saved(image, form))
    assert not isinstance(small, PhotoFault)
    assert small.size == (101, 75)
    for x, y, colour in ((10, 5, RED), (10, 70, RED), (95, 5, BLUE), (95, 70, BLUE)):
        assert near(small.getpixel((x, y)), colour)


@pytest.mark.slow
def test_a_file_of_countless_parts_is_refused_undecoded(monkeypatch):
    monkeypatch.setattr("PIL.Image.open", lambda *_, **__: pytest.fail("it was opened"))
    empty = {
        "PNG": png(40, 30, more=chunk(b"tEXt", b"") * MOST_PARTS),
        "JPEG": b"\xff\xd8" + b"\xff\xfe\0\2" * MOST_PARTS + saved(scene(40, 30))[2:],
    }
    webp_head = b"VP8X\x0a\0\0\0" + bytes(10) + b"XMP \0\0\0\0" * MOST_PARTS
    empty["WEBP"] = b"RIFF" + (len(webp_head) + 4).to_bytes(4, "little") + b"WEBP" + webp_head
    for content in empty.values():
        with pytest.raises(NotAPhoto, match="too many parts"):
            take_apart(content)
        assert refused(content) == "this cannot be read as a photo"


def test_a_file_that_says_two_sizes_is_held_to_the_one_that_was_weighed():
    small, large = png(40, 30), png(400, 300)
    twice = small[:33] + large[8:33] + small[33:]
    pixels = shown_pixels(twice)
    assert not isinstance(pixels, PhotoFault)
    assert pixels.size == (40, 30)
    frame = head_only("baseline", 40, 30)
    at = frame.index(b"\xff\xda")
    assert (
        refused(frame[:at] + head_only("baseline", 400, 300)[2:at] + frame[at:])
        == "this cannot be read as a photo"
    )


@pytest.mark.parametrize("marker", [0xC3, 0xC5, 0xC7, 0xCB, 0xCF])
def test_forms_of_jpeg_whose_cost_cannot_be_told_are_refused(marker):
    content = head_only("baseline", 40, 30).replace(b"\xff\xc0", bytes([0xFF, marker]))
    with pytest.raises(NotAPhoto):
        take_apart(content)
    assert refused(content) == "this cannot be read as a photo"


@pytest.mark.parametrize(
    ("content", "name"),
    [
        (saved(scene(40, 40), "GIF"), "a GIF"),
        (saved(scene(40, 40), "TIFF"), "a TIFF or a camera's raw file"),
        (saved(scene(40, 40), "BMP"), "a BMP"),
        (b"\0\0\0\x18ftypheic\0\0\0\0", "a HEIC photo"),
        (b"\0\0\0\x18ftypavif\0\0\0\0", "an AVIF"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0", "a film"),
        (b"%PDF-1.7", "a PDF"),
        (b'\xef\xbb\xbf<?xml version="1.0"?><svg/>', "a drawing (SVG)"),
        (b"<svg xmlns=", "a drawing (SVG)"),
        (b"<!DOCTYPE html>", "a web page"),
        (b"PK\x03\x04", "a ZIP archive"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_only_has_a_photo_s_name_is_called_what_it_is(content, name):
    assert refused(content) == f"this is {name}, whatever its name says: a photo is a JPEG, PNG or WebP"


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_photo_cut_short_anywhere_is_told_and_never_raised(form):
    whole = saved(scene(64, 48), form, icc_profile=swapped_profile())
    # The last part of a PNG says only that it is the last, and before it stand two sums and the end of the pixels.
    for length in range(0, len(whole) - 28, 7):
        fault = shown_pixels(whole[:length])
        assert isinstance(fault, PhotoFault), length
        assert fault.code == "photo-unreadable"


def test_parts_are_read_as_one_file():
    parts = [memoryview(b"abc"), memoryview(b"de"), memoryview(b"fghi")]
    file = Spliced(parts)
    assert (file.read(1), file.read(3), file.tell(), file.read(), file.read(5)) == (
        b"a",
        b"bcd",
        4,
        b"efghi",
        b"",
    )
    assert (file.seek(-2, 2), file.read(9), file.seek(0), file.read(5)) == (7, b"hi", 0, b"abcde")
    assert (file.seek(99), file.read(1), file.seek(-99, 1), file.read(2)) == (9, b"", 0, b"ab")
