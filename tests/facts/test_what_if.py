"""Changes to a drink as typed, and what is wrong with those that cannot be made."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.facts import WrongChange, changed, parse_aim, work_out
from menugen.records import Role
from tests.facts.drinks import house_with, setting_of, taste_of

SOUR = (
    "pour: [50 ml gin, 25 ml lemon juice, 15 ml sugar syrup, 1 egg white]\nmethod: shake\ngarnish: lemon twist\n"
    "top: soda water\nswap:\n  egg white: 20 ml aquafaba\n"
)


def lines(*changes: str, front: str = SOUR, ounce="trade") -> list[str]:
    house = house_with(front)
    spec = changed(house.specs["tried"], changes, setting_of(house).bottles, ounce)
    assert spec.swaps == ()
    return [
        f"{line.measure.text or line.measure.unit} {line.name} ({line.role.value})" for line in spec.lines
    ]


@pytest.mark.parametrize(
    ("change", "now", "was"),
    [
        ("lemon juice=20 ml", "20 ml lemon juice (pour)", "25 ml lemon juice (pour)"),
        ("LEMON  juice = ¾ oz", "¾ oz lemon juice (pour)", "25 ml lemon juice (pour)"),
        # By the bottle's own name where the spec uses an alias.
        ("garden gin=40 ml", "40 ml gin (pour)", "50 ml gin (pour)"),
        ("gin=white wine", "50 ml white wine (pour)", "50 ml gin (pour)"),
        ("gin=60 ml white wine", "60 ml white wine (pour)", "50 ml gin (pour)"),
        ("egg white=2", "2 egg white (pour)", "1 egg white (pour)"),
        ("egg white=20 ml aquafaba", "20 ml aquafaba (pour)", "1 egg white (pour)"),
        ("soda water=80 ml", "80 ml soda water (top)", "top soda water (top)"),
    ],
)
def test_a_line_gets_another_measure_or_another_bottle_in_its_place(change, now, was):
    before, after = lines(), lines(change)
    assert was in before
    assert after[before.index(was)] == now
    assert len(after) == len(before)


@pytest.mark.parametrize("word", ["none", "0", "0 ml", "0ml", "Out"])
def test_a_line_is_left_out(word):
    assert [line for line in lines() if "egg white" not in line] == lines(f"egg white={word}")


def test_what_stock_has_is_added_as_a_pour_or_on_top():
    assert lines("orgeat=10 ml")[-1] == "10 ml orgeat (pour)"
    assert lines("soda water=none", "white wine=top")[-1] == "top white wine (top)"


def test_changes_are_made_in_order():
    assert lines("lemon juice=20 ml", "lemon juice=10 ml") == lines("lemon juice=10 ml")


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ("lemon juice", 'write --set "lime juice=20 ml"'),
        ("=20 ml", "does not say"),
        ("lemon jiuce=20 ml", 'did you mean "lemon juice"?'),
        ("moon dust=20 ml", 'nothing in stock is called "moon dust"'),
        ("moon dust=none", 'there is no "moon dust" in Tried'),
        ("lemon juice=20 mll", "lemon juice"),
        ("lemon juice=-5 ml", "less than nothing"),
        ("lemon juice=20,5 ml", "comma"),
        ("lemon juice=9000 ml", "more than fits in any glass"),
        ("lemon juice=2 parts", "not in parts"),
        ("lemon juice=single creem", 'did you mean "single cream"?'),
        ("lemon juice=top", "not poured on top"),
        ("orgeat=single cream", 'no "orgeat" in Tried to be replaced'),
        ("lemon juice=0 %", "lemon juice"),
        ("egg white=single cream", 'such as "20 ml single cream"'),
        ("orgeat=2", 'such as "20 ml orgeat"'),
    ],
)
def test_each_wrong_change_is_told_in_a_sentence(change, word):
    with pytest.raises(WrongChange, match=r"^[^\n]+$") as told:
        lines(change)
    assert word in str(told.value)
    assert not str(told.value).endswith(".")


def test_a_drink_is_never_emptied():
    with pytest.raises(WrongChange, match="nothing would be left to pour"):
        lines("gin=none", front="pour: 50 ml gin\nmethod: stir\n")


def test_two_lines_of_one_name_are_not_guessed_between():
    front = "pour: [50 ml gin, 10 ml gin]\nmethod: stir\n"
    with pytest.raises(WrongChange, match="2 lines"):
        lines("gin=40 ml", front=front)
    both = "pour: 25 ml lemon juice\ngarnish: lemon juice\nmethod: stir\n"
    assert lines("lemon juice=10 ml", front=both)[0].startswith("10 ml")


def test_a_changed_drink_is_worked_out_anew():
    house = house_with(SOUR)
    setting = setting_of(house)
    spec = changed(house.specs["tried"], ["egg white=none", "single cream=10 ml"], setting.bottles, "trade")
    facts, problems = work_out(spec, setting)
    assert problems == ()
    assert facts is not None
    assert [word for item in facts.serve.declaration.contains for word in item.words] == ["milk"]
    # 10 ml of single cream at the usual 182 g of fat in a litre.
    assert taste_of(facts.serve).fat_g.figure.value == pytest.approx(1.82)
    assert [line.role for line in spec.lines][-1] is Role.POUR


HOUSE = house_with(SOUR)
BOTTLES = setting_of(HOUSE).bottles
words = st.sampled_from(
    [
        "lemon juice",
        "gin",
        "egg white",
        "orgeat",
        "none",
        "0",
        "top",
        "20 ml",
        "½ oz",
        "-3",
        "1e9 ml",
        "=",
        " ",
        "ml",
        "٣",
    ]
)
typed = st.one_of(
    st.text(max_size=40), st.lists(words, max_size=6).map(" ".join), st.builds("{}={}".format, words, words)
)


@given(typed)
def test_whatever_is_typed_as_a_change_never_breaks_it(text):
    try:
        spec = changed(HOUSE.specs["tried"], [text], BOTTLES, "trade")
    except WrongChange:
        return
    facts, _ = work_out(spec, setting_of(HOUSE))
    assert facts is None or facts.serve.made.volume_ml.value >= 0.0


@pytest.mark.slow
@given(typed)
def test_whatever_is_typed_as_an_aim_never_breaks_it(text):
    try:
        aim = parse_aim(text)
    except WrongChange:
        return
    assert aim.target is None or aim.target >= 0.0
