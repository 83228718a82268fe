"""Whether there is alcohol in what is poured, and an event where none may be."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Literal

from menugen import reference
from menugen.facts.bottles import Bottles
from menugen.facts.liquids import strength_is_missing
from menugen.facts.serve import ON_THE_GLASS, DrinkFacts
from menugen.names import name_key
from menugen.problems import Place, Problem, error
from menugen.records import Event, Line, Role, Spec, StockLine

MOST_WITHOUT_PERCENT = 0.05
"""A bottle above this holds alcohol, trace or not: whoever may have none is not asked to weigh traces. United Kingdom
guidance on "alcohol free", the strictest figure in regions/data/places; as reported."""


def alcohol_in(stock: StockLine) -> Literal["some", "none", "not known"]:
    """Return whether a stock line holds alcohol, by its stated strength, else by its kind or name."""
    if stock.abv_percent is not None:
        return "some" if stock.abv_percent > MOST_WITHOUT_PERCENT else "none"
    if not stock.distilled_from and reference.is_known_without_alcohol(stock.name, stock.kind):
        return "none"
    return "not known"


def _may_hold(stock: StockLine) -> bool:
    """Return whether a guest who may have no alcohol has to think of this: it has some, or its name says so."""
    if stock.abv_percent is not None:
        return alcohol_in(stock) == "some"
    return strength_is_missing(stock) or reference.names_alcohol(stock.name)


def holds_alcohol(drinks: Iterable[DrinkFacts]) -> bool:
    """Return whether any way of making any of these drinks has alcohol in it or on it, garnish and rinse included."""
    return any(_may_hold(item.stock) for drink in drinks for serve in drink.ways for item in serve.lines)


def check_alcohol_free(drink: DrinkFacts) -> Iterator[Problem]:
    """Yield an error for each thing with alcohol on the glass of a drink that guests would read has none."""
    told: set[str] = set()
    for serve in drink.ways:
        is_free = serve.descriptor is not None and serve.descriptor.alcohol_free
        if not is_free and serve.made.served_abv_percent.high > 0:
            continue
        for item in serve.lines:
            stock, counts = item.stock, item.volume_ml > 0 or item.mass_g > 0
            if item.line.role in ON_THE_GLASS and not counts and _may_hold(stock) and stock.name not in told:
                told.add(stock.name)
                holds = "holds alcohol" if stock.abv_percent else "may hold alcohol"
                yield error(
                    "alcohol-on-the-glass",
                    f"guests would read that {drink.spec.name} has no alcohol in it, and {stock.name} on it {holds}",
                    item.line.place,
                    f'leave it off, or measure what it brings, "5 ml {item.line.name}": then it counts'
                    if stock.abv_percent
                    else 'write its strength in stock: "abv: 0 %" where the maker says that there is none in it',
                )


def check_without_alcohol(
    event: Event, listed: Iterable[tuple[Spec, Place]], bottles: Bottles
) -> Iterator[Problem]:
    """Yield an error for each line that may not be poured at an event with `alcohol: none`; nothing at others.

    Args:
        event: The event.
        listed: Drinks on its menu, each with where the menu lists it.
        bottles: Tonight's.
    """
    if event.pours_alcohol:
        return
    asked: dict[str, tuple[StockLine, list[str]]] = {}
    for spec, place in listed:
        instead_of = {id(swap.line): swap.replaces for swap in spec.swaps}
        for line in (*spec.lines, *(swap.line for swap in spec.swaps)):
            stock = bottles.find(line.name)
            if stock is None:
                continue
            match alcohol_in(stock):
                case "some":
                    yield _poured(event, spec, place, line, stock, instead_of.get(id(line), ""))
                case "not known" if not _asked_already(line, stock):
                    asked.setdefault(stock.name, (stock, []))[1].append(spec.name)
    for stock, drinks in asked.values():
        yield error(
            "alcohol-not-known",
            f'"{stock.name}" does not say whether it holds alcohol, and it is in {_row(drinks)}, '
            'at an event that is "alcohol: none"',
            stock.place._replace(on="key"),
            'write the strength on its label, or "abv: 0 %" where the maker says there is none in it',
        )


def _asked_already(line: Line, stock: StockLine) -> bool:
    """Return whether the missing strength of what is plainly a spirit or a wine is an error of its own."""
    return strength_is_missing(stock) and line.role not in (Role.RIM, Role.GARNISH)


def _poured(event: Event, spec: Spec, place: Place, line: Line, stock: StockLine, replaces: str) -> Problem:
    named = "" if name_key(stock.name) == name_key(line.name) else f' for "{line.name}"'
    swapped = f" instead of {replaces}" if replaces else ""
    found = error(
        "alcohol-poured",
        f"{spec.name} has {stock.name} ({stock.abv_percent:g} % vol) in it{named}{swapped}, "
        f'and {event.name} is "alcohol: none"',
        place,
        "take the drink off the menu, take the line out, or name a bottle without alcohol in the event: "
        f'"bottles:" and below it "  {line.name}: ..."',
    )
    return replace(found, also=((line.place, "this line"),))


def _row(names: list[str]) -> str:
    once = list(dict.fromkeys(names))
    return " and ".join(filter(None, (", ".join(once[:-1]), once[-1])))
