"""The main line of a house's history: what was tried on a branch counts from the day it was merged."""

from menugen.revisions import Commit, Repository, commits, followed, is_shallow

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
    listed, lost = followed(repository, listed)
    return listed, [*notes, *lost]
