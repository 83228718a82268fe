"""What only the operating system can do: let two folders change places, move one, and wait for the disk."""

import ctypes
import errno
import os
import sys
from collections.abc import Iterable
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
"""Linux, renameat2(2): the two names change places, and there is no instant at which either is missing."""

_RENAME_NOREPLACE = 1
"""Linux, renameat2(2): the new name must be free."""

_RENAME_EXCL = 4
"""macOS, renamex_np(2); the same."""

_RENAME_SWAP = 2
"""macOS, renamex_np(2); the same promise."""

_NO_LINKS = (errno.EPERM, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EMLINK, errno.EINVAL)
"""What a disk answers that gives a file no second name."""

_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP)
"""What a kernel or a file system answers that has no such call."""


def exchange(one: Path, other: Path) -> bool:
    """Let two folders on one file system change places.

    Returns:
        Whether it was done; False where the system has no such step, with nothing changed.

    Raises:
        OSError: It has, but it failed; nothing changed.
    """
    here, there = one.lstat(), other.lstat()
    try:
        return _exchanged(os.fsencode(one), os.fsencode(other))
    except OSError:
        if not (_is(one, there) and _is(other, here)):
            raise
        return True


def _exchanged(one: bytes, other: bytes) -> bool:
    if sys.platform == "linux":
        return _called("renameat2", _AT_FDCWD, one, _AT_FDCWD, other, _RENAME_EXCHANGE)
    if sys.platform == "darwin":
        return _called("renamex_np", one, other, _RENAME_SWAP)
    return False


def move(one: Path, other: Path) -> None:
    """Give a folder another name.

    Raises:
        OSError: The disk refused, and nothing changed.
    """
    what = one.lstat()
    try:
        one.rename(other)
    except OSError:
        if os.path.lexists(one) or not _is(other, what):
            raise


def move_new(one: Path, other: Path) -> None:
    """Give a file another name, which must be free; it may keep the first one, too.

    Raises:
        FileExistsError: There is something of that name.
        OSError: The disk refused, and nothing changed.
    """
    try:
        os.link(one, other)
        return
    except OSError as fault:
        if _is(other, one.lstat()):
            return
        if fault.errno not in _NO_LINKS:
            raise
    if os.name == "nt" or not _renamed_new(os.fsencode(one), os.fsencode(other)):
        # Windows refuses a name that is taken; elsewhere nothing but a look tells.
        if os.path.lexists(other):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(other))
        move(one, other)


def _renamed_new(one: bytes, other: bytes) -> bool:
    if sys.platform == "linux":
        return _called("renameat2", _AT_FDCWD, one, _AT_FDCWD, other, _RENAME_NOREPLACE)
    if sys.platform == "darwin":
        return _called("renamex_np", one, other, _RENAME_EXCL)
    return False


def _is(path: Path, what: os.stat_result) -> bool:
    """Return whether a path is of that folder.

    A network disk that is asked twice, as an answer was lost, may have done it the first time and refuse the second.
    """
    try:
        return os.path.samestat(path.lstat(), what)
    except OSError:
        return False


def flush_to_disk(folder: Path, written: Iterable[Path]) -> None:
    """Wait until a folder and what was written in it are on the disk, as far as the system can be asked to.

    Linux stores a whole file system in one call, syncfs(2): a thousand pages one by one would take seconds.

    Args:
        folder: The folder.
        written: Files and folders within it.

    Raises:
        OSError: The disk failed or is full.
    """
    if sys.platform == "linux":
        handle = os.open(folder, os.O_RDONLY)
        try:
            if _called("syncfs", handle):
                return
        finally:
            os.close(handle)
    for path in (*written, folder):
        flush_file(path)


def flush_file(path: Path) -> None:
    """Wait until a file's contents, or the names in a folder, are on the disk; see `flush_to_disk`."""
    if os.name == "nt" and path.is_dir():
        return
    # Windows waits only for what is open for writing.
    handle = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
    try:
        flush_handle(handle)
    finally:
        os.close(handle)


def flush_handle(handle: int) -> None:
    """Wait until an open file's contents, or the names in an open folder, are on the disk; see `flush_to_disk`."""
    try:
        os.fsync(handle)
    except OSError as fault:
        # Some network file systems cannot be asked for this; a disk that fails or is full is another matter.
        if fault.errno not in (*_CANNOT, errno.EROFS):
            raise


def _called(name: str, *arguments: int | bytes) -> bool:
    function = getattr(ctypes.CDLL(None, use_errno=True), name, None)
    if function is None:
        return False
    if function(*arguments) == 0:
        return True
    fault = ctypes.get_errno()
    if fault in _CANNOT:
        return False
    raise OSError(fault, os.strerror(fault))
