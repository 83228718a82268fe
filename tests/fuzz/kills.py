"""Kill every command that writes at every call it makes to the disk, truly, and look at what is left.

Run it: `python -m tests.fuzz.kills --seconds 600 --seed 1`. Where it is given less time than all calls take, it tries
them in an order made from the seed. Exit code 1 where anything is half done, lost, or left over.
"""

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz.on_disk import COMMANDS, Case
from tests.fuzz.trouble import KILLED, Disk, at, folder_in_memory, killed


def calls_of(case: Case) -> int:
    """Return how many calls a command makes when nothing stops it."""
    case.fresh()
    disk = Disk(Path("tried"), lambda _number, _name: False, killed)
    return case.run(disk)[2]


def kill(case: Case, step: int, again: int = 0) -> list[str]:
    """Return what is wrong after a command was killed at a call, and the next run at another, where one is said."""
    case.fresh()
    if case.run(Disk(Path("tried"), at(step), killed))[0] != KILLED:
        return []
    wrong = case.faults()
    if again and case.run(Disk(Path("tried"), at(again), killed))[0] == KILLED:
        wrong += case.faults()
    return wrong + case.faults_after_the_next()


def main() -> int:
    """Kill until the time is over, and tell what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="commands whose name has this in it")
    args = parser.parse_args()
    chance = random.Random(args.seed)
    until = time.monotonic() + args.seconds
    tried, bad = 0, 0
    with tempfile.TemporaryDirectory() as other, folder_in_memory(Path(other)) as folder:
        cases = [
            Case(command, Path(folder, str(number)))
            for number, command in enumerate(COMMANDS)
            if args.only in command.name
        ]
        steps = []
        for case in cases:
            case.begin()
            count = calls_of(case)
            print(f"{case.command.name}: {count} calls", flush=True)
            steps += [(case, step, 0) for step in range(1, count + 1)]
            steps += [(case, chance.randint(1, count), chance.randint(1, count)) for _ in range(count)]
        chance.shuffle(steps)
        for case, step, again in steps:
            if time.monotonic() > until:
                break
            tried += 1
            for fault in kill(case, step, again):
                bad += 1
                print(
                    f"{case.command.name}, killed at {step}{f' and {again}' * bool(again)}: {fault}",
                    flush=True,
                )
    print(f"{tried} of {len(steps)} kills tried, {bad} faults")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
