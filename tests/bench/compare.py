"""How long a comparison of 1,000 drinks takes beside one reading of them, in one run. Prints; asserts nothing.

Run: python tests/bench/compare.py
"""

import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from menugen.history import compare, editions, life_of
from menugen.publishing import no_progress
from menugen.reading import DiskFiles, read_house
from tests.bench.run import make_house

DRINKS = 1000
COMMITS = 3000


def _git(folder: Path, *arguments: str, given: str = "") -> None:
    who = ["-c", "user.name=Bar", "-c", "user.email=bar@example.org", "-c", "commit.gpgsign=false"]
    subprocess.run(
        ["git", *who, *arguments], cwd=folder, check=True, capture_output=True, input=given.encode()
    )


def _seconds(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def _compared(house: Path) -> None:
    old, new, _, notes = editions(house, "HEAD", None, no_progress)
    compare(old, new, notes)


def comparison(folder: Path) -> None:
    """Compare the last commit with files of which ten specs, or the price of one gin, changed."""
    house = folder / "house"
    make_house(house, DRINKS)
    _git(house, "init", "-q")
    _git(house, "add", ".")
    _git(house, "commit", "-qm", "As we began")
    for number in range(10):
        spec = house / "specs" / f"d{number:05}.md"
        spec.write_text(spec.read_text("utf-8").replace("0 ml", "5 ml", 1), encoding="utf-8")
    for what in ("ten specs", "ten specs and a gin"):
        readings, comparisons = [], []
        for _ in range(9):
            # One after the other, so that a busy machine is busy for both.
            readings.append(_seconds(lambda: read_house(DiskFiles(house))))
            comparisons.append(_seconds(lambda: _compared(house)))
        ratio = statistics.median(comparisons) / statistics.median(readings)
        print(f"compare, {DRINKS} drinks, {what} changed: {ratio:.2f} x reading the house once")
        gin = house / "stock" / "spirits.yaml"
        gin.write_text(gin.read_text("utf-8").replace("price: 15.80", "price: 16.80"), encoding="utf-8")


def long_life(folder: Path) -> None:
    """Tell the life of one drink through thousands of commits, one in fifty of which touched it."""
    house = folder / "long"
    make_house(house, 60)
    _git(house, "init", "-q", "-b", "main")
    _git(house, "add", ".")
    _git(house, "commit", "-qm", "As we began")
    spec = (house / "specs/d00000.md").read_text("utf-8")
    told = []
    for number in range(COMMITS):
        text = f"{number}\n"
        told.append(
            f"commit refs/heads/main\ncommitter Bar <bar@example.org> {1_700_000_000 + number * 3600} +0000\n"
            f"data <<E\nNumber {number}\nE\n"
        )
        if not number:
            told.append("from refs/heads/main^0\n")
        told.append(f"M 644 inline notes.txt\ndata {len(text)}\n{text}\n")
        if number % 50 == 0:
            changed = spec.replace("30 ml", f"{30 + number % 7} ml", 1).encode().decode()
            told.append(f"M 644 inline specs/d00000.md\ndata {len(changed.encode())}\n{changed}\n")
    _git(house, "fast-import", "--quiet", given="".join(told))
    _git(house, "reset", "-q", "--hard", "main")
    taken = _seconds(lambda: life_of(house, "d00000", progress=no_progress))
    print(f"life of a drink through {COMMITS} commits, {COMMITS // 50} of them its own: {taken:.1f} s")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        comparison(Path(place))
        long_life(Path(place))
