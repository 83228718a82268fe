"""What can be wrong with a drink: names that fill nothing, unread labels, unstated strengths, small glasses."""

from collections.abc import Iterator, Sequence
from datetime import date
from functools import lru_cache
from math import ceil

from menugen import mixing, regions
from menugen.facts.bottles import Bottles
from menugen.facts.cautions import check_spec_cautions
from menugen.facts.claims import check_promises, check_strength_claims, line_texts, spec_texts
from menugen.facts.glasses import BOWLS, Vessel, find_vessel
from menugen.facts.in_glass import InGlass, less_ice_words
from menugen.facts.labels import word_faults
from menugen.facts.liquids import bottled_stock, strength_is_missing
from menugen.facts.serve import LEAST_TOP_ML, DrinkFacts, Serve
from menugen.names import name_key
from menugen.problems import Place, Problem, error, near, warning
from menugen.records import Line, Spec, StockLine
from menugen.regions import Region

LABEL_GOES_STALE_MONTHS = 12
"""How long before the event a label may have been read without a word. Asked for by the house rules of this project;
no law sets a period."""

FAR_TOO_SMALL = 2.0
"""A drink of more than so many glasses is no drink for that glass: a measure or a glass has been mistyped."""

MOST_ETHANOL_ML = 70.0
"""A drink with more pure alcohol is no one guest's, or its measures are mistyped. A single measure of a spirit, a glass
of wine and a half-litre of beer have 10 to 25 ml; the most that bars pour one guest is a litre of strong festival beer
(6.3 %: 63 ml) or a tiki drink of four or five measures (60 ml). Above lie a bottle of wine (90 ml) and every bowl.
Common practice, no published source."""

MOST_SERVED_ML = 1100.0
"""The same by volume, for what has little alcohol or none: a litre of beer is one guest's, brimful, and more is a jug.
Common practice, no published source."""

LEAST_SERVE_ML = 20.0
"""Less than a shot is no serve: then a bowl is said to be for more guests than it is, and a guest reads too few units.
Common practice, no published source."""

LEAST_OVERFLOW_ML = 0.5
"""Under this nobody sees a drink stand over the brim: it rounds to nothing, and its surface holds it."""


def did_you_mean(names: Sequence[str]) -> tuple[str, ...]:
    """Return the hint that names near misses; nothing where there are none."""
    if not names:
        return ()
    return ("did you mean " + " or ".join(f'"{name}"' for name in names) + "?",)


def check_lines(spec: Spec, bottles: Bottles, broken_stock: frozenset[str]) -> Iterator[Problem]:
    """Yield a problem for each line and swap of a spec that no bottle fills, and for its cautions.

    Args:
        spec: The drink.
        bottles: What there is tonight.
        broken_stock: Names in stock that could not be read and are told of elsewhere.
    """
    for line in (*spec.lines, *(swap.line for swap in spec.swaps)):
        # A bottle of the night that is not in stock is told of where the event names it.
        told = name_key(line.name) in broken_stock or bottles.is_promised(line.name)
        if bottles.find(line.name) is None and not told:
            yield error(
                "unknown-stock",
                f'nothing in stock is called "{line.name}"',
                line.place._replace(quote=line.name),
                *did_you_mean(near(line.name, bottles.names())),
                f'or put it in stock, or give a line there this name: "aliases: [{line.name}]"',
            )
    yield from _check_cautions(spec.cautions or (), spec.place)
    yield from check_spec_cautions(spec, bottles)
    yield from check_promises((*spec_texts(spec), *line_texts(spec)))
    if not spec.method:
        yield warning(
            "method-missing",
            f'nothing says how "{spec.name}" is made, so it is taken as built in the glass',
            spec.place.at("name"),
            'write it: "method: [shake]"; shaking or stirring adds water and changes the strength',
        )


def _check_cautions(cautions: Sequence[str], owner: Place) -> Iterator[Problem]:
    """Yield a problem for each caution there is not, and for each that says a thing must not be served at all."""
    for position, caution in enumerate(cautions):
        if caution not in regions.known_cautions():
            yield error(
                "unknown-caution",
                f'there is no caution called "{caution}"',
                owner.at("cautions", position),
                *did_you_mean(near(caution, regions.known_cautions())),
                "the cautions there are: " + ", ".join(sorted(regions.known_cautions())),
            )
        elif (known := regions.caution(caution)).forbids:
            yield error(
                "must-not-be-served",
                f'"{caution}" has no place in a drink',
                owner.at("cautions", position),
                known.bar,
            )


def _months_before(day: date, months: int) -> date:
    years, month = divmod(day.year * 12 + day.month - 1 - months, 12)
    return date(years, month + 1, min(day.day, 28))


@lru_cache(maxsize=4096)
def check_label(stock: StockLine, event_date: date | None) -> tuple[Problem, ...]:
    """Return what is wrong with one label that a drink depends on.

    Args:
        stock: The bottle.
        event_date: The day of the event; None where the drink is on no menu.
    """
    return tuple(_label_faults(stock, event_date))


def _label_faults(stock: StockLine, event_date: date | None) -> Iterator[Problem]:
    if stock.contains is None:
        yield error(
            "label-not-read",
            f'"{stock.name}" does not say what it contains',
            stock.place._replace(on="key"),
            'read the label and write "contains: [...]", or "contains: none" if it lists nothing',
        )
    elif stock.checked is None:
        yield warning(
            "label-date-missing",
            f'"{stock.name}" does not say when its label was read',
            stock.place._replace(on="key"),
            'write the day you read it: "checked: 2026-11-20"',
        )
    elif event_date is not None and stock.checked > event_date:
        yield warning(
            "label-read-after-event",
            f'the label of "{stock.name}" was read on {stock.checked}, it says, after the event on {event_date}',
            stock.place.at("checked"),
            "write the day it was read",
        )
    elif event_date is not None and stock.checked < _months_before(event_date, LABEL_GOES_STALE_MONTHS):
        yield warning(
            "label-read-long-ago",
            f'the label of "{stock.name}" was read on {stock.checked}, more than {LABEL_GOES_STALE_MONTHS} months '
            f"before the event on {event_date}",
            stock.place.at("checked"),
            "read it again and write the new day: makers change what is in a bottle",
        )
    yield from word_faults(stock)
    yield from _check_cautions(stock.cautions or (), stock.place)


@lru_cache(maxsize=4096)
def check_liquid(stock: StockLine) -> tuple[Problem, ...]:
    """Return what is wrong with the figures of a bottle that is poured."""
    return tuple(_figure_faults(stock))


def _figure_faults(stock: StockLine) -> Iterator[Problem]:
    if strength_is_missing(stock):
        yield error(
            "strength-not-stated",
            f'"{stock.name}" does not say how strong it is',
            stock.place._replace(on="key"),
            'write the strength on the label, "abv: 40 %", or "abv: 0 %" if there is no alcohol in it',
        )
    try:
        bottled_stock(stock)
    except ValueError as fault:
        yield error(
            "label-contradicts-itself",
            f'the figures of "{stock.name}" cannot all be right: {fault}',
            stock.place._replace(on="key"),
            "compare abv, sugar, acid, fat and density with the label",
        )


def check_counted(line: Line, stock: StockLine) -> Iterator[Problem]:
    """Yield a problem where a counted pour has alcohol and nobody has said how much one is."""
    counted = line.measure.count is not None
    if counted and (stock.abv_percent or 0) > 0 and not (stock.each_ml or stock.each_g):
        yield error(
            "size-of-one-missing",
            f'"{stock.name}" is counted here, and stock does not say how much one is',
            line.place,
            f'write a measure, "25 ml {line.name}", or "each: 25 ml" in stock',
        )


def check_worked_out(facts: DrinkFacts, region: Region) -> Iterator[Problem]:
    """Yield what only the worked-out drink shows: a glass too small, a text that claims what is not so."""
    spec = facts.spec
    yield from _check_fit(facts)
    yield from _check_cube(facts)
    yield from _check_serves(facts, region)
    if facts.serve.top_room_ml is not None and facts.serve.top_room_ml < LEAST_TOP_ML:
        top = next(item.line for item in facts.serve.lines if item.line.measure.unit == "top")
        yield warning(
            "no-room-on-top",
            f'there is no room left in the {spec.glass} for "{top.name}"',
            top.place,
            "use a larger glass, less ice, or a stated measure",
        )
    yield from check_strength_claims(spec_texts(spec), [facts], region)


def _check_cube(facts: DrinkFacts) -> Iterator[Problem]:
    """Yield a large cube that does not go into its glass; corners decide, and a sphere is stated by its weight."""
    spec, vessel = facts.spec, facts.vessel
    if spec.ice != "large cube" or vessel is None:
        return
    if not mixing.cube_goes_in(vessel.profile_mm, vessel.ice.large_cube_g):
        side_mm = mixing.cube_mm(vessel.ice.large_cube_g)
        yield warning(
            "cube-too-wide",
            f"a large cube of {side_mm:.0f} mm does not go into a {vessel.name} "
            f"{2 * vessel.profile_mm[-1][1]:.0f} mm wide: it is {side_mm * 2**0.5:.0f} mm from corner to corner",
            spec.place.at("ice"),
            f'write "ice: cubed" or another glass, or state the cubes you have in house.yaml: "large cube: '
            f'{vessel.profile_mm[-1][1] * 2**0.5 // 5 * 5:.0f} mm"',
        )


def _wash_line_words(vessel: Vessel) -> str:
    """Return how far under the brim the wash line is; nothing where the glass has not been measured."""
    if not vessel.profile_mm:
        return ""
    under_mm = vessel.profile_mm[-1][0] - mixing.height_of_ml(vessel.profile_mm, vessel.wash_line_ml)
    return f"; the wash line is {under_mm:.0f} mm under it"


def _check_fit(facts: DrinkFacts) -> Iterator[Problem]:
    """Yield what is wrong with a glass that does not hold its drink: too small, or so small that one is mistyped."""
    spec, fit, vessel = facts.spec, facts.serve.fit, facts.vessel
    if fit is None or vessel is None or fit.over_brim_ml < LEAST_OVERFLOW_ML:
        return
    beside = [word for word, ml in (("ice", fit.ice_ml), ("foam", fit.foam_ml)) if ml > 0]
    tell, code = (error, "glass-far-too-small") if _is_far_too_small(facts) else (warning, "overfull-glass")
    yield tell(
        code,
        f"{spec.name} comes to {fit.surface_ml + fit.foam_ml:.0f} ml"
        + (f" with its {' and '.join(beside)}" if beside else "")
        + (", little ice as that is," if fit.less_ice else "")
        + f" in a {vessel.brim_ml:.0f} ml {vessel.name}: {fit.over_brim_ml:.0f} ml over the brim"
        + _wash_line_words(vessel),
        spec.place.at("glass"),
        *_hints_of_size(facts, fit),
    )


def _is_far_too_small(facts: DrinkFacts) -> bool:
    fit, vessel = facts.serve.fit, facts.vessel
    return (
        fit is not None
        and vessel is not None
        and fit.surface_ml + fit.foam_ml > FAR_TOO_SMALL * vessel.brim_ml
    )


def _hints_of_size(facts: DrinkFacts, fit: InGlass) -> tuple[str, ...]:
    """Return what to do about a glass that does not hold its drink; for one that guests share, a bowl comes first."""
    less_ice = less_ice_words(facts.spec.ice, fit)
    smaller = (
        f"make it smaller by {max(1, round(fit.smaller_by_ml))} ml, "
        + (f"serve it with {less_ice}, " if less_ice else "")
        + f"or serve it in a glass of {fit.glass_that_fits_ml} ml or more"
    )
    if facts.serve.serves > 1:
        return (f"the glass of a drink that guests share is its bowl or jug: {_bowls(fit)}", smaller)
    if _is_for_many(facts.serve):
        return (smaller, f'if guests share it, write "serves: 10" and what it is served in: {_bowls(fit)}')
    return (smaller,)


def _bowls(fit: InGlass) -> str:
    """Return which bowls and jugs would hold a drink, as they are written; else how a house names its own."""
    usual = [
        name
        for name in BOWLS
        if (known := find_vessel(name, {})) and fit.surface_ml + fit.foam_ml <= known.wash_line_ml
    ]
    if usual:
        return " or ".join(f'"glass: {name}"' for name in usual)
    litres = ceil((fit.surface_ml + fit.foam_ml) / 900.0)
    return f'"glass: large bowl", and in house.yaml "glasses: {{large bowl: {litres} l}}"'


def _is_for_many(serve: Serve) -> bool:
    """Return whether one guest's part of a drink is more than one guest's drink."""
    made_ml, ethanol_ml = serve.served_ml / serve.serves, serve.made.ethanol_ml / serve.serves
    return ethanol_ml > MOST_ETHANOL_ML or made_ml > MOST_SERVED_ML


def _check_serves(facts: DrinkFacts, region: Region) -> Iterator[Problem]:
    """Yield a warning where guests would read the figures of a bowl as one drink's, or a serve is no serve."""
    spec, serve = facts.spec, facts.serve
    each_ml = serve.served_ml / serve.serves
    if _is_for_many(serve):
        if _is_far_too_small(facts):
            # The error about the glass says so already.
            return
        told = _of_one_serve(serve, region)
        if serve.serves == 1:
            yield warning(
                "serves-missing",
                f"{spec.name} comes to {told}, and nothing says how many guests share it: each would read that as "
                "one drink",
                spec.place.at("name"),
                'write how many one making is for, such as "serves: 10"; if it is one drink, check the measures',
            )
        else:
            yield warning(
                "serve-too-large",
                f"one of {serve.serves} serves of {spec.name} comes to {told}: more than one guest's drink",
                spec.place.at("serves"),
                "check how many it serves, and the measures: they are those of the whole bowl or jug",
            )
    elif serve.serves > 1 and each_ml < LEAST_SERVE_ML:
        yield warning(
            "serve-too-small",
            f"one of {serve.serves} serves of {spec.name} comes to {_of_one_serve(serve, region)}: less than a shot",
            spec.place.at("serves"),
            "check how many it serves, and the measures: they are those of the whole bowl or jug",
        )


def _of_one_serve(serve: Serve, region: Region) -> str:
    units = region.drink_unit.shown(serve.made.ethanol_ml / serve.serves)
    return f"{serve.served_ml / serve.serves:.0f} ml" + (f" and {units}" if units else "")
