"""What is dissolved in a bottle: from its label, else the reference value for its kind, each marked."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from menugen import mixing, reference
from menugen.facts.tolerances import Basis, Tolerance, What, strength_tolerance, tolerance
from menugen.mixing import Liquid
from menugen.records import Concentration, StockLine

_A_LITRE_ML = 1000.0

MOST_DISSOLVED_G_PER_G = 2.2
"""Grams that dissolve in a gram of water beside alcohol, at the most: sucrose at 20 C, 203.9 g in 100 g of water
(F. A. Mohos, Confectionery and Chocolate Engineering, 2010, appendix 2), and a little for other sugars. Alcohol makes
it less, so this refuses only what cannot be. Honey and syrups without alcohol hold more, and are not asked."""
STEEPED = "infusion"
"""The caution of a bottle in which something was steeped, regions/data/cautions.yaml."""


@dataclass(frozen=True, slots=True)
class Content:
    """One dissolved thing in a bottle.

    Attributes:
        what: "strength", "sugar", "acid", "fat".
        amount: Percent by volume for strength, else grams per litre.
        basis: Where it comes from.
        source: The citation for a reference value, with its status; empty for a label.
        tolerance: How far it may lie off, in its own unit, and why.
    """

    what: What
    amount: float
    basis: Basis
    source: str
    tolerance: Tolerance


@dataclass(frozen=True, slots=True, eq=False)
class BottledLiquid:
    """A litre of what is in a bottle, and what that rests on; one object a label, told apart as such."""

    litre: Liquid
    contents: tuple[Content, ...]


def strength_is_missing(stock: StockLine) -> bool:
    """Return whether a line plainly names something alcoholic and states no strength."""
    if stock.abv_percent is not None:
        return False
    if stock.distilled_from:
        return True
    known = reference.ingredient(stock.kind) if stock.kind else None
    if known is not None:
        return known.is_alcoholic
    return reference.is_alcoholic_kind(stock.name)


_CLASS_OF_KIND = {"cider": "cider", "mead": "", "sake": ""}
_CLASS_OF_CLASS = {"beer": "beer", "wine": "wine", "sparkling wine": "wine"}


def worded_class(stock: StockLine, called: str) -> str:
    """Return the class of drink whose rules for words of strength hold of a bottle: "beer", "cider" or "wine", or none.

    Args:
        stock: The bottle; one without alcohol is of the class it was made as.
        called: What the spec calls it, for a bottle whose own name tells nothing.
    """
    known = reference.made_as(stock.kind or stock.name) or reference.made_as(called)
    return "" if known is None else _CLASS_OF_KIND.get(known.id, _CLASS_OF_CLASS.get(known.kind, ""))


def grams_per_litre(written: Concentration, density_g_per_ml: float | None) -> float:
    """Return a labelled concentration as grams per litre of the liquid.

    Percent by mass needs the density; where none is stated, that of a sucrose solution of that strength is used.

    Raises:
        ValueError: The figure cannot be (over 100 %).
    """
    match written.unit:
        case "g/l":
            return written.value
        case "g/100 ml":
            return written.value * 10
        case "brix" | "% mass":
            return mixing.brix_to_g_per_l(written.value, density_g_per_ml)


@lru_cache(maxsize=4096)
def bottled(
    name: str,
    kind: str,
    abv_percent: float | None,
    sugar: Concentration | None,
    acid: Concentration | None,
    fat: Concentration | None,
    density_g_per_ml: float | None,
    steeped: bool,
) -> BottledLiquid:
    """Return a litre of this liquid.

    Raises:
        ValueError: The label contradicts itself; the message says how, in plain words.
    """
    known = reference.ingredient(kind or name)
    strength_off_by = strength_tolerance(
        abv_percent or 0.0, known.kind if known else "", known.id if known else "", steeped=steeped
    )
    basis: Basis = "label" if abv_percent is not None else "none"
    contents = [Content("strength", abv_percent or 0.0, basis, "", strength_off_by)]
    stated: tuple[tuple[Literal["sugar", "acid", "fat"], Concentration | None], ...] = (
        ("sugar", sugar),
        ("acid", acid),
        ("fat", fat),
    )
    for what, written in stated:
        usual = known.values.get(f"{what}_g_per_l") if known is not None else None
        if written is not None:
            # No label prints Brix: it is read off an instrument.
            basis = "measured" if written.unit == "brix" else "label"
            amount = grams_per_litre(written, density_g_per_ml)
            contents.append(Content(what, amount, basis, "", tolerance(what, amount, basis, "")))
        elif usual is not None:
            off_by = tolerance(what, usual.value, "reference", usual.status)
            source = f"{usual.source} ({usual.status})"
            contents.append(Content(what, usual.value, "reference", source, off_by))
    amounts = {content.what: content.amount for content in contents}
    litre = mixing.liquid_from_label(
        _A_LITRE_ML,
        amounts["strength"],
        sugar_g_per_l=amounts.get("sugar", 0.0),
        acid_g_per_l=amounts.get("acid", 0.0),
        fat_g_per_l=amounts.get("fat", 0.0),
        density_g_per_ml=density_g_per_ml,
    )
    dissolved_g = litre.sugar_g + litre.acid_g + litre.solids_g
    if litre.ethanol_g > 0 and dissolved_g > MOST_DISSOLVED_G_PER_G * litre.water_g:
        raise ValueError(
            f"they ask for {dissolved_g:.0f} g dissolved in {litre.water_g:.0f} g of water a litre, "
            "more than stays dissolved"
        )
    return BottledLiquid(litre, tuple(contents))


def bottled_stock(stock: StockLine) -> BottledLiquid:
    """Return a litre of what a stock line holds.

    Raises:
        ValueError: The label contradicts itself; the message says how, in plain words.
    """
    return bottled(
        stock.name,
        stock.kind,
        stock.abv_percent,
        stock.sugar,
        stock.acid,
        stock.fat,
        stock.density_g_per_ml,
        STEEPED in (stock.cautions or ()),
    )


def poured(bottled_liquid: BottledLiquid, volume_ml: float) -> Liquid:
    """Return this much of what is in a bottle."""
    return mixing.scaled(bottled_liquid.litre, volume_ml / _A_LITRE_ML)
