"""Keeping runs apart by locks on files, which the system lets go of when a run ends, however it ends."""

import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_HELD = (errno.EAGAIN, errno.EWOULDBLOCK, errno.EACCES, errno.EDEADLK)
_NONE = (errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOLCK, errno.EINVAL)
_AGAIN_SECONDS = 0.05


class Busy(Exception):
    """Another run has the lock, and did not let go of it in time."""


class NoLocks(Exception):
    """This disk has no locks."""


@contextmanager
def locked(path: Path, *, wait_seconds: float) -> Iterator[None]:
    """Hold a lock for a while; the file is made for it, and taken away again at the end.

    Args:
        path: The lock file, on the disk that is written to, so that runs on two machines see the same one.
        wait_seconds: How long to wait for another run.

    Raises:
        Busy: Another run has it.
        NoLocks: The disk has none.
        OSError: The file cannot be made.
    """
    until = time.monotonic() + wait_seconds
    while (handle := _opened(path)) is None:
        if time.monotonic() >= until:
            raise Busy(str(path))
        time.sleep(_AGAIN_SECONDS)
    try:
        yield
    finally:
        _let_go(path, handle)


def take(handle: int) -> bool:
    """Lock an open file for this run, which ends with its handle.

    Returns:
        Whether it is ours; False where another run has it.

    Raises:
        NoLocks: The disk has none.
        OSError: The disk failed.
    """
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as fault:
        if fault.errno in _HELD:
            return False
        if fault.errno in _NONE:
            raise NoLocks(str(fault)) from fault
        raise
    return True


def is_at(handle: int, path: Path) -> bool:
    """Return whether an open file is still the one of that name."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat())
    except FileNotFoundError:
        return False


def _opened(path: Path) -> int | None:
    """Return the lock file, open and locked; None where another run has it."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    try:
        # Whoever held it has taken the file away at the end: a lock on a file without a name keeps nobody out.
        if take(handle) and is_at(handle, path):
            return handle
    except BaseException:
        os.close(handle)
        raise
    os.close(handle)
    return None


def _let_go(path: Path, handle: int) -> None:
    if os.name == "nt":
        # Windows takes away no file that is open, and so none that another run has opened meanwhile.
        os.close(handle)
        with suppress(OSError):
            path.unlink()
        return
    try:
        with suppress(OSError):
            path.unlink()
    finally:
        os.close(handle)
