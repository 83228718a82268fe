"""From a worked-out event to what its guests may see."""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from babel import Locale
from babel.dates import format_date, format_time
from babel.numbers import format_currency

from menugen import regions
from menugen.facts import DrinkFacts, EventFacts, Serve
from menugen.menu.guest import (
    AllergenMark,
    Choice,
    GuestDrink,
    GuestMenu,
    GuestSection,
    GuestSwap,
    TableColumn,
)
from menugen.menu.notices import kitchen_lines, menu_notices
from menugen.menu.picture import glass_picture
from menugen.menu.strength import strength_words
from menugen.menu.words import WORDS
from menugen.records import Event, MenuEntry
from menugen.regions import Declared, Region

LANGUAGE = "en"
"""The language every interface word is in so far."""


def _marks(declared: Iterable[Declared]) -> tuple[AllergenMark, ...]:
    return tuple(AllergenMark(item.entry_id, ", ".join(item.words), item.icon) for item in declared)


def _serve_facts(
    serve: Serve, region: Region
) -> tuple[str, str, tuple[AllergenMark, ...], tuple[AllergenMark, ...]]:
    """Return strength, units, contains and may contain of one way of making a drink."""
    return (
        strength_words(serve),
        region.drink_unit.shown(serve.made.ethanol_ml),
        _marks(serve.declaration.contains),
        _marks(serve.declaration.may_contain),
    )


def _lead_and_story(markdown: str) -> tuple[str, str]:
    """Split the guest's notes at the first blank line: the line that tempts, and the rest."""
    lead, _, story = markdown.strip().partition("\n\n")
    return " ".join(lead.split("\n")), story.strip()


def _guest_drink(facts: DrinkFacts, price: str, event: Event, region: Region) -> GuestDrink:
    spec = facts.spec
    strength, units, contains, may_contain = _serve_facts(facts.serve, region)
    lead, story = _lead_and_story(spec.guest_notes)
    swaps = []
    for swap in facts.swaps:
        words = f"{swap.swap.line.name} instead of {swap.swap.replaces}"
        swaps.append(GuestSwap(words, *_serve_facts(swap.serve, region)))
    descriptor = facts.serve.descriptor
    return GuestDrink(
        id=spec.slug,
        name=spec.name,
        lead=lead,
        story=story,
        made_with=", ".join(dict.fromkeys(line.name for line in spec.lines)),
        strength=strength,
        units=units,
        alcohol_free=descriptor is not None and descriptor.alcohol_free,
        contains=contains,
        may_contain=may_contain,
        cautions=tuple(filter(None, (regions.caution(name).guest for name in facts.serve.cautions))),
        price=price,
        off=spec.slug in event.off,
        glass=facts.vessel.name if facts.vessel else spec.glass,
        picture=glass_picture(facts),
        swaps=tuple(swaps),
    )


def _locale(region: Region) -> Locale:
    """Return how numbers, dates and prices are written: the words' language as that country writes it."""
    try:
        return Locale.parse(f"{LANGUAGE}_{region.country}")
    except (ValueError, LookupError):
        return Locale.parse(LANGUAGE)


def _when(event: Event, locale: Locale) -> str:
    day = format_date(event.date, "full", locale=locale)
    if event.hours is None:
        return day
    start, end = (
        format_time(datetime.combine(event.date, moment), "short", locale=locale) for moment in event.hours
    )
    return f"{day}, {start} – {end}"


def _price(entry: MenuEntry, currency: str, locale: Locale) -> str:
    return "" if entry.price is None else format_currency(entry.price, currency, locale=locale)


def _used_marks(sections: Iterable[GuestSection], region: Region) -> dict[str, AllergenMark]:
    """Return each entry that some drink contains or may contain, by its group's name, in the region's order."""
    groups = {entry.id: entry.name[:1].lower() + entry.name[1:] for entry in region.regime.entries}
    used: dict[str, AllergenMark] = {}
    for section in sections:
        for drink in section.drinks:
            for mark in (*drink.contains, *drink.may_contain):
                used.setdefault(mark.id, AllergenMark(mark.id, groups.get(mark.id, mark.word), mark.icon))
    listed = [name for name in groups if name in used]
    return {name: used[name] for name in (*listed, *sorted(used.keys() - set(listed)))}


def _section_id(name: str, taken: set[str]) -> str:
    """Return an anchor for a section, made of its name; different from every one taken."""
    base = (
        "-".join("".join(letter if letter.isalnum() else " " for letter in name.casefold()).split())
        or "section"
    )
    number, anchor = 1, base
    while anchor in taken:
        number += 1
        anchor = f"{base}-{number}"
    taken.add(anchor)
    return anchor


def _version(menu: GuestMenu) -> str:
    """Return seven hex digits of everything guests are told, so that two different menus never share a version."""
    told: Mapping[str, object] = {"menu": replace(menu, version="", words={})}
    return hashlib.sha256(repr(told).encode()).hexdigest()[:7]


def guest_menu(facts: EventFacts, theme: str) -> GuestMenu:
    """Return the menu of a worked-out event.

    Args:
        facts: The event; drinks that could not be worked out are not in it, so this is called only where no problem
            stops the publish.
        theme: The look, already known to exist.
    """
    event, house, region = facts.event, facts.setting.house, facts.setting.region
    locale = _locale(region)
    currency = event.currency or region.currency
    taken = set(facts.drinks)
    sections = []
    for part in event.sections:
        drinks = tuple(
            _guest_drink(facts.drinks[entry.slug], _price(entry, currency, locale), event, region)
            for entry in part.entries
            if entry.slug in facts.drinks and not (event.hide_off and entry.slug in event.off)
        )
        if drinks:
            sections.append(GuestSection(_section_id(part.name, taken), part.name, part.note, drinks))
    used = _used_marks(sections, region)
    shown = [drink for section in sections for drink in section.drinks]
    has_prices = any(drink.price for drink in shown)
    cautions = [name for drink in shown for name in facts.drinks[drink.id].serve.cautions]
    menu = GuestMenu(
        slug=event.slug,
        house=house.name,
        event=event.name,
        when=_when(event, locale),
        venue=event.venue,
        language=LANGUAGE if locale.territory is None else f"{LANGUAGE}-{locale.territory}",
        direction="rtl" if locale.text_direction == "rtl" else "ltr",
        theme=theme,
        sections=tuple(sections),
        columns=tuple(TableColumn(mark) for mark in used.values()),
        choices=tuple(Choice(mark.id, mark.word, mark.icon) for mark in used.values()),
        has_alcohol_free=any(drink.alcohol_free for drink in shown),
        notices=menu_notices(region, cautions, has_prices=has_prices, rules=house.rules),
        kitchen=kitchen_lines(event.equipment),
        price_note=region.price_note if has_prices else "",
        region_name=region.name,
        contact=house.contact,
        address=event.address,
        tables=tuple(range(1, event.tables + 1)) if event.tables else (),
        listed=event.listed,
        version="",
        words=WORDS,
    )
    return replace(menu, version=_version(menu))
