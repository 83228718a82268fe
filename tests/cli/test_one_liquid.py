"""A volume and the strength beside it are of one liquid, in the text and in JSON."""

import re

import pytest

from menugen.cli.drink_report import drink_report, way_of
from menugen.drink_facts import way_data
from menugen.report import as_text
from tests.facts.drinks import house_with, setting_of, worked_out

TOPPED = (
    "pour: [50 ml gin, 25 ml lemon juice, 25 ml sugar syrup]\ntop: [60 ml soda water]\n"
    "method: shake\nglass: collins\n"
)
DRINKS = (
    TOPPED,
    TOPPED + "ice: cubed\n",
    "pour: [40 ml gin]\nfloat: [30 ml white wine]\nmethod: stir\nglass: rocks\nice: large cube\n",
    "pour: [40 ml gin]\ntop: [soda water]\nmethod: build\nglass: collins\nice: cubed\n",
    "pour: [40 ml gin, 20 ml lemon juice]\nfloat: 20 ml white wine\nmethod: dry shake\nglass: collins\nice: crushed\n",
)


@pytest.mark.parametrize("front", DRINKS)
def test_volume_times_strength_is_the_alcohol_of_that_liquid(front):
    facts = worked_out(front)
    data = way_data(way_of(facts, facts.serve, setting_of(house_with(front))))
    drunk = [(item.volume_ml, item.stock.abv_percent or 0.0, item.on_top) for item in facts.serve.lines]
    poured_ml = sum(volume for volume, _, _ in drunk)
    alcohol_ml = sum(volume * strength / 100 for volume, strength, _ in drunk)
    assert data["poured_ml"] == pytest.approx(poured_ml, rel=0.003), "all that is poured, tops counted"
    assert data["poured_ml"] * data["poured_abv_percent"]["value"] / 100 == pytest.approx(
        alcohol_ml, rel=1e-4
    )
    assert data["ethanol_ml"] == pytest.approx(alcohol_ml, rel=1e-4)
    # What is in the glass: of what is mixed a little stays in the tin, of what is poured on top nothing.
    mixed_ml = data["mix_ml"] + data["melt_ratio"]["value"] * data["mix_ml"]
    kept = 1.0 - data["left_behind_ml"] / mixed_ml if data["left_behind_ml"] and "dry" not in front else None
    in_glass_ml = data["served_ml"]["value"] * data["served_abv_percent"]["value"] / 100
    if kept is not None:
        served_ml = sum(
            volume * strength / 100 * (1.0 if on_top else kept) for volume, strength, on_top in drunk
        )
        assert in_glass_ml == pytest.approx(served_ml, rel=0.002)
    assert in_glass_ml <= alcohol_ml + 1e-3
    assert data["glass"]["liquid_ml"] == data["served_ml"]["value"]
    assert data["mix_abv_percent"] == pytest.approx(facts.serve.made.mix.abv_percent, abs=1e-4)


@pytest.mark.parametrize("front", DRINKS)
def test_the_page_at_the_terminal_says_the_same_pairs(front):
    facts = worked_out(front)
    setting = setting_of(house_with(front))
    way = way_of(facts, facts.serve, setting, "GBP")
    text, data = as_text(drink_report(way, setting, ounce="trade")), way_data(way)
    for label, volume, strength in (
        ("Poured", data["poured_ml"], data["poured_abv_percent"]),
        ("Served", data["served_ml"]["value"], data["served_abv_percent"]),
    ):
        found = re.search(rf"^{label} +(\d+) ml, ([\d.]+) % vol", text, re.MULTILINE)
        assert found is not None, text
        assert float(found[1]) == pytest.approx(volume, abs=0.51)
        assert float(found[2]) == pytest.approx(strength["value"], abs=0.051)


def test_a_topped_drink_is_poured_whole():
    facts = worked_out(TOPPED)
    data = way_data(way_of(facts, facts.serve, setting_of(house_with(TOPPED))))
    assert data["poured_ml"] == pytest.approx(160, abs=0.5)
    assert data["poured_abv_percent"]["value"] == pytest.approx(12.5, abs=0.05)
    assert data["mix_ml"] == pytest.approx(100, abs=0.5)
