import os
from pathlib import Path

import pytest

from menugen.reading import LARGEST_BYTES, BrokenLink, DiskFiles, joined, read_house


def test_names_are_the_files_directly_in_a_folder(tmp_path: Path) -> None:
    (tmp_path / "specs" / "deep").mkdir(parents=True)
    for name in ("b.md", "a.md", "cafe\u0301.md"):
        (tmp_path / "specs" / name).write_text("", encoding="utf-8")
    files = DiskFiles(tmp_path)
    assert files.names("specs") == ("a.md", "b.md", "cafe\u0301.md")
    assert files.names("specs/deep/../../specs") == files.names("specs")
    assert files.names("nowhere") == files.names("specs/a.md") == ()


def test_links_are_followed(tmp_path: Path) -> None:
    (tmp_path / "library").mkdir()
    (tmp_path / "library" / "a.md").write_text("gin", encoding="utf-8")
    house = tmp_path / "house"
    (house / "specs").mkdir(parents=True)
    try:
        (house / "specs" / "b.md").symlink_to(tmp_path / "library" / "a.md")
        (house / "shared").symlink_to(tmp_path / "library", target_is_directory=True)
        (house / "specs" / "gone.md").symlink_to(tmp_path / "nowhere")
    except OSError:
        pytest.skip("this system makes no links")
    files = DiskFiles(house)
    assert (files.names("specs"), files.names("shared")) == (("b.md", "gone.md"), ("a.md",))
    assert files.read("specs/b.md") == b"gin"


def test_a_link_that_leads_nowhere_is_named_and_hides_no_other_file(tmp_path: Path) -> None:
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs" / "a.md").write_text("gin", encoding="utf-8")
    try:
        (tmp_path / "specs" / "round.md").symlink_to("round.md")
        (tmp_path / "specs" / "gone.md").symlink_to("nowhere")
        (tmp_path / "stock").symlink_to("stock")
        (tmp_path / "events").symlink_to("nowhere")
    except OSError:
        pytest.skip("this system makes no links")
    files = DiskFiles(tmp_path)
    assert files.names("specs") == ("a.md", "gone.md", "round.md")
    for ask, path, what in (
        (files.read, "specs/round.md", "leads in a circle"),
        (files.read, "specs/gone.md", "leads to nothing"),
        (files.names, "stock", "leads in a circle"),
        (files.names, "events", "leads to nothing"),
    ):
        with pytest.raises(BrokenLink) as lost:
            ask(path)
        assert (lost.value.why, lost.value.filename) == (f"this is a link, and it {what}", path)


def test_no_more_is_read_than_shows_that_a_file_is_too_large(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"x" * (LARGEST_BYTES + 1000))
    assert len(DiskFiles(tmp_path).read("a")) == LARGEST_BYTES + 1


def test_a_missing_file_says_so(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        DiskFiles(tmp_path).read("a")


def test_paths_are_in_their_shortest_form() -> None:
    assert joined("../specs/", "a.md") == "../specs/a.md"
    assert joined("./specs", "a.md") == "specs/a.md"
    assert joined(".", "a.md") == "a.md"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_a_pipe_in_the_place_of_a_file_keeps_nobody_waiting(tmp_path):
    os.mkfifo(tmp_path / "house.yaml")
    with pytest.raises(OSError, match="a pipe or a device"):
        DiskFiles(tmp_path).read("house.yaml")
    (found,) = read_house(DiskFiles(tmp_path)).problems
    assert (found.code, found.where.file) == ("file-unreadable", "house.yaml")
    assert found.message == "this cannot be opened as a file"


def test_a_device_is_no_file_either(tmp_path):
    (tmp_path / "house.yaml").symlink_to(os.devnull)
    with pytest.raises(OSError, match="a pipe or a device"):
        DiskFiles(tmp_path).read("house.yaml")
