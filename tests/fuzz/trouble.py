"""A disk that lets a run down: it kills it, refuses, does what it says it did not, or is slow, at any one call.

Used by the tests with a few fixed cases, and by kills.py and disks.py for as long as anybody likes.
"""

import builtins
import errno
import io
import os
import tempfile
import time
import traceback
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any
from unittest import mock

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

from menugen.disk import system
from menugen.names import folded

KILLED = 9
"""How a run ends that was killed."""

NAMED = ("mkdir", "rename", "replace", "link", "unlink", "rmdir", "chmod", "scandir", "lstat")
"""Calls of `os` that are told a path."""

WITH_HANDLE = ("fsync", "fdopen", "flock")

CHANGES = frozenset({"mkdir", "rename", "replace", "link", "unlink", "rmdir", "chmod", "renameat2"})
"""Calls that a network disk may carry out and yet report as failed."""

Trouble = Callable[[str, Callable[[], Any]], Any]
"""What happens instead of a call: given its name, and the call itself."""


class Disk:
    """Counts what a run asks of the disk, and makes trouble at some of the calls.

    Attributes:
        calls: The names of the calls so far.
    """

    def __init__(self, under: Path, wanted: Callable[[int, str], bool], trouble: Trouble) -> None:
        """Remember what is to happen.

        Args:
            under: Only calls for what lies here, for what is named from the current folder, and for open files count.
            wanted: Whether there is trouble at a call, given its number from 1 and its name.
            trouble: Which.
        """
        self.calls: list[str] = []
        self._under = str(under)
        self._wanted = wanted
        self._trouble = trouble

    def asked(self, name: str, call: Callable[[], Any]) -> Any:
        self.calls.append(name)
        return self._trouble(name, call) if self._wanted(len(self.calls), name) else call()

    def _counts(self, name: str, given: tuple[object, ...], named: dict[str, object]) -> bool:
        if named.get("dir_fd") is not None or named.get("src_dir_fd") is not None:
            return True
        told = 2 if name in ("rename", "replace", "link") else 1
        paths = [str(os.fspath(one)) for one in given[:told] if isinstance(one, (str, os.PathLike))]
        return any(self._under in path or not Path(path).is_absolute() for path in paths)

    @contextmanager
    def between(self) -> Iterator["Disk"]:
        """Stand between a run and the disk."""

        def wrapped(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
            def run(*given: Any, **named: Any) -> Any:
                if name in WITH_HANDLE or self._counts(name, given, named):
                    return self.asked(name, lambda: function(*given, **named))
                return function(*given, **named)

            return run

        def called(name: str, *given: Any) -> bool:
            return bool(self.asked(name, lambda: original(name, *given)))

        with ExitStack() as held:
            held.enter_context(without_waiting())
            original = system._called
            for name in (*NAMED, "fsync", "fdopen", "open"):
                held.enter_context(mock.patch.object(os, name, wrapped(name, getattr(os, name))))
            opened = wrapped("open", io.open)
            held.enter_context(mock.patch.object(io, "open", opened))
            held.enter_context(mock.patch.object(builtins, "open", opened))
            held.enter_context(mock.patch.object(system, "_called", called))
            if fcntl is not None:
                held.enter_context(mock.patch.object(fcntl, "flock", wrapped("flock", fcntl.flock)))
            yield self


@contextmanager
def without_waiting() -> Iterator[None]:
    """Let nothing wait for the disk: no test can pull the plug, and a busy machine takes seconds for each."""
    original = system._called

    def called(name: str, *given: Any) -> bool:
        return True if name == "syncfs" else original(name, *given)

    with mock.patch.object(os, "fsync", return_value=None), mock.patch.object(system, "_called", called):
        yield


def killed(_name: str, _call: Callable[[], Any]) -> Any:
    """End the run there and then, as a power cut or SIGKILL does: nothing is cleared up, nothing is flushed."""
    os._exit(KILLED)


class Dead(BaseException):
    """A run that does nothing more."""


def dead(_name: str, _call: Callable[[], Any]) -> Any:
    """Refuse a call and, with `since`, all that follow: nearly as `killed`, and a hundred times as fast."""
    raise Dead


def refused(number: int) -> Trouble:
    """Refuse a call, with this errno."""

    def refuse(name: str, _call: Callable[[], Any]) -> Any:
        raise OSError(number, os.strerror(number), name)

    return refuse


def done_and_refused(number: int = errno.ENOENT) -> Trouble:
    """Do what changes something, and say that it failed: an answer was lost, and the call sent again."""

    def refuse(name: str, call: Callable[[], Any]) -> Any:
        result = call()
        if name in CHANGES:
            raise OSError(number, os.strerror(number), name)
        return result

    return refuse


def slow(seconds: float) -> Trouble:
    """Let a call wait."""

    def wait(_name: str, call: Callable[[], Any]) -> Any:
        time.sleep(seconds)
        return call()

    return wait


def at(number: int) -> Callable[[int, str], bool]:
    """Return what wants trouble at one call."""
    return lambda count, _name: count == number


def since(number: int) -> Callable[[int, str], bool]:
    """Return what wants trouble at a call and at all that follow."""
    return lambda count, _name: count >= number


def by_two_names(held: ExitStack) -> None:
    """Be a disk, for a while, that cannot exchange two folders."""
    held.enter_context(mock.patch.object(system, "_exchanged", return_value=False))


def in_a_process_of_its_own(work: Callable[[], int]) -> int:
    """Run something that may be killed, and return its exit code."""
    child = os.fork()
    if child == 0:
        try:
            os._exit(work())
        except BaseException:  # noqa: BLE001  (the child must never come back into the test run)
            traceback.print_exc()
            os._exit(70)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


_NAMED_TOO = ("stat", "open", "access", "readlink", "listdir", "utime")


def _as_listed(found: str, names: Iterable[str], listed: Callable[[str], list[str]]) -> str:
    """Return a path in the letters it was made with."""
    for name in names:
        try:
            same = [one for one in listed(found) if folded(one) == folded(name)]
        except OSError:
            same = []
        found = f"{found}/{same[0] if same else name}"
    return found


@contextmanager
def blind_to_case(under: Path) -> Iterator[None]:
    """Let a folder be on a disk that takes names for one that differ in case alone, or in how accents are written.

    As such disks do, it keeps the name that a file was made with.
    """

    def spelled(given: Any) -> Any:
        if not isinstance(given, (str, bytes, os.PathLike)):
            return given
        typed = os.fspath(given)
        path = os.path.abspath(os.fsdecode(typed))  # noqa: PTH100
        if not path.startswith(f"{under}/"):
            return given
        found = _as_listed(str(under), path[len(str(under)) + 1 :].split("/"), listed)
        return os.fsencode(found) if isinstance(typed, bytes) else found

    def wrapped(function: Callable[..., Any], paths: int) -> Callable[..., Any]:
        def run(*given: Any, **named: Any) -> Any:
            if any(name.endswith("dir_fd") and it is not None for name, it in named.items()):
                return function(*given, **named)
            return function(*map(spelled, given[:paths]), *given[paths:], **named)

        return run

    def exchanged(one: bytes, other: bytes) -> bool:
        return bool(exchange(spelled(one), spelled(other)))

    listed, exchange = os.listdir, system._exchanged
    with ExitStack() as held:
        for name in (*NAMED, *_NAMED_TOO):
            paths = 2 if name in ("rename", "replace", "link") else 1
            held.enter_context(mock.patch.object(os, name, wrapped(getattr(os, name), paths)))
        opened = wrapped(io.open, 1)
        held.enter_context(mock.patch.object(io, "open", opened))
        held.enter_context(mock.patch.object(builtins, "open", opened))
        held.enter_context(mock.patch.object(system, "_exchanged", exchanged))
        yield


@contextmanager
def folder_in_memory(other: Path) -> Iterator[Path]:
    """Lend a folder on a disk in memory, where the system has one, and else another: thousands are made."""
    memory = Path("/dev/shm")  # noqa: S108
    if not os.access(memory, os.W_OK):
        yield other
        return
    with tempfile.TemporaryDirectory(dir=memory) as folder:
        yield Path(folder)


def whole(folder: Path) -> dict[str, bytes]:
    """Return everything below a folder by path: a file's content, a link's target, nothing for a folder."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = b"-> " + os.fsencode(path.readlink())
        else:
            found[name] = path.read_bytes() if path.is_file() else b""
    return found
