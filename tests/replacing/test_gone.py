"""Folders of events that are gone: named, and removed only when asked, and only where they are ours."""

from pathlib import Path

import pytest

from menugen.replacing import (
    GoneFolder,
    KnownEvent,
    gone_folders,
    gone_text,
    is_same_house,
    misplaced,
    swallowed,
    unwise,
)
from menugen.writing.output import MARKER
from menugen.writing.output_folder import NotOurs, remove_published
from tests.replacing.menus import drink, menu, put

HERE = KnownEvent("supper", frozenset({"Small Supper"}), "2026-12-12", frozenset({"sour"}))


def found(
    to: Path, *events: KnownEvent, others: tuple[str, ...] = (), was: tuple[str, ...] = ()
) -> list[GoneFolder]:
    return list(gone_folders(to, events, others, ["The Test Bar", *was]))


def test_only_what_menugen_made_and_no_event_has_is_gone(tmp_path):
    put(tmp_path / "supper", menu())
    put(tmp_path / "broken", menu())
    put(tmp_path / ".hidden", menu())
    gone = put(tmp_path / "old", menu(event="Old Party", date="2026-05-01"))
    (tmp_path / "mine").mkdir()
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    (tmp_path / "link").symlink_to("old")
    assert found(tmp_path, HERE, others=("broken",)) == [GoneFolder(gone, "Old Party", "2026-05-01")]
    assert found(tmp_path / "nowhere") == []


def test_an_event_of_another_name_is_known_by_its_guests_name_or_by_its_day_and_drinks(tmp_path):
    put(tmp_path / "old", menu(drink("Fog"), event="small  SUPPER"))
    put(tmp_path / "older", menu(drink("Sour"), event="Another"))
    put(tmp_path / "oldest", menu(drink("Sour"), event="Another", date="2020-01-01"))
    assert [one.renamed for one in found(tmp_path, HERE)] == ["supper", "supper", ""]
    twin = KnownEvent("twin", HERE.names, "2027-01-01", frozenset())
    assert [one.renamed for one in found(tmp_path, HERE, twin)] == ["", "supper", ""]
    both = KnownEvent("both", HERE.names, "2026-12-12", frozenset({"fog"}))
    assert found(tmp_path, HERE, both)[0].renamed == "both"


@pytest.mark.parametrize(
    ("why", "make"),
    [
        ("holds notes.txt", lambda at: (at / "notes.txt").write_text("x", encoding="utf-8")),
        ("repository of its own", lambda at: (at / "site/.git").mkdir()),
        ("is damaged", lambda at: (at / "site/menu.json").write_bytes(b"{")),
        ("is missing", lambda at: (at / "site/menu.json").unlink()),
        ('is what "Other Bar" published', lambda at: put(at, menu(house="Other Bar"))),
    ],
)
def test_whatever_could_be_somebody_s_stays_and_says_why(tmp_path, why, make):
    make(put(tmp_path / "old", menu()))
    [one] = found(tmp_path, HERE)
    assert why in one.kept
    why = '1 folder of "Other Bar", left alone' if one.house else why
    assert why in " ".join(gone_text([one], "menugen publish --remove-gone").split())
    assert "--remove-gone" not in gone_text([one], "menugen publish --remove-gone")


def test_the_house_s_earlier_name_makes_its_folders_its_own(tmp_path):
    put(tmp_path / "old", menu(house="The First Bar"))
    assert found(tmp_path, HERE, was=("the first  bar",))[0].kept == ""
    assert is_same_house("Café", "CAFE\N{COMBINING ACUTE ACCENT}")
    assert not is_same_house("Cafe", "Café")


def test_a_folder_of_the_same_name_in_other_letters_is_the_event_s_own_where_the_disk_says_so(tmp_path):
    put(tmp_path / "Supper", menu())
    [one] = found(tmp_path, HERE)
    assert one.renamed == "supper"
    (tmp_path / "supper").symlink_to("Supper")  # as a disk that does not tell the letters apart has it
    assert found(tmp_path, HERE) == []


def test_what_a_killed_run_left_of_an_event_that_is_gone_is_found(tmp_path):
    for name in (
        ".old.new-0123abcd",
        ".old.gone-0123abcd",
        ".old.old-0123abcd",
        ".supper.new-0123abcd",
        ".photos",
    ):
        (tmp_path / name).mkdir()
    left = found(tmp_path, HERE)
    assert [(one.folder.name, one.slug, one.half) for one in left] == [
        (".old.gone-0123abcd", "old", True), (".old.new-0123abcd", "old", True),
    ]  # fmt: skip
    assert "left by a run that was stopped" in " ".join(gone_text(left, "x").split())


def test_a_removal_takes_one_folder_and_nothing_else(tmp_path):
    put(tmp_path / "old", menu())
    put(tmp_path / "supper", menu())
    (tmp_path / ".old.new-0123abcd").mkdir()
    assert remove_published(tmp_path, "old")
    assert not (tmp_path / ".old.new-0123abcd").exists()
    assert not remove_published(tmp_path, "old")
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_dir()) == ["supper"]
    (tmp_path / "mine").mkdir()
    (tmp_path / "link").symlink_to("supper")
    for name in ("mine", "link"):
        with pytest.raises(NotOurs):
            remove_published(tmp_path, name)
    assert (tmp_path / "supper" / MARKER).is_file()
    assert (tmp_path / "link").is_symlink()


def test_a_removal_that_is_killed_leaves_a_whole_folder_or_none(tmp_path, monkeypatch):
    put(tmp_path / "old", menu())
    monkeypatch.setattr("shutil.rmtree", lambda *_given, **_named: (_ for _ in ()).throw(KeyboardInterrupt))
    with pytest.raises(KeyboardInterrupt):
        remove_published(tmp_path, "old")
    assert not (tmp_path / "old").exists()
    [left] = found(tmp_path, HERE)
    assert left.half


def test_nothing_is_published_into_a_house_its_sources_or_a_published_folder(tmp_path):
    house = tmp_path / "bars/bar"
    (house / "specs").mkdir(parents=True)
    (house / "house.yaml").write_text("name: x\n", encoding="utf-8")
    (tmp_path / "shared").mkdir()
    sources = [house / "specs", house / "stock", tmp_path / "shared", tmp_path / "bars"]

    def why(to: Path) -> str:
        return misplaced(to, house, sources)

    assert "house's own folder" in why(house)
    assert "house's own folder" in why(house / "specs/..")
    assert "is read from" in why(house / "specs")
    assert "is read from" in why(house / "stock/deep/er")
    assert "is read from" in why(tmp_path / "shared")
    put(tmp_path / "menus/supper", menu())
    assert "what a publish made" in why(tmp_path / "menus/supper/site")
    for good in (house / "out", tmp_path / "menus", tmp_path / "bars", tmp_path / "new"):
        assert why(good) == ""
    assert "would be replaced" in swallowed(tmp_path / "bars", house, sources, ["one", "bar"])
    assert "would be replaced" in swallowed(tmp_path, house, sources, ["shared"])
    assert swallowed(tmp_path / "bars", house, sources, ["one"]) == ""
    assert "never all of" in unwise(tmp_path / "bars", house)
    assert unwise(house / "out", house) == unwise(tmp_path / "menus", house) == ""
