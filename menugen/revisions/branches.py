"""Which commits came by a merge: written on a branch, and on the main line only from a later day on."""

from collections.abc import Iterator, Mapping, Sequence

from menugen.revisions.calls import ask
from menugen.revisions.git import Commit, Repository, commits


def brought_by(repository: Repository, newest: Commit, mainline: Sequence[Commit]) -> Mapping[str, Commit]:
    """Return the merge that brought each commit of a branch, by the commit's hash.

    Args:
        repository: Where to ask.
        newest: The newest commit that counts.
        mainline: Each first parent from there, the newest first.
    """
    told = ask(repository.top, "rev-list", "--parents", newest.revision, "--") or b""
    parents = {
        first: others for first, *others in (line.split() for line in told.decode("ascii").splitlines())
    }
    own = {commit.revision for commit in mainline}
    found: dict[str, Commit] = {}
    for merge in reversed(mainline):
        waiting = list(parents.get(merge.revision, ())[1:])
        while waiting:
            revision = waiting.pop()
            if revision not in own and revision not in found and revision in parents:
                found[revision] = merge
                waiting += parents[revision]
    return found


def of_branches(repository: Repository, newest: Commit, brought: Mapping[str, Commit]) -> Iterator[Commit]:
    """Yield the commits that came by a merge, the newest first; merges themselves left out."""
    if brought:
        for commit in commits(repository.top, "--no-merges", newest.revision):
            if commit.revision in brought:
                yield commit
