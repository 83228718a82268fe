"""menugen help: every key of a kind of file."""

from pathlib import Path

import pytest

from menugen.cli import help as help_command
from menugen.cli.arguments import KINDS
from menugen.reading import json_schemas
from tests.cli.inside import menugen


def test_the_kinds_of_file_are_listed(tmp_path: Path) -> None:
    done = menugen("help", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert [line.split()[0] for line in done.stdout.splitlines()[: len(KINDS)]] == list(KINDS)
    assert set(help_command._FILES) == set(KINDS) == {*json_schemas(), "theme"}


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_is_listed_in_eighty_columns(kind: str, tmp_path: Path) -> None:
    done = menugen("help", kind, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert all(line == line.rstrip() for line in lines)
    schema = help_command._schema(kind)
    first = done.stdout.partition("\nIn ")[0].splitlines()
    listed = [line[2:20].rstrip() for line in first if line.startswith("  ") and line[2:3].strip()]
    assert listed == list(schema["properties"])


def test_a_key_has_its_meaning_whether_it_must_be_there_its_words_and_an_example(tmp_path: Path) -> None:
    told = " ".join(menugen("help", "spec", cwd=tmp_path).stdout.split())
    assert "glass A glass of the house or a usual one. It must be there. Example: coupe" in told
    assert "strain How it leaves the tin. One of: fine, single, dump. Example: fine" in told
    assert "Example: [50 ml gin, 25 ml lemon juice]" in told
    stock = menugen("help", "stock", cwd=tmp_path).stdout
    assert 'Example: "#8a4b2a"' in stock  # without the quotes it is a comment
    assert "One of: yes, no" not in menugen("help", "event", cwd=tmp_path).stdout


def test_keys_inside_a_key_are_listed_once_under_every_key_they_stand_in(tmp_path: Path) -> None:
    told = menugen("help", "spec", cwd=tmp_path).stdout
    assert "In pour, top, float, rinse, inside, rim, garnish, swap: A line with keys of its" in told
    assert told.count("What it does in the drink") == 1
    event = menugen("help", "event", cwd=tmp_path).stdout
    assert "\nIn menu: A heading on the menu with its drinks.\n" in event
    assert "\nIn menu: translations: The section in one more language.\n" in event


def test_a_kind_that_is_none_is_refused_with_the_kinds(tmp_path: Path) -> None:
    done = menugen("help", "drinks", cwd=tmp_path)
    assert done.returncode == 2
    assert "theme" in done.stderr
