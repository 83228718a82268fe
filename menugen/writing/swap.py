"""Putting one folder in another's place, in a single step where the system can."""

import ctypes
import errno
import os
import sys
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
"""Linux, renameat2(2): the two names change places, and there is no instant at which either is missing."""

_RENAME_SWAP = 2
"""macOS, renamex_np(2); the same promise."""

_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP)
"""What a kernel or a file system answers that has no such step."""


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
