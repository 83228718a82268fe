"""Measures that bring a drink to a figure: they do, nothing nearer was missed, and a miss is owned up to."""

import itertools

import pytest

from menugen.facts import Aimed, WrongChange, aimed, changed, parse_aim, work_out
from menugen.facts.aims import AIMS
from tests.facts.drinks import house_with, setting_of, taste_of

SOUR = "pour: [50 ml gin, 25 ml lemon juice, 15 ml sugar syrup]\nmethod: shake\n"


def search(*aims: str, by=(), front=SOUR, changes=(), step_ml=None, ounce="trade") -> Aimed:
    house = house_with(front)
    setting = setting_of(house)
    written = house.specs["tried"]
    before, _ = work_out(written, setting)
    assert before is not None
    spec = changed(written, changes, setting.bottles, ounce)
    return aimed(spec, setting, before, [parse_aim(aim) for aim in aims], by, step_ml, ounce)


def volumes(found: Aimed) -> dict[str, float | None]:
    return {line.name: line.measure.volume_ml for line in found.spec.lines}


def worked(found: Aimed, front=SOUR):
    house = house_with(front)
    facts, _ = work_out(found.spec, setting_of(house))
    assert facts is not None
    return facts.serve


def test_a_strength_is_reached_by_the_strongest_pour_in_bar_steps():
    found = search("abv=15 %")
    assert found.by == ("gin",)
    assert found.chosen
    moved = volumes(found)
    assert moved["lemon juice"] == 25.0
    assert moved["gin"] is not None
    assert moved["gin"] % 2.5 == 0.0
    (reached,) = found.reached
    assert reached.is_there
    assert worked(found).made.served_abv_percent.value == pytest.approx(reached.value)
    assert reached.value == pytest.approx(15.0, abs=0.25)


def figures_with(*changes: str) -> tuple[float, float]:
    """Return strength and sugar of the sour with changes."""
    house = house_with(SOUR)
    setting = setting_of(house)
    facts, _ = work_out(changed(house.specs["tried"], changes, setting.bottles, "trade"), setting)
    assert facts is not None
    return facts.serve.made.served_abv_percent.value, taste_of(facts.serve).sugar_g_per_l.figure.value


def test_no_step_would_have_come_nearer():
    found = search("abv=15 %")
    (reached,) = found.reached
    here = volumes(found)["gin"]
    assert here is not None
    for other in (here - 2.5, here + 2.5):
        strength, _ = figures_with(f"gin={other:g} ml")
        assert abs(strength - 15.0) >= abs(reached.miss)


def test_sweetness_is_kept_while_something_else_changes():
    _, before = figures_with()
    found = search("sweetness=as before", changes=["lemon juice=32.5 ml"])
    assert found.by == ("sugar syrup",)
    (reached,) = found.reached
    assert reached.target == pytest.approx(before)
    misses = {
        syrup: abs(figures_with("lemon juice=32.5 ml", f"sugar syrup={syrup} ml")[1] - before)
        for syrup in (12.5, 15, 17.5, 20)
    }
    assert volumes(found)["sugar syrup"] == min(misses, key=lambda syrup: misses[syrup])
    assert abs(reached.miss) == pytest.approx(min(misses.values()))


@pytest.mark.slow
def test_two_aims_move_two_measures_and_each_has_its_own():
    found = search("abv=13 %", "balance=8")
    assert found.by == ("gin", "sugar syrup")
    assert [item.is_there for item in found.reached] == [True, True]


@pytest.mark.slow
def test_as_before_with_nothing_changed_moves_nothing():
    found = search(*(f"{figure}=as before" for figure in AIMS[:3]))
    assert volumes(found) == {"gin": 50.0, "lemon juice": 25.0, "sugar syrup": 15.0}
    assert all(item.miss == pytest.approx(0.0, abs=1e-9) for item in found.reached)


def test_what_cannot_be_reached_says_how_far_off_it_stays_and_why():
    found = search("abv=45 %")
    (reached,) = found.reached
    assert not reached.is_there
    assert reached.miss < -15.0
    assert found.at_the_end == ("gin",)


def test_a_coarse_step_is_kept_to():
    found = search("acid=8 g/l", by=["lemon juice"], step_ml=10.0)
    assert volumes(found)["lemon juice"] in {25.0, *(10.0 * number for number in range(1, 13))}


def test_a_line_in_ounces_moves_by_quarter_ounces_of_the_house():
    front = "pour: [1 1/2 oz gin, 3/4 oz lemon juice, 1/2 oz sugar syrup]\nmethod: shake\n"
    found = search("abv=18 %", front=front)
    assert found.steps == ("1/4 oz",)
    gin = found.spec.lines[0].measure
    assert gin.unit == "oz"
    assert gin.text.endswith("oz")
    assert gin.volume_ml is not None
    assert gin.volume_ml % 7.5 == pytest.approx(0.0)


def test_weighed_sugar_moves_by_whole_grams_and_what_was_just_set_stays_put():
    front = "pour: [60 ml gin, 25 ml lemon juice, 8 g sugar syrup]\nmethod: shake\n"
    found = search("balance=as before", front=front, changes=["lemon juice=20 ml"])
    assert found.by == ("sugar syrup",)
    assert found.steps == ("1 g",)
    assert found.spec.lines[1].measure.volume_ml == 20.0
    # 0.65 + 8 g on 1.2 g of acid is 7.2; 0.52 + 6.4 g on 0.96 g would be, and 6 g is the nearest gram.
    assert found.spec.lines[2].measure.mass_g == 6.0
    assert found.spec.lines[2].measure.text == "6 g"


def test_volume_and_units_and_a_topped_drink():
    front = "pour: [40 ml gin, 20 ml sugar syrup]\ntop: soda water\nice: cubed\nmethod: build\n"
    found = search("units=2", front=front)
    assert volumes(found)["gin"] == 50.0
    assert found.reached[0].is_there
    shorter = search("volume=100 ml", by=["gin"])
    assert shorter.reached[0].value == pytest.approx(100.0, abs=2.0)


@pytest.mark.parametrize(
    ("aim", "word"),
    [
        ("abv", 'write --aim "abv=12 %"'),
        ("strongness=12", "it knows abv, strength"),
        ("abv=120 %", "stronger than pure alcohol"),
        ("abv=12", "no unit"),
        ("sweetness=50 brix", "grams to a litre"),
        ("volume=a lot", "volume"),
        ("units=two", "units"),
    ],
)
def test_each_wrong_aim_is_told_in_a_sentence(aim, word):
    with pytest.raises(WrongChange, match=r"^[^\n]+$") as told:
        parse_aim(aim)
    assert word in str(told.value)


@pytest.mark.parametrize(
    ("aims", "by", "step_ml", "word"),
    [
        (["abv=12 %"], ["rum"], None, "no line of Tried is called that"),
        (["abv=12 %"], ["gin", "lemon juice", "sugar syrup"], None, "2 measures"),
        (["abv=1 %", "acid=1 g/l", "units=1", "volume=90 ml"], [], None, "3 aims"),
        (["abv=12 %"], [], 0.01, "steps of 0.01 ml"),
        (["abv=12 %"], [], 500.0, "steps of 500 ml"),
    ],
)
def test_each_wrong_search_is_told(aims, by, step_ml, word):
    with pytest.raises(WrongChange) as told:
        search(*aims, by=by, step_ml=step_ml)
    assert word in str(told.value)


def test_figures_a_drink_does_not_have_are_no_aims():
    front = "pour: [50 ml soda water, 1 egg white]\nmethod: build\n"
    with pytest.raises(WrongChange, match='name one with --by "NAME"'):
        search("abv=10 %", front=front)
    with pytest.raises(WrongChange, match="no acid"):
        search("balance=as before", front=front)
    with pytest.raises(WrongChange, match="neither measured by volume"):
        search("sweetness=10 g/l", by=["egg white"], front=front)


def test_more_of_the_spirit_is_always_stronger():
    values = [
        search("abv=15 %", front=SOUR.replace("50 ml gin", f"{ml} ml gin"), by=["sugar syrup"], step_ml=120.0)
        for ml in (30, 50, 70)
    ]
    strengths = [found.reached[0].value for found in values]
    assert all(low < high for low, high in itertools.pairwise(strengths))
