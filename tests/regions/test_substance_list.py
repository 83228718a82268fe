import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.regions import substance, substance_words, substances
from tests.regions.sole_substance import sole_substance

WRITTEN = {
    "milk": "milk, Milk, goat\u2019s milk, cream, whey",
    "egg": "eggs, Egg whites, quail eggs",
    "soy": "soya, soybeans, Soy-lecithin",
    "sulphites": "sulfites, sulphite, SO2, Sulphur dioxide",
    "crustacean": "prawns, shrimp, crabs, crustaceans",
    "mollusc": "oysters, molluscs, mollusks, squid",
    "fish": "anchovies, fish gelatine, isinglass",
    "wheat": "spelt, Wheat flour",
    "barley": "malt, malt vinegar, barley malt vinegar",
    "oats": "oat",
    "brazil-nut": "Brazil nut, brazil-nuts, brazil_nut",
    "pine-nut": "pine nuts, pine\u2010nut",
    "cashew": "cashew nuts",
    "walnut": "walnuts, black walnut",
    "macadamia": "macadamias",
    "hazelnut": "filberts",
    "peanut": "groundnuts, peanuts",
    "sesame": "sesame seeds, tahini",
    "celery": "celeriac, Celery salt",
    "lupin": "lupine, lupins",
    "peach": "peaches",
    "kiwifruit": "kiwis",
    "gelatin": "gelatine",
}


@pytest.mark.parametrize(
    ("word", "known"), [(word, known) for known, words in WRITTEN.items() for word in words.split(",")]
)
def test_the_words_people_write_are_known(word, known):
    assert sole_substance(word) == known


@pytest.mark.parametrize(
    "word", ["nuts", "gluten", "shellfish", "tree nuts", "", "none", "moon dust", "cereals", "seafood"]
)
def test_words_that_do_not_say_which_are_not_guessed(word):
    assert sole_substance(word) is None


@pytest.mark.slow
@given(st.sampled_from(substance_words()))
def test_every_word_listed_is_understood_in_capitals_and_with_hyphens(word):
    assert sole_substance(word) in {None, *substances()}
    assert sole_substance(word.upper().replace(" ", "-")) == sole_substance(word)


@given(st.sampled_from(substances()))
def test_every_id_and_menu_word_leads_back_to_itself(known):
    assert sole_substance(known) == known
    assert sole_substance(substance(known).word.removesuffix(" (gluten)")) == known


@given(st.text(max_size=40))
def test_any_text_is_a_substance_or_none(word):
    assert sole_substance(word) in {None, *substances()}


def test_the_substances_of_the_file_format_are_all_known():
    named = """wheat, rye, barley, oats, triticale, crustacean, mollusc, egg, fish, peanut, soy, milk, almond,
        hazelnut, walnut, cashew, pecan, brazil nut, pistachio, macadamia, pine nut, celery, mustard, sesame,
        sulphites, lupin, buckwheat, coconut, orange, apple, peach, kiwifruit, banana, gelatin"""
    ids = [sole_substance(word.strip()) for word in named.split(",")]
    assert sorted(map(str, ids)) == sorted(substances())
