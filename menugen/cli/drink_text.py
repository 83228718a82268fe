"""One drink worked out, as text for a bartender at a terminal and as JSON for a program."""

import json
import textwrap
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, Literal

from babel import Locale
from babel.numbers import format_currency

from menugen.bar import Cost
from menugen.facts import BottleLine, DrinkFacts, Serve
from menugen.measures import show_ml, show_ounces
from menugen.menu.strength import strength_words
from menugen.mixing import Figure
from menugen.records import Line, Role
from menugen.regions import Declared, Region

WIDTH = 80
LABEL = 14

_ROLE_WORDS = {
    Role.POUR: "",
    Role.TOP: "on top",
    Role.FLOAT: "float",
    Role.RINSE: "rinse",
    Role.INSIDE: "inside the glass",
    Role.RIM: "rim",
    Role.GARNISH: "garnish",
}


def _bold(text: str, colour: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if colour else text


def _between(figure: Figure, decimals: int, unit: str) -> str:
    """Return "12.3 % (11.4 to 13.1)"; without a range where there is none."""
    value = f"{figure.value:.{decimals}f} {unit}".rstrip()
    low, high = f"{figure.low:.{decimals}f}", f"{figure.high:.{decimals}f}"
    return value if low == high else f"{value} ({low} to {high})"


def _row(label: str, text: str) -> str:
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=label.ljust(LABEL),
        subsequent_indent=" " * LABEL,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _amounts(item: BottleLine, ounce: Literal["trade", "us", "imperial"]) -> tuple[str, str]:
    """Return a line's measure in millilitres and in bar-rounded ounces; what has no volume keeps its own words."""
    measure = item.line.measure
    if item.volume_ml > 0:
        counted = measure.count is not None
        return (measure.text if counted else show_ml(item.volume_ml)), show_ounces(item.volume_ml, ounce)
    if item.mass_g > 0:
        return f"{item.mass_g:g} g", ""
    return measure.text, ""


def _bottle(item: BottleLine) -> str:
    """Return what fills a line where that says more than the line itself, and how strong it is."""
    name = "" if item.stock.name.casefold() == item.line.name.casefold() else item.stock.name
    strength = f"{item.stock.abv_percent:g} % vol" if item.stock.abv_percent and item.contents else ""
    return ", ".join(filter(None, (name, strength)))


def _lines(items: Iterable[BottleLine], ounce: Literal["trade", "us", "imperial"]) -> list[str]:
    rows = []
    for item in items:
        millilitres, ounces = _amounts(item, ounce)
        words = ", ".join(filter(None, (_ROLE_WORDS[item.line.role], _bottle(item))))
        rows.append((millilitres, ounces, item.line.name, words))
    name_width = max((len(row[2]) for row in rows), default=0)
    drawn = []
    for millilitres, ounces, name, words in rows:
        left = f"  {millilitres:>10}  {ounces:>8}  "
        drawn.append((left + (f"{name:<{name_width}}  {words}" if words else name)).rstrip())
    return drawn


def _declared(items: Iterable[Declared]) -> str:
    return ", ".join(word for item in items for word in item.words) or "none declared on the labels"


def _estimates(items: Iterable[BottleLine]) -> list[str]:
    """Return a sentence for each bottle whose sugar or acid is a reference value and not from its label."""
    told = []
    for item in items:
        guessed = [
            content for content in item.contents if content.basis == "reference" and content.amount > 0
        ]
        if guessed:
            values = ", ".join(f"{content.what} {content.amount:g} g/l" for content in guessed)
            told.append(f"{item.stock.name}: {values} (reference value: {guessed[0].source})")
    return told


def _money(amount: Decimal, currency: str) -> str:
    return format_currency(
        amount.quantize(Decimal("0.01"), ROUND_HALF_UP), currency, locale=Locale("en", "GB")
    )


def _method(facts: DrinkFacts) -> str:
    steps = [
        step.verb if step.seconds is None else f"{step.verb} {step.seconds:g} s" for step in facts.spec.method
    ] or ["build"]
    strain = {"fine": "strain fine", "single": "strain", "dump": "pour unstrained"}.get(facts.spec.strain, "")
    return ", ".join(filter(None, (*steps, strain)))


def _glass(facts: DrinkFacts) -> str:
    vessel, fit = facts.vessel, facts.serve.fit
    if vessel is None or fit is None:
        return facts.spec.glass
    ice = f", {fit.ice_ml:.0f} ml of it ice" if fit.ice_ml > 0 else ""
    where = (
        f"{fit.over_brim_ml:.0f} ml over the brim"
        if fit.over_brim_ml > 0
        else f"{vessel.brim_ml - fit.surface_ml:.0f} ml under the brim"
    )
    return f"{vessel.name}, {vessel.brim_ml:.0f} ml: filled to {fit.surface_ml:.0f} ml{ice}, {where}"


def _swap_line(line: Line, replaces: str) -> str:
    return f"{line.measure.text} {line.name}".strip() + f" instead of {replaces}"


def drink_text(
    facts: DrinkFacts,
    region: Region,
    cost: Cost,
    currency: str,
    *,
    ounce: Literal["trade", "us", "imperial"],
    colour: bool,
) -> str:
    """Return the drink as a page of text, 80 columns wide."""
    spec, serve, made = facts.spec, facts.serve, facts.serve.made
    out = [
        _bold(spec.name, colour),
        f"{_method(facts)}; {spec.glass}" + (f", {spec.ice} ice" if spec.ice else ""),
    ]
    out += ["", *_lines(serve.lines, ounce), ""]
    out.append(
        _row("Poured", f"{made.mix.volume_ml:.0f} ml, {_between(made.poured_abv_percent, 1, '% vol')}")
    )
    if made.melt_g.value > 0:
        ratio = _between(made.melt_ratio, 2, "").strip()
        out.append(
            _row("Melt", f"{made.melt_g.value:.0f} g of water, {ratio} of the mix by {made.melt_basis}")
        )
        out.append(_row("", made.melt_source))
    out.append(
        _row("Served", f"{made.volume_ml.value:.0f} ml, {_between(made.served_abv_percent, 1, '% vol')}")
    )
    out.append(_row("Menu says", strength_words(serve).replace("\N{NO-BREAK SPACE}", " ")))
    units = region.drink_unit.shown(made.ethanol_ml) or f"no {region.drink_unit.plural}"
    out.append(
        _row("Alcohol", f"{made.ethanol_ml:.1f} ml, {made.ethanol_g:.1f} g; {units} in {region.name}")
        if made.ethanol_ml > 0
        else _row("Alcohol", "none")
    )
    out.append(_row("Contains", _declared(serve.declaration.contains)))
    if serve.declaration.may_contain:
        out.append(_row("May contain", _declared(serve.declaration.may_contain)))
    if serve.cautions:
        out.append(_row("Cautions", ", ".join(serve.cautions)))
    out.append(_row("Glass", _glass(facts)))
    missing = f", without {', '.join(dict.fromkeys(cost.unknown))}" if cost.unknown else ""
    out.append(_row("Cost", f"{_money(cost.known, currency)} without tax{missing}"))
    for number, sentence in enumerate(_estimates(serve.lines)):
        out.append(_row("Estimated" if number == 0 else "", sentence))
    for number, swap in enumerate(facts.swaps):
        out.append(_row("Swaps" if number == 0 else "", _swap_line(swap.swap.line, swap.swap.replaces)))
        out.append(_row("", _swap_facts(swap.serve, region)))
    return "\n".join(out)


def _swap_facts(serve: Serve, region: Region) -> str:
    told = [
        strength_words(serve).replace("\N{NO-BREAK SPACE}", " "),
        region.drink_unit.shown(serve.made.ethanol_ml),
    ]
    told.append("contains " + _declared(serve.declaration.contains))
    if serve.declaration.may_contain:
        told.append("may contain " + _declared(serve.declaration.may_contain))
    return "; ".join(filter(None, told))


def _figure(figure: Figure) -> dict[str, float]:
    return {"value": round(figure.value, 4), "low": round(figure.low, 4), "high": round(figure.high, 4)}


def _serve_json(serve: Serve, region: Region) -> dict[str, Any]:
    made = serve.made
    return {
        "lines": [
            {
                "name": item.line.name,
                "as": item.line.role.value,
                "measure": item.line.measure.text,
                "volume_ml": round(item.volume_ml, 4),
                "mass_g": round(item.mass_g, 4),
                "stock": item.stock.name,
                "contents": [
                    {"what": c.what, "amount": c.amount, "basis": c.basis, "source": c.source}
                    for c in item.contents
                ],
            }
            for item in serve.lines
        ],
        "poured_ml": round(made.mix.volume_ml, 4),
        "poured_abv_percent": _figure(made.poured_abv_percent),
        "melt_ratio": _figure(made.melt_ratio),
        "melt_basis": made.melt_basis,
        "melt_source": made.melt_source,
        "served_ml": _figure(made.volume_ml),
        "served_abv_percent": _figure(made.served_abv_percent),
        "ethanol_ml": round(made.ethanol_ml, 4),
        "ethanol_g": round(made.ethanol_g, 4),
        "units": round(region.drink_unit.count(made.ethanol_ml), 4),
        "units_shown": region.drink_unit.shown(made.ethanol_ml),
        "contains": [word for item in serve.declaration.contains for word in item.words],
        "may_contain": [word for item in serve.declaration.may_contain for word in item.words],
        "cautions": list(serve.cautions),
    }


def drink_json(facts: DrinkFacts, region: Region, cost: Cost, currency: str) -> str:
    """Return the drink's figures as JSON; private, since it holds the cost."""
    told = {
        "drink": facts.spec.slug,
        "name": facts.spec.name,
        "region": region.code,
        **_serve_json(facts.serve, region),
        "cost": {"currency": currency, "known": str(cost.known), "without": list(cost.unknown)},
        "swaps": [
            {
                "instead_of": swap.swap.replaces,
                "use": swap.swap.line.name,
                **_serve_json(swap.serve, region),
            }
            for swap in facts.swaps
        ],
    }
    return json.dumps(told, ensure_ascii=False, indent=2)
