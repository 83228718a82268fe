"""The filter's style rules: they hide too much rather than too little, and nothing can be smuggled into them."""

import re
from collections.abc import Iterable
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu import AllergenMark, Choice, GuestDrink, GuestMenu, GuestSection, GuestSwap
from menugen.writing.allergen_filter import ALCOHOL, AllergenFilter, token
from menugen.writing.pages import Ticked
from tests.writing.fixtures import ALMOND, BARLEY, EGG, MILK, SOYA, drink, menu_of, rich_menu, swap

MARKS = (MILK, EGG, ALMOND, BARLEY, SOYA)

_RULE = re.compile(r"body((?::has\([^)]*\))+) (?:\.drink)?\[([\w-]+)[~]?=\"([^\"]*)\"\]\{display:([\w!]+)\}")


class Browser:
    """What the rules of a menu's filter do, read from the rules themselves."""

    def __init__(self, menu: GuestMenu) -> None:
        self.sieve = AllergenFilter(menu)
        self._rules = [
            ([set(part.split(",")) for part in re.findall(r":has\(([^)]*)\)", found[1])], *found.groups()[1:])
            for found in _RULE.finditer(self.sieve.rules())
        ]

    def _applied(self, attribute: str, value: str, boxes: set[str], display: str) -> bool:
        ticked = {f"{box}:checked" for box in boxes}
        return any(
            name == attribute
            and word in value.split()
            and how == display
            and all(part & ticked for part in asked)
            for asked, name, word, how in self._rules
        )

    def hides(self, when: Ticked, boxes: set[str]) -> bool:
        return self._applied("data-has", when.any, boxes, "none!important") or self._applied(
            "data-gone", when.every, boxes, "none!important"
        )

    def shows(self, when: Ticked, boxes: set[str]) -> bool:
        return self._applied("data-then", when.any, boxes, "block") or self._applied(
            "data-left", when.every, boxes, "block"
        )


def of_one(made: GuestDrink) -> GuestMenu:
    return menu_of((GuestSection("part", "Part", "", (made,)),))


def boxes_of(menu: GuestMenu) -> list[str]:
    return [
        *(f"#out_{token(choice.id)}" for choice in menu.choices),
        *(["#only_free"] * menu.has_alcohol_free),
    ]


def is_out(way: GuestDrink | GuestSwap, boxes: set[str]) -> bool:
    """Whether a guest with these boxes ticked may not have a drink made so: the rule itself, without any style."""
    return bool({f"#out_{token(one)}" for one in way.ids} & boxes) or (
        "#only_free" in boxes and not way.alcohol_free
    )


def check_every_choice(menu: GuestMenu, choices: Iterable[set[str]]) -> int:
    """Hold a menu's rules against what guests may have; return how often a drink was left that is not as written."""
    browser, made_otherwise = Browser(menu), 0
    for boxes in choices:
        for section in menu.sections:
            for made in section.drinks:
                ticks = browser.sieve.ticks(made)
                out = {way: is_out(way, boxes) for way in made.ways}
                assert browser.hides(ticks.out, boxes) == all(out.values()), (made.id, boxes)
                assert browser.shows(Ticked(ticks.as_written_out, ""), boxes) == out[made], (made.id, boxes)
                offered = set()
                for swap_made, when in zip((*made.swaps, *made.combined), ticks.ways, strict=True):
                    simpler = [made, *(way for way in made.ways[1:] if set(way.of) < set(swap_made.of))]
                    shown = browser.shows(when.wanted, boxes) and not browser.hides(
                        Ticked(when.out, ""), boxes
                    )
                    assert shown == (not out[swap_made] and all(out[way] for way in simpler)), (
                        made.id,
                        boxes,
                    )
                    offered |= {swap_made} if shown else set()
                if out[made] and not all(out.values()):
                    assert offered, "a drink that stays says how it is to be ordered"
                    made_otherwise += 1
                for swap_made, words in zip(made.swaps, ticks.swaps, strict=True):
                    assert browser.hides(Ticked(words, ""), boxes) == out[swap_made]
                if made.swaps:
                    none = out[made] or all(out[one] for one in made.swaps)
                    assert browser.hides(ticks.none_besides, boxes) == none
    return made_otherwise


def test_with_milk_ticked_a_drink_stays_that_can_be_made_without_and_with_gluten_too_the_oats_are_not_offered():
    oats = swap((0,), "oat drink", "whole milk", "about 10 %", (BARLEY,))
    soya = swap((1,), "soya drink", "whole milk", "about 10 %", (SOYA,))
    made = drink("a", "A", contains=(MILK,), swaps=(oats, soya))
    menu = of_one(made)
    browser = Browser(menu)
    ticks = browser.sieve.ticks(made)

    def offered(*boxes: str) -> list[str]:
        ticked = set(boxes)
        if browser.hides(ticks.out, ticked):
            return ["nothing"]
        return [
            one.name.text
            for one, when in zip(made.swaps, ticks.ways, strict=True)
            if browser.shows(when.wanted, ticked) and not browser.hides(Ticked(when.out, ""), ticked)
        ]

    assert offered() == []
    assert offered("#out_cereals") == [], "as written it is still to be had"
    assert offered("#out_milk") == ["oat drink", "soya drink"]
    assert offered("#out_milk", "#out_cereals") == ["soya drink"]
    assert offered("#out_milk", "#out_cereals", "#out_soybeans") == ["nothing"]


@pytest.mark.slow
def test_every_set_of_boxes_on_the_full_menu_leaves_what_a_guest_may_have():
    menu = rich_menu()
    boxes = boxes_of(menu)
    every = [set(chosen) for count in range(len(boxes) + 1) for chosen in combinations(boxes, count)]
    assert len(every) == 2 ** len(boxes) > 1000
    assert check_every_choice(menu, every) > 100


@st.composite
def drinks_with_ways(draw: st.DrawFn) -> GuestDrink:
    held = st.lists(st.sampled_from(MARKS), unique=True, max_size=3).map(tuple)
    singles = [
        swap(
            (at,),
            f"new {at}",
            "old",
            draw(st.sampled_from(("alcohol free", "about 9 %"))),
            draw(held),
            draw(held),
        )
        for at in range(draw(st.integers(0, 3)))
    ]
    of = [chosen for count in (2, 3) for chosen in combinations(range(len(singles)), count)]
    several = draw(st.lists(st.sampled_from(of), unique=True, max_size=3)) if of else []
    combined = [
        swap(
            one,
            f"many {one}",
            "old",
            draw(st.sampled_from(("alcohol free", "about 9 %"))),
            draw(held),
            draw(held),
        )
        for one in sorted(several, key=len)
    ]
    return drink(
        "a",
        "A",
        contains=draw(held),
        may_contain=draw(held),
        alcohol_free=draw(st.booleans()),
        swaps=tuple(singles),
        combined=tuple(combined),
    )


@pytest.mark.slow
@given(drinks_with_ways(), st.sets(st.sampled_from(MARKS)), st.booleans())
def test_whatever_the_ways_and_the_boxes_no_drink_is_left_that_no_way_of_it_allows(made, marks, only_free):
    menu = of_one(made)
    known = boxes_of(menu)
    boxes = {f"#out_{token(mark.id)}" for mark in marks} | ({"#only_free"} if only_free else set())
    check_every_choice(menu, [boxes & set(known)])


def test_a_drink_is_hidden_by_what_it_may_contain_as_well():
    made = drink("a", "A", contains=(MILK, EGG), may_contain=(ALMOND,))
    assert AllergenFilter(of_one(made)).ticks(made).out == Ticked("egg milk nuts", "")


def test_each_choice_hides_its_drinks_and_shows_its_word():
    rules = AllergenFilter(of_one(drink("a", "A", contains=(MILK,)))).rules()
    assert 'body:has(#out_milk:checked) [data-has~="milk"]{display:none!important}' in rules
    assert 'body:has(#out_milk:checked) .left-out [data-for="milk"]{display:inline}' in rules
    assert (
        'body:has(#out_milk:checked) section:has(.drink[data-has~="milk"]) .some-hidden{display:block}'
        in rules
    )
    assert rules.startswith("@media not print{@supports selector(:has(*)){"), "paper shows every drink"


def test_a_section_says_that_it_lost_a_drink_of_several_ways_too():
    made = drink("a", "A", contains=(MILK,), swaps=(swap((0,), "oat drink", "milk", "about 9 %", (BARLEY,)),))
    sieve = AllergenFilter(of_one(made))
    number = sieve.ticks(made).out.every
    assert number
    assert (
        f'body:has(#out_cereals:checked):has(#out_milk:checked) section:has(.drink[data-gone="{number}"]) '
        ".some-hidden{display:block}" in sieve.rules()
    )


def test_without_an_alcohol_free_drink_nothing_asks_for_one():
    made = drink("a", "A", contains=(MILK,))
    sieve = AllergenFilter(of_one(made))
    assert ALCOHOL not in sieve.ticks(made).out.any
    assert ALCOHOL not in sieve.rules()


@given(st.text(max_size=40))
def test_no_id_breaks_out_of_a_selector(identity):
    name = token(identity)
    assert re.fullmatch(r"[A-Za-z0-9_-]+", name)
    assert name != ALCOHOL
    made = drink("a", "A", contains=(AllergenMark(identity, "word", ""),))
    menu = menu_of((GuestSection("part", "Part", "", (made,)),), choices=(Choice(identity, "word", ""),))
    sieve = AllergenFilter(menu)
    assert sieve.ticks(made).out.any.split() == [name]
    rules = sieve.rules()
    assert rules.count("{") == rules.count("}")
    assert f'[data-has~="{name}"]' in rules
