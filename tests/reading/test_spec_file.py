from textwrap import dedent

import pytest

from menugen.problems import Place
from menugen.reading import read_spec
from menugen.records import Line, Measure, MethodStep, Role, Spec
from tests.reading.held import codes, told

SOUR = """\
---
name: Saltmarsh Sour
pour:
  - 50 ml gin
  - 25 ml lemon juice
  - 1 egg white
method: [dry shake, shake 12 s]
strain: fine
glass: coupe
garnish: lemon twist
top: soda water
swap:
  egg white: 20 ml aquafaba
  gin: [juniper water, 40 ml rum]
---
Bright, saline and silky.

## Bar notes
Ten seconds dry.
"""


def read(front: str, body: str = "") -> Spec:
    reading = read_spec(f"---\n{dedent(front)}---\n{body}", "specs/a.md", "trade")
    assert reading.problems == ()
    assert reading.spec is not None
    return reading.spec


def pours(*lines: str, more: str = "") -> Spec:
    return read("name: A\npour:\n" + "".join(f"  - {line}\n" for line in lines) + "glass: coupe\n" + more)


def test_a_spec_becomes_a_record() -> None:
    spec = read_spec(SOUR, "specs/saltmarsh-sour.md", "trade").spec
    assert spec is not None
    place = Place("specs/saltmarsh-sour.md")
    assert (spec.slug, spec.name, spec.glass, spec.strain, spec.ice) == (
        "saltmarsh-sour",
        "Saltmarsh Sour",
        "coupe",
        "fine",
        "",
    )
    assert spec.method == (MethodStep("dry shake"), MethodStep("shake", 12.0))
    assert spec.lines[0] == Line(
        "gin",
        Measure("50 ml", "ml", volume_ml=50.0),
        Role.POUR,
        "",
        Place(place.file, ("pour", 0), quote="gin"),
    )
    assert [line.role for line in spec.lines] == [Role.POUR] * 3 + [Role.GARNISH, Role.TOP]
    assert (spec.guest_notes, spec.bar_notes) == ("Bright, saline and silky.", "Ten seconds dry.")
    assert spec.place == place


def test_a_swap_without_a_measure_has_that_of_the_line_it_replaces() -> None:
    spec = read_spec(SOUR, "specs/saltmarsh-sour.md", "trade").spec
    assert spec is not None
    assert [(swap.replaces, swap.line.name, swap.line.measure.volume_ml) for swap in spec.swaps] == [
        ("egg white", "aquafaba", 20.0),
        ("gin", "juniper water", 50.0),
        ("gin", "rum", 40.0),
    ]
    assert all(swap.line.role is Role.POUR for swap in spec.swaps)


def test_a_name_alone_under_top_is_topped_up() -> None:
    top = pours("50 ml gin", more="top: [soda water, 30 ml cider, 2 cherries]\n").lines[1:]
    assert [line.measure for line in top] == [
        Measure("", "top"),
        Measure("30 ml", "ml", volume_ml=30.0),
        Measure("2", "each", count=2.0),
    ]


def test_top_with_among_the_pours_is_a_top() -> None:
    line = pours("50 ml gin", "top with soda water").lines[1]
    assert (line.role, line.measure.unit, line.name) == (Role.TOP, "top", "soda water")


def test_a_line_with_keys_says_what_it_does() -> None:
    line = pours("50 ml gin", "{pour: 10 ml dark rum, as: float, note: over a spoon}").lines[1]
    assert (line.role, line.name, line.note, line.place.path) == (
        Role.FLOAT,
        "dark rum",
        "over a spoon",
        ("pour", 1, "pour"),
    )


def test_lines_stand_in_the_order_of_the_file() -> None:
    spec = read("name: A\nrinse: 5 ml absinthe\nglass: coupe\nfloat: 5 ml port\npour: 50 ml gin\n")
    assert [line.role for line in spec.lines] == [Role.RINSE, Role.FLOAT, Role.POUR]


def test_parts_need_what_a_part_is_wherever_it_stands() -> None:
    assert pours("2 parts gin", more="part: 25 ml\n").lines[0].measure.volume_ml == 50.0
    assert codes({"specs/a.md": "---\nname: A\npour: 2 parts gin\nglass: coupe\n---\n"}) == ["part-not-set"]
    faulty = "---\nname: A\npour: 2 parts gin\nglass: coupe\npart: much\n---\n"
    assert codes({"specs/a.md": faulty}) == ["size-form"]


def test_the_ounce_is_the_houses() -> None:
    spec = "---\nname: A\npour: 2 oz gin\nglass: coupe\n---\n"
    reading = read_spec(spec, "specs/a.md", "us")
    assert reading.spec is not None
    assert reading.spec.lines[0].measure.volume_ml == pytest.approx(59.147, abs=0.001)


def test_ice_called_none_is_no_ice() -> None:
    assert pours("50 ml gin", more="ice: none\n").ice == ""
    assert pours("50 ml gin", more="ice: Large Cube\n").ice == "large cube"


def test_a_key_with_nothing_behind_it_is_not_said() -> None:
    spec = pours("50 ml gin", more="strain:\nmelt:\nswap:\ngarnish:\nsource:\n")
    assert (spec.strain, spec.melt_ratio, spec.swaps, spec.source) == ("", None, (), "")
    assert pours("50 ml gin", more="melt: 0.45\n").melt_ratio == 0.45


@pytest.mark.parametrize(
    ("typed", "ratio", "by_weight"),
    [
        ("0.45", 0.45, False),
        ("{before: 90 g, after: 130 g}", 40 / 90, True),
        ("{before: 0.1 kg, after: 145 g}", 0.45, True),
        ("{before: 100 ml, after: 145 ml}", 0.45, False),
        ("{before: 100 ml, after: 100 ml}", 0.0, False),
    ],
)
def test_the_house_may_state_what_it_measured(typed: str, ratio: float, by_weight: bool) -> None:
    spec = pours("50 ml gin", more=f"melt: {typed}\n")
    assert spec.melt_ratio == pytest.approx(ratio)
    assert spec.melt_by_weight is by_weight


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("{before: 90 g}", "missing-key"),
        ("{before: 90 g, after: 130 ml}", "size-form"),
        ("{before: 90 g, after: 80 g}", "figure-out-of-range"),
        ("{before: 10 g, after: 800 g}", "figure-out-of-range"),
        ("{befor: 90 g, after: 130 g}", "unknown-key"),
        ("{before: some, after: 130 g}", "size-form"),
        ("{before: [90 g], after: 130 g}", "wrong-shape"),
        ("[0.4, 0.5]", "wrong-shape"),
    ],
)
def test_a_measure_of_melting_that_cannot_be_is_told(typed: str, code: str) -> None:
    text = f"---\nname: A\npour: 50 ml gin\nglass: coupe\nmelt: {typed}\n---\n"
    assert f"[{code}]" in told({"specs/a.md": text})


def test_all_faults_of_a_spec_are_told_at_once() -> None:
    text = told(
        {
            "specs/a.md": dedent(
                """\
                ---
                pour:
                  - 22,5 ml gin
                  - 2-3 dashes bitters
                method: [shaek]
                glas: coupe
                melt: lots
                ---
                ```
                """
            )
        }
    )
    for code in (
        "missing-key",
        "decimal-comma",
        "measure-range",
        "unknown-choice",
        "unknown-key",
        "fence-unclosed",
    ):
        assert f"[{code}]" in text
    assert 'did you mean "glass"?' in text


def test_a_swap_for_a_faulty_line_is_not_told_twice() -> None:
    front = "name: A\npour: [22,5 ml gin]\nglass: coupe\nswap: {gin: rum}\n"
    # In a flow list the comma parts two texts, "22" and "5 ml gin".
    assert codes({"specs/a.md": f"---\n{front}---\n"}) == ["name-missing"]
    front = "name: A\npour:\n  - 22,5 ml gin\nglass: coupe\nswap: {gin: rum}\n"
    assert codes({"specs/a.md": f"---\n{front}---\n"}) == ["decimal-comma"]


@pytest.mark.parametrize("heading", ["## Bar notes", "## bar notes ##", "# BAR NOTES", "  ### Bar  notes"])
def test_bar_notes_begin_at_their_heading(heading: str) -> None:
    spec = read("name: A\npour: 50 ml gin\nglass: coupe\n", f"For guests.\n\n{heading}\nFor the bar.\n")
    assert (spec.guest_notes, spec.bar_notes) == ("For guests.", "For the bar.")


def test_a_heading_inside_a_block_of_plain_text_is_part_of_it() -> None:
    body = "For guests.\n\n````\n```\n## Bar notes\n````\n\nMore.\n\n## Bar notes\nFor the bar.\n"
    spec = read("name: A\npour: 50 ml gin\nglass: coupe\n", body)
    assert spec.guest_notes.endswith("More.")
    assert spec.bar_notes == "For the bar."


@pytest.mark.parametrize(
    "line",
    [
        "## Bar note",
        "##Bar notes",
        "**Bar notes**",
        "Bar notes:",
        "bar notes",
        "### Staff notes",
        "# Bar-notes",
    ],
)
def test_what_may_have_been_meant_for_the_bar_does_not_go_to_guests(line: str) -> None:
    spec = f"---\nname: A\npour: 50 ml gin\nglass: coupe\n---\nFor guests.\n\n{line}\nFor the bar.\n"
    assert codes({"specs/a.md": spec}) == ["bar-notes-heading"]


@pytest.mark.parametrize(
    "line", ["Tasting notes of pine.", "## Serving", "- notes of oak", "A bar of notes.", ""]
)
def test_other_words_about_notes_are_let_be(line: str) -> None:
    assert read("name: A\npour: 50 ml gin\nglass: coupe\n", f"For guests.\n\n{line}\n").bar_notes == ""


@pytest.mark.parametrize(("typed", "serves"), [("2", 2), ("10", 10), ('"12"', 12), ("500", 500)])
def test_a_bowl_says_how_many_it_serves(typed: str, serves: int) -> None:
    assert pours("500 ml gin", more=f"serves: {typed}\n").serves == serves


def test_a_drink_that_says_nothing_is_one_guests() -> None:
    assert pours("50 ml gin").serves == 1


@pytest.mark.parametrize(
    ("typed", "code", "hint"),
    [
        ("1", "figure-out-of-range", "take the line out"),
        ("0", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("-4", "number-form", 'write the digits alone, such as "serves: 4"'),
        ("ten", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("a dozen", "number-form", 'write the digits alone, such as "serves: 12"'),
        ("twelve guests", "number-form", 'write the digits alone, such as "serves: 12"'),
        ("8 people", "number-form", 'write the digits alone, such as "serves: 8"'),
        ("about 8", "number-form", 'write the digits alone, such as "serves: 8"'),
        ("7.5", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("7,5", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("8-10", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("many", "number-form", 'write the digits alone, such as "serves: 10"'),
        ("501", "figure-out-of-range", "write 500 or fewer"),
        ("[10]", "wrong-shape", "must be one text"),
        ("{small: 4}", "wrong-shape", "must be one text"),
    ],
)
def test_serves_that_cannot_be_are_told_with_what_to_write(typed: str, code: str, hint: str) -> None:
    text = f"---\nname: A\npour: 500 ml gin\nglass: bowl\nserves: {typed}\n---\n"
    report = told({"specs/a.md": text})
    assert f"specs/a.md:5:{1 if code == 'wrong-shape' else 9}: error[{code}]" in report
    assert hint in report


@pytest.mark.parametrize(
    "key", ["serve", "Serves", "servings", "portions", "people", "guests", "yield", "servs"]
)
def test_other_words_for_serves_are_met_with_the_right_one(key: str) -> None:
    report = told({"specs/a.md": f"---\nname: A\npour: 500 ml gin\nglass: bowl\n{key}: 10\n---\n"})
    assert f'error[unknown-key]: "{key}" is not a key known here' in report
    assert 'did you mean "serves"?' in report
