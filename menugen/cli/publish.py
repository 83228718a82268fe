"""menugen publish."""

import argparse
import json
from pathlib import Path

from menugen.cli.finding import NotFound, files_of, find_target
from menugen.cli.terminal import Progress, fail, tell_problems
from menugen.publishing import PrivateTextLeaked, event_files, look_at_house
from menugen.writing.publish import CannotWrite, NotOurs, publish
from menugen.writing.theme import ThemeFault


def run(args: argparse.Namespace) -> int:
    """Write every event, or none where a problem stops the publish."""
    progress = Progress(quiet=args.quiet or args.json)
    try:
        target = find_target(args.where)
        look = look_at_house(target.folder, files_of(target, args.at), target.event, progress)
        to = Path(args.to) if args.to is not None else target.folder / "out"
        stopped = look.stopped or not look.events
        progress.clear()
        if stopped or not args.json:
            after = "; nothing was published" if stopped else ""
            tell_problems(
                look.problems, look.reading.sources, target.typed, as_json=args.json, after=after, quiet=args.quiet
            )
        if look.stopped:
            return 1
        if not look.events:
            return fail(f"{target.folder} has no events to publish")
        # Everything is worked out before anything is written, so that a fault in one event leaves all as they were.
        written = {}
        for number, facts in enumerate(look.events):
            progress(f"setting the pages of {facts.event.name}", number, len(look.events))
            written[facts.event.slug] = event_files(look, facts)
        for slug, files in written.items():
            publish(to, slug, files)
    except NotFound as fault:
        return fail(str(fault))
    except (NotOurs, CannotWrite, ThemeFault, PrivateTextLeaked) as fault:
        progress.clear()
        fail(str(fault))
        return 1
    finally:
        progress.clear()
    if args.json:
        print(json.dumps([{"event": slug, "folder": str(to / slug)} for slug in written], ensure_ascii=False))
    elif not args.quiet:
        for facts in look.events:
            place = (to / facts.event.slug).as_posix()
            print(f"{facts.event.name}: {len(facts.drinks)} drinks in {place}/site, table cards in {place}/print")
    return 0
