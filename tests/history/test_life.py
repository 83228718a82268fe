"""One drink's life, and the chart of it."""

from xml.etree import ElementTree

import pytest

from menugen.history import NoHistory, chart_svg, chart_text, life_of
from menugen.history import life as life_module
from menugen.publishing import no_progress
from tests.history.repositories import Books, books, git


def subjects(house: Books, **asked: str) -> list[str | None]:
    life = life_of(house.house, "marsh-sour", progress=no_progress, **asked)
    return [version.commit.subject if version.commit else None for version in life.versions]


def test_only_versions_that_changed_a_fact_are_told(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    house.commit("A word")
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.commit("Stronger")
    house.edit("specs/marsh-sour.md", "55 ml", "50 ml")
    house.commit("And back")
    house.edit_stock("orgeat", "8.00", "9.00")
    house.commit("Not in it")
    house.edit_stock("lemon juice", "price: 5.00", "price: 6.00")
    assert subjects(house) == ["As we began", "Stronger", "And back", None]
    assert subjects(house, until="HEAD~2") == ["As we began", "Stronger"]


def test_a_rename_is_followed_back(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.commit("Stronger")
    text = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/tide-sour.md", text.replace("15 ml sugar", "20 ml sugar"))
    (house.house / "specs/marsh-sour.md").unlink()
    house.edit("events/small-supper.yaml", "marsh-sour", "tide-sour")
    house.commit("Renamed and sweeter")
    life = life_of(house.house, "tide-sour", progress=no_progress)
    assert [version.commit and version.commit.subject for version in life.versions] == [
        "As we began",
        "Stronger",
        "Renamed and sweeter",
    ]
    assert life.versions[-1].moved is not None
    assert life.versions[-1].moved.old_slug == "marsh-sour"


def test_a_branch_counts_from_the_day_it_was_merged(tmp_path):
    house = books(tmp_path)
    git(house.house, "checkout", "-q", "-b", "try")
    house.edit("specs/marsh-sour.md", "50 ml", "70 ml")
    house.commit("Far too strong", day="2026-11-02")
    house.edit("specs/marsh-sour.md", "70 ml", "55 ml")
    house.commit("Better", day="2026-11-03")
    git(house.house, "checkout", "-q", "main")
    git(house.house, "merge", "-q", "--no-ff", "-m", "Take the trial", "try", day="2026-11-04")
    assert subjects(house) == ["As we began", "Take the trial"]


def test_an_events_bottle_counts_where_the_event_is_named(tmp_path):
    house = books(tmp_path)
    house.edit("events/small-supper.yaml", "menu:", "bottles:\n  egg white: aquafaba\nmenu:")
    house.commit("No eggs tonight")
    assert subjects(house) == ["As we began"]
    assert subjects(house, event="small-supper") == ["As we began", "No eggs tonight"]


def test_a_version_that_cannot_be_read_is_noted_and_passed_over(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "glass:", "glas:")
    house.commit("A slip")
    house.edit("specs/marsh-sour.md", "glas:", "glass:")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    house.commit("Mended")
    life = life_of(house.house, "marsh-sour", progress=no_progress)
    assert [version.commit and version.commit.subject for version in life.versions] == [
        "As we began",
        "Mended",
    ]
    (note,) = life.notes
    assert "could not be read" in note


def test_a_long_history_is_cut_and_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(life_module, "MOST_VERSIONS", 3)
    house = books(tmp_path)
    for number in range(51, 57):
        house.edit("specs/marsh-sour.md", f"{number - 1} ml gin", f"{number} ml gin")
        house.commit(f"To {number}")
    told: list[int] = []
    life = life_of(house.house, "marsh-sour", progress=lambda what, done, total: told.append(total))
    assert len(life.versions) == 2  # the files as they lie are what was committed last
    assert life.notes == ("only the newest 3 of 8 versions were read",)
    assert told == [3, 3, 3]


def test_nothing_is_known_where_nothing_was_committed(tmp_path):
    git(tmp_path, "init", "-q", ".")
    with pytest.raises(NoHistory, match="nothing has been committed"):
        life_of(tmp_path, "marsh-sour", progress=no_progress)


def test_the_chart_is_drawn_from_what_was_worked_out(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml", "60 ml")
    house.commit("Stronger", day="2026-11-09")
    life = life_of(house.house, "marsh-sour", progress=no_progress)
    svg = ElementTree.fromstring(chart_svg(life))  # noqa: S314  # our own text
    space = "{http://www.w3.org/2000/svg}"
    assert len(svg.findall(f"{space}polyline")) == 3
    assert len(svg.findall(f"{space}circle")) == 6
    words = [element.text for element in svg.iter() if element.text and element.text.strip()]
    first, second = (version.figures for version in life.versions)
    assert first is not None
    assert second is not None
    assert f"{first.strength_percent:.1f} %" in words
    assert f"{second.strength_percent:.1f} %" in words
    assert "2026-11-09" in words
    lines = chart_text(life).splitlines()
    assert len(lines) == 3
    assert lines[2].count("#") > lines[1].count("#") - 12


def test_a_name_cannot_break_out_of_the_chart(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "name: Marsh Sour", 'name: "<script>Sour & Co"')
    house.commit("A name")
    svg = chart_svg(life_of(house.house, "marsh-sour", progress=no_progress))
    assert "<script>" not in svg
    ElementTree.fromstring(svg)  # noqa: S314  # our own text


def test_what_cannot_be_worked_out_is_not_drawn_as_nothing(tmp_path):
    house = books(tmp_path)
    house.edit("stock/all.yaml", "  price: 14.00\n", "")
    house.commit("No price")
    life = life_of(house.house, "marsh-sour", progress=no_progress)
    assert "not known" in chart_text(life)
    assert life.versions[-1].figures is not None
    assert life.versions[-1].figures.cost is None
