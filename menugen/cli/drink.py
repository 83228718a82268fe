"""menugen drink."""

import argparse
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePosixPath

from menugen.bar import stock_currency
from menugen.cli.drink_change_text import change_data, change_report
from menugen.cli.drink_report import drink_data, drink_report, way_of
from menugen.cli.finding import NotFound, Target, files_of, find_house
from menugen.cli.terminal import fail, print_report, tell_problems
from menugen.cli.working_report import working_sections
from menugen.drink_facts import AtEvent, Way
from menugen.facts import (
    Aimed,
    Broken,
    DrinkFacts,
    Setting,
    WrongChange,
    aimed,
    changed,
    check_event,
    check_without_alcohol,
    family_plane,
    parse_aim,
    setting_for,
    work_out,
    working_of,
)
from menugen.library import library_specs
from menugen.measures import Fault, OunceKind, parse_volume
from menugen.names import name_key, typed_slug
from menugen.problems import Place, Problem, Severity, near
from menugen.reading import HouseReading, read_house
from menugen.records import Event, House, MenuEntry, Spec
from menugen.report import Report

_FEW = 12
"""Names told in one breath; where there are more, the folder they stand in is named."""


class _WrongUse(Exception):
    """What was typed fits nothing; the message says so in plain words."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """A drink that was asked for, found and worked out.

    Attributes:
        target: The house.
        reading: Its files.
        setting: Where the drink is worked out.
        facts: The drink as written.
        problems: Found on the way.
        event: The event it is worked out for; None at home.
    """

    target: Target
    reading: HouseReading
    setting: Setting
    facts: DrinkFacts
    problems: tuple[Problem, ...]
    event: Event | None

    @property
    def ounce(self) -> OunceKind:
        """The ounce specs of this house mean."""
        return self.setting.house.ounce or self.setting.region.ounce

    @property
    def at(self) -> "AtEvent | None":
        """Its place on the menu of the event; None at home, and where the event does not list it."""
        entry = _entry(self.event, self.facts.spec)
        if self.event is None or entry is None:
            return None
        return AtEvent(self.event, entry, self.event.currency or self.setting.region.currency)

    @property
    def currency(self) -> str:
        """What stock is priced in."""
        return stock_currency(self.setting.house, self.setting.region)


def run(args: argparse.Namespace) -> int:
    """Print one drink worked out: as it would be served, with its working, or beside itself with other measures."""
    try:
        asked = _find(args)
        if isinstance(asked, int):
            return asked
        if args.set or args.aim:
            return _tell_change(asked, args)
    except (NotFound, WrongChange, _WrongUse) as fault:
        return fail(str(fault))
    _tell_problems(asked, asked.problems, args)
    way, setting = _way(asked, asked.facts), asked.setting
    if args.json:
        print(json.dumps(drink_data(way, setting), ensure_ascii=False, indent=2))
    else:
        _print(drink_report(way, setting, ounce=asked.ounce), way, setting, args)
    return _code(asked.problems)


def _print(report: Report, way: Way, setting: Setting, args: argparse.Namespace) -> None:
    """Print a drink for a person, with its working where that was asked for."""
    if args.working:
        working = working_sections(working_of(way.facts, setting), way.family)
        report = replace(report, sections=(*report.sections, *working))
    print_report(report)


def _find(args: argparse.Namespace) -> _Asked | int:
    """Return the drink worked out, or an exit code where the house's files do not let it be; that has been told."""
    if (args.by or args.step) and not args.aim:
        raise _WrongUse("--by and --step say how an aim is reached: give --aim as well")
    target = find_house(args.spec, args.house)
    reading = read_house(files_of(target, args.at))
    house, slug = reading.house, typed_slug(args.spec, ".md")
    if house is None or slug in reading.broken_specs:
        tell_problems(reading.problems, reading.sources, target.typed, as_json=args.json, after="")
        return 1
    spec, event = _spec(house, slug), _event(house, args.event)
    setting, problems = setting_for(house, event)
    facts = None
    if setting is not None:
        facts, found = work_out(spec, setting, Broken(reading.broken_specs, reading.broken_stock))
        problems = (*problems, *found)
        if event is not None and (entry := _entry(event, spec)) is not None:
            problems += tuple(check_without_alcohol(event, [(spec, entry.place)], setting.bottles))
    if facts is None or setting is None:
        told = [*problems, *_untold(reading, spec, event, setting)]
        tell_problems(told, reading.sources, target.typed, as_json=args.json, after="", quiet=args.quiet)
        return 1
    return _Asked(target, reading, setting, facts, problems, event)


def _untold(reading: HouseReading, spec: Spec, event: Event | None, setting: Setting | None) -> list[Problem]:
    """Return why a drink cannot be worked out where that is no problem of the drink itself."""
    # A bottle that could not be read is told of by reading alone; one that tonight's event names, by the event.
    told = _behind(reading, spec)
    if reading.house is not None and event is not None and setting is not None:
        broken = Broken(reading.broken_specs, reading.broken_stock)
        of_event = check_event(event, reading.house, setting, broken)
        told += [problem for problem in of_event if problem.code == "unknown-stock"]
    return told


def _entry(event: Event | None, spec: Spec) -> MenuEntry | None:
    """Return where an event's menu lists a drink; None where it does not, and where there is no event."""
    sections = event.sections if event is not None else ()
    return next((entry for part in sections for entry in part.entries if entry.slug == spec.slug), None)


def _behind(reading: HouseReading, spec: Spec) -> list[Problem]:
    """Return the problems of the bottles a drink asks for by name; where none has one, of everything but specs."""
    names = {name_key(line.name) for line in (*spec.lines, *(swap.line for swap in spec.swaps))}
    found = [problem for problem in reading.problems if not problem.where.file.endswith(".md")]
    named = [
        problem
        for problem in found
        if isinstance(problem.where, Place) and name_key(str(next(iter(problem.where.path), ""))) in names
    ]
    return named or found


def _spec(house: House, slug: str) -> Spec:
    spec = house.specs.get(slug)
    if spec is None:
        raise _WrongUse(f'the house has no spec called "{slug}"{which_there_are(slug, house.specs)}')
    return spec


def which_there_are(slug: str, specs: Mapping[str, Spec]) -> str:
    """Return near misses, else every name where they are few, else where they stand."""
    slugs = {spec.name: known for known, spec in specs.items()}
    if close := near(slug, specs) or tuple(slugs[name] for name in near(slug, slugs)):
        return ": did you mean " + " or ".join(f'"{name}"' for name in close) + "?"
    if len(specs) <= _FEW:
        return f"; it has: {', '.join(sorted(specs)) or 'none'}"
    folders = sorted({f"{PurePosixPath(spec.place.file).parent}/" for spec in specs.values()})
    return f"; its {len(specs)} specs are the files in {' and '.join(folders)}, each called without its .md"


def _event(house: House, typed: str | None) -> Event | None:
    if typed is None:
        return None
    name = typed_slug(typed, ".yaml", ".yml")
    event = house.events.get(name)
    if event is None:
        there_are = ", ".join(house.events) or "none"
        raise _WrongUse(f'the house has no event called "{name}"; it has: {there_are}')
    return event


def _way(asked: _Asked, facts: DrinkFacts) -> Way:
    """Return a drink as it is made, beside others of its family."""
    family = family_plane(facts, asked.setting, library_specs().values()) if facts.spec.family else None
    return way_of(facts, facts.serve, asked.setting, asked.currency, asked.at, family)


def _tell_problems(asked: _Asked, problems: tuple[Problem, ...], args: argparse.Namespace) -> None:
    if problems and not args.json:
        tell_problems(
            problems, asked.reading.sources, asked.target.typed, as_json=False, after="", quiet=args.quiet
        )


def _code(problems: tuple[Problem, ...]) -> int:
    return 1 if any(problem.severity is Severity.ERROR for problem in problems) else 0


def _tell_change(asked: _Asked, args: argparse.Namespace) -> int:
    """Print the drink as written beside the drink as it would be."""
    broken = Broken(asked.reading.broken_specs, asked.reading.broken_stock)
    setting, spec = (
        asked.setting,
        changed(asked.facts.spec, args.set or (), asked.setting.bottles, asked.ounce),
    )
    found: Aimed | None = None
    after, problems = work_out(spec, setting, broken)
    if after is not None and args.aim:
        found = aimed(
            spec,
            setting,
            asked.facts,
            [parse_aim(typed) for typed in args.aim],
            args.by or (),
            _step_ml(args.step, asked.ounce),
            asked.ounce,
        )
        after, problems = work_out(found.spec, setting, broken)
    if after is None:
        why = [*problems, *_untold(asked.reading, spec, asked.event, setting)]
        tell_problems(
            why, asked.reading.sources, asked.target.typed, as_json=args.json, after="", quiet=args.quiet
        )
        return 1
    _tell_problems(asked, problems, args)
    before, now = way_of(asked.facts, asked.facts.serve, setting, asked.currency), _way(asked, after)
    if args.json:
        print(json.dumps(change_data(before, now, found), ensure_ascii=False, indent=2))
    else:
        _print(change_report(before, now, setting, found, ounce=asked.ounce), now, setting, args)
    return _code(problems)


def _step_ml(typed: str | None, ounce: OunceKind) -> float | None:
    if typed is None:
        return None
    step_ml = parse_volume(typed, ounce=ounce)
    if isinstance(step_ml, Fault):
        raise _WrongUse(f'--step "{typed}": {step_ml.message}; write for instance --step "5 ml"')
    return step_ml
