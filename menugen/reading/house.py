"""The whole house: every file read, every problem told, at once."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from menugen.names import name_key, slug_of
from menugen.problems import Place, Problem, Span, error
from menugen.reading.event_file import Inherited, read_event
from menugen.reading.files import BrokenLink, DiskFiles, HouseFiles, joined
from menugen.reading.house_file import HOUSE_FILE, Settings, no_settings, ounce_of, read_settings
from menugen.reading.places import Sources
from menugen.reading.slugs import slug_problem, twice
from menugen.reading.spec_file import read_spec
from menugen.reading.stock_file import read_stock
from menugen.reading.text import decode
from menugen.records import Event, House, Spec, StockLine

_Record = TypeVar("_Record", Spec, Event)

_ENDINGS = {"specs": (".md",), "stock": (".yaml", ".yml"), "events": (".yaml", ".yml")}


@dataclass(frozen=True, slots=True)
class HouseReading:
    """What a house's files say, and everything that is wrong with them.

    Attributes:
        house: Without what has a fault; None where house.yaml cannot be read.
        problems: In the order they were found.
        sources: The texts, for drawing.
        broken_specs: Slugs of specs with a fault.
        broken_stock: Names and aliases, casefolded, of stock with a fault. Where a stock file cannot be read
            at all, every name a spec or an event asks for: nobody can tell which of them it held.
        broken_events: Slugs of events with a fault.
        unread: Which of "specs", "stock" and "events" have a folder or a file that could not be read at all, so that
            nobody can tell what else they hold.
    """

    house: House | None
    problems: tuple[Problem, ...]
    sources: Sources
    broken_specs: frozenset[str] = frozenset()
    broken_stock: frozenset[str] = frozenset()
    broken_events: frozenset[str] = frozenset()
    unread: frozenset[str] = frozenset()


def read_house(files: HouseFiles) -> HouseReading:
    """Read a house; a fault in one file or line never keeps the others from being read."""
    reader = _Reader(files)
    settings = reader.settings
    stock, broken_stock = reader.stock()
    specs, broken_specs = reader.specs()
    events, broken_events = reader.events()
    if "stock" in reader.unread:
        broken_stock |= _names_asked_for(specs, events)
    by_date = dict(sorted(events.items(), key=lambda item: (item[1].date, item[0])))
    house = replace(settings.house, specs=specs, stock=stock, events=by_date) if settings.read else None
    return HouseReading(
        house,
        tuple(reader.problems),
        reader.sources,
        frozenset(broken_specs),
        frozenset(broken_stock),
        frozenset(broken_events),
        frozenset(reader.unread),
    )


def outside_folders(root: Path) -> tuple[str, ...]:
    """Return the folders house.yaml names for specs, stock and events, relative to it; never raises."""
    house = _settings(Sources(DiskFiles(root))).house
    return tuple(dict.fromkeys((*house.spec_folders, *house.stock_folders, *house.event_folders)))


def what_is_read(root: Path) -> dict[str, tuple[str, ...]]:
    """Return the folders of `outside_folders` with the endings of the files that are read there; never raises."""
    house = _settings(Sources(DiskFiles(root))).house
    found: dict[str, tuple[str, ...]] = {}
    for kind, folders in (
        ("specs", house.spec_folders),
        ("stock", house.stock_folders),
        ("events", house.event_folders),
    ):
        for folder in folders:
            place = joined(folder, "")
            found[place] = (*found.get(place, ()), *_ENDINGS[kind])
    return found


def _settings(sources: Sources) -> Settings:
    try:
        content = sources.content(HOUSE_FILE)
    except FileNotFoundError:
        return no_settings()
    except OSError as fault:
        return no_settings()._replace(problems=[_unreadable(HOUSE_FILE, fault)])
    decoded = decode(content, HOUSE_FILE)
    if decoded.problem:
        return no_settings()._replace(problems=[decoded.problem])
    return read_settings(decoded.text)


def _names_taken(line: StockLine, taken: dict[str, Place]) -> Iterator[Problem]:
    """Yield a problem for each name of a line that another line has; the others are taken from now on."""
    named = [(line.name, line.place)]
    named += [(alias, line.place.at("aliases", index)) for index, alias in enumerate(line.aliases)]
    for name, place in named:
        earlier = taken.setdefault(name_key(name), place)
        if earlier is not place:
            told = error(
                "stock-name-twice",
                f'"{name}" already names something in stock',
                place,
                "rename one of the two, or keep one of them",
            )
            yield replace(told, also=((earlier, "the first one"),))


class _Reader:
    """Reads the files of one house; a class because all its parts add to one list of problems.

    Attributes:
        sources: The texts.
        settings: What house.yaml says.
        problems: Everything that is wrong so far.
        unread: As in HouseReading.
    """

    def __init__(self, files: HouseFiles) -> None:
        self._files = files
        self.sources = Sources(files)
        self.settings = _settings(self.sources)
        self.problems = list(self.settings.problems)
        self.unread: set[str] = set()
        self._ounce = ounce_of(self.settings.house)

    def stock(self) -> tuple[dict[str, StockLine], set[str]]:
        """Return the lines of stock by name, and the names of those with a fault."""
        stock: dict[str, StockLine] = {}
        broken: set[str] = set()
        taken: dict[str, Place] = {}
        for file in self._listed("stock", self.settings.house.stock_folders):
            text = self._text(file)
            reading = None if text is None else read_stock(text, file, self._ounce)
            if reading is None or reading.broken is None:
                self.unread.add("stock")
            if reading is None:
                continue
            self.problems += reading.problems
            broken.update(map(name_key, reading.broken or ()))
            for line in reading.lines:
                self.problems += _names_taken(line, taken)
                stock.setdefault(line.name, line)
        return stock, broken

    def specs(self) -> tuple[dict[str, Spec], set[str]]:
        """Return the specs by slug, and the slugs of those with a fault."""
        listed = list(self._listed("specs", self.settings.house.spec_folders))
        repeated = twice(listed, "two-specs-one-slug", "spec")
        return self._each(listed, repeated, lambda text, file: read_spec(text, file, self._ounce))

    def events(self) -> tuple[dict[str, Event], set[str]]:
        """Return the events by slug, and the slugs of those with a fault."""
        house = self.settings.house
        inherited = Inherited(house.region, house.currency, house.languages)
        listed = list(self._listed("events", house.event_folders))
        repeated = twice(listed, "two-events-one-slug", "event")
        return self._each(listed, repeated, lambda text, file: read_event(text, file, inherited))

    def _each(
        self,
        listed: Sequence[str],
        repeated: Mapping[str, Problem],
        read: Callable[[str, str], tuple[_Record | None, Sequence[Problem]]],
    ) -> tuple[dict[str, _Record], set[str]]:
        """Read the files that hold one record each.

        Args:
            listed: The files.
            repeated: Those whose slug another has already, with what is said of it.
            read: Makes a text and its file's name a record.
        """
        records: dict[str, _Record] = {}
        broken: set[str] = set()
        for file in listed:
            text = self._text(file)
            record, found = read(text, file) if text is not None else (None, ())
            self.problems += found
            fault = repeated.get(file) or slug_problem(file)
            if fault:
                self.problems.append(fault)
            if file in repeated:
                continue
            if record is not None and not fault:
                records[slug_of(file)] = record
            else:
                broken.add(slug_of(file))
        return records, broken

    def _listed(self, key: str, folders: tuple[str, ...]) -> Iterator[str]:
        """Yield the files of one kind, "specs"; a folder the house names and that holds none is a problem."""
        endings = _ENDINGS[key]
        seen: set[str] = set()
        for index, folder in enumerate(folders):
            try:
                names = self._files.names(folder)
            except OSError as fault:
                self.problems.append(_unreadable(folder, fault))
                self.unread.add(key)
                continue
            wanted = [name for name in names if is_wanted(name, endings)]
            if not wanted and key in self.settings.said:
                self.problems.append(
                    error(
                        "folder-empty",
                        f'the folder "{folder}" is not there or holds no {endings[0]} files',
                        Place(HOUSE_FILE, (key, index)),
                        f"name the folder of your {key} as it is seen from {HOUSE_FILE}",
                    )
                )
            for name in wanted:
                if (file := joined(folder, name)) not in seen:
                    seen.add(file)
                    yield file

    def _text(self, file: str) -> str | None:
        """Return a file's text; None where it cannot be read, which is a problem."""
        try:
            content = self.sources.content(file)
        except OSError as fault:
            self.problems.append(_unreadable(file, fault))
            return None
        decoded = decode(content, file)
        if decoded.problem:
            self.problems.append(decoded.problem)
            return None
        return decoded.text


def is_wanted(name: str, endings: tuple[str, ...]) -> bool:
    """Return whether a file of a folder is meant to be read: not what an editor hides, nor a folder's README."""
    return name.casefold().endswith(endings) and not name.startswith(".") and name.casefold() != "readme.md"


def _unreadable(file: str, fault: OSError) -> Problem:
    where = Span(file, 1, 1, 1)
    if isinstance(fault, PermissionError):
        return error("file-unreadable", "you may not read this", where, "change its permissions")
    if isinstance(fault, BrokenLink):
        hint = "keep the files themselves in the house, or see where this leads"
        return error("file-unreadable", fault.why, where, hint)
    return error(
        "file-unreadable", "this cannot be opened as a file", where, "see what it is, and where it lies"
    )


def _names_asked_for(specs: dict[str, Spec], events: dict[str, Event]) -> set[str]:
    names = {line.name for spec in specs.values() for line in spec.lines}
    names |= {swap.line.name for spec in specs.values() for swap in spec.swaps}
    names |= {name for event in events.values() for name in event.bottles.values()}
    return set(map(name_key, names))
