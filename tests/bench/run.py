"""Timings and bytes: ratios in one run wherever time is meant. Prints; asserts nothing.

Run: python -m tests.bench.run [NAME ...]; without names, all of them.
"""

import gzip
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = REPOSITORY / "demo_data"


def _wall_s(command: list[str], runs: int = 7) -> float:
    """Return the median wall time of a whole process, after one run not counted."""
    taken = []
    for run in range(runs + 1):
        begun = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        if run:
            taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def _menugen(*arguments: str) -> list[str]:
    return [str(Path(sys.executable).with_name("menugen")), *arguments]


def help_start() -> None:
    """How long --help takes beside the bare interpreter."""
    bare = _wall_s([sys.executable, "-c", "pass"])
    helped = _wall_s(_menugen("--help"))
    print(
        f"menugen --help {helped * 1000:.0f} ms, bare interpreter {bare * 1000:.0f} ms: {helped / bare:.2f} x"
    )


def demo_publish() -> None:
    """How long a cold publish of the demo takes."""
    with tempfile.TemporaryDirectory() as out:
        one = _wall_s(_menugen("publish", str(DEMO / "events" / "lantern-supper.yaml"), "--to", out))
        every = _wall_s(_menugen("publish", str(DEMO), "--to", out))
    print(
        f"publish of one demo event, whole cold process: {one:.2f} s; of the whole demo house: {every:.2f} s"
    )


def table_menu_bytes() -> None:
    """How many compressed bytes block the first paint of the table menu."""
    with tempfile.TemporaryDirectory() as out:
        subprocess.run(_menugen("publish", str(DEMO), "--to", out), check=True, capture_output=True)
        for page in sorted(Path(out).glob("*/site/t/index.html")):
            content = page.read_bytes()
            drinks = content.count(b"<h3")
            print(
                f"table menu of {page.parts[-4]}: {len(gzip.compress(content, 9)):,} bytes compressed, "
                f"{len(content):,} plain, {drinks} drinks"
            )


def many_drinks() -> None:
    """How time and memory grow with the number of drinks."""
    for count in (100, 1000, 10000):
        with tempfile.TemporaryDirectory() as folder:
            house = Path(folder) / "house"
            make_house(house, count)
            done = subprocess.run(
                [sys.executable, "-c", _MEASURED, str(house), str(Path(folder) / "out")],
                check=False,
                capture_output=True,
                text=True,
            )
            if done.returncode:
                print(f"{count} drinks: not published\n{done.stderr or done.stdout}")
                continue
            taken, busy, peak = done.stdout.split()
            print(
                f"{count} drinks: {float(taken):.2f} s, of which the processor {float(busy):.2f} s, "
                f"{float(busy) / count * 1000:.2f} ms a drink, peak {peak} MiB",
                flush=True,
            )


def checked_house() -> None:
    """How long `check` takes beside a publish, of the demo and of 1,000 drinks: it makes the same pages."""
    with tempfile.TemporaryDirectory() as folder:
        many = Path(folder) / "house"
        make_house(many, 1000)
        for what, house in (("the demo", DEMO), ("1,000 drinks", many)):
            busy = {}
            for command, more in (("check", []), ("publish", ["--to", str(Path(folder) / "out")])):
                done = subprocess.run(
                    [sys.executable, "-c", _CHECKED, command, str(house), *more, "--quiet"],
                    check=True,
                    capture_output=True,
                    text=True,
                )
                busy[command], peak = map(float, done.stdout.split())
                print(f"{command} of {what}: {busy[command]:.2f} s of the processor, peak {peak:.0f} MiB")
            print(f"check of {what}: {busy['check'] / busy['publish']:.2f} x a publish")


def against_bare_libraries() -> None:
    """How a full publish of 1,000 drinks compares with the bare libraries doing the same parse, template and write.

    Each run of either is a whole process that writes into a new folder: taking an old output away is no part of it.
    """
    with tempfile.TemporaryDirectory() as folder:
        house = Path(folder) / "house"
        make_house(house, 1000)
        ours, bare = [], []
        for run in range(4):
            out = Path(folder) / f"out{run}"
            begun = time.perf_counter()
            subprocess.run(_menugen("publish", str(house), "--to", str(out), "--quiet"), check=True)
            taken = time.perf_counter() - begun
            pages = list((out / "long" / "site" / "drinks").glob("*.html"))
            size = sum(page.stat().st_size for page in pages) // len(pages)
            begun = time.perf_counter()
            subprocess.run(
                [
                    sys.executable,
                    str(Path(__file__).with_name("bare.py")),
                    str(house),
                    f"{folder}/bare{run}",
                    str(size),
                ],
                check=True,
                capture_output=True,
            )
            if run:
                ours.append(taken)
                bare.append(time.perf_counter() - begun)
    ratio = statistics.median(ours) / statistics.median(bare)
    print(
        f"publish of 1,000 drinks {statistics.median(ours):.2f} s, the bare libraries "
        f"{statistics.median(bare):.2f} s: {ratio:.2f} x"
    )


_MEASURED = """
import resource, sys, time
begun = time.perf_counter()
from menugen.cli import main
code = main(["publish", sys.argv[1], "--to", sys.argv[2], "--quiet"])
assert code == 0, code
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
print(time.perf_counter() - begun, time.process_time(), peak)
"""


_CHECKED = """
import resource, sys, time
from menugen.cli import main
assert main(sys.argv[1:]) == 0
print(time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


def mixing() -> None:
    """How long 10,000 drinks take to mix, melt, top up and place in a glass, beside adding their numbers up."""
    from menugen.mixing import Step, fit, liquid_from_label, make

    count = 10_000
    pours = [
        (
            (40.0 + number % 21, 37.5 + number % 13),
            (15.0 + number % 11, 0.0),
            (10.0 + number % 16, 15.0 + number % 9),
        )
        for number in range(count)
    ]
    begun = time.process_time()
    for one in pours:
        mixed = [liquid_from_label(ml, abv, sugar_g_per_l=200.0 if abv < 30 else 0.0) for ml, abv in one]
        made = make(mixed, (), (Step("shake", 12.0),), ice="none")
        fit(made.volume_ml.value, 200.0, 160.0, "none")
    worked = time.process_time() - begun
    begun = time.process_time()
    for one in pours:
        total_ml = alcohol_ml = 0.0
        for ml, abv in one:
            total_ml += ml
            alcohol_ml += ml * abv / 100.0
        _ = 100.0 * alcohol_ml / total_ml
    added = time.process_time() - begun
    print(
        f"{count:,} different drinks mixed: {worked:.2f} s, {worked / count * 1e6:.0f} microseconds each; "
        f"plain additions {added * 1000:.1f} ms: {worked / added:.0f} x"
    )


def facts() -> None:
    """How long 10,000 drinks of the demo take to be worked out with bottles, allergens and glass, and with taste."""
    from menugen.facts import setting_for, work_out
    from menugen.facts.taste import taste_of
    from menugen.reading import DiskFiles, read_house

    house = read_house(DiskFiles(DEMO)).house
    assert house is not None
    setting, _ = setting_for(house, None)
    assert setting is not None
    specs = list(house.specs.values())
    count = 10_000
    serves = []
    begun = time.process_time()
    for number in range(count):
        found, _ = work_out(specs[number % len(specs)], setting)
        if found is not None:
            serves.append(found.serve)
    worked = time.process_time() - begun
    begun = time.process_time()
    for serve in serves:
        taste_of(serve, setting.region.energy_factors)
    tasted = time.process_time() - begun
    print(
        f"{count:,} drinks of the demo worked out, each with its swaps: {worked:.2f} s; "
        f"taste with its ranges on top: {tasted:.2f} s"
    )


def table_menu_of_24() -> None:
    """How many compressed bytes a table menu of 24 of the demo's own drinks takes, in each look and two languages."""
    from dataclasses import replace

    from menugen.facts import work_out_event
    from menugen.menu import guest_menu
    from menugen.reading import DiskFiles, read_house
    from menugen.shipped import shipped_folder
    from menugen.writing.theme import load_theme, theme_names
    from tests.writing.fixtures import site_files

    house = read_house(DiskFiles(DEMO)).house
    assert house is not None
    supper = house.events["lantern-supper"]
    every = {
        entry.slug: replace(entry, price=None)
        for event in (supper, *house.events.values())
        for part in event.sections
        for entry in part.entries
    }
    entries = tuple(every.values())[:24]
    sections = tuple(
        replace(part, entries=entries[at::4]) for at, part in zip(range(4), supper.sections, strict=False)
    )
    facts, _ = work_out_event(house, replace(supper, sections=sections))
    assert facts is not None
    themes = [shipped_folder("themes")]
    for theme in theme_names(themes):
        for language in ("en", "fr"):
            page = site_files(guest_menu(facts, theme, language), load_theme(themes, theme))["t/index.html"]
            size = len(gzip.compress(page, 9))
            print(f"table menu of {len(facts.drinks)} drinks, {theme}, {language}: {size:,} bytes compressed")


def catalogues() -> None:
    """How long the slowest catalogue takes to be read, the best of seven."""
    from importlib.resources import files

    from menugen.menu.catalogue import read_entries

    taken = {}
    for file in (files("menugen.menu") / "catalogues").iterdir():
        text = file.read_text("utf-8")
        runs = []
        for _ in range(7):
            begun = time.perf_counter()
            dict(read_entries(text))
            runs.append(time.perf_counter() - begun)
        taken[file.name] = min(runs)
    slowest = max(taken, key=taken.__getitem__)
    print(f"reading {slowest}, the slowest of {len(taken)} catalogues: {taken[slowest] * 1000:.1f} ms")


def make_house(folder: Path, count: int) -> None:
    """Write a house of so many drinks, all different, on one event's menu."""
    shutil.copytree(DEMO / "stock", folder / "stock")
    (folder / "specs").mkdir()
    (folder / "events").mkdir()
    (folder / "house.yaml").write_text(
        "name: The Long List\nregion: GB-ENG\ntheme: slate\n", encoding="utf-8"
    )
    library = sorted((REPOSITORY / "specs").glob("*.md"))
    listed = []
    for number in range(count):
        text = library[number % len(library)].read_text("utf-8")
        head, name, rest = text.partition("name: ")
        title, _, body = rest.partition("\n")
        slug = f"d{number:05}"
        (folder / "specs" / f"{slug}.md").write_text(
            f"{head}{name}{title} {number}\n{body}", encoding="utf-8"
        )
        listed.append(f"      - {slug}: 9.50")
    per_section = 12
    menu = "".join(
        f"  - section: Page {start // per_section + 1}\n    drinks:\n"
        + "\n".join(listed[start : start + per_section])
        + "\n"
        for start in range(0, count, per_section)
    )
    (folder / "events" / "long.yaml").write_text(
        f"event: The Long List\ndate: 2026-12-12\naddress: https://menu.example/l/\nmenu:\n{menu}",
        encoding="utf-8",
    )


BENCHES: dict[str, Callable[[], None]] = {
    "help": help_start,
    "demo": demo_publish,
    "bytes": table_menu_bytes,
    "bytes24": table_menu_of_24,
    "mixing": mixing,
    "facts": facts,
    "catalogues": catalogues,
    "many": many_drinks,
    "check": checked_house,
    "bare": against_bare_libraries,
}

if __name__ == "__main__":
    for chosen in sys.argv[1:] or BENCHES:
        BENCHES[chosen]()
