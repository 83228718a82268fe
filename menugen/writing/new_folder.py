"""Putting a folder of new files on the disk, all or nothing, without writing over anything.

What is new is made aside, in one folder beside its place or within it, and then takes its place. A fault takes away
again what this run has put there; what a killed run put there, the next one takes away, before it begins itself.
"""

import os
import shutil
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from menugen.disk import (
    START_LOCK,
    Busy,
    NoLocks,
    clear_start_folders,
    flush_file,
    flush_to_disk,
    is_of_start,
    locked,
    move,
    move_new,
    start_folder_name,
)
from menugen.writing.faults import CannotWrite, PublishFault, disk_faults

WAIT_SECONDS = 10.0
"""How long one start waits for another beside it to end."""


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
    at = folder if within else folder.parent
    with disk_faults(folder), _parents(folder.parent), _alone(at), _made_aside(at) as aside:
        _write(aside, files, runnable)
        if within:
            there = _move_in(aside, folder, may_be_there, last)
            _settle_name(folder)
            return there
        try:
            move(aside, folder)
        except OSError as fault:
            if os.path.lexists(folder):
                raise InTheWay(
                    f"{folder} was made by someone else just now, and is as they made it"
                ) from fault
            raise
        _settle_name(at)
    return ()


def take_back_stopped(
    folder: Path, files: Mapping[str, bytes], *, may_be_there: Collection[str] = (), last: str = ""
) -> None:
    """Take away what a run left in a folder that was killed before it had moved everything in.

    Only what is byte for byte what would be put there now is taken away, and nothing once `last` is there.

    Args:
        folder: A folder that is there.
        files: As in `put_new_folder`, like the others.
        may_be_there: What is never taken away.
        last: What says that everything is there.

    Raises:
        InTheWay: Another run is at work.
        CannotWrite: The disk or the system refused.
    """

    def take_back(aside: Path) -> None:
        if last and os.path.lexists(folder / last):
            return
        back = aside / start_folder_name()
        back.mkdir()
        for name in {path.partition("/")[0] for path in files} - set(may_be_there):
            ours = {path: content for path, content in files.items() if path.partition("/")[0] == name}
            if _holds_only(folder, name, ours):
                move(folder / name, back / name)

    with disk_faults(folder):
        if any(is_of_start(path.name) for path in folder.iterdir()):
            with _alone(folder, take_back):
                pass


def _holds_only(folder: Path, name: str, files: Mapping[str, bytes]) -> bool:
    """Return whether a file or folder is as a run puts it there, or a part of that, and holds nothing else."""
    place = folder / name
    if place.is_symlink() or not place.exists():
        return False
    for path in (place, *place.rglob("*")):
        if path.is_symlink():
            return False
        if not path.is_dir() and files.get(path.relative_to(folder).as_posix()) != path.read_bytes():
            return False
    return True


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
def _alone(at: Path, before: Callable[[Path], None] | None = None) -> Iterator[None]:
    """Keep other runs out of a folder, and clear away what killed ones left there.

    Args:
        at: The folder.
        before: Told of each house in the making, before it goes.
    """
    with ExitStack() as held:
        try:
            held.enter_context(locked(at / START_LOCK, wait_seconds=WAIT_SECONDS))
            clear_start_folders(at, before)
        except Busy:
            raise InTheWay(f"another start is at work in {at}: try again once it has ended") from None
        except NoLocks:
            # Names are taken by one run alone even so; what a killed run leaves has to be removed by hand.
            pass
        yield


@contextmanager
def _made_aside(at: Path) -> Iterator[Path]:
    aside = at / start_folder_name()
    aside.mkdir()
    try:
        yield aside
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def _settle_name(folder: Path) -> None:
    """Wait until what took its place there is on the disk; it is in place already, so that nothing hangs on it."""
    with suppress(OSError):
        flush_file(folder)


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
    flush_to_disk(aside, written)


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
                    move(folder / name, aside / name)
        raise
    return tuple(there)


def _move_folder(made: Path, place: Path) -> None:
    # A system lets a folder take the place of an empty one without a word.
    if os.path.lexists(place):
        raise InTheWay(f"{place} is there already, and is as it was")
    move(made, place)


def _move_file(made: Path, place: Path) -> None:
    try:
        move_new(made, place)
    except FileExistsError:
        raise InTheWay(f"{place} is there already, and is as it was") from None


__all__ = ["CannotWrite", "InTheWay", "put_new_folder", "take_back_stopped"]
