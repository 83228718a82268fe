"""A juice that was bottled, or made from concentrate, is no fresh one, however its name says so."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.reference import ingredient
from menugen.reference.ingredients import all_ingredients

FRESH = ["lemon juice", "fresh lemon juice", "house lemon juice", "lemon juice, fresh", "freshly squeezed lemon juice",
         "fresh lemon juice (bottled at noon)", "lemon juice, not from concentrate", "lemon_juice"]  # fmt: skip
BOTTLED = ["bottled lemon juice", "Bottled-Lemon-Juice", "lemon juice, bottled", "lemon juice (bottled)",
           "Lemon juice – bottled", "lemon juice from concentrate", "LEMON JUICE (from concentrate)",
           "reconstituted lemon juice", "quay bottled lemon juice", "lemon juice from concentrate, 1 l",
           "fresh lemon juice from concentrate"]  # fmt: skip
CONCENTRATE = ["lemon juice concentrate", "concentrated lemon juice", "lemon concentrate"]


@pytest.mark.parametrize(
    ("names", "known"),
    [
        (FRESH, "lemon_juice"),
        (BOTTLED, "lemon_juice_from_concentrate"),
        (CONCENTRATE, "lemon_juice_concentrate"),
        ([name.replace("emon", "ime") for name in FRESH], "lime_juice"),
        ([name.replace("emon", "ime") for name in BOTTLED if "EMON" not in name], "lime_juice_from_concentrate"),
        (["carton orange juice", "orange juice from concentrate", "long-life orange juice"],
         "orange_juice_from_concentrate"),
        (["bottled grapefruit juice", "pink grapefruit juice from concentrate"], "grapefruit_juice_from_concentrate"),
        (["pineapple juice from concentrate", "bottled pineapple juice", "pineapple juice"], "pineapple_juice"),
        (["tinned tomato juice"], "tomato_juice"),
        (["lime cordial", "bottled lime cordial"], "fruit_cordial"),
    ],
)  # fmt: skip
def test_a_name_says_whether_a_juice_is_fresh(names, known):
    for name in names:
        found = ingredient(name)
        assert found is not None, name
        assert found.id == known, name


@pytest.mark.parametrize(
    "name", ["orange juice concentrate", "concentrated orange juice", "apple juice concentrate"]
)
def test_a_concentrate_of_unknown_strength_is_no_juice(name):
    assert ingredient(name) is None


def test_juice_from_concentrate_has_the_values_that_were_measured_of_it():
    """K. L. Penniston et al., J. Endourology 22(3), 2008: citric acid, g/l."""
    measured = {"lemon": (48.0, 39.2), "lime": (45.86, 35.4), "orange": (9.1, 16.9)}
    for fruit, (fresh, bottled) in measured.items():
        assert ingredient(f"{fruit} juice").acid_g_per_l == fresh
        assert ingredient(f"bottled {fruit} juice").acid_g_per_l == bottled
    assert ingredient("bottled grapefruit juice").acid_g_per_l == 25.0


def test_what_a_juice_is_as_sold_is_a_juice_that_is_known():
    by_id = {known.id: known for known in all_ingredients()}
    for known in all_ingredients():
        assert set(known.as_sold) <= {"bottled", "concentrated"}
        for other in known.as_sold.values():
            assert by_id[other].kind == known.kind == "juice"
            assert not by_id[other].as_sold


@pytest.mark.slow
@given(
    st.sampled_from(["lemon", "lime", "orange", "grapefruit"]),
    st.sampled_from(
        ["bottled {}", "{}, bottled", "{} (bottled)", "{} from concentrate", "reconstituted {}", "{} bottled"]
    ),
    st.sampled_from([str.upper, str.title, str.lower]),
)
def test_bottled_is_never_fresh_and_fresh_never_bottled(fruit, said, case):
    juice = f"{fruit} juice"
    assert ingredient(case(said.format(juice))).id == f"{fruit}_juice_from_concentrate"
    for fresh in ("{}", "fresh {}", "{}, fresh", "house {}"):
        assert ingredient(case(fresh.format(juice))).id == f"{fruit}_juice"
