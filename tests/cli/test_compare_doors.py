"""What menugen compare is asked to compare: a house named first, what is staged, what a merge would give."""

import json

import pytest

from menugen.cli import main
from menugen.shipped import shipped_folder
from tests.cli.inside import menugen
from tests.revisions.repositories import Books, books, git


@pytest.fixture
def house(tmp_path) -> Books:
    made = books(tmp_path / "books", inside="bar")
    assert menugen("tidy", "--quiet", cwd=made.house).returncode == 0
    made.commit("Tidy")
    return made


@pytest.fixture
def nutty(house) -> Books:
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    return house


@pytest.mark.parametrize(
    "words",
    [
        ("books/bar",),
        ("books/bar/house.yaml",),
        ("books/bar/", "HEAD"),
        ("--house", "books/bar"),
        ("--house", "books/bar", "HEAD"),
        ("books/bar", "2026-11-01"),
    ],
)
def test_the_house_may_be_the_first_word(nutty, tmp_path, words):
    done = menugen("compare", *words, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "almonds" in done.stdout


def test_a_first_word_that_leads_to_no_house_is_a_revision(nutty):
    nutty.commit("Almond")
    assert "almonds" in menugen("compare", "HEAD~1", "HEAD", cwd=nutty.house).stdout
    assert "almonds" in menugen("compare", ".", "HEAD~1..", cwd=nutty.house).stdout
    done = menugen("compare", "HEAD~1", "HEAD", "HEAD", cwd=nutty.house)
    assert done.returncode == 2
    assert '"HEAD" is one revision too many' in done.stderr
    done = menugen("compare", "specs", cwd=nutty.house)
    assert done.returncode == 2
    assert "specs is inside the house" in done.stderr


def test_a_word_that_is_a_house_and_a_revision_is_asked_about(nutty, tmp_path):
    git(nutty.house, "tag", "bar")
    at = tmp_path / "books"
    done = menugen("compare", "bar", cwd=at)
    assert done.returncode == 2
    assert 'write ./bar for the house, or "--house DIR bar" for the revision' in done.stderr
    assert "almonds" in menugen("compare", "./bar", cwd=at).stdout
    assert "almonds" in menugen("compare", "--house", "bar", "bar", cwd=at).stdout


def test_what_is_staged_is_compared_and_not_what_lies_there(nutty):
    at = nutty.house
    assert "No fact changed." in menugen("compare", "--staged", cwd=at).stdout
    git(at, "add", ".")
    nutty.edit_stock("garden gin", "contains: [almond]", "contains: none")
    done = menugen("compare", "--staged", "--fail-on", "allergens", cwd=at)
    assert done.returncode == 1
    assert "almonds" in done.stdout
    assert (
        json.loads(menugen("compare", "--staged", "--json", cwd=at).stdout)["new"]["label"]
        == "what is staged"
    )


def test_before_the_first_commit_the_house_is_new(tmp_path, nutty):
    (tmp_path / "books/.git").rename(tmp_path / "git")
    git(tmp_path / "books", "init", "-q", ".")
    git(tmp_path / "books", "add", ".")
    done = menugen(
        "compare", "bar", "--staged", "--fail-on", "allergens,problems,tidy", cwd=tmp_path / "books"
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("The house is new: nothing has been committed here yet")
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    nutty.edit("specs/marsh-sour.md", "glass: sour", "glass: no such")
    nutty.edit("stock/all.yaml", "kind: gin", "kind:   gin")
    git(tmp_path / "books", "add", ".")
    done = menugen("compare", "bar", "--staged", "--fail-on", "problems,tidy", cwd=tmp_path / "books")
    assert done.returncode == 1
    assert "bar/specs/marsh-sour.md:9:8: error[unknown-glass]" in done.stderr
    assert "bar/stock/all.yaml: not tidy" in done.stderr


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--staged", "--merged", "HEAD", "HEAD"), "write one of them"),
        (("--merged", "HEAD"), "menugen compare origin/main --merged HEAD"),
        (("--merged", "HEAD", "HEAD", "HEAD"), "one revision too many"),
        (("--staged", "HEAD", "HEAD"), "one revision too many"),
        (("--merged", "nowhere", "HEAD"), 'git knows no revision "nowhere"'),
        (("--merged", "HEAD", "nowhere"), 'git knows no revision "nowhere"'),
    ],
)
def test_words_that_do_not_go_together_are_wrong_use(nutty, words, says):
    done = menugen("compare", *words, cwd=nutty.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert says in done.stderr


def test_codes_tell_what_changed_from_what_could_not_be_looked_at(nutty):
    at = nutty.house
    nutty.commit("Almond")
    assert menugen("compare", "HEAD~1", "HEAD", cwd=at).returncode == 0
    assert menugen("compare", "HEAD~1", "HEAD", "--fail-on", "allergens", cwd=at).returncode == 1
    nutty.write("house.yaml", "name: [unclosed\n")
    nutty.commit("Broken")
    assert menugen("compare", "HEAD~1", "HEAD", "--fail-on", "allergens", cwd=at).returncode == 2
    assert menugen("compare", "HEAD~1", "HEAD", "--fail-on", "problems", cwd=at).returncode == 1
    # What mends it passes a hook, which guards against no more.
    assert menugen("compare", "HEAD", "HEAD~1", "--fail-on", "problems,tidy", cwd=at).returncode == 0
    assert menugen("compare", "HEAD", "HEAD~1", "--fail-on", "strength", cwd=at).returncode == 2


def test_an_untidy_file_is_guarded_against_where_that_is_asked(house):
    house.edit("stock/all.yaml", "kind: gin", "kind:   gin")
    assert menugen("compare", "--fail-on", "problems", cwd=house.house).returncode == 0
    done = menugen("compare", "--fail-on", "tidy", cwd=house.house)
    assert (done.returncode, done.stderr) == (1, "stock/all.yaml: not tidy\n")


def test_a_house_is_held_against_the_folder_that_is_named(nutty, monkeypatch, capsys):
    top = nutty.house.parent
    nutty.house.rename(top / "new")
    (top / "new/house.yaml").write_text("name: Quite Another\nregion: IE\n", encoding="utf-8")
    for name in ("stock/all.yaml", "specs/marsh-sour.md", "events/small-supper.yaml"):
        text = (top / "new" / name).read_text("utf-8")
        (top / "new" / name).write_text(f"{text}\n", encoding="utf-8")
    monkeypatch.chdir(top)
    assert main(("compare", "new")) == 2
    assert ' --was bar" where it is, "--was new" where it is a new one' in capsys.readouterr().err
    assert main(("compare", "new", "HEAD", "--was", "bar", "--fail-on", "allergens")) == 1
    assert "almonds" in capsys.readouterr().out
    assert main(("compare", "new", "HEAD", "--was", "new")) == 0
    assert capsys.readouterr().out.startswith("The house is new: ")


@pytest.mark.parametrize("how", [(), ("--quiet",), ("--markdown",), ("--json",)])
def test_a_house_that_cannot_be_read_is_said_in_every_form(nutty, how):
    nutty.write("house.yaml", "name: [unclosed\n")
    nutty.commit("Broken")
    done = menugen("compare", "HEAD", *how, "--fail-on", "allergens", cwd=nutty.house)
    assert (done.returncode, done.stderr) == (2, "")
    assert "house.yaml cannot be read in the newer house: nothing could be compared" in " ".join(
        done.stdout.split()
    )
    if how == ("--json",):
        told = json.loads(done.stdout)
        assert all(told[side]["problems"] for side in ("old", "new"))


@pytest.mark.parametrize(
    "fault", [ModuleNotFoundError("gone", name="gone"), PermissionError(13, "refused", "x"), KeyError("x")]
)
def test_whatever_keeps_compare_from_looking_is_not_taken_for_a_change(nutty, monkeypatch, fault):
    def burst(*_args, **_named):
        raise fault

    monkeypatch.delenv("MENUGEN_TRACEBACK", raising=False)
    monkeypatch.setattr("menugen.cli.compare.houses_to_compare", burst)
    done = menugen("compare", "--fail-on", "allergens", cwd=nutty.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr


def test_a_merge_that_does_not_go_by_itself_never_ends_with_0(house):
    at = house.house
    for branch, name in (("change", "Larger Supper"), ("main", "Our Supper")):
        git(at, "checkout", "-q", *(["-b"] if branch == "change" else []), branch)
        house.edit("house.yaml", "name: ", f"# {name}\nname: ")
        house.commit(name)
    done = menugen("compare", "main", "--merged", "change", "--fail-on", "tidy", cwd=at)
    assert done.returncode == 1
    assert "change cannot be merged into main as it is, for both change: bar/house.yaml; run:" in done.stderr
    (at / "plain.txt").write_text("ours\n")
    house.commit("A note")
    git(at, "checkout", "-q", "change")
    (at / "plain.txt").write_text("theirs\n")
    git(at, "checkout", "-q", "main", "--", "house.yaml")
    house.commit("Another note")
    done = menugen("compare", "main", "--merged", "change", cwd=at)
    assert done.returncode == 1
    assert "No fact changed." in done.stdout


def test_a_file_that_cannot_be_tidied_for_its_fault_is_told_once(house):
    house.write("events/small-supper.yaml", "event: [unclosed\n")
    done = menugen("compare", "--fail-on", "problems,tidy", cwd=house.house)
    told = done.stdout + done.stderr
    assert "left as it is" not in told
    assert "events/small-supper.yaml" in done.stdout
    done = menugen("compare", "--fail-on", "tidy", cwd=house.house)
    assert done.returncode == 1
    assert "events/small-supper.yaml: left as it is: " in done.stderr


def test_what_could_be_compared_is_shown_where_the_rest_cannot_be_looked_at(nutty):
    nutty.write("themes/lawn/a:b", "x")
    nutty.commit("A look that not every disk can hold")
    done = menugen("compare", "HEAD~1", "HEAD", "--fail-on", "problems", cwd=nutty.house)
    assert done.returncode == 2
    assert "almonds" in done.stdout
    assert "has a name that not every machine can have" in done.stderr
    assert menugen("compare", "HEAD~1", "HEAD", "--fail-on", "strength", cwd=nutty.house).returncode == 0


def test_a_revision_called_as_a_folder_is_said_to_be_lost_and_not_to_be_a_folder(nutty):
    git(nutty.house, "branch", "specs")
    (nutty.house / "house.yaml").rename(nutty.house.parent / "house.yaml")
    (nutty.house.parent / "house.yaml").write_text("name: Quite Another\nregion: IE\n", encoding="utf-8")
    (nutty.house.parent / "specs").mkdir()
    done = menugen("compare", "specs", cwd=nutty.house.parent)
    assert done.returncode == 2
    assert "not certain" in done.stderr


def test_pages_are_made_before_a_commit_where_a_look_is_another(house):
    house.edit("events/small-supper.yaml", "date: ", "theme: mine\ndate: ")
    house.write("themes/mine/theme.yaml", "title: Mine\nextends: slate\n")
    house.commit("A look")
    frame = shipped_folder("themes") / "base/frame.html.jinja"
    text = frame.read_text("utf-8").replace("</main>", '<a href="gone.html">x</a></main>')
    house.write("themes/mine/frame.html.jinja", text)
    git(house.house, "add", ".")
    done = menugen("compare", "--staged", "--fail-on", "problems", cwd=house.house)
    assert done.returncode == 1
    assert 'links to "gone.html", which is not there' in done.stderr
    house.commit("Broken pages")
    house.edit("specs/marsh-sour.md", "50 ml gin", "55 ml gin")
    git(house.house, "add", ".")
    assert menugen("compare", "--staged", "--fail-on", "problems", cwd=house.house).returncode == 0
