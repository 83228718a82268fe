"""Strength as guests read it: rounded to what is known, and never down across a legal line."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.menu.strength import LEGAL_LINES, rounded_percent
from menugen.menu.words import ABOUT, UNDER
from menugen.mixing import Figure


@pytest.mark.parametrize(
    ("value", "low", "high", "phrase", "shown"),
    [
        (11.53, 10.8, 12.3, ABOUT, "12"),
        (22.4, 19.0, 24.0, ABOUT, "22"),
        (22.5, 19.0, 24.0, ABOUT, "23"),
        (9.74, 9.0, 10.4, ABOUT, "9.5"),
        (9.75, 9.0, 10.4, ABOUT, "10"),
        (4.2, 4.0, 4.4, ABOUT, "4"),
        (1.62, 1.5, 1.7, ABOUT, "1.5"),
        # In the clear on either side of a line.
        (1.0, 0.95, 1.05, ABOUT, "1.0"),
        (1.36, 1.3, 1.42, ABOUT, "1.4"),
        (0.7, 0.6, 0.8, ABOUT, "0.7"),
        (0.3, 0.2, 0.49, UNDER, "0.5"),
        (0.02, 0.01, 0.03, UNDER, "0.5"),
        # On a line to the last digit, without any doubt: it is what it is.
        (1.2, 1.2, 1.2, ABOUT, "1.2"),
        (0.5, 0.5, 0.5, ABOUT, "0.5"),
        # Rounding would bring it down to a line that it may lie above.
        (1.24, 1.24, 1.24, ABOUT, "1.3"),
        (1.21, 1.15, 1.27, ABOUT, "1.3"),
        (0.54, 0.5, 0.58, ABOUT, "0.6"),
        # Below a line by its value, above it by its error: the error decides.
        (1.16, 1.1, 1.22, ABOUT, "1.3"),
        (0.46, 0.4, 0.52, ABOUT, "0.6"),
        (0.04, 0.02, 0.6, ABOUT, "0.6"),
    ],
)
def test_strength_as_a_guest_reads_it(value, low, high, phrase, shown):
    assert rounded_percent(Figure(value, low, high)) == (phrase, Decimal(shown))


strengths = st.floats(0.0, 60.0, allow_subnormal=False)
shares = st.floats(0.0, 0.2)


@given(strengths, shares, shares)
def test_nothing_that_may_lie_above_a_legal_line_is_shown_at_or_under_it(value, below, above):
    figure = Figure(value, value * (1 - below), value * (1 + above))
    phrase, shown = rounded_percent(figure)
    if phrase == UNDER:
        assert Decimal(repr(figure.high)) < shown
    else:
        for line in LEGAL_LINES:
            assert not shown <= line < Decimal(repr(figure.high))


@given(strengths)
def test_away_from_the_lines_rounding_moves_a_strength_by_half_its_step_at_most(value):
    _, shown = rounded_percent(Figure(value, value, value))
    if value >= 1.5:
        assert abs(float(shown) - value) <= (0.5 if value >= 10 else 0.25) + 1e-9
