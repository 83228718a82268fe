"""The pages in a real browser, opened from disk as a host-less guest would: narrow, dark, by keyboard, filtered."""

from dataclasses import replace
from functools import partial
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pytest
from PIL import Image

from menugen.menu import GuestDrink, GuestMenu, GuestSwap
from menugen.shipped import shipped_folder
from menugen.writing.photos import WIDEST_SHOWN, make_photo
from menugen.writing.theme import load_theme, theme_names
from tests.writing.fixtures import long_menu, rich_menu, site_files

pytestmark = pytest.mark.browser

PAGES = (
    "index.html",
    "t/index.html",
    "drinks/saltmarsh-sour.html",
    "allergens.html",
    "notices.html",
    "404.html",
)
SHIPPED = shipped_folder("themes")

TEXT_SPACING = """
const style = new CSSStyleSheet();
style.replaceSync('*{line-height:1.5!important;letter-spacing:.12em!important;word-spacing:.16em!important}'
  + 'p{margin-block-end:2em!important}');
document.adoptedStyleSheets = [style];
"""
"""A reader's own spacing, as WCAG 2.2, success criterion 1.4.12, has it."""


@pytest.fixture(scope="module", params=theme_names([SHIPPED]))
def site(request, tmp_path_factory) -> Path:
    return written(rich_menu(), tmp_path_factory.mktemp("site"), request.param)


def written(menu: GuestMenu, folder: Path, look: str) -> Path:
    """Return the folder, named for its look, that a menu's site was written to."""
    for path, content in site_files(menu, load_theme([SHIPPED], look)).items():
        file = folder / look / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    return folder / look


@pytest.fixture
def opened(window):
    return partial(window.open, scheme="dark")


@pytest.mark.parametrize("path", PAGES)
def test_a_page_from_disk_is_styled_breaks_no_policy_and_asks_nobody(window, opened, site, path):
    page = opened(site / path)
    theme = load_theme([SHIPPED], site.name)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        ground = getattr(theme, scheme)["ground"]
        wanted = "rgb({}, {}, {})".format(*(int(ground[start : start + 2], 16) for start in (1, 3, 5)))
        assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == wanted, scheme
    assert window.said == []
    assert all(url.startswith("file:") for url in window.asked)


@pytest.mark.parametrize("path", PAGES)
def test_nothing_scrolls_sideways_at_320_even_with_the_readers_own_spacing(opened, site, path):
    page = opened(site / path, width=320, height=640)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.evaluate(TEXT_SPACING)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def shown(page) -> set[str]:
    return set(
        page.evaluate("[...document.querySelectorAll('.drink')].filter(d => d.offsetParent).map(d => d.id)")
    )


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_the_filter_hides_what_contains_or_may_contain_and_says_so(window, opened, site, path):
    menu = rich_menu()
    drinks = [served for section in menu.sections for served in section.drinks]
    page = opened(site / path)
    assert shown(page) == {served.id for served in drinks}
    page.click("summary")
    page.check("#out_milk")
    with_milk = {served.id for served in drinks if all("milk" in way.ids for way in served.ways)}
    assert len(with_milk) == 2
    assert len([served for served in drinks if "milk" in served.ids]) == 4, "two can be made without"
    assert shown(page) == {served.id for served in drinks} - with_milk
    assert page.locator(".left-out [data-for=milk]").is_visible()
    assert not page.locator(".left-out [data-for=egg]").is_visible()
    said = page.evaluate(
        "[...document.querySelectorAll('section:has(.drink)')].map(s => !!s.querySelector('.some-hidden').offsetParent)"
    )
    assert said == [any(served.id in with_milk for served in section.drinks) for section in menu.sections]
    page.check("#only_free")
    free = {
        served.id
        for served in drinks
        if any(way.alcohol_free and "milk" not in way.ids for way in served.ways)
    }
    assert shown(page) == free
    assert free
    page.click("button[type=reset]")
    assert shown(page) == {served.id for served in drinks}
    page.check("#hide_off")
    assert shown(page) == {served.id for served in drinks if not served.off}
    page.focus("#hide_off")
    page.keyboard.press("Enter")
    assert window.said == []
    assert "?" not in page.url
    page.reload()
    assert shown(page) == {served.id for served in drinks}


LEFT = """boxes => {
    for (const box of document.querySelectorAll('form input')) box.checked = boxes.includes(box.id);
    const seen = part => part.checkVisibility();
    return [...document.querySelectorAll('.drink')].filter(seen).map(drink => [
        drink.id,
        [...drink.querySelectorAll('.ask strong')].filter(seen).map(ask => ask.textContent),
        [...drink.querySelectorAll('.as-it-comes')].some(seen),
        [...drink.querySelectorAll('.also dd')].filter(seen).map(swap => swap.textContent.split(' – ')[0]),
        [...drink.querySelectorAll('.also dt')].some(seen),
    ]);
}"""


def left_by(menu: GuestMenu, boxes: set[str]) -> list[list[object]]:
    """Return what guests with these boxes ticked are to see: drinks, and of each how it must or can be ordered."""

    def out(way: GuestDrink | GuestSwap) -> bool:
        return bool({f"out_{one}" for one in way.ids} & boxes) or (
            "only_free" in boxes and not way.alcohol_free
        )

    found: list[list[object]] = []
    for section in menu.sections:
        for made in section.drinks:
            if all(map(out, made.ways)) or (made.off and "hide_off" in boxes):
                continue
            others = [way for way in made.ways[1:] if out(made) and not out(way)]
            # Several swaps at once are asked for only where fewer will not do.
            asked = [way for way in others if not any(set(fewer.of) < set(way.of) for fewer in others)]
            also = [swap.name.text for swap in made.swaps if not out(made) and not out(swap)]
            found.append([made.id, [way.text for way in asked], bool(asked), also, bool(also)])
    return found


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_a_drink_stays_while_some_way_of_it_is_left_and_offers_only_those(opened, site, path):
    menu = rich_menu()
    page = opened(site / path)
    boxes = page.evaluate("[...document.querySelectorAll('form input')].map(box => box.id)")
    assert len(boxes) > 10
    chosen = [list(some) for count in range(4) for some in combinations(boxes, count)]
    left = [left_by(menu, set(some)) for some in chosen]
    for some, seen, wanted in zip(
        chosen, page.evaluate(f"chosen => chosen.map({LEFT})", chosen), left, strict=True
    ):
        assert seen == wanted, some
    assert sum(bool(ways) for drinks in left for _, ways, *_ in drinks) > 50


def test_a_browser_without_has_sees_every_drink_and_how_else_it_is_made(opened, tmp_path):
    """Its style rules are those outside of the question whether it knows `:has()`."""
    folder = written(rich_menu(), tmp_path, "slate")
    for file in folder.rglob("*.css"):
        sheet = file.read_text("utf-8")
        file.write_text(sheet.replace("@supports selector(:has(*))", "@supports (not-known: 1)"), "utf-8")
    page = opened(folder / "index.html")
    assert page.evaluate(LEFT, ["out_milk", "only_free"]) == left_by(rich_menu(), set())
    assert not page.locator("summary").is_visible()
    assert page.get_by_role("link", name="Allergens, drink by drink").first.is_visible()


def test_paper_shows_every_drink_whatever_is_ticked(opened, site):
    page = opened(site / "index.html")
    assert page.evaluate(LEFT, ["out_milk", "only_free"]) != left_by(rich_menu(), set())
    page.emulate_media(media="print")
    assert page.evaluate(LEFT, ["out_milk", "only_free"]) == left_by(rich_menu(), set())


PLACES = """() => [...document.querySelectorAll('.drink, .drink :is(h3 a, .price, .lead, dd, .glass)')]
    .map(part => part.getBoundingClientRect())
    .map(box => [box.x, box.y + scrollY, box.width, box.height])"""

SAID = """() => [...document.querySelectorAll('.off')].map(part => {
    part.scrollIntoView({block: 'center'});
    const range = document.createRange(); range.selectNodeContents(part);
    const box = range.getBoundingClientRect();
    const name = part.closest('h3').querySelector('a').getBoundingClientRect();
    const at = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
    return part.contains(at) && box.bottom <= name.top + 4 && name.top - box.bottom < 16
        && box.left >= 0 && box.right <= innerWidth;
})"""


@pytest.fixture(scope="module")
def sold_out(site, tmp_path_factory) -> list[Path]:
    """The site with no drink sold out, and with all."""
    folders = []
    for off in (False, True):
        sections = tuple(
            replace(section, drinks=tuple(replace(made, off=off) for made in section.drinks))
            for section in rich_menu().sections
        )
        menu = replace(rich_menu(), sections=sections)
        folders.append(written(menu, tmp_path_factory.mktemp("off"), site.name))
    return folders


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_a_drink_that_is_sold_out_says_so_at_its_name_and_moves_nothing(opened, sold_out, path):
    page = opened(sold_out[0] / path)
    for width in (320, 390, 1280):
        page.set_viewport_size({"width": width, "height": 844})
        places, words = [], []
        for folder in sold_out:
            page.goto((folder / path).as_uri())
            places.append(page.evaluate(PLACES))
            words.append(page.evaluate(SAID))
        # The filter has one box more; the drinks come after it, and it is closed.
        assert places[0] == places[1], width
        assert words == [[], [True] * 14], width


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_the_way_to_the_allergens_stands_beside_the_filter(opened, site, path):
    page = opened(site / path)
    found = page.evaluate(
        """() => [document.querySelector('summary'), document.querySelector('.to-allergens a')]
            .map(part => part.getBoundingClientRect()).map(box => [box.top, box.bottom])"""
    )
    (_, filter_end), (top, bottom) = found
    assert top - filter_end < 24
    assert bottom < 844
    page.click(".to-allergens a")
    assert page.url.endswith("/allergens.html")


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_what_has_the_focus_is_never_under_the_section_links(opened, site, path):
    page = opened(site / path)
    for _ in range(30):
        page.keyboard.press("Tab")
        covered = page.evaluate(
            """() => {
                const on = document.activeElement, bar = document.querySelector('.sections');
                if (on === document.body || bar.contains(on)) return false;
                return on.getBoundingClientRect().bottom > bar.getBoundingClientRect().top;
            }"""
        )
        assert not covered, page.evaluate("document.activeElement.outerHTML")


@pytest.mark.parametrize("path", PAGES)
def test_what_is_tapped_is_big_enough_for_a_finger(opened, site, path):
    page = opened(site / path)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    small = page.evaluate(
        """() => [...document.querySelectorAll('main a, nav a, footer a, label, button, summary')]
            .filter(e => e.offsetParent && !e.closest('.story, .lead, .note, main > p, td, tbody'))
            .map(e => [e.textContent.trim(), e.getBoundingClientRect().height])
            .filter(([, height]) => height < 36)"""
    )
    assert small == []


def test_the_first_drink_is_seen_with_its_heading_on_a_phone(opened, site, tmp_path):
    # What is told to holders of an old card may stand above it; most menus have nothing to tell them.
    page = opened(written(rich_menu(since_card=None), tmp_path, site.name) / "index.html")
    bottom = page.evaluate("document.querySelector('.drink h3').getBoundingClientRect().bottom")
    top = page.evaluate("document.querySelector('.sections').getBoundingClientRect().top")
    assert bottom < top


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_paper_has_no_controls_and_asks_to_keep_drinks_whole(opened, site, tmp_path, size):
    page = opened(site / "index.html")
    page.emulate_media(media="print")
    assert page.evaluate("getComputedStyle(document.querySelector('.sections')).display") == "none"
    assert page.evaluate("getComputedStyle(document.querySelector('.drink')).breakInside") == "avoid"
    assert page.evaluate("getComputedStyle(document.querySelector('.contains')).color") == "rgb(0, 0, 0)"
    assert page.pdf(format=size).startswith(b"%PDF")


def test_eighty_drinks_fit_a_narrow_phone(opened, tmp_path):
    for path, content in site_files(long_menu(), load_theme([SHIPPED], "slate")).items():
        file = tmp_path / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    page = opened(tmp_path / "t" / "index.html", width=320)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert len(shown(page)) == 80


@pytest.fixture(scope="module")
def photos() -> dict[int, tuple]:
    """A photo of few pixels and a wide one, by their widths."""
    made = {}
    for width, height in ((320, 240), (1600, 1200)):
        content = BytesIO()
        Image.new("RGB", (width, height), "#8a4b2a").save(content, "JPEG")
        made[width] = make_photo(content.getvalue())
        assert isinstance(made[width], tuple)
    return made


def test_no_page_shows_a_photo_wider_than_it_is_or_than_we_say(opened, site, tmp_path, photos):
    """A photo of few pixels keeps its size; a wide one is fetched in a file at least as wide as it is shown."""
    for width, photo in photos.items():
        theme = load_theme([SHIPPED], site.name)
        for path, text in site_files(rich_menu(), theme, {"saltmarsh-sour": photo}).items():
            file = tmp_path / str(width) / path
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(text)
        for page_width in (320, 390, 719, 800, 1280):
            # An address of its own for each: what a browser has fetched it shows, however small.
            once = tmp_path / f"{width}-{page_width}"
            once.symlink_to(tmp_path / str(width))
            page = opened(once / "drinks/saltmarsh-sour.html", page_width, 1600)
            shown, fetched = page.evaluate(
                "() => { const img = document.querySelector('.photo img');"
                " return [img.getBoundingClientRect().width, Number(/photo-(\\d+)/.exec(img.currentSrc)[1])]; }"
            )
            assert shown <= min(width, WIDEST_SHOWN) + 0.5, page_width
            assert shown <= fetched + 0.5, page_width
