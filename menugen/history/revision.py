"""Files of a house at a git revision."""

import posixpath
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path


class NoHistory(Exception):
    """There is no such revision to read; the message says why, in plain words."""


@dataclass(frozen=True, slots=True)
class GitFiles:
    """The files of a house at one revision; the same manners as files on the disk.

    Attributes:
        top: The folder of the git repository.
        inside: The house's folder within it, with forward slashes; empty for the top.
        revision: Full hash of the commit.
    """

    top: Path
    inside: str
    revision: str

    def names(self, folder: str) -> tuple[str, ...]:
        """Return the names of the files directly in a folder of the house; none where there is no such folder."""
        path = posixpath.normpath(posixpath.join(self.inside, folder))
        listing = _git(self.top, "ls-tree", "-z", f"{self.revision}:{'' if path == '.' else path}")
        if listing is None:
            return ()
        entries = (
            entry.split("\t", 1) for entry in listing.decode("utf-8", "surrogateescape").split("\0") if entry
        )
        return tuple(sorted(name for about, name in entries if about.split(" ")[1] == "blob"))

    def read(self, path: str) -> bytes:
        """Return a file's bytes as committed.

        Raises:
            FileNotFoundError: The revision has no such file.
        """
        place = posixpath.normpath(posixpath.join(self.inside, path))
        content = _git(self.top, "cat-file", "blob", f"{self.revision}:{place}")
        if content is None:
            raise FileNotFoundError(path)
        return content


def _git(folder: Path, *arguments: str) -> bytes | None:
    """Return what git prints, or None where it says no."""
    git = shutil.which("git")
    if git is None:
        raise NoHistory("there is no git on this machine")
    done = subprocess.run(  # noqa: S603  # the program is git itself, its arguments a list
        [git, "-C", str(folder), *arguments], capture_output=True, check=False
    )
    return done.stdout if done.returncode == 0 else None


def files_at(house: Path, revision: str) -> GitFiles:
    """Return the files of a house as they were at a revision.

    Raises:
        NoHistory: No git, no repository there, or no such revision.
    """
    top = _git(house, "rev-parse", "--show-toplevel")
    if top is None:
        raise NoHistory(f"{house} is not in a git repository")
    commit = _git(house, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    if commit is None:
        raise NoHistory(f'git knows no revision "{revision}" here')
    root = Path(top.decode("utf-8").rstrip("\n"))
    inside = house.resolve().relative_to(root.resolve()).as_posix()
    return GitFiles(root, "" if inside == "." else inside, commit.decode("ascii").strip())
