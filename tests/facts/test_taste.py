"""Taste in numbers, and the ranges that all of a drink's figures share."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.facts.taste import poured_lines, volume_of
from menugen.facts.tolerances import strength_tolerance, tolerance
from menugen.facts.uncertainty import Part, Volume, concentration, ratio, total
from menugen.mixing import energy
from tests.facts.drinks import taste_of, worked_out

SOUR = "pour: [50 ml gin, 25 ml lemon juice, 15 ml sugar syrup]\nmethod: shake\n"


def test_a_sour_by_hand():
    facts = worked_out(SOUR)
    taste = taste_of(facts.serve)
    # 25 ml of lemon at 48 g/l acid and 26 g/l sugar, 15 ml of syrup at 615 g/l.
    assert taste.acid_g.figure.value == pytest.approx(1.2)
    assert taste.sugar_g.figure.value == pytest.approx(0.65 + 9.225)
    assert taste.sweet_to_sour is not None
    assert taste.sweet_to_sour.figure.value == pytest.approx(9.875 / 1.2)
    made = facts.serve.made
    # Of 135 ml in the tin 3 ml stay there: of the acid, too.
    litres = made.drink.volume_ml / 1000
    tin_litres = litres + 0.003
    assert taste.acid_g_per_l.figure.value == pytest.approx(1.2 * litres / tin_litres / litres, rel=1e-6)
    # 20 ml of alcohol: 15.78 g at 7 kcal; sugar at 4, acid at 3.
    assert taste.energy_kcal.figure.value == pytest.approx(15.785 * 7 + 9.875 * 4 + 1.2 * 3, abs=0.05)


@pytest.mark.parametrize(
    "front",
    [
        SOUR,
        "pour: 50 ml white wine\nmethod: build\n",
        "pour: [50 ml white wine, 20 ml gin]\nmethod: build\n",
        "pour: [40 ml gin, 10 ml orgeat]\ntop: soda water\nice: cubed\nmethod: build\n",
        "pour: [30 ml gin, 20 ml single cream]\nmethod: shake\nfloat: 20 ml single cream\n",
    ],
)
def test_strength_has_the_range_the_physics_gives_it_and_energy_is_that_of_the_liquid(front):
    serve = worked_out(front).serve
    taste, made = taste_of(serve), serve.made
    assert taste.strength.figure.value == pytest.approx(made.served_abv_percent.value)
    assert taste.strength.figure.low == pytest.approx(made.served_abv_percent.low)
    assert taste.strength.figure.high == pytest.approx(made.served_abv_percent.high)
    assert taste.energy_kj.figure.value == pytest.approx(energy(made.poured).kj)
    assert taste.energy_kcal.figure.value == pytest.approx(energy(made.poured).kcal)


def test_a_drink_without_acid_has_no_sweet_to_sour():
    assert taste_of(worked_out("pour: [40 ml gin, 10 ml orgeat]\nmethod: stir\n").serve).sweet_to_sour is None


def test_what_the_tin_keeps_changes_the_glass_and_not_the_units():
    built = worked_out("pour: [50 ml gin, 25 ml lemon juice]\nmethod: build\n").serve
    shaken = worked_out("pour: [50 ml gin, 25 ml lemon juice]\nmethod: shake\nstrain: fine\n").serve
    assert built.fit is not None
    assert shaken.fit is not None
    assert (built.fit.left_ml, shaken.fit.left_ml) == (0.0, 4.0)
    assert shaken.fit.liquid_ml == shaken.made.volume_ml.value == shaken.made.drink.volume_ml
    tin_ml = shaken.made.poured.volume_ml + shaken.made.mix_melt_g.value / 0.9982
    assert shaken.fit.liquid_ml == pytest.approx(tin_ml - 4.0, rel=0.003)
    assert taste_of(built).units_ml.figure.value == pytest.approx(taste_of(shaken).units_ml.figure.value)


def test_a_bottle_without_a_value_brings_none_and_no_doubt_of_it():
    taste = taste_of(worked_out("pour: 50 ml soda water\nmethod: build\n").serve)
    for worked in (taste.strength, taste.sugar_g, taste.acid_g, taste.fat_g, taste.energy_kj):
        assert (worked.figure.low, worked.figure.value, worked.figure.high) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("what", "amount", "basis", "status", "off_by"),
    [
        # The guidance, in grams to 100 g: under 10 within 2, to 40 within a fifth, above within 8.
        ("sugar", 50.0, "label", "", 20.0),
        ("sugar", 10.0, "label", "", 10.0),
        ("sugar", 240.0, "label", "", 48.0),
        ("sugar", 615.0, "label", "", 80.0),
        ("fat", 37.0, "label", "", 15.0),
        ("sugar", 615.0, "measured", "", 12.3),
        ("acid", 48.0, "reference", "verified", 7.2),
        ("acid", 6.0, "reference", "from memory", 1.8),
        ("sugar", 0.0, "label", "", 0.0),
    ],
)
def test_tolerances(what, amount, basis, status, off_by):
    assert tolerance(what, amount, basis, status).amount == pytest.approx(off_by)


@pytest.mark.parametrize(
    ("abv", "kind", "kind_id", "steeped", "off_by"),
    [
        # Annex XII of Regulation (EU) No 1169/2011, read in the German text: beer to 5.5 % vol, stronger beer,
        # cider and mead, drinks with macerated fruit or plants, all others.
        (5.5, "beer", "beer_lager", False, 0.5),
        (5.6, "beer", "stout", False, 1.0),
        (4.5, "beer", "cider", False, 1.0),
        (12.0, "wine", "mead", False, 1.0),
        (40.0, "spirit", "gin", True, 1.5),
        (40.0, "spirit", "gin", False, 0.3),
        (20.0, "liqueur", "", False, 0.3),
        # Wine has a law of its own: reported, BMC Chemistry 4:5 (2010), table 1.
        (12.0, "wine", "dry_white_wine", False, 0.5),
        (11.5, "sparkling wine", "prosecco", False, 0.8),
        (0.0, "wine", "wine", False, 0.0),
    ],
)
def test_the_law_on_labels_of_strength(abv, kind, kind_id, steeped, off_by):
    found = strength_tolerance(abv, kind, kind_id, steeped=steeped)
    assert found.amount == off_by
    assert bool(found.source) == (off_by > 0)


def test_a_bottle_the_law_is_easy_on_widens_the_drinks_range():
    spritz = "pour: [50 ml gin, 100 ml {wine}]\nmethod: build\n"
    stock = (
        "prosecco:\n  abv: 12 %\n  bottle: 750 ml\n  contains: [sulphites]\n  checked: 2026-11-01\n"
        "twelve bitter:\n  abv: 12 %\n  bottle: 750 ml\n  contains: none\n  checked: 2026-11-01\n"
    )
    wine = worked_out(spritz.format(wine="prosecco"), stock=stock).serve.made.served_abv_percent
    other = worked_out(spritz.format(wine="twelve bitter"), stock=stock).serve.made.served_abv_percent
    assert wine.value == pytest.approx(other.value, abs=0.1)
    assert wine.high - wine.low > 1.1 * (other.high - other.low)


amounts = st.floats(0.0, 200.0)
parts = st.lists(
    st.builds(Part, amounts, st.floats(0.0, 5.0), st.floats(1.0, 200.0), st.just(("label",))),
    min_size=1,
    max_size=6,
)


@given(parts, st.floats(0.0, 60.0), st.floats(0.0, 60.0))
def test_a_range_always_holds_its_value_and_more_doubt_never_narrows_it(found, less, more):
    ml = sum(part.volume_ml for part in found) + 60.0
    sure, unsure = Volume(ml, ml, ml, mixed=True), Volume(ml, ml - less, ml + more, mixed=True)
    worked = [concentration(found, volume, 100.0) for volume in (sure, unsure)]
    assert all(doubt.below >= 0.0 and doubt.above >= 0.0 for one in worked for doubt in one.doubts)
    narrow, wide = (one.figure for one in worked)
    assert wide.low <= narrow.low <= narrow.value == wide.value <= narrow.high <= wide.high
    figure = total(found).figure
    assert 0.0 <= figure.low <= figure.value <= figure.high


@given(parts)
def test_melting_does_not_touch_sweet_to_sour_and_the_same_thing_over_itself_is_one(found):
    worked = ratio(found, found)
    if worked is None:
        assert sum(part.amount for part in found) == 0.0
    else:
        assert worked.figure.value == pytest.approx(1.0)
        assert not any("melting" in doubt.what for doubt in worked.doubts)


def test_volume_is_the_drinks_own():
    serve = worked_out(SOUR).serve
    volume = volume_of(serve)
    assert len(poured_lines(serve)) == 3
    assert volume.drier_ml < volume.ml < volume.wetter_ml
    assert volume.ml == serve.made.drink.volume_ml


def test_two_places_count_energy_by_their_own_law():
    serve = worked_out(SOUR).serve
    made = serve.made.poured
    british, american, australian = (taste_of(serve, code) for code in ("GB", "US", "AU"))
    # A sour holds 1.2 g of acid: 3 kcal a gram in the European list, 4 where it counts as carbohydrate.
    more = american.energy_kcal.figure.value - british.energy_kcal.figure.value
    assert more == pytest.approx(made.acid_g)
    assert american.energy_kj.figure.value == pytest.approx(american.energy_kcal.figure.value * 4.184)
    # The same kilojoules, and kilocalories that follow from them.
    assert australian.energy_kj.figure.value == pytest.approx(british.energy_kj.figure.value)
    assert australian.energy_kcal.figure.value == pytest.approx(british.energy_kj.figure.value / 4.18)
    assert australian.energy_kcal.figure.value != pytest.approx(british.energy_kcal.figure.value, rel=1e-3)
