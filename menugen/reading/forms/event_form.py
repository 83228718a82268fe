"""One event."""

import re
from dataclasses import dataclass
from datetime import time
from decimal import Decimal
from typing import Annotated, Any
from urllib.parse import urlsplit

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainValidator, WithJsonSchema

from menugen.measures import Fault
from menugen.problems import did_you_mean
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.forms.translation_form import EventTranslations, SectionTranslations
from menugen.reading.forms.values import (
    Currency,
    Day,
    GuestsNote,
    Languages,
    LongText,
    Region,
    Tables,
    Text,
    Texts,
    Theme,
    WholeNumber,
    YesOrNo,
    as_list,
    checked,
    kind_of,
    one_text,
    price_of,
)
from menugen.records import Hours

_HOURS = re.compile(r"(\d{1,2}):(\d{2})\s*(?:-|–|—|to)\s*(\d{1,2}):(\d{2})", re.ASCII)

_NO_ALCOHOL = "none"
_MEANS_NONE = frozenset({"no", "non", "nil", "zero", "0", "0 %", "without", "free", "dry", "off", "false"})

_VERSION = re.compile(r"[0-9a-f]{7,64}(?:\+[0-9a-f]{7})?|\+[0-9a-f]{7}", re.ASCII)


@dataclass(frozen=True, slots=True)
class WrittenEntry:
    """A drink on the menu, as written; `steps` is the key its price stands under, or nothing."""

    slug: str
    price: Decimal | None
    steps: tuple[str, ...]


def _entry(value: Any) -> WrittenEntry:
    if isinstance(value, str):
        return WrittenEntry(one_text(value), None, ())
    if isinstance(value, dict) and len(value) == 1:
        [(slug, typed)] = value.items()
        if not isinstance(typed, str):
            raise wrong_shape("must be one price", f'write "- {slug}: 9.50"', inside=(slug,))
        price = (
            price_of(typed)
            if typed
            else Fault(
                "price-form",
                "there is no price here",
                f'write "- {slug}: 9.50", or "- {slug}: 0" where the drink is free',
            )
        )
        if isinstance(price, Fault):
            raise refused(price, inside=(slug,))
        return WrittenEntry(slug, price, (slug,))
    raise wrong_shape("must be one drink", 'write "- saltmarsh-sour" or "- saltmarsh-sour: 9.50"')


def _alcohol(text: str) -> str | Fault:
    word = text.casefold()
    if word == _NO_ALCOHOL:
        return _NO_ALCOHOL
    close = word in _MEANS_NONE or bool(did_you_mean(word, (_NO_ALCOHOL,)))
    return Fault(
        "unknown-choice",
        f'"{text}" is not what an event says of alcohol',
        f'write "alcohol: {_NO_ALCOHOL}" where nobody may be poured any'
        + ("" if close else ", or leave the line out where drinks with alcohol are served"),
        text,
    )


def _hours(text: str) -> Hours | Fault:
    hint = "write from and to on the 24-hour clock: 19:00-00:30"
    found = _HOURS.fullmatch(text)
    if found is None:
        return Fault("hours-form", f'"{text}" does not say from when to when', hint)
    from_hour, from_minute, to_hour, to_minute = (int(part) for part in found.groups())
    # Midnight at the end of a day may be written 24:00 (ISO 8601).
    to_hour = 0 if (to_hour, to_minute) == (24, 0) else to_hour
    if max(from_hour, to_hour) > 23 or max(from_minute, to_minute) > 59:
        return Fault("hours-form", f'"{text}" is not a time on the clock', hint)
    hours = Hours(time(from_hour, from_minute), time(to_hour, to_minute))
    if hours.start == hours.end:
        return Fault("hours-form", f'"{text}" ends as it begins', hint)
    return hours


def _address(text: str) -> str | Fault:
    hint = 'write the folder the site will lie in, such as "https://menu.example/lantern/"'
    try:
        parts = urlsplit(text)
        host = parts.hostname
        _ = parts.port
    except ValueError:
        return Fault("address-form", f'"{text}" is not a web address', hint)
    if parts.scheme not in {"https", "http"} or not host or parts.username is not None or " " in text:
        return Fault("address-form", f'"{text}" is not a web address', hint)
    if parts.query or parts.fragment or parts.path.endswith((".html", ".htm")):
        return Fault("address-form", f'"{text}" is a page, not the folder the site lies in', hint)
    return text if text.endswith("/") else f"{text}/"


def _printed(text: str) -> str | Fault:
    if _VERSION.fullmatch(text):
        return text
    return Fault(
        "printed-form", f'"{text}" is not what a card carries', 'write it as it stands there: "7f3a2c1"'
    )


def _bottles(value: Any) -> dict[str, Any]:
    if isinstance(value, dict):
        return value
    raise wrong_shape(
        f"must be names and the stock that fills them, not {kind_of(value)}",
        'write "bottles:" and below it "  gin: harbour gin"',
    )


def _sections(value: Any) -> list[Any]:
    if isinstance(value, list) and value:
        return value
    raise wrong_shape(
        "must be a list of sections, each with its drinks",
        'write "- section: Before supper" and below it "  drinks:"',
    )


Entry = Annotated[
    WrittenEntry,
    PlainValidator(_entry),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string"},
                {
                    "type": "object",
                    "minProperties": 1,
                    "maxProperties": 1,
                    "additionalProperties": {"type": ["number", "string"]},
                },
            ]
        }
    ),
]


class SectionForm(BaseModel):
    """A heading on the menu with its drinks."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Section")

    section: Text = Field(description="The heading.", examples=["Before supper"])
    note: GuestsNote = Field(
        "", description="A line for guests below the heading.", examples=["Short, cold and dry."]
    )
    drinks: Annotated[
        tuple[Entry, ...],
        BeforeValidator(as_list("drinks", needed=True), json_schema_input_type=list[Entry] | Entry),
    ] = Field(
        description="Specs by their file's name, each alone or with its price.",
        examples=[["saltmarsh-sour"]],
    )
    translations: SectionTranslations = Field(
        {}, description="The same in other languages.", examples=[{"fr": {"section": "Avant le repas"}}]
    )


class EventForm(BaseModel):
    """One occasion with a date, a place, guests and a menu."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Event")

    event: Text = Field(description="Its name, as guests read it.", examples=["Lantern Supper"])
    date: Day = Field(description="The day it begins; decides which rules hold.", examples=["2026-12-12"])
    hours: Annotated[Hours, PlainValidator(checked(_hours)), WithJsonSchema({"type": "string"})] | None = (
        Field(None, description="From when to when the bar serves.", examples=["19:00-00:30"])
    )
    place: LongText = Field("", description="Where it is.", examples=["The Old Boathouse"])
    region: Region = Field(
        "", description="ISO 3166 code; decides allergens, units, age and notices.", examples=["GB-ENG"]
    )
    currency: Currency = Field("", description="ISO 4217 code.", examples=["GBP"])
    languages: Languages = Field(
        (), description="BCP 47 tags; the first is what the QR code opens.", examples=[["en"]]
    )
    guests: WholeNumber | None = Field(
        None, description="How many are expected; never shown.", examples=[120]
    )
    tables: Tables | None = Field(None, description="How many get a card of their own.", examples=[14])
    address: Annotated[
        str, PlainValidator(checked(_address)), WithJsonSchema({"type": "string", "format": "uri"})
    ] = Field("", description="Where the site will lie.", examples=["https://menu.example/lantern/"])
    printed: Annotated[str, PlainValidator(checked(_printed)), WithJsonSchema({"type": "string"})] = Field(
        "", description="The version that the printed cards carry.", examples=["7f3a2c1"]
    )
    theme: Theme = Field("", description="The look of the pages.", examples=["slate"])
    equipment: Texts = Field(
        (), description="What drinks share, for the cross-contact line.", examples=[["shared shakers"]]
    )
    alcohol: Annotated[
        str,
        PlainValidator(checked(_alcohol)),
        WithJsonSchema({"enum": ["none"]}),
    ] = Field(
        "",
        description="Where nothing with alcohol may be poured: none is, and the pages do not speak of it.",
        examples=["none"],
    )
    hosted: YesOrNo = Field(
        False, description="Whether someone else pays: then guests are shown no prices.", examples=["yes"]
    )
    bottles: Annotated[dict[str, Text], BeforeValidator(_bottles)] = Field(
        {}, description="Which stock fills a name tonight.", examples=[{"gin": "harbour gin"}]
    )
    menu: Annotated[tuple[SectionForm, ...], BeforeValidator(_sections)] = Field(
        description="The sections of the menu.",
        examples=[[{"section": "Before supper", "drinks": ["saltmarsh-sour"]}]],
    )
    off: Texts = Field((), description="Drinks sold out right now.", examples=[["quiet-harbour"]])
    hide_off: YesOrNo = Field(
        False, alias="hide off", description="Whether those leave the page.", examples=["no"]
    )
    listed: YesOrNo = Field(
        True, description="Whether search engines may list the pages; yes unless said.", examples=["no"]
    )
    translations: EventTranslations = Field(
        {}, description="The same in other languages.", examples=[{"fr": {"event": "Souper aux lanternes"}}]
    )
