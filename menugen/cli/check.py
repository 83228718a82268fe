"""menugen check."""

import argparse

from menugen.cli.finding import NotFound, check_event, files_of, find_target
from menugen.cli.terminal import Progress, fail, tell_problems
from menugen.house_photos import KEPT
from menugen.problems import Severity
from menugen.publishing import look_at_house, rehearsed
from menugen.revisions import looks_of


def run(args: argparse.Namespace) -> int:
    """Tell every problem; say nothing where all is well."""
    progress = Progress(quiet=args.quiet or args.json)
    try:
        target = find_target(args.where, at=args.at)
        files = files_of(target, args.at)
        with looks_of(target.folder, files) as looks:
            kept = target.folder / "out" / KEPT
            look = look_at_house(target.folder, files, target.event, progress, looks, kept)
            check_event(target, look.reading, args.at)
            look = rehearsed(look, progress)
    except NotFound as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    tell_problems(
        look.problems, look.reading.sources, target.typed, as_json=args.json, after="", quiet=args.quiet
    )
    matters = [p for p in look.problems if args.strict or p.severity is Severity.ERROR]
    return 1 if matters else 0
