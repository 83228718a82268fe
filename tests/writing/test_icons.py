"""The allergen icons: one pen, small files, and a set that a page can point into."""

import io
import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageStat

from menugen.shipped import shipped_folder
from menugen.writing.icons import UNKNOWN, icon_name, icon_symbols

FILES = sorted((shipped_folder("themes") / "base" / "icons").glob("*.svg"))
DRAWN = [file.stem for file in FILES]
ALLERGENS = [
    *("milk", "egg", "fish", "crustacean", "mollusc", "peanut", "nuts", "soy"),
    *("cereals", "celery", "mustard", "sesame", "sulphites", "lupin", "coconut", "other"),
]
PEN = {
    "viewBox": "0 0 24 24",
    "fill": "none",
    "stroke": "currentColor",
    "stroke-width": "1.6",
    "stroke-linecap": "round",
    "stroke-linejoin": "round",
}
SVG = "{http://www.w3.org/2000/svg}"


def test_every_allergen_has_a_drawing():
    assert set(ALLERGENS) <= set(DRAWN)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_each_icon_is_small_and_drawn_with_the_one_pen(file):
    assert file.stat().st_size < 700
    drawing = ElementTree.parse(file).getroot()  # noqa: S314  (our own files)
    assert drawing.attrib == PEN
    for part in list(drawing.iter())[1:]:
        assert part.tag.removeprefix(SVG) in {"path", "circle", "ellipse", "g"}
        # A part that brought its own colour or weight would not follow the words around it.
        assert set(part.attrib) <= {"d", "cx", "cy", "r", "rx", "ry", "transform"}


def test_a_set_is_hidden_and_holds_each_name_once_in_order():
    markup = icon_symbols(["milk", "egg", "milk"])
    assert re.findall(r'<symbol id="([^"]*)"', markup) == ["a-egg", "a-milk"]
    root = ElementTree.fromstring(markup)  # noqa: S314  (our own text)
    assert (root.get("aria-hidden"), root.get("width"), root.get("height")) == ("true", "0", "0")
    assert "style" not in markup


def test_an_unknown_name_brings_the_general_icon():
    assert icon_symbols(["dragon scale"]) == icon_symbols([UNKNOWN])
    assert icon_name("dragon scale") == UNKNOWN
    assert icon_name("milk") == "milk"


def test_nothing_wanted_is_nothing_written():
    assert icon_symbols([]) == ""
    assert icon_symbols([""]) == ""
    assert icon_name("") == ""


@given(st.lists(st.text() | st.sampled_from(ALLERGENS)))
def test_any_names_in_any_order_give_a_set_whose_symbols_exist(names):
    markup = icon_symbols(names)
    assert markup == icon_symbols(reversed(names))
    for name in names:
        if name:
            assert f'id="a-{icon_name(name)}"' in markup


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_at_sixteen_pixels_every_icon_is_whole_and_none_looks_like_another(window, scheme):
    page = window.open(width=20 * len(FILES), height=200, scheme=scheme)
    uses = "".join(f'<svg width="16" height="16"><use href="#a-{file.stem}"></use></svg>' for file in FILES)
    page.set_content(
        "<!doctype html><meta name=color-scheme content='light dark'>"
        "<style>body{margin:2px;display:flex;gap:4px}</style>" + str(icon_symbols(DRAWN)) + uses
    )
    page.add_style_tag(content=".icon-set{position:absolute}")
    with Image.open(io.BytesIO(page.screenshot())) as shot:
        picture = shot.convert("L")
    ground = picture.getpixel((0, 0))
    cells = {}
    for at, file in enumerate(FILES):
        cell = ImageChops.difference(
            picture.crop((20 * at, 0, 20 * at + 20, 20)), Image.new("L", (20, 20), ground)
        )
        left, top, right, bottom = cell.getbbox()
        assert max(right - left, bottom - top) >= 13, file.stem  # fills its square one way at least
        assert min(left, top) >= 2, file.stem
        assert max(right, bottom) <= 18, file.stem
        cells[file.stem] = cell
    for one, other in combinations(cells, 2):
        differs = ImageStat.Stat(ImageChops.difference(cells[one], cells[other])).mean[0]
        ink = min(ImageStat.Stat(cells[name]).mean[0] for name in (one, other))
        assert differs > 0.5 * ink, f"{one} looks like {other}"
