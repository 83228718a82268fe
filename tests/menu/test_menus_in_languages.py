"""One event, its menu in several languages: the same facts, other words, and nothing left in English by accident."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

import pytest

from menugen.facts import EventFacts, work_out_event
from menugen.menu import GuestMenu, guest_menu, menu_languages
from menugen.menu.catalogue import PLURAL_FORMS, load_catalogue
from menugen.menu.messages import messages
from menugen.records import Event, House, SpecWords
from menugen.regions import known_regions
from tests.houses import HOUSE, SOUR, reading_of, texts

PUNCH = """
---
name: Quiet Punch
pour:
  - 50 ml lemon juice
  - 25 ml sugar syrup
top: soda water
glass: enamel cup
cautions: [quinine, grapefruit, dry ice]
translations:
  fr:
    notes: |
      Doux.

      Pour la route.
---
Soft.

For the road.
"""

SUPPER = """
event: Small Supper
date: 2028-12-12
hours: 19:00-00:30
place: The Mill
address: https://menu.example/s/
languages: [en, fr, ar]
equipment: [shared shakers, Shared Blender]
menu:
  - section: All
    note: Short.
    translations:
      fr: {section: Tout, note: Court.}
    drinks:
      - marsh-sour: 9.50
      - quiet-punch: 5.00
translations:
  fr: {event: Petit souper, place: Le moulin}
"""

HOUSE_IN_FRENCH = (
    HOUSE
    + """
languages: [en]
rules: [Ask for water.]
glasses: {enamel cup: 300 ml}
translations:
  fr:
    rules: [Demandez de l'eau.]
    words:
      GIN: gin
      lemon juice: jus de citron
      sugar syrup: sirop de sucre
      egg white: blanc d'œuf
      lemon twist: zeste de citron
      aquafaba: eau de pois chiche
"""
)
REGIONS = tuple(code for code, _ in known_regions() if not code.startswith("CA-"))
NOT_SAID = (
    "id",
    "icon",
    "caution_ids",
    "region_code",
    "topic",
    "slug",
    "theme",
    "language",
    "direction",
    "code",
    "root",
    "folder",
    "address",
)


@cache
def house() -> House:
    files = texts(
        **{"house.yaml": HOUSE_IN_FRENCH, "specs/quiet-punch.md": PUNCH, "events/small-supper.yaml": SUPPER}
    )
    reading = reading_of(files)
    assert reading.problems == ()
    assert reading.house is not None
    return reading.house


def event_facts(**changed: Any) -> EventFacts:
    event: Event = replace(house().events["small-supper"], **changed)
    facts, problems = work_out_event(house(), event)
    assert facts is not None, problems
    return facts


def menu(language: str = "en", **changed: Any) -> GuestMenu:
    return guest_menu(event_facts(**changed), "slate", language)


def drink(menu: GuestMenu, slug: str = "marsh-sour") -> Any:
    return next(drink for section in menu.sections for drink in section.drinks if drink.id == slug)


def shown_texts(value: Any) -> Iterator[str]:
    """Every text of a menu that is said to a guest, wherever it stands."""
    if isinstance(value, str):
        yield value
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in NOT_SAID:
                yield from shown_texts(getattr(value, field.name))
    elif isinstance(value, dict):
        yield from shown_texts(tuple(value.values()))
    elif isinstance(value, tuple):
        for item in value:
            yield from shown_texts(item)


def test_the_own_words_of_the_user_are_shown_as_translated() -> None:
    french = menu("fr")
    assert (french.event, french.venue, french.event_language, french.venue_language) == (
        "Petit souper", "Le moulin", "", "",
    )  # fmt: skip
    [section] = french.sections
    assert (section.name, section.note, section.name_language, section.note_language) == (
        "Tout",
        "Court.",
        "",
        "",
    )
    punch = drink(french, "quiet-punch")
    assert (punch.lead, punch.story, punch.notes_language) == ("Doux.", "Pour la route.", "")
    sour = drink(french)
    assert sour.made_with == "gin, jus de citron, sirop de sucre, blanc d'œuf, zeste de citron"
    assert sour.made_with_language == ""
    assert sour.swaps[0].runs == (("eau de pois chiche au lieu de blanc d'œuf", ""),)
    rule = french.notices[-1]
    assert (rule.text, rule.text_language) == ("Demandez de l'eau.", "")


def test_what_is_not_translated_keeps_the_language_of_the_house_and_says_so() -> None:
    french, arabic = menu("fr"), menu("ar")
    punch = drink(french, "quiet-punch")
    assert (punch.name, punch.name_language) == ("Quiet Punch", "en")
    # Half a row in French would be read aloud as French: all of it stays in the house's language.
    assert (punch.made_with, punch.made_with_language) == ("lemon juice, sugar syrup, soda water", "en")
    assert (punch.glass, punch.glass_language) == ("enamel cup", "en")
    assert (arabic.event, arabic.event_language, arabic.venue_language) == ("Small Supper", "en", "en")
    assert (arabic.sections[0].name_language, arabic.sections[0].note_language) == ("en", "en")
    sour = drink(arabic)
    assert (sour.lead, sour.notes_language) == ("Bright and short.", "en")
    assert sour.swaps[0].runs == (("aquafaba", "en"), (" بدلًا من ", ""), ("egg white", "en"))
    assert sour.swaps[0].text == "aquafaba بدلًا من egg white"
    assert (arabic.notices[-1].text, arabic.notices[-1].text_language) == ("Ask for water.", "en")


def test_an_empty_text_has_no_language() -> None:
    arabic = menu("ar", venue="")
    assert (arabic.venue, arabic.venue_language) == ("", "")


def test_in_the_language_of_the_house_nothing_is_marked() -> None:
    english = menu("en")
    marks = [
        getattr(value, field.name)
        for value in (english, *english.sections, *english.notices, drink(english), *drink(english).swaps)
        for field in fields(value)
        if field.name.endswith("_language")
    ]
    assert set(marks) == {""}


@pytest.mark.slow
@pytest.mark.parametrize("language", [*PLURAL_FORMS, "pt-BR", "zh"])
def test_the_facts_are_the_same_in_every_language(language: str) -> None:
    def facts(menu: GuestMenu) -> Any:
        return (
            [(choice.id, choice.icon) for choice in menu.choices],
            [(notice.id, notice.topic, notice.required, notice.prominent) for notice in menu.notices],
            menu.has_alcohol_free,
            menu.tables,
            [
                (
                    section.id,
                    [
                        (
                            each.id,
                            [mark.id for mark in each.contains],
                            [mark.id for mark in each.may_contain],
                            [[mark.id for mark in swap.contains] for swap in each.swaps],
                            digits(each.price),
                            digits(each.strength),
                            digits(each.units),
                            len(each.cautions),
                            each.alcohol_free,
                            each.off,
                            each.picture,
                        )
                        for each in section.drinks
                    ],
                )
                for section in menu.sections
            ],
        )

    def digits(text: str) -> str:
        return "".join(letter for letter in text if letter.isdigit())

    assert facts(menu(language)) == facts(menu("en"))


@pytest.mark.slow
@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("language", list(PLURAL_FORMS))
def test_no_text_that_has_a_translation_stays_in_english(language: str, region: str) -> None:
    shown = menu(language, region=region)
    catalogue = load_catalogue(language)
    assert catalogue is not None
    # The law's words stay as the law has them, and the user's as they are written: both say which language that is.
    ours = replace(
        shown,
        notices=tuple(
            replace(notice, wording="", text="" if notice.text_language else notice.text)
            for notice in shown.notices
        ),
        sections=(),
    )
    drinks = [
        (each.contains, each.may_contain, each.strength, each.units, each.cautions, each.alcohol_free)
        for each in (drink(shown), drink(shown, "quiet-punch"))
    ]
    found = [*shown_texts(ours), *shown_texts(tuple(drinks))]
    whole = "\n".join(found)
    for message in messages():
        said = catalogue.get(message.text)
        if said == message.text or not message.text.strip(", "):
            continue
        if "{" not in message.text and len(message.text) > 20:
            assert message.text not in whole
        else:
            assert message.text not in found


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", *PLURAL_FORMS])
def test_no_name_in_braces_is_left_open(language: str) -> None:
    filled_by_writing = re.compile(r"\{(event|version|number)\}")
    for region in ("GB-ENG", "GB-SCT", "DE", "FR", "IE", "US-CA"):
        for text in shown_texts(menu(language, region=region)):
            assert "{" not in filled_by_writing.sub("", text)


def test_arabic_runs_from_right_to_left_and_a_number_to_dial_does_not() -> None:
    arabic = menu("ar", region="GB-ENG")
    assert (arabic.direction, arabic.language) == ("rtl", "ar")
    told = next(notice.text for notice in arabic.notices if notice.id == "help")
    assert "\u20680300\xa0123\xa01110\u2069" in told
    assert menu("fr").direction == "ltr"


def test_a_language_without_a_catalogue_has_english_words_and_the_users_own() -> None:
    facts = event_facts(languages=("zh", "en"))
    house = facts.setting.house
    spec = replace(facts.drinks["marsh-sour"].spec, translations={"zh": SpecWords("沼泽酸酒", "")})
    drinks = {**facts.drinks, "marsh-sour": replace(facts.drinks["marsh-sour"], spec=spec)}
    shown = guest_menu(replace(facts, drinks=drinks), "slate", "zh")
    assert (shown.language, shown.words["contains"]) == ("en-GB", "Contains")
    assert (drink(shown).name, drink(shown).name_language) == ("沼泽酸酒", "zh")
    assert (drink(shown).notes_language, shown.event_language) == ("", "")
    assert house.languages == ("en",)


def test_the_first_language_lies_at_the_top_and_each_further_one_in_its_folder() -> None:
    links = {tag: menu(tag) for tag in ("en", "fr", "ar")}
    assert {tag: found.folder for tag, found in links.items()} == {"en": "", "fr": "fr/", "ar": "ar/"}
    assert {tag: found.address for tag, found in links.items()} == {
        "en": "https://menu.example/s/",
        "fr": "https://menu.example/s/fr/",
        "ar": "https://menu.example/s/ar/",
    }
    assert [(link.code, link.name, link.root) for link in links["en"].languages] == [
        ("fr", "Français", "fr/"),
        ("ar", "العربية", "ar/"),
    ]
    assert [(link.code, link.name, link.root) for link in links["fr"].languages] == [
        ("en", "English", "../"),
        ("ar", "العربية", "../ar/"),
    ]
    assert menu("en", languages=("en",)).languages == ()


def test_an_anchor_is_the_same_in_every_language() -> None:
    assert menu("fr").sections[0].id == menu("en").sections[0].id == "all"


def test_without_a_word_on_languages_the_place_decides() -> None:
    facts = event_facts(languages=(), region="FR")
    assert menu_languages(facts) == ("fr-FR",)
    assert guest_menu(facts, "slate").words["contains"] == "Contient"
    assert menu_languages(event_facts(languages=("fr", "en", "fr"))) == ("fr", "en")


def notice(menu: GuestMenu, name: str) -> Any:
    return next(notice for notice in menu.notices if notice.id == name)


def test_the_laws_own_words_stay_in_its_language_with_what_they_mean_beside_them() -> None:
    english = notice(menu("en", region="FR"), "alcohol-abuse-message")
    assert (english.wording, english.wording_language) == (
        "L'abus d'alcool est dangereux pour la santé",
        "fr",
    )
    assert english.text == "Alcohol abuse is dangerous to your health."
    french = notice(menu("fr", region="FR"), "alcohol-abuse-message")
    assert (french.text, french.wording) == ("L'abus d'alcool est dangereux pour la santé", "")
    american = notice(menu("fr", region="US-CA"), "prop65-alcohol")
    assert american.wording.startswith("WARNING: ")
    assert american.wording_language == "en"
    assert american.text.startswith("AVERTISSEMENT")
    at_home = notice(menu("en", region="US-CA"), "prop65-alcohol")
    assert (at_home.text[:8], at_home.wording) == ("WARNING:", "")


def test_where_nobody_has_translated_the_meaning_the_laws_words_stand_alone() -> None:
    shown = notice(menu("zh", region="FR"), "alcohol-abuse-message")
    assert shown.text == "Alcohol abuse is dangerous to your health."
    assert shown.wording_language == "fr"


def test_names_of_places_are_in_the_pages_language() -> None:
    names = {
        code: menu("fr", region=code).region_name for code in ("GB-ENG", "GB", "US-OR", "US-NY", "DE", "EU")
    }
    assert names == {
        "GB-ENG": "Angleterre",
        "GB": "Royaume-Uni",
        "US-OR": "États-Unis",
        "US-NY": "New York",
        "DE": "Allemagne",
        "EU": "Union européenne",
    }
    assert menu("en", region="GB").region_name == "United Kingdom"


def test_cross_contact_is_said_in_the_pages_language_whatever_is_shared() -> None:
    ladle = ("Aunt Mabel's ladle",)
    assert "(shakers communs et mixeur commun)" in menu("fr").kitchen[0]
    [usual] = menu("fr", equipment=ladle).kitchen
    assert usual.startswith("Nos shakers, mixeurs, pelles et verres servent à toutes les boissons.")
    assert usual.endswith("Merci de nous prévenir avant de commander.")
    assert menu("en", equipment=ladle).kitchen[0].startswith("We work with Aunt Mabel's ladle, so")
    assert len(menu("fr", equipment=()).kitchen) == 1


def test_the_version_tells_menus_apart_and_stays_with_the_same_menu() -> None:
    versions = {menu(tag).version for tag in ("en", "fr", "ar")}
    assert len(versions) == 1, "one event, one name, whatever language its guests read"
    assert {menu(tag, name="Other Supper").version for tag in ("en", "fr")}.isdisjoint(versions)


def test_the_version_line_names_the_day_as_the_language_writes_it() -> None:
    lines = {tag: (menu(tag).version, menu(tag).version_line) for tag in ("en", "fr", "de", "ar")}
    days = {
        "en": "Menu {} · 12 December 2028",
        "fr": "Carte {} · 12 décembre 2028",
        "de": "Karte {} · 12. Dezember 2028",
        "ar": "القائمة \u2068{}\u2069 · 12 ديسمبر 2028",
    }
    assert {tag: line for tag, (_, line) in lines.items()} == {
        tag: day.format(lines[tag][0]) for tag, day in days.items()
    }


def test_a_house_that_writes_french_is_marked_on_an_english_page() -> None:
    house = "name: Le Bar\nregion: FR\nlanguages: [fr, en]\n"
    spec = SOUR.replace("Marsh Sour", "Aigre du marais").replace("Bright and short.", "Vif et court.")
    reading = reading_of(texts(**{"house.yaml": house, "specs/marsh-sour.md": spec}))
    assert reading.house is not None
    facts, _ = work_out_event(reading.house, reading.house.events["small-supper"])
    assert facts is not None
    first, second = guest_menu(facts, "slate"), guest_menu(facts, "slate", "en")
    assert (first.language, drink(first).name_language, drink(first).swaps[0].text) == (
        "fr-FR", "", "aquafaba au lieu de egg white",
    )  # fmt: skip
    assert (drink(second).name, drink(second).name_language) == ("Aigre du marais", "fr")
    assert drink(second).glass_language == "fr"


def test_words_for_another_country_of_the_houses_language_are_for_that_country_only() -> None:
    british = "name: The Bar\nregion: GB\nlanguages: [en-GB]\ntranslations: {en-US: {words: {sugar syrup: simple}}}\n"
    block = "translations: {en-US: {name: Swamp Sour}}\n---\nBright"
    files = texts(**{"house.yaml": british, "specs/marsh-sour.md": SOUR.replace("---\nBright", block)})
    reading = reading_of(files)
    assert reading.problems == ()
    assert reading.house is not None
    facts, _ = work_out_event(reading.house, reading.house.events["small-supper"])
    assert facts is not None
    at_home, abroad = (drink(guest_menu(facts, "slate", tag)) for tag in ("en-GB", "en-US"))
    assert (at_home.name, abroad.name, abroad.name_language) == ("Marsh Sour", "Swamp Sour", "")
    assert "sugar syrup" in at_home.made_with
    assert abroad.made_with == "gin, lemon juice, simple, egg white, lemon twist"
