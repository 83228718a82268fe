"""How a page speaks: numbers, prices, days, rows of names and counted nouns, by language and by place."""

from datetime import date, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu import catalogue_languages, english
from menugen.menu.language import own_name, page_language

DAY = date(2026, 12, 12)
HOURS = (time(19), time(0, 30))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("tag", "country", "currency", "shown"),
    [
        ("en", "GB", "GBP", "£9.50"),
        ("fr", "GB", "GBP", "9,50 £"),
        ("fr", "FR", "EUR", "9,50 €"),
        ("de", "US", "USD", "9,50 $"),
        ("en", "US", "USD", "$9.50"),
        ("fr-CA", "CA", "CAD", "9,50 $"),
        ("nl", "NL", "EUR", "€ 9,50"),
        ("pl", "GB", "GBP", "9,50 £"),
        ("ga", "IE", "EUR", "€9.50"),
        ("cy", "GB", "GBP", "£9.50"),
        ("pt", "GB", "GBP", "9,50 £"),
        ("pt-BR", "GB", "GBP", "£ 9,50"),
        ("ar", "GB", "GBP", "\u200f9.50 £"),
    ],
)
def test_a_price_has_the_places_sign_where_the_language_puts_it(
    tag: str, country: str, currency: str, shown: str
) -> None:
    page = page_language(tag, country, currency)
    assert page.price(Decimal("9.50"), currency).replace("\xa0", " ").replace("\u202f", " ") == shown


def test_money_that_is_not_the_places_keeps_the_sign_that_tells_it_apart() -> None:
    assert page_language("fr", "GB", "GBP").price(Decimal(5), "USD").endswith("$US")
    assert page_language("en", "IE", "EUR").price(Decimal(5), "USD").startswith("US$")


@pytest.mark.parametrize(
    ("tag", "country", "when"),
    [
        ("en", "GB", "Saturday, 12 December 2026, 19:00 – 00:30"),
        ("fr", "GB", "samedi 12 décembre 2026, 19:00 – 00:30"),
        ("de", "DE", "Samstag, 12. Dezember 2026, 19:00 – 00:30"),
        ("pl", "IE", "sobota, 12 grudnia 2026, 19:00 – 00:30"),
        ("ga", "IE", "Dé Sathairn 12 Nollaig 2026, 19:00 – 00:30"),
    ],
)
def test_a_day_and_its_hours_are_written_as_the_language_does(tag: str, country: str, when: str) -> None:
    assert page_language(tag, country, "EUR").when(DAY, HOURS) == when


def test_a_day_without_hours_is_the_day() -> None:
    assert page_language("fr", "FR", "EUR").when(DAY, None) == "samedi 12 décembre 2026"


def test_a_clock_of_twelve_hours_is_kept_where_it_is_used() -> None:
    assert "7:00" in page_language("en", "US", "USD").when(DAY, HOURS)
    assert "،" in page_language("ar", "GB", "GBP").when(DAY, HOURS).split("7:00")[0]


@pytest.mark.parametrize(
    ("tag", "country", "joined"),
    [
        ("en", "GB", "a, b and c"),
        ("en", "US", "a, b, and c"),
        ("fr", "GB", "a, b et c"),
        ("de", "DE", "a, b und c"),
        ("ga", "IE", "a, b agus c"),
        ("cy", "GB", "a, b a c"),
    ],
)
def test_names_are_joined_as_the_language_does(tag: str, country: str, joined: str) -> None:
    assert page_language(tag, country, "EUR").listed(["a", "b", "c"]) == joined


def test_welsh_and_is_ac_before_a_vowel() -> None:
    page = page_language("cy", "GB", "GBP")
    assert page.listed(["siglwyr", "iâ"]) == "siglwyr ac iâ"
    assert page.listed(["gwin"]) == "gwin"


def test_a_row_has_the_languages_comma() -> None:
    assert page_language("en", "GB", "GBP").row(["a", "b"]) == "a, b"
    assert page_language("ar", "GB", "GBP").row(["أ", "ب"]) == "أ، ب"


@pytest.mark.parametrize(
    ("tag", "figure", "noun"),
    [
        ("en", "1", "unit"),
        ("en", "1.4", "units"),
        ("en", "0.5", "units"),
        ("fr", "1.4", "unité"),
        ("fr", "2", "unités"),
        ("de", "1.4", "Einheiten"),
        ("pl", "1", "jednostka"),
        ("pl", "2", "jednostki"),
        ("pl", "5", "jednostek"),
        ("pl", "1.4", "jednostki"),
        ("ga", "7", "n-aonad"),
        ("cy", "2", "uned"),
        ("ar", "3", "وحدات"),
        ("ar", "1.4", "وحدة"),
        ("pt", "1.4", "unidades"),
        ("pt-BR", "1.4", "unidade"),
    ],
)
def test_a_noun_stands_as_the_figure_beside_it_asks(tag: str, figure: str, noun: str) -> None:
    assert page_language(tag, "GB", "GBP").noun("unit", "units", Decimal(figure)) == noun


@given(st.sampled_from(catalogue_languages()), st.decimals(0, 1000, places=2))
def test_every_figure_has_a_noun_and_is_written_without_loss(tag: str, figure: Decimal) -> None:
    page = page_language(tag, "GB", "GBP")
    assert page.noun("standard drink", "standard drinks", figure)
    digits = "".join(letter for letter in page.number(figure) if letter.isdigit())
    assert digits.lstrip("0") == f"{figure.normalize():f}".replace(".", "").lstrip("0")


def test_the_percent_sign_stays_with_its_figure() -> None:
    assert (
        page_language("fr", "GB", "GBP").percent("about {percent} % vol", Decimal("8.50"))
        == "environ 8,5\xa0% vol"
    )
    assert english().percent("under {percent} % vol", Decimal("0.5")) == "under 0.5\xa0% vol"


def test_the_code_of_a_page_names_its_words_and_the_country_whose_habits_it_has() -> None:
    codes = {
        ("en", "GB"): "en-GB",
        ("en", "EU"): "en",
        ("fr", "GB"): "fr",
        ("pt", "GB"): "pt-PT",
        ("pt-BR", "GB"): "pt-BR",
        ("ar", "GB"): "ar",
        ("zh", "GB"): "en-GB",
        ("zh-Hant-TW", "US"): "en-US",
    }
    assert {key: page_language(*key, "GBP").code for key in codes} == codes


def test_only_arabic_runs_from_right_to_left_and_keeps_figures_apart() -> None:
    assert {tag: page_language(tag, "GB", "GBP").direction for tag in catalogue_languages()} == {
        tag: "rtl" if tag == "ar" else "ltr" for tag in catalogue_languages()
    }
    assert page_language("ar", "GB", "GBP").apart("0300 123") == "\u20680300 123\u2069"
    assert page_language("fr", "GB", "GBP").apart("0300 123") == "0300 123"


def test_a_language_is_called_by_its_own_name() -> None:
    names = {
        "fr": "Français",
        "cy": "Cymraeg",
        "ga": "Gaeilge",
        "ar": "العربية",
        "pt-BR": "Português (Brasil)",
    }
    assert {tag: own_name(tag) for tag in names} == names
    assert own_name("xzz") == "Xzz"


def test_a_name_that_looks_like_one_of_ours_is_left_as_it_is() -> None:
    page = page_language("fr", "GB", "GBP")
    assert page.filled("{new} instead of {old}", new="{old}", old="gin {x}") == "{old} au lieu de gin {x}"
