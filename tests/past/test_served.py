"""What was served then: the menus of an evening, of the right time, with none left out silently."""

from pathlib import Path

import pytest

from menugen.past.menu_stages import EventServed
from menugen.past.served import served
from menugen.revisions import NoHistory
from tests.houses import EVENT, texts
from tests.revisions.repositories import Books, books, git


def event(name: str, day: str, hours: str = "19:00-00:30") -> str:
    text = EVENT.replace("Small Supper", name).replace("2026-12-12", day).lstrip("\n")
    return text.replace("menu:", f"hours: {hours}\nmenu:") if hours else text


def house_of(folder: Path, first: str = "2026-06-01", **events: str) -> Books:
    files = texts(**{f"events/{slug}.yaml": text for slug, text in events.items()})
    del files["events/small-supper.yaml"]
    made = books(folder, files)
    git(folder, "commit", "-q", "--amend", "-m", "As we began", day=first)
    return made


def pour(house: Books, ml: int, at: str, subject: str = "") -> str:
    """Commit another measure of gin, and return the commit."""
    text = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    before = next(line for line in text.splitlines() if line.endswith("ml gin"))
    house.edit("specs/marsh-sour.md", before, f"  - {ml} ml gin")
    return house.commit(subject or f"To {ml}", day=at)


def menus(one: EventServed) -> list[tuple[str, str]]:
    return [(f"{stage.since:%d %H:%M}", stage.commit.subject) for stage in one.stages]


def only(house: Books, when: str) -> EventServed:
    found = served(house.house, when)
    assert found.notes == ()
    (one,) = found.events
    return one


class TestTheTime:
    def test_what_was_committed_after_an_event_past_midnight_was_not_served(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        pour(house, 51, "2026-06-20T21:15:00+0100")
        pour(house, 52, "2026-06-21T00:30:00+0100")
        pour(house, 53, "2026-06-21T00:31:00+0100")
        pour(house, 54, "2026-06-21T14:00:00+0100")
        assert menus(only(house, "2026-06-20")) == [
            ("20 19:00", "As we began"),
            ("20 21:15", "To 51"),
            ("21 00:30", "To 52"),
        ]

    def test_nor_what_was_committed_later_that_day(self, tmp_path):
        house = house_of(tmp_path, fete=event("Fete", "2026-06-13", "12:00-18:00"))
        pour(house, 51, "2026-06-13T11:00:00+0100")
        pour(house, 52, "2026-06-13T20:00:00+0100")
        assert menus(only(house, "2026-06-13")) == [("13 12:00", "To 51")]

    def test_without_hours_the_whole_day_counts(self, tmp_path):
        house = house_of(tmp_path, fete=event("Fete", "2026-06-13", ""))
        pour(house, 51, "2026-06-13T23:59:00+0100")
        pour(house, 52, "2026-06-14T00:01:00+0100")
        assert menus(only(house, "2026-06-13")) == [("13 00:00", "As we began"), ("13 23:59", "To 51")]

    def test_the_clock_is_that_on_the_committers_wall(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        pour(house, 51, "2026-06-20T21:15:00-0700")
        pour(house, 52, "2026-06-21T00:31:00+1200")
        assert menus(only(house, "2026-06-20"))[-1] == ("20 21:15", "To 51")

    def test_hours_written_anew_during_the_event_count(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20", "19:00-22:00"))
        house.write("events/barn.yaml", event("Barn", "2026-06-20", "19:00-02:00"))
        house.commit("Open longer", day="2026-06-20T21:00:00+0100")
        pour(house, 51, "2026-06-20T23:00:00+0100")
        assert menus(only(house, "2026-06-20"))[-1] == ("20 23:00", "To 51")

    def test_what_changes_nothing_of_the_event_is_no_menu_of_its_own(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.write("specs/other.md", (house.house / "specs/marsh-sour.md").read_text("utf-8"))
        house.commit("Another drink", day="2026-06-20T21:15:00+0100")
        assert menus(only(house, "2026-06-20")) == [("20 19:00", "As we began")]

    def test_clocks_that_do_not_run_in_order_are_noted(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        pour(house, 51, "2026-08-01")
        pour(house, 52, "2026-06-20T20:00:00+0100")
        found = served(house.house, "2026-06-20")
        assert menus(found.events[0])[-1] == ("20 20:00", "To 52")
        (note,) = found.notes
        assert "clocks was wrong" in note


class TestEveryEvent:
    def test_one_whose_file_was_taken_away_or_renamed_later_is_told(self, tmp_path):
        house = house_of(tmp_path, small=event("Small", "2026-06-14"), moved=event("River", "2026-06-25"))
        git(house.house, "mv", "events/moved.yaml", "events/riverside.yaml")
        house.commit("Renamed", day="2026-06-27")
        git(house.house, "rm", "-q", "events/small.yaml")
        house.commit("Cleared away", day="2026-06-28")
        found = served(house.house, "2026-06")
        assert [one.last.facts.event.slug for one in found.events] == ["small", "moved"]
        assert found.notes == ()
        (one,) = served(house.house, "2026-06", "riverside").events
        assert one.last.facts.event.slug == "moved"

    def test_one_renamed_while_it_was_on_is_one_event(self, tmp_path):
        house = house_of(tmp_path, moved=event("River", "2026-06-25"))
        git(house.house, "mv", "events/moved.yaml", "events/riverside.yaml")
        house.commit("Renamed", day="2026-06-25T20:00:00+0100")
        pour(house, 51, "2026-06-25T21:00:00+0100")
        one = only(house, "2026-06")
        assert one.last.commit.subject == "To 51"
        assert one.stages[0].commit.subject == "As we began"

    def test_two_of_one_name_on_one_day_are_two(self, tmp_path):
        house = house_of(tmp_path, a=event("Wedding", "2026-06-20"), b=event("Wedding", "2026-06-20"))
        assert len(served(house.house, "2026-06").events) == 2

    def test_one_that_was_put_off_or_called_off_or_written_down_too_late_is_noted(self, tmp_path):
        house = house_of(tmp_path, off=event("Called Off", "2026-06-14"), late=event("Put Off", "2026-06-15"))
        git(house.house, "rm", "-q", "events/off.yaml")
        house.edit("events/late.yaml", "2026-06-15", "2026-07-15")
        changed = house.commit("Rain", day="2026-06-10")[:7]
        house.write("events/after.yaml", event("Written Later", "2026-06-16"))
        written = house.commit("For the books", day="2026-06-20")[:7]
        called_off = f"it was taken out of the house before it was over, in {changed} (2026-06-10)"
        too_late = f"it was first committed after it was over, in {written} (2026-06-20)"
        found = served(house.house, "2026-06")
        assert found.events == ()
        assert sorted(found.notes) == [
            f"Called Off, 2026-06-14, is not told: {called_off}",
            f"Put Off, 2026-06-15, is not told: by then its day was 2026-07-15 ({changed})",
            f"Written Later, 2026-06-16, is not told: {too_late}; what was committed then: menugen served {written}",
        ]


class TestWhatCouldNotBePublished:
    def test_the_menu_before_it_stayed(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        pour(house, 51, "2026-06-20T20:00:00+0100")
        house.edit("specs/marsh-sour.md", "51 ml gin", "52 ml gyn")
        house.commit("A slip", day="2026-06-20T21:00:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began"), ("20 20:00", "To 51")]
        (unpublishable,) = one.unpublishable
        assert unpublishable.commit.subject == "A slip"
        assert "gyn" in unpublishable.problem

    def test_one_from_before_the_event_is_gone_past(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.edit("specs/marsh-sour.md", "50 ml gin", "52 ml gyn")
        house.commit("A slip", day="2026-06-20T12:00:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began")]
        assert [unpublishable.commit.subject for unpublishable in one.unpublishable] == ["A slip"]

    def test_where_none_was_sound_that_is_said_of_what_is_told(self, tmp_path):
        house = house_of(
            tmp_path, barn=event("Barn", "2026-06-20").replace("- marsh-sour: 9.50", "- nothing")
        )
        one = only(house, "2026-06-20")
        assert one.last.errors

    def test_a_fault_in_a_drink_on_no_menu_is_none_of_the_events(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.write("specs/other.md", "---\nnam: Other\n---\n")
        house.commit("Half a drink", day="2026-06-02")
        one = only(house, "2026-06-20")
        assert (one.unpublishable, one.last.errors) == ((), ())


class TestBranches:
    def test_a_commit_of_the_evening_merged_later_is_noted_with_its_allergens(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
        house.commit("From a carton", day="2026-06-20T21:15:00+0100")
        git(house.house, "checkout", "-q", "main")
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-22")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began")]
        (branch,) = one.on_branches
        assert (branch.commit.subject, branch.merge.subject) == ("From a carton", "Take it")
        assert [one.fact for one in branch.changes if one.kind == "allergen"] == ["milk"]

    def test_one_merged_by_then_is_told_as_a_menu(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        pour(house, 51, "2026-06-20T21:15:00+0100")
        git(house.house, "checkout", "-q", "main")
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-20T21:30:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began"), ("20 21:30", "Take it")]
        assert one.on_branches == ()


def test_a_revision_is_told_as_it_is(tmp_path):
    house = house_of(tmp_path, barn=event("Barn", "2026-06-20"), other=event("Other", "2026-07-01"))
    late = pour(house, 51, "2026-08-01")
    found = served(house.house, late)
    assert [one.last.commit.revision for one in found.events] == [late, late]
    with pytest.raises(NoHistory, match='did you mean "barn"'):
        served(house.house, late, "barm")
