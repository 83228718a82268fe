"""What is said of a region whose own rules are not known, or that is no place."""

from pathlib import Path

import pytest

from menugen.facts import check_whose_rules, setting_for, work_out_event, work_out_unlisted
from menugen.problems import Problem, Severity
from menugen.publishing import check_house
from menugen.records import House
from tests.houses import EVENT, HOUSE, TextFiles, reading_of, texts


def files_in(region: str, **changed: str) -> dict[str, str]:
    return texts(**({"house.yaml": HOUSE.replace("GB-ENG", region)} | changed))


def house_in(region: str, **changed: str) -> House:
    reading = reading_of(files_in(region, **changed))
    assert reading.house is not None
    return reading.house


def told(region: str, **changed: str) -> list[Problem]:
    look = check_house(Path(), TextFiles(files_in(region, **changed)))
    return [problem for problem in look.problems if "region" in problem.code]


def test_the_union_is_asked_for_the_state_and_everything_else_is_still_said():
    [problem] = told("EU")
    assert (problem.code, problem.severity) == ("region-too-wide", Severity.ERROR)
    assert "AT, BE, BG" in problem.hints[0]
    assert "LT" in problem.hints[0]
    assert "EU" not in problem.hints[0]
    house = house_in("EU")
    facts, problems = work_out_event(house, house.events["small-supper"])
    assert facts is not None, "what was served in the past can still be worked out"
    assert [one.code for one in problems] == ["region-too-wide"]


@pytest.mark.parametrize(
    ("code", "named"), [("US-OR", "Oregon"), ("AU-VIC", "Victoria"), ("CH-ZH", "Zürich")]
)
def test_a_part_without_rules_of_its_own_is_said_once(code, named):
    [problem] = told(code)
    assert (problem.code, problem.severity) == ("region-rules-unknown", Severity.WARNING)
    assert named in problem.message
    assert code in problem.message
    assert named in problem.hints[0]
    assert problem.where.file == "house.yaml"


def test_it_is_said_once_a_region_however_many_events():
    second = EVENT.replace("Small Supper", "Second Supper")
    third = EVENT.replace("Small Supper", "Third Supper").replace("menu:", "region: US-WA\nmenu:")
    fourth = third.replace("Third", "Fourth")
    found = told(
        "US-OR",
        **{
            "events/second-supper.yaml": second,
            "events/third-supper.yaml": third,
            "events/fourth-supper.yaml": fourth,
        },
    )
    assert [(one.code, one.where.file) for one in found] == [
        ("region-rules-unknown", "house.yaml"),
        ("region-rules-unknown", found[1].where.file),
    ]
    assert "Washington" in found[1].message


def test_a_house_whose_events_are_elsewhere_is_told_of_its_own_region_too():
    abroad = EVENT.replace("menu:", "region: IE\nmenu:")
    house = house_in("US-OR", **{"events/small-supper.yaml": abroad})
    assert [one.code for one in check_whose_rules(house, house.events.values(), at_home=True)] == [
        "region-rules-unknown"
    ]
    assert not list(check_whose_rules(house, house.events.values(), at_home=False))


@pytest.mark.parametrize("code", ["GB-ENG", "US-NY", "CA-ON", "IE", "CH", "CH-TI", "AT", "AU"])
def test_where_rules_are_known_nothing_is_said(code):
    assert told(code) == []


@pytest.mark.parametrize(("code", "part"), [("GB", "GB-SCT"), ("US", "US-CA"), ("CA", "CA-ON")])
def test_a_country_whose_parts_differ_is_asked_for_the_part(code, part):
    [problem] = told(code)
    assert (problem.code, problem.severity) == ("region-too-wide", Severity.WARNING)
    assert part in problem.hints[0]


@pytest.mark.parametrize(
    ("code", "near"), [("US-ZZ", '"US-AZ"'), ("GB-SKT", '"GB-SCT"'), ("EU-AT", '"AT"'), ("UK", '"GB"')]
)
def test_a_code_that_there_is_not_is_an_error_with_what_may_have_been_meant(code, near):
    setting, [problem] = setting_for(house_in(code), None)
    assert setting is None
    assert (problem.code, problem.severity) == ("unknown-region", Severity.ERROR)
    assert near in problem.message + " ".join(problem.hints)
    assert [one.code for one in told(code)] == ["unknown-region"]


def test_a_part_that_there_is_not_is_no_part_without_rules():
    _, [problem] = setting_for(house_in("US-ZZ"), None)
    assert "ISO 3166-2" in problem.message
    assert "US-CA, US-NY, US-TX" in problem.hints[-1]
    _, [problem] = setting_for(house_in("LT-ZZ"), None)
    assert problem.hints[-1] == 'write "LT" alone, or a part of it that there is'


def test_a_drink_on_no_menu_is_held_to_the_place_too():
    assert [one.code for one in work_out_unlisted(house_in("EU"), ())] == ["region-too-wide"]
