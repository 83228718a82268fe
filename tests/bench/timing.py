"""What a bench measures with: whole processes by their processor time, beside a fixed piece of work in the same run."""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple


def fixed_work() -> int:
    """Do a fifth of a second of plain Python: make 330,000 words, sort them and count how they begin."""
    words = [f"{number * 7919 % 330_001:06}" for number in range(330_000)]
    begun: dict[str, int] = {}
    for word in sorted(words):
        begun[word[:3]] = begun.get(word[:3], 0) + len(word)
    return sum(begun.values())


class Taken(NamedTuple):
    """What one run took.

    Attributes:
        wall_s: From start to end.
        busy_s: Of the processor, in the program and in the system for it.
        peak_mib: The most memory it had.
    """

    wall_s: float
    busy_s: float
    peak_mib: float


def command(*arguments: str) -> list[str]:
    """Return the command menugen of this environment."""
    return [str(Path(sys.executable).with_name("menugen")), *arguments]


def environment(kept: str) -> dict[str, str]:
    """Return the environment of a machine on which Python keeps compiled modules, as everybody's does.

    Args:
        kept: The folder to keep them in: none lies beside the source, or an old one.
    """
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**own, "PYTHONPYCACHEPREFIX": kept}


def run(words: Sequence[str], kept: str) -> Taken:
    """Run a command and return what it took.

    Raises:
        RuntimeError: It failed.
    """
    begun = time.perf_counter()
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen(words, stdout=said, stderr=subprocess.STDOUT, env=environment(kept))
        _, code, usage = os.wait4(process.pid, 0)
        wall_s = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(code)
        if process.returncode:
            said.seek(0)
            raise RuntimeError(f"{words} failed: {said.read().decode(errors='replace')}")
    return Taken(wall_s, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def compared(
    *commands: Sequence[str], runs: int, kept: str = "", between: Callable[[], None] = lambda: None
) -> tuple[float, list[Taken]]:
    """Run commands in turn, with the fixed work between, and return what that took and the medians of each.

    Args:
        commands: In words.
        runs: Of each that count.
        kept: As `environment` takes it; empty where nothing is kept yet, and a first run of each is to do that.
        between: Done before each run.
    """
    with tempfile.TemporaryDirectory() as new:
        every: list[list[Taken]] = [[] for _ in commands]
        worked = []
        for number in range(-1 if not kept else 0, runs):
            for taken, words in zip(every, commands, strict=True):
                between()
                one = run(words, kept or new)
                if number >= 0:
                    taken.append(one)
            begun = time.process_time()
            fixed_work()
            worked.append(time.process_time() - begun)
    medians = [
        Taken(*(statistics.median(figures) for figures in zip(*taken, strict=True))) for taken in every
    ]
    return statistics.median(worked), medians


def told(what: str, taken: Taken, work_s: float, *more: str) -> None:
    """Print one line: the processor's time as a multiple of the fixed work, and in seconds."""
    print(
        f"{what}: {taken.busy_s / work_s:.2f} x the fixed work ({taken.busy_s:.3f} s busy, {taken.wall_s:.3f} s by "
        f"the clock, {taken.peak_mib:.0f} MiB)" + "".join(f"; {one}" for one in more),
        flush=True,
    )
