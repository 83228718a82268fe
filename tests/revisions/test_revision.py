"""A house read from git's objects is the house that was committed."""

import subprocess
from pathlib import Path

import pytest

from menugen.reading import DiskFiles, read_house
from menugen.revisions.git import NoHistory
from menugen.revisions.revision import files_at
from tests.houses import texts


def git(folder: Path, *arguments: str) -> None:
    who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org"]
    subprocess.run(["git", *who, *arguments], cwd=folder, check=True, capture_output=True)


@pytest.fixture
def house(tmp_path: Path) -> Path:
    folder = tmp_path / "books" / "bar"
    for name, text in texts().items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
    (folder / "specs" / "drafts").mkdir()
    (folder / "specs" / "drafts" / "later.md").write_text("not yet", encoding="utf-8")
    git(tmp_path, "init", "-q", "books")
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "As we began")
    return folder


def test_the_house_at_a_revision_is_what_was_committed(house):
    before = read_house(DiskFiles(house))
    (house / "specs/marsh-sour.md").write_text("---\nname: Ruined\n---\n", encoding="utf-8")
    (house / "stock/all.yaml").unlink()
    at_head = read_house(files_at(house, "HEAD"))
    assert at_head.house == before.house
    assert at_head.problems == before.problems == ()


def test_a_house_in_a_subfolder_sees_only_its_own_files(house):
    files = files_at(house, "HEAD")
    assert files.names("specs") == ("marsh-sour.md",)
    assert files.names("no-such-folder") == ()
    with pytest.raises(FileNotFoundError):
        files.read("specs/none.md")


def test_what_git_does_not_know_is_said_in_words(house, tmp_path):
    with pytest.raises(NoHistory, match="no revision"):
        files_at(house, "never")
    with pytest.raises(NoHistory, match="no revision"):
        files_at(house, "--help")
    (tmp_path / "elsewhere").mkdir()
    with pytest.raises(NoHistory, match="not in a git repository"):
        files_at(tmp_path / "elsewhere", "HEAD")
