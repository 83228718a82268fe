"""From a worked-out event to what its guests may see."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from babel import Locale

from menugen.facts import DrinkFacts, EventFacts, holds_alcohol, strictest_age
from menugen.menu.catalogue import SOURCE_LANGUAGE
from menugen.menu.guest import (
    AllergenMark,
    Choice,
    GuestDrink,
    GuestMenu,
    GuestSection,
    GuestSwap,
    LanguageLink,
    TableColumn,
)
from menugen.menu.language import PageLanguage, own_name, page_language
from menugen.menu.notices import kitchen_lines, menu_notices
from menugen.menu.own_words import OwnWords, own_words, written_in
from menugen.menu.picture import glass_picture
from menugen.menu.price_words import price_words, tax_note
from menugen.menu.units import serves_words
from menugen.menu.version import menu_version
from menugen.menu.ways import Manner, drinks_out, free_left, guest_swaps, shown_way
from menugen.menu.words import FOR_ALL, LEFT, VERSION, WITHOUT_ALCOHOL, WORDS
from menugen.records import MenuEntry
from menugen.regions import Region


@dataclass(frozen=True, slots=True)
class _Setting:
    """What the parts of one menu share.

    Attributes:
        facts: The event.
        region: Its rules.
        page: The language of this menu.
        own: The user's words in it.
        currency: ISO 4217.
        has_alcohol: Whether any drink of the event holds some.
        manner: How ways of making a drink are told of.
    """

    facts: EventFacts
    region: Region
    page: PageLanguage
    own: OwnWords
    currency: str
    has_alcohol: bool
    manner: Manner


def menu_languages(facts: EventFacts) -> tuple[str, ...]:
    """Return the languages an event's menu is written in, BCP 47, the one the code opens first; never empty."""
    asked = facts.event.languages or facts.setting.region.languages[:1] or (SOURCE_LANGUAGE,)
    return tuple(dict.fromkeys(asked))


def words_of(facts: EventFacts, language: str) -> OwnWords:
    """Return the user's words, and ours, for an event's menu in one language."""
    event, house, region = facts.event, facts.setting.house, facts.setting.region
    own_language = written_in(house, menu_languages(facts))
    page = page_language(language, region.country, region.currency)
    own_page = page_language(own_language, region.country, region.currency)
    return own_words(house, event, page, own_language, own_page)


def _setting(facts: EventFacts, language: str) -> _Setting:
    own, region, event = words_of(facts, language), facts.setting.region, facts.event
    has_alcohol = event.pours_alcohol and holds_alcohol(facts.drinks.values())
    return _Setting(
        facts=facts,
        region=region,
        page=own.page,
        own=own,
        currency=event.currency or region.currency,
        has_alcohol=has_alcohol,
        manner=Manner(region.drink_unit, own, event.pours_alcohol, has_alcohol),
    )


def _lead_and_story(markdown: str) -> tuple[str, str]:
    """Split the guest's notes at the first blank line: the line that tempts, and the rest."""
    lead, _, story = markdown.strip().partition("\n\n")
    return " ".join(lead.split("\n")), story.strip()


def _guest_drink(facts: DrinkFacts, entry: MenuEntry, setting: _Setting) -> GuestDrink:
    spec, own, page = facts.spec, setting.own, setting.page
    swaps, combined = guest_swaps(facts, setting.manner)
    name, notes = own.spec_name(spec), own.spec_notes(spec)
    lead, story = _lead_and_story(notes.text)
    made_with = own.made_with(line.name for line in spec.lines)
    glass = own.glass(facts.vessel.name if facts.vessel else spec.glass)
    price = setting.facts.event.shown_price(entry)
    serves = serves_words(spec.serves, page)
    return GuestDrink(
        **shown_way(facts.serve, setting.manner).by_field(),
        id=spec.slug,
        name=name.text,
        lead=lead,
        story=story,
        made_with=made_with.text,
        price=price_words(price, setting.currency, page),
        off=spec.slug in setting.facts.event.off,
        glass=glass.text,
        picture=glass_picture(facts),
        swaps=swaps,
        combined=combined,
        name_language=name.language,
        notes_language=notes.language,
        made_with_language=made_with.language,
        glass_language=glass.language,
        price_value="" if price is None else f"{price:f}",
        serves=spec.serves,
        serves_words=serves,
        price_for=page.filled(FOR_ALL, serves=serves) if serves and price else "",
    )


def _used_marks(
    made: Iterable[GuestDrink | GuestSwap], region: Region, page: PageLanguage
) -> dict[str, AllergenMark]:
    """Return each entry that some of these are declared with, by its group's name, in the region's order."""
    groups = {entry.id: page.say(entry.label) for entry in region.regime.entries}
    used: dict[str, AllergenMark] = {}
    listed_by = list(made)
    marks = [mark for one in listed_by for mark in (*one.contains, *one.may_contain)]
    # Last, as "barley" is the word of a spirit's base alone, and "barley (gluten)" that of both.
    marks += [mark for one in listed_by for mark in one.distilled_from]
    for mark in marks:
        used.setdefault(mark.id, AllergenMark(mark.id, groups.get(mark.id, mark.word), mark.icon))
    listed = [name for name in groups if name in used]
    return {name: used[name] for name in (*listed, *sorted(used.keys() - set(listed)))}


def _sections(setting: _Setting) -> tuple[GuestSection, ...]:
    event, drinks = setting.facts.event, setting.facts.drinks
    sections = []
    for part in event.sections:
        shown = tuple(
            _guest_drink(drinks[entry.slug], entry, setting)
            for entry in part.entries
            if entry.slug in drinks and not (event.hide_off and entry.slug in event.off)
        )
        if shown:
            name, note = setting.own.section_name(part), setting.own.section_note(part)
            sections.append(GuestSection(part.id, name.text, note.text, shown, name.language, note.language))
    return tuple(sections)


def _place_name(region: Region, page: PageLanguage) -> str:
    """Return the place's name; those of countries are in Unicode CLDR, those of their parts in the catalogues."""
    if region.name == Locale(SOURCE_LANGUAGE).territories.get(region.country):
        return str(page.locale.territories.get(region.country, region.name))
    return page.say(region.name)


def _folder(language: str, languages: tuple[str, ...]) -> str:
    return "" if language == languages[0] else f"{language}/"


def _links(language: str, languages: tuple[str, ...]) -> tuple[LanguageLink, ...]:
    """Return the ways from the menu in one language to the same menu in the others."""
    up = "../" if _folder(language, languages) else ""
    return tuple(
        LanguageLink(other, own_name(other), up + _folder(other, languages))
        for other in languages
        if other != language
    )


def guest_menu(
    facts: EventFacts,
    theme: str,
    language: str = "",
    *,
    revision: str = "",
    uncommitted: bool = False,
    version: str = "",
) -> GuestMenu:
    """Return the menu of a worked-out event in one language.

    Args:
        facts: The event; drinks that could not be worked out are not in it, so this is called only where no problem
            stops the publish.
        theme: The look, already known to exist.
        language: BCP 47, one of the event's; empty means its first.
        revision: The first digits of the commit the house was read at; empty where there is no git.
        uncommitted: Whether the house's files differ from that commit.
        version: What the event's menu is called, where one in another language has told it; else it is worked out,
            for which the others may have to be made, one by one.
    """
    languages = menu_languages(facts)
    language = language or languages[0]
    if not version and languages != (language,):
        # Each is let go before the next is made: a long menu in several languages would fill a small machine.
        each = (_unnamed(facts, theme, other) for other in languages)
        version = menu_version(each, revision, uncommitted=uncommitted)
    menu = _unnamed(facts, theme, language)
    version = version or menu_version((menu,), revision, uncommitted=uncommitted)
    page = words_of(facts, language).page
    line = page.filled(VERSION, version=page.apart(version), day=page.day(facts.event.date))
    return replace(menu, version=version, version_line=line, uncommitted=uncommitted)


def _unnamed(facts: EventFacts, theme: str, language: str) -> GuestMenu:
    """Return a menu that has no version yet, in one language."""
    event, house = facts.event, facts.setting.house
    languages = menu_languages(facts)
    setting = _setting(facts, language)
    region, page, own = setting.region, setting.page, setting.own
    folder = _folder(language, languages)
    sections = _sections(setting)
    shown = [drink for section in sections for drink in section.drinks]
    paid = {entry.slug for part in event.sections for entry in part.entries if event.shown_price(entry)}
    charges = any(drink.id in paid for drink in shown)
    tax = tax_note(house, region) if charges else ""
    words = WORDS if setting.has_alcohol else {**WORDS, **WITHOUT_ALCOHOL}
    drinks = [facts.drinks[drink.id] for drink in shown]
    cautions = [name for drink in drinks for way in drink.ways for name in way.cautions]
    name, venue = own.event_name(), own.venue()
    out = drinks_out(shown)

    def left(drinks: int) -> str:
        return page.filled(LEFT, left=page.number(drinks), all=page.number(len(shown)))

    return GuestMenu(
        slug=event.slug,
        house=house.name,
        event=name.text,
        when=page.when(event.date, event.hours),
        venue=venue.text,
        language=page.code,
        direction=page.direction,
        theme=theme,
        sections=sections,
        columns=tuple(TableColumn(mark) for mark in _used_marks(shown, region, page).values()),
        choices=tuple(
            Choice(mark.id, mark.word, mark.icon, left(len(shown) - out[mark.id]))
            for mark in _used_marks((way for drink in shown for way in drink.ways), region, page).values()
        ),
        has_alcohol_free=setting.has_alcohol and free_left(shown) > 0,
        notices=menu_notices(
            region,
            cautions,
            own,
            has_prices=charges,
            has_alcohol=setting.has_alcohol,
            age=strictest_age((facts.drinks[drink.id] for drink in shown), region),
        ),
        kitchen=kitchen_lines(own, event.equipment),
        price_note=page.say(tax) if tax else "",
        region_name=_place_name(region, page),
        contact=house.contact,
        address=f"{event.address}{folder}" if event.address else "",
        tables=tuple(range(1, event.tables + 1)) if event.tables else (),
        listed=event.listed,
        version="",
        words={word: page.say(text) for word, text in words.items()},
        folder=folder,
        languages=_links(language, languages),
        event_language=name.language,
        venue_language=venue.language,
        currency=setting.currency if any(drink.price for drink in shown) else "",
        date=event.date.isoformat(),
        region_code=region.code,
        has_alcohol=setting.has_alcohol,
        free_left=left(free_left(shown)),
        on_left=left(sum(not drink.off for drink in shown)),
    )
