"""The commands as a user types them, on files of their own."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from menugen.cli import main
from tests.cli.inside import menugen
from tests.houses import texts

REPOSITORY = Path(__file__).resolve().parents[2]


def menugen_alone(*arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a process of its own, with its own clock and language."""
    return subprocess.run(
        [sys.executable, "-m", "menugen", *arguments],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY), **environment},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def write_house(folder: Path, files: dict[str, str] | None = None) -> Path:
    for name, text in (files or texts()).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return folder


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return write_house(tmp_path / "bar")


def test_a_started_house_publishes_as_it_stands_and_has_no_problem_at_all(tmp_path):
    assert menugen("start", "my-bar", cwd=tmp_path).returncode == 0
    checked = menugen("check", "my-bar", "--strict", cwd=tmp_path)
    assert (checked.returncode, checked.stdout, checked.stderr) == (0, "", "")
    published = menugen("publish", "my-bar", cwd=tmp_path)
    assert published.returncode == 0, published.stderr
    site = tmp_path / "my-bar/out/first-night/site"
    for page in (
        "index.html",
        "t/index.html",
        "allergens.html",
        "notices.html",
        "404.html",
        "menu.json",
        "icon.svg",
    ):
        assert (site / page).stat().st_size > 0, page
    assert (site / "drinks/saltmarsh-sour.html").is_file()
    for paper in ("qr.svg", "qr.png", "cards-a4.html", "cards-letter.html"):
        assert (site.parent / "print" / paper).stat().st_size > 0, paper


def test_start_leaves_a_folder_with_something_in_it_alone(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine/diary.txt").write_text("keep", encoding="utf-8")
    done = menugen("start", "mine", cwd=tmp_path)
    assert done.returncode == 2
    assert "not empty" in done.stderr
    assert [path.name for path in (tmp_path / "mine").iterdir()] == ["diary.txt"]


def test_problems_stop_a_publish_and_name_file_line_column_and_remedy(house):
    spec = house / "specs/marsh-sour.md"
    spec.write_text(spec.read_text("utf-8").replace("lemon juice", "lemon jiuce"), encoding="utf-8")
    done = menugen("publish", "bar", cwd=house.parent)
    assert done.returncode == 1
    assert done.stdout == ""
    assert (
        'bar/specs/marsh-sour.md:5:11: error[unknown-stock]: nothing in stock is called "lemon jiuce"'
        in done.stderr
    )
    assert 'did you mean "lemon juice"' in done.stderr
    assert done.stderr.rstrip().endswith("nothing was published")
    assert not (house / "out").exists()


def test_warnings_do_not_stop_a_publish_and_count_only_when_strict(house):
    event = house / "events/small-supper.yaml"
    event.write_text(event.read_text("utf-8").replace("2026-12-12", "2027-12-12"), encoding="utf-8")
    assert menugen("check", ".", cwd=house).returncode == 0
    assert "label-read-long-ago" in menugen("check", ".", cwd=house).stderr
    assert menugen("check", ".", "--strict", cwd=house).returncode == 1
    assert menugen("publish", ".", cwd=house).returncode == 0


def test_a_caution_that_nobody_said_is_asked_for_once_and_stops_nothing(house):
    stock = house / "stock" / "all.yaml"
    stock.write_text(stock.read_text().replace("  cautions: [raw egg]\n", ""))
    second = (house / "events" / "small-supper.yaml").read_text().replace("Small", "Second")
    (house / "events" / "second-supper.yaml").write_text(second)
    for where in (".", "events/second-supper.yaml"):
        checked = menugen("check", where, cwd=house)
        assert checked.returncode == 0
        assert checked.stderr.count("warning[caution-not-said]") == 1
        assert 'write "cautions: [raw egg]", or "cautions: none"' in checked.stderr
        assert "shown it with Marsh Sour" in checked.stderr
    assert menugen("publish", ".", cwd=house).returncode == 0
    pages = [house / "out" / event / "site" / page for event in ("small-supper", "second-supper")
             for page in ("index.html", "t/index.html", "drinks/marsh-sour.html")]  # fmt: skip
    for page in pages:
        assert page.read_text().count("Made with raw egg.") == 1


def test_json_problems_are_for_editors(house):
    (house / "stock/more.yaml").write_text("odd bottle:\n  botle: 700 ml\n", encoding="utf-8")
    done = menugen("check", "bar", "--json", cwd=house.parent)
    (problem,) = [found for found in json.loads(done.stdout) if found["severity"] == "error"]
    assert (problem["file"], problem["line"], problem["column"]) == ("bar/stock/more.yaml", 2, 3)
    assert done.returncode == 1
    assert done.stderr == ""


def test_an_event_alone_is_not_stopped_by_a_draft_it_does_not_list(house):
    (house / "specs/draft.md").write_text("---\nname: Draft\npour: 1 xx\n", encoding="utf-8")
    assert menugen("publish", "bar/events/small-supper.yaml", cwd=house.parent).returncode == 0
    assert menugen("publish", "bar", cwd=house.parent).returncode == 1


@pytest.mark.parametrize(
    "arguments",
    [
        ["publish", "nowhere"],
        ["publish", "bar/stock"],
        ["check", "bar/specs/marsh-sour.md"],
        ["drink", "marsh-sower", "--house", "bar"],
        ["drink", "marsh-sour", "--house", "bar", "--event", "no-such"],
        ["drink", "marsh-sour", "--house", "bar", "--at", "no-such-revision"],
        ["polish"],
        [],
        ["schema", "menus"],
    ],
)
def test_wrong_use_of_a_command_is_two_and_one_sentence(house, arguments):
    done = menugen(*arguments, cwd=house.parent)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert done.stderr.strip()


def test_a_drink_is_worked_out_within_80_columns_and_in_json(house):
    done = menugen("drink", "marsh-sour", cwd=house)
    assert done.returncode == 0, done.stderr
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "aquafaba instead of egg white" in done.stdout
    told = json.loads(menugen("drink", "specs/marsh-sour.md", "--json", cwd=house).stdout)
    assert told["units"] == pytest.approx(2.0, abs=0.01)
    assert told["contains"] == ["eggs"]
    assert told["cost"]["known"].startswith("1.7")
    assert told["swaps"][0]["contains"] == []


def test_no_colour_reaches_a_pipe(house):
    (house / "stock/more.yaml").write_text("odd bottle:\n  botle: 700 ml\n", encoding="utf-8")
    assert "\x1b" not in menugen("check", ".", cwd=house).stderr
    assert "\x1b" not in menugen("drink", "marsh-sour", cwd=house).stdout


@pytest.mark.slow
def test_the_same_files_give_the_same_bytes_whatever_the_clock_and_the_language(house, tmp_path):
    for place, environment in (
        ("one", {"TZ": "Asia/Tokyo", "LC_ALL": "C"}),
        ("two", {"TZ": "UTC", "PYTHONHASHSEED": "7"}),
    ):
        done = menugen_alone("publish", "bar", "--to", str(tmp_path / place), cwd=house.parent, **environment)
        assert done.returncode == 0, done.stderr
    one, two = (
        {
            path.relative_to(tmp_path / place): path.read_bytes()
            for path in (tmp_path / place).rglob("*")
            if path.is_file() and path.suffix != ".lock"
        }
        for place in ("one", "two")
    )
    assert one == two
    assert len(one) > 10


def test_nothing_private_reaches_the_site(house):
    event = house / "events/small-supper.yaml"
    event.write_text("guests: 7741\n" + event.read_text("utf-8"), encoding="utf-8")
    stock = house / "stock/all.yaml"
    stock.write_text(
        stock.read_text("utf-8")
        .replace("price: 14.00", "price: 913.57")
        .replace("  abv: 40 %", "  note: cellar door\n  abv: 40 %"),
        encoding="utf-8",
    )
    assert menugen("publish", "bar", cwd=house.parent).returncode == 0
    told = b"".join(
        path.read_bytes() for path in (house / "out/small-supper/site").rglob("*") if path.is_file()
    )
    for secret in ("913.57", "cold tin", "Hidden Wharf", "cellar door", "7741", str(house), "Bar notes"):
        assert secret.encode() not in told, secret


def test_a_folder_menugen_did_not_make_is_never_replaced(house):
    (house / "out/small-supper").mkdir(parents=True)
    (house / "out/small-supper/thesis.txt").write_text("years of work", encoding="utf-8")
    done = menugen("publish", "bar", cwd=house.parent)
    assert done.returncode == 1
    assert (house / "out/small-supper/thesis.txt").read_text("utf-8") == "years of work"


def test_schemas_are_written_for_editors(tmp_path):
    assert menugen("schema", "--to", "schemas", cwd=tmp_path).returncode == 0
    kinds = sorted(path.name for path in (tmp_path / "schemas").iterdir())
    assert kinds == [
        "event.schema.json",
        "house.schema.json",
        "spec.schema.json",
        "stock.schema.json",
        "theme.schema.json",
    ]
    assert json.loads(menugen("schema", "spec", cwd=tmp_path).stdout)["$schema"].startswith(
        "https://json-schema.org/"
    )


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion_scripts_know_the_commands(tmp_path, shell):
    done = menugen("completion", shell, cwd=tmp_path)
    assert done.returncode == 0
    assert "publish" in done.stdout


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_a_shell_reads_its_completion_script(tmp_path, capsys, shell):
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"there is no {shell} on the PATH")
    assert main(["completion", shell]) == 0
    (tmp_path / "script").write_text(capsys.readouterr().out, encoding="utf-8")
    done = subprocess.run([program, "-n", tmp_path / "script"], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(shutil.which("bash") is None, reason="there is no bash on the PATH")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        (["pub"], ["publish"]),
        (["schema", "st"], ["stock"]),
        (["publish", "--rem"], ["--remove-gone"]),
        # A bare shell has no helpers but those of the script.
        (["publish", "my-"], ["my-bar"]),
        (["tidy", "my-bar", "my-"], ["my-bar"]),
    ],
)
def test_bash_completes_commands_options_and_files(tmp_path, capsys, typed, offered):
    (tmp_path / "my-bar").mkdir()
    assert main(["completion", "bash"]) == 0
    words = " ".join(["menugen", *typed])
    script = (
        f"{capsys.readouterr().out}\nCOMP_WORDS=({words})\nCOMP_CWORD={len(typed)}\n_shtab_menugen\n"
        'printf "%s\\n" "${COMPREPLY[@]}"\n'
    )
    done = subprocess.run(
        ["bash", "--norc", "--noprofile", "-c", script],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    assert done.stdout.split() == offered


def test_help_shows_an_example_for_every_command(tmp_path):
    told = menugen("--help", cwd=tmp_path).stdout
    for command in ("start", "check", "publish", "drink", "preview", "schema", "help", "completion"):
        assert command in told
        assert f"menugen {command}" in menugen(command, "--help", cwd=tmp_path).stdout.partition("example")[2]


def test_help_loads_none_of_the_heavy_libraries(tmp_path):
    code = (
        "import sys\nfrom menugen.cli.arguments import make_parser\nmake_parser().format_help()\n"
        "print(sorted({'pint', 'jinja2', 'babel', 'yaml', 'watchdog', 'segno'} & sys.modules.keys()))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "[]"
