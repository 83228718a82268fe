"""The commands: words become one call, a result becomes text. No rule of the trade lives here.

Exit codes: 0 done, 1 the user's files have problems or the result could not be printed, 2 wrong use of the command,
130 interrupted. `compare` stands guard: its 1 means that something changed, and whatever kept it from looking is a 2.
Each command imports what it needs when it runs, so that help and completion start at once.
"""

import gc
import sys

__all__ = ["main", "run"]


def main(argv: list[str]) -> int:
    """Run one command and return its exit code."""
    from menugen.cli.arguments import parse

    loaded = False
    try:
        chosen = parse(argv)
        command = chosen.load(chosen)
        loaded = True
        _heed_interrupts()
        return int(command(chosen))
    except KeyboardInterrupt:
        return 130
    except Exception as fault:  # noqa: BLE001  # whatever it is, a bartender gets a sentence
        from menugen.cli.last_stop import explain

        return explain(fault, loaded=loaded, code=2 if argv[:1] == ["compare"] else 1)


def run() -> None:
    """Entry point of the installed command, by way of `__main__`."""
    if sys.version_info < (3, 11):  # noqa: UP036  # somebody may run the source with the Python that is there
        sys.exit(f"menugen: Python 3.11 or newer is needed, and this is {sys.version.split()[0]}")
    from menugen.cli.streams import end_streams, make_streams

    # A command makes many small records and keeps them to its end: looking for circles among them after each 700, as
    # Python does unasked, finds nothing and takes a tenth of the time.
    gc.set_threshold(10_000, 10, 10)
    make_streams()
    code = end_streams(lambda: main(sys.argv[1:]))
    _end_at_interrupts()
    sys.exit(code)


def _heed_interrupts() -> None:
    """Let Ctrl+C raise KeyboardInterrupt from here on, so that a command leaves nothing half done; see `__main__`."""
    import signal

    if signal.getsignal(signal.SIGINT) is signal.SIG_DFL:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def _end_at_interrupts() -> None:
    """Let Ctrl+C end the process at once again."""
    import signal

    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
