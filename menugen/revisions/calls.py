"""How git is called: nothing that a repository names is run, nothing is written, and nothing is fetched.

A house may be a stranger's clone or archive, and its `.git` names programs: filters, hooks, a monitor of the file
system, a checker of signatures, ways to reach another machine. So git is asked only for what it holds (`rev-parse`,
`log`, `rev-list`, `merge-base`, `cat-file`, `ls-tree`, `ls-files`, `config`) and never to look at the working tree:
`status` and `diff` run filters, which no setting turns off; `differing.py` compares the files instead. What else could
run a program is off below.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Self

from menugen.reading import NotOnThisMachine

if sys.platform == "linux":
    import resource

LONGEST_S = 60.0
"""Git gives some answer long before this, or it waits for something that never comes: a pipe among its own files."""

MOST_MEMORY_BYTES = 192 * 1024 * 1024
"""Git unpacks what it is asked for in memory, and all that it is packed upon: a stranger says how large that is."""

LARGEST_ANSWER_BYTES = 32 * 1024 * 1024
"""Hashes of three hundred thousand commits are smaller."""

_PIECE_BYTES = 64 * 1024

_OFF: Mapping[str, str] = {
    "core.fsmonitor": "false",
    "core.hooksPath": os.devnull,
    "core.attributesFile": os.devnull,
    "log.showSignature": "false",
    "credential.helper": "",
    "submodule.recurse": "false",
    # A folder of a clone may be laid out as a repository, with settings of its own, and have no .git.
    "safe.bareRepository": "explicit",
    # What is larger is passed on bit by bit, and never held whole.
    "core.bigFileThreshold": "1m",
}
"""Settings that hold whatever the repository's own are."""

_KEPT = frozenset(
    {
        "GIT_CONFIG_GLOBAL",
        "GIT_CONFIG_SYSTEM",
        "GIT_CONFIG_NOSYSTEM",
        "GIT_CEILING_DIRECTORIES",
        "GIT_DISCOVERY_ACROSS_FILESYSTEM",
        "GIT_TEST_ASSUME_DIFFERENT_OWNER",
    }
)
"""Git's own variables that still count: where the user's settings are, and how far up a repository is looked for.

The others name programs, files to write and other repositories, or say where one of git's hooks runs, which would bend
every question asked from another folder.
"""

_TRUSTED = "safe.directory"
"""The one setting that counts where the environment brings it: containers in which others clone bring it so."""


class NoHistory(NotOnThisMachine):
    """There is no such revision to read, or not all of it is here; the message says why, in plain words.

    Attributes:
        to_run: What to type then, a line each; mostly the message says that too, and there is none.
    """

    def __init__(self, message: str, *to_run: str) -> None:
        super().__init__(message)
        self.to_run = to_run


class Git:
    """Git, asked something and at work. It is stopped where it does not answer.

    Attributes:
        silent: Whether it was stopped for that.
    """

    def __init__(
        self, folder: Path, *arguments: str, spoken_to: bool = False, index: str = "", alone: bool = False
    ) -> None:
        """Start it.

        Args:
            folder: What it is asked about.
            arguments: What it is asked.
            spoken_to: Whether it is asked more later.
            index: The index it is to read, where that is not the usual one.
            alone: Whether the user's own settings count for nothing.

        Raises:
            NoHistory: There is no git on this machine, or it cannot be run.
        """
        self.silent = False
        self._folder = folder
        self._waiting_since: float | None = None
        self._over = threading.Event()
        self._faults: IO[bytes] = tempfile.TemporaryFile()  # noqa: SIM115  # stop() closes it
        try:
            self._process = subprocess.Popen(  # noqa: S603  # the program is git itself, its arguments a list
                _command(folder, *arguments),
                stdin=subprocess.PIPE if spoken_to else subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=self._faults,
                env=_environment() | _more(index, alone=alone),
            )
        except (OSError, NoHistory) as fault:
            self._faults.close()
            if isinstance(fault, NoHistory):
                raise
            raise NoHistory(
                f"git cannot be run on this machine: {fault.filename}: {fault.strerror}"
            ) from None
        _limit_memory(self._process.pid)
        threading.Thread(target=self._watch, daemon=True).start()

    def __enter__(self) -> Self:
        """Nothing more: it is at work already."""
        return self

    def __exit__(self, *_: object) -> None:
        """Stop it, if it has not ended."""
        self.stop()

    def tell(self, line: str) -> None:
        """Ask one thing more.

        Raises:
            OSError: It has ended.
        """
        pipe = _pipe(self._process.stdin)
        with self._waiting():
            pipe.write(f"{line}\n".encode("ascii"))
            pipe.flush()

    def line(self) -> bytes:
        """Return one line of the answer; what has come of it where it has ended."""
        with self._waiting():
            return _pipe(self._process.stdout).readline(_PIECE_BYTES)

    def read(self, count: int) -> bytes:
        """Return so many bytes of the answer; fewer where it has ended."""
        with self._waiting():
            return _pipe(self._process.stdout).read(count)

    def pieces(self) -> Iterator[bytes]:
        """Yield the rest of the answer, bit by bit.

        Raises:
            NoHistory: It does not go on.
        """
        while piece := self.read(_PIECE_BYTES):
            yield piece
        if self.silent:
            raise no_answer(self._folder)

    def ended(self) -> tuple[int, bytes]:
        """Return the code it ended with, and what it said is wrong.

        Raises:
            NoHistory: It does not end.
        """
        with self._waiting():
            code = self._process.wait()
        if self.silent:
            raise no_answer(self._folder)
        self._faults.seek(0)
        return code, self._faults.read(_PIECE_BYTES)

    def stop(self) -> None:
        """Let it go, whatever it is at."""
        self._over.set()
        self._process.kill()
        for pipe in (self._process.stdin, self._process.stdout, self._faults):
            if pipe is not None:
                # What was written to one that has ended meanwhile cannot be sent any more.
                with suppress(OSError):
                    pipe.close()
        self._process.wait()

    @contextmanager
    def _waiting(self) -> Iterator[None]:
        self._waiting_since = time.monotonic()
        try:
            yield
        finally:
            self._waiting_since = None

    def _watch(self) -> None:
        while not self._over.wait(LONGEST_S / 10):
            since = self._waiting_since
            if since is not None and time.monotonic() - since > LONGEST_S:
                self.silent = True
                self._process.kill()
                return


def run(
    folder: Path, *arguments: str, index: str = "", alone: bool = False
) -> subprocess.CompletedProcess[bytes]:
    """Return what git answers, what it says is wrong, and whether it says no.

    Raises:
        NoHistory: There is no git on this machine, it cannot be run, or its answer has no end.
    """
    with Git(folder, *arguments, index=index, alone=alone) as git:
        answer = bytearray()
        for piece in git.pieces():
            answer += piece
            if len(answer) > LARGEST_ANSWER_BYTES:
                raise NoHistory(f"git holds more about {folder.as_posix()} than can be looked at")
        code, said = git.ended()
    return subprocess.CompletedProcess(arguments, code, bytes(answer), said)


def ask(folder: Path, *arguments: str, index: str = "") -> bytes | None:
    """Return what git answers, or None where it says no.

    Raises:
        NoHistory: There is no git on this machine, it cannot be run, or its answer has no end.
    """
    done = run(folder, *arguments, index=index)
    return done.stdout if done.returncode == 0 else None


def no_answer(folder: Path) -> NoHistory:
    """Return what is to be said where git waits for something that does not come."""
    return NoHistory(
        f"git has not answered for {LONGEST_S:.0f} seconds about {folder.as_posix()}; "
        '"git fsck" there tells what is wrong'
    )


def _limit_memory(pid: int) -> None:
    """Let a program have no more memory of its own than it needs; only Linux can be told so."""
    if sys.platform == "linux":
        # It may have ended already.
        with suppress(OSError, ValueError):
            soft, hard = resource.prlimit(pid, resource.RLIMIT_DATA)
            if soft == resource.RLIM_INFINITY or soft > MOST_MEMORY_BYTES:
                resource.prlimit(pid, resource.RLIMIT_DATA, (MOST_MEMORY_BYTES, hard))


def _pipe(found: IO[bytes] | None) -> IO[bytes]:
    if found is None:
        raise AssertionError("it was asked for as a pipe")
    return found


def _command(folder: Path, *arguments: str) -> list[str]:
    """Return the words that ask git something about a folder."""
    settings = [*_OFF.items(), *((_TRUSTED, folder) for folder in _trusted_folders())]
    words = [word for key, value in settings for word in ("-c", f"{key}={value}")]
    return [_program(), "--no-pager", "-C", str(folder), *words, *arguments]


def _program() -> str:
    """Return where git is: in a folder that the PATH names in full, never in the one somebody happens to be in."""
    # With its ending: Windows would also take a batch file of that name, and read its arguments as commands.
    name = "git.exe" if os.name == "nt" else "git"
    for folder in os.get_exec_path():
        if Path(folder).is_absolute() and (found := shutil.which(Path(folder, name))):
            return found
    raise NoHistory("there is no git on this machine")


def _environment() -> dict[str, str]:
    kept = {key: value for key, value in os.environ.items() if key in _KEPT or not key.startswith("GIT_")}
    return kept | {
        "GIT_OPTIONAL_LOCKS": "0",
        # A partial clone would fetch what it lacks; git knows the first of these only since 2.45.
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_ALLOW_PROTOCOL": "none",
        "GIT_TERMINAL_PROMPT": "0",
        "LC_ALL": "C",
    }


def _more(index: str, *, alone: bool) -> dict[str, str]:
    named = {"GIT_INDEX_FILE": index} if index else {}
    return named | ({"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"} if alone else {})


def _trusted_folders() -> list[str]:
    """Return the folders that the environment says are to be trusted whoever owns them."""
    count = os.environ.get("GIT_CONFIG_COUNT", "")
    return [
        os.environ.get(f"GIT_CONFIG_VALUE_{number}", "")
        for number in range(min(int(count), 100) if count.isdecimal() else 0)
        if os.environ.get(f"GIT_CONFIG_KEY_{number}", "").casefold() == _TRUSTED
    ]
