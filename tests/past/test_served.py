"""What was served then: the menus of an evening, of the right time, with none left out silently."""

from pathlib import Path

import pytest

from menugen.drink_facts import words_of
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
        one = only(house, "2026-06-20")
        assert menus(one)[-1] == ("20 20:00", "To 52")
        assert one.doubt is not None
        assert one.doubt.subject == "To 51"


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

    def test_one_that_was_put_off_while_it_was_on_names_its_new_day(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.edit("events/barn.yaml", "2026-06-20", "2026-06-27")
        house.commit("Rain", day="2026-06-20T21:00:00+0100")
        (passed,) = only(house, "2026-06-20").unpublishable
        assert passed.problem == "by then its day was 2026-06-27"

    def test_one_that_was_put_off_or_called_off_or_written_down_too_late_is_noted(self, tmp_path):
        house = house_of(tmp_path, off=event("Called Off", "2026-06-14"), late=event("Put Off", "2026-06-15"))
        git(house.house, "rm", "-q", "events/off.yaml")
        house.edit("events/late.yaml", "2026-06-15", "2026-07-15")
        changed = house.commit("Rain", day="2026-06-10")[:7]
        house.write("events/after.yaml", event("Written Later", "2026-06-16"))
        written = house.commit("For the books", day="2026-06-20")[:7]
        called_off = f"it was taken out of the house before it was over, in {changed} (2026-06-10)"
        shown = f"(2026-06-20; menugen served {written} shows it)"
        too_late = f"it was first committed after it was over, in {written} {shown}"
        found = served(house.house, "2026-06")
        assert found.events == ()
        assert sorted(found.notes) == [
            f"Called Off, 2026-06-14, is not shown: {called_off}",
            f"Put Off, 2026-06-15, is not shown: by then its day was 2026-07-15 ({changed})",
            f"Written Later, 2026-06-16, is not shown: {too_late}",
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
        (branch,) = one.possible
        assert branch.merge is not None
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
        assert one.possible == ()

    @pytest.mark.parametrize(("hour", "perhaps"), [(20, ["From a carton"]), (17, [])])
    def test_one_merged_that_evening_may_have_been_on_the_tables_by_itself_before(
        self, tmp_path, hour, perhaps
    ):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
        house.commit("From a carton", day=f"2026-06-20T{hour}:15:00+0100")
        git(house.house, "checkout", "-q", "main")
        pour(house, 51, f"2026-06-20T{hour}:30:00+0100")
        merged = f"2026-06-20T{hour + 1}:30:00+0100"
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day=merged)
        one = only(house, "2026-06-20")
        assert one.last.commit.subject == "Take it"
        assert [menu.commit.subject for menu in one.possible] == perhaps


def test_a_revision_is_told_as_it_is(tmp_path):
    house = house_of(tmp_path, barn=event("Barn", "2026-06-20"), other=event("Other", "2026-07-01"))
    late = pour(house, 51, "2026-08-01")
    found = served(house.house, late)
    assert [one.last.commit.revision for one in found.events] == [late, late]
    with pytest.raises(NoHistory, match='did you mean "barn"'):
        served(house.house, late, "barm")


def test_an_event_past_midnight_is_found_by_its_second_day(tmp_path):
    barn = event("Barn", "2026-06-20", "19:00-01:30")
    house = house_of(tmp_path, barn=barn, late=event("Late", "2026-06-20", "19:00-00:00"))
    pour(house, 51, "2026-06-21T01:00:00+0100")
    one = only(house, "2026-06-21")
    assert (one.last.facts.event.slug, str(one.last.facts.event.date)) == ("barn", "2026-06-20")
    assert menus(one)[-1] == ("21 01:00", "To 51")
    assert served(house.house, "2026-06-22").events == ()
    assert len(served(house.house, "2026-06").events) == 2
    assert served(house.house, "2026-07").events == ()


def test_another_event_of_the_day_before_is_not_spoken_of(tmp_path):
    barn, off = event("Barn", "2026-06-20", "19:00-01:30"), event("Off", "2026-06-20", "19:00-22:00")
    house = house_of(tmp_path, barn=barn, off=off)
    git(house.house, "rm", "-q", "events/off.yaml")
    house.commit("Called off", day="2026-06-19")
    assert only(house, "2026-06-21").last.facts.event.slug == "barn"


def test_hours_that_were_cut_short_do_not_bring_it_back_the_day_after(tmp_path):
    house = house_of(tmp_path, barn=event("Barn", "2026-06-20", "19:00-01:30"))
    house.write("events/barn.yaml", event("Barn", "2026-06-20", "19:00-23:00"))
    house.commit("Home early", day="2026-06-20T18:00:00+0100")
    found = served(house.house, "2026-06-21")
    assert (found.events, found.notes) == ((), ())
    assert menus(only(house, "2026-06-20")) == [("20 19:00", "Home early")]


class TestAFileWithAFault:
    @pytest.mark.parametrize("fault", ["dat: 2026-06-20", "date: the twentieth", "date: 2026-06-20\nfoo: ]["])
    def test_the_menu_before_it_is_shown_with_its_hours(self, tmp_path, fault):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.edit("events/barn.yaml", "date: 2026-06-20", fault)
        house.commit("A slip", day="2026-06-20T20:00:00+0100")
        pour(house, 51, "2026-06-20T21:00:00+0100")
        house.edit("events/barn.yaml", fault, "date: 2026-06-20")
        house.commit("Mended", day="2026-06-22")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began")]
        assert [passed.commit.subject for passed in one.unpublishable] == ["A slip"]
        assert one.unpublishable[0].problem.startswith("events/barn.yaml: ")

    def test_mended_the_same_evening_both_menus_are_shown(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        house.edit("events/barn.yaml", "date:", "dat:")
        house.commit("A slip", day="2026-06-20T20:00:00+0100")
        house.edit("events/barn.yaml", "dat:", "date:")
        pour(house, 51, "2026-06-20T22:00:00+0100")
        assert menus(only(house, "2026-06-20")) == [("20 19:00", "As we began"), ("20 22:00", "To 51")]

    def test_one_that_was_broken_from_the_first_is_not_shown_and_why(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20").replace("menu:", "menu: ["))
        found = served(house.house, "2026-06-20")
        assert found.events == ()
        assert "Barn, 2026-06-20, is not shown: " in found.notes[0]
        assert "events/barn.yaml: " in found.notes[0]

    def test_settings_that_could_not_be_read_hide_no_folder_of_events(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "mv", "events", "parties")
        house.edit("house.yaml", "region:", "events: parties\nregion:")
        house.commit("Parties", day="2026-06-02")
        house.edit("house.yaml", "region:", "region: ][")
        house.commit("A slip", day="2026-06-20T20:00:00+0100")
        house.edit("house.yaml", "region: ][", "region:")
        house.commit("Mended", day="2026-06-22")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "Parties")]
        (passed,) = one.unpublishable
        assert (passed.commit.subject, passed.problem.partition(":")[0]) == ("A slip", "house.yaml")

    def test_a_file_taken_away_while_it_was_on_takes_no_menu_off_the_tables(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        text = (house.house / "events/barn.yaml").read_text("utf-8")
        git(house.house, "rm", "-q", "events/barn.yaml")
        house.commit("By mistake", day="2026-06-20T20:00:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began")]
        assert [passed.commit.subject for passed in one.unpublishable] == ["By mistake"]
        house.write("events/barn.yaml", text)
        pour(house, 51, "2026-06-20T21:00:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began"), ("20 21:00", "To 51")]
        assert [passed.commit.subject for passed in one.unpublishable] == ["By mistake"]


class TestBothClocks:
    """What is rebased is committed anew, and keeps the hour at which it was written."""

    def rebased(self, house: Books, written: str, day: str = "2026-06-21T09:00:00+0100") -> str:
        house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
        git(house.house, "add", "-A", ".")
        git(house.house, "commit", "-q", "-m", "From a carton", day=day, written=written)
        return git(house.house, "rev-parse", "HEAD")

    def test_an_ordinary_pull_with_rebase_denies_no_allergen(self, tmp_path):
        house = house_of(tmp_path / "bar", barn=event("Barn", "2026-06-20"))
        git(tmp_path, "clone", "-q", "bar", "laptop")
        laptop = Books(tmp_path / "laptop")
        self.rebased(laptop, "2026-06-20T20:15:00+0100", "2026-06-20T20:15:00+0100")
        pour(house, 51, "2026-06-20T23:00:00+0100")
        pour(house, 52, "2026-06-21T08:00:00+0100")
        git(laptop.house, "pull", "-q", "--rebase", day="2026-06-21T09:00:00+0100")
        one = only(laptop, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began"), ("20 23:00", "To 51")]
        (menu,) = one.possible
        assert (f"{menu.since:%H:%M}", menu.commit.subject) == ("20:15", "From a carton")
        assert menu.merge is None
        assert menu.beneath is not None
        assert menu.beneath.subject == "To 52"
        assert [one.fact for one in menu.changes if one.is_allergen] == ["milk"]

    def test_what_was_written_days_before_counts_as_it_was_when_the_event_began(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        self.rebased(house, "2026-06-18T20:15:00+0100")
        house.edit_stock("orgeat", "contains: [almond]", "contains: [almond, walnut]")
        house.commit("Not in it", day="2026-06-22")
        (menu,) = only(house, "2026-06-20").possible
        assert (f"{menu.since:%H:%M}", menu.commit.subject) == ("19:00", "From a carton")

    def test_what_was_written_after_it_was_over_was_on_no_table(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        self.rebased(house, "2026-06-21T00:31:00+0100")
        assert only(house, "2026-06-20").possible == ()

    def test_each_menu_of_the_evening_is_shown_and_no_other(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        for ml, written in ((60, "18T10:00"), (61, "20T12:00"), (62, "20T20:00"), (63, "20T21:00")):
            edited = (house.house / "specs/marsh-sour.md").read_text("utf-8")
            before = next(line for line in edited.splitlines() if line.endswith("ml gin"))
            house.edit("specs/marsh-sour.md", before, f"  - {ml} ml gin")
            git(house.house, "add", "-A", ".")
            git(
                house.house,
                "commit",
                "-q",
                "-m",
                f"To {ml}",
                day="2026-06-22",
                written=f"2026-06-{written}:00+0100",
            )
        possible = only(house, "2026-06-20").possible
        shown = [(f"{menu.since:%H:%M}", menu.commit.subject) for menu in possible]
        assert shown == [("19:00", "To 61"), ("20:00", "To 62"), ("21:00", "To 63")]

    def test_one_nobody_could_publish_gives_way_to_the_one_before(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        self.rebased(house, "2026-06-18T20:15:00+0100")
        house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml gyn")
        git(house.house, "add", "-A", ".")
        git(house.house, "commit", "-q", "-m", "A slip", day="2026-06-21", written="2026-06-19")
        (menu,) = only(house, "2026-06-20").possible
        assert menu.commit.subject == "From a carton"

    def test_an_event_that_was_wholly_committed_anew_goes_by_its_authors(self, tmp_path):
        house = house_of(tmp_path, "2026-06-25", barn=event("Barn", "2026-06-20"))
        git(
            house.house,
            "commit",
            "-q",
            "--amend",
            "--no-edit",
            "--date=2026-06-10T12:00:00",
            day="2026-06-25",
        )
        self.rebased(house, "2026-06-20T20:15:00+0100", "2026-06-25T09:00:00+0100")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "As we began"), ("20 20:15", "From a carton")]
        assert one.by_authors.startswith("it was first committed after it was over, in ")

    def test_an_event_that_only_a_branch_had_by_then_is_shown_from_there(self, tmp_path):
        house = house_of(tmp_path, other=event("Other", "2026-07-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        house.edit_stock("garden gin", "contains: none", "contains: [walnut]")
        house.commit("Another label", day="2026-06-10")
        house.write("events/barn.yaml", event("Barn", "2026-06-20"))
        git(house.house, "add", "-A", ".")
        git(house.house, "commit", "-q", "-m", "The barn", day="2026-06-22", written="2026-06-11")
        git(house.house, "checkout", "-q", "main")
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-23")
        one = only(house, "2026-06-20")
        assert menus(one) == [("20 19:00", "The barn")]
        assert f"{one.last.commit.clock:%d}" == "22"
        assert "in " + git(house.house, "rev-parse", "HEAD")[:7] in one.by_authors
        (drink,) = one.last.facts.drinks.values()
        assert "walnuts" in words_of(drink.serve.declaration.contains)

    def test_an_event_that_was_called_off_is_not_shown_from_a_branch_that_kept_it(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        pour(house, 51, "2026-06-15")
        git(house.house, "checkout", "-q", "main")
        git(house.house, "rm", "-q", "events/barn.yaml")
        house.commit("Rain", day="2026-06-16")
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-23")
        found = served(house.house, "2026-06-20")
        assert found.events == ()
        assert "it was taken out of the house before it was over" in found.notes[0]

    def test_a_branch_from_the_day_before_may_have_been_on_the_tables(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        git(house.house, "checkout", "-q", "-b", "side")
        self.rebased(house, "2026-06-19T21:15:00+0100", "2026-06-19T21:15:00+0100")
        git(house.house, "checkout", "-q", "main")
        git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-22")
        (branch,) = only(house, "2026-06-20").possible
        assert branch.merge is not None
        assert [one.fact for one in branch.changes if one.is_allergen] == ["milk"]

    def test_a_month_before_anything_was_committed_is_known_by_what_was_written(self, tmp_path):
        house = house_of(tmp_path, "2026-06-25", barn=event("Barn", "2026-06-20"))
        with pytest.raises(NoHistory, match="the history begins on 2026-06-25"):
            served(house.house, "2026-06-20")
        with pytest.raises(NoHistory, match="no such date"):
            served(house.house, "2026-06-31")

    def test_a_date_that_is_none_is_said_to_be_none_whatever_was_committed_before(self, tmp_path):
        house = house_of(tmp_path, barn=event("Barn", "2026-06-20"))
        for word in ("2026-06-31", "2026-13"):
            with pytest.raises(NoHistory, match="no such date"):
                served(house.house, word)
