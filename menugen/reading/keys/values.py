"""The values that several tables share, each read from the text that was typed."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Any, TypeVar

from menugen.measures import Fault, Size, parse_size
from menugen.problems import Place, did_you_mean
from menugen.reading.comments import without_comments
from menugen.reading.keys.key import (
    Problems,
    Schema,
    Units,
    Value,
    listed,
    problem_at,
    refused_key,
)
from menugen.reading.keys.language_codes import MEANT, TWO_LETTER_CODES
from menugen.reading.yaml_text import Data

LONGEST_NAME = 120
MOST_TABLES = 500
"""Cards for more tables than any event has seats at: beyond it a figure has been mistyped. Our own bound."""

_LONGEST_TEXT = 2000
_WHOLE = re.compile(r"\d{1,9}", re.ASCII)
_FREE = frozenset({"free", "free of charge", "gratis", "nothing", "none", "nil", "zero", "-"})
_PRICE = re.compile(r"\d{1,9}(?:\.\d{1,3})?", re.ASCII)
_ISO_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_OTHER_DATE = re.compile(r"(\d{1,2})[/. -](\d{1,2})[/. -](\d{4})", re.ASCII)
_REGION = re.compile(r"[A-Za-z]{2}(?:-[A-Za-z0-9]{1,3})?", re.ASCII)
_CURRENCY = re.compile(r"[A-Za-z]{3}", re.ASCII)
_LANGUAGE = re.compile(
    r"(?P<language>[a-z]{2,3})(?:-(?P<script>[a-z]{4}))?(?:-(?P<region>[a-z]{2}|\d{3}))?"
    r"(?P<variants>(?:-(?:[a-z0-9]{5,8}|\d[a-z0-9]{3}))*)",
    re.IGNORECASE | re.ASCII,
)
_THEME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,40}", re.ASCII)
_EARLIEST_YEAR, _LATEST_YEAR = 2000, 2199

T = TypeVar("T")


def kind_of(value: Data) -> str:
    """Return what the user wrote, in words: "a list", "keys and values" or "one text"."""
    if isinstance(value, list):
        return "a list"
    return "keys and values" if isinstance(value, dict) else "one text"


def one_text(value: Data, place: Place, _units: Units = Units()) -> str | Problems:  # noqa: B008  # it is frozen
    """Return a text that is not empty, its white space drawn together."""
    if not isinstance(value, str):
        return refused_key(place, "wrong-shape", f"must be one text, not {kind_of(value)}")
    text = " ".join(value.split())
    if not text:
        return refused_key(place, "empty-value", "has no value", "write one, or take the line out")
    if len(text) > LONGEST_NAME:
        return refused_key(place, "text-too-long", f"is longer than {LONGEST_NAME} characters")
    return text


def long_text(value: Data, place: Place, _units: Units = Units()) -> str | Problems:  # noqa: B008  # it is frozen
    """Return a text that may be empty and may have several sentences."""
    if not isinstance(value, str):
        return refused_key(place, "wrong-shape", f"must be one text, not {kind_of(value)}")
    text = " ".join(value.split())
    if len(text) > _LONGEST_TEXT:
        return refused_key(place, "text-too-long", f"is longer than {_LONGEST_TEXT} characters")
    return text


def guests_note(value: Data, place: Place, units: Units) -> str | Problems:
    """Return a note for guests as it was written, its comments among it; refuse one whose comments are none."""
    text = long_text(value, place, units)
    return text if isinstance(text, Problems) else with_sound_comments(text, place)


def with_sound_comments(text: str, place: Place) -> str | Problems:
    """Return a text as it is, or what is wrong with a comment in it."""
    found = without_comments(text).fault
    return text if found is None else Problems([problem_at(place, found.fault)])


def of_text(
    parse: Callable[[str], T | Fault], schema: Schema | Callable[[], Schema], text: Callable[[T], str] = str
) -> Value[T]:
    """Return the kind of value that one text makes, which a function reads."""
    # A house says "shake", "coupe" and "700 ml" hundreds of times.
    parse_once = lru_cache(maxsize=1024)(parse)

    def read(value: Data, place: Place, _units: Units) -> T | Problems:
        typed = one_text(value, place)
        if isinstance(typed, Problems):
            return typed
        result = parse_once(typed)
        return Problems([problem_at(place, result)]) if isinstance(result, Fault) else result

    return Value(read, schema if callable(schema) else lambda: schema, text)


def choice(
    what: str, words: tuple[str, ...], meant: Mapping[str, str] | None = None
) -> Callable[[str], str | Fault]:
    """Return what reads one word of a closed set.

    Args:
        what: What the word names, for the message: "a strain".
        words: The set.
        meant: Everyday words and the word of the set they stand for; offered, never taken silently.
    """

    def read(typed: str) -> str | Fault:
        word = typed.casefold()
        if word in words:
            return word
        offered = (meant or {}).get(word)
        near = (f'write "{offered}"',) if offered else did_you_mean(word, words)
        hint = near[0] if near else f"write one of: {', '.join(words)}"
        return Fault("unknown-choice", f'"{typed}" is not {what}', hint, typed)

    return read


def _whole_number(text: str) -> int | Fault:
    if _WHOLE.fullmatch(text) and int(text) > 0:
        return int(text)
    return Fault(
        "number-form", f'"{text}" is not a whole number above 0', "write the digits alone, such as 120"
    )


def _tables(text: str) -> int | Fault:
    count = _whole_number(text)
    if isinstance(count, int) and count > MOST_TABLES:
        return Fault(
            "figure-out-of-range",
            f'"{text}" tables are more than menugen makes cards for',
            f"write {MOST_TABLES} or fewer, or leave it out: one card then serves every table",
        )
    return count


def price_of(text: str) -> Decimal | Fault:
    """Return a price, 0 or more, of a figure with a point and no currency sign."""
    text = text.strip()
    if _PRICE.fullmatch(text):
        return Decimal(text)
    if text.casefold() in _FREE:
        return Fault("price-form", f'"{text}" is not a price', 'write "0" where nothing is paid')
    figure = text.strip("£$€ ")
    if re.fullmatch(r"\d+,\d{1,2}", figure, re.ASCII):
        dotted = figure.replace(",", ".")
        return Fault("decimal-comma", f'"{text}" has a comma in the price', f'write "{dotted}"')
    example = figure if _PRICE.fullmatch(figure) else "9.50"
    return Fault(
        "price-form",
        f'"{text}" is not a price',
        f'write the figure alone, such as "{example}"; the currency has a key of its own',
    )


def _date(text: str) -> date | Fault:
    if _ISO_DATE.fullmatch(text):
        try:
            day = date.fromisoformat(text)
        except ValueError:
            return Fault(
                "date-form", f'"{text}" is not in the calendar', "write year, month and day: 2026-12-31"
            )
        if _EARLIEST_YEAR <= day.year <= _LATEST_YEAR:
            return day
        return Fault("date-form", f'"{text}" is too far from today to be meant', "check the year")
    hint = "write year, month and day: 2026-12-31"
    if found := _OTHER_DATE.fullmatch(text):
        first, second, year = (int(part) for part in found.groups())
        days = dict.fromkeys(
            f"{year}-{month:02d}-{day:02d}"
            for day, month in ((first, second), (second, first))
            if month <= 12
        )
        hint = f"write the year first: {' or '.join(days)}" if days else hint
    return Fault("date-form", f'"{text}" is not a date written as year, month and day', hint)


def _region(text: str) -> str | Fault:
    if _REGION.fullmatch(text):
        return text.upper()
    return Fault(
        "region-form", f'"{text}" is not a region', 'write its ISO 3166 code, such as "GB-ENG" or "US-OR"'
    )


def _currency(text: str) -> str | Fault:
    if _CURRENCY.fullmatch(text):
        return text.upper()
    return Fault(
        "currency-form", f'"{text}" is not a currency', 'write its ISO 4217 code, such as "GBP" or "EUR"'
    )


def _language(text: str) -> str | Fault:
    found = _LANGUAGE.fullmatch(text)
    if found is None:
        return Fault(
            "language-form", f'"{text}" is not a language', 'write its BCP 47 tag, such as "en" or "pt-BR"'
        )
    parts = [found["language"].lower()]
    if parts[0] in MEANT or (len(parts[0]) == 2 and parts[0] not in TWO_LETTER_CODES):
        meant = MEANT.get(parts[0])
        hint = f'did you mean "{meant}"?' if meant else 'write its BCP 47 tag, such as "en" or "pt-BR"'
        return Fault("unknown-language", f'"{text}" is no language we know of', hint)
    if found["script"]:
        parts.append(found["script"].title())
    if found["region"]:
        parts.append(found["region"].upper())
    return "-".join(parts) + found["variants"].lower()


def _theme(text: str) -> str | Fault:
    if _THEME.fullmatch(text):
        return text
    return Fault(
        "theme-form", f'"{text}" cannot be the name of a theme', "a theme is named after its folder: slate"
    )


def _region_schema() -> Schema:
    from menugen.regions import known_regions  # they are many files, and no other command asks for them

    return {
        "anyOf": [
            {"enum": [code for code, _ in known_regions()]},
            {"type": "string", "pattern": "^[A-Z]{2}-[A-Z0-9]{1,3}$"},
        ]
    }


_YES_OR_NO = {"yes": True, "true": True, "no": False, "false": False}


def _yes_or_no(typed: str) -> bool | Fault:
    said = _YES_OR_NO.get(typed.casefold())
    if said is None:
        return Fault("unknown-choice", f'"{typed}" is neither yes nor no', 'write "yes" or "no"', typed)
    return said


def yes_or_no_text(said: bool) -> str:
    """Return "yes" or "no"."""
    return "yes" if said else "no"


def _size(value: Data, place: Place, units: Units) -> Size | Problems:
    text = one_text(value, place)
    if isinstance(text, Problems):
        return text
    size = parse_size(text, ounce=units.ounce)
    return Problems([problem_at(place, size)]) if isinstance(size, Fault) else size


def size_text(size: tuple[float | None, float | None]) -> str:
    """Return "700 ml" or "1000 g"."""
    volume_ml, mass_g = size
    return f"{mass_g:g} g" if volume_ml is None else f"{volume_ml:g} ml"


def as_list(value: Data) -> list[Data]:
    """Return a list as it is, and any other value as a list of it alone; nothing at all is an empty list."""
    return value if isinstance(value, list) else [value] if value else []


def list_of(
    one: Value[T],
    of_what: str,
    *,
    is_needed: bool = False,
    one_has_key: str = "",
    hint: str = 'begin each with "- "',
) -> Value[tuple[T, ...]]:
    """Return the kind of value that is a list; one value alone stands for a list of one.

    Args:
        one: What is listed.
        of_what: "lines", for the message.
        is_needed: Whether an empty list is a fault.
        one_has_key: The key by which keys and values are known for one element; empty where none may be.
        hint: What to write in place of keys and values.
    """

    def read(value: Data, place: Place, units: Units) -> tuple[T, ...] | Problems:
        if isinstance(value, dict) and not (one_has_key and one_has_key in value):
            return refused_key(
                place, "wrong-shape", f"must be a list of {of_what}, not keys and values", hint
            )
        items = as_list(value)
        if is_needed and not items:
            return refused_key(place, "empty-value", "is an empty list", "write at least one")
        found: list[T] = []
        problems = Problems()
        for index, item in enumerate(items):
            read_item = one.read(item, place.at(index), units)
            if isinstance(read_item, Problems):
                problems += read_item
            else:
                found.append(read_item)
        return problems or tuple(found)

    def schema() -> Schema:
        inner = one.schema()
        return {"anyOf": [{"type": "array", "items": inner}, inner]}

    return Value(read, schema, lambda items: listed(one.text(item) for item in items), one.table)


def by_name(one: Value[T], shape: str, hint: str) -> Value[dict[str, T]]:
    """Return the kind of value that is a mapping of the user's own names.

    Args:
        one: What stands behind each name.
        shape: What it must be, for the message: "names and volumes".
        hint: What to write.
    """

    def read(value: Data, place: Place, units: Units) -> dict[str, T] | Problems:
        if not isinstance(value, dict):
            return refused_key(place, "wrong-shape", f"must be {shape}, not {kind_of(value)}", hint)
        found: dict[str, T] = {}
        problems = Problems()
        for name, typed in value.items():
            read_one = one.read(typed, place.at(name), units)
            if isinstance(read_one, Problems):
                problems += read_one
            else:
                found[name] = read_one
        return problems or found

    def schema() -> Schema:
        return {"type": "object", "additionalProperties": one.schema()}

    def text(named: dict[str, T]) -> str:
        return listed(f"{name} {one.text(value)}" for name, value in named.items())

    return Value(read, schema, text, one.table, is_by_name=True)


def _cautions(value: Data, place: Place, units: Units) -> tuple[str, ...] | Problems | None:
    """Return the cautions that are named; none of them only where that is said in so many words.

    An empty list may be one that nobody filled in: it says nothing.
    """
    words = TEXTS.read(value, place, units)
    if isinstance(words, Problems):
        return words
    said = [word for word in words if word.casefold() != "none"]
    if said and len(said) < len(words):
        return refused_key(
            place, "none-with-others", 'says "none" and names cautions', "keep one or the other"
        )
    return tuple(said) if words else None


def _text_schema(**more: Any) -> Callable[[], Schema]:
    return lambda: {"type": "string", **more}


TEXT = Value(one_text, _text_schema(minLength=1))
LONG_TEXT = Value(long_text, lambda: {"type": ["string", "null"]})
GUESTS_NOTE = Value(guests_note, LONG_TEXT.schema)
TEXTS = list_of(TEXT, "words")
SENTENCES = list_of(LONG_TEXT, "sentences")
CAUTIONS: Value[tuple[str, ...] | None] = Value(_cautions, TEXTS.schema, lambda words: listed(words or ()))
TABLES = of_text(_tables, {"type": ["string", "integer"], "maximum": MOST_TABLES})
WHOLE_NUMBER = of_text(_whole_number, {"type": ["string", "integer"]})
PRICE = of_text(price_of, {"type": ["string", "number"]}, lambda price: f"{price:.2f}")
DAY = of_text(_date, {"type": "string", "format": "date"})
REGION = of_text(_region, _region_schema)
CURRENCY = of_text(_currency, {"type": "string", "pattern": "^[A-Z]{3}$"})
LANGUAGE = of_text(_language, {"type": "string"})
LANGUAGES = list_of(LANGUAGE, "languages")
THEME = of_text(_theme, {"type": "string"})
YES_OR_NO = of_text(_yes_or_no, {"enum": ["yes", "no", True, False]}, yes_or_no_text)
SIZE = Value(_size, _text_schema(), size_text)
