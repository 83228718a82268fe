"""A revision that git names and this machine has not whole: one clear sentence, whichever command asks for it."""

import hashlib
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from menugen.cli import main
from tests.houses import texts
from tests.revisions.repositories import Books, books, git

COMMANDS = {
    "compare with the files": ("compare", "HEAD~1"),
    "compare two": ("compare", "HEAD~1", "HEAD"),
    "check": ("check", "--at", "HEAD~1"),
    "publish": ("publish", "--at", "HEAD~1", "--to", "elsewhere"),
    "drink": ("drink", "marsh-sour", "--at", "HEAD~1"),
    "history": ("drink", "marsh-sour", "--history"),
    "served": ("served", "HEAD~1"),
}


def changed_twice(folder: Path) -> Books:
    """Return a house whose two revisions differ in every file that is read."""
    house = books(folder)
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\ncurrency: GBP")
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.edit("events/small-supper.yaml", "Small Supper", "Larger Supper")
    house.commit("All different")
    return house


def clone_without(what: str) -> Callable[[Path], Path]:
    def made(folder: Path) -> Path:
        whole = changed_twice(folder / "whole")
        git(whole.house, "config", "uploadpack.allowFilter", "true")
        git(whole.house, "config", "uploadpack.allowAnySHA1InWant", "true")
        git(folder, "clone", "-q", f"--filter={what}", f"file://{whole.house}", "part")
        return folder / "part"

    return made


def losing(name: str) -> Callable[[Path], Path]:
    def made(folder: Path) -> Path:
        house = changed_twice(folder).house
        stored(house, name).unlink()
        return house

    return made


def damaging(name: str) -> Callable[[Path], Path]:
    def made(folder: Path) -> Path:
        house = changed_twice(folder).house
        stored(house, name).chmod(0o644)
        stored(house, name).write_bytes(b"not what git wrote")
        return house

    return made


def stored(house: Path, name: str) -> Path:
    oid = git(house, "rev-parse", name)
    return house / ".git/objects" / oid[:2] / oid[2:]


def submodule_not_fetched(folder: Path) -> Path:
    library = books(folder / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(folder / "bar")
    git(
        house.house,
        "-c",
        "protocol.file.allow=always",
        "submodule",
        "add",
        "-q",
        str(library.house),
        "library",
    )
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.commit("A library of drinks")
    house.commit("A day later")
    git(folder, "clone", "-q", str(house.house), "part")
    return folder / "part"


def spec_kept_aside(folder: Path) -> Path:
    house = books(folder)
    digest = hashlib.sha256(b"a spec").hexdigest()
    house.write(
        "specs/marsh-sour.md", f"version https://git-lfs.github.com/spec/v1\noid sha256:{digest}\nsize 6\n"
    )
    house.commit("Specs are large files now")
    house.commit("A day later")
    return house.house


CAUSES: dict[str, tuple[Callable[[Path], Path], str]] = {
    "a clone without files": (
        clone_without("blob:none"),
        '"git fetch --refetch --no-filter" brings everything',
    ),
    "a clone without folders": (
        clone_without("tree:0"),
        '"git fetch --refetch --no-filter" brings everything',
    ),
    "a lost folder": (losing("HEAD~1:specs"), '"git fsck" tells what is wrong'),
    "a lost top folder": (losing("HEAD~1^{tree}"), '"git fsck" tells what is wrong'),
    "a lost file": (losing("HEAD~1:specs/marsh-sour.md"), '"git fsck" tells what is wrong'),
    "a lost commit": (losing("HEAD~1"), '"git fsck" tells what is wrong'),
    "a damaged file": (damaging("HEAD~1:house.yaml"), '"git fsck" tells what is wrong'),
    "a submodule": (submodule_not_fetched, '"git submodule update --init" brings it'),
    "a large file": (spec_kept_aside, '"git lfs pull" brings it'),
}


@pytest.fixture(scope="module", params=CAUSES)
def lacking(request, tmp_path_factory) -> tuple[Path, str]:
    make, sentence = CAUSES[request.param]
    return make(tmp_path_factory.mktemp("lacking")), sentence


@pytest.mark.slow
@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_says_what_is_missing_and_what_brings_it(lacking, command, monkeypatch, capsys):
    house, sentence = lacking
    monkeypatch.chdir(house)
    code = main(COMMANDS[command])
    told = capsys.readouterr()
    assert (code, told.out) == (2, "")
    (line,) = told.err.splitlines()
    assert line.startswith("menugen: ")
    assert sentence in line
    assert not (house / "elsewhere").exists()


def test_what_brings_it_brings_it(tmp_path, monkeypatch, capsys):
    part = clone_without("blob:none")(tmp_path)
    git(part, "fetch", "-q", "--refetch", "--no-filter")
    monkeypatch.chdir(part)
    assert main(("compare", "HEAD~1")) == 0
    assert "almonds: was not named, now CONTAINS" in capsys.readouterr().out


def test_a_photo_that_is_not_here_is_told_of_and_drawn(tmp_path, monkeypatch, capsys):
    house = books(tmp_path)
    house.write("photos/marsh-sour.jpg", "no picture, and soon not even here")
    house.commit("A photo")
    stored(house.house, "HEAD:photos/marsh-sour.jpg").unlink()
    monkeypatch.chdir(house.house)
    assert main(("publish", "--at", "HEAD", "--to", "elsewhere")) == 0
    told = capsys.readouterr().err
    assert "photos/marsh-sour.jpg:1:1: warning[photo-not-fetched]" in told
    assert "is missing or damaged" in told


def test_a_look_that_is_not_here_stops_the_publish(tmp_path, monkeypatch, capsys):
    house = books(tmp_path)
    house.write("themes/own/style.css", "body { color: #123456; }\n")
    house.commit("A look of our own")
    stored(house.house, "HEAD:themes/own/style.css").unlink()
    monkeypatch.chdir(house.house)
    assert main(("publish", "--at", "HEAD", "--to", "elsewhere")) == 2
    assert "themes/own/style.css of " in capsys.readouterr().err


@pytest.mark.slow
@pytest.mark.parametrize(
    ("spoil", "sentence"),
    [
        (lambda own: (own / "HEAD").write_text("garbage"), "git cannot use the repository at "),
        (lambda own: (own / "config").write_text("[[["), "bad config line 1"),
        (
            lambda own: (shutil.rmtree(own), own.write_text("gitdir: /nowhere")),
            "git cannot use the repository at ",
        ),
        (lambda own: (own / "refs/heads/main").write_text("garbage"), "git cannot read the history here"),
        (shutil.rmtree, "is not in a git repository"),
    ],
)
def test_a_spoilt_repository_is_named_and_never_taken_for_none(
    tmp_path, monkeypatch, capsys, spoil, sentence
):
    house = books(tmp_path)
    spoil(house.house / ".git")
    monkeypatch.chdir(house.house)
    for command in (("compare",), ("publish", "--at", "HEAD"), ("served", "2026-12")):
        assert main(command) == 2
        assert sentence in capsys.readouterr().err
    assert main(("publish", "--quiet")) == 0


@pytest.mark.slow
@pytest.mark.parametrize(
    ("program", "sentence"),
    [
        ("#!/bin/sh\nexit 1\n", "git cannot use the repository"),
        ("#!/bin/sh\necho junk\n", 'git answers what cannot be understood: "junk"'),
        ("#!/bin/sh\npwd -P\n", "git"),
        ("no program at all", "git cannot be run on this machine"),
        ("#!/nowhere/sh\n", "git cannot be run on this machine"),
    ],
)
def test_a_git_that_is_none_is_told_in_a_sentence(tmp_path, monkeypatch, capsys, program, sentence):
    house = books(tmp_path / "bar")
    monkeypatch.chdir(house.house)
    (tmp_path / "git").write_text(program, encoding="utf-8")
    (tmp_path / "git").chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    for command in (("compare",), ("check", "--at", "HEAD"), ("drink", "marsh-sour", "--history")):
        assert main(command) == 2
        told = capsys.readouterr().err
        assert sentence in told
        assert "a fault of menugen's own" not in told
    assert main(("publish", "--quiet")) == 0
