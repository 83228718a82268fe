"""Putting an event's files on the disk, all or nothing.

The new folder is built beside the old one, file by file and each looked at as it is written, and then takes its place
in one step. Whatever stops the work, at any instant, the old folder stays whole; what a killed run leaves behind is
cleared away by the next.
"""

import errno
import os
import re
import secrets
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path, PurePosixPath

from filelock import FileLock, Timeout

from menugen.writing.checking import PageCheck, PageFault
from menugen.writing.disk import exchange, settle, settle_one
from menugen.writing.output import MARKER
from menugen.writing.pieces import in_pieces

WAIT_SECONDS = 30.0
"""How long one publish waits for another of the same event to end."""

_MARKER_TEXT = (
    b"Made by menugen, which replaces this whole folder at each publish: keep nothing else in it.\n"
)


class PublishFault(Exception):
    """Nothing was published, and the last output is as it was. `message` says why, in plain words."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


class NotOurs(PublishFault):
    """What stands where the output should go was not made by menugen, so it is left alone."""


class CannotWrite(PublishFault):
    """The disk or the system refused."""


class BrokenPages(PublishFault):
    """The pages would hold dead links or broken HTML.

    Attributes:
        faults: Each of them.
    """

    def __init__(self, faults: tuple[PageFault, ...]) -> None:
        super().__init__("; ".join(map(str, faults)))
        self.faults = faults


def publish(
    target: Path, slug: str, files: Mapping[str, bytes], *, wait_seconds: float = WAIT_SECONDS
) -> None:
    """Make `target/slug` hold exactly these files.

    Args:
        target: The output folder; made if it is missing.
        slug: The event's: the name of its folder.
        files: Contents by POSIX path within that folder.
        wait_seconds: How long to wait while another publish of the same event is at work.

    Raises:
        BrokenPages: The pages are not fit to publish.
        NotOurs: `target/slug` exists and menugen did not make it.
        CannotWrite: The files cannot be written, or another publish does not end.
        ValueError: A path would lead outside the folder, or the slug is no plain name (a bug upstream).
    """
    for path in files:
        _refuse_escape(path)
    with building(target, slug, wait_seconds=wait_seconds) as new:
        for path, content in files.items():
            new.data(path, content)
        new.look()
        new.finish()


@contextmanager
def building(target: Path, slug: str, *, wait_seconds: float = WAIT_SECONDS) -> Iterator["Building"]:
    """Lend a new folder for `target/slug`: what is written there takes its place with `finish`, or not at all.

    Args:
        target: The output folder; made if it is missing.
        slug: The event's: the name of its folder.
        wait_seconds: How long to wait while another publish of the same event is at work.

    Raises:
        NotOurs: `target/slug` exists and menugen did not make it.
        CannotWrite: The folder cannot be made, or another publish does not end.
        ValueError: The slug is no plain name (a bug upstream).
    """
    _refuse_escape(slug)
    if len(PurePosixPath(slug).parts) != 1 or slug.startswith("."):
        raise ValueError(f"not a plain name: {slug!r}")
    new = Building(target, slug)
    with ExitStack() as held:
        with disk_faults(target / slug), _lock_faults(target / slug):
            target.mkdir(parents=True, exist_ok=True)
            held.enter_context(FileLock(target / f".{slug}.lock", timeout=wait_seconds))
            _recover(target, slug)
            _refuse_strangers(target / slug)
        try:
            yield new
        finally:
            # Either what could not be finished, or, after the exchange, the output of last time.
            shutil.rmtree(new.folder, ignore_errors=True)


def remove_published(target: Path, slug: str, folder: str, *, wait_seconds: float = WAIT_SECONDS) -> bool:
    """Take away a folder that menugen made, in one step: it is whole until then, and gone after.

    Args:
        target: The output folder it lies in.
        slug: The event's, by which two runs keep apart.
        folder: Its name: the slug, or what a run that was killed left of it.
        wait_seconds: How long to wait while another run is at work on the same event.

    Returns:
        Whether it was there.

    Raises:
        NotOurs: It is not what menugen made, or is no longer.
        CannotWrite: The disk or the system refused.
    """
    place = target / folder
    with disk_faults(place), _lock_faults(place), FileLock(target / f".{slug}.lock", timeout=wait_seconds):
        if not os.path.lexists(place):
            return False
        if place.is_symlink() or not (_leftover(slug).fullmatch(folder) or (place / MARKER).is_file()):
            raise NotOurs(f"{place} was not made by menugen, so it was left alone")
        aside = target / f".{slug}.gone-{secrets.token_hex(4)}"
        place.rename(aside)
        shutil.rmtree(aside, ignore_errors=True)
    return True


class Building:
    """A folder in the making; an `Output` (output.py), which looks at its pages as they come."""

    def __init__(self, target: Path, slug: str) -> None:
        """Remember where it will stand; nothing is made before the first file."""
        self.folder = target / f".{slug}.new-{secrets.token_hex(4)}"
        self._place = target / slug
        self._check = PageCheck()
        self._written: dict[str, Path] = {}
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
        """Write a file, and look at it if it is a page; raises as `text`."""
        if not path.endswith(".html"):
            self._write(path, (content,))
            return
        try:
            self.text(path, in_pieces((content.decode(),)))
        except UnicodeDecodeError:
            self._check.unreadable(path)

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

    def look(self) -> None:
        """Make sure that `faults` finds nothing.

        Raises:
            BrokenPages: The pages are not fit to publish.
        """
        if faults := self.faults():
            raise BrokenPages(faults)

    def finish(self) -> None:
        """Put the folder in its place, once `look` has found nothing.

        Raises:
            CannotWrite: The disk refused.
        """
        self._write(MARKER, (_MARKER_TEXT,), ours=True)
        with disk_faults(self._place):
            settle(self.folder, (*self._written.values(), *self._folders))
            _put_in_place(self.folder, self._place)
            with suppress(OSError):
                # It is in place already; not every system can promise that the name outlives a power cut.
                settle_one(self._place.parent)

    def _write(self, path: str, parts: Iterable[bytes], *, ours: bool = False) -> None:
        if not ours:
            _refuse_escape(path)
        file = self.folder / path
        with disk_faults(self._place):
            if file.parent not in self._folders:
                file.parent.mkdir(parents=True, exist_ok=True)
                self._folders.update(parent for parent in file.parents if parent.is_relative_to(self.folder))
            with file.open("wb") as opened:
                opened.writelines(parts)
        self._written[path] = file


def _put_in_place(building: Path, place: Path) -> None:
    if not place.exists():
        building.rename(place)
    elif not exchange(building, place):
        # No single step here: between the two the old output has another name, under which _recover finds it.
        aside = place.with_name(f".{place.name}.old-{secrets.token_hex(4)}")
        place.rename(aside)
        try:
            building.rename(place)
        except OSError:
            aside.rename(place)
            raise
        shutil.rmtree(aside, ignore_errors=True)


def _leftover(slug: str) -> re.Pattern[str]:
    """Return what the folders are called that a killed run leaves."""
    return re.compile(rf"\.{re.escape(slug)}\.(new|old|gone)-[0-9a-f]{{8}}")


def _recover(target: Path, slug: str) -> None:
    """Clear up after a run that was killed: put the old output back if it was caught between names."""
    leftover = _leftover(slug)
    for entry in sorted(target.iterdir()):
        found = leftover.fullmatch(entry.name)
        if not found:
            continue
        if found[1] == "old" and not (target / slug).exists():
            entry.rename(target / slug)
        else:
            shutil.rmtree(entry, ignore_errors=True)


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


def _refuse_escape(path: str) -> None:
    parts = PurePosixPath(path).parts
    if not parts or path.startswith("/") or ".." in parts or "\\" in path or ":" in path or "\0" in path:
        raise ValueError(f"not a path within the output: {path!r}")
    if path == MARKER:
        raise ValueError(f"{MARKER} is menugen's own mark")


_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EFBIG: "a file would be larger than the system allows",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "permission to write there is missing",
    errno.EPERM: "permission to write there is missing",
    errno.ENOTDIR: "a part of that path is a file",
    errno.EEXIST: "a part of that path is a file",
    errno.ENAMETOOLONG: "a name is too long for this disk",
    errno.EIO: "the disk reports a fault",
}


@contextmanager
def _lock_faults(place: Path) -> Iterator[None]:
    try:
        yield
    except Timeout:
        raise CannotWrite(
            f"{place} is being published by another run that has not ended; try again in a moment"
        ) from None
    except NotImplementedError:
        raise CannotWrite(
            f"{place} cannot be written: this disk has no locks, by which two runs keep apart"
        ) from None


@contextmanager
def disk_faults(place: Path) -> Iterator[None]:
    """Turn what the disk or the system refuses, while a place is written, into CannotWrite."""
    try:
        yield
    except OSError as fault:
        reason = _REASONS.get(fault.errno or 0, (fault.strerror or str(fault)).lower())
        raise CannotWrite(f"{place} cannot be written: {reason}") from fault
