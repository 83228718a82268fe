"""An event file to an Event."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from menugen.names import name_key, slug_of
from menugen.problems import Place, Problem, error
from menugen.reading.keys import EVENT, Units, fields_of, read_keys
from menugen.reading.spec_file import REMEMBERED
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import Event


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
    values, wrong = read_keys(EVENT, data, place, Units())
    problems += wrong
    if problems:
        return EventReading(None, tuple(problems))
    event = Event(slug=slug_of(file), place=place, **fields_of(EVENT, values))
    return EventReading(_with_the_houses(event, house), ())


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
        earlier = first.setdefault(name_key(slug), where)
        if earlier is not where and slug:
            told = error(code, f'"{slug}" {what}', where, "keep one of the two")
            yield replace(told, also=((earlier, "the first one"),))


def _with_the_houses(event: Event, house: Inherited) -> Event:
    """Return an event with what it takes from its house where it says nothing itself."""
    # The house's currency belongs to the house's region: an event elsewhere has that place's own.
    is_elsewhere = event.region not in ("", house.region)
    return replace(
        event,
        region=event.region or house.region,
        currency=event.currency or ("" if is_elsewhere else house.currency),
        languages=event.languages or house.languages,
    )
