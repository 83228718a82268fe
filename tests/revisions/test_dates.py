"""Dates in the place of a revision: what is one, what only looks like one, and which commit each means."""

from datetime import UTC, datetime, timedelta

import pytest

from menugen.revisions.dates import Until, WrongDate, until
from menugen.revisions.git import NoHistory
from menugen.revisions.revision import files_at
from tests.revisions.repositories import Books, books, git


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("2026-06", Until(local="2026-06-99")),
        ("2026-06-20", Until(local="2026-06-20T99")),
        ("2026-06-20T18:30", Until(local="2026-06-20T18:30:00")),
        ("2026-06-20 18:30:15", Until(local="2026-06-20T18:30:15")),
        ("1970-01-01T01:00:30+01:00", Until(epoch_s=30)),
        ("1970-01-01 00:01Z", Until(epoch_s=60)),
        ("yesterday", Until(from_now="yesterday")),
        ("2 weeks ago", Until(from_now="2 weeks ago")),
        ("1.month.ago", Until(from_now="1.month.ago")),
        ("Last Friday", Until(from_now="Last Friday")),
    ],
)
def test_a_date_is_known_by_its_form(word, meant):
    assert until(word) == meant


@pytest.mark.parametrize(
    "word", ["HEAD", "v2", "2026", "friday", "soon", "999 years ago", "weeks ago", "next friday", "7f3a2c1"]
)
def test_what_is_not_plainly_a_date_is_none(word):
    # Git would take most of these for this very moment.
    assert until(word) is None


@pytest.mark.parametrize(
    "word", ["2026-13", "2026-00", "2026-02-30", "2026-13-40", "2026-06-20T25:00", "2026-06-20T18:30+99:00"]
)
def test_a_date_there_is_not_is_refused_with_the_forms_there_are(word):
    with pytest.raises(WrongDate, match=f'there is no such date as "{word[:10]}.*a day 2026-06-20'):
        until(word)


@pytest.fixture
def house(tmp_path) -> Books:
    made = books(tmp_path)
    made.edit("specs/marsh-sour.md", "50 ml", "55 ml")
    made.commit("Spring", day="2026-11-10")
    made.edit("specs/marsh-sour.md", "55 ml", "60 ml")
    made.commit("Summer", day="2026-11-20")
    return made


@pytest.mark.slow
@pytest.mark.parametrize(
    ("word", "back"),
    [
        ("2026-11-10T12:00", 1),
        ("2026-11-10T11:59", 2),
        ("2026-11-20 11:59:59", 1),
        ("2026-11-10T13:00+01:00", 1),
        ("2026-11-10T13:00+02:00", 2),
        ("2026-11-10T12:00Z", 1),
    ],
)
def test_a_time_means_the_last_commit_up_to_then(house, word, back):
    assert files_at(house.house, word).revision == git(house.house, "rev-parse", f"HEAD~{back}")


def test_a_time_without_a_zone_is_that_of_the_committers_clock(tmp_path):
    house = books(tmp_path)
    now = "2026-11-10T23:30:00+0500"
    house.write("a.txt", "late")
    git(house.house, "add", "a.txt")
    git(house.house, "commit", "-qm", "Late", "--date", now)
    git(
        house.house,
        "-c",
        "alias.again=!GIT_COMMITTER_DATE=" + now + " git commit -q --amend --no-edit",
        "again",
    )
    late = git(house.house, "rev-parse", "HEAD")
    assert files_at(house.house, "2026-11-10T23:30").revision == late
    assert files_at(house.house, "2026-11-10T18:30Z").revision == late
    assert files_at(house.house, "2026-11-10T23:00").revision != late


def test_what_is_reckoned_from_now_is_reckoned_by_git(tmp_path):
    now = datetime.now(UTC)
    house = books(tmp_path)
    house.write("a.txt", "first")
    git(house.house, "add", "a.txt")
    git(house.house, "commit", "-q", "--amend", "-m", "Old", day=str((now - timedelta(days=30)).date()))
    old = git(house.house, "rev-parse", "HEAD")
    new = house.commit("New", day=str((now - timedelta(days=10)).date()))
    assert files_at(house.house, "3 days ago").revision == new
    assert files_at(house.house, "yesterday").revision == new
    assert files_at(house.house, "2 weeks ago").revision == old
    for long_ago in ("2 years ago", "99 years ago"):
        with pytest.raises(NoHistory, match=f"nothing was committed here by {long_ago}"):
            files_at(house.house, long_ago)


@pytest.mark.parametrize("word", ["2026-13-40", "next friday", "tea"])
def test_whoever_writes_something_else_is_told_what_is_understood(house, word):
    with pytest.raises(NoHistory, match=r'a month is written 2026-06, .*"yesterday", "2 weeks ago"'):
        files_at(house.house, word)
