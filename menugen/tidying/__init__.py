"""A house's files in one order and one spacing, so that a diff shows changes and not habits.

Comes in: a house's folder, or the content of one file. Goes out: the same, tidied; what it says never changes.
Knows nothing of: what a drink works out to, git, or any file that is not the house's own.
"""

from menugen.tidying.house import Changed, Looked, look_through, write
from menugen.tidying.tidy import Tidied, tidy

__all__ = ["Changed", "Looked", "Tidied", "look_through", "tidy", "write"]
