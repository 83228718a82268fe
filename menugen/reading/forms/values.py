"""The values that several forms share, each read from the text that was typed."""

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator, BeforeValidator, PlainValidator, WithJsonSchema

from menugen.measures import Fault
from menugen.problems import did_you_mean
from menugen.reading.comments import without_comments
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.keys.language_codes import MEANT, TWO_LETTER_CODES

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


def one_text(value: Any) -> str:
    """Return a text that is not empty, its white space drawn together."""
    text = _text(value)
    if not text:
        raise refused(Fault("empty-value", "has no value", "write one, or take the line out"), of_key=True)
    if len(text) > LONGEST_NAME:
        raise refused(Fault("text-too-long", f"is longer than {LONGEST_NAME} characters"), of_key=True)
    return text


def long_text(value: Any) -> str:
    """Return a text that may be empty and may have several sentences."""
    text = _text(value)
    if len(text) > _LONGEST_TEXT:
        raise refused(Fault("text-too-long", f"is longer than {_LONGEST_TEXT} characters"), of_key=True)
    return text


def guests_note(text: str) -> str:
    """Return a note for guests as it was written, its comments among it; refuse one whose comments are none."""
    commented = without_comments(text)
    if commented.fault is not None:
        raise refused(commented.fault.fault)
    return text


def _text(value: Any) -> str:
    if isinstance(value, str):
        return " ".join(value.split())
    raise wrong_shape(f"must be one text, not {kind_of(value)}")


def kind_of(value: Any) -> str:
    """Return what the user wrote, in words: "a list", "keys and values" or "one text"."""
    if isinstance(value, list):
        return "a list"
    return "keys and values" if isinstance(value, dict) else "one text"


def checked(read: Callable[[str], T | Fault]) -> Callable[[Any], T]:
    """Return a validator from a function that gives a value or a Fault."""

    def validate(value: Any) -> T:
        result = read(one_text(value))
        if isinstance(result, Fault):
            raise refused(result)
        return result

    return validate


def choice(what: str, words: tuple[str, ...], meant: dict[str, str] | None = None) -> Callable[[Any], str]:
    """Return a validator for one word of a closed set.

    Args:
        what: What the word names, for the message: "a strain".
        words: The set.
        meant: Everyday words and the word of the set they stand for; offered, never taken silently.
    """

    def validate(value: Any) -> str:
        typed = one_text(value)
        word = typed.casefold()
        if word in words:
            return word
        offered = (meant or {}).get(word)
        near = (f'write "{offered}"',) if offered else did_you_mean(word, words)
        hint = near[0] if near else f"write one of: {', '.join(words)}"
        raise refused(Fault("unknown-choice", f'"{typed}" is not {what}', hint, typed))

    return validate


def as_list(of_what: str, *, needed: bool = False, one_has_key: str = "") -> Callable[[Any], list[Any]]:
    """Return a validator that takes one value for a list of one, and refuses keys and values.

    Args:
        of_what: "lines", for the message.
        needed: Whether an empty list is a fault.
        one_has_key: The key by which keys and values are known for one element; empty where none may be.
    """

    def validate(value: Any) -> list[Any]:
        if isinstance(value, str):
            value = [value] if value else []
        if isinstance(value, list):
            if needed and not value:
                raise refused(Fault("empty-value", "is an empty list", "write at least one"), of_key=True)
            return value
        if one_has_key and one_has_key in value:
            return [value]
        raise wrong_shape(f"must be a list of {of_what}, not {kind_of(value)}", 'begin each with "- "')

    return validate


def _whole_number(text: str) -> int | Fault:
    if _WHOLE.fullmatch(text) and int(text) > 0:
        return int(text)
    return Fault(
        "number-form", f'"{text}" is not a whole number above 0', "write the digits alone, such as 120"
    )


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


_TEXT_SCHEMA = {"type": "string"}
_NUMBER_SCHEMA = {"type": ["string", "number"]}


class _RegionSchema:
    """The schema of a region: the places whose rules are known, and any part of a country."""

    def __get_pydantic_json_schema__(self, _core: Any, _handler: Any) -> dict[str, Any]:
        from menugen.regions import known_regions  # they are many files, and no other command asks for them

        return {
            "anyOf": [
                {"enum": [code for code, _ in known_regions()]},
                {"type": "string", "pattern": "^[A-Z]{2}-[A-Z0-9]{1,3}$"},
            ]
        }


Text = Annotated[str, PlainValidator(one_text), WithJsonSchema({"type": "string", "minLength": 1})]
LongText = Annotated[str, PlainValidator(long_text), WithJsonSchema({"type": ["string", "null"]})]
GuestsNote = Annotated[LongText, AfterValidator(guests_note)]


def _tables(text: str) -> int | Fault:
    count = _whole_number(text)
    if isinstance(count, int) and count > MOST_TABLES:
        return Fault(
            "figure-out-of-range",
            f'"{text}" tables are more than menugen makes cards for',
            f"write {MOST_TABLES} or fewer, or leave it out: one card then serves every table",
        )
    return count


Tables = Annotated[
    int,
    PlainValidator(checked(_tables)),
    WithJsonSchema({"type": ["string", "integer"], "maximum": MOST_TABLES}),
]
WholeNumber = Annotated[
    int, PlainValidator(checked(_whole_number)), WithJsonSchema({"type": ["string", "integer"]})
]
Price = Annotated[Decimal, PlainValidator(checked(price_of)), WithJsonSchema(_NUMBER_SCHEMA)]
Day = Annotated[date, PlainValidator(checked(_date)), WithJsonSchema({"type": "string", "format": "date"})]
Region = Annotated[
    str,
    PlainValidator(checked(_region)),
    _RegionSchema(),
]
Currency = Annotated[
    str, PlainValidator(checked(_currency)), WithJsonSchema({"type": "string", "pattern": "^[A-Z]{3}$"})
]
Language = Annotated[str, PlainValidator(checked(_language)), WithJsonSchema(_TEXT_SCHEMA)]
Theme = Annotated[str, PlainValidator(checked(_theme)), WithJsonSchema(_TEXT_SCHEMA)]

Texts = Annotated[
    tuple[Text, ...], BeforeValidator(as_list("words"), json_schema_input_type=list[Text] | Text)
]


def _cautions(words: tuple[str, ...]) -> tuple[str, ...] | None:
    """Return the cautions that are named; none of them only where that is said in so many words.

    An empty list may be one that nobody filled in: it says nothing.
    """
    said = [word for word in words if word.casefold() != "none"]
    if said and len(said) < len(words):
        raise refused(
            Fault("none-with-others", 'says "none" and names cautions', "keep one or the other"), of_key=True
        )
    return tuple(said) if words else None


Cautions = Annotated[Texts, AfterValidator(_cautions)]
Sentences = Annotated[
    tuple[LongText, ...],
    BeforeValidator(as_list("sentences"), json_schema_input_type=list[LongText] | LongText),
]
Languages = Annotated[
    tuple[Language, ...],
    BeforeValidator(as_list("languages"), json_schema_input_type=list[Language] | Language),
]


def read_yes_or_no(value: Any) -> bool:
    """Return whether the word says yes."""
    typed = one_text(value)
    word = typed.casefold()
    if word in {"yes", "true"}:
        return True
    if word in {"no", "false"}:
        return False
    raise refused(Fault("unknown-choice", f'"{typed}" is neither yes nor no', 'write "yes" or "no"', typed))


YesOrNo = Annotated[
    bool, PlainValidator(read_yes_or_no), WithJsonSchema({"enum": ["yes", "no", True, False]})
]
