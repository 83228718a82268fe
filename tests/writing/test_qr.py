"""The code for the table menu: what it says, how coarse it is, and the files made of it."""

import contextlib
import io
import re
import struct
import zlib
from xml.etree import ElementTree

import pytest
import segno
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from menugen.writing.qr import (
    _MEDIUM_BYTES,
    LONGEST_ADDRESS,
    QUIET_ZONE,
    SYMBOL_MM,
    AddressError,
    Qr,
    code_text,
    menu_qr,
    png_bytes,
    shorter_address_hint,
    svg_text,
)

ADDRESS = "https://menu.example/lantern/"


def of_length(length: int) -> str:
    """An address whose table menu has so many characters."""
    start = "https://a.example/"
    return start + "x" * (length - len(start) - len("/t/")) + "/"


@pytest.mark.parametrize(
    ("address", "table", "text"),
    [
        (ADDRESS, None, "https://menu.example/lantern/t/"),
        ("https://menu.example/lantern", None, "https://menu.example/lantern/t/"),
        ("https://menu.example", 7, "https://menu.example/t/#7"),
        ("https://menu.example:8443/a/", None, "https://menu.example:8443/a/t/"),
        ("https://bücher.example/été/", None, "https://xn--bcher-kva.example/%C3%A9t%C3%A9/t/"),
        ("https://menu.example/%C3%A9t%C3%A9/", None, "https://menu.example/%C3%A9t%C3%A9/t/"),
        ("https://menu.example/two words/", None, "https://menu.example/two%20words/t/"),
    ],
)
def test_a_code_carries_the_address_of_the_table_menu(address, table, text):
    assert code_text(address, table) == text
    assert menu_qr(address, table).text == text


@pytest.mark.parametrize(
    "address",
    [
        "",
        "menu",
        "menu.example/lantern/",
        "mailto:bar@menu.example",
        "https://",
        "https://menu.example/?a=1",
        "https://menu.example/#top",
        "https://[bad/",
        "https://menu.example:port/",
        "https://who@menu.example/",
        "javascript:alert(1)",
        "https://two words.example/",
        "https://" + "ü" * 80 + ".example/",
    ],
)
def test_what_is_no_address_of_a_site_is_refused(address):
    with pytest.raises(AddressError, match='"'):
        code_text(address)


@pytest.mark.slow
@given(st.text(max_size=60))
def test_any_text_is_a_code_in_ascii_or_an_address_fault(text):
    for address in (text, "https://menu.example/" + text, "https://" + text):
        with contextlib.suppress(AddressError):
            code = menu_qr(address)
            assert re.fullmatch(r"[!-~]+", code.text)


@pytest.mark.slow
@pytest.mark.parametrize("length", range(24, LONGEST_ADDRESS + 1, 7))
def test_the_level_is_medium_or_better_and_the_size_the_least_that_medium_needs(length):
    code = menu_qr(of_length(length))
    assert code.level in {"M", "Q", "H"}
    assert code.version == next(v for v, most in enumerate(_MEDIUM_BYTES, 1) if length <= most)
    assert code.modules == 17 + 4 * code.version
    assert code.width_modules == code.modules + 8


@pytest.mark.parametrize("version", range(1, 11))
def test_the_table_of_bytes_is_the_one_the_encoder_works_by(version):
    most = _MEDIUM_BYTES[version - 1]
    assert segno.make_qr("x" * most, error="m").version == version
    assert segno.make_qr("x" * (most + 1), error="m").version == version + 1


def test_free_room_goes_into_mending_more_damage():
    assert menu_qr(of_length(27)).level == "Q"  # version 3 holds 32 bytes at Q
    assert menu_qr(of_length(42)).level == "M"


def test_an_address_may_be_as_long_as_said_and_no_longer():
    assert menu_qr(of_length(LONGEST_ADDRESS)).version == 10
    with pytest.raises(AddressError, match="214 characters"):
        menu_qr(of_length(LONGEST_ADDRESS + 1))


def test_a_hint_says_how_many_characters_save_a_step():
    hint = shorter_address_hint(of_length(45))
    assert hint is not None
    assert hint.characters == 3
    assert "3 characters shorter" in hint.message
    assert "29 squares wide, not 33" in hint.hints[0]
    assert (hint.modules, hint.fewer_modules) == (33, 29)
    assert menu_qr(of_length(45 - hint.characters)).modules == hint.fewer_modules
    assert menu_qr(of_length(45 - hint.characters + 1)).modules == hint.modules


def test_a_hint_counts_the_longest_table_number():
    assert shorter_address_hint(of_length(41)) is None
    assert shorter_address_hint(of_length(41), range(1, 15)).characters == 2


def test_no_hint_where_much_would_have_to_go():
    assert shorter_address_hint(of_length(62)) is None


def png_chunks(data: bytes) -> dict[bytes, bytes]:
    found, at = {}, 8
    while at < len(data):
        (length,) = struct.unpack(">I", data[at : at + 4])
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length : at + 12 + length])[0] == zlib.crc32(kind + body)
        found[kind] = body
        at += 12 + length
    return found


def modules_of(picture: Image.Image, code: Qr, dots: int) -> tuple[tuple[bool, ...], ...]:
    middle = dots // 2
    return tuple(
        tuple(
            picture.getpixel((x * dots + middle, y * dots + middle)) == 0 for x in range(code.width_modules)
        )
        for y in range(code.width_modules)
    )


@pytest.mark.parametrize("length", [30, 213])
@pytest.mark.parametrize("dots", [4, 5, 12])
def test_the_png_shows_every_module_with_its_quiet_zone(length, dots):
    code = menu_qr(of_length(length))
    data = png_bytes(code, dots_per_module=dots)
    with Image.open(io.BytesIO(data)) as picture:
        picture.load()
        assert picture.size == (code.width_modules * dots,) * 2
        shown = modules_of(picture.convert("L"), code, dots)
    inner = slice(QUIET_ZONE, -QUIET_ZONE)
    assert tuple(row[inner] for row in shown[inner]) == code.rows
    assert not any(any(row) for row in shown[:QUIET_ZONE] + shown[-QUIET_ZONE:])
    assert not any(any(row[:QUIET_ZONE] + row[-QUIET_ZONE:]) for row in shown)


def test_the_png_prints_fifty_millimetres_wide_unless_told_otherwise():
    code = menu_qr(ADDRESS)
    across, down, unit = struct.unpack(">IIB", png_chunks(png_bytes(code))[b"pHYs"])
    assert across == down
    assert unit == 1  # a metre
    assert code.modules * 12 / across * 1000 == pytest.approx(SYMBOL_MM, abs=0.01)


def test_the_png_needs_no_compressor_to_be_the_same_everywhere():
    body = png_chunks(png_bytes(menu_qr(of_length(213))))[b"IDAT"]
    assert len(body) > len(zlib.decompress(body)) > 0xFFFF  # more than one stored block


def test_fewer_than_four_dots_a_module_is_refused():
    with pytest.raises(ValueError, match="4 dots"):
        png_bytes(menu_qr(ADDRESS), dots_per_module=3)


def test_the_svg_has_a_white_ground_and_four_modules_of_margin():
    code = menu_qr(ADDRESS)
    root = ElementTree.fromstring(svg_text(code))  # noqa: S314  (our own bytes)
    assert root.get("viewBox") == f"0 0 {code.width_modules} {code.width_modules}"
    assert float(root.get("width").removesuffix("mm")) * code.modules / code.width_modules == pytest.approx(
        50, abs=0.01
    )
    ground, dark = root
    assert ground.get("fill") == "#fff"
    assert dark.get("d").startswith("M4 4h7v1")  # the finder pattern begins where the quiet zone ends
    area = sum(int(run.split("h")[1].split("v")[0]) for run in dark.get("d").split("M")[1:])
    assert area == sum(map(sum, code.rows))


def test_the_same_address_gives_the_same_bytes():
    assert svg_text(menu_qr(ADDRESS)) == svg_text(menu_qr(ADDRESS))
    assert png_bytes(menu_qr(ADDRESS)) == png_bytes(menu_qr(ADDRESS))
