"""A house on a disk that takes names for one that differ in case alone, as the usual ones of macOS and Windows do."""

from pathlib import Path

import pytest

from menugen.cli import main
from menugen.disk import is_same, is_within
from tests.cli.test_commands import write_house
from tests.fuzz.trouble import blind_to_case, whole, without_waiting


@pytest.fixture
def bar(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with blind_to_case(tmp_path), without_waiting():
        yield write_house(tmp_path / "Bar")


def names(folder: str) -> list[str]:
    return sorted(path.name for path in Path(folder).iterdir() if path.name != ".photos")


def test_the_disk_is_what_it_says(bar):
    assert Path("bar/HOUSE.yaml").read_bytes() == Path("Bar/house.yaml").read_bytes()
    assert names(".") == ["Bar"]
    (bar / "Caf\N{LATIN SMALL LETTER E WITH ACUTE}").touch()
    assert (bar / "CAFE\N{COMBINING ACUTE ACCENT}").exists()


@pytest.mark.slow
@pytest.mark.parametrize("exchange", [True, False])
def test_an_event_in_other_letters_keeps_its_output(bar, capsys, monkeypatch, exchange):
    if not exchange:
        monkeypatch.setattr("menugen.disk.system._exchanged", lambda _one, _other: False)
    assert main(["publish", "Bar", "--quiet"]) == 0
    published = whole(bar / "out/small-supper/site")
    (bar / "events/small-supper.yaml").rename(bar / "events/Small-Supper.yaml")
    for _ in range(2):
        assert main(["publish", "bar", "--remove-gone"]) == 0
        told = capsys.readouterr()
        assert "gone" not in told.err
        assert "removed" not in told.out
        assert "no allergen or caution gained or lost" in told.out
        assert [name.casefold() for name in names("Bar/out")] == ["small-supper"]
        assert whole(bar / "out/small-supper/site").keys() == published.keys()


@pytest.mark.slow
@pytest.mark.parametrize("to", ["bar/SPECS", "BAR/Stock/new", "Bar/EVENTS", "bar", "bar/out/SMALL-SUPPER"])
def test_a_publish_into_the_house_itself_is_wrong_use_in_any_letters(bar, capsys, to):
    assert main(["publish", "Bar", "--quiet"]) == 0
    before = whole(bar)
    assert main(["publish", "Bar", "--to", to]) == 2
    assert "name another" in capsys.readouterr().err
    assert whole(bar) == before


def test_every_command_that_writes_takes_the_house_in_any_letters(bar, capsys):
    assert main(["tidy", "BAR", "--quiet"]) == 0
    spec = bar / "specs/marsh-sour.md"
    tidied = spec.read_text("utf-8")
    spec.write_text(tidied.replace("glass: ", "glass:   "), encoding="utf-8")
    assert main(["tidy", "bar/SPECS"]) == 0
    assert spec.read_text("utf-8") == tidied
    assert main(["start", "BAR"]) == 2
    assert "not empty" in capsys.readouterr().err
    assert main(["start", "BAR/new"]) == 2
    assert main(["publish", "BAR", "--to", "bar/OUT", "--quiet"]) == 0
    assert main(["publish", "bar", "--quiet"]) == 0
    assert names("bar/out") == ["small-supper"]


@pytest.mark.parametrize("twin", ["Marsh-Sour.md", "MARSH-SOUR.MD"])
def test_twins_are_refused_where_the_disk_has_both(tmp_path, capsys, twin):
    """Or else the house could not be taken to such a disk."""
    bar = write_house(tmp_path / "bar")
    spec = bar / "specs/marsh-sour.md"
    (bar / "specs" / twin).write_bytes(spec.read_bytes())
    assert main(["check", str(bar)]) == 1
    assert "two-specs-one-slug" in capsys.readouterr().err


def test_where_the_disk_tells_them_apart_two_names_are_two_folders(tmp_path):
    for name in ("supper", "Supper"):
        (tmp_path / name / "x").mkdir(parents=True)
    assert not is_same(tmp_path / "supper", tmp_path / "Supper")
    assert not is_within(tmp_path / "Supper/x", tmp_path / "supper")
    assert is_within(tmp_path / "Supper/x", tmp_path / "Supper")
    assert not is_same(tmp_path / "supper", tmp_path / "SUPPER")
