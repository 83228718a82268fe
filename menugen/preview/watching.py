"""Watching a house for saves, whatever becomes of its folders meanwhile."""

import errno
import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver, ObservedWatch

OUT = "out"
"""Where a house is published, unless somebody says otherwise."""

QUIET_S = 0.05
"""An editor saves a file in several steps; the pages are made once it has been still for this long."""

LONGEST_S = 1.0
"""The pages are made after this long, however much is being written."""

LOOK_S = 1.0
"""How often it is looked whether the folders are still those that are watched, and where the system does not tell of
saves, whether there was one."""

_NO_MORE = frozenset({errno.ENOSPC, errno.EMFILE, errno.ENFILE, errno.ENOMEM})
"""What Linux answers where it watches no more folders, or opens no more files; from memory: inotify(7)."""

_Found = tuple[int, int]
"""Device and number of a folder: another where it was deleted and made again."""


class Watch:
    """Calls once a burst of saves is over; one thread does all of it, and only `stop` ends it."""

    def __init__(self, folder: Path, renew: Callable[[], None], tell: Callable[[str], None]) -> None:
        """Watch nothing yet.

        Args:
            folder: The house.
            renew: Called after saves, by one thread.
            tell: Given a line for the terminal.
        """
        self._folder = folder
        self._renew = renew
        self._tell = tell
        self._turn = threading.Condition()
        self._saved_at: float | None = None
        self._closed = False
        self._observer: BaseObserver | None = None
        self._watched: dict[Path, tuple[ObservedWatch | None, _Found]] = {}
        self._moved: set[Path] = set()
        self._looks_itself = False
        self._seen: dict[str, tuple[int, int, int]] = {}
        self._thread = threading.Thread(target=self._run, name="menugen-watch", daemon=True)
        self._hook = threading.excepthook

    def start(self) -> None:
        """Watch from now on."""
        threading.excepthook = self._thread_failed
        try:
            self._observer = Observer()
            self._observer.start()
        except (OSError, RuntimeError):
            self.look_itself()
        self.follow()
        self._thread.start()

    def stop(self) -> None:
        """Watch no longer; waits a little for pages that are being made."""
        with self._turn:
            self._closed = True
            self._turn.notify_all()
        if self._thread.is_alive():
            self._thread.join(2)
        if self._observer is not None and self._observer.is_alive():
            self._observer.stop()
            self._observer.join(2)
        threading.excepthook = self._hook

    def saved(self) -> None:
        """Note that something was saved."""
        with self._turn:
            self._saved_at = time.monotonic()
            self._turn.notify_all()

    def has_more(self) -> bool:
        """Return whether there was a save since pages began to be made, or nobody wants any more."""
        return self._closed or self._saved_at is not None

    def gone(self, place: Path) -> None:
        """Note that a folder was deleted or moved: one made again in its place may have its number."""
        with self._turn:
            self._moved.add(place)

    def look_itself(self) -> None:
        """Look for saves every second, as the system does not tell of them."""
        if not self._looks_itself:
            self._looks_itself = True
            self._seen = self._files()
            self._tell("menugen: this system watches no more folders, so saves are looked for once a second")

    def follow(self) -> bool:
        """Watch folders that are new, and no longer those that are gone; return whether there were any."""
        wanted = {place: place != self._folder for place in watched_folders(self._folder)}
        with suppress(OSError):
            wanted |= {place: place.name != OUT for place in self._folder.iterdir() if place.is_dir()}
        found = {place: there for place in wanted if (there := _found(place)) is not None}
        with self._turn:
            moved, self._moved = self._moved, set()
        gone = [
            place
            for place, (_, there) in self._watched.items()
            if place in moved or found.get(place) != there
        ]
        for place in gone:
            watch, _ = self._watched.pop(place)
            if watch is not None and self._observer is not None:
                with suppress(OSError, KeyError, RuntimeError):
                    self._observer.unschedule(watch)
        new = found.keys() - self._watched.keys()
        for place in new:
            self._watched[place] = (self._scheduled(place, recursive=wanted[place]), found[place])
        return bool(gone or new)

    def _scheduled(self, place: Path, *, recursive: bool) -> ObservedWatch | None:
        if self._observer is None or self._looks_itself:
            return None
        try:
            return self._observer.schedule(_Saves(self, self._folder / OUT), str(place), recursive=recursive)
        except OSError as fault:
            if fault.errno in _NO_MORE:
                self.look_itself()
        except RuntimeError:
            self.look_itself()  # no more threads
        return None

    def _run(self) -> None:
        while True:
            with self._turn:
                self._turn.wait_for(lambda: self._closed or self._saved_at is not None, LOOK_S)
                if self._closed:
                    return
                self._wait_for_stillness()
                saved, self._saved_at = self._saved_at is not None, None
            # The disk may do anything meanwhile; whatever it is, the next save is seen.
            with suppress(Exception):
                saved = self.follow() or saved
                saved = self._was_saved() or saved
            if saved:
                with suppress(Exception):
                    self._renew()

    def _wait_for_stillness(self) -> None:
        latest = time.monotonic() + LONGEST_S
        while self._saved_at is not None and not self._closed:
            left = min(self._saved_at + QUIET_S, latest) - time.monotonic()
            if left <= 0:
                return
            self._turn.wait(left)

    def _was_saved(self) -> bool:
        if not self._looks_itself:
            return False
        before, self._seen = self._seen, self._files()
        return before != self._seen

    def _files(self) -> dict[str, tuple[int, int, int]]:
        return {
            entry.path: (there.st_mtime_ns, there.st_size, there.st_ino)
            for place in (self._folder, *self._watched)
            for entry, there in _files_in(
                place, deep=place != self._folder and place.name not in (OUT, ".git")
            )
        }

    def _thread_failed(self, args: threading.ExceptHookArgs) -> None:
        """Look for saves where what watches for them has failed; say nothing of it but that."""
        if type(args.thread).__module__.startswith("watchdog"):
            self.look_itself()
        else:
            self._hook(args)


class _Saves(FileSystemEventHandler):
    """Passes on what is a save."""

    def __init__(self, watch: Watch, out: Path) -> None:
        self._watch = watch
        self._out = out

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Pass it on, unless only a reader has been here, or a publish that has not ended."""
        if event.event_type in ("opened", "closed_no_write"):
            return
        if event.event_type in ("deleted", "moved"):
            self._watch.gone(Path(os.fsdecode(event.src_path)))
        paths = [Path(os.fsdecode(path)) for path in (event.src_path, event.dest_path) if path]
        if event.event_type == "modified" and paths == [self._out]:
            return
        if not all(map(self._is_in_the_making, paths)):
            self._watch.saved()

    def _is_in_the_making(self, path: Path) -> bool:
        """Return whether a path is of the output, and no event's whole folder: that one takes its place at the end."""
        inside = self._out in path.parents
        return inside and (path.parent != self._out or path.name.startswith("."))


def _found(place: Path) -> _Found | None:
    try:
        there = place.stat()
    except OSError:
        return None
    return there.st_dev, there.st_ino


def _files_in(place: Path, *, deep: bool) -> Iterator[tuple[os.DirEntry[str], os.stat_result]]:
    with suppress(OSError), os.scandir(place) as entries:
        for entry in entries:
            if place.name == OUT and entry.name.startswith("."):
                continue
            with suppress(OSError):
                yield entry, entry.stat()
                if deep and entry.is_dir(follow_symlinks=False):
                    yield from _files_in(Path(entry.path), deep=True)


def watched_folders(folder: Path) -> tuple[Path, ...]:
    """Return what is watched: the house, and the folders outside it that house.yaml points to."""
    from menugen.reading import outside_folders

    return (
        folder,
        *(place for name in outside_folders(folder) if (place := (folder / name).resolve()).is_dir()),
    )
