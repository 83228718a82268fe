"""Prices that a drink with alcohol may not be sold under. Published ones are in tests/outside."""

from datetime import date
from decimal import Decimal

import pytest

from menugen.regions import PouredAlcohol, load_region, minimum_price
from menugen.regions.price_floor import minimum_price_entry

ON = date(2026, 12, 12)


def least(code: str, *pours: PouredAlcohol, abv: float = 20.0, on: date = ON) -> Decimal | None:
    ethanol_ml = sum(pour.volume_ml * pour.abv_percent / 100 for pour in pours)
    return minimum_price(load_region(code, on), ethanol_ml, abv_percent=abv, pours=pours)


SHOT = PouredAlcohol("spirit", 29, 40)


@pytest.mark.parametrize(
    ("code", "above"),
    [("GB-SCT", 0.5), ("GB-WLS", 1.2)],
)
def test_weak_drinks_have_none(code, above):
    beer = PouredAlcohol("beer", 1000, above)
    assert least(code, beer, abv=above) is None
    assert least(code, beer, abv=above + 0.01) is not None


def test_a_drink_without_alcohol_has_none():
    assert least("GB-SCT") is None
    assert least("IE") is None


def test_ireland_counts_grams():
    # 10 cents a gram: 40 ml at 40 % are 16 ml or 12.624 g.
    assert least("IE", PouredAlcohol("spirit", 40, 40)) == Decimal("1.27")
    assert least("IE", PouredAlcohol("spirit", 40, 40), on=date(2022, 1, 3)) is None


@pytest.mark.parametrize(
    ("pour", "price"),
    [
        (SHOT, "1.34"),
        (PouredAlcohol("liqueur", 29, 20), "1.34"),
        (PouredAlcohol("beer", 341, 5), "2.00"),
        (PouredAlcohol("beer", 341, 18), "2.00"),
        (PouredAlcohol("wine", 142, 12), "2.00"),
        (PouredAlcohol("wine", 142, 15.5), "2.00"),
        (PouredAlcohol("fortified wine", 85, 20), "2.00"),
        (PouredAlcohol("", 29, 40), "1.34"),
        (PouredAlcohol("", 341, 7), "2.00"),
        (PouredAlcohol("liqueur", 341, 14.8), "2.00"),
        (PouredAlcohol("spirit", 58, 40), "2.68"),
        (PouredAlcohol("spirit", 14.5, 40), "0.67"),
    ],
)
def test_ontario_prices_what_is_poured(pour, price):
    assert least("CA-ON", pour) == Decimal(price)


def test_ontario_adds_up_the_pours_of_a_mixed_drink_and_rounds_once_upwards():
    # 10 ml of spirit: 0.46207; 30 ml of wine: 0.42254; together 0.8846.
    assert least("CA-ON", PouredAlcohol("spirit", 10, 40), PouredAlcohol("wine", 30, 12)) == Decimal("0.89")
    assert least("CA-QC", SHOT) is None


def test_what_a_law_names_no_price_for_adds_nothing():
    beer_alone = minimum_price_entry(
        {
            "serves": [{"classes": ["beer"], "ml": "341", "price": "2.00"}],
            "rounding": "up",
            "source": ["own-caution"],
            "how": "memory",
        }
    )
    assert beer_alone.of(17, [PouredAlcohol("beer", 341, 5), SHOT]) == Decimal("2.00")
    assert beer_alone.of(12, [SHOT]) == Decimal("0.00")


def test_the_northern_territory_had_one_until_march_2025():
    assert least("AU-NT", PouredAlcohol("beer", 375, 5), on=date(2025, 2, 28)) == Decimal("1.93")
    assert least("AU-NT", PouredAlcohol("beer", 375, 5), on=date(2025, 3, 1)) is None
    assert least("AU", SHOT) is None
