import pytest
from hypothesis import given

from menugen.measures import (
    Fault,
    Size,
    parse_concentration,
    parse_cube,
    parse_density,
    parse_number,
    parse_size,
    parse_strength,
    parse_sulphites,
    parse_volume,
)
from tests.strategies import hostile_text


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("700 ml", Size(700, None)),
        ("70cl", Size(700, None)),
        ("1.5 l", Size(1500, None)),
        ("1 kg", Size(None, 1000)),
        ("4 g", Size(None, 4)),
        ("½ l", Size(500, None)),
    ],
)
def test_sizes(text: str, size: Size) -> None:
    assert parse_size(text) == size


def test_a_volume_is_no_weight() -> None:
    assert parse_volume("25 ml") == 25
    assert parse_volume("2 oz", ounce="us") == pytest.approx(59.147, abs=0.001)
    assert isinstance(parse_volume("4 g"), Fault)


@pytest.mark.parametrize(
    ("text", "percent"),
    [
        ("24 %", 24),
        ("24%", 24),
        ("24% vol", 24),
        ("24 % ABV", 24),
        ("0 %", 0),
        ("0.5%", 0.5),
        ("80 proof", 40),
        ("100 %", 100),
    ],
)
def test_strengths(text: str, percent: float) -> None:
    assert parse_strength(text) == percent


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("240 g/l", 240, "g/l"),
        ("240 g per litre", 240, "g/l"),
        ("50 brix", 50, "brix"),
        ("50 °Bx", 50, "brix"),
        ("12 %", 12, "% mass"),
        ("11 g/100 ml", 11, "g/100 ml"),
        ("11g/100ml", 11, "g/100 ml"),
        ("0 g/l", 0, "g/l"),
    ],
)
def test_concentrations(text: str, value: float, unit: str) -> None:
    assert parse_concentration(text) == (value, unit)


def test_a_cube_of_ice_by_its_side_or_its_weight() -> None:
    assert parse_cube("25 mm") == parse_cube("2.5 cm") == pytest.approx(14.328, abs=0.001)
    assert parse_cube("14 g") == 14
    for text in ("4 mm", "13 cm", "0.01 g", "1600 g", "25", "25 ml"):
        assert isinstance(parse_cube(text), Fault), text


def test_a_size_has_an_end() -> None:
    assert parse_size("1000 l") == Size(1_000_000, None)
    assert parse_size("1000 kg") == Size(None, 1_000_000)
    for text in ("1001 l", "1001 kg"):
        assert isinstance(parse_size(text), Fault), text


def test_a_density_is_a_drinks() -> None:
    assert parse_density("0.7 g/ml") == 0.7
    assert parse_density("1.7 kg/l") == 1.7
    for text in ("0.69 g/ml", "1.71 g/ml"):
        assert isinstance(parse_density(text), Fault), text


def test_density_and_sulphites() -> None:
    assert parse_density("1.03 g/ml") == 1.03
    assert parse_sulphites("35 mg/l") == parse_sulphites("35 ppm") == 35


@pytest.mark.parametrize(
    ("parse", "text", "code", "hint"),
    [
        (parse_size, "700", "size-form", '"700 ml" or "700 kg"'),
        (parse_size, "0 ml", "figure-out-of-range", ""),
        (parse_size, "1e9 l", "size-form", ""),
        (parse_size, "7,5 cl", "decimal-comma", '"7.5"'),
        (parse_volume, "180", "size-form", '"180 ml"'),
        (parse_strength, "24", "strength-form", '"24 %"'),
        (parse_strength, "70° proof", "strength-form", "the US scale"),
        (parse_strength, "101 %", "figure-out-of-range", ""),
        (parse_strength, "201 proof", "figure-out-of-range", ""),
        (parse_strength, "-1 %", "measure-not-positive", "0 or more"),
        (parse_concentration, "-5 g/l", "measure-not-positive", "0 or more"),
        (parse_sulphites, "-5 mg/l", "measure-not-positive", "0 or more"),
        (parse_size, "-5 ml", "measure-not-positive", "above 0"),
        (parse_strength, "strong", "strength-form", '"24 %"'),
        (parse_concentration, "240", "concentration-form", '"240 g/l"'),
        (parse_concentration, "101 brix", "figure-out-of-range", ""),
        (parse_concentration, "24 % vol", "concentration-form", ""),
        (parse_density, "10 g/ml", "figure-out-of-range", "water has 1"),
        (parse_density, "1.03", "density-form", '"1.03 g/ml"'),
        (parse_sulphites, "35 g/l", "sulphites-form", '"35 mg/l"'),
        (parse_sulphites, "9999 mg/l", "figure-out-of-range", ""),
        (parse_number, "1 l", "not-a-number", ""),
    ],
)
def test_faults_say_what_to_write(parse: object, text: str, code: str, hint: str) -> None:
    found = parse(text)  # type: ignore[operator]
    assert isinstance(found, Fault)
    assert found.code == code
    assert hint in found.hint


@pytest.mark.slow
@given(hostile_text())
def test_any_text_gives_a_figure_in_range_or_a_fault(text: str) -> None:
    for parse, most in (
        (parse_strength, 100),
        (parse_density, 1.7),
        (parse_sulphites, 2000),
        (parse_volume, 1e6),
    ):
        figure = parse(text)
        assert isinstance(figure, Fault) or 0 <= figure <= most
    dissolved = parse_concentration(text)
    assert isinstance(dissolved, Fault) or 0 <= dissolved[0] <= 2000
