"""What a name is known by: made here, so that capitals, spaces and two ways of typing an accent never part one thing.

Comes in: a name as somebody typed it, or a file's. Goes out: a text that is the same for all names of one thing.
Standard library only.
"""

import unicodedata
from functools import lru_cache
from pathlib import Path


def folded(text: str) -> str:
    """Return what is the same for all texts that differ only in capitals, or in how an accent is typed."""
    # Folding takes some letters apart again: the small iota with two marks, and the capital one.
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", text).casefold())


@lru_cache(maxsize=16384)
def name_key(name: str) -> str:
    """Return what the name of a bottle, a drink, a glass or a line is known by: folded, with single spaces."""
    return " ".join(folded(name).split())


def slug_of(file: str) -> str:
    """Return a file's slug: its name without folder and ending, NFC."""
    name = file.rpartition("/")[2]
    return unicodedata.normalize("NFC", name.rpartition(".")[0] or name)


def typed_slug(typed: str, *endings: str) -> str:
    """Return the slug that somebody means who types one, or the path of its file with one of these endings."""
    name = unicodedata.normalize("NFC", Path(typed).name)
    return next((name.removesuffix(ending) for ending in endings if name.endswith(ending)), name)


def new_anchor(name: str, taken: set[str]) -> str:
    """Return an anchor made of a name, different from every one taken, which it is from then on."""
    words = "".join(letter if letter.isalnum() else " " for letter in name.casefold()).split()
    base = "-".join(words) or "section"
    number, anchor = 1, base
    while anchor in taken:
        number += 1
        anchor = f"{base}-{number}"
    taken.add(anchor)
    return anchor
