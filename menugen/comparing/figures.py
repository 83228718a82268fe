"""What a drink comes to, as figures that are compared and as they are shown."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final, NamedTuple

from menugen import mixing
from menugen.bar import Cost, serve_cost
from menugen.comparing.changes import Kind
from menugen.comparing.declared import CONTAINS, DISTILLED_FROM, MAY_CONTAIN, declared, words_at
from menugen.facts import DrinkFacts, Serve
from menugen.facts.sale_rules import least_price, serving_age
from menugen.records import Role
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


class ShownFigure(NamedTuple):
    """A worked-out figure, or whatever else cannot be shown otherwise while it stays the same, and how it is shown."""

    value: float | str
    show: Callable[[], str]


A_SERVE: Final = "units a serve"
"""The fact of how many units one guest gets of a drink that guests share."""


def figures_of(serve: Serve, drink: DrinkInSetting) -> dict[Kind, ShownFigure]:
    """Return every figure that is told of one way to make a drink, by what it is called."""
    made = serve.made
    unit = drink.region.drink_unit
    sugar, acid = mixing.sugar_g_per_l(made.drink), mixing.titratable_acid_g_per_l(made.drink)
    word = serve.descriptor.term if serve.descriptor else ""
    figures: dict[Kind, ShownFigure] = {
        "strength": _shown(made.served_abv_percent.value, 1, "% vol"),
        "volume": _shown(made.volume_ml.value, 0, "ml"),
        "units": ShownFigure(
            unit.count(made.ethanol_ml),
            lambda: unit.shown(made.ethanol_ml) or f"no {unit.plural}",
        ),
        A_SERVE: ShownFigure(
            unit.count(made.ethanol_ml / serve.serves),
            lambda: f"{unit.shown(made.ethanol_ml / serve.serves) or f'no {unit.plural}'} in one serve",
        ),
        "sugar": _shown(sugar, 0, "g/l"),
        "acid": _shown(acid, 1, "g/l"),
        "cost": _cost(serve, drink.currency),
        "fit": _fit(serve, drink),
        "menu's word": ShownFigure(word, lambda: word),
        "also named": ShownFigure(named := _also_named(serve), lambda: named or "nothing"),
        "age": _age(serve, drink),
        "lowest price": _lowest_price(serve, drink),
    }
    if serve.strengthless:
        # Nobody says how strong a bottle is: then nothing that rests on it is known.
        names = ", ".join(serve.strengthless)
        figures["strength"] = ShownFigure("not known", lambda: f"not known (no strength stated: {names})")
        figures["units"] = ShownFigure("not known", lambda: f"{unit.plural} not known")
        figures[A_SERVE] = ShownFigure("not known", lambda: f"{unit.plural} in one serve not known")
        figures["menu's word"] = ShownFigure("", str)
    return figures


def _also_named(serve: Serve) -> str:
    """Return what labels name and no law lists."""
    declaration = serve.declaration
    told = [
        *declaration.said,
        *(f"perhaps {word}" for word in declaration.may_said),
        *(f"distilled from {word}" for word in declaration.distilled_said),
    ]
    return ", ".join(told)


def _age(serve: Serve, drink: DrinkInSetting) -> ShownFigure:
    age = serving_age(serve, drink.region)
    return ShownFigure(float(age or 0), lambda: f"{age} years" if age else "none")


def _lowest_price(serve: Serve, drink: DrinkInSetting) -> ShownFigure:
    """Return the price a drink may not be sold under; nothing where the place sets none."""
    if serve.strengthless:
        return ShownFigure("not known", lambda: "not known")
    price = least_price(serve, drink.region)
    words = "none" if price is None else f"{price} {drink.region.currency}"
    return ShownFigure(words, lambda: words)


def _shown(value: float, decimals: int, unit: str) -> ShownFigure:
    return ShownFigure(value, lambda: f"{value:.{decimals}f} {unit}")


def _cost(serve: Serve, currency: str) -> ShownFigure:
    """Return a cost: it may leave out a rim or a garnish that has no price, but nothing that is poured."""
    cost = serve_cost(serve)
    if missing := _unpriced_pours(serve, cost):
        return ShownFigure("not known", lambda: f"not known (no price or size: {', '.join(missing)})")
    return ShownFigure(float(cost.known), lambda: _money(cost, currency))


def _money(cost: Cost, currency: str) -> str:
    amount = _rounded(cost.known)
    without = f", {' and '.join(dict.fromkeys(cost.unknown))} left out" if cost.unknown else ""
    return f"{amount} {currency}".rstrip() + without


def _rounded(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def _unpriced_pours(serve: Serve, cost: Cost) -> tuple[str, ...]:
    """Return the names of what is poured and has no price or no size."""
    return tuple(
        dict.fromkeys(
            line.name
            for item, line in zip(serve.lines, cost.lines, strict=True)
            if line.amount is None and item.line.role not in (Role.RIM, Role.GARNISH)
        )
    )


def _fit(serve: Serve, drink: DrinkInSetting) -> ShownFigure:
    """Return whether a drink fits its glass; how far it runs over is told only where that began or ended."""
    vessel, fit = drink.facts.vessel, serve.fit
    if vessel is None or fit is None:
        return ShownFigure("not known", lambda: f"no {drink.facts.spec.glass} known")
    over_ml = round(fit.over_brim_ml)
    if over_ml > 0:
        return ShownFigure("over", lambda: f"{over_ml} ml over the brim of the {vessel.name}")
    return ShownFigure("fits", lambda: f"fits the {vessel.name}")


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
        cost=None if _unpriced_pours(serve, cost) else _rounded(cost.known),
        unpriced=tuple(dict.fromkeys(cost.unknown)),
        currency=drink.currency,
        contains=words_at(CONTAINS, known),
        may_contain=words_at(MAY_CONTAIN, known),
        distilled_from=words_at(DISTILLED_FROM, known),
        unread=serve.unread,
    )
