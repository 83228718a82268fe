"""What only the operating system can do for a publish: let two folders change places, and wait for the disk."""

import ctypes
import errno
import os
import sys
from collections.abc import Iterable
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
"""Linux, renameat2(2): the two names change places, and there is no instant at which either is missing."""

_RENAME_SWAP = 2
"""macOS, renamex_np(2); the same promise."""

_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP)
"""What a kernel or a file system answers that has no such call."""


def exchange(one: Path, other: Path) -> bool:
    """Let two folders on one file system change places.

    Returns:
        Whether it was done; False where the system has no such step, with nothing changed.

    Raises:
        OSError: It has, but it failed; nothing changed.
    """
    if sys.platform == "linux":
        return _called(
            "renameat2", _AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE
        )
    if sys.platform == "darwin":
        return _called("renamex_np", os.fsencode(one), os.fsencode(other), _RENAME_SWAP)
    return False


def settle(folder: Path, written: Iterable[Path]) -> None:
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
        settle_one(path)


def settle_one(path: Path) -> None:
    """Wait until a file's contents, or the names in a folder, are on the disk; see `settle`."""
    if os.name == "nt" and path.is_dir():
        return
    # Windows waits only for what is open for writing.
    handle = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError as fault:
        # Some network file systems cannot be asked for this; a disk that fails or is full is another matter.
        if fault.errno not in (*_CANNOT, errno.EROFS):
            raise
    finally:
        os.close(handle)


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
