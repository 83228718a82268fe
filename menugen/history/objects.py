"""Git's objects, read through one process however many are asked for."""

import subprocess
import weakref
from pathlib import Path
from typing import IO, NamedTuple

from menugen.history.git import git_command

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
    """The objects of one repository; folders are remembered, files are not."""

    def __init__(self, folder: Path) -> None:
        """Remember where the repository is; the process starts with the first question."""
        self._folder = folder
        self._process: subprocess.Popen[bytes] | None = None
        self._trees: dict[str, dict[str, Entry]] = {}

    def read(self, name: str) -> tuple[str, bytes] | None:
        """Return the kind and the content of an object; None where there is no such object here.

        Args:
            name: Hex digits, or those of a commit with "^{tree}".
        """
        writing, reading = self._pipes()
        writing.write(f"{name}\n".encode("ascii"))
        writing.flush()
        head = reading.readline().split()
        if len(head) != 3:  # "... missing"
            return None
        content = reading.read(int(head[2]))
        reading.read(1)
        return head[1].decode("ascii"), content

    def tree(self, name: str) -> dict[str, Entry] | None:
        """Return the names in a folder; None where there is no such object here."""
        if name not in self._trees:
            found = self.read(name)
            if found is None or found[0] != "tree":
                return None
            self._trees[name] = _entries(found[1], self._oid_bytes(name))
        return self._trees[name]

    def _oid_bytes(self, name: str) -> int:
        return len(name.partition("^")[0]) // 2

    def _pipes(self) -> tuple[IO[bytes], IO[bytes]]:
        if self._process is None:
            command, environment = git_command(self._folder, "cat-file", "--batch")
            self._process = subprocess.Popen(  # noqa: S603  # the program is git itself, its arguments a list
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env=environment,
            )
            weakref.finalize(self, _end, self._process)
        writing, reading = self._process.stdin, self._process.stdout
        if writing is None or reading is None:
            raise AssertionError("both were asked for as pipes")
        return writing, reading


def _end(process: subprocess.Popen[bytes]) -> None:
    """Let the process go; it ends by itself when nobody asks any more."""
    for pipe in (process.stdin, process.stdout):
        if pipe is not None:
            pipe.close()
    process.wait()


def _entries(content: bytes, oid_bytes: int) -> dict[str, Entry]:
    """Return what a tree object lists: "mode name", a zero byte, the hash as bytes, and so on."""
    found: dict[str, Entry] = {}
    at = 0
    while at < len(content):
        zero = content.index(b"\0", at)
        mode, _, name = content[at:zero].partition(b" ")
        at = zero + 1 + oid_bytes
        found[name.decode("utf-8", "surrogateescape")] = Entry(int(mode, 8), content[zero + 1 : at].hex())
    return found
