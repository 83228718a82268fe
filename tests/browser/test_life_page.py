"""The private page of a drink's life, in a real browser."""

from pathlib import Path

import pytest

from menugen.cli.drink_history import life_html
from menugen.past.drink_history import history_of
from menugen.publishing import no_progress
from tests.browser.axe import axe_finds
from tests.revisions.repositories import books

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def page_file(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("life")
    house = books(folder / "bar")
    for number in range(51, 63):
        house.edit("specs/marsh-sour.md", f"{number - 1} ml gin", f"{number} ml gin")
        house.commit(f"To {number}", day=f"2026-11-{number - 49:02}")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    file = folder / "marsh-sour.html"
    file.write_text(life_html(history_of(house.house, "marsh-sour", progress=no_progress)), "utf-8")
    return file


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1100])
def test_it_can_be_read_by_everyone_and_asks_nobody_for_anything(chromium, page_file, scheme, width):
    context = chromium.new_context(
        viewport={"width": width, "height": 800}, color_scheme=scheme, bypass_csp=True
    )
    with context:
        page = context.new_page()
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(page_file.as_uri())
        assert axe_finds(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        shown = [svg for svg in page.query_selector_all("svg") if svg.is_visible()]
        assert len(shown) == 1
    assert asked == [page_file.as_uri()]


def test_its_policy_lets_its_own_style_through(chromium, page_file):
    context = chromium.new_context()
    with context:
        page = context.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.goto(page_file.as_uri())
        assert page.evaluate("getComputedStyle(document.querySelector('.private')).borderTopWidth") == "2px"
    assert said == []
