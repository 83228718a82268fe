"""Parts of a house: some of its drinks and events alone, and whether those are as they were."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from menugen.names import slug_of
from menugen.reading import HOUSE_FILE, HouseFiles, decode, read_settings
from menugen.revisions import GitFiles

SPEC_ENDINGS = (".md",)
EVENT_ENDINGS = (".yaml", ".yml")


@dataclass(frozen=True, slots=True)
class HouseFolders:
    """Where a house keeps its files."""

    specs: tuple[str, ...]
    stock: tuple[str, ...]
    events: tuple[str, ...]


_USUAL = HouseFolders(("specs",), ("stock",), ("events",))


def folders_of(files: HouseFiles, otherwise: HouseFolders = _USUAL) -> HouseFolders:
    """Return where a house keeps its files; other places, the usual ones, where its settings cannot be read."""
    try:
        settings = read_settings(decode(files.read(HOUSE_FILE), HOUSE_FILE).text)
    except OSError:
        return otherwise
    house = settings.house
    found = HouseFolders(house.spec_folders, house.stock_folders, house.event_folders)
    return found if settings.read else otherwise


class KnownFolders:
    """Looks into folders of one revision after another; one that is as it was is not looked into again."""

    def __init__(self) -> None:
        self._settings: dict[str, HouseFolders] = {}
        self._last = _USUAL
        self._files: dict[tuple[str, str, tuple[str, ...]], tuple[str, ...]] = {}
        self._links: dict[str, tuple[str, ...]] = {}

    def of(self, files: GitFiles) -> HouseFolders:
        """Return where the house keeps its files: where it was looked for last, if its settings cannot be read."""
        known = oid_of(files, HOUSE_FILE)
        if known not in self._settings:
            self._settings[known] = folders_of(files, self._last)
        self._last = self._settings[known]
        return self._last

    def _paths(self, files: GitFiles, folder: str, slug: str, endings: tuple[str, ...]) -> tuple[str, ...]:
        """Return the paths of the files of a folder that have this slug, however git spells its letters."""
        plain = tuple(path for ending in endings if oid_of(files, path := f"{folder}/{slug}{ending}"))
        if plain:
            return plain
        key = (oid_of(files, folder), slug, endings)
        if not key[0]:
            return ()
        if key not in self._files:
            self._files[key] = tuple(name for name in names_in(files, folder) if _is_of(name, slug, endings))
        return tuple(f"{folder}/{name}" for name in self._files[key])

    def oids(self, files: GitFiles, folders: Iterable[str], slug: str, endings: tuple[str, ...]) -> list[str]:
        """Return the ids of the files of some folders that have this slug."""
        paths = (path for folder in folders for path in self._paths(files, folder, slug, endings))
        return [oid_of(files, path) for path in paths]

    def stock(self, files: GitFiles) -> list[str]:
        """Return what is other ids once anything in stock is another text."""
        return [oid for folder in self.of(files).stock for oid in self.content(files, folder)]

    def content(self, files: GitFiles, folder: str) -> tuple[str, ...]:
        """Return what is another text once anything in a folder is: its own id, and that of each file linked to."""
        known = oid_of(files, folder)
        if known and known not in self._links:
            self._links[known] = files.links(folder)
        return (known, *(oid_of(files, f"{folder}/{name}") for name in self._links.get(known, ())))


def oid_of(files: GitFiles, path: str) -> str:
    """Return the id of a file or folder; empty where there is none, or it is not on this machine."""
    try:
        return files.oid(path)
    except FileNotFoundError:
        return ""


def _is_of(name: str, slug: str, endings: tuple[str, ...]) -> bool:
    if slug.isascii() and not name.startswith(slug):
        return False  # looked at thousands of times: letters without marks are put in one way alone
    return name.casefold().endswith(endings) and slug_of(name) == slug


class PartOfHouse:
    """A house's files with some of its specs and events; stock and settings stay."""

    def __init__(self, files: HouseFiles, specs: Collection[str], events: Collection[str]) -> None:
        """Remember what to leave; nothing is read but the settings.

        Args:
            files: The house's files.
            specs: Slugs of the specs that stay.
            events: Slugs of the events that stay.
        """
        self._files = files
        self._specs = frozenset(specs)
        self._events = frozenset(events)
        self._folders = folders_of(files)

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files in a folder, of specs and events only those that stay."""
        return tuple(name for name in self._files.names(folder) if self._stays(folder, name))

    def _stays(self, folder: str, name: str) -> bool:
        kinds = (
            (self._folders.specs, SPEC_ENDINGS, self._specs),
            (self._folders.events, EVENT_ENDINGS, self._events),
        )
        return folder in self._folders.stock or any(
            folder in folders and name.casefold().endswith(endings) and slug_of(name) in stay
            for folders, endings, stay in kinds
        )

    def read(self, path: str) -> bytes:
        """Return a file's content, as the files themselves do."""
        return self._files.read(path)


def spec_slugs(files: HouseFiles) -> set[str]:
    """Return the slugs of a house's specs, from the names of its files alone."""
    return _slugs(files, folders_of(files).specs, SPEC_ENDINGS)


def event_slugs(files: HouseFiles) -> set[str]:
    """Return the slugs of a house's events, from the names of its files alone."""
    return _slugs(files, folders_of(files).events, EVENT_ENDINGS)


def _slugs(files: HouseFiles, folders: Collection[str], endings: tuple[str, ...]) -> set[str]:
    names = (name for folder in folders for name in names_in(files, folder))
    return {slug_of(name) for name in names if name.casefold().endswith(endings)}


def names_in(files: HouseFiles, folder: str) -> tuple[str, ...]:
    """Return the names of the files in a folder; none where git does not know what was in it."""
    try:
        return files.names(folder)
    except OSError:
        return ()
