"""One event worked out: its region's rules, tonight's bottles, every drink on its menu."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from menugen import regions
from menugen.facts.alcohol import check_alcohol_free, check_without_alcohol
from menugen.facts.bottles import Bottles, shelve
from menugen.facts.checks import (
    check_counted,
    check_label,
    check_lines,
    check_liquid,
    check_worked_out,
    did_you_mean,
)
from menugen.facts.claims import (
    check_promises,
    check_strength_claims,
    event_texts,
    house_texts,
    place_texts,
    section_texts,
)
from menugen.facts.glasses import find_vessel, pieces_of, vessel_names
from menugen.facts.liquids import strength_is_missing
from menugen.facts.place_check import check_place, region_place, unknown_place
from menugen.facts.price_check import check_least_prices
from menugen.facts.remembered import Circumstances, Remembered
from menugen.facts.serve import ON_THE_GLASS, DrinkFacts, work_out_drink
from menugen.names import name_key
from menugen.problems import Place, Problem, Severity, error, near, warning
from menugen.records import Event, House, Spec, StockLine
from menugen.regions import Region, UnknownRegion


@dataclass(frozen=True, slots=True)
class Broken:
    """Names of things that could not be read and are told of elsewhere; nothing is said of them twice.

    Attributes:
        specs: Slugs.
        stock: Case-folded names.
    """

    specs: frozenset[str] = frozenset()
    stock: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Setting:
    """Where and when drinks are worked out: a house, the bottles of the night, the rules of the place.

    Attributes:
        house: The house.
        bottles: Tonight's.
        region: The rules.
        date: The day of the event; None where there is no event.
        pours_alcohol: As in `Event`.
    """

    house: House
    bottles: Bottles
    region: Region
    date: date | None
    pours_alcohol: bool = True


@dataclass(frozen=True, slots=True)
class EventFacts:
    """An event with every drink of its menu worked out.

    Attributes:
        event: As written.
        setting: The house, bottles and rules it was worked out with.
        drinks: By slug, in the order of the menu. Drinks with a fault that makes them unknowable are missing.
    """

    event: Event
    setting: Setting
    drinks: Mapping[str, DrinkFacts]


def setting_for(
    house: House, event: Event | None, day: date | None = None
) -> tuple[Setting | None, tuple[Problem, ...]]:
    """Return the setting of an event, or of the house at home where there is none.

    Args:
        house: The house.
        event: The event; None for a drink on no menu.
        day: The day whose rules hold where there is no event; the rules in force longest where it is None.

    Returns:
        The setting, or None where no region is written or none of that code is known; and what is wrong with it.
    """
    code = event.region if event else house.region
    where_written = region_place(house, event)
    if not code:
        where = event.place if event else house.place
        return None, (
            error(
                "region-missing",
                "nothing says which place's rules hold",
                where,
                'write "region: GB-ENG" (or the code of the place) in the event or in house.yaml',
            ),
        )
    try:
        region = regions.load_region(code, event.date if event else day or date.max)
    except UnknownRegion as fault:
        return None, (unknown_place(fault, where_written),)
    bottles = shelve(house.stock, event.bottles if event else {})
    pours_alcohol = event.pours_alcohol if event else True
    setting = Setting(house, bottles, region, event.date if event else day, pours_alcohol)
    return setting, tuple(check_place(region, where_written))


def _check_drink(spec: Spec, setting: Setting, broken: Broken) -> Iterator[Problem]:
    """Yield what keeps a drink from being worked out, and what is wrong with the labels it depends on."""
    yield from check_lines(spec, setting.bottles, broken.stock)
    if find_vessel(spec.glass, setting.house.glasses) is None:
        yield error(
            "unknown-glass",
            f'there is no glass called "{spec.glass}"',
            spec.place.at("glass"),
            *did_you_mean(near(spec.glass, vessel_names(setting.house.glasses))),
            f'or say what it holds in house.yaml: "glasses: {{{spec.glass}: 200 ml}}"',
        )
    for line in (*spec.lines, *(swap.line for swap in spec.swaps)):
        stock = setting.bottles.find(line.name)
        if stock is None:
            continue
        yield from check_label(stock, setting.date)
        if line.role not in ON_THE_GLASS or (line.measure.volume_ml and strength_is_missing(stock)):
            yield from check_liquid(stock)
            yield from check_counted(line, stock)


def work_out(
    spec: Spec, setting: Setting, broken: Broken | None = None
) -> tuple[DrinkFacts | None, tuple[Problem, ...]]:
    """Return one drink worked out in a setting, and every problem on the way.

    A drink with an unread label is still worked out, so that one run tells everything; the problem stops the publish.
    """
    broken = broken or Broken()
    now = Circumstances(
        date=setting.date,
        region=setting.region,
        tonight=setting.bottles.tonight,
        glasses=setting.house.glasses,
        ice=pieces_of(setting.house),
        broken_stock=broken.stock,
        by_name=setting.bottles.by_name,
        pours_alcohol=setting.pours_alcohol,
    )
    before = _REMEMBERED.of(now)
    if id(spec) not in before:
        before[id(spec)] = (spec, _worked_out(spec, setting, broken))
    return before[id(spec)][1]


_Drink = tuple[DrinkFacts | None, tuple[Problem, ...]]

_REMEMBERED: Remembered[_Drink] = Remembered(most=3000)


def _worked_out(spec: Spec, setting: Setting, broken: Broken) -> _Drink:
    problems = list(_check_drink(spec, setting, broken))
    stops = {"unknown-stock", "label-contradicts-itself"}
    if any(problem.code in stops for problem in problems):
        return None, tuple(problems)
    vessel = find_vessel(spec.glass, setting.house.glasses, pieces_of(setting.house))
    facts = work_out_drink(spec, setting.bottles, vessel, setting.region)
    if facts is not None:
        problems.extend(check_worked_out(facts, setting.region))
        if setting.pours_alcohol:
            # Elsewhere nothing with alcohol may be there at all, and that is said.
            problems.extend(check_alcohol_free(facts))
    if any(problem.code == "glass-far-too-small" for problem in problems):
        # Something is mistyped: figures worked out from it would be of a drink that nobody makes.
        facts = None
    return facts, tuple(problems)


def check_event(event: Event, house: House, setting: Setting, broken: Broken) -> Iterator[Problem]:
    """Yield what is wrong with the names an event uses."""
    on_menu = set()
    for section in event.sections:
        for entry in section.entries:
            on_menu.add(entry.slug)
            if entry.slug not in house.specs and entry.slug not in broken.specs:
                yield error(
                    "unknown-drink",
                    f'there is no spec called "{entry.slug}"',
                    entry.place._replace(quote=entry.slug),
                    *did_you_mean(near(entry.slug, list(house.specs))),
                )
    for position, slug in enumerate(event.off):
        if slug not in on_menu:
            yield error(
                "off-not-on-menu",
                f'"{slug}" is off, and it is not on the menu',
                event.place.at("off", position),
                *did_you_mean(near(slug, sorted(on_menu))),
                "the drinks on the menu are: " + ", ".join(sorted(on_menu)),
            )
    if event.hide_off and on_menu <= set(event.off):
        yield error(
            "menu-empty",
            "every drink of the menu is off, and drinks that are off are hidden",
            event.place.at("off"),
            'take one out of "off", or write "hide off: no"',
        )
    if event.bottles:
        yield from _check_bottles(event, house, setting, broken, on_menu)
    yield from check_without_alcohol(
        event,
        (
            (house.specs[entry.slug], entry.place)
            for section in event.sections
            for entry in section.entries
            if entry.slug in house.specs
        ),
        setting.bottles,
    )


def _check_bottles(
    event: Event, house: House, setting: Setting, broken: Broken, on_menu: Collection[str]
) -> Iterator[Problem]:
    """Yield what is wrong with the bottles an event chooses."""
    always = shelve(house.stock, {})
    used = {
        name_key(name)
        for slug in on_menu
        if slug in house.specs
        for line in (*house.specs[slug].lines, *(swap.line for swap in house.specs[slug].swaps))
        for stock in (always.find(line.name),)
        for name in (line.name, *((stock.name,) if stock else ()))
    }
    for name, bottle in event.bottles.items():
        if name_key(bottle) not in setting.bottles.by_name and name_key(bottle) not in broken.stock:
            yield error(
                "unknown-stock",
                f'nothing in stock is called "{bottle}"',
                event.place.at("bottles", name),
                *did_you_mean(near(bottle, setting.bottles.names())),
                "or put it in stock",
            )
        if name_key(name) not in used:
            yield warning(
                "bottle-for-nothing",
                f'no drink on the menu pours "{name}"',
                event.place.at("bottles", name, on="key"),
                "write the name as the specs have it, or take the line out",
            )


def _check_texts(
    event: Event, house: House, region: Region, drinks: Mapping[str, DrinkFacts]
) -> Iterator[Problem]:
    """Yield what is wrong with the texts that stand over several drinks: the event's name, each section's words."""
    over_all = list(event_texts(event))
    yield from check_promises((*house_texts(house), *place_texts(event), *over_all))
    yield from check_strength_claims(over_all, drinks.values(), region)
    for section in event.sections:
        texts = list(section_texts(section))
        yield from check_promises(texts)
        below = [drinks[entry.slug] for entry in section.entries if entry.slug in drinks]
        yield from check_strength_claims(texts, below, region)


def work_out_event(
    house: House, event: Event, broken: Broken | None = None
) -> tuple[EventFacts | None, tuple[Problem, ...]]:
    """Return an event worked out, and every problem on the way.

    Args:
        house: The house.
        event: One of its events.
        broken: Names that reading has already told of.
    """
    broken = broken or Broken()
    setting, problems = setting_for(house, event)
    if setting is None:
        return None, problems
    found = [*problems, *check_event(event, house, setting, broken)]
    drinks: dict[str, DrinkFacts] = {}
    for section in event.sections:
        for entry in section.entries:
            spec = house.specs.get(entry.slug)
            if spec is None or entry.slug in drinks:
                continue
            facts, faults = work_out(spec, setting, broken)
            found.extend(faults)
            if facts is not None:
                drinks[entry.slug] = facts
    found.extend(_check_texts(event, house, setting.region, drinks))
    found.extend(check_least_prices(event, setting.region, drinks))
    return EventFacts(event, setting, drinks), tuple(dict.fromkeys(found))


def work_out_unlisted(
    house: House, told: Collection[Problem], broken: Broken | None = None
) -> tuple[Problem, ...]:
    """Return the problems of what no event has reached: specs of the house on no menu, stock in no drink.

    Specs of a library outside the house are left alone until an event lists them, since a bar need not own every
    bottle of a library. Labels of stock that no drink uses are told as warnings.

    Args:
        house: The house.
        told: What the events have told already; it is not told again.
        broken: Names that reading has already told of.
    """
    broken = broken or Broken()
    listed = {
        entry.slug for event in house.events.values() for part in event.sections for entry in part.entries
    }
    setting, problems = setting_for(house, None) if house.region else (None, ())
    found = [*problems, *check_promises(house_texts(house))]
    if setting is None:
        return tuple(dict.fromkeys(problem for problem in found if problem not in told))
    every_night = {name_key(name) for event in house.events.values() for name in event.bottles}
    for slug, spec in house.specs.items():
        if slug in listed or _outside(spec.place):
            continue
        _, faults = work_out(spec, setting, broken)
        found.extend(
            fault
            for fault in faults
            if not (fault.code == "unknown-stock" and name_key(_quoted(fault)) in every_night)
        )
    already = {(problem.code, problem.where) for problem in (*told, *found)}
    for stock in house.stock.values():
        found.extend(
            _as_warning(problem)
            for problem in _idle_label(stock)
            if (problem.code, problem.where) not in already
        )
    return tuple(dict.fromkeys(problem for problem in found if problem not in told))


def _idle_label(stock: StockLine) -> Iterator[Problem]:
    return (problem for problem in check_label(stock, None) if problem.code != "label-date-missing")


def _as_warning(problem: Problem) -> Problem:
    severity = Severity.WARNING if problem.code == "label-not-read" else problem.severity
    return Problem(problem.code, severity, problem.message, problem.where, problem.hints, problem.also)


def _quoted(problem: Problem) -> str:
    return problem.where.quote if isinstance(problem.where, Place) else ""


def _outside(place: Place) -> bool:
    return place.file.startswith("../")
