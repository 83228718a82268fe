"""menugen preview."""

import argparse
import sys

from menugen.cli.finding import NotFound, find_target
from menugen.cli.terminal import fail
from menugen.preview import serve
from menugen.preview.pages import Pages


def run(args: argparse.Namespace) -> int:
    """Serve the pages until interrupted."""
    try:
        target = find_target(args.where)
    except NotFound as fault:
        return fail(str(fault))

    said = ""

    def made(pages: Pages) -> None:
        nonlocal said
        # What must not be missed is said at each save; the rest once, until it is something else.
        if pages.alarms or (pages.replaced != said and not args.quiet):
            print(pages.replaced, file=sys.stderr, end="")
        said = pages.replaced
        if pages.problems:
            print(pages.problems, file=sys.stderr, end="")
        elif not args.quiet:
            print(f"pages made in {pages.took_s * 1000:.0f} ms", file=sys.stderr)

    def ready(address: str) -> None:
        print(f"{address}  (Ctrl+C ends)", flush=True)

    try:
        serve(target.folder, target.event, args.port, made=made, ready=ready)
    except OSError as fault:
        return fail(f"cannot serve on port {args.port}: {fault.strerror}; choose another with --port")
    except KeyboardInterrupt:
        return 0
    return 0
