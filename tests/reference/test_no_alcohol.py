"""What is known to hold no alcohol without a stated strength, and what asks for one."""

import pytest

from menugen.reference import ingredient, is_known_without_alcohol, names_alcohol
from menugen.reference.ingredients import all_ingredients
from menugen.reference.package_data import package_data


@pytest.mark.parametrize(
    "name",
    [
        "lemon juice",
        "soda water",
        "farm apple juice",
        "samphire syrup",
        "ginger ale",
        "bitter lemon",
        "elderflower cordial",
        "tonic",
        "whole milk",
        "oat cream",
        "egg white",
        "cold black tea",
        "espresso",
        "lemon twist",
        "Orange Slices",
        "mint leaves",
        "star anise",
        "celery salt",
        "sugar cube",
    ],
)
def test_what_is_plainly_soft_is_not_asked_about(name):
    assert is_known_without_alcohol(name, "")


@pytest.mark.parametrize(
    "name",
    [
        "house cordial",
        "cordial",
        "house syrup",
        "home-made lemonade",
        "ginger beer",
        "copper kettle ginger beer",
        "root beer",
        "kombucha",
        "raspberry shrub",
        "apple cider vinegar",
        "soy sauce",
        "alcohol-free spirit",
        "alcohol-free red bitter",
        "0.0 lager",
        "juniper water",
        "cherry in brandy",
        "brandied cherry",
        "cocktail cherry",
        "rum raisin",
        "rum syrup",
        "raspberries with kirsch",
        "tipsy orange slice",
        "vanilla extract",
        "aromatic bitters",
        "gin",
        "Zitronensaft",
        "secret sauce",
    ],
)
def test_what_may_hold_a_trace_or_is_not_known_is_asked_about(name):
    assert not is_known_without_alcohol(name, "")


def test_a_stated_kind_settles_a_name_that_is_not_known():
    assert is_known_without_alcohol("Zitronensaft", "lemon_juice")
    assert is_known_without_alcohol("river cordial", "fruit_cordial")
    assert not is_known_without_alcohol("Ingwerbrause", "ginger_beer")
    assert not is_known_without_alcohol("Zitronensaft", "gin")
    assert not is_known_without_alcohol("Zitronensaft", "no such kind")


@pytest.mark.parametrize("name", ["rum cordial", "lemon juice in gin", "alcohol-free juice"])
def test_a_stated_kind_does_not_outweigh_what_the_name_says(name):
    assert not is_known_without_alcohol(name, "lemon_juice")


def test_names_tell_alcohol_and_what_was_soaked_in_it():
    assert all(
        map(names_alcohol, ("garden gin", "cherries in brandy", "brandied cherry", "rum syrup", "bitters"))
    )
    assert not any(
        map(names_alcohol, ("ginger beer", "bitter lemon", "lemon juice", "house cordial", "cocktail cherry"))
    )


def test_every_class_and_kind_of_the_list_is_one_of_ours_and_no_kind_with_a_strength_passes():
    data = package_data("no_alcohol")
    kinds = {kind.id: kind for kind in all_ingredients()}
    assert set(data["classes"]) <= {kind.kind for kind in kinds.values()}
    assert set(data["doubtful"]) - {"cordial"} <= set(kinds)
    assert ingredient("cordial") is not None
    for kind in kinds.values():
        if kind.abv_percent:
            assert not is_known_without_alcohol("anything", kind.id), kind.id
            assert not is_known_without_alcohol(kind.names[0] if kind.names else kind.id, ""), kind.id
