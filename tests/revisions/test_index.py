"""What is about to be committed, and what a sparse checkout leaves out."""

import os
from pathlib import Path

import pytest

from menugen.comparing import NewHouse, houses_to_compare
from menugen.past.drink_history import history_of
from menugen.publishing import no_progress
from menugen.reading import DiskFiles
from menugen.revisions import GitFiles, NoHistory, Objects, find_repository, staged_files, working_files
from tests.houses import texts
from tests.revisions.repositories import Books, books, git


@pytest.fixture(params=["", "bars/Jo's Größe"])
def house(tmp_path, request) -> Books:
    return books(tmp_path / "books", inside=request.param)


def staged(house: Books) -> GitFiles:
    repository = find_repository(house.house)
    return staged_files(repository, Objects(repository.top))


def top(house: Books) -> Path:
    return Path(git(house.house, "rev-parse", "--show-toplevel"))


def test_what_is_staged_is_read_and_not_what_lies_there(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    git(house.house, "add", ".")
    house.edit("specs/marsh-sour.md", "60 ml gin", "70 ml gin")
    house.write("specs/unknown.md", "x")
    (house.house / "stock/all.yaml").unlink()
    files = staged(house)
    assert b"60 ml gin" in files.read("specs/marsh-sour.md")
    assert files.names("specs") == ("marsh-sour.md",)
    assert files.names("stock") == ("all.yaml",)
    found = houses_to_compare(house.house, "HEAD", staged=True, progress=no_progress)
    assert found.new.label == "what is staged"


@pytest.mark.parametrize("sort", ["sha1", "sha256"])
def test_a_folder_that_has_no_tree_yet_has_the_hash_that_git_would_give_it(tmp_path, sort):
    git(tmp_path, "init", "-q", f"--object-format={sort}", ".")
    for name in ("house.yaml", "a.b/x", "a/x", "a-b/x", "a0", "Größe/x"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(name, encoding="utf-8")
    (tmp_path / "link").symlink_to("a/x")
    git(tmp_path, "add", ".")
    repository = find_repository(tmp_path)
    files = staged_files(repository, Objects(tmp_path))
    before = git(tmp_path, "count-objects")
    oids = {folder: files.oid(folder) for folder in ("a", "a.b", "Größe", "")}
    assert git(tmp_path, "count-objects") == before
    whole = git(tmp_path, "write-tree")
    assert oids.pop("") == whole
    assert {folder: git(tmp_path, "rev-parse", f"{whole}:{folder}") for folder in oids} == oids
    assert files.read("link") == b"a/x"


def test_before_the_first_commit_there_is_a_house_and_nothing_to_compare_it_with(tmp_path):
    for name, text in texts().items():
        Books(tmp_path).write(name, text)
    git(tmp_path, "init", "-q", ".")
    git(tmp_path, "add", ".")
    with pytest.raises(NewHouse, match="nothing has been committed here yet") as raised:
        houses_to_compare(tmp_path, "HEAD", staged=True, progress=no_progress)
    assert raised.value.files.names("specs") == ("marsh-sour.md",)


def test_what_is_only_meant_to_be_added_is_not_part_of_the_commit(house):
    house.write("specs/later.md", "x")
    git(house.house, "add", "--intent-to-add", "specs/later.md")
    house.write("specs/empty.md", "")
    git(house.house, "add", "specs/empty.md")
    assert staged(house).names("specs") == ("empty.md", "marsh-sour.md")


def test_two_sides_of_a_file_are_not_taken_for_one(house):
    git(house.house, "checkout", "-q", "-b", "other")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.commit("Sixty")
    git(house.house, "checkout", "-q", "main")
    house.edit("specs/marsh-sour.md", "50 ml gin", "70 ml gin")
    house.commit("Seventy")
    with pytest.raises(Exception, match="returned non-zero"):
        git(house.house, "merge", "-q", "other")
    with pytest.raises(NoHistory, match=r"marsh-sour.md, and what is meant is not settled: \"git status\""):
        staged(house)
    # The files as they lie are there all the same.
    files, notes = working_files(house.house, find_repository(house.house))
    assert (type(files), notes) == (DiskFiles, ())


def test_the_index_of_another_repository_counts_for_nothing(house, tmp_path, monkeypatch):
    other = books(tmp_path / "other")
    git(other.house, "rm", "-q", "--cached", "specs/marsh-sour.md")
    monkeypatch.setenv("GIT_INDEX_FILE", str(other.house / ".git/index"))
    assert staged(house).names("specs") == ("marsh-sour.md",)


def test_the_index_that_git_made_for_one_commit_counts(house, monkeypatch):
    path = top(house) / ".git/next-index"
    monkeypatch.chdir(top(house))
    monkeypatch.setenv("GIT_INDEX_FILE", str(path))
    git(house.house, "read-tree", "HEAD")
    git(house.house, "rm", "-q", "--cached", "specs/marsh-sour.md")
    assert staged(house).names("specs") == ()
    monkeypatch.setenv("GIT_INDEX_FILE", os.path.relpath(path))
    assert staged(house).names("specs") == ()
    monkeypatch.delenv("GIT_INDEX_FILE")
    assert staged(house).names("specs") == ("marsh-sour.md",)


def test_what_a_sparse_checkout_leaves_out_is_not_gone(house):
    house.write("specs/later-sour.md", texts()["specs/marsh-sour.md"].replace("Marsh", "Later"))
    house.write("themes/mine/theme.yaml", "title: Mine\nextends: slate\n")
    house.commit("Two")
    inside = house.house.relative_to(top(house)).as_posix()
    git(top(house), "sparse-checkout", "set", "--no-cone", "/*", "!later-sour.md", "!theme.yaml", "!all.yaml")
    assert not (house.house / "stock/all.yaml").exists()
    files, notes = working_files(house.house, find_repository(house.house))
    assert notes == ("3 files left out of this sparse checkout: read as git has them staged",)
    assert files.names("specs") == ("later-sour.md", "marsh-sour.md")
    assert files.folders("themes") == ("mine",)
    assert files.names("themes/mine") == ("theme.yaml",)
    assert files.names("themes") == ()
    assert b"garden gin" in files.read("stock/all.yaml")
    with pytest.raises(FileNotFoundError):
        files.read("specs/nobody.md")
    comparison = house.compared()
    assert comparison.changes == ()
    assert comparison.notes == notes
    told = history_of(house.house, "later-sour", progress=no_progress)
    assert len(told.versions) == 1
    assert told.notes == notes
    # A file that was left out and is there again counts as it lies; one that was taken out is gone.
    house.write("specs/later-sour.md", "x")
    (house.house / "specs/marsh-sour.md").unlink()
    files, notes = working_files(house.house, find_repository(house.house))
    assert files.read("specs/later-sour.md") == b"x"
    with pytest.raises(FileNotFoundError):
        files.read("specs/marsh-sour.md")
    assert files.names("specs") == ("later-sour.md",)
    assert notes[0].startswith("2 files ")
    assert inside in (".", "bars/Jo's Größe")


def test_a_file_that_git_is_told_to_pass_by_counts_as_it_lies(house):
    git(house.house, "update-index", "--skip-worktree", "specs/marsh-sour.md", "stock/all.yaml")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    files, notes = working_files(house.house, find_repository(house.house))
    assert (type(files), notes) == (DiskFiles, ())
    (house.house / "stock/all.yaml").unlink()
    files, notes = working_files(house.house, find_repository(house.house))
    assert notes[0].startswith("1 file left out")
    assert b"60 ml gin" in files.read("specs/marsh-sour.md")
    assert files.names("specs") == ("marsh-sour.md",)
