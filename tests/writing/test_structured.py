"""The menu for search engines: the page's own facts, nothing promised, nothing that breaks out of its place."""

import json
from dataclasses import replace

from menugen.menu import GuestMenu, GuestSection
from menugen.writing.structured import plain_text, structured_menu
from tests.writing.fixtures import drink, menu_of, rich_menu


def told(menu: GuestMenu) -> dict[str, object]:
    return json.loads(structured_menu(menu))


def listed(**changes: object) -> GuestMenu:
    served = replace(drink("quiet-harbour", "Quiet Harbour"), **changes)
    return menu_of((GuestSection("part", "Part", "", (served,)),), listed=True, currency="GBP")


def test_sections_items_and_offers_are_those_of_the_menu():
    found = told(listed(price_value="9.50"))
    assert found == {
        "@context": "https://schema.org",
        "@type": "Menu",
        "name": "Lantern Supper",
        "inLanguage": "en-GB",
        "url": "https://menu.example/lantern/",
        "hasMenuSection": [
            {
                "@type": "MenuSection",
                "name": "Part",
                "hasMenuItem": [
                    {
                        "@type": "MenuItem",
                        "name": "Quiet Harbour",
                        "description": "Cold, dry and salty.",
                        "url": "https://menu.example/lantern/drinks/quiet-harbour.html",
                        "offers": {
                            "@type": "Offer",
                            "price": "9.50",
                            "priceCurrency": "GBP",
                            "availability": "https://schema.org/InStock",
                        },
                    }
                ],
            }
        ],
    }


def item(**changes: object) -> dict[str, object]:
    return told(listed(**changes))["hasMenuSection"][0]["hasMenuItem"][0]


def test_what_is_sold_out_is_not_in_stock():
    assert item(price_value="9.50", off=True)["offers"]["availability"] == "https://schema.org/SoldOut"


def test_nothing_is_offered_where_nothing_is_charged():
    assert "offers" not in item(price="", price_value="")


def test_notes_lose_their_marks_and_a_drink_without_any_says_what_it_is_made_with():
    assert item(lead="A *wave* & a [bay](https://example.org/).")["description"] == "A wave & a bay."
    assert item(lead="")["description"] == "dry gin, fino sherry, samphire syrup"
    assert plain_text("") == ""
    assert plain_text("&amp;lt; and <b>") == "&lt; and <b>"


def test_no_diet_is_ever_promised():
    nothing_listed = drink("plain", "Plain", contains=(), may_contain=(), alcohol_free=True)
    menu = menu_of((GuestSection("part", "Part", "", (nothing_listed,)),), listed=True)
    assert "Diet" not in structured_menu(menu)
    assert "Diet" not in structured_menu(replace(rich_menu(), listed=True))


def test_a_menu_that_may_not_be_listed_tells_search_engines_nothing():
    assert structured_menu(rich_menu(listed=False)) == ""


def test_words_cannot_break_out_of_the_script():
    hostile = '</script><script>alert(1)</script><!-- & "\u2028'
    text = structured_menu(listed(name=hostile, lead=hostile))
    assert not set("<>&") & set(text)
    assert item(name=hostile)["name"] == hostile


def test_without_an_address_links_count_from_the_page():
    found = told(replace(listed(), address=""))
    assert "url" not in found
    assert found["hasMenuSection"][0]["hasMenuItem"][0]["url"] == "drinks/quiet-harbour.html"
