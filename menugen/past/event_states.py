"""Events as they stood at one commit after another: which there were, on which day, with which drinks."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from menugen.names import slug_of
from menugen.past.part_of_house import EVENT_ENDINGS, SPEC_ENDINGS, KnownFolders, names_in, oid_of
from menugen.problems import near
from menugen.reading import HOUSE_FILE, Inherited, decode, read_event
from menugen.records import Event, Hours
from menugen.revisions import Commit, GitFiles, NoHistory, Objects, Repository

_DATE = re.compile(r"^date:\s*[\"']?(\d{4}-\d{2}-\d{2})", re.MULTILINE)
_NAME = re.compile(r"^event:\s*[\"']?(.*?)[\"']?\s*$", re.MULTILINE)
"""What can be told of an event whose file has a fault."""


@dataclass(frozen=True, slots=True)
class EventFile:
    """What one version of an event's file says of it.

    Attributes:
        slug: The file's name.
        path: The file.
        oid: Its content.
        name: As guests read it.
        day: The day it begins; date.min where a fault hides it.
        hours: None where not said, or where the file has a fault.
        drinks: Slugs of the drinks on its menu; none where the file has a fault.
        sound: Whether the file could be read.
    """

    slug: str
    path: str
    oid: str
    name: str
    day: date
    hours: Hours | None = None
    drinks: tuple[str, ...] = ()
    sound: bool = False

    @property
    def start(self) -> datetime:
        """When it begins; without hours, with the day."""
        return datetime.combine(self.day, self.hours.start if self.hours else time.min)

    @property
    def end(self) -> datetime:
        """When it is over; without hours, with the day."""
        if self.hours is None:
            return datetime.combine(self.day, time.max)
        past_midnight = self.hours.end <= self.hours.start
        return datetime.combine(self.day + timedelta(days=past_midnight), self.hours.end)

    @property
    def called(self) -> str:
        """Its name and day: "Barn Dance, 2026-06-20"."""
        return self.name if self.day == date.min else f"{self.name}, {self.day}"

    def was_on(self, when: str) -> bool:
        """Return whether it was on at a day, "2026-06-20", or began in a month, "2026-06"."""
        last = (self.end - timedelta(minutes=1)).date() if self.hours else self.day
        return str(self.day).startswith(when) or str(last) == when


class EventIdentity(NamedTuple):
    """One event through all its versions: its day, and every name its file ever had."""

    day: date
    slugs: frozenset[str]


class EventStates:
    """The events of a house at one commit after another; what did not change is not read again."""

    def __init__(self, repository: Repository) -> None:
        """Remember where to look; nothing is read yet."""
        self._repository = repository
        self._objects = Objects(repository.top)
        self._folders = KnownFolders()
        self._events: dict[tuple[str, str], EventFile | None] = {}
        self._at: dict[tuple[str, ...], tuple[EventFile, ...]] = {}

    def files(self, commit: Commit) -> GitFiles:
        """Return the house's files at a commit."""
        return GitFiles(self._repository, commit, self._objects)

    def at(self, commit: Commit) -> tuple[EventFile, ...]:
        """Return the events there were."""
        files = self.files(commit)
        folders = self._folders.of(files).events
        key = tuple(oid for folder in folders for oid in (folder, *self._folders.content(files, folder)))
        if key not in self._at:
            self._at[key] = tuple(self._read(files, folders))
        return self._at[key]

    def _read(self, files: GitFiles, folders: tuple[str, ...]) -> Iterator[EventFile]:
        for folder in folders:
            for name in names_in(files, folder):
                if not name.casefold().endswith(EVENT_ENDINGS) or name.startswith("."):
                    continue
                path = f"{folder}/{name}"
                key = (path, oid_of(files, path))
                if key not in self._events:
                    self._events[key] = _known(files, *key)
                if (found := self._events[key]) is not None:
                    yield found

    def find(self, commit: Commit, event: EventIdentity) -> EventFile | None:
        """Return an event as it was at a commit; None where it was not there, or on another day."""
        days = event.day, date.min
        return next((one for one in self.at(commit) if one.day in days and one.slug in event.slugs), None)

    def moved_to(self, commit: Commit, event: EventIdentity) -> date | None:
        """Return the day to which an event had been put off by a commit; None where it was not there either."""
        return next((one.day for one in self.at(commit) if one.slug in event.slugs), None)

    def key(self, commit: Commit, event: EventFile) -> tuple[str, ...]:
        """Return what is another text once anything is that this event's menu is worked out from."""
        files = self.files(commit)
        folders = self._folders.of(files).specs
        specs = (
            oid for slug in event.drinks for oid in self._folders.oids(files, folders, slug, SPEC_ENDINGS)
        )
        return (oid_of(files, HOUSE_FILE), event.oid, "", *specs, "", *self._folders.stock(files))


def _known(files: GitFiles, path: str, oid: str) -> EventFile | None:
    """Return what an event's file says; None where its content is not here."""
    try:
        text = decode(files.read(path), path).text
    except OSError:
        return None
    event: Event | None = read_event(text, path, Inherited("", "", ())).event
    slug = slug_of(path)
    if event is not None:
        drinks = tuple(entry.slug for section in event.sections for entry in section.entries)
        return EventFile(slug, path, oid, event.name, event.date, event.hours, drinks, sound=True)
    day, name = _DATE.search(text), _NAME.search(text)
    try:
        found = date.fromisoformat(day[1]) if day else date.min
    except ValueError:
        found = date.min
    return EventFile(slug, path, oid, name[1] if name else slug, found)


def no_event(event: str, known: Collection[str]) -> NoHistory:
    """Return what is to be said where no event is called so, with the ones that are meant."""
    close = " or ".join(f'"{name}"' for name in near(event, sorted(known)))
    hint = f": did you mean {close}?" if close else f"; there are: {', '.join(sorted(known)) or 'none'}"
    return NoHistory(f'no event called "{event}" is known{hint}')
