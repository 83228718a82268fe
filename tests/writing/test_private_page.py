"""A page for the bar alone, sealed, and the putting of one private file."""

import re
from pathlib import Path

import pytest

from menugen.report import Column, Item, Items, Note, Plot, Report, Row, Rows, Section, Table, as_html
from menugen.writing.one_file import put_file
from menugen.writing.output_folder import MARKER, CannotWrite, NotOurs
from menugen.writing.policy import seal
from tests.writing.fixtures import page_faults

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><title>t</title></svg>'
HOSTILE = '</style><script>alert("1")</script>'


def page() -> str:
    blocks = (
        Note(HOSTILE),
        Rows((Row(HOSTILE, HOSTILE, loud=True),)),
        Items((Item(HOSTILE, (HOSTILE,), loud=True),)),
        Table((Column(HOSTILE),), ((HOSTILE,),)),
        Plot(HOSTILE, SVG, SVG, HOSTILE),
        Plot(HOSTILE),
    )
    return seal(
        as_html(Report(HOSTILE, blocks, (Section(HOSTILE, blocks, alarm=True, value=HOSTILE),)), why=HOSTILE)
    )


def test_every_word_is_escaped_and_the_page_is_sound():
    text = page()
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
