"""Ways of making a drink on a guest's menu: what each brings, which are worth a line, what a choice leaves."""

from menugen.facts import work_out_event
from menugen.menu import GuestDrink, GuestMenu, guest_menu
from tests.houses import EVENT, STOCK, reading_of, with_drinks

MORE = """\
oat cream:
  bottle: 1 l
  price: 2.00
  contains: [oats]
  may contain: [barley, almond]
  checked: 2026-11-20
juniper water:
  bottle: 700 ml
  price: 3.00
  abv: 0 %
  contains: none
  checked: 2026-11-20
"""

CREAM = """\
---
name: Slow Cream
pour:
  - 40 ml gin
  - 20 ml single cream
method: shake
glass: coupe
swap:
  single cream: [oat cream, orgeat]
  gin: juniper water
---
Slow.
"""

FOAM = """\
---
name: Foam
pour:
  - 40 ml lemon juice
  - 20 ml aquafaba
method: shake
glass: coupe
swap:
  aquafaba: 1 egg white
---
Quick.
"""


def menu(language: str = "en", **specs: str) -> GuestMenu:
    files = with_drinks(specs or {"slow-cream": CREAM, "foam": FOAM}, stock=STOCK + MORE, event=EVENT)
    reading = reading_of(files)
    assert reading.house is not None
    assert not reading.problems, reading.problems
    facts, problems = work_out_event(reading.house, next(iter(reading.house.events.values())))
    assert facts is not None, problems
    return guest_menu(facts, "slate", language)


def drink(shown: GuestMenu, slug: str) -> GuestDrink:
    return next(one for section in shown.sections for one in section.drinks if one.id == slug)


def test_a_swap_says_what_it_is_and_what_it_brings_that_the_drink_has_not():
    oats, almonds, no_gin = drink(menu(), "slow-cream").swaps
    assert (oats.name, oats.text) == (("oat cream", ""), "oat cream instead of single cream")
    assert oats.brings == ("adds oats (gluten)", "may add barley (gluten), almonds")
    assert almonds.brings == ("adds almonds",)
    assert no_gin.brings == ("alcohol free",)
    assert (no_gin.alcohol_free, oats.alcohol_free) == (True, False)


def test_a_swap_brings_its_cautions_where_the_drink_has_none():
    (egg,) = drink(menu(), "foam").swaps
    assert egg.brings[0] == "adds eggs"
    assert egg.brings[1:] == egg.cautions != ()


def test_swaps_at_once_have_a_line_only_where_they_leave_out_what_none_does_alone():
    made = drink(menu(), "slow-cream")
    assert [way.text for way in made.combined] == [
        "oat cream instead of single cream, juniper water instead of gin",
        "orgeat instead of single cream, juniper water instead of gin",
    ]
    assert [way.of for way in made.combined] == [(0, 2), (1, 2)]
    assert all(way.alcohol_free for way in made.combined)
    for_nothing = CREAM.replace("gin: juniper water", "gin: white wine")
    assert drink(menu("en", **{"slow-cream": for_nothing}), "slow-cream").combined == ()


def test_a_choice_is_offered_for_what_only_a_swap_brings_and_says_what_it_leaves():
    shown = menu()
    left = {choice.id: choice.left for choice in shown.choices}
    assert "cereals-gluten" in left
    assert "cereals-gluten" not in {column.mark.id for column in shown.columns}
    assert left == {
        "cereals-gluten": "2 of 2",
        "eggs": "2 of 2",
        "milk": "2 of 2",
        "nuts": "2 of 2",
        "lupin": "2 of 2",
    }
    only_milk = CREAM.replace("[oat cream, orgeat]", "aquafaba").replace("gin: juniper water", "")
    without = CREAM[: CREAM.index("swap:")] + "---\nSlow.\n"
    assert {choice.id: choice.left for choice in menu("en", a=without, b=only_milk, c=FOAM).choices}[
        "milk"
    ] == "2 of 3"


def test_a_drink_that_can_be_made_alcohol_free_counts_as_one():
    shown = menu("en", **{"slow-cream": CREAM})
    assert not drink(shown, "slow-cream").alcohol_free
    assert shown.has_alcohol_free
    assert (shown.free_left, shown.on_left) == ("1 of 1", "1 of 1")


def test_in_arabic_the_names_keep_their_language_and_the_rest_is_arabic():
    oats, *_ = drink(menu("ar"), "slow-cream").swaps
    assert oats.name == ("oat cream", "en-GB")
    assert oats.brings[0] == "يضيف: شوفان (غلوتين)"
    assert next(choice.left for choice in menu("ar").choices if choice.id == "milk") == "2 من 2"


def test_a_drink_of_low_alcohol_is_in_no_way_alcohol_free():
    long = "---\nname: Long\npour:\n  - 5 ml gin\n  - 300 ml soda water\nmethod: build\nglass: pint\n---\nLong.\n"
    shown = menu(long=long)
    assert drink(shown, "long").strength == "low alcohol, about 0.7\xa0% vol"
    assert (drink(shown, "long").alcohol_free, shown.has_alcohol_free) == (False, False)
