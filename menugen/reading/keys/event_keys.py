"""The keys of an event."""

import re
from dataclasses import replace
from datetime import time
from typing import Any
from urllib.parse import urlsplit

from menugen.measures import Fault
from menugen.names import new_anchor
from menugen.problems import Place, did_you_mean
from menugen.reading.keys.inner import GUESTS_NOTE, mapping_of, translations
from menugen.reading.keys.key import (
    Key,
    Problems,
    Schema,
    Table,
    Units,
    Value,
    listed,
    problem_at,
    refused_key,
)
from menugen.reading.keys.values import (
    CURRENCY,
    DAY,
    LANGUAGES,
    LONG_TEXT,
    REGION,
    TABLES,
    TEXT,
    TEXTS,
    THEME,
    WHOLE_NUMBER,
    YES_OR_NO,
    by_name,
    list_of,
    of_text,
    one_text,
    price_of,
)
from menugen.reading.yaml_text import Data
from menugen.records import Event, EventWords, Hours, MenuEntry, MenuSection, SectionWords

_HOURS = re.compile(r"(\d{1,2}):(\d{2})\s*(?:-|–|—|to)\s*(\d{1,2}):(\d{2})", re.ASCII)

_HOST = re.compile(r"[a-z0-9_-]+(\.[a-z0-9_-]+)*")
"""The name of a computer, after IDNA."""

_NO_ALCOHOL = "none"
_MEANS_NONE = frozenset({"no", "non", "nil", "zero", "0", "0 %", "without", "free", "dry", "off", "false"})

_VERSION = re.compile(r"[0-9a-f]{7,64}(?:\+[0-9a-f]{7})?|\+[0-9a-f]{7}", re.ASCII)


def _entry(value: Data, place: Place, _units: Units) -> MenuEntry | Problems:
    """Read a drink on the menu, alone or with its price."""
    if isinstance(value, str):
        slug = one_text(value, place)
        return slug if isinstance(slug, Problems) else MenuEntry(slug, None, place)
    if not isinstance(value, dict) or len(value) != 1:
        return refused_key(
            place, "wrong-shape", "must be one drink", 'write "- saltmarsh-sour" or "- saltmarsh-sour: 9.50"'
        )
    [(slug, typed)] = value.items()
    if not isinstance(typed, str):
        return refused_key(place.at(slug), "wrong-shape", "must be one price", f'write "- {slug}: 9.50"')
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
        return Problems([problem_at(place.at(slug), price)])
    return MenuEntry(slug, price, place.at(slug, on="key"))


def _entry_schema() -> Schema:
    priced = {
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": {"type": ["number", "string"]},
    }
    return {"anyOf": [{"type": "string"}, priced]}


def _pours_alcohol(text: str) -> bool | Fault:
    word = text.casefold()
    if word == _NO_ALCOHOL:
        return False
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


def _hours_text(hours: Hours) -> str:
    return f"{hours.start:%H:%M}-{hours.end:%H:%M}"


def _address(text: str) -> str | Fault:
    hint = 'write the folder the site will lie in, such as "https://menu.example/lantern/"'
    try:
        parts = urlsplit(text)
        host = (parts.hostname or "").encode("idna").decode("ascii")
        _ = parts.port
    except ValueError:
        return Fault("address-form", f'"{text}" is not a web address', hint)
    if parts.scheme not in {"https", "http"} or parts.username is not None or " " in text:
        return Fault("address-form", f'"{text}" is not a web address', hint)
    if not _HOST.fullmatch(host):
        return Fault("address-form", f'"{text}" is not a web address', hint, parts.netloc)
    if parts.query or parts.fragment or parts.path.endswith((".html", ".htm")):
        return Fault("address-form", f'"{text}" is a page, not the folder the site lies in', hint)
    return text if text.endswith("/") else f"{text}/"


def _printed(text: str) -> str | Fault:
    if _VERSION.fullmatch(text):
        return text
    return Fault(
        "printed-form", f'"{text}" is not what a card carries', 'write it as it stands there: "7f3a2c1"'
    )


def _section(fields: dict[str, Any], place: Place) -> MenuSection:
    section = MenuSection(place=place, **fields)
    of_words = (text for words in section.translations.values() for text in words.comments)
    return replace(section, comments=(*section.comments, *of_words))


def _menu(value: Data, place: Place, units: Units) -> tuple[MenuSection, ...] | Problems:
    if not isinstance(value, list) or not value:
        return refused_key(
            place,
            "wrong-shape",
            "must be a list of sections, each with its drinks",
            'write "- section: Before supper" and below it "  drinks:"',
        )
    sections = _SECTIONS.read(value, place, units)
    if isinstance(sections, Problems):
        return sections
    taken = {entry.slug for section in sections for entry in section.entries}
    return tuple(replace(section, id=new_anchor(section.name, taken)) for section in sections)


# fmt: off
_SECTION_WORDS = (
    Key("section", ("name",), TEXT, "compared",
        "The heading.", ("Before supper",), is_needed=True, reads_blank=True, translated="Avant le repas"),
    Key("note", ("note", "comments"), GUESTS_NOTE, "prose",
        "A line for guests below the heading.", ("Short, cold and dry.",), translated="Court, froid et sec."),
)
SECTION = Table(
    "Section", "A heading on the menu with its drinks.", MenuSection,
    (
        *_SECTION_WORDS,
        translations("Section", SectionWords, _SECTION_WORDS, {"fr": {"section": "Avant le repas"}}),
        Key("drinks", ("entries",), list_of(Value(_entry, _entry_schema), "drinks", is_needed=True), "compared",
            "Specs by their file's name, each alone or with its price.", (["saltmarsh-sour"],),
            is_needed=True, reads_blank=True),
    ),
    beside=("place", "id"),
)
_SECTION = mapping_of(SECTION, _section)
_SECTIONS = list_of(_SECTION, "sections")
MENU = Value(
    _menu,
    lambda: {"type": "array", "items": _SECTION.schema()},
    lambda sections: listed(entry.slug for section in sections for entry in section.entries),
    SECTION,
)

_WORDS = (
    Key("event", ("name",), TEXT, "compared",
        "Its name, as guests read it.", ("Lantern Supper",), is_needed=True, translated="Souper aux lanternes"),
    Key("place", ("venue",), LONG_TEXT, "compared",
        "Where it is.", ("The Old Boathouse",), translated="Le vieux hangar à bateaux"),
)
_EVENT, _PLACE = _WORDS
EVENT = Table(
    "Event", "One occasion with a date, a place, guests and a menu.", Event,
    (
        _EVENT,
        Key("date", ("date",), DAY, "compared",
            "The day it begins; decides which rules hold.", ("2026-12-12",), is_needed=True),
        Key("hours", ("hours",), of_text(_hours, {"type": "string"}, _hours_text), "compared",
            "From when to when the bar serves.", ("19:00-00:30",)),
        _PLACE,
        Key("region", ("region",), REGION, "compared",
            "ISO 3166 code; decides allergens, units, age and notices.", ("GB-ENG",)),
        Key("currency", ("currency",), CURRENCY, "compared",
            "ISO 4217 code.", ("GBP",)),
        Key("languages", ("languages",), LANGUAGES, "compared",
            "BCP 47 tags; the first is what the QR code opens.", (["en"],)),
        Key("guests", ("guests",), WHOLE_NUMBER, "compared",
            "How many are expected; never shown.", (120,)),
        Key("tables", ("tables",), TABLES, "compared",
            "How many get a card of their own.", (14,)),
        Key("address", ("address",), of_text(_address, {"type": "string", "format": "uri"}), "compared",
            "Where the site will lie.", ("https://menu.example/lantern/",)),
        Key("printed", ("printed",), of_text(_printed, {"type": "string"}), "prose",
            "The version that the printed cards carry.", ("7f3a2c1",)),
        Key("theme", ("theme",), THEME, "prose",
            "The look of the pages.", ("slate",)),
        Key("equipment", ("equipment",), TEXTS, "compared",
            "What drinks share, for the cross-contact line.", (["shared shakers"],)),
        Key("alcohol", ("pours_alcohol",),
            of_text(_pours_alcohol, {"enum": [_NO_ALCOHOL]}, lambda poured: "allowed" if poured else _NO_ALCOHOL),
            "compared",
            "Where nothing with alcohol may be poured: none is, and the pages do not speak of it.", ("none",),
            reads_blank=True),  # a line that was begun for a reason may not pass for one that was never written
        Key("hosted", ("hosted",), YES_OR_NO, "compared",
            "Whether someone else pays: then guests are shown no prices.", ("yes",)),
        Key("bottles", ("bottles",),
            by_name(TEXT, "names and the stock that fills them", 'write "bottles:" and below it "  gin: harbour gin"'),
            "compared",
            "Which stock fills a name tonight.", ({"gin": "harbour gin"},)),
        Key("menu", ("sections",), MENU, "compared",
            "The sections of the menu.", ([{"section": "Before supper", "drinks": ["saltmarsh-sour"]}],),
            is_needed=True),
        Key("off", ("off",), TEXTS, "compared",
            "Drinks sold out right now.", (["quiet-harbour"],)),
        Key("hide off", ("hide_off",), YES_OR_NO, "compared",
            "Whether those leave the page.", ("no",)),
        Key("listed", ("listed",), YES_OR_NO, "prose",
            "Whether search engines may list the pages; yes unless said.", ("no",)),
        translations("Event", EventWords, _WORDS, {"fr": {"event": "Souper aux lanternes"}}),
    ),
    beside=("slug", "place"),
)
# fmt: on
