"""Putting the files of events on the disk, all or nothing.

Each new folder is built beside the old one, file by file and each looked at as it is written; then all of them take
their places together (exchange.py). Whatever stops the work, at any instant, the old folders stay whole; what a killed
run leaves behind is put back and cleared away by the next.
"""

import hashlib
import shutil
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path, PurePosixPath

from menugen.disk import (
    EXCHANGE,
    OUTPUT_LOCK,
    Busy,
    NoLocks,
    event_folder,
    event_folder_name,
    flush_to_disk,
    locked,
)
from menugen.writing.exchange import (
    Step,
    clear_replaced,
    exchange_all,
    marker_of,
    mend,
    step_to_publish,
    step_to_remove,
)
from menugen.writing.faults import CannotWrite, NotOurs, PublishFault, disk_faults
from menugen.writing.output import MARKER
from menugen.writing.page_check import PageCheck, PageFault

WAIT_SECONDS = 30.0
"""How long one publish waits for another into the same folder to end."""


@contextmanager
def output_folder(target: Path, *, wait_seconds: float = WAIT_SECONDS) -> Iterator["OutputFolder"]:
    """Lend an output folder to one run: what is begun there takes its place with `finish`, or not at all.

    What a killed run left is put back and cleared away first.

    Args:
        target: The folder; made if it is missing.
        wait_seconds: How long to wait while another run is at work there.

    Raises:
        CannotWrite: The folder cannot be made, or another run does not end.
    """
    with ExitStack() as held:
        with disk_faults(target), _lock_faults(target):
            target.mkdir(parents=True, exist_ok=True)
            held.enter_context(locked(target / OUTPUT_LOCK, wait_seconds=wait_seconds))
            put_back = mend(target)
        output = OutputFolder(target, put_back)
        held.callback(output.clear)
        yield output


def remove_published(target: Path, folder: str, *, wait_seconds: float = WAIT_SECONDS) -> bool:
    """Take away a folder that menugen made, in one step: it is whole until then, and gone after.

    Args:
        target: The output folder it lies in.
        folder: Its name: a slug, or what a run that was killed left of it.
        wait_seconds: How long to wait while another run is at work there.

    Returns:
        Whether it was there.

    Raises:
        NotOurs: It is not what menugen made, or is no longer.
        CannotWrite: The disk or the system refused.
    """
    there = (target / folder).is_dir()
    with output_folder(target, wait_seconds=wait_seconds) as output:
        output.finish(remove=(folder,))
    return there


class OutputFolder:
    """An output folder that no other run writes to."""

    def __init__(self, target: Path, put_back: tuple[str, ...] = ()) -> None:
        """Remember the folder.

        Args:
            target: The folder.
            put_back: Folders in it that were put back as they were before a publish that was killed.
        """
        self.target = target
        self.put_back = put_back
        self._begun: list[NewEventFolder] = []
        self._done: tuple[Step, ...] = ()

    def begin(self, slug: str) -> "NewEventFolder":
        """Return a new folder for an event, which takes its place with `finish`.

        Raises:
            NotOurs: There is something in its place that menugen did not make.
            CannotWrite: Its place cannot be looked at.
            ValueError: The slug is no plain name (a bug upstream).
        """
        _refuse_slug(slug)
        with disk_faults(self.target / slug):
            _refuse_strangers(self.target / slug)
        self._begun.append(NewEventFolder(self.target, slug))
        return self._begun[-1]

    def finish(self, remove: Iterable[str] = ()) -> None:
        """Put every folder that was begun in its place, once their `faults` are none; all or none.

        Args:
            remove: Names of folders that are taken away with the same step.

        Raises:
            NotOurs: One of those is not what menugen made.
            CannotWrite: The disk refused.
        """
        steps = [step_to_publish(self.target, new.slug, new.folder.name, new.close()) for new in self._begun]
        # What killed runs left is gone already: `output_folder` has seen to that.
        steps += [step_to_remove(name) for name in remove if self._is_removable(name)]
        if not steps:
            return
        with disk_faults(self.target):
            flush_to_disk(self.target, [path for new in self._begun for path in new.written()])
        exchange_all(self.target, steps)
        self._done = tuple(steps)

    def _is_removable(self, name: str) -> bool:
        place = self.target / name
        with disk_faults(place):
            if event_folder(name) or not (place.is_symlink() or place.exists()):
                return False
            if place.is_symlink() or not (place / MARKER).is_file():
                raise NotOurs(f"{place} was not made by menugen, so it was left alone")
        return True

    def clear(self) -> None:
        """Take away what could not be finished, and what was replaced, but nothing that may have to be put back."""
        clear_replaced(self.target, self._done)
        if (self.target / EXCHANGE).exists():
            return
        for new in self._begun:
            shutil.rmtree(new.folder, ignore_errors=True)


class NewEventFolder:
    """A folder in the making; an `Output` (output.py), which looks at its pages as they come."""

    def __init__(self, target: Path, slug: str) -> None:
        """Remember where it will stand; nothing is made before the first file."""
        self.slug = slug
        self.folder = target / event_folder_name(slug, "new")
        self._place = target / slug
        self._check = PageCheck()
        self._written: dict[str, Path] = {}
        self._contents: dict[str, str] = {}
        self._folders = {target}

    def text(self, path: str, pieces: Iterable[str]) -> None:
        """Write a text, and look at it if it is a page.

        Raises:
            CannotWrite: The disk refused.
            ValueError: The path would lead outside the folder (a bug upstream).
        """
        if path.endswith(".html"):
            pieces = self._check.page(path, pieces)
        self._write(path, (piece.encode() for piece in pieces))

    def data(self, path: str, content: bytes) -> None:
        """Write a file that is no text; raises as `text`."""
        self._write(path, (content,))

    def paths(self) -> tuple[str, ...]:
        """Return the paths of what was written."""
        return tuple(self._written)

    def kept(self, path: str) -> tuple[int, Iterator[bytes]]:
        """Return the size and the content of what was written."""
        with disk_faults(self._place):
            return self._written[path].stat().st_size, self._read(self._written[path])

    def _read(self, file: Path) -> Iterator[bytes]:
        with disk_faults(self._place), file.open("rb") as opened:
            while part := opened.read(1 << 20):
                yield part

    def faults(self) -> tuple[PageFault, ...]:
        """Return what keeps a page from being whole, or a link from leading somewhere, now that all are there."""
        return self._check.faults(self._written.keys())

    def close(self) -> str:
        """Mark the folder as whole, once it has no `faults`, and return the digest of its contents.

        Raises:
            CannotWrite: The disk refused.
        """
        listed = "".join(f"{path}\0{digest}\n" for path, digest in sorted(self._contents.items()))
        contents = hashlib.sha256(listed.encode()).hexdigest()
        self._write(MARKER, (marker_of(contents),), ours=True)
        return contents

    def written(self) -> tuple[Path, ...]:
        """Return the files and folders that were written."""
        return (*self._written.values(), *self._folders)

    def _write(self, path: str, parts: Iterable[bytes], *, ours: bool = False) -> None:
        if not ours:
            _refuse_escape(path)
        file = self.folder / path
        with disk_faults(self._place):
            if file.parent not in self._folders:
                file.parent.mkdir(parents=True, exist_ok=True)
                self._folders.update(parent for parent in file.parents if parent.is_relative_to(self.folder))
            content = hashlib.sha256()
            with file.open("wb") as opened:
                for part in parts:
                    content.update(part)
                    opened.write(part)
        self._written[path] = file
        self._contents[path] = content.hexdigest()


def _refuse_strangers(place: Path) -> None:
    if place.is_symlink():
        raise NotOurs(
            f"{place} is a link to somewhere else, so it was left alone; move it away or publish elsewhere"
        )
    if not place.exists():
        return
    if not place.is_dir():
        raise NotOurs(f"{place} is a file, so it was left alone; move it away or publish elsewhere")
    if not (place / MARKER).is_file() and any(place.iterdir()):
        raise NotOurs(
            f"{place} holds files that menugen did not make, so it was left alone; "
            "move it away or publish elsewhere"
        )


def _refuse_slug(slug: str) -> None:
    _refuse_escape(slug)
    if len(PurePosixPath(slug).parts) != 1 or slug.startswith("."):
        raise ValueError(f"not a plain name: {slug!r}")


def _refuse_escape(path: str) -> None:
    parts = PurePosixPath(path).parts
    if not parts or path.startswith("/") or ".." in parts or "\\" in path or ":" in path or "\0" in path:
        raise ValueError(f"not a path within the output: {path!r}")
    if path == MARKER:
        raise ValueError(f"{MARKER} is menugen's own mark")


@contextmanager
def _lock_faults(target: Path) -> Iterator[None]:
    try:
        yield
    except Busy:
        raise CannotWrite(
            f"{target} is being published to by another run that has not ended; try again in a moment"
        ) from None
    except NoLocks:
        raise CannotWrite(
            f"{target} cannot be written: this disk has no locks, by which two runs keep apart"
        ) from None


__all__ = [
    "MARKER",
    "CannotWrite",
    "NewEventFolder",
    "NotOurs",
    "OutputFolder",
    "PublishFault",
    "disk_faults",
    "output_folder",
    "remove_published",
]
