import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.measures import Fault, ParsedLine, ounce_ml, parse_line
from tests.strategies import hostile_text, lines


def parsed(text: str, **more: object) -> ParsedLine:
    line = parse_line(text, **{"ounce": "trade", "part_ml": None, **more})
    assert isinstance(line, ParsedLine), line
    return line


def fault(text: str) -> Fault:
    line = parse_line(text, ounce="trade", part_ml=None)
    assert isinstance(line, Fault), line
    return line


@pytest.mark.parametrize(
    ("text", "name", "volume_ml"),
    [
        ("45 ml dark rum", "dark rum", 45),
        ("45ml dark rum", "dark rum", 45),
        ("22.5 mL dark rum", "dark rum", 22.5),
        ("1/2 oz rye", "rye", 15),
        ("½ oz rye", "rye", 15),
        ("1 1/2 oz rye", "rye", 45),
        ("1½ oz rye", "rye", 45),
        ("1½oz rye", "rye", 45),
        ("1 ½ fl. oz. rye", "rye", 45),
        ("2 fluid ounces rye", "rye", 60),
        (".5 ounce rye", "rye", 15),
        ("2 dashes aromatic bitters", "aromatic bitters", 1.6),
        ("1 dash of aromatic bitters", "aromatic bitters", 0.8),
        ("a dash of aromatic bitters", "aromatic bitters", 0.8),
        ("dash of aromatic bitters", "aromatic bitters", 0.8),
        ("4 drops saline", "saline", 0.2),
        ("1 barspoon honey", "honey", 5),
        ("2 bar spoons of honey", "honey", 10),
        ("1 bsp honey", "honey", 5),
        ("1 Teaspoon honey", "honey", 5),
        ("2 tbsp honey", "honey", 30),
        ("1 cup milk", "milk", 240),
        ("1 splash soda water", "soda water", 10),
        ("7 cl wine", "wine", 70),
        ("0.1 litres wine", "wine", 100),
    ],
)
def test_a_volume_and_a_name(text: str, name: str, volume_ml: float) -> None:
    line = parsed(text)
    assert line.name == name
    assert line.volume_ml == pytest.approx(volume_ml)
    assert (line.mass_g, line.count, line.top) == (None, None, False)


@pytest.mark.parametrize(
    ("text", "name", "mass_g"),
    [
        ("4 g sugar", "sugar", 4),
        ("2 pinches of salt", "salt", 0.6),
        ("500 mg salt", "salt", 0.5),
        ("1 kg ice", "ice", 1000),
    ],
)
def test_a_mass_and_a_name(text: str, name: str, mass_g: float) -> None:
    line = parsed(text)
    assert (line.name, line.volume_ml, line.count) == (name, None, None)
    assert line.mass_g == pytest.approx(mass_g)


@pytest.mark.parametrize(
    ("text", "name", "count"),
    [
        ("8 mint leaves", "mint leaves", 8),
        ("1 egg white", "egg white", 1),
        ("lemon twist", "lemon twist", 1),
        ("½ lime", "lime", 0.5),
        ("2 sprigs of mint", "sprigs of mint", 2),
        ("1 clove", "clove", 1),
        ("3 cloves", "cloves", 3),
        ("an olive", "olive", 1),
        ("2 slices lemon", "slices lemon", 2),
        ("1 garden pea shoot", "garden pea shoot", 1),
        ("2 pear slices", "pear slices", 2),
        ("3 grapes halved", "grapes halved", 3),
        ("2 pieces orange", "pieces orange", 2),
        ("1 inch ginger", "inch ginger", 1),
        ("2 Spanish olives", "Spanish olives", 2),
        ("1 punch leaf", "punch leaf", 1),
    ],
)
def test_counted_things(text: str, name: str, count: float) -> None:
    line = parsed(text)
    assert (line.unit, line.name, line.count, line.volume_ml, line.mass_g) == (
        "each",
        name,
        count,
        None,
        None,
    )


def test_the_measure_keeps_what_was_typed() -> None:
    assert parsed("1½ oz rye").text == "1½ oz"
    assert parsed("8 mint leaves").text == "8"
    assert parsed("lemon twist").text == ""


def test_top_with_may_leave_the_amount_open() -> None:
    line = parsed("top with soda water")
    assert (line.top, line.unit, line.text, line.name) == (True, "top", "", "soda water")
    assert (line.volume_ml, line.mass_g, line.count) == (None, None, None)
    assert parsed("Top up with soda water").top
    assert parsed("top with 60 ml soda water").volume_ml == 60


def test_the_ounce_is_the_houses() -> None:
    assert ounce_ml("trade") == 30.0
    # Exact by definition: 231 cubic inches / 128, and 4.54609 l / 160.
    assert ounce_ml("us") == pytest.approx(231 * 2.54**3 / 128, rel=1e-12)
    assert ounce_ml("imperial") == pytest.approx(4546.09 / 160, rel=1e-12)
    assert parsed("2 oz rye", ounce="us").volume_ml == pytest.approx(59.147059125)
    assert parsed("2 oz rye", ounce="imperial").volume_ml == pytest.approx(56.826125)


def test_a_part_is_the_specs() -> None:
    assert parsed("2 parts gin", part_ml=25.0).volume_ml == 50.0
    assert parsed("1 part of gin", part_ml=25.0).unit == "part"
    assert fault("2 parts gin").code == "part-not-set"


@pytest.mark.parametrize(
    ("text", "code", "hint"),
    [
        ("", "empty-value", "45 ml"),
        ("2-3 dashes bitters", "measure-range", '"2 dashes"'),
        ("2 – 3 dashes bitters", "measure-range", "2 dashes"),
        ("2 to 3 dashes bitters", "measure-range", "2 dashes"),
        ("1½-2 oz gin", "not-a-number", "1 1/2"),
        ("22,5 ml gin", "decimal-comma", '"22.5"'),
        ("1,000 ml gin", "decimal-comma", '"1000" for thousands'),
        ("0 ml gin", "measure-not-positive", "above 0"),
        ("0/2 oz gin", "measure-not-positive", "above 0"),
        ("-5 ml gin", "measure-not-positive", "above 0"),
        ("6 l gin", "measure-too-large", "one drink"),
        ("9" * 190 + " ml", "name-missing", ""),
        ("9" * 180 + " ml gin", "measure-too-large", "one drink"),
        ("600 mint leaves", "measure-too-large", "one drink"),
        ("25 mls gin", "unknown-unit", '"25 ml gin"'),
        ("1 barspon of syrup", "unknown-unit", '"1 barspoon syrup"'),
        ("2 tbs sugar", "unknown-unit", '"2 tbsp sugar"'),
        ("2 ozs gin", "unknown-unit", '"2 oz gin"'),
        ("3 dashs bitters", "unknown-unit", '"3 dash bitters"'),
        ("1 Tablespon sugar", "unknown-unit", '"1 tablespoon sugar"'),
        ("1 shot of espresso", "unknown-unit", '"25 ml espresso"'),
        ("gin 45 ml", "measure-after-name", '"45 ml gin"'),
        ("gin: 45ml", "measure-after-name", '"45 ml gin"'),
        ("45 ml", "name-missing", ""),
        ("3", "name-missing", ""),
        ("1/0 oz gin", "not-a-number", ""),
        ("1 3/2 oz gin", "not-a-number", ""),
        ("1.5.2 ml gin", "not-a-number", ""),
        ("2 x 25 ml gin", "not-a-number", "whole amount"),
        ("٤٥ ml gin", "not-a-number", "0 to 9"),
        ("1 ml " + "gin " * 80, "text-too-long", ""),
    ],
)
def test_faults_say_what_to_write(text: str, code: str, hint: str) -> None:
    found = fault(text)
    assert found.code == code
    assert hint in found.hint
    assert found.quote == "" or found.quote in text


@given(lines())
def test_every_line_a_bartender_writes_is_understood(line: tuple[str, str, float]) -> None:
    text, name, volume_ml = line
    found = parsed(text)
    assert found.name == name
    assert found.volume_ml == pytest.approx(volume_ml)


@given(hostile_text(), st.sampled_from((None, 25.0)))
def test_any_text_gives_one_sound_amount_or_a_fault(text: str, part_ml: float | None) -> None:
    line = parse_line(text, ounce="trade", part_ml=part_ml)
    if isinstance(line, ParsedLine):
        amounts = [amount for amount in (line.volume_ml, line.mass_g, line.count) if amount is not None]
        assert len(amounts) == (0 if line.unit == "top" else 1)
        assert all(0 < amount <= 5000 for amount in amounts)
        assert line.name
        assert line.name == " ".join(line.name.split())
