"""What a menu in several languages lacks is told once for each file and language."""

from pathlib import Path

import pytest

from menugen.menu import missing as room
from menugen.menu.catalogue import Catalogue
from menugen.problems import Problem
from menugen.publishing import check_house
from tests.houses import EVENT, HOUSE, SOUR, TextFiles, texts

FRENCH = "translations:\n  fr:\n    name: Aigre\n    notes: Vif et court.\n---\nBright"


def warnings(code: str = "translation-missing", **changed: str) -> list[Problem]:
    files = texts(**changed)
    look = check_house(Path("no-such-house"), TextFiles(files))
    assert not look.stopped, look.problems
    return [problem for problem in look.problems if problem.code == code]


def event(more: str = "languages: [en, fr]\n") -> dict[str, str]:
    return {"events/small-supper.yaml": EVENT + more}


def test_a_house_in_one_language_is_told_nothing() -> None:
    assert warnings() == []
    assert warnings(**event("languages: [en-GB]\n")) == []


def test_each_file_is_told_once_for_each_language() -> None:
    told = warnings(**event("languages: [en, fr, ga]\n"))
    assert [(problem.where[0], problem.message) for problem in told] == [
        ("events/small-supper.yaml", 'not in French yet: the event\'s name, section "All"'),
        ("specs/marsh-sour.md", "not in French yet: name, notes"),
        (
            "house.yaml",
            'not in French yet: "gin", "lemon juice", "sugar syrup", "egg white", "lemon twist", "aquafaba"',
        ),
        ("events/small-supper.yaml", 'not in Irish yet: the event\'s name, section "All"'),
        ("specs/marsh-sour.md", "not in Irish yet: name, notes"),
        (
            "house.yaml",
            'not in Irish yet: "gin", "lemon juice", "sugar syrup", "egg white", "lemon twist", "aquafaba"',
        ),
    ]
    assert {problem.severity.value for problem in told} == {"warning"}


def test_two_events_with_one_drink_tell_of_it_once() -> None:
    second = EVENT.replace("Small Supper", "Second Supper") + "languages: [en, fr]\n"
    told = warnings(**event(), **{"events/second-supper.yaml": second})
    files = [problem.where[0] for problem in told]
    assert sorted(files) == [
        "events/second-supper.yaml", "events/small-supper.yaml", "house.yaml", "specs/marsh-sour.md",
    ]  # fmt: skip


def test_what_is_translated_is_not_told() -> None:
    house = (
        HOUSE + "rules: [Ask.]\ntranslations:\n  fr:\n    rules: [Demandez.]\n    words:\n"
        "      gin: gin\n      lemon juice: jus\n      sugar syrup: sirop\n      egg white: blanc\n"
        "      lemon twist: zeste\n      aquafaba: eau\n"
    )
    section = EVENT.replace(
        "  - section: All\n", "  - section: All\n    translations: {fr: {section: Tout}}\n"
    )
    told = warnings(
        **{
            "house.yaml": house,
            "specs/marsh-sour.md": SOUR.replace("---\nBright", FRENCH),
            "events/small-supper.yaml": section + "languages: [en, fr]\ntranslations: {fr: {event: Petit}}\n",
        }
    )
    assert told == []


def test_a_drink_may_keep_its_name_and_a_language_is_enough_for_its_countries() -> None:
    kept = SOUR.replace("---\nBright", FRENCH.replace("    name: Aigre\n", ""))
    told = warnings(**event("languages: [en, fr-CA]\n"), **{"specs/marsh-sour.md": kept})
    assert "specs/marsh-sour.md" not in [problem.where[0] for problem in told]


def test_notes_and_rules_that_are_not_there_are_not_missed() -> None:
    bare = SOUR.replace("Bright and short.\n", "")
    told = warnings(**event(), **{"specs/marsh-sour.md": bare})
    assert {problem.where[0]: problem.message for problem in told}[
        "specs/marsh-sour.md"
    ] == "not in French yet: name"
    assert "rules" not in "".join(problem.message for problem in told)


def test_many_names_are_counted_and_the_houses_own_glass_and_equipment_are_among_them() -> None:
    house = HOUSE + "rules: [Ask.]\nglasses: {sour: 200 ml}\n"
    told = warnings(
        **event("languages: [en, fr]\nequipment: [shared shakers, one old ladle]\n"), **{"house.yaml": house}
    )
    message = next(problem.message for problem in told if problem.where[0] == "house.yaml")
    assert message == (
        'not in French yet: the house rules, "gin", "lemon juice", "sugar syrup", "egg white" and 3 more'
    )


def test_catalogues_lack_nothing_and_where_one_does_check_says_which(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert warnings("words-not-translated", **event("languages: [en, fr, zh]\n")) == []
    full = room.load_catalogue("fr")
    assert full is not None
    half = Catalogue(
        "fr", {text: forms for text, forms in full.forms.items() if text not in ("Contains", "milk")}
    )
    monkeypatch.setattr(room, "load_catalogue", lambda language: half if language == "fr" else None)
    [told] = warnings("words-not-translated", **event("languages: [en, fr]\n"))
    assert told.message == (
        'some of our own words are not in French yet and stay in English: "Contains", "milk"'
    )
