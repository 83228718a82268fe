"""Densities of ethanol, water and sugar against published tables, at and off 20 C.

The tables, their sources and their own rounding are in data/. Where two tables disagree in the last digit the
row says so and its tolerance covers it; we follow OIML R 22 and ICUMSA SPS-4.
"""

import csv
import json
from pathlib import Path

import pytest

from menugen.mixing import Liquid, liquid_from_label, mix, oiml, scaled, sucrose, sucrose_solid, water

DATA = Path(__file__).parent / "data"
POUND_G = 453.59237
US_GALLON_ML = 3785.411784
AIR_G_PER_ML = 0.0012
BRASS_G_PER_ML = 8.4


def rows(name):
    return list(csv.DictReader((DATA / name).read_text(encoding="utf-8").splitlines()))


def mass_fraction(given):
    if "mass_pct" in given:
        return given["mass_pct"] / 100
    return oiml.mass_fraction(given["vol_pct"] / 100, given.get("ref_temp_c", 20.0))


def density(given):
    return oiml.density_g_per_ml(mass_fraction(given), given["temp_c"])


def specific_gravity_in_air(given):
    water_g_per_ml = oiml.density_g_per_ml(0.0, given["temp_c"])
    return (density(given) - AIR_G_PER_ML) / (water_g_per_ml - AIR_G_PER_ML)


def gallons_per_pound_in_air(given):
    return POUND_G * (1 - AIR_G_PER_ML / BRASS_G_PER_ML) / (density(given) - AIR_G_PER_ML) / US_GALLON_ML


def water_to_reduce(given):
    end = oiml.mass_fraction(given["end_proof"] / 200, 15.56)
    start = oiml.mass_fraction(given["start_proof"] / 200, 15.56)
    return given["start_lb"] * (start / end - 1)


ETHANOL = {
    "density in vacuo": density,
    "density of water": density,
    "density of ethanol": density,
    "mass percent from volume percent": lambda given: 100 * mass_fraction(given),
    "volume percent from mass percent": lambda given: (
        100 * oiml.volume_fraction(given["mass_pct"] / 100, given["ref_temp_c"])
    ),
    "specific gravity in air, 25/25 C": specific_gravity_in_air,
    "specific gravity in air, 15.56/15.56 C": specific_gravity_in_air,
    "gallons per pound in air, 60 F": gallons_per_pound_in_air,
    "proof gallons per pound in air, 60 F": lambda given: (
        given["vol_pct"] / 50 * gallons_per_pound_in_air(given)
    ),
    "water to bring 1000 lb of 200 proof to 190 proof": water_to_reduce,
}


@pytest.mark.parametrize("row", rows("ethanol_water_density.csv"), ids=lambda row: row["id"])
def test_ethanol_and_water_match_the_published_tables(row):
    found = ETHANOL[row["quantity"]](json.loads(row["inputs_json"]))
    if row["unit"] == "kg/m3":
        found *= 1000
    assert found == pytest.approx(float(row["value"]), rel=0, abs=float(row["tolerance"]))


def pounds_per_gallon(given):
    apparent = (sucrose.density_g_per_ml(given["brix"]) - AIR_G_PER_ML) / (1 - AIR_G_PER_ML / BRASS_G_PER_ML)
    return apparent * US_GALLON_ML / POUND_G


def sugar_specific_gravity(given):
    brix = given.get("brix", given.get("plato"))
    return (sucrose.density_g_per_ml(brix) - AIR_G_PER_ML) / (sucrose.density_g_per_ml(0) - AIR_G_PER_ML)


def syrup_brix(given):
    syrup = mix([sucrose_solid(given["sugar_g"]), water(given["water_g"])])
    return 100 * syrup.sugar_g / syrup.mass_g


SUGAR = {
    "weight per US gallon in air at 20 C": pounds_per_gallon,
    "weight per US gallon of a pure sucrose solution": pounds_per_gallon,
    "true density at 20 C": lambda given: sucrose.density_g_per_ml(given["brix"]),
    "apparent specific gravity 20/20": sugar_specific_gravity,
    "sugar per litre, sucrose solution at 20 C": lambda given: sucrose.brix_to_g_per_l(given["brix"]),
    "saturated sucrose solution": lambda given: sucrose.solubility_brix(given["temp_c"]),
    "1:1 syrup by weight": syrup_brix,
    "2:1 syrup by weight": syrup_brix,
}


@pytest.mark.parametrize("row", rows("sucrose_density.csv"), ids=lambda row: row["id"])
def test_sugar_and_water_match_the_published_tables(row):
    found = SUGAR[row["quantity"]](json.loads(row["inputs_json"]))
    assert found == pytest.approx(float(row["value"]), rel=0, abs=float(row["tolerance"]) + 1e-12)


def test_the_tables_reach_off_20_c_where_a_wrong_coefficient_shows():
    off_20_c = [
        row
        for row in rows("ethanol_water_density.csv")
        if json.loads(row["inputs_json"]).get("temp_c", 20) != 20 and "specific gravity" in row["quantity"]
    ]
    assert len(off_20_c) >= 20


@pytest.mark.parametrize(
    "row", [row for row in rows("dairy_density.csv") if row["agrees"] == "yes"], ids=lambda row: row["id"]
)
def test_cream_is_skimmed_milk_with_fat_in_it(row):
    fat = json.loads(row["inputs_json"])["fat_pct"] / 100
    skimmed = liquid_from_label(1000, 0, sugar_g_per_l=50, density_g_per_ml=1.033)
    cream = mix([scaled(skimmed, (1 - fat) / skimmed.mass_g), Liquid(fat_g=fat)])
    assert cream.mass_g / cream.volume_ml == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))
