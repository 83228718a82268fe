"""What is told of a drink and the labels it depends on, each where it begins to hold."""

import pytest

from menugen.facts import work_out_event
from tests.houses import EVENT, STOCK, reading_of, with_drinks

BOTTLE = "\ntried bottle:\n  bottle: 700 ml\n"
SOUND = "  abv: 20 %\n  contains: none\n  checked: 2026-11-01\n"
DRINK = "pour:\n  - 25 ml tried bottle\nmethod: build\nglass: collins\n"


def told(drink: str = DRINK, bottle: str = SOUND, event: str = EVENT) -> list[str]:
    """Return the codes of what is told of an event with one drink, made with one bottle that is tried."""
    stock = STOCK.rstrip() + BOTTLE + bottle
    reading = reading_of(with_drinks({"tried": f"---\nname: Tried\n{drink}---\n"}, stock=stock, event=event))
    assert reading.house is not None
    assert not reading.problems, reading.problems
    _, problems = work_out_event(reading.house, next(iter(reading.house.events.values())))
    return [problem.code for problem in problems]


def test_a_sound_drink_is_told_nothing():
    assert told() == []


@pytest.mark.parametrize(
    ("checked", "code"),
    [
        ("", ["label-date-missing"]),
        ("checked: 2026-12-13", ["label-read-after-event"]),
        ("checked: 2026-12-12", []),
        ("checked: 2025-12-12", []),
        ("checked: 2025-12-11", ["label-read-long-ago"]),
    ],
)
def test_a_label_is_read_within_the_year_before_the_event(checked, code):
    assert told(bottle=f"  abv: 20 %\n  contains: none\n  {checked}\n") == code


@pytest.mark.parametrize(
    ("bottle", "code"),
    [
        ("", ["size-of-one-missing"]),
        ("  each: 25 ml\n", []),
        ("  each: 25 g\n", []),
    ],
)
def test_a_counted_pour_with_alcohol_says_how_much_one_is(bottle, code):
    assert told(DRINK.replace("25 ml", "2"), SOUND + bottle) == code


def test_a_counted_pour_without_alcohol_need_not_say_how_much_one_is():
    assert told(DRINK.replace("25 ml", "2"), SOUND.replace("20 %", "0 %")) == []


def test_a_drink_that_nothing_says_how_to_make_is_told():
    assert told(DRINK.replace("method: build\n", "")) == ["method-missing"]


@pytest.mark.parametrize(("poured_ml", "code"), [(330, []), (334, ["no-room-on-top"])])
def test_a_top_has_room_in_the_glass(poured_ml, code):
    poured = f"pour:\n  - 1 ml tried bottle\n  - {poured_ml} ml soda water\ntop: top with soda water\n"
    assert told(f"{poured}method: build\nglass: collins\n") == code
