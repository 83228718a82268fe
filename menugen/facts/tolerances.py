"""How far a figure on a label or in a table may lie off, for the range of whatever is worked out from it."""

from typing import Literal, NamedTuple

from menugen.mixing.drink import JIGGER_TOLERANCE, LABEL_TOLERANCE_PERCENT_VOL, MODEL_TOLERANCE

Basis = Literal["measured", "label", "reference", "none"]
"""Where a value comes from: the house measured it, the label states it, the reference value for its kind stands in, or
nothing is known and none is taken."""

What = Literal["strength", "sugar", "acid", "fat"]

STRENGTH_SOURCE = "Regulation (EU) No 1169/2011, Annex XII: 0.3 % vol where no other figure is given"
NUTRIENT_SOURCE = (
    "European Commission, guidance on tolerances for nutrient values on a label, December 2012 (from memory)"
)
MEASURED_SOURCE = "a refractometer or a scale in a bar; common practice, no published source"
REFERENCE_SOURCE = "spread between makers and harvests; our own estimate, no published source"
ACID_LABEL_SOURCE = "no law sets a tolerance for acid; our own estimate"
JIGGER_SOURCE = "1 ml on a 25 ml jigger; common practice, no published source"
MODEL_SOURCE = "volume of a mixture against a fuller model, computed"

MEASURED_SHARE = 0.02
ACID_LABEL_SHARE = 0.10
REFERENCE_SHARE = 0.15
FROM_MEMORY_SHARE = 0.30


class Tolerance(NamedTuple):
    """How far a value may lie off, either way, in its own unit, and why."""

    amount: float
    source: str


def _nutrient_g_per_l(g_per_l: float, little_g_per_l: float) -> float:
    """Return the guidance's tolerance: so many grams below 10 g in 100, a fifth to 40, then 8 g."""
    if g_per_l < 100.0:
        return little_g_per_l
    return 0.2 * g_per_l if g_per_l <= 400.0 else 80.0


def tolerance(what: What, amount: float, basis: Basis, status: str) -> Tolerance:
    """Return how far one value of a bottle may lie off.

    Args:
        what: Strength in % vol, the others in grams per litre.
        amount: The value, 0 or more. Nothing has no tolerance: a label that states none holds none.
        basis: Where it comes from.
        status: Of a reference value: "verified", "from memory" ...; empty for others.
    """
    if basis == "none" or amount == 0.0:
        return Tolerance(0.0, "")
    if basis == "measured":
        return Tolerance(MEASURED_SHARE * amount, MEASURED_SOURCE)
    if basis == "reference":
        share = FROM_MEMORY_SHARE if status == "from memory" else REFERENCE_SHARE
        return Tolerance(share * amount, REFERENCE_SOURCE)
    return _label_tolerance(what, amount)


def _label_tolerance(what: What, amount: float) -> Tolerance:
    match what:
        case "strength":
            return Tolerance(LABEL_TOLERANCE_PERCENT_VOL, STRENGTH_SOURCE)
        case "acid":
            return Tolerance(ACID_LABEL_SHARE * amount, ACID_LABEL_SOURCE)
        case "sugar" | "fat":
            little_g_per_l = 20.0 if what == "sugar" else 15.0
            return Tolerance(min(amount, _nutrient_g_per_l(amount, little_g_per_l)), NUTRIENT_SOURCE)


__all__ = [
    "JIGGER_SOURCE",
    "JIGGER_TOLERANCE",
    "MODEL_SOURCE",
    "MODEL_TOLERANCE",
    "Basis",
    "Tolerance",
    "What",
    "tolerance",
]
