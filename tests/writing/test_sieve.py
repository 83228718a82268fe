"""The filter's style rules: they hide too much rather than too little, and nothing can be smuggled into them."""

import re

from hypothesis import given
from hypothesis import strategies as st

from menugen.menu.guest import AllergenMark, Choice
from menugen.writing.sieve import has_tokens, sieve_rules, token
from tests.writing.fixtures import ALMOND, EGG, MILK, drink, rich_menu


def test_a_drink_is_hidden_by_what_it_may_contain_as_well():
    assert has_tokens(drink("a", "A", contains=(MILK, EGG), may_contain=(ALMOND,))) == "milk egg nuts"


def test_each_choice_hides_its_drinks_and_shows_its_word():
    rules = sieve_rules([Choice("milk", "milk", "milk")])
    assert 'body:has(#out_milk:checked) .drink[data-has~="milk"]{display:none}' in rules
    assert 'body:has(#out_milk:checked) .left-out [data-for="milk"]{display:inline}' in rules
    assert (
        'body:has(#out_milk:checked) section:has(.drink[data-has~="milk"]) .some-hidden{display:block}'
        in rules
    )
    assert rules.startswith("@supports selector(:has(*)){")


def test_choices_of_the_full_menu_match_what_its_drinks_carry():
    menu = rich_menu()
    rules = sieve_rules(menu.choices)
    for section in menu.sections:
        for served in section.drinks:
            for name in has_tokens(served).split():
                assert f'[data-has~="{name}"]{{display:none}}' in rules


@given(st.text(max_size=40))
def test_no_id_breaks_out_of_a_selector(identity):
    name = token(identity)
    assert re.fullmatch(r"[A-Za-z0-9_-]+", name)
    mark = AllergenMark(identity, "word", "")
    assert has_tokens(drink("a", "A", contains=(mark,))).split() == [name]
    rules = sieve_rules([Choice(identity, "word", "")])
    assert rules.count("{") == rules.count("}")
    assert f'[data-has~="{name}"]' in rules
