"""menugen compare."""

import argparse
import sys

from menugen.cli.compare_json import compare_json
from menugen.cli.compare_text import compare_markdown, compare_text
from menugen.cli.finding import NotFound, find_target
from menugen.cli.guards import WrongGuard, guards
from menugen.cli.terminal import Progress, fail, wants_colour
from menugen.comparing import Comparison, compare, told_otherwise, two_houses, with_all_errors
from menugen.publishing import check_house, with_page_problems
from menugen.revisions import NoHistory, themes_of

GUARDED = ("allergens", "strength", "problems")


def run(args: argparse.Namespace) -> int:
    """Tell what changed from one house to another; exit with 1 where something guarded against did."""
    progress = Progress(quiet=args.quiet or args.json or args.markdown)
    try:
        guarded = guards(args.fail_on, GUARDED)
        target = find_target(args.house)
        old_word, new_word = args.old, args.new
        if old_word and new_word is None and ".." in old_word:
            # What git calls HEAD~3..HEAD; an end left out is the last commit.
            old_word, _, new_word = (end or "HEAD" for end in old_word.partition(".."))
        old, new, new_files, notes = two_houses(target.folder, old_word or "HEAD", new_word, progress)
        comparison = compare(old, new, notes)
        checked = None
        if "problems" in guarded:
            with themes_of(target.folder, new_files) as looks:
                # What stops a publish only once its pages are made stops it, too.
                checked = with_page_problems(check_house(target.folder, new_files, looks=looks), progress)
            comparison = with_all_errors(comparison, checked.reading, checked.problems)
    except (NotFound, NoHistory, WrongGuard) as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    if args.json:
        print(compare_json(comparison))
    elif args.markdown:
        print(compare_markdown(comparison))
    elif not (args.quiet and not comparison.changes):
        print(compare_text(comparison, bold=wants_colour(sys.stdout)))
    stopped = checked is not None and checked.stopped
    touched = any(_is_touched(guard, comparison) for guard in guarded)
    return 1 if stopped or touched or not comparison.readable else 0


def _is_touched(guard: str, comparison: Comparison) -> bool:
    """Return whether what is guarded against happened, or may have in a drink that nobody can compare."""
    if guard == "allergens":
        return bool(told_otherwise(comparison.changes))
    changes = [one for changes in comparison.drinks.values() for one in changes]
    return guard == "strength" and (
        any(one.kind == "unknown" for one in comparison.changes)
        or any(one.called == "strength" for one in changes)
    )
