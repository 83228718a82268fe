"""One entry of the table is all that a new fact of a drink needs to be said everywhere."""

import json
from collections.abc import Iterator
from dataclasses import fields

import pytest

from menugen.cli import main
from menugen.drink_facts import Compared, Fact, ToldGuests, Value, Way, rows_of, table
from menugen.facts import Serve, work_out, work_out_event
from menugen.menu import GuestMenu, guest_menu
from menugen.menu.messages import messages
from menugen.regions import Region
from menugen.report import Row
from tests.facts.drinks import house_with, setting_of
from tests.houses import reading_of, texts
from tests.revisions.repositories import Books, books


def _named(serve: Serve) -> bool:
    return all(item.stock.kind for item in serve.lines)


def _words(way: Way) -> str:
    return "yes" if _named(way.serve) else "not known"


NEW = Fact(
    name="kinds named",
    part="contents",
    rows=lambda way: [Row("Kinds named", _words(way))],
    data=lambda way: {"kinds_named": _named(way.serve)},
    phrase=lambda way: "all kinds named" if _named(way.serve) else "",
    compared=(Compared("kinds named", lambda way: Value(_words(way), lambda: _words(way)), ("kind",)),),
    guests=ToldGuests("kinds_named", "Every kind is named", _named),
)
"""A fact that nobody needs, read from a key of stock."""


@pytest.fixture
def house(tmp_path, monkeypatch) -> Iterator[Books]:
    """A house whose drink the new fact holds of only once a label is filled in."""
    made = books(tmp_path)
    made.edit("stock/all.yaml", "lemon:\n", "lemon:\n  kind: lemon_juice\n")
    made.commit("Name the garnish")
    monkeypatch.setattr(table, "FACTS", (*table.FACTS, NEW))
    yield made
    messages.cache_clear()


def said(capsys, *typed: str) -> str:
    main([str(word) for word in typed])
    return capsys.readouterr().out


def name_the_syrup(house: Books) -> None:
    house.edit("stock/all.yaml", "sugar syrup:\n", "sugar syrup:\n  kind: simple_syrup_1_1_volume\n")


def drink_of(menu: dict) -> dict:
    return menu["sections"][0]["drinks"][0]


def test_the_drinks_text_and_json_say_it_of_each_way_to_make_it(house, capsys):
    name_the_syrup(house)
    text = said(capsys, "drink", "marsh-sour", "--house", house.house)
    assert "\nKinds named   yes\n" in text
    assert text.count("all kinds named") == 0, "aquafaba's kind is not named"
    data = json.loads(said(capsys, "drink", "marsh-sour", "--house", house.house, "--json"))
    assert data["kinds_named"] is True
    assert data["swaps"][0]["kinds_named"] is False
    assert list(data).index("kinds_named") > list(data).index("glass"), "what programs knew keeps its place"


def test_beside_other_measures_it_is_said_of_both(house, capsys):
    typed = ("drink", "marsh-sour", "--house", house.house, "--set", "gin=40 ml", "--json")
    data = json.loads(said(capsys, *typed))
    assert [data[side]["kinds_named"] for side in ("as_written", "as_changed")] == [False, False]


def test_compare_reports_it_with_its_cause(house, capsys):
    name_the_syrup(house)
    data = json.loads(said(capsys, "compare", "--house", house.house, "--json"))
    [found] = [
        change for drink in data["drinks"] for change in drink["moves"] if change["fact"] == "kinds named"
    ]
    assert (found["before"], found["after"]) == ("not known", "yes")
    assert found["causes"] == ["sugar syrup: kind not said -> simple_syrup_1_1_volume"]
    assert "kinds named not known -> yes" in said(capsys, "compare", "--house", house.house)


def test_guests_read_it_on_the_page_and_programs_in_the_menu(house, capsys):
    def published() -> tuple[str, dict]:
        said(capsys, "publish", house.house, "--quiet")
        site = house.house / "out" / "small-supper" / "site"
        return (site / "index.html").read_text("utf-8"), json.loads((site / "menu.json").read_text("utf-8"))

    page, menu = published()
    assert "Every kind is named" not in page
    assert drink_of(menu)["kinds_named"] is False
    name_the_syrup(house)
    page, later = published()
    assert "<dd>Every kind is named</dd>" in page
    assert drink_of(later)["kinds_named"] is True
    assert drink_of(later)["swaps"][0]["kinds_named"] is False
    assert later["version"] != menu["version"]


def test_catalogues_are_asked_for_its_words(house):
    messages.cache_clear()
    assert "Every kind is named" in {message.text for message in messages()}


def menu_with(monkeypatch, *facts: Fact) -> GuestMenu:
    monkeypatch.setattr(table, "FACTS", (*table.FACTS, *facts))
    house = reading_of(texts()).house
    assert house is not None
    event, _ = work_out_event(house, house.events["small-supper"])
    assert event is not None
    return guest_menu(event, "slate")


def of_the_egg(*, holds_with: bool) -> Fact:
    """Return a fact that holds with egg white, or with what takes its place."""

    def holds(serve: Serve) -> bool:
        return any(item.stock.name == "egg white" for item in serve.lines) is holds_with

    return Fact(name="of the egg", guests=ToldGuests("egg", "Of the egg", holds))


@pytest.mark.parametrize("holds_with", [True, False])
def test_a_swap_says_that_it_brings_what_did_not_hold_before(holds_with, monkeypatch):
    [swap] = menu_with(monkeypatch, of_the_egg(holds_with=holds_with)).sections[0].drinks[0].swaps
    assert ("Of the egg" in swap.brings) is not holds_with


def test_a_swap_brings_nothing_that_holds_anyway(monkeypatch):
    always = Fact(name="always", guests=ToldGuests("always", "As always", lambda _: True))
    [swap] = menu_with(monkeypatch, always).sections[0].drinks[0].swaps
    assert "As always" not in swap.brings


def test_a_menu_is_another_version_once_guests_are_told_something_else(monkeypatch):
    versions = [
        menu_with(monkeypatch).version,
        menu_with(monkeypatch, of_the_egg(holds_with=True)).version,
        menu_with(monkeypatch, of_the_egg(holds_with=False)).version,
    ]
    assert len(set(versions)) == 3


def test_nothing_is_said_that_rests_on_a_strength_nobody_states():
    stock = "old gin:\n  kind: gin\n  contains: none\n  checked: 2026-11-01\n"
    house = house_with(
        "pour: [500 ml old gin, 500 ml gin]\nserves: 10\nmethod: stir\nglass: jug\n",
        stock=stock,
        house="name: The Test Bar\nregion: GB-SCT\nglasses: {jug: 2 l}\n",
    )
    setting = setting_of(house)
    facts, _ = work_out(house.specs["tried"], setting)
    assert facts is not None
    rows = {row.label: row.text for row in rows_of(Way(facts.serve, facts, setting.region, "GBP"), "making")}
    assert rows["Poured"] == "1000 ml, strength not known, old gin states none"
    assert not rows.keys() & {"Serves", "Menu says", "On ice", "Alcohol", "Lowest price"}


def test_the_rules_of_a_place_that_move_a_fact_are_fields_of_a_region():
    rules = {one.name: one.rules for one in table.compared_facts() if one.rules}
    assert rules == {
        "units": "drink_unit",
        "units a serve": "drink_unit",
        "menu's word": "descriptors",
        "age": "ages",
        "lowest price": "minimum_prices",
    }
    assert set(rules.values()) <= {field.name for field in fields(Region)}


def test_no_two_facts_share_a_name_or_a_place_in_json():
    names = [fact.name for fact in table.FACTS]
    assert len(set(names)) == len(names)
    compared = [one.name for one in table.compared_facts()]
    assert len(set(compared)) == len(compared)
    assert set(table._IN_DATA) <= set(names)
    assert set(table._IN_COMPARISON) <= set(compared)
