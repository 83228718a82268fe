"""menugen drink --history, as it is typed, and the page it writes."""

import json
import re

import pytest

from menugen.writing.output_folder import MARKER
from tests.cli.inside import menugen
from tests.revisions.repositories import Books, books, git


@pytest.fixture
def house(tmp_path) -> Books:
    made = books(tmp_path / "bar")
    made.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    made.edit_stock("garden gin", "contains: none", "contains: [almond]")
    made.commit("<b>Stronger</b> & nuttier", day="2026-11-15")
    return made


@pytest.mark.parametrize(
    "typed",
    [["--set", "gin=20 ml"], ["--aim", "abv=12 %"], ["--by", "gin"], ["--step", "5 ml"], ["--working"]],
)
def test_what_is_about_the_drink_as_it_is_does_not_go_with_its_history(house, typed):
    done = menugen("drink", "marsh-sour", "--history", *typed, cwd=house.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert f"{typed[0]} works on the drink as it is" in done.stderr


def test_a_name_that_was_meant_is_proposed(house):
    done = menugen("drink", "Marsh Sour", "--history", cwd=house.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert 'did you mean "marsh-sour"?' in done.stderr
    done = menugen("drink", "marsh-sour", "--history", "--event", "small-super", cwd=house.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert 'did you mean "small-supper"?' in done.stderr


def test_a_folder_for_the_page_needs_a_history(house):
    assert menugen("drink", "marsh-sour", "--to", "papers", cwd=house.house).returncode == 2
    both = menugen("drink", "marsh-sour", "--history", "--json", "--to", "papers", cwd=house.house)
    assert both.returncode == 2
    assert not (house.house / "papers").exists()


def test_turns_and_merges_are_told(house):
    git(house.house, "checkout", "-q", "-b", "side")
    house.edit("specs/marsh-sour.md", "60 ml", "55 ml")
    house.commit("Milder", day="2026-11-16")
    git(house.house, "checkout", "-q", "main")
    git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-11-17")
    text = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    (house.house / "specs/marsh-sour.md").unlink()
    house.commit("Away", day="2026-11-18")
    house.write("specs/marsh-sour.md", text)
    house.commit("Back", day="2026-11-19")
    said = menugen("drink", "marsh-sour", "--history", cwd=house.house).stdout
    assert re.search(r"merged here\n    2026-11-16 [0-9a-f]{7} Milder\n", said)
    assert "Away\n  gone from the house\n" in said
    assert "Back\n  there again, as it was\n" in said
    told = json.loads(menugen("drink", "marsh-sour", "--history", "--json", cwd=house.house).stdout)[
        "versions"
    ]
    assert [one["turn"] for one in told] == ["first", "changed", "changed", "gone", "back"]
    assert [one["subject"] for one in told[2]["merged"]] == ["Milder"]


def test_a_page_of_it_is_written_for_the_bar_alone(house, tmp_path):
    done = menugen("drink", "marsh-sour", "--history", "--to", str(tmp_path / "papers"), cwd=house.house)
    assert (done.returncode, done.stderr) == (0, "")
    page = tmp_path / "papers/bar/marsh-sour.html"
    assert str(page) in done.stdout
    assert "private" in done.stdout
    text = page.read_text("utf-8")
    assert "Private: for the bar, not for the website" in text
    assert "&lt;b&gt;Stronger&lt;/b&gt; &amp; nuttier" in text
    assert "<b>" not in text
    assert "almonds: was not named, now CONTAINS" in text
    assert text.index("nuttier") < text.index("As we began")
    assert text.count("<svg ") == 2
    assert not re.search(r"(src|href)=|@import|url\(", text)
    again = menugen("drink", "marsh-sour", "--history", "--to", str(tmp_path / "papers"), cwd=house.house)
    assert again.returncode == 0
    assert page.read_text("utf-8") == text
    assert [path.name for path in page.parent.iterdir()] == ["marsh-sour.html"]


def test_a_page_never_goes_where_guests_could_find_it(house, tmp_path):
    published = tmp_path / "out/supper"
    (published / "site").mkdir(parents=True)
    (published / MARKER).write_text("made by a publish")
    done = menugen("drink", "marsh-sour", "--history", "--to", str(published), cwd=house.house)
    assert done.returncode == 2
    assert "name another folder" in done.stderr
    (published / MARKER).unlink()
    done = menugen("drink", "marsh-sour", "--history", "--to", str(published / "site"), cwd=house.house)
    assert done.returncode == 2
    assert "private" in done.stderr
    assert list((published / "site").iterdir()) == []


def test_a_disk_that_refuses_is_told_without_a_traceback(house, tmp_path):
    (tmp_path / "papers").write_text("a file")
    done = menugen("drink", "marsh-sour", "--history", "--to", str(tmp_path / "papers"), cwd=house.house)
    assert done.returncode == 2
    assert "cannot be written" in done.stderr
    assert "Traceback" not in done.stderr
