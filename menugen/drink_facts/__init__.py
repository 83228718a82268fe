"""The facts of a drink in one table: each with its text, its JSON, what is compared of it and what guests are told.

Comes in: drinks worked out by facts/, what they cost by bar/. Goes out: rows of a report, plain data, compared values.
Knows nothing of: files, pages, git or what was typed.
"""

from menugen.drink_facts.fact import AtEvent, Compared, Fact, MenuWords, ToldGuests, Value, Way, WordList
from menugen.drink_facts.table import (
    FACTS,
    compared_facts,
    compared_values,
    rows_of,
    told_guests,
    way_data,
    way_phrase,
    word_lists,
)

__all__ = [
    "FACTS",
    "AtEvent",
    "Compared",
    "Fact",
    "MenuWords",
    "ToldGuests",
    "Value",
    "Way",
    "WordList",
    "compared_facts",
    "compared_values",
    "rows_of",
    "told_guests",
    "way_data",
    "way_phrase",
    "word_lists",
]
