"""What git is asked, and what is said where it has no answer."""

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from menugen.history import NoHistory, editions, files_at
from menugen.history.git import commits, find_commit, find_repository, unfinished
from menugen.publishing import no_progress
from menugen.reading import DiskFiles, read_house
from tests.history.repositories import books, git, told
from tests.houses import texts

REPOSITORY = Path(__file__).resolve().parents[2]


def test_a_day_means_the_last_commit_up_to_its_end(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    spring = house.commit("Spring", day="2026-11-10")
    house.edit("specs/marsh-sour.md", "55 ml", "60 ml")
    summer = house.commit("Summer", day="2026-11-20")
    assert files_at(house.house, "2026-11-19").revision == spring
    assert files_at(house.house, "2026-11-10").revision == spring
    assert files_at(house.house, "2026-11").revision == summer
    assert files_at(house.house, "2027-01-01").revision == summer
    with pytest.raises(NoHistory, match="the history begins on 2026-11-01"):
        files_at(house.house, "2026-10")


def test_a_tag_named_like_a_day_is_the_tag(tmp_path):
    house = books(tmp_path)
    first = git(house.house, "rev-parse", "HEAD")
    git(house.house, "tag", "2026-12-31")
    house.commit("Later", day="2026-11-05")
    assert files_at(house.house, "2026-12-31").revision == first


def test_nothing_committed_yet_is_said(tmp_path):
    git(tmp_path, "init", "-q", ".")
    with pytest.raises(NoHistory, match="nothing has been committed"):
        files_at(tmp_path, "HEAD")


def test_a_machine_without_git_is_told_so(tmp_path, monkeypatch):
    house = books(tmp_path)
    monkeypatch.setenv("PATH", str(tmp_path / "empty"))
    with pytest.raises(NoHistory, match="no git on this machine"):
        files_at(house.house, "HEAD")


def test_a_shallow_clone_says_what_it_lacks(tmp_path):
    house = books(tmp_path / "whole")
    first = git(house.house, "rev-parse", "HEAD")
    house.commit("Second", day="2026-11-09")
    git(tmp_path, "clone", "-q", "--depth", "1", f"file://{house.house}", "part")
    with pytest.raises(NoHistory, match="git fetch --unshallow"):
        files_at(tmp_path / "part", first)
    with pytest.raises(NoHistory, match="git fetch --unshallow"):
        files_at(tmp_path / "part", "2026-11-02")
    assert read_house(files_at(tmp_path / "part", "HEAD")).problems == ()


def test_a_merge_half_done_is_seen_and_told(tmp_path):
    house = books(tmp_path)
    git(house.house, "checkout", "-q", "-b", "other")
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.commit("Other")
    git(house.house, "checkout", "-q", "main")
    house.edit("specs/marsh-sour.md", "50 ml", "60 ml")
    house.commit("Ours")
    with pytest.raises(subprocess.CalledProcessError):
        git(house.house, "merge", "-q", "other")
    assert unfinished(find_repository(house.house)) == "a merge"
    comparison = house.compared()
    assert comparison.notes[0].startswith("a merge is half done here")
    assert [one.now.slug for one in comparison.unseen] == ["marsh-sour"]
    assert [problem.where.file for problem in comparison.new.errors] == ["specs/marsh-sour.md"]


def test_a_submodule_is_read_at_the_commit_the_house_names(tmp_path):
    library = books(tmp_path / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(tmp_path / "bar")
    add = ["-c", "protocol.file.allow=always", "submodule", "add", "-q"]
    git(house.house, *add, str(library.house), "library")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.commit("A library of drinks")
    read = read_house(files_at(house.house, "HEAD"))
    assert read.house is not None
    assert sorted(read.house.specs) == ["long-walk", "marsh-sour"]
    library.edit("specs/long-walk.md", "50 ml", "60 ml")
    library.commit("Stronger")
    git(house.house / "library", "fetch", "-q")
    git(house.house / "library", "checkout", "-q", "FETCH_HEAD")
    assert "long-walk: measure gin 50 ml -> 60 ml" in told(house.compared())


def test_a_submodule_that_is_not_here_is_named(tmp_path):
    library = books(tmp_path / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(tmp_path / "bar")
    add = ["-c", "protocol.file.allow=always", "submodule", "add", "-q"]
    git(house.house, *add, str(library.house), "library")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.commit("A library of drinks")
    git(tmp_path, "clone", "-q", str(house.house), "elsewhere")
    files = files_at(tmp_path / "elsewhere", "HEAD")
    read_house(files)
    (sentence,) = files.missing
    assert f"its commit {git(library.house, 'rev-parse', 'HEAD')[:7]} is not on this machine" in sentence
    with pytest.raises(NoHistory, match="library is a submodule"):
        editions(tmp_path / "elsewhere", "HEAD", None, no_progress)


def test_links_are_followed_within_the_repository_and_not_out_of_it(tmp_path):
    house = books(tmp_path / "bar")
    (tmp_path / "secret.md").write_text("not ours", encoding="utf-8")
    (house.house / "specs/again.md").symlink_to("marsh-sour.md")
    (house.house / "specs/away.md").symlink_to("../../secret.md")
    (house.house / "specs/round.md").symlink_to("round.md")
    (house.house / "cellar").symlink_to("stock")
    house.commit("Links")
    files = files_at(house.house, "HEAD")
    assert files.names("specs") == ("again.md", "marsh-sour.md")
    assert files.read("specs/again.md") == files.read("specs/marsh-sour.md")
    assert files.names("cellar") == ("all.yaml",)
    assert files.read("cellar/all.yaml") == files.read("stock/all.yaml")
    for path in ("specs/away.md", "specs/round.md"):
        with pytest.raises(FileNotFoundError):
            files.read(path)


def test_a_large_file_kept_aside_is_read_from_where_it_is_kept(tmp_path):
    house = books(tmp_path)
    content = b"a very large picture"
    digest = hashlib.sha256(content).hexdigest()
    pointer = f"version https://git-lfs.github.com/spec/v1\noid sha256:{digest}\nsize {len(content)}\n"
    house.write("photos/marsh-sour.jpg", pointer)
    house.commit("A photo")
    files = files_at(house.house, "HEAD")
    with pytest.raises(FileNotFoundError, match="git lfs pull"):
        files.read("photos/marsh-sour.jpg")
    kept = house.house / ".git/lfs/objects" / digest[:2] / digest[2:4]
    kept.mkdir(parents=True)
    (kept / digest).write_bytes(content)
    assert files.read("photos/marsh-sour.jpg") == content


def test_names_in_any_script_come_back_as_they_were(tmp_path):
    house = books(tmp_path)
    house.write("specs/café-noir.md", texts()["specs/marsh-sour.md"])
    house.write("specs/波.md", texts()["specs/marsh-sour.md"])
    house.commit("Names")
    assert files_at(house.house, "HEAD").names("specs") == ("café-noir.md", "marsh-sour.md", "波.md")


def test_a_subject_cannot_command_the_terminal(tmp_path):
    house = books(tmp_path)
    house.commit("Red \x1b[31m now")
    assert find_commit(find_repository(house.house), "HEAD").subject == "Red \ufffd[31m now"


def test_asking_writes_nothing(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")

    def tree() -> dict[str, tuple[int, bytes]]:
        return {
            str(path): (path.stat().st_mtime_ns, path.read_bytes())
            for path in house.house.rglob("*")
            if path.is_file()
        }

    before = tree()
    house.compared()
    assert tree() == before


def test_a_hook_may_ask_from_inside_git(tmp_path, monkeypatch):
    house = books(tmp_path, inside="deep/bar")
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_INDEX_FILE", ".git/index")
    assert read_house(files_at(house.house, "HEAD")).house == read_house(DiskFiles(house.house)).house


def test_a_repository_with_longer_ids_is_read_too(tmp_path):
    for name, text in texts().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8", newline="\n")
    git(tmp_path, "init", "-q", "--object-format=sha256", ".")
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-qm", "Long ids")
    assert len(files_at(tmp_path, "HEAD").revision) == 64
    assert read_house(files_at(tmp_path, "HEAD")).house == read_house(DiskFiles(tmp_path)).house


def test_no_process_stays_behind(tmp_path):
    house = books(tmp_path)
    code = (
        "import gc, os, sys\nfrom pathlib import Path\nfrom menugen.history import files_at\n"
        "from menugen.reading import read_house\n"
        "for _ in range(20):\n    read_house(files_at(Path(sys.argv[1]), 'HEAD'))\n"
        "gc.collect()\nmine = f'PPid:\\t{os.getpid()}\\n'\n"
        "told = [p.read_text() for p in Path('/proc').glob('[0-9]*/status') if p.exists()]\n"
        "print(sum(mine in text for text in told))\n"
    )
    if not Path("/proc/self/status").exists():
        pytest.skip("needs /proc to count processes")
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code, str(house.house)],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
    )
    assert (done.stdout.strip(), done.stderr) == ("0", "")


def test_commits_are_listed_newest_first(tmp_path):
    house = books(tmp_path)
    house.commit("Second", day="2026-11-02")
    assert [(one.subject, one.day) for one in commits(house.house, "HEAD")] == [
        ("Second", "2026-11-02"),
        ("As we began", "2026-11-01"),
    ]
    assert shutil.which("git")


def test_a_clone_of_another_user_is_not_called_no_repository(tmp_path, monkeypatch):
    house = books(tmp_path)
    monkeypatch.setenv("GIT_TEST_ASSUME_DIFFERENT_OWNER", "1")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    with pytest.raises(NoHistory, match="belongs to another user"):
        files_at(house.house, "HEAD")
