"""Whether a menu's prices may be asked where it is served: none lies under the place's lowest for its alcohol."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from menugen.facts.sale_rules import least_price
from menugen.facts.serve import DrinkFacts
from menugen.problems import Problem, error, warning
from menugen.records import Event, MenuEntry
from menugen.regions import Region


class _Floor(NamedTuple):
    """The lowest price of one way of making a drink.

    Attributes:
        price: In the place's currency.
        made: How the drink is made then: "with 50 ml overproof rum"; empty as written.
        ethanol_ml: Pure alcohol in it.
    """

    price: Decimal
    made: str
    ethanol_ml: float


def check_least_prices(event: Event, region: Region, drinks: Mapping[str, DrinkFacts]) -> Iterator[Problem]:
    """Yield an error for each price under the lowest that the place allows on the day, swaps included.

    A free drink has a price, of nothing. Where someone else pays for the guests' drinks nothing is sold to them.

    Args:
        event: As written.
        region: The rules of its place on its day.
        drinks: Its drinks worked out, by slug.
    """
    if event.hosted or not region.minimum_prices:
        return
    priced = [
        (entry, price, drinks[entry.slug])
        for section in event.sections
        for entry in section.entries
        if (price := event.shown_price(entry)) is not None and entry.slug in drinks
    ]
    currency = event.currency or region.currency
    if currency != region.currency and any(price for _, price, _ in priced):
        yield warning(
            "lowest-price-not-compared",
            f"the lowest price for alcohol in {region.called} is set in {region.currency}, "
            f"and this menu is priced in {currency}",
            next(entry for entry, price, _ in priced if price).place._replace(on="value"),
            "work it out at the day's rate: menugen knows none, and has not checked these prices",
        )
        # Nothing is nothing in any money.
        priced = [one for one in priced if not one[1]]
    for entry, price, facts in priced:
        floor = _floor(facts, region)
        if floor is not None and price < floor.price:
            yield _too_low(entry, price, facts, floor, region)


def _floor(facts: DrinkFacts, region: Region) -> _Floor | None:
    """Return the highest of the lowest prices of a drink, as written first; None where none is set for it."""
    ways = [("", facts.serve)]
    ways += [
        (f"with {_named(swap.swap.line.measure.text, swap.swap.line.name)}", swap.serve)
        for swap in facts.swaps
    ]
    floors = [
        _Floor(price, made, serve.made.ethanol_ml)
        for made, serve in ways
        if (price := least_price(serve, region)) is not None
    ]
    return max(floors, key=lambda floor: floor.price, default=None)


def _named(measure: str, name: str) -> str:
    return f"{measure} {name}".strip()


def _too_low(entry: MenuEntry, price: Decimal, facts: DrinkFacts, floor: _Floor, region: Region) -> Problem:
    money = region.currency
    made = f" {floor.made}" if floor.made else ""
    with_tax = any(rule.tax_included for rule in region.minimum_prices)
    asked = f"sold for {price:.2f} {money}" if price else "free"
    return error(
        "price-below-minimum",
        f"{facts.spec.name}{made} may not be {asked} in {region.called}: "
        f"the least its law allows is {floor.price:.2f} {money}",
        entry.place._replace(on="value"),
        f"write {floor.price:.2f} or more: there are {floor.ethanol_ml:.1f} ml of pure alcohol in it"
        + ("; the law's price is with tax" if with_tax else ""),
        *(() if price else ('or, where someone else pays for the drinks, write "hosted: yes" in the event',)),
    )
