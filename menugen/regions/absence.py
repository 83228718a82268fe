"""Phrases that promise that an allergen is not there, which no label and no shaker can keep."""

import re
from functools import cache, lru_cache
from typing import NamedTuple

from menugen.regions.data_files import load


class AbsencePromise(NamedTuple):
    """A phrase that calls something free of an allergen.

    Attributes:
        phrase: As the user typed it.
        start: Where it begins in the text, counted from 0.
        end: One past its last character.
    """

    phrase: str
    start: int
    end: int


@lru_cache(maxsize=8192)
def absence_promises(text: str) -> tuple[AbsencePromise, ...]:
    """Return the phrases of a text, in any language known here, that call it free of an allergen."""
    return tuple(
        AbsencePromise(found.group(), found.start(), found.end()) for found in _pattern().finditer(text)
    )


@cache
def _pattern() -> re.Pattern[str]:
    data = load("absence_words.yaml")
    either = []
    for language, phrases in data["phrases"].items():
        words = "|".join(_spaced(word) for word in sorted(data["words"][language], key=len, reverse=True))
        either += [_spaced(phrase).replace(_spaced("{word}"), f"(?:{words})") for phrase in phrases]
    return re.compile(rf"(?<!\w)(?:{'|'.join(either)})(?!\w)", re.IGNORECASE)


def _spaced(phrase: str) -> str:
    """Return a pattern of a phrase in which spaces and hyphens of any kind are alike."""
    return r"[\s\-\u2010-\u2015]+".join(re.escape(part) for part in phrase.split())
