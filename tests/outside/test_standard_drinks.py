"""Units of alcohol and standard drinks against the tables that health bodies publish.

The figures, their sources and their own rounding are in data/standard_drinks.csv; who published them is in
data/standard_drinks_sources.yaml. Rows whose published figure does not follow the body's own formula are kept
in the file with a note; what is asserted of them is that they do not.
"""

import csv
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from menugen.regions import DrinkUnit, load_region

DATA = Path(__file__).parent / "data"
ON = date(2026, 11, 25)
ROWS = list(csv.DictReader((DATA / "standard_drinks.csv").read_text(encoding="utf-8").splitlines()))
AGREEING = [row for row in ROWS if row["agrees"] == "yes"]
# Places and bodies whose units are published, and whose other rules menugen does not hold.
WITHOUT_REGION = {"JP", "CH", "WHO"}

# The rounding a row states, where it is also how its region's figure is shown to a guest.
SHOWN_BY = {
    "GB": ("one decimal",),
    "IE": ("nearest half",),
    "CA": ("one decimal",),
    "AU": ("one decimal",),
    "NZ": ("one decimal",),
    "FR": ("one decimal",),
    "IT": ("one decimal",),
}


def ethanol_ml(row: dict[str, str]) -> float:
    return float(row["volume_ml"]) * float(row["abv_percent"]) / 100


def unit_of(row: dict[str, str]) -> DrinkUnit:
    if row["region"] not in WITHOUT_REGION:
        return load_region(row["region"], ON).drink_unit
    density = float(row["defined_as"].removeprefix("grams, "))  # "grams, 0.8": grams by that density
    return DrinkUnit(
        "g",
        "g",
        "g",
        "",
        1 / density,
        1,
        density,
        (Fraction(1, 10),),
        "decimal",
        "",
        row["source"],
        (row["source"],),
        row["how"],
    )


def number(shown: str) -> float:
    text = shown.split(maxsplit=1)[0]
    parts = {"⅓": 1 / 3, "½": 0.5, "⅔": 2 / 3}
    if text[-1] in parts:
        return (float(text[:-1]) if text[:-1] else 0) + parts[text[-1]]
    return float(text)


@pytest.mark.parametrize("row", AGREEING, ids=lambda row: row["id"])
def test_units_match_the_published_figure_within_its_own_rounding(row):
    assert unit_of(row).count(ethanol_ml(row)) == pytest.approx(
        float(row["published"]), abs=float(row["tolerance"]) + 1e-9
    )


@pytest.mark.parametrize(
    "row",
    [row for row in AGREEING if row["rounding"] in SHOWN_BY.get(row["region"], ())],
    ids=lambda row: row["id"],
)
def test_the_figure_shown_is_the_published_one(row):
    assert number(unit_of(row).shown(ethanol_ml(row))) == float(row["published"])


@pytest.mark.parametrize(
    "row", [row for row in AGREEING if row["rounding"].startswith("approximate")], ids=lambda row: row["id"]
)
def test_american_thirds_and_halves_stay_within_the_tables_own_approximation(row):
    # The table calls itself approximate: 1.4 is printed as 1 1/2 and 4.67 as 4 1/2, where the nearest of
    # thirds and halves would be 1 1/3 and 4 2/3. We show the nearest.
    shown = number(unit_of(row).shown(ethanol_ml(row)))
    assert shown == pytest.approx(float(row["published"]), abs=float(row["tolerance"]))
    assert (shown * 6) % 1 == pytest.approx(0, abs=1e-9) or (shown * 6) % 1 == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("row", [row for row in ROWS if row["agrees"] != "yes"], ids=lambda row: row["id"])
def test_rows_left_out_really_do_contradict_the_formula(row):
    assert abs(unit_of(row).count(ethanol_ml(row)) - float(row["published"])) > float(row["tolerance"])


def test_every_row_is_asserted_or_left_out_with_a_reason():
    assert len(ROWS) == 94
    assert len(AGREEING) == 88
    assert all(row["note"] for row in ROWS if row["agrees"] != "yes")


def test_every_row_names_a_source_that_is_described():
    described = yaml.safe_load((DATA / "standard_drinks_sources.yaml").read_text(encoding="utf-8"))["sources"]
    assert {row["source"] for row in ROWS} <= set(described)
