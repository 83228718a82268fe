"""The working of every figure: its steps come to the figure, its doubts to the range, and each input has a source."""

import math
import re
from pathlib import Path

import pytest

from menugen.facts import DrinkFacts, Setting, Working, setting_for, work_out, working_of
from menugen.facts.working_melt import melt_steps
from menugen.reading import DiskFiles, read_house
from tests.facts.drinks import house_with, setting_of, taste_of, worked_out

DEMO = Path(__file__).resolve().parents[2] / "demo_data"


def demo() -> tuple[Setting, list[DrinkFacts]]:
    house = read_house(DiskFiles(DEMO)).house
    assert house is not None
    setting, _ = setting_for(house, None)
    assert setting is not None
    found = [work_out(spec, setting)[0] for spec in house.specs.values()]
    return setting, [facts for facts in found if facts is not None]


SETTING, DRINKS = demo()
ALL = [(facts.spec.slug, working) for facts in DRINKS for working in working_of(facts, SETTING)]


def note(front: str, name: str, *, stock: str = "") -> Working:
    house = house_with(front, stock=stock)
    facts, _ = work_out(house.specs["tried"], setting_of(house))
    assert facts is not None
    return next(working for working in working_of(facts, setting_of(house)) if working.name.startswith(name))


def numbers(steps: tuple[str, ...]) -> list[str]:
    return re.findall(r"(?<![\w.])\d+(?:\.\d+)?", " ".join(steps))


def test_the_demo_is_worked_out_whole():
    assert len(DRINKS) >= 50
    names = {working.name for _, working in ALL}
    for name in (
        "Mix before ice",
        "Strength as served",
        "Level in the glass",
        "Units",
        "Sugar",
        "Sweet to sour",
    ):
        assert name in names


def test_every_energy_says_what_it_leaves_out():
    energies = [working for _, working in ALL if working.name.startswith("Energy")]
    assert len(energies) >= len(DRINKS)
    assert all(any("protein and starch are not counted" in step for step in one.steps) for one in energies)


@pytest.mark.parametrize("name", sorted({working.name for _, working in ALL if working.name[0].isupper()}))
def test_the_steps_lead_to_the_figure(name):
    for slug, working in ALL:
        if working.name != name or working.figure.value == 0.0:
            continue
        close = [
            text
            for text in numbers(working.steps)
            if abs(float(text) - working.figure.value) <= 0.51 * 10.0 ** -len(text.partition(".")[2])
        ]
        assert close, (slug, working)


def test_doubts_add_by_their_squares_to_the_range():
    for slug, working in ALL:
        figure = working.figure
        for end, side in ((figure.value - figure.low, "below"), (figure.high - figure.value, "above")):
            together = math.sqrt(sum(getattr(doubt, side) ** 2 for doubt in working.doubts))
            if side == "below" and together > figure.value:
                together = figure.value
            assert end == pytest.approx(together, rel=1e-6, abs=1e-9), (slug, working.name, side)


def test_every_input_and_every_rule_has_a_source_and_every_range_holds_its_value():
    for slug, working in ALL:
        assert working.figure.low <= working.figure.value <= working.figure.high
        assert all(item.source and item.basis for item in working.given), (slug, working)
        assert working.steps
    bases = {item.basis for _, working in ALL for item in working.given}
    assert bases == {"spec", "label", "measured", "reference", "law", "habit", "worked out"}


def test_a_label_says_when_it_was_read_and_a_usual_value_where_it_comes_from():
    gin = note("pour: 50 ml gin\nmethod: build", "gin")
    assert [(item.name, item.basis, item.source) for item in gin.given][:2] == [
        ("measure", "spec", "the spec"),
        ("strength", "label", "label, read 2026-11-01"),
    ]
    lemon = note("pour: 25 ml lemon juice\nmethod: build", "lemon juice")
    acid = next(item for item in lemon.given if item.name == "acid")
    assert acid.basis == "reference"
    assert "Penniston" in acid.source


def test_brix_and_percent_are_turned_into_grams_in_the_open():
    stock = "thick syrup:\n  sugar: 50 brix\n  contains: none\n  checked: 2026-11-01\n  bottle: 1 l\n"
    steps = note("pour: 20 ml thick syrup\nmethod: build", "thick syrup", stock=stock).steps
    # 50 Brix at its true density of 1.2297 g/ml: 614.8 g in a litre.
    assert "sugar: 50 Brix x 1.2297 g/ml, of sugar and water so strong, x 10 = 614.8 g/l" in steps
    measured = stock.replace("sugar: 50 brix", "sugar: 50 %\n  density: 1.22 g/ml")
    steps = note("pour: 20 ml thick syrup\nmethod: build", "thick syrup", stock=measured).steps
    assert "sugar: 50 g in 100 g x 1.2200 g/ml, as measured, x 10 = 610.0 g/l" in steps


@pytest.mark.parametrize(
    ("front", "words"),
    [
        ("pour: [50 ml gin, 40 ml lemon juice]\nmethod: shake", "-1.567 a^2 + 1.742 a + 0.203"),
        ("pour: [50 ml gin, 40 ml lemon juice]\nmethod: stir", "-1.21 a^2 + 1.246 a + 0.145"),
        ("pour: [50 ml gin, 40 ml lemon juice]\nmethod: stir 20 s", "20 s goes"),
        ("pour: [5 ml gin, 90 ml lemon juice]\nmethod: shake", "the equation holds from 15 to 40 % vol"),
        (
            "pour: [50 ml gin, 40 ml lemon juice]\nmethod: swizzle\nice: crushed",
            "of the way from least to most",
        ),
        ("pour: [50 ml gin, 40 ml soda water]\nmethod: build\nice: cubed", "no more than the least"),
        ("pour: [50 ml gin, 40 ml lemon juice]\nmethod: blend", "all the ice that is blended in"),
        ("pour: [50 ml gin, 40 ml lemon juice]\nmethod: stir\nmelt: '0.45'", "the house measured: 0.450"),
    ],
)
def test_each_rule_of_melting_shows_its_numbers(front, words):
    facts = worked_out(front)
    steps = melt_steps(facts.spec, facts.serve.made)
    assert any(words in step for step in steps), steps
    ratio = facts.serve.made.melt_ratio.value
    assert any(abs(float(text) - ratio) < 0.0051 for text in numbers(steps))


def test_nothing_is_said_of_ice_where_there_is_none():
    facts = worked_out("pour: 50 ml gin\nmethod: pour")
    house = house_with("pour: 50 ml gin\nmethod: pour")
    names = [working.name for working in working_of(facts, setting_of(house))]
    assert not any("elt" in name or "on ice" in name for name in names)
    assert "What comes into the glass" not in names


def test_the_demo_agrees_with_sums_on_the_back_of_a_menu():
    """Independent arithmetic: volumes and grams simply added up, and the melt water the engine gives."""
    checked = 0
    for facts in DRINKS:
        serve = facts.serve
        drunk = [item for item in serve.lines if item.volume_ml > 0]
        if any(item.mass_g > 0 for item in serve.lines) or not drunk:
            continue  # what is weighed has no volume to add
        alcohol_ml = sum(item.volume_ml * (item.stock.abv_percent or 0.0) / 100 for item in drunk)
        made = serve.made
        shares = [1.0 if item.on_top else made.kept_share for item in drunk]
        volume_ml = sum(item.volume_ml * share for item, share in zip(drunk, shares, strict=True))
        volume_ml += made.melt_g.value / 0.9982
        sugar_g = sum(
            item.volume_ml * content.amount / 1000
            for item in drunk
            for content in item.contents
            if content.what == "sugar"
        )
        taste = taste_of(serve)
        assert serve.made.ethanol_ml == pytest.approx(alcohol_ml, abs=1e-9), facts.spec.slug
        assert taste.sugar_g.figure.value == pytest.approx(sugar_g, abs=1e-9), facts.spec.slug
        # Ordinary mixing moves the volume by 0.3 % at most; let-down overproof by a little more.
        strongest = max(item.stock.abv_percent or 0.0 for item in drunk)
        assert serve.made.drink.volume_ml == pytest.approx(volume_ml, rel=0.01 if strongest > 50 else 0.003)
        checked += 1
    assert checked >= 40
