"""Asking git: which repository a house lies in, which commit a word means, how things stand.

Nothing is ever run, written or fetched: see `calls.py`.
"""

import os
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from menugen.problems import visible
from menugen.revisions.calls import Git, NoHistory, ask, run
from menugen.revisions.dates import UNDERSTOOD, Until, WrongDate, until

_OID = re.compile(r"[0-9a-f]{40}|[0-9a-f]{64}")
_PART_OF_AN_OID = re.compile(r"[0-9a-f]{4,63}", re.IGNORECASE)
_UNCOMMITTED_CARD = re.compile(r"([0-9a-f]{7,64}|)\+[0-9a-f]{7}")
_FORMAT = "--format=%H%x1f%cI%x1f%ct%x1f%aI%x1f%s"
_LONGEST_ENTRY_BYTES = 4096
"""A commit's hash, its times and a subject that nobody reads to the end."""

_UNFINISHED = {
    "MERGE_HEAD": "a merge",
    "CHERRY_PICK_HEAD": "a cherry-pick",
    "REVERT_HEAD": "a revert",
    "rebase-merge": "a rebase",
    "rebase-apply": "a rebase",
}


@dataclass(frozen=True, slots=True)
class Repository:
    """The git repository a house lies in.

    Attributes:
        top: Its folder.
        inside: The house's folder within it, with forward slashes, as git spells it; empty for the top.
    """

    top: Path
    inside: str


@dataclass(frozen=True, slots=True)
class Commit:
    """One commit.

    Attributes:
        revision: Full hash.
        day: The committer's own calendar day, "2026-11-20".
        subject: First line of its message, what a terminal would obey shown as a mark.
        clock: What the clock on the committer's wall said; without an offset, as the hours of an event are.
        written: The same of the author's: what is rebased, picked or amended keeps it, and is committed anew.
    """

    revision: str
    day: str
    subject: str
    clock: datetime
    written: datetime

    @property
    def short(self) -> str:
        """The first seven digits: always seven, since git's own short form grows with the repository."""
        return self.revision[:7]


def git_text(told: bytes) -> str:
    """Return a name as git holds it, UTF-8 whatever the machine's own files are named in."""
    return told.decode("utf-8", "surrogateescape")


def name_on_disk(path: str) -> str:
    """Return a path as git or a house spells it, the way this machine's files are named."""
    return os.fsdecode(path.encode("utf-8", "surrogateescape"))


def _own_words(told: bytes) -> str:
    """Return what git says is wrong, on one line."""
    lines = told.decode("utf-8", "replace").strip().splitlines() or ["it does not say why"]
    return visible(
        next((line for line in lines if line.startswith("fatal: ")), lines[-1])[:300]
    ).removeprefix("fatal: ")


def find_repository(house: Path) -> Repository:
    """Return the repository a house lies in.

    Raises:
        NoHistory: No git, no repository there, or one that git cannot use.
    """
    done = run(house, "rev-parse", "--show-toplevel")
    top = Path(os.fsdecode(done.stdout).rstrip("\n"))
    if done.returncode != 0 or not done.stdout.strip():
        raise _no_repository(house, done.stderr)
    prefix = ask(house, "rev-parse", "--show-prefix")
    if prefix is None or not top.is_absolute():
        raise NoHistory(f'git answers what cannot be understood: "{_own_words(done.stdout)}"')
    _look_whether_around(house, top)
    return Repository(top, git_text(prefix).rstrip("\n").rstrip("/"))


def _look_whether_around(house: Path, top: Path) -> None:
    """Let a repository pass whose folder is the one its .git lies in: what is asked from there, it is asked.

    Raises:
        NoHistory: Its settings say that its files are elsewhere (core.worktree).
    """
    meant = _nearest(house)
    if meant is None or _is_same(meant.parent, top):
        return
    own, there = (ask(folder, "rev-parse", "--absolute-git-dir") for folder in (house, top))
    if own is None or own != there or not any(_is_same(top, folder) for folder in _and_above(house)):
        raise NoHistory(
            f"git cannot use the repository at {meant.as_posix()}: it says that its files are in {top.as_posix()}; "
            '"git config --unset core.worktree" there takes that out'
        )


def _is_same(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def _nearest(house: Path) -> Path | None:
    """Return the .git that lies in a house, or in the next folder above it that has one."""
    return next((place for folder in _and_above(house) if os.path.lexists(place := folder / ".git")), None)


def _no_repository(house: Path, told: bytes) -> NoHistory:
    """Return what is to be said of a folder in which git finds no repository."""
    if b"safe.directory" in told:
        # So it is in containers where another user cloned it.
        return NoHistory(
            f"git does not read {house.as_posix()}, since it belongs to another user; where you trust it: "
            f'git config --global --add safe.directory "{house.resolve().as_posix()}"'
        )
    meant = _nearest(house)
    if meant is None:
        return NoHistory(f"{house.as_posix()} is not in a git repository")
    return NoHistory(f"git cannot use the repository at {meant.as_posix()}: {_own_words(told)}")


def _and_above(folder: Path) -> Iterator[Path]:
    whole = folder.resolve()
    yield whole
    yield from whole.parents


def find_commit(repository: Repository, word: str) -> Commit:
    """Return the commit a word means: a revision, a tag, or a date: then the last one of the main line up to its end.

    Days and times are those of the committer's own calendar, so that the answer is the same on every machine; only
    what is reckoned from now, "2 weeks ago", and a time with its zone follow the clock.

    Raises:
        NoHistory: Nothing of that name, nothing that old, nothing committed yet, or it is not on this machine.
    """
    top = repository.top
    if not word.strip():
        raise NoHistory("no revision was named: what stands for it is empty")
    if (oid := _commit_named(top, word)) is not None:
        return next(commits(top, "--no-walk", oid))
    _look_whether_begun(top)
    try:
        moment = until(word)
    except WrongDate as fault:
        raise NoHistory(str(fault)) from None
    if moment is not None:
        return _last_until(top, moment, word)
    raise NoHistory(_why_unknown(top, word))


def _commit_named(top: Path, word: str) -> str | None:
    """Return the full hash of the one commit that git calls so."""
    if word.startswith("-") or "\0" in word:
        return None
    # A search for a text would take what asks for a commit as part of the text; it finds nothing but commits.
    found = _verified(top, word if word.startswith(":/") else f"{word}^{{commit}}")
    if found is not None or (named := _verified(top, word)) is None or named == word.casefold():
        return found
    kind = ask(top, "cat-file", "-t", named)
    if kind is None:
        raise not_here(top, f"the commit {named[:7]}")
    what = {"tree": "a folder", "blob": "a file"}.get(git_text(kind).strip(), "something else")
    raise NoHistory(f'"{visible(word)}" is no revision: git has {what} by that name')


def _verified(top: Path, word: str) -> str | None:
    told = git_text(ask(top, "rev-parse", "--verify", "--quiet", word) or b"").strip()
    return told if _OID.fullmatch(told) else None


def committed_part(card: str) -> str:
    """Return the revision a card's version begins with, "7f3a2c1" of "7f3a2c1+4be09d2"; any other word as it is."""
    found = _UNCOMMITTED_CARD.fullmatch(card)
    return found[1] if found is not None and found[1] else card


def last_commit(repository: Repository) -> Commit | None:
    """Return the commit that was made last; None where none was made yet.

    Raises:
        NoHistory: Git cannot read it.
    """
    if (oid := _commit_named(repository.top, "HEAD")) is None:
        done = _asked_for_one(repository.top)
        if b"does not have any commits yet" in done.stderr:
            return None
        raise _unreadable_history(done.stderr)
    return next(commits(repository.top, "--no-walk", oid))


def _look_whether_begun(top: Path) -> None:
    done = _asked_for_one(top)
    if b"does not have any commits yet" in done.stderr:
        raise NoHistory("nothing has been committed here yet")
    if done.returncode != 0:
        raise _unreadable_history(done.stderr)


def _asked_for_one(top: Path) -> subprocess.CompletedProcess[bytes]:
    return run(top, "log", "-1", "--no-show-signature", "--format=%H", "--")


def _unreadable_history(told: bytes) -> NoHistory:
    return NoHistory(f'git cannot read the history here: {_own_words(told)}; "git fsck" tells what is wrong')


def _why_unknown(top: Path, word: str) -> str:
    if (card := _UNCOMMITTED_CARD.fullmatch(word)) is not None:
        beside = f"; the commit they were changed from is {card[1]}" if card[1] else ""
        return f'the menu "{word}" was made from files that were not committed, and git does not have them{beside}'
    if (
        _PART_OF_AN_OID.fullmatch(word)
        and len((ask(top, "rev-parse", f"--disambiguate={word}") or b"").split()) > 1
    ):
        return f'several things in git begin with "{word}": write more of it'
    if ".." in word:
        return f'"{visible(word)}" is a range of revisions, and one revision is asked for here'
    # Nobody who writes "HEAD~3" means a date.
    dates = "" if any(mark in word for mark in "~^@:/") else f": {UNDERSTOOD}"
    return f'git knows no revision "{visible(word)[:80]}" here{_shallow_words(top) or dates}'


def _last_until(top: Path, moment: Until, word: str) -> Commit:
    latest_s = _reckoned_s(top, moment.from_now) if moment.from_now else moment.epoch_s
    earliest = ""
    for commit, epoch_s in _listed(top, "--first-parent", "HEAD"):
        if moment.local and commit.clock.isoformat() <= moment.local:
            return commit
        if latest_s is not None and epoch_s <= latest_s:
            return commit
        earliest = commit.day
    raise NoHistory(
        f"nothing was committed here by {word}: the history begins on {earliest}{_shallow_words(top)}"
    )


def _reckoned_s(top: Path, words: str) -> float:
    """Return what git takes words like "2 weeks ago" for, in seconds since 1970 began; 0 for any time before."""
    told, now = (git_text(ask(top, "rev-parse", f"--before={word}") or b"") for word in (words, "now"))
    epoch_s, now_s = (float(text.strip().removeprefix("--min-age=") or 0) for text in (told, now))
    # Of a time before 1970 git makes one far ahead.
    return epoch_s if epoch_s <= now_s else 0.0


def commits(folder: Path, *arguments: str) -> Iterator[Commit]:
    """Yield commits as `git log` lists them with these arguments: options and revisions.

    Raises:
        NoHistory: Git cannot list them to the end.
    """
    for commit, _ in _listed(folder, *arguments):
        yield commit


def _listed(folder: Path, *arguments: str) -> Iterator[tuple[Commit, int]]:
    """Yield each commit with the seconds since 1970 began when it was made."""
    # A file may be called as a revision is: behind "--" stand files alone, and there are none.
    words = ("log", "-z", "--no-show-signature", "--encoding=UTF-8", _FORMAT, *arguments, "--")
    with Git(folder, *words) as git:
        for entry in _entries(git.pieces()):
            parts = entry.decode("utf-8", "replace").split("\x1f", 4)
            if len(parts) != 5 or not _OID.fullmatch(parts[0]):
                raise NoHistory(f'git answers what cannot be understood: "{_own_words(entry)}"')
            revision, local, epoch_s, written, subject = parts
            clocks = _wall_clock(local), _wall_clock(written)
            yield Commit(revision, local[:10], visible(subject), *clocks), int(epoch_s or 0)
        code, said = git.ended()
    if code != 0:
        raise _unreadable_history(said)


def _entries(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """Yield what zero bytes divide; of one that is very long, its beginning."""
    begun = b""
    for piece in pieces:
        *whole, rest = piece.split(b"\0")
        for entry in whole:
            if begun or entry:
                yield (begun + entry)[:_LONGEST_ENTRY_BYTES]
            begun = b""
        begun = (begun + rest)[:_LONGEST_ENTRY_BYTES]
    if begun:
        yield begun


def _wall_clock(told: str) -> datetime:
    """Return what stands before the offset in "2026-06-20T21:15:00+01:00"."""
    try:
        return datetime.fromisoformat(told[:19])
    except ValueError:
        # A clock that was never set, or one far past the year 9999: older than anything.
        return datetime(1, 1, 1)  # noqa: DTZ001  # it has no offset, as the others have none


def not_here(folder: Path, what: str) -> NoHistory:
    """Return what is to be said where git names something and has it not.

    Args:
        folder: The repository's.
        what: That thing: "specs/negroni.md of 7f3a2c1".
    """
    promised = r"^(extensions\.partialclone|remote\..*\.promisor)$"
    if ask(folder, "config", "--get-regexp", promised):
        return NoHistory(
            f"{what} is not on this machine, since this clone fetches only what is asked for; in "
            f'{folder.as_posix()}, "git fetch --refetch --no-filter" brings everything'
        )
    return NoHistory(
        f"{what} is missing or damaged in the repository at {folder.as_posix()}: "
        '"git fsck" tells what is wrong, and another clone may still have it'
    )


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
