"""An event file to an Event."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from pydantic import BaseModel, ValidationError

from menugen.problems import Place, Problem, error
from menugen.reading.comments import without_comments
from menugen.reading.forms.event_form import EventForm, SectionForm
from menugen.reading.forms.refusal import known_keys, problems_of
from menugen.reading.forms.translation_form import EventWordsForm, SectionWordsForm
from menugen.reading.slugs import slug_of
from menugen.reading.spec_file import REMEMBERED, filled_in
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import Event, EventWords, MenuEntry, MenuSection, SectionWords

_KEYS = frozenset(known_keys(EventForm))
_INNER: Mapping[str, type[BaseModel]] = {
    "menu": SectionForm,
    "menu.translations": SectionWordsForm,
    "translations": EventWordsForm,
}


class Inherited(NamedTuple):
    """What an event takes from its house where it says nothing itself; fields as in records.House."""

    region: str
    currency: str
    languages: tuple[str, ...]


class EventReading(NamedTuple):
    """What an event file says; the event is None where it has a fault."""

    event: Event | None
    problems: tuple[Problem, ...]


@lru_cache(maxsize=REMEMBERED)
def read_event(text: str, file: str, house: Inherited) -> EventReading:
    """Read an event.

    Args:
        text: The file, lines divided by line feeds.
        file: Its path, relative to the house.
        house: What it takes from the house.
    """
    data, problems = read_mapping(text, file)
    if data is None:
        return EventReading(None, tuple(problems))
    place = Place(file)
    problems += _listed_twice(data, place)
    try:
        # "alcohol:" with nothing behind it was begun for a reason: it may not pass for a line that was never written.
        form = EventForm.model_validate(filled_in(data, _KEYS, frozenset({"alcohol"})))
    except ValidationError as failure:
        return EventReading(None, (*problems, *problems_of(failure, place, EventForm, _INNER)))
    return EventReading(None if problems else _event(form, place, house), tuple(problems))


def _listed_twice(data: dict[str, Data], place: Place) -> Iterator[Problem]:
    """Yield a problem for each drink that is on the menu, or sold out, a second time."""
    sections = data.get("menu")
    listed: list[tuple[str, Place]] = []
    for number, section in enumerate(sections if isinstance(sections, list) else []):
        drinks = section.get("drinks") if isinstance(section, dict) else None
        for position, drink in enumerate(drinks if isinstance(drinks, list) else []):
            where = place.at("menu", number, "drinks", position)
            if isinstance(drink, str):
                listed.append((drink, where))
            elif isinstance(drink, dict) and len(drink) == 1:
                [slug] = drink
                listed.append((slug, where.at(slug, on="key")))
    yield from _repeats(listed, "drink-twice", "is on the menu a second time")
    off = data.get("off")
    yield from _repeats(
        [
            (slug, place.at("off", index))
            for index, slug in enumerate(off if isinstance(off, list) else [])
            if isinstance(slug, str)
        ],
        "off-twice",
        "is sold out a second time",
    )


def _repeats(listed: list[tuple[str, Place]], code: str, what: str) -> Iterator[Problem]:
    first: dict[str, Place] = {}
    for slug, where in listed:
        earlier = first.setdefault(slug.strip().casefold(), where)
        if earlier is not where and slug:
            told = error(code, f'"{slug}" {what}', where, "keep one of the two")
            yield replace(told, also=((earlier, "the first one"),))


def _event(form: EventForm, place: Place, house: Inherited) -> Event:
    return Event(
        slug=slug_of(place.file),
        name=form.event,
        date=form.date,
        hours=form.hours,
        venue=form.place,
        region=form.region or house.region,
        # The house's currency belongs to the house's region: an event elsewhere has that place's own.
        currency=form.currency or ("" if form.region and form.region != house.region else house.currency),
        languages=form.languages or house.languages,
        guests=form.guests,
        tables=form.tables,
        address=form.address,
        theme=form.theme,
        equipment=form.equipment,
        bottles=dict(form.bottles),
        sections=tuple(
            _section(section, place.at("menu", number)) for number, section in enumerate(form.menu)
        ),
        off=tuple(form.off),
        hide_off=form.hide_off,
        listed=form.listed,
        place=place,
        translations={
            language: EventWords(words.event, words.place) for language, words in form.translations.items()
        },
        printed=form.printed,
        pours_alcohol=form.alcohol != "none",
        hosted=form.hosted,
    )


def _section(form: SectionForm, place: Place) -> MenuSection:
    entries = []
    for position, written in enumerate(form.drinks):
        where = place.at("drinks", position)
        entries.append(
            MenuEntry(
                written.slug, written.price, where.at(*written.steps, on="key") if written.steps else where
            )
        )
    note = without_comments(form.note)
    translated = {language: without_comments(words.note) for language, words in form.translations.items()}
    translations = {
        language: SectionWords(words.section, translated[language].text)
        for language, words in form.translations.items()
    }
    comments = tuple(text for one in (note, *translated.values()) for text in one.comments)
    return MenuSection(form.section, note.text, tuple(entries), place, translations, comments)
