"""menugen tidy."""

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

from menugen.cli.finding import NotFound, Target, find_target
from menugen.cli.terminal import fail
from menugen.tidying import Changed, Looked, look_through, write


def run(args: argparse.Namespace) -> int:
    """Write every untidy file again, or only list them; say nothing where all is tidy."""
    try:
        target = find_target(args.where)
        untidy, faulty = _tidy(target, args)
    except NotFound as fault:
        return fail(str(fault))
    except OSError as fault:
        print(f"menugen: {fault.filename}: {fault.strerror}", file=sys.stderr)
        return 1
    return 1 if faulty or (args.check and untidy) else 0


def _wanted(target: Target, typed: str) -> Iterator[Looked]:
    """Yield the files of the house, or the one event that was typed."""
    for looked in look_through(target.folder):
        if target.event is None or (target.folder / looked.file).resolve() == Path(typed).resolve():
            yield looked


def _tidy(target: Target, args: argparse.Namespace) -> tuple[int, int]:
    """Return how many files were not tidy, and how many had to be left as they are."""
    untidy = faulty = 0
    for looked in _wanted(target, args.where):
        name = f"{target.typed}{looked.file}"
        reason = looked.left_alone
        if not reason and looked.tidied is not None and not args.check:
            try:
                write(target.folder, looked)
            except Changed:
                reason = "it was changed meanwhile"
        if reason:
            faulty += 1
            print(f"{name}: left as it is: {reason}", file=sys.stderr)
        elif looked.tidied is not None:
            untidy += 1
            if not args.quiet:
                print(f"{name}: {'not tidy' if args.check else 'tidied'}")
    return untidy, faulty
