"""Which differences between the files and a commit count, and which a checkout makes by itself."""

import hashlib
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from menugen.reading import DiskFiles
from menugen.revisions import differing
from menugen.revisions.revision import files_at
from menugen.revisions.version import stamp_of
from tests.houses import texts
from tests.revisions.repositories import Books, books, git

SPEC = "specs/marsh-sour.md"


def uncommitted(house: Books) -> bool:
    stamp = stamp_of(house.house, DiskFiles(house.house))
    assert len(stamp.revision) == 7
    assert stamp.fault == ""
    return stamp.uncommitted


@pytest.fixture(params=["sha1", "sha256"])
def house(request, tmp_path) -> Books:
    made = Books(tmp_path / "bar")
    for name, text in texts().items():
        made.write(name, text)
    git(made.house, "init", "-q", "-b", "main", f"--object-format={request.param}", ".")
    made.commit("As we began")
    return made


def test_line_ends_as_a_checkout_on_windows_makes_them_are_no_difference(house):
    for path in (house.house / "specs").iterdir():
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert not uncommitted(house)
    (house.house / SPEC).write_bytes((house.house / SPEC).read_bytes().replace(b"50 ml", b"55 ml"))
    assert uncommitted(house)


def test_a_clone_that_turns_line_ends_is_as_committed(house, tmp_path):
    git(tmp_path, "clone", "-q", "-c", "core.autocrlf=true", str(house.house), "clone")
    clone = Books(tmp_path / "clone")
    assert b"\r\n" in (clone.house / SPEC).read_bytes()
    assert not uncommitted(clone)


def test_bytes_that_look_like_line_ends_in_a_picture_count(house):
    (house.house / "photos").mkdir()
    (house.house / "photos/a.jpg").write_bytes(b"\0\n\n")
    house.commit("A photo")
    assert not uncommitted(house)
    (house.house / "photos/a.jpg").write_bytes(b"\0\r\n\n")
    assert uncommitted(house)


@pytest.mark.slow
@pytest.mark.parametrize("size", [100, 3_000_000])
def test_a_large_file_that_git_keeps_aside_is_known_by_its_content(house, size):
    content = b"\xff" * size
    digest = hashlib.sha256(content).hexdigest()
    house.write(
        "photos/a.jpg", f"version https://git-lfs.github.com/spec/v1\noid sha256:{digest}\nsize {size}\n"
    )
    house.commit("A photo")
    assert not uncommitted(house)  # not fetched: the file says what git says
    (house.house / "photos/a.jpg").write_bytes(content)
    assert not uncommitted(house)
    for other in (content[:-1] + b"\0", content + b"\0"):
        (house.house / "photos/a.jpg").write_bytes(other)
        assert uncommitted(house)


@pytest.mark.slow
def test_a_large_photo_is_compared_too_and_read_once_while_it_is_as_it_was(house, monkeypatch):
    photo = house.house / "photos/a.jpg"
    photo.parent.mkdir()
    photo.write_bytes(b"\xff" * 2_000_000)
    house.commit("A photo")
    assert not uncommitted(house)
    with monkeypatch.context() as patched:
        patched.setattr(differing, "_begun", None)
        assert differing._digest(photo, photo.stat(), git(house.house, "rev-parse", "HEAD"))
    photo.write_bytes(b"\xff" * 1_999_999 + b"\0")
    os.utime(photo, (2, 2))
    assert uncommitted(house)
    photo.write_bytes(b"\xff" * 1_999_999)
    assert uncommitted(house)


@pytest.mark.slow
def test_a_file_that_is_larger_than_any_disk_is_not_read_to_its_end(house):
    photo = house.house / "photos/a.jpg"
    photo.parent.mkdir()
    photo.write_bytes(b"")
    house.commit("A photo")
    with photo.open("wb") as file:
        file.truncate(10**12)
    assert uncommitted(house)
    house.write(
        "photos/a.jpg", f"version https://git-lfs.github.com/spec/v1\noid sha256:{'ab' * 32}\nsize {10**12}\n"
    )
    house.commit("It is kept aside")
    with photo.open("wb") as file:
        file.truncate(10**12)
    assert uncommitted(house)


def test_what_is_no_file_counts_where_git_has_one_and_is_not_waited_for(house):
    house.write("photos/a.jpg", "a photo")
    house.commit("A photo")
    (house.house / "photos/a.jpg").unlink()
    os.mkfifo(house.house / "photos/a.jpg")
    assert uncommitted(house)
    committed = files_at(house.house, "HEAD")
    assert differing._Compared(house.house, committed).is_other("photos/a.jpg")
    (house.house / "photos/a.jpg").unlink()
    (house.house / "photos/a.jpg").mkdir()
    assert uncommitted(house)
    (house.house / "photos/a.jpg").rmdir()
    house.write("photos/a.jpg", "a photo")
    assert not uncommitted(house)


@pytest.mark.parametrize("mark", ["--assume-unchanged", "--skip-worktree"])
def test_what_git_was_told_not_to_look_at_is_looked_at(house, mark):
    git(house.house, "update-index", mark, SPEC)
    house.edit(SPEC, "50 ml", "55 ml")
    assert uncommitted(house)


def test_what_is_only_staged_is_not_what_a_menu_is_made_from(house):
    before = (house.house / SPEC).read_text("utf-8")
    house.edit(SPEC, "50 ml", "55 ml")
    git(house.house, "add", ".")
    house.write(SPEC, before)
    assert not uncommitted(house)
    house.write("specs/new.md", before)
    git(house.house, "add", "--intent-to-add", "specs/new.md")
    assert uncommitted(house)


def test_a_file_that_may_be_run_or_was_touched_is_the_same(house):
    (house.house / SPEC).chmod(0o755)
    os.utime(house.house / SPEC, (1, 1))
    assert not uncommitted(house)


def test_another_checkout_of_the_same_repository_is_read_like_the_first(house, tmp_path):
    git(house.house, "worktree", "add", "-q", str(tmp_path / "beside"), "-b", "beside")
    beside = Books(tmp_path / "beside")
    assert not uncommitted(beside)
    beside.edit(SPEC, "50 ml", "55 ml")
    assert uncommitted(beside)
    assert not uncommitted(house)


def test_links_are_compared_by_what_they_lead_to(house):
    house.write("aside/again.md", (house.house / SPEC).read_text("utf-8"))
    (house.house / "specs/again.md").symlink_to("../aside/again.md")
    (house.house / "themes").mkdir()
    house.write("looks/own/style.css", "a {}\n")
    (house.house / "themes/own").symlink_to("../looks/own")
    (house.house / "themes/round").symlink_to(".")
    house.commit("Links")
    assert not uncommitted(house)
    house.write("looks/own/style.css", "b {}\n")
    assert uncommitted(house)
    house.write("looks/own/style.css", "a {}\n")
    assert not uncommitted(house)
    (house.house / "specs/again.md").unlink()
    shutil.copy(house.house / SPEC, house.house / "specs/again.md")
    assert not uncommitted(house)
    house.edit("specs/again.md", "50 ml", "55 ml")
    assert uncommitted(house)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["themes/own/parts/deep/x.css", "photos/old/x.jpg"])
def test_folders_below_those_of_looks_and_photos_count(house, name):
    house.write(name, "x")
    assert uncommitted(house)
    house.commit("More")
    assert not uncommitted(house)
    (house.house / name).unlink()
    assert uncommitted(house)
    shutil.rmtree(house.house / name.split("/")[0])
    assert uncommitted(house)


def test_an_empty_folder_is_nothing(house):
    (house.house / "themes/own/empty").mkdir(parents=True)
    (house.house / "photos").mkdir()
    assert not uncommitted(house)


def test_a_disk_that_takes_two_spellings_for_one_file_makes_no_difference(tmp_path):
    known = {"café.md", "negroni.md", "sour.md"}
    for name in ("café.md", "negroni.md"):
        (tmp_path / name).touch()
    there = {"cafe\u0301.md", "Negroni.md", "SOUR.md", "other.md"}
    assert differing._as_known(tmp_path, there, known) == {"café.md", "negroni.md", "SOUR.md", "other.md"}


def test_what_this_machine_has_not_of_a_commit_is_not_taken_for_the_same(tmp_path):
    library = books(tmp_path / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(tmp_path / "bar")
    add = ["-c", "protocol.file.allow=always", "submodule", "add", "-q"]
    git(house.house, *add, str(library.house), "library")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.commit("A library of drinks")
    git(tmp_path, "clone", "-q", str(house.house), "part")
    assert uncommitted(Books(tmp_path / "part"))


@pytest.mark.slow
def test_it_agrees_with_git_of_a_house_whose_files_change_one_by_one(house):
    """Where nobody set a trap, git's own word holds."""
    for name in ("photos/a.jpg", "themes/own/style.css", "events/second.yaml", "stock/more.yml"):
        house.write(name, f"{name}\n")
    house.commit("More")
    paths = [path for path in house.house.rglob("*") if path.is_file() and ".git" not in path.parts]
    assert len(paths) == 8
    for path in paths:
        before = path.read_bytes()
        for change in (b"", before + b"x\n", before[1:], before):
            path.write_bytes(change)
            assert uncommitted(house) == _git_says(house.house)
        path.unlink()
        assert uncommitted(house) == _git_says(house.house) or path.name == "house.yaml"
        path.write_bytes(before)
    assert not uncommitted(house)


def _git_says(folder: Path) -> bool:
    told = subprocess.run(
        ("git", "status", "--porcelain"), cwd=folder, capture_output=True, text=True, check=True
    )
    return told.stdout != ""
