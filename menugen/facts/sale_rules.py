"""What the alcohol of a drink asks for in a place: an age to serve it from, and a price it may not be sold under."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from menugen import reference, regions
from menugen.facts.serve import DrinkFacts, Serve
from menugen.regions import PouredAlcohol, Region


def alcohol_of(serve: Serve) -> tuple[PouredAlcohol, ...]:
    """Return what brings alcohol into a drink or onto its glass, bottle by bottle.

    A bottle that does not say how strong it is counts as pure alcohol: it is reported elsewhere, and until it says so
    nothing is made easier by it.
    """
    return tuple(_poured(serve))


def _poured(serve: Serve) -> Iterator[PouredAlcohol]:
    for item in serve.lines:
        strength = 100.0 if item.stock.name in serve.strengthless else item.stock.abv_percent or 0.0
        if strength > 0:
            known = reference.ingredient(item.stock.kind or item.stock.name)
            yield PouredAlcohol(known.kind if known else "", item.volume_ml, strength)


def serving_age(serve: Serve, region: Region) -> int | None:
    """Return the age from which a drink is served in a place; None for one without alcohol.

    A drink that the place's own words call alcohol-free has none, unless a garnish or its rim holds alcohol.
    """
    pours = alcohol_of(serve)
    only_traces = serve.descriptor is not None and serve.descriptor.alcohol_free and not serve.strengthless
    if only_traces and all(pour.volume_ml > 0 for pour in pours):
        return None
    liquids = sum(item.volume_ml > 0 or item.mass_g > 0 for item in serve.lines)
    return region.ages.of(pours, mixed=liquids > 1)


def strictest_age(drinks: Iterable[DrinkFacts], region: Region) -> int | None:
    """Return the highest age from which any of these drinks is served, swaps included; None without alcohol."""
    ages = (serving_age(serve, region) for facts in drinks for serve in facts.ways)
    return max((age for age in ages if age is not None), default=None)


def least_price(serve: Serve, region: Region) -> Decimal | None:
    """Return the lowest price a place allows for a drink, in the place's currency; None where it sets none for it."""
    return regions.minimum_price(
        region,
        serve.made.ethanol_ml,
        abv_percent=serve.made.served_abv_percent.high,
        pours=alcohol_of(serve),
    )
