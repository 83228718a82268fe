"""The house as it was: its files read straight from git's objects, without a checkout.

Comes in: a folder and a revision. Goes out: HouseFiles that reading/ takes like files on the disk.
Knows nothing of: specs, what changed in them, or how anything is shown.
"""

from menugen.history.git import NoHistory
from menugen.history.revision import GitFiles, files_at

__all__ = ["GitFiles", "NoHistory", "files_at"]
