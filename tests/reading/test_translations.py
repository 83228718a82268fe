"""The user's words in other languages, as they are read."""

import pytest
from babel import Locale

from menugen.reading.keys.language_codes import MEANT, TWO_LETTER_CODES
from menugen.records import EventWords, HouseWords, SectionWords, SpecWords
from tests.reading.held import codes, reading_of, told

SPEC = "---\nname: Sour\npour: 50 ml gin\nglass: coupe\n{more}---\nBright.\n"
EVENT = """\
event: Supper
date: 2026-12-12
place: The Old Boathouse
menu:
  - section: Before supper
    note: Short.
    translations:
      fr: {section: Avant le repas, note: Court.}
    drinks: [sour]
translations:
  FR: {event: Souper, place: Le hangar}
  pt-br: {event: Ceia}
"""


def spec_words(block: str) -> dict[str, SpecWords]:
    reading = reading_of({"specs/sour.md": SPEC.format(more=block)})
    assert [problem.code for problem in reading.problems] == []
    assert reading.house is not None
    return dict(reading.house.specs["sour"].translations)


def test_a_drink_is_translated_beside_its_own_words() -> None:
    french = "  fr:\n    name: Aigre\n    notes: |\n      Vif.\n\n      Et  salin.\n"
    block = f"translations:\n{french}  ga: {{name: Searbh}}\n"
    assert spec_words(block) == {
        "fr": SpecWords("Aigre", "Vif.\n\nEt  salin."),
        "ga": SpecWords("Searbh", ""),
    }
    assert spec_words("") == {}


def test_an_event_and_its_sections_are_translated_each_beside_its_own_words() -> None:
    reading = reading_of({"events/supper.yaml": EVENT, "specs/sour.md": SPEC.format(more="")})
    assert reading.problems == ()
    assert reading.house is not None
    event = reading.house.events["supper"]
    assert event.translations == {"fr": EventWords("Souper", "Le hangar"), "pt-BR": EventWords("Ceia", "")}
    assert event.sections[0].translations == {"fr": SectionWords("Avant le repas", "Court.")}


def test_a_house_translates_its_rules_and_the_names_it_uses() -> None:
    house = (
        "name: A\nrules: [One., Two.]\ntranslations:\n  fr:\n    rules: [Un., Deux.]\n    words: {gin: gin}\n"
    )
    reading = reading_of({"house.yaml": house})
    assert reading.problems == ()
    assert reading.house is not None
    assert reading.house.translations == {"fr": HouseWords(("Un.", "Deux."), {"gin": "gin"})}


def test_an_empty_rule_takes_its_translation_with_it() -> None:
    house = "name: A\nrules: [One., '', Two.]\ntranslations: {fr: {rules: [Un., '', Deux.]}}\n"
    reading = reading_of({"house.yaml": house})
    assert reading.house is not None
    assert reading.house.rules == ("One.", "Two.")
    assert reading.house.translations["fr"].rules == ("Un.", "Deux.")


@pytest.mark.parametrize(
    ("block", "code"),
    [
        ("translations: Aigre\n", "wrong-shape"),
        ("translations: {fr: Aigre}\n", "wrong-shape"),
        ("translations: {fr: {name: [Aigre]}}\n", "wrong-shape"),
        ("translations: {fr: {notes: [Vif]}}\n", "wrong-shape"),
        ("translations: {fr: {name: ''}}\n", "empty-value"),
        ("translations: {fr: {nom: Aigre}}\n", "unknown-key"),
        ("translations: {fr: {notes: '## Bar notes'}}\n", "bar-notes-heading"),
        ("translations: {French: {name: Aigre}}\n", "language-form"),
        ("translations: {fra: {name: Aigre}}\n", "unknown-language"),
        ("translations: {zz: {name: Aigre}}\n", "unknown-language"),
        ("translations: {fr: {name: A}, fr: {name: B}}\n", "repeated-key"),
    ],
)
def test_a_fault_in_a_translation_is_told(block: str, code: str) -> None:
    assert code in codes({"specs/sour.md": SPEC.format(more=block)})


def test_the_keys_offered_are_those_of_the_block_the_fault_is_in() -> None:
    text = EVENT.replace("{section: Avant le repas", "{sektion: Avant le repas").replace(
        "place: Le", "plaec: Le"
    )
    shown = told({"events/supper.yaml": text, "specs/sour.md": SPEC.format(more="")})
    assert 'did you mean "section"?' in shown
    assert 'did you mean "place"?' in shown


def test_rules_at_fault_are_told_once_and_not_counted_against() -> None:
    house = "name: A\nrules: {one: two}\ntranslations: {fr: {rules: [Un.]}}\n"
    assert codes({"house.yaml": house}) == ["wrong-shape"]


def test_two_letter_codes_are_those_of_cldr_and_what_is_offered_exists() -> None:
    known = {code for code in Locale("en").languages if len(code) == 2}
    assert known == TWO_LETTER_CODES
    assert not MEANT.keys() & TWO_LETTER_CODES
    assert set(MEANT.values()) <= TWO_LETTER_CODES
