"""menugen compare."""

import argparse
import sys
from pathlib import Path

from menugen.cli.compare_text import compare_json, compare_markdown, compare_text
from menugen.cli.finding import NotFound, find_target
from menugen.cli.terminal import Progress, fail, wants_colour
from menugen.history import Comparison, NoHistory, compare, editions
from menugen.publishing import look_at_house
from menugen.reading import HouseFiles

GUARDED = ("allergens", "strength", "problems")


class _WrongGuard(Exception):
    """A word after --fail-on that guards nothing; the message is for the user."""


def _guards(typed: str | None) -> frozenset[str]:
    words = frozenset(word.strip() for word in (typed or "").split(",") if word.strip())
    if unknown := sorted(words.difference(GUARDED)):
        raise _WrongGuard(f'--fail-on knows {", ".join(GUARDED)}, and not "{unknown[0]}"')
    return words


def run(args: argparse.Namespace) -> int:
    """Tell what changed from one house to another; exit with 1 where something guarded against did."""
    progress = Progress(quiet=args.quiet or args.json or args.markdown)
    try:
        guards = _guards(args.fail_on)
        target = find_target(args.house)
        old_word, new_word = args.old, args.new
        if old_word and new_word is None and ".." in old_word:
            old_word, _, new_word = old_word.partition("..")
        old, new, new_files, notes = editions(target.folder, old_word or "HEAD", new_word or None, progress)
        comparison = compare(old, new, notes)
    except (NotFound, NoHistory, _WrongGuard) as fault:
        return fail(str(fault))
    finally:
        progress.clear()
    if args.json:
        print(compare_json(comparison))
    elif args.markdown:
        print(compare_markdown(comparison))
    elif not (args.quiet and comparison.nothing):
        print(compare_text(comparison, bold=wants_colour(sys.stdout)))
    if old.reading.house is None or new.reading.house is None:
        return 1
    return 1 if any(_is_touched(guard, comparison, target.folder, new_files) for guard in guards) else 0


def _is_touched(guard: str, comparison: Comparison, folder: Path, files: HouseFiles) -> bool:
    """Return whether what is guarded against happened."""
    if guard == "allergens":
        return any(drink.allergens for drink in comparison.drinks)
    if guard == "strength":
        return any(move.fact == "strength" for drink in comparison.drinks for move in drink.moves)
    return look_at_house(folder, files).stopped
