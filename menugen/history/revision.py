"""Files of a house at a git revision."""

import posixpath
import re
from pathlib import Path
from typing import NamedTuple

from menugen.history.git import Commit, Repository, ask, find_commit, find_repository
from menugen.history.objects import LINK, SUBMODULE, TREE, Entry, Objects

_MOST_LINKS = 8
_LARGE_FILE = re.compile(
    rb"version https://git-lfs\.github\.com/spec/v1\n(?:ext-[^\n]*\n)*oid sha256:([0-9a-f]{64})\nsize \d+\n"
)
"""What stands in git where a large file is kept elsewhere. Source: Git LFS, docs/spec.md; from memory."""


class _Found(NamedTuple):
    """Something in the repository, and the objects it is to be read from."""

    objects: Objects
    entry: Entry


class GitFiles:
    """The files of a house at one revision; the same manners as files on the disk.

    Attributes:
        repository: Where the house lies.
        commit: The revision.
        missing: A sentence for each thing that was asked for and is not on this machine.
    """

    def __init__(self, repository: Repository, commit: Commit, objects: Objects | None = None) -> None:
        """Remember what to read; nothing is read yet.

        Args:
            repository: Where the house lies.
            commit: The revision.
            objects: Share these where several revisions of one repository are read.
        """
        self.repository = repository
        self.commit = commit
        self.missing: list[str] = []
        self._objects = objects or Objects(repository.top)
        self._submodules: dict[str, Objects] = {}

    @property
    def revision(self) -> str:
        """Full hash of the commit."""
        return self.commit.revision

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder of the house; none where there is no such folder."""
        path = self._in_repository(folder)
        found = self._find(path)
        if found is None or found.entry.mode != TREE:
            return ()
        return tuple(
            sorted(
                name
                for name, entry in (self._tree(found) or {}).items()
                if entry.mode not in (TREE, SUBMODULE)
                and (entry.mode != LINK or self._is_file(posixpath.join(path, name)))
            )
        )

    def folders(self, folder: str) -> tuple[str, ...]:
        """Return the names of the folders directly in a folder of the house; none where there is no such folder."""
        found = self._find(self._in_repository(folder))
        names = (self._tree(found) if found else None) or {}
        return tuple(sorted(name for name, entry in names.items() if entry.mode == TREE))

    def links(self, folder: str) -> tuple[str, ...]:
        """Return the names directly in a folder of the house that are links; what they lead to is another matter."""
        found = self._find(self._in_repository(folder))
        names = (self._tree(found) if found else None) or {}
        return tuple(sorted(name for name, entry in names.items() if entry.mode == LINK))

    def read(self, path: str) -> bytes:
        """Return a file's bytes as committed; those of a large file kept aside from where it was kept.

        Raises:
            FileNotFoundError: The revision has no such file, or its content is not on this machine.
        """
        found = self._find(self._in_repository(path))
        content = found.objects.read(found.entry.oid) if found else None
        if content is None or content[0] != "blob":
            raise FileNotFoundError(path)
        pointer = _LARGE_FILE.fullmatch(content[1]) if len(content[1]) < 1024 else None
        return content[1] if pointer is None else self._kept_aside(pointer[1].decode("ascii"), path)

    def oid(self, path: str) -> str:
        """Return the id of a file or folder of the house, the same for the same content; empty where there is none."""
        found = self._find(self._in_repository(path))
        return found.entry.oid if found else ""

    def _kept_aside(self, digest: str, path: str) -> bytes:
        folder = ask(self.repository.top, "rev-parse", "--git-common-dir")
        kept = self.repository.top / (folder or b".git").decode("utf-8", "surrogateescape").strip()
        try:
            return (kept / "lfs" / "objects" / digest[:2] / digest[2:4] / digest).read_bytes()
        except OSError:
            raise self._not_here(
                f'{path} is a large file kept aside, and not on this machine: "git lfs pull" brings it'
            ) from None

    def _in_repository(self, path: str) -> str:
        place = posixpath.normpath(posixpath.join(self.repository.inside, path))
        return "" if place == "." else place

    def _is_file(self, path: str) -> bool:
        found = self._find(path)
        return found is not None and found.entry.mode != TREE

    def _find(self, path: str, links: int = 0) -> _Found | None:
        """Return what lies at a path of the repository, links followed; None where nothing does."""
        found = _Found(self._objects, Entry(TREE, f"{self.revision}^{{tree}}"))
        so_far = ""
        for step in path.split("/") if path else ():
            names = self._tree(found)
            if names is None or step not in names:
                return None
            so_far = posixpath.join(so_far, step)
            found = _Found(found.objects, names[step])
            if found.entry.mode == SUBMODULE:
                found = self._inside_submodule(found.entry, so_far)
            if found.entry.mode == LINK:
                target = found.objects.read(found.entry.oid)
                if target is None or links >= _MOST_LINKS:
                    return None
                beside = posixpath.dirname(so_far)
                onward = posixpath.normpath(
                    posixpath.join(beside, target[1].decode("utf-8", "surrogateescape"))
                )
                rest = path[len(so_far) :].lstrip("/")
                return self._find(posixpath.join(onward, rest) if rest else onward, links + 1)
        return found

    def _tree(self, found: _Found) -> dict[str, Entry] | None:
        return found.objects.tree(found.entry.oid) if found.entry.mode == TREE else None

    def _inside_submodule(self, entry: Entry, path: str) -> _Found:
        """Return the top folder of a submodule at the commit the house asks for.

        Raises:
            FileNotFoundError: That commit is not on this machine.
        """
        if path not in self._submodules:
            self._submodules[path] = Objects(self.repository.top / path)
        objects = self._submodules[path]
        tree = f"{entry.oid}^{{tree}}"
        own = ask(self.repository.top / path, "rev-parse", "--show-prefix") if self._is_there(path) else None
        if own is None or own.strip() or objects.tree(tree) is None:
            raise self._not_here(
                f"{path} is a submodule, and its commit {entry.oid[:7]} is not on this machine: "
                f'"git submodule update --init" brings it'
            )
        return _Found(objects, Entry(TREE, tree))

    def _not_here(self, sentence: str) -> FileNotFoundError:
        if sentence not in self.missing:
            self.missing.append(sentence)
        return FileNotFoundError(sentence)

    def _is_there(self, path: str) -> bool:
        return (self.repository.top / path).is_dir()


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
