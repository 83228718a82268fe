"""Git's objects, read through two processes however many are asked for: one says how large they are, one reads them."""

import shutil
import weakref
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from menugen.revisions.calls import Git, no_answer
from menugen.revisions.git import git_text

if TYPE_CHECKING:
    from menugen.revisions.moved import HousePlaces

TREE, LINK, SUBMODULE = 0o040000, 0o120000, 0o160000

_LARGEST_TREE_BYTES = 16 * 1024 * 1024
"""A folder of three hundred thousand names is smaller."""

_MOST_REMEMBERED_BYTES = 4 * 1024 * 1024
"""A house of two thousand drinks has no more text."""


class Entry(NamedTuple):
    """One name in a folder.

    Attributes:
        mode: What it is: TREE, LINK, SUBMODULE, else a file.
        oid: The object, as hex digits; of a submodule its commit.
    """

    mode: int
    oid: str


class Objects:
    """The objects of one repository; folders are remembered, and so are the first files that are read.

    Two revisions of a house have most of their files in common.

    Attributes:
        folder: Where the repository is.
        places: Where each house of it lay, by its folder now.
    """

    def __init__(self, folder: Path, lent: Path | None = None) -> None:
        """Remember where the repository is; the processes start with the first question.

        Args:
            folder: The repository's.
            lent: A repository that knows these objects and some that it alone has; it goes with this.
        """
        self.folder = folder
        self.places: dict[str, HousePlaces] = {}
        if lent is not None:
            weakref.finalize(self, shutil.rmtree, lent, ignore_errors=True)
        self._sizes = _Asked(lent or folder, "--batch-check")
        self._contents = _Asked(lent or folder, "--batch")
        self._trees: dict[str, dict[str, Entry]] = {}
        self._read: dict[str, tuple[str, bytes]] = {}
        self._left_bytes = _MOST_REMEMBERED_BYTES

    def size(self, name: str) -> tuple[str, int] | None:
        """Return the kind of an object and how many bytes it has; None where it is not here, or not whole.

        Args:
            name: Hex digits, or those of a commit with "^{tree}".

        Raises:
            NoHistory: There is no git on this machine, or it cannot be run.
        """
        return self._sizes.head(name)

    def read(self, name: str, largest: int) -> tuple[str, bytes] | None:
        """Return the kind and the content of an object; None where it is not here, or not whole.

        Of one larger than `largest` the content is not asked for, since git itself may need many times its size to
        unpack it: zero bytes stand for it, one more than `largest`.

        Args:
            name: Hex digits, or those of a commit with "^{tree}".
            largest: How many bytes are wanted at most.

        Raises:
            NoHistory: There is no git on this machine, or it cannot be run.
        """
        if name in self._read and len(self._read[name][1]) <= largest:
            return self._read[name]
        known = self.size(name)
        if known is None:
            return None
        if known[1] > largest:
            return known[0], bytes(largest + 1)
        found = self._contents.content(name)
        if found is not None and known[0] == "blob" and known[1] <= self._left_bytes:
            self._left_bytes -= known[1]
            self._read[name] = found
        return found

    def hold(self, name: str, names: dict[str, Entry]) -> None:
        """Remember a folder of which git has no object."""
        self._trees[name] = names

    def tree(self, name: str) -> dict[str, Entry] | None:
        """Return the names in a folder; None where it is not here, or not whole."""
        if name not in self._trees:
            found = self.read(name, _LARGEST_TREE_BYTES)
            if found is None or found[0] != "tree":
                return None
            try:
                self._trees[name] = _entries(found[1], self._oid_bytes(name))
            except ValueError:
                return None
        return self._trees[name]

    def _oid_bytes(self, name: str) -> int:
        return len(name.partition("^")[0]) // 2


class _Asked:
    """A `git cat-file` that is asked for one object after another."""

    def __init__(self, folder: Path, how: str) -> None:
        self._folder = folder
        self._how = how
        self._git: Git | None = None
        self._let_go: weakref.finalize[Any, Any] | None = None

    def head(self, name: str) -> tuple[str, int] | None:
        """Return the kind and the size that the answer begins with; None where there is no such object."""
        if self._git is None:
            self._git = Git(self._folder, "cat-file", self._how, spoken_to=True)
            self._let_go = weakref.finalize(self, self._git.stop)
        head: list[bytes] = []
        # Git ends with the first object that is damaged, or that it would have to fetch.
        with suppress(OSError):
            self._git.tell(name)
            head = self._git.line().split()
        if len(head) == 3 and head[2].isdigit():
            return head[1].decode("ascii", "replace"), int(head[2])
        if len(head) != 2:  # "... missing"
            self._end()
        return None

    def content(self, name: str) -> tuple[str, bytes] | None:
        """Return the kind of an object, and its content; None where it is not here, or not whole."""
        head = self.head(name)
        if head is None or self._git is None:
            return None
        content = self._git.read(head[1])
        if len(content) == head[1] and self._git.read(1):
            return head[0], content
        self._end()
        return None

    def _end(self) -> None:
        """Let a process go that answers no more; the next question starts another.

        Raises:
            NoHistory: It waited for something that did not come: the next would do so too.
        """
        was_silent = self._git is not None and self._git.silent
        if self._let_go is not None:
            self._let_go()
        self._git = self._let_go = None
        if was_silent:
            raise no_answer(self._folder)


def _entries(content: bytes, oid_bytes: int) -> dict[str, Entry]:
    """Return what a tree object lists: "mode name", a zero byte, the hash as bytes, and so on.

    Raises:
        ValueError: It is no such list, or holds a name that would lead out of the folder; git writes none.
    """
    found: dict[str, Entry] = {}
    at = 0
    while at < len(content):
        zero = content.index(b"\0", at)
        mode, _, name = content[at:zero].partition(b" ")
        if name in (b"", b".", b"..") or b"/" in name:
            raise ValueError(name)
        at = zero + 1 + oid_bytes
        if at > len(content):
            raise ValueError("the last hash is cut")
        found[git_text(name)] = Entry(int(mode, 8), content[zero + 1 : at].hex())
    return found
