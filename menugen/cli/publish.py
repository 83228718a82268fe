"""menugen publish."""

import argparse
import json
import shlex
import sys
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
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
from menugen.report import counted
from menugen.revisions import themes_of
from menugen.writing import PublishFault
from menugen.writing.output_folder import output_folder

GUARDED = ("allergens",)


class _Misplaced(Exception):
    """Nothing may be published where it was asked for; the message says why."""


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
        publish = _Publish(args, target, checked, to, progress)
        return publish.stopped() if checked.stopped else publish.write(guarded=bool(guarded))
    except (NotFound, WrongGuard, _Misplaced) as fault:
        return fail(str(fault))
    except PublishFault as fault:
        progress.clear()
        fail(str(fault))
        return 1
    finally:
        progress.clear()
        lent.close()


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


@dataclass(slots=True)
class _Publish:
    """One publish, as it was typed, and what is printed of it.

    Attributes:
        args: What was typed.
        target: The house, and the event where one was named.
        checked: The house, read and worked out.
        to: The output folder.
        progress: Told of each event and photo.
        replaced: What each event takes the place of, once that is known.
        gone: Folders there of events that are gone.
        removed: Those of them that were removed.
    """

    args: argparse.Namespace
    target: Target
    checked: CheckedHouse
    to: Path
    progress: Progress
    replaced: Sequence[Replacement] = ()
    gone: Sequence[GoneFolder] = ()
    removed: Sequence[GoneFolder] = ()

    def stopped(self) -> int:
        """Say what stops the publish, on pages too, and return the exit code."""
        self.checked = with_page_problems(self.checked, self.progress)
        self.progress.clear()
        self._tell_problems()
        return 1

    def write(self, *, guarded: bool) -> int:
        """Publish a house that nothing stops but what is guarded against, and return the exit code."""
        if not self.checked.events:
            return self._remove_gone()
        slugs = [facts.event.slug for facts in self.checked.events]
        if fault := swallowed(self.to, self.target.folder, read_from(self.target.folder), slugs):
            raise _Misplaced(fault)
        told = False
        try:
            with output_folder(self.to) as output:
                self.gone = gone_from(self.checked, self.to, self.args.was)
                ready = ready_events(
                    self.checked, output, gone=self.gone, was=self.args.was, progress=self.progress
                )
                self.replaced = ready.replaced
                self.progress.clear()
                self._tell_put_back(output.put_back)
                # First of all, and before anything is published.
                self._tell_replaced()
                told = True
                self._tell_problems()
                if guarded and any(one.alarming for one in self.replaced):
                    return self._guarded_against()
                self.removed = self._to_remove()
                ready.finish(one.folder.name for one in self.removed)
        except Unfit as unfit:
            self.checked = replace(self.checked, problems=(*self.checked.problems, *unfit.problems))
            return 1
        finally:
            if not told:
                self.progress.clear()
                self._tell_problems()
        self._tell_written()
        return 0

    def _remove_gone(self) -> int:
        """Do what there is to do for a house without events, and return the exit code.

        Raises:
            PublishFault: It cannot be done.
        """
        self.gone = gone_from(self.checked, self.to, self.args.was)
        self.removed = self._to_remove()
        if self.removed:
            with output_folder(self.to) as output:
                output.finish(one.folder.name for one in self.removed)
        self._tell_gone()
        return 0 if self.removed else fail(f"{self.args.where} has no events to publish")

    def _to_remove(self) -> tuple[GoneFolder, ...]:
        """Return what is of events that are gone, and is to go, where that was asked for."""
        return tuple(one for one in self.gone if not one.kept) if self.args.remove_gone else ()

    def _tell_problems(self) -> None:
        """Print the problems; as JSON only where they stop the publish, since else what was written is printed."""
        if self.checked.stopped or not self.args.json:
            tell_problems(
                self.checked.problems,
                self.checked.reading.sources,
                self.target.typed,
                as_json=self.args.json,
                after="; nothing was published" if self.checked.stopped else "",
                quiet=self.args.quiet,
            )

    def _tell_replaced(self) -> None:
        """Print what guests are shown otherwise than before; nothing is quiet about an allergen."""
        if self.args.json or (self.args.quiet and not any(one.alarming for one in self.replaced)):
            return
        in_git = shlex.quote(self.target.folder.as_posix()) if self.checked.stamp.revision else ""
        print(
            report_text(self.replaced, bold=wants_colour(sys.stdout), in_git=in_git),
            end="",
            flush=True,
        )

    def _guarded_against(self) -> int:
        """Say that what was guarded against has stopped the publish, and return the exit code."""
        if self.args.json:
            self._print_json(published=False)
        print(
            "nothing was published: read the labels of what changed above, then publish without --fail-on",
            file=sys.stderr,
        )
        return 1

    def _tell_put_back(self, put_back: Sequence[str]) -> None:
        """Say which events an earlier run had left new while others were old."""
        if put_back and not self.args.quiet:
            places = ", ".join((self.to / name).as_posix() for name in put_back)
            print(
                f"an earlier publish was stopped half-way; put back as before it: {visible(places)}",
                file=sys.stderr,
            )

    def _tell_written(self) -> None:
        if self.args.json:
            self._print_json(published=True)
            return
        if not self.args.quiet:
            for facts, one in zip(self.checked.events, self.replaced, strict=True):
                place = visible((self.to / facts.event.slug).as_posix())
                cards = f", table cards in {place}/print" if facts.event.address else ""
                above = "; allergens or cautions changed, above" if one.alarming else ""
                drinks = counted(len(facts.drinks), "drink")
                print(f"{facts.event.name}: {drinks} in {place}/site{cards}{above}")
        self._tell_gone()
        if not self.args.quiet and (word := unwise(self.to, self.checked.folder)):
            print(visible(word), file=sys.stderr)

    def _tell_gone(self) -> None:
        args = self.args
        if args.quiet or args.json:
            return
        for one in self.removed:
            print(f"removed: {visible(one.folder.as_posix())}")
        typed = ["menugen", "publish", args.where, *(["--to", args.to] if args.to is not None else [])]
        typed += ["--was", args.was] if args.was else []
        left = [one for one in self.gone if one not in self.removed]
        print(gone_text(left, shlex.join([*typed, "--remove-gone"])), end="", file=sys.stderr)

    def _print_json(self, *, published: bool) -> None:
        told = {
            "publish": 1,
            "published": published,
            "events": [
                {
                    "event": facts.event.slug,
                    "folder": str(self.to / facts.event.slug),
                    "replaced": replacement_json(one),
                }
                for facts, one in zip(self.checked.events, self.replaced, strict=True)
            ],
            "gone": [gone_json(one, removed=one in self.removed) for one in self.gone],
        }
        print(json.dumps(told, ensure_ascii=False))
