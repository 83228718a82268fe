"""A house's files in one order and one spacing, so that a diff shows changes and not habits.

Comes in: the files of a house or of a library of specs, or the content of one. Goes out: the same, tidied; what they
say never changes. Knows nothing of: what a drink works out to, git, or any file that is not the house's own.
"""

from menugen.tidying.house import (
    Changed,
    Protected,
    TidyResult,
    clear_beside,
    files_of_house,
    files_of_library,
    tidy_result,
    tidy_stray_result,
    write,
)
from menugen.tidying.tidy import Tidied, tidy

__all__ = [
    "Changed",
    "Protected",
    "Tidied",
    "TidyResult",
    "clear_beside",
    "files_of_house",
    "files_of_library",
    "tidy",
    "tidy_result",
    "tidy_stray_result",
    "write",
]
