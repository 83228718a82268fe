"""Every drink worked out: which bottle fills each line, what is in the glass, what it contains, what to say of it.

Comes in: the house's records, with the physics of mixing/, the rules of regions/ and the values of reference/.
Goes out: DrinkFacts and EventFacts, private, and the problems found on the way. All who look at a drink read them.
Knows nothing of: files, pages, prices to guests or how anything is shown.
"""

from menugen.facts.aims import Aimed, Reached, aimed, parse_aim
from menugen.facts.alcohol import check_without_alcohol, holds_alcohol
from menugen.facts.bottles import shelve
from menugen.facts.cautions import stock_cautions, unsaid_cautions
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
from menugen.facts.family import FamilyPlane, family_plane
from menugen.facts.glasses import Vessel, find_vessel, pieces_of
from menugen.facts.in_glass import InGlass, less_ice_words
from menugen.facts.lab_note import SPEC, Given, Working
from menugen.facts.liquids import grams_per_litre
from menugen.facts.place_check import check_whose_rules
from menugen.facts.sale_rules import least_price, serving_age, strictest_age
from menugen.facts.serve import BottleLine, CombinedFacts, DrinkFacts, Serve, SwapFacts, made_otherwise
from menugen.facts.shared import OneServe, one_serve
from menugen.facts.taste import TasteFacts, taste_of
from menugen.facts.uncertainty import Doubt, Worked
from menugen.facts.what_if import WrongChange, changed
from menugen.facts.working import working_of
from menugen.facts.working_glass import MINUTES_ON_ICE, strength_on_ice

__all__ = [
    "MINUTES_ON_ICE",
    "SPEC",
    "Aimed",
    "BottleLine",
    "Broken",
    "CombinedFacts",
    "Doubt",
    "DrinkFacts",
    "EventFacts",
    "FamilyPlane",
    "Given",
    "InGlass",
    "OneServe",
    "Reached",
    "Serve",
    "Setting",
    "SwapFacts",
    "TasteFacts",
    "Vessel",
    "Worked",
    "Working",
    "WrongChange",
    "aimed",
    "changed",
    "check_event",
    "check_whose_rules",
    "check_without_alcohol",
    "family_plane",
    "find_vessel",
    "grams_per_litre",
    "holds_alcohol",
    "least_price",
    "less_ice_words",
    "made_otherwise",
    "one_serve",
    "parse_aim",
    "pieces_of",
    "serving_age",
    "setting_for",
    "shelve",
    "stock_cautions",
    "strength_on_ice",
    "strictest_age",
    "taste_of",
    "unsaid_cautions",
    "work_out",
    "work_out_event",
    "work_out_unlisted",
    "working_of",
]
