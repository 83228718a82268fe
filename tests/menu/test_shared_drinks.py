"""A bowl on the menu: how many share it, the units of each and of all, what the price is for, and allergens once."""

import json
import re
from functools import cache

import pytest

from menugen.facts import EventFacts, work_out_event
from menugen.menu import GuestDrink, GuestMenu, catalogue_languages, guest_menu
from menugen.shipped import shipped_folder
from menugen.writing.theme import load_theme
from tests.houses import EVENT, SOUR, reading_of, texts
from tests.writing.fixtures import site_files

BOWL = """\
---
name: Tide Bowl
serves: 10
pour: [440 ml gin, 250 ml lemon juice, 200 ml orgeat]
top: soda water
method: build
glass: punch bowl
ice: cubed
swap:
  gin: 440 ml lemon juice
---
For the whole table.
"""
WHOLE = "17.6 units"
NBSP = "\N{NO-BREAK SPACE}"


@cache
def facts_of(price: str = ": 65.00", bowl: str = BOWL, more: str = "") -> EventFacts:
    languages = ", ".join(catalogue_languages())
    event = EVENT.replace("menu:", f"languages: [{languages}]\nlisted: yes\n{more}menu:")
    event = event.rstrip() + f"\n      - tide-bowl{price}\n"
    if more:
        event = event.replace("      - marsh-sour: 9.50\n", "")
    files = texts(
        **{"specs/tide-bowl.md": bowl, "events/small-supper.yaml": event, "specs/marsh-sour.md": SOUR}
    )
    house = reading_of(files).house
    assert house is not None
    facts, problems = work_out_event(house, house.events["small-supper"])
    assert facts is not None
    assert problems == ()
    return facts


def menu(language: str = "en", **changed: str) -> GuestMenu:
    return guest_menu(facts_of(**changed), "slate", language)


def drink(found: GuestMenu, slug: str = "tide-bowl") -> GuestDrink:
    return next(drink for section in found.sections for drink in section.drinks if drink.id == slug)


def pages(found: GuestMenu) -> dict[str, str]:
    theme = load_theme([shipped_folder("themes")], "slate")
    files = site_files(found, theme).items()
    return {path: content.decode() for path, content in files if path.endswith((".html", ".json"))}


def words(page: str) -> str:
    plain = re.sub(r"<svg.*?</svg>|<script.*?</script>|<style.*?</style>", "", page, flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", plain).replace(NBSP, " ").split())


def of_the_bowl(page: str) -> str:
    """What a menu page says of the bowl, the last drink, while nobody has ticked anything."""
    told = page[page.index('<li class="drink" id="tide-bowl"') :].partition("</section>")[0]
    told = re.sub(r'<ul role="list" class="ways".*?</ul>', "", told, flags=re.DOTALL)
    return told.partition('<p class="some-hidden"')[0]


def test_a_guest_reads_one_serve_and_the_whole() -> None:
    bowl = drink(menu())
    assert (bowl.serves, bowl.serves_words) == (10, f"10{NBSP}serves")
    assert bowl.units == f"about 1.8 units in one serve, {WHOLE} in all"
    assert (bowl.price, bowl.price_for) == ("£65.00", f"for all 10{NBSP}serves")
    assert bowl.glass == "punch bowl"


def test_its_strength_is_what_it_is_for_one() -> None:
    bowl, sour = drink(menu()), drink(menu(), "marsh-sour")
    assert re.fullmatch(rf"about [\d.]+{NBSP}% vol", bowl.strength)
    assert (sour.serves, sour.serves_words, sour.price_for, sour.units) == (1, "", "", "2 units")


def test_a_swap_says_one_serve_and_the_whole_too() -> None:
    with_wine = BOWL.replace("440 ml lemon juice", "750 ml white wine")
    (swap,) = drink(menu(bowl=with_wine)).swaps
    assert swap.units == "about 0.9 units in one serve, 9 units in all"
    (swap,) = drink(menu()).swaps
    assert swap.units == ""


@pytest.mark.parametrize("language", catalogue_languages())
def test_every_language_says_it_with_the_same_figures(language: str) -> None:
    bowl = drink(menu(language))
    assert bowl.serves_words.startswith(f"10{NBSP}")
    assert bowl.serves_words in bowl.price_for
    assert "{" not in f"{bowl.units}{bowl.price_for}"
    figures = [figure.replace(",", ".") for figure in re.findall(r"\d+[.,]\d+", bowl.units)]
    assert figures == ["1.8", "17.6"]
    if language != "en":
        assert "serve" not in f"{bowl.units} {bowl.price_for} {bowl.glass}"
        assert bowl.glass != "punch bowl"
        assert bowl.glass_language == ""


@pytest.mark.parametrize("path", ["index.html", "t/index.html"])
def test_the_menu_and_the_table_menu_say_it_at_the_drink(path: str) -> None:
    page = pages(menu())[path]
    told = words(of_the_bowl(page))
    assert "£65.00 for all 10 serves" in told
    assert f"about 1.8 units in one serve, {WHOLE} in all" in told
    assert told.count("almonds") == 1
    assert told.count("Contains") == 1
    # Said with the price, it is not said again.
    assert told.count("10 serves") == 1
    sour = page[page.index('id="marsh-sour"') : page.index('id="tide-bowl"')]
    assert "serve" not in words(sour)


def test_without_a_price_it_still_says_how_many_it_serves() -> None:
    found = menu(price="")
    assert drink(found).price_for == ""
    assert "For sharing 10 serves" in words(of_the_bowl(pages(found)["t/index.html"]))


def test_its_own_page_says_it_all_and_allergens_once() -> None:
    told = words(pages(menu())["drinks/tide-bowl.html"])
    assert "For sharing 10 serves" in told
    assert f"Alcohol about 1.8 units in one serve, {WHOLE} in all" in told
    assert "Price £65.00 for all 10 serves" in told
    before_swaps = told.partition("Can be made another way")[0]
    assert before_swaps.count("almonds") == 1


def test_the_allergen_table_has_one_row_for_it() -> None:
    page = pages(menu())["allergens.html"]
    assert page.count("drinks/tide-bowl.html") == page.count("drinks/marsh-sour.html") >= 1


def test_programs_get_how_many_and_what_the_price_is_for() -> None:
    form = json.loads(pages(menu())["menu.json"])
    sour, bowl = form["sections"][0]["drinks"]
    assert (bowl["serves"], bowl["price"], bowl["price_for"]) == (10, "£65.00", f"for all 10{NBSP}serves")
    assert bowl["units"] == f"about 1.8 units in one serve, {WHOLE} in all"
    assert (sour["serves"], sour["price_for"]) == (1, "")


def test_search_engines_get_the_price_of_the_whole_and_are_told_so() -> None:
    page = pages(menu())["index.html"]
    data = re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    assert data is not None
    sour, bowl = json.loads(data[1])["hasMenuSection"][0]["hasMenuItem"]
    assert bowl["offers"]["price"] == "65.00"
    assert bowl["offers"]["description"] == f"for all 10{NBSP}serves"
    assert "description" not in sour["offers"]


def test_units_have_a_line_of_their_own_where_there_are_two() -> None:
    page = pages(menu())["index.html"]
    bowl, sour = of_the_bowl(page), page[page.index('id="marsh-sour"') : page.index('id="tide-bowl"')]
    assert re.search(r'<div class="shared"><dt class="unseen">Alcohol</dt><dd>about 1\.8', bowl)
    assert "shared" not in sour
    with_wine = BOWL.replace("440 ml lemon juice", "750 ml white wine")
    swaps = pages(menu(bowl=with_wine))["drinks/tide-bowl.html"].partition("Can be made another way")[2]
    assert '<div class="shared"><dt class="unseen">Alcohol</dt><dd>about 0.9' in swaps


def test_where_nothing_is_said_of_alcohol_or_price_a_jug_still_says_how_many_it_serves() -> None:
    jug = (
        "---\nname: Tide Jug\nserves: 6\npour: [250 ml lemon juice, 200 ml orgeat]\ntop: soda water\n"
        "method: build\nglass: jug\n---\n"
    )
    found = menu(bowl=jug, price="", more="alcohol: none\n")
    assert (drink(found).strength, drink(found).units) == ("", "")
    assert "For sharing 6 serves" in words(of_the_bowl(pages(found)["index.html"]))


def test_free_is_free_and_a_host_says_no_price() -> None:
    assert (drink(menu(price=": 0")).price, drink(menu(price=": 0")).price_for) == ("free", "")
    hosted = guest_menu(facts_of(more="hosted: yes\n"), "slate", "en")
    assert (drink(hosted).price, drink(hosted).price_for) == ("", "")
    assert "For sharing 10 serves" in words(of_the_bowl(pages(hosted)["index.html"]))


def test_a_way_that_a_choice_leaves_says_one_serve_and_the_whole_too() -> None:
    without_almonds = BOWL.replace("gin: 440 ml lemon juice", "orgeat: 200 ml sugar syrup")
    for path in ("index.html", "t/index.html"):
        page = pages(menu(bowl=without_almonds))[path]
        page = page[page.index('<li class="drink" id="tide-bowl"') :]
        ways = re.search(r'<ul role="list" class="ways".*?</ul>', page, re.DOTALL)
        assert ways is not None
        assert '<div class="shared"><dt class="unseen">Alcohol</dt><dd>about 1.8' in ways[0]
        assert f"{WHOLE} in all" in words(ways[0])
