"""menugen tidy, as it is typed."""

import os
from pathlib import Path

import pytest

from menugen.reading import DiskFiles, read_house
from menugen.tidying import Changed, tidy_result, write
from tests.cli.inside import menugen
from tests.houses import texts
from tests.revisions.repositories import git

REPOSITORY = Path(__file__).resolve().parents[2]


@pytest.fixture
def house(tmp_path: Path) -> Path:
    for name, text in texts().items():
        path = tmp_path / "bar" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return tmp_path / "bar"


def test_a_house_is_tidied_once_and_says_what_it_said(house):
    before = read_house(DiskFiles(house)).house
    done = menugen("tidy", "bar", cwd=house.parent)
    assert (done.returncode, done.stderr) == (0, "")
    assert "bar/stock/all.yaml: tidied" in done.stdout
    assert read_house(DiskFiles(house)).house == before
    again = menugen("tidy", "bar", cwd=house.parent)
    assert (again.returncode, again.stdout, again.stderr) == (0, "", "")
    assert not [path for path in house.rglob("*") if path.name.startswith(".tidy-")]


def test_check_lists_what_is_not_tidy_and_writes_nothing(house):
    text = (house / "stock/all.yaml").read_text("utf-8")
    done = menugen("tidy", "--check", cwd=house)
    assert done.returncode == 1
    assert "stock/all.yaml: not tidy" in done.stdout
    assert (house / "stock/all.yaml").read_text("utf-8") == text
    menugen("tidy", cwd=house)
    assert menugen("tidy", "--check", cwd=house).returncode == 0


def test_one_event_alone_can_be_named(house):
    event = house / "events/small-supper.yaml"
    event.write_text("date:   2026-12-12\nevent: Small Supper\n", encoding="utf-8")
    done = menugen("tidy", "events/small-supper.yaml", cwd=house)
    assert done.stdout == "events/small-supper.yaml: tidied\n"
    assert event.read_text("utf-8") == "event: Small Supper\ndate: 2026-12-12\n"
    assert menugen("tidy", "--check", cwd=house).returncode == 1


UNTIDY = "---\nglass: coupe\nname: X\npour: 50 ml gin\n---\n"
TIDY = "---\nname: X\npour: 50 ml gin\nglass: coupe\n---\n"


@pytest.fixture
def untidy(house):
    """A house of which every file is tidy but two specs, a stock file and house.yaml."""
    menugen("tidy", cwd=house)
    for name in ("specs/x.md", "specs/y.md"):
        (house / name).write_text(UNTIDY, encoding="utf-8")
    (house / "stock/all.yaml").write_text("rum: {abv: 40 %}\n", encoding="utf-8")
    (house / "house.yaml").write_text("region: GB-ENG\nname: A\n", encoding="utf-8")
    return house


@pytest.mark.parametrize(
    ("at", "typed", "told"),
    [
        (".", ["specs/x.md"], ["specs/x.md"]),
        (".", ["specs"], ["specs/x.md", "specs/y.md"]),
        (".", ["specs/", "./specs/x.md"], ["specs/x.md", "specs/y.md"]),
        (".", ["stock", "specs/y.md"], ["stock/all.yaml", "specs/y.md"]),
        (".", ["house.yaml"], ["house.yaml"]),
        (".", [], ["house.yaml", "specs/x.md", "specs/y.md", "stock/all.yaml"]),
        ("specs", [], ["x.md", "y.md"]),
        ("specs", ["x.md"], ["x.md"]),
        ("specs", ["../stock"], ["../stock/all.yaml"]),
        ("..", ["bar/specs/x.md", "bar/house.yaml"], ["bar/specs/x.md", "bar/house.yaml"]),
    ],
)
def test_a_path_means_that_file_or_the_files_in_that_folder(untidy, at, typed, told):
    done = menugen("tidy", *typed, cwd=untidy / at)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines() == [f"{name}: tidied" for name in told]


def test_what_is_no_file_of_the_house_is_wrong_use_and_nothing_is_written(untidy):
    (untidy / "notes").mkdir()
    (untidy / "notes/own.md").write_text(UNTIDY, encoding="utf-8")
    for wrong in ("notes", "notes/own.md", "nowhere"):
        done = menugen("tidy", "specs", wrong, cwd=untidy)
        assert (done.returncode, done.stdout) == (2, "")
        assert wrong in done.stderr
    assert (untidy / "specs/x.md").read_text("utf-8") == UNTIDY


def test_a_library_without_a_house_is_tidied_as_specs(tmp_path):
    library = tmp_path / "library"
    library.mkdir()
    (library / "x.md").write_text(UNTIDY, encoding="utf-8")
    (library / "essay.md").write_text("---\ntitle: An essay\nauthor:   A\n---\n", encoding="utf-8")
    done = menugen("tidy", "library/x.md", cwd=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, "library/x.md: tidied\n", "")
    assert (library / "x.md").read_text("utf-8") == TIDY
    (library / "x.md").write_text(UNTIDY, encoding="utf-8")
    done = menugen("tidy", "library", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stdout == "library/x.md: tidied\n"
    assert done.stderr == "library/essay.md: left as it is: it is no spec: it has no name, or no pour\n"
    (library / "stock.yaml").write_text("rum:   {abv: 40 %}\n", encoding="utf-8")
    done = menugen("tidy", "library/stock.yaml", cwd=tmp_path)
    assert done.returncode == 2
    assert "there is no house.yaml above library/stock.yaml" in done.stderr
    done = menugen("tidy", cwd=tmp_path)
    assert done.returncode == 2
    assert "there is no house.yaml in ." in done.stderr


def test_a_protected_file_is_left_alone_and_said_so(untidy):
    (untidy / "specs/x.md").chmod(0o444)
    done = menugen("tidy", "specs", cwd=untidy)
    assert done.returncode == 1
    assert done.stdout == "specs/y.md: tidied\n"
    assert done.stderr == "specs/x.md: left as it is: it is write-protected\n"
    assert (untidy / "specs/x.md").read_text("utf-8") == UNTIDY
    assert not [path for path in untidy.rglob("*") if path.name.startswith(".tidy-")]


def test_what_git_has_can_be_looked_at_and_not_written(untidy):
    git(untidy, "init", "-q", "-b", "main", ".")
    git(untidy, "add", ".")
    menugen("tidy", cwd=untidy)
    git(untidy, "commit", "-qm", "Untidy")
    done = menugen("tidy", "--check", cwd=untidy)
    assert (done.returncode, done.stdout) == (0, "")
    done = menugen("tidy", "specs", "--check", "--at", "HEAD", cwd=untidy)
    assert done.returncode == 1
    assert done.stdout == "specs/x.md: not tidy\nspecs/y.md: not tidy\n"
    assert menugen("tidy", "--at", "HEAD", cwd=untidy).returncode == 2


def test_a_file_with_faults_is_left_alone_and_said_so(house):
    (house / "specs/odd.md").write_text("---\nname: [Odd\n---\n", encoding="utf-8")
    done = menugen("tidy", cwd=house)
    assert done.returncode == 1
    assert done.stderr.startswith("specs/odd.md: left as it is: ")
    assert (house / "specs/odd.md").read_text("utf-8") == "---\nname: [Odd\n---\n"
    assert "stock/all.yaml: tidied" in done.stdout


def test_modes_and_links_stay(house):
    target = house.parent / "shared.yaml"
    (house / "stock/all.yaml").rename(target)
    (house / "stock/all.yaml").symlink_to(target)
    target.chmod(0o640)
    assert menugen("tidy", cwd=house).returncode == 0
    assert (house / "stock/all.yaml").is_symlink()
    assert target.stat().st_mode & 0o777 == 0o640
    assert menugen("tidy", "--check", cwd=house).returncode == 0


def test_a_file_changed_meanwhile_is_not_overwritten(house):
    looked = tidy_result(DiskFiles(house), "stock/all.yaml", "stock")
    (house / "stock/all.yaml").write_text("mine\n", encoding="utf-8")
    with pytest.raises(Changed):
        write(house, looked)
    assert (house / "stock/all.yaml").read_text("utf-8") == "mine\n"
    assert [path.name for path in (house / "stock").iterdir()] == ["all.yaml"]


def test_a_failing_disk_leaves_the_file_as_it_was(house, monkeypatch):
    looked = tidy_result(DiskFiles(house), "stock/all.yaml", "stock")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write(house, looked)
    assert (house / "stock/all.yaml").read_bytes() == looked.before
    assert [path.name for path in (house / "stock").iterdir()] == ["all.yaml"]


def test_a_library_outside_the_house_is_not_touched(house):
    library = house.parent / "library"
    library.mkdir()
    (library / "x.md").write_text("---\nglass: coupe\nname: X\n---\n", encoding="utf-8")
    text = (house / "house.yaml").read_text("utf-8")
    (house / "house.yaml").write_text(text + "specs: [specs, ../library]\n", encoding="utf-8")
    menugen("tidy", cwd=house)
    assert (library / "x.md").read_text("utf-8") == "---\nglass: coupe\nname: X\n---\n"


def test_two_people_at_two_bottles_do_not_meet(house, tmp_path):
    def edit(before: str, after: str) -> None:
        text = (house / "stock/all.yaml").read_text("utf-8")
        assert before in text
        (house / "stock/all.yaml").write_text(text.replace(before, after), encoding="utf-8")
        menugen("tidy", cwd=house)
        git(house, "commit", "-qam", "An edit")

    menugen("tidy", cwd=house)
    git(house, "init", "-q", "-b", "main", ".")
    git(house, "add", ".")
    git(house, "commit", "-qm", "Tidy")
    git(house, "checkout", "-q", "-b", "other")
    # The last line of one bottle and the first of the next: without the blank line between them they would meet.
    edit("checked: 2026-11-01\n\nlemon juice:", "checked: 2026-11-20\n\nlemon juice:")
    git(house, "checkout", "-q", "main")
    edit(
        "\nlemon juice:\n  kind: lemon_juice", "\nlemon juice:\n  aliases: [fresh lemon]\n  kind: lemon_juice"
    )
    git(house, "merge", "-q", "-m", "Both", "other")
    text = (house / "stock/all.yaml").read_text("utf-8")
    assert "2026-11-20" in text
    assert "fresh lemon" in text


def test_a_started_house_is_tidy(tmp_path):
    assert menugen("start", "mine", cwd=tmp_path).returncode == 0
    done = menugen("tidy", "mine", "--check", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "")


def test_a_look_is_tidied_as_it_lies_and_as_git_has_it(house):
    look = house / "themes" / "mine" / "theme.yaml"
    look.parent.mkdir(parents=True)
    look.write_text("space: {step: 1rem}\nextends: slate\n", encoding="utf-8")
    menugen("tidy", "house.yaml", "specs", "stock", "events", cwd=house)
    git(house, "init", "-q")
    git(house, "add", "-A")
    git(house, "commit", "-q", "-m", "A look")
    done = menugen("tidy", "--at", "HEAD", "--check", cwd=house)
    assert (done.returncode, done.stdout) == (1, "themes/mine/theme.yaml: not tidy\n")
    done = menugen("tidy", "themes/mine", cwd=house)
    assert (done.returncode, done.stdout) == (0, "themes/mine/theme.yaml: tidied\n")
    assert look.read_text("utf-8") == "extends: slate\nspace:\n  step: 1rem\n"
