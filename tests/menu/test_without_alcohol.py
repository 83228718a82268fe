"""Menus none of whose drinks holds alcohol: what their pages no longer speak of, in every language, in every file."""

import re

import pytest

from menugen import regions
from menugen.facts import EventFacts, work_out_event
from menugen.menu import WORDS, GuestMenu, catalogue_languages, guest_menu
from menugen.menu.catalogue import load_catalogue
from menugen.menu.words import NO_ALCOHOL, WITHOUT_ALCOHOL
from menugen.shipped import shipped_folder
from menugen.writing.theme import load_theme
from tests.houses import EVENT, HOUSE, STOCK, reading_of, with_drinks
from tests.writing.fixtures import card_files, site_files

SOFT = """
---
name: Paper Kite
pour:
  - 50 ml lemon juice
  - 20 ml sugar syrup
  - 1 egg white
  - top with soda water
method: [shake]
glass: highball
garnish: lemon twist
swap:
  egg white: 20 ml aquafaba
---
Sharp and tall.
"""
STRONG = SOFT.replace("50 ml lemon juice", "50 ml gin").replace("Paper Kite", "Long Sour")
PILL = """
pill syrup:
  kind: simple_syrup_1_1_weight
  abv: 0 %
  contains: none
  cautions: [medicines, caffeine]
  checked: 2026-11-01
"""

OF_ALCOHOL = {"age", "strength", "pregnancy", "driving", "help", "measures"}

PLACES = [code for code, _ in regions.known_regions()]


def facts_of(
    specs: dict[str, str], head: str = "", region: str = "GB-ENG", languages: str = "[en]"
) -> EventFacts:
    event = EVENT.replace("address:", f"{head}region: {region}\nlanguages: {languages}\naddress:")
    house = reading_of(with_drinks(specs, event=event, stock=STOCK + PILL, house=HOUSE)).house
    assert house is not None
    facts, problems = work_out_event(house, house.events["small-supper"])
    assert facts is not None
    assert not [problem for problem in problems if problem.code != "drink-twice"], problems
    return facts


def menu_of(specs: dict[str, str], head: str = "", region: str = "GB-ENG", language: str = "en") -> GuestMenu:
    return guest_menu(facts_of(specs, head, region, f"[{language}]"), "slate", language)


def files_of(menu: GuestMenu) -> dict[str, str]:
    """Everything a guest can meet, as text: pages, menu.json, cards; no styles, scripts or pictures."""
    files = site_files(menu, load_theme([shipped_folder("themes")], "slate")) | card_files(menu)
    texts = {path: content.decode() for path, content in files.items() if path.endswith((".html", ".json"))}
    return {
        path: re.sub(r"<(style|script)>.*?</\1>", "", text, flags=re.DOTALL) for path, text in texts.items()
    }


def said_of_alcohol(language: str, region: str) -> set[str]:
    """Every text that speaks of alcohol, as pages in a language have it."""
    catalogue = load_catalogue(language)
    place = regions.load_region(region, facts_of({"kite": SOFT}).event.date)
    texts = {WORDS[name] for name in WITHOUT_ALCOHOL}
    texts |= {
        WORDS[name] for name in ("only_alcohol_free", "about_strength", "ice_note", "strength", "units")
    }
    texts |= {notice.pattern for notice in place.notices if notice.of_alcohol and "{" not in notice.pattern}
    texts |= {place.pregnancy, place.guideline or place.pregnancy, place.drink_unit.plural, NO_ALCOHOL}
    texts |= {word.term for word in place.descriptors}
    texts |= {regions.caution(name).guest or NO_ALCOHOL for name in ("medicines", "pregnancy", "driving")}
    texts.discard("")
    return {(catalogue.get(text) if catalogue else None) or text for text in texts}


@pytest.mark.slow
@pytest.mark.parametrize("region", PLACES)
@pytest.mark.parametrize("head", ["alcohol: none\n", ""])
def test_nothing_is_said_of_alcohol_where_no_drink_holds_any(region, head):
    menu = menu_of({"kite": SOFT}, head, region)
    assert not menu.has_alcohol
    assert not menu.has_alcohol_free
    assert not OF_ALCOHOL & {notice.topic for notice in menu.notices}
    assert not [
        notice.text for notice in menu.notices if re.search("alcohol|spirits|pregnan|driv", notice.text, re.I)
    ]
    assert {"allergens", "water"} <= {notice.topic for notice in menu.notices} or region == "NZ"
    assert menu.words["tell_the_bar"] == "Allergic? Tell the bar before you order."


@pytest.mark.slow
@pytest.mark.parametrize("region", ["GB-ENG", "DE", "US-CA", "NZ"])
@pytest.mark.parametrize("language", catalogue_languages())
def test_no_file_of_an_event_without_alcohol_speaks_of_it(language, region):
    files = files_of(menu_of({"kite": SOFT}, "alcohol: none\n", region, language))
    assert {
        "index.html",
        "t/index.html",
        "notices.html",
        "menu.json",
        "cards-a4.html",
        "drinks/kite.html",
    } <= set(files)
    for path, text in files.items():
        plain = text.replace("&#39;", "'").replace("&amp;", "&")
        found = {
            said
            for said in said_of_alcohol(language, region)
            if re.search(rf"(?<!\w){re.escape(said)}(?!\w)", plain)
        }
        assert found == set(), path


@pytest.mark.slow
@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "alcohol|strength|strong|% vol|units?|pregnan|driv|proof of age|drunk|18|spirits|0300"),
        ("de", "alkohol|stark|% vol|einheit|schwanger|fahr|ausweis|spirituosen|standardgl"),
        ("fr", r"alcool|degré|% vol|unité|enceinte|condui|volant|pièce d.identité|spiritueux"),
        ("ar", "كحول|قوة|حامل|(?<!\\w)حمل|قيادة|السن|عمر"),
    ],
)
@pytest.mark.parametrize("region", ["GB-ENG", "DE", "FR", "US-CA", "IE"])
def test_no_word_of_alcohol_is_left(language, words, region):
    # Egg has a caution of its own, which names who has to take care.
    soft = SOFT.replace("  - 1 egg white\n", "").partition("swap:")[0] + "---\nSharp and tall.\n"
    for path, text in files_of(menu_of({"kite": soft}, "alcohol: none\n", region, language)).items():
        seen = re.sub(r"<[^>]*>|[0-9a-f]{7}|\d\d\d\d", " ", text)
        assert re.findall(rf".{{0,30}}(?:{words}).{{0,30}}", seen, re.I) == [], (path, language)


def test_drinks_of_such_an_event_say_no_strength_and_are_not_called_free_of_it():
    (section,) = menu_of({"kite": SOFT}, "alcohol: none\n").sections
    (drink,) = section.drinks
    assert (drink.strength, drink.units, drink.alcohol_free) == ("", "", False)
    assert [(swap.strength, swap.units) for swap in drink.swaps] == [("", "")]


def test_without_the_key_a_drink_still_says_what_the_place_calls_it():
    (section,) = menu_of({"kite": SOFT}).sections
    (drink,) = section.drinks
    assert drink.strength == "alcohol free"
    assert drink.alcohol_free


def test_one_drink_with_alcohol_brings_all_of_it_back():
    menu = menu_of({"kite": SOFT, "long": STRONG})
    assert menu.has_alcohol
    assert menu.has_alcohol_free
    assert OF_ALCOHOL - {"measures"} <= {notice.topic for notice in menu.notices}
    assert menu.words["tell_the_bar"] == WORDS["tell_the_bar"]
    assert "How strong are the drinks?" in files_of(menu)["notices.html"]


def test_a_drink_with_alcohol_that_is_sold_out_and_hidden_may_come_back():
    assert menu_of({"kite": SOFT, "long": STRONG}, "off: [long]\nhide off: yes\n").has_alcohol


def test_cautions_on_alcohol_go_and_others_stay():
    spec = SOFT.replace("20 ml sugar syrup", "20 ml pill syrup")
    (section,) = menu_of({"kite": spec}, "alcohol: none\n").sections
    (drink,) = section.drinks
    assert not any("medicines" in caution for caution in drink.cautions)
    assert any("caffeine" in caution for caution in drink.cautions)
    assert any("raw egg" in caution for caution in drink.cautions)
    (section,) = menu_of({"kite": spec, "long": STRONG}).sections
    assert any("medicines" in caution for caution in section.drinks[0].cautions)


def test_the_menu_for_machines_leaves_strength_out():
    files = files_of(menu_of({"kite": SOFT}, "alcohol: none\n"))
    assert not re.search('"(strength|units|alcohol_free)"', files["menu.json"])
    assert '"alcohol_free": true' in files_of(menu_of({"kite": SOFT}))["menu.json"]


def test_every_notice_for_guests_that_speaks_of_alcohol_says_so_in_the_data():
    words = re.compile(
        r"alcohol|spirits?\b|beer|wine|liquor|drunk|drinking(?! water)|pregnan(?!.*(egg|caffeine|feed))", re.I
    )
    day = facts_of({"kite": SOFT}).event.date.replace(year=2029)
    for code in PLACES:
        for notice in regions.load_region(code, day).notices:
            if notice.text and words.search(notice.text) and notice.id != "caffeine":
                assert notice.of_alcohol, (code, notice.id, notice.text)


def test_every_caution_on_alcohol_says_so_in_the_data():
    told = {name: regions.caution(name).guest or "" for name in regions.known_cautions()}
    of_alcohol = {name for name in told if regions.caution(name).of_alcohol}
    assert {name for name, text in told.items() if "alcohol" in text.casefold()} <= of_alcohol
    assert of_alcohol == {"medicines", "pregnancy", "driving", "high strength", "caffeine with alcohol"}
