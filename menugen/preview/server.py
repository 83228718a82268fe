"""The newest pages of a house, for whoever asks on this machine."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from menugen.preview.answers import LOOPBACK, Server
from menugen.preview.pages import Outdated, Pages, make_pages, pages_in_turn
from menugen.preview.watching import Watch

_MOST_WAITING = 600
"""Open pages that are told of changes; of more, that which has waited longest is let go, and its browser asks again."""


_MOST_SERVED = 64
"""Pages of which it is known what was served last, until each has opened its line."""

_MOST_FIRST = 4
"""Pages that are made before all others after a save: those that were opened last."""

_MOST_LEFT_OFF = 4
"""Times in a row that the other pages are left off for a newer save: one who never stops saving has them, too."""


def _never() -> bool:
    return False


@dataclass(slots=True)
class _Line:
    """An open page that waits to be told that it has changed.

    Attributes:
        path: The page; empty where it has not said which it is, and then it is told whenever pages were made.
        shown: What it shows.
        told: What it was told last; a larger number at each change.
    """

    path: str
    shown: tuple[bytes | None, str]
    told: int


class PreviewServer:
    """The newest pages of a house, and whoever waits for newer ones.

    Attributes:
        pages: As made last.
    """

    def __init__(self, folder: Path, event: str | None, made: Callable[[Pages], None]) -> None:
        """Make the first pages.

        Args:
            folder: The house.
            event: Slug of the one event that is shown; None shows all.
            made: Told each time pages have been made.
        """
        self._folder = folder
        self._event = event
        self._made = made
        self._turn = threading.Condition()
        self._count = 0
        self._closed = False
        self._left_off = 0
        self._waiting: dict[object, _Line] = {}
        self._served: dict[str, tuple[bytes | None, str]] = {}
        self.pages = make_pages(folder, event)
        made(self.pages)

    def renew(self, outdated: Callable[[], bool] = _never) -> None:
        """Make the pages again, those that somebody is looking at first, and wake whoever looks at one that changed.

        Args:
            outdated: Whether there was another save since: the other pages are left off then, and made after that one.
        """
        with self._turn:
            looked_at = dict.fromkeys(line.path for line in reversed(self._waiting.values()) if line.path)
        first = list(looked_at)[:_MOST_FIRST]
        to_the_end = self._left_off >= _MOST_LEFT_OFF
        try:
            for made in pages_in_turn(
                self._folder, self._event, self.pages, first, _never if to_the_end else outdated
            ):
                with self._turn:
                    if self._closed:
                        return
                    self.pages = made
                    self._count += 1
                    self._turn.notify_all()
        except Outdated:
            self._left_off += 1
            return
        self._left_off = 0
        self._made(self.pages)

    def close(self) -> None:
        """Send whoever waits home."""
        with self._turn:
            self._closed = True
            self._turn.notify_all()

    def served(self, path: str, shown: tuple[bytes | None, str]) -> None:
        """Note what a browser was given for a page, which opens its line a moment later."""
        with self._turn:
            self._served.pop(path, None)
            self._served[path] = shown
            if len(self._served) > _MOST_SERVED:
                del self._served[next(iter(self._served))]

    def come(self, path: str = "") -> object:
        """Return a place among those who wait for newer pages.

        Args:
            path: Of the page that is open; empty where that is not known.
        """
        place = object()
        with self._turn:
            self._waiting[place] = _Line(path, self._served.get(path) or self.pages.shown(path), self._count)
            if len(self._waiting) > _MOST_WAITING:
                del self._waiting[next(iter(self._waiting))]
                self._turn.notify_all()
        return place

    def leave(self, place: object) -> None:
        """Give a place back."""
        with self._turn:
            self._waiting.pop(place, None)

    def wait_past(self, place: object, seen: int, timeout_s: float) -> int | None:
        """Return a larger number once the open page has changed, `seen` after the timeout, None to go home.

        Args:
            place: From `come`.
            seen: What was returned last; -1 at first, and then nothing is waited for.
            timeout_s: How long to wait.
        """
        with self._turn:
            self._turn.wait_for(
                lambda: seen < 0 or self._is_over(place) or self._has_changed(place), timeout_s
            )
            if self._is_over(place):
                return None
            line = self._waiting[place]
            if seen >= 0 and self._has_changed(place):
                line.told = line.told + 1 if line.path else self._count
                line.shown = self.pages.shown(line.path)
            return line.told

    def _is_over(self, place: object) -> bool:
        return self._closed or place not in self._waiting

    def _has_changed(self, place: object) -> bool:
        line = self._waiting[place]
        return self.pages.shown(line.path) != line.shown if line.path else self._count > line.told


class NoPort(Exception):
    """The port cannot be had; `__cause__` is the system's answer."""


def _stop_after(until: threading.Event, server: Server) -> None:
    until.wait()
    server.shutdown()


def _tell_nobody(_line: str) -> None:
    """Say nothing."""


def serve(
    folder: Path,
    event: str | None,
    port: int,
    *,
    made: Callable[[Pages], None],
    ready: Callable[[str], None],
    tell: Callable[[str], None] = _tell_nobody,
    until: threading.Event | None = None,
) -> None:
    """Serve a house until interrupted, or until an event is set.

    Args:
        folder: The house.
        event: Slug of the one event that is shown; None shows all.
        port: On the loopback address, 0 to 65535; 0 picks a free one.
        made: Told each time pages have been made.
        ready: Told the address once it can be opened.
        tell: Given a line for the terminal where something went wrong that is no problem of the house.
        until: Ends the serving; None serves until interrupted.

    Raises:
        NoPort: The port is taken, or not to be had.
    """
    try:
        # Before the pages are made: who cannot be served need not wait for them.
        server = Server(port, lambda: preview, tell)
    except OSError as fault:
        raise NoPort from fault
    with server:
        preview = PreviewServer(folder, event, made)
        watch = Watch(folder.resolve(), lambda: preview.renew(watch.has_more), tell)
        try:
            watch.start()
            start = f"{event}/site/" if event else ""
            if until is not None:
                threading.Thread(target=_stop_after, args=(until, server), daemon=True).start()
            ready(f"http://{LOOPBACK}:{server.server_port}/{start}")
            server.serve_forever()
        finally:
            preview.close()
            watch.stop()
