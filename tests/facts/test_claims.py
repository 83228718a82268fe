"""What guests' texts may not say: a strength that is not so, an absence nobody can keep."""

import pytest

from menugen.facts import work_out_event, work_out_unlisted
from menugen.problems import Severity, draw_text
from menugen.regions import absence_promises
from tests.houses import EVENT, HOUSE, SOUR, STOCK, reading_of, with_drinks


def told(spec: str = SOUR, event: str = EVENT) -> set[tuple[str, str]]:
    reading = reading_of(with_drinks({"marsh-sour": spec}, event=event))
    assert reading.house is not None
    assert not reading.problems, reading.problems
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    return {
        (problem.code, problem.severity.value)
        for problem in problems
        if problem.code in ("untrue-strength-claim", "absence-promised")
    }


def test_a_sound_drink_claims_nothing():
    assert told() == set()


@pytest.mark.parametrize(
    "name", ["Nut-Free Sour", "Sour Free of Dairy", "Sans gluten", "Glutenfreier Sour", "Egg Free Fizz"]
)
def test_no_drink_may_be_called_free_of_an_allergen(name):
    assert told(SOUR.replace("Marsh Sour", name)) == {("absence-promised", "error")}


@pytest.mark.parametrize(
    "name", ["Free Sour", "Sugar-Free Sour", "Carefree", "Nutty Sour", "Freedom of Milk Street"]
)
def test_other_freedoms_are_no_promise(name):
    assert absence_promises(name) == ()


def test_a_note_may_not_promise_it_either():
    assert told(SOUR.replace("Bright and short.", "Bright, dairy-free and short.")) == {
        ("absence-promised", "error")
    }


SPOKEN = (
    HOUSE
    + """
contact: ask at the bar
rules: [Water is always there.]
translations:
  fr:
    rules: ["L'eau est toujours là."]
    words: {shared shakers: shakers partagés, gin: gin}
"""
)
SPOKEN_EVENT = EVENT.replace("date:", "place: The Boathouse\nequipment: [shared shakers]\ndate:").replace(
    "menu:\n  - section: All\n",
    "translations:\n  fr: {event: Petit souper, place: Le hangar}\nmenu:\n  - section: All\n    note: All evening.\n"
    "    translations:\n      fr: {section: Tout, note: Toute la soirée.}\n",
)
SPOKEN_SOUR = SOUR.replace(
    "garnish: lemon twist\n",
    "garnish: lemon twist\ntranslations:\n  fr: {name: Aigre du marais, notes: Vif et court.}\n",
)
SPOKEN_STOCK = STOCK.replace("aliases: [gin]", "aliases: [gin, nut-free gin]").replace(
    "aquafaba:\n", "aquafaba:\n  aliases: [sans œuf]\n"
)


def absences(
    spec: str = SPOKEN_SOUR, event: str = SPOKEN_EVENT, house: str = SPOKEN
) -> list[tuple[str, ...]]:
    files = with_drinks({"marsh-sour": spec}, event=event, house=house, stock=SPOKEN_STOCK)
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    drawn = draw_text(problems, reading.sources, prefix="", colour=False)
    return [
        (problem.where.file, problem.where.quote, *(str(step) for step in problem.where.path))
        for problem in problems
        if problem.code == "absence-promised"
        and problem.severity is Severity.ERROR
        and problem.hints[0].startswith("say what is in the drink instead")
        and "^" * len(problem.where.quote) in drawn
    ]


def test_texts_that_promise_nothing_pass():
    assert absences() == []


@pytest.mark.parametrize(
    ("what", "old", "new", "expected"),
    [
        ("spec", "Marsh Sour", "No-Nut Sour", ("specs/marsh-sour.md", "No-Nut", "name")),
        ("spec", "Bright and short.", "Made without egg.", ("specs/marsh-sour.md", "without egg")),
        ("spec", "Bright and short.", "Bright.\n\nContains no nuts.", ("specs/marsh-sour.md", "no nuts")),
        ("spec", "Aigre du marais", "Aigre sans lait",
         ("specs/marsh-sour.md", "sans lait", "translations", "fr", "name")),
        ("spec", "Vif et court.", "Sans œuf.", ("specs/marsh-sour.md", "Sans œuf", "translations", "fr", "notes")),
        ("spec", "50 ml gin", "50 ml nut-free gin", ("specs/marsh-sour.md", "nut-free", "pour", "0")),
        ("spec", "20 ml aquafaba", "20 ml sans œuf", ("specs/marsh-sour.md", "sans œuf", "swap", "egg white", "0")),
        ("event", "Small Supper", "Nut Free Supper", ("events/small-supper.yaml", "Nut Free", "event")),
        ("event", "Petit souper", "Souper sans gluten",
         ("events/small-supper.yaml", "sans gluten", "translations", "fr", "event")),
        ("event", "The Boathouse", "The Egg-Free Barn", ("events/small-supper.yaml", "Egg-Free", "place")),
        ("event", "Le hangar", "Le hangar sans noix",
         ("events/small-supper.yaml", "sans noix", "translations", "fr", "place")),
        ("event", "[shared shakers]", "[nut-free shakers]", ("events/small-supper.yaml", "nut-free", "equipment", "0")),
        ("event", "section: All", "section: Dairy-free",
         ("events/small-supper.yaml", "Dairy-free", "menu", "0", "section")),
        ("event", "All evening.", "No milk tonight.", ("events/small-supper.yaml", "No milk", "menu", "0", "note")),
        ("event", "section: Tout", "section: Sans lait",
         ("events/small-supper.yaml", "Sans lait", "menu", "0", "translations", "fr", "section")),
        ("event", "Toute la soirée.", "Pas de lait.",
         ("events/small-supper.yaml", "Pas de lait", "menu", "0", "translations", "fr", "note")),
        ("house", "The Test Bar", "The Nut-Free Bar", ("house.yaml", "Nut-Free", "name")),
        ("house", "ask at the bar", "the gluten-free bar", ("house.yaml", "gluten-free", "contact")),
        ("house", "[Water is always there.]", "[We use no nuts.]", ("house.yaml", "no nuts", "rules", "0")),
        ("house", "[Water is always there.]", "We use no nuts.", ("house.yaml", "no nuts", "rules", "0")),
        ("house", "L'eau est toujours là.", "Ici, pas de noix.",
         ("house.yaml", "pas de noix", "translations", "fr", "rules", "0")),
        ("house", "shakers partagés", "shakers sans gluten",
         ("house.yaml", "sans gluten", "translations", "fr", "words", "shared shakers")),
    ],
)  # fmt: skip
def test_no_text_that_a_guest_reads_may_promise_an_absence(what, old, new, expected):
    texts = {"spec": SPOKEN_SOUR, "event": SPOKEN_EVENT, "house": SPOKEN}
    assert old in texts[what]
    found = absences(**{what: texts[what].replace(old, new)})
    assert found == [expected]


def test_bar_notes_are_no_guests_and_may_say_it():
    assert absences(SPOKEN_SOUR.replace("The secret is a cold tin.", "Made without nuts.")) == []


def test_a_house_without_events_is_told_as_well():
    reading = reading_of({"house.yaml": f"{HOUSE.strip()}\nrules: [No nuts here.]\n"})
    assert [problem.code for problem in work_out_unlisted(reading.house, ())] == ["absence-promised"]


@pytest.mark.parametrize("name", ["Alcohol-Free Sour", "0.0 Sour", "Virgin Sour", "Low Alcohol Sour"])
def test_a_name_that_claims_a_strength_must_be_true(name):
    assert told(SOUR.replace("Marsh Sour", name)) == {("untrue-strength-claim", "error")}


def test_a_sentence_is_told_and_does_not_stop():
    assert told(SOUR.replace("Bright and short.", "An alcohol-free sour.")) == {
        ("untrue-strength-claim", "warning")
    }


def test_sections_and_events_claim_for_every_drink_below_them():
    assert told(event=EVENT.replace("section: All", "section: Alcohol-free")) == {
        ("untrue-strength-claim", "error")
    }
    assert told(event=EVENT.replace("Small Supper", "Alcohol-Free Supper")) == {
        ("untrue-strength-claim", "error")
    }
    assert told(event=EVENT.replace("section: All", "section: Gluten-free")) == {
        ("absence-promised", "error")
    }


def test_a_swap_must_keep_what_the_name_says():
    soda = (
        "---\nname: Alcohol-Free Soda\npour: [25 ml lemon juice, 100 ml soda water]\nmethod: build\nglass: highball\n"
        "swap:\n  lemon juice: 25 ml gin\n---\n"
    )
    assert told(soda) == {("untrue-strength-claim", "error")}
    assert told(soda.replace("swap:\n  lemon juice: 25 ml gin\n", "")) == set()


def test_the_remedy_says_what_the_word_asks_for():
    reading = reading_of(with_drinks({"marsh-sour": SOUR.replace("Marsh Sour", "Alcohol-Free Sour")}))
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    (claim,) = [problem for problem in problems if problem.code == "untrue-strength-claim"]
    assert claim.severity is Severity.ERROR
    assert "at most 0.05 % vol" in claim.hints[0]


def test_a_bottle_of_the_night_that_is_not_there_is_told_once_at_the_event():
    event = EVENT.replace("menu:", "bottles:\n  gin: garden jin\nmenu:", 1)
    reading = reading_of(with_drinks({"marsh-sour": SOUR}, event=event))
    assert reading.house is not None
    _, problems = work_out_event(reading.house, reading.house.events["small-supper"])
    (problem,) = [problem for problem in problems if problem.severity is Severity.ERROR]
    assert problem.where.file == "events/small-supper.yaml"
    assert 'did you mean "garden gin"' in problem.hints[0]
