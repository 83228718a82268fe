"""The starter library and the demo house: every drink works out, every event publishes, nothing is missing."""

import re
from pathlib import Path

import pytest

from menugen.facts import DrinkFacts, setting_for, work_out
from menugen.mixing import VERBS
from menugen.problems import Severity
from menugen.publishing import CheckedHouse, check_house
from menugen.reading import DiskFiles
from menugen.records import Role

REPOSITORY = Path(__file__).resolve().parents[1]
DEMO = REPOSITORY / "demo_data"


@pytest.fixture(scope="module")
def checked() -> CheckedHouse:
    return check_house(DEMO, DiskFiles(DEMO))


@pytest.fixture(scope="module")
def library(checked: CheckedHouse) -> dict[str, DrinkFacts]:
    house = checked.reading.house
    assert house is not None
    setting, problems = setting_for(house, None)
    assert setting is not None
    assert problems == ()
    drinks = {}
    for slug, spec in house.specs.items():
        facts, faults = work_out(spec, setting)
        assert facts is not None, slug
        assert faults == (), faults
        drinks[slug] = facts
    return drinks


def test_the_demo_house_has_no_fault_and_three_events_in_three_places(checked):
    assert [problem for problem in checked.problems if problem.severity is Severity.ERROR] == []
    assert {facts.setting.region.code.partition("-")[0] for facts in checked.events} == {"GB", "US", "IE"}
    house = checked.reading.house
    assert house is not None
    assert len(house.stock) >= 80
    for facts in checked.events:
        listed = [entry.slug for section in facts.event.sections for entry in section.entries]
        assert sorted(facts.drinks) == sorted(listed)


def test_the_library_is_large_and_half_of_it_is_ours(library):
    classics = [slug for slug, facts in library.items() if facts.spec.source]
    alcohol_free = [slug for slug, facts in library.items() if facts.serve.made.ethanol_ml == 0]
    assert len(library) >= 30
    assert len(classics) >= 15
    assert len(library) - len(classics) >= 15
    assert len(alcohol_free) >= 8


def test_the_library_uses_every_method_and_most_of_what_can_stand_in_a_drink(library):
    used = {step.verb for facts in library.values() for step in facts.spec.method}
    assert used == set(VERBS)
    roles = {line.role for facts in library.values() for line in facts.spec.lines}
    assert roles == set(Role)
    assert len({facts.vessel.name for facts in library.values() if facts.vessel}) >= 14
    found = {
        substance
        for facts in library.values()
        for item in facts.serve.declaration.contains
        for substance in item.substances
    }
    assert {"egg", "milk", "sesame", "celery", "fish", "sulphites", "barley"} <= found
    assert found & {"almond", "hazelnut", "walnut", "pistachio"}


def test_no_drink_of_the_library_runs_over_its_glass(library):
    for slug, facts in library.items():
        assert facts.serve.fit is not None, slug
        assert facts.serve.fit.over_brim_ml == 0, slug


def test_every_stock_line_of_the_demo_has_a_read_label(checked):
    house = checked.reading.house
    assert house is not None
    for name, stock in house.stock.items():
        assert stock.contains is not None, name
        assert stock.checked is not None, name


def test_guest_text_of_the_library_names_no_measure_and_promises_no_health(library):
    for slug, facts in library.items():
        text = facts.spec.guest_notes
        assert text, slug
        assert not re.search(r"\d+ ?(ml|oz|cl)\b", text), slug
        assert not re.search(r"\b(healthy|detox|cure|guilt-free|free from|safe)\b", text, re.IGNORECASE), slug
