"""The lowest price a place allows for a drink with alcohol."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Any, Literal

from menugen.regions.alcohol import PouredAlcohol
from menugen.regions.certainty import weakest

_ROUNDING = {"up": ROUND_CEILING, "nearest": ROUND_HALF_UP}


@dataclass(frozen=True, slots=True)
class ServePrice:
    """A price for so much of one kind of drink, and in proportion for more or less.

    Attributes:
        classes: Of kinds of ingredients it is for; empty for every kind.
        above_abv_percent: It is for bottles stronger than this; 0 where the strength does not matter.
        ml: How much of the bottle the price is for.
        price: In the region's currency.
    """

    classes: frozenset[str]
    above_abv_percent: float
    ml: Decimal
    price: Decimal

    def fits(self, pour: PouredAlcohol) -> bool:
        """Return whether this is the price of such a pour."""
        return (not self.classes or pour.kind in self.classes) and pour.abv_percent > self.above_abv_percent


@dataclass(frozen=True, slots=True)
class MinimumPrice:
    """A price below which alcohol may not be sold.

    Attributes:
        price: For one `ethanol_ml`, in the region's currency; 0 where `serves` say it.
        ethanol_ml: Pure ethanol the price is for: 10 in the United Kingdom.
        serves: Prices by what is poured, where the law does not count the alcohol; the first that fits a pour holds.
        rounding: "up" to the next penny or cent, or to the "nearest", half upwards.
        above_abv_percent: It does not hold for drinks of this strength or less; 0 where nothing is said.
        tax_included: Whether the law's price is with tax.
        source: Ids of sources.
        how: "read", "reported" or "memory", the weakest part of it.
        from_date: First day in force; None where no day is known.
        until_date: First day no longer in force; None where none is known.
    """

    price: Decimal
    ethanol_ml: Decimal
    serves: tuple[ServePrice, ...]
    rounding: Literal["up", "nearest"]
    above_abv_percent: float
    tax_included: bool
    source: tuple[str, ...]
    how: str
    from_date: date | None
    until_date: date | None

    def of(self, ethanol_ml: float, pours: Collection[PouredAlcohol] = ()) -> Decimal:
        """Return the lowest price for this much pure ethanol (ml), to two decimals.

        Args:
            ethanol_ml: Pure ethanol in the drink, 0 or more.
            pours: What it comes from, bottle by bottle; only looked at where the law prices what is poured.
        """
        if self.serves:
            exact = sum((self._share(pour) for pour in pours), Decimal(0))
        else:
            exact = self.price * _decimal(ethanol_ml) / self.ethanol_ml
        # The division may leave a trace in the last of 28 digits, and "up" must not make a penny of it.
        return exact.quantize(Decimal("1e-9")).quantize(Decimal("0.01"), rounding=_ROUNDING[self.rounding])

    def row_for(self, pour: PouredAlcohol) -> ServePrice | None:
        """Return the price that holds for a pour, the first that fits it; None where the law names none for it."""
        return next((row for row in self.serves if row.fits(pour)), None)

    def _share(self, pour: PouredAlcohol) -> Decimal:
        row = self.row_for(pour)
        return row.price * _decimal(pour.volume_ml) / row.ml if row else Decimal(0)


def minimum_price_entry(raw: Mapping[str, Any]) -> MinimumPrice:
    """Return the record of one entry of a place's `minimum_price` list."""
    return MinimumPrice(
        price=Decimal(raw.get("price", 0)),
        ethanol_ml=_ethanol_ml(raw),
        serves=tuple(
            ServePrice(
                classes=frozenset(row.get("classes", ())),
                above_abv_percent=float(row.get("above_abv", 0)),
                ml=Decimal(row["ml"]),
                price=Decimal(row["price"]),
            )
            for row in raw.get("serves", ())
        ),
        rounding=raw["rounding"],
        above_abv_percent=float(raw.get("above_abv", 0)),
        tax_included=raw.get("tax_included", False),
        source=tuple(raw["source"]),
        how=weakest(raw["how"]),
        from_date=raw.get("from"),
        until_date=raw.get("until"),
    )


def _ethanol_ml(raw: Mapping[str, Any]) -> Decimal:
    if "grams" in raw:
        return Decimal(raw["grams"]) / Decimal(raw["density"])
    return Decimal(raw.get("ethanol_ml", 0))


def _decimal(figure: float) -> Decimal:
    return Decimal(str(round(figure, 6)))
