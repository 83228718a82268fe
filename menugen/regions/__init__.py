"""What a place's rules say: allergens, units of alcohol, ages, words, notices, cautions.

Comes in: a region code, a date, what a drink carries as plain values. Goes out: frozen records with sources.
Knows nothing of: files of the user, problems, drinks' records, pages.
The rules are data (`data/*.yaml`, each with its format at the top); a new place needs a file and no code.
Nothing here is legal advice: rules change, and the licensing authority of the place decides.
"""

from menugen.regions.absence import AbsencePromise, absence_promises
from menugen.regions.ages import Ages, LowerAge
from menugen.regions.alcohol import PouredAlcohol
from menugen.regions.cautions import Caution, caution, known_cautions, with_alcohol
from menugen.regions.declaration import Carried, Declaration, Declared, Made, declare
from menugen.regions.drink_unit import DrinkUnit, UnitFigure, split_fraction
from menugen.regions.energy_factors import EnergyFactors, EnergyPerGram
from menugen.regions.guest_texts import GuestText, guest_texts
from menugen.regions.label_words import UNLISTED, LabelWord, label_word, substance_words
from menugen.regions.notices import PlaceNotice, filled
from menugen.regions.places import Helpline, Region, UnknownRegion, known_regions, load_region, minimum_price
from menugen.regions.price_floor import MinimumPrice
from menugen.regions.regimes import Regime, RegimeEntry, Threshold
from menugen.regions.sources import Source, source
from menugen.regions.strength_words import Claim, Descriptor, StrengthWord
from menugen.regions.substance_list import Substance, substance, substances

__all__ = [
    "UNLISTED",
    "AbsencePromise",
    "Ages",
    "Carried",
    "Caution",
    "Claim",
    "Declaration",
    "Declared",
    "Descriptor",
    "DrinkUnit",
    "EnergyFactors",
    "EnergyPerGram",
    "GuestText",
    "Helpline",
    "LabelWord",
    "LowerAge",
    "Made",
    "MinimumPrice",
    "PlaceNotice",
    "PouredAlcohol",
    "Regime",
    "RegimeEntry",
    "Region",
    "Source",
    "StrengthWord",
    "Substance",
    "Threshold",
    "UnitFigure",
    "UnknownRegion",
    "absence_promises",
    "caution",
    "declare",
    "filled",
    "guest_texts",
    "known_cautions",
    "known_regions",
    "label_word",
    "load_region",
    "minimum_price",
    "source",
    "split_fraction",
    "substance",
    "substance_words",
    "substances",
    "with_alcohol",
]
