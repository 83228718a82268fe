"""The main line of a house's history: what was tried on a branch counts from the day it was merged."""

from collections.abc import Iterable

from menugen.revisions import Commit, GitFiles, Objects, Repository, UnsureHouse, commits, is_shallow

_MOST_COMMITS = 20_000
"""Commits looked at, at most."""


def main_line(repository: Repository, newest: Commit) -> tuple[list[Commit], list[str]]:
    """Return the commits up to one, the newest first, and what the reader must know: where and why they end."""
    notes: list[str] = []
    if is_shallow(repository.top):
        notes.append("this clone holds only the newest commits: what was before is not shown")
    listed = list(commits(repository.top, "--first-parent", f"-{_MOST_COMMITS}", newest.revision))
    if len(listed) == _MOST_COMMITS:
        notes.append(f"only the newest {_MOST_COMMITS} commits were looked at")
    return followed(repository, listed, notes), notes


def followed(repository: Repository, listed: Iterable[Commit], notes: list[str]) -> list[Commit]:
    """Return the commits up to which the house can be followed.

    Args:
        repository: Where it lies.
        listed: Commits, the newest first.
        notes: Gets a sentence where the house is lost, once.
    """
    objects = Objects(repository.top)
    found: list[Commit] = []
    for commit in listed:
        try:
            _ = GitFiles(repository, commit, objects).folder
        except UnsureHouse as fault:
            if str(fault) not in notes:
                notes.append(str(fault))
            break
        found.append(commit)
    return found
