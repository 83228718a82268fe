"""Mappings inside a file: keys and values in the place of a value, and the words beside them in other languages."""

import re
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from menugen.problems import Place
from menugen.reading.comments import without_comments
from menugen.reading.keys.key import (
    Key,
    Problems,
    Schema,
    Table,
    Units,
    Value,
    fields_of,
    flow,
    problem_at,
    read_keys,
    refused,
    refused_key,
)
from menugen.reading.keys.values import LANGUAGE, by_name, kind_of, long_text
from menugen.reading.yaml_text import Data

_LONGEST_NOTES = 10_000
_BAR_NOTES = re.compile(r"^ {0,3}#{1,6}[ \t]+bar[ \t]+notes", re.IGNORECASE | re.MULTILINE)

T = TypeVar("T")


def mapping_of(table: Table, make: Callable[[dict[str, Any], Place], T | Problems]) -> Value[T]:
    """Return the kind of value that is a mapping by a table.

    Args:
        table: Its keys.
        make: Returns the value of the fields of a record and the place of the mapping.
    """

    def read(value: Data, place: Place, units: Units) -> T | Problems:
        if not isinstance(value, dict):
            first = table.keys[0]
            line = f"{first.name}: {flow(first.examples[0])}"
            hint = f"write it as {line}" if '"' in line else f'write it as "{line}"'
            return refused_key(place, "wrong-shape", "must be keys and values", hint)
        values, problems = read_keys(table, value, place, units)
        return problems or make(fields_of(table, values), place)

    return Value(read, table.schema, table=table)


def translations(title: str, record: type, keys: Sequence[Key], example: Any, *more: Key) -> Key:
    """Return the key of a block of other languages.

    Args:
        title: What is translated: "Event".
        record: What the words in one language become.
        keys: The keys beside the block; those that have a translated example are in it, too.
        example: What stands in the block.
        more: Keys that stand in the block alone.
    """
    translated = tuple(
        Key(key.name, key.fields, key.value, "prose", key.help, (key.translated,), reads_blank=True)
        for key in keys
        if key.translated is not None
    )
    words = Table(
        f"{title} in another language",
        f"The {title.casefold()} in one more language.",
        record,
        (*translated, *more),
    )
    by_tag = by_name(
        mapping_of(words, lambda fields, _place: record(**fields)),
        "languages and the words in them",
        'write "translations:" and below it "  fr:" with the keys it translates',
    )

    def read(value: Data, place: Place, units: Units) -> dict[str, Any] | Problems:
        found = by_tag.read(value, place, units)
        if not isinstance(value, dict):
            return found
        tags: dict[str, str] = {}
        problems = Problems(found if isinstance(found, Problems) else ())
        for typed in value:
            tag = LANGUAGE.read(typed, place.at(typed, on="key"), units)
            if isinstance(tag, Problems):
                problems += tag
            else:
                tags[typed] = tag
        if problems or isinstance(found, Problems):
            return problems
        return {tags[typed]: words for typed, words in found.items()}

    def schema() -> Schema:
        return {**by_tag.schema(), "propertyNames": {"pattern": "^[A-Za-z]{2,3}(-[A-Za-z0-9]+)*$"}}

    value = Value(read, schema, table=words, is_by_name=True)
    return Key("translations", ("translations",), value, "prose", "The same in other languages.", (example,))


def _note(value: Data, place: Place, units: Units) -> tuple[str, tuple[str, ...]] | Problems:
    text = long_text(value, place, units)
    return text if isinstance(text, Problems) else _without_comments(text, place)


def _notes(value: Data, place: Place, _units: Units) -> tuple[str, tuple[str, ...]] | Problems:
    """Return Markdown: its lines are kept, as a blank one divides paragraphs."""
    if not isinstance(value, str):
        return refused_key(place, "wrong-shape", f"must be one text, not {kind_of(value)}")
    if len(value) > _LONGEST_NOTES:
        return refused_key(place, "text-too-long", f"is longer than {_LONGEST_NOTES} characters")
    if _BAR_NOTES.search(value):
        return refused(
            place,
            "bar-notes-heading",
            "these notes are for guests: they would read what follows the heading",
            "leave the bar notes at the end of the file, where they are private",
        )
    return _without_comments(value.strip(), place)


def _without_comments(text: str, place: Place) -> tuple[str, tuple[str, ...]] | Problems:
    """Return what guests read of a note, and its comments; or what is wrong with one of them."""
    found = without_comments(text)
    if found.fault is not None:
        return Problems([problem_at(place, found.fault.fault)])
    return found.text, found.comments


def _text_or_null() -> Schema:
    return {"type": ["string", "null"]}


GUESTS_NOTE = Value(_note, _text_or_null)
"""A note for guests, and the comments in it."""

GUESTS_NOTES = Value(_notes, _text_or_null)
"""The same in several paragraphs."""
