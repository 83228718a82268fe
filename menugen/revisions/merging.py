"""What a merge would give: worked out beside the repository, which stays as it is.

Git merges in a repository of its own, made for this and thrown away, that borrows the objects of the house's: so
nothing is written there, and what its settings and attributes name for a merge is not run, nor are the user's own.
"""

import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

from menugen.problems import visible
from menugen.revisions.calls import NoHistory, ask, run
from menugen.revisions.git import Commit, Repository, git_text, is_shallow, not_here
from menugen.revisions.objects import Objects

_NEEDED = "2.38"
"""Git that can tell what a merge gives. Source: git, Documentation/RelNotes/2.38.0.txt; from memory."""


@dataclass(frozen=True, slots=True)
class Merged:
    """What merging one commit into another gives.

    Attributes:
        tree: Its files: a tree's hash, or that of a commit with "^{tree}".
        objects: Where those are to be read.
        conflicts: Files in which both sides say different things at one place; none where git merges all by itself.
    """

    tree: str
    objects: Objects
    conflicts: tuple[str, ...] = ()


def merged(repository: Repository, target: Commit, change: Commit, objects: Objects, typed: str) -> Merged:
    """Return what merging a change into a target gives.

    Args:
        repository: Where both are.
        target: What the change goes into.
        change: The newest commit of the change.
        objects: Where the repository's objects are read.
        typed: The target as it was typed.

    Raises:
        NoHistory: They have nothing in common, or not all of it is here; git is too old to tell.
    """
    top = repository.top
    base = (ask(top, "merge-base", target.revision, change.revision) or b"").decode("ascii").strip()
    if not base:
        raise _nothing_common(top, typed)
    if base in (target.revision, change.revision):
        newer = change if base == target.revision else target
        return Merged(f"{newer.revision}^{{tree}}", objects)
    beside = Path(tempfile.mkdtemp(prefix="menugen-"))
    read_from = Objects(top, lent=beside)
    _borrow(beside, top, target.revision)
    how = ("merge-tree", "--write-tree", "--name-only", "--no-messages", "-z")
    done = run(beside, *how, target.revision, change.revision, alone=True)
    tree, *conflicts = git_text(done.stdout).split("\0")
    if done.returncode in (0, 1) and tree:
        return Merged(tree, read_from, tuple(dict.fromkeys(filter(None, conflicts))))
    if b"unknown option" in done.stderr or b"usage: " in done.stderr:
        version = git_text(ask(top, "version") or b"").strip() or "this git"
        raise NoHistory(
            f"{version} cannot tell what merging gives: it takes git {_NEEDED} or newer, or a branch that has {typed} "
            "merged already",
            f"git -C {quoted(top)} merge {quoted(typed)}",
        )
    raise not_here(top, f"something that merging into {typed} needs")


def _borrow(beside: Path, top: Path, like: str) -> None:
    """Make a folder a repository that borrows the objects of another, whose hashes are like the one given."""
    told = ask(top, "rev-parse", "--git-path", "objects", "--git-path", "shallow") or b""
    objects, shallow = ((top / os.fsdecode(line)).resolve() for line in told.splitlines())
    made = beside / ".git"
    (made / "objects/info").mkdir(parents=True)
    (made / "refs").mkdir()
    (made / "HEAD").write_text("ref: refs/heads/main\n", encoding="ascii")
    is_long = len(like) == 64
    sort = "[extensions]\n\tobjectFormat = sha256\n" if is_long else ""
    settings = f"[core]\n\trepositoryFormatVersion = {int(is_long)}\n\tbare = false\n{sort}"
    (made / "config").write_text(settings, encoding="ascii")
    (made / "objects/info/alternates").write_bytes(os.fsencode(objects) + b"\n")
    if shallow.is_file():
        (made / "shallow").write_bytes(shallow.read_bytes())


def _nothing_common(top: Path, typed: str) -> NoHistory:
    here = quoted(top)
    if is_shallow(top):
        return NoHistory(
            "this clone holds only the newest commits",
            f"git -C {here} fetch --unshallow     # brings what {visible(typed)} is compared by",
        )
    return NoHistory(
        f"{visible(typed)} and this branch have no commit in common, so there is nothing to compare with",
        f"git -C {here} branch --all     # names the branches: the one that the change goes into instead",
    )


def unknown_target(repository: Repository, typed: str) -> tuple[str, ...]:
    """Return what to run where git does not know the branch that a change goes into."""
    here = quoted(repository.top)
    remote, _, branch = typed.partition("/")
    plain = remote.replace("-", "").replace("_", "").isalnum() and not typed.startswith("-")
    if plain and branch and ask(repository.top, "config", "--get", f"remote.{remote}.url") is not None:
        brought = quoted(f"{branch}:refs/remotes/{typed}")
        return (f"git -C {here} fetch {remote} {brought}     # the branch that the change goes into",)
    return (f"git -C {here} branch --all     # names those it knows: one of them instead",)


def quoted(word: Path | str) -> str:
    """Return a word as a shell is to be given it."""
    text = word.as_posix() if isinstance(word, Path) else word
    if text and all(letter.isascii() and (letter.isalnum() or letter in "_./-") for letter in text):
        return f"./{text}" if text.startswith("-") else text
    return "'" + visible(text).replace("'", "'\\''") + "'"
