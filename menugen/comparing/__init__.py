"""Two houses compared: what guests were told under a name and are told otherwise now; all else explains that.

Comes in: two houses as they were read. Goes out: a Comparison, whose changes are all of one kind.
Knows nothing of: pages, guests' words, how anything is shown. Every rule it applies is that of facts/, drink_facts/ and
bar/.

`declared_otherwise` is the rule: what menus declared under a name against what one declares. Two houses, a published
menu and a printed card are held against each other by it; `told_otherwise` says what a guard stops for.

A publish needs `changes` and `declared`, and should not wait for the rest: that is imported when it is first asked for.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from menugen.comparing.changes import (
    HOUSE,
    LEVELS,
    NOT_READ,
    READ,
    REPLACED,
    Cause,
    Change,
    ComparedHouse,
    Comparison,
    Kind,
    Subject,
    bottle_thing,
    by_subject,
    drinks_in,
    level,
    told_otherwise,
)
from menugen.comparing.declared import (
    CONTAINS,
    DISTILLED_FROM,
    MAY_CONTAIN,
    NOT_DECLARED,
    Alike,
    DeclaredAs,
    DeclaredDrink,
    DeclaredWay,
    SwapKey,
    combined_key,
    declared,
    declared_drink,
    declared_otherwise,
    same_change,
    same_choices,
    swap_key,
)

if TYPE_CHECKING:
    from menugen.comparing.both_houses import (
        WORKING_FILES,
        NewHouse,
        TwoHouses,
        houses_to_compare,
    )
    from menugen.comparing.comparison import compare, with_all_errors
    from menugen.comparing.differences import line_words
    from menugen.comparing.drink_changes import drink_subject
    from menugen.comparing.event_moves import money_of, price_text
    from menugen.comparing.figures import DrinkFigures, drink_figures
    from menugen.comparing.house_version import BarSetUp, HouseVersion
    from menugen.comparing.matching import match, renamed

_LATER = {
    "BarSetUp": "house_version",
    "DrinkFigures": "figures",
    "HouseVersion": "house_version",
    "NewHouse": "both_houses",
    "TwoHouses": "both_houses",
    "WORKING_FILES": "both_houses",
    "compare": "comparison",
    "drink_figures": "figures",
    "drink_subject": "drink_changes",
    "houses_to_compare": "both_houses",
    "line_words": "differences",
    "match": "matching",
    "money_of": "event_moves",
    "price_text": "event_moves",
    "renamed": "matching",
    "with_all_errors": "comparison",
}

__all__ = [
    "CONTAINS",
    "DISTILLED_FROM",
    "HOUSE",
    "LEVELS",
    "MAY_CONTAIN",
    "NOT_DECLARED",
    "NOT_READ",
    "READ",
    "REPLACED",
    "WORKING_FILES",
    "Alike",
    "BarSetUp",
    "Cause",
    "Change",
    "ComparedHouse",
    "Comparison",
    "DeclaredAs",
    "DeclaredDrink",
    "DeclaredWay",
    "DrinkFigures",
    "HouseVersion",
    "Kind",
    "NewHouse",
    "Subject",
    "SwapKey",
    "TwoHouses",
    "bottle_thing",
    "by_subject",
    "combined_key",
    "compare",
    "declared",
    "declared_drink",
    "declared_otherwise",
    "drink_figures",
    "drink_subject",
    "drinks_in",
    "houses_to_compare",
    "level",
    "line_words",
    "match",
    "money_of",
    "price_text",
    "renamed",
    "same_change",
    "same_choices",
    "swap_key",
    "told_otherwise",
    "with_all_errors",
]


def __getattr__(name: str) -> object:
    """Return what is imported only where it is used."""
    if name not in _LATER:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_LATER[name]}"), name)
