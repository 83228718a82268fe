"""The pages where a guest's phone is set up otherwise: no script, its own colours, no motion, four times the size."""

import pytest

from tests.browser.axe import axe_finds
from tests.browser.conftest import LOOKS
from tests.browser.test_every_page import PAGES

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("path", ["site/index.html", "site/t/index.html"])
@pytest.mark.parametrize("look", LOOKS)
def test_the_filter_works_without_script(chromium, published, look, path):
    with chromium.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False) as context:
        page = context.new_page()
        page.goto((published[look] / path).as_uri())
        page.locator("details summary").first.click()
        drinks = page.locator("li.drink")
        every = [drinks.nth(number).get_attribute("id") for number in range(drinks.count())]
        ask = page.locator("li#saltmarsh-sour .ask", has_text="aquafaba").first
        assert page.locator("li#estuary-spritz").is_visible()
        assert not ask.is_visible()
        page.locator("form label", has_text="eggs").first.click()
        assert not page.locator("li#estuary-spritz").is_visible(), (
            "it may contain eggs, whatever is asked for"
        )
        assert page.locator("li#saltmarsh-sour").is_visible(), "it can be made without"
        assert ask.is_visible()
        assert page.locator("li#quiet-harbour").is_visible()
        page.locator("button[type=reset]").first.click()
        assert all(page.locator(f"li#{drink}").is_visible() for drink in every)
        assert not ask.is_visible()


@pytest.mark.parametrize("look", LOOKS)
def test_forced_colours_keep_every_word_and_rule(chromium, published, look):
    with chromium.new_context(
        viewport={"width": 390, "height": 844}, forced_colors="active", color_scheme="dark", bypass_csp=True
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


@pytest.mark.parametrize("look", LOOKS)
def test_nothing_moves_where_motion_is_not_wanted(chromium, published, look):
    with chromium.new_context(viewport={"width": 390, "height": 844}, reduced_motion="reduce") as context:
        page = context.new_page()
        for path in ("site/index.html", "site/t/index.html", "site/allergens.html"):
            page.goto((published[look] / path).as_uri())
            assert page.evaluate(MOVING) == [], path


@pytest.mark.parametrize("look", LOOKS)
def test_at_four_hundred_per_cent_nothing_runs_out_of_the_window(chromium, published, look):
    # 1280 px at 400 % are 320 px of page, four device pixels each.
    with chromium.new_context(viewport={"width": 320, "height": 256}, device_scale_factor=4) as context:
        page = context.new_page()
        for path in PAGES[:6]:
            page.goto((published[look] / path).as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
