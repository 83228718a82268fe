"""The names of what is not finished yet, and clearing away what a run left of it that was killed.

Every name that menugen gives to something for a while is here, and nowhere else:

| name | what it is | lies | is cleared by |
|---|---|---|---|
| `.menugen-0123abcd` | a file before it has its place | beside it | the next write in that folder |
| `.tidy-0123abcd` | the same, of a file that is tidied | beside it | the next tidy, or write, there |
| `.SLUG.new-0123abcd` | an event's new folder; once exchanged, the old | in the output | the next publish there |
| `.SLUG.old-0123abcd` | an event's old folder, where two cannot be exchanged | in the output | likewise |
| `.SLUG.gone-0123abcd` | a folder that is being removed | in the output | likewise |
| `.menugen-exchange` | which folders are being exchanged | in the output | likewise, once they are put back |
| `.menugen-lock` | held while a run publishes | in the output | the run that holds it, or the next |
| `.SLUG.lock` | the same, in earlier versions | in the output | the next publish there |
| `.menugen-start-0123abcd` | a house in the making | beside its place, or in it | the next start, tidy, publish there |
| `.menugen-start` | held while a house is made | beside its place, or in it | the run that holds it, or the next |

A file is locked while it is written, and a folder is made under the lock beside it, so that what another run has in
hand is never taken for what a killed one left. On a disk without locks nothing is cleared but by a publish.
"""

import os
import re
import secrets
import shutil
import stat
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO, Literal, NamedTuple

from menugen.disk.lock import Busy, NoLocks, is_at, locked, take

EXCHANGE = ".menugen-exchange"
OUTPUT_LOCK = ".menugen-lock"
START_LOCK = ".menugen-start"

What = Literal["new", "old", "gone"]

_HEX = "[0-9a-f]{8}"
_FILE = re.compile(rf"\.(?:menugen|tidy)-{_HEX}|\.[0-9a-f]{{64}}\.{_HEX}")
"""The last form is what earlier versions wrote among photos made ready."""

_FOLDER = re.compile(rf"\.(.+)\.(new|old|gone)-{_HEX}")
_START = re.compile(rf"\.menugen-start-{_HEX}")


class EventFolder(NamedTuple):
    """What the name of an event's unfinished folder says.

    Attributes:
        slug: Whose it is.
        what: What it is.
    """

    slug: str
    what: What


def event_folder_name(slug: str, what: What) -> str:
    """Return a name for an unfinished folder of an event."""
    return f".{slug}.{what}-{secrets.token_hex(4)}"


def event_folder(name: str) -> EventFolder | None:
    """Return what an unfinished folder of an event is; None where the name is not of one."""
    found = _FOLDER.fullmatch(name)
    if found is None:
        return None
    what: What = "new" if found[2] == "new" else "old" if found[2] == "old" else "gone"
    return EventFolder(found[1], what)


def start_folder_name() -> str:
    """Return a name for the folder in which a house is made."""
    return f".menugen-start-{secrets.token_hex(4)}"


def is_of_start(name: str) -> bool:
    """Return whether a name is of a house in the making, or of its lock."""
    return name == START_LOCK or _START.fullmatch(name) is not None


@contextmanager
def unfinished_file(
    folder: Path, *, mode: int = 0o666, tidy: bool = False
) -> Iterator[tuple[BinaryIO, Path]]:
    """Lend a new file that has no place yet, and take it away again if it has none at the end.

    Args:
        folder: Where it lies: beside its place.
        mode: As for `os.open`.
        tidy: Whether it is of a file that is tidied, as a house's .gitignore has it.

    Raises:
        OSError: It cannot be made.
    """
    handle, path = _made(folder, mode, "tidy" if tidy else "menugen")
    try:
        try:
            file = os.fdopen(handle, "wb")
        except BaseException:
            os.close(handle)
            raise
        with file:
            yield file, path
    finally:
        with suppress(OSError):
            path.unlink()


def _made(folder: Path, mode: int, kind: str) -> tuple[int, Path]:
    while True:
        path = folder / f".{kind}-{secrets.token_hex(4)}"
        try:
            handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
        except FileExistsError:
            continue
        try:
            if _taken(handle) and is_at(handle, path):
                return handle, path
            # A run that clears up has come between: it has taken away the file of this name, or is about to.
            os.close(handle)
        except BaseException:
            os.close(handle)
            with suppress(OSError):
                path.unlink()
            raise


def _taken(handle: int) -> bool:
    try:
        return take(handle)
    except NoLocks:
        return True


def clear_unfinished(folder: Path) -> None:
    """Take away the files, and the houses, that killed runs left unfinished in a folder; nobody else's.

    What cannot be taken away stays, as this is not what anybody has asked for.
    """
    try:
        with os.scandir(folder) as entries:
            names = sorted(entry.name for entry in entries)
    except OSError:
        return
    for name in names:
        if _FILE.fullmatch(name):
            with suppress(OSError, NoLocks):
                _clear_file(folder / name)
    if any(map(is_of_start, names)):
        with suppress(OSError, NoLocks, Busy), locked(folder / START_LOCK, wait_seconds=0):
            clear_start_folders(folder)


def clear_earlier_locks(folder: Path, slugs: Iterable[str]) -> None:
    """Take away the lock files that earlier versions kept in an output folder, one for each event."""
    for slug in slugs:
        path = folder / f".{slug}.lock"
        with suppress(OSError, NoLocks):
            if path.lstat().st_size == 0:
                _clear_file(path)


def clear_start_folders(folder: Path, before: Callable[[Path], None] | None = None) -> None:
    """Take away the houses in the making that lie in a folder, under its lock.

    Args:
        folder: Where they lie.
        before: Told of each, while it is there.

    Raises:
        OSError: The folder cannot be looked into.
    """
    with os.scandir(folder) as entries:
        names = sorted(entry.name for entry in entries if entry.is_dir(follow_symlinks=False))
    for name in names:
        if _START.fullmatch(name):
            if before is not None:
                before(folder / name)
            shutil.rmtree(folder / name, ignore_errors=True)


def _clear_file(path: Path) -> None:
    if not stat.S_ISREG(path.lstat().st_mode):
        return
    handle = os.open(path, os.O_RDWR | getattr(os, "O_NOFOLLOW", 0))
    try:
        ours = take(handle) and is_at(handle, path)
        if ours and os.name != "nt":
            path.unlink()
    finally:
        os.close(handle)
    if ours and os.name == "nt":
        path.unlink()
