"""Paths that the system will not even look at: too long, in a circle, or no text; each is told of in a sentence."""

import os
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.writing.output import MARKER
from tests.houses import texts


@pytest.fixture
def house(tmp_path, monkeypatch) -> Path:
    monkeypatch.setenv("MENUGEN_TRACEBACK", "1")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    for name, text in texts().items():
        (tmp_path / "bar" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "bar" / name).write_text(text, encoding="utf-8")
    (tmp_path / "loop").symlink_to("loop")
    return tmp_path / "bar"


def _lying(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


@pytest.mark.slow
@pytest.mark.parametrize(
    "path", ["ä" * 300, "loop", "loop/deeper"], ids=["too long", "a circle", "below a circle"]
)
@pytest.mark.parametrize(
    "command",
    [
        ("check", "PATH"),
        ("publish", "PATH"),
        ("publish", "bar", "--to", "PATH"),
        ("tidy", "PATH"),
        ("start", "PATH"),
        ("schema", "--to", "PATH"),
        ("compare", "--house", "PATH"),
        ("served", "2026-06-20", "--house", "PATH"),
        ("drink", "PATH"),
        ("drink", "PATH", "--house", "bar"),
        ("drink", "marsh-sour", "--house", "PATH"),
        ("drink", "marsh-sour", "--house", "bar", "--event", "PATH"),
        ("drink", "PATH", "--house", "bar", "--history"),
        ("preview", "PATH"),
    ],
    ids=" ".join,
)
def test_a_path_that_cannot_be_looked_at_is_told_of(house, command, path, capsys):
    before = _lying(house.parent)
    assert main([path if word == "PATH" else word for word in command]) in (1, 2)
    said = capsys.readouterr()
    assert said.err.startswith("menugen: ")
    assert said.err.count("\n") == 1
    assert said.out == ""
    assert _lying(house.parent) == before


def test_a_drinks_history_is_written_to_no_circle(house, capsys):
    from tests.revisions.repositories import git

    git(house, "init", "-q", ".")
    git(house, "add", "-A")
    git(house, "commit", "-qm", "As we began")
    assert main(["drink", "marsh-sour", "--house", "bar", "--history", "--to", "loop"]) == 2
    assert "loop" in capsys.readouterr().err


def test_a_schema_that_cannot_be_written_leaves_the_one_that_was(house, capsys):
    assert main(["schema", "--to", "kept", "--quiet"]) == 0
    good = Path("kept/stock.schema.json").read_bytes()
    Path("kept/event.schema.json").unlink()
    Path("kept/event.schema.json").mkdir()
    Path("kept/stock.schema.json").write_bytes(b"older")
    assert main(["schema", "--to", "kept"]) == 2
    assert "event.schema.json cannot be written" in capsys.readouterr().err
    assert Path("kept/stock.schema.json").read_bytes() in (b"older", good)
    assert not [path for path in Path("kept").iterdir() if path.name.startswith(".")]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
def test_a_schema_takes_the_place_of_a_pipe_and_waits_for_nobody(house):
    Path("kept").mkdir()
    os.mkfifo("kept/spec.schema.json")
    assert main(["schema", "--to", "kept", "--quiet"]) == 0
    assert Path("kept/spec.schema.json").is_file()


def test_no_schema_goes_among_what_guests_see(house, capsys):
    Path("site").mkdir()
    Path("site", MARKER).write_text("")
    assert main(["schema", "--to", "site/deep"]) == 2
    assert "is what a publish made" in capsys.readouterr().err
    assert _lying(Path("site")) == [MARKER]


@pytest.mark.parametrize("to", [[], ["--to", "elsewhere"]], ids=["out", "elsewhere"])
def test_a_folder_of_the_house_that_is_a_circle_is_a_problem_of_the_house(house, capsys, to):
    (house / "stock").rename(house / "stock.was")
    (house / "stock").symlink_to("stock")
    assert main(["publish", "bar", *to]) == 1
    said = capsys.readouterr().err
    assert said.startswith(
        "bar/stock:1:1: error[file-unreadable]: this is a link, and it leads in a circle\n"
    )
    assert "nothing was published" in said
