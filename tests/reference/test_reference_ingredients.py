"""Reference ingredients: found under everyday names, possible as liquids, each value with source and status."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.mixing import liquid_from_label
from menugen.reference import ingredient, is_alcoholic_kind
from menugen.reference.ingredients import STATUSES, all_ingredients

EVERY = all_ingredients()


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("gin", "gin"),
        ("lemon_juice", "lemon_juice"),
        ("Lemon Juice", "lemon_juice"),
        ("lime juice", "lime_juice"),
        ("lime juice, fresh", "lime_juice"),
        ("fresh lime juice", "lime_juice"),
        ("sugar syrup", "simple_syrup_1_1_weight"),
        ("samphire syrup", "simple_syrup_1_1_weight"),
        ("soda water", "soda_water"),
        ("single cream", "single_cream"),
        ("oat cream", "oat_cream"),
        ("harbour gin", "gin"),
        ("walnut liqueur", "nocino"),
        ("plum liqueur", "liqueur_any"),
        ("Crème de Cassis", "creme_de_cassis"),
        ("egg white", "egg_white"),
        ("coconut water", "coconut_water"),
        ("spring water", "water"),
        ("wine vinegar", "vinegar"),
        ("gin 43 %", "gin"),
    ],
)
def test_everyday_names_find_their_kind(typed, found):
    assert ingredient(typed).id == found


@pytest.mark.parametrize("typed", ["", "lemon twist", "mint sprig", "sponge", "alcohol-free gin", "0 % rum"])
def test_what_we_do_not_know_is_none(typed):
    assert ingredient(typed) is None


@pytest.mark.parametrize(
    "typed",
    ["gin", "Harbour Gin", "gin 40 %", "vodka 100 proof", "Gin No. 3", "rum", "virginia rum", "whisky", "rye whiskey",
     "cherry liqueur", "dry vermouth", "house red wine", "beer", "beers", "table lager", "lager 0.5 %", "dry cider",
     "orange bitters", "fino sherry", "crème de banane", "cherries in brandy", "rum (dark), 40 % vol", "absinthe",
     "amaro", "triple sec", "pedro ximénez"],
)  # fmt: skip
def test_names_that_plainly_mean_alcohol(typed):
    assert is_alcoholic_kind(typed)


@pytest.mark.parametrize(
    "typed",
    ["ginger beer", "copper kettle ginger beer", "root beer", "wine vinegar", "cider vinegar", "bitter lemon",
     "alcohol-free spirit", "alcohol free gin", "non-alcoholic beer", "rum syrup", "juniper water", "lager 0.0 %",
     "lemon juice", "virgin olive oil", "engine", "original", "ginger ale", "", "rye bread", "egg white",
     "gingerbread"],
)  # fmt: skip
def test_names_that_do_not(typed):
    assert not is_alcoholic_kind(typed)


@pytest.mark.slow
@pytest.mark.parametrize("known", EVERY, ids=lambda known: known.id)
def test_every_entry_is_whole(known):
    assert re.fullmatch(r"[a-z0-9_]+", known.id)
    assert re.fullmatch(r"#[0-9a-f]{6}", known.colour)
    assert known.kind
    for name, value in known.values.items():
        assert value.status in STATUSES, name
        assert value.source, name
        assert value.value >= 0, name
    assert ingredient(known.id) is known


@pytest.mark.slow
@pytest.mark.parametrize("known", EVERY, ids=lambda known: known.id)
def test_every_entry_can_be_a_liquid(known):
    poured = liquid_from_label(
        50,
        known.abv_percent or 0,
        sugar_g_per_l=known.sugar_g_per_l or 0,
        acid_g_per_l=known.acid_g_per_l or 0,
        fat_g_per_l=known.fat_g_per_l or 0,
    )
    assert poured.volume_ml == pytest.approx(50)
    if known.density_g_per_ml is not None:
        # Weights by household measure are good to 2 %; solids that are no sugar, acid or fat are not in the sum.
        assert 0.90 < poured.mass_g / 50 / known.density_g_per_ml < 1.021


def test_no_name_means_two_kinds():
    seen = {}
    for known in EVERY:
        for name in known.names:
            assert seen.setdefault(name, known.id) == known.id
            assert ingredient(name).id == known.id


def test_alcoholic_entries_are_alcoholic_by_name_too():
    for known in EVERY:
        for name in (known.id, *known.names):
            assert is_alcoholic_kind(name) == known.is_alcoholic, name


def test_published_values_are_where_their_sources_put_them():
    lemon = ingredient("lemon juice")
    assert (lemon.acid_g_per_l, lemon.status) == (48, "verified")
    assert "Penniston" in lemon.source
    assert ingredient("single cream").fat_g_per_l == pytest.approx(180, abs=5)
    assert ingredient("sugar syrup").sugar_g_per_l == 615
    assert ingredient("lemon juice").sugar_g_per_l == pytest.approx(10 * 2.52 * 1.031, abs=0.05)


def test_a_usual_strength_is_no_source_of_a_drinks_values():
    assert "strength" not in ingredient("gin").source
    assert ingredient("gin").abv_percent == 40


@given(st.text(max_size=40))
def test_any_text_is_answered(text):
    found = ingredient(text)
    assert found is None or found in EVERY
    assert is_alcoholic_kind(text) in (True, False)


@given(st.sampled_from(EVERY), st.sampled_from([str.upper, str.title, lambda name: name.replace(" ", "_")]))
def test_capitals_and_underscores_do_not_count(known, typed):
    for name in known.names:
        assert ingredient(typed(name)) is known
