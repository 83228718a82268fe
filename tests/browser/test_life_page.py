"""The private page of a drink's life, in a real browser."""

from pathlib import Path

import pytest

from menugen.cli.drink_history import life_html
from menugen.past.drink_history import history_of
from menugen.publishing import no_progress
from tests.browser.axe import ALL, OF_COLOURS, axe_finds
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


def test_it_can_be_read_by_everyone_and_asks_nobody_for_anything(measured, page_file):
    page = measured.open(page_file, 320, 800)
    for scheme, width, rules in (
        ("light", 320, ALL),
        ("dark", 320, OF_COLOURS),
        ("light", 1100, ALL),
        ("dark", 1100, OF_COLOURS),
    ):
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size({"width": width, "height": 800})
        assert axe_finds(page, rules) == [], (scheme, width)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        shown = [svg for svg in page.query_selector_all("svg") if svg.is_visible()]
        assert len(shown) == 1
    assert measured.asked == [page_file.as_uri()]


def test_its_policy_lets_its_own_style_through(window, page_file):
    page = window.open(page_file)
    assert page.evaluate("getComputedStyle(document.querySelector('.private')).borderTopWidth") == "2px"
    assert window.said == []
