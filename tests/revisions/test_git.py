"""What git is asked, and what is said where it has no answer."""

import hashlib
import os
import shutil
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

from menugen.comparing import houses_to_compare
from menugen.publishing import no_progress
from menugen.reading import BrokenLink, DiskFiles, read_house
from menugen.revisions.calls import Git
from menugen.revisions.git import (
    NoHistory,
    commits,
    committed_part,
    find_commit,
    find_repository,
    unfinished,
)
from menugen.revisions.objects import Objects
from menugen.revisions.revision import files_at
from tests.houses import texts
from tests.revisions.repositories import books, git, told

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
    assert [one.subject.id for one in comparison.of("drink", "unknown")] == ["marsh-sour"]
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
    short = git(library.house, "rev-parse", "HEAD")[:7]
    for ask in (
        lambda: read_house(files_at(tmp_path / "elsewhere", "HEAD")),
        lambda: files_at(tmp_path / "elsewhere", "HEAD").oid("library/specs/long-walk.md"),
        lambda: houses_to_compare(tmp_path / "elsewhere", "HEAD", progress=no_progress),
    ):
        with pytest.raises(NoHistory, match=f"library is a submodule, and its commit {short} is not on this"):
            ask()


def test_links_are_followed_within_the_repository_and_not_out_of_it(tmp_path):
    house = books(tmp_path / "bar")
    (tmp_path / "secret.md").write_text("not ours", encoding="utf-8")
    (house.house / "specs/again.md").symlink_to("marsh-sour.md")
    (house.house / "specs/away.md").symlink_to("../../secret.md")
    (house.house / "specs/round.md").symlink_to("round.md")
    (house.house / "specs/nowhere.md").symlink_to("no-such.md")
    (house.house / "cellar").symlink_to("stock")
    house.commit("Links")
    files = files_at(house.house, "HEAD")
    # A link that leads nowhere is somebody's file all the same: left out, it would look as if it were gone.
    assert files.names("specs") == ("again.md", "away.md", "marsh-sour.md", "nowhere.md", "round.md")
    assert files.read("specs/again.md") == files.read("specs/marsh-sour.md")
    assert files.names("cellar") == ("all.yaml",)
    assert files.read("cellar/all.yaml") == files.read("stock/all.yaml")
    for path, why in (
        ("specs/away.md", 'what it leads to, "../../secret.md", lies outside the repository'),
        ("specs/round.md", "it leads in a circle"),
        ("specs/nowhere.md", 'it leads to nothing: "no-such.md"'),
    ):
        with pytest.raises(BrokenLink) as lost:
            files.read(path)
        assert lost.value.why == "git has only a link here, and " + why


def test_a_stock_file_that_is_a_link_out_of_the_repository_takes_nothing_out_of_a_drink(tmp_path):
    house = books(tmp_path / "bar")
    (house.house / "stock/all.yaml").rename(tmp_path / "all.yaml")
    (house.house / "stock/all.yaml").symlink_to("../../all.yaml")
    house.commit("One larder for all our bars")
    comparison = house.compared("HEAD~1", "HEAD")
    assert [(one.where.file, one.code) for one in comparison.new.errors] == [
        ("stock/all.yaml", "file-unreadable")
    ]
    assert "lies outside the repository" in comparison.new.errors[0].message
    assert not comparison.drinks
    assert not list(comparison.of("stock", "gone", "added"))
    assert not list(house.compared("HEAD").of("stock", "gone", "added"))
    assert [one.subject.id for one in comparison.of("drink", "unknown")] == ["marsh-sour"]


def test_a_link_in_a_circle_loses_no_other_drink(tmp_path):
    house = books(tmp_path)
    (house.house / "specs/round.md").symlink_to("round.md")
    comparison = house.compared()
    assert not list(comparison.of("drink", "added", "gone"))
    (problem,) = comparison.new.errors
    assert (problem.where.file, problem.message) == (
        "specs/round.md",
        "this is a link, and it leads in a circle",
    )


@pytest.mark.parametrize("target", ["../../away", "nowhere", "specs"])
def test_a_folder_that_is_a_link_to_where_git_has_nothing_is_never_an_empty_folder(tmp_path, target):
    house = books(tmp_path / "bar")
    shutil.rmtree(house.house / "specs")
    (house.house / "specs").symlink_to(target)
    house.commit("Specs lie elsewhere now")
    comparison = house.compared("HEAD~1", "HEAD")
    assert not list(comparison.of("drink", "gone"))
    assert [one.subject.id for one in comparison.of("drink", "unknown")] == ["marsh-sour"]
    problem = next(one for one in comparison.new.errors if one.where.file == "specs")
    assert problem.message.startswith("git has only a link here")


@pytest.mark.parametrize("kind", ["specs", "stock", "events"])
def test_what_lies_in_a_folder_that_cannot_be_looked_into_is_not_called_gone(tmp_path, kind):
    house = books(tmp_path / "bar")
    (house.house / kind).rename(house.house / "aside")
    (house.house / kind).symlink_to(kind)
    comparison = house.compared()
    assert [problem.where.file for problem in comparison.new.errors] == [kind]
    assert "gone" not in {one.kind for one in comparison.changes}
    notes = [note for note in comparison.notes if note.startswith("not compared, for its faults in")]
    assert notes or "unknown" in {one.kind for one in comparison.changes}


def test_a_folder_outside_the_repository_is_said_to_be_unknown_and_its_drinks_are_not_new(tmp_path):
    house = books(tmp_path / "bar")
    (tmp_path / "library").mkdir()
    house.write("../library/long-walk.md", texts()["specs/marsh-sour.md"].replace("Marsh Sour", "Long Walk"))
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, ../library]")
    house.commit("A library beside us")
    house.edit("specs/marsh-sour.md", "50 ml", "60 ml")
    comparison = house.compared()
    assert not list(comparison.of("drink", "added"))
    assert [one.subject.id for one in comparison.of("drink", "unknown")] == ["long-walk"]
    assert [drink.id for drink in comparison.drinks] == ["marsh-sour"]
    assert [(one.where.file, one.message) for one in comparison.old.errors] == [
        ("../library", "this lies outside the repository, and git does not know what was in it")
    ]


def test_a_large_file_kept_aside_is_read_from_where_it_is_kept(tmp_path):
    house = books(tmp_path)
    content = b"a very large picture"
    digest = hashlib.sha256(content).hexdigest()
    pointer = f"version https://git-lfs.github.com/spec/v1\noid sha256:{digest}\nsize {len(content)}\n"
    house.write("photos/marsh-sour.jpg", pointer)
    house.commit("A photo")
    files = files_at(house.house, "HEAD")
    with pytest.raises(NoHistory, match="git lfs pull"):
        files.read("photos/marsh-sour.jpg")
    kept = house.house / ".git/lfs/objects" / digest[:2] / digest[2:4]
    kept.mkdir(parents=True)
    (kept / digest).write_bytes(content)
    assert files.read("photos/marsh-sour.jpg") == content
    (kept / digest).write_bytes(content[:-1])
    with pytest.raises(NoHistory, match="git lfs pull"):
        files.read("photos/marsh-sour.jpg")


def test_names_in_any_script_come_back_as_they_were(tmp_path):
    house = books(tmp_path)
    house.write("specs/café-noir.md", texts()["specs/marsh-sour.md"])
    house.write("specs/波.md", texts()["specs/marsh-sour.md"])
    house.commit("Names")
    assert files_at(house.house, "HEAD").names("specs") == ("café-noir.md", "marsh-sour.md", "波.md")


def test_a_subject_cannot_command_the_terminal(tmp_path):
    house = books(tmp_path)
    house.commit("Red \x1b[31m now")
    assert find_commit(find_repository(house.house), "HEAD").subject == "Red \u241b[31m now"
    house.commit("A family \U0001f468\u200d\U0001f469\u200d\U0001f467 of four")
    assert "\u200d\U0001f469" in find_commit(find_repository(house.house), "HEAD").subject


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


@pytest.mark.slow
def test_no_process_stays_behind(tmp_path):
    house = books(tmp_path)
    code = (
        "import gc, os, sys\nfrom pathlib import Path\nfrom menugen.revisions.revision import files_at\n"
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


def test_files_called_as_revisions_are_do_not_come_between(tmp_path):
    house = books(tmp_path)
    first = git(house.house, "rev-parse", "HEAD")
    house.write("HEAD", "a file")
    house.write("main", "another")
    house.write(first, "a third")
    later = house.commit("Odd names", day="2026-11-05")
    assert files_at(house.house, "2026-11").revision == later
    assert files_at(house.house, "2026-11-04").revision == first
    assert files_at(house.house, "main").revision == later
    assert [one.revision for one in commits(house.house, "--first-parent", "HEAD")] == [later, first]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("word", "sentence"),
    [
        ("", "no revision was named"),
        (" ", "no revision was named"),
        ("HEAD~1..HEAD", "is a range of revisions"),
        ("HEAD~1...HEAD", "is a range of revisions"),
        ("^HEAD", "git knows no revision"),
        ("--all", "git knows no revision"),
        ("HEAD:specs/marsh-sour.md", "is no revision: git has a file by that name"),
        ("HEAD:specs", "is no revision: git has a folder by that name"),
        ("HEAD\0", "git knows no revision"),
        ("\x1b[31m", 'git knows no revision "\u241b\\[31m"'),
        ("0" * 40, "git knows no revision"),
    ],
)
def test_what_names_no_one_revision_is_refused(tmp_path, word, sentence):
    house = books(tmp_path)
    house.commit("Second")
    with pytest.raises(NoHistory, match=sentence):
        files_at(house.house, word)


def test_the_version_of_a_card_from_uncommitted_files_says_why_git_has_it_not(tmp_path):
    house = books(tmp_path)
    first = git(house.house, "rev-parse", "HEAD")[:7]
    with pytest.raises(NoHistory, match=f"files that were not committed.* changed from is {first}$"):
        files_at(house.house, f"{first}+4be09d2")
    with pytest.raises(NoHistory, match="files that were not committed"):
        files_at(house.house, "+4be09d2")
    assert committed_part(f"{first}+4be09d2") == first
    for whole in (first, "+4be09d2", "2026-06-20T18:30+01:00"):
        assert committed_part(whole) == whole


def test_a_search_for_a_subject_finds_its_commit(tmp_path):
    house = books(tmp_path)
    second = house.commit("Stiffer sours")
    house.commit("Third")
    assert files_at(house.house, ":/Stiffer").revision == second


@pytest.mark.slow
def test_a_beginning_that_several_things_have_is_not_called_unknown(tmp_path):
    house = books(tmp_path)
    for number in range(1000):
        house.write(f"notes/{number}.txt", f"{number}\n")
    house.commit("Many things")
    told = git(house.house, "rev-list", "--objects", "--all").splitlines()
    known = sorted(line[:4] for line in told)
    commits_begin = {git(house.house, "rev-parse", name)[:4] for name in ("HEAD", "HEAD~1")}
    twice = [one for one, other in pairwise(known) if one == other]
    assert twice, "of 1,000 things, some begin alike"
    for begin in (one for one in twice if one not in commits_begin):
        with pytest.raises(NoHistory, match=f'several things in git begin with "{begin}"'):
            files_at(house.house, begin)


@pytest.mark.slow
def test_a_house_is_found_whatever_this_machine_names_its_files_in(tmp_path):
    house = books(tmp_path / "caf\u00e9s", inside="b\u00e4r")
    code = (
        "import sys\nfrom pathlib import Path\nfrom menugen.revisions.revision import files_at\n"
        "files = files_at(Path(sys.argv[1]), 'HEAD')\n"
        "print(ascii(files.repository.inside), files.names('specs'), len(files.read('house.yaml')) > 10)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "b\u00e4r"],
        cwd=house.house.parent,
        capture_output=True,
        text=True,
        check=False,
        env={
            **os.environ,
            "PYTHONPATH": str(REPOSITORY),
            "LC_ALL": "C",
            "PYTHONUTF8": "0",
            "PYTHONCOERCECLOCALE": "0",
        },
    )
    assert (done.stdout, done.stderr) == ("'b\\xe4r' ('marsh-sour.md',) True\n", "")


def test_a_process_that_ends_is_followed_by_another(tmp_path):
    house = books(tmp_path)
    objects = Objects(house.house)
    oid = git(house.house, "rev-parse", "HEAD:house.yaml")
    damaged = git(house.house, "rev-parse", "HEAD:specs/marsh-sour.md")
    lost = house.house / ".git/objects" / damaged[:2] / damaged[2:]
    lost.chmod(0o644)
    lost.write_bytes(b"garbage")
    for _ in range(3):
        assert objects.read(damaged, 1000) is None
        kind, content = objects.read(oid, 1000) or ("", b"")
        assert (kind, content) == ("blob", (house.house / "house.yaml").read_bytes())
    assert objects.tree(oid) is None


@pytest.mark.slow
def test_a_thousand_files_are_read_through_two_processes(tmp_path, monkeypatch):
    house = books(tmp_path)
    for number in range(1000):
        house.write(f"notes/{number}.txt", f"{number}\n")
    house.commit("Many notes")
    started: list[tuple[str, ...]] = []

    class Counted(Git):
        def __init__(self, folder: Path, *arguments: str, spoken_to: bool = False) -> None:
            started.append(arguments)
            super().__init__(folder, *arguments, spoken_to=spoken_to)

    monkeypatch.setattr("menugen.revisions.objects.Git", Counted)
    files = files_at(house.house, "HEAD")
    assert [files.read(f"notes/{number}.txt") for number in range(1000)] == [
        f"{number}\n".encode() for number in range(1000)
    ]
    assert started == [("cat-file", "--batch-check"), ("cat-file", "--batch")]


def test_of_a_file_that_was_read_whole_no_more_is_given_than_another_asks_for(tmp_path):
    house = books(tmp_path, {**texts(), "specs/long.md": "x" * 500})
    objects = Objects(house.house)
    oid = git(house.house, "rev-parse", "HEAD:specs/long.md")
    assert objects.read(oid, 1000) == ("blob", b"x" * 500)
    assert objects.read(oid, 3) == ("blob", bytes(4))
