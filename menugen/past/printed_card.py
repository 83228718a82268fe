"""The menu that an event's printed cards were made from: found by the version they carry, and worked out."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from menugen.comparing import match
from menugen.facts import Broken, EventFacts, work_out_event
from menugen.reading import HouseReading, read_house
from menugen.records import Event, House
from menugen.revisions import NoHistory, committed_part, files_at


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """What is known of a printed card's menu.

    Attributes:
        facts: The event as it was; None where that is not known at all.
        unknown: Slugs of drinks that were on that menu and cannot be compared, since they could not be worked out or
            some label of theirs had not been read.
        reasons: For the operator: why not all of it is known; empty where it is.
        drinks: Slug now -> slug then of the drinks that were there under whatever name.
    """

    facts: EventFacts | None
    unknown: frozenset[str] = frozenset()
    reasons: tuple[str, ...] = ()
    drinks: Mapping[str, str] = field(default_factory=dict)


class PrintedCards:
    """The cards of a house's events; a revision that several events name is read once."""

    def __init__(self, folder: Path, now: House) -> None:
        """Remember where to look; nothing is read yet.

        Args:
            folder: The house's folder.
            now: The house as it is.
        """
        self._folder = folder
        self._now = now
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
            self._readings[revision] = read_house(files_at(self._folder, revision))
        reading = self._readings[revision]
        if reading.house is None:
            return PrintedCard(None, reasons=(f"house.yaml cannot be read in {revision}",))
        matches = match(reading.house, self._now, old_broken=reading.broken_specs)
        then = reading.house.events.get(matches.events.get(event.slug, ""))
        if then is None:
            unread = event.slug in reading.broken_events or (reading.broken_events - self._now.events.keys())
            unreadable = f"the event's file cannot be read in {revision}"
            return PrintedCard(
                None, reasons=(unreadable if unread else f'{revision} has no event "{event.slug}"',)
            )
        facts, _ = work_out_event(reading.house, then, Broken(reading.broken_specs, reading.broken_stock))
        if facts is None:
            return PrintedCard(None, reasons=(f"the event cannot be worked out as it is in {revision}",))
        unknown = _unknown(facts)
        specs = reading.house.specs
        names = ", ".join(specs[slug].name if slug in specs else slug for slug in unknown)
        reasons = (f"{names} cannot be worked out as it is in {revision}",) if unknown else ()
        return PrintedCard(facts, frozenset(unknown), reasons, matches.drinks)


def _unknown(facts: EventFacts) -> tuple[str, ...]:
    listed = dict.fromkeys(entry.slug for section in facts.event.sections for entry in section.entries)
    return tuple(slug for slug in listed if slug not in facts.drinks or facts.drinks[slug].serve.unread)
