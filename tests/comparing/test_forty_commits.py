"""A history of forty commits, each with what a person would say it changed."""

from collections.abc import Callable
from typing import NamedTuple

import pytest

from menugen import reference
from menugen.past.drink_history import history_of
from menugen.publishing import no_progress
from tests.houses import SOUR, texts
from tests.revisions.repositories import Books, books, told

SPEC, STOCK, EVENT = "specs/marsh-sour.md", "stock/all.yaml", "events/small-supper.yaml"
SOUR_GLASS = reference.glass("sour")
SOUR_ML = SOUR_GLASS.brim_ml if SOUR_GLASS else 0.0
CREAM = "single cream:\n  bottle: 600 ml\n  price: 2.10\n  contains: [milk]\n  checked: 2026-11-01\n"
TWIN = SOUR.lstrip("\n").replace("Marsh Sour", "Twin")
LONG_WALK = (
    "---\nname: Long Walk\npour: 100 ml white wine\ntop: soda water\nglass: wine\n---\nCold and long.\n"
)


class Step(NamedTuple):
    """One commit: what is done, and every line that must be told of it, figures by name only."""

    subject: str
    do: Callable[[Books], object]
    expected: tuple[str, ...] = ()
    sour: bool = False
    """Whether it changed a fact of the Marsh Sour."""


def edit(path: str, before: str, after: str) -> Callable[[Books], object]:
    return lambda house: house.edit(path, before, after)


def stock(name: str, before: str, after: str) -> Callable[[Books], object]:
    return lambda house: house.edit_stock(name, before, after)


def both(*steps: Callable[[Books], object]) -> Callable[[Books], object]:
    return lambda house: [step(house) for step in steps]


def reorder(house: Books) -> None:
    text = (house.house / STOCK).read_text("utf-8")
    at = text.index("sugar syrup:")
    house.write(STOCK, text[at:] + text[:at])


def figures(cause: str, *facts: str, slug: str = "marsh-sour") -> tuple[str, ...]:
    return tuple(f"{slug}: {fact} <{cause}" for fact in facts)


A_CLEAN_WINE = "white wine: contains - sulphites; white wine: sulphites 100 mg/l -> not said"
ALL = ("strength", "volume", "units", "sugar", "acid", "cost")
NO_UNITS = ("strength", "volume", "sugar", "acid", "cost")

STEPS = (
    Step("Typo in the notes", edit(SPEC, "Bright and short.", "Bright, short.")),
    Step(
        "More gin",
        edit(SPEC, "50 ml gin", "55 ml gin"),
        ("marsh-sour: measure gin 50 ml -> 55 ml", *figures("gin 50 ml -> 55 ml", *ALL, "fit")),
        sour=True,
    ),
    Step(
        "Back to fifty",
        edit(SPEC, "55 ml gin", "50 ml gin"),
        ("marsh-sour: measure gin 55 ml -> 50 ml", *figures("gin 55 ml -> 50 ml", *ALL, "fit")),
        sour=True,
    ),
    Step("Centilitres", edit(SPEC, "50 ml gin", "5 cl gin")),
    Step("Millilitres again", edit(SPEC, "5 cl gin", "50 ml gin")),
    Step(
        "Gin label read again",
        stock("garden gin", "checked: 2026-11-01", "checked: 2026-11-05"),
        ("stock garden gin: label read again 2026-11-05 (1)",),
    ),
    Step(
        "Gin warns of nuts",
        stock(
            "garden gin",
            "contains: none\n  checked: 2026-11-05",
            "contains: none\n  may contain: [hazelnut]\n  checked: 2026-11-09",
        ),
        (
            "marsh-sour: hazelnut not -> may <garden gin: may contain + hazelnut",
            "stock garden gin: label read again 2026-11-09; may contain + hazelnut (1)",
        ),
        sour=True,
    ),
    Step("Another supplier", stock("garden gin", "Hidden Wharf Ltd", "Quay & Sons")),
    Step(
        "Gin dearer",
        stock("garden gin", "price: 14.00", "price: 15.00"),
        (
            "marsh-sour: cost <garden gin: price 14.00 -> 15.00",
            "stock garden gin: price 14.00 -> 15.00 (1)",
        ),
        sour=True,
    ),
    Step(
        "A second gin",
        lambda house: house.write(
            "stock/shore.yaml",
            "shore gin:\n  kind: gin\n  bottle: 700 ml\n  price: 15.00\n  abv: 46 %\n  contains: none\n"
            "  checked: 2026-11-09\n",
        ),
        ("stock + shore gin",),
    ),
    Step(
        "The second gin tonight",
        edit(EVENT, "menu:", "bottles:\n  gin: shore gin\nmenu:"),
        (
            "marsh-sour: hazelnut may -> not <garden gin -> shore gin",
            *figures("garden gin -> shore gin", "strength", "volume", "units", "sugar", "acid"),
            "bottle gin: garden gin -> shore gin (1)",
        ),
    ),
    Step(
        "The first gin again",
        edit(EVENT, "bottles:\n  gin: shore gin\n", ""),
        (
            "marsh-sour: hazelnut not -> may <shore gin -> garden gin",
            *figures("shore gin -> garden gin", "strength", "volume", "units", "sugar", "acid"),
            "bottle gin: shore gin -> garden gin (1)",
        ),
    ),
    Step(
        "Price up",
        edit(EVENT, "9.50", "10.00"),
        ("small-supper: Marsh Sour: price 9.50 GBP -> 10.00 GBP",),
    ),
    Step("Sold out", edit(EVENT, "menu:", "off: [marsh-sour]\nmenu:"), ("small-supper: sold out: Marsh Sour",)),
    Step("Found a case", edit(EVENT, "off: [marsh-sour]\n", ""), ("small-supper: back again: Marsh Sour",)),
    Step("A wine drink", lambda house: house.write("specs/long-walk.md", LONG_WALK), ("new Long Walk",)),
    Step(
        "On the menu",
        edit(EVENT, "      - marsh-sour", "      - long-walk: 6.00\n      - marsh-sour"),
        ("small-supper: on the menu now: Long Walk 6.00 GBP",),
    ),
    Step(
        "Stronger wine",
        stock("white wine", "abv: 12 %", "abv: 14 %"),
        (
            *figures("white wine: 12 -> 14 % vol", "strength", "units", slug="long-walk"),
            "stock white wine: 12 -> 14 % vol (1)",
        ),
    ),
    Step(
        "A clean wine",
        stock(
            "white wine",
            "contains: [sulphites]\n  sulphites: 100 mg/l\n  checked: 2026-11-01",
            "contains: none\n  checked: 2026-11-14",
        ),
        (
            "long-walk: sulphites contains -> not <" + A_CLEAN_WINE,
            "stock white wine: label read again 2026-11-14; contains - sulphites; sulphites 100 mg/l -> not said (1)",
        ),
    ),
    Step(
        "Renamed",
        both(
            lambda house: house.write(
                "specs/low-tide.md", (house.house / "specs/long-walk.md").read_text("utf-8")
            ),
            lambda house: (house.house / "specs/long-walk.md").unlink(),
            edit(EVENT, "long-walk", "low-tide"),
        ),
        ("renamed long-walk low-tide",),
    ),
    Step(
        "And its name with it",
        edit("specs/low-tide.md", "Long Walk", "Low Tide"),
        ("low-tide: name Long Walk -> Low Tide",),
    ),
    Step(
        "No egg",
        both(
            edit(SPEC, "  - 1 egg white\n", "  - 30 ml aquafaba\n"),
            edit(SPEC, "swap:\n  egg white: 20 ml aquafaba\n", ""),
        ),
        (
            "marsh-sour: lupin not -> may <+ 30 ml aquafaba",
            "marsh-sour: egg contains -> not <- 1 egg white",
            "marsh-sour: measure  -> 30 ml aquafaba",
            "marsh-sour: measure 1 egg white -> ",
            "marsh-sour: swap 20 ml aquafaba instead of egg white -> ",
            *figures("+ 30 ml aquafaba; - 1 egg white", *NO_UNITS, "fit"),
            "marsh-sour: caution raw egg ->  <- 1 egg white",
        ),
        sour=True,
    ),
    Step(
        "Stirred",
        edit(SPEC, "[dry shake, shake]", "stir"),
        (
            "marsh-sour: method dry shake, shake -> stir",
            *figures("method dry shake, shake -> stir", "strength", "volume", "sugar", "acid", "fit"),
        ),
        sour=True,
    ),
    Step("Another note", edit(SPEC, "cold tin", "very cold tin")),
    Step(
        "Syrup label figures",
        stock("sugar syrup", "sugar: 615 g/l", "sugar: 700 g/l"),
        (
            "marsh-sour: sugar <sugar syrup: sugar 615 g/l -> 700 g/l",
            "stock sugar syrup: sugar 615 g/l -> 700 g/l (1)",
        ),
        sour=True,
    ),
    Step("Unused orgeat dearer", stock("orgeat", "8.00", "8.50"), ("stock orgeat: price 8.00 -> 8.50 (0)",)),
    Step("Cream gone", edit(STOCK, CREAM, ""), ("stock - single cream",)),
    Step("Later", edit(EVENT, "2026-12-12", "2026-12-13"), ("small-supper: date 2026-12-12 -> 2026-12-13",)),
    Step(
        "Shared shakers",
        edit(EVENT, "menu:", "equipment: [shared shakers]\nmenu:"),
        ("small-supper: shared  -> shared shakers",),
    ),
    Step("A comment", edit(STOCK, "garden gin:", "# The house gin.\ngarden gin:")),
    Step("Order of the stock", reorder),
    Step("A twin", lambda house: house.write("specs/twin.md", TWIN), ("new Twin",)),
    Step("No twin", lambda house: (house.house / "specs/twin.md").unlink(), ("gone Twin",)),
    Step(
        "Lemons may hold sulphites",
        stock("lemon", "contains: none", "contains: [sulphites]"),
        (
            "marsh-sour: sulphites not -> contains <lemon: contains + sulphites",
            "stock lemon: contains + sulphites (1)",
        ),
        sour=True,
    ),
    Step("Nothing at all", lambda house: None),
    Step("A readme", lambda house: house.write("README.md", "Our bar.\n")),
    Step(
        "Smaller glass of ours",
        edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nglasses:\n  sour: 100 ml"),
        (f"marsh-sour: fit <glass sour: holds {SOUR_ML:.0f} -> 100 ml", "house glass sour none -> 100 ml"),
        sour=True,
    ),
    Step("Contact", edit("house.yaml", "name: The Test Bar", "name: The Test Bar\ncontact: hello@bar.example")),
    Step(
        "A section's name",
        edit(EVENT, "section: All", "section: Everything"),
        ("small-supper: section All is called Everything",),
    ),
    Step(
        "One between two",
        edit(SPEC, "name: Marsh Sour\n", "name: Marsh Sour\nserves: 2\n"),
        (
            "marsh-sour: serves 1 -> 2",
            "marsh-sour: units a serve 2 units in one serve -> 1 unit in one serve <serves 1 -> 2",
        ),
        sour=True,
    ),
)  # fmt: skip


@pytest.fixture(scope="module")
def history(tmp_path_factory) -> Books:
    house = books(tmp_path_factory.mktemp("forty"), texts())
    for number, step in enumerate(STEPS):
        step.do(house)
        house.commit(step.subject, day=f"2026-11-{1 + number // 2:02}")
    return house


def test_there_are_forty():
    assert len(STEPS) == 40


@pytest.mark.slow
@pytest.mark.parametrize("number", range(len(STEPS)), ids=[step.subject for step in STEPS])
def test_each_commit_tells_what_it_changed_and_nothing_else(history, number):
    back = len(STEPS) - number
    lines = told(history.compared(f"HEAD~{back}", f"HEAD~{back - 1}"))
    assert tuple(lines) == STEPS[number].expected


def test_the_life_of_the_drink_is_the_commits_that_changed_it(history):
    life = history_of(history.house, "marsh-sour", progress=no_progress)
    subjects = [version.commit.subject for version in life.versions if version.commit]
    assert subjects == ["As we began", *(step.subject for step in STEPS if step.sour)]
