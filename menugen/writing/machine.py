"""The menu for machines: `menu.json`, one object, UTF-8, the same facts and texts as the pages.

    {"menu": 1,                             the form's version
     "event", "house", "when", "venue", "language", "region", "price_note", "version": text
     "date": the day of the event           ISO 8601
     "uncommitted": true or false           whether files differed from the revision the version begins with
     "changes": [text]                      what a printed card says of allergens and is so no longer, with
                                            advice; a card that cannot be compared is told, too
     "kitchen": [text]                      cross-contact
     "notices": [{"topic", "text": text, "required": true or false}]
     "sections": [{"name", "note": text, "drinks": [drink]}]}

A drink is {"id", "name", "lead", "made_with", "glass", "strength", "units", "price", "price_for": text, "serves":
number, "page": path from this file, "alcohol_free", "sold_out": true or false, "contains", "may_contain": [{"id",
"word"}], "cautions": [text], "swaps": [{"text", "strength", "units": text, "contains", "may_contain"}]}. "serves" is
1 for one guest's drink; of a bowl or a jug that guests share it is how many, the price is the whole's, which
"price_for" says, and "units" names both one serve's and the whole's. Text is final, in the guest's language and may
be empty; "note" and "lead" are CommonMark. A drink is never free of something
because it is not listed here.
"""

import json
from collections.abc import Iterable, Iterator

from menugen.menu.guest import AllergenMark, GuestDrink, GuestMenu, GuestSection, GuestSwap, Notice


def menu_json(menu: GuestMenu) -> Iterator[str]:
    """Yield the menu as described above, section by section."""
    form = {
        "menu": 1,
        "event": menu.event,
        "house": menu.house,
        "when": menu.when,
        "venue": menu.venue,
        "language": menu.language,
        "region": menu.region_name,
        "price_note": menu.price_note,
        "version": menu.version,
        "date": menu.date,
        "uncommitted": menu.uncommitted,
        "changes": list(menu.since_card.sentences()) if menu.since_card else [],
        "kitchen": list(menu.kitchen),
        "notices": [
            {"topic": notice.topic, "text": _notice(notice), "required": notice.required}
            for notice in menu.notices
        ],
        "sections": [],
    }
    head, _, foot = _laid_out(form).rpartition("[]")
    if not menu.sections:
        yield f"{head}[]{foot}\n"
        return
    yield f"{head}["
    for number, section in enumerate(menu.sections):
        # A line's end within a text is written as an escape: those here are of the form alone.
        yield (",\n" if number else "\n") + f"  {_laid_out(_section(section))}".replace("\n", "\n  ")
    yield f"\n ]{foot}\n"


def _laid_out(form: object) -> str:
    return json.dumps(form, ensure_ascii=False, indent=1)


def _section(section: GuestSection) -> dict[str, object]:
    return {
        "name": section.name,
        "note": section.note,
        "drinks": [_drink(drink) for drink in section.drinks],
    }


def _notice(notice: Notice) -> str:
    """Return the law's own words where there are any, and what they mean in the menu's language."""
    return " ".join(part for part in (notice.wording, notice.text) if part)


def _drink(drink: GuestDrink) -> dict[str, object]:
    return {
        "id": drink.id,
        "name": drink.name,
        "lead": drink.lead,
        "made_with": drink.made_with,
        "glass": drink.glass,
        "strength": drink.strength,
        "units": drink.units,
        "serves": drink.serves,
        "price": drink.price,
        "price_for": drink.price_for,
        "page": f"drinks/{drink.id}.html",
        "alcohol_free": drink.alcohol_free,
        "sold_out": drink.off,
        "contains": _marks(drink.contains),
        "may_contain": _marks(drink.may_contain),
        "cautions": list(drink.cautions),
        "swaps": [_swap(swap) for swap in drink.swaps],
    }


def _swap(swap: GuestSwap) -> dict[str, object]:
    return {
        "text": swap.text,
        "strength": swap.strength,
        "units": swap.units,
        "contains": _marks(swap.contains),
        "may_contain": _marks(swap.may_contain),
    }


def _marks(marks: Iterable[AllergenMark]) -> list[dict[str, str]]:
    return [{"id": mark.id, "word": mark.word} for mark in marks]
