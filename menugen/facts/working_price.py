"""The working of the lowest price a place allows for a drink."""

from collections.abc import Iterator
from decimal import Decimal

from menugen import regions
from menugen.facts.lab_note import Given, Working
from menugen.facts.sale_rules import alcohol_of, least_price
from menugen.facts.serve import Serve
from menugen.mixing import Figure
from menugen.regions import MinimumPrice, PouredAlcohol, Region

_ROUNDED = {"up": "rounded up", "nearest": "rounded to the nearest"}


def price_working(serve: Serve, region: Region) -> Iterator[Working]:
    """Yield how the lowest price of a drink comes about; nothing where the place sets none for it."""
    price = least_price(serve, region)
    if price is None or serve.strengthless:
        return
    ethanol_ml, pours = serve.made.ethanol_ml, alcohol_of(serve)
    rule = max(region.minimum_prices, key=lambda rule: rule.of(ethanol_ml, pours))
    value, money = float(price), region.currency
    how = f"{_ROUNDED[rule.rounding]}: {price} {money}"
    steps = (
        [*_shares(rule, pours, money), f"together, {how}"]
        if rule.serves
        else [
            f"{rule.price} {money} x {ethanol_ml:.2f} ml / {rule.ethanol_ml:.2f} ml, {how}",
            "melting does not count: it is the alcohol of the pours",
        ]
    )
    if rule.tax_included:
        steps.append("the law's price is with tax")
    yield Working(
        "Lowest price",
        Figure(value, value, value),
        money,
        2,
        tuple(dict.fromkeys(_given(rule, region, pours))),
        tuple(steps),
    )


def _given(rule: MinimumPrice, region: Region, pours: tuple[PouredAlcohol, ...]) -> Iterator[Given]:
    published = [regions.source(one) for one in rule.source]
    source = f"{region.name}: " + "; ".join(f"{one.publisher}, {one.title}" for one in published)
    source += " (in part from memory)" if rule.how == "memory" else ""
    if not rule.serves:
        name = f"price of {rule.ethanol_ml:.2f} ml of alcohol"
        yield Given(name, float(rule.price), region.currency, "law", source)
    for pour in pours:
        row = rule.row_for(pour)
        if row is not None and pour.volume_ml > 0:
            name = f"price of {row.ml} ml {pour.kind or 'of another kind'}"
            yield Given(name, float(row.price), region.currency, "law", source)


def _shares(rule: MinimumPrice, pours: tuple[PouredAlcohol, ...], money: str) -> Iterator[str]:
    for pour in pours:
        row = rule.row_for(pour)
        if row is not None and pour.volume_ml > 0:
            share = row.price * Decimal(str(round(pour.volume_ml, 6))) / row.ml
            yield (
                f"{pour.kind or 'another kind'}: {row.price} {money} x {pour.volume_ml:.2f} ml / "
                f"{row.ml} ml = {share:.4f} {money}"
            )
