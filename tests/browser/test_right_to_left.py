"""The menu in Arabic: it runs from right to left, and what must not turn round does not."""

from dataclasses import replace
from pathlib import Path

import axe_playwright_python
import pytest

from menugen.publishing import Look, event_files
from tests.browser.conftest import EVENT, LOOKS

pytestmark = pytest.mark.browser

AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js").read_text("utf-8")
PAGES = ("index.html", "t/index.html", "drinks/saltmarsh-sour.html", "allergens.html", "notices.html")

PLACE_OF = """
([selector, words]) => [...document.querySelectorAll(selector)].flatMap((element) => {
  const found = [];
  const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const at = words.map((word) => node.data.indexOf(word));
    if (at.some((start) => start < 0)) continue;
    found.push(at.map((start, number) => {
      const range = document.createRange();
      range.setStart(node, start);
      range.setEnd(node, start + words[number].length);
      const box = range.getBoundingClientRect();
      return [box.left, box.top];
    }));
  }
  return found;
})
"""
"""Where words that stand in one text are drawn, by element."""


@pytest.fixture(scope="module", params=LOOKS)
def arabic(request, demo: Look, tmp_path_factory) -> Path:
    facts = next(facts for facts in demo.events if facts.event.slug == EVENT)
    event = replace(facts.event, theme=request.param, languages=("en", "ar"))
    folder = tmp_path_factory.mktemp(request.param)
    for path, content in event_files(demo, replace(facts, event=event)).items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder / "site" / "ar"


def opened(chromium, file: Path, width: int):
    page = chromium.new_page(viewport={"width": width, "height": 800}, bypass_csp=True)
    page.goto(file.as_uri())
    return page


@pytest.mark.parametrize("path", PAGES)
def test_axe_finds_nothing_but_what_it_finds_in_english(chromium, arabic, path):
    """Contrast is judged on the English pages: a look's colours do not change with the language."""
    found = []
    for file in (arabic / path, arabic.parent / path):
        page = opened(chromium, file, 390)
        page.evaluate(AXE)
        result = page.evaluate("axe.run(document)")
        assert result["passes"], "axe looked at nothing"
        found.append({rule["id"] for rule in result["violations"]} - {"color-contrast"})
        page.close()
    assert found == [set(), set()]


@pytest.mark.parametrize("path", PAGES)
def test_no_page_scrolls_sideways(chromium, arabic, path):
    page = opened(chromium, arabic / path, 320)
    assert page.evaluate("getComputedStyle(document.body).direction") == "rtl"
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.close()


def test_a_number_to_dial_is_read_from_left_to_right(chromium, arabic):
    page = opened(chromium, arabic / "notices.html", 1200)
    [[first, second, third]] = page.evaluate(PLACE_OF, ["li", ["0300", "123", "1110"]])
    assert first[1] == second[1] == third[1], "the number is broken across lines"
    assert first[0] < second[0] < third[0]
    page.close()


def test_english_words_keep_their_order_and_stand_on_the_right(chromium, arabic):
    page = opened(chromium, arabic / "drinks" / "saltmarsh-sour.html", 1200)
    [[bright, silky]] = page.evaluate(PLACE_OF, [".lead", ["Bright", "silky"]])
    assert bright[0] < silky[0]
    heading = page.locator("h1").evaluate(
        "e => [getComputedStyle(e).direction, getComputedStyle(e).textAlign]"
    )
    assert heading[0] == "ltr"
    assert heading[1] in {"right", "center"}
    page.close()


def test_the_switch_is_large_enough_for_a_finger_and_leads_to_the_same_page(chromium, arabic):
    for path in PAGES:
        page = opened(chromium, arabic / path, 390)
        link = page.locator(".languages a")
        assert link.get_attribute("lang") == "en"
        assert link.bounding_box()["height"] >= 44
        link.click()
        assert page.url == (arabic.parent / path).as_uri()
        assert page.locator("html").get_attribute("lang") == "en-GB"
        page.close()
