"""Putting the new folders of all events in their places: all of them, or none.

Before the first is touched, a record of what is going to be done lies on the disk; taking it away again is the one step
by which everything counts as published. While it is there, everything can be put back, and is: by the run itself where
the disk refuses a step, and by the next where it was killed. Which folder is the new one is read from its marker, which
names its contents, so that it does not matter after which step a run ended.
"""

import json
import os
import shutil
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from menugen.disk import (
    EXCHANGE,
    clear_earlier_locks,
    clear_unfinished,
    event_folder,
    event_folder_name,
    exchange,
    flush_file,
    move,
    write_whole,
)
from menugen.writing.faults import CannotWrite, reason_of
from menugen.writing.output import MARKER

_FORM = 1
_MARKER_TEXT = "Made by menugen, which replaces this whole folder at each publish: keep nothing else in it.\n"


def marker_of(contents: str) -> bytes:
    """Return the marker of a folder.

    Args:
        contents: A digest of all that is in it, in hex.
    """
    return f"{_MARKER_TEXT}contents {contents}\n".encode()


class Step(NamedTuple):
    """What is done with one folder of the output.

    Attributes:
        place: Its name.
        new: Name of the folder that takes its place; empty where it is removed.
        aside: What it is called after, where the two do not change places.
        contents: The digest of the new folder.
        there: Whether there is something in its place before.
    """

    place: str
    new: str
    aside: str
    contents: str
    there: bool

    @property
    def kept(self) -> tuple[str, ...]:
        """The names under which what was there may lie afterwards."""
        return tuple(filter(None, (self.new, self.aside)))


def step_to_publish(target: Path, slug: str, new: str, contents: str) -> Step:
    """Return the step by which a new folder of an event takes its place."""
    return Step(slug, new, event_folder_name(slug, "old"), contents, os.path.lexists(target / slug))


def step_to_remove(place: str) -> Step:
    """Return the step by which a folder is removed."""
    return Step(place, "", event_folder_name(place, "gone"), "", there=True)


def exchange_all(target: Path, steps: Sequence[Step]) -> None:
    """Take all steps, or none.

    Args:
        target: The output folder, which no other run writes to.
        steps: For folders that are all on the disk.

    Raises:
        CannotWrite: The disk or the system refused. Everything is as it was, or the message says what is where.
    """
    doing = target
    recorded = False
    try:
        try:
            write_whole(target / EXCHANGE, _record(steps))
            recorded = True
            flush_file(target)
            for step in steps:
                doing = target / step.place
                _take(target, step)
            doing = target
            flush_file(target)
            (target / EXCHANGE).unlink()
        except BaseException as fault:
            if _is_published(target, steps):
                if isinstance(fault, OSError):
                    return
                raise
            unable = _put_back(target, steps) if recorded else {}
            if unable:
                raise CannotWrite(_torn(target, steps, doing, fault, unable)) from fault
            raise
    except OSError as fault:
        word = "everything published there is as it was" if len(steps) > 1 else "it is as it was"
        raise CannotWrite(f"{doing} cannot be written: {reason_of(fault)}; {word}") from fault


def _is_published(target: Path, steps: Sequence[Step]) -> bool:
    """Return whether all is done in spite of a fault: a network disk may do what it says it did not."""
    try:
        return (
            not os.path.lexists(target / EXCHANGE)
            and all(_has(target / step.place, step.contents) for step in steps if step.new)
            and not any(os.path.lexists(target / step.place) for step in steps if not step.new)
        )
    except OSError:
        return False


def clear_replaced(target: Path, steps: Iterable[Step]) -> None:
    """Take away what the steps replaced or removed, once they are all done; what is left goes at the next run."""
    with suppress(OSError):
        # A power cut must not bring back the record of the exchange when half of what it replaced is gone.
        flush_file(target)
        for step in steps:
            for name in step.kept:
                _clear(target, name)


def mend(target: Path) -> tuple[str, ...]:
    """Put back what a run exchanged that was killed meanwhile, and take away all that such runs left.

    Args:
        target: The output folder, which no other run writes to.

    Returns:
        Names of the folders that were put back.

    Raises:
        CannotWrite: They cannot be.
        OSError: The folder cannot be looked into.
    """
    steps = _recorded(target)
    back: list[str] = []
    if steps:
        unable = _put_back(target, steps, back.append)
        if unable:
            raise CannotWrite(
                f"an earlier publish was stopped half-way, and cannot be undone: {_where(target, steps, unable)}"
            )
    clear_unfinished(target)
    with os.scandir(target) as entries:
        names = sorted(entry.name for entry in entries if entry.is_dir(follow_symlinks=False))
    clear_earlier_locks(target, [name for name in names if (target / name / MARKER).is_file()])
    for name in names:
        found = event_folder(name)
        if found is None:
            continue
        if found.what == "old" and not os.path.lexists(target / found.slug):
            move(target / name, target / found.slug)
        else:
            _clear(target, name)
    return tuple(back)


def _take(target: Path, step: Step) -> None:
    place, new, aside = target / step.place, target / step.new, target / step.aside
    if not step.new:
        move(place, aside)
    elif not step.there:
        move(new, place)
    elif not exchange(new, place):
        # No single step here: between the two, only the record says where the old output is.
        move(place, aside)
        move(new, place)


def _put_back(
    target: Path, steps: Sequence[Step], told: Callable[[str], object] = lambda _name: None
) -> dict[str, str]:
    """Undo whichever steps were taken, and take the record away; return why that could not be done, by place."""
    unable: dict[str, str] = {}
    for step in reversed(steps):
        try:
            if _undo(target, step):
                told(step.place)
        except OSError as fault:
            unable[step.place] = reason_of(fault)
    if not unable:
        try:
            flush_file(target)
            (target / EXCHANGE).unlink(missing_ok=True)
        except OSError as fault:
            if os.path.lexists(target / EXCHANGE):
                unable[EXCHANGE] = reason_of(fault)
    return unable


def _undo(target: Path, step: Step) -> bool:
    """Undo a step, however far it was taken, and return whether there was anything to undo."""
    place, new, aside = target / step.place, target / step.new, target / step.aside
    lies_aside = os.path.lexists(aside)
    moved = exchanged = False
    if step.new and _has(place, step.contents):
        moved = not os.path.lexists(new) and (lies_aside or not step.there)
        exchanged = step.there and _is_old(new, step)
    if moved:
        move(place, new)
    elif exchanged and not exchange(new, place):
        raise OSError("two folders can no longer be exchanged")
    back = lies_aside and not os.path.lexists(place)
    if back:
        move(aside, place)
    return moved or exchanged or back


def _is_old(new: Path, step: Step) -> bool:
    """Return whether what is called new is what the new folder has changed places with."""
    return os.path.lexists(new) and not _has(new, step.contents)


def _has(folder: Path, contents: str) -> bool:
    """Return whether a folder is one with these contents."""
    try:
        return (folder / MARKER).read_bytes() == marker_of(contents)
    except (FileNotFoundError, NotADirectoryError):
        return False


def _clear(target: Path, name: str) -> None:
    """Take away a folder that is of no use, as far as the disk allows."""
    folder = target / name
    found = event_folder(name)
    if found and found.what == "old":
        # Half of an old output must not be taken for one that can be put back.
        gone = target / event_folder_name(found.slug, "gone")
        try:
            move(folder, gone)
        except OSError:
            return
        folder = gone
    shutil.rmtree(folder, ignore_errors=True)


def _record(steps: Sequence[Step]) -> bytes:
    return (json.dumps({"exchange": _FORM, "steps": steps}) + "\n").encode()


def _recorded(target: Path) -> tuple[Step, ...]:
    """Return the steps that a killed run was taking; none where there is no such run.

    Raises:
        CannotWrite: There is a record that menugen did not write.
    """
    try:
        text = (target / EXCHANGE).read_bytes()
    except FileNotFoundError:
        return ()
    try:
        steps = tuple(Step(*step) for step in json.loads(text)["steps"])
        good = all(map(_is_plain, steps))
    except (ValueError, TypeError, KeyError):
        good = False
    if not good:
        raise CannotWrite(
            f"{target / EXCHANGE} is not as menugen writes it: see which folders there are whole, then remove it"
        )
    return steps


def _is_plain(step: Step) -> bool:
    """Return whether a step is of folders in the output folder alone."""
    names = (step.place, *step.kept)
    return (
        isinstance(step.contents, str)
        and isinstance(step.there, bool)
        and all(isinstance(name, str) and Path(name).name == name and "\\" not in name for name in names)
        and bool(step.place)
        and all(event_folder(name) for name in step.kept)
    )


def _torn(
    target: Path, steps: Sequence[Step], doing: Path, fault: BaseException, unable: dict[str, str]
) -> str:
    reason = reason_of(fault) if isinstance(fault, OSError) else "the run was stopped"
    where = _where(target, steps, unable)
    return f"{doing} cannot be written: {reason}; what had changed could not be put back: {where}"


def _where(target: Path, steps: Sequence[Step], unable: dict[str, str]) -> str:
    """Return which folder is new and which is old, and where the old one lies, after steps that cannot be undone."""
    told = []
    for step in steps:
        place = target / step.place
        if step.place in unable:
            told.append(f"{_how(target, step)} ({unable[step.place]})")
        else:
            told.append(f"{place} is as it was")
    if EXCHANGE in unable:
        told.append(f"{target / EXCHANGE} cannot be removed ({unable[EXCHANGE]})")
    return f"{', '.join(told)}; the next publish there tries again, so leave these folders where they are"


def _how(target: Path, step: Step) -> str:
    place = target / step.place
    old = next((target / name for name in (step.aside, step.new) if os.path.lexists(target / name)), None)
    try:
        is_new = bool(step.new) and _has(place, step.contents)
    except OSError:
        return f"{place} may be the old or the new"
    if is_new:
        return f"{place} is new, and what it replaced is {old}" if step.there else f"{place} is new"
    if os.path.lexists(place):
        return f"{place} is as it was"
    if not step.there:
        return f"{place} is not there, as before"
    return f"{place} is missing, and what was there is {old}"
