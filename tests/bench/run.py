"""What menugen costs, each figure as a multiple of something measured in the same run. Prints; asserts nothing.

    python -m tests.bench.run               what the gate prints at its end: half a minute
    python -m tests.bench.run NAME ...      these alone
    python -m tests.bench.run all           10,000 drinks and the rest too: minutes

How to read it. "0.40 x the fixed work" is the processor's time, in the program and in the system, beside that of
`timing.fixed_work`: a fifth of a second of plain Python that makes, sorts and counts words. Both are done in turn, so
that a slow or busy machine is slow for both: compare these multiples between machines and commits, and the seconds only
within one line. What one machine says twice differs by up to a tenth. Every command is a whole process that finds its
modules compiled, as after an installation, whatever PYTHONDONTWRITEBYTECODE says; medians, the first run not counted.
"By the clock" is what somebody waits; on a machine with other work to do it says little.
"""

import gzip
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.bench.previewed import seconds_to_page
from tests.bench.timing import command, compared, fixed_work, run, told

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = REPOSITORY / "demo_data"


def help_start() -> None:
    """What --help takes beside the bare interpreter."""
    work, (helped, bare) = compared(command("--help"), [sys.executable, "-c", "pass"], runs=20)
    told("--help", helped, work, f"{helped.busy_s / bare.busy_s:.2f} x the bare interpreter")


def one_drink() -> None:
    """What one drink of the demo takes to be worked out and shown."""
    work, (drink,) = compared(command("drink", "saltmarsh-sour", "--house", str(DEMO)), runs=7)
    told("drink, one of the demo", drink, work)


def demo_publish() -> None:
    """What a publish of the demo into an empty folder takes."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "out"
        work, (one, every) = compared(
            command("publish", str(DEMO / "events" / "lantern-supper.yaml"), "--to", str(out)),
            command("publish", str(DEMO), "--to", str(out)),
            runs=3,
            between=lambda: shutil.rmtree(out, ignore_errors=True),
        )
    told("publish, one event of the demo", one, work)
    told("publish, the whole demo", every, work)


def table_menu_bytes() -> None:
    """How many compressed bytes block the first paint of the table menu."""
    with tempfile.TemporaryDirectory() as out:
        subprocess.run(command("publish", str(DEMO), "--to", out), check=True, capture_output=True)
        for page in sorted(Path(out).glob("*/site/t/index.html")):
            content = page.read_bytes()
            drinks = content.count(b"<h3")
            print(
                f"table menu of {page.parts[-4]}: {len(gzip.compress(content, 9)):,} bytes compressed, "
                f"{len(content):,} plain, {drinks} drinks"
            )


def preview_of_the_demo() -> None:
    """How long it takes from a save to the page that shows it, in the demo."""
    with tempfile.TemporaryDirectory() as folder:
        house = Path(folder) / "house"
        shutil.copytree(DEMO, house, ignore=shutil.ignore_patterns("out"))
        shutil.copytree(REPOSITORY / "specs", Path(folder) / "specs")
        begun = time.perf_counter()
        fixed_work()
        work_s = time.perf_counter() - begun
        saved_s = seconds_to_page(
            house,
            "../specs/saltmarsh-sour.md",
            "/lantern-supper/site/drinks/saltmarsh-sour.html",
            f"{folder}/kept",
        )
    print(
        f"preview, from a save to the page, the demo: {saved_s / work_s:.2f} x the fixed work ({saved_s:.3f} s)"
    )


def thousand_drinks() -> None:
    """What a publish of 1,000 drinks takes beside the bare libraries, and a save in the preview beside the publish.

    The bare libraries do the same parse, template and write, and fill their pages up to the size of ours.
    """
    with tempfile.TemporaryDirectory() as folder:
        house, out, kept = Path(folder) / "house", Path(folder) / "out", f"{folder}/kept"
        make_house(house, 1000)
        publish = command("publish", str(house), "--to", str(out), "--quiet")
        run(publish, kept)
        pages = [page.stat().st_size for page in (out / "long" / "site" / "drinks").glob("*.html")]
        bare = [sys.executable, str(Path(__file__).with_name("bare.py")), str(house), str(out)]
        work_s, (ours, theirs) = compared(
            publish,
            [*bare, str(sum(pages) // len(pages))],
            runs=1,
            kept=kept,
            between=lambda: shutil.rmtree(out, ignore_errors=True),
        )
        told("publish, 1,000 drinks", ours, work_s, f"{ours.busy_s / theirs.busy_s:.2f} x the bare libraries")
        saved_s = seconds_to_page(
            house, "specs/d00500.md", "/long/site/drinks/d00500.html", kept, saves=3, pause_s=4.0
        )
    print(
        f"preview, from a save to the page, one of 1,000 drinks: {saved_s / ours.wall_s:.2f} x that publish "
        f"({saved_s:.3f} s)",
        flush=True,
    )


def ten_thousand_drinks() -> None:
    """What a publish of 10,000 drinks takes, and how much memory."""
    with tempfile.TemporaryDirectory() as folder:
        house, out = Path(folder) / "house", Path(folder) / "out"
        make_house(house, 10_000)
        work, (ours,) = compared(
            command("publish", str(house), "--to", str(out), "--quiet"),
            runs=1,
            between=lambda: shutil.rmtree(out, ignore_errors=True),
        )
    told("publish, 10,000 drinks", ours, work)


def checked_house() -> None:
    """What `check` takes beside a publish, of the demo and of 1,000 drinks: it makes the same pages."""
    with tempfile.TemporaryDirectory() as folder:
        many, out = Path(folder) / "house", f"{folder}/out"
        make_house(many, 1000)
        for what, house in (("the demo", DEMO), ("1,000 drinks", many)):
            work, (checked, published) = compared(
                command("check", str(house), "--quiet"),
                command("publish", str(house), "--to", out, "--quiet"),
                runs=2,
                between=lambda: shutil.rmtree(out, ignore_errors=True),
            )
            told(f"check, {what}", checked, work, f"{checked.busy_s / published.busy_s:.2f} x a publish")


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
    from menugen.facts import setting_for, taste_of, work_out
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


GATE: dict[str, Callable[[], None]] = {
    "help": help_start,
    "drink": one_drink,
    "demo": demo_publish,
    "preview": preview_of_the_demo,
    "thousand": thousand_drinks,
}

ON_DEMAND: dict[str, Callable[[], None]] = {
    "many": ten_thousand_drinks,
    "check": checked_house,
    "bytes": table_menu_bytes,
    "bytes24": table_menu_of_24,
    "mixing": mixing,
    "facts": facts,
    "catalogues": catalogues,
}

if __name__ == "__main__":
    every = {**GATE, **ON_DEMAND}
    for chosen in every if sys.argv[1:] == ["all"] else sys.argv[1:] or GATE:
        every[chosen]()
