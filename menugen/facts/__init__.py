"""Every drink worked out: which bottle fills each line, what is in the glass, what it contains, what to say of it.

Comes in: the house's records, with the physics of mixing/, the rules of regions/ and the values of reference/.
Goes out: DrinkFacts and EventFacts, private, and the problems found on the way. menu/, bar/ and history/ read them.
Knows nothing of: files, pages, prices to guests or how anything is shown.
"""

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
    "made_otherwise",
    "setting_for",
    "work_out",
    "work_out_event",
    "work_out_unlisted",
]
