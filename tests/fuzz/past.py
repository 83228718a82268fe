"""Small histories of a spoilt house, written by one run of git, and ways to spoil the repository itself."""

import os
import subprocess
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random

from tests.fuzz.bases import Files

SUBJECTS = (
    *(b"As we began", b"", b"\x1b[31mred\x07", b"x" * 5000, b"\xff\xfe", b"a\x1fb\x1fc",),
    *(b"- not a list\n\nbody", b"\n\n", "Größe \u202e".encode(), b"# comment", b"fixup! x"),
    *(b"a\rb", b"\x01\x02", "\u2028\u2066".encode()),
)  # fmt: skip
WHEN = (
    *("1750000000 +0000", "1780000000 +0200", "0 +0000", "1 -1200", "4102444800 +1400", "99999999999 +0000"),
    *("253402300799 +0000", "253402300800 +0000", "1765566000 +0000", "1765584000 +0100", "1765580000 -0930"),
    *("1765566000 +2359", "18446744073709551 +0000"),
)
TAGS = (
    "v1",
    "2026-06-20",
    "HEAD",
    "served",
    "a/b",
    "ä",
    "7f3a2c1",
    "-x",
    "main",
    "2026-12",
    "x.y",
    "deadbeef",
    "@x",
)
PLACES = ("", "", "bar", "bar/inner", "ä b")


@dataclass(frozen=True)
class Made:
    """One commit of a history: what lay in the house, and which commits it follows."""

    files: Files
    parents: tuple[int, ...]
    subject: bytes
    when: str


@dataclass
class World:
    """A house and its past, as far as it has come.

    Attributes:
        files: The house as it lies.
        commits: Its history, the oldest first.
        tags: Name -> number of a commit.
        odd: Files of odd modes in the last commits: path -> mode.
        inside: Where the house lies in the repository.
    """

    files: Files
    commits: list[Made] = field(default_factory=list)
    tags: dict[str, int] = field(default_factory=dict)
    odd: dict[str, str] = field(default_factory=dict)
    inside: str = ""


def commit(world: World, chance: Random) -> None:
    parents = (len(world.commits) - 1,) if world.commits else ()
    when = chance.choice(WHEN) if chance.random() < 0.3 else f"{1765500000 + 3600 * len(world.commits)} +0000"
    world.commits.append(Made(dict(world.files), parents, chance.choice(SUBJECTS), when))


def commit_beside(world: World, chance: Random) -> None:
    """Commit on an older commit: a branch begins."""
    commit(world, chance)
    last = len(world.commits) - 1
    world.commits[-1] = replace(world.commits[-1], parents=(chance.randrange(last),) if last else ())


def merge(world: World, chance: Random) -> None:
    commit(world, chance)
    last = len(world.commits) - 1
    many = min(last, chance.choice((2, 2, 3, 8)))
    world.commits[-1] = replace(world.commits[-1], parents=tuple(chance.sample(range(last), many)))


def revert(world: World, chance: Random) -> None:
    if world.commits:
        world.files = dict(chance.choice(world.commits).files)
    commit(world, chance)


def lose_everything(world: World, chance: Random) -> None:
    kept, world.files = world.files, {}
    commit(world, chance)
    world.files = kept


def tag(world: World, chance: Random) -> None:
    if world.commits:
        world.tags[chance.choice(TAGS)] = chance.randrange(len(world.commits))


def odd_mode(world: World, chance: Random) -> None:
    """Make a file a link, a submodule or a program in git."""
    if world.files:
        world.odd[chance.choice(sorted(world.files))] = chance.choice(("120000", "160000", "100755"))


def inside_another_folder(world: World, chance: Random) -> None:
    world.inside = chance.choice(PLACES)


PAST = (
    commit,
    commit,
    commit,
    commit,
    commit_beside,
    merge,
    revert,
    lose_everything,
    tag,
    odd_mode,
    inside_another_folder,
)


def _quoted(path: str) -> bytes:
    raw = path.encode("utf-8", "surrogateescape")
    return (
        b'"'
        + b"".join(
            b"\\%03o" % byte if byte < 32 or byte in b'"\\' or byte > 126 else bytes((byte,)) for byte in raw
        )
        + b'"'
    )


def _data(content: bytes) -> bytes:
    return b"data %d\n%s\n" % (len(content), content)


def _stream(world: World) -> bytes:
    """Return the history as git reads it in. Source: the manual of git fast-import."""
    out = []
    for number, made in enumerate(world.commits):
        when = made.when.encode()
        out.append(
            b"commit refs/heads/%s\nmark :%d\n"
            % (b"main" if number == len(world.commits) - 1 else b"w%d" % number, number + 1)
        )
        out.append(b"author Bar <bar@example.org> %s\ncommitter Bar <bar@example.org> %s\n" % (when, when))
        out.append(_data(made.subject))
        if made.parents:
            first, *others = made.parents
            out.append(b"from :%d\n" % (first + 1))
            out += [b"merge :%d\n" % (other + 1) for other in others]
        out.append(b"deleteall\n")
        for path, content in made.files.items():
            if not git_takes(path):
                continue
            mode = world.odd.get(path, "100644").encode()
            whole = _quoted(f"{world.inside}/{path}" if world.inside else path)
            if mode == b"160000":
                out.append(b"M 160000 %s %s\n" % (b"1234567890" * 4, whole))
            else:
                out.append(b"M %s inline %s\n%s" % (mode, whole, _data(content)))
    for name, number in world.tags.items():
        out.append(b"reset refs/tags/%s\nfrom :%d\n\n" % (name.encode(), number + 1))
    return b"".join(out)


def git_takes(path: str) -> bool:
    """Return whether git reads such a path in: none with empty or dotted steps."""
    return all(step not in ("", ".", "..", ".git") for step in path.split("/"))


def git(folder: Path, *arguments: str, told: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    """Run git on a folder; a refusal is no matter here."""
    return subprocess.run(
        ["git", "-C", str(folder), *arguments],
        input=told,
        capture_output=True,
        check=False,
        env={**os.environ, "LC_ALL": "C"},
    )


def write_past(world: World, top: Path) -> None:
    """Make a repository of a history; the files as they lie are written already."""
    # What "git init" makes, without its process.
    for folder in ("objects", "refs/heads", "refs/tags"):
        (top / ".git" / folder).mkdir(parents=True)
    (top / ".git" / "HEAD").write_text("ref: refs/heads/main\n")
    (top / ".git" / "config").write_text(
        "[core]\n\trepositoryformatversion = 0\n\tfilemode = true\n\tbare = false\n"
    )
    done = git(top, "fast-import", "--quiet", "--force", "--date-format=raw-permissive", told=_stream(world))
    if done.returncode:
        raise AssertionError(done.stderr.decode("utf-8", "replace")[:2000])
    git(top, "read-tree", "HEAD")


def no_branch(top: Path, chance: Random) -> None:
    """Let HEAD be detached, unborn, or nonsense."""
    known = (
        git(top, "rev-parse", "HEAD").stdout.decode().strip(),
        "0" * 40,
        "ref: refs/heads/new",
        "ref: x",
        "",
        "x" * 99,
    )
    (top / ".git" / "HEAD").write_text(chance.choice(known) + "\n")


def cut_history(top: Path, chance: Random) -> None:
    """Let the clone be shallow, or a graft or a replacement stand in."""
    known = git(top, "rev-list", "--all").stdout.decode().split()
    if not known:
        return
    one, other = chance.choice(known), chance.choice(known)
    match chance.randrange(3):
        case 0:
            (top / ".git" / "shallow").write_text(f"{one}\n")
        case 1:
            (top / ".git" / "info").mkdir(exist_ok=True)
            (top / ".git" / "info" / "grafts").write_text(f"{one} {other}\n")
        case _:
            git(top, "replace", "-f", one, other)


def damage_objects(top: Path, chance: Random) -> None:
    """Lose, empty or spoil some of what git keeps."""
    objects = sorted(path for path in (top / ".git" / "objects").rglob("*") if path.is_file())
    for path in chance.sample(objects, min(len(objects), chance.choice((1, 1, 3, 30)))):
        path.chmod(0o644)
        match chance.randrange(3):
            case 0:
                path.unlink()
            case 1:
                path.write_bytes(b"")
            case _:
                content = bytearray(path.read_bytes())
                for _ in range(3):
                    content[chance.randrange(len(content))] = chance.randrange(256)
                path.write_bytes(content)


def half_done(top: Path, chance: Random) -> None:
    """Leave a merge, or a rebase, half done; or a lock that somebody's git left."""
    name = chance.choice(
        (
            "MERGE_HEAD",
            "REVERT_HEAD",
            "CHERRY_PICK_HEAD",
            "rebase-merge/x",
            "index.lock",
            "HEAD.lock",
            "index",
        )
    )
    path = top / ".git" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(git(top, "rev-parse", "HEAD").stdout.decode())


def odd_settings(top: Path, chance: Random) -> None:
    """Set what changes how git answers."""
    for setting in chance.sample(SETTINGS, 2):
        git(top, "config", *setting.split("=", 1))


SETTINGS = (
    *("log.showSignature=true", "core.quotePath=false", "core.abbrev=4", "i18n.logOutputEncoding=latin1"),
    *("log.date=relative",),
    *("log.mailmap=true", "color.ui=always", "core.bare=true", "core.precomposeUnicode=true", "core.ignoreCase=true"),
    *("core.repositoryFormatVersion=99", "extensions.partialClone=x", "format.pretty=oneline", "status.short=true"),
    *("log.follow=true", "diff.renames=copies", "core.worktree=/nowhere", "core.autocrlf=true", "log.decorate=full"),
    *("extensions.objectFormat=sha256", "status.showUntrackedFiles=no", "log.diffMerges=off", "core.eol=crlf"),
)  # fmt: skip

REPOSITORY = (no_branch, cut_history, damage_objects, half_done, odd_settings)
