"""Events that are written and not published yet, what they take the place of, and what is left of others.

publishing.py makes the files of an event; here they wait beside their places until whoever asked has seen what changes.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from menugen.disk import clear_unfinished, is_within
from menugen.facts import EventFacts
from menugen.house_photos import FOLDER
from menugen.problems import Problem
from menugen.publishing import CheckedHouse, Progress, Unfit, no_progress, write_event
from menugen.reading import THEMES_FOLDER, DiskFiles, outside_folders, read_house
from menugen.replacing import (
    MENU,
    GoneFolder,
    KnownEvent,
    Replacement,
    gone_folders,
    hold_against,
    is_same_house,
    menus_among,
    menus_elsewhere,
)
from menugen.writing import Output

if TYPE_CHECKING:
    from menugen.writing.output_folder import OutputFolder

_HOUSE = re.compile(rb'"house":\s*("(?:[^"\\]|\\.)*")')
_HEAD_BYTES = 4096


@dataclass(frozen=True, slots=True)
class ReadyEvents:
    """Every event of a house, written beside its place and looked at; nothing is published yet.

    Attributes:
        replaced: What each takes the place of.
    """

    replaced: tuple[Replacement, ...]
    _output: "OutputFolder"

    def finish(self, remove: Iterable[str] = ()) -> None:
        """Put each in its place: all of them, or none.

        Args:
            remove: Names of folders of events that are gone, which go with the same step.

        Raises:
            NotOurs: One of those is not what menugen made.
            CannotWrite: The disk refused.
        """
        self._output.finish(remove)


def ready_events(
    checked: CheckedHouse,
    output: "OutputFolder",
    *,
    gone: Iterable[GoneFolder] = (),
    was: str | None = None,
    progress: Progress = no_progress,
) -> ReadyEvents:
    """Write every event of a house into a folder of its own, beside its place.

    All are written and looked at before the first takes its place, so that a fault in one leaves all as they were.
    What is there can be changed by no other publish while the output folder is lent.

    Args:
        checked: The house, which nothing stops.
        output: Where they go.
        gone: Folders there of events that are gone: one may be an event's own under another name.
        was: What the house was called, where it is called otherwise now: that house's output may be replaced, too.
        progress: Told of each event, and of each photo that takes time.

    Raises:
        NotOurs: What is there is another house's, or menugen did not make it.
        PublishFault: The pages cannot be written.
        Unfit: The pages of some events are not fit for guests; told of all of them.
    """
    # First of all: a photo is kept there as soon as one is made ready, even in what is another house's.
    for facts in checked.events:
        folder = output.target / facts.event.slug
        there = Replacement(facts.event.slug, facts.event.name, folder, house=_published_by(folder))
        _of_this_house(there, checked, output.target, was)
    clear_unfinished(checked.folder)
    checked.made.clear_unfinished()
    earlier = {one.renamed: one.folder for one in gone if one.renamed}
    replaced = []
    problems: list[Problem] = []
    for number, facts in enumerate(checked.events):
        progress(f"setting the pages of {facts.event.name}", number, len(checked.events))
        new = output.begin(facts.event.slug)
        problems += write_event(checked, facts, new, progress)
        if problems:
            continue
        menus = {path: partial(_content, new, path) for path in menus_among(new.paths())}
        replaced.append(
            _of_this_house(_replaced(facts, output.target, menus, earlier), checked, output.target, was)
        )
    if problems:
        raise Unfit(tuple(dict.fromkeys(problems)))
    return ReadyEvents(tuple(replaced), output)


def _published_by(folder: Path) -> str:
    """Return the house that the head of a published menu names; empty where it does not, which is looked at later."""
    try:
        with (folder / MENU).open("rb") as file:
            found = _HOUSE.search(file.read(_HEAD_BYTES))
        return str(json.loads(found[1])) if found else ""
    except (OSError, ValueError):
        return ""


def _content(of: Output, path: str) -> bytes:
    return b"".join(of.kept(path)[1])


def _replaced(
    facts: EventFacts, to: Path, menus: Mapping[str, Callable[[], bytes]], earlier: Mapping[str, Path]
) -> Replacement:
    """Return what an event takes the place of: its own output, else that of the event it probably was."""
    event = facts.event
    others = partial(menus_elsewhere, to, event.slug)
    own = hold_against(event.slug, event.name, to / event.slug, menus, others=others)
    if not own.first or event.slug not in earlier:
        return own
    was = earlier[event.slug]
    return hold_against(event.slug, event.name, was, menus, others=others, renamed=was.name)


def _of_this_house(one: Replacement, checked: CheckedHouse, to: Path, was: str | None) -> Replacement:
    """Return what is replaced, with a word on it where the house was called otherwise.

    Raises:
        NotOurs: It is another house's. In the house's own folder it is the house that has another name.
    """
    from menugen.writing import NotOurs

    name = checked.reading.house.name if checked.reading.house else ""
    if not one.house or is_same_house(one.house, name):
        return one
    own = is_within(to.resolve(), checked.folder.resolve())
    if not own and not (was and is_same_house(one.house, was)):
        raise NotOurs(
            f'{one.folder} is what "{one.house}" published, and this house is "{name}", so it was left alone; '
            f'publish elsewhere with --to, or say --was "{one.house}" where that is this house\'s earlier name'
        )
    return replace(one, notes=(*one.notes, f"the house: {one.house} before, {name} now"))


def replaced_by(
    facts: EventFacts, files: Mapping[str, bytes], to: Path, gone: Iterable[GoneFolder]
) -> Replacement:
    """Return what an event's files would take the place of in an output folder.

    Args:
        facts: The event.
        files: All it has, as in `event_files`.
        to: The output folder.
        gone: As in `ready_events`.
    """
    earlier = {one.renamed: one.folder for one in gone if one.renamed}
    menus = {path: partial(files.__getitem__, path) for path in menus_among(files)}
    return _replaced(facts, to, menus, earlier)


def gone_from(checked: CheckedHouse, to: Path, was: str | None = None) -> tuple[GoneFolder, ...]:
    """Return the folders of an output folder that are of no event of the house any more.

    Args:
        checked: The house, whichever of its events are looked at.
        to: The output folder.
        was: What the house was called, where it is called otherwise now.
    """
    house, unread = checked.reading.house, checked.reading.unread
    if house is None or "events" in unread:
        return ()
    others = set(checked.reading.broken_events)
    if not isinstance(checked.files, DiskFiles):
        # A revision does not know of what came after it.
        lying = read_house(DiskFiles(checked.folder))
        if lying.house is None or "events" in lying.unread:
            return ()
        others |= {*lying.house.events, *lying.broken_events}
    known = (
        KnownEvent(
            slug=event.slug,
            names=frozenset({event.name, *(words.name for words in event.translations.values())}),
            date=event.date.isoformat(),
            drinks=frozenset(entry.slug for section in event.sections for entry in section.entries),
        )
        for event in house.events.values()
    )
    return gone_folders(to, known, others, [house.name, *([was] if was else [])])


def read_from(house: Path) -> tuple[Path, ...]:
    """Return the folders that a house is read from, or that people write in."""
    named = (*outside_folders(house), FOLDER, THEMES_FOLDER, "checks", ".git")
    return tuple(house / name for name in named)
