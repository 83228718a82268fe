"""What labels say beside the contains line, as guests read it: what a spirit is made from, and what no law lists."""

import json
import re

import pytest

from menugen.facts import work_out_event
from menugen.menu import GuestDrink, GuestMenu, guest_menu
from menugen.regions import UNLISTED
from menugen.writing.allergen_filter import AllergenFilter
from menugen.writing.machine import menu_json
from tests.houses import reading_of, texts

GIN = "  distilled from: [wheat]\n  contains: none\n"


def menu_of(region: str, gin: str = GIN, language: str = "", languages: str = "[en, de, ar]") -> GuestMenu:
    files = texts()
    assert GIN in files["stock/all.yaml"]
    files["stock/all.yaml"] = files["stock/all.yaml"].replace(GIN, gin)
    files["house.yaml"] = files["house.yaml"].replace("GB-ENG", f"{region}\nlanguages: {languages}")
    reading = reading_of(files)
    assert reading.house is not None
    facts, _ = work_out_event(reading.house, reading.house.events["small-supper"])
    assert facts is not None
    return guest_menu(facts, "slate", language)


def drink_of(*arguments: str, **more: str) -> GuestDrink:
    return menu_of(*arguments, **more).sections[0].drinks[0]


def text(stretches) -> str:
    return "".join(said.text for said in stretches)


@pytest.mark.parametrize("region", ["GB-ENG", "IE", "CA"])
def test_a_grain_spirit_is_nothing_to_a_guest_where_the_law_exempts_it(region):
    drink = drink_of(region, "  distilled from: [wheat, barley, rye, maize]\n  contains: none\n")
    assert (drink.distilled_from, drink.distilled_words) == ((), ())
    assert [mark.word for mark in drink.contains] == ["eggs"]


@pytest.mark.parametrize(("region", "base"), [("US", "wheat"), ("AU", "barley"), ("NZ", "barley")])
def test_a_grain_spirit_stands_in_a_line_of_its_own_where_the_law_is_unsettled(region, base):
    drink = drink_of(region, f"  distilled from: [{base}, maize]\n  contains: none\n")
    assert [mark.word for mark in drink.distilled_from] == [base], "no word of gluten"
    assert text(drink.distilled_words) == f"{base}, maize"
    assert not {mark.word for mark in (*drink.contains, *drink.may_contain)} & {base, f"{base} (gluten)"}


@pytest.mark.parametrize(
    ("language", "words"), [("en", "wheat, maize"), ("de", "Weizen, maize"), ("ar", "قمح، maize")]
)
def test_it_is_said_in_the_guests_language_and_what_the_user_typed_keeps_its_own(language, words):
    drink = drink_of("US", "  distilled from: [wheat, maize]\n  contains: none\n", language=language)
    assert text(drink.distilled_words) == words
    assert [said.language for said in drink.distilled_words] == [""] + (["en"] if language != "en" else [])


def test_ticking_wheat_hides_a_spirit_distilled_from_it():
    menu = menu_of("US")
    [drink] = [one for one in menu.sections[0].drinks if one.id == "marsh-sour"]
    assert "wheat" in {choice.id for choice in menu.choices}
    sieve = AllergenFilter(menu)
    ticks = sieve.ticks(drink)
    assert "wheat" in ticks.as_written_out.split()
    [gone] = re.findall(rf'(body\S+) \[data-gone="{ticks.out.every}"\]{{display:none', sieve.rules())
    each_way = re.findall(r":has\(([^)]*)\)", gone)
    assert each_way, "no swap leaves the gin out, so wheat alone hides the drink"
    assert all("#out_wheat:checked" in way.split(",") for way in each_way)


def test_a_group_is_called_by_what_is_contained_where_both_are_on_a_menu():
    menu = menu_of("US", "  distilled from: [barley]\n  contains: none\n")
    assert [column.mark.word for column in menu.columns if column.mark.id == "barley"] == ["barley"]


def test_what_no_law_lists_is_shown_as_said_and_apart():
    gin = f"  contains: [Mango, fairy fruit ({UNLISTED})]\n  may contain: [chestnut]\n"
    drink = drink_of("GB-ENG", gin)
    assert [mark.word for mark in drink.contains] == ["eggs"]
    assert text(drink.also_named) == "Mango, fairy fruit"
    assert text(drink.also_warned_of) == "chestnut"
    assert drink.ids == {"eggs"}


def test_what_the_law_exempts_of_a_label_is_shown_as_said():
    assert text(drink_of("GB-ENG", "  contains: [wheat glucose syrup]\n").also_named) == "wheat glucose syrup"
    assert text(drink_of("US", "  contains: [wheat glucose syrup]\n").also_named) == ""


def test_a_program_reads_the_same():
    drinks = json.loads("".join(menu_json(menu_of("US", GIN.replace("none", "[mango]")))))["sections"][0][
        "drinks"
    ]
    drink = drinks[0]
    assert drink["distilled_from"] == [{"id": "wheat", "word": "wheat", "substances": {"wheat": "wheat"}}]
    assert (drink["distilled_words"], drink["also_named"], drink["also_warned_of"]) == ("wheat", "mango", "")
    assert all("distilled_from" in swap and "also_named" in swap for swap in drink["swaps"])
