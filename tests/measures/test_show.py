import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.measures import OunceKind, ParsedLine, ounce_ml, parse_line, show_ml, show_ounces

OUNCES: tuple[OunceKind, ...] = ("trade", "us", "imperial")


@pytest.mark.parametrize(
    ("volume_ml", "text"),
    [
        (45, "45 ml"),
        (22.5, "22.5 ml"),
        (0.8, "0.8 ml"),
        (0.05, "0.05 ml"),
        (0, "0 ml"),
        (1000, "1000 ml"),
        (7.04, "7 ml"),
    ],
)
def test_millilitres(volume_ml: float, text: str) -> None:
    assert show_ml(volume_ml) == text


@pytest.mark.parametrize(
    ("volume_ml", "text"),
    [
        # The ladder of working measures, 30 ml ounce: common practice, no published source.
        (7.5, "1/4 oz"),
        (10, "1/3 oz"),
        (15, "1/2 oz"),
        (20, "2/3 oz"),
        (22.5, "3/4 oz"),
        (30, "1 oz"),
        (37.5, "1 1/4 oz"),
        (45, "1 1/2 oz"),
        (52.5, "1 3/4 oz"),
        (60, "2 oz"),
        (75, "2 1/2 oz"),
        (90, "3 oz"),
        (120, "4 oz"),
        # Off the ladder: one decimal; a bar spoon stays in millilitres.
        (12.5, "0.4 oz"),
        (17.5, "0.6 oz"),
        (35, "1.2 oz"),
        (50, "1.7 oz"),
        (5, "5 ml"),
        (0.8, "0.8 ml"),
    ],
)
def test_ounces_keep_to_the_bars_ladder(volume_ml: float, text: str) -> None:
    assert show_ounces(volume_ml, "trade") == text


@pytest.mark.parametrize(
    ("volume_ml", "text"), [(22.5, "3/4 oz"), (30, "1 oz"), (44.36, "1 1/2 oz"), (59.15, "2 oz")]
)
def test_the_us_ounce_takes_working_measures_for_what_they_are(volume_ml: float, text: str) -> None:
    assert show_ounces(volume_ml, "us") == text


def _read(text: str, ounce: OunceKind) -> float:
    line = parse_line(f"{text} gin", ounce=ounce, part_ml=None)
    assert isinstance(line, ParsedLine)
    assert line.volume_ml is not None
    return line.volume_ml


@given(st.floats(0.01, 4000), st.sampled_from(OUNCES))
def test_what_is_shown_reads_back_as_nearly_the_same(volume_ml: float, ounce: OunceKind) -> None:
    in_ml = _read(show_ml(volume_ml), ounce)
    assert in_ml == pytest.approx(volume_ml, abs=0.051 if volume_ml >= 1 else 0.0051)
    assert show_ml(in_ml) == show_ml(volume_ml)
    in_ounces = _read(show_ounces(volume_ml, ounce), ounce)
    # A step of the ladder may be missed by 1.6 %, and a decimal of an ounce rounds by half a tenth.
    assert abs(in_ounces - volume_ml) <= 0.017 * volume_ml + 0.051 * ounce_ml(ounce)
    assert show_ounces(in_ounces, ounce) == show_ounces(volume_ml, ounce)
