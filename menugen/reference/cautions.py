"""Which cautions a kind or a name is known for, where a stock line says nothing of cautions itself."""

import re
import unicodedata
from collections.abc import Iterable
from functools import cache, lru_cache
from typing import NamedTuple

from menugen.reference.ingredients import ingredient
from menugen.reference.package_data import package_data

_ACCENTS_MATTER_TO = 3
"""Letters of a word up to which its accents count: without them the French for tea is the English "the"."""


class _Signs(NamedTuple):
    """By what one caution is known.

    Attributes:
        kinds: Ids of reference kinds.
        names: What a name shows it by.
        unless: What shows the opposite.
        in_spec: Whether it belongs to how a drink is made, and not to what is poured.
        in_notes: The parts of a spec besides its lines in which its words show it.
    """

    kinds: frozenset[str]
    names: re.Pattern[str]
    unless: re.Pattern[str]
    in_spec: bool
    in_notes: tuple[str, ...]


@lru_cache(maxsize=4096)
def usual_cautions(kind: str, name: str, called: str = "") -> tuple[str, ...]:
    """Return the cautions that a stock line's kind or name is known for, most of all where it says none itself.

    Args:
        kind: As the stock line says; empty where it does not.
        name: Of the stock line.
        called: What a spec calls it, which decides where neither kind nor name is known: tonight's bottle for the
            tonic may be called anything. A name that shows the opposite ("pasteurised") decides as well.

    Returns:
        Ids of cautions, in the order of the data.
    """
    of_kind = ingredient(kind or name)
    found = []
    for caution, signs in _signs().items():
        if signs.in_spec:
            continue
        own = f"{kind} {name}"
        if _shows(signs.unless, own):
            continue
        carries = (of_kind is not None and of_kind.id in signs.kinds) or _shows(signs.names, own)
        if not carries and of_kind is None and called:
            carries = _named_so(signs, called)
        if carries:
            found.append(caution)
    return tuple(found)


@lru_cache(maxsize=8192)
def made_cautions(line: str) -> tuple[str, ...]:
    """Return the cautions on how a drink is made that the words of one of its lines show: "flamed orange zest"."""
    return tuple(
        caution
        for caution, signs in _signs().items()
        if signs.in_spec and _shows(signs.names, line) and not _shows(signs.unless, line)
    )


@lru_cache(maxsize=8192)
def noted_cautions(part: str, text: str) -> tuple[str, ...]:
    """Return the cautions that a spec's text shows by its words: "a plume of dry ice".

    Args:
        part: Which of its texts: "name", "guest notes" or "bar notes".
        text: The text.
    """
    return tuple(
        caution for caution, signs in _signs().items() if part in signs.in_notes and _shows(signs.names, text)
    )


def words_of_caution(text: str) -> str:
    """Return those words of a text that show a caution, or that it does not apply, and nothing else of it."""
    found: dict[str, None] = {}
    for written in _both(text):
        for signs in _signs().values():
            for pattern in (signs.names, signs.unless):
                found.update((match.group(), None) for match in pattern.finditer(written))
    return " / ".join(found)


def _named_so(signs: _Signs, name: str) -> bool:
    if _shows(signs.unless, name):
        return False
    known = ingredient(name)
    return (known is not None and known.id in signs.kinds) or _shows(signs.names, name)


def _shows(pattern: re.Pattern[str], text: str) -> bool:
    written, bare = _both(text)
    return pattern.search(written) is not None or (bare != written and pattern.search(bare) is not None)


@lru_cache(maxsize=256)
def _both(text: str) -> tuple[str, str]:
    """Return a text made plain, with its accents and without; every caution asks for them in turn."""
    written = _plain(text)
    return written, written if written.isascii() else _bare(written)


def _plain(text: str) -> str:
    """Return a text with its accents, in small letters, with one space between words and straight apostrophes."""
    text = unicodedata.normalize("NFC", text.casefold()).replace("\u2019", "'")
    return " ".join(re.split(r"[\s_\-\u2010-\u2015*]+", text)).strip()


def _bare(text: str) -> str:
    return "".join(
        letter for letter in unicodedata.normalize("NFKD", text) if not unicodedata.combining(letter)
    )


@cache
def _signs() -> dict[str, _Signs]:
    data = package_data("caution_words")
    negations = sorted({_plain(word) for words in data["negations"].values() for word in words})
    return {
        caution: _Signs(
            frozenset(entry["kinds"]),
            _pattern(word for words in entry["names"].values() for word in words),
            _pattern(entry["unless"], "".join(rf"(?<!\b{word} )" for word in negations)),
            entry.get("in_spec", False),
            tuple(entry.get("in_notes", ())),
        )
        for caution, entry in data["cautions"].items()
    }


def _pattern(words: Iterable[str], not_behind: str = "") -> re.Pattern[str]:
    """Return a pattern that finds any of some words in a plain text; nothing where there are none.

    Args:
        words: As the data have them.
        not_behind: What must not stand before them.
    """
    forms = set()
    for word in words:
        written = " ".join(unicodedata.normalize("NFC", word.casefold()).replace("-", " ").split())
        forms.add(written)
        if len(_bare(written)) > _ACCENTS_MATTER_TO:
            forms.add(_bare(written))
    either = "|".join(_with_rest(form) for form in sorted(forms, key=len, reverse=True))
    return re.compile(rf"{not_behind}(?<!\w)(?:{either})(?!\w)" if either else r"(?!)")


def _with_rest(form: str) -> str:
    """Return the pattern of a word in which a star of its own is one or two words, and one at an end their rest."""
    words = [
        r"\w+(?: \w+)?" if word == "*" else re.escape(word).replace(r"\*", r"\w*") for word in form.split()
    ]
    return " ".join(words)
