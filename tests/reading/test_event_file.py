from datetime import date, time
from decimal import Decimal

import pytest

from menugen.problems import Place
from menugen.reading import Inherited, read_event
from menugen.records import Event, Hours, MenuEntry
from tests.reading.held import codes, told

HOUSE = Inherited("GB-ENG", "GBP", ("en",))
SUPPER = """\
event: Lantern Supper
date: 2026-12-12
hours: 19:00-00:30
place: The Old Boathouse
languages: [en, fr]
guests: 120
tables: 14
address: https://menu.example/lantern
theme: slate
equipment: [shared shakers, shared blender]
bottles:
  gin: harbour gin
menu:
  - section: Before supper
    note: Short, cold and dry.
    drinks:
      - saltmarsh-sour: 9.50
      - quiet-harbour
off: [quiet-harbour]
hide off: yes
"""
MENU = "menu: [{section: All, drinks: [a]}]\n"


def read(text: str, house: Inherited = HOUSE) -> Event:
    reading = read_event(text, "events/lantern-supper.yaml", house)
    assert reading.problems == ()
    assert reading.event is not None
    return reading.event


def event(more: str, house: Inherited = HOUSE) -> Event:
    return read(f"event: A\ndate: 2026-12-12\n{more}{MENU}", house)


def test_an_event_becomes_a_record() -> None:
    found = read(SUPPER)
    place = Place("events/lantern-supper.yaml")
    assert (found.slug, found.name, found.date) == ("lantern-supper", "Lantern Supper", date(2026, 12, 12))
    assert found.hours == Hours(time(19), time(0, 30))
    assert (found.venue, found.guests, found.tables, found.theme) == ("The Old Boathouse", 120, 14, "slate")
    assert found.address == "https://menu.example/lantern/"
    assert found.bottles == {"gin": "harbour gin"}
    [section] = found.sections
    assert (section.name, section.note) == ("Before supper", "Short, cold and dry.")
    drinks = place.at("menu", 0, "drinks")
    assert section.entries == (
        MenuEntry("saltmarsh-sour", Decimal("9.50"), drinks.at(0, "saltmarsh-sour", on="key")),
        MenuEntry("quiet-harbour", None, drinks.at(1)),
    )
    assert (found.off, found.hide_off, found.listed) == (("quiet-harbour",), True, True)


def test_alcohol_is_poured_and_guests_pay_unless_the_event_says_otherwise() -> None:
    assert (event("").pours_alcohol, event("").hosted) == (True, False)
    said = event("alcohol: None\nhosted: yes\n")
    assert (said.pours_alcohol, said.hosted) == (False, True)


def test_a_price_of_nothing_is_a_price() -> None:
    free = read("event: A\ndate: 2026-12-12\nmenu: [{section: All, drinks: [a: 0, b: 0.00, c]}]\n")
    assert [entry.price for entry in free.sections[0].entries] == [Decimal(0), Decimal("0.00"), None]
    assert (free.has_prices, free.charges) == (True, False)
    priced = read(SUPPER)
    assert (priced.has_prices, priced.charges) == (True, True)
    hosted = read(f"{SUPPER}hosted: yes\n")
    assert (hosted.has_prices, hosted.charges) == (False, False)
    assert [hosted.shown_price(entry) for entry in hosted.sections[0].entries] == [None, None]


def test_words_are_read_as_typed_and_not_as_yaml_means_them() -> None:
    found = event("off: [on, no, y]\nregion: NO\nlanguages: [en, no]\nplace: 1e3\n")
    assert found.off == ("on", "no", "y")
    assert (found.region, found.languages, found.venue) == ("NO", ("en", "no"), "1e3")


def test_what_is_not_said_comes_from_the_house() -> None:
    found = event("")
    assert (found.region, found.currency, found.languages) == ("GB-ENG", "GBP", ("en",))
    assert (found.theme, found.address, found.hours, found.tables) == ("", "", None, None)


def test_an_event_elsewhere_has_that_places_currency() -> None:
    assert event("region: us-or\n").region == "US-OR"
    assert event("region: US-OR\n").currency == ""
    assert event("region: GB-ENG\n").currency == "GBP"
    assert event("region: US-OR\ncurrency: usd\n").currency == "USD"


@pytest.mark.parametrize(
    ("typed", "tag"), [("EN", "en"), ("pt-br", "pt-BR"), ("zh-hant-tw", "zh-Hant-TW"), ("es-419", "es-419")]
)
def test_languages_are_written_as_bcp_47_has_them(typed: str, tag: str) -> None:
    assert event(f"languages: {typed}\n").languages == (tag,)


@pytest.mark.parametrize("typed", ["19:00-24:00", "19:00 – 00:00", "19:00 to 0:00"])
def test_hours_may_end_at_midnight(typed: str) -> None:
    assert event(f"hours: {typed}\n").hours == Hours(time(19), time(0))


@pytest.mark.parametrize(
    ("written", "code"),
    [
        ("hours: 7pm-11pm", "hours-form"),
        ("hours: 25:00-26:00", "hours-form"),
        ("hours: 19:00-19:00", "hours-form"),
        ("region: England", "region-form"),
        ("currency: £", "currency-form"),
        ("languages: English", "language-form"),
        ("guests: -3", "number-form"),
        ("tables: 1e3", "number-form"),
        ("address: menu.example", "address-form"),
        ("address: https://user@menu.example/", "address-form"),
        ("address: https://menu.example/index.html", "address-form"),
        ("address: https://menu.example/?a=1", "address-form"),
        ("address: https://[menu/", "address-form"),
        ("address: https://menu..example/", "address-form"),
        ("address: https://.example/", "address-form"),
        ("address: https://menu.example./", "address-form"),
        ("address: https://men!u.example/", "address-form"),
        ("address: https://mänu..example/", "address-form"),
        ("address: https:///menu/", "address-form"),
        (f"address: https://{'m' * 64}.example/", "address-form"),
        ("address: javascript:alert(1)", "address-form"),
        ("theme: ../slate", "theme-form"),
        ("listed: maybe", "unknown-choice"),
        ("hosted: sometimes", "unknown-choice"),
        ("alcohol: yes", "unknown-choice"),
        ("alcohol: no", "unknown-choice"),
        ("alcohol: nnoe", "unknown-choice"),
        ("alcohol:", "empty-value"),
        ("alcohol: [none]", "wrong-shape"),
        ("alchohol: none", "unknown-key"),
        ("bottles: gin", "wrong-shape"),
        ("bottles: {gin: [a]}", "wrong-shape"),
        ("off: {a: b}", "wrong-shape"),
    ],
)
def test_faults_are_told_each_by_its_code(written: str, code: str) -> None:
    assert codes({"events/a.yaml": f"event: A\ndate: 2026-12-12\n{written}\n{MENU}"}) == [code]


@pytest.mark.parametrize(
    ("menu", "code"),
    [
        ("menu:\n", "missing-key"),
        ("menu: []\n", "wrong-shape"),
        ("menu: {All: [a]}\n", "wrong-shape"),
        ("menu: [a]\n", "wrong-shape"),
        ("menu: [{section: All, drinks: []}]\n", "empty-value"),
        ("menu: [{section: All, drinks: {a: 9}}]\n", "wrong-shape"),
        ("menu: [{drinks: [a]}]\n", "missing-key"),
        ("menu: [{section: All, drinks: [a], drink: b}]\n", "unknown-key"),
        ('menu: [{section: All, drinks: [a: "9,50"]}]\n', "decimal-comma"),
        ("menu: [{section: All, drinks: [a: free]}]\n", "price-form"),
        ("menu: [{section: All, drinks: [a: ]}]\n", "price-form"),
        ("menu: [{section: All, drinks: [a: -1]}]\n", "price-form"),
        ("menu: [{section: All, drinks: [{a: 1, b: 2}]}]\n", "wrong-shape"),
        ("menu: [{section: All, drinks: [a, b]}, {section: Late, drinks: [b: 9]}]\n", "drink-twice"),
        ("menu: [{section: All, drinks: [a]}]\noff: [b, B]\n", "off-twice"),
    ],
)
def test_faults_of_a_menu_are_told_each_by_its_code(menu: str, code: str) -> None:
    assert codes({"events/a.yaml": f"event: A\ndate: 2026-12-12\n{menu}"}) == [code]


def test_a_drink_listed_twice_shows_both_places() -> None:
    text = told({"events/a.yaml": f"event: A\ndate: 2026-12-12\n{MENU}".replace("[a]", "[a, A: 9]")})
    assert "events/a.yaml:3:35: error[drink-twice]" in text
    assert "also: events/a.yaml:3:32: the first one" in text
