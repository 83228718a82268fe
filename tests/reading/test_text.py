import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.problems import Span
from menugen.reading import decode
from menugen.reading.text import span_of
from tests.reading.held import codes, reading_of


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system_are_one(ending: str) -> None:
    house = f"name: A{ending}rules:{ending}  - Ask for water.{ending}"
    reading = reading_of({"house.yaml": house.encode()})
    assert reading.problems == ()
    assert reading.house is not None
    assert reading.house.rules == ("Ask for water.",)


def test_a_byte_order_mark_is_passed_over() -> None:
    assert decode(b"\xef\xbb\xbfname: A", "a").text == "name: A"
    assert (
        codes({"specs/a.md": b"\xef\xbb\xbf---\r\nname: A\r\npour: 50 ml gin\r\nglass: coupe\r\n---\r\n"})
        == []
    )


@pytest.mark.parametrize(
    ("content", "where"),
    [
        (b"name: caf\xe9\n", Span("a", 1, 10, 11)),
        (b"a\r\nb: \xc3\xa9\xff", Span("a", 2, 5, 6)),
        (b"\xef\xbb\xbfx\xff", Span("a", 1, 2, 3)),
        (b"\xc3", Span("a", 1, 1, 2)),
        ("name: A".encode("utf-16"), Span("a", 1, 1, 1)),
        ("name: A".encode("utf-16-be"), Span("a", 1, 1, 2)),
    ],
)
def test_other_encodings_are_told_with_the_first_byte_at_fault(content: bytes, where: Span) -> None:
    problem = decode(content, "a").problem
    assert problem is not None
    assert problem.where == where
    assert problem.code in {"not-utf8", "control-character"}


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\ufffe"])
def test_invisible_characters_are_told_with_their_place(letter: str) -> None:
    problem = decode(f"a\nbc{letter}".encode(), "a").problem
    assert problem is not None
    assert (problem.code, problem.where) == ("control-character", Span("a", 2, 3, 4))
    assert f"U+{ord(letter):04X}" in problem.message


def test_tabs_and_letters_of_any_script_are_no_control_characters() -> None:
    assert decode("a\tb é 漢字 العربية 👩\u200d🚀".encode(), "a").problem is None


@given(st.text(alphabet="ab\n", max_size=30), st.integers(0, 30), st.integers(0, 30))
def test_a_span_is_the_same_stretch_of_its_line(text: str, start: int, length: int) -> None:
    start = min(start, len(text))
    span = span_of(text, "a", start, min(start + length, len(text)))
    line = text.split("\n")[span.line - 1]
    assert line[span.column - 1 : span.end - 1] == text[start : start + length].partition("\n")[0]
