"""Every drink worked out: which bottle fills each line, what is in the glass, what it contains, what to say of it.

Comes in: the house's records, with the physics of mixing/, the rules of regions/ and the values of reference/.
Goes out: DrinkFacts and EventFacts, private, and the problems found on the way. All who look at a drink read them.
Knows nothing of: files, pages, prices to guests or how anything is shown.
"""

from menugen.facts.alcohol import check_without_alcohol, holds_alcohol
from menugen.facts.cautions import unsaid_cautions
from menugen.facts.event import (
    Broken,
    EventFacts,
    Setting,
    check_event,
    setting_for,
    work_out,
    work_out_event,
    work_out_unlisted,
)
from menugen.facts.place_check import check_whose_rules
from menugen.facts.serve import BottleLine, CombinedFacts, DrinkFacts, Serve, SwapFacts, made_otherwise

__all__ = [
    "BottleLine",
    "Broken",
    "CombinedFacts",
    "DrinkFacts",
    "EventFacts",
    "Serve",
    "Setting",
    "SwapFacts",
    "check_event",
    "check_whose_rules",
    "check_without_alcohol",
    "holds_alcohol",
    "made_otherwise",
    "setting_for",
    "unsaid_cautions",
    "work_out",
    "work_out_event",
    "work_out_unlisted",
]
