"""A house that moves from one folder of its repository to another."""

import shutil
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.comparing import compare, houses_to_compare
from menugen.past.drink_history import VersionKind, history_of
from menugen.past.main_line import followed
from menugen.past.served import served
from menugen.publishing import no_progress
from menugen.revisions import GitFiles, NoHistory, UnsureHouse, files_at, find_repository
from menugen.revisions.git import commits
from tests.houses import texts
from tests.revisions.repositories import Books, git


class Shelf(Books):
    """A repository with houses in its folders."""

    def __init__(self, top: Path) -> None:
        super().__init__(top)
        self.top = top
        top.mkdir()
        git(top, "init", "-q", "-b", "main", ".")

    def add(self, folder: str, **changed: str) -> None:
        for name, text in {**texts(), **changed}.items():
            self.write(f"{folder}/{name}", text)

    def move(self, before: str, after: str) -> None:
        (self.top / after).parent.mkdir(parents=True, exist_ok=True)
        shutil.move(self.top / before, self.top / after)

    def label(self, folder: str) -> None:
        self.edit(f"{folder}/{STOCK}", "contains: none", "contains: [walnut]")


STOCK = next(name for name in texts() if name.startswith("stock/"))
SPEC = next(name for name in texts() if name.startswith("specs/"))


@pytest.fixture
def shelf(tmp_path) -> Shelf:
    made = Shelf(tmp_path / "Jo's shelf")
    made.add("my bar")
    return made


def gained(house: Path, old: str, new: str | None = None) -> bool:
    both = houses_to_compare(house, old, new, progress=no_progress)
    found = compare(both.old, both.new, both.notes)
    return any(one.kind == "allergen" for changes in found.drinks.values() for one in changes)


@pytest.mark.parametrize("to", ["bars/Größe 1", "."])
def test_a_house_that_moved_is_compared_with_itself(shelf, to):
    first = shelf.commit("One")
    if to == ".":
        for path in (shelf.top / "my bar").iterdir():
            shutil.move(path, shelf.top / path.name)
        (shelf.top / "my bar").rmdir()
    else:
        shelf.move("my bar", to)
    shelf.label(to)
    house = shelf.top / to
    assert gained(house, "HEAD")  # not committed, nor known to the index
    git(shelf.top, "add", "-A")
    assert gained(house, "HEAD")
    second = shelf.commit("Moved")
    assert gained(house, first, second)
    assert not gained(house, second, None)


def test_a_house_that_moved_back_and_forth_is_followed_through_every_folder(shelf):
    first = shelf.commit("One")
    for before, after in (("my bar", "second"), ("second", "third/home"), ("third/home", "second")):
        shelf.move(before, after)
        shelf.edit(f"{after}/house.yaml", "region:", f"# {after}\nregion:")
        shelf.commit(after)
    shelf.label("second")
    shelf.commit("Label")
    assert gained(shelf.top / "second", first)
    revisions = git(shelf.top, "rev-list", "HEAD").split()
    folders = [files_at(shelf.top / "second", one).folder for one in revisions]
    assert folders == ["second", "second", "third/home", "second", "my bar"]
    versions = history_of(shelf.top / "second", Path(SPEC).stem, progress=no_progress).versions
    assert versions[0].commit is not None
    assert versions[0].commit.revision == first
    assert [one.kind for one in versions] == [VersionKind.FIRST, VersionKind.CHANGED]


def test_a_house_that_became_another_step_by_step_is_followed_back_to_where_it_began(shelf):
    first = shelf.commit("One")
    place = "my bar"
    for step in range(4):
        for name in (SPEC, STOCK, "house.yaml"):
            text = (shelf.top / place / name).read_text("utf-8")
            lines = text.splitlines()
            kept = [line for number, line in enumerate(lines) if number % 4 != step or len(lines) < 8]
            shelf.write(f"{place}/{name}", "\n".join([*kept, f"# {step} {'x' * 30}", ""]))
        shelf.commit(f"Changed {step}")
        shelf.move(place, f"place {step}")
        place = f"place {step}"
        shelf.commit(f"Moved {step}")
    for name in texts():
        shelf.write(f"{place}/{name}", "# nothing is as it was\n" * 30)
    shelf.commit("All anew")
    assert files_at(shelf.top / place, first).folder == "my bar"
    assert files_at(shelf.top / place, "HEAD~3").folder == "place 2"


def test_a_branch_that_moved_the_house_is_followed_from_the_one_that_did_not(shelf):
    shelf.commit("One")
    git(shelf.top, "checkout", "-q", "-b", "change")
    shelf.move("my bar", "elsewhere")
    shelf.label("elsewhere")
    shelf.commit("Moved")
    git(shelf.top, "checkout", "-q", "main")
    shelf.write("notes.txt", "Soon.\n")
    shelf.commit("Meanwhile")
    assert gained(shelf.top / "my bar", "main", "change")
    git(shelf.top, "merge", "-q", "--no-edit", "change")
    assert gained(shelf.top / "elsewhere", "HEAD^1", "HEAD")


def test_the_house_beside_one_that_moved_is_not_taken_for_it(shelf):
    shelf.add("other")
    first = shelf.commit("One")
    shelf.move("my bar", "new place")
    shelf.label("new place")
    shelf.commit("Moved")
    assert files_at(shelf.top / "new place", first).folder == "my bar"
    assert files_at(shelf.top / "other", first).folder == "other"


def test_a_copy_is_a_new_house(shelf):
    first = shelf.commit("One")
    shutil.copytree(shelf.top / "my bar", shelf.top / "copy")
    assert files_at(shelf.top / "copy", first).folder == "copy"
    shelf.commit("Two houses")
    assert files_at(shelf.top / "copy", first).folder == "copy"
    # The first went later: that does not make the copy what it was.
    shutil.rmtree(shelf.top / "my bar")
    shelf.commit("One house")
    assert files_at(shelf.top / "copy", first).folder == "copy"


@pytest.mark.parametrize("certain", [True, False])
def test_of_two_houses_that_moved_at_once_each_is_followed_where_that_is_certain(shelf, certain):
    shelf.add("other")
    if certain:
        for name in list(texts()):
            if name != "house.yaml":
                shelf.edit(f"other/{name}", "\n", "\n\n")
    first = shelf.commit("Two")
    shelf.move("my bar", "a")
    shelf.move("other", "b")
    shelf.commit("Moved")
    if certain:
        assert [files_at(shelf.top / one, first).folder for one in "ab"] == ["my bar", "other"]
        return
    with pytest.raises(UnsureHouse, match='"my bar" or "other" there is not certain; say so: "menugen comp'):
        _ = files_at(shelf.top / "a", first).folder


def test_a_house_unlike_the_one_that_went_is_not_guessed_to_be_it(shelf, monkeypatch, capsys):
    first = shelf.commit("One")
    shutil.rmtree(shelf.top / "my bar")
    for name, text in texts().items():
        shelf.write(f"new/{name}", text + "\n")
    shelf.write("new/house.yaml", "name: Quite Another\nregion: GB\n")
    second = shelf.commit("Another")
    monkeypatch.chdir(shelf.top / "new")
    with pytest.raises(NoHistory, match="not certain"):
        _ = files_at(shelf.top / "new", first).folder
    assert main(("compare", first)) == 2
    assert '"--was new" where it is a new one' in capsys.readouterr().err.replace("\n", " ")
    repository = find_repository(shelf.top / "new")
    notes: list[str] = []
    for _ in range(2):
        listed = followed(repository, commits(shelf.top, "HEAD"), notes)
        assert [one.revision for one in listed] == [second]
    assert len(notes) == 1
    told = history_of(shelf.top / "new", Path(SPEC).stem, progress=no_progress)
    assert list(told.notes) == notes
    assert served(shelf.top / "new", "2026-12-12").notes == tuple(notes)


def test_what_was_served_from_the_folder_before_is_told(shelf):
    event = next(name for name in texts() if name.startswith("events/"))
    first = shelf.commit("One", day="2026-01-01")
    shelf.move("my bar", "elsewhere")
    shelf.commit("Moved", day="2030-01-01")
    day = next(line for line in texts()[event].splitlines() if line.startswith("date:")).split()[1]
    told = served(shelf.top / "elsewhere", day)
    assert [stage.commit.revision for one in told.events for stage in one.stages] == [first]


def test_a_missing_commit_is_no_house_elsewhere(shelf):
    first = shelf.commit("One")
    files = files_at(shelf.top / "my bar", first)
    assert GitFiles(files.repository, files.commit, folder="nowhere").oid("house.yaml") == ""


def test_a_branch_from_before_the_house_was_another_keeps_no_menu_from_being_told(shelf):
    shelf.commit("One")
    git(shelf.top, "checkout", "-q", "-b", "change")
    shelf.write("note.txt", "x")
    shelf.commit("Note", day="2026-12-02")
    git(shelf.top, "checkout", "-q", "main")
    shutil.rmtree(shelf.top / "my bar")
    for name, text in texts().items():
        shelf.write(f"new/{name}", text + "\n")
    shelf.write("new/house.yaml", "name: Quite Another\nregion: GB\n")
    shelf.commit("Another", day="2026-12-01")
    git(shelf.top, "merge", "-q", "--no-ff", "-m", "Both", "change", day="2026-12-20")
    found = served(shelf.top / "new", "2026-12-12")
    assert [stage.commit.subject for one in found.events for stage in one.stages] == ["Another"]
    (note,) = found.notes
    assert "not certain" in note
