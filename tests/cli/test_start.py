"""A new house writes over nothing, and is there whole or not at all."""

import contextlib
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.disk import START_LOCK, clear_unfinished, locked
from menugen.writing import new_folder
from menugen.writing.new_folder import InTheWay, put_new_folder, take_back_stopped
from menugen.writing.output_folder import CannotWrite
from tests.cli.test_commands import REPOSITORY, write_house
from tests.fuzz.trouble import Dead, Disk, dead, since, without_waiting

TOP = [".gitattributes", ".gitignore", "checks", "events", "house.yaml", "specs", "stock"]


def whole(folder: Path) -> dict[str, bytes]:
    """Return everything below a folder by path; of a folder that is empty, its name alone."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else b""
        for path in sorted(folder.rglob("*"))
    }


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def here(tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("typed", ["new/..", ".", "new/../", "specs/..", "../bar"])
def test_no_way_of_writing_a_house_s_own_folder_gets_past_what_is_in_it(tmp_path, monkeypatch, capsys, typed):
    house = write_house(tmp_path / "bar")
    monkeypatch.chdir(house)
    before = whole(house)
    assert main(["start", typed]) == 2
    assert "not empty" in capsys.readouterr().err
    assert whole(house) == before


@pytest.mark.parametrize("typed", ["specs/new", "out/first", "new", "new/../other", "specs"])
def test_no_house_begins_inside_another(tmp_path, monkeypatch, capsys, typed):
    house = write_house(tmp_path / "bar")
    monkeypatch.chdir(house)
    before = whole(house)
    assert main(["start", typed]) == 2
    assert f"inside the house {house}" in capsys.readouterr().err
    assert whole(house) == before


def test_no_house_begins_where_a_publish_would_replace_it(here, capsys):
    write_house(here / "bar")
    assert main(["publish", "bar", "--to", "menus", "--quiet"]) == 0
    assert main(["start", "menus/small-supper/new"]) == 2
    assert "what a publish made" in capsys.readouterr().err
    assert not (here / "menus/small-supper/new").exists()


@pytest.mark.slow
@pytest.mark.parametrize(
    "held",
    [
        (".git/HEAD",),
        (".git/HEAD", ".idea/workspace.xml", ".vscode/settings.json", ".DS_Store", "._x", ".gitkeep"),
        ("Thumbs.db",),
        (),
    ],
)
def test_what_git_and_editors_leave_counts_as_nothing_and_stays(here, held):
    for name in held:
        (here / "new" / name).parent.mkdir(parents=True, exist_ok=True)
        (here / "new" / name).write_text("mine", encoding="utf-8")
    (here / "new").mkdir(exist_ok=True)
    assert main(["start", "new", "--quiet"]) == 0
    assert names(here / "new") == sorted({*TOP, *(name.partition("/")[0] for name in held)})
    assert all((here / "new" / name).read_text("utf-8") == "mine" for name in held)
    assert main(["publish", "new", "--quiet"]) == 0


@pytest.mark.parametrize("held", ["notes.txt", "house.yml", ".env", "README.md", ".GITHUB/x"])
def test_anything_else_counts_as_something(here, capsys, held):
    (here / "new" / held).parent.mkdir(parents=True)
    (here / "new" / held).write_text("mine", encoding="utf-8")
    assert main(["start", "new"]) == 2
    assert held.partition("/")[0] in capsys.readouterr().err
    assert len(whole(here / "new")) == held.count("/") + 1


def test_a_repository_s_own_settings_stay_and_what_they_lack_is_shown(here, capsys):
    (here / "new").mkdir()
    (here / "new/.gitignore").write_text("*.bak\n", encoding="utf-8")
    assert main(["start", "new"]) == 0
    assert (here / "new/.gitignore").read_text("utf-8") == "*.bak\n"
    assert (here / "new/.gitattributes").is_file()
    told = capsys.readouterr().out
    assert ".gitignore was there already and is as it was" in told
    assert "    out/\n" in told
    assert ".gitattributes" not in told


def test_folders_above_are_made_and_a_dot_dot_after_one_that_is_missing_is_no_riddle(here, capsys):
    assert main(["start", "a/b/../c"]) == 0
    assert names(here) == ["a"]
    assert names(here / "a") == ["c"]
    assert f"publish it:  menugen publish {shlex.quote(f'{here.as_posix()}/a/c')}" in capsys.readouterr().out


def test_what_is_to_be_typed_next_is_quoted_for_the_shell(here, capsys):
    assert main(["start", "Jo's bar"]) == 0
    assert """menugen publish 'Jo'"'"'s bar'\n""" in capsys.readouterr().out


def test_a_link_is_followed_where_it_leads_somewhere(here, capsys):
    (here / "there").mkdir()
    (here / "link").symlink_to("there")
    assert main(["start", "link", "--quiet"]) == 0
    assert names(here / "there") == TOP
    assert (here / "link").is_symlink()
    for name, to in (("lost", "nowhere"), ("circle", "circle")):
        (here / name).symlink_to(to)
        assert main(["start", name]) == 2
        assert "link" in capsys.readouterr().err
    assert not (here / "nowhere").exists()


@pytest.mark.parametrize("typed", ["file", "file/new", "", " ", ".git/new"])
def test_what_can_be_no_folder_is_refused_in_a_sentence(here, capsys, typed):
    (here / "file").write_text("mine", encoding="utf-8")
    assert main(["start", typed]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert whole(here) == {"file": b"mine"}


FILES = {"house.yaml": b"name: x\n", "specs/one.md": b"1", "stock/all.yaml": b"2", ".gitignore": b"out/\n"}


@pytest.mark.parametrize("there", [False, True])
@pytest.mark.parametrize("at", range(16))
def test_a_fault_at_any_step_leaves_what_was_there(tmp_path, monkeypatch, there, at):
    place = tmp_path / "above/new"
    if there:
        (place / ".git").mkdir(parents=True)
    before = whole(tmp_path)
    count = 0

    def failing(step):
        def run(*arguments, **named):
            nonlocal count
            count += 1
            if count == at + 1:
                raise OSError(28, "No space left on device")
            return step(*arguments, **named)

        return run

    with monkeypatch.context() as patched:
        for owner, name in ((Path, "open"), (Path, "rename"), (Path, "mkdir"), (os, "link")):
            patched.setattr(owner, name, failing(getattr(owner, name)))
        fault = None
        try:
            put_new_folder(place, FILES, last="house.yaml")
        except CannotWrite as caught:
            fault = caught.message
    assert (fault is None) == (count <= at)
    assert fault is None or "full" in fault
    if count > at:
        assert whole(tmp_path) == before
    else:
        assert whole(place).items() >= FILES.items()


def test_a_house_s_own_file_comes_last_of_all(tmp_path, monkeypatch):
    (tmp_path / ".git").mkdir()
    order = []
    link, rename = os.link, Path.rename
    monkeypatch.setattr(os, "link", lambda one, other: (order.append(other.name), link(one, other)))
    monkeypatch.setattr(
        Path, "rename", lambda self, other: (order.append(other.name), rename(self, other))[1]
    )
    put_new_folder(tmp_path, FILES, last="house.yaml")
    assert order[-1] == "house.yaml"
    assert len(order) == len(FILES)


@pytest.mark.parametrize("way", ["a file", "a folder", "settings"])
def test_what_comes_between_is_not_written_over(tmp_path, monkeypatch, way):
    """Somebody writes a file while the new ones are made aside."""
    (tmp_path / ".git").mkdir()
    write = new_folder._write
    name = {"a file": "house.yaml", "a folder": "stock/mine.yaml", "settings": ".gitignore"}[way]

    def and_somebody_else(*arguments):
        write(*arguments)
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("mine", encoding="utf-8")

    monkeypatch.setattr(new_folder, "_write", and_somebody_else)
    if way == "settings":
        assert put_new_folder(tmp_path, FILES, may_be_there=(".gitignore",)) == (".gitignore",)
        assert (tmp_path / "house.yaml").is_file()
    else:
        with pytest.raises(InTheWay):
            put_new_folder(tmp_path, FILES, may_be_there=(".gitignore",), last="house.yaml")
        assert set(whole(tmp_path)) == {".git", name, *([name.partition("/")[0]] if "/" in name else [])}
    assert (tmp_path / name).read_text("utf-8") == "mine"


def test_a_folder_that_somebody_makes_meanwhile_stays_theirs(tmp_path, monkeypatch):
    place = tmp_path / "new"
    write = new_folder._write

    def and_somebody_else(*arguments):
        write(*arguments)
        place.mkdir()
        (place / "thesis.txt").write_text("mine", encoding="utf-8")

    monkeypatch.setattr(new_folder, "_write", and_somebody_else)
    with pytest.raises(InTheWay):
        put_new_folder(place, FILES)
    assert whole(tmp_path) == {"new": b"", "new/thesis.txt": b"mine"}


def test_a_disk_without_second_names_gets_its_files_too(tmp_path, monkeypatch):
    (tmp_path / ".git").mkdir()

    def no_links(_one, _other):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    put_new_folder(tmp_path, FILES, last="house.yaml")
    assert {name: content for name, content in whole(tmp_path).items() if name in FILES} == FILES


@pytest.mark.slow
def test_two_starts_at_once_make_one_house(tmp_path):
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "menugen", "start", "new", "--quiet"],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
            stderr=subprocess.PIPE,
        )
        for _ in range(4)
    ]
    told = [run.communicate()[1] for run in runs]
    assert sorted(run.returncode for run in runs) == [0, 2, 2, 2], told
    assert names(tmp_path) == ["new"]
    assert names(tmp_path / "new") == TOP


@pytest.mark.parametrize("there", [False, True])
def test_a_start_killed_at_any_step_leaves_no_half_house_and_the_next_one_makes_it_whole(tmp_path, there):
    made = {path: content for path, content in FILES.items() if "/" not in path or path.startswith("specs/")}
    ended = set()
    for step in range(1, 100):
        above = tmp_path / str(step)
        place = above / "new"
        (place / ".git" if there else above).mkdir(parents=True)
        with without_waiting():
            done = False
            with contextlib.suppress(Dead), Disk(above, since(step), dead).between():
                put_new_folder(place, made, may_be_there=(".gitignore",), last="house.yaml")
                done = True
            if (place / "house.yaml").exists():
                ended.add("new")
                assert whole(place).items() >= made.items()
                clear_unfinished(place if there else above)
            else:
                ended.add("old")
                if there:
                    take_back_stopped(place, made, may_be_there=(".gitignore",), last="house.yaml")
                    assert set(whole(place)) <= {".git", ".gitignore"}
                put_new_folder(place, made, may_be_there=(".gitignore",), last="house.yaml")
            assert {path: it for path, it in whole(place).items() if it} == made
            assert names(above) == ["new"]
            assert set(names(place)) == {*(path.partition("/")[0] for path in made), *([".git"] * there)}
        if done:
            break
    assert step > 15
    assert ended == {"old", "new"}


def test_what_somebody_wrote_after_a_killed_start_is_not_taken_back(here, capsys):
    (here / "new").mkdir()
    assert main(["start", "new", "--quiet"]) == 0
    (here / "new/.menugen-start-0123abcd").mkdir()
    (here / "new/house.yaml").unlink()
    (here / "new/specs/mine.md").write_text("mine", encoding="utf-8")
    assert main(["start", "new"]) == 2
    assert "it holds specs: name another folder" in capsys.readouterr().err
    assert names(here / "new") == [".gitattributes", ".gitignore", "specs"]
    assert len(names(here / "new/specs")) == 4
    (here / "new/specs/mine.md").unlink()
    # A file of the start's own that somebody has worked on is theirs, too.
    drink = here / "new/specs/negroni.md"
    ours = drink.read_bytes()
    drink.write_bytes(ours + b"Mine.")
    (here / "new/.menugen-start-0123abcd").mkdir()
    assert main(["start", "new"]) == 2
    assert drink.read_bytes() == ours + b"Mine."
    drink.write_bytes(ours)
    (here / "new/.menugen-start-0123abcd").mkdir()
    assert main(["start", "new", "--quiet"]) == 0
    assert names(here / "new") == TOP


def test_a_whole_house_is_nothing_to_take_back(here, capsys):
    (here / "new").mkdir()
    assert main(["start", "new", "--quiet"]) == 0
    before = whole(here / "new")
    (here / "new/.menugen-start-0123abcd").mkdir()
    assert main(["start", "new"]) == 2
    assert "not empty" in capsys.readouterr().err
    assert whole(here / "new") == before
    (here / "new/.menugen-start-0123abcd").mkdir()
    assert main(["tidy", "new"]) == 0
    assert whole(here / "new") == before


def test_what_a_killed_start_left_beside_a_whole_house_goes_with_the_next(here, capsys):
    assert main(["start", "new", "--quiet"]) == 0
    (here / ".menugen-start").touch()
    (here / ".menugen-start-0123abcd/specs").mkdir(parents=True)
    assert main(["start", "new"]) == 2
    assert "not empty" in capsys.readouterr().err
    assert names(here) == ["new"]


def test_a_start_waits_for_another_beside_it_and_then_says_so(here, capsys, monkeypatch):
    monkeypatch.setattr(new_folder, "WAIT_SECONDS", 0.05)
    (here / "new").mkdir()
    for at in (here, here / "new"):
        with locked(at / START_LOCK, wait_seconds=0):
            assert main(["start", "new" if at.name == "new" else "newer"]) == 2
            assert "another start is at work" in capsys.readouterr().err
    assert names(here) == ["new"]
    assert names(here / "new") == []
