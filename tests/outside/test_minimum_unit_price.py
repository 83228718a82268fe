"""Minimum prices of alcohol against worked prices in law and guidance.

The figures and their sources are in data/minimum_unit_price.csv; who published them is in
data/standard_drinks_sources.yaml.
"""

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from menugen.regions import load_region, minimum_price

DATA = Path(__file__).parent / "data"
ROWS = list(csv.DictReader((DATA / "minimum_unit_price.csv").read_text(encoding="utf-8").splitlines()))
# A day on which each price was or is in force.
DAY = {
    ("GB-SCT", "0.5"): date(2020, 1, 1),
    ("GB-SCT", "0.65"): date(2026, 1, 1),
    ("GB-WLS", "0.5"): date(2026, 9, 30),
}


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: f"{row['region']} {row['drink']} at {row['unit_price_gbp']}"
)
def test_prices_match_the_published_ones_to_the_penny(row):
    on = DAY[row["region"], row["unit_price_gbp"]]
    ethanol_ml = float(row["volume_ml"]) * float(row["abv_percent"]) / 100
    assert minimum_price(load_region(row["region"], on), ethanol_ml) == Decimal(row["published_price_gbp"])


def test_all_published_rows_agree_and_name_their_source():
    described = yaml.safe_load((DATA / "standard_drinks_sources.yaml").read_text(encoding="utf-8"))["sources"]
    assert len(ROWS) == 8
    assert {row["agrees"] for row in ROWS} == {"yes"}
    assert {row["source"] for row in ROWS} <= set(described)


def test_the_same_price_rounds_apart_in_scotland_and_wales():
    # 700 ml at 37.5 % at 65p is 17.0625: Scotland rounds up (Scottish Government guidance), Wales to the
    # nearest penny (Public Health (Minimum Price for Alcohol) (Wales) Act 2018, section 1).
    on = date(2026, 12, 12)
    assert minimum_price(load_region("GB-SCT", on), 262.5) == Decimal("17.07")
    assert minimum_price(load_region("GB-WLS", on), 262.5) == Decimal("17.06")


def test_the_welsh_price_changes_on_its_day():
    # 0.50 until, and 0.65 from, 1 October 2026 (Welsh Government; the day from a trade report).
    assert minimum_price(load_region("GB-WLS", date(2026, 9, 30)), 10) == Decimal("0.50")
    assert minimum_price(load_region("GB-WLS", date(2026, 10, 1)), 10) == Decimal("0.65")


def test_there_was_no_price_before_the_first_and_there_is_none_in_england():
    assert minimum_price(load_region("GB-SCT", date(2018, 4, 30)), 10) is None
    assert minimum_price(load_region("GB-ENG", date(2026, 12, 12)), 10) is None
