from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.regions import known_regions, load_region

ON = date(2026, 12, 12)
CODES = [code for code, _ in known_regions()]


def term(code: str, high: float) -> str | None:
    found = load_region(code, ON).descriptor(0, 0, high)
    return found.term if found else None


@pytest.mark.parametrize(
    ("code", "high", "expected"),
    [
        ("GB", 0, "alcohol free"),
        ("GB", 0.05, "alcohol free"),
        ("GB", 0.051, "low alcohol"),
        ("GB", 1.2, "low alcohol"),
        ("GB", 1.21, None),
        ("US", 0, "alcohol-free"),
        ("US", 0.01, None),  # texts on malt beverages and wine say nothing of mixed drinks
        ("EU", 0, "alcohol-free"),
        ("EU", 0.3, None),
        ("DE", 0.3, None),
        ("CA", 1.09, "low alcohol"),
        ("CA", 1.1, None),
        ("AU", 0, "alcohol-free"),
        ("AU", 1.15, "low alcohol"),
        ("NZ", 1.16, None),
    ],
)
def test_words_hold_up_to_their_limit(code, high, expected):
    assert term(code, high) == expected


def test_only_a_word_for_no_alcohol_counts_as_alcohol_free():
    gb = load_region("GB", ON)
    assert gb.descriptor(0, 0, 0.05).alcohol_free
    assert not gb.descriptor(0, 0.5, 1.0).alcohol_free


def test_the_upper_bound_decides():
    assert load_region("GB", ON).descriptor(0.0, 0.04, 0.06).term == "low alcohol"


def test_bounds_have_to_be_in_order():
    with pytest.raises(ValueError, match="out of order"):
        load_region("GB", ON).descriptor(1, 0.5, 2)


@given(st.sampled_from(CODES), st.floats(0, 20))
def test_a_word_offered_is_a_word_whose_rule_holds(code, high):
    region = load_region(code, ON)
    found = region.descriptor(0, 0, high)
    if found:
        assert any(
            word.term == found.term and word.allowed and word.holds(high) for word in region.descriptors
        )
        assert high <= 1.2
        if found.alcohol_free:
            assert high <= 0.05


def test_our_own_rule_is_marked_as_ours():
    (word,) = [
        word
        for word in load_region("EU", ON).descriptors
        if word.group == "alcohol-free" and not word.only_for
    ]
    assert word.limit_percent == 0
    assert word.why.startswith("no general threshold found")
    assert word.source == ("own-caution",)


@pytest.mark.parametrize(
    "name",
    [
        "Alcohol-free Spritz",
        "alcohol free spritz",
        "ALCOHOL\u2010FREE",
        "Spritz 0 %",
        "Spritz 0%",
        "0.0% Sour",
        "0,0 % Sour",
        "Zero-Proof Negus",
        "Virgin Collins",
        "Sober Islander",
        "No Alcohol Here",
        "Non-alcoholic Punch",
        "Nonalcoholic Punch",
        "Spritz sans alcool",
        "Alkoholfreier Punsch",
        "Mocktail of the Day",
    ],
)
def test_claims_of_no_alcohol_are_found(name):
    (claim,) = load_region("EU", ON).claims(name)
    assert name[claim.start : claim.end] == claim.phrase
    assert claim.holds(0)
    assert not claim.holds(0.3)


@pytest.mark.parametrize(
    "name",
    [
        "Dry Sherry Cobbler",
        "50 % Orchard",
        "10% Club",
        "5.0 % Cider Cup",
        "Virginia Creeper",
        "Extra Virgin Sour",
        "Olive & Virgin Olive Oil",
        "Light Wine Cup",
        "Soberton",
        "Harbour Light",
        "",
    ],
)
def test_names_that_claim_nothing(name):
    assert load_region("EU", ON).claims(name) == ()


def test_claims_take_the_limit_of_the_place():
    (gb,) = load_region("GB", ON).claims("Virgin Punch")
    assert (gb.limit_percent, gb.operator, gb.allowed) == (0.05, "<=", True)
    (eu,) = load_region("EU", ON).claims("Virgin Punch")
    assert (eu.limit_percent, eu.operator) == (0, "=")
    (low,) = load_region("GB", ON).claims("Low-alcohol Punch")
    assert (low.limit_percent, low.holds(1.2), low.holds(1.3)) == (1.2, True, False)


def test_a_word_the_place_does_not_want_is_never_true():
    (claim,) = load_region("GB-ENG", ON).claims("Non-alcoholic Gin Fizz")
    assert (claim.limit_percent, claim.allowed) == (None, False)
    assert not claim.holds(0)
    assert "non-alcoholic gin" in claim.why


def test_light_says_something_only_where_the_data_say_so():
    (claim,) = load_region("CA-ON", ON).claims("Light Wine Cup")
    assert (claim.limit_percent, claim.operator) == (9, "<=")
    assert load_region("GB", ON).claims("Light Wine Cup") == ()


def test_two_claims_in_one_name_stand_in_order():
    found = load_region("GB", ON).claims("Low Alcohol or Alcohol-Free Cup")
    assert [claim.term for claim in found] == ["low-alcohol", "alcohol-free"]


@given(st.sampled_from(CODES), st.text(max_size=60))
def test_any_text_can_be_looked_through(code, text):
    for claim in load_region(code, ON).claims(text):
        assert text[claim.start : claim.end] == claim.phrase
