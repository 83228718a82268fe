"""Phrases that call a drink free of an allergen: every form of the data, its examples and its counter-examples."""

import unicodedata

import pytest

from menugen.regions import absence_promises
from menugen.regions.absence import (
    _evenly_spaced,
    _language,
    _marked,
    _Plain,
    _plain,
    _promise,
    _signs,
    _small,
    _vocabularies,
)
from menugen.regions.data_files import load

LANGUAGES = load("absence_words.yaml")["languages"]
FORMS = [
    pytest.param(code, form, id=f"{code}: {form['say'][:40]}")
    for code, entry in LANGUAGES.items()
    for form in entry["forms"]
]


LEAVES_OUT = {"en": "no", "fr": "sans", "de": "ohne", "es": "sin", "it": "senza", "nl": "zonder", "pl": "bez",
              "pt": "sem", "cy": "heb", "ga": "gan", "ar": "بدون"}  # fmt: skip


def test_every_language_that_pages_are_written_in_is_there():
    assert list(LANGUAGES) == ["en", "fr", "de", "es", "it", "nl", "pl", "pt", "cy", "ga", "ar"]


def has_form(code: str, form: dict, text: str) -> bool:
    """Whether this very form is in the text, and not another that would be found in its place."""
    own = _promise((), [form["say"]], _signs(LANGUAGES[code]))
    plain = _evenly_spaced(_plain(text))
    small = _Plain(_small(plain.text), plain.at)
    texts = (plain.text,) if form.get("exact") else (_marked(_language(code), small).text, small.text)
    return any(own.search(one) for one in texts)


@pytest.mark.slow
@pytest.mark.parametrize(("code", "form"), FORMS)
def test_each_example_is_refused_and_each_counter_example_passes(code, form):
    assert form["refused"]
    assert form["passes"]
    for text in form["refused"]:
        assert absence_promises(text), text
        assert absence_promises(f"Cold and dry. {text}, says the bar."), text
    for text in form["passes"]:
        assert absence_promises(text) == (), text


@pytest.mark.slow
@pytest.mark.parametrize(("code", "form"), FORMS)
def test_each_form_has_an_example_of_its_own(code, form):
    assert any(has_form(code, form, text) for text in form["refused"])


@pytest.mark.parametrize("code", LANGUAGES)
def test_every_word_that_can_be_promised_away_is_found(code):
    first = LEAVES_OUT[code]
    for word in LANGUAGES[code]["words"]:
        (promise,) = absence_promises(f"{first} {word}")
        assert promise.phrase == f"{first} {word}"
        for prefix in LANGUAGES[code].get("prefixes", ()):
            assert absence_promises(
                f"{first} سكر {prefix}{word}" if "و" in prefix else f"{first} {prefix}{word}"
            )


@pytest.mark.parametrize("code", LANGUAGES)
def test_words_that_begin_like_an_allergen_and_are_none_pass(code):
    first = LEAVES_OUT[code]
    for words in LANGUAGES[code]["not_words"]:
        assert absence_promises(f"{first} {words}") == (), words


@pytest.mark.parametrize(
    ("code", "stem", "end"),
    [("en", "{}less", ""), ("de", "{}frei", ""), ("de", "{}-freies", ""), ("nl", "{}vrij", "")],
)
def test_every_stem_is_found_before_its_ending(code, stem, end):
    for word in LANGUAGES[code]["stems"]:
        assert absence_promises(stem.format(word).title()), word


@pytest.mark.parametrize("code", LANGUAGES)
def test_a_promise_that_its_own_clause_takes_back_passes(code):
    assert LANGUAGES[code]["denied"]
    for text in LANGUAGES[code]["denied"]:
        assert absence_promises(text) == (), text
    for text in LANGUAGES[code]["not_denied"]:
        assert absence_promises(text), text


@pytest.mark.parametrize("code", LANGUAGES)
def test_everyone_a_drink_may_be_said_to_be_fit_for_is_known(code):
    phrase = {"en": "safe for {}", "fr": "convient aux {}", "de": "geeignet für {}", "es": "apto para {}",
              "it": "adatto ai {}", "nl": "geschikt voor {}", "pl": "odpowiedni dla {}", "pt": "apto para {}",
              "cy": "addas i {}", "ga": "oiriúnach do {}", "ar": "مناسب {}"}[code]  # fmt: skip
    for guests in LANGUAGES[code]["who"]:
        assert absence_promises(phrase.format(guests)), guests


def test_a_promise_says_where_it_is_in_the_users_own_text():
    text = "Cold. It doesn’t contain  any **nuts**, mind."
    (promise,) = absence_promises(text)
    assert text[promise.start : promise.end] == promise.phrase == "doesn’t contain  any **nuts"


def test_whatever_lies_between_words_is_quoted_as_it_was_typed():
    for typed in ("no \t nuts", "no&nbsp;__nuts", "no \u2013\nnuts", "no&#160;&nbsp;nuts", "no\u00a0nuts"):
        text = f"A  cold\r\n one: {typed},  mind."
        (promise,) = absence_promises(text)
        assert text[promise.start : promise.end] == promise.phrase == typed
    assert absence_promises("A  gluten-less sour")
    assert absence_promises("A  sour with  milk less sweet") == ()
    # A denial counts to the end of its line, however much space is around that.
    assert absence_promises("We cannot promise that it has  no nuts.") == ()
    assert absence_promises("We cannot promise  \n\n  no nuts.")


def test_signs_over_letters_do_not_matter_and_places_stay_right():
    for text in (
        "خالٍ من الْمُكَسَّرات",
        unicodedata.normalize("NFD", "Très bon, sans œufs ni blé, garanti sans lait"),
    ):
        promises = absence_promises(text)
        assert promises
        for promise in promises:
            assert text[promise.start : promise.end] == promise.phrase
    assert absence_promises(unicodedata.normalize("NFD", "Sour bez orzechów"))[0].phrase.startswith(
        "bez orzech"
    )


def test_a_capital_that_has_no_small_letter_of_one_piece_moves_nothing():
    text = "İİ no nuts"
    assert absence_promises(text)[0].phrase == "no nuts"


def test_several_promises_of_one_text_are_all_found_once():
    found = [
        promise.phrase for promise in absence_promises("Nut-free, sans gluten, ohne Ei. No milk, no ice.")
    ]
    assert found == ["Nut-free", "sans gluten", "ohne Ei", "No milk"]


@pytest.mark.parametrize(
    "text",
    [
        "vegan",
        "Vegetarian sour",
        "plant-based",
        "made without cream",
        "alcohol-free",
        "no sugar",
        "no rye left",
    ],
)
def test_what_is_no_promise_about_an_allergen_is_left_alone(text):
    assert absence_promises(text) == ()


def test_texts_without_a_word_that_can_be_promised_away_are_not_searched():
    everyday = {
        "a",
        "the",
        "with",
        "for",
        "people",
        "les",
        "der",
        "de",
        "mit",
        "no",
        "of",
        "pessoas",
        "la",
        "el",
    }
    for code, vocabulary in _vocabularies().items():
        assert not vocabulary & everyday, code
