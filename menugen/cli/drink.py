"""menugen drink."""

import argparse
import sys
import unicodedata
from pathlib import Path, PurePosixPath

from menugen.bar import serve_cost
from menugen.cli.drink_text import drink_json, drink_text
from menugen.cli.finding import NotFound, files_of, find_house
from menugen.cli.terminal import fail, tell_problems, wants_colour
from menugen.facts import Broken, setting_for, work_out
from menugen.problems import Severity
from menugen.problems.near import near
from menugen.reading import read_house


def _slug(spec: str) -> str:
    return unicodedata.normalize("NFC", PurePosixPath(Path(spec).as_posix()).name.removesuffix(".md"))


def run(args: argparse.Namespace) -> int:
    """Print one drink worked out, as it would be served."""
    try:
        target = find_house(args.spec, args.house)
        reading = read_house(files_of(target, args.at))
    except NotFound as fault:
        return fail(str(fault))
    house, slug = reading.house, _slug(args.spec)
    if house is None or slug in reading.broken_specs:
        tell_problems(reading.problems, reading.sources, target.typed, as_json=args.json, after="")
        return 1
    spec = house.specs.get(slug)
    if spec is None:
        close = near(slug, list(house.specs))
        hint = f": did you mean {' or '.join(close)}?" if close else ""
        return fail(f'the house has no spec called "{slug}"{hint}')
    event = None
    if args.event is not None:
        name = _slug(args.event).removesuffix(".yaml").removesuffix(".yml")
        event = house.events.get(name)
        if event is None:
            return fail(
                f'the house has no event called "{name}"; it has: {", ".join(house.events) or "none"}'
            )
    setting, problems = setting_for(house, event)
    facts = None
    if setting is not None:
        broken = Broken(reading.broken_specs, reading.broken_stock)
        facts, problems = work_out(spec, setting, broken)
    if problems and not (args.json and facts is not None):
        tell_problems(problems, reading.sources, target.typed, as_json=args.json, after="", quiet=args.quiet)
    if facts is None or setting is None:
        return 1
    currency = house.currency or setting.region.currency
    cost = serve_cost(facts.serve)
    if args.json:
        print(drink_json(facts, setting.region, cost, currency))
    else:
        ounce = house.ounce or setting.region.ounce
        print(drink_text(facts, setting.region, cost, currency, ounce=ounce, colour=wants_colour(sys.stdout)))
    return 1 if any(problem.severity is Severity.ERROR for problem in problems) else 0
