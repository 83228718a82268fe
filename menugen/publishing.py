"""The one way through: a house's files, read and worked out, become the files of each event.

cli/ and preview/ both come this way, so that what is previewed is what is published.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from menugen.event_settings import DEFAULT_THEME, check_event_settings, theme_problems
from menugen.facts import (
    Broken,
    EventFacts,
    check_whose_rules,
    unsaid_cautions,
    work_out_event,
    work_out_unlisted,
)
from menugen.house_photos import HousePhoto, PhotoChanged, check_photos, make_photos, stand_ins
from menugen.menu import (
    GuestMenu,
    guest_menu,
    menu_languages,
    missing_translations,
    missing_words,
    words_of,
)
from menugen.page_problems import leak_problems, page_problems, photo_problem
from menugen.past.printed_card import PrintedCard, PrintedCards
from menugen.past.since_card import since_card
from menugen.private_texts import private_path, private_texts, without_private_texts
from menugen.problems import Problem, Severity, warning
from menugen.reading import THEMES_FOLDER, HouseFiles, HouseReading, read_house
from menugen.records import Event, House
from menugen.revisions import NO_STAMP, Stamp, stamp_of
from menugen.shipped import shipped_folder
from menugen.writing import Folder, Memory, Output, ThemeFault
from menugen.writing.checked_output import CheckedOutput, CheckingOutput, Excerpt, Packed, ReadOnlyCache
from menugen.writing.file_cache import FileCache
from menugen.writing.page_check import PageFault
from menugen.writing.photos import Photo
from menugen.writing.private import Found, LeakCheck

Progress = Callable[[str, int, int], None]
"""Told of long work: what is being done, how many are done, how many there are."""


def no_progress(_what: str, _done: int, _total: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class CheckedHouse:
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
    made: FileCache
    printed: Mapping[str, PrintedCard] = field(default_factory=dict)

    @property
    def stopped(self) -> bool:
        """Whether a problem stops the publish."""
        return any(problem.severity is Severity.ERROR for problem in self.problems)


def theme_folders(house: Path, looks: Path | None = None) -> tuple[Path, ...]:
    """Return where looks are found: the house's own first, wherever they lie."""
    return (looks or house / THEMES_FOLDER, shipped_folder("themes"))


def check_house(
    folder: Path,
    files: HouseFiles,
    event: str | None = None,
    progress: Progress = no_progress,
    looks: Path | None = None,
    kept: Path | None = None,
) -> CheckedHouse:
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
    made = FileCache(kept)
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
            problems += check_event_settings(item, house, theme_folders(folder, looks), reading.sources)
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
            problems = list(filter(_reaching(house, house.events.get(event), event), problems))
        drinks = house.specs.keys() | reading.broken_specs
        listed = {slug for item in facts for slug in item.drinks}
        photos, found = check_photos(files, drinks, drinks if event is None else listed, made)
        problems += found
    return CheckedHouse(
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
        "nobody can look such a menu up later: mend what is said above before cards are printed",
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


def _reaching(house: House, event: Event | None, slug: str) -> Callable[[Problem], bool]:
    """Return what tells whether a problem matters to one event: it lies in the settings, the stock, it or its drinks.

    Args:
        house: The house.
        event: The event; None where it cannot be read, and then everything matters.
        slug: The event's.
    """
    if event is None:
        return lambda _problem: True
    listed = {entry.slug for section in event.sections for entry in section.entries}
    others = {item.place.file for item in house.events.values() if item.slug != slug}
    others |= {spec.place.file for spec in house.specs.values() if spec.slug not in listed}

    def reaches(problem: Problem) -> bool:
        file = problem.where.file
        stem = file.rpartition("/")[2].removesuffix(".md")
        return file not in others and not (file.endswith(".md") and stem not in listed)

    return reaches


def event_menus(checked: CheckedHouse, facts: EventFacts) -> Iterator[GuestMenu]:
    """Yield what the guests of one event may see, in each of its languages, the first first; one is made at a time."""
    card = checked.printed.get(facts.event.slug)
    version = ""
    for language in menu_languages(facts):
        menu = _menu(facts, checked.stamp, language, version)
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


class Unfit(Exception):
    """An event's files, or those of several, are not fit for guests; whoever has them throws them away.

    Attributes:
        problems: Why, with what does not stop them beside it.
    """

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(problem.message for problem in problems))
        self.problems = problems


def with_page_problems(checked: CheckedHouse, progress: Progress = no_progress) -> CheckedHouse:
    """Return a house with what would stop its publish only once the pages are made, too: here they are thrown away.

    An event that is stopped already is passed over. Photos are not made ready: they are known to be good.

    Args:
        checked: The house.
        progress: Told of each event.
    """
    house = checked.reading.house
    errors = [problem for problem in checked.problems if problem.severity is Severity.ERROR]
    found = list(checked.problems)
    read_only = replace(checked, made=ReadOnlyCache(checked.made))
    for number, facts in enumerate(checked.events):
        if house is None or any(map(_reaching(house, facts.event, facts.event.slug), errors)):
            continue
        progress(f"setting the pages of {facts.event.name}", number, len(checked.events))
        found += write_event(read_only, facts, CheckedOutput(Packed()), photos=stand_ins(checked.photos))
    return replace(checked, problems=tuple(dict.fromkeys(found)))


def _nothing() -> None:
    pass


def event_files(
    checked: CheckedHouse,
    facts: EventFacts,
    progress: Progress = no_progress,
    only: Collection[str] | None = None,
    at_each: Callable[[], None] = _nothing,
) -> dict[str, bytes]:
    """Return the files of one event by path, as `write_event` writes them; all of them are in memory.

    Args:
        checked: The house.
        facts: The event.
        progress: Told of each photo that takes time.
        only: As for `write_event`.
        at_each: As for `write_event`.

    Raises:
        Unfit: They cannot be published.
    """
    out = Memory()
    seen = CheckedOutput(out) if only is None else Excerpt(out)
    problems = write_event(checked, facts, seen, progress, only=only, at_each=at_each)
    if problems:
        raise Unfit(problems)
    return dict(sorted(out.files.items()))


def write_event(
    checked: CheckedHouse,
    facts: EventFacts,
    out: CheckingOutput,
    progress: Progress = no_progress,
    photos: Mapping[str, Photo] | None = None,
    only: Collection[str] | None = None,
    at_each: Callable[[], None] = _nothing,
) -> tuple[Problem, ...]:
    """Write the files of one event: "site/..." for the web, "print/..." for the tables.

    The first language lies at the top of the site, where the code leads, and each further one in its own folder.

    Args:
        checked: The house.
        facts: The event.
        out: Where they go, one by one.
        progress: Told of each photo that takes time.
        photos: Made ready, by drink; None has them made.
        only: Paths of those pages that are wanted before all others; with what they load, and no more. None is all.
        at_each: Called before each text; what it raises ends the work.

    Returns:
        What stops them: they are not whole, or not fit for guests, and whoever keeps them throws them away.
    """
    looks = theme_folders(checked.folder, checked.looks)
    guarded = _Guarded(out, LeakCheck(private_texts(facts), (private_path(checked.folder),)), at_each)
    try:
        shown = {slug: photo for slug, photo in checked.photos.items() if slug in facts.drinks}
        ready = make_photos(checked.files, shown, checked.made, progress) if photos is None else photos
        _lay_event(checked, facts, guarded, ready, only)
        leaks = _leaks(checked, facts, guarded.check, ready, only)
    except ThemeFault as fault:
        return tuple(theme_problems(fault, looks[0]))
    except PhotoChanged as fault:
        return (photo_problem(fault),)
    faults = (*guarded.unsealed, *out.faults())
    return (
        *leak_problems(leaks, facts, checked.reading.sources),
        *page_problems(faults, facts, looks[0], _theme_of(facts)),
    )


def _lay_event(
    checked: CheckedHouse,
    facts: EventFacts,
    out: Output,
    photos: Mapping[str, Photo],
    only: Collection[str] | None,
) -> None:
    """Write the files of one event, whatever they hold.

    Raises:
        ThemeFault: The look cannot be used.
    """
    from menugen.writing.cards import lay_cards
    from menugen.writing.policy import SealedPages
    from menugen.writing.site import HEADERS, lay_site
    from menugen.writing.theme import load_theme

    several = len(menu_languages(facts)) > 1
    theme = load_theme(theme_folders(checked.folder, checked.looks), _theme_of(facts))
    site = Folder(out, "site/")
    sealed = SealedPages()
    for menu in event_menus(checked, facts):
        top = f"site/{menu.folder}"
        wanted = None if only is None else {path.removeprefix(top) for path in only if path.startswith(top)}
        if wanted == set():
            continue
        part = _OneOfSeveral(Folder(site, menu.folder), HEADERS) if several else site
        sealed.and_of(lay_site(menu, theme, part, photos, checked.made, wanted))
        if not menu.folder and only is None:
            lay_cards(menu, Folder(out, "print/"))
    if several and only is None:
        # A host reads one file of headers for all pages.
        site.text(HEADERS, (sealed.headers(listed=facts.event.listed),))


def _leaks(
    checked: CheckedHouse,
    facts: EventFacts,
    seen: LeakCheck,
    photos: Mapping[str, Photo],
    only: Collection[str] | None,
) -> tuple[Found, ...]:
    """Return which of the private texts that seem to stand in an event's files do.

    A page says "Allergens", "Tell the bar" and "9.50" by itself, whatever else is called so. Only where a text seems to
    be there are the files made again, without any; those that come out the same hold none.
    """
    if not seen.found:
        return ()
    bare = without_private_texts(facts)
    if bare is None:
        return tuple(seen.found)
    again = _Guarded(Packed(), seen.anew())
    _lay_event(checked, bare, again, photos, only)
    return seen.only_here(again.check)


_TEXTS = (".css", ".html", ".js", ".json", ".svg", ".txt")


@dataclass(frozen=True, slots=True)
class _Guarded:
    """An output whose texts are searched for private ones on their way.

    Attributes:
        of: Where they go.
        check: What searches them.
        at_each: Called before each text.
        unsealed: Pages that a template has left without what their policy needs; nothing of them is kept.
    """

    of: Output
    check: LeakCheck
    at_each: Callable[[], None] = _nothing
    unsealed: list[PageFault] = field(default_factory=list)

    def text(self, path: str, pieces: Iterable[str]) -> None:
        from menugen.writing.policy import Unsealed

        self.at_each()
        try:
            self.of.text(path, self.check.text(path, pieces))
        except Unsealed as fault:
            self.unsealed.append(PageFault(path, str(fault)))
            self.of.text(path, ())

    def data(self, path: str, content: bytes) -> None:
        if path.endswith(_TEXTS):
            raise ValueError(f"{path} is a text, and would not be searched")
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
