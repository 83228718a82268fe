"""What a menu says of money: prices, free drinks, tax, and nothing at all where someone else pays."""

import json
import re
from decimal import Decimal

import pytest

from menugen import regions
from menugen.facts import work_out_event
from menugen.menu import GuestMenu, catalogue_languages, guest_menu
from menugen.menu.language import page_language
from menugen.menu.price_words import price_words, tax_note
from menugen.shipped import shipped_folder
from menugen.writing.theme import load_theme
from tests.houses import EVENT, HOUSE, SOUR, reading_of, texts
from tests.writing.fixtures import card_files, site_files

SAYS = "tax registered: yes\nprices include tax: yes\n"
WITHOUT = "tax registered: yes\nprices include tax: no\n"


def menu_of(price: str = ": 9.50", event: str = "", house: str = SAYS, region: str = "GB-ENG") -> GuestMenu:
    """The menu of a sour at this price and of an ebb sour at 3.00."""
    files = texts(**{"specs/ebb-sour.md": SOUR.replace("Marsh", "Ebb")})
    files["house.yaml"] = HOUSE.lstrip().replace("GB-ENG", region) + "languages: [en]\n" + house
    drinks = f"marsh-sour{price}\n      - ebb-sour: 3.00\n"
    files["events/small-supper.yaml"] = EVENT.lstrip().replace("marsh-sour: 9.50\n", drinks) + event
    found = reading_of(files).house
    assert found is not None
    facts, _ = work_out_event(found, found.events["small-supper"])
    assert facts is not None
    return guest_menu(facts, "slate")


def files_of(menu: GuestMenu) -> dict[str, str]:
    files = site_files(menu, load_theme([shipped_folder("themes")], "slate")) | card_files(menu)
    texts = {path: content.decode() for path, content in files.items() if path.endswith((".html", ".json"))}
    return {path: re.sub(r"<style>.*?</style>", "", text, flags=re.DOTALL) for path, text in texts.items()}


def test_a_price_of_nothing_is_free_in_words():
    free, priced = menu_of(": 0").sections[0].drinks
    assert (free.price, free.price_value) == ("free", "0")
    assert (priced.price, priced.price_value) == ("£3.00", "3.00")


@pytest.mark.parametrize("language", catalogue_languages())
def test_free_is_a_word_and_no_figure_in_every_language(language):
    said = price_words(Decimal("0.00"), "GBP", page_language(language, "GB", "GBP"))
    assert said
    assert not any(letter.isdigit() for letter in said)
    assert (said == "free") is (language == "en")


def test_a_free_drink_is_free_to_machines_too():
    files = files_of(menu_of(": 0"))
    drinks = json.loads(files["menu.json"])["sections"][0]["drinks"]
    assert [drink["price"] for drink in drinks] == ["free", "£3.00"]
    data = json.loads(
        re.search(r'<script type="application/ld\+json">(.*?)</script>', files["index.html"])[1]
    )
    offers = [item["offers"] for item in data["hasMenuSection"][0]["hasMenuItem"]]
    assert [(offer["price"], offer["priceCurrency"]) for offer in offers] == [("0", "GBP"), ("3.00", "GBP")]
    assert ">free<" in re.sub(r"</span>", ">", files["t/index.html"]).replace(" >", ">")


def test_a_drink_without_a_price_shows_none():
    unpriced, _ = menu_of("").sections[0].drinks
    assert (unpriced.price, unpriced.price_value) == ("", "")


def test_a_hosted_event_shows_no_price_in_any_file():
    menu = menu_of(event="hosted: yes\n")
    assert [(drink.price, drink.price_value) for drink in menu.sections[0].drinks] == [("", "")] * 2
    assert (menu.price_note, menu.currency) == ("", "")
    assert not any(notice.topic == "prices" for notice in menu.notices)
    for path, text in files_of(menu).items():
        assert not re.search(r"9[.,]50|3[.,]00|£|GBP|offers|\bfree\b(?!: just| of)|VAT|Price", text), path
    shown = files_of(menu_of())
    assert all(
        "9.50" in shown[path]
        for path in ("index.html", "t/index.html", "menu.json", "drinks/marsh-sour.html")
    )


def test_a_hosted_event_in_france_says_nothing_of_service():
    assert any(notice.id == "service-included" for notice in menu_of(region="FR").notices)
    assert not any(notice.topic == "prices" for notice in menu_of(region="FR", event="hosted: yes\n").notices)


@pytest.mark.parametrize(
    ("house", "said"),
    [
        ("", ""),
        (SAYS, "Prices include VAT."),
        (WITHOUT, "VAT is added to these prices."),
        ("tax registered: yes\n", ""),
        ("prices include tax: yes\n", ""),
        ("prices include tax: no\n", ""),
        ("tax registered: no\n", ""),
        ("tax registered: no\nprices include tax: no\n", ""),
    ],
)
def test_what_is_said_of_tax_follows_what_the_house_says(house, said):
    menu = menu_of(house=house)
    assert menu.price_note == said
    assert ("VAT" in files_of(menu)["index.html"]) is bool(said)


@pytest.mark.parametrize(
    ("region", "with_tax", "without"),
    [
        ("US-OR", "Prices include sales tax.", "Prices do not include sales tax or gratuity."),
        ("CA-ON", "Prices include sales taxes.", "Prices do not include sales taxes."),
        ("AU", "Prices include GST.", "GST is added to these prices."),
        ("DE", "Prices include VAT and service.", "VAT is added to these prices."),
        ("FR", "Prices include tax and service.", "Tax is added to these prices."),
    ],
)
def test_each_place_has_a_sentence_for_both(region, with_tax, without):
    assert menu_of(region=region).price_note == with_tax
    assert menu_of(region=region, house=WITHOUT).price_note == without


@pytest.mark.parametrize("code", [code for code, _ in regions.known_regions()])
def test_no_place_says_the_same_of_prices_with_tax_and_without(code):
    place = regions.load_region(code, menu_day())
    with_tax, without = place.tax_note(included=True), place.tax_note(included=False)
    assert with_tax.startswith("Prices include ")
    assert re.fullmatch(r"(VAT|GST|Tax) is added to these prices\.|Prices do not include .*\.", without)


def menu_day():
    return next(iter(reading_of(texts()).house.events.values())).date


def test_away_from_its_own_country_a_house_says_nothing_of_tax():
    assert menu_of(event="region: IE\n").price_note == ""
    assert menu_of(event="region: GB-SCT\n").price_note == "Prices include VAT."


def test_a_house_that_names_no_place_is_at_home_where_it_serves():
    files = texts()
    files["house.yaml"] = "name: The Test Bar\n" + SAYS
    house = reading_of(files).house
    assert house is not None
    assert tax_note(house, regions.load_region("IE", menu_day())) == "Prices include VAT."


def test_nothing_is_said_of_tax_where_nothing_is_charged():
    assert menu_of(": 0", event="off: [ebb-sour]\nhide off: yes\n").price_note == ""
    assert menu_of(": 0").price_note == "Prices include VAT."
