"""The commands: words become one call, a result becomes text. No rule of the trade lives here.

Exit codes: 0 done, 1 the user's files have problems, 2 wrong use of the command.
Each command imports what it needs when it runs, so that help and completion start at once.
"""

import os
import sys
from collections.abc import Sequence


def main(argv: Sequence[str]) -> int:
    """Run one command and return its exit code."""
    from menugen.cli.arguments import parse

    chosen = parse(argv)
    try:
        return int(chosen.run(chosen))
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # The reader of our output has gone ("menugen check | head"): nothing is left to say, not even on leaving.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except Exception as fault:  # the last stop: whatever it is, a bartender gets a sentence
        from menugen.cli.terminal import fail
        from menugen.reading import LostLink, NotHere

        # Whichever command asked, and however far it had come: what is not to be had is told in the same words.
        if isinstance(fault, NotHere):
            return fail(str(fault))
        if isinstance(fault, LostLink):
            return fail(f"{fault.filename}: {fault.why}")
        if os.environ.get("MENUGEN_TRACEBACK"):
            raise
        return _own_fault(fault)


def _own_fault(fault: Exception) -> int:
    """Say that menugen itself has failed, and where, in one sentence."""
    from menugen.problems.own_fault import own_fault

    print(own_fault(fault), file=sys.stderr)
    return 1


def run() -> None:
    """Entry point of the installed command."""
    for stream in (sys.stdout, sys.stderr):
        # Names of drinks are not ASCII; a Windows console or LANG=C must not turn them into a traceback.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    sys.exit(main(sys.argv[1:]))
