"""Words of ingredient lists: what they resolve to, what they ask, and what is kept as said."""

import re
import unicodedata
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu.catalogue import PLURAL_FORMS, load_catalogue
from menugen.regions import (
    UNLISTED,
    label_word,
    label_words,
    substance,
    substance_words,
    substances,
)
from menugen.regions.data_files import load
from menugen.regions.regimes import every_entry, load_regime
from tests.regions.sole_substance import sole_substance

DATA = load("label_words.yaml")
NAMES = load("substance_names.yaml")["names"]["of"]
LANGUAGES = ("en", *PLURAL_FORMS)


def sure(word: str) -> set[str]:
    found = label_word(word)
    assert found is not None, word
    return set(found.substances)


def asks(word: str) -> set[str]:
    found = label_word(word)
    assert found is not None, word
    return set(found.asks)


@pytest.mark.parametrize(
    ("words", "known"),
    [
        ("barley malt vinegar, Malzessig, vinaigre de malt, ocet słodowy", "barley"),
        (
            "egg white powder, Egg-White Powder, dried egg whites, clara de huevo en polvo, Eigelb, tuorlo",
            "egg",
        ),
        (
            "skimmed milk powder, Magermilchpulver, lait écrémé en poudre, lait ecreme en poudre, whey powder",
            "milk",
        ),
        ("wheat (gluten), Weizen (Gluten), trigo (glúten), gwenith (glwten), قمح (غلوتين)", "wheat"),
        (
            "E220, e220, E 220, E-221, INS 222, 223, preservative (220), preservative: sulphur dioxide",
            "sulphites",
        ),
        ("almonds 12 %, Almonds*, roasted almonds, organic ground almonds, Mandeln, amande", "almond"),
        ("œufs, oeufs, Hühnerei, jaja, بيض, wyau, uibheacha", "egg"),
        ("Haselnüsse, Haselnuesse, HASELNÜSSE, noisette", "hazelnut"),
        ("noix, nueces, noci, nozes", "walnut"),
        ("soja-eiwit, sojaeiwit, soya protein", "soy"),
        ("contains milk, milk (lactose), milk (including lactose)", "milk"),
        ("lecithin (soya), emulsifier: soya lecithin, emulsifier (soya lecithin)", "soy"),
        ("albumin (egg), protein (egg)", "egg"),
        ("glucose syrup (wheat), starch (wheat)", "wheat"),
    ],
)
def test_words_that_labels_print_are_understood(words, known):
    for word in words.split(", "):
        assert sure(word) == {known}, word
        assert label_word(word).is_clear, word


def test_sulphites_have_nine_numbers():
    for number in range(220, 229):
        for written in (f"E{number}", f"e {number}", f"INS {number}", str(number)):
            assert sure(written) == {"sulphites"}, written


@pytest.mark.parametrize("word", ["E2200", "E22", "22", "E999b", "2026", "E 000"])
def test_a_number_that_is_no_additive_is_not_known(word):
    assert label_word(word) is None


@pytest.mark.parametrize(
    ("word", "brings", "asked"),
    [
        ("soy sauce", {"soy"}, {"wheat", "barley"}),
        ("malt", {"barley"}, {"wheat"}),
        ("advocaat", {"egg"}, {"milk"}),
        ("gelatine", {"gelatin"}, {"fish"}),
        ("gelatin", {"gelatin"}, {"fish"}),
        ("surimi", {"fish", "egg", "wheat"}, {"crustacean", "soy", "mollusc"}),
        ("lecithin", set(), {"soy", "egg"}),
        ("E322", set(), {"soy", "egg"}),
        ("starch", set(), {"wheat"}),
        ("shellfish", set(), {"crustacean", "mollusc"}),
        ("gluten", set(), {"wheat", "rye", "barley", "oats", "triticale"}),
    ],
)
def test_a_word_that_is_unclear_keeps_what_is_sure_and_asks_for_the_rest(word, brings, asked):
    assert sure(word) == brings
    assert asks(word) == asked
    assert not label_word(word).is_clear
    assert label_word(word).must_name is not bool(brings)


@pytest.mark.parametrize(
    "word",
    ["nuts", "tree nuts", "Nüsse", "fruits à coque", "orzechy", "Eiweiß", "may contain", "caramel", "E471"],
)
def test_words_that_never_resolve_alone_bring_nothing(word):
    assert sure(word) == set()
    assert not label_word(word).is_clear


def test_what_stands_in_brackets_answers_for_what_stands_before_it():
    assert label_word("nuts (almonds)").is_clear
    assert sure("soy sauce (soya, wheat)") == {"soy", "wheat"}
    assert label_word("soy sauce (soya, wheat)").is_clear
    assert label_word("starch (maize)").is_clear
    assert sure("starch (maize)") == set()
    assert label_word("lecithin (sunflower)").is_clear
    assert asks("lecithin (E322)") == {"soy", "egg"}, "a number that asks is no answer"
    assert label_word("starch (moon dust)") is None


def test_a_word_of_two_languages_asks_for_what_they_do_not_share():
    assert sure("Nougat") == set()
    assert {"hazelnut", "almond"} <= asks("nougat")


@pytest.mark.parametrize(
    ("thing", "brackets", "substances"),
    [
        ("wheat maltodextrin", "barley", ("wheat", "barley")),
        ("isinglass", "fish", ("fish",)),
        ("refined soybean oil", "soy", ("soy",)),
    ],
)
def test_what_a_label_names_in_brackets_is_declared_though_a_law_may_exempt_the_thing(
    thing, brackets, substances
):
    alone, named = label_word(thing), label_word(f"{thing} ({brackets})")
    assert alone is not None
    assert named is not None
    assert alone.thing, "a law may exempt it"
    assert (named.substances, named.thing) == (substances, "")


@pytest.mark.parametrize(
    "word",
    ["mango", "chestnut", "Chestnuts", "apricot kernels", "maize", "potatoes", "molasses", "grapes", "rice",
     "sunflower lecithin", "spirit vinegar", "cocoa butter", "butternut squash", "bentonite", "E330", "Kastanien"],
)  # fmt: skip
def test_what_no_law_lists_is_known_and_brings_nothing(word):
    found = label_word(word)
    assert (found.substances, found.is_clear, found.said) == ((), True, word)


@pytest.mark.parametrize(
    "word",
    ["egg replacer", "milk free", "free from milk", "nut free", "no egg", "gluten free", "wheat-free", "moon dust", "",
     "none", "milk alternative", "vegan egg", "mustard gas"],
)  # fmt: skip
def test_what_is_not_known_is_neither_resolved_nor_kept(word):
    assert label_word(word) is None


def test_what_nobody_knows_is_kept_once_that_is_said_and_an_allergen_stays_one():
    found = label_word(f"fairy fruit ({UNLISTED})")
    assert (found.said, found.substances, found.is_clear) == ("fairy fruit", (), True)
    assert sure(f"walnuts ({UNLISTED})") == {"walnut"}
    assert not label_word(f"nuts ({UNLISTED})").is_clear


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_word_our_own_menus_print_is_accepted(language):
    """Whatever stands in a contains line of ours can be copied onto a stock line, in every language there is."""
    words = {(substance(one).word, one) for one in substances()} | {
        (substance(one).base, one) for one in substances()
    }
    words |= {(word, one) for entry in every_entry() for one, word in entry.words.items()}
    for regime in load("regimes.yaml")["regimes"].values():
        words |= {(word, one) for one, word in regime.get("words", {}).items()}
    for english, known in words:
        printed = english if language == "en" else load_catalogue(language).get(english)
        found = label_word(printed)
        assert found is not None, (english, printed)
        assert (found.substances, found.is_clear) == ((known,), True), (english, printed)


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_group_of_the_law_is_its_one_substance_or_asks_which(language):
    for entry in every_entry():
        printed = entry.label if language == "en" else load_catalogue(language).get(entry.label)
        found = label_word(printed)
        assert found is not None, printed
        if len(entry.substances) == 1:
            assert set(found.substances) == set(entry.substances), printed
        else:
            assert not found.is_clear or set(found.substances) <= set(entry.substances), printed


@given(st.sampled_from(substance_words()))
def test_a_word_means_the_same_in_capitals_with_hyphens_and_without_accents(word):
    meaning = label_word(word)
    assert meaning is not None
    bare = "".join(one for one in unicodedata.normalize("NFD", word) if not unicodedata.combining(one))
    for written in (
        word.upper(),
        word.title(),
        re.sub(r"(?<=\w) (?=\w)", "-", word),
        word.replace(" ", "  "),
        bare,
    ):
        found = label_word(written)
        assert found is not None, written
        assert (found.substances, found.asks, found.thing) == (
            meaning.substances,
            meaning.asks,
            meaning.thing,
        ), written


ENGLISH = sorted(
    {word for part in ("words", "asked", "unlisted") for row in DATA[part] for word in row.get("en", ())}
)


@given(
    st.sampled_from(
        [word for word in ENGLISH if not word.endswith(("s", "x", "ch", ")", " of")) and len(word) > 3]
    )
)
def test_an_english_plural_means_what_the_singular_does(word):
    plural = f"{word[:-1]}ies" if word.endswith("y") and word[-2] not in "aeiou" else f"{word}s"
    one, many = label_word(word), label_word(plural)
    assert many is not None, plural
    assert (one.substances, one.asks) == (many.substances, many.asks), plural


@given(st.text(max_size=40))
def test_any_text_is_a_known_word_or_none(word):
    found = label_word(word)
    assert found is None or set(found.substances) | set(found.asks) <= set(substances())


@pytest.mark.slow
@given(st.sampled_from(substance_words()), st.sampled_from(substance_words()))
def test_brackets_never_take_a_substance_away(outer, inner):
    found = label_word(f"{outer} ({inner})")
    if found is not None and "(" not in outer + inner and ":" not in outer:
        assert set(label_word(outer).substances) | set(label_word(inner).substances) <= set(found.substances)


def test_every_substance_has_a_name_in_every_language():
    assert list(NAMES) == list(substances())
    for known, by_language in NAMES.items():
        assert list(by_language) == ["fr", "de", "es", "it", "nl", "pl", "pt", "ar", "cy", "ga"], known
        for language, words in by_language.items():
            assert words, (known, language)


def test_no_name_of_a_substance_means_another():
    for known, by_language in NAMES.items():
        for words in by_language.values():
            assert [word for word in words if sole_substance(word) != known] == [], known


def test_every_row_means_what_it_says_but_for_the_words_two_languages_share():
    """A word that another row or a substance's own name means otherwise is a trap: each is named here."""
    shared = set()
    for row in DATA["words"]:
        for language in LANGUAGES:
            for word in row.get(language, ()):
                sure_here = {one for one, how in row["is"].items() if how != "check"}
                if sure(word) != sure_here or asks(word) != set(row["is"]) - sure_here:
                    shared.add(word.casefold())
    for row in DATA["asked"]:
        shared |= {
            word.casefold() for one in LANGUAGES for word in row.get(one, ()) if label_word(word).is_clear
        }
    for row in DATA["unlisted"]:
        for one in LANGUAGES:
            shared |= {
                word.casefold() for word in row.get(one, ()) if sure(word) or not label_word(word).is_clear
            }
    assert shared == {"nougat", "malz", "małż"}


def test_a_polish_mollusc_and_german_malt_are_told_apart_by_asking():
    """Without its accents one is the other: whoever types either is asked, and nothing is taken for the other."""
    for word in ("małż", "Malz", "malz"):
        assert (sure(word), asks(word)) == (set(), {"mollusc", "barley", "wheat"}), word
    assert sure("Gerstenmalz") == {"barley"}
    assert sure("małże") == {"mollusc"}


def test_ids_and_degrees_in_the_data_are_known():
    things = {one.thing for name in ("eu", "gb", "us", "ca", "anz") for one in _exemptions(name)}
    for row in (*DATA["words"], *DATA["additives"]):
        assert set(row["is"]) <= set(substances())
        assert set(row["is"].values()) <= {"always", "usual", "check"}
        assert row.get("thing", "isinglass") in things, "a thing no law exempts is no thing"
    assert {row["thing"] for row in DATA["words"] if "thing" in row} == things
    for row in DATA["asked"]:
        assert set(row["choices"]) <= set(substances())


def _exemptions(name):
    return load_regime(name, date(2026, 12, 12)).exemptions


def test_no_word_leads_to_a_promise():
    for word in substance_words():
        assert not re.search(r"\b(free|without|sans|ohne|sin|senza|zonder|bez|sem)\b", word.casefold()), word


def test_an_english_name_means_the_same_whether_or_not_the_other_words_are_read():
    exact, _ = label_words._tables()
    for plain, meaning in label_words._plain_names().items():
        known = exact[plain]
        assert (known.substances, known.asks, known.thing) == (meaning.substances, (), ""), plain
        assert label_word(plain).substances == meaning.substances
