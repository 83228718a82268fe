"""The codes read back by a decoder this project did not make, from every form a code is given out in.

Source of the reading: zxing-cpp (a port of ZXing), which follows ISO/IEC 18004.
"""

import io
import subprocess
from dataclasses import replace

import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageEnhance, ImageFilter

from menugen.writing.qr import menu_qr, png_bytes, svg_text
from tests.writing.fixtures import CARD_MENU, card_files

ADDRESSES = [
    ("https://menu.example/", None),
    ("https://menu.example/lantern/", None),
    ("https://menu.example/lantern/", 7),
    ("https://menu.example/lantern/", 114),
    ("https://bücher.example/été/", 3),
    ("https://long.example/" + "evening-" * 22, 14),
]
MENU = replace(CARD_MENU, tables=(7, 14))


def read(picture: bytes) -> list[str]:
    """Every code found in a picture, by its text, in order of place from the top."""
    with Image.open(io.BytesIO(picture)) as image:
        found = zxingcpp.read_barcodes(image.convert("L"), formats=zxingcpp.BarcodeFormat.QRCode)
    return [
        code.text
        for code in sorted(found, key=lambda code: (code.position.top_left.y, code.position.top_left.x))
    ]


@pytest.mark.parametrize(("address", "table"), ADDRESSES)
@pytest.mark.parametrize("dots", [4, 12])
def test_the_png_is_read_back(address, table, dots):
    code = menu_qr(address, table)
    assert read(png_bytes(code, dots_per_module=dots)) == [code.text]


@pytest.mark.slow
@given(
    path=st.text(alphabet="abcdefghijklmnopqrstuvwxyz0123456789-", min_size=1, max_size=150),
    table=st.none() | st.integers(1, 9999),
)
def test_any_address_is_read_back(path, table):
    code = menu_qr(f"https://menu.example/{path}/", table)
    assert read(png_bytes(code, dots_per_module=4)) == [code.text]


@pytest.mark.parametrize(("address", "table"), ADDRESSES)
def test_a_stained_code_is_still_read_back(address, table):
    # Level M mends about 15 % of the code; a black square of a quarter of its side covers 6 %, away from the
    # three finder patterns, which no level mends.
    code = menu_qr(address, table)
    with Image.open(io.BytesIO(png_bytes(code))) as image:
        dirty = image.convert("L")
    side = code.modules * 12 // 4
    far = (code.width_modules - 10) * 12
    dirty.paste(0, (far - side, far - side, far, far))
    out = io.BytesIO()
    dirty.save(out, "PNG")
    assert read(out.getvalue()) == [code.text]


@pytest.mark.browser
@pytest.mark.parametrize(("address", "table"), ADDRESSES)
def test_the_svg_is_read_back_on_a_black_page(window, tmp_path, address, table):
    # Its own white ground and quiet zone must be enough, whatever it is laid on.
    code = menu_qr(address, table)
    (tmp_path / "qr.svg").write_text(svg_text(code))
    (tmp_path / "page.html").write_text('<body style="background:#000"><img src="qr.svg"></body>')
    page = window.open(tmp_path / "page.html", 1280, 720)
    picture = page.screenshot()
    assert read(picture) == [code.text]


@pytest.mark.browser
def test_a_card_on_the_screen_is_read_back_on_either_face(window, tmp_path):
    (tmp_path / "cards.html").write_bytes(card_files(MENU)["cards-a4.html"])
    page = window.open(tmp_path / "cards.html", 1280, 720)
    for card, table in zip(page.query_selector_all(".card"), MENU.tables, strict=True):
        text = menu_qr(MENU.address, table).text
        assert read(card.screenshot()) == [text, text]


@pytest.mark.browser
def test_a_card_is_read_back_out_of_focus_in_a_dark_room(window, tmp_path):
    (tmp_path / "cards.html").write_bytes(card_files(MENU)["cards-a4.html"])
    page = window.open(tmp_path / "cards.html", 1280, 720)
    with Image.open(io.BytesIO(page.query_selector(".card").screenshot())) as card:
        # A module is about 6 pixels here: blurred over a third of one, a fifth of the light, warm as a lamp.
        seen = card.convert("RGB").filter(ImageFilter.GaussianBlur(2))
        seen = ImageEnhance.Brightness(seen).enhance(0.2)
        picture = io.BytesIO()
        Image.blend(seen, Image.new("RGB", seen.size, (40, 24, 8)), 0.3).save(picture, "PNG")
    text = menu_qr(MENU.address, MENU.tables[0]).text
    assert read(picture.getvalue()) == [text, text]


@pytest.mark.browser
@pytest.mark.parametrize(
    ("paper", "address", "table"),
    [("a4", *ADDRESSES[1]), ("letter", *ADDRESSES[2]), ("letter", *ADDRESSES[0]), ("a4", *ADDRESSES[-1])],
)
def test_the_print_is_read_back_from_a_coarse_picture_of_it(
    window, pdftoppm, tmp_path, address, table, paper
):
    # At 110 dots an inch the finest code has not four pixels a module, as a phone sees it from some way off.
    menu = replace(MENU, address=address, tables=() if table is None else (table,))
    (tmp_path / "cards.html").write_bytes(card_files(menu)[f"cards-{paper}.html"])
    page = window.open(tmp_path / "cards.html", 1280, 720)
    page.pdf(path=tmp_path / "cards.pdf", prefer_css_page_size=True)
    subprocess.run(
        [pdftoppm, "-r", "110", "-png", "-singlefile", "cards.pdf", "cards"], cwd=tmp_path, check=True
    )
    text = menu_qr(address, table).text
    assert read((tmp_path / "cards.png").read_bytes()) == [text] * (4 if table is None else 2)
