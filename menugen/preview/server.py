"""The newest pages of a house, for whoever asks on this machine."""

import threading
from collections.abc import Callable
from pathlib import Path

from menugen.preview.answers import LOOPBACK, Server
from menugen.preview.pages import Pages, make_pages
from menugen.preview.watching import Watch

_MOST_WAITING = 600
"""Open pages that are told of changes; of more, that which has waited longest is let go, and its browser asks again."""


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
        self._waiting: dict[object, None] = {}
        self.pages = make_pages(folder, event)
        made(self.pages)

    def renew(self) -> None:
        """Make the pages again and wake whoever waits."""
        pages = make_pages(self._folder, self._event, self.pages)
        with self._turn:
            if self._closed:
                return
            self.pages = pages
            self._count += 1
            self._turn.notify_all()
        self._made(pages)

    def close(self) -> None:
        """Send whoever waits home."""
        with self._turn:
            self._closed = True
            self._turn.notify_all()

    def come(self) -> object:
        """Return a place among those who wait for newer pages."""
        place = object()
        with self._turn:
            self._waiting[place] = None
            if len(self._waiting) > _MOST_WAITING:
                del self._waiting[next(iter(self._waiting))]
                self._turn.notify_all()
        return place

    def leave(self, place: object) -> None:
        """Give a place back."""
        with self._turn:
            self._waiting.pop(place, None)

    def wait_past(self, place: object, seen: int, timeout_s: float) -> int | None:
        """Return the count of pages made once it is past `seen`, the same after the timeout, None to go home.

        Args:
            place: From `come`.
            seen: The count that was told last.
            timeout_s: How long to wait.
        """

        def is_over() -> bool:
            return self._closed or place not in self._waiting

        with self._turn:
            self._turn.wait_for(lambda: self._count > seen or is_over(), timeout_s)
            return None if is_over() else self._count


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
        watch = Watch(folder.resolve(), preview.renew, tell)
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
