"""Git's objects, read through one process however many are asked for."""

import contextlib
import subprocess
import weakref
from pathlib import Path
from typing import IO, Any, NamedTuple

from menugen.history.git import git_text, start

TREE, LINK, SUBMODULE = 0o040000, 0o120000, 0o160000


class Entry(NamedTuple):
    """One name in a folder.

    Attributes:
        mode: What it is: TREE, LINK, SUBMODULE, else a file.
        oid: The object, as hex digits; of a submodule its commit.
    """

    mode: int
    oid: str


class Objects:
    """The objects of one repository; folders are remembered, files are not.

    Attributes:
        folder: Where the repository is.
    """

    def __init__(self, folder: Path) -> None:
        """Remember where the repository is; the process starts with the first question."""
        self.folder = folder
        self._process: subprocess.Popen[bytes] | None = None
        self._let_go: weakref.finalize[Any, Any] | None = None
        self._trees: dict[str, dict[str, Entry]] = {}

    def read(self, name: str) -> tuple[str, bytes] | None:
        """Return the kind and the content of an object; None where it is not here, or not whole.

        Args:
            name: Hex digits, or those of a commit with "^{tree}".

        Raises:
            NoHistory: There is no git on this machine, or it cannot be run.
        """
        writing, reading = self._pipes()
        head: list[bytes] = []
        # Git ends with the first object that is damaged, or that it would have to fetch.
        with contextlib.suppress(OSError):
            writing.write(f"{name}\n".encode("ascii"))
            writing.flush()
            head = reading.readline().split()
        if len(head) == 2:  # "... missing"
            return None
        if len(head) == 3 and head[2].isdigit():
            content = reading.read(int(head[2]))
            if len(content) == int(head[2]) and reading.read(1):
                return head[1].decode("ascii", "replace"), content
        self._end()
        return None

    def tree(self, name: str) -> dict[str, Entry] | None:
        """Return the names in a folder; None where it is not here, or not whole."""
        if name not in self._trees:
            found = self.read(name)
            if found is None or found[0] != "tree":
                return None
            try:
                self._trees[name] = _entries(found[1], self._oid_bytes(name))
            except ValueError:
                return None
        return self._trees[name]

    def _oid_bytes(self, name: str) -> int:
        return len(name.partition("^")[0]) // 2

    def _pipes(self) -> tuple[IO[bytes], IO[bytes]]:
        if self._process is None:
            self._process = start(self.folder, "cat-file", "--batch")
            self._let_go = weakref.finalize(self, _end, self._process)
        writing, reading = self._process.stdin, self._process.stdout
        if writing is None or reading is None:
            raise AssertionError("both were asked for as pipes")
        return writing, reading

    def _end(self) -> None:
        """Let a process go that answers no more; the next question starts another."""
        if self._let_go is not None:
            self._let_go()
        self._process = self._let_go = None


def _end(process: subprocess.Popen[bytes]) -> None:
    """Let the process go; it ends by itself when nobody asks any more."""
    for pipe in (process.stdin, process.stdout):
        if pipe is not None:
            # What was written to a process that has ended meanwhile cannot be sent any more.
            with contextlib.suppress(OSError):
                pipe.close()
    process.wait()


def _entries(content: bytes, oid_bytes: int) -> dict[str, Entry]:
    """Return what a tree object lists: "mode name", a zero byte, the hash as bytes, and so on.

    Raises:
        ValueError: It is no such list.
    """
    found: dict[str, Entry] = {}
    at = 0
    while at < len(content):
        zero = content.index(b"\0", at)
        mode, _, name = content[at:zero].partition(b" ")
        at = zero + 1 + oid_bytes
        found[git_text(name)] = Entry(int(mode, 8), content[zero + 1 : at].hex())
    return found
