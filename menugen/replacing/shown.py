"""What guests were shown, read back from a published `menu.json` (writing/machine.py has its form).

Fields that are not asked for here may come and go. One that is asked for and is not as it should be makes the whole
unreadable: a drink whose allergens cannot be read must not pass for one without.
"""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from menugen.history.changes import Declared
from menugen.writing.machine import FORM

LEVELS = {"contains": Declared.CONTAINS, "may_contain": Declared.MAY_CONTAIN}
"""Which list of the form says what of a drink."""

_WITHOUT_IDS = 1
"""The last form that named substances and cautions by nothing but their words."""

_BETWEEN_WORDS = re.compile(r"\s*[,،、]\s*")


class UnreadableMenu(Exception):
    """It is no menu that this menugen can read; `str()` says why, in words that follow on its name."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One substance that a drink is declared with.

    Attributes:
        word: What the menu says.
        entry: The group of the law's list it is shown under, which the filter goes by.
        level: How the menu speaks of it.
    """

    word: str
    entry: str
    level: Declared


@dataclass(frozen=True, slots=True)
class ShownWay:
    """One way to make a drink: as written, or with a swap.

    Attributes:
        text: The swap, as guests read it; empty for the drink as written.
        marks: By substance.
        cautions: By what they are about -> their text.
    """

    text: str
    marks: Mapping[str, Mark]
    cautions: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ShownDrink:
    """A drink as guests were shown it.

    Attributes:
        id: Its page's name.
        name: As guests read it.
        sold_out: Whether it was off.
        made: As written.
        swaps: By what is the same in every language.
    """

    id: str
    name: str
    sold_out: bool
    made: ShownWay
    swaps: Mapping[str, ShownWay]


@dataclass(frozen=True, slots=True)
class ShownMenu:
    """A menu in one language.

    Attributes:
        by_words: Whether its substances, cautions and swaps are known by their words alone.
        house: The bar's name.
        event: The event's name.
        language: BCP 47.
        region: The place's name.
        date: Of the event, ISO 8601.
        version: What the menu was called.
        kitchen: What it said of drinks that share equipment.
        drinks: In the order of the menu.
    """

    by_words: bool
    house: str
    event: str
    language: str
    region: str
    date: str
    version: str
    kitchen: tuple[str, ...]
    drinks: tuple[ShownDrink, ...]


def read_menu(content: bytes, *, by_words: bool = False) -> ShownMenu:
    """Return what a `menu.json` shows.

    Args:
        content: Of the file.
        by_words: Reads it as one whose form has no ids, to be compared with such a one.

    Raises:
        UnreadableMenu: It cannot be read, or not in full.
    """
    try:
        form = json.loads(content)
    except (ValueError, RecursionError):
        raise UnreadableMenu("is damaged") from None
    number = form.get("menu") if isinstance(form, dict) else None
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise UnreadableMenu("is no menu of menugen's")
    if number > FORM:
        raise UnreadableMenu(f"was written by a newer menugen (form {number}; this one reads {FORM})")
    return _Reader(by_words=by_words or number <= _WITHOUT_IDS).menu(form)


@dataclass(frozen=True, slots=True)
class _Reader:
    by_words: bool

    def menu(self, form: Mapping[str, Any]) -> ShownMenu:
        sections = _dicts(form, "sections")
        return ShownMenu(
            by_words=self.by_words,
            house=_text(form, "house"),
            event=_text(form, "event"),
            language=_text(form, "language"),
            region=_text(form, "region"),
            date=_text(form, "date"),
            version=_text(form, "version"),
            kitchen=_texts(form, "kitchen"),
            drinks=tuple(self._drink(drink) for section in sections for drink in _dicts(section, "drinks")),
        )

    def _drink(self, form: Mapping[str, Any]) -> ShownDrink:
        ways = (self._way(swap) for swap in _dicts(form, "swaps"))
        swaps = zip(_dicts(form, "swaps"), ways, strict=True)
        return ShownDrink(
            id=_text(form, "id"),
            name=_text(form, "name"),
            sold_out=form.get("sold_out") is True,
            made=self._way(form),
            swaps={
                (way.text if self.by_words else _text(swap, "id")) or way.text: way for swap, way in swaps
            },
        )

    def _way(self, form: Mapping[str, Any]) -> ShownWay:
        marks: dict[str, Mark] = {}
        for key, level in LEVELS.items():
            for mark in _dicts(form, key):
                for substance, word in self._named(mark):
                    if substance not in marks or marks[substance].level < level:
                        marks[substance] = Mark(word, _text(mark, "id"), level)
        # A swap has cautions only where the form gives it any.
        has_cautions = "cautions" in form or "swaps" in form
        cautions = _texts(form, "cautions") if has_cautions else ()
        about = _texts(form, "caution_ids") if has_cautions and not self.by_words else cautions
        if len(about) != len(cautions):
            raise UnreadableMenu('is damaged: "caution_ids" does not fit "cautions"')
        text = _text(form, "text") if "text" in form else ""
        return ShownWay(text, marks, dict(zip(about, cautions, strict=True)))

    def _named(self, mark: Mapping[str, Any]) -> Sequence[tuple[str, str]]:
        """Return (substance, word) of each thing an allergen of the form names."""
        word = _text(mark, "word")
        if self.by_words:
            return [(one.casefold(), one) for one in _BETWEEN_WORDS.split(word) if one]
        named = mark.get("substances")
        if not isinstance(named, dict) or not all(isinstance(one, str) for one in named.values()):
            raise UnreadableMenu('is damaged: "substances" is not as it should be')
        return list(named.items()) or [(_text(mark, "id"), word)]


def _text(form: Mapping[str, Any], key: str) -> str:
    value = form.get(key)
    if not isinstance(value, str):
        raise UnreadableMenu(f'is damaged: "{key}" is not as it should be')
    return value


def _texts(form: Mapping[str, Any], key: str) -> tuple[str, ...]:
    value = form.get(key)
    if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
        raise UnreadableMenu(f'is damaged: "{key}" is not as it should be')
    return tuple(value)


def _dicts(form: Mapping[str, Any], key: str) -> list[dict[str, Any]]:
    value = form.get(key)
    if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
        raise UnreadableMenu(f'is damaged: "{key}" is not as it should be')
    return value
