"""Energy factors and worked energy sums against the law and public bodies.

Rows for substances that drinks here do not hold apart (polyols, salatrims, fibre, erythritol) check the table
only.
"""

import csv
import json
from pathlib import Path

import pytest

from menugen.mixing import LABEL_TOLERANCE_PERCENT_VOL, energy, liquid_from_label, oiml, sucrose_solid
from menugen.mixing.energy import ENERGY_PER_G

ROWS = {
    row["id"]: row
    for row in csv.DictReader(
        (Path(__file__).parent / "data" / "energy_factors.csv").read_text(encoding="utf-8").splitlines()
    )
}
FACTORS = [row for row in ROWS.values() if row["quantity"] == "energy factor"]
TOLERANCES_WE_DO_NOT_USE = {"nrg-038"}
"""Drinks with macerated fruit may lie 1.5 % vol off their label; the engine does not know which bottles are
such."""


def our_name(nutrient):
    plain = nutrient.split(" (")[0].removesuffix(", unrounded")
    return {"alcohol": "alcohol", "carbohydrate": "carbohydrate"}.get(plain, plain)


@pytest.mark.parametrize("row", FACTORS, ids=lambda row: row["id"])
def test_factors_are_those_of_the_law(row):
    nutrient = json.loads(row["inputs_json"])["nutrient"]
    factor = ENERGY_PER_G[our_name(nutrient)]
    ours = factor.kj if row["unit"] == "kJ/g" else factor.kcal
    value = float(row["value"])
    assert ours == (round(value) if "unrounded" in nutrient else value)


def test_grams_of_ethanol_in_a_hundred_millilitres():
    row = ROWS["nrg-026"]
    found = liquid_from_label(100, 10).ethanol_g
    assert found == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


def test_grams_behind_a_standard_drink():
    row = ROWS["nrg-027"]
    assert liquid_from_label(500, 5).ethanol_g / 10 == pytest.approx(
        float(row["value"]), abs=float(row["tolerance"])
    )


def test_density_of_ethanol_to_the_digits_public_bodies_print():
    assert f"{oiml.ETHANOL_G_PER_ML:.3f}" == ROWS["nrg-028"]["value"]


@pytest.mark.parametrize(
    ("row_id", "label"),
    [
        ("nrg-031", {"abv_percent": 12}),
        ("nrg-033", {"abv_percent": 0, "sugar_g_per_l": 3}),
        ("nrg-034", {"abv_percent": 0, "acid_g_per_l": 6}),
    ],
)
def test_worked_sum_of_a_wine_label(row_id, label):
    row = ROWS[row_id]
    assert energy(liquid_from_label(100, **label)).kj == pytest.approx(
        float(row["value"]), abs=float(row["tolerance"])
    )


def test_tolerance_of_a_label():
    assert float(ROWS["nrg-035"]["value"]) == LABEL_TOLERANCE_PERCENT_VOL


def test_every_row_is_asserted_or_named():
    asserted = {row["id"] for row in FACTORS} | {
        "nrg-026", "nrg-027", "nrg-028", "nrg-031", "nrg-033", "nrg-034", "nrg-035",
    }  # fmt: skip
    assert set(ROWS) == asserted | TOLERANCES_WE_DO_NOT_USE


def test_kilojoules_and_kilocalories_are_summed_apart():
    found = energy(sucrose_solid(10))
    assert found == (170.0, 40.0)
    assert found.kj / found.kcal == 4.25, "4.184 would mean one was converted into the other"
