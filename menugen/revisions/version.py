"""Which house a menu was made from: the revision, and whether its files differed from it."""

import posixpath
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath

from menugen.problems import visible
from menugen.reading import HOUSE_FILE, THEMES_FOLDER, BrokenLink, HouseFiles, what_is_read
from menugen.revisions.calls import NoHistory, ask
from menugen.revisions.differing import differs
from menugen.revisions.git import Repository, find_repository, last_commit, name_on_disk
from menugen.revisions.revision import GitFiles

_OTHER_FOLDERS = (THEMES_FOLDER, "photos")

_MOST_FILES = 2_000
_MOST_BYTES = 256 * 1024 * 1024
_LARGEST_BYTES = 48 * 1024 * 1024
_DEEPEST = 20
"""No house's looks come near these: a font of all Chinese characters has 20 MB."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a menu says of where it comes from.

    Attributes:
        revision: The first seven digits of the commit; empty where there is no git, nothing of the house in it, or
            nothing committed yet.
        uncommitted: Whether the house's files differ from that commit.
        fault: Why git cannot be asked, where the house lies in a repository; empty where it can, or there is none.
    """

    revision: str
    uncommitted: bool
    fault: str = ""


NO_STAMP = Stamp("", uncommitted=False)


def stamp_of(house: Path, files: HouseFiles) -> Stamp:
    """Return where a house's files come from.

    Only what menugen reads counts: a publish that writes into the house makes no difference to itself, nor does a
    note that lies among the specs.

    Args:
        house: The house's folder.
        files: Its files: as they lie, or as they were at a revision.
    """
    if isinstance(files, GitFiles):
        return Stamp(files.commit.short, uncommitted=False)
    try:
        repository = find_repository(house)
        commit = last_commit(repository)
        if commit is None:
            return Stamp("", uncommitted=True)
        committed = GitFiles(repository, commit, folder=repository.inside)
        if not committed.oid(HOUSE_FILE):
            # Added and not yet committed; or the repository around it knows nothing of this house.
            return Stamp(commit.short, uncommitted=True) if _is_added(repository) else NO_STAMP
    except NoHistory as fault:
        # Where git keeps something and cannot be asked, a name must not pass for a revision.
        in_git = any((folder / ".git").exists() for folder in (house.resolve(), *house.resolve().parents))
        return Stamp("", uncommitted=True, fault=str(fault)) if in_git else NO_STAMP
    read = {**what_is_read(house), **dict.fromkeys(_OTHER_FOLDERS, ())}
    return Stamp(commit.short, uncommitted=differs(house, committed, read))


def _is_added(repository: Repository) -> bool:
    settings = name_on_disk(posixpath.join(repository.inside, HOUSE_FILE))
    return bool(ask(repository.top, "--literal-pathspecs", "ls-files", "-z", "--", settings))


@contextmanager
def themes_of(house: Path, files: HouseFiles) -> Iterator[Path]:
    """Lend the folder that holds a house's own looks: the one on the disk, or a copy of that of a revision.

    Args:
        house: The house's folder.
        files: Its files: as they lie, or as they were at a revision.
    """
    if not isinstance(files, GitFiles):
        yield house / THEMES_FOLDER
        return
    with tempfile.TemporaryDirectory(prefix="menugen-") as folder:
        _Copy(files).fill(Path(folder), THEMES_FOLDER)
        yield Path(folder)


class _Copy:
    """A copy of a folder of a revision. Git can hold a folder in itself a hundred times over; a disk cannot."""

    def __init__(self, files: GitFiles) -> None:
        self._files = files
        self._count = 0
        self._bytes = 0

    def fill(self, to: Path, folder: str) -> None:
        """Copy what lies in a folder of the house.

        Raises:
            NoHistory: Some of it is not here, it is more than looks need, or it could not be on every disk.
        """
        names, folders = self._files.names(folder), self._files.folders(folder)
        self._count += len(names) + len(folders)
        for name in (*names, *folders):
            # On Windows such a name would lead out of the folder, or into another file.
            if PureWindowsPath(name).parts != (name,) or ":" in name:
                raise self._refused(f"{folder}/{visible(name)}", "has a name that not every machine can have")
        if self._count > _MOST_FILES or folder.count("/") > _DEEPEST:
            raise self._refused(
                folder, f"is one of more than {_MOST_FILES} folders and files, or too deep among them"
            )
        for name in names:
            content = self._content(f"{folder}/{name}")
            to.mkdir(parents=True, exist_ok=True)
            (to / name_on_disk(name)).write_bytes(content)
        for name in folders:
            self.fill(to / name_on_disk(name), f"{folder}/{name}")

    def _content(self, path: str) -> bytes:
        try:
            content = self._files.read(path, _LARGEST_BYTES)
        except BrokenLink as fault:
            raise self._refused(fault.filename, f"cannot be read: {fault.why}") from None
        self._bytes += len(content)
        if len(content) > _LARGEST_BYTES or self._bytes > _MOST_BYTES:
            raise self._refused(path, "is larger than any look needs")
        return content

    def _refused(self, path: str, why: str) -> NoHistory:
        return NoHistory(f"{path} of {self._files.commit.short} {why}")
