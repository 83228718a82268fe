"""A drink's life as a page, and the putting of one private file."""

import re
from pathlib import Path

import pytest

from menugen.writing.life_page import LifeEntry, LifeFact, LifePage, life_page
from menugen.writing.one_file import put_file
from menugen.writing.output_folder import MARKER, CannotWrite, NotOurs
from tests.writing.fixtures import page_faults

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><title>t</title></svg>'


def page(*entries: LifeEntry, name: str = "Marsh Sour", notes: tuple[str, ...] = ()) -> str:
    return life_page(LifePage(name, "marsh-sour", entries, SVG, SVG, notes))


def test_every_word_is_escaped_and_the_page_is_sound():
    hostile = '</style><script>alert("1")</script>'
    entry = LifeEntry(hostile, hostile, (LifeFact(hostile, (hostile,), alarm=True),), (hostile,))
    text = page(entry, name=hostile, notes=(hostile,))
    assert "<script>" not in text
    assert text.count("</style>") == 1
    assert page_faults({"marsh-sour.html": text.encode()}) == ()


def test_the_policy_lets_nothing_in_but_the_pages_own_style():
    rule = re.search(r'Content-Security-Policy" content="([^"]*)"', page())
    assert rule is not None
    assert "default-src 'none'" in rule[1]
    assert re.search(r"style-src 'sha256-[^']+'; ", rule[1])
    assert "script-src" not in rule[1]


class TestOneFile:
    def test_a_write_that_fails_leaves_the_file_of_last_time(self, tmp_path, monkeypatch):
        put_file(tmp_path, "a.html", b"old")

        def full(self: Path, target: Path) -> Path:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(Path, "replace", full)
        with pytest.raises(CannotWrite, match="the disk is full"):
            put_file(tmp_path, "a.html", b"new")
        assert [path.name for path in tmp_path.iterdir()] == ["a.html"]
        assert (tmp_path / "a.html").read_bytes() == b"old"

    def test_what_a_publish_made_is_left_alone(self, tmp_path):
        (tmp_path / MARKER).write_bytes(b"")
        with pytest.raises(NotOurs):
            put_file(tmp_path / "site" / "bar", "a.html", b"x")
        assert not (tmp_path / "site").exists()
