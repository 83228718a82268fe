"""menugen served: what was on the menu then, and what was in it."""

import json

import pytest

from tests.cli.inside import menugen
from tests.houses import EVENT, texts
from tests.revisions.repositories import Books, books, git


@pytest.fixture
def house(tmp_path) -> Books:
    june = EVENT.replace("Small Supper", "June Supper").replace("2026-12-12", "2026-06-20")
    june = june.replace("menu:", "tables: 12\nhours: 19:00-00:30\nmenu:")
    files = texts(**{"events/june-supper.yaml": june.lstrip("\n")})
    files["stock/all.yaml"] = files["stock/all.yaml"].replace("2026-11-01", "2026-05-01")
    made = books(tmp_path, files)
    git(made.house, "commit", "-q", "--amend", "-m", "As we began", day="2026-06-01")
    made.edit_stock("garden gin", "contains: none", "contains: [almond]")
    made.commit("Almond in the gin", day="2026-06-20")
    made.edit("specs/marsh-sour.md", "50 ml gin", "55 ml gin")
    made.commit("After midnight", day="2026-06-21T00:10:00+0100")
    made.edit("specs/marsh-sour.md", "55 ml gin", "45 ml gin")
    made.commit("The day after", day="2026-06-21T14:00:00+0100")
    made.edit_stock("garden gin", "contains: [almond]", "contains: [hazelnut]")
    made.commit("Long after", day="2026-08-01")
    return made


def test_a_month_has_an_answer_in_one_command(house):
    done = menugen("served", "2026-06", cwd=house.house)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("June Supper, 2026-06-20, 19:00-00:30 (GB-ENG)\n")
    assert "Marsh Sour, 9.50 GBP; " in done.stdout
    assert "55 ml gin: garden gin (label read 2026-05-01)" in done.stdout
    assert "CONTAINS eggs, almonds" in done.stdout
    assert "hazelnuts" not in done.stdout
    assert "45 ml gin" not in done.stdout
    assert "cautions: raw egg" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_a_day_a_card_and_json(house):
    card = git(house.house, "rev-parse", "HEAD~3")
    told = json.loads(
        menugen("served", card[:7], "--event", "june-supper", "--json", cwd=house.house).stdout
    )["events"]
    assert [(one["event"], one["revision"]) for one in told] == [("june-supper", card)]
    assert told[0]["drinks"][0]["lines"][0]["line"] == "50 ml gin"
    dirty = menugen("served", f"{card[:7]}+4be09d2", cwd=house.house)
    assert dirty.returncode == 0
    assert "changes that were not committed" in dirty.stdout
    assert menugen("served", "2026-06-20", cwd=house.house).returncode == 0


def test_what_is_not_known_is_said(house):
    assert "no event is known for 2026-07" in menugen("served", "2026-07", cwd=house.house).stderr
    assert "the history begins on 2026-06-01" in menugen("served", "2025-06", cwd=house.house).stderr


def test_a_label_nobody_had_read_by_then_is_never_called_clean(house):
    house.edit_stock("garden gin", "contains: [hazelnut]", "note: ask the maker")
    house.commit("Gin of another make", day="2026-08-02")
    unread = "not known: the label of garden gin has not been read"
    history = json.loads(menugen("drink", "marsh-sour", "--history", "--json", cwd=house.house).stdout)[
        "versions"
    ]
    assert (history[0]["contains"], history[0]["unread"]) == (["eggs"], [])
    assert (history[-1]["contains"], history[-1]["unread"]) == (None, ["garden gin"])
    said = " ".join(menugen("served", "HEAD", "--event", "june-supper", cwd=house.house).stdout.split())
    assert "This menu could not be published as committed: stock/all.yaml: " in said
    assert f"{unread}; CONTAINS eggs" in said
    assert f"with aquafaba instead of egg white: {unread}; MAY CONTAIN lupin" in said
    assert "no listed allergen" not in said
    (told,) = json.loads(
        menugen("served", "HEAD", "--event", "june-supper", "--json", cwd=house.house).stdout
    )["events"]
    drink = told["drinks"][0]
    assert (drink["contains"], drink["swaps"][0]["contains"]) == (None, None)
    assert drink["labels_read_say"]["contains"] == ["eggs"]


def test_one_command_tells_the_menus_of_an_evening_and_what_they_did_to_allergens(house):
    house.write("notes.txt", "nothing")
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    house.edit_stock("garden gin", "contains: [almond]", "contains: [walnut]")
    swapped = house.commit("Gin ran out", day="2026-06-20T21:15:00+0100")[:7]
    began = git(house.house, "rev-parse", "HEAD~1")[:7]
    said = menugen("served", "2026-06-20", cwd=house.house).stdout
    assert f"from 19:00: menu {began} (committed 2026-06-20 12:00: Almond in the gin)\n" in said
    assert f"from 21:15: menu {swapped} (Gin ran out)\n" in said
    assert said.count("Gin ran out") == said.count("Almond in the gin") == 1
    assert "!! Marsh Sour: walnuts: was not named, now CONTAINS" in said
    assert "!! Marsh Sour: almonds: was CONTAINS, now not named" in said
    assert f"menugen compare {began} {swapped}" in said
    before, after = said.split("Before 21:15 these were different:\n")
    assert "Between" not in after
    assert "CONTAINS eggs, walnuts" in before
    assert "CONTAINS eggs, almonds" in after
    assert max(map(len, said.splitlines())) <= 80


def test_json_says_where_when_and_for_how_much(house):
    house.edit("events/june-supper.yaml", "date:", "place: The Long Room\ndate:")
    house.commit("A place", day="2026-06-02")
    told = json.loads(menugen("served", "HEAD", "--event", "june-supper", "--json", cwd=house.house).stdout)
    (event,) = told["events"]
    assert (event["place"], event["hours"], event["currency"]) == ("The Long Room", "19:00-00:30", "GBP")
    (drink,) = event["drinks"]
    assert (drink["section"], drink["price"], drink["off"]) == ("All", "9.50", False)


def test_a_free_drink_is_told_as_free_and_a_hosted_menu_without_prices(house):
    def said(subject: str) -> str:
        house.commit(subject, day="2026-06-02")
        return menugen("served", "HEAD", "--event", "june-supper", cwd=house.house).stdout

    house.edit("events/june-supper.yaml", "9.50", "0")
    assert "Marsh Sour, free; " in said("Free")
    house.edit("events/june-supper.yaml", "date:", "hosted: yes\ndate:")
    assert "Marsh Sour; " in said("Hosted")
    told = json.loads(menugen("served", "HEAD", "--event", "june-supper", "--json", cwd=house.house).stdout)
    assert told["events"][0]["drinks"][0]["price"] is None


def test_an_event_that_is_not_known_is_refused_with_the_near_one(house):
    done = menugen("served", "2026-06", "--event", "june-super", cwd=house.house)
    assert (done.returncode, done.stdout) == (2, "")
    assert 'did you mean "june-supper"?' in done.stderr


def test_a_bowl_is_named_with_how_many_it_served(house):
    bowl = "---\nname: Bowl\nserves: 10\npour: 450 ml gin\nglass: punch bowl\nmethod: build\n---\n"
    house.write("specs/bowl.md", bowl)
    house.edit(
        "events/small-supper.yaml",
        "      - marsh-sour: 9.50",
        "      - marsh-sour: 9.50\n      - bowl: 65.00",
    )
    house.edit("events/small-supper.yaml", "2026-12-12", "2026-08-12")
    house.commit("A bowl", day="2026-08-02")
    text = menugen("served", "2026-08-12", cwd=house.house).stdout
    assert "Bowl, 65.00 GBP for all 10 serves; " in text
    assert "Marsh Sour, 9.50 GBP; " in text
    told = json.loads(menugen("served", "2026-08-12", "--json", cwd=house.house).stdout)["events"][0][
        "drinks"
    ]
    assert [one["serves"] for one in told] == [1, 10]


def test_a_menu_of_an_hour_is_shown_with_when_it_began_and_ended(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    for hour, nut in ((20, "walnut"), (21, "pecan")):
        text = (house.house / "stock/all.yaml").read_text("utf-8")
        house.write("stock/all.yaml", text.replace("[almond]", f"[{nut}]").replace("[walnut]", f"[{nut}]"))
        house.commit("Another gin", day=f"2026-06-20T{hour}:15:00+0100")
    said = menugen("served", "2026-06-20", cwd=house.house).stdout
    first, second = said.split("Between 20:15 and 21:15 these were different:\n")
    assert "CONTAINS eggs, walnuts" in second
    assert "CONTAINS eggs, almonds" in first.split("Before 20:15 these were different:\n")[1]


def test_a_menu_that_was_rebased_is_shown_with_the_hour_it_was_written(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    house.edit("events/june-supper.yaml", "menu:", "equipment: [shared shakers]\nmenu:")
    house.edit_stock("garden gin", "contains: [almond]", "contains: none")
    git(house.house, "add", "-A", ".")
    day, written = "2026-06-22T10:00:00+0100", "2026-06-20T20:15:00+0100"
    git(house.house, "commit", "-q", "-m", "Gin " * 30, day=day, written=written)
    said = menugen("served", "2026-06-20", cwd=house.house).stdout
    short = git(house.house, "rev-parse", "HEAD")[:7]
    plain = " ".join(said.split())
    assert (
        f"perhaps from 20:15: menu {short} (written 2026-06-20 20:15, committed 2026-06-22 10:00: Gin"
        in plain
    )
    assert "as a rebase does. Against the menu below: !! " in plain
    below, perhaps = said.split(f"In menu {short} these were different:\n")
    assert "CONTAINS eggs, almonds" in below
    assert "CONTAINS eggs;" in perhaps
    assert "Equipment" not in below
    (event,) = json.loads(menugen("served", "2026-06-20", "--json", cwd=house.house).stdout)["events"]
    (menu,) = event["perhaps"]
    assert (menu["from"], menu["written"][:16], menu["committed"]) == (
        "2026-06-20T20:15",
        "2026-06-20T20:15",
        "2026-06-22T10:00",
    )
    assert (menu["merge"], menu["equipment"], event["by_authors"]) == (None, ["shared shakers"], None)
    assert menu["drinks"][0]["contains"] == ["eggs"]
    assert max(map(len, said.splitlines())) <= 80


def test_a_menu_of_a_branch_is_shown_where_a_drink_is_different_in_it(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    began = git(house.house, "rev-parse", "HEAD")
    git(house.house, "checkout", "-q", "-b", "side")
    house.edit("events/june-supper.yaml", "tables: 12", "tables: 14")
    house.commit("More tables", day="2026-06-20T19:30:00+0100")
    git(house.house, "checkout", "-q", "evening")
    git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-22")
    assert "perhaps" not in menugen("served", "2026-06-20", cwd=house.house).stdout
    git(house.house, "reset", "-q", "--hard", began)
    git(house.house, "checkout", "-q", "side")
    pour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", pour.replace("50 ml gin", "60 ml gin"))
    house.commit("Stronger", day="2026-06-20T20:15:00+0100")
    git(house.house, "checkout", "-q", "evening")
    git(house.house, "merge", "-q", "--no-ff", "-m", "Take it", "side", day="2026-06-22")
    said = menugen("served", "2026-06-20", cwd=house.house).stdout
    assert "perhaps from 20:15: menu" in said
    assert "on a branch until" in " ".join(said.split())
    assert "  60 ml gin: garden gin" in said.split("these were different:\n")[1]


def test_a_file_broken_that_night_is_said_and_the_menu_before_it_shown(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    house.edit("events/june-supper.yaml", "menu:", "menu")
    slip = house.commit("A slip", day="2026-06-20T20:00:00+0100")[:7]
    said = " ".join(menugen("served", "2026-06-21", cwd=house.house).stdout.split())
    assert said.startswith("June Supper, 2026-06-20, 19:00-00:30 (GB-ENG) menu ")
    stayed = "could not be published, so the menu before it stayed: events/june-supper.yaml: "
    assert f"{slip} (committed 2026-06-20 20:00: A slip) {stayed}" in said
    assert "CONTAINS eggs, almonds" in said


def test_an_event_known_by_its_authors_hours_alone_says_so(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~4")
    git(house.house, "commit", "-q", "--amend", "--no-edit", "--date=2026-06-10T12:00:00", day="2026-06-25")
    said = " ".join(menugen("served", "2026-06-20", cwd=house.house).stdout.split())
    assert (
        "By the hours at which its commits were made, it was first committed after it was over, in " in said
    )
    assert "(written 2026-06-10 12:00, committed 2026-06-25 12:00: As we began)" in said
    assert "CONTAINS eggs" in said


def test_a_commit_in_front_of_a_clock_that_was_wrong_is_doubted(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD")
    house.edit_stock("garden gin", "contains: [hazelnut]", "contains: [walnut]")
    house.commit("Wrong clock", day="2026-06-20T20:00:00+0100")
    said = " ".join(menugen("served", "2026-06-20", cwd=house.house).stdout.split())
    assert said.count("Wrong clock") == said.count("Long after") == 1
    assert ", made after the event: what that one changed is in this menu, unless one of their clocks" in said


def test_no_line_is_longer_than_a_terminal_whatever_a_drink_is_called(house):
    git(house.house, "checkout", "-q", "-b", "evening", "HEAD~3")
    house.edit("specs/marsh-sour.md", "name: Marsh Sour", f"name: {'Sour' * 22}")
    house.edit_stock("garden gin", "contains: [almond]", "contains: [walnut]")
    house.commit("s" * 200, day="2026-06-20T21:15:00+0100")
    said = menugen("served", "2026-06-20", cwd=house.house).stdout
    assert "!! SourSour" in " ".join(said.split())
    assert max(map(len, said.splitlines())) <= 80
