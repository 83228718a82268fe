"""What git holds of a house: its files as they were committed, and which commit a menu is of.

Comes in: a house's folder and a word for a revision. Goes out: commits, and HouseFiles that reading/ takes like
files on the disk.
Knows nothing of: what the files say. Git is asked through `calls` alone, and never to look at files.
"""

from menugen.revisions.branches import brought_by, of_branches
from menugen.revisions.calls import NoHistory, ask
from menugen.revisions.git import (
    Commit,
    Repository,
    commits,
    committed_part,
    find_commit,
    find_repository,
    is_shallow,
    last_commit,
    unfinished,
)
from menugen.revisions.index import staged_files, working_files
from menugen.revisions.merging import Merged, merged, quoted, unknown_target
from menugen.revisions.moved import UnsureHouse
from menugen.revisions.objects import Objects
from menugen.revisions.revision import GitFiles, files_at
from menugen.revisions.version import NO_STAMP, Stamp, stamp_of, themes_of

__all__ = [
    "NO_STAMP",
    "Commit",
    "GitFiles",
    "Merged",
    "NoHistory",
    "Objects",
    "Repository",
    "Stamp",
    "UnsureHouse",
    "ask",
    "brought_by",
    "commits",
    "committed_part",
    "files_at",
    "find_commit",
    "find_repository",
    "is_shallow",
    "last_commit",
    "merged",
    "of_branches",
    "quoted",
    "staged_files",
    "stamp_of",
    "themes_of",
    "unfinished",
    "unknown_target",
    "working_files",
]
