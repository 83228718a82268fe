"""What a menu says of ages hangs on the drinks that are on it."""

from datetime import date

import pytest

from menugen.facts import work_out_event
from menugen.menu import GuestMenu, catalogue_languages, guest_menu
from tests.houses import HOUSE, STOCK, reading_of, with_drinks

WINE = "---\nname: White\npour: [125 ml white wine]\nmethod: build\nglass: wine\n---\n"
SPRITZ = "---\nname: Spritz\npour: [90 ml white wine]\ntop: soda water\nmethod: build\nglass: wine\n---\n"
GIN = "---\nname: Gin Sour\npour: [50 ml gin, 25 ml lemon juice]\nmethod: shake\nglass: coupe\n---\n"
EITHER = WINE.replace("glass: wine", "glass: wine\nswap: {white wine: 50 ml gin}").replace("White", "Either")
SODA = "---\nname: Soda\npour: [200 ml soda water]\nmethod: build\nglass: highball\n---\n"


def menu(region: str, *specs: str, language: str = "en", off: str = "") -> GuestMenu:
    files = with_drinks(
        {f"drink-{number}": text for number, text in enumerate(specs)},
        stock=STOCK,
        house=HOUSE.replace("GB-ENG", region),
    )
    files["events/small-supper.yaml"] += off
    reading = reading_of(files)
    assert reading.house is not None, reading.problems
    facts, _ = work_out_event(reading.house, reading.house.events["small-supper"])
    assert facts is not None
    assert facts.event.date == date(2026, 12, 12)
    return guest_menu(facts, "slate", language)


def ages(region: str, *specs: str, language: str = "en", off: str = "") -> list[str]:
    return [
        notice.text
        for notice in menu(region, *specs, language=language, off=off).notices
        if notice.topic == "age"
    ]


BOTH = (
    "Beer, cider, wine and sparkling wine are served from the age of 16; spirits, drinks made with them and "
    "everything else with alcohol from 18. We may ask for proof of age."
)
LOWER = "The drinks with alcohol on this menu are served only to guests aged 16 or over. We may ask for proof of age."


@pytest.mark.parametrize("region", ["AT", "BE", "CH", "DE", "LI"])
def test_a_menu_with_spirits_says_both_ages_and_one_of_wine_the_lower(region):
    assert ages(region, WINE, GIN) == [BOTH]
    assert ages(region, GIN) == [BOTH]
    assert ages(region, WINE, SODA) == [LOWER]


def test_a_spritz_is_a_mixed_drink_in_belgium_alone():
    assert ages("BE", SPRITZ) == [BOTH]
    assert ages("AT", SPRITZ) == [LOWER]


def test_a_swap_to_a_spirit_counts():
    assert ages("AT", EITHER) == [BOTH]


def test_a_drink_that_left_the_page_does_not_count():
    off = "off: [drink-1]\n"
    assert ages("AT", WINE, GIN, off=off) == [BOTH]
    assert ages("AT", WINE, GIN, off=off + "hide off: yes\n") == [LOWER]


def test_norway_says_18_and_20():
    [both] = ages("NO", WINE, GIN)
    assert "18" in both
    assert "20" in both
    assert "22 % vol" in both
    [lower] = ages("NO", WINE)
    assert "aged 18 or over" in lower


@pytest.mark.parametrize(("region", "age"), [("LT", 20), ("IS", 20), ("MT", 17), ("LU", 16), ("CH-TI", 18)])
def test_one_age_is_one_sentence(region, age):
    for specs in ((WINE,), (GIN,), (WINE, GIN)):
        assert ages(region, *specs) == [
            f"Alcohol is served only to guests aged {age} or over. We may ask for proof of age."
        ]


@pytest.mark.parametrize("language", catalogue_languages())
@pytest.mark.parametrize("region", ["AT", "NO"])
def test_both_ages_are_said_in_every_language(region, language):
    low, high = {"AT": ("16", "18"), "NO": ("18", "20")}[region]
    [both] = ages(region, WINE, GIN, language=language)
    assert low in both
    assert high in both
    [lower] = ages(region, WINE, language=language)
    assert low in lower
    assert high not in lower
    if language != "en":
        assert both != ages(region, WINE, GIN)[0]


def test_age_is_a_rule_of_the_place_and_stands_on_the_menu_itself():
    for specs in ((WINE,), (WINE, GIN)):
        [notice] = [one for one in menu("AT", *specs).notices if one.topic == "age"]
        assert notice.required
        assert notice.prominent


@pytest.mark.parametrize("language", catalogue_languages())
def test_where_no_unit_is_known_grams_are_said_in_every_language(language):
    def units(tag: str, region: str = "LT") -> str:
        return menu(region, GIN, language=tag).sections[0].drinks[0].units

    assert units("en") == "16 g of alcohol"
    assert units(language).replace("\N{NO-BREAK SPACE}", " ").startswith("16 ")
    if language != "en":
        assert units(language) != units("en")
    assert units("en", "AT") == "0,8 standard drinks"  # English as Austria writes it
