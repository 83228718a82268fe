"""Alcohol in the place's unit, said in the page's language."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu.catalogue import catalogue_languages
from menugen.menu.language import page_language
from menugen.menu.units import units_words
from menugen.regions import known_regions, load_region

ON = date(2026, 12, 12)


@pytest.mark.parametrize(
    ("region", "tag", "ethanol_ml", "words"),
    [
        ("GB-ENG", "en", 14.0, "1.4 units"),
        ("GB-ENG", "fr", 14.0, "1,4 unité"),
        ("GB-ENG", "fr", 22.0, "2,2 unités"),
        ("GB-ENG", "fr", 0.3, "moins de 0,1 unité"),
        ("GB-ENG", "pl", 14.0, "1,4 jednostki"),
        ("GB-ENG", "pl", 0.3, "mniej niż 0,1 jednostki"),
        ("GB-ENG", "de", 10.0, "1 Einheit"),
        ("GB-ENG", "ar", 14.0, "1.4 وحدة"),
        ("US-OR", "en", 26.6, "1½ standard drinks"),
        ("US-OR", "fr", 26.6, "1½ verre standard"),
        ("US-OR", "es", 26.6, "1½ unidades de bebida estándar"),
        ("US-OR", "en", 8.9, "½ standard drink"),
        ("US-OR", "de", 8.9, "½ Standardglas"),
        ("IE", "ga", 19.0, "1½ deoch chaighdeánach"),
        ("IE", "ga", 25.35, "2 dheoch chaighdeánacha"),
        ("DE", "de", 15.0, "12 g Alkohol"),
        ("IT", "it", 15.0, "1 unità alcolica"),
        ("NL", "nl", 25.35, "2 standaardglazen"),
    ],
)
def test_units_are_said_as_the_place_counts_and_the_language_writes(
    region: str, tag: str, ethanol_ml: float, words: str
) -> None:
    rules = load_region(region, ON)
    assert (
        units_words(rules.drink_unit, ethanol_ml, page_language(tag, rules.country, rules.currency)) == words
    )


@given(st.sampled_from([code for code, _ in known_regions()]), st.floats(0, 200))
def test_in_english_they_are_what_the_region_itself_says(code: str, ethanol_ml: float) -> None:
    region = load_region(code, ON)
    page = page_language("en-GB", region.country, region.currency)
    assert units_words(region.drink_unit, ethanol_ml, page) == region.drink_unit.shown(ethanol_ml)


@given(st.sampled_from(catalogue_languages()), st.floats(0.001, 200))
def test_some_alcohol_is_never_said_to_be_none(tag: str, ethanol_ml: float) -> None:
    for code in ("GB-ENG", "US", "DE"):
        region = load_region(code, ON)
        words = units_words(
            region.drink_unit, ethanol_ml, page_language(tag, region.country, region.currency)
        )
        assert words
        assert not words.startswith("0 ")
