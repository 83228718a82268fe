"""Every English text of this package that a guest can be shown, for the catalogues of other languages."""

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from menugen.regions.cautions import caution, known_cautions
from menugen.regions.data_files import load, place_files
from menugen.regions.regimes import every_entry
from menugen.regions.strength_words import strength_words
from menugen.regions.substance_list import substance, substances

_IN_BRACES = re.compile(r"\{\w+\}")


class GuestText(NamedTuple):
    """A text that can reach a guest.

    Attributes:
        text: In English, names in braces.
        plural: The same with any number but one; empty where it is not counted.
        what: What it is, for a translator: "allergen", "notice age (GB-SCT)".
    """

    text: str
    plural: str
    what: str


@cache
def guest_texts() -> tuple[GuestText, ...]:
    """Return every text, each once, in the order of the data."""
    found: dict[str, GuestText] = {}
    for text in _all():
        if text.text:
            found.setdefault(text.text, text)
    return tuple(found.values())


def _all() -> Iterator[GuestText]:
    for one in substances():
        yield GuestText(substance(one).word, "", "allergen")
        yield GuestText(substance(one).base, "", "what a spirit was distilled from")
    for entry in every_entry():
        yield GuestText(entry.label, "", "group of allergens")
        yield from (GuestText(word, "", "allergen") for word in entry.words.values())
    for regime in load("regimes.yaml")["regimes"].values():
        yield from (GuestText(word, "", "allergen") for word in regime.get("words", {}).values())
    for name in known_cautions():
        yield GuestText(caution(name).guest or "", "", f"caution on {name}")
    yield from _of_place("everywhere", load("everywhere.yaml"))
    for country in place_files():
        for code, place in load(f"places/{country}.yaml")["places"].items():
            yield from _of_place(code, place)
            if "-" in code:  # names of countries are in Unicode CLDR
                yield GuestText(place["name"], "", "name of a place")


def _of_place(code: str, place: dict[str, Any]) -> Iterator[GuestText]:
    unit = place.get("drink_unit")
    if unit:
        yield GuestText(unit["name"], unit["plural"], f"unit of alcohol ({code})")
        yield GuestText(unit["sentence"], "", f"unit of alcohol ({code})")
    for key in ("guideline", "pregnancy"):
        yield GuestText(place.get(key, {}).get("text", ""), "", f"{key} ({code})")
    line = place.get("helpline", {})
    if line.get("how") != "memory":
        yield GuestText(line.get("note", ""), "", f"help line ({code})")
    yield GuestText(place.get("prices", {}).get("text", ""), "", f"prices ({code})")
    yield GuestText(place.get("prices", {}).get("otherwise", ""), "", f"prices ({code})")
    for word in strength_words(place.get("strength_words", ())):
        if word.offered and not word.only_for:
            yield GuestText(word.term, "", "strength of a drink")
    for notice in place.get("notices", ()):
        if any(letter.isalpha() for letter in _IN_BRACES.sub("", notice.get("text", ""))):
            yield GuestText(notice["text"], "", f"notice {notice['id']} ({code})")
