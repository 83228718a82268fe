"""The lowest price a place allows for an amount of alcohol."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Any, Literal

_ROUNDING = {"up": ROUND_CEILING, "nearest": ROUND_HALF_UP}


@dataclass(frozen=True, slots=True)
class MinimumPrice:
    """A price below which alcohol may not be sold.

    Attributes:
        price: For one `ethanol_ml`, in the region's currency.
        ethanol_ml: Pure ethanol the price is for: 10 in the United Kingdom.
        rounding: "up" to the next penny or cent, or to the "nearest", half upwards.
        above_abv_percent: It does not hold for drinks of this strength or less; 0 where nothing is said.
        source: Ids of sources.
        how: "read", "reported" or "memory".
        from_date: First day in force; None where no day is known.
        until_date: First day no longer in force; None where none is known.
    """

    price: Decimal
    ethanol_ml: Decimal
    rounding: Literal["up", "nearest"]
    above_abv_percent: float
    source: tuple[str, ...]
    how: str
    from_date: date | None
    until_date: date | None

    def of(self, ethanol_ml: float) -> Decimal:
        """Return the lowest price for this much pure ethanol (ml), to two decimals."""
        ethanol = Decimal(str(round(ethanol_ml, 6)))
        exact = self.price * ethanol / self.ethanol_ml
        # The division may leave a trace in the last of 28 digits, and "up" must not make a penny of it.
        return exact.quantize(Decimal("1e-9")).quantize(Decimal("0.01"), rounding=_ROUNDING[self.rounding])


def minimum_price_entry(raw: Mapping[str, Any]) -> MinimumPrice:
    """Return the record of one entry of a place's `minimum_price` list."""
    return MinimumPrice(
        price=Decimal(raw["price"]),
        ethanol_ml=Decimal(raw["ethanol_ml"])
        if "ethanol_ml" in raw
        else Decimal(raw["grams"]) / Decimal(raw["density"]),
        rounding=raw["rounding"],
        above_abv_percent=float(raw.get("above_abv", 0)),
        source=tuple(raw["source"]),
        how=raw["how"],
        from_date=raw.get("from"),
        until_date=raw.get("until"),
    )
