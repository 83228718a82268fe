"""The menu in Arabic: it runs from right to left, and what must not turn round does not."""

from pathlib import Path

import pytest

from tests.browser.conftest import LOOKS

pytestmark = pytest.mark.browser

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
def arabic(request, published) -> Path:
    return published[request.param] / "site" / "ar"


def test_a_number_to_dial_is_read_from_left_to_right(window, arabic):
    page = window.open(arabic / "notices.html", 1200)
    [[first, second, third]] = page.evaluate(PLACE_OF, ["li", ["0300", "123", "1110"]])
    assert first[1] == second[1] == third[1], "the number is broken across lines"
    assert first[0] < second[0] < third[0]


def test_english_words_keep_their_order_and_stand_on_the_right(window, arabic):
    page = window.open(arabic / "drinks" / "saltmarsh-sour.html", 1200)
    [[bright, silky]] = page.evaluate(PLACE_OF, [".lead", ["Bright", "silky"]])
    assert bright[0] < silky[0]
    heading = page.locator("h1").evaluate(
        "e => [getComputedStyle(e).direction, getComputedStyle(e).textAlign]"
    )
    assert heading[0] == "ltr"
    assert heading[1] in {"right", "center"}


def test_the_switch_is_large_enough_for_a_finger_and_leads_to_the_same_page(window, arabic):
    for path in PAGES:
        page = window.open(arabic / path, 390)
        link = page.locator(".languages a[lang=en]")
        assert link.bounding_box()["height"] >= 44
        link.click()
        assert page.url == (arabic.parent / path).as_uri()
        assert page.locator("html").get_attribute("lang") == "en-GB"
