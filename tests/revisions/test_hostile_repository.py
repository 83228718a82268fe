"""A repository from a stranger: whatever program it names, no command runs it."""

import os
import shutil
import subprocess
import sys
import tempfile
import weakref
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import pytest

from menugen.cli import main
from menugen.preview.pages import make_pages
from menugen.reading import BrokenLink, DiskFiles, read_house
from menugen.revisions import calls
from menugen.revisions.calls import Git, NoHistory, ask, run
from menugen.revisions.git import commits, find_repository
from menugen.revisions.objects import Objects
from menugen.revisions.revision import files_at
from menugen.revisions.version import Stamp, stamp_of, themes_of
from tests.houses import texts
from tests.revisions.repositories import Books, books, git

HOOKS = (
    *("applypatch-msg", "pre-applypatch", "post-applypatch", "pre-commit", "pre-merge-commit", "commit-msg"),
    *(
        "prepare-commit-msg",
        "post-commit",
        "pre-rebase",
        "post-checkout",
        "post-merge",
        "pre-push",
        "pre-receive",
    ),
    *("update", "proc-receive", "post-receive", "post-update", "reference-transaction", "push-to-checkout"),
    *("pre-auto-gc", "post-rewrite", "sendemail-validate", "fsmonitor-watchman", "post-index-change"),
)

SETTINGS = """\
[core]
    fsmonitor = {run}/core.fsmonitor
    hooksPath = {run}/hooks
    pager = {run}/core.pager
    editor = {run}/core.editor
    sshCommand = {run}/core.sshCommand
    gitProxy = {run}/core.gitProxy
    askPass = {run}/core.askPass
    alternateRefsCommand = {run}/core.alternateRefsCommand
[pager]
    log = {run}/pager.log
    cat-file = {run}/pager.cat-file
    ls-files = {run}/pager.ls-files
[alias]
    log = !{run}/alias.log
    status = !{run}/alias.status
    cat-file = !{run}/alias.cat-file
    rev-parse = !{run}/alias.rev-parse
[filter "it"]
    clean = {run}/filter.clean
    smudge = {run}/filter.smudge
    process = {run}/filter.process
    required = true
[filter "lfs"]
    clean = {run}/filter.lfs.clean
[diff]
    external = {run}/diff.external
    submodule = log
[diff "it"]
    command = {run}/diff.command
    textconv = {run}/diff.textconv
[merge "it"]
    driver = {run}/merge.driver
[gpg]
    program = {run}/gpg.program
[gpg "ssh"]
    program = {run}/gpg.ssh.program
    defaultKeyCommand = {run}/gpg.ssh.defaultKeyCommand
[log]
    showSignature = true
[credential]
    helper = !{run}/credential.helper
[uploadpack]
    packObjectsHook = {run}/uploadpack.packObjectsHook
[protocol]
    allow = always
[submodule]
    recurse = true
[status]
    submoduleSummary = true
[remote "origin"]
    url = ext::{run}/remote.url
    uploadpack = {run}/remote.uploadpack
    promisor = true
    partialclonefilter = blob:none
[extensions]
    partialClone = origin
[trailer "it"]
    command = {run}/trailer.command
[interactive]
    diffFilter = {run}/interactive.diffFilter
[browser "it"]
    cmd = {run}/browser.cmd
[include]
    path = {run}/included
"""

ATTRIBUTES = "* filter=lfs diff=it merge=it text\n*.yaml filter=it\n"

VARIABLES = {
    **dict.fromkeys(("GIT_EXTERNAL_DIFF", "GIT_SSH_COMMAND", "GIT_SSH", "GIT_ASKPASS"), "{run}/variable"),
    **dict.fromkeys(
        ("GIT_PAGER", "GIT_EDITOR", "GIT_SEQUENCE_EDITOR", "GIT_PROXY_COMMAND"), "{run}/variable"
    ),
    **dict.fromkeys(("GIT_TRACE", "GIT_TRACE_SETUP", "GIT_TRACE2", "GIT_TRACE2_EVENT"), "{run}/ran/trace"),
    "GIT_CONFIG_COUNT": "1",
    "GIT_CONFIG_KEY_0": "core.fsmonitor",
    "GIT_CONFIG_VALUE_0": "{run}/variable",
    "GIT_CONFIG_PARAMETERS": "'core.fsmonitor'='{run}/variable'",
    "GIT_EXEC_PATH": "{run}",
    "GIT_DIR": "{run}/nowhere",
    "GIT_ALLOW_PROTOCOL": "ext:file:it",
}

COMMANDS = {
    "check": ("check",),
    "check --at": ("check", "--at", "HEAD~1"),
    "publish": ("publish",),
    "publish --at": ("publish", "--at", "HEAD~1", "--to", "elsewhere"),
    "compare": ("compare",),
    "compare two": ("compare", "HEAD~1", "HEAD"),
    "compare since a day": ("compare", "2026-11-01"),
    "compare --staged": ("compare", "--staged", "--fail-on", "problems"),
    "compare --merged": ("compare", "HEAD~1", "--merged", "HEAD"),
    "served": ("served", "2026-12"),
    "served from": ("served", "HEAD"),
    "drink": ("drink", "marsh-sour"),
    "drink --at": ("drink", "marsh-sour", "--at", "HEAD"),
    "drink --history": ("drink", "marsh-sour", "--history"),
    "tidy": ("tidy", "--check"),
    "tidy --at": ("tidy", "--check", "--at", "HEAD"),
}

OFF = {
    "core.fsmonitor": "false",
    "core.hooksPath": os.devnull,
    "core.attributesFile": os.devnull,
    "log.showSignature": "false",
    "credential.helper": "",
    "submodule.recurse": "false",
    "safe.bareRepository": "explicit",
    "core.bigFileThreshold": "1m",
}
"""What every call sets, whatever the repository says."""

ASKED = {
    "rev-parse",
    "log",
    "rev-list",
    "cat-file",
    "ls-files",
    "ls-tree",
    "merge-base",
    "merge-tree",
    "config",
}
"""What git is ever asked for: none of these looks at a file of the working tree, or runs what an attribute names."""


def program(path: Path, does: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{does}\n", encoding="utf-8")
    path.chmod(0o755)


class Trap:
    """Programs that leave a file when they are run, one for each place where a repository can name one.

    Most of those places are lines for a shell, so the folder is one without a space, whatever TMPDIR says.
    """

    def __init__(self) -> None:
        self.folder = folder = Path(tempfile.mkdtemp(dir="/tmp" if " " in tempfile.gettempdir() else None))  # noqa: S108
        weakref.finalize(self, shutil.rmtree, folder)
        self.ran = folder / "ran"
        self.ran.mkdir()
        settings = SETTINGS.format(run=folder)
        names = {word.rpartition("/")[2] for word in settings.split() if str(folder) in word}
        for name in (names - {"hooks", "included"}) | {"variable", "git-remote-ext"}:
            program(folder / name, f'touch "{self.ran}/{name}"; exit 1')
        for hook in HOOKS:
            program(folder / "hooks" / hook, f'touch "{self.ran}/hook.{hook}"')
        (folder / "included").write_text(f"[core]\n\tfsmonitor = {folder}/core.fsmonitor\n", encoding="utf-8")

    def sprung(self) -> set[str]:
        return {path.name for path in self.ran.iterdir()}

    def set(self, worktree: Path, own: Path) -> None:
        """Set it in a repository: in its settings, its hooks and its attributes."""
        with (own / "config").open("a", encoding="utf-8") as config:
            config.write(SETTINGS.format(run=self.folder))
        git(worktree, "config", "core.repositoryformatversion", "1")
        shutil.copytree(self.folder / "hooks", own / "hooks", dirs_exist_ok=True)
        (own / "info").mkdir(exist_ok=True)
        (own / "info/attributes").write_text(ATTRIBUTES, encoding="utf-8")


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> tuple[Path, Trap, str]:
    """A house with a submodule, both from a stranger, with one commit that is signed and one file that is not here."""
    folder = tmp_path_factory.mktemp("hostile")
    library = books(folder / "library", {"specs/long-walk.md": texts()["specs/marsh-sour.md"]})
    house = books(folder / "bar")
    add = ["-c", "protocol.file.allow=always", "submodule", "add", "-q"]
    git(house.house, *add, str(library.house), "library")
    house.edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nspecs: [specs, library/specs]")
    house.write(".gitattributes", ATTRIBUTES)
    house.write("photos/marsh-sour.jpg", "no picture, and not even here")
    house.commit("As we began")
    house.edit("specs/marsh-sour.md", "50 ml", "45 ml")
    house.commit("Weaker", day="2026-11-20")
    # A second house, which is added and not yet committed.
    house.write("second/house.yaml", texts()["house.yaml"])
    git(house.house, "add", "second/house.yaml")
    signed = git(house.house, "cat-file", "commit", "HEAD").replace(
        "\n\n", "\ngpgsig -----BEGIN PGP SIGNATURE-----\n \n x\n -----END PGP SIGNATURE-----\n\n", 1
    )
    (folder / "signed").write_text(f"{signed}\n", encoding="utf-8")
    oid = git(house.house, "hash-object", "-t", "commit", "-w", str(folder / "signed"))
    git(house.house, "update-ref", "refs/heads/main", oid)
    lost = git(house.house, "rev-parse", "HEAD~1:photos/marsh-sour.jpg")
    (house.house / ".git/objects" / lost[:2] / lost[2:]).unlink()
    trap = Trap()
    trap.set(house.house, house.house / ".git")
    trap.set(house.house / "library", house.house / ".git/modules/library")
    program(house.house / "git", f'touch "{trap.ran}/git-of-the-house"')
    shutil.copy(house.house / "git", house.house / "git.exe")
    program(house.house / "tools/git", f'touch "{trap.ran}/git-of-a-folder"')
    # Git looks into a file again whose times are other than it knows.
    for path in house.house.rglob("*.*"):
        if ".git" not in path.parts:
            os.utime(path, (1, 1))
    return house.house, trap, oid[:7]


@pytest.fixture
def hostile(made, monkeypatch) -> Iterator[tuple[Path, Trap, Path]]:
    """The same; every call of git is written down by a git that stands before the machine's own."""
    house, trap, _ = made
    for path in trap.ran.iterdir():
        path.unlink()
    log = trap.folder / "log"
    log.mkdir(exist_ok=True)
    for path in log.iterdir():
        path.unlink()
    real = shutil.which("git")
    program(
        trap.folder / "first/git",
        f'printf "%s\\n" "$@" > "{log}/$$.words"; env > "{log}/$$.variables"; exec "{real}" "$@"',
    )
    monkeypatch.setenv("PATH", f":.:tools:{trap.folder / 'first'}:{os.environ['PATH']}")
    monkeypatch.chdir(house)
    yield house, trap, log
    assert trap.sprung() == set()


def under_variables(monkeypatch: pytest.MonkeyPatch, trap: Trap) -> None:
    for name, value in VARIABLES.items():
        monkeypatch.setenv(name, value.format(run=trap.folder))


def called(log: Path) -> list[list[str]]:
    """Return the words of each call, without those that come before what is asked."""
    return [path.read_text("utf-8").splitlines() for path in sorted(log.glob("*.words"))]


@pytest.mark.slow
@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_runs_what_a_repository_names(hostile, command, monkeypatch, capsys):
    house, trap, log = hostile
    under_variables(monkeypatch, trap)
    code = main(COMMANDS[command])
    said = capsys.readouterr()
    assert (code == 0) != command.startswith("tidy"), said.err
    assert said.out or command.startswith(("check", "publish"))
    words = called(log)
    assert words or command in ("tidy", "drink")
    for call in words:
        settings = dict(pair.split("=", 1) for flag, pair in pairwise(call) if flag == "-c")
        assert settings == OFF
        asked = call[call.index("-C") + 2 + 2 * len(settings) :]
        assert next(word for word in asked if not word.startswith("-")) in ASKED, asked
    for path in log.glob("*.variables"):
        names = {line.partition("=")[0] for line in path.read_text("utf-8").splitlines()}
        assert {name for name in names if name.startswith("GIT_")} == {
            "GIT_ALLOW_PROTOCOL",
            "GIT_NO_LAZY_FETCH",
            "GIT_OPTIONAL_LOCKS",
            "GIT_TERMINAL_PROMPT",
        }
        assert "GIT_ALLOW_PROTOCOL=none\n" in path.read_text("utf-8")
    shutil.rmtree(house / "out", ignore_errors=True)
    shutil.rmtree(house / "elsewhere", ignore_errors=True)


@pytest.mark.slow
def test_neither_the_preview_nor_a_house_begun_beside_runs_it(hostile):
    house, _, log = hostile
    assert "index.html" in make_pages(house, None).files
    assert len(called(log)) > 3
    assert main(("start", "../third", "--quiet")) == 0
    assert stamp_of(house / "second", DiskFiles(house / "second")).uncommitted
    assert any("ls-files" in call for call in called(log))
    shutil.rmtree(house.parent / "third")


def test_the_committed_house_is_still_known_for_what_it_is(hostile, made):
    house, _, short = made
    assert stamp_of(house, DiskFiles(house)) == Stamp(short, uncommitted=False)
    spec = house / "library/specs/long-walk.md"
    before = spec.read_bytes()
    spec.write_bytes(before + b"\nOne word more.\n")
    assert stamp_of(house, DiskFiles(house)) == Stamp(short, uncommitted=True)
    spec.write_bytes(before)


def test_the_trap_is_one(made, monkeypatch):
    """What git does by itself in that repository; without this the tests above would prove nothing."""
    house, trap, _ = made
    for words in (
        ("status",),
        ("-C", "library", "status"),
        ("log", "-1"),
        ("diff", "HEAD~1", "HEAD"),
        ("cat-file", "blob", "HEAD~1:photos/marsh-sour.jpg"),
    ):
        subprocess.run(("git", *words), cwd=house, capture_output=True, check=False)
    assert trap.sprung() >= {
        *(
            "filter.process",
            "filter.lfs.clean",
            "core.fsmonitor",
            "gpg.program",
            "diff.command",
            "remote.url",
        ),
        "hook.post-index-change",
    }
    for path in trap.ran.iterdir():
        path.unlink()
    under_variables(monkeypatch, trap)
    monkeypatch.delenv("GIT_DIR")
    subprocess.run(("git", "-C", str(house.parent / "library"), "status"), capture_output=True, check=False)
    assert trap.sprung() == {"variable", "trace"}
    for path in trap.ran.iterdir():
        path.unlink()
    monkeypatch.setenv("PATH", f":{os.environ['PATH']}")
    monkeypatch.chdir(house)
    assert Path(shutil.which("git") or "").resolve() == house / "git"


def test_no_git_is_taken_from_the_folder_one_is_in(tmp_path, monkeypatch):
    house = books(tmp_path)
    program(tmp_path / "git", f'touch "{tmp_path}/ran"')
    program(tmp_path / "tools/git", f'touch "{tmp_path}/ran"')
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", ":.:tools:")
    with pytest.raises(NoHistory, match="there is no git on this machine"):
        find_repository(house.house)
    assert not (tmp_path / "ran").exists()


def test_a_folder_laid_out_as_a_repository_is_none(tmp_path):
    """A clone brings such a folder, and with it settings that name programs; no .git warns of it."""
    trap = Trap()
    house = books(tmp_path / "bar")
    inner = house.house / "inner"
    git(house.house, "clone", "-q", "--bare", ".", str(inner))
    # So that git takes its files to lie beside those settings.
    git(inner, "config", "core.bare", "false")
    git(inner, "config", "core.worktree", str(inner))
    trap.set(inner, inner)
    for name, text in texts().items():
        house.write(f"inner/{name}", text)
    with pytest.raises(NoHistory):
        find_repository(inner)
    assert main(("check", str(inner))) == 0
    assert trap.sprung() == set()


def test_a_repository_whose_files_are_said_to_be_elsewhere_is_refused(tmp_path):
    other = books(tmp_path / "other")
    house = books(tmp_path / "bar")
    git(house.house, "config", "core.worktree", str(other.house))
    with pytest.raises(
        NoHistory, match=r'says that its files are in .*other; "git config --unset core.worktree"'
    ):
        find_repository(house.house)
    git(house.house, "config", "core.worktree", str(tmp_path))
    with pytest.raises(NoHistory, match="says that its files are in"):
        find_repository(house.house)
    git(house.house, "config", "core.worktree", "..")
    assert find_repository(house.house).top == house.house


def test_a_repository_that_is_trusted_by_the_environment_alone_is_read(tmp_path, monkeypatch):
    house = books(tmp_path)
    monkeypatch.setenv("GIT_TEST_ASSUME_DIFFERENT_OWNER", "1")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_COUNT", "2")
    monkeypatch.setenv("GIT_CONFIG_KEY_0", "core.pager")
    monkeypatch.setenv("GIT_CONFIG_VALUE_0", "cat")
    monkeypatch.setenv("GIT_CONFIG_KEY_1", "Safe.Directory")
    monkeypatch.setenv("GIT_CONFIG_VALUE_1", str(house.house))
    assert find_repository(house.house).top == house.house
    assert calls._trusted_folders() == [str(house.house)]
    for count in ("1", "-1", "many", ""):
        monkeypatch.setenv("GIT_CONFIG_COUNT", count)
        with pytest.raises(NoHistory, match="belongs to another user"):
            find_repository(house.house)


def head_of(house: Books) -> Path:
    return house.house / ".git/HEAD"


def spec_of(house: Books) -> Path:
    oid = git(house.house, "rev-parse", "HEAD:specs/marsh-sour.md")
    return house.house / ".git/objects" / oid[:2] / oid[2:]


@pytest.mark.slow
@pytest.mark.parametrize("where", [head_of, spec_of])
def test_a_pipe_among_gits_own_files_is_not_waited_for(tmp_path, monkeypatch, where: Callable[[Books], Path]):
    house = books(tmp_path)
    path = where(house)
    path.unlink()
    os.mkfifo(path)
    monkeypatch.setattr(calls, "LONGEST_S", 0.3)
    with pytest.raises(NoHistory, match="git has not answered for 0 seconds"):
        read_house(files_at(house.house, "HEAD"))
    assert stamp_of(house.house, DiskFiles(house.house)).uncommitted == (where is head_of)


def test_an_answer_without_end_is_not_waited_for(tmp_path, monkeypatch):
    house = books(tmp_path)
    monkeypatch.setattr(calls, "LARGEST_ANSWER_BYTES", 20)
    with pytest.raises(NoHistory, match=r"more about .* than can be looked at"):
        run(house.house, "cat-file", "-p", "HEAD:specs/marsh-sour.md")
    assert ask(house.house, "rev-parse", "--is-shallow-repository") == b"false\n"


def test_a_subject_without_end_is_cut(tmp_path):
    house = books(tmp_path)
    house.commit("Long", day="2026-11-02")
    (tmp_path / "message").write_text("x" * 500_000, encoding="utf-8")
    git(house.house, "commit", "-q", "--allow-empty", "-F", "message", day="2026-11-03")
    house.commit("Short", day="2026-11-04")
    subjects = [commit.subject for commit in commits(house.house, "HEAD")]
    assert [len(subject) < 4096 for subject in subjects] == [True] * 4
    assert [subject[:5] for subject in subjects] == ["Short", "xxxxx", "Long", "As we"]


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lets one program limit another")
def test_git_has_no_more_memory_than_it_needs(tmp_path):
    import resource

    house = books(tmp_path)
    with Git(house.house, "cat-file", "--batch", spoken_to=True) as asked:
        soft, _ = resource.prlimit(asked._process.pid, resource.RLIMIT_DATA)
    assert soft == calls.MOST_MEMORY_BYTES


def test_of_what_is_too_large_the_content_is_never_asked_for(tmp_path):
    house = books(tmp_path)
    house.write("specs/long.md", "x" * 2_000_000)
    house.write("themes/own/long.ttf", "x" * 2_000_000)
    house.commit("Large")
    objects = Objects(house.house)
    oid = git(house.house, "rev-parse", "HEAD:specs/long.md")
    assert objects.read(oid, 100) == ("blob", bytes(101))
    assert objects._contents._git is None
    assert objects.read(oid, 2_000_000) == ("blob", b"x" * 2_000_000)
    files = files_at(house.house, "HEAD")
    assert [one.code for one in read_house(files).problems] == ["file-too-large"]
    assert len(files.read("specs/long.md")) == 1024**2 + 1
    with themes_of(house.house, files) as folder:
        assert (folder / "own/long.ttf").stat().st_size == 2_000_000


def test_a_link_that_is_longer_than_any_path_is_not_read(tmp_path):
    house = books(tmp_path)
    house.write("long", "x/" * 1_000_000)
    oid = git(house.house, "hash-object", "-w", "long")
    git(house.house, "update-index", "--add", "--cacheinfo", f"120000,{oid},specs/away.md")
    git(house.house, "commit", "-qm", "Long")
    with pytest.raises(BrokenLink, match="longer than any that leads somewhere") as lost:
        files_at(house.house, "HEAD").read("specs/away.md")
    assert len(str(lost.value)) < 200


def tree(house: Books, *lines: str) -> str:
    """Write a folder straight into git, as no checkout would; names may be any."""
    told = subprocess.run(
        ("git", "mktree", "--missing"),
        cwd=house.house,
        input="".join(f"{line}\n" for line in lines),
        capture_output=True,
        text=True,
        check=True,
    )
    return told.stdout.strip()


def look_of(house: Books, looks: str) -> Path:
    """Commit a folder of looks that is written straight into git, and lend it."""
    top = [line for line in git(house.house, "ls-tree", "HEAD").splitlines() if not line.endswith("\tthemes")]
    commit = git(house.house, "commit-tree", tree(house, *top, f"040000 tree {looks}\tthemes"), "-m", "Looks")
    with themes_of(house.house, files_at(house.house, commit)) as folder:
        return folder


@pytest.mark.slow
def test_a_folder_that_holds_itself_over_and_over_is_not_copied(tmp_path):
    house = books(tmp_path)
    blob = git(house.house, "rev-parse", "HEAD:house.yaml")
    wide = tree(house, *(f"100644 blob {blob}\t{number}.css" for number in range(10)))
    for _ in range(6):
        wide = tree(house, *(f"040000 tree {wide}\t{number}" for number in range(10)))
    with pytest.raises(NoHistory, match="is one of more than 2000 folders and files"):
        look_of(house, wide)
    deep = tree(house, f"100644 blob {blob}\ta.css")
    for _ in range(30):
        deep = tree(house, f"040000 tree {deep}\tin")
    with pytest.raises(NoHistory, match="too deep among them"):
        look_of(house, deep)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["..\\..\\evil.css", "c:evil.css", "\\evil", "style.css:hidden"])
def test_a_name_that_leads_out_of_its_folder_on_another_machine_is_not_copied(tmp_path, name):
    house = books(tmp_path)
    blob = git(house.house, "rev-parse", "HEAD:house.yaml")
    with pytest.raises(NoHistory, match="has a name that not every machine can have"):
        look_of(house, tree(house, f"100644 blob {blob}\t{name}"))


@pytest.mark.parametrize(
    "content",
    [
        b"100644 ..\0" + bytes(20),
        b"100644 a/b\0" + bytes(20),
        b"100644 \0" + bytes(20),
        b"100644 a.md\0" + bytes(19),
        b"100644 a.md",
        b"1o0644 a.md\0" + bytes(20),
    ],
)
def test_a_folder_that_git_would_never_write_is_called_damaged(tmp_path, content):
    house = books(tmp_path)
    (tmp_path / "tree").write_bytes(content)
    oid = git(house.house, "hash-object", "--literally", "-t", "tree", "-w", "tree")
    assert Objects(house.house).tree(oid) is None


def test_a_large_file_kept_aside_that_is_a_pipe_or_endless_is_not_read(tmp_path):
    house = books(tmp_path)
    digest = "ab" * 32
    house.write("photos/a.jpg", f"version https://git-lfs.github.com/spec/v1\noid sha256:{digest}\nsize 9\n")
    house.commit("A photo")
    kept = house.house / ".git/lfs/objects/ab/ab"
    kept.mkdir(parents=True)
    os.mkfifo(kept / digest)
    with pytest.raises(NoHistory, match="git lfs pull"):
        files_at(house.house, "HEAD").read("photos/a.jpg")
    (kept / digest).unlink()
    with (kept / digest).open("wb") as file:
        file.truncate(10**12)
    assert files_at(house.house, "HEAD").read("photos/a.jpg", 100) == bytes(101)
