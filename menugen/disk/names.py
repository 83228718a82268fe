"""Names on disks that do not tell capitals from small letters, or one way of writing an accent from another."""

import os
from pathlib import Path

from menugen.names import folded


def is_same(one: Path, other: Path) -> bool:
    """Return whether two paths are of one file or folder, links left out: on such a disk it has many names.

    Args:
        one: A path without links and "..".
        other: Another.
    """
    if one == other:
        return True
    if folded(str(one)) != folded(str(other)) or not (os.path.lexists(one) and os.path.lexists(other)):
        return False
    pairs = zip((one, *one.parents), (other, *other.parents), strict=False)
    return all(_is_one_name(*pair) for pair in pairs if pair[0].name != pair[1].name)


def _is_one_name(one: Path, other: Path) -> bool:
    """Return whether there is one entry for two names; what files are numbered by is not the same on every disk."""
    try:
        names = os.listdir(one.parent)  # noqa: PTH208  (a Path for each would cost more than all the rest)
        return not (one.name in names and other.name in names)
    except OSError:
        return False


def is_within(path: Path, folder: Path) -> bool:
    """Return whether a path is of a folder, or of something in it.

    Args:
        path: Without links and "..".
        folder: Likewise.
    """
    return any(is_same(at, folder) for at in (path, *path.parents))
