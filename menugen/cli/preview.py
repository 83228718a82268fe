"""menugen preview."""

import argparse
import errno
import shlex
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from menugen.cli.finding import NotFound, find_target
from menugen.cli.terminal import fail
from menugen.preview import NoPort, serve
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
            tell(pages.replaced, end="")
        said = pages.replaced
        if pages.problems:
            tell(pages.problems, end="")
        elif not args.quiet:
            tell(f"pages made in {pages.took_s * 1000:.0f} ms")

    def tell(text: str, end: str = "\n") -> None:
        # A terminal that was closed is no reason to stop what a browser still looks at.
        with suppress(OSError, ValueError):
            print(text, file=sys.stderr, end=end, flush=True)

    def ready(address: str) -> None:
        print(f"{address}  (Ctrl+C ends)", flush=True)

    try:
        with _ended_by_the_system():
            serve(target.folder, target.event, args.port, made=made, ready=ready, tell=tell)
    except NoPort as fault:
        return fail(_why(fault.__cause__, args))
    except KeyboardInterrupt:
        return 0
    return 0


def _why(fault: BaseException | None, args: argparse.Namespace) -> str:
    """Return why there is no port, and what to type."""
    why = "cannot be had here"
    if isinstance(fault, OSError):
        why = f"cannot be had: {fault.strerror}"
        if fault.errno == errno.EADDRINUSE:
            why = "is in use, perhaps by another preview"
        elif isinstance(fault, PermissionError):
            why = "is the system's own, as those below 1024 are"
    return f"port {args.port} {why}: {shlex.join(['menugen', 'preview', args.where, '--port', '0'])} picks a free one"


@contextmanager
def _ended_by_the_system() -> Iterator[None]:
    """While this lasts, a request to end is what Ctrl+C is."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, _interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _interrupt(*_: object) -> None:
    raise KeyboardInterrupt
