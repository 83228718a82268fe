"""What keeps a publish from the disk, in plain words."""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class PublishFault(Exception):
    """Nothing was published, and the last output is as it was. `message` says why, in plain words."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


class NotOurs(PublishFault):
    """What stands where the output should go was not made by menugen, so it is left alone."""


class CannotWrite(PublishFault):
    """The disk or the system refused."""


_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EFBIG: "a file would be larger than the system allows",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "permission to write there is missing",
    errno.EPERM: "permission to write there is missing",
    errno.ENOTDIR: "a part of that path is a file",
    errno.EEXIST: "a part of that path is a file",
    errno.ENOTEMPTY: "another program has put files there meanwhile",
    errno.ENAMETOOLONG: "a name is too long for this disk",
    errno.EIO: "the disk reports a fault",
    errno.EBUSY: "another program or a mounted disk has hold of it",
    errno.EXDEV: "it lies on another disk than the folder around it",
    errno.ESTALE: "the network disk has lost sight of it",
    errno.ETIMEDOUT: "the network disk does not answer",
}
_IN_USE = 32
"""Windows: another program has a file open there (ERROR_SHARING_VIOLATION)."""


def reason_of(fault: OSError) -> str:
    """Return why the disk or the system refused, as the end of a sentence."""
    if getattr(fault, "winerror", None) == _IN_USE:
        return "another program has a file there open"
    return _REASONS.get(fault.errno or 0, (fault.strerror or str(fault)).lower())


@contextmanager
def disk_faults(place: Path) -> Iterator[None]:
    """Turn what the disk or the system refuses, while a place is written, into CannotWrite."""
    try:
        yield
    except OSError as fault:
        raise CannotWrite(f"{place} cannot be written: {reason_of(fault)}") from fault
