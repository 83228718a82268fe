"""The preview on this machine: what it serves, to whom, and again on every save."""

import http.client
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.preview import serve, server
from tests.houses import texts


@pytest.fixture
def house(tmp_path: Path) -> Path:
    for name, text in texts().items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return tmp_path


@pytest.fixture
def port(house: Path) -> Iterator[int]:
    found: list[str] = []
    opened = threading.Event()

    def ready(address: str) -> None:
        found.append(address)
        opened.set()

    stop = threading.Event()
    thread = threading.Thread(
        target=serve,
        args=(house, None, 0),
        kwargs={"made": lambda _pages: None, "ready": ready, "until": stop},
        daemon=True,
    )
    thread.start()
    assert opened.wait(30)
    yield int(found[0].rstrip("/").rpartition(":")[2])
    stop.set()
    thread.join(20)
    assert not thread.is_alive()


def ask(port: int, path: str, host: str | None = None) -> tuple[int, str, http.client.HTTPMessage]:
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=20)) as connection:
        connection.request("GET", path, headers={"Host": host} if host else {})
        with connection.getresponse() as answer:
            return answer.status, answer.read().decode("utf-8", "replace"), answer.headers


def eventually(port: int, path: str, wanted: str) -> str:
    for _ in range(100):
        page = ask(port, path)[1]
        if wanted in page:
            return page
        time.sleep(0.1)
    raise AssertionError(f"{wanted!r} never came")


def vanished(port: int, path: str, unwanted: str) -> None:
    for _ in range(100):
        if unwanted not in ask(port, path)[1]:
            return
        time.sleep(0.1)
    raise AssertionError(f"{unwanted!r} never went")


def test_pages_reload_themselves_and_are_kept_from_everyone_else(port):
    status, page, headers = ask(port, "/small-supper/site/")
    assert status == 200
    assert "Marsh Sour" in page
    assert "/-/reload.js" in page
    assert headers["Cache-Control"] == "no-store"
    assert ask(port, "/small-supper/site/", host="menu.example")[0] == 403
    assert ask(port, "/small-supper/site/t/")[0] == 200
    assert ask(port, "/small-supper/site/no-such-page")[0] == 404
    assert ask(port, "/../house.yaml")[0] == 404
    assert ask(port, "/small-supper/site/%2e%2e/%2e%2e/house.yaml")[0] == 404


def test_a_save_makes_the_pages_again_and_a_fault_is_shown_over_the_last_good_ones(house, port):
    spec = house / "specs/marsh-sour.md"
    good = spec.read_text("utf-8")
    spec.write_text(good.replace("name: Marsh Sour", "name: Reed Sour"), encoding="utf-8")
    eventually(port, "/small-supper/site/", "Reed Sour")
    spec.write_text(good.replace("lemon juice", "lemon jiuce"), encoding="utf-8")
    page = eventually(port, "/small-supper/site/", "lemon jiuce")
    assert "unknown-stock" in page
    assert "Reed Sour" in page
    spec.write_text(good, encoding="utf-8")
    eventually(port, "/small-supper/site/", "Marsh Sour")


def test_a_save_while_the_other_pages_are_made_is_heard_of_there(house, port, monkeypatch):
    heard: list[bool] = []
    make = server.pages_in_turn

    def slowly(*args: object) -> Iterator[object]:
        outdated = args[4]
        if not heard:
            stock = house / "stock/all.yaml"
            stock.write_text(stock.read_text("utf-8").replace("abv: 41 %", "abv: 42 %"), encoding="utf-8")
            for _ in range(100):
                if outdated():
                    break
                time.sleep(0.1)
            heard.append(outdated())
        yield from make(*args)

    monkeypatch.setattr(server, "pages_in_turn", slowly)
    stock = house / "stock/all.yaml"
    stock.write_text(stock.read_text("utf-8").replace("abv: 40 %", "abv: 41 %"), encoding="utf-8")
    for _ in range(200):
        if heard:
            break
        time.sleep(0.1)
    assert heard == [True]


def test_whoever_waits_is_told_of_the_next_pages(house, port):
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=30)) as connection:
        connection.request("GET", "/-/changes")
        with connection.getresponse() as answer:
            assert answer.headers["Content-Type"] == "text/event-stream"
            assert answer.readline() == b"data: 0\n"
            stock = house / "stock/all.yaml"
            stock.write_text(stock.read_text("utf-8").replace("abv: 40 %", "abv: 41 %"), encoding="utf-8")
            assert answer.readline() == b"\n"
            assert answer.readline().startswith(b"data: ")


def test_a_preview_keeps_no_copy_on_the_machine(port):
    events = ask(port, "/")[1]
    place = events.partition('<a href="')[2].partition('"')[0]
    page = ask(port, f"{place}index.html")[1]
    assert "saved-copy" in page
    assert "serviceWorker" not in page
    assert "<script>" not in page


@pytest.mark.slow
def test_a_publish_meanwhile_is_seen_and_saves_after_it_are_too(house, port):
    """A publish exchanges whole trees, which must neither blind the watch nor leave the pages with an old alarm."""
    assert main(["publish", str(house), "--quiet"]) == 0
    stock = house / "stock/all.yaml"
    good = stock.read_text("utf-8")
    for _ in range(2):
        stock.write_text(good.replace("contains: [egg]", "contains: [egg, walnut]"), encoding="utf-8")
        eventually(port, "/small-supper/site/", "ALLERGENS GAINED")
        assert main(["publish", str(house), "--quiet"]) == 0
        vanished(port, "/small-supper/site/", "preview-problems")
        stock.write_text(good, encoding="utf-8")
        eventually(port, "/small-supper/site/", "ALLERGENS LOST")
        assert main(["publish", str(house), "--quiet"]) == 0
        vanished(port, "/small-supper/site/", "preview-problems")
    for name in ("photos", "themes"):
        (house / name).mkdir()
        time.sleep(0.3)
    spec = house / "specs/marsh-sour.md"
    spec.write_text(spec.read_text("utf-8").replace("Marsh Sour", "Reed Sour"), encoding="utf-8")
    eventually(port, "/small-supper/site/", "Reed Sour")


def test_a_folder_that_comes_later_is_watched_too(house, port):
    (house / "themes").mkdir()
    time.sleep(0.5)
    before = ask(port, "/small-supper/site/t/")[1]
    assert "#010203" not in before
    (house / "themes/mine").mkdir()
    (house / "themes/mine/theme.yaml").write_text("extends: slate\n", encoding="utf-8")
    event = house / "events/small-supper.yaml"
    event.write_text("theme: mine\n" + event.read_text("utf-8"), encoding="utf-8")
    time.sleep(1)
    theme = 'extends: slate\ncolours:\n  dark: {ground: "#010203"}\n'
    (house / "themes/mine/theme.yaml").write_text(theme, encoding="utf-8")
    eventually(port, "/small-supper/site/t/", "#010203")
