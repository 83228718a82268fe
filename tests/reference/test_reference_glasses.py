"""Reference glasses: shapes that hold what they say, under every name they go by."""

import pytest

from menugen.facts.glasses import BOWLS
from menugen.mixing import volume_to_mm
from menugen.reference import glass, glass_names

WANTED = [
    "coupe", "martini", "nick and nora", "rocks", "double rocks", "highball", "collins", "sling", "hurricane", "flute",
    "wine", "copa", "margarita", "irish coffee", "mug", "shot", "julep cup", "tiki mug", "punch cup", "sour",
    "jug", "punch bowl",
]  # fmt: skip

PRINTED_ML = {
    "coupe": (180, 240),
    "martini": (118, 360),
    "rocks": (177, 300),
    "double rocks": (350, 470),
    "highball": (240, 360),
    "collins": (230, 473),
    "hurricane": (295, 473),
    "flute": (170, 300),
    "wine": (180, 414),
    "margarita": (177, 295),
    "irish coffee": (240, 270),
    "mug": (354, 500),
    "shot": (25, 60),
}
"""The widest range of printed sizes: hotel-school notes "Types of glassware used in bars" (A. Basu, 2021), a
hospitality-school page "Types of glassware", a public bar glossary; mugs up to 500 ml are common practice."""


@pytest.mark.parametrize("name", glass_names())
def test_the_shape_holds_what_the_glass_says(name):
    known = glass(name)
    assert known is not None
    rim_mm = known.profile_mm[-1][0]
    assert volume_to_mm(known.profile_mm, rim_mm) == pytest.approx(known.brim_ml, rel=0.03)


@pytest.mark.parametrize("name", glass_names())
def test_measures_are_those_of_a_glass(name):
    known = glass(name)
    assert known.profile_mm[0][0] == 0
    assert 0.4 <= known.wash_line_share <= 0.95
    assert known.wash_line_habit
    assert "common practice, no published source" in known.standing
    assert all(0 <= radius <= (130 if name in BOWLS else 70) for _, radius in known.profile_mm)
    assert 30 <= known.profile_mm[-1][0] <= 200
    assert (known.stem_mm == 0) == (known.foot_mm == 0)


@pytest.mark.parametrize(("name", "sizes"), PRINTED_ML.items())
def test_the_size_lies_among_the_printed_ones(name, sizes):
    assert sizes[0] <= glass(name).brim_ml <= sizes[1]


def test_all_the_glasses_specs_ask_for_are_there():
    assert set(WANTED) <= set(glass_names())
    assert list(glass_names()) == sorted(glass_names())


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("old fashioned", "rocks"),
        ("Old-Fashioned Glass", "rocks"),
        ("cocktail", "martini"),
        ("saucer", "coupe"),
        ("  COUPE ", "coupe"),
        ("nick_and_nora", "nick and nora"),
        ("Collins glass", "collins"),
        ("copper mug", "mug"),
        ("champagne flute", "flute"),
        ("julep", "julep cup"),
        ("gin copa", "copa"),
    ],
)
def test_glasses_go_by_many_names(typed, name):
    assert glass(typed).name == name


@pytest.mark.parametrize("typed", ["", "bucket", "glass"])
def test_an_unknown_glass_is_none(typed):
    assert glass(typed) is None


def test_no_name_means_two_glasses():
    seen = {}
    for name in glass_names():
        for alias in glass(name).names:
            assert seen.setdefault(alias, name) == name
            assert glass(alias).name == name
