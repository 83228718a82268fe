"""The bar's private view of an event."""

from dataclasses import dataclass

from menugen.bar.cost import Cost, serve_cost
from menugen.facts import DrinkFacts, EventFacts


@dataclass(frozen=True, slots=True)
class BarDrink:
    """A drink with what it costs to make."""

    facts: DrinkFacts
    cost: Cost


@dataclass(frozen=True, slots=True)
class BarPack:
    """Every drink of an event as the bar sees it, in the order of the menu."""

    event: str
    guests: int | None
    drinks: tuple[BarDrink, ...]


def bar_pack(facts: EventFacts) -> BarPack:
    """Return the bar's view of a worked-out event."""
    drinks = tuple(BarDrink(drink, serve_cost(drink.serve)) for drink in facts.drinks.values())
    return BarPack(facts.event.name, facts.event.guests, drinks)
