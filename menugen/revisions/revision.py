"""Files of a house at a git revision.

Whatever git names and this machine has not is told in one place: as NoHistory, and so in the same words whichever
command asked. What the revision itself never held (a file that is not there, a link out of the repository) is a fault
of that house, and told as faults of files are.
"""

import hashlib
import os
import posixpath
import re
from pathlib import Path
from typing import NamedTuple

from menugen.reading import LARGEST_BYTES, BrokenLink
from menugen.revisions.calls import NoHistory, ask
from menugen.revisions.git import (
    Commit,
    Repository,
    find_commit,
    find_repository,
    git_text,
    name_on_disk,
    not_here,
)
from menugen.revisions.moved import HousePlaces
from menugen.revisions.objects import LINK, SUBMODULE, TREE, Entry, Objects

_MOST_LINKS = 8
_LONGEST_LINK_BYTES = 4096
_LARGEST_POINTER_BYTES = 1024
_LARGE_FILE = re.compile(
    rb"version https://git-lfs\.github\.com/spec/v1\n(?:ext-[^\n]*\n)*oid sha256:([0-9a-f]{64})\nsize (\d{1,15})\n"
)
"""What stands in git where a large file is kept elsewhere. Source: Git LFS, docs/spec.md; from memory."""


class _Found(NamedTuple):
    """Something in the repository, and the objects it is to be read from."""

    objects: Objects
    entry: Entry
    path: str


class Kept(NamedTuple):
    """A file as git holds it.

    Attributes:
        oid: Its object, as hex digits.
        size: How many bytes it has.
        digest: SHA-256 of its content where that is kept aside, and git holds only who it is; else empty.
    """

    oid: str
    size: int
    digest: str = ""


class GitFiles:
    """The files of a house at one revision; the same manners as files on the disk.

    Every question raises NoHistory where its answer is not on this machine.

    Attributes:
        repository: Where the house lies.
        commit: The revision.
    """

    def __init__(
        self,
        repository: Repository,
        commit: Commit,
        objects: Objects | None = None,
        *,
        folder: str | None = None,
        tree: str = "",
    ) -> None:
        """Remember what to read; nothing is read yet.

        Args:
            repository: Where the house lies.
            commit: The revision.
            objects: Share these where several revisions of one repository are read.
            folder: Where the house lay then; None: it is followed there through its moves.
            tree: The files, where they are not those of the commit: what a merge would make of it.
        """
        self.repository = repository
        self.commit = commit
        self._objects = objects or Objects(repository.top)
        self._folder = folder
        self._tree_read = tree or f"{commit.revision}^{{tree}}"
        self._submodules: dict[str, Objects] = {}

    @property
    def revision(self) -> str:
        """Full hash of the commit."""
        return self.commit.revision

    @property
    def folder(self) -> str:
        """Where the house lies in this revision, within the repository.

        Raises:
            UnsureHouse: That cannot be told.
        """
        if self._folder is None:
            known = self._objects.places
            places = known.setdefault(self.repository.inside, HousePlaces(self.repository, self._objects))
            self._folder = places.at(self.revision)
        return self._folder

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder of the house; none where there is no such folder.

        A link that leads to no file is among them: whoever reads it is told.

        Raises:
            BrokenLink: The folder lies outside the repository, or is a link to where nothing lies.
            NoHistory: It is not on this machine.
        """
        path = self._in_repository(folder)
        if path == ".." or path.startswith("../"):
            raise BrokenLink(folder, "this lies outside the repository, and git does not know what was in it")
        found = self._find(path)
        if found is None or found.entry.mode != TREE:
            return ()
        return tuple(
            sorted(
                name
                for name, entry in self._tree(found).items()
                if entry.mode not in (TREE, SUBMODULE)
                and (entry.mode != LINK or self._is_file(posixpath.join(path, name)))
            )
        )

    def folders(self, folder: str) -> tuple[str, ...]:
        """Return the names of the folders directly in a folder of the house; none where there is no such folder."""
        return self._of_mode(folder, TREE)

    def links(self, folder: str) -> tuple[str, ...]:
        """Return the names directly in a folder of the house that are links; what they lead to is another matter."""
        return self._of_mode(folder, LINK)

    def _of_mode(self, folder: str, mode: int) -> tuple[str, ...]:
        try:
            found = self._find(self._in_repository(folder))
        except BrokenLink:
            return ()
        names = self._tree(found) if found and found.entry.mode == TREE else {}
        return tuple(sorted(name for name, entry in names.items() if entry.mode == mode))

    def read(self, path: str, largest: int = LARGEST_BYTES) -> bytes:
        """Return a file's bytes as committed; those of a large file kept aside from where it was kept.

        Of one larger than `largest`, as many bytes and one more: they are zero, see `Objects.read`.

        Raises:
            FileNotFoundError: The revision has no such file.
            BrokenLink: It has a link there, which leads to no file in the repository.
            NoHistory: Its content is not on this machine.
        """
        found = self._file(path)
        content = self._content(found, largest)
        pointer = _pointer(content)
        return content if pointer is None else self._kept_aside(pointer, found, largest)

    def kept(self, path: str) -> Kept:
        """Return how git holds a file; raises as `read` does."""
        found = self._file(path)
        known = found.objects.size(found.entry.oid)
        if known is None or known[0] != "blob":
            raise not_here(found.objects.folder, self._named(found.path))
        pointer = _pointer(self._content(found, known[1])) if known[1] < _LARGEST_POINTER_BYTES else None
        return Kept(found.entry.oid, known[1]) if pointer is None else pointer._replace(oid=found.entry.oid)

    def _file(self, path: str) -> _Found:
        found = self._find(self._in_repository(path))
        if found is None or found.entry.mode == TREE:
            raise FileNotFoundError(path)
        return found

    def oid(self, path: str) -> str:
        """Return the id of a file or folder of the house, the same for the same content; empty where there is none."""
        try:
            found = self._find(self._in_repository(path))
        except BrokenLink as fault:
            return fault.why
        return found.entry.oid if found else ""

    def _kept_aside(self, pointer: Kept, found: _Found, largest: int) -> bytes:
        folder = ask(found.objects.folder, "rev-parse", "--git-common-dir") or b".git"
        kept = found.objects.folder / os.fsdecode(folder).rstrip("\n") / "lfs" / "objects"
        digest = pointer.digest
        try:
            content = _read(kept / digest[:2] / digest[2:4] / digest, largest + 1)
        except OSError:
            content = None
        if content is not None and len(content) > largest:
            return bytes(largest + 1)
        if content is None or hashlib.sha256(content).hexdigest() != digest:
            raise NoHistory(
                f"{self._named(found.path)} is a large file kept aside, and not on this machine: "
                '"git lfs pull" brings it; that of an older revision, "git lfs fetch --all"'
            )
        return content

    def _named(self, path: str) -> str:
        return f"{path or 'the top folder'} of {self.commit.short or self.commit.subject}"

    def _in_repository(self, path: str) -> str:
        place = posixpath.normpath(posixpath.join(self.folder, path))
        return "" if place == "." else place

    def _is_file(self, path: str) -> bool:
        try:
            found = self._find(path)
        except BrokenLink:
            return True
        return found is not None and found.entry.mode != TREE

    def _find(self, path: str, links: int = 0) -> _Found | None:
        """Return what lies at a path of the repository, links followed; None where nothing does.

        Raises:
            BrokenLink: A link on the way leads to nothing in the repository.
            NoHistory: Something on the way is not on this machine.
        """
        found = _Found(self._objects, Entry(TREE, self._tree_read), "")
        for step in path.split("/") if path else ():
            entry = self._tree(found).get(step) if found.entry.mode == TREE else None
            if entry is None:
                return None
            found = _Found(found.objects, entry, posixpath.join(found.path, step))
            if entry.mode == SUBMODULE:
                found = self._inside_submodule(entry, found.path)
            if entry.mode == LINK:
                return self._followed(found, path[len(found.path) :].lstrip("/"), links)
        return found

    def _followed(self, link: _Found, rest: str, links: int) -> _Found | None:
        """Return what a link leads to, or what lies there under the rest of a path; None where that is not there."""
        content = self._content(link, LARGEST_BYTES * 9)
        if len(content) > _LONGEST_LINK_BYTES:
            raise BrokenLink(
                link.path, "git has only a link here, and it is longer than any that leads somewhere"
            )
        target = git_text(content)
        onward = posixpath.normpath(posixpath.join(posixpath.dirname(link.path), target))
        if links >= _MOST_LINKS:
            raise BrokenLink(link.path, "git has only a link here, and it leads in a circle")
        if onward == ".." or onward.startswith(("../", "/")):
            raise BrokenLink(
                link.path,
                f'git has only a link here, and what it leads to, "{target}", lies outside the repository',
            )
        onward = "" if onward == "." else onward
        reached = self._find(onward, links + 1)
        if reached is None:
            raise BrokenLink(link.path, f'git has only a link here, and it leads to nothing: "{target}"')
        return self._find(posixpath.join(onward, rest), links + 1) if rest else reached

    def _tree(self, found: _Found) -> dict[str, Entry]:
        names = found.objects.tree(found.entry.oid)
        if names is None:
            raise not_here(found.objects.folder, self._named(found.path))
        return names

    def _content(self, found: _Found, largest: int) -> bytes:
        content = found.objects.read(found.entry.oid, largest)
        if content is None or content[0] != "blob":
            raise not_here(found.objects.folder, self._named(found.path))
        return content[1]

    def _inside_submodule(self, entry: Entry, path: str) -> _Found:
        """Return the top folder of a submodule at the commit the house asks for.

        Raises:
            NoHistory: That commit is not on this machine.
        """
        folder = self.repository.top / name_on_disk(path)
        if path not in self._submodules:
            self._submodules[path] = Objects(folder)
        objects = self._submodules[path]
        tree = f"{entry.oid}^{{tree}}"
        own = ask(folder, "rev-parse", "--show-prefix") if folder.is_dir() else None
        if own is None or own.strip() or objects.tree(tree) is None:
            raise NoHistory(
                f"{path} is a submodule, and its commit {entry.oid[:7]} is not on this machine: "
                f'"git submodule update --init" brings it, or "git -C {path} fetch" where the submodule is there'
            )
        return _Found(objects, Entry(TREE, tree), path)


def _pointer(content: bytes) -> Kept | None:
    """Return which file kept aside a content stands for; None where it is the file itself."""
    found = _LARGE_FILE.fullmatch(content) if len(content) < _LARGEST_POINTER_BYTES else None
    return Kept("", int(found[2]), found[1].decode("ascii")) if found else None


def _read(file: Path, count: int) -> bytes | None:
    """Return so many bytes of a file; None where it is none."""
    # A pipe by that name would never end.
    if not file.is_file():
        return None
    with file.open("rb") as opened:
        return opened.read(count)


def files_at(house: Path, revision: str) -> GitFiles:
    """Return the files of a house as they were at a revision.

    Args:
        house: The house's folder.
        revision: As git writes it, or a day: then the last commit up to its end.

    Raises:
        NoHistory: No git, no repository there, or no such revision.
    """
    repository = find_repository(house)
    return GitFiles(repository, find_commit(repository, revision))
