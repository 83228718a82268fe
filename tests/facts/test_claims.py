"""What guests' texts may not say: a strength that is not so, an absence nobody can keep."""

import pytest

from menugen.facts import work_out_event
from menugen.problems import Severity
from menugen.regions import absence_promises
from tests.houses import EVENT, SOUR, reading_of, with_drinks


def told(spec: str = SOUR, event: str = EVENT) -> set[tuple[str, str]]:
    reading = reading_of(with_drinks({"marsh-sour": spec}, event=event))
    assert reading.house is not None
    assert not reading.problems, reading.problems
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    return {
        (problem.code, problem.severity.value)
        for problem in problems
        if problem.code in ("untrue-strength-claim", "absence-promised")
    }


def test_a_sound_drink_claims_nothing():
    assert told() == set()


@pytest.mark.parametrize(
    "name", ["Nut-Free Sour", "Sour Free of Dairy", "Sans gluten", "Glutenfreier Sour", "Egg Free Fizz"]
)
def test_no_drink_may_be_called_free_of_an_allergen(name):
    assert told(SOUR.replace("Marsh Sour", name)) == {("absence-promised", "error")}


@pytest.mark.parametrize(
    "name", ["Free Sour", "Sugar-Free Sour", "Carefree", "Nutty Sour", "Freedom of Milk Street"]
)
def test_other_freedoms_are_no_promise(name):
    assert absence_promises(name) == ()


def test_a_note_may_not_promise_it_either():
    assert told(SOUR.replace("Bright and short.", "Bright, dairy-free and short.")) == {
        ("absence-promised", "error")
    }


@pytest.mark.parametrize("name", ["Alcohol-Free Sour", "0.0 Sour", "Virgin Sour", "Low Alcohol Sour"])
def test_a_name_that_claims_a_strength_must_be_true(name):
    assert told(SOUR.replace("Marsh Sour", name)) == {("untrue-strength-claim", "error")}


def test_a_sentence_is_told_and_does_not_stop():
    assert told(SOUR.replace("Bright and short.", "An alcohol-free sour.")) == {
        ("untrue-strength-claim", "warning")
    }


def test_sections_and_events_claim_for_every_drink_below_them():
    assert told(event=EVENT.replace("section: All", "section: Alcohol-free")) == {
        ("untrue-strength-claim", "error")
    }
    assert told(event=EVENT.replace("Small Supper", "Alcohol-Free Supper")) == {
        ("untrue-strength-claim", "error")
    }
    assert told(event=EVENT.replace("section: All", "section: Gluten-free")) == {
        ("absence-promised", "error")
    }


def test_a_swap_must_keep_what_the_name_says():
    soda = (
        "---\nname: Alcohol-Free Soda\npour: [25 ml lemon juice, 100 ml soda water]\nmethod: build\nglass: highball\n"
        "swap:\n  lemon juice: 25 ml gin\n---\n"
    )
    assert told(soda) == {("untrue-strength-claim", "error")}
    assert told(soda.replace("swap:\n  lemon juice: 25 ml gin\n", "")) == set()


def test_the_remedy_says_what_the_word_asks_for():
    reading = reading_of(with_drinks({"marsh-sour": SOUR.replace("Marsh Sour", "Alcohol-Free Sour")}))
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    (claim,) = [problem for problem in problems if problem.code == "untrue-strength-claim"]
    assert claim.severity is Severity.ERROR
    assert "at most 0.05 % vol" in claim.hints[0]


def test_a_bottle_of_the_night_that_is_not_there_is_told_once_at_the_event():
    event = EVENT.replace("menu:", "bottles:\n  gin: garden jin\nmenu:", 1)
    reading = reading_of(with_drinks({"marsh-sour": SOUR}, event=event))
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    (problem,) = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert problem.where.file == "events/small-supper.yaml"
    assert 'did you mean "garden gin"' in problem.hints[0]
