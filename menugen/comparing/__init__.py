"""Two houses compared in facts: what changed, each change once, with its causes.

Comes in: two houses as they were read. Goes out: a Comparison.
Knows nothing of: pages, guests' words, how anything is shown. Every rule it applies is that of facts/ and bar/.
"""

from menugen.comparing.changes import (
    HOUSE,
    LEVELS,
    Cause,
    Change,
    Comparison,
    Kind,
    Subject,
    drinks_in,
    level,
)
from menugen.comparing.comparison import compare, with_all_errors
from menugen.comparing.two_houses import two_houses

__all__ = [
    "HOUSE",
    "LEVELS",
    "Cause",
    "Change",
    "Comparison",
    "Kind",
    "Subject",
    "compare",
    "drinks_in",
    "level",
    "two_houses",
    "with_all_errors",
]
