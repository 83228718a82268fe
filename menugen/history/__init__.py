"""The house as it was, and what changed: its files straight from git's objects, and two houses compared in facts.

Comes in: a folder and revisions. Goes out: HouseFiles that reading/ takes like files on the disk; a Comparison.
Knows nothing of: pages, guests' words, how anything is shown. Every rule it applies is that of facts/ and bar/.
"""

from menugen.history.changes import (
    AllergenMove,
    BottleMove,
    Cause,
    Comparison,
    Declared,
    DrinkMoves,
    EventMoves,
    Move,
    NewDrink,
    Side,
    StockMove,
    Unseen,
)
from menugen.history.chart import chart_svg, chart_text
from menugen.history.comparison import Edition, compare, with_all_errors
from menugen.history.editions import editions
from menugen.history.git import Commit, NoHistory, Repository
from menugen.history.life import Life, NoSuchDrink, Turn, Version, life_of
from menugen.history.menu_stages import OnBranch, Served, Stage, Unsound
from menugen.history.printed_card import PrintedCard, PrintedCards
from menugen.history.revision import GitFiles, files_at
from menugen.history.served import Servings, served
from menugen.history.since_card import since_card
from menugen.history.version import NO_STAMP, Stamp, looks_of, stamp_of

__all__ = [
    "NO_STAMP",
    "AllergenMove",
    "BottleMove",
    "Cause",
    "Commit",
    "Comparison",
    "Declared",
    "DrinkMoves",
    "Edition",
    "EventMoves",
    "GitFiles",
    "Life",
    "Move",
    "NewDrink",
    "NoHistory",
    "NoSuchDrink",
    "OnBranch",
    "PrintedCard",
    "PrintedCards",
    "Repository",
    "Served",
    "Servings",
    "Side",
    "Stage",
    "Stamp",
    "StockMove",
    "Turn",
    "Unseen",
    "Unsound",
    "Version",
    "chart_svg",
    "chart_text",
    "compare",
    "editions",
    "files_at",
    "life_of",
    "looks_of",
    "served",
    "since_card",
    "stamp_of",
    "with_all_errors",
]
