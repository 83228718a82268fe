"""One drink worked out, for a bartender at a terminal and for a program."""

from collections.abc import Iterable, Iterator
from typing import Any

from menugen.cli.working_report import plane_json, working_json
from menugen.drink_facts import (
    AtEvent,
    MenuWords,
    Way,
    cost_data,
    figure_data,
    price_data,
    rows_of,
    way_data,
    way_phrase,
)
from menugen.facts import BottleLine, DrinkFacts, FamilyPlane, Serve, Setting, strength_on_ice, working_of
from menugen.measures import OunceKind, show_ml, show_ounces
from menugen.menu import english, shared_units_words, strength_words
from menugen.names import name_key
from menugen.records import Line, Role
from menugen.report import Column, Note, Report, Row, Rows, Section, Table

_ROLE_WORDS = {
    Role.POUR: "",
    Role.TOP: "on top",
    Role.FLOAT: "float",
    Role.RINSE: "rinse",
    Role.INSIDE: "inside the glass",
    Role.RIM: "rim",
    Role.GARNISH: "garnish",
}


def way_of(
    facts: DrinkFacts,
    serve: Serve,
    setting: Setting,
    currency: str = "",
    at: AtEvent | None = None,
    family: FamilyPlane | None = None,
) -> Way:
    """Return one way of making a drink, with what the menu says of it."""
    units = shared_units_words(setting.region.drink_unit, serve.made.ethanol_ml, serve.serves, english())
    says = MenuWords(strength_words(serve), units)
    return Way(serve, facts, setting.region, currency, says, at, family)


def drink_report(way: Way, setting: Setting, *, ounce: OunceKind) -> Report:
    """Return what is to be said of a drink as written."""
    facts, spec = way.facts, way.facts.spec
    making = f"{_method(facts)}; {spec.glass}" + (f", {spec.ice} ice" if spec.ice else "")
    parts = (
        _lines(facts.serve.lines, ounce),
        Rows(tuple(rows_of(way, "making"))),
        Rows((*rows_of(way, "contents"), *_swap_rows(facts, setting))),
    )
    return Report(spec.name, (Note(making),), tuple(Section(blocks=(part,)) for part in parts))


def drink_data(way: Way, setting: Setting) -> dict[str, Any]:
    """Return the same as plain data; private, since it holds the cost.

    It is read from the same table of facts as the rows and not from them: a program is given figures with their ranges
    and sources where a person is given a sentence.
    """
    facts, region, on_ice = way.facts, way.region, strength_on_ice(way.facts)
    return {
        "drink": facts.spec.slug,
        "name": facts.spec.name,
        "region": region.code,
        "rules_of": region.rules_of,
        "age_note": region.ages.note,
        **way_data(way),
        "on_ice_10_minutes_abv_percent": figure_data(on_ice) if on_ice is not None else None,
        "price": None if way.at is None else price_data(way.at),
        "cost": cost_data(way.cost, way.currency),
        "family": None if way.family is None else plane_json(way.family),
        "swaps": [
            {
                "instead_of": swap.swap.replaces,
                "use": swap.swap.line.name,
                **way_data(way_of(facts, swap.serve, setting)),
            }
            for swap in facts.swaps
        ],
        "working": working_json(working_of(facts, setting)),
    }


def _swap_rows(facts: DrinkFacts, setting: Setting) -> Iterator[Row]:
    for number, swap in enumerate(facts.swaps):
        line = f"{swap.swap.line.measure.text} {swap.swap.line.name}".strip()
        yield Row("Swaps" if number == 0 else "", f"{line} instead of {swap.swap.replaces}")
        yield Row("", way_phrase(way_of(facts, swap.serve, setting)))


def own_words(line: Line) -> str:
    """Return the measure in the spec's own word where that is neither litres nor ounces: "2 dashes"; else nothing."""
    measure = line.measure
    has_word = measure.mass_g is None and measure.unit not in ("ml", "cl", "l", "oz", "top")
    return measure.text if has_word else ""


def _amounts(item: BottleLine, ounce: OunceKind) -> tuple[str, str]:
    """Return a line's measure twice: in millilitres and bar-rounded ounces, or in its own word and millilitres."""
    words = own_words(item.line)
    if item.volume_ml > 0:
        volume = show_ml(item.volume_ml)
        return (words, volume) if words else (volume, show_ounces(item.volume_ml, ounce))
    if item.mass_g > 0:
        return words or f"{item.mass_g:g} g", f"{item.mass_g:g} g" if words else ""
    return item.line.measure.text, ""


def _bottle(item: BottleLine) -> str:
    """Return what fills a line where that says more than the line itself, and how strong it is."""
    name = "" if name_key(item.stock.name) == name_key(item.line.name) else item.stock.name
    # A figure and its unit stay together.
    percent = item.stock.abv_percent if item.contents else None
    strength = f"{percent:g} % vol".replace(" ", "\N{NO-BREAK SPACE}") if percent else ""
    return ", ".join(filter(None, (name, strength)))


def _lines(items: Iterable[BottleLine], ounce: OunceKind) -> Table:
    rows = []
    for item in items:
        measure, other = _amounts(item, ounce)
        words = ", ".join(filter(None, (_ROLE_WORDS[item.line.role], _bottle(item))))
        rows.append((measure, other, item.line.name, words))
    columns = (Column(right=True, least=10), Column(right=True, least=8), Column(), Column())
    return Table(columns, tuple(rows))


def _method(facts: DrinkFacts) -> str:
    steps = [
        step.verb if step.seconds is None else f"{step.verb} {step.seconds:g} s" for step in facts.spec.method
    ] or ["build"]
    strain = {"fine": "strain fine", "single": "strain", "dump": "pour unstrained"}.get(facts.spec.strain, "")
    return ", ".join(filter(None, (*steps, strain)))
