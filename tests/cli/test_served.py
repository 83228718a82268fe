"""menugen served: what was on the menu then, and what was in it."""

import json

import pytest

from tests.cli.test_compare import menugen
from tests.history.repositories import Books, books, git
from tests.houses import EVENT, texts


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
    made.commit("After midnight", day="2026-06-21")
    made.edit_stock("garden gin", "contains: [almond]", "contains: [hazelnut]")
    made.commit("Long after", day="2026-08-01")
    return made


def test_a_table_in_june_has_an_answer_in_one_command(house):
    done = menugen("served", "2026-06", "--table", "9", cwd=house.house)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("June Supper, 2026-06-20 (GB-ENG)\n")
    assert "table 9 of 12" in done.stdout
    assert "Marsh Sour, 9.50 GBP; " in done.stdout
    assert "55 ml gin: garden gin (label read 2026-05-01)" in done.stdout
    assert "CONTAINS eggs, almonds" in done.stdout
    assert "hazelnuts" not in done.stdout
    assert "earlier commits of that day" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_a_day_a_card_and_json(house):
    card = git(house.house, "rev-parse", "HEAD~2")
    told = json.loads(menugen("served", card[:7], "--event", "june-supper", "--json", cwd=house.house).stdout)
    assert [(one["event"], one["revision"]) for one in told] == [("june-supper", card)]
    assert told[0]["drinks"][0]["lines"][0]["line"] == "50 ml gin"
    dirty = menugen("served", f"{card[:7]}+4be09d2", cwd=house.house)
    assert dirty.returncode == 0
    assert "changes that were not committed" in dirty.stdout
    assert menugen("served", "2026-06-20", cwd=house.house).returncode == 0


def test_what_is_not_known_is_said(house):
    assert "no event is known for 2026-07" in menugen("served", "2026-07", cwd=house.house).stderr
    done = menugen("served", "2026-06", "--table", "13", cwd=house.house)
    assert done.returncode == 2
    assert "no event with a table 13" in done.stderr
    assert "the history begins on 2026-06-01" in menugen("served", "2025-06", cwd=house.house).stderr


def test_a_label_nobody_had_read_by_then_is_never_called_clean(house):
    house.edit_stock("garden gin", "contains: [hazelnut]", "note: ask the maker")
    house.commit("Gin of another make", day="2026-06-19")
    unread = "not known: the label of garden gin has not been read"
    history = json.loads(menugen("drink", "marsh-sour", "--history", "--json", cwd=house.house).stdout)[
        "versions"
    ]
    assert (history[0]["contains"], history[0]["unread"]) == (["eggs"], [])
    assert (history[-1]["contains"], history[-1]["unread"]) == (None, ["garden gin"])
    said = " ".join(menugen("served", "2026-06-20", cwd=house.house).stdout.split())
    assert f"{unread}; CONTAINS eggs" in said
    assert f"with aquafaba instead of egg white: {unread}; MAY CONTAIN lupin" in said
    assert "no listed allergen" not in said
    (told,) = json.loads(menugen("served", "2026-06-20", "--json", cwd=house.house).stdout)
    drink = told["drinks"][0]
    assert (drink["contains"], drink["swaps"][0]["contains"]) == (None, None)
    assert drink["labels_read_say"]["contains"] == ["eggs"]
