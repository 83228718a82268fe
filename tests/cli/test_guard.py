"""What `menugen start` writes to stand guard over a house in git, run by git and by a shell as they would be."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml

from tests.revisions.repositories import Books, git

REPOSITORY = Path(__file__).resolve().parents[2]
NEGRONI = "specs/negroni.md"
GOOD, BROKEN = "glass: double rocks", "glass: no such"


@pytest.fixture
def environment(tmp_path, ready) -> dict[str, str]:
    """A shell that knows menugen, and of git nothing but who commits."""
    tools = tmp_path / "tools"
    tools.mkdir()
    shutil.copy(ready / "menugen", tools)
    who = {f"GIT_{role}_{what}": "bar" for role in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
    return {
        **os.environ,
        **who,
        "PYTHONPATH": str(REPOSITORY),
        "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}",
        "GIT_CONFIG_GLOBAL": os.devnull,
        "GIT_CEILING_DIRECTORIES": str(tmp_path),
    }


class Bar(Books):
    """A started house in a folder of a repository."""

    def __init__(self, top: Path, inside: str, environment: dict[str, str]) -> None:
        super().__init__(top / inside)
        self.top = top
        self.environment = environment

    def run(self, *command: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command, cwd=cwd or self.top, env=self.environment, capture_output=True, text=True, check=False
        )

    def guard(self, *arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
        script = self.house.relative_to(self.top) / "checks/guard.sh"
        return self.run("sh", str(script), *arguments, cwd=cwd)

    def committed(self, path: str) -> str:
        inside = (self.house / path).relative_to(self.top).as_posix()
        return self.run("git", "show", f"HEAD:{inside}").stdout


@pytest.fixture
def bar(tmp_path, environment) -> Bar:
    """A house below the top of its repository, with the hooks in place and nothing committed."""
    made = Bar(tmp_path / "repository", "Jo's bar", environment)
    assert made.run("menugen", "start", str(made.house), cwd=tmp_path).returncode == 0
    git(made.top, "init", "-q", "-b", "main", ".")
    git(made.top, "config", "core.hooksPath", "Jo's bar/checks")
    git(made.top, "add", ".")
    return made


@pytest.fixture
def begun(bar) -> Bar:
    git(bar.top, "commit", "-q", "--no-verify", "-m", "As we began")
    return bar


def to_run(done: subprocess.CompletedProcess[str]) -> list[str]:
    """Return the commands that it says to run."""
    return [
        line[2:]
        for line in done.stderr.splitlines()
        if re.match(r"  (git|menugen|sh|python3|apt-get|\.) ", line)
    ]


@pytest.mark.slow
def test_the_first_commit_of_all_is_looked_at_too(bar):
    bar.edit(NEGRONI, GOOD, BROKEN)
    git(bar.top, "add", ".")
    done = bar.run("git", "commit", "-qm", "Broken")
    assert done.returncode == 1
    assert f"{NEGRONI}:8:8: error[unknown-glass]" in done.stderr
    bar.edit(NEGRONI, BROKEN, GOOD)
    git(bar.top, "add", ".")
    done = bar.run("git", "commit", "-qm", "First")
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


@pytest.mark.slow
def test_the_hook_judges_what_is_staged_and_not_what_lies_there(begun):
    begun.edit(NEGRONI, GOOD, BROKEN)
    git(begun.top, "add", ".")
    begun.edit(NEGRONI, BROKEN, GOOD)
    assert begun.run("git", "commit", "-qm", "Broken").returncode == 1
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    git(begun.top, "add", ".")
    begun.edit(NEGRONI, GOOD, BROKEN)
    done = begun.run("git", "commit", "-qm", "Sound")
    assert done.returncode == 0, done.stderr
    assert "gin 30 ml -> 35 ml" in done.stdout + done.stderr
    assert "35 ml gin" in begun.committed(NEGRONI)
    assert GOOD in begun.committed(NEGRONI)
    assert BROKEN in (begun.house / NEGRONI).read_text("utf-8")


@pytest.mark.slow
def test_one_file_is_committed_past_another_that_is_staged_and_broken(begun):
    begun.edit("specs/saltmarsh-sour.md", "glass: ", "glass: no such ")
    git(begun.top, "add", ".")
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    done = begun.run("git", "commit", "-qm", "One", "--", str(begun.house / NEGRONI))
    assert done.returncode == 0, done.stderr
    assert begun.run("git", "commit", "-qm", "The other").returncode == 1


@pytest.mark.slow
def test_an_untidy_file_is_told_and_stops_the_commit(begun):
    begun.edit("events/first-night.yaml", "event: ", "event:   ")
    done = begun.run("git", "commit", "-qam", "Untidy")
    assert done.returncode == 1
    assert "events/first-night.yaml: not tidy" in done.stdout + done.stderr


@pytest.mark.slow
def test_what_repairs_a_house_that_could_not_be_read_may_be_committed(begun):
    begun.edit("house.yaml", "languages: [en]", "languages: [en")
    git(begun.top, "commit", "-q", "--no-verify", "-am", "Broken")
    begun.edit("house.yaml", "languages: [en", "languages: [en]")
    assert begun.run("git", "commit", "-qam", "Sound").returncode == 0


@pytest.mark.slow
def test_two_changes_that_do_not_go_together_are_not_merged(begun):
    git(begun.top, "checkout", "-q", "-b", "other")
    begun.edit("events/first-night.yaml", "off: []", "off:\n  - negroni")
    git(begun.top, "commit", "-q", "--no-verify", "-am", "Off")
    git(begun.top, "checkout", "-q", "main")
    (begun.house / NEGRONI).unlink()
    begun.edit("events/first-night.yaml", "      - negroni: 9.00\n\n", "")
    begun.edit(
        "events/first-night.yaml", "      - saltmarsh-sour: 9.50\n\n", "      - saltmarsh-sour: 9.50\n"
    )
    git(begun.top, "commit", "-q", "--no-verify", "-am", "Gone")
    done = begun.run("git", "merge", "-q", "-m", "Both", "other")
    assert done.returncode != 0
    assert "negroni" in done.stderr


def test_without_menugen_the_hook_says_so(begun):
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    tools = Path(begun.environment["PATH"].split(os.pathsep)[0])
    (tools / "menugen").unlink()
    begun.environment["PATH"] = f"{tools}{os.pathsep}/usr/bin{os.pathsep}/bin"
    done = begun.run("git", "commit", "-qam", "More gin")
    assert done.returncode == 1
    assert done.stderr.startswith("pre-commit: menugen is not on the path")
    assert "  git commit --no-verify    # commits it unchecked\n" in done.stderr


@pytest.mark.slow
@pytest.mark.parametrize("folder", ["", "events"])
def test_what_the_hook_says_to_run_makes_the_commit(begun, folder):
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    begun.edit("events/first-night.yaml", "event: ", "event:   ")
    begun.edit("house.yaml", "languages: [en]", "languages: [xx]")
    git(begun.top, "add", ".")
    at = begun.house / folder if folder else begun.top
    done = begun.run("git", "commit", "-qm", "Untidy", cwd=at)
    assert done.returncode == 1
    house = f"{begun.house}" if folder else begun.house.name
    typed = "'" + house.replace("'", "'\\''") + "'"
    assert to_run(done) == [
        f"menugen check {typed}",
        f"menugen tidy {typed}",
        f"git add -u {typed}",
        "git commit",
        "git commit --no-verify    # commits it unchecked",
    ]
    begun.edit("house.yaml", "languages: [xx]", "languages: [en]")
    for line in to_run(done)[:4]:
        finished = line.replace("git commit", "git commit -qm Tidy")
        assert begun.run("sh", "-c", finished, cwd=at).returncode == 0, line
    assert "event: " in begun.committed("events/first-night.yaml")
    assert begun.run("git", "status", "--short").stdout == ""


@pytest.mark.slow
def test_a_merge_that_is_stopped_is_named_and_may_be_finished(begun):
    git(begun.top, "checkout", "-q", "-b", "other")
    begun.edit(NEGRONI, GOOD, BROKEN)
    git(begun.top, "commit", "-q", "--no-verify", "-am", "Broken")
    git(begun.top, "checkout", "-q", "main")
    git(begun.top, "commit", "-q", "--no-verify", "--allow-empty", "-m", "Meanwhile")
    done = begun.run("git", "merge", "-q", "-m", "Both", "other")
    assert "pre-merge-commit: nothing was committed; do what it says above, then run:" in done.stderr
    begun.edit(NEGRONI, BROKEN, GOOD)
    for line in to_run(done)[:3]:
        finished = line.replace("git commit", "git commit -q --no-edit")
        assert begun.run("sh", "-c", finished).returncode == 0, line
    assert begun.run("git", "rev-parse", "--verify", "-q", "HEAD^2").returncode == 0


def test_a_menugen_that_does_not_start_is_not_taken_for_a_fault_of_the_house(begun):
    tools = Path(begun.environment["PATH"].split(os.pathsep)[0])
    (tools / "menugen").write_text("#!/bin/sh\necho no such library >&2; exit 1\n", encoding="utf-8")
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    done = begun.run("git", "commit", "-qam", "More gin")
    assert done.returncode == 1
    assert done.stderr.startswith(
        "no such library\npre-commit: menugen does not start, so nothing was checked"
    )
    assert to_run(done)[0].startswith("python3 -m pip install --force-reinstall ")


@pytest.mark.parametrize("code", [1, 2])
def test_a_house_that_cannot_be_looked_at_is_told_apart_from_one_with_faults(begun, code):
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    tools = Path(begun.environment["PATH"].split(os.pathsep)[0])
    (tools / "menugen").write_text(
        f"#!/bin/sh\ncase $1 in compare) echo what is wrong >&2; exit {code} ;; esac\n", encoding="utf-8"
    )
    done = begun.run("git", "commit", "-qam", "More gin")
    assert done.returncode == 1
    why = "pre-commit: menugen could not look at all of it, so nothing was committed;"
    assert (why in done.stderr) == (code == 2)
    assert to_run(done) == ["git commit", "git commit --no-verify    # commits it unchecked"]


def test_what_git_cannot_write_down_is_said_with_what_to_run(begun):
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    git(begun.top, "add", ".")
    oid = git(begun.top, "rev-parse", f":{begun.house.name}/{NEGRONI}")
    (begun.top / ".git/objects" / oid[:2] / oid[2:]).unlink()
    done = begun.run("sh", f"{begun.house.name}/checks/pre-commit")
    assert done.returncode == 1
    assert "negroni.md of what is staged is missing or damaged" in done.stderr
    assert '"git fsck" tells what is wrong' in done.stderr
    assert "pre-commit: menugen could not look at all of it" in done.stderr


@pytest.mark.slow
def test_a_change_that_adds_the_house_has_nothing_to_be_compared_with(bar):
    git(bar.top, "rm", "-rq", "--cached", ".")
    (bar.top / "notes.txt").write_text("Soon.\n", encoding="utf-8")
    git(bar.top, "add", "notes.txt")
    git(bar.top, "commit", "-q", "--no-verify", "-m", "Before")
    git(bar.top, "checkout", "-q", "-b", "change")
    git(bar.top, "add", ".")
    git(bar.top, "commit", "-q", "--no-verify", "-m", "The house")
    done = bar.guard("main")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("The house is new: ")
    said = " ".join(done.stdout.split())
    assert said.endswith(" has none, so there is nothing to compare it with.")
    bar.edit(NEGRONI, GOOD, BROKEN)
    git(bar.top, "commit", "-q", "--no-verify", "-am", "Broken")
    assert bar.guard("main").returncode == 1


@pytest.fixture
def changed(begun) -> Bar:
    """A change with a word more, beside a main branch that has moved on."""
    git(begun.top, "checkout", "-q", "-b", "change")
    begun.edit(NEGRONI, "## Bar notes", "A word more.\n\n## Bar notes")
    git(begun.top, "commit", "-q", "--no-verify", "-am", "A word")
    git(begun.top, "checkout", "-q", "main")
    git(begun.top, "commit", "-q", "--no-verify", "--allow-empty", "-m", "Meanwhile")
    git(begun.top, "checkout", "-q", "change")
    return begun


@pytest.mark.slow
def test_the_guard_runs_from_any_folder(changed):
    for at in (changed.top, changed.house, changed.house / "checks", changed.house / "specs"):
        done = changed.run("sh", os.path.relpath(changed.house / "checks/guard.sh", at), "main", cwd=at)
        assert done.returncode == 0, done.stderr
        assert "No fact changed." in done.stdout
    changed.edit(
        "stock/behind-the-bar.yaml", "  contains: none\n  distilled", "  contains: [almond]\n  distilled"
    )
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Almond")
    done = changed.guard("main")
    assert done.returncode == 1
    assert "ALLERGENS GAINED" in done.stdout


@pytest.mark.slow
@pytest.mark.parametrize(
    ("cloned", "base", "says"),
    [
        (["--depth", "1", "--no-single-branch"], "origin/main", "holds only the newest commits"),
        (["--depth", "1"], "origin/main", 'git knows no revision "origin/main" here'),
        ([], "origin/nowhere", 'git knows no revision "origin/nowhere" here'),
    ],
)
def test_what_cannot_be_compared_is_said_with_what_to_run(changed, tmp_path, cloned, base, says):
    clone = tmp_path / "clone"
    git(tmp_path, "clone", "-q", *cloned, "-b", "change", changed.top.as_uri(), str(clone))
    done = changed.guard(base, cwd=clone)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("menugen: ")
    assert says in done.stderr
    *brings, again = to_run(done)
    assert (len(brings), again) == (1, f"sh 'Jo'\\''s bar/checks/guard.sh' {base}")
    if base == "origin/main":
        # As they stand, until it has what it needs.
        for _ in range(2):
            for line in (*brings, again):
                done = changed.run("sh", "-c", line, cwd=clone)
            *brings, again = to_run(done) or [again]
        assert done.returncode == 0, done.stderr


@pytest.mark.slow
def test_no_repository_and_no_common_commit_are_said_with_what_to_run(changed):
    git(changed.top, "checkout", "-q", "--orphan", "lone")
    git(changed.top, "commit", "-q", "--no-verify", "-m", "Lone")
    done = changed.guard("main")
    assert done.returncode == 2
    assert (
        "menugen: main and this branch have no commit in common, so there is nothing to compare"
        in done.stderr
    )
    listed = changed.run("sh", "-c", to_run(done)[0])
    assert {"change", "main", "* lone"} == {line.strip() for line in listed.stdout.splitlines()}
    (changed.top / ".git").rename(changed.top / "git")
    done = changed.guard("main")
    assert done.returncode == 2
    assert "is not in a git repository; run:\n  git clone ADDRESS-OF-THE-HOUSE " in done.stderr


@pytest.mark.slow
def test_what_stops_a_change_is_said_with_what_to_run(changed):
    changed.edit(NEGRONI, GOOD, BROKEN)
    changed.edit("events/first-night.yaml", "event: ", "event:   ")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Broken")
    done = changed.guard("main")
    assert done.returncode == 1
    here = "'" + str(changed.house).replace("'", "'\\''") + "'"
    again = "sh 'Jo'\\''s bar/checks/guard.sh' main"
    assert to_run(done) == [
        f"git -C {here} merge main     # what is wrong may come of both together",
        f"menugen check {here}",
        f"menugen tidy {here}",
        f"git -C {here} commit -a",
        again,
    ]
    changed.edit(NEGRONI, BROKEN, GOOD)
    for line in to_run(done):
        if "git -C" not in line or "merge" not in line:
            finished = line.replace("commit -a", "commit -qam Mended")
            assert changed.run("sh", "-c", finished, cwd=changed.top).returncode == 0, line
    changed.edit(
        "stock/behind-the-bar.yaml", "  contains: none\n  distilled", "  contains: [almond]\n  distilled"
    )
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Almond")
    done = changed.guard("main")
    assert (done.returncode, to_run(done)) == (1, [f"menugen compare {here} main --merged HEAD", again])
    assert "menugen: if that is intended, merge by hand: there is nothing to put right\n" in done.stderr


def test_the_guard_says_what_to_run_where_a_tool_is_missing_or_does_not_start(changed):
    tools = Path(changed.environment["PATH"].split(os.pathsep)[0])
    (tools / "menugen").write_text("#!/nowhere/python\n", encoding="utf-8")
    done = changed.guard("main")
    assert (done.returncode, "guard: menugen does not start; run:" in done.stderr) == (2, True)
    assert to_run(done)[0].startswith("python3 -m pip install --force-reinstall ")
    (tools / "menugen").unlink()
    changed.environment["PATH"] = f"{tools}{os.pathsep}/usr/bin{os.pathsep}/bin"
    done = changed.guard("main")
    assert (done.returncode, "guard: menugen is not on the path; run:" in done.stderr) == (2, True)
    assert to_run(done)[0].startswith("python3 -m pip install ")


@pytest.mark.slow
def test_the_ready_texts_run_the_guard_in_a_clone_as_a_host_makes_it(changed, tmp_path):
    text = (changed.house / "checks/README.md").read_text("utf-8")
    blocks = re.findall(r"```yaml\n(.*?)```", text, re.DOTALL)
    # Every value as text: to the other loaders "on" is no word.
    workflow, pipeline = (yaml.load(block, yaml.BaseLoader) for block in blocks)  # noqa: S506  # it makes texts alone
    assert workflow["on"] == ["pull_request"]
    steps = [step["run"] for step in workflow["jobs"]["guard"]["steps"] if "run" in step]
    script = pipeline["guard"]["script"]
    clone = tmp_path / "clone"
    git(tmp_path, "clone", "-q", "-b", "change", changed.top.as_uri(), str(clone))
    inside = clone / changed.house.relative_to(changed.top)
    for commands in (steps, script):
        lines = [line for line in commands if "pip install" not in line]
        assert len(lines) == len(commands) - 1
        done = changed.run("sh", "-ec", "\n".join(lines), cwd=inside)
        assert done.returncode == 0, done.stderr
        assert "No fact changed." in done.stdout


@pytest.mark.slow
def test_what_is_made_and_what_was_left_half_done_is_not_committed(begun):
    for name in ("out/first-night/site/index.html", "specs/.tidy-a1b2"):
        begun.write(name, "x")
    assert begun.run("git", "status", "--short").stdout == ""


def almond(bar: Bar, name: str) -> None:
    """Let the label of a bottle say that it contains almonds."""
    text = (bar.house / STOCK).read_text("utf-8")
    begun = text.index(f"\n{name}:\n")
    bar.write(STOCK, text[:begun] + text[begun:].replace("contains: none", "contains: [almond]", 1))


STOCK = "stock/behind-the-bar.yaml"


@pytest.mark.slow
def test_the_guard_compares_with_what_the_merge_gives(changed):
    """Neither side alone lets a drink contain almonds: one buys another bottle, the other lets the drink pour it."""
    before = git(changed.top, "count-objects", "-v")
    assert changed.guard("main").returncode == 0
    assert git(changed.top, "count-objects", "-v") == before
    git(changed.top, "checkout", "-q", "main")
    bottle = "orgeat:\n  bottle: 700 ml\n  price: 9.00\n  sugar: 600 g/l\n  contains: none\n  checked: 2026-11-01\n"
    changed.write("stock/syrups.yaml", bottle)
    git(changed.top, "add", ".")
    git(changed.top, "commit", "-q", "--no-verify", "-m", "A syrup")
    git(changed.top, "checkout", "-q", "change")
    git(changed.top, "merge", "-q", "--no-verify", "-m", "Both", "main")
    changed.edit(NEGRONI, "  - 30 ml gin", "  - 5 ml orgeat\n  - 30 ml gin")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Pour it")
    git(changed.top, "checkout", "-q", "main")
    changed.edit("stock/syrups.yaml", "contains: none", "contains: [almond]")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Read the label again")
    git(changed.top, "checkout", "-q", "change")
    merge_base = git(changed.top, "merge-base", "main", "HEAD")
    alone = changed.run("menugen", "compare", changed.house.name, merge_base, "HEAD")
    assert "ALLERGENS GAINED" not in alone.stdout
    done = changed.guard("main")
    assert done.returncode == 1
    assert "ALLERGENS GAINED" in done.stdout
    assert "almonds" in done.stdout
    assert " merged into it (2026-11-01, Pour it)\n" in done.stdout


@pytest.mark.slow
def test_a_change_that_cannot_be_merged_is_stopped_and_looked_at_all_the_same(changed):
    almond(changed, "garden gin")
    changed.edit("events/first-night.yaml", "event: First", "event: The first")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Almond")
    git(changed.top, "checkout", "-q", "main")
    changed.edit("events/first-night.yaml", "event: First", "event: Our first")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "Ours")
    git(changed.top, "checkout", "-q", "change")
    done = changed.guard("main")
    assert done.returncode == 1
    assert "ALLERGENS GAINED" in done.stdout
    assert (
        "menugen: HEAD cannot be merged into main as it is, for both change: Jo's bar/events/first-night.yaml; run:"
        in done.stderr
    )
    assert to_run(done)[0].endswith("' merge main")
    assert "nothing to put right" not in done.stderr
    assert git(changed.top, "status", "--short") == ""


@pytest.mark.slow
def test_the_guard_looks_at_all_of_it_and_tells_allergens_first(changed):
    almond(changed, "garden gin")
    changed.edit("events/first-night.yaml", "event: ", "event:   ")
    changed.edit("specs/saltmarsh-sour.md", "glass: ", "glass: no such ")
    git(changed.top, "commit", "-q", "--no-verify", "-am", "All at once")
    done = changed.run("sh", "-c", f"sh {changed.top.as_posix()!r}/Jo\\'s\\ bar/checks/guard.sh main 2>&1")
    assert done.returncode == 1
    gained = done.stdout.index("!! ALLERGENS GAINED")
    faulty = done.stdout.index("saltmarsh-sour.md:")
    untidy = done.stdout.index("events/first-night.yaml: not tidy")
    assert gained < faulty < untidy
    assert done.stdout.count("unknown-glass") == 1
    assert "checks/.." not in done.stdout


@pytest.mark.slow
def test_a_house_that_moved_while_its_label_changed_does_not_pass(begun):
    git(begun.top, "checkout", "-q", "-b", "change")
    begun.house = begun.house.rename(begun.top / "Größe 1")
    almond(begun, "garden gin")
    git(begun.top, "add", "-A")
    git(begun.top, "commit", "-q", "--no-verify", "-m", "Moved")
    done = begun.guard("main")
    assert done.returncode == 1
    assert "ALLERGENS GAINED" in done.stdout


@pytest.mark.slow
def test_a_git_that_cannot_tell_what_a_merge_gives_lets_nothing_pass(changed):
    tools = Path(changed.environment["PATH"].split(os.pathsep)[0])
    real = shutil.which("git")
    (tools / "git").write_text(
        '#!/bin/sh\nfor word in "$@"; do case $word in --write-tree)\n'
        'echo "usage: git merge-tree <base-tree> <branch1> <branch2>" >&2; exit 129 ;; esac; done\n'
        f'exec "{real}" "$@"\n',
        encoding="utf-8",
    )
    (tools / "git").chmod(0o755)
    done = changed.guard("main")
    assert done.returncode == 2
    assert "cannot tell what merging gives: it takes git 2.38 or newer" in done.stderr
    # Where nothing is to be merged, it need not.
    assert changed.run("sh", "-c", to_run(done)[0]).returncode == 0
    done = changed.guard("main")
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.slow
def test_the_hook_is_one_process_and_reads_no_working_file(begun):
    tools = Path(begun.environment["PATH"].split(os.pathsep)[0])
    log = begun.top.parent / "log"
    (tools / "menugen").rename(tools / "real")
    (tools / "menugen").write_text(
        f'#!/bin/sh\necho "$@" >> "{log}"\nexec "{tools}/real" "$@"\n', encoding="utf-8"
    )
    (tools / "menugen").chmod(0o755)
    almond(begun, "garden gin")
    git(begun.top, "add", ".")
    for path in begun.house.glob("s*/*"):
        path.unlink()
    done = begun.run("git", "commit", "-qm", "Almond")
    assert done.returncode == 0, done.stderr
    assert "ALLERGENS GAINED" in done.stdout + done.stderr
    assert len(log.read_text("utf-8").splitlines()) == 1


@pytest.mark.slow
def test_the_hook_passes_by_an_untidy_file_that_the_commit_leaves_as_it_is(begun):
    begun.edit("events/first-night.yaml", "event: ", "event:   ")
    git(begun.top, "commit", "-q", "--no-verify", "-am", "Untidy")
    begun.edit(NEGRONI, "30 ml gin", "35 ml gin")
    assert begun.run("git", "commit", "-qam", "More gin").returncode == 0
