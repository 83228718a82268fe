"""The two houses that are compared: read from git, or from the files as they lie."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from menugen.comparing.house_version import HouseVersion
from menugen.comparing.look_changes import looks_of
from menugen.names import name_key
from menugen.reading import HOUSE_FILE, HouseFolders, HouseReading, read_house
from menugen.records import House
from menugen.revisions import (
    Commit,
    GitFiles,
    NoHistory,
    Objects,
    Repository,
    find_commit,
    find_repository,
    last_commit,
    merged,
    staged_files,
    unfinished,
    unknown_target,
    working_files,
)

WORKING_FILES = "your working files"
STAGED_FILES = "what is staged"


class NewHouse(NoHistory):
    """The older revision has no house to compare with.

    Attributes:
        files: Those of the newer house.
        old: What the older revision is called.
        new: What the newer house is called.
    """

    def __init__(self, message: str, files: HouseFolders, old: str, new: str) -> None:
        super().__init__(message)
        self.files = files
        self.old = old
        self.new = new


@dataclass(frozen=True, slots=True)
class TwoHouses:
    """Two houses to compare.

    Attributes:
        old: The older one.
        new: The newer one.
        before: The files of the older one.
        files: Those of the newer one.
        notes: What is to be told of them.
        conflicts: Where the newer one is what a merge would give: the files in which the two sides do not go together.
        behind: Whether that merge brings the change anything: so its own files are not all that is compared.
    """

    old: HouseVersion
    new: HouseVersion
    before: GitFiles
    files: HouseFolders
    notes: tuple[str, ...]
    conflicts: tuple[str, ...] = ()
    behind: bool = False


def houses_to_compare(
    house: Path,
    old: str,
    new: str | None = None,
    *,
    was: str | None = None,
    staged: bool = False,
    merging: str | None = None,
    progress: Callable[[str, int, int], None],
) -> TwoHouses:
    """Return two houses to compare.

    Args:
        house: The house's folder.
        old: The older revision: as git writes it, or a day.
        new: The newer one; None is the files as they lie.
        was: The house's folder in the older one, from the top of the repository; None: it is followed there.
        staged: Whether the newer one is what is about to be committed.
        merging: A revision, where the newer one is what merging that into the older one gives.
        progress: Told of each reading.

    Raises:
        NewHouse: The older revision has none.
        NoHistory: No git, no repository, no such revision, or a part of it is not on this machine.
    """
    repository = _repository(house, cloned=merging is not None)
    objects = Objects(repository.top)
    notes: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()
    behind = False
    after: HouseFolders
    then = _older(repository, old, first=staged, remote=merging is not None)
    if merging is not None and then is not None:
        change = find_commit(repository, merging)
        result = merged(repository, then, change, objects, old)
        conflicts, behind = result.conflicts, result.tree != f"{change.revision}^{{tree}}"
        after = _at_merge(repository, then, change, objects, result.tree, result.objects)
        label = f"{change.short} merged into it ({change.day}, {change.subject})"
    elif staged:
        after, label = staged_files(repository, objects), STAGED_FILES
    elif new is None:
        after, notes = working_files(house, repository, objects)
        label = WORKING_FILES
        if half_done := unfinished(repository):
            notes += (f"{half_done} is half done here: your working files may hold both sides of it",)
    else:
        commit = find_commit(repository, new)
        after, label = GitFiles(repository, commit, objects), _label(commit)
    if then is None:
        raise NewHouse("nothing has been committed here yet", after, old, label)
    folder = None if was is None else "" if was == "." else was.strip("/")
    before = GitFiles(repository, then, objects, folder=folder)
    if not before.oid(HOUSE_FILE):
        raise NewHouse(f"{_label(then)} has none", after, _label(then), label)
    progress("reading the newer house", 0, 2)
    newer = read_house(after)
    progress("reading the older house", 1, 2)
    older = read_house(before)
    older, newer = _with_unread(older, newer), _with_unread(newer, older)
    return TwoHouses(
        HouseVersion(_label(then), then.revision, older, looks_of(before)),
        HouseVersion(label, after.revision if isinstance(after, GitFiles) else "", newer, looks_of(after)),
        before,
        after,
        notes,
        conflicts,
        behind,
    )


def _repository(house: Path, *, cloned: bool) -> Repository:
    try:
        return find_repository(house)
    except NoHistory as fault:
        again = ("git clone ADDRESS-OF-THE-HOUSE house && cd house",) if cloned else ()
        raise NoHistory(str(fault), *again) from None


def _older(repository: Repository, word: str, *, first: bool, remote: bool) -> Commit | None:
    """Return the older commit; None where what is staged will be the first of all."""
    if first and word == "HEAD":
        return last_commit(repository)
    try:
        return find_commit(repository, word)
    except NoHistory as fault:
        raise NoHistory(str(fault), *(unknown_target(repository, word) if remote else ())) from None


def _at_merge(
    repository: Repository, target: Commit, change: Commit, objects: Objects, tree: str, read_from: Objects
) -> GitFiles:
    """Return the house as a merge makes it, in the folder that either side has it in."""
    sides = (GitFiles(repository, one, objects).folder for one in (change, target))
    folders = dict.fromkeys((repository.inside, *sides))
    found = [GitFiles(repository, change, read_from, folder=folder, tree=tree) for folder in folders]
    return next((one for one in found if one.oid(HOUSE_FILE)), found[0])


def _label(commit: Commit) -> str:
    return f"{commit.short} ({commit.day}, {commit.subject})"


def _with_unread(reading: HouseReading, other: HouseReading) -> HouseReading:
    """Return a reading in which what may lie in its unread folders and files has a fault: it is not known to be gone.

    Args:
        reading: Of one house.
        other: Of the other, whose names are all that is known of those.
    """
    house, others = reading.house, other.house
    if not reading.unread or house is None or others is None:
        return reading
    specs = others.specs.keys() - house.specs.keys() if "specs" in reading.unread else set()
    events = others.events.keys() - house.events.keys() if "events" in reading.unread else set()
    stock = set()
    if "stock" in reading.unread:
        stock = _stock_names(others) - _stock_names(house)
    return replace(
        reading,
        broken_specs=reading.broken_specs | specs,
        broken_events=reading.broken_events | events,
        broken_stock=reading.broken_stock | stock,
    )


def _stock_names(house: House) -> set[str]:
    return {name_key(name) for line in house.stock.values() for name in (line.name, *line.aliases)}
