"""On the pages: what a spirit was distilled from, and what labels name, in lines of their own."""

import re
from dataclasses import replace

import pytest

from menugen.menu import AllergenMark, Choice, GuestMenu, GuestSection, PageText, TableColumn
from tests.writing.fixtures import EGG, drink, menu_of
from tests.writing.test_site import pages_of, site_of

WHEAT = AllergenMark("wheat", "wheat", "cereals")


def menu() -> GuestMenu:
    made = drink(
        "gin-cup",
        "Gin Cup",
        contains=(EGG,),
        distilled_from=(WHEAT,),
        distilled_words=(PageText("wheat, "), PageText("Mais", "de")),
        also_named=(PageText("mango"),),
        also_warned_of=(PageText("chestnut"),),
    )
    return replace(
        menu_of((GuestSection("short", "Short", "", (made,)),)),
        columns=tuple(TableColumn(mark) for mark in (EGG, WHEAT)),
        choices=tuple(Choice(mark.id, mark.word, mark.icon) for mark in (EGG, WHEAT)),
    )


def plain(page: str) -> str:
    return re.sub(r"\s+", " ", page)


@pytest.mark.parametrize("path", ["index.html", "drinks/gin-cup.html", "t/index.html"])
def test_each_stands_in_a_line_of_its_own_and_never_in_that_of_what_it_contains(path):
    page = plain(pages_of(site_of(menu()))[path])
    contains = re.search(r'<div class="contains">.*?</div>', page)
    assert contains is not None
    assert not re.search("wheat|mango|chestnut|Mais", contains[0])
    said = '<dt>Distilled from</dt><dd>wheat, <span lang="de" dir="auto">Mais</span></dd>'
    assert said in page
    assert "<dt>Labels also name</dt><dd>mango</dd>" in page
    assert "<dt>Labels also warn of</dt><dd>chestnut</dd>" in page


def test_the_table_says_it_in_its_own_words():
    table = plain(pages_of(site_of(menu()))["allergens.html"])
    assert '<td class="may"><span>distilled from</span></td>' in table


def test_a_drink_without_any_has_none_of_the_lines():
    page = plain(
        pages_of(site_of(menu_of((GuestSection("short", "Short", "", (drink("plain", "Plain"),)),))))[
            "index.html"
        ]
    )
    for line in ("Distilled from", "Labels also"):
        assert line not in page
