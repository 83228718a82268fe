"""From which age a drink is served, by the kind of drink and the place."""

from datetime import date

import pytest

from menugen.regions import PouredAlcohol, load_region

ON = date(2026, 12, 12)
BEER = PouredAlcohol("beer", 330, 5)
WINE = PouredAlcohol("wine", 125, 12)
FIZZ = PouredAlcohol("sparkling wine", 90, 11)
GIN = PouredAlcohol("spirit", 40, 40)
PORT = PouredAlcohol("fortified wine", 60, 20)
VERMOUTH = PouredAlcohol("aromatised wine", 60, 16)
LIQUEUR = PouredAlcohol("liqueur", 20, 20)
UNKNOWN = PouredAlcohol("", 20, 12)


def age(code: str, *pours: PouredAlcohol, mixed: bool = False) -> int | None:
    return load_region(code, ON).ages.of(pours, mixed=mixed or len(pours) > 1)


# What the European Union's agency for fundamental rights found in 2017, and what changed since: see sources.yaml.
ONE_AGE = {
    **dict.fromkeys(
        [
            "BG",
            "CY",
            "CZ",
            "DK",
            "EE",
            "ES",
            "FI",
            "FR",
            "GB",
            "GR",
            "HR",
            "HU",
            "IE",
            "IT",
            "LV",
            "NL",
            "PL",
            "PT",
            "RO",
            "SE",
            "SI",
            "SK",
            "CH-TI",
        ],
        18,
    ),
    "LT": 20,
    "IS": 20,
    "LU": 16,
    "MT": 17,
}
BY_KIND = {"AT": (16, 18), "BE": (16, 18), "CH": (16, 18), "DE": (16, 18), "LI": (16, 18), "NO": (18, 20)}


@pytest.mark.parametrize("code", ONE_AGE)
def test_one_age_for_everything(code):
    assert load_region(code, ON).ages.lower is None
    assert {age(code, BEER), age(code, WINE), age(code, GIN), age(code, GIN, FIZZ)} == {ONE_AGE[code]}


@pytest.mark.parametrize("code", BY_KIND)
def test_beer_and_wine_from_the_lower_age_and_spirits_from_the_other(code):
    lower, served = BY_KIND[code]
    assert (age(code, BEER), age(code, WINE), age(code, FIZZ)) == (lower, lower, lower)
    assert (age(code, GIN), age(code, GIN, mixed=True)) == (served, served)


@pytest.mark.parametrize("code", BY_KIND)
def test_a_mix_with_any_spirit_in_it_counts_as_a_spirit(code):
    assert age(code, FIZZ, GIN) == BY_KIND[code][1]
    assert age(code, PouredAlcohol("beer", 300, 5), PouredAlcohol("spirit", 2, 40)) == BY_KIND[code][1]


@pytest.mark.parametrize("code", ["AT", "BE", "CH", "DE", "LI"])
def test_fortified_wine_liqueur_and_what_is_of_no_known_kind_are_not_beer_or_wine(code):
    for pour in (PORT, VERMOUTH, LIQUEUR, UNKNOWN):
        assert age(code, pour) == 18
        assert age(code, WINE, pour) == 18


def test_in_norway_strength_decides_and_not_the_kind():
    assert (age("NO", PORT), age("NO", VERMOUTH), age("NO", UNKNOWN), age("NO", WINE, LIQUEUR)) == (18,) * 4
    assert age("NO", PouredAlcohol("spirit", 30, 22)) == 20
    assert age("NO", PouredAlcohol("spirit", 30, 21.9)) == 18


def test_in_belgium_a_mix_of_wine_counts_as_a_cocktail():
    assert age("BE", FIZZ, mixed=True) == 18
    assert age("DE", FIZZ, mixed=True) == 16


def test_a_drink_without_alcohol_has_no_age():
    assert age("AT") is None
    assert age("GB") is None


def test_every_state_of_the_union_and_of_the_eea_is_there():
    union = set(load_region("EU", ON).states)
    assert len(union) == 27 + 3
    assert {"IS", "LI", "NO"} < union
    assert "CH" not in union
    for code in union:
        assert load_region(code, ON).name != "European Union"


UNITS = {
    "AT": 20,
    "BE": 10,
    "DK": 12,
    "EE": 10,
    "FI": 12,
    "PL": 10,
    "PT": 10,
    "SE": 12,
    "SI": 10,
}


@pytest.mark.parametrize("code", UNITS)
def test_a_standard_drink_is_as_large_as_the_state_says(code):
    unit = load_region(code, ON).drink_unit
    assert (unit.name, unit.grams) == ("standard drink", UNITS[code])
    assert f"is {UNITS[code]} g of pure alcohol" in unit.sentence


@pytest.mark.parametrize(
    "code", ["BG", "CH", "CY", "CZ", "GR", "HR", "HU", "IS", "LI", "LT", "LU", "LV", "MT", "NO", "RO", "SK"]
)
def test_where_no_unit_is_known_alcohol_is_counted_in_grams(code):
    unit = load_region(code, ON).drink_unit
    assert unit.shown(20 / 0.789) == "20 g of alcohol"
    assert "grams of pure alcohol" in unit.sentence


def test_an_austrian_menu_counts_half_the_units_of_an_australian_one():
    austria, australia = (load_region(code, ON).drink_unit for code in ("AT", "AU"))
    assert austria.count(30) == pytest.approx(australia.count(30) / 2)


def test_the_weakest_part_says_how_surely_a_fact_is_known():
    assert load_region("NO", ON).ages.how == "memory"  # that a mix counts by its own strength
    assert load_region("BG", ON).ages.how == "read"
    assert load_region("DE", ON).ages.how == "reported"
    assert load_region("FI", ON).drink_unit.how == "memory"  # the density
