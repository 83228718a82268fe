"""Spoilt houses, odd histories and odd words for every command, for as long as is asked for; prints what must not be.

Run: python -m tests.fuzz.commands [--seconds 3600] [--seed 1] [--case SEED [--only 0,3]]

Each case follows from its seed. Of a case that shows a fault, steps are left out one by one while the fault remains,
and the shortest is printed with the command that shows it again. Exits with 1 where anything was found.
"""

import argparse
import contextlib
import faulthandler
import functools
import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

from menugen.cli import arguments
from tests.fuzz.cases import Finding, Plan, plan_of, run_case


def quiet_surroundings() -> None:
    """Let nothing of this machine's own settings matter."""
    os.environ |= {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1", "MENUGEN_TRACEBACK": "1"}
    os.environ.pop("LANGUAGE", None)
    # The same parser each time, and not made again for each command.
    arguments.make_parser = functools.cache(arguments.make_parser)


def in_a_room(plan: Plan, only: frozenset[int] | None = None) -> tuple[list[Finding], int]:
    """Run a case in a folder of its own, which is gone afterwards."""
    around = Path(tempfile.mkdtemp(prefix="menugen-fuzz-"))
    room = around / "room"
    room.mkdir()
    try:
        return run_case(plan, room, only)
    finally:
        shutil.rmtree(around, ignore_errors=True)


def shortest(plan: Plan, found: Finding) -> frozenset[int]:
    """Return the steps of a case without which the fault is not there."""
    kept = frozenset(range(len(plan.steps)))
    for number in sorted(kept, reverse=True):
        fewer = kept - {number}
        if any(one.what == found.what for one in in_a_room(plan, fewer)[0]):
            kept = fewer
    return kept


def main() -> int:
    """Run cases until the time is over."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.commands")
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument(
        "--seed", type=int, default=1, help="of the first case; each following one has the next"
    )
    parser.add_argument("--case", type=int, help="run this one and show all there is to see")
    parser.add_argument("--only", help="with --case: only these steps, by number: 0,3")
    args = parser.parse_args()
    quiet_surroundings()
    if args.case is not None:
        return _show(args.case, args.only)
    return 1 if _run_for(args.seconds, args.seed) else 0


def _run_for(seconds: float, first: int) -> dict[str, int]:
    """Run cases until the time is over, or Ctrl+C; return what was found, and how often."""
    begun, seed, commands, seen = time.monotonic(), first, 0, dict[str, int]()
    with contextlib.suppress(KeyboardInterrupt):
        while time.monotonic() - begun < seconds:
            # Where not even a signal ends a case, the run ends, and says where.
            faulthandler.dump_traceback_later(900, exit=True)
            plan = plan_of(seed)
            try:
                findings, ran = in_a_room(plan)
            except Exception as fault:  # noqa: BLE001  # a fault of the case itself; the next one may be sound
                print(f"case {seed} could not be made: {type(fault).__name__}: {fault}", flush=True)
                findings, ran = [], 0
            for found in findings:
                seen[found.what] = seen.get(found.what, 0) + 1
                if seen[found.what] == 1:
                    _tell(plan, found)
            seed, commands = seed + 1, commands + ran
    faulthandler.cancel_dump_traceback_later()
    took_s = time.monotonic() - begun
    print(f"\n{seed - first} cases, {commands} commands in {took_s:.0f} s: {commands / took_s:.1f} a second")
    for what, times in sorted(seen.items(), key=lambda item: -item[1]):
        print(f"{times:6} {what}")
    return seen


def _tell(plan: Plan, found: Finding) -> None:
    steps = sorted(shortest(plan, found))
    print(
        f"\n{found.what}\n  menugen {' '.join(map(ascii, found.command))[:600]}\n"
        f"  {', '.join(plan.steps[number] for number in steps) or 'no step'}\n"
        f"  python -m tests.fuzz.commands --case {plan.seed} --only {','.join(map(str, steps)) or 'none'}",
        flush=True,
    )


def _show(seed: int, only: str | None) -> int:
    plan = plan_of(seed)
    steps = None if only is None else frozenset(int(word) for word in only.split(",") if word.isdigit())
    print(f"a house called {plan.base}: {', '.join(plan.steps) or 'as it is'}")
    findings, _ = in_a_room(plan, steps)
    for found in findings:
        print(f"\n{found.what}\nmenugen {' '.join(map(repr, found.command))}\n{found.details}")
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
