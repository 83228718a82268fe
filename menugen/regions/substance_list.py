"""The substances a label can name: ids, menu words, and the many words people write for them."""

import re
from dataclasses import dataclass
from functools import cache

from menugen.regions.data_files import load


@dataclass(frozen=True, slots=True)
class Substance:
    """Something a guest can be allergic to.

    Attributes:
        id: "brazil-nut".
        word: What a menu in English says: "Brazil nuts", "barley (gluten)".
        icon: Name of its icon.
    """

    id: str
    word: str
    icon: str


def substances() -> tuple[str, ...]:
    """Return every known id, in the order they are shown in."""
    return tuple(_table())


def substance(known: str) -> Substance:
    """Return a substance by its id.

    Raises:
        ValueError: The id is not known (a bug upstream: reading has already resolved it).
    """
    found = _table().get(known)
    if found is None:
        message = f"not a substance: {known!r}"
        raise ValueError(message)
    return found


@cache
def substance_id(word: str) -> str | None:
    """Return the id a label's word stands for, or None where the word is unknown or could mean several.

    Capitals, hyphens and spaces make no difference, and a plural is read like its singular:
    "Brazil-nuts", "prawn", "soya", "sulfites", "spelt". "Nuts", "gluten" and "shellfish" give None, since
    they do not say which.
    """
    plain = _plain(word)
    by_word = _by_word()
    for candidate in (plain, *_singulars(plain)):
        if candidate in by_word:
            return by_word[candidate]
    return None


def substance_words() -> tuple[str, ...]:
    """Return every word that `substance_id` knows, sorted; to look for near misses in."""
    return tuple(sorted(_by_word()))


@cache
def _table() -> dict[str, Substance]:
    entries = load("substances.yaml")["substances"]
    return {key: Substance(key, entry["word"], entry["icon"]) for key, entry in entries.items()}


@cache
def _by_word() -> dict[str, str]:
    words: dict[str, str] = {}
    for key, entry in load("substances.yaml")["substances"].items():
        for word in (key, entry["word"].removesuffix(" (gluten)"), *entry["also"]):
            words[_plain(word)] = key
    return words


def _plain(word: str) -> str:
    """Return the word in small letters, hyphens and runs of space as one space, apostrophes straight."""
    return " ".join(re.split(r"[\s_\-\u2010-\u2015]+", word.casefold().replace("\u2019", "'"))).strip()


def _singulars(word: str) -> tuple[str, ...]:
    if word.endswith("ies"):
        return (word[:-3] + "y", word[:-1])
    if word.endswith("es"):
        return (word[:-1], word[:-2])
    if word.endswith("s"):
        return (word[:-1],)
    return ()
