"""An event's output that is there, held against the one that is to take its place."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from menugen.replacing.difference import NO_DIFFERENCE, Difference, compare_first, compare_menus
from menugen.replacing.shown import ShownMenu, UnreadableMenu, read_menu
from menugen.writing import MARKER

MENU = "site/menu.json"
"""Where an event's menu lies in its folder, in the language its code opens."""

_MENUS = re.compile(r"site/(?:[^/]+/)?menu\.json")

_LARGEST_BYTES = 256 * 1024 * 1024
"""A menu of ten thousand drinks has some twenty million."""


@dataclass(frozen=True, slots=True)
class Replacement:
    """One event's output, and what it takes the place of.

    Attributes:
        event: The event's slug.
        name: Its name.
        folder: What is there now, or was when the event was called otherwise.
        first: Whether nothing is there yet, so that there is nothing to compare with.
        unsure: Why it was not compared, or not in full; a sentence each. Empty where it was.
        notes: What else is to be known: a language that comes or goes.
        difference: What guests are shown otherwise, as far as it could be compared.
        house: The bar's name in what is there; empty where it is not known.
        version: What the menu that is there is called; empty where it is not known.
        renamed: The slug the event probably had, where that event's output stands in for the one that is missing.
    """

    event: str
    name: str
    folder: Path
    first: bool = False
    unsure: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    difference: Difference = NO_DIFFERENCE
    house: str = ""
    version: str = ""
    renamed: str = ""

    @property
    def alarming(self) -> bool:
        """Whether guests are shown an allergen or a caution otherwise, or nobody can say that they are not."""
        return bool(self.unsure or self.difference.changes)


def menus_among(paths: Iterable[str]) -> tuple[str, ...]:
    """Return the `menu.json` of each language among an event's files, that of the first language first."""
    return tuple(sorted(filter(_MENUS.fullmatch, paths), key=lambda path: (path != MENU, path)))


def hold_against(
    event: str,
    name: str,
    folder: Path,
    new: Mapping[str, Callable[[], bytes]],
    *,
    others: Callable[[], Sequence[ShownMenu]] = tuple,
    renamed: str = "",
) -> Replacement:
    """Return what an event's new output takes the place of.

    Args:
        event: The event's slug.
        name: The event's name.
        folder: Where its output lies, if it does.
        new: What reads the new `menu.json` of each language, by path as in `menus_among`; asked for only where there is
            something to compare it with.
        others: Returns the menus of other events that are published; asked for where a drink joins this one.
        renamed: The slug the folder has, where that is not the event's.
    """
    try:
        empty = not folder.exists() or (folder.is_dir() and not any(folder.iterdir()))
    except OSError:
        empty = False
    if empty:
        elsewhere = others()
        news = [read_menu(content()) for content in new.values()] if elsewhere else []
        return Replacement(event, name, folder, first=True, difference=compare_first(news, elsewhere))
    if not (folder / MARKER).is_file():
        return Replacement(
            event, name, folder, unsure=(f"{folder} was not made by menugen",), renamed=renamed
        )
    old, unsure = _earlier_menus(folder)
    pairs, notes, unpaired = _paired(old, new)
    head = old.get(MENU)
    return Replacement(
        event,
        name,
        folder,
        unsure=(*unsure, *unpaired),
        notes=tuple(notes),
        difference=compare_menus(pairs, others),
        house=head.house if head else "",
        version=head.version if head else "",
        renamed=renamed,
    )


def menus_elsewhere(to: Path, event: str) -> tuple[ShownMenu, ...]:
    """Return what menus of other events have that are published, as far as they can be read.

    Args:
        to: The output folder.
        event: The slug of the event that is left out.
    """
    try:
        folders = sorted(path for path in to.iterdir() if path.name != event and (path / MARKER).is_file())
    except OSError:
        return ()
    return tuple(menu for folder in folders for menu in _earlier_menus(folder)[0].values())


def earlier_menu(folder: Path) -> ShownMenu:
    """Return the menu of an event's output in its first language.

    Raises:
        UnreadableMenu: It cannot be read.
    """
    return read_menu(_content(folder / MENU))


def _earlier_menus(folder: Path) -> tuple[dict[str, ShownMenu], tuple[str, ...]]:
    """Return the menu of each language by path, and why one or another cannot be read."""
    found: dict[str, ShownMenu] = {}
    unsure = []
    try:
        inside = sorted(
            place.relative_to(folder).as_posix() for place in (folder / "site").glob("*/menu.json")
        )
    except OSError:
        inside = []
    for path in menus_among((MENU, *inside)):
        try:
            found[path] = read_menu(_content(folder / path))
        except UnreadableMenu as fault:
            unsure.append(f"{(folder / path).as_posix()} {fault}")
    if any(menu.by_words for menu in found.values()):
        unsure.append(
            f"{folder.as_posix()} was published by an older menugen, whose menu.json has words alone: "
            "only what they say could be compared"
        )
    return found, tuple(unsure)


def _content(file: Path) -> bytes:
    try:
        with file.open("rb") as opened:
            content = opened.read(_LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise UnreadableMenu("is missing") from None
    except OSError as fault:
        raise UnreadableMenu(f"cannot be read: {(fault.strerror or str(fault)).lower()}") from None
    if len(content) > _LARGEST_BYTES:
        raise UnreadableMenu("is larger than any menu")
    return content


def _paired(
    old: Mapping[str, ShownMenu], new: Mapping[str, Callable[[], bytes]]
) -> tuple[list[tuple[ShownMenu, ShownMenu]], list[str], list[str]]:
    """Return the menus to hold against each other, what is to be known of languages, and what cannot be compared.

    A language that is gone is held against the first, by the drinks' pages: their facts are the same in all.
    """
    by_ids = {path: read_menu(content()) for path, content in new.items()}
    known = {menu.language for menu in old.values()}
    pairs, notes, unsure = [], [], []
    for menu in old.values():
        same = [path for path, other in by_ids.items() if other.language == menu.language]
        # An event that moves to another place may be in that place's English.
        alike = [
            path
            for path, other in by_ids.items()
            if other.spoken == menu.spoken and other.language not in known
        ]
        path = next(iter((*same, *alike)), None)
        if path is None:
            notes.append(f"no longer published in {menu.language}: its pages go")
            path = next(iter(new))
            if menu.by_words:
                unsure.append(
                    f"what its menu in {menu.language} said cannot be compared with another language"
                )
                continue
        pairs.append((menu, read_menu(new[path](), by_words=True) if menu.by_words else by_ids[path]))
    spoken = {menu.spoken for menu in old.values()}
    if old:
        new_ones = (
            menu for menu in by_ids.values() if menu.language not in known and menu.spoken not in spoken
        )
        notes += [f"published in {menu.language} for the first time" for menu in new_ones]
    return pairs, notes, unsure
