"""A name in another language claims nothing that is not so."""

import pytest

from menugen.facts import work_out_event
from menugen.problems import Place
from tests.houses import SOUR, reading_of, texts


@pytest.mark.parametrize(
    ("language", "name"),
    [
        ("fr", "Aigre sans alcool"),
        ("de", "Alkoholfreie Säure"),
        ("pl", "Bezalkoholowy Kwas"),
        ("ga", "Searbh saor ó alcól"),
        ("ar", "شراب خالٍ من الكحول"),
        ("pt", "Azedo sem álcool"),
    ],
)
def test_a_translated_name_that_claims_no_alcohol_is_told(language: str, name: str) -> None:
    block = f"translations:\n  {language}:\n    name: {name}\n---\nBright"
    reading = reading_of(texts(**{"specs/marsh-sour.md": SOUR.replace("---\nBright", block)}))
    assert reading.problems == ()
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    [told] = [problem for problem in problems if problem.code == "untrue-strength-claim"]
    assert isinstance(told.where, Place)
    assert told.where.path == ("translations", language, "name")


def test_a_translated_name_that_claims_nothing_is_left_alone() -> None:
    block = "translations:\n  fr: {name: Aigre du marais}\n---\nBright"
    reading = reading_of(texts(**{"specs/marsh-sour.md": SOUR.replace("---\nBright", block)}))
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    assert [problem.code for problem in problems if problem.code == "untrue-strength-claim"] == []
