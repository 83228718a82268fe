"""The menu that an event's printed cards were made from: found by the version they carry, and worked out."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from menugen.facts import Broken, EventFacts, work_out_event
from menugen.history.git import NoHistory, committed_part
from menugen.history.revision import files_at
from menugen.reading import HouseReading, read_house
from menugen.records import Event

MOSTLY = 0.5
"""Share of the drinks of two events of one day from which they are one event under two names; no published source."""


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """What is known of a printed card's menu.

    Attributes:
        facts: The event as it was; None where that is not known at all.
        unknown: Slugs of drinks that were on that menu and cannot be compared, since they could not be worked out or
            some label of theirs had not been read.
        reasons: For the operator: why not all of it is known; empty where it is.
    """

    facts: EventFacts | None
    unknown: frozenset[str] = frozenset()
    reasons: tuple[str, ...] = ()


class PrintedCards:
    """The cards of a house's events; a revision that several events name is read once."""

    def __init__(self, house: Path, events: Iterable[Event]) -> None:
        """Remember where to look; nothing is read yet.

        Args:
            house: The house's folder.
            events: All its events as they are now: a card of one is not taken for that of another.
        """
        self._house = house
        self._slugs = frozenset(event.slug for event in events)
        self._readings: dict[str, HouseReading] = {}

    def of(self, event: Event) -> PrintedCard:
        """Return what is known of the cards of an event that names their version."""
        revision = committed_part(event.printed)
        uncommitted = revision != event.printed
        reasons = ("they were printed from files that were not committed",) if uncommitted else ()
        try:
            card = self._at(revision, event)
        except NoHistory as fault:
            return PrintedCard(None, reasons=(str(fault),))
        return replace(card, reasons=(*reasons, *card.reasons))

    def _at(self, revision: str, event: Event) -> PrintedCard:
        if revision not in self._readings:
            self._readings[revision] = read_house(files_at(self._house, revision))
        reading = self._readings[revision]
        if reading.house is None:
            return PrintedCard(None, reasons=(f"house.yaml cannot be read in {revision}",))
        then = _same_event(event, reading.house.events.values(), self._slugs)
        if then is None:
            unread = event.slug in reading.broken_events or (reading.broken_events - self._slugs)
            unreadable = f"the event's file cannot be read in {revision}"
            return PrintedCard(
                None, reasons=(unreadable if unread else f'{revision} has no event "{event.slug}"',)
            )
        facts, _ = work_out_event(reading.house, then, Broken(reading.broken_specs, reading.broken_stock))
        if facts is None:
            return PrintedCard(None, reasons=(f"the event cannot be worked out as it is in {revision}",))
        unknown = _unknown(facts)
        names = ", ".join(_name(slug, reading) for slug in unknown)
        reasons = (f"{names} cannot be worked out as it is in {revision}",) if unknown else ()
        return PrintedCard(facts, frozenset(unknown), reasons)


def _same_event(event: Event, known: Iterable[Event], still_there: Collection[str]) -> Event | None:
    """Return the event as it was, under its own name or the one its file had then."""
    events = list(known)
    same = next((then for then in events if then.slug == event.slug), None)
    if same is not None:
        return same
    gone = [then for then in events if then.slug not in still_there]
    called = [then for then in gone if then.name.casefold() == event.name.casefold()]
    that_day = [then for then in gone if then.date == event.date and _alike(event, then) > MOSTLY]
    found = [then for then in called if then in that_day] or called or that_day
    return found[0] if len(found) == 1 else None


def _alike(event: Event, other: Event) -> float:
    """Return which share of the drinks of two events are on both, 0 to 1."""
    drinks, others = set(_listed(event)), set(_listed(other))
    return len(drinks & others) / len(drinks | others) if drinks | others else 0.0


def _listed(event: Event) -> Iterable[str]:
    return (entry.slug for section in event.sections for entry in section.entries)


def _unknown(facts: EventFacts) -> tuple[str, ...]:
    listed = dict.fromkeys(_listed(facts.event))
    return tuple(slug for slug in listed if slug not in facts.drinks or facts.drinks[slug].serve.unread)


def _name(slug: str, reading: HouseReading) -> str:
    spec = reading.house.specs.get(slug) if reading.house else None
    return spec.name if spec else slug
