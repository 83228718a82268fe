"""The facts of a drink in one table: each with its text, its JSON, what is compared of it and what guests are told.

Comes in: drinks worked out by facts/, what they cost by bar/. Goes out: rows of a report, plain data, compared values.
Knows nothing of: files, pages, git or what was typed.
"""

from menugen.drink_facts.fact import AtEvent, Compared, Fact, MenuWords, ToldGuests, Value, Way, WordList
from menugen.drink_facts.labels import (
    NOTHING_DECLARED,
    also_named,
    contains_words,
    distilled_words,
    label_data,
    not_read,
    words_of,
)
from menugen.drink_facts.prices import cost_data, price_data, unpriced_pours
from menugen.drink_facts.shown import figure_data, money, ranged, to_cents
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
from menugen.drink_facts.taste import beside_others

__all__ = [
    "FACTS",
    "NOTHING_DECLARED",
    "AtEvent",
    "Compared",
    "Fact",
    "MenuWords",
    "ToldGuests",
    "Value",
    "Way",
    "WordList",
    "also_named",
    "beside_others",
    "compared_facts",
    "compared_values",
    "contains_words",
    "cost_data",
    "distilled_words",
    "figure_data",
    "label_data",
    "money",
    "not_read",
    "price_data",
    "ranged",
    "rows_of",
    "to_cents",
    "told_guests",
    "unpriced_pours",
    "way_data",
    "way_phrase",
    "word_lists",
    "words_of",
]
