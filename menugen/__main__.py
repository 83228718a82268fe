"""Where the process of a command begins, `python -m menugen` or as installed; nothing else imports this.

Before a command begins, and after it, nothing is to be put in order, so Ctrl+C may end the process at once. Python's
own handler would raise in the middle of an import, which ends in a traceback, or in some library's report of a fault.
"""

import sys

try:
    import signal

    # Where whoever started us has it ignored, it stays so.
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
except KeyboardInterrupt:
    sys.exit(130)

from menugen.cli import run

if __name__ == "__main__":
    run()
