import json
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.problems import Place, Problem, Severity, Span, draw_json, draw_text, error, summary, warning
from tests.strategies import hostile_text


class Texts:
    """Files for drawing, from a mapping; a Place is drawn at its file's first letter."""

    def __init__(self, **files: str) -> None:
        self._files = files

    def text(self, file: str) -> str:
        return self._files.get(file, "")

    def span(self, place: Place) -> Span:
        return Span(place.file, 1, 1, 2)


def drawn(*problems: Problem, prefix: str = "", **files: str) -> str:
    return draw_text(problems, Texts(**files), prefix=prefix, colour=False)


def test_a_problem_quotes_the_users_own_line() -> None:
    text = "---\npour:\n  - 15 ml samfire syrup\n"
    problem = error(
        "unknown-stock",
        'nothing in stock is called "samfire syrup"',
        Span("sour", 3, 11, 24),
        'did you mean "samphire syrup" (stock/syrups.yaml:12)?',
    )
    assert drawn(problem, prefix="specs/", sour=text) == dedent(
        """\
        specs/sour:3:11: error[unknown-stock]: nothing in stock is called "samfire syrup"
          |
        3 |   - 15 ml samfire syrup
          |           ^^^^^^^^^^^^^
          hint: did you mean "samphire syrup" (stock/syrups.yaml:12)?
        """
    )


@pytest.mark.parametrize(
    ("line", "column", "end", "under"),
    [
        ("café: 1", 7, 8, "      ^"),
        ("cafe\u0301: 1", 8, 9, "      ^"),
        ("漢字: gin", 5, 8, "      ^^^"),
        ("gin: 漢字", 6, 8, "     ^^^^"),
        ("\tgin", 2, 5, "\t^^^"),
        ("👩\u200d🚀 gin", 5, 8, "     ^^^"),
        ("gin", 4, 4, "   ^"),
        ("gin", 9, 12, "   ^"),
    ],
)
def test_carets_stand_under_what_is_meant(line: str, column: int, end: int, under: str) -> None:
    text = drawn(warning("w", "m", Span("f", 1, column, end)), f=line)
    assert text.split("\n")[3] == f"  | {under}"


def test_the_gutter_is_as_wide_as_the_number() -> None:
    text = drawn(error("e", "m", Span("f", 100, 1, 2)), f="\n" * 99 + "gin")
    assert text.split("\n")[1:4] == ["    |", "100 | gin", "    | ^"]


def test_a_long_line_is_cut_around_what_is_meant() -> None:
    line = "a" * 300 + " gin " + "b" * 300
    text = drawn(error("e", "m", Span("f", 1, 302, 305)), f=line)
    _, _, shown, under, *_ = text.split("\n")
    assert len(shown) <= 80
    assert shown.startswith("1 | …a")
    assert shown.endswith("b…")
    assert shown[under.index("^") : under.rindex("^") + 1] == "gin"


def test_a_terminal_obeys_nothing_it_is_shown() -> None:
    text = drawn(error("e", "says \x1b[31m \u202e", Span("f", 1, 1, 2), "h\x07"), f="a\x1b[2Jb\u202ec\x00")
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "␛[2J" in text
    assert "hint: h␇" in text


def test_only_colour_uses_the_terminals_codes() -> None:
    problem = error("e", "m", Span("f", 1, 1, 2), "h")
    coloured = draw_text([problem], Texts(f="gin"), prefix="", colour=True)
    assert "\x1b[1;31merror[e]\x1b[0m" in coloured
    assert "\x1b" not in drawn(problem, f="gin")


def test_problems_stand_in_the_order_of_the_files_and_once() -> None:
    first = error("b", "1", Span("a", 1, 1, 2))
    second = error("a", "2", Span("a", 2, 1, 2))
    third = warning("a", "3", Span("b", 1, 1, 2))
    text = drawn(third, second, first, second, a="x\ny", b="z")
    assert [line.split(": ")[-1] for line in text.split("\n") if "[" in line] == ["1", "2", "3"]
    assert summary([third, second, first, second]) == "3 problems in 2 files"
    assert summary([first]) == "1 problem in 1 file"
    assert summary([]) == ""


def test_the_file_as_a_whole_has_no_line_to_quote() -> None:
    assert drawn(error("e", "m", Span("f", 1, 1, 1), "h"), f="gin") == "f:1:1: error[e]: m\n  hint: h\n"
    assert drawn(error("e", "m", Span("nowhere", 7, 1, 2))) == "nowhere:7:1: error[e]: m\n"


def test_json_says_the_same() -> None:
    problem = Problem(
        "e",
        Severity.WARNING,
        'a "quoted" ½',
        Place("f", ("x",)),
        ("h",),
        ((Span("g", 3, 4, 5), "the first"),),
    )
    assert json.loads(draw_json([problem, problem], Texts(f="x: 1"), prefix="house/")) == [
        {
            "file": "house/f",
            "line": 1,
            "column": 1,
            "end_column": 2,
            "severity": "warning",
            "code": "e",
            "message": 'a "quoted" ½',
            "hints": ["h"],
            "also": [{"file": "house/g", "line": 3, "column": 4, "end_column": 5, "message": "the first"}],
        }
    ]
    assert json.loads(draw_json([], Texts(), prefix="")) == []


@pytest.mark.slow
@given(hostile_text(), st.integers(1, 9), st.integers(1, 900), st.integers(0, 900))
def test_any_text_can_be_drawn_and_encoded(text: str, line: int, column: int, length: int) -> None:
    problem = error("e", text, Span("f", line, column, column + length), text)
    shown = drawn(problem, f=text)
    shown.encode("utf-8")
    assert all(letter.isprintable() or letter in "\n\t\ufeff\u200d" or ord(letter) > 0x7F for letter in shown)
    draw_json([problem], Texts(f=text), prefix="").encode("utf-8")
