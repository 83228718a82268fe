"""The menu of one event: only what a guest may see.

Comes in: an event, its worked-out drinks (facts/) and its region. Goes out: a GuestMenu a language,
ready to be placed.
Promise: a GuestMenu has no field that a cost, a supplier, a bar note or a guest count could sit in.
"""

from menugen.menu.build import guest_menu, menu_languages, words_of
from menugen.menu.catalogue import catalogue_languages, primary
from menugen.menu.guest import (
    AllergenMark,
    CardChange,
    Choice,
    GlassPicture,
    GuestDrink,
    GuestMenu,
    GuestSection,
    GuestSwap,
    LanguageLink,
    Notice,
    PageText,
    SinceCard,
    TableColumn,
)
from menugen.menu.language import PageLanguage, english
from menugen.menu.missing import missing_translations, missing_words
from menugen.menu.notices import kitchen_lines
from menugen.menu.own_words import OwnWords, translation, written_in
from menugen.menu.price_words import is_at_home
from menugen.menu.strength import strength_words
from menugen.menu.units import shared_units_words
from menugen.menu.words import CARD_PHRASES, ROW, WORDS

__all__ = [
    "CARD_PHRASES",
    "ROW",
    "WORDS",
    "AllergenMark",
    "CardChange",
    "Choice",
    "GlassPicture",
    "GuestDrink",
    "GuestMenu",
    "GuestSection",
    "GuestSwap",
    "LanguageLink",
    "Notice",
    "OwnWords",
    "PageLanguage",
    "PageText",
    "SinceCard",
    "TableColumn",
    "catalogue_languages",
    "english",
    "guest_menu",
    "is_at_home",
    "kitchen_lines",
    "menu_languages",
    "missing_translations",
    "missing_words",
    "primary",
    "shared_units_words",
    "strength_words",
    "translation",
    "words_of",
    "written_in",
]
