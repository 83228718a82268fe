"""One glass has one figure: whichever list a line is in, wherever a bottle is kept, however large the cube."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen import mixing, reference
from menugen.facts import DrinkFacts, work_out, working_of
from menugen.menu.picture import glass_picture
from menugen.problems import Severity
from menugen.records import Role
from menugen.reference.ingredients import all_ingredients
from tests.facts.drinks import house_with, setting_of, worked_out
from tests.houses import HOUSE

HIGHBALL = "glass: highball\nice: cubed\nmethod: build\n"
WAYS = (
    "pour: [50 ml gin, 150 ml soda water]\n",
    "pour: [50 ml gin]\ntop: [150 ml soda water]\n",
    "pour: [50 ml gin]\nfloat: [150 ml soda water]\n",
    "pour: [150 ml soda water]\nfloat: [50 ml gin]\n",
)
LABEL = "  contains: none\n  checked: 2026-11-01\n  bottle: 1 l\n"
STOCK = f"""\
cellar lager:
  kind: beer_lager
  abv: 5 %
{LABEL}cold gin:
  kind: gin
  abv: 40 %
  kept: freezer
{LABEL}shelf tonic:
  kind: tonic_water
  kept: room
{LABEL}fridge tonic:
  kind: tonic_water
{LABEL}"""


def seen(front: str, *, house: str = HOUSE) -> tuple[DrinkFacts | None, list[str], list[str]]:
    """Return a drink with the codes and the texts of its problems."""
    made = house_with(front, stock=STOCK, house=house)
    facts, problems = work_out(made.specs["tried"], setting_of(made))
    texts = ["\n".join((problem.message, *problem.hints)) for problem in problems]
    return facts, [problem.code for problem in problems], texts


def test_a_highball_is_as_strong_however_it_is_written():
    drinks = [worked_out(way + HIGHBALL).serve.made for way in WAYS]
    assert len({round(made.served_abv_percent.value, 9) for made in drinks}) == 1
    assert len({round(made.served_abv_percent.low, 9) for made in drinks}) == 1
    assert len({round(made.volume_ml.value, 9) for made in drinks}) == 1
    # Between what it was as a pour at 20 C (7.96 %) and as a top that melted nothing (9.44 %).
    assert drinks[0].served_abv_percent.value == pytest.approx(9.1, abs=0.05)


def test_top_with_stands_for_the_measure_it_comes_to():
    topped = worked_out("pour: [50 ml gin]\ntop: [soda water]\n" + HIGHBALL)
    room_ml = topped.serve.top_room_ml
    assert room_ml is not None
    stated = worked_out(f"pour: [50 ml gin, {room_ml:.6f} ml soda water]\n" + HIGHBALL)
    assert stated.serve.made.served_abv_percent.value == pytest.approx(
        topped.serve.made.served_abv_percent.value, rel=1e-5
    )
    assert topped.serve.fit is not None
    assert topped.vessel is not None
    assert topped.serve.fit.surface_ml == pytest.approx(topped.vessel.wash_line_ml, abs=0.01)
    assert not topped.serve.fit.less_ice


@pytest.mark.parametrize("method", ["shake", "stir", "dry shake", "throw", "swizzle", "[muddle, shake]"])
def test_what_holds_gas_is_never_mixed_with_the_rest(method):
    rest = f"method: {method}\nglass: highball\nice: cubed\n"
    poured = worked_out("pour: [50 ml gin, 25 ml lemon juice, 60 ml soda water]\n" + rest).serve
    topped = worked_out("pour: [50 ml gin, 25 ml lemon juice]\ntop: [60 ml soda water]\n" + rest).serve
    assert poured.made == topped.made
    on_top = [item.line.name for item in poured.lines if item.on_top]
    assert on_top == ["soda water"]
    still = worked_out("pour: [50 ml gin, 60 ml lemon juice]\n" + rest).serve
    assert not any(item.on_top for item in still.lines)


def test_mulled_and_built_drinks_keep_what_holds_gas_with_the_rest():
    for method in ("build", "heat", "[muddle, build]", "layer"):
        serve = worked_out(f"pour: [50 ml gin, 60 ml soda water]\nmethod: {method}\n").serve
        assert not any(item.on_top for item in serve.lines)


def test_no_ice_in_the_glass_is_no_melting_from_a_top():
    for front in (
        "pour: [40 ml gin, 20 ml lemon juice]\ntop: [60 ml soda water]\nmethod: shake\nglass: coupe\n",
        "pour: [20 ml gin]\ntop: [280 ml cellar lager]\nmethod: build\nglass: collins\n",
    ):
        facts, _, _ = seen(front)
        assert facts is not None
        made = facts.serve.made
        assert made.top_melt_g.value == 0.0
        assert made.melt_g.value == pytest.approx(made.mix_melt_g.value * made.kept_share)


@pytest.mark.parametrize(
    "way", ["pour: [40 ml {gin}, 140 ml {tonic}]", "pour: [40 ml {gin}]\ntop: [140 ml {tonic}]"]
)
def test_stock_says_where_a_bottle_is_kept(way):
    def melt_g(gin: str, tonic: str) -> float:
        facts, _, _ = seen(way.format(gin=gin, tonic=tonic) + "\n" + HIGHBALL)
        assert facts is not None
        return facts.serve.made.melt_g.value

    usual = melt_g("gin", "fridge tonic")
    assert melt_g("gin", "shelf tonic") - usual == pytest.approx(140 * 0.998 * 4.218 * 16 / 334, rel=0.02)
    assert melt_g("cold gin", "fridge tonic") < usual


def test_a_bottle_from_the_freezer_thins_a_stirred_drink_less():
    stirred = "pour: [60 ml {}, 10 ml white wine]\nmethod: stir\nglass: coupe\n"
    shelf, _, _ = seen(stirred.format("gin"))
    frozen, _, _ = seen(stirred.format("cold gin"))
    assert shelf is not None
    assert frozen is not None
    assert shelf.serve.made.melt_basis == "stirred equation"
    assert frozen.serve.made.melt_ratio.value < 0.75 * shelf.serve.made.melt_ratio.value
    notes = {
        note.name: note
        for note in working_of(frozen, setting_of(house_with("pour: 1 ml gin\nmethod: build")))
    }
    (mix_c,) = [item for item in notes["Melt water over mix"].given if item.name == "the mix"]
    assert mix_c.value < 0
    assert mix_c.basis == "worked out"


def test_the_working_says_where_each_bottle_is_kept_and_why():
    facts, _, _ = seen("pour: [40 ml cold gin]\ntop: [140 ml fridge tonic]\n" + HIGHBALL)
    assert facts is not None
    setting = setting_of(house_with("pour: 1 ml gin\nmethod: build"))
    (note,) = [note for note in working_of(facts, setting) if note.name == "Melt water over mix"]
    kept = {item.name: (item.value, item.basis) for item in note.given[:2]}
    assert kept == {
        "cold gin, from the freezer": (-18.0, "label"),
        "fridge tonic, from the fridge": (4.0, "habit"),
    }


def test_every_kind_is_kept_somewhere_and_every_class_says_why():
    for known in all_ingredients():
        kept = reference.usually_kept(known)
        assert kept.place in reference.PLACES
        assert "its kind is not known" not in kept.source, known.id
        assert kept.celsius == reference.kept_at(kept.place).celsius
    assert reference.usually_kept(None).place == "room"
    kinds = {known.id: known for known in all_ingredients()}
    assert reference.holds_gas(kinds["tonic_water"])
    assert reference.holds_gas(kinds["prosecco"])
    assert reference.holds_gas(kinds["cider"])
    assert not reference.holds_gas(kinds["water"])
    assert not reference.holds_gas(kinds["dry_white_wine"])
    assert reference.usually_kept(kinds["red_wine"]).place == "room"


amounts = st.integers(5, 80)


@pytest.mark.slow
@given(
    st.permutations(["gin", "lemon juice", "soda water", "orgeat", "white wine"]),
    st.lists(amounts, min_size=5, max_size=5),
    st.lists(st.sampled_from(("pour", "top", "float")), min_size=4, max_size=4),
    st.sampled_from(("cubed", "large cube", "cracked", "crushed", "none")),
)
def test_no_built_drink_changes_with_the_list_its_lines_are_in(names, parts, roles, ice):
    lines = [f"{part} ml {name}" for name, part in zip(names, parts, strict=True)]
    rest = f"method: build\nglass: collins\nice: {ice}\n"
    poured = worked_out(f"pour: [{', '.join(lines)}]\n{rest}").serve.made
    mixed = {"pour": [lines[0]], "top": [], "float": []}
    for line, role in zip(lines[1:], roles, strict=True):
        mixed[role].append(line)
    front = "".join(f"{role}: [{', '.join(there)}]\n" for role, there in mixed.items() if there)
    written = worked_out(front + rest).serve.made
    assert written.served_abv_percent.value == pytest.approx(poured.served_abv_percent.value, rel=1e-9)
    assert written.volume_ml.value == pytest.approx(poured.volume_ml.value, rel=1e-9)
    assert written.ethanol_ml == pytest.approx(poured.ethanol_ml, rel=1e-9)


def test_an_everyday_long_drink_fits_with_less_ice():
    facts, codes, _ = seen(WAYS[0] + HIGHBALL)
    assert codes == []
    assert facts is not None
    assert facts.serve.fit is not None
    fit = facts.serve.fit
    assert fit.less_ice
    assert fit.over_brim_ml == 0.0
    picture = glass_picture(facts)
    assert picture is not None
    usual = glass_picture(worked_out("pour: [50 ml gin, 90 ml soda water]\n" + HIGHBALL))
    assert usual is not None
    assert (picture.less_ice, usual.less_ice) == (True, False)
    assert picture.cubes < usual.cubes
    assert picture.cubes == round(fit.ice_ml * 0.917 / mixing.cube_g(25))


def test_the_warning_comes_when_the_least_ice_does_not_fit_and_names_less_ice():
    facts, codes, texts = seen("pour: [60 ml gin, 220 ml soda water]\n" + HIGHBALL)
    assert codes == ["overfull-glass"]
    assert facts is not None
    assert facts.serve.fit is not None
    assert facts.serve.fit.over_brim_ml > 0
    assert "little ice as that is" in texts[0]
    assert "still less ice or none" in texts[0]
    # A drink that spills without any ice is not helped by less of it.
    _, codes, texts = seen("pour: [60 ml gin, 300 ml soda water]\n" + HIGHBALL)
    assert codes == ["overfull-glass"]
    assert "ice or none" not in texts[0]


def test_a_large_cube_is_what_it_is_and_the_warning_names_a_smaller_one():
    sizes = {}
    for gin in (40, 80, 120):
        facts, _, _ = seen(f"pour: [{gin} ml gin]\nmethod: build\nglass: rocks\nice: large cube\n")
        assert facts is not None
        assert facts.serve.fit is not None
        sizes[gin] = facts.serve.fit.ice_g
        picture = glass_picture(facts)
        assert picture is not None
        assert picture.cube_mm == pytest.approx(45.0)
    assert set(sizes.values()) == {mixing.cube_g(45)}
    _, codes, texts = seen("pour: [200 ml white wine]\nmethod: build\nglass: rocks\nice: large cube\n")
    assert codes == ["overfull-glass"]
    assert "a smaller cube or none" in texts[0]


def test_the_house_states_its_own_cubes():
    front = "pour: [60 ml gin]\nmethod: build\nglass: rocks\nice: large cube\n"
    usual, _, _ = seen(front)
    small, _, _ = seen(front, house=HOUSE + "large cube: 35 mm\n")
    heavy, _, _ = seen(front, house=HOUSE + "large cube: 10 g\n")
    assert usual is not None
    assert small is not None
    assert heavy is not None
    for facts, grams in ((usual, mixing.cube_g(45)), (small, mixing.cube_g(35)), (heavy, 10.0)):
        assert facts.serve.fit is not None
        assert facts.serve.fit.ice_g == pytest.approx(grams)
    assert usual.serve.fit.surface_ml > small.serve.fit.surface_ml > heavy.serve.fit.surface_ml  # type: ignore[union-attr]
    assert heavy.serve.made.melt_g.value == pytest.approx(10.0), "no more melts than there is"
    loose = "pour: [50 ml gin, 120 ml soda water]\n" + HIGHBALL
    many, few = (seen(loose, house=HOUSE + f"cube: {side} mm\n")[0] for side in (20, 32))
    assert many is not None
    assert few is not None
    assert many.serve.fit.surface_ml == few.serve.fit.surface_ml  # type: ignore[union-attr]
    assert many.serve.fit.pieces > few.serve.fit.pieces  # type: ignore[union-attr]


def test_a_large_cube_that_does_not_go_into_its_glass_is_said():
    facts, codes, texts = seen("pour: [60 ml gin]\nmethod: build\nglass: highball\nice: large cube\n")
    assert facts is not None
    assert codes == ["cube-too-wide"]
    assert "45 mm" in texts[0]
    assert "60 mm" in texts[0]
    _, codes, _ = seen(
        "pour: [60 ml gin]\nmethod: build\nglass: highball\nice: large cube\n",
        house=HOUSE + "large cube: 40 mm\n",
    )
    assert codes == []


def test_a_float_stays_a_float_on_the_page():
    facts = worked_out("pour: [50 ml gin]\nfloat: [20 ml white wine]\n" + HIGHBALL)
    assert facts.serve.lines[1].line.role is Role.FLOAT
    assert facts.serve.lines[1].on_top
    picture = glass_picture(facts)
    assert picture is not None
    assert picture.float_mm > 0


@given(st.integers(20, 500), st.sampled_from(("cubed", "large cube", "cracked", "crushed", "none")))
def test_no_drink_runs_over_unsaid(soda_ml, ice):
    front = f"pour: [50 ml gin, {soda_ml} ml soda water]\nmethod: build\nglass: highball\nice: {ice}\n"
    house = house_with(front)
    facts, problems = work_out(house.specs["tried"], setting_of(house))
    codes = {problem.code for problem in problems}
    if facts is None:
        assert "glass-far-too-small" in codes
        assert any(problem.severity is Severity.ERROR for problem in problems)
        return
    assert facts.serve.fit is not None
    assert facts.vessel is not None
    level_ml = facts.serve.fit.surface_ml + facts.serve.fit.foam_ml
    assert ("overfull-glass" in codes) == (level_ml >= facts.vessel.brim_ml + 0.5)
