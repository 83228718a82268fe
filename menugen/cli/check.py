"""menugen check."""

import argparse

from menugen.cli.finding import NotFound, check_event, files_of, find_target
from menugen.cli.terminal import Progress, fail, tell_problems
from menugen.house_photos import KEPT
from menugen.problems import Severity
from menugen.publishing import check_house, with_page_problems
from menugen.revisions import themes_of


def run(args: argparse.Namespace) -> int:
    """Tell every problem; say nothing where all is well."""
    progress = Progress(quiet=args.quiet or args.json)
    try:
        target = find_target(args.where, at=args.at)
        files = files_of(target, args.at)
        with themes_of(target.folder, files) as looks:
            kept = target.folder / "out" / KEPT
            checked = check_house(target.folder, files, target.event, progress, looks, kept)
            check_event(target, checked.reading, args.at)
            checked = with_page_problems(checked, progress)
    except NotFound as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    tell_problems(
        checked.problems, checked.reading.sources, target.typed, as_json=args.json, after="", quiet=args.quiet
    )
    matters = [p for p in checked.problems if args.strict or p.severity is Severity.ERROR]
    return 1 if matters else 0
