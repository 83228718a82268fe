"""How far a figure on a label or in a table may lie off, for the range of whatever is worked out from it."""

from collections.abc import Mapping
from typing import Literal, NamedTuple

from menugen.mixing import JIGGER_TOLERANCE, LABEL_TOLERANCE_PERCENT_VOL, MODEL_TOLERANCE

Basis = Literal["measured", "label", "reference", "none"]
"""Where a value comes from: the house measured it, the label states it, the reference value for its kind stands in, or
nothing is known and none is taken."""

What = Literal["strength", "sugar", "acid", "fat"]

ANNEX_XII = "Regulation (EU) No 1169/2011, Annex XII"
WINE_LAW = "Delegated Regulation (EU) 2019/33, Article 44, as summed up in BMC Chemistry 4:5 (2010), table 1"
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


STRONG_BEER_ABOVE_PERCENT = 5.5

_STEEPED = Tolerance(1.5, f"{ANNEX_XII}: 1.5 % vol with macerated fruit or plants")
_BEER = Tolerance(0.5, f"{ANNEX_XII}: 0.5 % vol for beer to 5.5 % vol")
_STRONG_BEER = Tolerance(1.0, f"{ANNEX_XII}: 1 % vol for beer above 5.5 % vol")
_FRUIT_WINE = Tolerance(1.0, f"{ANNEX_XII}: 1 % vol for cider and mead")
_OTHER = Tolerance(LABEL_TOLERANCE_PERCENT_VOL, f"{ANNEX_XII}: 0.3 % vol where no other figure is given")
_OF_KIND: Mapping[str, Tolerance] = {
    "cider": _FRUIT_WINE,
    "mead": _FRUIT_WINE,
    "wine": Tolerance(0.5, f"{WINE_LAW}: 0.5 % vol for wine"),
    "sparkling wine": Tolerance(0.8, f"{WINE_LAW}: 0.8 % vol for sparkling and liqueur wine"),
    "fortified wine": Tolerance(0.8, f"{WINE_LAW}: 0.8 % vol for sparkling and liqueur wine"),
}


def strength_tolerance(abv_percent: float, kind: str, kind_id: str, *, steeped: bool) -> Tolerance:
    """Return how far the law lets a bottle's strength lie off its label, in % vol.

    Args:
        abv_percent: As the label says.
        kind: The reference class of the bottle, "beer" or "wine"; empty where not known.
        kind_id: Its reference id.
        steeped: Whether fruit or plants were steeped in it.
    """
    if abv_percent == 0.0:
        return Tolerance(0.0, "")
    if steeped:
        return _STEEPED
    if kind == "beer" and kind_id not in _OF_KIND:
        return _BEER if abv_percent <= STRONG_BEER_ABOVE_PERCENT else _STRONG_BEER
    return _OF_KIND.get(kind_id) or _OF_KIND.get(kind) or _OTHER


def _nutrient_g_per_l(g_per_l: float, little_g_per_l: float) -> float:
    """Return the guidance's tolerance: so many grams below 10 g in 100, a fifth to 40, then 8 g."""
    if g_per_l < 100.0:
        return little_g_per_l
    return 0.2 * g_per_l if g_per_l <= 400.0 else 80.0


def tolerance(what: Literal["sugar", "acid", "fat"], amount: float, basis: Basis, status: str) -> Tolerance:
    """Return how far one dissolved thing of a bottle may lie off, in grams per litre.

    Args:
        what: Sugar, acid or fat.
        amount: Grams per litre, 0 or more. Nothing has no tolerance: a label that states none holds none.
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
    if what == "acid":
        return Tolerance(ACID_LABEL_SHARE * amount, ACID_LABEL_SOURCE)
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
    "strength_tolerance",
    "tolerance",
]
