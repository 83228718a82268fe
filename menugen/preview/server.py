"""Serving pages to this machine alone, and watching the house for saves."""

import mimetypes
import threading
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import ObservedWatch

from menugen.preview.pages import Pages, dressed, make_pages

LOOPBACK = "127.0.0.1"

OUT = "out"
"""Where a house is published, unless somebody says otherwise."""

QUIET_S = 0.05
"""An editor saves a file in several steps; the pages are made once it has been still for this long."""

_POLICY = (
    "default-src 'none'; style-src 'self' 'unsafe-inline'; script-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Inline styles are allowed here and only here: the published pages allow theirs by hash."""


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
        self.pages = make_pages(folder, event)
        made(self.pages)

    def renew(self) -> None:
        """Make the pages again and wake whoever waits."""
        pages = make_pages(self._folder, self._event, self.pages)
        with self._turn:
            self.pages = pages
            self._count += 1
            self._turn.notify_all()
        self._made(pages)

    def close(self) -> None:
        """Send whoever waits home."""
        with self._turn:
            self._closed = True
            self._turn.notify_all()

    def wait_past(self, seen: int, timeout_s: float) -> int | None:
        """Return the count of pages made once it is past `seen`, the same after the timeout, None on closing."""
        with self._turn:
            self._turn.wait_for(lambda: self._count > seen or self._closed, timeout_s)
            return None if self._closed else self._count


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def __init__(self, preview: PreviewServer, *args: object) -> None:
        self._preview = preview
        super().__init__(*args)  # type: ignore[arg-type]  # the three the server hands over

    def do_GET(self) -> None:
        """Answer one request; only a browser that was pointed at this machine is answered."""
        host = (self.headers.get("Host") or "").rpartition(":")[0] or self.headers.get("Host") or ""
        if host not in (LOOPBACK, "localhost"):
            # A page elsewhere could name its own host after this address and read the bar's drafts through it.
            self.send_error(HTTPStatus.FORBIDDEN)
            return
        path = unquote(urlsplit(self.path).path).lstrip("/")
        if path == "-/changes":
            self._tell_changes()
            return
        if path == "" or path.endswith("/"):
            path += "index.html"
        pages = self._preview.pages
        content = pages.files.get(path)
        if content is None and f"{path}/index.html" in pages.files:
            self.send_response(HTTPStatus.FOUND)
            self.send_header("Location", f"/{path}/")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        status = HTTPStatus.OK
        if content is None:
            status = HTTPStatus.NOT_FOUND
            content = pages.files.get(
                f"{path.partition('/')[0]}/site/404.html",
                b"<!doctype html><html><head></head><body>There is no such page.</body></html>",
            )
            path = "404.html"
        kind = mimetypes.guess_type(path)[0] or "application/octet-stream"
        if path.endswith(".html"):
            kind = "text/html; charset=utf-8"
            content = dressed(content, pages.panel(path))
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("Content-Security-Policy", _POLICY)
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        self.wfile.write(content)

    def _tell_changes(self) -> None:
        """Keep the line open and say a word each time the pages change."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        seen = -1
        try:
            while (now := self._preview.wait_past(seen, timeout_s=15.0)) is not None:
                # A line that starts with ":" is a comment: it only shows that the line is open.
                self.wfile.write(b": still here\n\n" if now == seen else b"data: %d\n\n" % now)
                self.wfile.flush()
                seen = now
        except OSError:
            return  # the page was closed

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002  # the name is the library's
        """Say nothing of each request: the terminal is for problems."""


class _Saves(FileSystemEventHandler):
    """Makes the pages again once a burst of saves is over."""

    def __init__(self, renew: Callable[[], None], out: Path) -> None:
        self._renew = renew
        self._out = out
        self._timer: threading.Timer | None = None
        self._lock = threading.Lock()

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Start the wait for stillness, unless only a reader has been here, or a publish that has not ended."""
        if event.event_type in ("opened", "closed_no_write"):
            return
        paths = [Path(str(path)) for path in (event.src_path, event.dest_path) if path]
        if event.event_type == "modified" and paths == [self._out]:
            return
        if all(map(self._is_in_the_making, paths)):
            return
        with self._lock:
            if self._timer is not None:
                self._timer.cancel()
            self._timer = threading.Timer(QUIET_S, self._renew)
            self._timer.daemon = True
            self._timer.start()

    def _is_in_the_making(self, path: Path) -> bool:
        """Return whether a path is of the output, and no event's whole folder: that one takes its place at the end."""
        inside = self._out in path.parents
        return inside and (path.parent != self._out or path.name.startswith("."))


class _Watch:
    """Which folders are watched: of the output only its top, as a publish moves whole trees about there."""

    def __init__(self, folder: Path, saves: _Saves) -> None:
        self._folder = folder
        self._saves = saves
        self._observer = Observer()
        self._watched: dict[Path, ObservedWatch] = {}
        self._lock = threading.Lock()

    def start(self) -> None:
        self.renew()
        self._observer.start()

    def renew(self) -> None:
        """Watch folders that are new, and no longer those that are gone."""
        wanted = {place: place != self._folder for place in watched_folders(self._folder)}
        with suppress(OSError):
            wanted |= {place: place.name != OUT for place in self._folder.iterdir() if place.is_dir()}
        with self._lock:
            for place in self._watched.keys() - wanted.keys():
                self._observer.unschedule(self._watched.pop(place))
            for place in wanted.keys() - self._watched.keys():
                with suppress(OSError):
                    self._watched[place] = self._observer.schedule(
                        self._saves, str(place), recursive=wanted[place]
                    )

    def stop(self) -> None:
        self._observer.stop()
        self._observer.join()


def watched_folders(folder: Path) -> tuple[Path, ...]:
    """Return what is watched: the house, and the folders outside it that house.yaml points to."""
    from menugen.reading import outside_folders

    return (
        folder,
        *(place for name in outside_folders(folder) if (place := (folder / name).resolve()).is_dir()),
    )


def _stop_after(until: threading.Event, server: ThreadingHTTPServer) -> None:
    until.wait()
    server.shutdown()


def serve(
    folder: Path,
    event: str | None,
    port: int,
    *,
    made: Callable[[Pages], None],
    ready: Callable[[str], None],
    until: threading.Event | None = None,
) -> None:
    """Serve a house until interrupted, or until an event is set.

    Args:
        folder: The house.
        event: Slug of the one event that is shown; None shows all.
        port: On the loopback address; 0 picks a free one.
        made: Told each time pages have been made.
        ready: Told the address once it can be opened.
        until: Ends the serving; None serves until interrupted.

    Raises:
        OSError: The port is taken.
    """
    preview = PreviewServer(folder, event, made)
    with ThreadingHTTPServer((LOOPBACK, port), partial(_Handler, preview)) as server:
        server.daemon_threads = True
        home = folder.resolve()

        def renew() -> None:
            watch.renew()
            preview.renew()

        watch = _Watch(home, _Saves(renew, home / OUT))
        watch.start()
        try:
            start = f"{event}/site/" if event else ""
            if until is not None:
                threading.Thread(target=_stop_after, args=(until, server), daemon=True).start()
            ready(f"http://{LOOPBACK}:{server.server_address[1]}/{start}")
            server.serve_forever()
        finally:
            preview.close()
            watch.stop()
