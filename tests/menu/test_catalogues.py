"""Every catalogue has every word, whole; and gettext's tools read from it what we do."""

import gettext
import re
from decimal import Decimal
from importlib.resources import files
from io import BytesIO

import pytest
from babel import Locale
from babel.messages.pofile import read_po

from menugen.menu import catalogue_languages, primary
from menugen.menu.catalogue import PLURAL_FORMS, Catalogue, load_catalogue, read_entries
from menugen.menu.messages import messages

LANGUAGES = tuple(PLURAL_FORMS)
WRITTEN_AS = {"pt": "pt_PT"}
"""Which country's rules a catalogue follows, where that is not the language's usual one."""

each_language = pytest.mark.parametrize("language", LANGUAGES)


def catalogue(language: str) -> Catalogue:
    found = load_catalogue(language)
    assert found is not None
    return found


def text_of(language: str) -> str:
    return files("menugen.menu").joinpath("catalogues", f"{language}.po").read_text(encoding="utf-8")


def header(language: str) -> dict[str, str]:
    lines = catalogue(language).forms[""][0].splitlines()
    return dict(line.split(": ", 1) for line in lines)


def names_in(text: str) -> set[str]:
    return set(re.findall(r"\{\w+\}", text))


def test_there_is_a_file_for_each_language_and_no_other() -> None:
    names = [entry.name for entry in files("menugen.menu").joinpath("catalogues").iterdir()]
    assert sorted(names) == sorted(f"{language}.po" for language in LANGUAGES)
    assert catalogue_languages() == ("en", *LANGUAGES)


@each_language
def test_every_text_of_the_code_and_the_data_is_translated_and_nothing_else(language: str) -> None:
    known = catalogue(language).forms
    assert {message.text for message in messages()} == known.keys() - {""}
    assert [text for text, forms in known.items() if not all(form.strip(" ") for form in forms)] == []


@each_language
def test_names_in_braces_are_the_same_in_every_form(language: str) -> None:
    for text, forms in catalogue(language).forms.items():
        if text:
            assert all(names_in(form) == names_in(text) for form in forms), text


@each_language
def test_a_counted_noun_has_every_plural_form_and_nothing_else_has_any(language: str) -> None:
    counted = {message.text for message in messages() if message.plural}
    assert counted
    for text, forms in catalogue(language).forms.items():
        assert len(forms) == (len(PLURAL_FORMS[language]) if text in counted else 1), text


@each_language
def test_texts_keep_their_figures_and_their_addresses(language: str) -> None:
    """A figure of a guideline, a number to dial or an address must not be lost or changed on the way."""
    for text, forms in catalogue(language).forms.items():
        if not text or (language == "ar" and "2 " in text):  # Arabic has a form of its own for two
            continue
        asked = re.findall(r"\d+(?:[.,]\d+)?|www\.\S+", text)
        for form in forms:
            plain = re.sub(r"(?<=\d),(?=\d)", ".", form)
            assert all(figure.rstrip(".") in plain for figure in asked), (text, form)


@each_language
def test_sentences_end_as_they_do_in_english(language: str) -> None:
    ends = {".": ".", "?": "?؟", ":": ":", "…": "…"}
    for text, forms in catalogue(language).forms.items():
        if text[-1:] in ends:
            assert forms[0][-1] in ends[text[-1]], text


@each_language
def test_the_header_says_who_has_checked_it_and_which_language_it_is(language: str) -> None:
    text = text_of(language)
    assert "# Not checked by a native speaker.\n" in text.split('msgid ""')[0]
    assert header(language)["Language"] == language
    assert header(language)["Content-Type"] == "text/plain; charset=UTF-8"
    assert "fuzzy" not in text
    assert "\n#~" not in text


@each_language
def test_names_of_allergens_say_where_they_come_from(language: str) -> None:
    """Each name of an allergen is the law's as far as it was read, or says that it is from memory."""
    entries = text_of(language).split("\n\n")[1:]
    named = [entry for entry in entries if re.search(r"^#\. (group of )?allergens?$", entry, re.MULTILINE)]
    assert len(named) > 50
    for entry in named:
        assert re.search(
            r"^# (from memory|the law's name, reported \(Annex II, item \d+\))$", entry, re.MULTILINE
        )


@each_language
def test_gettexts_rule_for_whole_numbers_is_cldrs(language: str) -> None:
    found = re.fullmatch(r"nplurals=(\d); plural=\((.*)\);", header(language)["Plural-Forms"])
    assert found is not None
    order = PLURAL_FORMS[language]
    assert int(found[1]) == len(order)
    rule = gettext.c2py(found[2])  # type: ignore[attr-defined]
    locale = Locale.parse(WRITTEN_AS.get(language, language))
    for number in [*range(240), 1000, 1001, 1002]:
        category = locale.plural_form(number)
        assert order[rule(number)] == (category if category in order else "other"), number


@each_language
def test_fractions_have_a_form(language: str) -> None:
    locale = Locale.parse(WRITTEN_AS.get(language, language))
    for tenths in range(1, 200):
        category = locale.plural_form(Decimal(tenths) / 10)
        assert catalogue(language).counted("unit", category)


@each_language
def test_a_general_reader_finds_what_ours_does(language: str) -> None:
    read = read_po(BytesIO(text_of(language).encode()), locale=language, abort_invalid=True)
    others = {}
    for message in read:
        if message.id:
            text = message.id[0] if isinstance(message.id, tuple) else message.id
            others[text] = message.string if isinstance(message.string, tuple) else (message.string,)
    assert others == {text: forms for text, forms in catalogue(language).forms.items() if text}


def test_folded_strings_comments_and_escapes_are_read() -> None:
    text = (
        '# a comment\nmsgid ""\nmsgstr ""\n"Language: xx\\n"\n\n#. what\n#: where\nmsgid ""\n"two "\n"lines"\n'
        'msgstr "a \\"b\\" \\\\n \\n"\n\n#~ msgid "old"\n\nmsgid "cup"\nmsgid_plural "cups"\n'
        'msgstr[0] "x"\nmsgstr[1] "y"\n'
    )
    assert dict(read_entries(text)) == {
        "": ("Language: xx\n",),
        "two lines": ('a "b" \\n \n',),
        "cup": ("x", "y"),
    }


def test_a_catalogue_is_found_by_the_first_part_of_a_tag() -> None:
    assert catalogue("pt-BR").language == "pt"
    assert load_catalogue("en-GB") is None
    assert load_catalogue("zh") is None
    assert primary("PT-br") == "pt"


def test_what_is_not_translated_is_none() -> None:
    half = Catalogue("pl", {"cup": ("x",), "none": ("",), "unit": ("a", "b", "c", "d")})
    assert half.get("missing") is None
    assert half.get("none") is None
    assert half.counted("cup", "one") is None
    assert [half.counted("unit", category) for category in ("one", "few", "many", "other", "two")] == [
        *"abcdd"
    ]
