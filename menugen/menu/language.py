"""The language of a page: its words, and how it writes numbers, days, prices and rows of names."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from functools import cache, lru_cache
from typing import Literal

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_time
from babel.lists import format_list
from babel.numbers import format_currency, format_decimal, get_currency_symbol

from menugen.menu.catalogue import SOURCE_LANGUAGE, Catalogue, load_catalogue, primary

NO_BREAK = "\N{NO-BREAK SPACE}"

_ELSEWHERE = {"en": "en_001", "pt": "pt_PT"}
"""How a language is written in a country CLDR has nothing for: not as in its largest country, but as in the world."""

_IN_BRACES = re.compile(r"\{(\w+)\}")

_WELSH_VOWELS = frozenset("aeiouwy")

_APART, _APART_END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


@dataclass(frozen=True, slots=True)
class PageLanguage:
    """How one page speaks.

    Attributes:
        tag: BCP 47, as the event lists it; also the page's folder, where it is not the first.
        spoken: The language of the words, without a country: "fr".
        locale: How numbers, days and prices are written.
        catalogue: The words; None for English, and where there is no catalogue, which leaves English.
        own_currency: ISO 4217 of the place, whose sign needs no country beside it there.
        own_sign: That sign.
    """

    tag: str
    spoken: str
    locale: Locale
    catalogue: Catalogue | None
    own_currency: str
    own_sign: str

    @property
    def code(self) -> str:
        """BCP 47 of the page's words, with the country whose habits it follows where they are known."""
        parts = (self.spoken, self.locale.script, self.locale.territory)
        known = [part for part in parts if part and not part.isdigit()]
        return "-".join(known)

    @property
    def direction(self) -> Literal["ltr", "rtl"]:
        """Which way the page runs."""
        return "rtl" if self.locale.text_direction == "rtl" else "ltr"

    def say(self, text: str) -> str:
        """Return an English text in this language; as it is where nobody has translated it."""
        return (self.catalogue.get(text) if self.catalogue else None) or text

    def filled(self, text: str, **names: str) -> str:
        """Return an English text in this language, its {names} filled in."""
        # In one pass: a name of the user's may itself look like one of ours.
        return _IN_BRACES.sub(lambda found: names.get(found[1], found[0]), self.say(text))

    def percent(self, text: str, figure: Decimal) -> str:
        """Return an English text with "{percent} %" in this language; the sign stays with its figure."""
        return self.filled(text, percent=self.number(figure)).replace(" %", f"{NO_BREAK}%")

    def number(self, figure: Decimal | int) -> str:
        """Return a figure as the language writes it, with no more decimals than it has."""
        return _number(figure, self.locale)

    def noun(self, one: str, several: str, figure: Decimal) -> str:
        """Return a counted noun as it stands beside a figure.

        Args:
            one: The English noun.
            several: Its plural.
            figure: How many; 0 or more, with decimals or without.
        """
        category = _plural(Decimal(f"{figure.normalize():f}"), self.locale)
        said = self.catalogue.counted(one, category) if self.catalogue else None
        return said or (one if figure == 1 else several)

    def price(self, amount: Decimal, currency: str) -> str:
        """Return a price. The place's own currency has its plain sign: "9,50 £" in French in England."""
        shown = _money(amount, currency, self.locale)
        if currency != self.own_currency:
            return shown
        return shown.replace(get_currency_symbol(currency, locale=self.locale), self.own_sign)

    def day(self, day: date) -> str:
        """Return a day without its weekday: "12 December 2026"."""
        return str(format_date(day, "long", locale=self.locale))

    def when(self, day: date, hours: tuple[time, time] | None) -> str:
        """Return a day, and from when to when."""
        shown = str(format_date(day, "full", locale=self.locale))
        if hours is None:
            return shown
        start, end = (
            str(format_time(datetime.combine(day, moment), "short", locale=self.locale)) for moment in hours
        )
        return self.filled("{day}, {start} – {end}", day=shown, start=start, end=end)

    def listed(self, names: Sequence[str]) -> str:
        """Return names as a sentence joins them: "a, b and c"."""
        joined = str(format_list(list(names), locale=self.locale))
        if " a(c) " not in joined:
            return joined
        # CLDR leaves the Welsh "and" to the reader: it is "ac" before a vowel.
        before, _, last = joined.rpartition(" a(c) ")
        return f"{before.removesuffix(',')} {'ac' if last[:1].casefold() in _WELSH_VOWELS else 'a'} {last}"

    def row(self, names: Sequence[str]) -> str:
        """Return names divided by commas and nothing else."""
        return self.say(", ").join(names)

    def apart(self, text: str) -> str:
        """Return a text whose figures and letters keep their own order in a line that runs from right to left."""
        return f"{_APART}{text}{_APART_END}" if self.direction == "rtl" else text


# Menus say few figures over and over, and Babel takes a fifth of a millisecond for each.
@lru_cache(maxsize=4096)
def _number(figure: Decimal | int, locale: Locale) -> str:
    return str(format_decimal(figure, format="#,##0.######", locale=locale))


@lru_cache(maxsize=4096)
def _money(amount: Decimal, currency: str, locale: Locale) -> str:
    return str(format_currency(amount, currency, locale=locale))


@lru_cache(maxsize=4096)
def _plural(figure: Decimal, locale: Locale) -> str:
    return str(locale.plural_form(figure))


@cache
def page_language(tag: str, country: str, currency: str) -> PageLanguage:
    """Return how a page in a language is written in a place.

    Args:
        tag: BCP 47.
        country: ISO 3166-1 of the place, or "EU".
        currency: ISO 4217 of the place.
    """
    catalogue = load_catalogue(tag)
    spoken = tag if catalogue or primary(tag) == SOURCE_LANGUAGE else SOURCE_LANGUAGE
    locale = _locale(spoken, country)
    # What the place itself calls its money: the sign alone, with no letters for the country beside it.
    home = _parsed(f"{SOURCE_LANGUAGE}_{country}") or locale
    return PageLanguage(
        tag, primary(spoken), locale, catalogue, currency, str(get_currency_symbol(currency, locale=home))
    )


def english() -> PageLanguage:
    """Return English as the world writes it, for what is not said to guests of a place."""
    return page_language(SOURCE_LANGUAGE, "001", "")


def own_name(tag: str) -> str:
    """Return a language's name in that language: "Français"; the tag itself where it is not known."""
    locale = _parsed(tag.replace("-", "_")) or _parsed(primary(tag))
    name = str(locale.get_display_name(locale) or tag) if locale else tag
    return name[:1].upper() + name[1:]


def _locale(tag: str, country: str) -> Locale:
    """Return the language as the tag's own country writes it, else as the place does, else as the world does."""
    spoken = primary(tag)
    written = _parsed(tag.replace("-", "_")) if "-" in tag else None
    found = written or _parsed(f"{spoken}_{country}") or _parsed(_ELSEWHERE.get(spoken, spoken))
    return found or Locale(SOURCE_LANGUAGE)


def _parsed(identifier: str) -> Locale | None:
    try:
        return Locale.parse(identifier)
    except (ValueError, UnknownLocaleError):
        return None
