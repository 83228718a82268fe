"""Alcohol in the place's unit, said in the page's language."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu import catalogue_languages, shared_units_words
from menugen.menu.language import page_language
from menugen.menu.units import serves_words, units_words
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


def said(region: str, tag: str, ethanol_ml: float, serves: int) -> str:
    rules = load_region(region, ON)
    page = page_language(tag, rules.country, rules.currency)
    return shared_units_words(rules.drink_unit, ethanol_ml, serves, page)


@pytest.mark.parametrize(
    ("region", "tag", "words"),
    [
        ("GB-ENG", "en", "about 1.8 units in one serve, 17.6 units in all"),
        ("GB-ENG", "de", "etwa 1,8 Einheiten in einer Portion, 17,6 Einheiten insgesamt"),
        ("GB-ENG", "fr", "environ 1,8 unité par portion, 17,6 unités en tout"),
        ("GB-ENG", "es", "aprox. 1,8 unidades por ración, 17,6 unidades en total"),
        ("GB-ENG", "it", "circa 1,8 unità per porzione, 17,6 unità in tutto"),
        ("GB-ENG", "nl", "ongeveer 1,8 eenheden per portie, 17,6 eenheden in totaal"),
        ("GB-ENG", "pt", "cerca de 1,8 unidades por porção, 17,6 unidades no total"),
        ("GB-ENG", "pl", "w przybliżeniu 1,8 jednostki na porcję, łącznie 17,6 jednostki"),
        ("GB-ENG", "cy", "tua 1.8 uned ym mhob dogn, 17.6 uned i gyd"),
        ("GB-ENG", "ga", "thart ar 1.8 aonad sa riar, 17.6 aonad san iomlán"),
        ("GB-ENG", "ar", "نحو 1.8 وحدة في الحصة الواحدة، 17.6 وحدة في المجموع"),
        ("US-OR", "en", "about 1 standard drink in one serve, 10 standard drinks in all"),
        ("DE", "de", "etwa 14 g Alkohol in einer Portion, 141 g Alkohol insgesamt"),
    ],
)
def test_a_shared_drink_says_one_serve_and_the_whole(region: str, tag: str, words: str) -> None:
    assert said(region, tag, 176.0, 10) == words


@given(st.sampled_from([code for code, _ in known_regions()]), st.floats(0.001, 2000), st.integers(2, 100))
def test_each_is_rounded_from_what_is_in_it_and_neither_from_the_other(
    code: str, ethanol_ml: float, serves: int
) -> None:
    region = load_region(code, ON)
    unit, page = region.drink_unit, page_language("en-GB", region.country, region.currency)
    one, whole = units_words(unit, ethanol_ml / serves, page), units_words(unit, ethanol_ml, page)
    text = said(code, "en-GB", ethanol_ml, serves)
    about = "" if one.startswith("less than") else "about "
    assert text == f"{about}{one} in one serve, {whole} in all"
    figures = unit.figure(ethanol_ml / serves), unit.figure(ethanol_ml)
    assert figures[0] is not None
    assert figures[1] is not None
    if not figures[0].less_than:
        # As many serves as there are come to the whole, within what each was rounded by.
        step = float(max(unit.steps))
        assert abs(float(figures[0].units * serves - figures[1].units)) <= (serves + 1) * step / 2 + 1e-6


def test_a_drink_for_one_is_said_as_ever_and_no_alcohol_is_nothing() -> None:
    assert said("GB-ENG", "en", 14.0, 1) == "1.4 units"
    assert said("GB-ENG", "en", 0.0, 10) == ""
    assert said("GB-ENG", "en", 3.0, 10) == "less than 0.1 units in one serve, 0.3 units in all"


@pytest.mark.parametrize(
    ("tag", "forms"),
    [
        ("en", {2: "serves", 10: "serves"}),
        ("de", {2: "Portionen"}),
        ("fr", {2: "portions"}),
        ("es", {2: "raciones"}),
        ("it", {2: "porzioni"}),
        ("nl", {2: "porties"}),
        ("pt", {2: "porções"}),
        (
            "pl",
            {2: "porcje", 4: "porcje", 5: "porcji", 10: "porcji", 12: "porcji", 22: "porcje", 25: "porcji"},
        ),
        ("cy", {2: "ddogn", 3: "dogn", 6: "dogn", 10: "dogn"}),
        ("ga", {2: "riar", 3: "riar", 7: "riar", 10: "riar", 20: "riar"}),
        ("ar", {2: "حصة", 3: "حصص", 10: "حصص", 11: "حصة", 20: "حصة", 100: "حصة", 103: "حصص"}),
    ],
)
def test_serves_are_counted_as_the_language_counts(tag: str, forms: dict[int, str]) -> None:
    page = page_language(tag, "GB", "GBP")
    for count, noun in forms.items():
        assert serves_words(count, page) == f"{count}\N{NO-BREAK SPACE}{noun}"
    assert serves_words(1, page) == ""
