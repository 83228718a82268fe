"""menugen publish."""

import argparse
import json
import shlex
import sys
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

from menugen.cli.finding import NotFound, Target, check_event, files_of, find_target
from menugen.cli.guards import WrongGuard, guards
from menugen.cli.terminal import Progress, fail, tell_problems, wants_colour
from menugen.house_photos import KEPT
from menugen.problems import visible
from menugen.publishing import CheckedHouse, Unfit, check_house, with_page_problems
from menugen.ready import gone_from, read_from, ready_events
from menugen.replacing import (
    GoneFolder,
    Replacement,
    gone_json,
    gone_text,
    misplaced,
    replacement_json,
    report_text,
    swallowed,
    unwise,
)
from menugen.revisions import themes_of
from menugen.writing import PublishFault
from menugen.writing.output_folder import output_folder

GUARDED = ("allergens",)


def run(args: argparse.Namespace) -> int:
    """Write every event, or none where a problem, or what is guarded against, stops the publish."""
    progress = Progress(quiet=args.quiet or args.json)
    lent = ExitStack()
    try:
        guarded = guards(args.fail_on, GUARDED)
        target = find_target(args.where, at=args.at)
        to = _output(args, target)
        files = files_of(target, args.at)
        looks = lent.enter_context(themes_of(target.folder, files))
        checked = check_house(target.folder, files, target.event, progress, looks, to / KEPT)
        check_event(target, checked.reading, args.at)
        if checked.stopped:
            checked = with_page_problems(checked, progress)
            progress.clear()
            _tell(args, target, checked)
            return 1
        return _publish(args, target, checked, to, progress, guarded=bool(guarded))
    except (NotFound, WrongGuard, _Misplaced) as fault:
        return fail(str(fault))
    except PublishFault as fault:
        progress.clear()
        fail(str(fault))
        return 1
    finally:
        progress.clear()
        lent.close()


def _publish(
    args: argparse.Namespace,
    target: Target,
    checked: CheckedHouse,
    to: Path,
    progress: Progress,
    *,
    guarded: bool,
) -> int:
    """Publish a house that nothing stops but what is guarded against, and return the exit code."""
    if not checked.events:
        return _nothing_but_gone(args, to, gone_from(checked, to, args.was))
    slugs = [facts.event.slug for facts in checked.events]
    if fault := swallowed(to, target.folder, read_from(target.folder), slugs):
        raise _Misplaced(fault)
    told = False
    try:
        with output_folder(to) as output:
            gone = gone_from(checked, to, args.was)
            ready = ready_events(checked, output, gone=gone, was=args.was, progress=progress)
            progress.clear()
            _tell_put_back(args, to, output.put_back)
            # First of all, and before anything is published.
            _tell_replaced(args, target, checked, ready.replaced)
            told = True
            _tell(args, target, checked)
            if guarded and any(one.alarming for one in ready.replaced):
                return _stopped(args, checked, to, ready.replaced, gone)
            removed = _to_remove(args, gone)
            ready.finish(one.folder.name for one in removed)
    except Unfit as unfit:
        checked = replace(checked, problems=(*checked.problems, *unfit.problems))
        return 1
    finally:
        if not told:
            progress.clear()
            _tell(args, target, checked)
    _tell_written(args, checked, to, ready.replaced, gone, removed)
    return 0


class _Misplaced(Exception):
    """Nothing may be published where it was asked for; the message says why."""


def _output(args: argparse.Namespace, target: Target) -> Path:
    """Return the output folder.

    Raises:
        _Misplaced: It is none.
    """
    if args.to is None:
        return target.folder / "out"
    to = Path(args.to)
    if fault := misplaced(to, target.folder, read_from(target.folder)):
        raise _Misplaced(fault)
    return to


def _tell(args: argparse.Namespace, target: Target, checked: CheckedHouse) -> None:
    """Print the problems; as JSON only where they stop the publish, since else what was written is printed."""
    if checked.stopped or not args.json:
        after = "; nothing was published" if checked.stopped else ""
        tell_problems(
            checked.problems,
            checked.reading.sources,
            target.typed,
            as_json=args.json,
            after=after,
            quiet=args.quiet,
        )


def _tell_replaced(
    args: argparse.Namespace, target: Target, checked: CheckedHouse, replaced: Sequence[Replacement]
) -> None:
    """Print what guests are shown otherwise than before; nothing is quiet about an allergen."""
    if args.json or (args.quiet and not any(one.alarming for one in replaced)):
        return
    in_git = shlex.quote(target.folder.as_posix()) if checked.stamp.revision else ""
    print(report_text(replaced, bold=wants_colour(sys.stdout), in_git=in_git), end="", flush=True)


def _stopped(
    args: argparse.Namespace,
    checked: CheckedHouse,
    to: Path,
    replaced: Sequence[Replacement],
    gone: Sequence[GoneFolder],
) -> int:
    """Say that what was guarded against has stopped the publish, and return the exit code."""
    if args.json:
        _print_json(checked, to, replaced, gone, (), published=False)
    print(
        "nothing was published: read the labels of what changed above, then publish without --fail-on",
        file=sys.stderr,
    )
    return 1


def _to_remove(args: argparse.Namespace, gone: Sequence[GoneFolder]) -> tuple[GoneFolder, ...]:
    """Return what is of events that are gone, and is to go, where that was asked for."""
    return tuple(one for one in gone if not one.kept) if args.remove_gone else ()


def _nothing_but_gone(args: argparse.Namespace, to: Path, gone: Sequence[GoneFolder]) -> int:
    """Do what there is to do for a house without events, and return the exit code.

    Raises:
        PublishFault: It cannot be done.
    """
    removed = _to_remove(args, gone)
    if removed:
        with output_folder(to) as output:
            output.finish(one.folder.name for one in removed)
    _tell_gone(args, gone, removed)
    return 0 if removed else fail(f"{args.where} has no events to publish")


def _tell_put_back(args: argparse.Namespace, to: Path, put_back: Sequence[str]) -> None:
    """Say which events an earlier run had left new while others were old."""
    if put_back and not args.quiet:
        places = ", ".join((to / name).as_posix() for name in put_back)
        print(
            f"an earlier publish was stopped half-way; put back as before it: {visible(places)}",
            file=sys.stderr,
        )


def _tell_written(
    args: argparse.Namespace,
    checked: CheckedHouse,
    to: Path,
    replaced: Sequence[Replacement],
    gone: Sequence[GoneFolder],
    removed: Sequence[GoneFolder],
) -> None:
    if args.json:
        _print_json(checked, to, replaced, gone, removed, published=True)
        return
    if not args.quiet:
        for facts, one in zip(checked.events, replaced, strict=True):
            place = visible((to / facts.event.slug).as_posix())
            cards = f", table cards in {place}/print" if facts.event.address else ""
            above = "; allergens or cautions changed, above" if one.alarming else ""
            count = len(facts.drinks)
            drinks = f"{count} {'drink' if count == 1 else 'drinks'}"
            print(f"{facts.event.name}: {drinks} in {place}/site{cards}{above}")
    _tell_gone(args, gone, removed)
    if not args.quiet and (word := unwise(to, checked.folder)):
        print(visible(word), file=sys.stderr)


def _tell_gone(args: argparse.Namespace, gone: Sequence[GoneFolder], removed: Sequence[GoneFolder]) -> None:
    if args.quiet or args.json:
        return
    for one in removed:
        print(f"removed: {visible(one.folder.as_posix())}")
    typed = ["menugen", "publish", args.where, *(["--to", args.to] if args.to is not None else [])]
    typed += ["--was", args.was] if args.was else []
    left = [one for one in gone if one not in removed]
    print(gone_text(left, shlex.join([*typed, "--remove-gone"])), end="", file=sys.stderr)


def _print_json(
    checked: CheckedHouse,
    to: Path,
    replaced: Sequence[Replacement],
    gone: Sequence[GoneFolder],
    removed: Sequence[GoneFolder],
    *,
    published: bool,
) -> None:
    told = {
        "publish": 1,
        "published": published,
        "events": [
            {
                "event": facts.event.slug,
                "folder": str(to / facts.event.slug),
                "replaced": replacement_json(one),
            }
            for facts, one in zip(checked.events, replaced, strict=True)
        ],
        "gone": [gone_json(one, removed=one in removed) for one in gone],
    }
    print(json.dumps(told, ensure_ascii=False))
