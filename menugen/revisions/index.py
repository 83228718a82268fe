"""What git's index holds of a house: the files about to be committed, and those a sparse checkout leaves out.

The index is asked for what it lists, and the files themselves are read from git's objects: nobody looks here at what
lies in the working tree.
"""

import hashlib
import os
import posixpath
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from menugen.problems import visible
from menugen.reading import LARGEST_BYTES, DiskFiles, HouseFolders
from menugen.revisions.calls import NoHistory, ask
from menugen.revisions.git import Commit, Repository, git_text, name_on_disk
from menugen.revisions.objects import TREE, Entry, Objects
from menugen.revisions.revision import GitFiles

STAGED = Commit("", "", "what is staged", datetime.min, datetime.min)  # noqa: DTZ901  # no clock shows it
"""Stands for the commit that is about to be made."""

_NO_BYTES = (hashlib.sha1(b"blob 0\0", usedforsecurity=False), hashlib.sha256(b"blob 0\0"))
_INTENDED = 0x2000_0000
"""How the index marks such a file. Source: git, read-cache-ll.h, CE_INTENT_TO_ADD; from memory."""

_EMPTY = frozenset(one.hexdigest() for one in _NO_BYTES)


class _Line(NamedTuple):
    """One file that the index lists.

    Attributes:
        path: In the repository.
        entry: What it holds.
        settled: Whether it is one file, and not one side of two.
        left_out: Whether a sparse checkout does not put it on the disk.
    """

    path: str
    entry: Entry
    settled: bool
    left_out: bool


@dataclass
class _Folder:
    files: dict[str, Entry] = field(default_factory=dict)
    folders: dict[str, "_Folder"] = field(default_factory=dict)


def _lines(top: Path, index: str = "") -> Iterator[_Line]:
    told = ask(top, "ls-files", "--stage", "-t", "-z", index=index)
    if told is None:
        raise NoHistory('git cannot read what is staged here; "git fsck" tells what is wrong')
    for line in git_text(told).split("\0"):
        head, _, path = line.partition("\t")
        if path:
            tag, mode, oid, stage = head.split()
            yield _Line(path, Entry(int(mode, 8), oid), stage == "0", tag == "S")


def _of_a_hook(repository: Repository) -> str:
    """Return the index that git made for the commit whose hook this runs in; empty where it is the usual one."""
    named = os.environ.get("GIT_INDEX_FILE", "")
    if not named:
        return ""
    path = Path(named).absolute()
    own = ask(repository.top, "rev-parse", "--absolute-git-dir") or b""
    # Of another repository's hook, which happens to look at this house, it is not.
    if not own.strip() or path.parent.resolve() != Path(os.fsdecode(own).rstrip("\n")).resolve():
        return ""
    return str(path)


def _only_intended(top: Path, lines: Iterable[_Line], index: str) -> set[str]:
    """Return the files that "git add --intent-to-add" named: this commit does not have them."""
    empty = {line.path for line in lines if line.entry.oid in _EMPTY}
    if not empty:
        return set()
    listed = ask(top, "ls-files", "--debug", "-z", index=index)
    intended, name = set(), ""
    for line in git_text(listed or b"").replace("\0", "\n").split("\n"):
        if not line.startswith("  "):
            name = line
        elif "flags: " in line and int(line.rpartition(" ")[2], 16) & _INTENDED:
            intended.add(name)
    return empty & intended


def staged_files(repository: Repository, objects: Objects) -> GitFiles:
    """Return the house as it is about to be committed.

    Inside a commit's hook that is the index git made for this commit: where only some files are committed, another one.

    Raises:
        NoHistory: The index cannot be read, or holds two sides of a file.
    """
    index = _of_a_hook(repository)
    lines = list(_lines(repository.top, index))
    if (unsettled := next((line.path for line in lines if not line.settled), None)) is not None:
        raise NoHistory(
            f'two people changed {visible(unsettled)}, and what is meant is not settled: "git status" names such files'
        )
    intended = _only_intended(repository.top, lines, index)
    return _files_of(repository, objects, [line for line in lines if line.path not in intended])


def _files_of(repository: Repository, objects: Objects, lines: Iterable[_Line]) -> GitFiles:
    top = _Folder()
    for line in lines:
        *folders, name = line.path.split("/")
        at = top
        for step in folders:
            at = at.folders.setdefault(step, _Folder())
        at.files[name] = line.entry
    return GitFiles(repository, STAGED, objects, folder=repository.inside, tree=_held(top, objects))


def _held(folder: _Folder, objects: Objects) -> str:
    """Let objects know a folder that may have no tree yet; return the hash that git would give it."""
    names = dict(folder.files)
    for name, inner in folder.folders.items():
        names[name] = Entry(TREE, _held(inner, objects))
    content = bytearray()
    # Git sorts a folder as if its name ended in a slash.
    for name in sorted(names, key=lambda name: _told(f"{name}/" if names[name].mode == TREE else name)):
        entry = names[name]
        content += b"%o %s\0%s" % (entry.mode, _told(name), bytes.fromhex(entry.oid))
    is_long = any(len(entry.oid) == 64 for entry in names.values())
    whole = hashlib.new("sha256" if is_long else "sha1", b"tree %d\0" % len(content), usedforsecurity=False)
    whole.update(content)
    objects.hold(whole.hexdigest(), names)
    return whole.hexdigest()


def _told(name: str) -> bytes:
    return name.encode("utf-8", "surrogateescape")


class _PartOnDisk(DiskFiles):
    """The files of a house of which a sparse checkout puts only some on the disk; the others are as git has them."""

    def __init__(self, root: Path, staged: GitFiles, left_out: frozenset[str]) -> None:
        super().__init__(root)
        self._staged = staged
        self._left_out = left_out

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder, sorted; none where there is no such folder."""
        return tuple(sorted({*super().names(folder), *self._below(folder, is_file=True)}))

    def folders(self, folder: str) -> tuple[str, ...]:
        """Return the names of the folders directly in a folder, sorted, without links; none where there are none."""
        return tuple(sorted({*super().folders(folder), *self._below(folder, is_file=False)}))

    def _below(self, folder: str, *, is_file: bool) -> Iterator[str]:
        """Yield the names of what is left out directly in a folder."""
        place = posixpath.normpath(posixpath.join(self._staged.folder, folder))
        begins = "" if place == "." else f"{place}/"
        for path in self._left_out:
            name, _, rest = path[len(begins) :].partition("/")
            if path.startswith(begins) and is_file != bool(rest):
                yield name

    def read(self, path: str, largest: int = LARGEST_BYTES) -> bytes:
        """Return a file's content, cut one byte past `largest`."""
        try:
            return super().read(path, largest)
        except FileNotFoundError:
            place = posixpath.normpath(posixpath.join(self._staged.folder, path))
            if place not in self._left_out:
                raise
            return self._staged.read(path, largest)


def working_files(
    house: Path, repository: Repository, objects: Objects | None = None
) -> tuple[HouseFolders, tuple[str, ...]]:
    """Return the files of a house as they lie, and what is to be told of them.

    What a sparse checkout leaves out is not gone: it is as it is staged, and that is said.

    Args:
        house: The house's folder.
        repository: Where it lies.
        objects: Share these where a revision is read too.
    """
    with suppress(NoHistory):
        begins = f"{repository.inside}/" if repository.inside else ""
        lines = list(_lines(repository.top))
        absent = {line.path for line in lines if line.left_out and line.path.startswith(begins)}
        absent -= {path for path in absent if os.path.lexists(repository.top / name_on_disk(path))}
        if absent:
            staged = _files_of(repository, objects or Objects(repository.top), lines)
            many = "s" if len(absent) > 1 else ""
            note = f"{len(absent)} file{many} left out of this sparse checkout: read as git has them staged"
            return _PartOnDisk(house, staged, frozenset(absent)), (note,)
    return DiskFiles(house), ()
