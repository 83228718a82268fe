"""The worker's scripts as text: what they would save, and when their version changes."""

import json
import re

import pytest

from menugen.writing.worker import (
    HIDDEN,
    SHOWN,
    WORKER,
    WORKER_OFF,
    contents_version,
    register_script,
    savable,
    worker_files,
)

PAGE = f"<!doctype html><body>{HIDDEN}A copy.</p>Menu 3f9a1c0</body>".encode()
FILES = {
    "index.html": PAGE,
    "t/index.html": PAGE,
    "drinks/café-noir.html": PAGE,
    "404.html": b"<!doctype html>",
    "menu.json": b"{}",
    "_headers.txt": b"",
    "assets/slate.12345678.css": b"body{}",
    "assets/letters.12345678.woff2": b"wOF2",
    "assets/link.12345678.png": b"png",
    "assets/photo-640.12345678.avif": b"avif",
    "assets/photo-640.12345678.jpg": b"jpg",
    "icon.svg": b"<svg/>",
}


def version_of(files: dict[str, bytes]) -> str:
    return contents_version((path, len(content), [content]) for path, content in sorted(files.items()))


def said(script: str, name: str) -> object:
    found = re.search(rf"^const {name} = (.*);$", script, re.MULTILINE)
    assert found, name
    return json.loads(found[1])


def test_pages_and_what_they_are_dressed_in_are_saved_and_nothing_else():
    photos = ["../assets/photo-640.12345678.jpg", "../assets/photo-640.12345678.avif"]
    script = worker_files(FILES, "0123", "3f9a1c0", photos)[WORKER]
    assert said(script, "PAGES") == ["drinks/café-noir.html", "index.html", "t/index.html"]
    assert said(script, "FIXED") == [
        "assets/letters.12345678.woff2",
        "assets/slate.12345678.css",
        "icon.svg",
    ]
    assert said(script, "PHOTOS") == sorted(photos)
    assert said(script, "MARK") == "3f9a1c0"
    assert 'const VERSION = "0123";' in script
    assert "@" not in script


def test_every_path_is_relative():
    paths = [
        path
        for name in ("PAGES", "FIXED", "PHOTOS")
        for path in said(worker_files(FILES, "0123", "3f9a1c0")[WORKER], name)
    ]
    assert paths
    assert not any(path.startswith("/") or ":" in path for path in paths)
    assert 'register("worker.js"' in register_script("")
    assert 'register("../worker.js"' in register_script("../")


@pytest.mark.parametrize(
    "changed",
    [
        {**FILES, "menu.json": b"[]"},
        {**FILES, "other.html": PAGE},
        {path: content for path, content in FILES.items() if path != "icon.svg"},
        {**FILES, "menu.json": b"", "_headers.txt": b"{}"},
    ],
    ids=["content", "more", "less", "moved"],
)
def test_the_version_follows_every_byte_of_the_site(changed):
    assert version_of(changed) != version_of(FILES)


def test_the_version_is_the_same_in_whatever_parts_a_file_comes():
    halves = ((path, len(content), [content[:5], content[5:]]) for path, content in sorted(FILES.items()))
    assert contents_version(halves) == version_of(FILES)


def test_the_same_site_has_the_same_worker_in_whatever_order():
    paths = list(FILES)
    assert worker_files(paths, "0123", "3f9a1c0") == worker_files(paths[::-1], "0123", "3f9a1c0")


@pytest.mark.parametrize(
    "page", [PAGE.replace(b"3f9a1c0", b""), PAGE.replace(HIDDEN.encode(), b"<p>"), PAGE * 2]
)
def test_a_page_no_phone_could_save_is_a_fault_of_ours(page):
    with pytest.raises(ValueError, match="cannot be saved on a phone"):
        list(savable("t/index.html", [page.decode()], "3f9a1c0"))
    assert list(savable("404.html", [page.decode()], "3f9a1c0")) == [page.decode()]


def test_a_page_in_pieces_is_held_to_the_same():
    page = PAGE.decode()
    for pieces in ([page], [page[:15], page[15:]], [page, "more"]):
        assert list(savable("index.html", pieces, "3f9a1c0")) == pieces
    with pytest.raises(ValueError, match="cannot be saved on a phone"):
        list(savable("index.html", [page, page], "3f9a1c0"))


def test_the_sentence_is_shown_by_taking_one_word_away():
    assert HIDDEN.replace(" hidden", "") == SHOWN


def test_the_way_out_knows_nothing_of_a_version():
    assert worker_files(FILES, "0123", "3f9a1c0")[WORKER_OFF] == worker_files((), "4567", "other")[WORKER_OFF]
