"""Where a house lay at a commit: its folder is followed through the moves of `house.yaml`.

Every move is looked for in the objects that git holds: a `house.yaml` that came in the very commit in which another one
went, with its text or its folder's files. Where it cannot be told which of several it was, that is said, not guessed.
"""

import os
import posixpath
import weakref
from collections import Counter
from collections.abc import Mapping, Sequence

from menugen.problems import visible
from menugen.reading import HOUSE_FILE, LARGEST_BYTES
from menugen.revisions.calls import NoHistory, ask
from menugen.revisions.git import Repository, git_text, name_on_disk
from menugen.revisions.objects import LINK, SUBMODULE, TREE, Objects

_MOST_MOVES = 20
_ALIKE = 0.5
"""Git's own measure: a file of which half is as it was is the same file elsewhere."""

_CLEARLY = 0.5
"""By how much one house is to be more alike than the next one; a house that is the same in all has 2."""


class UnsureHouse(NoHistory):
    """It cannot be told which house of a revision this one was; the message says what to type."""


class HousePlaces:
    """The folders one house ever lay in, found out when a commit is met that has it elsewhere."""

    def __init__(self, repository: Repository, objects: Objects) -> None:
        """Remember where it is now; git is asked nothing yet."""
        self._repository = repository
        # They remember this one, and end their processes as soon as nobody asks them any more.
        self._objects: Objects = weakref.proxy(objects)
        self._folders = [repository.inside]
        self._is_traced = False
        self._head = ""
        self._began = False
        self._unsure: UnsureHouse | None = None
        self._others: dict[str, str] = {}

    def at(self, revision: str) -> str:
        """Return the house's folder at a revision: where it is now, too, if the revision has no such house at all.

        Raises:
            UnsureHouse: It has one or more, and which of them is this one cannot be told.
        """
        if (known := self._known(revision)) is not None:
            return known
        if not self._is_traced:
            self._is_traced = True
            head = ask(self._repository.top, "rev-parse", "--verify", "--quiet", "HEAD^{commit}") or b""
            self._head = head.decode("ascii").strip()
            try:
                self._trace()
            except UnsureHouse as fault:
                self._unsure = fault
            if (known := self._known(revision)) is not None:
                return known
        if revision not in self._others:
            self._others[revision] = self._elsewhere(revision)
        return self._others[revision]

    def _known(self, revision: str) -> str | None:
        return next((folder for folder in self._folders if self._holds(revision, folder)), None)

    def _elsewhere(self, revision: str) -> str:
        """Return the folder at a revision that has the house in none of those it was followed through."""
        is_before = ask(self._repository.top, "merge-base", "--is-ancestor", revision, self._head) is not None
        if is_before and self._unsure is not None:
            raise self._unsure
        if is_before and self._began:
            return self._repository.inside
        newest = next((folder for folder in self._folders if self._holds(self._head, folder)), None)
        if newest is None:
            return self._repository.inside
        found = self._chosen(self._listed(revision), self._listed(self._head), newest, revision)
        return self._repository.inside if found is None else found

    def _holds(self, revision: str, folder: str) -> bool:
        """Return whether a revision has a house in a folder; or what leads elsewhere, or is not here: told later."""
        names = self._objects.tree(f"{revision}^{{tree}}")
        for step in folder.split("/") if folder else ():
            entry = names.get(step) if names is not None else None
            if names is None or (entry is not None and entry.mode in (LINK, SUBMODULE)):
                return True
            if entry is None or entry.mode != TREE:
                return False
            names = self._objects.tree(entry.oid)
        return names is None or HOUSE_FILE in names

    def _trace(self) -> None:
        """Follow the house back from the last commit, from each commit that put it where it is to where it was."""
        folder, newest = self._repository.inside, self._head
        if not self._holds(self._head, folder):
            before = self._before_the_disk()
            if before is None:
                return
            folder = before
            self._folders.append(folder)
        for _ in range(_MOST_MOVES):
            added = self._added(newest, folder)
            if not added:
                return
            for revision in added:
                parent = f"{revision}^"
                if ask(self._repository.top, "rev-parse", "--verify", "--quiet", parent) is None:
                    self._began = True
                    return
                listed = self._listed(parent)
                before = self._chosen(listed, self._listed(revision), folder, parent)
                if before is not None:
                    break
            else:
                self._began = True
                return
            self._folders.append(before)
            folder, newest = before, parent

    def _added(self, newest: str, folder: str) -> list[str]:
        """Return the commits up to the newest that put a house into a folder, the newest first."""
        path = name_on_disk(posixpath.join(folder, HOUSE_FILE))
        how = (
            "--format=%x01%H",
            "--diff-filter=A",
            "--no-renames",
            "-m",
            "--no-show-signature",
            "--name-only",
        )
        told = ask(self._repository.top, "--literal-pathspecs", "log", *how, newest, "--", path) or b""
        lines = git_text(told).splitlines()
        return list(dict.fromkeys(line[1:] for line in lines if line.startswith("\x01")))

    def _listed(self, revision: str) -> dict[str, str]:
        """Return every file of a revision, with the object that holds it."""
        told = ask(self._repository.top, "ls-tree", "-r", "-z", "--full-tree", revision)
        if told is None:
            return {}
        entries = (entry.partition("\t") for entry in git_text(told).split("\0") if entry)
        return {path: head.split()[2] for head, _, path in entries}

    def _before_the_disk(self) -> str | None:
        """Return the folder that the last commit has the house in, where it was moved and that is not committed."""
        top = self._repository.top
        try:
            with (top / name_on_disk(self._repository.inside) / HOUSE_FILE).open("rb") as file:
                text = file.read(LARGEST_BYTES)
        except OSError:
            return None
        gone = {
            folder: _alike(self._text(oid), text)
            for folder, oid in _houses(self._listed(self._head)).items()
            if not os.path.lexists(top / name_on_disk(posixpath.join(folder, HOUSE_FILE)))
        }
        return self._clear(gone, self._head)

    def _chosen(
        self, then: Mapping[str, str], now: Mapping[str, str], folder: str, revision: str
    ) -> str | None:
        """Return the folder of a house then, among those that are not there now; None where there is none."""
        houses, kept = _houses(then), _houses(now)
        text = self._text(kept.get(folder, ""))
        here = _inside(now, folder)
        likeness = {}
        for other in houses.keys() - kept.keys():
            there = _inside(then, other)
            same = len(there.items() & here.items()) / max(1, len(there))
            likeness[other] = _alike(self._text(houses[other]), text) + same
        return self._clear(likeness, revision)

    def _clear(self, likeness: Mapping[str, float], revision: str) -> str | None:
        """Return the one folder that is clearly the house's; None where there was none.

        Raises:
            UnsureHouse: None is, or more than one may be.
        """
        ranked = sorted(likeness, key=lambda folder: (-likeness[folder], folder))
        if not ranked:
            return None
        if likeness[ranked[0]] >= _ALIKE and (
            len(ranked) == 1 or likeness[ranked[0]] - likeness[ranked[1]] >= _CLEARLY
        ):
            return ranked[0]
        raise UnsureHouse(_which(self._repository.inside, ranked, revision))

    def _text(self, oid: str) -> bytes:
        found = self._objects.read(oid, LARGEST_BYTES) if oid else None
        return found[1] if found is not None else b""


def _which(folder: str, others: Sequence[str], revision: str) -> str:
    """Return what is to be said where it is not certain which house this one was."""
    there = " or ".join(f'"{visible(other) or "."}"' for other in others[:4])
    here = f'"{visible(folder) or "."}"'
    short = revision[:7] if len(revision.rstrip("^")) >= 40 else revision
    return (
        f"the house in {here} is not in {short}, and whether it is the one that was in {there} there is not "
        f'certain; say so: "menugen compare {short} --was {visible(others[0]) or "."}" where it is, '
        f'"--was {visible(folder) or "."}" where it is a new one'
    )


def _houses(listed: Mapping[str, str]) -> dict[str, str]:
    """Return the folders with a house, each with the object of its house.yaml."""
    return {
        posixpath.dirname(path): oid for path, oid in listed.items() if posixpath.basename(path) == HOUSE_FILE
    }


def _inside(listed: Mapping[str, str], folder: str) -> dict[str, str]:
    """Return the files in a folder, by their names from there."""
    begins = f"{folder}/" if folder else ""
    return {path[len(begins) :]: oid for path, oid in listed.items() if path.startswith(begins)}


def _alike(one: bytes, other: bytes) -> float:
    """Return how much of the longer of two texts stands in the other, line by line; 1 where all of it does."""
    first, second = Counter(one.splitlines(keepends=True)), Counter(other.splitlines(keepends=True))
    same = sum(len(line) * count for line, count in (first & second).items())
    return same / max(1, len(one), len(other))
