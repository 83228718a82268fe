"""What a terminal would obey: in names and subjects it is anybody's text, and reaches no terminal as it is."""

import os
from contextlib import suppress

import pytest

from menugen.cli import main
from tests.houses import texts
from tests.revisions.repositories import Books, books

RED = "\x1b[31mred\n"


@pytest.fixture
def house(tmp_path, monkeypatch) -> Books:
    made = books(tmp_path)
    made.write(f"specs/{RED}.md", texts()["specs/marsh-sour.md"])
    made.write(f"stock/{RED}.yaml", "odd: 1\n")
    made.write(f"stock/un{RED}.yaml", "rum:\n  price:    1\n")
    made.commit(f"So {RED}")
    monkeypatch.chdir(made.house)
    return made


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        ("compare", "HEAD~1", "HEAD"),
        ("compare", "HEAD~1", "HEAD", "--markdown"),
        ("compare", "HEAD~1", "HEAD", "--json"),
        ("compare", RED),
        ("served", "HEAD"),
        ("drink", "marsh-sour", "--history"),
        ("check", "--at", RED),
        ("publish", RED),
        ("tidy", "--check"),
        ("tidy", RED),
        ("start", f"../{RED}"),
        ("publish", "--to", f"../{RED}"),
        ("drink", "marsh-sour", "--history", "--to", f"../{RED}"),
        ("schema", "--to", f"../{RED}"),
        ("check", ".", RED),
        ("schema", RED),
        (RED,),
    ],
)
def test_no_control_character_reaches_the_terminal(house, command, capsys):
    with suppress(SystemExit):  # as argparse leaves
        main(command)
    told = "".join(capsys.readouterr())
    assert told
    assert {letter for letter in told if not letter.isprintable()} <= {"\n"}


def test_a_new_line_in_a_name_begins_no_line_of_a_list(house, capsys):
    main(("compare", "HEAD~1", "HEAD", "--markdown"))
    told = capsys.readouterr().out
    assert "\u241b\\[31mred\u240a" in told
    assert all(line == "" or line[0] in "-#" or line[:3] == "  -" for line in told.splitlines()[4:-1])


def test_a_house_in_a_folder_whose_name_is_no_text_is_published(tmp_path, capsys):
    folder = os.fsdecode(os.fsencode(tmp_path) + b"/b\xe4r")
    try:
        os.mkdir(folder)  # noqa: PTH102  # the name is bytes
    except OSError:
        pytest.skip("this system takes text alone")
    house = books(tmp_path / folder)
    assert main(("publish", str(house.house), "--quiet")) == 0
    assert main(("publish", str(house.house), "--quiet", "--at", "HEAD")) == 0
