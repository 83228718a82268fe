"""Facts of money and of the law of a place: cost, price, the lowest price, the age to serve from; usual values used."""

from collections.abc import Iterable, Iterator
from typing import Any

from menugen.bar import Cost
from menugen.drink_facts.fact import AtEvent, Compared, Fact, Value, Way
from menugen.drink_facts.shown import money, to_cents, words
from menugen.facts import BottleLine, Serve, least_price, serving_age
from menugen.records import Role
from menugen.report import Row


def _age_rows(way: Way) -> Iterator[Row]:
    if (age := serving_age(way.serve, way.region)) is not None:
        yield Row("Served from", f"{age} years in {way.region.called}")


def _age(way: Way) -> Value:
    age = serving_age(way.serve, way.region)
    return Value(float(age or 0), lambda: f"{age} years" if age else "none")


def _least_rows(way: Way) -> Iterator[Row]:
    least = least_price(way.serve, way.region)
    if least is not None and not way.serve.strengthless:
        yield Row("Lowest price", f"{money(least, way.region.currency)} in {way.region.called}")


def _least_data(way: Way) -> dict[str, Any]:
    least = least_price(way.serve, way.region)
    price = None if least is None else {"currency": way.region.currency, "price": str(least)}
    return {"lowest_price": price}


def _least(way: Way) -> Value:
    """Return the price a drink may not be sold under; nothing where the place sets none."""
    if way.serve.strengthless:
        return words("not known")
    price = least_price(way.serve, way.region)
    return words("none" if price is None else f"{price} {way.region.currency}")


def _price_rows(way: Way) -> Iterator[Row]:
    if way.at is not None:
        yield Row("Price", _price(way.at, way.serve.serves))


def _price(at: AtEvent, serves: int) -> str:
    """Return what the menu says of a price; how many guests share it, since the price is the whole's."""
    price, name = at.entry.price, at.event.name
    if at.event.hosted:
        return f"none shown: {name} is hosted"
    if price is None:
        return f"none at {name}"
    of_all = f" for all {serves} serves" if price and serves > 1 else ""
    return f"{money(price, at.currency) if price else 'free'}{of_all} at {name}"


def price_data(at: AtEvent) -> dict[str, str | bool | None]:
    """Return what guests pay at an event as plain data."""
    price = at.entry.price
    return {
        "event": at.event.slug,
        "amount": None if price is None else f"{price:f}",
        "currency": at.currency,
        "shown": at.event.shown_price(at.entry) is not None,
    }


def _cost_rows(way: Way) -> Iterator[Row]:
    cost, currency = way.cost, way.currency
    missing = f", without {', '.join(dict.fromkeys(cost.unknown))}" if cost.unknown else ""
    known = money(cost.known, currency)
    if cost.serves > 1:
        known = f"{money(cost.a_serve, currency)} a serve, {known} the whole,"
    yield Row("Cost", f"{known} without tax{missing}")


def cost_data(cost: Cost, currency: str) -> dict[str, Any]:
    """Return a cost as plain data; "known" is of one making, and so of the whole bowl or jug."""
    shared = {"a_serve": str(cost.a_serve)} if cost.serves > 1 else {}
    return {"currency": currency, "known": str(cost.known), **shared, "without": list(cost.unknown)}


def _cost(way: Way) -> Value:
    """Return a cost: it may leave out a rim or a garnish that has no price, but nothing that is poured."""
    cost = way.cost
    if missing := unpriced_pours(way.serve, cost):
        return Value("not known", lambda: f"not known (no price or size: {', '.join(missing)})")
    without = f", {' and '.join(dict.fromkeys(cost.unknown))} left out" if cost.unknown else ""
    return Value(float(cost.known), lambda: f"{to_cents(cost.known)} {way.currency}".rstrip() + without)


def unpriced_pours(serve: Serve, cost: Cost) -> tuple[str, ...]:
    """Return the names of what is poured and has no price or no size."""
    return tuple(
        dict.fromkeys(
            line.name
            for item, line in zip(serve.lines, cost.lines, strict=True)
            if line.amount is None and item.line.role not in (Role.RIM, Role.GARNISH)
        )
    )


def _estimate_rows(way: Way) -> Iterator[Row]:
    if guessed := _estimates(way.serve.lines):
        yield Row("Estimated", f"{guessed}: usual values, no label states them; see --working")


def _estimates(items: Iterable[BottleLine]) -> str:
    """Return which values are usual ones for their kind and not from a label; empty where none is."""
    found = []
    for item in items:
        guessed = [
            content.what for content in item.contents if content.basis == "reference" and content.amount > 0
        ]
        if guessed:
            found.append(f"{' and '.join(guessed)} of {item.stock.name}")
    return ", ".join(dict.fromkeys(found))


AGE = Fact(
    name="age",
    rows=_age_rows,
    data=lambda way: {"served_from_age": serving_age(way.serve, way.region)},
    compared=(Compared("age", _age, ("alcohol", "kind"), rules="ages"),),
)
LOWEST_PRICE = Fact(
    name="lowest price",
    rows=_least_rows,
    data=_least_data,
    compared=(Compared("lowest price", _least, ("alcohol", "kind"), rules="minimum_prices"),),
)
PRICE = Fact(name="price", rows=_price_rows, part="contents")
COST = Fact(name="cost", rows=_cost_rows, part="contents", compared=(Compared("cost", _cost, ("cost",)),))
ESTIMATED = Fact(name="estimated", rows=_estimate_rows, part="contents")

RULES_OF_SALE = (AGE, LOWEST_PRICE)
MONEY = (PRICE, COST, ESTIMATED)
