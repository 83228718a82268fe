"""The table cards: what stands on them, how many there are, and that a printer gets them right."""

import re
from dataclasses import fields, replace

import pytest

from menugen.menu import WORDS, GuestMenu
from menugen.menu.language import page_language
from menugen.writing.card_fit import lines_of
from menugen.writing.cards import CARD_MM, LINE_MM, PAPERS
from menugen.writing.policy import inline_hashes
from menugen.writing.qr import AddressError, dark_path, menu_qr, png_bytes, svg_text
from tests.writing.fixtures import CARD_MENU, card_files

MENU = CARD_MENU
FOURTEEN = replace(MENU, tables=tuple(range(1, 15)))
LONG_NAME = "The Forty-Second Annual Midwinter Harbour Lantern Supper & Ball"


@pytest.fixture
def browser_page(window):
    return window.open(width=1280, height=720)


def page(menu: GuestMenu, paper: str = "a4") -> str:
    return card_files(menu)[f"cards-{paper}.html"].decode()


def test_without_an_address_there_are_no_cards():
    assert card_files(replace(MENU, address="")) == {}


def test_an_address_no_code_can_hold_is_refused():
    with pytest.raises(AddressError):
        card_files(replace(MENU, address="no address"))


def test_the_files_are_a_page_a_paper_and_the_code_alone():
    files = card_files(FOURTEEN)
    assert set(files) == {"cards-a4.html", "cards-letter.html", "qr.svg", "qr.png"}
    code = menu_qr(MENU.address)
    assert (files["qr.svg"].decode(), files["qr.png"]) == (svg_text(code), png_bytes(code))


@pytest.mark.parametrize(("paper", "size"), [("a4", "210mm 297mm"), ("letter", "215.9mm 279.4mm")])
def test_each_page_says_its_paper(paper, size):
    assert f"@page{{size:{size};margin:0}}" in page(MENU, paper)


def test_a_table_each_gets_its_number_and_its_own_code_on_both_faces():
    html = page(FOURTEEN)
    assert html.count('class="sheet"') == 7
    assert html.count('class="card"') == 14
    for table in FOURTEEN.tables:
        code = menu_qr(MENU.address, table)
        assert code.text.endswith(f"/lantern/t/#{table}")
        assert html.count(f'"{dark_path(code)}"') == 2
        assert html.count(f">Table {table}</p>") == 2


def test_a_card_for_all_names_no_table_and_fills_its_sheet_with_a_second_copy():
    html = page(MENU)
    assert html.count('class="card"') == 2
    assert html.count('<article class="card" aria-hidden="true">') == 1
    assert "Table" not in html
    assert html.count(dark_path(menu_qr(MENU.address))) == 4


def test_an_odd_number_of_tables_leaves_half_a_sheet():
    html = page(replace(MENU, tables=(1, 2, 7)))
    assert html.count('class="sheet"') == 2
    assert html.count('class="card"') == 3


def test_a_card_holds_name_sentence_typed_address_and_version_and_nothing_else():
    front = re.search(r'<div class="face front">(.*?)</div>', page(FOURTEEN), re.DOTALL)[1]
    words = " ".join(re.sub(r"<[^>]*>", " ", front.replace("<wbr>", "")).split())
    assert words == (
        "Lantern Supper Tonight&#39;s drinks, strengths and allergens "
        "or type this address menu.example/lantern/ Table 1 Menu 3f9c2a · 12 December 2026"
    )


@pytest.mark.parametrize(
    ("address", "typed"),
    [
        ("https://menu.example/", "menu.example"),
        ("https://menu.example", "menu.example"),
        ("https://menu.example/a/b/", "menu.example/a/b/"),
        ("http://menu.example/", "http://menu.example/"),
        ("https://bücher.example/été/", "bücher.example/été/"),
    ],
)
def test_the_address_in_letters_is_what_a_guest_types(address, typed):
    html = page(replace(MENU, address=address))
    assert re.search(r'<bdi dir="ltr">(.*?)</bdi>', html)[1].replace("<wbr>", "") == typed


def test_only_one_face_of_a_card_is_read_out():
    html = page(FOURTEEN)
    assert html.count('<div class="face front">') == 14
    assert html.count('<div class="face back" aria-hidden="true">') == 14


def test_what_the_user_wrote_is_text_and_never_markup():
    html = page(replace(MENU, event='<script>alert("x")</script> & "friends"'))
    assert "<script" not in html
    assert "&lt;script&gt;" in html


def test_the_page_needs_nothing_from_elsewhere():
    html = page(FOURTEEN)
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', html)[1]
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert all(found in policy for found in inline_hashes(html))
    assert not re.search(r"\ssrc=|\shref=|\sstyle=|url\(|@import|<script|<link", html)


def test_a_menu_in_another_direction_keeps_the_address_left_to_right():
    html = page(replace(MENU, language="ar", direction="rtl", event="عشاء الفوانيس"))
    assert '<html lang="ar" dir="rtl">' in html
    assert '<bdi dir="ltr">' in html


def test_the_same_menu_gives_the_same_bytes():
    assert card_files(FOURTEEN) == card_files(FOURTEEN)


def test_the_menu_type_has_no_private_field_a_card_could_show():
    assert not {field.name for field in fields(GuestMenu)} & {"guests", "cost", "supplier", "bar_notes"}


def millimetres(pixels: float) -> float:
    return pixels / 96 * 25.4


NAMES = (
    "Lantern Supper",
    LONG_NAME,
    LONG_NAME + " and the Reopening of the Old Boathouse after the Great Storm, with Music",
    "Sommernachtsfestgesellschaftsabend",
    "عشاء الفوانيس",
    "عشاء الفوانيس الكبير في الميناء القديم على ضفاف النهر مع الموسيقى والرقص حتى الصباح",
    "MMMM WWWW " * 12,
    "W" * 120,
    "Ä" * 60 + " " + "æ" * 59,
)
ADDRESSES = (
    "https://a.ex/",
    "https://menu.example/lantern/",
    "https://long.example/" + "evening-" * 22,
    "https://long.example/" + "w" * 180,
    "https://" + "midwinter." * 16 + "example/harbour/lanterns/",
)

PLACED = """() => [...document.querySelectorAll('.front')].map(face => {
    const box = face.getBoundingClientRect(), scale = 96 / 25.4;
    const parts = [...face.children].map(part => {
        const range = document.createRange();
        range.selectNodeContents(part);
        return part.matches('svg') ? part.getBoundingClientRect() : range.getBoundingClientRect();
    });
    return {
        inside: parts.every(part => part.left >= box.left + 5 * scale && part.right <= box.right - 5 * scale
            && part.top >= box.top + 5 * scale && part.bottom <= box.bottom - 2 * scale),
        apart: parts.every((part, at) => !at || part.top >= parts[at - 1].bottom - 1),
        scrolls: face.scrollHeight > face.clientHeight || face.scrollWidth > face.clientWidth,
        name: parseFloat(getComputedStyle(face.querySelector('h2')).fontSize) * .75 + .001,
        least: Math.min(...[...face.querySelectorAll('.address, .address span, .scan, .table')]
            .map(part => parseFloat(getComputedStyle(part).fontSize) * .75 + .001)),
        code: face.querySelector('.code').getBoundingClientRect().width,
    };
})"""


@pytest.fixture
def printed(measured):
    """Return where the texts of a card lie on paper, with the widest letters a computer is likely to have."""
    sheet = measured.open(width=1280, height=720)
    sheet.emulate_media(media="print")

    def placed(menu: GuestMenu) -> list[dict[str, float]]:
        sheet.set_content(page(menu))
        return sheet.evaluate(PLACED)

    return placed


@pytest.mark.browser
@pytest.mark.parametrize("event", NAMES)
def test_everything_fits_its_face_and_the_code_is_large_enough(printed, event):
    for address in ADDRESSES:
        for tables in ((), (1, 114)):
            for face in printed(replace(MENU, event=event, address=address, tables=tables)):
                case = (address, tables, face)
                assert face["inside"], case
                assert face["apart"], case
                assert not face["scrolls"], case
                assert face["least"] >= (8 if len(event) < 70 and len(address) < 100 else 6.5), case
                assert face["name"] >= (14 if len(event) < 70 and len(address) < 100 else 8), case
                code = menu_qr(address, tables[0] if tables else None)
                assert millimetres(face["code"]) * code.modules / code.width_modules >= 49.9


@pytest.mark.browser
@pytest.mark.parametrize("code", ["ar", "cy", "de", "es", "fr", "ga", "it", "nl", "pl", "pt"])
def test_the_sentences_of_every_language_fit_their_face(printed, code):
    language = page_language(code, "GB", "GBP")
    said = {word: language.say(WORDS[word]) for word in ("scan", "or_type", "table")}
    for event in (NAMES[0], LONG_NAME):
        menu = replace(
            MENU,
            event=event,
            tables=(114,),
            language=code,
            direction=language.direction,
            words={**MENU.words, **said},
            version_line="Menu 7f3a2c1+4be09d2 · 12 September 2026",
        )
        (face,) = printed(menu)
        assert (face["inside"], face["apart"], face["scrolls"]) == (True, True, False)


@pytest.mark.parametrize("event", ["Lantern Supper", LONG_NAME, "The Harvest and Lantern Supper"])
def test_no_word_of_a_name_is_broken_that_could_be_whole(event):
    size = float(re.search(r"}h2{font-size:([\d.]+)pt}", page(replace(MENU, event=event, tables=(7,))))[1])
    assert size >= 14
    _, whole = lines_of(event.split(), size, LINE_MM)
    assert whole


def test_the_name_is_the_largest_of_the_words_and_shrinks_as_it_grows():
    sizes = []
    for letters in range(1, 121, 7):
        event = ("lanterns " * 14)[:letters].strip()
        found = dict(
            re.findall(r"(h2|\.scan|\.address){font-size:([\d.]+)pt}", page(replace(MENU, event=event)))
        )
        assert float(found["h2"]) >= float(found[".scan"])
        sizes.append(float(found["h2"]))
    assert sizes[0] == 25
    assert sizes == sorted(sizes, reverse=True)


@pytest.mark.browser
@pytest.mark.parametrize("paper", PAPERS)
def test_two_cards_with_their_marks_fit_the_sheet_and_the_marks_stay_outside(browser_page, paper):
    browser_page.emulate_media(media="print")
    browser_page.set_content(page(FOURTEEN, paper))
    sheet = browser_page.query_selector(".sheet").bounding_box()
    for card in browser_page.query_selector_all(".sheet:first-child .card"):
        box = card.bounding_box()
        assert (millimetres(box["width"]), millimetres(box["height"])) == pytest.approx(CARD_MM, abs=0.1)
        marks = card.query_selector(".marks").bounding_box()
        assert marks["x"] >= sheet["x"]
        assert marks["y"] >= sheet["y"]
        assert marks["x"] + marks["width"] <= sheet["x"] + sheet["width"] + 0.1
        assert marks["y"] + marks["height"] <= sheet["y"] + sheet["height"] + 0.1
    crop = re.search(r'<path d="([^"]*)"/><path class="fold" d="([^"]*)"', page(FOURTEEN, paper))
    width, height = CARD_MM
    for x, y, way, run in re.findall(r"M(\S+) ([-\d.]+)([hv])([\d.]+)", "".join(crop.groups())):
        ends = [
            (float(x), float(y)),
            (float(x) + float(run) * (way == "h"), float(y) + float(run) * (way == "v")),
        ]
        assert all(not (0 < x < width and 0 < y < height) for x, y in ends)
        assert any(x < 0 or x > width or y < 0 or y > height for x, y in ends)


@pytest.mark.browser
@pytest.mark.parametrize("paper", PAPERS)
def test_the_print_is_a_sheet_a_page(browser_page, paper, tmp_path):
    file = tmp_path / "cards.pdf"
    browser_page.set_content(page(FOURTEEN, paper))
    file.write_bytes(browser_page.pdf(prefer_css_page_size=True))
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 7


def test_a_card_is_black_on_white_whatever_the_look():
    html = page(FOURTEEN)
    assert set(re.findall(r"#[0-9a-f]{3,8}\b", re.sub(r"&#\d+;|@media screen{.*?}}", "", html))) == {
        "#000",
        "#fff",
    }


@pytest.mark.browser
def test_the_back_face_stands_on_its_head_above_the_fold(browser_page):
    browser_page.set_content(page(FOURTEEN))
    front, back = (browser_page.query_selector(f".{side}").bounding_box() for side in ("front", "back"))
    assert back["y"] + back["height"] == pytest.approx(front["y"], abs=0.5)
    turn = browser_page.eval_on_selector(".back", "face => getComputedStyle(face).transform")
    assert re.fullmatch(r"matrix\(-1, (?:-?[\d.e-]+), (?:-?[\d.e-]+), -1, 0, 0\)", turn)


@pytest.mark.browser
def test_the_policy_lets_the_page_s_own_style_through(window, tmp_path):
    file = tmp_path / "cards.html"
    file.write_bytes(card_files(MENU)["cards-a4.html"])
    opened = window.open(file)
    assert window.said == []
    assert opened.eval_on_selector(".card", "card => getComputedStyle(card).display") == "flex"
