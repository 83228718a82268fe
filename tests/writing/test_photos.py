"""Photos made ready: upright, in true colours, in every form, nothing else in them; and files that are no photos."""

import random
import re
import warnings
import zlib
from io import BytesIO
from itertools import pairwise

import pytest
from PIL import Image, ImageCms, ImageDraw, PngImagePlugin

from menugen.writing.photo_pixels import LARGEST_BYTES, LARGEST_PIXELS, PhotoFault, shown_width
from menugen.writing.photos import (
    WIDEST_SHOWN,
    Photo,
    make_photo,
    photo_html,
    recipe,
    too_few_pixels,
)

RED, BLUE = (200, 30, 40), (30, 60, 190)
GPS, ORIENTATION = 0x8825, 0x0112


def scene(width: int = 1600, height: int = 1200) -> Image.Image:
    """Red on the left, blue on the right."""
    image = Image.new("RGB", (width, height), RED)
    ImageDraw.Draw(image).rectangle((width // 2, 0, width, height), fill=BLUE)
    return image


def saved(image: Image.Image, form: str = "JPEG", **settings: object) -> bytes:
    content = BytesIO()
    image.save(content, form, **({"quality": 90} if form != "PNG" else {}), **settings)
    return content.getvalue()


def made(content: bytes) -> Photo:
    photo = make_photo(content)
    assert not isinstance(photo, PhotoFault), photo
    return photo


def opened(photo: Photo, form: str = "jpg") -> Image.Image:
    """The widest of a form."""
    return Image.open(BytesIO(next(r for r in reversed(photo) if r.form == form).content))


def near(found: object, wanted: tuple[int, int, int], within: int = 12) -> bool:
    return all(abs(one - other) <= within for one, other in zip(found, wanted, strict=True))


@pytest.mark.slow
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_photo_comes_in_three_widths_and_three_forms_in_its_own_shape_and_colours(form):
    photo = made(saved(scene(), form))
    assert [(r.width, r.height, r.form) for r in photo] == [
        (width, width * 3 // 4, form) for width in (320, 640, 1280) for form in ("avif", "webp", "jpg")
    ]
    for rendition in photo:
        image = Image.open(BytesIO(rendition.content))
        assert image.format == {"avif": "AVIF", "webp": "WEBP", "jpg": "JPEG"}[rendition.form]
        assert image.size == (rendition.width, rendition.height)
        shown = image.convert("RGB")
        assert near(shown.getpixel((rendition.width // 4, rendition.height // 2)), RED)
        assert near(shown.getpixel((rendition.width * 3 // 4, rendition.height // 2)), BLUE)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("width", "widths"),
    [(100, {100}), (320, {320}), (321, {320, 321}), (700, {320, 640, 700}), (1280, {320, 640, 1280})],
)
def test_a_narrow_photo_is_never_made_wider(width, widths):
    assert {r.width for r in made(saved(scene(width, width)))} == widths


def test_one_pixel_is_a_photo():
    assert {(r.width, r.height) for r in made(saved(scene(1, 1), "PNG"))} == {(1, 1)}


@pytest.mark.parametrize(("width", "height", "shape"), [(2000, 200, 2.0), (200, 2000, 0.5), (900, 500, 1.8)])
def test_what_is_very_long_is_cut_round_its_middle(width, height, shape):
    photo = made(saved(scene(width, height), "PNG"))
    widest = opened(photo)
    assert widest.width / widest.height == pytest.approx(shape, rel=0.02)
    assert near(widest.getpixel((2, widest.height // 2)), RED)
    assert near(widest.getpixel((widest.width - 3, widest.height // 2)), BLUE)


TURNS = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
"""What a camera did to the scene before it wrote this number beside it (Exif 2.3, Orientation; from memory)."""


@pytest.mark.slow
@pytest.mark.parametrize("number", TURNS)
def test_a_photo_is_set_upright(number):
    turn = TURNS[number]
    image = scene(800, 600) if turn is None else scene(800, 600).transpose(turn)
    exif = Image.Exif()
    exif[ORIENTATION] = number
    widest = opened(made(saved(image, exif=exif)))
    assert widest.size == (800, 600)
    assert near(widest.getpixel((100, 300)), RED)
    assert near(widest.getpixel((700, 300)), BLUE)
    assert ORIENTATION not in widest.getexif()


def test_nothing_but_pixels_is_left_in_any_form():
    exif = Image.Exif()
    exif[0x010F] = "Tidewater Cameras"
    exif[GPS] = {1: "N", 2: (52.0, 57.0, 1.5), 3: "E", 4: (0.0, 51.0, 2.5)}
    exif[0x0132] = "2026:11:20 19:03:11"
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    content = saved(
        scene(),
        exif=exif,
        icc_profile=profile,
        comment=b"behind the boathouse",
        xmp=b"<x:xmpmeta>here</x:xmpmeta>",
    )
    before = Image.open(BytesIO(content))
    assert before.getexif().get_ifd(GPS)
    assert before.info["comment"]
    for rendition in made(content):
        image = Image.open(BytesIO(rendition.content))
        assert dict(image.getexif()) == {}
        assert not {"exif", "icc_profile", "comment", "xmp", "photoshop"} & set(image.info)
        for word in (b"Tidewater", b"boathouse", b"xmpmeta", b"2026:11", b"Exif", b"GPS"):
            assert word not in rendition.content, (rendition.form, word)


def test_text_in_a_png_is_not_kept():
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Comment", "behind the boathouse")
    for rendition in made(saved(scene(), "PNG", pnginfo=notes)):
        assert b"boathouse" not in rendition.content


def swapped_profile() -> bytes:
    """A profile of our own by which red and green have changed places."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    profile[24:36] = bytes(
        12
    )  # the time it was made: its length in a packed file would be another each second
    count = int.from_bytes(profile[128:132], "big")
    entries = {bytes(profile[at : at + 4]): at for at in range(132, 132 + 12 * count, 12)}
    red, green = entries[b"rXYZ"], entries[b"gXYZ"]
    place = bytes(profile[red + 4 : red + 12])
    profile[red + 4 : red + 12] = profile[green + 4 : green + 12]
    profile[green + 4 : green + 12] = place
    return bytes(profile)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_colours_are_turned_into_srgb(form):
    image = Image.new("RGB", (400, 300), RED)
    widest = opened(made(saved(image, form, icc_profile=swapped_profile())))
    assert near(widest.getpixel((200, 150)), (RED[1], RED[0], RED[2]), within=16)


def test_a_broken_profile_is_passed_over():
    assert near(opened(made(saved(scene(), icc_profile=b"no profile"))).getpixel((20, 20)), RED)


@pytest.mark.parametrize("mode", ["L", "LA", "P", "PA", "RGBA", "CMYK", "1", "I;16"])
def test_every_kind_of_pixel_is_shown(mode):
    grey = Image.new("L", (400, 300), 128)
    if mode == "I;16":
        image = Image.new(mode, (400, 300), 128 * 257)
    elif mode == "1":
        image = Image.new("1", (400, 300), 1)
    elif mode in ("P", "PA"):
        image = grey.convert("P")
        if mode == "PA":
            image.info["transparency"] = 5
    else:
        image = grey.convert("RGB").convert(mode)
    content = saved(image, "JPEG" if mode == "CMYK" else "PNG")
    level = 255 if mode == "1" else 128
    assert near(opened(made(content)).convert("RGB").getpixel((200, 150)), (level,) * 3, within=6)


def test_what_is_clear_stands_on_white():
    image = Image.new("RGBA", (400, 300), (0, 0, 0, 0))
    ImageDraw.Draw(image).rectangle((100, 100, 300, 200), fill=(*RED, 255))
    widest = opened(made(saved(image, "PNG")))
    assert near(widest.getpixel((10, 10)), (255, 255, 255), within=4)
    assert near(widest.getpixel((200, 150)), RED)


@pytest.mark.slow
def test_the_same_bytes_give_the_same_files():
    content = saved(scene(900, 700))
    assert made(content) == made(content)
    assert recipe() == recipe()
    paths = [r.path for r in made(content)]
    assert len(set(paths)) == 9
    assert all(re.fullmatch(r"assets/photo-\d+\.[0-9a-f]{12}\.(avif|webp|jpg)", path) for path in paths)
    assert set(paths).isdisjoint(r.path for r in made(saved(scene(901, 700))))


@pytest.mark.slow
def test_the_forms_are_worth_having():
    noisy = Image.effect_noise((1280, 960), 30).convert("RGB")
    sizes = [len(r.content) for r in made(saved(noisy)) if r.width == 1280]
    assert sizes[0] < sizes[2]


FAULTY = {
    "empty": (b"", "photo-unreadable"),
    "text": (b"a photo, honestly", "photo-unreadable"),
    "cut": (saved(scene(900, 700))[:-4000], "photo-unreadable"),
    "cut png": (saved(Image.effect_noise((300, 300), 50), "PNG")[:-4000], "photo-unreadable"),
    "cut webp": (saved(Image.effect_noise((300, 300), 50), "WEBP")[:-4000], "photo-unreadable"),
    "another form": (saved(scene(40, 40), "GIF"), "photo-unreadable"),
    "pointer": (
        b"version https://git-lfs.github.com/spec/v1\noid sha256:%064d\nsize 4000000\n" % 7,
        "photo-not-fetched",
    ),
    "heavy": (saved(scene(40, 40)) + bytes(LARGEST_BYTES), "photo-too-large"),
}


def huge(side: int) -> bytes:
    """A PNG that says it is this wide and high, and holds next to nothing."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")

    head = side.to_bytes(4, "big") * 2 + b"\x08\x00\x00\x00\x00"
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 100))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("side", [9_000, 10_000, 20_000, 2_000_000])
def test_an_image_too_large_for_memory_is_refused_before_it_is_read(side):
    assert side**2 > LARGEST_PIXELS
    for look in (shown_width, make_photo):
        fault = look(huge(side))
        assert isinstance(fault, PhotoFault)
        assert fault.code == "photo-too-large"


@pytest.mark.parametrize("what", FAULTY)
def test_what_is_no_photo_is_told_and_not_raised(what):
    content, code = FAULTY[what]
    for look in (shown_width, make_photo):
        fault = look(content)
        assert isinstance(fault, PhotoFault), what
        assert fault.code == code
        assert fault.hint
        assert not fault.message.endswith(".")


def test_a_good_photo_has_no_fault():
    for form in ("JPEG", "PNG", "WEBP"):
        assert shown_width(saved(scene(900, 700), form)) == 900


@pytest.mark.slow
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_spoilt_files_never_raise(form):
    rng = random.Random(7)  # noqa: S311  (the same damage every time)
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    whole = saved(scene(64, 48), form, exif=exif, icc_profile=swapped_profile())
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for _ in range(150):
            spoilt = bytearray(whole)
            for _ in range(rng.randint(1, 6)):
                spoilt[rng.randrange(len(spoilt))] = rng.randrange(256)
            found = make_photo(
                bytes(spoilt[: rng.randint(10, len(spoilt))] if rng.random() < 0.3 else spoilt)
            )
            assert isinstance(found, PhotoFault) or found


def test_the_picture_names_every_file_and_nothing_else():
    photo = made(saved(scene()))
    html = str(photo_html(photo, root="../", size="large", first=True))
    named = re.findall(r"\.\./(assets/\S+?)[ \"]", html)
    assert set(named) == {r.path for r in photo}
    kinds = re.findall(r'<source type="([^"]+)" srcset="([^"]+)"', html)
    assert [kind for kind, _ in kinds] == ["image/avif", "image/webp"]
    for kind, srcset in kinds:
        assert set(re.findall(r"\.(\w+) \d+w", srcset)) == {kind.removeprefix("image/")}
        widths = [int(width) for width in re.findall(r" (\d+)w", srcset)]
        assert all(one < two for one, two in pairwise(widths))
    assert 'width="640" height="480" alt="" fetchpriority="high"' in html
    assert "lazy" not in html


def test_beside_a_name_the_smallest_is_enough_and_only_the_first_does_not_wait():
    photo = made(saved(scene()))
    html = str(photo_html(photo, root="", size="small", first=False))
    assert set(re.findall(r"assets/photo-(\d+)", html)) == {"320"}
    assert 'width="320" height="240" alt="" loading="lazy" decoding="async"' in html
    assert "fetchpriority" not in html


@pytest.mark.parametrize("number", TURNS)
def test_how_wide_a_photo_is_goes_by_how_it_is_shown(number):
    turn = TURNS[number]
    image = scene(800, 600) if turn is None else scene(800, 600).transpose(turn)
    exif = Image.Exif()
    exif[ORIENTATION] = number
    assert shown_width(saved(image, exif=exif)) == 800


def test_how_wide_a_very_long_photo_is_goes_by_what_is_left_of_it():
    assert shown_width(saved(scene(2000, 300), "PNG")) == 600


def test_a_photo_of_fewer_pixels_than_a_page_shows_is_told_with_both_figures():
    assert too_few_pixels(WIDEST_SHOWN) is None
    small = too_few_pixels(320)
    assert small is not None
    assert small.message == (
        "this photo is 320 px wide, and a page has room for 684 px: it is shown no wider than it is"
    )
    assert small.hint == "save it 684 px wide or more; 1280 px are sharp on every phone"


def test_a_photo_is_shown_no_wider_than_it_is():
    wide = photo_html(made(saved(scene(684, 500))), root="", size="large", first=True)
    small = photo_html(made(saved(scene(683, 500))), root="", size="large", first=True)
    assert 'class="glass photo"' in wide
    assert 'sizes="(min-width: 45em) 22rem, 95vw"' in wide
    assert 'class="glass photo narrow"' in small
    assert 'sizes="(min-width: 45em) min(22rem, 683px), min(95vw, 683px)"' in small


@pytest.mark.parametrize(
    ("width", "height", "narrow"), [(104, 104, False), (200, 103, True), (103, 200, True)]
)
def test_the_square_beside_a_name_is_not_enlarged_either(width, height, narrow):
    html = photo_html(made(saved(scene(width, height), "PNG")), root="", size="small", first=True)
    assert ("narrow" in html) is narrow
