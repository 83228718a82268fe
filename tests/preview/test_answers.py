"""What the preview answers: pages to a browser here, one short page to everything else, and nothing on the terminal."""

import socket
import struct
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack

import pytest

from menugen.preview import answers
from menugen.preview.answers import Server
from menugen.preview.pages import Pages
from menugen.preview.server import _MOST_WAITING, PreviewServer

PAGE = b'<!doctype html><html><head></head><body class="x"><p>Marsh Sour</p></body></html>'


class Told:
    """A preview without a house, and what it said on the terminal."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.preview = PreviewServer.__new__(PreviewServer)
        self.preview._turn = threading.Condition()
        self.preview._count = 0
        self.preview._closed = False
        self.preview._waiting = {}
        self.preview._served = {}
        self.preview.pages = Pages(
            {
                "index.html": PAGE,
                "supper/site/index.html": PAGE,
                "supper/site/404.html": PAGE.replace(b"Marsh Sour", b"No such page here"),
                "łódź/site/index.html": PAGE,
                "supper/site/a.avif": b"avif",
                "supper/site/a.webp": b"webp",
                "supper/site/worker.js": b"1;",
                "supper/site/odd": b"odd",
            },
            "",
            0.0,
        )
        self.server = Server(0, lambda: self.preview, self.lines.append)
        self.port = self.server.server_port

    def moved(self) -> None:
        with self.preview._turn:
            self.preview._count += 1
            self.preview._turn.notify_all()


@pytest.fixture
def told(capfd: pytest.CaptureFixture[str]) -> Iterator[Told]:
    made = Told()
    thread = threading.Thread(target=made.server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True)
    thread.start()
    yield made
    made.preview.close()
    made.server.shutdown()
    thread.join(20)
    made.server.server_close()
    assert capfd.readouterr() == ("", "")


def line(port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=20)


def all_of(opened: socket.socket) -> bytes:
    found = b""
    while piece := opened.recv(65536):
        found += piece
    return found


def sent(port: int, request: bytes) -> tuple[int, dict[str, str], bytes]:
    """Send bytes as they are, and return the first answer."""
    with line(port) as opened:
        opened.sendall(request)
        opened.shutdown(socket.SHUT_WR)
        return parsed(all_of(opened))


def parsed(answer: bytes) -> tuple[int, dict[str, str], bytes]:
    head, _, body = answer.partition(b"\r\n\r\n")
    first, *rest = head.decode("latin-1").split("\r\n")
    headers = {name: value for name, _, value in (entry.partition(": ") for entry in rest)}
    return int(first.split(" ")[1]), headers, body


def get(port: int, target: str, *more: str, method: str = "GET", host: str | None = "127.0.0.1") -> bytes:
    hosts = [f"Host: {host}"] if host is not None else []
    lines = [f"{method} {target} HTTP/1.1", *hosts, *more, "Connection: close", "", ""]
    return "\r\n".join(lines).encode("latin-1")


ODD = {
    "garbage": (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 400),
    "one word": (b"GET\r\n\r\n", 400),
    "four words": (b"GET / HTTP/1.1 now\r\n\r\n", 400),
    "an old version": (b"GET /\r\nHost: evil.example\r\n\r\n", 403),
    "no such version": (b"GET / HTTP/3.0\r\nHost: localhost\r\n\r\n", 505),
    "a long target": (b"GET /" + b"x" * 70_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n", 414),
    "a long header": (b"GET / HTTP/1.1\r\nHost: localhost\r\nX: " + b"x" * 70_000 + b"\r\n\r\n", 431),
    "many headers": (b"GET / HTTP/1.1\r\nHost: localhost\r\n" + b"X: y\r\n" * 200 + b"\r\n", 431),
    "no host": (b"GET / HTTP/1.1\r\n\r\n", 400),
    "no host of old": (b"GET / HTTP/1.0\r\n\r\n", 400),
    "two hosts": (b"GET / HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\n\r\n", 400),
    "another host": (b"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", 403),
    "a host that begins like ours": (b"GET / HTTP/1.1\r\nHost: localhost.evil.example\r\n\r\n", 403),
    "a host with a name before it": (b"GET / HTTP/1.1\r\nHost: evil@localhost\r\n\r\n", 403),
    "a port that is none": (b"GET / HTTP/1.1\r\nHost: localhost:8173:80\r\n\r\n", 403),
    "another address": (b"GET / HTTP/1.1\r\nHost: [::1]:8173\r\n\r\n", 403),
    "another address, no port": (b"GET / HTTP/1.1\r\nHost: [::1]\r\n\r\n", 403),
    "another host in the target": (b"GET http://evil.example/ HTTP/1.1\r\nHost: localhost\r\n\r\n", 403),
    "a broken address": (b"GET http://[::1/ HTTP/1.1\r\nHost: localhost\r\n\r\n", 400),
    "another scheme": (b"GET file:///etc/passwd HTTP/1.1\r\nHost: localhost\r\n\r\n", 400),
    "no target": (b"GET * HTTP/1.1\r\nHost: localhost\r\n\r\n", 400),
    "a zero byte": (b"GET /%00 HTTP/1.1\r\nHost: localhost\r\n\r\n", 404),
    "bytes that are no text": (b"GET /%ff%fe\xff HTTP/1.1\r\nHost: localhost\r\n\r\n", 404),
    "out of the top": (b"GET /../house.yaml HTTP/1.1\r\nHost: localhost\r\n\r\n", 404),
    "out of the top, hidden": (b"GET /supper/%2e%2e/house.yaml HTTP/1.1\r\nHost: localhost\r\n\r\n", 404),
    "two slashes": (b"GET //evil.example/ HTTP/1.1\r\nHost: localhost\r\n\r\n", 404),
    "CONNECT": (b"CONNECT localhost:80 HTTP/1.1\r\nHost: localhost\r\n\r\n", 405),
    "OPTIONS": (b"OPTIONS * HTTP/1.1\r\nHost: localhost\r\n\r\n", 405),
    "a word of its own": (b"BREW / HTTP/1.1\r\nHost: localhost\r\n\r\n", 405),
    "POST": (b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5\r\n\r\nhello", 405),
    "a large POST": (
        b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 300000\r\n\r\n" + b"x" * 300_000,
        405,
    ),
    "DELETE": (b"DELETE /supper/site/ HTTP/1.1\r\nHost: localhost\r\n\r\n", 405),
}


@pytest.mark.slow
@pytest.mark.parametrize("what", ODD)
def test_an_odd_request_gets_a_short_page_and_no_line_on_the_terminal(told, what):
    request, wanted = ODD[what]
    status, headers, body = sent(told.port, request)
    assert status == wanted
    assert len(body) == int(headers["Content-Length"])
    assert body.startswith(b"<!doctype html>")
    assert len(body) < 600
    assert headers["Content-Type"] == "text/html; charset=utf-8"
    assert headers.get("Allow") == ("GET, HEAD" if wanted == 405 else None)
    only_ours(headers)
    assert told.lines == []


def only_ours(headers: dict[str, str]) -> None:
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Content-Security-Policy"].startswith("default-src 'none'")
    assert headers["Cache-Control"] == "no-store"
    assert "Server" not in headers
    assert "python" not in str(headers).casefold()
    assert "http/" not in str(headers).casefold()


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8173", "localhost:8173", "LocalHost", "localhost:"])
def test_a_browser_here_is_answered_however_it_writes_our_name(told, host):
    status, headers, body = sent(told.port, get(told.port, "/supper/site/", host=host))
    assert status == 200
    assert b"Marsh Sour" in body
    only_ours(headers)
    assert sent(told.port, get(told.port, f"http://{host}/supper/site/?a#b", host=host))[0] == 200


@pytest.mark.parametrize(
    "target", ["/", "/supper/site/", "/supper/site", "/no-such-page", "/supper/site/worker.js"]
)
def test_head_is_answered_as_get_without_the_page(told, target):
    status, headers, body = sent(told.port, get(told.port, target))
    same, those, nothing = sent(told.port, get(told.port, target, method="HEAD"))
    assert (same, nothing) == (status, b"")
    assert those["Content-Length"] == headers["Content-Length"] == str(len(body))
    assert {**those, "Date": ""} == {**headers, "Date": ""}
    changes = sent(told.port, get(told.port, "/-/changes", method="HEAD"))
    assert changes[1]["Content-Type"] == "text/event-stream"
    assert changes[2] == b""


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("a.avif", "image/avif"),
        ("a.webp", "image/webp"),
        ("worker.js", "text/javascript"),
        ("odd", "application/octet-stream"),
    ],
)
def test_a_file_has_its_kind_whatever_the_machine_knows(told, name, kind):
    assert sent(told.port, get(told.port, f"/supper/site/{name}"))[1]["Content-Type"] == kind


def test_a_folder_leads_on_in_letters_that_a_header_may_hold(told):
    status, headers, _ = sent(told.port, get(told.port, "/%C5%82%C3%B3d%C5%BA/site"))
    assert (status, headers["Location"]) == (302, "/%C5%82%C3%B3d%C5%BA/site/")
    assert sent(told.port, get(told.port, headers["Location"]))[0] == 200


def test_a_page_that_is_not_there_is_the_event_s_own(told):
    status, _, body = sent(told.port, get(told.port, "/supper/site/nothing"))
    assert status == 404
    assert b"No such page here" in body
    assert b"/-/reload.js" in body


def test_problems_are_words_and_nothing_else(told):
    told.preview.pages = Pages(told.preview.pages.files, "</pre><script>alert(1)</script>&amp;\n", 0.0)
    for target in ("/supper/site/", "/", "/nothing"):
        body = sent(told.port, get(told.port, target))[2]
        assert b"&lt;/pre&gt;&lt;script&gt;alert(1)&lt;/script&gt;&amp;amp;" in body
        assert b"<script>" not in body


def test_several_requests_on_one_line_are_answered_in_turn(told):
    first = b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"
    with line(told.port) as opened:
        opened.sendall(first * 3 + get(told.port, "/nothing"))
        answers_ = all_of(opened).split(b"HTTP/1.1 ")[1:]
    assert [answer[:3] for answer in answers_] == [b"200", b"200", b"200", b"404"]


def test_a_body_is_not_taken_for_the_next_request(told):
    smuggled = b"GET /supper/site/ HTTP/1.1\r\nHost: localhost\r\n\r\n"
    request = b"GET / HTTP/1.1\r\nHost: localhost\r\nContent-Length: %d\r\n\r\n" % len(smuggled)
    chunked = b"GET / HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n"
    for head in (request, chunked):
        with line(told.port) as opened:
            opened.sendall(head + smuggled)
            try:
                answer = all_of(opened)
            except ConnectionResetError:
                continue
        assert answer.count(b"HTTP/1.1 ") == 1


def test_who_is_still_sending_is_heard_out_after_the_answer(told):
    with line(told.port) as opened:
        opened.sendall(b"POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100000\r\n\r\n")
        assert b"405" in told_past(opened, b"</html>")
        for _ in range(10):
            opened.sendall(b"x" * 1000)
            time.sleep(0.01)


def test_a_line_that_is_cut_says_nothing(told):
    cut_off = struct.pack("ii", 1, 0)
    for request in (b"", b"G", b"GET / HT", get(told.port, "/"), get(told.port, "/-/changes"), b"\0" * 5000):
        for _ in range(5):
            opened = line(told.port)
            opened.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, cut_off)
            opened.sendall(request)
            opened.close()
    assert sent(told.port, get(told.port, "/"))[0] == 200
    assert told.lines == []


def test_a_request_that_never_arrives_is_given_up_however_its_bytes_trickle(told, monkeypatch):
    monkeypatch.setattr(answers, "REQUEST_S", 0.3)
    with line(told.port) as opened, line(told.port) as silent:
        with pytest.raises(ConnectionError, match=r"."):  # noqa: PT012  # whichever byte it is
            for _ in range(200):
                opened.sendall(b"X")
                time.sleep(0.02)
        assert silent.recv(10) == b""
    assert told.lines == []


def test_who_reads_nothing_is_given_up(told, monkeypatch):
    monkeypatch.setattr(answers, "REQUEST_S", 0.3)
    told.preview.pages.files["large.js"] = bytes(30_000_000)
    before = threading.active_count()
    with line(told.port) as opened:
        opened.sendall(get(told.port, "/large.js"))
        for _ in range(200):
            time.sleep(0.02)
            if threading.active_count() <= before:
                break
        assert threading.active_count() <= before
    assert told.lines == []


@pytest.mark.slow
def test_hundreds_who_wait_are_told_and_nobody_else_waits_for_them(told):
    with ExitStack() as opened:
        waiting = [opened.enter_context(line(told.port)) for _ in range(300)]
        for one in waiting:
            one.sendall(get(told.port, "/-/changes"))
        for one in waiting:
            assert b"data: 0" in told_past(one, b"data: 0")
        assert sent(told.port, get(told.port, "/"))[0] == 200
        told.moved()
        for one in waiting:
            assert b"data: 1" in told_past(one, b"data: 1")
    assert told.lines == []


def told_past(opened: socket.socket, wanted: bytes) -> bytes:
    found = b""
    while wanted not in found:
        piece = opened.recv(4096)
        assert piece
        found += piece
    return found


def test_of_too_many_who_wait_the_first_goes_home():
    made = Told()
    made.server.server_close()
    preview = made.preview
    first, second = preview.come(), preview.come()
    for _ in range(_MOST_WAITING - 2):
        preview.come()
    assert preview.wait_past(first, -1, 0) == 0
    last = preview.come()
    assert preview.wait_past(first, -1, 0) is None
    assert preview.wait_past(second, -1, 0) == preview.wait_past(last, -1, 0) == 0
    preview.leave(first)
    preview.leave(second)
    assert preview.wait_past(second, -1, 0) is None


def test_a_fault_of_our_own_is_one_line_and_said_once(told):
    told.preview.pages = None  # type: ignore[assignment]
    for _ in range(3):
        status, headers, body = sent(told.port, get(told.port, "/"))
        assert (status, len(body)) == (500, int(headers["Content-Length"]))
        only_ours(headers)
    (said,) = told.lines
    assert said.startswith("menugen: a fault of menugen's own, not of your files: AttributeError")
    assert "Traceback" not in said


def test_a_browser_that_has_gone_is_no_fault(told):
    for fault in (ConnectionResetError(), BrokenPipeError(), TimeoutError()):
        try:
            raise fault
        except OSError:
            told.server.handle_error(None, None)
    assert told.lines == []
    try:
        raise ValueError("ours")
    except ValueError:
        told.server.handle_error(None, None)
    assert len(told.lines) == 1


def test_too_many_open_lines_are_waited_for(told, monkeypatch):
    def refused(_self: object) -> None:
        raise OSError(24, "Too many open files")

    waited: list[float] = []
    monkeypatch.setattr("socketserver.TCPServer.get_request", refused)
    monkeypatch.setattr(answers.time, "sleep", waited.append)
    with pytest.raises(OSError, match="Too many"):
        told.server.get_request()
    assert waited == [0.05]


def test_nobody_asks_a_name_server(monkeypatch):
    monkeypatch.setattr(socket, "getfqdn", lambda *_: sys.exit("asked"))
    with Server(0, lambda: None, lambda _line: None) as server:  # type: ignore[arg-type]
        assert server.server_address[0] == "127.0.0.1"
