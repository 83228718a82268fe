"""The same house published under many circumstances: every one must give the same bytes.

Run: python -m tests.fuzz.circumstances [WORD]; with a word, only circumstances with that word in their name.

Each circumstance is a process of its own. What differs from a plain publish is printed; exits with 1 where any does.
"""

import hashlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path

from PIL import Image

from tests.fuzz.bases import bases

_DIRTY = {
    "GIT_DIR": "/nowhere",
    "GIT_WORK_TREE": "/nowhere",
    "GIT_INDEX_FILE": "/nowhere",
    "GIT_CONFIG_COUNT": "1",
    "GIT_CONFIG_KEY_0": "core.abbrev",
    "GIT_CONFIG_VALUE_0": "4",
    "PYTHONIOENCODING": "latin-1",
    "TERM": "dumb",
    "CLICOLOR_FORCE": "1",
    "FORCE_COLOR": "1",
    "LINES": "1",
    "EDITOR": "false",
    "PAGER": "false",
    "IFS": "x",
    "LESS": "-X",
    "CDPATH": "/",
    "POSIXLY_CORRECT": "1",
    "PYTHONWARNINGS": "error",
    "MENUGEN_TRACEBACK": "1",
}


@dataclass(frozen=True)
class Circumstance:
    """One way to publish the same house.

    Attributes:
        name: Said where it differs.
        env: Variables set; of None taken away.
        python: Options of the interpreter.
        umask: Of the process; None is ours.
        prepare: Returns where the house lies now, given where it lay.
        cwd: Whether it is run from the house itself, with "." for it.
        closed: Whether standard input is closed.
        files: How many files it may have open; None is as many as ours.
    """

    name: str
    env: Mapping[str, str | None] = field(default_factory=dict)
    python: tuple[str, ...] = ()
    umask: int | None = None
    prepare: Callable[[Path], Path] | None = None
    cwd: bool = False
    closed: bool = False
    files: int | None = None


def _through_a_link(house: Path) -> Path:
    link = house.with_name("link")
    link.symlink_to(house)
    return link


def _odd_path(house: Path) -> Path:
    return house.rename(house.with_name("a bar, é 漢 'x' #1 %20"))


def _deep(house: Path) -> Path:
    deep = house.parent / "d" / ("e" * 200) / ("f" * 200)
    deep.mkdir(parents=True)
    return house.rename(deep / "house")


def _old_files(house: Path) -> Path:
    for number, path in enumerate(sorted(house.rglob("*"))):
        os.utime(path, (number * 1000, 2_000_000_000 - number * 77777))
    return house


def _other_order(house: Path) -> Path:
    """Write the files again in the opposite order, so that the disk lists them otherwise."""
    new = house.with_name("house-again")
    for path in sorted(
        (path for path in house.rglob("*") if path.is_file() and ".git" not in path.parts), reverse=True
    ):
        there = new / path.relative_to(house)
        there.parent.mkdir(parents=True, exist_ok=True)
        there.write_bytes(path.read_bytes())
    if (house / ".git").exists():
        (house / ".git").rename(new / ".git")
    return new


def _read_only(house: Path) -> Path:
    for path in (house, *house.rglob("*")):
        path.chmod(0o555 if path.is_dir() else 0o444)
    return house


def _with_litter(house: Path) -> Path:
    """Leave what editors, file managers and other systems leave."""
    for name in (
        ".DS_Store",
        "specs/.ferry-sour.md.swp",
        "specs/ferry-sour.md~",
        "stock/Thumbs.db",
        "._house.yaml",
        "events/.#x.yaml",
    ):
        (house / name).write_bytes(b"\0\1litter")
    return house


CIRCUMSTANCES = (
    Circumstance("again"),
    *(
        Circumstance(f"locale {name}", {"LC_ALL": name, "LANG": name, "LANGUAGE": name[:2]})
        for name in ("C", "POSIX", "tr_TR.UTF-8", "de_DE.UTF-8", "ar_EG", "nonsense")
    ),
    *(
        Circumstance(f"time zone {name}", {"TZ": name})
        for name in ("Pacific/Kiritimati", "America/St_Johns", "XXX-25:99", "")
    ),
    *(Circumstance(f"hash seed {seed}", {"PYTHONHASHSEED": seed}) for seed in ("0", "1", "4294967295")),
    Circumstance("from the house itself", cwd=True),
    *(Circumstance(f"umask {umask:03o}", umask=umask) for umask in (0, 0o077, 0o777 & ~0o700)),
    *(Circumstance(f"{columns} columns", {"COLUMNS": columns}) for columns in ("1", "20", "100000")),
    Circumstance("another temporary folder", {"TMPDIR": "{room}/an odd tmp é"}),
    Circumstance("through a link", prepare=_through_a_link),
    Circumstance("spaces and letters in the path", prepare=_odd_path),
    Circumstance("deep", prepare=_deep),
    Circumstance("other times of the files", prepare=_old_files),
    Circumstance("files in another order", prepare=_other_order),
    Circumstance("litter of other programs", prepare=_with_litter),
    Circumstance("a house that may only be read", prepare=_read_only),
    Circumstance("variables of other programs", _DIRTY),
    Circumstance(
        "no variables at all", {name: None for name in os.environ if name not in ("PATH", "PYTHONPATH")}
    ),
    Circumstance("no HOME", {"HOME": None, "XDG_CONFIG_HOME": None, "XDG_CACHE_HOME": None}),
    Circumstance("a HOME that is not there", {"HOME": "/nowhere"}),
    Circumstance("no USER", {"USER": None, "LOGNAME": None, "USERNAME": None}),
    Circumstance("a date to build by", {"SOURCE_DATE_EPOCH": "1"}),
    Circumstance("no colour", {"NO_COLOR": "1", "TERM": None}),
    Circumstance("optimised", python=("-O",)),
    Circumstance("optimised twice", python=("-OO",)),
    Circumstance("developers' mode", python=("-X", "dev", "-W", "error")),
    Circumstance("not in UTF-8", {"PYTHONUTF8": "0", "LC_ALL": "C", "PYTHONCOERCECLOCALE": "0"}),
    Circumstance("UTF-8 mode", python=("-X", "utf8")),
    Circumstance("no byte code", python=("-B", "-s")),
    Circumstance("whole integers", python=("-X", "int_max_str_digits=0")),
    Circumstance("nothing to read from", closed=True),
    Circumstance("few open files", files=24),
)
OF_GIT = (
    *CIRCUMSTANCES,
    Circumstance("git's own settings", {"GIT_CONFIG_GLOBAL": "{room}/gitconfig", "HOME": "{room}"}),
    Circumstance("a git that speaks French", {"LANGUAGE": "fr", "LC_ALL": None, "LANG": "fr_FR.UTF-8"}),
)
WITHOUT_GIT = (Circumstance("no git on this machine", {"PATH": "/nowhere"}),)
_GIT_SETTINGS = """\
[core]
    abbrev = 4
    autocrlf = true
[log]
    showSignature = true
    date = relative
[color]
    ui = always
[i18n]
    logOutputEncoding = latin1
[status]
    showUntrackedFiles = no
"""


def _photo() -> bytes:
    made = BytesIO()
    Image.linear_gradient("L").resize((900, 700)).convert("RGB").save(made, "JPEG", comment=b"private")
    return made.getvalue()


@contextmanager
def _house(*, in_git: bool) -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="menugen-where-") as folder:
        room = Path(folder)
        house = room / "house"
        for name, content in {**bases()["every key"], "photos/ferry-sour.jpg": _photo()}.items():
            (house / name).parent.mkdir(parents=True, exist_ok=True)
            (house / name).write_bytes(content)
        (room / "an odd tmp é").mkdir()
        (room / "gitconfig").write_text(_GIT_SETTINGS)
        if in_git:
            day = "2026-11-01T12:00:00+0000"
            clean = {
                **os.environ,
                "GIT_AUTHOR_DATE": day,
                "GIT_COMMITTER_DATE": day,
                "GIT_CONFIG_GLOBAL": os.devnull,
            }
            who = ("-c", "user.name=Bar", "-c", "user.email=bar@example.org")
            for words in (
                ("init", "-q", "-b", "main"),
                ("add", "-A"),
                (*who, "commit", "-q", "-m", "As we began"),
            ):
                subprocess.run(["git", *words], cwd=house, check=True, env=clean, capture_output=True)
        yield house
        for path in (room, *room.rglob("*")):
            if path.is_dir() and not path.is_symlink():
                path.chmod(0o755)


def _published(one: Circumstance, *, in_git: bool) -> tuple[dict[str, str], str]:
    """Return the sum of each file of a publish, and what was said that should not have been."""
    with _house(in_git=in_git) as house:
        room = house.parent
        lies = one.prepare(house) if one.prepare else house
        env = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
        env |= {"GIT_CONFIG_GLOBAL": os.devnull, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
        for name, value in one.env.items():
            env.pop(name, None)
            if value is not None:
                env[name] = value.format(room=room)

        def begin() -> None:
            if one.umask is not None:
                os.umask(one.umask)
            if one.closed:
                os.close(0)
            if one.files is not None:
                import resource

                resource.setrlimit(resource.RLIMIT_NOFILE, (one.files, one.files))

        where = "." if one.cwd else str(lies)
        done = subprocess.run(
            [
                sys.executable,
                *one.python,
                "-m",
                "menugen",
                "publish",
                where,
                "--to",
                str(room / "published"),
                "--quiet",
            ],
            cwd=lies if one.cwd else room,
            env=env,
            preexec_fn=begin,  # no thread runs here
            capture_output=True,
            check=False,
        )
        made = {
            path.relative_to(room / "published").as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted((room / "published").rglob("*"))
            if path.is_file() and ".photos" not in path.parts
        }
        wrong = (
            done.stderr.decode("utf-8", "replace") if done.returncode or b"Traceback" in done.stderr else ""
        )
        return made, wrong


def differing(ones: tuple[Circumstance, ...], *, in_git: bool, word: str = "") -> Iterator[tuple[str, str]]:
    """Yield each circumstance that gives other bytes than a plain publish, and what is other."""
    plain, wrong = _published(Circumstance("plainly"), in_git=in_git)
    if wrong or not any(name.endswith("index.html") for name in plain):
        yield "plainly", wrong or "nothing was published"
        return
    for one in ones:
        if word not in one.name:
            continue
        made, wrong = _published(one, in_git=in_git)
        other = [name for name in sorted(plain.keys() | made.keys()) if plain.get(name) != made.get(name)]
        print(
            f"{'git, ' if in_git else ''}{one.name}: {'the same' if not (wrong or other) else 'NOT the same'}",
            flush=True,
        )
        if wrong or other:
            yield one.name, f"{wrong}{len(other)} files differ: {', '.join(other[:6])}"


def main() -> int:
    """Try every circumstance, outside git and in it."""
    word = sys.argv[1] if len(sys.argv) > 1 else ""
    if not shutil.which("git"):
        print("there is no git on this machine: only houses outside git are tried")
    found = list(differing((*CIRCUMSTANCES, *WITHOUT_GIT), in_git=False, word=word))
    found += list(differing(OF_GIT, in_git=True, word=word)) if shutil.which("git") else []
    for name, what in found:
        print(f"\n{name}\n{what}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
