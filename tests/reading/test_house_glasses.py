"""Glasses of the house hold what the house's ounce says."""

import pytest

from tests.houses import reading_of, texts


@pytest.mark.parametrize(
    ("settings", "brim_ml"),
    [("ounce: us\n", 295.735), ("ounce: imperial\n", 284.131), ("ounce: trade\n", 300.0), ("", 300.0)],
)
def test_a_glass_in_ounces(settings, brim_ml):
    files = texts()
    files["house.yaml"] += f"{settings}glasses:\n  tumbler: 10 oz\n  jar: {{brim: 10 oz, wash line: 9 oz}}\n"
    house = reading_of(files).house
    assert house is not None
    assert house.glasses["tumbler"].brim_ml == pytest.approx(brim_ml, abs=0.01)
    assert house.glasses["jar"].wash_line_ml == pytest.approx(brim_ml * 0.9, abs=0.01)


def test_more_tables_than_cards_are_made_for_are_refused():
    files = texts()
    files["events/small-supper.yaml"] += "tables: 5000\n"
    (problem,) = reading_of(files).problems
    assert problem.code == "figure-out-of-range"
    assert "500" in problem.hints[0]


def test_a_name_that_reads_backwards_is_refused():
    files = texts()
    files["specs/marsh-sour.md"] = files["specs/marsh-sour.md"].replace("Marsh Sour", "Marsh \u202eruoS")
    assert [problem.code for problem in reading_of(files).problems] == ["control-character"]
