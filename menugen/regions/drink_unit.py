"""The unit a place counts alcohol in, and how its figure is shown to a guest."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Any, Literal

from menugen.regions.certainty import weakest

_GLYPHS = {
    Fraction(1, 3): "⅓",
    Fraction(1, 2): "½",
    Fraction(2, 3): "⅔",
}


@dataclass(frozen=True, slots=True)
class UnitFigure:
    """A figure in units of alcohol, rounded as the place shows it.

    Attributes:
        units: How many, more than 0.
        less_than: Whether there is less than this; said instead of a rounded nothing.
        as_one: Whether the noun stands as it does with 1: for 1 itself, and for "½ standard drink".
    """

    units: Fraction
    less_than: bool
    as_one: bool


@dataclass(frozen=True, slots=True)
class DrinkUnit:
    """A unit of alcohol or standard drink.

    Attributes:
        name: One of them, as a menu says it: "unit", "standard drink", "g of alcohol".
        plural: "units".
        short: For tight places: "units", "std drinks".
        local_name: What the place calls it in its own language; empty where that is English.
        ethanol_ml: Millilitres of pure ethanol in one, more than 0.
        grams: Grams of ethanol in one, where the place defines it by mass; otherwise None.
        density_g_per_ml: The density that body uses for ethanol; None where it defines the unit by volume.
        steps: What a figure is rounded to multiples of; the nearest multiple of any of them, ties upwards.
        style: Whether parts of a unit are written as decimals or as fractions.
        sentence: What one is, for a guest.
        body: Who defines it.
        source: Ids of sources.
        how: "read", "reported" or "memory".
    """

    name: str
    plural: str
    short: str
    local_name: str
    ethanol_ml: float
    grams: float | None
    density_g_per_ml: float | None
    steps: tuple[Fraction, ...]
    style: Literal["decimal", "fraction"]
    sentence: str
    body: str
    source: tuple[str, ...]
    how: str

    def count(self, ethanol_ml: float) -> float:
        """Return the units in this much pure ethanol (ml, 0 or more), not rounded."""
        return ethanol_ml / self.ethanol_ml

    def shown(self, ethanol_ml: float) -> str:
        """Return the figure as a guest reads it: "1.4 units", "1½ standard drinks", "less than 0.1 units".

        Args:
            ethanol_ml: Pure ethanol in the drink, 0 or more.

        Returns:
            Empty for no alcohol at all; never a rounded nothing where there is some.
        """
        figure = self.figure(ethanol_ml)
        if figure is None:
            return ""
        noun = self.name if figure.as_one else self.plural
        return f"{'less than ' if figure.less_than else ''}{self._number(figure.units)} {noun}"

    def figure(self, ethanol_ml: float) -> UnitFigure | None:
        """Return the figure a guest is shown for this much pure ethanol (ml, 0 or more); None for none at all."""
        if ethanol_ml <= 0:
            return None
        rounded = self._nearest(self.count(ethanol_ml))
        shown = rounded or min(self.steps)
        as_one = shown == 1 or (self.style == "fraction" and shown < 1)
        return UnitFigure(shown, rounded == 0, as_one)

    def _nearest(self, units: float) -> Fraction:
        # Six decimals are far below any step; they keep 1.65 from being taken for 1.6499999999999999.
        # Distances are compared at five, so that a tie between thirds and halves, which no decimal hits
        # exactly, stays a tie.
        exact = Fraction(str(round(units, 6)))
        multiples = {whole(exact / step) * step for step in self.steps for whole in (floor, ceil)}
        return min(multiples, key=lambda multiple: (round(float(abs(multiple - exact)), 5), -multiple))

    def _number(self, units: Fraction) -> str:
        if self.style == "decimal":
            return f"{float(units):.6f}".rstrip("0").rstrip(".")
        whole, glyph = split_fraction(units)
        return f"{whole or ''}{glyph}"


def split_fraction(units: Fraction) -> tuple[int, str]:
    """Return the whole units and the sign of the part that is left: (1, "½"); the sign is empty for no part."""
    whole, part = divmod(units, 1)
    return whole, _GLYPHS[part] if part else ""


def drink_unit(raw: Mapping[str, Any]) -> DrinkUnit:
    """Return the unit a place's data describe: by `ml`, or by `grams` and `density`."""
    grams, density = raw.get("grams"), raw.get("density")
    return DrinkUnit(
        name=raw["name"],
        plural=raw["plural"],
        short=raw["short"],
        local_name=raw.get("local_name", ""),
        ethanol_ml=float(raw["ml"]) if "ml" in raw else float(raw["grams"]) / float(raw["density"]),
        grams=None if grams is None else float(grams),
        density_g_per_ml=None if density is None else float(density),
        steps=tuple(Fraction(str(step)) for step in raw["steps"]),
        style=raw["style"],
        sentence=raw["sentence"],
        body=raw["body"],
        source=tuple(raw["source"]),
        how=weakest(raw["how"]),
    )
