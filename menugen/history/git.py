"""Asking git: which repository a house lies in, which commit a word means, how things stand.

Nothing is ever written and nothing fetched: git runs without optional locks and with no way to the network.
"""

import os
import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

_OF_ANOTHER_PLACE = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_COMMON_DIR")
"""What git tells its hooks about where they run. It would bend every question asked from another folder."""

_DAY = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?")
_UNFINISHED = {
    "MERGE_HEAD": "a merge",
    "CHERRY_PICK_HEAD": "a cherry-pick",
    "REVERT_HEAD": "a revert",
    "rebase-merge": "a rebase",
    "rebase-apply": "a rebase",
}


class NoHistory(Exception):
    """There is no such revision to read; the message says why, in plain words."""


@dataclass(frozen=True, slots=True)
class Repository:
    """The git repository a house lies in.

    Attributes:
        top: Its folder.
        inside: The house's folder within it, with forward slashes; empty for the top.
    """

    top: Path
    inside: str


@dataclass(frozen=True, slots=True)
class Commit:
    """One commit.

    Attributes:
        revision: Full hash.
        day: The committer's own calendar day, "2026-11-20".
        subject: First line of its message.
        clock: What the clock on the committer's wall said; without an offset, as the hours of an event are.
    """

    revision: str
    day: str
    subject: str
    clock: datetime

    @property
    def short(self) -> str:
        """The first seven digits: always seven, since git's own short form grows with the repository."""
        return self.revision[:7]


def git_command(folder: Path, *arguments: str) -> tuple[list[str], dict[str, str]]:
    """Return the words and the environment that ask git something about a folder.

    Raises:
        NoHistory: There is no git on this machine.
    """
    git = shutil.which("git")
    if git is None:
        raise NoHistory("there is no git on this machine")
    environment = {key: value for key, value in os.environ.items() if key not in _OF_ANOTHER_PLACE}
    # A partial clone would fetch what it lacks; a status would write the index anew.
    environment |= {
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_NO_LAZY_FETCH": "1",
        "GIT_ALLOW_PROTOCOL": "none",
        "GIT_TERMINAL_PROMPT": "0",
        "LC_ALL": "C",
    }
    return [git, "--no-pager", "-C", str(folder), "-c", "core.fsmonitor=false", *arguments], environment


def ask(folder: Path, *arguments: str) -> bytes | None:
    """Return what git prints, or None where it says no."""
    command, environment = git_command(folder, *arguments)
    done = subprocess.run(  # noqa: S603  # the program is git itself, its arguments a list
        command, capture_output=True, check=False, env=environment
    )
    return done.stdout if done.returncode == 0 else None


def find_repository(house: Path) -> Repository:
    """Return the repository a house lies in.

    Raises:
        NoHistory: No git, or no repository there.
    """
    top = ask(house, "rev-parse", "--show-toplevel")
    if top is None or not top.strip():
        if _belongs_to_another(house):
            raise NoHistory(
                f"git does not read {house.as_posix()}, since it belongs to another user; where you trust it: "
                f'git config --global --add safe.directory "{house.resolve().as_posix()}"'
            )
        raise NoHistory(f"{house.as_posix()} is not in a git repository")
    root = Path(os.fsdecode(top).rstrip("\n"))
    inside = house.resolve().relative_to(root.resolve()).as_posix()
    return Repository(root, "" if inside == "." else inside)


def _belongs_to_another(house: Path) -> bool:
    """Return whether git refuses a folder for whose it is, as it does in containers where another user cloned it."""
    command, environment = git_command(house, "rev-parse", "--git-dir")
    done = subprocess.run(  # noqa: S603  # as in ask
        command, capture_output=True, check=False, env=environment
    )
    return b"safe.directory" in done.stderr


def find_commit(repository: Repository, word: str) -> Commit:
    """Return the commit a word means: a revision, a tag, or a day ("2026-06-20", "2026-06"), the last one up to then.

    Days are those of the committer's own calendar, so that the answer is the same on every machine.

    Raises:
        NoHistory: Nothing of that name, nothing that old, or nothing committed yet.
    """
    top = repository.top
    found = next(commits(top, "-1", "--end-of-options", f"{word}^{{commit}}", "--"), None)
    if found is not None:
        return found
    if ask(top, "rev-parse", "--verify", "--quiet", "HEAD") is None:
        raise NoHistory("nothing has been committed here yet")
    if (day := _DAY.fullmatch(word)) is not None:
        # A month alone means its last day; "2026-06-99" sorts after every day of June.
        last = word if day[3] else f"{word}-99"
        earliest = ""
        for commit in commits(top, "--first-parent", "HEAD"):
            if commit.day <= last:
                return commit
            earliest = commit.day
        raise NoHistory(
            f"nothing was committed here by {word}: the history begins on {earliest}{_shallow_words(top)}"
        )
    raise NoHistory(f'git knows no revision "{word}" here{_shallow_words(top)}')


def commits(folder: Path, *arguments: str) -> Iterator[Commit]:
    """Yield commits as `git log` lists them with these arguments."""
    told = ask(folder, "log", "-z", "--no-show-signature", "--format=%H%x1f%cs%x1f%ci%x1f%s", *arguments)
    for entry in (told or b"").decode("utf-8", "replace").split("\0"):
        if entry:
            revision, day, clock, subject = entry.split("\x1f", 3)
            yield Commit(revision, day, "".join(map(_printable, subject)), _wall_clock(clock))


def _wall_clock(told: str) -> datetime:
    """Return what stands before the offset in "2026-06-20 21:15:00 +0100"."""
    try:
        return datetime.fromisoformat(told[:19])
    except ValueError:
        # A clock that was never set, or one far past the year 9999: older than anything.
        return datetime(1, 1, 1)  # noqa: DTZ001  # it has no offset, as the others have none


def _printable(letter: str) -> str:
    """Return a letter, or a mark for what a terminal would obey: a commit's subject is anybody's text."""
    return letter if letter.isprintable() else "\ufffd"


def _shallow_words(top: Path) -> str:
    if not is_shallow(top):
        return ""
    return '; this clone holds only the newest commits, and "git fetch --unshallow" brings the others'


def is_shallow(folder: Path) -> bool:
    """Return whether a clone holds only the newest commits."""
    return (ask(folder, "rev-parse", "--is-shallow-repository") or b"").strip() == b"true"


def unfinished(repository: Repository) -> str:
    """Return what is half done in the working tree, "a merge"; empty where nothing is."""
    asked = [part for name in _UNFINISHED for part in ("--git-path", name)]
    told = os.fsdecode(ask(repository.top, "rev-parse", *asked) or b"").splitlines()
    for path, words in zip(told, _UNFINISHED.values(), strict=False):
        if (repository.top / path).exists():
            return words
    return ""
