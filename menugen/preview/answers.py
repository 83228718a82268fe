"""Answers to requests: pages for a browser that was pointed at this machine, one short line for everything else."""

import io
import mimetypes
import re
import socket
import socketserver
import sys
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Protocol
from urllib.parse import quote, unquote, urlsplit

from menugen.preview.pages import Pages, dressed
from menugen.problems import own_fault

LOOPBACK = "127.0.0.1"

REQUEST_S = 10.0
"""How long a request may take to arrive, and an answer to leave; also how long a line stays open for the next."""

CHANGES_S = 15.0
"""How often a word is sent on the line that tells of changes, so that a page that was closed is noticed."""

_POLICY = (
    "default-src 'none'; style-src 'self' 'unsafe-inline'; script-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Inline styles are allowed here and only here: the published pages allow theirs by hash."""

_ALWAYS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": _POLICY,
    # A page elsewhere may not show the bar's drafts as pictures, or read their sizes.
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}

_HERE = re.compile(r"(?:127\.0\.0\.1|localhost)(?::[0-9]{0,5})?", re.IGNORECASE)

_KINDS = {".webp": "image/webp", ".avif": "image/avif", ".js": "text/javascript", ".woff2": "font/woff2"}
"""Where what a machine knows of file names is too old, or was changed by some program."""

_ANSWERED = ("GET", "HEAD")


class Preview(Protocol):
    """What is asked for pages."""

    @property
    def pages(self) -> Pages:
        """As made last."""
        ...

    def served(self, path: str, shown: tuple[bytes | None, str]) -> None:
        """Note what a browser was given for a page."""
        ...

    def come(self, path: str = "") -> object:
        """Return a place among those who wait for newer pages."""
        ...

    def leave(self, place: object) -> None:
        """Give it back."""
        ...

    def wait_past(self, place: object, seen: int, timeout_s: float) -> int | None:
        """Return a larger number once the open page has changed, `seen` after the timeout, None to go home."""
        ...


class Server(ThreadingHTTPServer):
    """Listens on the loopback address; whatever goes wrong with a request is a line on the terminal, or none."""

    daemon_threads = True
    request_queue_size = 128

    def __init__(self, port: int, preview: Callable[[], Preview], tell: Callable[[str], None]) -> None:
        """Take the port; nobody is answered before `serve_forever`.

        Args:
            port: 0 picks a free one.
            preview: Called at each request.
            tell: Given a line for the terminal.

        Raises:
            OSError: The port cannot be had.
        """
        self._tell = tell
        self._told: set[str] = set()
        super().__init__((LOOPBACK, port), partial(_Handler, preview))

    def server_bind(self) -> None:
        """Take the port, and ask no name server what this machine is called."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = LOOPBACK, self.server_address[1]

    def get_request(self) -> tuple[socket.socket, object]:
        """Return the next line that was opened."""
        try:
            return super().get_request()
        except OSError:
            # Too many are open: what waits is asked again soon, and not without a pause.
            time.sleep(0.05)
            raise

    def handle_error(self, request: object, client_address: object) -> None:  # noqa: ARG002  # the library's names
        """Say in one line, and once, what went wrong here; a browser that has gone is nobody's fault."""
        fault = sys.exc_info()[1]
        if fault is not None and not isinstance(fault, OSError):
            self.tell_fault(fault)

    def tell_fault(self, fault: BaseException) -> None:
        """Say what went wrong, once."""
        text = own_fault(fault)
        if text not in self._told:
            self._told.add(text)
            self._tell(text)


class _Arriving(io.RawIOBase):
    """A request as it arrives: all of it by a given moment, however slowly its bytes come."""

    def __init__(self, line: socket.socket) -> None:
        self._line = line
        self.until = 0.0

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: bytearray) -> int:  # type: ignore[override]  # any buffer will do
        left = self.until - time.monotonic()
        if left <= 0:
            raise TimeoutError
        self._line.settimeout(left)
        return self._line.recv_into(buffer)


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server: Server

    def __init__(self, preview: Callable[[], Preview], *args: object) -> None:
        self._preview = preview
        super().__init__(*args)  # type: ignore[arg-type]  # the three the server hands over

    def setup(self) -> None:
        super().setup()
        self.rfile.close()
        self._arriving = _Arriving(self.connection)
        self.rfile = io.BufferedReader(self._arriving)  # type: ignore[type-var]  # it reads into any buffer

    def handle_one_request(self) -> None:
        self._arriving.until = time.monotonic() + REQUEST_S
        super().handle_one_request()

    def do_GET(self) -> None:
        """Answer one request; only a browser that was pointed at this machine is answered."""
        try:
            self._answer()
        except OSError:
            raise
        except Exception as fault:  # noqa: BLE001  # the last stop: the browser is told, and so is the terminal
            self.server.tell_fault(fault)
            self.send_error(HTTPStatus.INTERNAL_SERVER_ERROR)

    def do_HEAD(self) -> None:
        """Answer as to GET, without the page itself."""
        self.do_GET()

    def _answer(self) -> None:
        path = self._path()
        if isinstance(path, HTTPStatus):
            self.send_error(path)
        elif path == "-/changes":
            self._tell_changes()
        else:
            self._send_page(path)

    def _path(self) -> str | HTTPStatus:
        """Return what is asked for, as a path below the top, or what is wrong with the request."""
        hosts = self.headers.get_all("Host", [])
        if len(hosts) != 1:
            return HTTPStatus.BAD_REQUEST
        target = self.path
        if not target.startswith("/"):
            try:
                parts = urlsplit(target)
            except ValueError:
                return HTTPStatus.BAD_REQUEST
            if parts.scheme != "http":
                return HTTPStatus.BAD_REQUEST
            # Who asks with a whole address means that host, whatever else is said.
            hosts, target = [parts.netloc, *hosts], parts.path
        if not all(_HERE.fullmatch(host.strip()) for host in hosts):
            # A page elsewhere could name its own host after this address and read the bar's drafts through it.
            return HTTPStatus.FORBIDDEN
        return unquote(re.split("[?#]", target, maxsplit=1)[0]).lstrip("/")

    def _send_page(self, path: str) -> None:
        asked = path = _page_at(path)
        pages = self._preview().pages
        content = pages.files.get(path)
        if content is None and f"{path}/index.html" in pages.files:
            self._send(HTTPStatus.FOUND, "text/plain", b"", {"Location": f"/{quote(path)}/"})
            return
        status = HTTPStatus.OK
        if content is None:
            status = HTTPStatus.NOT_FOUND
            content = pages.files.get(
                f"{path.partition('/')[0]}/site/404.html", _short_page("There is no such page.")
            )
            path = f"{path.partition('/')[0]}/404.html"
        ending = path[path.rfind(".") :]
        kind = _KINDS.get(ending) or mimetypes.guess_type(f"page{ending}")[0] or "application/octet-stream"
        if ending == ".html":
            kind = "text/html; charset=utf-8"
            if self.command == "GET":
                self._preview().served(asked, pages.shown(asked))
            content = dressed(content, pages.panel(path))
        self._send(status, kind, content)

    def _send(
        self, status: HTTPStatus, kind: str, content: bytes, more: Mapping[str, str] | None = None
    ) -> None:
        self.connection.settimeout(REQUEST_S)
        # The rest of a request that we do not read would be taken for the next one.
        length = self.headers.get("Content-Length", "0").strip() if hasattr(self, "headers") else "0"
        if length != "0" or (hasattr(self, "headers") and "Transfer-Encoding" in self.headers):
            self.close_connection = True
        self.send_response(status)
        headers = {"Content-Type": kind, "Content-Length": str(len(content)), **_ALWAYS, **(more or {})}
        if self.close_connection:
            headers["Connection"] = "close"
        for name, value in headers.items():
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def send_response(self, code: int, message: str | None = None) -> None:
        """Begin an answer, with the time and no word of which software gives it."""
        self.send_response_only(code, message)
        self.send_header("Date", self.date_time_string())

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:  # noqa: ARG002
        """Answer with a short page, whatever the library has to say."""
        if code == HTTPStatus.NOT_IMPLEMENTED or (
            code == HTTPStatus.BAD_REQUEST and self.command == "CONNECT"
        ):
            code = HTTPStatus.METHOD_NOT_ALLOWED
        status = HTTPStatus(code)
        self.close_connection = True
        # What was no request at all is answered like any.
        self.request_version = self.protocol_version
        allowed = {"Allow": ", ".join(_ANSWERED)} if status is HTTPStatus.METHOD_NOT_ALLOWED else None
        page = _short_page(f"{status.value} {status.phrase}")
        self._send(status, "text/html; charset=utf-8", page, allowed)
        self._hear_out()

    def _hear_out(self) -> None:
        """Take what is still being sent, for a moment: closing before that would take our answer back."""
        until = time.monotonic() + 1
        with suppress(OSError):
            self.wfile.flush()
            self.connection.shutdown(socket.SHUT_WR)
            self.connection.settimeout(0.5)
            while time.monotonic() < until and self.connection.recv(65536):
                pass

    def _tell_changes(self) -> None:
        """Keep the line open and say a word each time the pages change."""
        self.close_connection = True
        self.connection.settimeout(REQUEST_S)
        self.send_response(HTTPStatus.OK)
        for name, value in {"Content-Type": "text/event-stream", "Connection": "close", **_ALWAYS}.items():
            self.send_header(name, value)
        self.end_headers()
        if self.command == "HEAD":
            return
        preview = self._preview()
        _, _, page = self.path.partition("?")
        place, seen = preview.come(_page_at(unquote(page).lstrip("/")) if page else ""), -1
        try:
            while (now := preview.wait_past(place, seen, CHANGES_S)) is not None:
                # A line that starts with ":" is a comment: it only shows that the line is open.
                self.wfile.write(b": still here\n\n" if now == seen else b"data: %d\n\n" % now)
                self.wfile.flush()
                seen = now
        except OSError:
            return  # the page was closed
        finally:
            preview.leave(place)

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002  # the name is the library's
        """Say nothing of each request: the terminal is for problems."""


def _page_at(path: str) -> str:
    return f"{path}index.html" if path == "" or path.endswith("/") else path


def _short_page(text: str) -> bytes:
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{text}</title></head>'
        f"<body><p>{text}</p></body></html>"
    ).encode()
