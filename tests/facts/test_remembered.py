"""A drink is worked out again where anything has changed that it hangs on, and only there."""

from dataclasses import replace
from datetime import date

import pytest

from menugen.facts import Broken, setting_for, work_out
from menugen.facts.remembered import Circumstances, Remembered
from tests.houses import STOCK, reading_of, texts

TONIGHT = "bottles:\n  gin: north gin\nmenu:"
NORTH = (
    "\nnorth gin:\n  kind: gin\n  bottle: 700 ml\n  abv: 57 %\n  contains: [walnut]\n  checked: 2026-11-01\n"
)


SPEC, EVENT_FILE = "specs/marsh-sour.md", "events/small-supper.yaml"
HOUSE_FILES = texts(**{"stock/all.yaml": STOCK + NORTH})


def worked_out(file="", old="", new="", broken=None):
    """Return the drink of a small house, with a text of one file replaced."""
    text = HOUSE_FILES.get(file, "")
    assert old in text
    house = reading_of({**HOUSE_FILES, file: text.replace(old, new, 1)} if file else HOUSE_FILES).house
    setting, problems = setting_for(house, house.events["small-supper"])
    assert setting is not None, problems
    return work_out(house.specs["marsh-sour"], setting, broken)


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("stock/all.yaml", "contains: [egg]", "contains: [egg, almond]"),
        ("stock/all.yaml", "abv: 40 %", "abv: 47 %"),
        ("stock/all.yaml", "price: 5.00", "price: 6.00"),
        (EVENT_FILE, "menu:", TONIGHT),
        (EVENT_FILE, "date: 2026-12-12", "date: 2028-12-12"),
        (EVENT_FILE, "date: 2026-12-12", "region: US\ndate: 2026-12-12"),
        ("house.yaml", "name:", "glasses: {sour: 120 ml}\nname:"),
        ("house.yaml", "name:", "large cube: 40 mm\nname:"),
        (SPEC, "50 ml gin", "60 ml gin"),
    ],
)
def test_whatever_changes_is_seen(file, old, new):
    before = worked_out()
    after = worked_out(file, old, new)
    assert after != before
    assert worked_out() == before
    assert worked_out(file, old, new) == after


def test_a_stock_line_that_could_not_be_read_is_told_of_once():
    lost = (SPEC, "lemon juice", "lost juice")
    assert [problem.code for problem in worked_out(*lost)[1]] == ["unknown-stock"]
    assert worked_out(*lost, Broken(stock=frozenset({"lost juice"}))) == (None, ())


def test_what_has_not_changed_is_the_same_object():
    assert worked_out()[0] is worked_out("events/small-supper.yaml", "9.50", "8.50")[0]


def test_only_the_latest_are_remembered():
    remembered: Remembered[str] = Remembered(most=4)
    house = reading_of(texts()).house
    (spec,) = house.specs.values()
    specs = [replace(spec, name=str(number)) for number in range(5)]
    setting, _ = setting_for(house, None)
    nights = [
        Circumstances(date(2026, 12, day), setting.region, {}, {}, None, frozenset(), {}) for day in (1, 2, 3)
    ]
    for night in nights:
        for one in specs[:2]:
            remembered.of(night)[id(one)] = (one, "")
    assert [len(remembered.of(night)) for night in nights] == [0, 0, 2]
    last = remembered.of(nights[2])
    last.update({id(one): (one, "") for one in specs})
    assert len(remembered.of(nights[2])) == 0
