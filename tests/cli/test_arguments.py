"""Every argument of every command says something, or is wrong use; whatever it says, a person reads a sentence."""

import argparse
import os
import subprocess
import sys
from collections.abc import Iterator

import pytest

from menugen.cli import main
from menugen.cli.arguments import make_parser
from menugen.cli.typed import MEANT
from tests.cli.test_commands import REPOSITORY, write_house

NEEDED = {"drink": ["marsh-sour"], "served": ["2026-06"], "start": ["new"], "completion": ["bash"]}
"""What a command cannot do without, where another of its arguments is tried."""

HOSTILE = {
    "nothing": os.devnull,
    "file": "house.yaml",
    "pipe": "pipe",
    "circle": "circle",
    "long": "x" * 300,
    "deep": "x/" * 1500,
    "endless": "x" * 100_000,
    "dashes": "--",
    "option": "--upload-pack=touch pwned",
    "lines": "a\nb\x1b[31m",
    "range": "..",
    "pattern": "HEAD^{/x}",
}


PLACES = {
    "folder",
    "where",
    "to",
    "house",
    "spec",
    "event",
    "at",
    "house_or_old",
    "old",
    "new",
    "when",
    "merged",
    "was_in",
}
"""Arguments that lead to a file or a revision."""


def _commands() -> dict[str, argparse.ArgumentParser]:
    (commands,) = (one for one in make_parser()._actions if isinstance(one, argparse._SubParsersAction))
    return commands.choices


def _arguments() -> Iterator[tuple[str, argparse.Action]]:
    for command, parser in _commands().items():
        yield from ((command, one) for one in parser._actions if one.nargs != 0)


ARGUMENTS = [pytest.param(c, a, id=f"{c} {(a.option_strings or [a.dest])[0]}") for c, a in _arguments()]


def typed(command: str, action: argparse.Action, value: str) -> list[str]:
    if not action.option_strings:
        return [command, *{"old": ["."], "new": [".", "HEAD"]}.get(action.dest, []), value]
    together = {
        ("drink", "to"): ["--history"],
        ("tidy", "at"): ["--check"],
        ("compare", "merged"): ["HEAD"],
    }.get((command, action.dest), [])
    return [command, *NEEDED.get(command, []), *together, f"{action.option_strings[-1]}={value}"]


def run(argv: list[str]) -> int:
    try:
        return main(argv)
    except SystemExit as left:
        return int(left.code or 0)


@pytest.fixture(scope="module")
def bar(tmp_path_factory):
    folder = write_house(tmp_path_factory.mktemp("arguments") / "bar")
    os.mkfifo(folder / "pipe")
    (folder / "circle").symlink_to("circle")
    return folder


@pytest.fixture
def here(bar, tmp_path, monkeypatch):
    monkeypatch.chdir(bar)
    return bar


@pytest.mark.slow
@pytest.mark.parametrize("value", ["", "  ", "\t\n", "a\0b", "--"], ids=repr)
@pytest.mark.parametrize(("command", "action"), ARGUMENTS)
def test_an_argument_that_says_nothing_is_wrong_use(command, action, value, here, capsys):
    if value == "--" and not action.option_strings:
        pytest.skip("what ends the options is no argument")
    before = sorted(here.rglob("*"))
    assert run(typed(command, action, value)) == 2
    out, err = capsys.readouterr()
    assert not out
    if action.dest in MEANT:
        assert err.startswith(f"menugen: {MEANT[action.dest]}, and ")
        assert len(err.splitlines()) == 1
    assert sorted(here.rglob("*")) == before


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "action"), [one for one in ARGUMENTS if one.values[0] not in ("preview", "completion")]
)
def test_whatever_an_argument_says_a_person_reads_a_sentence(command, action, here, capsys):
    hostile = (
        HOSTILE if action.dest in PLACES else {name: HOSTILE[name] for name in ("dashes", "lines", "endless")}
    )
    for name, value in hostile.items():
        if (name == "dashes" and not action.option_strings) or (
            name in ("file", "range") and command == "publish"
        ):
            continue  # what ends the options is no argument; a house is, and takes long to publish
        assert run(typed(command, action, value)) in (0, 1, 2), name
        assert "fault of menugen's own" not in capsys.readouterr().err, name


@pytest.mark.slow
def test_a_name_that_is_no_text_is_printed_all_the_same(here):
    done = subprocess.run(
        [sys.executable, "-m", "menugen", "schema", "--to", b"caf\xe9"],
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "5 schemas in caf\ufffd\n".encode(), b"")


def test_each_argument_in_the_users_own_words_has_words_for_when_it_is_empty():
    own = {action.dest for _, action in _arguments() if action.choices is None and action.type is None}
    assert own == set(MEANT)


@pytest.mark.parametrize("command", ["publish", "tidy", "check"])
def test_an_argument_that_is_left_out_is_not_empty(command, here):
    assert main([command]) == 0
