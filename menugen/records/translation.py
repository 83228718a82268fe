"""The user's own words in other languages, as written beside the words they translate."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class SpecWords:
    """What guests read of a drink, in one more language.

    Attributes:
        name: Empty where the drink keeps its name.
        notes: Markdown for guests; empty where it is not translated.
        comments: What stands in the notes as a comment. Private.
    """

    name: str = ""
    notes: str = ""
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SectionWords:
    """What guests read of a section, in one more language. Either is empty where it is not translated.

    Attributes:
        comments: What stands in the note as a comment. Private.
    """

    name: str = ""
    note: str = ""
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EventWords:
    """What guests read of an event, in one more language. Either is empty where it is not translated."""

    name: str = ""
    venue: str = ""


@dataclass(frozen=True, slots=True)
class HouseWords:
    """What guests read of a house, in one more language.

    Attributes:
        rules: As many as the house has, in the same order; empty where they are not translated.
        names: Names of what is poured, of glasses and of equipment, as specs and events write them -> in that
            language.
    """

    rules: tuple[str, ...] = ()
    names: Mapping[str, str] = field(default_factory=dict)
