"""What a merge would give, worked out without touching the repository."""

import gc
import os
from pathlib import Path

import pytest

from menugen.comparing import TwoHouses, compare, houses_to_compare
from menugen.publishing import no_progress
from menugen.revisions import NoHistory
from menugen.revisions.merging import quoted
from tests.revisions.repositories import Books, books, git


@pytest.fixture(params=["", "Jo's bar"])
def house(tmp_path, request) -> Books:
    made = books(tmp_path / "books", inside=request.param)
    git(made.house, "checkout", "-q", "-b", "change")
    return made


def merged(house: Books, target: str = "main", change: str = "change") -> TwoHouses:
    return houses_to_compare(house.house, target, merging=change, progress=no_progress)


def diverge(house: Books) -> None:
    """Let either side change a file of its own."""
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.commit("Almond")
    git(house.house, "checkout", "-q", "main")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.commit("Sixty")


def everything(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def test_both_sides_are_in_it_and_nothing_is_written(house, tmp_path, monkeypatch):
    diverge(house)
    (tmp_path / "lent").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "lent"))
    top = Path(git(house.house, "rev-parse", "--show-toplevel"))
    before = everything(top)
    found = merged(house)
    assert everything(top) == before
    assert (found.conflicts, found.behind) == ((), True)
    assert b"60 ml gin" in found.files.read("specs/marsh-sour.md")
    assert b"[almond]" in found.files.read("stock/all.yaml")
    comparison = compare(found.old, found.new)
    assert [one.kind for changes in comparison.drinks.values() for one in changes] == ["allergen"]
    assert any((tmp_path / "lent").iterdir())
    del found
    gc.collect()
    assert not any((tmp_path / "lent").iterdir())


@pytest.mark.parametrize("ahead", [True, False])
def test_where_one_side_holds_the_other_no_merge_is_asked_for(house, ahead, monkeypatch):
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.commit("Almond")

    def refused(*_arguments: object, **_named: object) -> None:
        raise AssertionError("asked for a merge")

    monkeypatch.setattr("menugen.revisions.merging.run", refused)
    found = merged(house) if ahead else merged(house, "change", "main")
    assert bool(compare(found.old, found.new).changes) == ahead


def test_what_does_not_go_together_is_named(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "55 ml gin")
    house.commit("Fifty-five")
    git(house.house, "checkout", "-q", "main")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.commit("Sixty")
    found = merged(house)
    (path,) = found.conflicts
    assert path.endswith("specs/marsh-sour.md")
    assert "marsh-sour" in found.new.reading.broken_specs


def test_neither_what_the_repository_nor_what_the_user_names_for_a_merge_is_run(house, tmp_path, monkeypatch):
    ran = tmp_path / "ran"
    driver = f'[merge "mine"]\n\tname = mine\n\tdriver = touch {ran}; true\n[merge]\n\tdefault = mine\n'
    top = Path(git(house.house, "rev-parse", "--show-toplevel"))
    for settings in (top / ".git/config", tmp_path / "user"):
        with settings.open("a", encoding="utf-8") as file:
            file.write(driver)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(tmp_path / "user"))
    (top / ".git/info").mkdir(exist_ok=True)
    (top / ".git/info/attributes").write_text("* merge=mine\n", encoding="utf-8")
    (top / ".gitattributes").write_text("* merge=mine\n", encoding="utf-8")
    house.edit("specs/marsh-sour.md", "50 ml gin", "55 ml gin")
    git(top, "add", ".")
    house.commit("Fifty-five")
    git(house.house, "checkout", "-q", "main")
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.commit("Sixty")
    ran.unlink(missing_ok=True)
    assert merged(house).conflicts
    assert not ran.exists()
    # It is a trap that works: git itself runs it.
    git(top, "merge", "-q", "--no-edit", "change")
    assert ran.exists()


def test_a_house_that_one_side_moved_is_found_in_the_merge(house):
    if house.house.name == "books":
        pytest.skip("a house at the top of its repository cannot move")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.commit("Almond")
    git(house.house, "checkout", "-q", "main")
    top = house.house.parent
    git(top, "mv", house.house.name, "elsewhere")
    git(top, "commit", "-q", "-m", "Moved")
    git(top, "checkout", "-q", "change")
    found = merged(house)
    assert found.conflicts == ()
    assert [one.kind for changes in compare(found.old, found.new).drinks.values() for one in changes] == [
        "allergen"
    ]


@pytest.mark.parametrize("depth", [(), ("--depth=1", "--no-single-branch")])
def test_sides_with_nothing_in_common_are_not_compared(house, tmp_path, depth):
    if depth:
        diverge(house)
        top = git(house.house, "rev-parse", "--show-toplevel")
        git(tmp_path, "clone", "-q", *depth, f"file://{top}", "clone")
        house.house = tmp_path / "clone" / house.house.relative_to(top)
        target, says, brings = "origin/change", "holds only the newest commits", "fetch --unshallow"
    else:
        git(house.house, "checkout", "-q", "--orphan", "lone")
        house.commit("Lone")
        target, says, brings = "lone", "have no commit in common", "branch --all"
    with pytest.raises(NoHistory, match=says) as raised:
        merged(house, target, "main" if not depth else "HEAD")
    assert brings in raised.value.to_run[0]


def test_a_clone_that_is_cut_off_below_the_fork_is_enough(house, tmp_path):
    git(house.house, "checkout", "-q", "main")
    house.commit("A parent that the clone has not")
    git(house.house, "checkout", "-q", "-B", "change")
    diverge(house)
    top = git(house.house, "rev-parse", "--show-toplevel")
    git(tmp_path, "clone", "-q", "--depth=2", "--no-single-branch", f"file://{top}", "clone")
    house.house = tmp_path / "clone" / house.house.relative_to(top)
    assert merged(house, "origin/main", "origin/change").conflicts == ()


@pytest.mark.parametrize(
    ("word", "typed"),
    [
        ("a-b/c.d", "a-b/c.d"),
        ("Jo's", "'Jo'\\''s'"),
        ("-x", "./-x"),
        ("", "''"),
        ("ä", "'ä'"),
        ("a;b", "'a;b'"),
    ],
)
def test_a_word_is_written_as_a_shell_takes_it(word, typed):
    assert quoted(word) == typed
    assert os.sep == "/"
