"""Contrast of colours, and the nearest colour that has enough of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.writing.contrast import contrast, nearest_passing

colours = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WCAG 2.2, definition of contrast ratio: it ranges from 1 to 21.
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        # The two greys each side of 4.5 on white, as the web's testers know them (from memory).
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
)
def test_contrast_is_that_of_the_standard(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


def moved(colour: str, other: str) -> int:
    return max(abs(int(colour[at : at + 2], 16) - int(other[at : at + 2], 16)) for at in (1, 3, 5))


@pytest.mark.slow
@given(colours, colours, st.sampled_from([3.0, 4.5]))
def test_the_nearest_colour_passes_and_is_no_further_than_it_must_be(colour, other, least):
    found = nearest_passing(colour, other, least)
    assert contrast(found, other) >= least
    enough = min(
        share
        for share in range(511)
        for end in (0, 255)
        if contrast(mixed(colour, end, share / 510), other) >= least
    )
    # Half a step of share is half of one of 255 levels; two levels are room for rounding.
    assert moved(found, colour) <= enough / 2 + 2


def mixed(colour: str, end: int, share: float) -> str:
    channels = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{round(channel + (end - channel) * share):02x}" for channel in channels)


@given(colours, colours)
def test_a_colour_that_passes_stays(colour, other):
    assert nearest_passing(colour, other, 1.0) == colour


@pytest.mark.parametrize(
    ("colour", "other", "lighter"),
    [("#554c40", "#17130f", True), ("#9a9a9a", "#ffffff", False), ("#808080", "#808080", False)],
)
def test_it_goes_the_way_that_is_shorter(colour, other, lighter):
    found = nearest_passing(colour, other, 4.5)
    assert (found > colour) is lighter


def test_what_no_colour_can_reach_is_said():
    assert nearest_passing("#808080", "#767676", 4.7) is None
