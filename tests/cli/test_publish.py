"""A publish is never silent about what it replaces, and leaves nothing of an event that is gone without a word."""

import json
from pathlib import Path

import pytest
from PIL import Image

from menugen.cli import main
from menugen.house_photos import KEPT
from menugen.preview.pages import dressed, make_pages
from menugen.publishing import check_house
from menugen.reading import DiskFiles
from menugen.ready import gone_from
from menugen.report import WIDTH
from menugen.writing import exchange, machine
from tests.cli.test_commands import write_house
from tests.fuzz.trouble import Dead
from tests.revisions.repositories import Books, git

STOCK, SPEC, EVENT = "stock/all.yaml", "specs/marsh-sour.md", "events/small-supper.yaml"


class Bar:
    """A house in a folder called "bar", and what its last command printed."""

    def __init__(self, capsys) -> None:
        self.capsys = capsys
        self.out = self.err = ""

    def edit(self, path: str, old: str, new: str) -> None:
        file = Path("bar", path)
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new), encoding="utf-8", newline="\n")

    def publish(self, *more: str, where: str = "bar") -> int:
        code = main(["publish", where, *more])
        self.out, self.err = self.capsys.readouterr()
        return code

    def told(self) -> str:
        return " ".join(self.out.replace("!!", "").split())


@pytest.fixture
def bar(tmp_path, monkeypatch, capsys) -> Bar:
    monkeypatch.chdir(tmp_path)
    write_house(Path("bar"))
    return Bar(capsys)


def whole(folder: str) -> dict[str, bytes]:
    """Return all that is published there: what only saves time may be added to at any time."""
    files = (path for path in Path(folder).rglob("*") if path.is_file())
    return {path.as_posix(): path.read_bytes() for path in files if KEPT not in path.parts}


def test_every_label_changed_to_walnut_is_the_first_thing_said(bar):
    assert bar.publish() == 0
    assert "no earlier output in bar/out/small-supper, so there is nothing to compare with" in bar.told()
    assert bar.publish() == 0
    assert bar.out.startswith("no allergen or caution gained or lost against what was published before\n")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    assert bar.publish() == 0
    lines = bar.out.splitlines()
    assert lines[:2] == [
        "!! ALLERGENS GAINED in 1 drink",
        "!!   walnuts: was not named, now CONTAINS",
    ]
    assert lines[2] == "!!     Marsh Sour"
    assert lines[-1].endswith("; allergens or cautions changed, above")
    assert all(len(line) <= WIDTH for line in lines[:-1])


def test_fail_on_allergens_publishes_nothing_and_says_what_it_would_have(bar):
    bar.publish()
    before = whole("bar/out")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    for _ in range(2):
        assert bar.publish("--fail-on", "allergens") == 1
        assert "ALLERGENS GAINED" in bar.out
        assert "nothing was published" in bar.err
        assert whole("bar/out") == before
    assert bar.publish() == 0
    assert bar.publish("--fail-on", "allergens") == 0


@pytest.mark.slow
@pytest.mark.parametrize(
    ("path", "old", "new", "expected"),
    [
        (
            STOCK,
            "contains: [egg]",
            "contains: none",
            "ALLERGENS LOST in 1 drink: read these labels again eggs: was CONTAINS, now not named Marsh Sour",
        ),
        (
            STOCK,
            "cautions: [raw egg]",
            "cautions: none",
            "CAUTIONS LOST in 1 drink raw egg: was a CAUTION, now not named Marsh Sour",
        ),
        (
            STOCK,
            "may contain: [lupin]",
            "may contain: [soya]",
            "Marsh Sour with aquafaba instead of egg white",
        ),
        (
            STOCK,
            "  may contain: [lupin]\n",
            "  may contain: [lupin]\n  cautions: [quinine]\n",
            "CAUTIONS GAINED in 1 drink quinine:",
        ),
        (SPEC, "- 15 ml sugar syrup", "- 15 ml orgeat", "almonds: was not named, now CONTAINS Marsh Sour"),
        (
            SPEC,
            "swap:\n  egg white: 20 ml aquafaba\n",
            "",
            "SWAPS GONE in 1 drink aquafaba instead of egg white: no longer offered Marsh Sour",
        ),
        (
            EVENT,
            "menu:",
            "bottles:\n  sugar syrup: orgeat\nmenu:",
            "almonds: was not named, now CONTAINS Marsh Sour",
        ),
        (EVENT, "menu:", "equipment: [shared shakers]\nmenu:", "SHARED EQUIPMENT CHANGED new: "),
    ],
)
def test_whatever_caused_it(bar, path, old, new, expected):
    assert bar.publish() == 0
    bar.edit(path, old, new)
    assert bar.publish("--fail-on", "allergens") == 1, bar.err
    assert expected in bar.told()


def test_a_newer_menugen_is_a_cause_like_any_other(bar, monkeypatch):
    """The same files, and a menu that names less."""
    assert bar.publish() == 0
    made = machine._marks
    monkeypatch.setattr(machine, "_marks", lambda marks: made(list(marks)[1:]))
    assert bar.publish("--fail-on", "allergens") == 1
    assert "eggs: was CONTAINS, now not named" in bar.told()


def test_a_damaged_earlier_output_is_said_and_fails_where_that_is_guarded(bar):
    bar.publish()
    Path("bar/out/small-supper/site/menu.json").write_bytes(b"{")
    assert bar.publish("--fail-on", "allergens") == 1
    assert "NOT COMPARED" in bar.told()
    assert bar.publish("--quiet") == 0
    assert "NOT COMPARED" in bar.told()
    assert bar.publish("--quiet") == 0
    assert bar.out == bar.err == ""


def test_warnings_come_after_allergens_and_are_not_lost_where_pages_cannot_be_made(bar, monkeypatch):
    bar.publish()
    bar.edit(EVENT, "2026-12-12", "2027-12-12")
    bar.edit(STOCK, "contains: [egg]", "contains: [egg, milk]")
    order = []
    with monkeypatch.context() as patched:
        patched.setattr("menugen.cli.publish._Publish._tell_replaced", lambda *_: order.append("replaced"))
        patched.setattr("menugen.cli.publish._Publish._tell_problems", lambda *_: order.append("problems"))
        assert bar.publish() == 0
    assert order == ["replaced", "problems"]
    (Path("bar/out/small-supper/.menugen")).unlink()
    assert bar.publish() == 1
    assert "label-read-long-ago" in bar.err
    assert bar.err.rstrip().endswith("move it away or publish elsewhere")


def test_json_has_what_is_replaced_and_what_is_gone(bar):
    bar.publish()
    Path("bar", EVENT).rename("bar/events/late-supper.yaml")
    bar.edit("events/late-supper.yaml", "Small Supper", "Late Supper")
    bar.edit("events/late-supper.yaml", "2026-12-12", "2026-12-13")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    assert bar.publish("--json") == 0
    told = json.loads(bar.out)
    assert (told["publish"], told["published"]) == (1, True)
    [event] = told["events"]
    assert (event["event"], event["replaced"]["first"]) == ("late-supper", True)
    [gone] = told["gone"]
    assert (gone["event"], gone["name"], gone["renamed_to"], gone["removed"]) == (
        "small-supper", "Small Supper", None, False,
    )  # fmt: skip
    bar.edit(STOCK, "contains: [walnut]", "contains: none")
    assert bar.publish("--json", "--fail-on", "allergens") == 1
    told = json.loads(bar.out)
    assert told["published"] is False
    assert {one["subject"] for one in told["events"][0]["replaced"]["changes"]} == {"walnut"}
    assert bar.publish("--json", "--remove-gone") == 0
    assert json.loads(bar.out)["gone"][0]["removed"] is True
    assert not Path("bar/out/small-supper").exists()


def test_an_event_of_another_name_is_held_against_what_it_probably_was(bar):
    bar.publish()
    Path("bar", EVENT).rename("bar/events/late-supper.yaml")
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    assert bar.publish("--fail-on", "allergens") == 1
    assert "walnuts: was not named, now CONTAINS Marsh Sour" in bar.told()
    assert bar.publish("--fail-on", "allergens", "--remove-gone") == 1
    assert Path("bar/out/small-supper").exists()
    assert bar.publish() == 0
    assert "which is probably the same event under its earlier name" in bar.told()
    assert "is probably what is published as late-supper now" in " ".join(bar.err.split())
    assert bar.publish("--remove-gone") == 0
    assert "removed: bar/out/small-supper" in bar.out
    assert bar.err == ""
    assert sorted(path.name for path in Path("bar/out").iterdir() if path.name[0] != ".") == ["late-supper"]


def another_event(slug: str = "spring-fair") -> None:
    text = Path("bar", EVENT).read_text("utf-8")
    text = (
        text.replace("Small Supper", "Spring Fair").replace("2026-12-12", "2027-03-01").replace("/s/", "/f/")
    )
    Path("bar/events", f"{slug}.yaml").write_text(text, encoding="utf-8")


def test_one_event_published_alone_makes_no_other_one_gone(bar):
    another_event()
    bar.publish()
    assert bar.publish("--remove-gone", where=f"bar/{EVENT}") == 0
    assert "gone" not in bar.err
    Path("bar/events/spring-fair.yaml").write_text("event: [", encoding="utf-8")
    assert bar.publish("--remove-gone", where=f"bar/{EVENT}") == 1
    assert Path("bar/out/spring-fair/site/index.html").is_file()
    Path("bar/events/spring-fair.yaml").unlink()
    assert bar.publish(where=f"bar/{EVENT}") == 0
    assert "spring-fair is of an event that is gone (Spring Fair, 2027-03-01)" in bar.err
    assert "menugen publish bar/events/small-supper.yaml --remove-gone" in " ".join(bar.err.split())
    assert Path("bar/out/spring-fair").exists()


def test_a_house_whose_last_event_is_gone_can_still_clear_up(bar):
    bar.publish()
    Path("bar", EVENT).unlink()
    assert bar.publish() == 2
    assert "is of an event that is gone" in bar.err
    assert bar.publish("--remove-gone") == 0
    assert not Path("bar/out/small-supper").exists()
    assert bar.publish("--remove-gone") == 2


def test_an_earlier_revision_knows_of_no_later_event_and_compares_too(bar):
    git(Path("bar"), "init", "-q", ".")
    books = Books(Path("bar"))
    revision = books.commit("As we began")
    another_event()
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    bar.publish()
    assert bar.publish("--at", revision, "--remove-gone", "--fail-on", "allergens") == 1
    assert "walnuts: was CONTAINS, now not named Marsh Sour (at Small Supper)" not in bar.told()
    assert "walnuts: was CONTAINS, now not named Marsh Sour" in bar.told()
    assert f"why: menugen compare {revision[:7]} --house bar" in bar.told()
    assert bar.publish("--at", revision, "--remove-gone") == 0
    assert Path("bar/out/spring-fair").exists()
    assert "gone" not in bar.err


def test_another_house_s_output_is_left_alone_and_an_earlier_name_is_not_another_house(bar):
    assert bar.publish("--to", "menus") == 0
    bar.edit("house.yaml", "The Test Bar", "The Other Bar")
    before = whole("menus")
    assert bar.publish("--to", "menus") == 1
    assert 'menus/small-supper is what "The Test Bar" published' in bar.err
    assert bar.publish("--to", "menus", "--was", "Somebody") == 1
    assert whole("menus") == before
    assert bar.publish("--to", "menus", "--was", "the test bar") == 0
    assert "the house: The Test Bar before, The Other Bar now" in bar.told()
    assert bar.publish("--to", "menus") == 0


def test_in_the_house_s_own_folder_another_name_is_a_word_and_no_fault(bar):
    bar.publish()
    bar.edit("house.yaml", "The Test Bar", "The Other Bar")
    assert bar.publish() == 0
    assert "the house: The Test Bar before, The Other Bar now" in bar.told()


@pytest.mark.slow
@pytest.mark.parametrize("to", ["bar", "bar/specs", "bar/stock/x", "", " ", "bar/out/small-supper"])
def test_a_publish_into_the_house_itself_is_wrong_use_and_writes_nothing(bar, to):
    bar.publish()
    before = whole("bar")
    assert bar.publish("--to", to) == 2
    assert bar.err.count("\n") == 1
    assert whole("bar") == before


def test_a_folder_that_holds_the_house_is_pointed_out(bar):
    assert bar.publish("--to", ".") == 0
    assert "never all of" in bar.err
    Path("bar", EVENT).rename("bar/events/bar.yaml")
    assert bar.publish("--to", ".") == 2
    assert "would be replaced" in bar.err
    assert Path("bar/house.yaml").is_file()


@pytest.mark.parametrize("typed", ["weather", " ", "strength"])
def test_a_guard_there_is_not_is_wrong_use(bar, typed):
    assert bar.publish("--fail-on", typed) == 2
    assert not Path("bar/out").exists()


def test_the_preview_shows_the_same_on_the_event_s_pages_and_in_its_list(bar):
    first = make_pages(Path("bar"), None)
    assert "no earlier output in bar/out/small-supper" in " ".join(first.replaced.split())
    assert first.panel("small-supper/site/index.html") == ""
    bar.publish()
    assert make_pages(Path("bar"), None, first).alarms == {}
    bar.edit(STOCK, "contains: none", "contains: [walnut]")
    pages = make_pages(Path("bar"), None, first)
    assert pages.replaced.startswith(
        "!! ALLERGENS GAINED in 1 drink\n!!   walnuts: was not named, now CONTAINS"
    )
    for path in ("small-supper/site/index.html", "small-supper/site/drinks/marsh-sour.html", "index.html"):
        shown = dressed(pages.files[path], pages.panel(path)).decode()
        assert "walnuts: was not named, now CONTAINS" in shown, path
    assert pages.panel("another/site/index.html") == ""
    bar.edit(STOCK, "contains: [walnut]", "contains: [")
    stopped = make_pages(Path("bar"), None, pages)
    panel = stopped.panel("small-supper/site/index.html")
    assert "walnuts: was not named, now CONTAINS" in panel
    assert "the pages below are the last good ones" in panel


def test_the_preview_names_what_is_gone(bar):
    another_event()
    bar.publish()
    Path("bar/events/spring-fair.yaml").unlink()
    assert "spring-fair is of an event that is gone" in make_pages(Path("bar"), "small-supper").replaced


def test_an_event_that_cannot_be_read_is_not_gone(bar):
    another_event()
    bar.publish()
    Path("bar/events/spring-fair.yaml").write_text("event: [", encoding="utf-8")
    look = check_house(Path("bar"), DiskFiles(Path("bar")))
    assert gone_from(look, Path("bar/out")) == ()
    Path("bar/events/spring-fair.yaml").unlink()
    look = check_house(Path("bar"), DiskFiles(Path("bar")))
    assert [one.slug for one in gone_from(look, Path("bar/out"))] == ["spring-fair"]


def test_a_publish_killed_between_two_events_is_put_back_and_the_next_one_says_so(bar, monkeypatch):
    another_event()
    assert bar.publish("--quiet") == 0
    before = whole("bar/out")
    bar.edit(SPEC, "Bright and short.", "Bright and shorter.")
    steps = []

    def take(target, step):
        steps.append(step.place)
        if len(steps) == 2:
            raise Dead
        exchange._take_really(target, step)

    def nothing_more(*_given):
        raise Dead

    with monkeypatch.context() as patched:
        patched.setattr(exchange, "_take_really", exchange._take, raising=False)
        patched.setattr(exchange, "_take", take)
        patched.setattr(exchange, "_put_back", nothing_more)
        with pytest.raises(Dead):
            main(["publish", "bar", "--quiet"])
    assert steps == ["small-supper", "spring-fair"]
    assert bar.publish(where=f"bar/{EVENT}") == 0
    assert "an earlier publish was stopped half-way; put back as before it: bar/out/small-supper\n" in bar.err
    assert {path: it for path, it in whole("bar/out").items() if "/spring-fair/" in path} == {
        path: it for path, it in before.items() if "/spring-fair/" in path
    }
    assert sorted(path.name for path in Path("bar/out").iterdir() if path.name != ".photos") == [
        "small-supper", "spring-fair",
    ]  # fmt: skip


def test_what_killed_runs_left_anywhere_in_a_house_goes_with_a_publish(bar):
    assert bar.publish("--quiet") == 0
    before = whole("bar").keys()
    for place in ("bar", "bar/out", "bar/out/.photos"):
        Path(place).mkdir(exist_ok=True)
        Path(place, ".menugen-0123abcd").write_bytes(b"x")
    Path("bar/.menugen-start-0123abcd/specs").mkdir(parents=True)
    Path("bar/out/.nobody.new-0123abcd/site").mkdir(parents=True)
    assert bar.publish() == 0
    assert "nobody" not in bar.err
    assert whole("bar").keys() == before
    assert not Path("bar/.menugen-start-0123abcd").exists()
    assert not Path("bar/out/.nobody.new-0123abcd").exists()


def test_a_publish_into_another_houses_folder_leaves_nothing_there(bar):
    bar.edit("house.yaml", "name: ", "name: Other ")
    assert bar.publish("--to", "there") == 0
    before = {path: path.read_bytes() for path in Path("there").rglob("*") if path.is_file()}
    bar.edit("house.yaml", "name: Other ", "name: ")
    Path("bar/photos").mkdir()
    Image.new("RGB", (1600, 1200), "teal").save("bar/photos/marsh-sour.jpg")
    assert bar.publish("--to", "there") == 1
    assert "so it was left alone" in bar.err
    assert {path: path.read_bytes() for path in Path("there").rglob("*") if path.is_file()} == before
    assert bar.publish("--to", "elsewhere") == 0
    assert list(Path("elsewhere", KEPT).iterdir())
