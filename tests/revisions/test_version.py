"""Which revision a menu says it is of, and a past menu published again."""

import json
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.problems import Severity
from menugen.publishing import check_house
from menugen.reading import DiskFiles
from menugen.revisions.revision import files_at
from menugen.revisions.version import NO_STAMP, Stamp, stamp_of, themes_of
from tests.houses import texts
from tests.revisions.repositories import Books, books, git


@pytest.fixture
def house(tmp_path) -> Books:
    return books(tmp_path / "books", inside="bar")


def stamp(house: Books) -> Stamp:
    return stamp_of(house.house, DiskFiles(house.house))


def test_a_committed_house_is_its_revision(house):
    short = git(house.house, "rev-parse", "HEAD")[:7]
    assert stamp(house) == Stamp(short, uncommitted=False)
    assert stamp_of(house.house, files_at(house.house, "HEAD")) == Stamp(short, uncommitted=False)


@pytest.mark.slow
@pytest.mark.parametrize(
    "path",
    [
        "house.yaml",
        "specs/marsh-sour.md",
        "specs/new.md",
        "themes/own/theme.yaml",
        "events/x.yaml",
        "stock/more.yml",
        "photos/marsh-sour.jpg",
    ],
)
def test_what_is_not_committed_is_marked(house, path):
    house.write(path, "something else\n")
    assert stamp(house).uncommitted
    house.commit("Now it is")
    assert not stamp(house).uncommitted


@pytest.mark.slow
@pytest.mark.parametrize(
    "path",
    [
        "out/small-supper/site/index.html",
        "specs/marsh-sour.md~",
        "specs/.x.swp",
        "a.txt",
        "specs/readme.txt",
        "specs/README.md",
        "specs/drafts/later.md",
        "stock/list.md",
        "events/plan.txt",
    ],
)
def test_what_no_menu_is_made_from_makes_no_difference(house, path):
    house.write(path, "something else\n")
    assert not stamp(house).uncommitted


def test_a_staged_change_and_a_removed_file_count(house):
    house.edit("specs/marsh-sour.md", "50 ml", "60 ml")
    git(house.house, "add", "specs")
    assert stamp(house).uncommitted
    house.commit("Stronger")
    (house.house / "specs/marsh-sour.md").unlink()
    assert stamp(house).uncommitted


def test_a_spec_that_git_ignores_is_not_in_the_revision(house):
    house.write(".gitignore", "secret.md\nout/\n")
    house.commit("Ignore")
    house.write("specs/secret.md", "---\nname: Secret\n---\n")
    assert stamp(house).uncommitted


def test_a_house_no_repository_knows_has_no_revision(tmp_path, house, monkeypatch):
    assert stamp_of(tmp_path, DiskFiles(tmp_path)) == NO_STAMP
    stranger = house.house.parent / "stranger"
    stranger.mkdir()
    (stranger / "house.yaml").write_text("name: Stranger\n", encoding="utf-8")
    assert stamp_of(stranger, DiskFiles(stranger)) == NO_STAMP
    (house.house.parent / ".gitignore").write_text("stranger\n", encoding="utf-8")
    assert stamp_of(stranger, DiskFiles(stranger)) == NO_STAMP
    git(tmp_path, "init", "-q", "unborn")
    (tmp_path / "unborn/house.yaml").write_text("name: Unborn\n", encoding="utf-8")
    assert stamp_of(tmp_path / "unborn", DiskFiles(tmp_path / "unborn")) == Stamp("", uncommitted=True)
    monkeypatch.setenv("PATH", "/nowhere")
    # A repository is there and cannot be asked: the menu's name must not pass for a revision.
    assert stamp(house) == Stamp("", uncommitted=True, fault="there is no git on this machine")


def test_a_library_outside_the_repository_cannot_be_vouched_for(tmp_path):
    house = books(tmp_path / "bar")
    (tmp_path / "library").mkdir()
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, ../library]")
    house.commit("A library beside us")
    assert stamp(house) == Stamp(git(house.house, "rev-parse", "HEAD")[:7], uncommitted=True)


def test_what_a_link_leads_to_counts_like_a_file_of_the_house(house, tmp_path):
    shared = house.house.parent / "shared"
    shared.mkdir()
    (house.house / "specs/marsh-sour.md").rename(shared / "marsh-sour.md")
    (house.house / "specs/marsh-sour.md").symlink_to("../../shared/marsh-sour.md")
    (house.house / "stock").rename(shared / "stock")
    (house.house / "stock").symlink_to("../shared/stock")
    git(house.house.parent, "add", "-A")
    git(house.house.parent, "commit", "-qm", "Shared with the bar next door")
    assert not stamp(house).uncommitted
    house.write("../shared/unread.txt", "no matter\n")
    assert not stamp(house).uncommitted
    house.edit("../shared/marsh-sour.md", "50 ml", "60 ml")
    assert stamp(house).uncommitted
    git(house.house.parent, "commit", "-qam", "Stronger")
    assert not stamp(house).uncommitted
    house.write("../shared/stock/more.yaml", "ice:\n  each: 1 g\n")
    assert stamp(house).uncommitted
    (shared / "stock/more.yaml").unlink()
    (tmp_path / "away.md").write_text("away\n", encoding="utf-8")
    (house.house / "specs/away.md").symlink_to(tmp_path / "away.md")
    git(house.house.parent, "add", "-A")
    git(house.house.parent, "commit", "-qm", "Out of the repository")
    assert stamp(house).uncommitted


def test_a_submodule_that_moved_on_counts(tmp_path):
    library = books(tmp_path / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(tmp_path / "bar")
    add = ["-c", "protocol.file.allow=always", "submodule", "add", "-q"]
    git(house.house, *add, str(library.house), "library")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.commit("A library of drinks")
    assert not stamp(house).uncommitted
    house.edit("library/specs/long-walk.md", "50 ml", "60 ml")
    assert stamp(house).uncommitted


def test_before_anything_is_committed_a_menu_looks_like_no_revision(tmp_path):
    house = books(tmp_path / "bar")
    (house.house / ".git").rename(tmp_path / "kept")
    without_git = json.loads(published(house.house, tmp_path / "one")["small-supper/site/menu.json"])
    git(house.house, "init", "-q", ".")
    unborn = json.loads(published(house.house, tmp_path / "two")["small-supper/site/menu.json"])
    assert (without_git["uncommitted"], unborn["uncommitted"]) == (False, True)
    assert unborn["version"][0] == "+"
    assert len(unborn["version"]) == 8


def test_an_event_that_is_called_something_else_now_is_published_as_it_was(house, tmp_path, capsys):
    then = published(house.house, tmp_path / "then")
    first = git(house.house, "rev-parse", "HEAD")
    git(house.house, "mv", "events/small-supper.yaml", "events/large-supper.yaml")
    house.commit("A larger one")
    typed = house.house / "events/small-supper.yaml"
    assert published(typed, tmp_path / "again", "--at", first) == then
    assert main(["publish", str(typed), "--to", str(tmp_path / "no"), "--at", "HEAD"]) == 2
    assert 'has no event called "small-supper" at HEAD; it has: large-supper' in capsys.readouterr().err
    assert main(["check", str(house.house / "events/none.yaml"), "--at", "HEAD"]) == 2
    assert main(["publish", str(typed), "--to", str(tmp_path / "no")]) == 2
    assert "there is no folder or file called" in capsys.readouterr().err


def test_the_looks_of_a_revision_are_lent_and_taken_back(house):
    house.write("themes/own/theme.yaml", "name: own\n")
    house.write("themes/own/parts/a.txt", "a\n")
    house.commit("A look")
    house.write("themes/own/theme.yaml", "name: changed\n")
    with themes_of(house.house, files_at(house.house, "HEAD")) as folder:
        assert (folder / "own/theme.yaml").read_text("utf-8") == "name: own\n"
        assert (folder / "own/parts/a.txt").read_text("utf-8") == "a\n"
    assert not folder.exists()
    with themes_of(house.house, DiskFiles(house.house)) as folder:
        assert folder == house.house / "themes"


def published(house: Path, to: Path, *more: str) -> dict[str, bytes]:
    assert main(["publish", str(house), "--to", str(to), "--quiet", *more]) == 0
    return {
        path.relative_to(to).as_posix(): path.read_bytes()
        for path in sorted(to.rglob("*"))
        if path.is_file() and path.suffix != ".lock"
    }


@pytest.mark.slow
def test_a_past_revision_is_published_byte_for_byte_as_it_was(house, tmp_path):
    house.write("themes/own/style.css", "body { color: #123456; }\n")
    house.commit("A look of our own")
    then = published(house.house, tmp_path / "then")
    first = git(house.house, "rev-parse", "HEAD")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.write("themes/own/style.css", "body { color: #654321; }\n")
    house.commit("All different", day="2026-11-09")
    assert published(house.house, tmp_path / "now") != then
    assert published(house.house, tmp_path / "again", "--at", first) == then
    assert published(house.house, tmp_path / "by-day", "--at", "2026-11-08") == then
    assert len(then) > 10


@pytest.mark.slow
def test_the_version_stands_in_the_menu_for_machines_and_on_the_page(house, tmp_path):
    short = git(house.house, "rev-parse", "HEAD")[:7]
    files = published(house.house, tmp_path / "clean")
    assert json.loads(files["small-supper/site/menu.json"])["version"] == short
    assert f"menu {short}" in files["small-supper/site/index.html"].decode().casefold()
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    first = json.loads(published(house.house, tmp_path / "one")["small-supper/site/menu.json"])["version"]
    house.edit("specs/marsh-sour.md", "60 ml gin", "70 ml gin")
    second = json.loads(published(house.house, tmp_path / "two")["small-supper/site/menu.json"])["version"]
    assert first.startswith(f"{short}+")
    assert second.startswith(f"{short}+")
    assert first != second


def test_a_repository_that_cannot_be_asked_is_told_of_at_each_publish(tmp_path):
    house = books(tmp_path)
    (tmp_path / ".git/config").write_text("[[[\n", encoding="utf-8")
    look = check_house(house.house, DiskFiles(house.house))
    (problem,) = [problem for problem in look.problems if problem.code == "revision-unknown"]
    assert problem.severity is Severity.WARNING
    menu = json.loads(published(house.house, tmp_path / "out")["small-supper/site/menu.json"])
    assert menu["version"].startswith("+")
    assert menu["uncommitted"] is True
