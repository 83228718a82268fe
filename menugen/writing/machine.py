"""The menu for machines: `menu.json`, one object, UTF-8, the same facts and texts as the pages.

    {"menu": 2,                             the form's version
     "event", "house", "when", "venue", "language", "region", "price_note", "version": text
     "region_code": ISO 3166                the place whose rules hold; "region" is its name
     "date": the day of the event           ISO 8601
     "uncommitted": true or false           whether files differed from the revision the version begins with
     "changes": [text]                      what a printed card says of allergens and is so no longer, with
                                            advice; a card that cannot be compared is told, too
     "kitchen": [text]                      cross-contact
     "notices": [{"topic", "text": text, "required": true or false}]
     "sections": [{"name", "note": text, "drinks": [drink]}]}

A drink is {"id", "name", "lead", "made_with", "glass", "strength", "units", "price", "price_for": text, "serves":
number, "page": path from this file, "alcohol_free", "sold_out": true or false, "contains", "may_contain",
"distilled_from": [{"id", "word", "substances": {id: word}}], "distilled_words": all that its spirits were distilled
from where "distilled_from" says so, "also_named", "also_warned_of": what labels name and no law of the place lists,
"cautions": [text], "caution_ids": [what each of those is about], "swaps": [way], "combined_swaps": [way]}: each swap,
and swaps made at once that leave out what none does alone, as far as they were worked out. A way is {"id", "text",
"strength", "units": text, "alcohol_free": true or false, and the same of labels and cautions}, the whole drink made
so. "serves" is 1 for one guest's drink; of a bowl or a jug that guests share it is how many, the price is the whole's,
which "price_for" says, and "units" names both one serve's and the whole's. Text is final, in the guest's language and
may be empty; "note" and "lead" are CommonMark; ids are the same in every language. A drink is never free of something
because it is not listed here. Where no alcohol may be poured nothing is said of it: "strength", "units" and
"alcohol_free" are left out.

Form 1 had no "region_code", "substances", "caution_ids", no "id" of a way and no "combined_swaps". A publish compares
what it is about to replace by this file (replacing/), so a change of the form that takes something away is a new form.
"""

import json
from collections.abc import Iterable, Iterator

from menugen.menu import AllergenMark, GuestDrink, GuestMenu, GuestSection, GuestSwap, Notice, PageText

FORM = 2
"""The form's version."""


def menu_json(menu: GuestMenu) -> Iterator[str]:
    """Yield the menu as described above, section by section."""
    form = {
        "menu": FORM,
        "event": menu.event,
        "house": menu.house,
        "when": menu.when,
        "venue": menu.venue,
        "language": menu.language,
        "region": menu.region_name,
        "region_code": menu.region_code,
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
        **_strength(drink),
        "serves": drink.serves,
        "price": drink.price,
        "price_for": drink.price_for,
        "page": f"drinks/{drink.id}.html",
        "sold_out": drink.off,
        "contains": _marks(drink.contains),
        "may_contain": _marks(drink.may_contain),
        **_apart(drink),
        "cautions": list(drink.cautions),
        "caution_ids": list(drink.caution_ids),
        **_facts(drink),
        "swaps": [_swap(swap) for swap in drink.swaps],
        "combined_swaps": [_swap(swap) for swap in drink.combined],
    }


def _strength(made: GuestDrink | GuestSwap) -> dict[str, object]:
    if not made.strength:
        return {}
    return {"strength": made.strength, "units": made.units, "alcohol_free": made.alcohol_free}


def _swap(swap: GuestSwap) -> dict[str, object]:
    return {
        "id": swap.id,
        "text": swap.text,
        **_strength(swap),
        "contains": _marks(swap.contains),
        "may_contain": _marks(swap.may_contain),
        **_apart(swap),
        "cautions": list(swap.cautions),
        "caution_ids": list(swap.caution_ids),
        **_facts(swap),
    }


def _apart(made: GuestDrink | GuestSwap) -> dict[str, object]:
    """Return what labels say that is apart from what a drink contains."""
    return {
        "distilled_from": _marks(made.distilled_from),
        "distilled_words": _text(made.distilled_words),
        "also_named": _text(made.also_named),
        "also_warned_of": _text(made.also_warned_of),
    }


def _facts(made: GuestDrink | GuestSwap) -> dict[str, bool]:
    """Return what the table of facts has for guests: whether each is known to hold."""
    return {fact.key: fact.holds for fact in made.facts}


def _text(stretches: Iterable[PageText]) -> str:
    return "".join(said.text for said in stretches)


def _marks(marks: Iterable[AllergenMark]) -> list[dict[str, object]]:
    return [
        {"id": mark.id, "word": mark.word, "substances": {one.id: one.word for one in mark.substances}}
        for mark in marks
    ]
