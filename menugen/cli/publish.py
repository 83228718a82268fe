"""menugen publish."""

import argparse
import json
from contextlib import ExitStack
from pathlib import Path

from menugen.album import KEPT, PhotoChanged
from menugen.cli.finding import NotFound, Target, check_event, files_of, find_target
from menugen.cli.terminal import Progress, fail, tell_problems
from menugen.history import looks_of
from menugen.publishing import Look, PrivateTextLeaked, event_files, look_at_house
from menugen.writing.publish import PublishFault, publish
from menugen.writing.theme import ThemeFault


def run(args: argparse.Namespace) -> int:
    """Write every event, or none where a problem stops the publish."""
    progress = Progress(quiet=args.quiet or args.json)
    lent = ExitStack()
    try:
        target = find_target(args.where, at=args.at)
        files = files_of(target, args.at)
        looks = lent.enter_context(looks_of(target.folder, files))
        to = Path(args.to) if args.to is not None else target.folder / "out"
        look = look_at_house(target.folder, files, target.event, progress, looks, to / KEPT)
        check_event(target, look.reading, args.at)
        progress.clear()
        _tell(args, target, look)
        if look.stopped:
            return 1
        if not look.events:
            return fail(f"{args.where} has no events to publish")
        _write(look, to, progress)
    except NotFound as fault:
        return fail(str(fault))
    except (PublishFault, PhotoChanged, ThemeFault, PrivateTextLeaked) as fault:
        progress.clear()
        fail(str(fault))
        return 1
    finally:
        progress.clear()
        lent.close()
    _tell_written(args, look, to)
    return 0


def _tell(args: argparse.Namespace, target: Target, look: Look) -> None:
    """Print the problems; as JSON only where they stop the publish, since else what was written is printed."""
    if look.stopped or not args.json:
        after = "; nothing was published" if look.stopped else ""
        tell_problems(
            look.problems,
            look.reading.sources,
            target.typed,
            as_json=args.json,
            after=after,
            quiet=args.quiet,
        )


def _write(look: Look, to: Path, progress: Progress) -> None:
    """Write every event.

    All pages are made before any is written, so that a fault in one event leaves all as they were.
    """
    pages = {}
    for number, facts in enumerate(look.events):
        progress(f"setting the pages of {facts.event.name}", number, len(look.events))
        pages[facts.event.slug] = event_files(look, facts, progress)
    for slug, files in pages.items():
        publish(to, slug, files)


def _tell_written(args: argparse.Namespace, look: Look, to: Path) -> None:
    if args.json:
        told = [{"event": facts.event.slug, "folder": str(to / facts.event.slug)} for facts in look.events]
        print(json.dumps(told, ensure_ascii=False))
    elif not args.quiet:
        for facts in look.events:
            place = (to / facts.event.slug).as_posix()
            cards = f", table cards in {place}/print" if facts.event.address else ""
            print(f"{facts.event.name}: {len(facts.drinks)} drinks in {place}/site{cards}")
