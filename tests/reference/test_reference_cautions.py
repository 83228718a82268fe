"""Which kinds and names are known for a caution: every example of the data, and what must not be taken for one."""

import pytest

from menugen.reference import made_cautions, noted_cautions, usual_cautions
from menugen.reference.ingredients import all_ingredients
from menugen.reference.package_data import package_data
from menugen.regions import known_cautions, source

DATA = package_data("caution_words")["cautions"]
LANGUAGES = ["en", "fr", "de", "es", "it", "nl", "pl", "pt", "cy", "ga", "ar"]


def known_by(text):
    return {*usual_cautions("", text), *made_cautions(text)}


def examples(key):
    return [pytest.param(name, text, id=f"{name}: {text}") for name in DATA for text in DATA[name][key]]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "text"), examples("carried"))
def test_a_name_that_shows_a_caution_carries_it(name, text):
    assert name in known_by(text)


@pytest.mark.parametrize(("name", "text"), examples("not_carried"))
def test_a_name_that_only_looks_like_it_does_not(name, text):
    assert name not in known_by(text)


@pytest.mark.parametrize("name", DATA)
def test_every_entry_is_whole(name):
    entry = DATA[name]
    assert name in known_cautions()
    assert list(entry["names"]) == LANGUAGES
    assert all(entry["names"].values())
    assert entry["carried"]
    assert entry["not_carried"]
    assert entry["how"] in {"read", "reported", "memory"}
    for one in entry["source"]:
        assert source(one)
    assert set(entry["kinds"]) <= {known.id for known in all_ingredients()}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "language", "word"),
    [
        (name, language, word)
        for name in DATA
        for language, words in DATA[name]["names"].items()
        for word in words
    ],
)
def test_each_word_is_found_by_itself(name, language, word):
    text = " ".join("grün" if part == "*" else part.strip("*") for part in word.split())
    assert name in known_by(text) | known_by(f"{text}saft"), language


@pytest.mark.parametrize(("name", "kind"), [(name, kind) for name in DATA for kind in DATA[name]["kinds"]])
def test_a_kind_carries_its_caution_whatever_the_line_is_called(name, kind):
    assert name in usual_cautions(kind, "House number four")


def test_the_kind_of_a_pasteurised_thing_does_not_make_it_raw():
    assert usual_cautions("egg_white", "pasteurised egg white") == ()
    assert usual_cautions("pasteurised egg white", "carton of whites") == ()
    assert usual_cautions("egg_white", "unpasteurised whites") == ("raw egg",)


def test_what_a_spec_calls_a_thing_decides_where_its_bottle_says_nothing():
    assert usual_cautions("", "Saltern No. 4", "tonic water") == ("quinine",)
    assert usual_cautions("", "Saltern No. 4") == ()
    assert usual_cautions("", "aquafaba", "egg white") == ()
    assert usual_cautions("gin", "Saltern No. 4", "tonic water") == ()
    assert usual_cautions("", "carton, pasteurised", "egg white") == ()
    assert usual_cautions("", "Saltern No. 4", "pasteurised egg white") == ()
    assert usual_cautions("", "farm egg white", "pasteurised egg white") == ("raw egg",)


def test_several_cautions_of_one_name_are_all_known():
    assert set(usual_cautions("", "coffee and honey syrup")) == {"caffeine", "honey"}


def test_accents_and_case_do_not_matter_but_in_very_short_words():
    assert usual_cautions("", "MIOD") == ("honey",)
    assert usual_cautions("", "Thé") == ("caffeine",)
    assert usual_cautions("", "The gin") == ()
    assert usual_cautions("", "cafe\u0301") == ("caffeine",)


def test_what_is_known_is_a_caution_that_regions_know():
    assert set(DATA) <= set(known_cautions())


def test_what_belongs_to_how_a_drink_is_made_is_never_a_stock_lines():
    assert usual_cautions("", "flaming lime shell") == ()
    assert made_cautions("flaming lime shell") == ("flaming",)
    assert made_cautions("dry ice") == ()


def test_notes_show_only_what_their_part_of_the_spec_may_show():
    assert noted_cautions("guest notes", "A plume of dry ice.") == ("dry ice",)
    assert noted_cautions("name", "Dry-Ice Fizz") == ("dry ice",)
    assert noted_cautions("bar notes", "Set it alight, then cover.") == ("flaming",)
    assert noted_cautions("guest notes", "A flamed orange sky.") == ()
    assert noted_cautions("guest notes", "With honey and a raw egg.") == ()
