"""What guests were shown, read back from a published `menu.json` (writing/machine.py has its form).

Fields that are not asked for here may come and go. One that is asked for and is not as it should be makes the whole
unreadable: a drink whose allergens cannot be read must not pass for one without.
"""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from menugen.comparing import (
    CONTAINS,
    DISTILLED_FROM,
    MAY_CONTAIN,
    DeclaredAs,
    DeclaredDrink,
    DeclaredWay,
    SwapKey,
    level,
)
from menugen.writing.machine import FORM

_LEVELS = {"contains": CONTAINS, "may_contain": MAY_CONTAIN}
"""Which list of the form says what of a drink."""

_LEVELS_SINCE = {"distilled_from": DISTILLED_FROM}
"""Lists that a menu of an earlier day does not have."""

_AS_SAID = {"also_named": CONTAINS, "also_warned_of": MAY_CONTAIN}
"""What labels name and no law lists, in the user's words; a menu of an earlier day has none of it."""

_WITHOUT_IDS = 1
"""The last form that named substances and cautions by nothing but their words."""

_BETWEEN_WORDS = re.compile(r"\s*[,،、]\s*")


class UnreadableMenu(Exception):
    """It is no menu that this menugen can read; `str()` says why, in words that follow on its name."""


@dataclass(frozen=True, slots=True)
class ShownDrink:
    """A drink as guests were shown it.

    Attributes:
        declared: What the menu declares of it; its swaps by what is the same in every language.
        sold_out: Whether it was off.
        alcohol_free: Whether it is called so; None at an event that pours no alcohol, where nothing is said of it.
    """

    declared: DeclaredDrink
    sold_out: bool
    alcohol_free: bool | None

    @property
    def id(self) -> str:
        """Its page's name."""
        return self.declared.id

    @property
    def name(self) -> str:
        """As guests read it."""
        return self.declared.name


@dataclass(frozen=True, slots=True)
class ShownMenu:
    """A menu in one language.

    Attributes:
        by_words: Whether its substances, cautions and swaps are known by their words alone.
        house: The bar's name.
        event: The event's name.
        language: BCP 47.
        region: The place's name.
        region_code: ISO 3166; the name where the form has no code.
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
    region_code: str
    date: str
    version: str
    kitchen: tuple[str, ...]
    drinks: tuple[ShownDrink, ...]

    @property
    def spoken(self) -> str:
        """Its language, wherever that is spoken: "en"."""
        return self.language.partition("-")[0].casefold()


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
            region_code=_text(form, "region" if self.by_words else "region_code"),
            date=_text(form, "date"),
            version=_text(form, "version"),
            kitchen=_texts(form, "kitchen"),
            drinks=tuple(self._drink(drink) for section in sections for drink in _dicts(section, "drinks")),
        )

    def _drink(self, form: Mapping[str, Any]) -> ShownDrink:
        combined = _dicts(form, "combined_swaps") if "combined_swaps" in form else []
        return ShownDrink(
            DeclaredDrink(
                _text(form, "id"),
                _text(form, "name"),
                self._way(form),
                self._ways(_dicts(form, "swaps")),
                self._ways(combined),
            ),
            sold_out=form.get("sold_out") is True,
            alcohol_free=form["alcohol_free"] is True if "alcohol_free" in form else None,
        )

    def _ways(self, forms: Sequence[Mapping[str, Any]]) -> dict[SwapKey, DeclaredWay]:
        """Return ways to make a drink by their ids; by their texts where there are none."""
        ways = [(form, self._way(form)) for form in forms]
        return {("" if self.by_words else str(form.get("id", ""))) or way.text: way for form, way in ways}

    def _way(self, form: Mapping[str, Any]) -> DeclaredWay:
        found: dict[str, DeclaredAs] = {}

        def add(substance: str, one: DeclaredAs) -> None:
            if substance not in found or level(found[substance].level) < level(one.level):
                found[substance] = one

        since = {key: said for key, said in _LEVELS_SINCE.items() if key in form}
        for key, said in (_LEVELS | since).items():
            for mark in _dicts(form, key):
                for substance, word in self._named(mark):
                    add(substance, DeclaredAs(said, word, _text(mark, "id")))
        for key, said in _AS_SAID.items():
            for word in _words(_text(form, key) if key in form else ""):
                add(word.casefold(), DeclaredAs(said, word))
        # A swap has cautions only where the form gives it any.
        has_cautions = "cautions" in form or "swaps" in form
        cautions = _texts(form, "cautions") if has_cautions else ()
        about = _texts(form, "caution_ids") if has_cautions and not self.by_words else cautions
        if len(about) != len(cautions):
            raise UnreadableMenu('is damaged: "caution_ids" does not fit "cautions"')
        text = _text(form, "text") if "text" in form else ""
        # "single cream -> oat cream" offers oat cream; of several at once it is not asked for.
        offers = str(form.get("id", "")).rpartition(" -> ")[2] if text and not self.by_words else ""
        return DeclaredWay(found, dict(zip(about, cautions, strict=True)), text, offers=offers)

    def _named(self, mark: Mapping[str, Any]) -> Sequence[tuple[str, str]]:
        """Return (substance, word) of each thing an allergen of the form names."""
        word = _text(mark, "word")
        if self.by_words:
            return [(one.casefold(), one) for one in _words(word)]
        named = mark.get("substances")
        if not isinstance(named, dict) or not all(isinstance(one, str) for one in named.values()):
            raise UnreadableMenu('is damaged: "substances" is not as it should be')
        return list(named.items()) or [(_text(mark, "id"), word)]


def _words(row: str) -> list[str]:
    return [word for word in _BETWEEN_WORDS.split(row) if word]


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
