"""A stranger's font is cut in a process of its own, which may take so much time and memory and no more.

A font is a program's worth of tables that refer to each other: a few kilobytes of it can ask for hours and gigabytes.
Where the system bounds no memory (Windows), time is bounded all the same, and so is the file.
"""

import os
import subprocess
import sys
from contextlib import suppress

MOST_SECONDS = 20
"""Of work; ours take a twentieth of it each."""

MOST_BYTES = 280 * 1024 * 1024
"""Of memory."""

_LONGEST_WAIT_S = 120
"""On a machine that has much else to do."""

_CHILD = "from menugen.writing.font_apart import main; main()"


class CannotCut(Exception):
    """The font is damaged, or takes too much."""


def cut_apart(source: bytes, characters: str) -> bytes:
    """Return a font cut to these characters, as `fonts.cut_font` does.

    Raises:
        CannotCut: It cannot be had.
    """
    # The house's own folder may be where this was started, and holds what it likes.
    paths = os.pathsep.join(path for path in sys.path if path)
    wanted = characters.encode()
    try:
        done = subprocess.run(  # noqa: S603  (Python itself, and nothing of the house's but on its input)
            [sys.executable, "-P", "-c", _CHILD],
            input=len(wanted).to_bytes(8, "big") + wanted + source,
            capture_output=True,
            timeout=_LONGEST_WAIT_S,
            env={**os.environ, "PYTHONPATH": paths},
            check=False,
        )
    except (subprocess.TimeoutExpired, OSError) as fault:
        raise CannotCut from fault
    if done.returncode:
        raise CannotCut
    return done.stdout


def main() -> None:
    """Cut the font on the input, within the bounds."""
    _bound()
    from menugen.writing.fonts import cut_font

    given = sys.stdin.buffer.read()
    end = 8 + int.from_bytes(given[:8], "big")
    sys.stdout.buffer.write(cut_font(given[end:], given[8:end].decode()))


def _bound() -> None:
    try:
        import resource
    except ImportError:  # Windows
        return
    # A system that keeps no such count refuses.
    with suppress(ValueError, OSError):
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    with suppress(ValueError, OSError):
        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
