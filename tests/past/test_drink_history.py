"""One drink's life."""

import unicodedata

import pytest

from menugen.past import drink_history as life_module
from menugen.past.drink_history import NoSuchDrink, VersionKind, history_of
from menugen.past.served import served
from menugen.publishing import no_progress
from menugen.revisions import NoHistory
from tests.houses import texts
from tests.revisions.repositories import Books, books, git


def subjects(house: Books, **asked: str) -> list[str | None]:
    life = history_of(house.house, "marsh-sour", progress=no_progress, **asked)
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
    life = history_of(house.house, "tide-sour", progress=no_progress)
    assert [version.commit and version.commit.subject for version in life.versions] == [
        "As we began",
        "Stronger",
        "Renamed and sweeter",
    ]
    assert life.versions[-1].changes[0].subject.old_id == "marsh-sour"


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
    life = history_of(house.house, "marsh-sour", progress=no_progress)
    assert [version.commit and version.commit.subject for version in life.versions] == [
        "As we began",
        "Mended",
    ]
    (note,) = life.notes
    assert "could not be read" in note


def test_a_long_history_is_cut_and_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(life_module, "MOST_STATES", 3)
    house = books(tmp_path)
    for number in range(51, 57):
        house.edit("specs/marsh-sour.md", f"{number - 1} ml gin", f"{number} ml gin")
        house.commit(f"To {number}")
    told: list[int] = []
    life = history_of(house.house, "marsh-sour", progress=lambda what, done, total: told.append(total))
    assert len(life.versions) == 2  # the files as they lie are what was committed last
    assert life.versions[0].kind is VersionKind.CUT
    oldest = git(house.house, "rev-parse", "--short=7", "HEAD~2")
    (note,) = life.notes
    assert note.startswith("its spec, stock and settings changed 8 times: the newest 3 were read; ")
    assert note.endswith(f'"--at {oldest}" tells what was before')
    assert told == [3, 3, 3]


def test_nothing_is_known_where_nothing_was_committed(tmp_path):
    git(tmp_path, "init", "-q", ".")
    with pytest.raises(NoHistory, match="nothing has been committed"):
        history_of(tmp_path, "marsh-sour", progress=no_progress)


def told(house: Books, slug: str = "marsh-sour", **asked: str) -> list[tuple[VersionKind, str]]:
    life = history_of(house.house, slug, progress=no_progress, **asked)
    assert life.notes == ()
    return [(version.kind, version.commit.subject if version.commit else "now") for version in life.versions]


def renamed(
    house: Books, slug: str, name: str, new_slug: str, new_name: str, day: str = "2026-11-01"
) -> None:
    text = (house.house / f"specs/{slug}.md").read_text("utf-8")
    (house.house / f"specs/{slug}.md").unlink()
    house.write(f"specs/{new_slug}.md", text.replace(f"name: {name}", f"name: {new_name}"))
    house.edit("events/small-supper.yaml", slug, new_slug)
    house.commit(f"{new_name} from now on", day=day)


def test_what_was_before_a_drink_went_away_is_told_and_that_it_went(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.commit("Stronger")
    renamed(house, "marsh-sour", "Marsh Sour", "tide-sour", "Tide Sour")
    text = (house.house / "specs/tide-sour.md").read_text("utf-8")
    (house.house / "specs/tide-sour.md").unlink()
    house.commit("Nobody ordered it")
    house.edit_stock("garden gin", "abv: 40 %", "abv: 43 %")
    house.commit("While it was away")
    house.write("specs/tide-sour.md", text)
    house.commit("Asked for again")
    assert told(house, "tide-sour") == [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.CHANGED, "Stronger"),
        (VersionKind.CHANGED, "Tide Sour from now on"),
        (VersionKind.GONE, "Nobody ordered it"),
        (VersionKind.BACK, "Asked for again"),
    ]
    back = history_of(house.house, "tide-sour", progress=no_progress).versions[-1]
    assert "strength" in [one.called for one in back.changes]


def test_the_version_between_is_part_of_a_drink_that_came_back_under_its_first_file(tmp_path):
    house = books(tmp_path)
    first = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    renamed(house, "marsh-sour", "Marsh Sour", "tide-sour", "Tide Sour", day="2026-11-02")
    house.edit("specs/tide-sour.md", "50 ml", "30 ml")
    house.commit("Weaker", day="2026-11-03")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.commit("Almonds", day="2026-11-04")
    (house.house / "specs/tide-sour.md").unlink()
    house.commit("Away", day="2026-11-05")
    house.write("specs/marsh-sour.md", first)
    house.edit("events/small-supper.yaml", "tide-sour", "marsh-sour")
    house.commit("The old one", day="2026-11-06")
    between = [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.CHANGED, "Tide Sour from now on"),
        (VersionKind.CHANGED, "Weaker"),
        (VersionKind.CHANGED, "Almonds"),
    ]
    assert told(house) == [*between, (VersionKind.GONE, "Away"), (VersionKind.BACK, "The old one")]
    git(house.house, "reset", "-q", "--soft", "HEAD~2")
    assert told(house) == [*between, (VersionKind.CHANGED, "now")]
    house.commit("At once", day="2026-11-06")
    assert told(house) == [*between, (VersionKind.CHANGED, "At once")]
    back = history_of(house.house, "marsh-sour", progress=no_progress).versions[-1]
    assert ("gin 30 ml", "50 ml") in [(one.before, one.after) for one in back.changes]


def test_one_made_quite_otherwise_under_its_first_file_is_compared_with_the_one_between(tmp_path):
    house = books(tmp_path)
    renamed(house, "marsh-sour", "Marsh Sour", "tide-sour", "Tide Sour", day="2026-11-02")
    (house.house / "specs/tide-sour.md").unlink()
    other = (
        "---\nname: Marsh Sour\npour: [30 ml orgeat, 100 ml soda water]\nglass: sour\nmethod: build\n---\n"
    )
    house.write("specs/marsh-sour.md", other)
    house.edit("events/small-supper.yaml", "tide-sour", "marsh-sour")
    before = [(VersionKind.FIRST, "As we began"), (VersionKind.CHANGED, "Tide Sour from now on")]
    assert told(house) == [*before, (VersionKind.BACK, "now")]
    house.commit("Another", day="2026-11-06")
    assert told(house) == [*before, (VersionKind.BACK, "Another")]
    back = history_of(house.house, "marsh-sour", progress=no_progress).versions[-1]
    assert {one.fact for one in back.changes if one.is_allergen} == {"almond", "egg"}


def test_one_name_is_one_drink_whatever_its_file_and_its_pours(tmp_path):
    house = books(tmp_path)
    (house.house / "specs/marsh-sour.md").unlink()
    other = (
        "---\nname: Marsh Sour\npour: [30 ml orgeat, 100 ml soda water]\nglass: sour\nmethod: build\n---\n"
    )
    house.write("specs/marsh-cooler.md", other)
    house.edit("events/small-supper.yaml", "marsh-sour", "marsh-cooler")
    house.commit("Made otherwise")
    changed = (VersionKind.CHANGED, "Made otherwise")
    assert told(house, "marsh-cooler") == [(VersionKind.FIRST, "As we began"), changed]
    version = history_of(house.house, "marsh-cooler", progress=no_progress).versions[-1]
    assert {one.fact for one in version.changes if one.is_allergen} == {"almond", "egg"}


def test_a_drink_whose_file_a_new_one_has_goes_on_by_itself(tmp_path):
    house = books(tmp_path)
    first = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    renamed(house, "marsh-sour", "Marsh Sour", "tide-sour", "Tide Sour", day="2026-11-02")
    house.edit("specs/tide-sour.md", "50 ml", "30 ml")
    house.commit("Weaker", day="2026-11-03")
    house.write("specs/marsh-sour.md", first)
    house.commit("Both", day="2026-11-06")
    assert told(house) == [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.GONE, "Tide Sour from now on"),
        (VersionKind.BACK, "Both"),
    ]


def test_a_drink_that_is_gone_now_ends_with_that(tmp_path):
    house = books(tmp_path)
    (house.house / "specs/marsh-sour.md").unlink()
    assert told(house) == [(VersionKind.FIRST, "As we began"), (VersionKind.GONE, "now")]
    house.commit("No more sours")
    assert told(house) == [(VersionKind.FIRST, "As we began"), (VersionKind.GONE, "No more sours")]


def test_the_old_name_says_under_which_it_goes_on(tmp_path):
    house = books(tmp_path)
    renamed(house, "marsh-sour", "Marsh Sour", "fen-sour", "Fen Sour")
    last = history_of(house.house, "marsh-sour", progress=no_progress).versions[-1]
    assert last.kind is VersionKind.GONE
    assert last.becomes is not None
    assert (last.becomes.slug, last.becomes.name) == ("fen-sour", "Fen Sour")


def test_a_rename_that_is_not_committed_yet_is_followed_too(tmp_path):
    house = books(tmp_path)
    (house.house / "specs/marsh-sour.md").rename(house.house / "specs/fen-sour.md")
    assert told(house, "fen-sour") == [(VersionKind.FIRST, "As we began"), (VersionKind.CHANGED, "now")]


def test_a_merge_names_what_it_brought_to_the_drink(tmp_path):
    house = books(tmp_path)
    git(house.house, "checkout", "-q", "-b", "side")
    house.edit("specs/marsh-sour.md", "50 ml", "70 ml")
    house.commit("Far too strong", day="2026-11-02")
    house.edit_stock("orgeat", "8.00", "9.00")
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    house.commit("Better", day="2026-11-03")
    house.write("notes.txt", "nothing")
    house.commit("No drink at all", day="2026-11-03")
    git(house.house, "checkout", "-q", "main")
    git(house.house, "merge", "-q", "--no-ff", "-m", "Take the trial", "side", day="2026-11-04")
    version = history_of(house.house, "marsh-sour", progress=no_progress).versions[-1]
    assert [commit.subject for commit in version.merged] == ["Far too strong", "Better"]


def test_a_file_name_in_another_form_of_its_letters_is_found(tmp_path):
    sour = texts()["specs/marsh-sour.md"]
    house = books(tmp_path, texts(**{unicodedata.normalize("NFD", "specs/rosé.md"): sour}))
    house.edit(unicodedata.normalize("NFD", "specs/rosé.md"), "50 ml", "55 ml")
    house.commit("Stronger")
    assert told(house, unicodedata.normalize("NFC", "rosé")) == [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.CHANGED, "Stronger"),
    ]


def test_stock_that_is_a_link_out_of_the_house_counts_from_its_commit(tmp_path):
    house = books(tmp_path, {f"bar/{path}": text for path, text in texts().items()})
    (tmp_path / "shared.yaml").write_bytes((tmp_path / "bar/stock/all.yaml").read_bytes())
    (tmp_path / "bar/stock/all.yaml").unlink()
    (tmp_path / "bar/stock/all.yaml").symlink_to("../../shared.yaml")
    house.commit("Stock for two bars")
    house.edit("shared.yaml", "abv: 40 %", "abv: 43 %")
    house.commit("Another label")
    assert told(Books(tmp_path / "bar")) == [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.CHANGED, "Another label"),
    ]


def test_an_event_nobody_knows_is_refused_and_one_of_the_past_is_not(tmp_path):
    house = books(tmp_path)
    with pytest.raises(NoHistory, match='did you mean "small-supper"'):
        history_of(house.house, "marsh-sour", event="smal-supper", progress=no_progress)
    git(house.house, "rm", "-q", "events/small-supper.yaml")
    house.commit("Over")
    assert told(house, event="small-supper") == [
        (VersionKind.FIRST, "As we began"),
        (VersionKind.CHANGED, "Over"),
    ]


def test_with_an_event_its_price_and_its_menu_are_told(tmp_path):
    house = books(tmp_path)
    house.edit("events/small-supper.yaml", "9.50", "9.75")
    house.commit("Dearer")
    house.edit("events/small-supper.yaml", "menu:", "off: [marsh-sour]\nmenu:")
    house.commit("No lemons")
    house.edit("events/small-supper.yaml", "9.75", "0")
    house.commit("Free")
    life = history_of(house.house, "marsh-sour", event="small-supper", progress=no_progress)
    changes = [one for version in life.versions for one in version.changes]
    assert [(one.called, one.before, one.after) for one in changes] == [
        ("price", "9.50 GBP", "9.75 GBP"),
        ("on the menu", "yes", "sold out"),
        ("price", "9.75 GBP", "free"),
    ]
    assert told(house) == [(VersionKind.FIRST, "As we began")]


def test_what_moved_while_a_drink_could_not_be_worked_out_is_told_afterwards(tmp_path):
    house = books(tmp_path)
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml gyn")
    house.commit("A slip")
    house.edit_stock("garden gin", "abv: 40 %", "abv: 43 %")
    house.commit("Another label")
    house.edit("specs/marsh-sour.md", "50 ml gyn", "50 ml gin")
    house.commit("Mended")
    first, slip, mended = history_of(house.house, "marsh-sour", progress=no_progress).versions
    assert first.figures is not None
    assert (slip.figures, slip.commit and slip.commit.subject) == (None, "A slip")
    assert "gyn" in slip.fault
    assert "strength" in [one.called for one in mended.changes]


def test_an_event_that_could_not_be_read_is_not_taken_for_one_without_the_drink(tmp_path):
    house = books(tmp_path)
    house.edit("events/small-supper.yaml", "date:", "dat:")
    house.commit("A slip")
    house.edit("events/small-supper.yaml", "dat:", "date:")
    house.commit("Mended")
    life = history_of(house.house, "marsh-sour", event="small-supper", progress=no_progress)
    assert [version.kind for version in life.versions] == [VersionKind.FIRST]
    (note,) = life.notes
    assert "could not be read" in note


def test_a_drink_that_never_was_is_refused_in_a_clone_of_the_newest_commits_too(tmp_path):
    house = books(tmp_path / "whole")
    house.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    house.commit("Stronger")
    git(tmp_path, "clone", "-q", "--depth", "1", f"file://{house.house}", "few")
    with pytest.raises(NoSuchDrink):
        history_of(tmp_path / "few", "fog-bell", progress=no_progress)
    assert (
        "only the newest commits" in history_of(tmp_path / "few", "marsh-sour", progress=no_progress).notes[0]
    )


def test_folders_outside_the_repository_stop_nothing(tmp_path):
    (tmp_path / "library").mkdir()
    house = books(tmp_path / "bar")
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    (tmp_path / "library/fog-bell.md").write_text(sour.replace("Marsh Sour", "Fog Bell"), "utf-8")
    (tmp_path / "elsewhere").mkdir()
    house.edit("house.yaml", "region:", "specs: [specs, ../library]\nevents: ../elsewhere\nregion:")
    house.commit("A library")
    renamed_here = (house.house / "specs/marsh-sour.md").rename(house.house / "specs/tide-sour.md")
    house.commit("Renamed")
    assert [
        version.kind for version in history_of(house.house, renamed_here.stem, progress=no_progress).versions
    ] == [
        VersionKind.FIRST,
        VersionKind.CHANGED,
    ]
    with pytest.raises(NoHistory, match="no event called"):
        history_of(house.house, "tide-sour", event="supper", progress=no_progress)
    assert served(house.house, "2026-12").events == ()
