"""Putting a folder of new files on the disk, all or nothing, without writing over anything.

What is new is made aside, in one folder beside its place or within it, and then takes its place. A fault takes away
again what this run has put there. A run that is killed leaves the folder aside, and no second run begins beside it.
"""

import errno
import os
import shutil
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from menugen.writing.disk import settle
from menugen.writing.publish import CannotWrite, PublishFault, disk_faults

_NO_LINKS = (errno.EPERM, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EMLINK, errno.EINVAL)
"""What a disk answers that gives a file no second name."""


class InTheWay(PublishFault):
    """Something that was not there a moment ago is where a new file should go; nothing was written."""


def put_new_folder(
    folder: Path,
    files: Mapping[str, bytes],
    *,
    runnable: Collection[str] = (),
    may_be_there: Collection[str] = (),
    last: str = "",
) -> tuple[str, ...]:
    """Put files in a folder, which is made if it is missing; nothing in it is written over.

    Args:
        folder: Where they go, without links and "..".
        files: Contents by POSIX path within it.
        runnable: Those that a shell may run.
        may_be_there: Those at the top that stay as they are where the folder has them already.
        last: The file at the top without which the folder is nothing; it comes after all others.

    Returns:
        Those that were there already, and are as they were.

    Raises:
        InTheWay: Another of them is there already, or another run is at work.
        CannotWrite: The disk or the system refused.
    """
    within = folder.is_dir()
    aside = folder / ".start" if within else folder.with_name(f".{folder.name}.start")
    with disk_faults(folder), _parents(folder.parent), _made_aside(aside):
        _write(aside, files, runnable)
        if within:
            return _move_in(aside, folder, may_be_there, last)
        try:
            aside.rename(folder)
        except OSError as fault:
            if os.path.lexists(folder):
                raise InTheWay(
                    f"{folder} was made by someone else just now, and is as they made it"
                ) from fault
            raise
    return ()


@contextmanager
def _parents(folder: Path) -> Iterator[None]:
    """Make the folders above, and take away again those that are of no use after a fault."""
    missing = [place for place in (folder, *folder.parents) if not place.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for place in missing:
            with suppress(OSError):
                place.rmdir()
        raise


@contextmanager
def _made_aside(aside: Path) -> Iterator[None]:
    try:
        aside.mkdir()
    except FileExistsError:
        raise InTheWay(
            f"{aside} is there: another start is at work, or one was stopped half-way; remove it once none is"
        ) from None
    try:
        yield
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def _write(aside: Path, files: Mapping[str, bytes], runnable: Collection[str]) -> None:
    written = []
    for name, content in files.items():
        path = aside / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(content)
        if name in runnable:
            path.chmod(0o755)
        written.append(path)
    settle(aside, written)


def _move_in(aside: Path, folder: Path, may_be_there: Collection[str], last: str) -> tuple[str, ...]:
    """Move what lies aside into a folder, name by name; whatever is in the way undoes it all."""
    names = sorted((path.name for path in aside.iterdir()), key=lambda name: (name == last, name))
    placed: list[str] = []
    there = []
    try:
        for name in names:
            if (aside / name).is_dir():
                _move_folder(aside / name, folder / name)
            elif name in may_be_there and os.path.lexists(folder / name):
                there.append(name)
                continue
            else:
                _move_file(aside / name, folder / name)
            placed.append(name)
    except BaseException:
        for name in reversed(placed):
            with suppress(OSError):
                if (aside / name).exists():
                    (folder / name).unlink()
                else:
                    (folder / name).rename(aside / name)
        raise
    return tuple(there)


def _move_folder(made: Path, place: Path) -> None:
    # A system lets a folder take the place of an empty one without a word.
    if os.path.lexists(place):
        raise InTheWay(f"{place} is there already, and is as it was")
    made.rename(place)


def _move_file(made: Path, place: Path) -> None:
    """Give a file its second name, which a system refuses where there is such a file; the first goes with the rest."""
    try:
        os.link(made, place)
    except FileExistsError:
        raise InTheWay(f"{place} is there already, and is as it was") from None
    except OSError as fault:
        if fault.errno not in _NO_LINKS:
            raise
        _copy_file(made, place)


def _copy_file(made: Path, place: Path) -> None:
    try:
        file = place.open("xb")
    except FileExistsError:
        raise InTheWay(f"{place} is there already, and is as it was") from None
    try:
        with file:
            file.write(made.read_bytes())
    except BaseException:
        place.unlink(missing_ok=True)
        raise


__all__ = ["CannotWrite", "InTheWay", "put_new_folder"]
