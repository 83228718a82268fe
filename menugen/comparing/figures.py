"""A drink as it is compared, and its figures for a chart."""

from dataclasses import dataclass
from decimal import Decimal

from menugen import mixing
from menugen.bar import serve_cost
from menugen.comparing.declared import CONTAINS, DISTILLED_FROM, MAY_CONTAIN, declared, words_at
from menugen.drink_facts import Way, to_cents, unpriced_pours
from menugen.facts import DrinkFacts, Serve
from menugen.regions import Region


@dataclass(frozen=True, slots=True)
class DrinkInSetting:
    """A drink worked out in one setting of one house.

    Attributes:
        facts: The drink.
        region: The rules it was worked out with.
        currency: Of its cost, ISO 4217; empty where not known.
    """

    facts: DrinkFacts
    region: Region
    currency: str

    def way(self, serve: Serve) -> Way:
        """Return one way to make it, for the facts that are compared."""
        return Way(serve, self.facts, self.region, self.currency)


@dataclass(frozen=True, slots=True)
class DrinkFigures:
    """What a drink comes to, for a chart.

    Attributes:
        strength_percent: As served, percent by volume; None where a bottle does not say how strong it is.
        sugar_g_per_l: Grams in a litre of the drink.
        cost: To make one, without tax, to two places; None where something poured has no price or no size.
        unpriced: Names of rims and garnishes without a price or a size: the cost is without them.
        currency: Of the cost; empty where not known.
        contains: The menu's words for what it contains, as far as labels had been read.
        may_contain: The same for what it may contain.
        distilled_from: The same for what spirits in it were distilled from.
        unread: Names in stock of what is in it and whose label nobody had read.
    """

    strength_percent: float | None
    sugar_g_per_l: float
    cost: Decimal | None
    unpriced: tuple[str, ...]
    currency: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    distilled_from: tuple[str, ...]
    unread: tuple[str, ...]


def drink_figures(drink: DrinkInSetting) -> DrinkFigures:
    """Return what a drink as written comes to."""
    serve = drink.facts.serve
    cost, known = serve_cost(serve), declared(serve)
    return DrinkFigures(
        strength_percent=None if serve.strengthless else serve.made.served_abv_percent.value,
        sugar_g_per_l=mixing.sugar_g_per_l(serve.made.drink),
        cost=None if unpriced_pours(serve, cost) else to_cents(cost.known),
        unpriced=tuple(dict.fromkeys(cost.unknown)),
        currency=drink.currency,
        contains=words_at(CONTAINS, known),
        may_contain=words_at(MAY_CONTAIN, known),
        distilled_from=words_at(DISTILLED_FROM, known),
        unread=serve.unread,
    )
