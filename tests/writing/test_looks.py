"""The shipped looks, and one a house makes in ten lines: each says the same, in the same order, and stays composed."""

import re
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from menugen.menu import GuestMenu
from menugen.shipped import shipped_folder
from menugen.writing.theme import Theme, contrast_findings, load_theme, theme_names
from tests.browser.test_offline import Host
from tests.writing.fixtures import long_menu, page_faults, rich_menu, single_menu, site_files

SHIPPED = shipped_folder("themes")
LOOKS = theme_names([SHIPPED])

TEN_LINES = """\
title: Harvest
extends: bunting
colours:
  light: {ground: "#f4efe2", rule: "#7a2e12", band: "#e9a23b"}
  dark:
    ground: "#1d120b"
    rule: "#e9a23b"
    band: "#c7d36f"
type:
  size: 1.125rem
"""

LONG_NAMES = (
    "The Long Evening at the Far End of the Old Boathouse Landing",
    "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen",
    "Schwarzwälder Kirschwasserbowle nach Großmutters Hausrezept",
)


def harvest(folder: Path) -> Theme:
    (folder / "harvest").mkdir()
    (folder / "harvest" / "theme.yaml").write_text(TEN_LINES, encoding="utf-8")
    return load_theme([folder, SHIPPED], "harvest")


def named(menu: GuestMenu, *names: str) -> GuestMenu:
    sections = tuple(
        replace(
            section,
            name=names[number % len(names)],
            drinks=tuple(
                replace(drink, name=names[(at + number) % len(names)])
                for at, drink in enumerate(section.drinks)
            ),
        )
        for number, section in enumerate(menu.sections)
    )
    return replace(menu, event=names[0], sections=sections)


def priced(menu: GuestMenu, price: str, **changes: object) -> GuestMenu:
    sections = tuple(
        replace(section, drinks=tuple(replace(drink, price=price, **changes) for drink in section.drinks))
        for section in menu.sections
    )
    return replace(menu, sections=sections)


def arabic() -> GuestMenu:
    menu = named(
        rich_menu(language="ar", direction="rtl"), "عشاء الفوانيس", "حامض المستنقع", "الميناء الهادئ"
    )
    words = {**menu.words, "contains": "يحتوي على", "may_contain": "قد يحتوي على"}
    return replace(menu, words=words)


MENUS = {
    "rich": rich_menu,
    "one drink": single_menu,
    "eighty drinks": long_menu,
    "twelve sections": lambda: long_menu(60, 12),
    "long names": lambda: named(rich_menu(), *LONG_NAMES),
    "no prices, no notes": lambda: priced(rich_menu(), "", lead="", story=""),
    "prices of five digits": lambda: priced(rich_menu(), "¥12,500"),
    "bowls to share": lambda: priced(
        rich_menu(),
        "£1,265.00",
        price_for="for all 10 serves",
        serves=10,
        serves_words="10 serves",
        units="about 12.5 standard drinks in one serve, 125 standard drinks in all",
    ),
    "German": lambda: named(rich_menu(language="de"), "Laternenabend", "Salzwiesensauer", "Stiller Hafen"),
    "Arabic": arabic,
}


@cache
def site_of(name: str, menu: str = "rich") -> dict[str, bytes]:
    """Return the site of one of the menus in a look."""
    return site_files(MENUS[menu](), load_theme([SHIPPED], name))


@pytest.fixture(scope="module")
def on_disk(tmp_path_factory):
    """Return the folder of a menu's site in a look; it is written once."""
    folders: dict[tuple[str, str], Path] = {}

    def folder_of(name: str, menu: str = "rich") -> Path:
        if (name, menu) not in folders:
            folders[name, menu] = tmp_path_factory.mktemp(name)
            for path, content in site_of(name, menu).items():
                file = folders[name, menu] / path
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(content)
        return folders[name, menu]

    return folder_of


def test_there_are_three_moods():
    assert LOOKS == ("bunting", "lawn", "slate")


@pytest.mark.slow
@pytest.mark.parametrize("menu", MENUS)
def test_every_look_says_the_same_in_the_same_order(menu):
    """What differs between looks is in their style sheets: the pages are one and the same."""
    sites = [site_of(name, menu) for name in LOOKS]
    pages = {path for path in sites[0] if path.endswith(".html")}
    for path in pages:
        assert len({bare(site[path].decode()) for site in sites}) == 1, path
    for site in sites:
        assert page_faults(site) == ()


def bare(page: str) -> str:
    """Return a page without its styles, fonts, their addresses and hashes, and the picture in the look's colours."""
    page = re.sub(r"<style>.*?</style>|<link rel=\"stylesheet\"[^>]*>", "", page, flags=re.DOTALL)
    page = re.sub(r"<script>for\(const href.*?</script>\n", "", page)
    return re.sub(r"( ?'sha256-[^']*')+|assets/link\.\w+\.png", "", page)


def test_no_two_looks_share_their_type_their_ground_or_how_a_glass_is_drawn():
    themes = [load_theme([SHIPPED], name) for name in LOOKS]
    for found in (
        {re.search(r"--names:[^;]*", theme.style)[0] for theme in themes},
        {theme.light["ground"] for theme in themes},
        {theme.dark["ground"] for theme in themes},
        {tuple(re.findall(r"\.glass-line\{[^}]*", theme.style)) for theme in themes},
    ):
        assert len(found) == len(LOOKS)


def test_a_look_of_ten_lines_is_published_and_can_be_read(tmp_path):
    assert len(TEN_LINES.splitlines()) == 10
    theme = harvest(tmp_path)
    assert contrast_findings(theme) == ()
    site = site_files(rich_menu(), theme)
    assert page_faults(site) == ()
    (sheet,) = (site[path].decode() for path in site if path.endswith(".css"))
    assert "--ground:#f4efe2" in sheet
    assert "--ground:#1d120b" in sheet
    assert "border-image" in sheet, "the style sheet it extends"


@pytest.mark.parametrize("name", LOOKS)
def test_no_style_holds_words_or_turns_the_order(name):
    """Text in CSS is read by nobody who listens; only drawings, which say nothing, may change places."""
    own = (SHIPPED / name / "style.css").read_text(encoding="utf-8")
    assert set(re.findall(r"(?<![\w-])content:\s*([^;}]*)", own)) <= {'""', "none"}
    for selector, body in re.findall(r"([^{}]*)\{([^{}]*)\}", own):
        if re.search(r"(^|[;\s])order:", body):
            assert selector.strip().endswith(".glass"), selector
        assert not re.search(r"flex-direction:\s*\w+-reverse|direction:", body), selector


FIGURES = """() => {
    const style = (selector) => getComputedStyle(document.querySelector(selector));
    const size = (selector) => parseFloat(style(selector).fontSize);
    return {
        contains: size('.contains dd'), mayContain: size('.may-contain dd'), body: size('.lead'),
        name: size('.head h3'), price: size('.head .price'),
        containsColour: style('.contains dd').color, strong: style('.tell').color,
        marks: style('.may-contain .mark').textDecorationLine,
    };
}"""


@pytest.mark.browser
@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
@pytest.mark.parametrize("name", LOOKS)
def test_the_contains_line_is_never_the_small_print(window, on_disk, name, path):
    theme = load_theme([SHIPPED], name)
    for width, scheme in product((390, 1280), ("light", "dark")):
        found = window.open(on_disk(name) / path, width, scheme=scheme).evaluate(FIGURES)
        assert found["contains"] >= found["body"]
        assert found["mayContain"] >= found["body"]
        assert found["marks"] == "underline", "may contain differs in form"
        assert found["price"] < found["name"], "a price is never louder than the name"
        strong = getattr(theme, scheme)["strong"]
        wanted = "rgb({}, {}, {})".format(*(int(strong[at : at + 2], 16) for at in (1, 3, 5)))
        assert found["containsColour"] == wanted, (width, scheme)


CLASHES = """() => {
    // The height of capitals, not of the line: a tight line may overlap the next one where nothing is printed.
    const inked = (rect, size) => {
        const middle = (rect.top + rect.bottom) / 2;
        return {left: rect.left, right: rect.right, top: middle - size * .38, bottom: middle + size * .38};
    };
    const boxes = (drink, selector) => [...drink.querySelectorAll(selector)].flatMap(e => {
        if (e.tagName === 'svg') return [e.getBoundingClientRect()];
        const range = document.createRange(), size = parseFloat(getComputedStyle(e).fontSize);
        range.selectNodeContents(e);
        return [...range.getClientRects()].filter(rect => rect.width > 2).map(rect => inked(rect, size));
    });
    const meet = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
    const found = [];
    for (const drink of [...document.querySelectorAll('.drink')].slice(0, 16)) {
        const name = boxes(drink, 'h3 a'), price = boxes(drink, '.price');
        const glass = boxes(drink, '.glass'), lead = boxes(drink, '.lead');
        for (const [a, b, what] of [[name, price, 'name and price'], [name, glass, 'name and glass'],
                                    [price, glass, 'price and glass'], [price, lead, 'price and lead'],
                                    [name, lead, 'name and lead'], [glass, lead, 'glass and lead']])
            if (a.some(x => b.some(y => meet(x, y)))) found.push(drink.id + ': ' + what);
    }
    return found;
}"""

RUN_OUT = """() => [...document.querySelectorAll('main :is(h1, h2, h3, p, dd)')]
    .filter(e => e.offsetParent && !e.closest('.unseen'))
    .filter(e => { const b = e.getBoundingClientRect(); return b.left < 0 || b.right > innerWidth; })
    .map(e => e.textContent)"""


@pytest.mark.browser
@pytest.mark.parametrize("menu", MENUS)
@pytest.mark.parametrize("name", LOOKS)
def test_nothing_runs_out_of_the_page_and_no_words_lie_on_others(window, on_disk, name, menu):
    for path in ("index.html", "t/index.html", "allergens.html"):
        page = window.open(on_disk(name, menu) / path, 320)
        for width in (320, 390, 768, 1280) if path == "index.html" else (320,):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (path, width)
            assert page.evaluate(RUN_OUT) == [], (path, width)
            assert page.evaluate(CLASHES) == [], (path, width)


@pytest.mark.browser
@pytest.mark.parametrize("name", LOOKS)
def test_a_font_is_fetched_for_the_menu_and_never_for_the_table(window, on_disk, name):
    folder, asked = on_disk(name), window.asked
    page = window.open(folder / "index.html")
    page.evaluate("document.fonts.ready")
    fonts = {path for path in site_of(name) if path.endswith(".woff2")}
    assert {url.rpartition("/")[2] for url in asked if url.endswith(".woff2")} == {
        path.rpartition("/")[2] for path in fonts
    }
    assert bool(fonts) is bool(load_theme([SHIPPED], name).fonts)
    asked.clear()
    page.goto((folder / "t" / "index.html").as_uri())
    page.evaluate("document.fonts.ready")
    assert [url for url in asked if url.endswith((".woff2", ".css"))] == []


SHIFTS = """
window.shifted = 0;
new PerformanceObserver(list => list.getEntries().forEach(entry => { shifted += entry.value; }))
    .observe({type: 'layout-shift', buffered: true});
"""

TWO_FRAMES = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"

WITH_FONTS = [name for name in LOOKS if load_theme([SHIPPED], name).fonts]


@pytest.fixture
def tab(chromium):
    """A page whose requests may be held back: no other test is given it, nor the fonts it has fetched."""
    with chromium.new_context(viewport={"width": 390, "height": 844}) as context:
        yield context.new_page()


def drawn_with(page, selector: str) -> set[str]:
    """Return the families of the fonts that an element's words are drawn with."""
    phone = page.context.new_cdp_session(page)
    for part in ("DOM", "CSS"):
        phone.send(f"{part}.enable")
    root = phone.send("DOM.getDocument")["root"]["nodeId"]
    found = phone.send("DOM.querySelector", {"nodeId": root, "selector": selector})["nodeId"]
    return {
        font["familyName"] for font in phone.send("CSS.getPlatformFontsForNode", {"nodeId": found})["fonts"]
    }


@pytest.mark.browser
@pytest.mark.parametrize("name", WITH_FONTS)
def test_nothing_moves_when_a_late_font_comes(tab, on_disk, name):
    """Where the look's letters are late the page keeps what stands in for them, and wears them on the next."""
    folder, page = on_disk(name, "long names"), tab
    page.goto((folder / "404.html").as_uri())
    page.add_init_script(SHIFTS)
    held = []
    page.route("**/*.woff2", lambda route: held.append(route))  # noqa: PLW0108  (the library marks what it is given)
    for path in ("index.html", "drinks/saltmarsh-sour.html", "allergens.html", "notices.html"):
        for width in (390, 1280):
            page.set_viewport_size({"width": width, "height": 844})
            page.goto((folder / path).as_uri(), wait_until="domcontentloaded")
            # Longer than a browser waits for a font.
            page.evaluate("new Promise(done => setTimeout(done, 150))")
            page.evaluate(TWO_FRAMES)
            assert held, "the font is asked for"
            while held:
                held.pop().continue_()
            page.evaluate("document.fonts.ready")
            page.evaluate(TWO_FRAMES)
            assert page.evaluate("[...document.fonts].some(font => font.status === 'loaded')")
            assert page.evaluate("shifted") < 0.02, (path, width)
            assert drawn_with(page, "main h1") <= {"DejaVu Serif", "DejaVu Sans"}
    page.unroute("**/*.woff2")
    page.reload()
    assert drawn_with(page, "main h1") == {name.title()}


@pytest.mark.browser
@pytest.mark.parametrize("name", WITH_FONTS)
def test_the_first_page_wears_the_look_s_letters_from_disk_and_from_a_host(chromium, window, on_disk, name):
    site = site_of(name)
    assert drawn_with(window.open(on_disk(name) / "index.html"), "main h1") == {name.title()}
    host = Host(site)
    # The worker would fetch each file once more, for its copy.
    with chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block") as context:
        page = context.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.goto(host.home + "drinks/saltmarsh-sour.html")
        assert drawn_with(page, "main h1") == {name.title()}
    asked = sorted(path for path in host.asked if path.endswith(".woff2"))
    assert asked == sorted(path for path in site if path.endswith(".woff2")), "each is fetched once"
    assert [words for words in said if "Worker" not in words] == []
    host.close()


WIDE = """() => [...document.querySelectorAll('main :is(h1, h2, h3 a, .lead)')].map(part => {
    const range = document.createRange();
    range.selectNodeContents(part);
    return [...range.getClientRects()].reduce((sum, rect) => sum + rect.width, 0);
}).reduce((sum, width) => sum + width, 0)"""


@pytest.mark.browser
@pytest.mark.parametrize("name", WITH_FONTS)
def test_what_stands_in_for_a_font_is_as_wide(tab, on_disk, name):
    """So that a page looks composed without the look's letters: their share of a line is what the look was set for."""
    page = tab
    page.goto((on_disk(name) / "index.html").as_uri())
    own = page.evaluate(WIDE)
    page.route("**/*.woff2", lambda route: route.abort())
    page.reload()
    assert drawn_with(page, "main h1") <= {"DejaVu Serif", "DejaVu Sans"}
    assert page.evaluate(WIDE) == pytest.approx(own, rel=0.05)
