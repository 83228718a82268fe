"""Let every command that writes run on a network disk that fails and delays, at every call it makes to it.

Run it: `python -m tests.fuzz.disks --seconds 600 --seed 1`. What fails: one call is refused; one is carried out and
reported as failed; the disk is gone from one call on; calls wait; there are no locks, no second names, no exchange.
Exit code 1 where a command says more than a sentence, or leaves anything half done or left over.
"""

import argparse
import errno
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.fuzz.kills import calls_of
from tests.fuzz.on_disk import COMMANDS, Case
from tests.fuzz.trouble import (
    Disk,
    Trouble,
    at,
    done_and_refused,
    folder_in_memory,
    refused,
    since,
    slow,
)

NUMBERS = (
    *(errno.EIO, errno.ESTALE, errno.ETIMEDOUT, errno.EAGAIN, errno.EACCES, errno.EROFS, errno.ENOSPC),
    *(errno.EINVAL, errno.EXDEV, errno.EBUSY, errno.EDQUOT, errno.ENOLCK),
)
ABLE = {
    "no locks": ("flock", errno.ENOLCK),
    "no second names": ("link", errno.EPERM),
    "no exchange": ("renameat2", errno.EINVAL),
    "cannot be asked to wait": ("fsync", errno.EINVAL),
    "no permissions": ("chmod", errno.EPERM),
}
"""What some disks cannot do, and how they say so."""


def lacking(name: str, number: int) -> tuple[Callable[[int, str], bool], Trouble]:
    """Return the trouble of a disk that cannot do one thing."""

    def refuse(called: str, call: Callable[[], Any]) -> Any:
        if called == "renameat2":
            return False
        return refused(number)(called, call)

    return (lambda _number, called: called == name), refuse


def tell(case: Case, what: str, disk: Disk) -> list[str]:
    """Return what is wrong after a command ran into trouble, and after it ran again without."""
    case.fresh()
    code, told, _ = case.run(disk)
    wrong = []
    lines = told.strip().splitlines()
    if "own" in told or "Traceback" in told or code not in (0, 1, 2):
        wrong.append(f"ends with {code}: {told}")
    elif code and not lines:
        wrong.append(f"ends with {code} and says nothing")
    wrong += case.faults()
    wrong += case.faults_after_the_next()
    return [f"{case.command.name}, {what}: {one}" for one in wrong]


def main() -> int:
    """Make trouble until the time is over, and say what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="commands whose name has this in it")
    args = parser.parse_args()
    chance = random.Random(args.seed)
    until = time.monotonic() + args.seconds
    tried, bad = 0, 0
    with tempfile.TemporaryDirectory() as other, folder_in_memory(Path(other)) as folder:
        trials: list[tuple[Case, str, Callable[[int, str], bool], Trouble]] = []
        for number, command in enumerate(COMMANDS):
            if args.only not in command.name:
                continue
            case = Case(command, folder / str(number))
            case.begin()
            for what, (name, refusal) in ABLE.items():
                trials.append((case, what, *lacking(name, refusal)))
            for step in range(1, calls_of(case) + 1):
                refusal = chance.choice(NUMBERS)
                said = errno.errorcode[refusal]
                trials += [
                    (case, f"{said} at {step}", at(step), refused(refusal)),
                    (case, f"done and {said} at {step}", at(step), done_and_refused(refusal)),
                    (case, f"{said} since {step}", since(step), refused(refusal)),
                    (case, f"slow at {step}", at(step), slow(0.05)),
                ]
        chance.shuffle(trials)
        for case, what, wanted, trouble in trials:
            if time.monotonic() > until:
                break
            tried += 1
            for fault in tell(case, what, Disk(Path("tried"), wanted, trouble)):
                bad += 1
                print(fault, flush=True)
    print(f"{tried} of {len(trials)} troubles tried, {bad} faults")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
