"""What is kept between two publishes: whole or not at all, and never needed."""

import pytest

from menugen.writing.checked_output import ReadOnlyCache
from menugen.writing.file_cache import FileCache

PARTS = {"640x480.avif": b"\x00" * 900, "640x480.jpg": b"jpeg", "empty": b""}


def test_what_is_kept_is_found_as_it_was(tmp_path):
    FileCache(tmp_path / "not" / "yet").keep("abc", PARTS)
    assert FileCache(tmp_path / "not" / "yet").find("abc") == PARTS
    assert list(FileCache(tmp_path / "not" / "yet").find("abc")) == list(PARTS)
    assert FileCache(tmp_path / "not" / "yet").find("abd") is None


def test_a_later_one_takes_the_place_of_an_earlier_and_nothing_is_left_over(tmp_path):
    made = FileCache(tmp_path)
    made.keep("abc", PARTS)
    made.keep("abc", {"other": b"x"})
    assert made.find("abc") == {"other": b"x"}
    assert [file.name for file in tmp_path.iterdir()] == ["abc.zip"]


@pytest.mark.parametrize("spoil", ["cut", "byte", "empty", "folder", "end"])
def test_what_is_not_whole_is_not_found(tmp_path, spoil):
    made = FileCache(tmp_path)
    made.keep("abc", PARTS)
    file = tmp_path / "abc.zip"
    content = file.read_bytes()
    if spoil == "folder":
        file.unlink()
        file.mkdir()
    else:
        spoilt = {
            "cut": content[:500],
            "byte": content[:200] + b"\x01" + content[201:],
            "empty": b"",
            "end": content[:-30],
        }
        file.write_bytes(spoilt[spoil])
    assert made.find("abc") is None


def test_a_disk_that_refuses_is_no_fault(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    made = FileCache(tmp_path / "file" / "inside")
    made.keep("abc", PARTS)
    assert made.find("abc") is None


def test_no_folder_keeps_nothing():
    made = FileCache(None)
    made.keep("abc", PARTS)
    assert made.find("abc") is None


def test_the_same_parts_are_kept_as_the_same_bytes(tmp_path):
    FileCache(tmp_path).keep("one", PARTS)
    FileCache(tmp_path).keep("two", PARTS)
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()


def test_a_file_is_made_once_for_what_it_is_made_of(tmp_path):
    made = FileCache(tmp_path)
    assert made.get_or_make("png", (b"a", b"b"), lambda: b"1") == b"1"
    assert made.get_or_make("png", (b"a", b"b"), lambda: b"2") == b"1"
    assert made.get_or_make("png", (b"ab", b""), lambda: b"3") == b"3"
    assert made.get_or_make("woff", (b"a", b"b"), lambda: b"4") == b"4"
    assert ReadOnlyCache(made).get_or_make("png", (b"a", b"b"), lambda: b"5") == b"1"
    assert ReadOnlyCache(made).get_or_make("png", (b"c",), lambda: b"6") == b"6"
    assert made.get_or_make("png", (b"c",), lambda: b"7") == b"7", "who only looks keeps nothing"


def test_what_is_kept_under_another_name_is_made_anew(tmp_path):
    made = FileCache(tmp_path)
    made.get_or_make("png", (b"a",), lambda: b"1")
    (kept,) = tmp_path.iterdir()
    made.keep(kept.stem, {"gif": b"planted"})
    assert made.get_or_make("png", (b"a",), lambda: b"2") == b"2"
