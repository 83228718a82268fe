"""The user's words in other languages: one block, "translations", beside the words it translates."""

import re
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainValidator, WithJsonSchema

from menugen.measures import Fault
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.forms.values import GuestsNote, Language, LongText, Sentences, Text, guests_note, kind_of

_LONGEST_NOTES = 10_000
_BAR_NOTES = re.compile(r"^ {0,3}#{1,6}[ \t]+bar[ \t]+notes", re.IGNORECASE | re.MULTILINE)

F = TypeVar("F", bound=BaseModel)


def _by_language(value: Any) -> Any:
    if isinstance(value, dict):
        return value
    raise wrong_shape(
        f"must be languages and the words in them, not {kind_of(value)}",
        'write "translations:" and below it "  fr:" with the keys it translates',
    )


def _notes(value: Any) -> str:
    """Return Markdown: its lines are kept, as a blank one divides paragraphs."""
    if not isinstance(value, str):
        raise wrong_shape(f"must be one text, not {kind_of(value)}")
    if len(value) > _LONGEST_NOTES:
        raise refused(Fault("text-too-long", f"is longer than {_LONGEST_NOTES} characters"), of_key=True)
    if _BAR_NOTES.search(value):
        raise refused(
            Fault(
                "bar-notes-heading",
                "these notes are for guests: they would read what follows the heading",
                "leave the bar notes at the end of the file, where they are private",
            )
        )
    return guests_note(value.strip())


Notes = Annotated[str, PlainValidator(_notes), WithJsonSchema({"type": ["string", "null"]})]


class SpecWordsForm(BaseModel):
    """A drink in one more language."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Spec in another language")

    name: Text = Field(
        "", description="As guests read it; left out, it keeps its name.", examples=["Aigre du pré"]
    )
    notes: Notes = Field("", description="The notes for guests, Markdown.", examples=["Vif et salin."])


class SectionWordsForm(BaseModel):
    """A section in one more language."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Section in another language")

    section: Text = Field("", description="The heading.", examples=["Avant le repas"])
    note: GuestsNote = Field("", description="The line below it.", examples=["Court, froid et sec."])


class EventWordsForm(BaseModel):
    """An event in one more language."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Event in another language")

    event: Text = Field("", description="Its name.", examples=["Souper aux lanternes"])
    place: LongText = Field("", description="Where it is.", examples=["Le vieux hangar à bateaux"])


class HouseWordsForm(BaseModel):
    """A house in one more language."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="House in another language")

    rules: Sentences = Field(
        (), description="The rules, as many and in the same order.", examples=[["Demandez de l'eau."]]
    )
    words: Annotated[dict[str, Text], BeforeValidator(_by_language)] = Field(
        {},
        description="Names of what is poured, of glasses and equipment, as they are written elsewhere.",
        examples=[{"lemon juice": "jus de citron"}],
    )


_BY_LANGUAGE = BeforeValidator(_by_language)
_NAMED_BY_TAG = Field(json_schema_extra={"propertyNames": {"pattern": "^[A-Za-z]{2,3}(-[A-Za-z0-9]+)*$"}})

SpecTranslations = Annotated[dict[Language, SpecWordsForm], _BY_LANGUAGE, _NAMED_BY_TAG]
SectionTranslations = Annotated[dict[Language, SectionWordsForm], _BY_LANGUAGE, _NAMED_BY_TAG]
EventTranslations = Annotated[dict[Language, EventWordsForm], _BY_LANGUAGE, _NAMED_BY_TAG]
HouseTranslations = Annotated[dict[Language, HouseWordsForm], _BY_LANGUAGE, _NAMED_BY_TAG]


def as_many_rules(
    translations: Mapping[str, HouseWordsForm], rules: tuple[str, ...]
) -> Mapping[str, HouseWordsForm]:
    """Return the translations; refuse one that has more rules than the house, or fewer.

    Raises:
        PydanticCustomError: The refusal.
    """
    for language, words in translations.items():
        if words.rules and len(words.rules) != len(rules):
            raise refused(
                Fault(
                    "translation-count",
                    f'of the {len(rules)} rules of the house there are {len(words.rules)} in "{language}"',
                    "translate each rule, in the same order",
                ),
                inside=(language, "rules"),
                on="key",
            )
    return translations
