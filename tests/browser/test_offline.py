"""The menu with the network gone, in a real browser: one visit, then the copy, which owns up to being one."""

import gzip
import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from typing import Any

import pytest
from PIL import Image

from menugen.menu import GuestMenu, LanguageLink
from menugen.shipped import shipped_folder
from menugen.writing.photos import Photo, make_photo
from menugen.writing.theme import load_theme
from menugen.writing.worker import WORKER, WORKER_OFF
from tests.writing.fixtures import rich_menu, site_files

pytestmark = pytest.mark.browser

KINDS = {
    "html": "text/html; charset=utf-8",
    "css": "text/css",
    "js": "text/javascript",
    "svg": "image/svg+xml",
    "woff2": "font/woff2",
    "json": "application/json",
    "avif": "image/avif",
    "webp": "image/webp",
    "jpg": "image/jpeg",
}


def site_of(menu: GuestMenu, photos: dict[str, Photo] | None = None) -> dict[str, bytes]:
    return site_files(menu, load_theme([shipped_folder("themes")], "slate"), photos)


def photo_of(colour: str) -> Photo:
    content = BytesIO()
    Image.new("RGB", (900, 700), colour).save(content, "JPEG")
    photo = make_photo(content.getvalue())
    assert isinstance(photo, tuple)
    return photo


class Host:
    """A plain web host with its files under a folder, which can be down, slow or without endings in addresses.

    Attributes:
        files: What it has, by path.
        headers: What it sends besides, with every file.
        down: Answers 503 to everything.
        bare: Sends "/x.html" on to "/x", as some hosts do.
        hold: Answers to pages wait for this.
        asked: Paths that were asked for.
    """

    def __init__(self, files: dict[str, bytes]) -> None:
        self.files = files
        self.headers: dict[str, str] = {}
        self.down = False
        self.bare = False
        self.hold = threading.Event()
        self.hold.set()
        self.asked: list[str] = []
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Answer, self))
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, args=(0.02,), daemon=True).start()
        self.home = f"http://127.0.0.1:{self._server.server_address[1]}/events/lantern/"

    def close(self) -> None:
        self.hold.set()
        self._server.shutdown()
        self._server.server_close()


class _Answer(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def __init__(self, host: Host, *args: object) -> None:
        self._host = host
        super().__init__(*args)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        path = self.path.partition("?")[0].removeprefix("/events/lantern/")
        self._host.asked.append(path)
        path = f"{path}index.html" if path == "" or path.endswith("/") else path
        if self._host.bare and path.endswith(".html") and not path.endswith("index.html"):
            self._send(308, b"", {"Location": f"/events/lantern/{path.removesuffix('.html')}"})
            return
        content = self._host.files.get(path, self._host.files.get(f"{path}.html"))
        kind = "html" if path not in self._host.files else path.rpartition(".")[2]
        if kind == "html":
            self._host.hold.wait(30)
        if self._host.down or content is None:
            self._send(503 if self._host.down else 404, b"no", {"Content-Type": "text/plain"})
            return
        packed = gzip.compress(content, mtime=0)
        self._send(200, packed, {"Content-Type": KINDS.get(kind, "text/plain"), "Content-Encoding": "gzip"})

    def _send(self, status: int, content: bytes, headers: dict[str, str]) -> None:
        self.send_response(status)
        for name, value in {**headers, **self._host.headers, "Content-Length": str(len(content))}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, *args: object) -> None:
        pass


class Phone:
    """A guest's phone with one page open, and what it said and asked for."""

    def __init__(self, chromium: Any) -> None:
        self.context = chromium.new_context(viewport={"width": 390, "height": 844})
        self.page = self.context.new_page()
        self.said: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda fault: self.said.append(str(fault)))
        self.context.on("request", lambda request: self.asked.append(request.url))

    def visit(self, address: str) -> None:
        """Open a page and wait until the phone has its copy."""
        self.page.goto(address)
        self.until("navigator.serviceWorker.controller !== null")

    def until(self, question: str, argument: object = None) -> None:
        """Wait until a question asked of the page is answered yes; the policy forbids the library's own way."""
        ends = time.monotonic() + 15
        while not self.page.evaluate(question, argument):
            assert time.monotonic() < ends, question
            time.sleep(0.03)

    def notice(self) -> str:
        """The words of the copy; empty where the page does not say it is one."""
        shown = self.page.locator(".saved-copy")
        return shown.inner_text() if shown.is_visible() else ""

    def caches(self) -> list[str]:
        return self.page.evaluate("caches.keys()")


@pytest.fixture
def host() -> Iterator[Host]:
    made = Host(site_of(rich_menu(listed=True)))
    yield made
    made.close()


@pytest.fixture
def phone(chromium) -> Iterator[Phone]:
    made = Phone(chromium)
    yield made
    made.context.close()


@pytest.mark.parametrize("first", ["", "t/", "drinks/saltmarsh-sour.html"])
def test_after_one_visit_every_page_opens_without_a_network_and_says_it_is_a_copy(host, phone, first):
    phone.visit(host.home + first)
    assert phone.notice() == ""
    phone.context.set_offline(True)
    for path in (
        "",
        "index.html",
        "t/",
        "t/?table=4",
        "allergens.html",
        "drinks/lamplighter.html",
        "notices.html",
    ):
        phone.page.goto(host.home + path)
        assert "saved" in phone.notice(), path
        assert "3f9a1c02" in phone.notice(), path
        assert phone.page.locator(".saved-copy").get_attribute("role") == "status"
        assert (
            phone.page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
            != "rgba(0, 0, 0, 0)"
        )
    assert phone.page.locator("h1").inner_text() != ""
    assert phone.said == []


def test_links_work_in_the_copy(host, phone):
    phone.visit(host.home + "t/")
    phone.context.set_offline(True)
    phone.page.reload()
    phone.page.click("h3 >> text=Saltmarsh Sour")
    assert phone.page.locator("h1").inner_text() == "Saltmarsh Sour"
    assert "saved" in phone.notice()


def test_with_a_network_the_newest_page_comes_at_once_and_the_copy_follows(host, phone):
    phone.visit(host.home)
    before = phone.caches()
    host.files = site_of(rich_menu(version="77777777", event="Harvest Supper"))
    phone.page.goto(host.home)
    assert phone.page.locator("h1").inner_text() == "Harvest Supper"
    assert phone.notice() == ""
    phone.until("old => caches.keys().then(names => names.length === 1 && names[0] !== old)", before[0])
    phone.context.set_offline(True)
    phone.page.goto(host.home + "allergens.html")
    assert "77777777" in phone.notice()
    assert "Harvest Supper" in phone.page.title()


def test_a_host_that_is_down_or_slow_gives_way_to_the_copy(host, phone):
    phone.visit(host.home)
    host.down = True
    phone.page.goto(host.home + "allergens.html")
    assert "saved" in phone.notice()
    host.down = False
    host.hold.clear()
    phone.page.goto(host.home + "notices.html")
    assert "saved" in phone.notice()
    host.hold.set()
    phone.page.goto(host.home + "notices.html")
    assert phone.notice() == ""


def test_a_drink_taken_off_the_host_is_gone_even_with_a_copy(host, phone):
    phone.visit(host.home)
    del host.files["drinks/lamplighter.html"]
    answer = phone.page.goto(host.home + "drinks/lamplighter.html")
    assert answer.status == 404


@pytest.mark.parametrize("fault", ["a page is missing", "a page is of another menu"])
def test_half_an_upload_is_not_saved_and_the_copy_before_it_stays(host, phone, fault):
    phone.visit(host.home)
    before = phone.caches()
    newer = site_of(rich_menu(version="77777777"))
    whole = dict(newer)
    if fault == "a page is missing":
        del newer["allergens.html"]
    else:
        newer["allergens.html"] = host.files["allergens.html"]
    host.files = newer
    phone.page.goto(host.home)
    phone.page.evaluate(
        "navigator.serviceWorker.getRegistration().then(found => found.update()).then(() => {}, () => {})"
    )
    phone.until(
        "navigator.serviceWorker.getRegistration().then(found => !found.installing && !found.waiting)"
    )
    assert phone.caches() == before
    host.files = whole
    phone.page.goto(host.home)
    phone.until("old => caches.keys().then(names => names.length === 1 && names[0] !== old)", before[0])


def test_every_language_keeps_its_own_copy_and_leads_to_the_others(host, phone):
    to_french = (LanguageLink("fr", "Français", "fr/"),)
    french = rich_menu(folder="fr/", language="fr-GB", languages=(LanguageLink("en", "English", "../"),))
    host.files = site_of(rich_menu(languages=to_french))
    host.files |= {f"fr/{path}": content for path, content in site_of(french).items()}
    phone.visit(host.home + "t/")
    phone.page.click("a[hreflang=fr]")
    assert phone.page.url == host.home + "fr/t/index.html"
    phone.until(
        "navigator.serviceWorker.getRegistration().then(own => own.scope.endsWith('/fr/') && !!own.active)"
    )
    phone.context.set_offline(True)
    phone.page.click("a[hreflang=en]")
    assert "saved" in phone.notice()
    phone.page.click("a[hreflang=fr]")
    assert "saved" in phone.notice()
    assert phone.page.locator("html").get_attribute("lang") == "fr-GB"


def test_a_photo_that_was_seen_is_kept_and_others_are_not_fetched(host, phone):
    photos = {"saltmarsh-sour": photo_of("#8a4b2a"), "lamplighter": photo_of("#2a4b8a")}
    host.files = site_of(rich_menu(), photos)
    phone.visit(host.home)
    assert not [path for path in host.asked if path.endswith((".webp", ".jpg"))]
    phone.page.goto(host.home + "drinks/saltmarsh-sour.html")
    loaded = "[...document.images].every(image => image.complete && image.naturalWidth > 0)"
    phone.until(loaded)
    phone.page.goto(host.home)
    phone.context.set_offline(True)
    phone.page.goto(host.home + "drinks/saltmarsh-sour.html")
    assert "saved" in phone.notice()
    phone.until(loaded)
    kept = phone.page.evaluate(
        "caches.keys().then(names => caches.open(names[0])).then(cache => cache.keys())"
        ".then(found => found.map(request => request.url).filter(address => address.includes('photo-')))"
    )
    assert kept
    assert all(address.endswith(".avif") for address in kept)


def test_two_menus_of_one_host_keep_their_own_copies(host, phone):
    def inside(version: str) -> dict[str, bytes]:
        return {f"more/{path}": content for path, content in site_of(rich_menu(version=version)).items()}

    settled = (
        "old => Promise.all([navigator.serviceWorker.getRegistration(), caches.keys()]).then(([own, names]) => "
        "own.scope.endsWith('/more/') && own.active?.state === 'activated' && !own.installing && !own.waiting "
        "&& names.some(name => name.includes('/more/') && !old.includes(name)))"
    )
    phone.visit(host.home)
    [outer] = phone.caches()
    host.files |= inside("77777777")
    seen = [outer]
    for version in ("77777777", "88888888"):
        host.files |= inside(version)
        phone.page.goto(host.home + "more/")
        phone.until(settled, seen)
        assert len(phone.caches()) == 2
        assert outer in phone.caches()
        seen = phone.caches()
    phone.context.set_offline(True)
    phone.page.goto(host.home)
    assert "3f9a1c02" in phone.notice()
    phone.page.goto(host.home + "more/")
    assert "88888888" in phone.notice()


def test_a_host_that_leaves_endings_away_is_understood(host, phone):
    host.bare = True
    phone.visit(host.home)
    phone.page.goto(host.home + "allergens.html")
    assert phone.page.url.endswith("/allergens")
    phone.context.set_offline(True)
    for path in ("allergens", "allergens.html"):
        phone.page.goto(host.home + path)
        assert "saved" in phone.notice()


def test_the_way_out_takes_the_copies_and_itself(host, phone):
    phone.visit(host.home)
    host.files = {**host.files, WORKER: host.files[WORKER_OFF]}
    phone.page.goto(host.home)
    phone.until("caches.keys().then(names => names.length === 0)")
    phone.until("navigator.serviceWorker.getRegistrations().then(found => found.length === 0)")
    assert phone.said == []
    phone.context.set_offline(True)
    with pytest.raises(Exception, match="ERR_INTERNET_DISCONNECTED"):
        phone.page.goto(host.home)


@pytest.mark.parametrize("path", ["index.html", "t/index.html", "drinks/saltmarsh-sour.html", "404.html"])
def test_from_disk_there_is_no_worker_and_no_complaint(phone, tmp_path, path):
    for name, content in site_of(rich_menu(listed=True), {"saltmarsh-sour": photo_of("#8a4b2a")}).items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(content)
    phone.page.goto((tmp_path / path).as_uri())
    assert phone.page.locator("h1").inner_text() != ""
    assert phone.notice() == ""
    assert phone.said == []
    assert all(address.startswith("file:") for address in phone.asked)


def test_with_every_header_sent_nobody_else_is_asked_and_no_policy_is_broken(host, phone):
    host.headers = dict(line.split(": ", 1) for line in host.files["_headers.txt"].decode().splitlines())
    phone.visit(host.home)
    for path in ("t/", "allergens.html", "drinks/saltmarsh-sour.html", "notices.html", ""):
        phone.page.goto(host.home + path)
    # The data for search engines is there to be read, and was no script to be refused.
    data = "JSON.parse(document.querySelector('script[type=\"application/ld+json\"]').textContent)['@type']"
    assert phone.page.evaluate(data) == "Menu"
    assert phone.said == []
    assert all(address.startswith(host.home) for address in phone.asked)


def test_the_policy_is_what_keeps_a_strange_script_out(host, phone):
    page = host.files["index.html"].decode()
    strange = page.replace("</body>", "<script>document.title = 'taken'</script></body>")
    host.files = {**host.files, "index.html": strange.encode()}
    phone.page.goto(host.home)
    assert phone.page.title() != "taken"
    assert len(phone.said) == 1
    assert "Content Security Policy" in phone.said[0]


def test_a_menu_that_may_not_be_listed_says_so_with_every_file():
    assert b"X-Robots-Tag: noindex" in site_of(replace(rich_menu(), listed=False))["_headers.txt"]
    assert b"X-Robots-Tag" not in site_of(replace(rich_menu(), listed=True))["_headers.txt"]
