"""What an output folder holds that no event of the house is published to any more.

A folder is gone only where menugen made it, for this house, and nothing else lies in it; all others are left alone.
"""

import os
from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from menugen.disk import event_folder, is_same
from menugen.names import name_key, typed_slug
from menugen.replacing.replacement import earlier_menu
from menugen.replacing.shown import UnreadableMenu
from menugen.report import counted, fold
from menugen.writing import MARKER

_OURS = frozenset({MARKER, "site", "print"})
_NOBODYS = frozenset({".ds_store", "thumbs.db", "desktop.ini"})


@dataclass(frozen=True, slots=True)
class KnownEvent:
    """An event of the house, as far as it tells whether a folder was its own under another name.

    Attributes:
        slug: Its file's name.
        names: As guests read it, in each language.
        date: ISO 8601.
        drinks: What is on its menu.
    """

    slug: str
    names: frozenset[str]
    date: str
    drinks: frozenset[str]


@dataclass(frozen=True, slots=True)
class GoneFolder:
    """A folder of an event that the house does not have.

    Attributes:
        folder: Where it lies.
        name: The event's, as guests read it; empty where that is not known.
        date: The event's, ISO 8601; empty likewise.
        kept: Why it is not removed, even when that is asked for; empty where it is.
        renamed: Slug of the event that it probably is under another name; empty where none is plain.
        half: Whether it is only what a run that was killed left of one.
        house: Of another house, its name: it may be anything but gone. Empty where it is this house's.
    """

    folder: Path
    name: str = ""
    date: str = ""
    kept: str = ""
    renamed: str = ""
    half: bool = False
    house: str = ""

    @property
    def slug(self) -> str:
        """The event's."""
        left = _left(self.folder)
        return left or self.folder.name


def gone_folders(
    to: Path, events: Iterable[KnownEvent], others: Collection[str], houses: Collection[str]
) -> tuple[GoneFolder, ...]:
    """Return the folders of events that are gone, by name.

    Args:
        to: The output folder, which may be missing.
        events: The house's events.
        others: Slugs of events that are there and cannot be read, or are there in another revision.
        houses: What the house is called, or was.
    """
    known = tuple(events)
    slugs = {*others, *(event.slug for event in known)}
    places = [to / slug for slug in slugs]
    found = []
    try:
        entries = sorted(to.iterdir())
    except OSError:
        return ()
    for entry in entries:
        left = _left(entry)
        slug = typed_slug(left or entry.name)
        if slug in slugs or not _is_folder(entry):
            continue
        if left:
            found.append(GoneFolder(entry, half=True))
        elif _is_published(entry) and not any(_is_one(entry, place) for place in places):
            found.append(_gone(entry, known, houses))
    return tuple(found)


def _left(folder: Path) -> str:
    """Return whose folder a run that was killed left; empty of others, and of one that may be the only good output."""
    found = event_folder(folder.name)
    return found.slug if found and found.what != "old" else ""


def _is_published(folder: Path) -> bool:
    return not folder.name.startswith(".") and (folder / MARKER).is_file()


def _is_folder(place: Path) -> bool:
    return place.is_dir() and not place.is_symlink()


def _is_one(one: Path, other: Path) -> bool:
    """Return whether two names are of one folder, as on a disk that does not tell capitals from small letters."""
    try:
        return one.samefile(other) or is_same(one, other)
    except OSError:
        return False


def _gone(folder: Path, events: Collection[KnownEvent], houses: Collection[str]) -> GoneFolder:
    try:
        menu = earlier_menu(folder)
    except UnreadableMenu as fault:
        return GoneFolder(folder, kept=f"its site/menu.json {fault}, so nobody knows whose it is")
    if not _is_one_of(menu.house, houses):
        return GoneFolder(
            folder, menu.event, menu.date, kept=f'it is what "{menu.house}" published', house=menu.house
        )
    drinks = frozenset(drink.id for drink in menu.drinks)
    same_name = [event.slug for event in events if _is_one_of(menu.event, event.names)]
    same_menu = [event.slug for event in events if event.date == menu.date and event.drinks == drinks]
    alike = [slug for slug in same_name if slug in same_menu] or same_name or same_menu
    return GoneFolder(
        folder,
        menu.event,
        menu.date,
        kept=_strangers(folder),
        renamed=alike[0] if len(alike) == 1 else "",
    )


def is_same_house(one: str, other: str) -> bool:
    """Return whether two names are of one house; spaces and capitals make no other one."""
    return name_key(one) == name_key(other)


def _is_one_of(name: str, names: Iterable[str]) -> bool:
    return any(name_key(name) == name_key(one) for one in names)


def _strangers(folder: Path) -> str:
    """Return why a folder is not removed that menugen made: what else lies in it."""
    try:
        names = sorted(path.name for path in folder.iterdir())
        repository = next((name for name in ("site", "print") if os.path.lexists(folder / name / ".git")), "")
    except OSError as fault:
        return f"it cannot be looked into: {(fault.strerror or str(fault)).lower()}"
    odd = [name for name in names if name not in _OURS and name.casefold() not in _NOBODYS]
    if odd:
        return f"it holds {', '.join(odd[:3])}, which menugen did not make"
    return f"{repository} is a repository of its own" if repository else ""


def gone_text(gone: Iterable[GoneFolder], remove: str) -> str:
    """Return what is said of folders that are still there; empty where there are none.

    Args:
        gone: The folders.
        remove: What to type to have them removed.
    """
    told = tuple(gone)
    lines = [line for one in told if not one.house for line in _lines(one)]
    for (to, house), number in Counter((one.folder.parent, one.house) for one in told if one.house).items():
        lines += fold(
            f'{to.as_posix()}: {counted(number, "folder")} of "{house}", left alone; '
            f'where that is this house\'s earlier name, say --was "{house}"',
            later="  ",
            long_words=True,
        )
    if any(not one.kept for one in told):
        lines += fold(f"remove what is gone:  {remove}", first="  ", later="    ", long_words=True)
    return "".join(f"{line}\n" for line in lines)


def _lines(one: GoneFolder) -> Iterator[str]:
    place = one.folder.as_posix()
    if one.half:
        yield from fold(
            f"{place}: left by a run that was stopped; do not upload it", later="  ", long_words=True
        )
        return
    if one.renamed:
        what = f"is probably what is published as {one.renamed} now"
    elif one.kept and not one.name:
        what = "is of no event of this house"
    else:
        what = "is of an event that is gone"
    event = f" ({', '.join(filter(None, (one.name, one.date)))})" if one.name else ""
    rest = f"; it stays, as {one.kept}" if one.kept else "; do not upload it again"
    yield from fold(f"{place} {what}{event}{rest}", later="  ", long_words=True)


def gone_json(one: GoneFolder, *, removed: bool) -> dict[str, Any]:
    """Return a folder as plain data."""
    return {
        "folder": str(one.folder),
        "event": one.slug,
        "name": one.name or None,
        "house": one.house or None,
        "date": one.date or None,
        "renamed_to": one.renamed or None,
        "kept_because": one.kept or None,
        "removed": removed,
    }
