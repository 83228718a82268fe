"""The one way through: a house's files, read and worked out, become the files of each event.

cli/ and preview/ both come this way, so that what is previewed is what is published.
"""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from menugen.album import HousePhoto, look_at_photos, make_photos
from menugen.facts import (
    Broken,
    EventFacts,
    check_whose_rules,
    unsaid_cautions,
    work_out_event,
    work_out_unlisted,
)
from menugen.history.printed_card import PrintedCard, PrintedCards
from menugen.history.since_card import since_card
from menugen.history.version import LOOKS, NO_STAMP, Stamp, stamp_of
from menugen.menu import (
    GuestMenu,
    guest_menu,
    menu_languages,
    missing_translations,
    missing_words,
    words_of,
)
from menugen.problems import Problem, Severity, warning
from menugen.publication import DEFAULT_THEME, check_publication
from menugen.reading import HouseFiles, HouseReading, read_house
from menugen.records import Event, House
from menugen.shipped import shipped_folder
from menugen.writing.made_before import MadeBefore
from menugen.writing.output import Folder, Memory, Output
from menugen.writing.private import LeakCheck, untold

Progress = Callable[[str, int, int], None]
"""Told of long work: what is being done, how many are done, how many there are."""


def no_progress(_what: str, _done: int, _total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Look:
    """A house read and worked out, with everything that is wrong with it.

    Attributes:
        folder: The house on the disk.
        reading: What was read.
        events: Worked out, in order of date; those that could not be are missing.
        problems: All of them.
        stamp: Which revision the files are of.
        looks: Where the house's own looks lie; None is in its folder.
        files: What was read.
        photos: By slug: those that can be shown of drinks on these events.
        made: Where photos made ready and fonts cut are kept.
        printed: What is known of the menus of printed cards, by the event's slug, where the event names their version.
    """

    folder: Path
    reading: HouseReading
    events: tuple[EventFacts, ...]
    problems: tuple[Problem, ...]
    stamp: Stamp
    looks: Path | None
    files: HouseFiles
    photos: Mapping[str, HousePhoto]
    made: MadeBefore
    printed: Mapping[str, PrintedCard] = field(default_factory=dict)

    @property
    def stopped(self) -> bool:
        """Whether a problem stops the publish."""
        return any(problem.severity is Severity.ERROR for problem in self.problems)


def theme_folders(house: Path, looks: Path | None = None) -> tuple[Path, ...]:
    """Return where looks are found: the house's own first, wherever they lie."""
    return (looks or house / LOOKS, shipped_folder("themes"))


def look_at_house(
    folder: Path,
    files: HouseFiles,
    event: str | None = None,
    progress: Progress = no_progress,
    looks: Path | None = None,
    kept: Path | None = None,
) -> Look:
    """Read a house and work out its events.

    Args:
        folder: The house.
        files: Its files: as they lie, or as they were at a revision.
        event: Slug of the one event that matters; then only what it reaches is told. None: everything is.
        progress: Told of each event.
        looks: Where the house's own looks lie; None is in its folder.
        kept: Where photos made ready and fonts cut are kept between two publishes; None keeps none.
    """
    reading = read_house(files)
    made = MadeBefore(kept)
    photos: Mapping[str, HousePhoto] = {}
    problems = list(reading.problems)
    facts: list[EventFacts] = []
    printed: dict[str, PrintedCard] = {}
    house = reading.house
    stamp = stamp_of(folder, files) if house is not None else NO_STAMP
    if house is not None:
        cards = PrintedCards(folder, house)
        broken = Broken(reading.broken_specs, reading.broken_stock)
        chosen = [item for item in house.events.values() if event in (None, item.slug)]
        for number, item in enumerate(chosen):
            progress(f"working out {item.name}", number, len(chosen))
            worked_out, found = work_out_event(house, item, broken)
            problems += found
            problems += check_publication(item, house, theme_folders(folder, looks), reading.sources)
            if worked_out is not None:
                facts.append(worked_out)
                card = _printed_card(cards, worked_out, stamp)
                if card is not None:
                    printed[item.slug] = card
                    problems += _card_unsure(card, item)
        if stamp.fault and facts:
            problems.append(_unnamed(house, stamp))
        problems += check_whose_rules(house, chosen, at_home=event is None)
        problems += missing_translations(facts)
        problems += missing_words(facts)
        problems += unsaid_cautions(house, house.events.get(event) if event else None)
        if event is None:
            problems += work_out_unlisted(house, problems, broken)
        else:
            problems = [
                problem for problem in problems if _reached(problem, house, house.events.get(event), event)
            ]
        drinks = house.specs.keys() | reading.broken_specs
        listed = {slug for item in facts for slug in item.drinks}
        photos, found = look_at_photos(files, drinks, drinks if event is None else listed, made)
        problems += found
    return Look(
        folder,
        reading,
        tuple(facts),
        tuple(dict.fromkeys(problems)),
        stamp,
        looks,
        files,
        photos,
        made,
        printed,
    )


def _unnamed(house: House, stamp: Stamp) -> Problem:
    return warning(
        "revision-unknown",
        f"the menu cannot be named by its revision: {stamp.fault}",
        house.place,
        'nobody can look such a menu up later: see what "git status" says before cards are printed',
    )


def _printed_card(cards: PrintedCards, facts: EventFacts, stamp: Stamp) -> PrintedCard | None:
    """Return what is known of an event's printed cards; None where it names none, or they are of this very menu."""
    printed = facts.event.printed
    if not printed:
        return None
    revision, _, uncommitted = printed.partition("+")
    if uncommitted:
        # What guests are told names such a menu, so that it is known again when its files are committed as they were.
        same = printed == _menu(facts, Stamp(revision, uncommitted=True)).version
    elif stamp.revision:
        same = printed == stamp.revision and not stamp.uncommitted
    else:
        same = printed == _menu(facts, stamp).version
    return None if same else cards.of(facts.event)


def _card_unsure(card: PrintedCard, event: Event) -> tuple[Problem, ...]:
    if not card.reasons:
        return ()
    return (
        warning(
            "printed-unknown",
            f"what changed since the printed cards cannot be told in full: {'; '.join(card.reasons)}",
            event.place.at("printed"),
            "the page tells guests that their card may say otherwise, until they are printed anew from a committed "
            "house and their version is written here",
        ),
    )


def _reached(problem: Problem, house: House, event: Event | None, slug: str) -> bool:
    """Return whether a problem matters to one event: it lies in the settings, the stock, the event or its drinks."""
    file = problem.where.file
    if event is None:
        return True
    others = {item.place.file for item in house.events.values() if item.slug != slug}
    listed = {entry.slug for section in event.sections for entry in section.entries}
    unlisted = {spec.place.file for spec in house.specs.values() if spec.slug not in listed}
    if file in others or file in unlisted:
        return False
    stem = file.rpartition("/")[2].removesuffix(".md")
    return not (file.endswith(".md") and stem not in listed)


def event_menus(look: Look, facts: EventFacts) -> Iterator[GuestMenu]:
    """Yield what the guests of one event may see, in each of its languages, the first first; one is made at a time."""
    card = look.printed.get(facts.event.slug)
    version = ""
    for language in menu_languages(facts):
        menu = _menu(facts, look.stamp, language, version)
        version = menu.version
        if card is not None:
            menu = replace(menu, since_card=since_card(card, facts, menu, words_of(facts, language)))
        yield menu


def _menu(facts: EventFacts, stamp: Stamp, language: str = "", version: str = "") -> GuestMenu:
    return guest_menu(
        facts,
        _theme_of(facts),
        language,
        revision=stamp.revision,
        uncommitted=stamp.uncommitted,
        version=version,
    )


def _theme_of(facts: EventFacts) -> str:
    return facts.event.theme or facts.setting.house.theme or DEFAULT_THEME


class PrivateTextLeaked(Exception):
    """Private text was about to reach a guest's file: a bug of ours; nothing is written."""


def event_files(look: Look, facts: EventFacts, progress: Progress = no_progress) -> dict[str, bytes]:
    """Return the files of one event by path, as `write_event` writes them; all of them are in memory.

    Args:
        look: The house.
        facts: The event.
        progress: Told of each photo that takes time.

    Raises:
        PhotoChanged: A photo was changed since the house was looked at.
        PrivateTextLeaked: The last check found private text in a guest's file.
        ThemeFault: The look cannot be used.
    """
    out = Memory()
    write_event(look, facts, out, progress)
    return dict(sorted(out.files.items()))


def write_event(look: Look, facts: EventFacts, out: Output, progress: Progress = no_progress) -> None:
    """Write the files of one event: "site/..." for the web, "print/..." for the tables.

    The first language lies at the top of the site, where the code leads, and each further one in its own folder.

    Args:
        look: The house.
        facts: The event.
        out: Where they go, one by one; whoever keeps them throws them away where this raises.
        progress: Told of each photo that takes time.

    Raises:
        PhotoChanged: As `event_files`.
        PrivateTextLeaked: As `event_files`.
        ThemeFault: As `event_files`.
    """
    from menugen.writing.cards import write_cards
    from menugen.writing.policy import SealedPages
    from menugen.writing.site import HEADERS, lay_site
    from menugen.writing.theme import load_theme

    several = len(menu_languages(facts)) > 1
    theme = load_theme(theme_folders(look.folder, look.looks), _theme_of(facts))
    shown = {slug: photo for slug, photo in look.photos.items() if slug in facts.drinks}
    photos = make_photos(look.files, shown, look.made, progress)
    site = _Guarded(Folder(out, "site/"), LeakCheck(private_texts(facts, look.folder)))
    sealed = SealedPages()
    for menu in event_menus(look, facts):
        part = _OneOfSeveral(Folder(site, menu.folder), HEADERS) if several else site
        sealed.and_of(lay_site(menu, theme, part, photos, look.made))
        if not menu.folder:
            for name, content in write_cards(menu).items():
                out.data(f"print/{name}", content)
    if several:
        # A host reads one file of headers for all pages.
        site.text(HEADERS, (sealed.headers(listed=facts.event.listed),))
    if site.check.leaks:
        raise PrivateTextLeaked("; ".join(site.check.leaks))


@dataclass(frozen=True, slots=True)
class _Guarded:
    """An output whose texts are searched for private ones on their way."""

    of: Output
    check: LeakCheck

    def text(self, path: str, pieces: Iterable[str]) -> None:
        self.of.text(path, self.check.text(path, pieces))

    def data(self, path: str, content: bytes) -> None:
        self.of.data(path, content)

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        return self.of.kept(path)


@dataclass(frozen=True, slots=True)
class _OneOfSeveral:
    """An output for one language of a site, whose own file of headers counts for its version and is not published."""

    of: Output
    headers: str
    aside: Memory = field(default_factory=Memory)

    def text(self, path: str, pieces: Iterable[str]) -> None:
        (self.aside if path == self.headers else self.of).text(path, pieces)

    def data(self, path: str, content: bytes) -> None:
        self.of.data(path, content)

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        return (self.aside if path == self.headers else self.of).kept(path)


def private_texts(facts: EventFacts, folder: Path) -> frozenset[str]:
    """Return the private texts behind an event that must not be found in its site.

    A text that the user has also written somewhere public (a supplier named in a guest's note) is theirs to show, and
    very short ones say nothing.
    """
    house, event = facts.setting.house, facts.event
    private = {os.fsencode(folder.resolve()).decode("utf-8", "replace")}
    public = [house.name, house.contact, *house.rules, event.name, event.venue, event.address]
    public += [text for words in event.translations.values() for text in (words.name, words.venue)]
    public += [
        text for words in house.translations.values() for text in (*words.rules, *words.names.values())
    ]
    for section in event.sections:
        public += [section.name, section.note]
        public += [text for words in section.translations.values() for text in (words.name, words.note)]
    for drink in facts.drinks.values():
        spec = drink.spec
        public += [spec.name, spec.guest_notes, *(line.name for line in spec.lines)]
        public += [text for words in spec.translations.values() for text in (words.name, words.notes)]
        public += [swap.line.name for swap in spec.swaps]
        private |= {paragraph.strip() for paragraph in spec.bar_notes.split("\n")}
        private |= {line.note for line in spec.lines}
        for serve in drink.ways:
            for item in serve.lines:
                private |= {item.stock.supplier, item.stock.note}
    return untold((text for text in private if len(text) >= 4), public)
