"""The menu of one event: only what a guest may see.

Comes in: an event, its worked-out drinks (facts/) and its region. Goes out: a GuestMenu a language,
ready to be placed.
Promise: a GuestMenu has no field that a cost, a supplier, a bar note or a guest count could sit in.
"""

from menugen.menu.build import guest_menu, menu_languages, words_of
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
    Said,
    SinceCard,
    TableColumn,
)
from menugen.menu.missing import missing_translations, missing_words

__all__ = [
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
    "Said",
    "SinceCard",
    "TableColumn",
    "guest_menu",
    "menu_languages",
    "missing_translations",
    "missing_words",
    "words_of",
]
