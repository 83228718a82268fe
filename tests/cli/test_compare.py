"""menugen compare and menugen drink --history, as they are typed."""

import json
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from tests.cli.inside import menugen
from tests.revisions.repositories import Books, books, git

REPOSITORY = Path(__file__).resolve().parents[2]


@pytest.fixture
def house(tmp_path) -> Books:
    return books(tmp_path / "books", inside="bar")


@pytest.fixture
def nutty(house) -> Books:
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    return house


def test_nothing_changed_is_said_in_one_line(house):
    done = menugen("compare", cwd=house.house)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[-1] == "No fact changed."
    assert menugen("compare", "--quiet", cwd=house.house).stdout == ""


def test_allergens_gained_stand_first_and_cannot_be_missed_without_colour(nutty):
    done = menugen("compare", cwd=nutty.house)
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert lines[3:7] == [
        "!! ALLERGENS GAINED in 1 drink",
        "!!   almonds: was not named, now CONTAINS",
        "!!     Marsh Sour",
        '!!     because the label of garden gin now says "contains almond"',
    ]
    assert max(map(len, lines)) <= 80
    assert "\x1b" not in done.stdout


def test_what_is_guarded_against_ends_with_one(nutty):
    at = nutty.house
    assert menugen("compare", "--fail-on", "allergens", cwd=at).returncode == 1
    assert menugen("compare", "--fail-on", "strength", cwd=at).returncode == 1
    assert menugen("compare", "--fail-on", "problems", cwd=at).returncode == 0
    nutty.edit("events/small-supper.yaml", "marsh-sour", "marsh-tour")
    assert menugen("compare", "--fail-on", "problems", cwd=at).returncode == 1
    wrong = menugen("compare", "--fail-on", "weather", cwd=at)
    assert wrong.returncode == 2
    assert '"weather"' in wrong.stderr


def test_an_allergen_that_is_no_longer_declared_is_guarded_against_too(house):
    house.edit_stock("egg white", "contains: [egg]", "contains: none")
    done = menugen("compare", "--fail-on", "allergens", cwd=house.house)
    assert done.returncode == 1
    assert "ALLERGENS GAINED" not in done.stdout
    assert (
        "!! ALLERGENS LOST in 1 drink: read these labels again\n!!   eggs: was CONTAINS, now not named"
        in done.stdout
    )


def test_a_caution_is_guarded_against_like_an_allergen(house):
    house.edit_stock("egg white", "cautions: [raw egg]", "cautions: none")
    done = menugen("compare", "--fail-on", "allergens", cwd=house.house)
    assert done.returncode == 1
    assert "!! CAUTIONS LOST in 1 drink\n!!   raw egg: was a CAUTION, now not named" in done.stdout


def test_a_swap_that_is_gone_is_guarded_against(house):
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    done = menugen("compare", "--fail-on", "allergens", cwd=house.house)
    assert done.returncode == 1
    assert (
        "!! SWAPS GONE in 1 drink\n!!   20 ml aquafaba instead of egg white: no longer offered" in done.stdout
    )


def test_a_typo_is_no_reason_to_fail(house):
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    done = menugen("compare", "--fail-on", "allergens,strength,problems", cwd=house.house)
    assert done.returncode == 0, done.stdout + done.stderr


def test_an_empty_word_is_wrong_use_and_no_default(nutty):
    at = nutty.house
    assert menugen("compare", "", "HEAD", cwd=at).returncode == 2
    assert menugen("compare", "HEAD", "", cwd=at).returncode == 2
    assert menugen("compare", "--fail-on", " ", cwd=at).returncode == 2
    done = menugen("compare", "--fail-on", " , ", cwd=at)
    assert done.returncode == 2
    assert "nothing to guard against" in done.stderr


def test_a_guard_says_what_it_stops_for(house):
    house.edit("events/small-supper.yaml", "menu:", "off: [never-was]\nmenu:")
    house.commit("Off what never was")
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    done = menugen("compare", "--fail-on", "problems", cwd=house.house)
    assert done.returncode == 1
    assert "Problems in both houses\n  events/small-supper.yaml:" in done.stdout
    assert "off-not-on-menu" in done.stdout


@pytest.mark.slow
def test_what_stops_a_publish_only_once_its_pages_are_made_is_guarded_against(house):
    house.edit("events/small-supper.yaml", "menu:", "theme: mine\nmenu:")
    house.write("themes/mine/theme.yaml", "title: Mine\nextends: slate\n")
    house.write("themes/mine/drink.html.jinja", "{{ nobody.knows }}\n")
    house.commit("A look of our own")
    house.edit("specs/marsh-sour.md", "Bright", "Brisk")
    for revisions in ((), ("HEAD", "HEAD")):
        done = menugen("compare", *revisions, "--fail-on", "problems", cwd=house.house)
        assert done.returncode == 1
        assert "themes/mine/drink.html.jinja:1" in done.stdout
    assert menugen("compare", "HEAD~1", "HEAD~1", "--fail-on", "problems", cwd=house.house).returncode == 0


def test_what_cannot_be_compared_does_not_pass_a_guard(house):
    house.edit("specs/marsh-sour.md", "name:", "nome:")
    house.commit("A slip")
    house.edit("specs/marsh-sour.md", "nome:", "name:")
    done = menugen("compare", "--fail-on", "allergens", cwd=house.house)
    assert done.returncode == 1
    assert "!!   Not known in the older house, because of specs/marsh-sour.md line " in done.stdout


def test_a_change_is_told_once_and_what_it_did_stands_under_it(nutty):
    nutty.edit("specs/marsh-sour.md", "15 ml sugar syrup", "20 ml sugar syrup")
    lines = menugen("compare", cwd=nutty.house).stdout.splitlines()
    assert lines.count("  gin 50 ml -> 60 ml") == 1
    at = lines.index("  sugar syrup 15 ml -> 20 ml")
    assert lines[at + 1].startswith("    strength ")
    figures = " ".join(line.strip() for line in lines[at + 1 :])
    assert re.findall(r"[^,]+ \(.*?\)", figures) == [" 2 -> 2.4 units (gin)"]
    nutty.commit("Stronger")
    nutty.edit_stock("garden gin", "price: 14.00", "price: 15.00")
    text = menugen("compare", cwd=nutty.house).stdout
    assert "\n  garden gin: price 14.00 -> 15.00\n    Marsh Sour: cost " in text
    assert "\nMarsh Sour\n" not in text


def test_a_substance_is_told_once_of_a_drink_however_two_places_spell_it(house):
    event = (house.house / "events/small-supper.yaml").read_text("utf-8")
    abroad = event.replace("Small Supper", "Oregon Supper").replace("menu:", "region: US-OR\nmenu:")
    house.write("events/oregon-supper.yaml", abroad)
    house.commit("A supper abroad")
    house.edit_stock("lemon juice", "contains: none", "contains: [sulphites]")
    text = menugen("compare", cwd=house.house).stdout
    assert text.count("CONTAINS") == 1
    assert re.search(r"(sulphites or sulfites|sulfites or sulphites): was not named, now CONTAINS", text)
    house.commit("Sulphites")
    house.edit_stock("garden gin", "price: 14.00", "price: 15.00")
    text = menugen("compare", cwd=house.house).stdout
    assert "GBP" in text
    assert "USD" not in text


def test_json_tells_the_same(nutty):
    told = json.loads(menugen("compare", "--json", cwd=nutty.house).stdout)
    (drink,) = told["drinks"]
    (allergen,) = drink["allergens"]
    assert allergen["substance"] == "almond"
    assert (allergen["before"], allergen["after"], allergen["gained"]) == (None, "contains", True)
    assert allergen["causes"] == ["garden gin: contains + almond"]
    assert {move["fact"] for move in drink["moves"]} >= {"measure", "strength", "units", "cost"}
    assert told["stock"] == [
        {"name": "garden gin", "what": ["contains + almond"], "drinks": ["Marsh Sour"], "would_be_in": []}
    ]
    assert told["old"]["revision"] == git(nutty.house, "rev-parse", "HEAD")
    assert told["new"]["revision"] is None


def test_markdown_leaves_no_mark_of_a_name_alone(nutty):
    nutty.edit("specs/marsh-sour.md", "name: Marsh Sour", 'name: "Marsh *Sour* <b>[x](y)"')
    done = menugen("compare", "--markdown", cwd=nutty.house).stdout
    assert "### ⚠ ALLERGENS GAINED in 1 drink" in done
    assert r"Marsh \*Sour\* \<b>\[x\](y)" in done


def test_markdown_keeps_what_came_apart_from_what_went(house):
    house.edit("specs/marsh-sour.md", "  - 15 ml sugar syrup\n", "  - 12 ml orgeat\n")
    done = menugen("compare", "--markdown", cwd=house.house).stdout
    html = MarkdownIt().render(done)
    assert "<li>+ 12 ml orgeat</li>" in html
    assert re.search(r"<li>- 15 ml sugar syrup\n<ul>", html)


def test_a_house_nobody_can_read_is_not_called_unchanged(house):
    house.write("house.yaml", "name: [unclosed\n")
    done = menugen("compare", cwd=house.house)
    assert "No fact changed" not in done.stdout


def test_an_event_that_cannot_be_read_does_not_pass_a_guard(house):
    house.edit("events/small-supper.yaml", "date:", "dat:")
    done = menugen("compare", "--fail-on", "allergens", cwd=house.house)
    assert done.returncode == 1
    assert "Not known in the newer house, because of events/small-supper.yaml" in done.stdout


def test_two_revisions_days_and_dots_are_understood(nutty):
    nutty.commit("Nuts", day="2026-11-15")
    at = nutty.house
    assert "almonds: was not named, now CONTAINS" in menugen("compare", "HEAD~1", "HEAD", cwd=at).stdout
    assert "almonds: was not named, now CONTAINS" in menugen("compare", "HEAD~1..HEAD", cwd=at).stdout
    assert (
        "almonds: was not named, now CONTAINS"
        in menugen("compare", "2026-11-10", "2026-11-16", cwd=at).stdout
    )
    assert "No fact changed." in menugen("compare", "2026-11-15", cwd=at).stdout
    back = menugen("compare", "HEAD", "HEAD~1", cwd=at).stdout
    assert "!! ALLERGENS LOST in 1 drink" in back


def test_a_folder_without_git_and_a_wrong_revision_are_wrong_use(house, tmp_path):
    done = menugen("compare", "never-was", cwd=house.house)
    assert done.returncode == 2
    assert 'git knows no revision "never-was"' in done.stderr
    (tmp_path / "plain").mkdir()
    (tmp_path / "plain/house.yaml").write_text("name: Plain\n", encoding="utf-8")
    done = menugen("compare", cwd=tmp_path / "plain")
    assert done.returncode == 2
    assert "is not in a git repository" in done.stderr
    done = menugen("compare", cwd=house.house, PATH="/nowhere")
    assert done.returncode == 2
    assert "there is no git on this machine" in done.stderr


def test_another_house_is_named_with_an_option(nutty, tmp_path):
    done = menugen("compare", "--house", "books/bar", cwd=tmp_path)
    assert "almonds: was not named, now CONTAINS" in done.stdout


def test_a_revision_that_cannot_be_read_at_all_ends_with_two(house):
    house.write("house.yaml", "name: [unclosed\n")
    done = menugen("compare", cwd=house.house)
    assert done.returncode == 2
    assert "nothing could be compared" in " ".join(done.stdout.split())


def test_the_history_of_a_drink_begins_and_ends_with_its_figures(nutty):
    nutty.commit("Stronger, nuttier", day="2026-11-15")
    nutty.edit("specs/marsh-sour.md", "60 ml gin", "45 ml gin")
    done = menugen("drink", "marsh-sour", "--history", cwd=nutty.house)
    assert done.returncode == 0, done.stderr
    assert re.search(r"2026-11-15 [0-9a-f]{7} Stronger, nuttier", done.stdout)
    assert "!! almonds: was not named, now CONTAINS, because" in done.stdout
    assert "not committed yet\n  gin 60 ml -> 45 ml" in done.stdout
    figures = re.findall(r"^  \d+\.\d % vol, \d+ g/l sugar, cost \d\.\d\d GBP$", done.stdout, re.MULTILINE)
    assert len(figures) == 2
    assert done.stdout.rstrip().endswith(figures[-1])
    assert max(map(len, done.stdout.splitlines())) <= 80
    told = json.loads(menugen("drink", "specs/marsh-sour.md", "--history", "--json", cwd=nutty.house).stdout)
    assert [version["subject"] for version in told["versions"]] == ["As we began", "Stronger, nuttier", None]
    assert told["versions"][1]["contains"] == ["eggs", "almonds"]


def test_the_history_of_what_was_never_there_is_wrong_use(house):
    done = menugen("drink", "no-such-drink", "--history", cwd=house.house)
    assert done.returncode == 2
    assert 'no spec called "no-such-drink"' in done.stderr


@pytest.fixture
def guarded(tmp_path, ready) -> tuple[Books, dict[str, str]]:
    """A started house in git, and a menugen on the path for its scripts."""
    assert menugen("start", "bar", cwd=tmp_path).returncode == 0
    house = Books(tmp_path / "bar")
    git(house.house, "init", "-q", "-b", "main", ".")
    house.commit("As we began")
    tools = tmp_path / "tools"
    tools.mkdir()
    shutil.copy(ready / "menugen", tools)
    return house, {
        **os.environ,
        "PYTHONPATH": str(REPOSITORY),
        "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}",
        "GIT_CONFIG_GLOBAL": os.devnull,
    }


@pytest.mark.slow
def test_the_guard_of_a_started_house_lets_a_typo_through_and_stops_an_allergen(guarded):
    house, environment = guarded

    def guard() -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            ["sh", "checks/guard.sh", "main"],
            cwd=house.house,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )

    git(house.house, "checkout", "-q", "-b", "change")
    house.edit("specs/negroni.md", "## Bar notes", "A word more.\n\n## Bar notes")
    house.commit("A word")
    done = guard()
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No fact changed." in done.stdout
    house.edit(
        "stock/behind-the-bar.yaml",
        "  contains: none\n  distilled from: [wheat]\n",
        "  contains: [almond]\n  distilled from: [wheat]\n",
    )
    house.commit("Almond")
    done = guard()
    assert done.returncode == 1
    assert "ALLERGENS GAINED" in done.stdout


@pytest.mark.slow
def test_the_hook_of_a_started_house_stops_a_fault_before_it_is_committed(guarded):
    house, environment = guarded
    git(house.house, "config", "core.hooksPath", "checks")

    def commit() -> subprocess.CompletedProcess[str]:
        who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org"]
        return subprocess.run(
            ["git", *who, "commit", "-qam", "A change"],
            cwd=house.house,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )

    house.edit("specs/negroni.md", "glass: ", "glass: no such ")
    done = commit()
    assert done.returncode == 1
    assert "unknown-glass" in done.stderr
    house.edit("specs/negroni.md", "glass: no such ", "glass: ")
    house.edit("specs/negroni.md", "## Bar notes", "A word more.\n\n## Bar notes")
    assert commit().returncode == 0


def test_a_bowl_for_more_guests_says_what_each_has_now(house):
    bowl = "---\nname: Bowl\nserves: 10\npour: 450 ml gin\nglass: punch bowl\nmethod: build\n---\n"
    house.write("specs/bowl.md", bowl)
    house.commit("A bowl")
    house.edit("specs/bowl.md", "serves: 10", "serves: 8")
    lines = menugen("compare", cwd=house.house).stdout.splitlines()
    assert lines[-3:] == ["Bowl", "  serves 10 -> 8", "    1.8 -> 2.3 units in one serve"]
    told = json.loads(menugen("compare", "--json", cwd=house.house).stdout)
    facts = {one["fact"]: (one["before"], one["after"]) for one in told["drinks"][0]["moves"]}
    assert facts["serves"] == ("10", "8")
    assert "strength" not in facts
    assert menugen("compare", "--fail-on", "strength", cwd=house.house).returncode == 0
