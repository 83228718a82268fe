"""Every kind of page, in every look, light and dark, by the tools that read accessibility and HTML rules."""

import os
import shutil
import subprocess
from collections.abc import Iterator

import pytest

from tests.browser.axe import ALL, OF_COLOURS, axe_finds
from tests.browser.conftest import LANGUAGES, LOOKS

pytestmark = pytest.mark.browser

PAGES = (
    "site/index.html",
    "site/t/index.html",
    "site/drinks/saltmarsh-sour.html",
    "site/allergens.html",
    "site/notices.html",
    "site/404.html",
    "print/cards-a4.html",
)


TRANSLATED = tuple(page.replace("site/", f"site/{code}/", 1) for code in LANGUAGES[1:] for page in PAGES[:5])
"""The same pages in the event's further languages."""


def axe_reads() -> Iterator[tuple[str, str, list[tuple[str, dict[str, object]]]]]:
    """Yield look, page, and the rules axe reads it by in which light.

    Looks have the same pages (tests/writing/test_looks.py), but a style sheet can hide, cover and shrink: in the bar's
    own language each look's pages are read in both lights. Arabic turns each look round, which moves words to other
    grounds. Words alone tell French from English, and no look has words of its own.
    """
    for look in LOOKS:
        for path in PAGES:
            yield look, path, [("light", ALL), ("dark", OF_COLOURS)]
        for path in TRANSLATED:
            if "/ar/" in path or look == LOOKS[0]:
                yield look, path, [("light", ALL)]


@pytest.fixture(scope="module")
def phone(chromium):
    with chromium.new_context(
        viewport={"width": 390, "height": 844}, reduced_motion="reduce", bypass_csp=True
    ) as context:
        yield context.new_page()


@pytest.mark.parametrize(
    ("look", "path", "lights"),
    [pytest.param(*case, id="-".join(case[:2])) for case in axe_reads()],
)
def test_axe_finds_nothing(phone, published, look, path, lights):
    phone.emulate_media(color_scheme="light")
    phone.goto((published[look] / path).as_uri())
    for scheme, rules in lights:
        phone.emulate_media(color_scheme=scheme)
        assert axe_finds(phone, rules) == [], scheme


def test_the_nu_checker_finds_no_error(published):
    jar = os.environ.get("MENUGEN_NU_CHECKER")
    if not jar or shutil.which("java") is None:
        if os.environ.get("MENUGEN_BROWSER") == "required":
            pytest.fail("this run must have Java and MENUGEN_NU_CHECKER, the path of vnu.jar")
        pytest.skip("MENUGEN_NU_CHECKER, the path of vnu.jar, is not set")
    files = {
        kind: [str(file) for look in LOOKS for file in sorted(published[look].rglob(f"*.{kind}"))]
        for kind in ("css", "svg")
    }
    # Looks have the same pages, but for styles in the heads of each kind.
    first, *others = LOOKS
    files["html"] = [str(file) for file in sorted(published[first].rglob("*.html"))]
    files["html"] += [str(published[look] / path) for look in others for path in PAGES]
    assert all(len(found) >= len(LOOKS) for found in files.values())
    # In one go, as most of the time is what Java takes to warm up: it is told that it need not live long.
    java = ("java", "-Xss8m", "-XX:TieredStopAtLevel=1")
    checker = (*java, "-jar", jar, "--errors-only", "--also-check-css", "--also-check-svg")
    done = subprocess.run(
        [*checker, *files["html"], *files["css"], *files["svg"]], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("look", LOOKS)
def test_no_page_scrolls_sideways_at_320_nor_asks_another_host_nor_breaks_its_policy(window, published, look):
    """Nor at 320 by 256, which is a window of 1280 by 1024 at four hundred per cent."""
    said: list[str] = []
    asked: list[str] = []
    for path in (*PAGES[:6], *TRANSLATED):
        page = window.open(published[look] / path, 320, 256)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
        page.set_viewport_size({"width": 320, "height": 640})
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
        direction = page.evaluate("getComputedStyle(document.body).direction")
        assert direction == ("rtl" if "/ar/" in path else "ltr"), path
        said += window.said
        asked += window.asked
    assert said == []
    assert {address.partition(":")[0] for address in asked} <= {"file", "data"}


SHOWN = """slugs => slugs.filter(slug => {
    const drink = document.querySelector(`li#${slug}`);
    return drink && drink.checkVisibility({visibilityProperty: true}) && drink.getBoundingClientRect().height > 0;
})"""


@pytest.mark.parametrize("path", ["site/index.html", "site/t/index.html"])
@pytest.mark.parametrize("look", LOOKS)
def test_the_filter_hides_what_the_labels_name_and_nothing_else(window, demo, published, look, path):
    facts = next(facts for facts in demo.events if facts.event.slug == "lantern-supper")
    holds = {
        slug: [
            {item.entry_id for item in (*serve.declaration.contains, *serve.declaration.may_contain)}
            for serve in (drink.serve, *(way.serve for way in (*drink.swaps, *drink.combined)))
        ]
        for slug, drink in facts.drinks.items()
    }
    page = window.open(published[look] / path)
    boxes = page.locator("form input[type=checkbox]")
    named = boxes.evaluate_all(
        "found => found.map(box => [box.id, box.closest('label').querySelector('span span').textContent.trim()])"
    )
    groups = {entry.id: entry.name for entry in facts.setting.region.regime.entries}
    tried = 0
    for box_id, label in named:
        entry = next((key for key, name in groups.items() if name.casefold() == label.casefold()), None)
        if entry is None:
            continue
        page.evaluate("id => { document.getElementById(id).checked = true }", box_id)
        shown = set(page.evaluate(SHOWN, list(holds)))
        assert shown == {slug for slug, ways in holds.items() if any(entry not in way for way in ways)}, label
        page.evaluate("id => { document.getElementById(id).checked = false }", box_id)
        tried += 1
    assert tried >= 8
