"""The pages where a guest's phone is set up otherwise: no script, its own colours, no motion.

Four times the size is tried on every page in test_every_page.py.
"""

import pytest

from tests.browser.axe import axe_finds
from tests.browser.conftest import LOOKS
from tests.browser.test_every_page import PAGES

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def without_script(chromium):
    with chromium.new_context(viewport=PHONE, java_script_enabled=False) as context:
        yield context.new_page()


@pytest.mark.parametrize("path", ["site/index.html", "site/t/index.html"])
@pytest.mark.parametrize("look", LOOKS)
def test_the_filter_works_without_script(without_script, published, look, path):
    page = without_script
    page.goto((published[look] / path).as_uri())
    drinks = page.locator("li.drink")
    page.locator("details summary").first.click()
    ask = page.locator("li#saltmarsh-sour .ask", has_text="aquafaba").first
    assert page.locator("li#estuary-spritz").is_visible()
    assert not ask.is_visible()
    page.locator("form label", has_text="eggs").first.click()
    assert not page.locator("li#estuary-spritz").is_visible(), "it may contain eggs, whatever is asked for"
    assert page.locator("li#saltmarsh-sour").is_visible(), "it can be made without"
    assert ask.is_visible()
    assert page.locator("li#quiet-harbour").is_visible()
    page.locator("button[type=reset]").first.click()
    assert all(drinks.evaluate_all("found => found.map(drink => drink.checkVisibility())"))
    assert drinks.count() > 1
    assert not ask.is_visible()


@pytest.mark.parametrize("look", LOOKS)
def test_forced_colours_keep_every_word_and_rule(chromium, published, look):
    with chromium.new_context(
        viewport=PHONE, forced_colors="active", color_scheme="dark", bypass_csp=True
    ) as context:
        page = context.new_page()
        found = []
        for path in PAGES[:6]:
            page.goto((published[look] / path).as_uri())
            found += [(path, *finding) for finding in axe_finds(page)]
        assert found == []


MOVING = """() => [...document.querySelectorAll("*")].filter(element => {
    const style = getComputedStyle(element);
    const changing = style.transitionDuration.split(",").some(time => parseFloat(time) > 0);
    return style.animationName !== "none" || changing || style.scrollBehavior === "smooth";
}).map(element => element.tagName)"""


@pytest.fixture(scope="module")
def still(chromium):
    with chromium.new_context(viewport=PHONE, reduced_motion="reduce") as context:
        yield context.new_page()


@pytest.mark.parametrize("look", LOOKS)
def test_nothing_moves_where_motion_is_not_wanted(still, published, look):
    for path in ("site/index.html", "site/t/index.html", "site/allergens.html"):
        still.goto((published[look] / path).as_uri())
        assert still.evaluate(MOVING) == [], path
