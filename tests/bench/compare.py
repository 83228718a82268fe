"""How long a comparison of 1,000 drinks takes beside one reading of them, in one run. Prints; asserts nothing.

Run: python -m tests.bench.compare
"""

import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from menugen.comparing import compare, differences, houses_to_compare
from menugen.facts import event, serve
from menugen.facts.checks import check_label, check_liquid
from menugen.facts.liquids import bottled
from menugen.past.drink_history import history_of
from menugen.publishing import no_progress
from menugen.reading import DiskFiles, read_event, read_house, read_spec
from menugen.reading.stock_file import read_stock
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


def _forget() -> None:
    """Begin as a new process does: with nothing remembered of texts, labels and drinks."""
    for remembered in (read_spec, read_stock, read_event, bottled, check_label, check_liquid):
        remembered.cache_clear()
    event._REMEMBERED._latest_first.clear()  # their memories are what is being measured
    serve._made.cache_clear()  # the same
    differences._stock_parts.cache_clear()  # the same


def _compared(house: Path, old: str, new: str | None) -> int:
    found = houses_to_compare(house, old, new, progress=no_progress)
    return len(compare(found.old, found.new, found.notes).drinks)


def _ratio(house: Path, what: str, new: str | None = None) -> None:
    """Print how long a comparison with the last commit takes beside one reading of the house."""
    readings, comparisons, drinks = [], [], 0
    for _ in range(7):
        # One after the other, so that a busy machine is busy for both.
        _forget()
        begun = time.process_time()
        read_house(DiskFiles(house))
        readings.append(time.process_time() - begun)
        _forget()
        begun = time.process_time()
        drinks = _compared(house, "HEAD" if new is None else "HEAD~1", new)
        comparisons.append(time.process_time() - begun)
    ratio = statistics.median(comparisons) / statistics.median(readings)
    print(f"{what}: {drinks} drinks moved, {ratio:.2f} x reading the house once")


def comparison(folder: Path) -> None:
    """Compare two states of a house of 1,000 drinks that differ in little and in much."""
    house = folder / "house"
    make_house(house, DRINKS)
    _git(house, "init", "-q")
    _git(house, "add", ".")
    _git(house, "commit", "-qm", "As we began")
    specs = sorted((house / "specs").glob("*.md"))
    print(f"compare, {DRINKS} drinks")
    for what, paths, before, after in (
        ("ten specs", specs[:10], "0 ml", "5 ml"),
        ("the price of a gin", [house / "stock/spirits.yaml"], "price: 15.80", "price: 16.80"),
        ("the region of the house", [house / "house.yaml"], "GB-ENG", "IE"),
        ("every price in stock", list((house / "stock").glob("*.yaml")), "price: ", "price: 1"),
        ("every spec", specs, "0 ml", "5 ml"),
    ):
        for path in paths:
            path.write_text(path.read_text("utf-8").replace(before, after), encoding="utf-8")
        _ratio(house, what)
        if what == "ten specs":
            _git(house, "commit", "-qam", "Ten specs")
            _ratio(house, "ten specs, both committed", "HEAD")
        _git(house, "checkout", "-q", ".")


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
    taken = _seconds(lambda: history_of(house, "d00000", progress=no_progress))
    print(f"life of a drink through {COMMITS} commits, {COMMITS // 50} of them its own: {taken:.1f} s")


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        comparison(Path(place))
        long_life(Path(place))
