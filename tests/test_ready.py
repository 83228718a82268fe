"""Events wait beside their places until whoever asked has seen what changes: all of them are published, or none."""

import pytest

from menugen import publishing
from menugen.publishing import CheckedHouse, Unfit, check_house
from menugen.reading import DiskFiles
from menugen.ready import ready_events
from menugen.writing.output_folder import output_folder
from tests.houses import EVENT, SOUR, with_drinks

EVENTS = ("small-supper", "later-supper")


@pytest.fixture
def look(tmp_path) -> CheckedHouse:
    files = with_drinks({"marsh-sour": SOUR}, event=EVENT)
    files["events/later-supper.yaml"] = EVENT.replace("2026", "2027", 1).replace("name: ", "name: Later ", 1)
    for path, text in files.items():
        (tmp_path / "house" / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "house" / path).write_text(text, "utf-8")
    found = check_house(tmp_path / "house", DiskFiles(tmp_path / "house"))
    assert not found.stopped
    assert sorted(facts.event.slug for facts in found.events) == sorted(EVENTS)
    return found


def shown(to) -> set[str]:
    return {folder.name for folder in to.iterdir() if not folder.name.startswith(".")}


def test_no_event_is_in_its_place_before_all_are_put_there_together(look, tmp_path):
    to = tmp_path / "out"
    with output_folder(to) as output:
        ready = ready_events(look, output)
        assert shown(to) == set()
        ready.finish()
        assert shown(to) == set(EVENTS)
    with output_folder(to) as output:
        ready_events(look, output)
    assert shown(to) == set(EVENTS)
    assert not [entry for entry in to.iterdir() if ".new-" in entry.name], "what is not finished goes"


def test_one_event_that_is_not_fit_keeps_all_from_being_published(look, tmp_path, monkeypatch):
    to = tmp_path / "out"
    last = look.events[-1].event.slug
    lay = publishing._lay_event

    def spoilt(look, facts, out, *more) -> None:
        lay(look, facts, out, *more)
        if facts.event.slug == last:
            out.text("site/extra.html", ("<!doctype html>\n<p>",))

    monkeypatch.setattr(publishing, "_lay_event", spoilt)
    with output_folder(to) as output, pytest.raises(Unfit):
        ready_events(look, output)
    assert shown(to) == set()


def test_an_event_published_for_the_first_time_is_held_against_the_others_that_are(tmp_path):
    files = with_drinks({"marsh-sour": SOUR}, event=EVENT)
    to = tmp_path / "out"

    def publish() -> list[tuple[str, str, str]]:
        for path, text in files.items():
            (tmp_path / "house" / path).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / "house" / path).write_text(text, "utf-8")
        with output_folder(to) as output:
            ready = ready_events(check_house(tmp_path / "house", DiskFiles(tmp_path / "house")), output)
            ready.finish()
        found = [(one.event, change) for one in ready.replaced for change in one.difference.changes]
        return [(event, change.fact, change.after) for event, change in found]

    assert publish() == []
    later = files["events/small-supper.yaml"].replace("Small", "Later")
    files["events/later-supper.yaml"] = later.replace("menu:", "bottles:\n  egg white: orgeat\nmenu:", 1)
    assert [one for one in publish() if one[1] == "almond"] == [("later-supper", "almond", "contains")]
    assert publish() == []


def test_a_text_that_would_not_be_searched_is_our_own_fault(look, monkeypatch):
    def unsearched(_look, _facts, out, *_more) -> None:
        out.data("site/page.html", b"<!doctype html>")

    monkeypatch.setattr(publishing, "_lay_event", unsearched)
    with pytest.raises(ValueError, match=r"site/page\.html is a text"):
        publishing.event_files(look, look.events[0])
