"""What a drink costs to make, from the prices of the bottles poured."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from menugen import regions
from menugen.facts import BottleLine, Serve
from menugen.records import House, StockLine
from menugen.regions import Region


@dataclass(frozen=True, slots=True)
class CostLine:
    """What one line costs.

    Attributes:
        name: The bottle.
        amount: Without tax, in the currency prices are kept in, not rounded; None where stock states no price or size.
    """

    name: str
    amount: Decimal | None


@dataclass(frozen=True, slots=True)
class Cost:
    """What a drink costs to make.

    Attributes:
        lines: In the order of the spec.
        known: Of one making: sum of the lines whose cost is known, without tax, not rounded.
        unknown: Names of bottles without a price or a size; the sum is then too low and must say so.
        serves: How many guests share it; 1 for one guest's drink.
    """

    lines: tuple[CostLine, ...]
    known: Decimal
    unknown: tuple[str, ...]
    serves: int = 1

    @property
    def a_serve(self) -> Decimal:
        """What one guest's part costs, not rounded."""
        return self.known / self.serves


def _share_of_purchase(item: BottleLine) -> Decimal | None:
    """Return how much of one bought bottle or pack a line uses up; None where stock cannot say."""
    stock: StockLine = item.stock
    measure = item.line.measure
    mass_g = measure.mass_g or item.mass_g
    volume_ml = item.volume_ml or measure.volume_ml or 0.0
    if measure.unit == "top" and volume_ml == 0.0:
        # The glass is full without it: a problem of its own, and nothing is poured.
        return Decimal(0)
    if measure.count is not None and stock.pack:
        return Decimal(repr(measure.count)) / stock.pack
    if mass_g > 0 and stock.bottle_g:
        return Decimal(repr(mass_g)) / Decimal(repr(stock.bottle_g))
    if volume_ml > 0 and stock.bottle_ml:
        return Decimal(repr(volume_ml)) / Decimal(repr(stock.bottle_ml))
    if volume_ml > 0 and stock.each_ml and stock.pack:
        return Decimal(repr(volume_ml)) / Decimal(repr(stock.each_ml)) / stock.pack
    return None


def _line_cost(item: BottleLine) -> CostLine:
    share, price = _share_of_purchase(item), item.stock.price
    return CostLine(item.stock.name, None if share is None or price is None else share * price)


def stock_currency(house: House, region: Region) -> str:
    """Return what stock is priced in, ISO 4217: the house's own money, wherever it serves.

    Args:
        house: The house.
        region: Where it serves; its money counts only where the house says neither its money nor its place.
    """
    if house.currency or not house.region:
        return house.currency or region.currency
    try:
        # What money a place has does not change with the day: any will do.
        return regions.load_region(house.region, date(2026, 1, 1)).currency
    except regions.UnknownRegion:
        return region.currency


def serve_cost(serve: Serve) -> Cost:
    """Return what one making costs: each line's share of the bottle or pack it comes from."""
    lines = tuple(map(_line_cost, serve.lines))
    known = sum((line.amount for line in lines if line.amount is not None), Decimal(0))
    return Cost(lines, known, tuple(line.name for line in lines if line.amount is None), serve.serves)
