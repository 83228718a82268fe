"""One tree, four forms: what a bar's own list needs is one function that builds it."""

import re
from html import unescape
from unicodedata import east_asian_width

import pytest
from markdown_it import MarkdownIt

from menugen.report import (
    Block,
    Column,
    Item,
    Items,
    Note,
    Plot,
    Report,
    Row,
    Rows,
    Section,
    Table,
    as_html,
    as_markdown,
    as_text,
)

HOSTILE = "</style><script>alert('1')</script> | *loud* `x`\n# head"


def packing_list(*, alarm: bool = True) -> Report:
    """Return the glasses to pack for an event: the kind of list a bar wants for itself."""
    glasses = Table(
        (
            Column("glass"),
            Column("drinks", right=True),
            Column("to pack", right=True),
        ),
        (("coupe", 4, "48 (2 crates)"), ("highball with a thick foot", 11, 132)),
        strong=frozenset({1}),
    )
    crates = Rows((Row("Crates", "8 of 24"), Row("", "one is half empty")))
    missing = Items((Item("4 rocks glasses", ("two are chipped", "two were lost")), Item("1 jug")))
    return Report(
        "Harbour Night: glasses",
        (Note("For 60 guests, two drinks each."),),
        (
            Section("To pack", (glasses, crates), value="180 in all"),
            Section("NOT IN THE HOUSE", (missing,), alarm=alarm),
            Section(blocks=(Note("Counted by hand."), Plot("o\n-"))),
        ),
    )


def test_as_text():
    assert (
        as_text(packing_list())
        == """\
Harbour Night: glasses
For 60 guests, two drinks each.

To pack                                                               180 in all
  glass                       drinks        to pack
  coupe                            4  48 (2 crates)
  highball with a thick foot      11            132
Crates        8 of 24
              one is half empty

!! NOT IN THE HOUSE
!!   4 rocks glasses
!!     two are chipped
!!     two were lost
!!   1 jug

Counted by hand.
o
-"""
    )


def test_as_markdown():
    assert (
        as_markdown(packing_list())
        == """\
## Harbour Night: glasses

For 60 guests, two drinks each.

### To pack: 180 in all

| glass | drinks | to pack |
| --- | --: | --: |
| coupe | 4 | 48 (2 crates) |
| highball with a thick foot | 11 | 132 |

- Crates: 8 of 24
  - one is half empty

### ⚠ NOT IN THE HOUSE

- 4 rocks glasses
  - two are chipped
  - two were lost
- 1 jug

Counted by hand.

```
o
-
```"""
    )


def test_as_html():
    page = as_html(packing_list(), why="It says what glasses cost.")
    body = page[page.index("<body>") :]
    assert "<title>Harbour Night: glasses (private)</title>" in page
    assert "Private: for the bar, not for the website. It says what glasses cost." in body
    assert '<th scope="col" class="right">drinks</th>' in body
    assert '<td dir="auto">coupe</td><td dir="auto" class="right">4</td>' in body
    assert '<tr class="strong"><td dir="auto">highball' in body
    assert '<dt>Crates</dt><dd dir="auto">8 of 24</dd><dd dir="auto">one is half empty</dd>' in body
    assert '<h2 id="s1" class="alarm" dir="auto">NOT IN THE HOUSE</h2>' in body
    assert '<li dir="auto">4 rocks glasses\n<ul>\n<li dir="auto">two are chipped</li>' in body
    assert "<pre>o\n-</pre>" in body


@pytest.mark.parametrize("width", [40, 60, 80, 100])
def test_no_line_is_wider_than_the_terminal_and_no_word_is_lost(width):
    name = "a very long name of a drink that somebody typed on a phone late one night"
    lines = Table(
        (Column(right=True, least=10), Column(right=True, least=8), Column(), Column()),
        (("50 ml", "1 3/4 oz", "gin", f"{name}, 40 % vol"), ("2 dashes", "1.6 ml", name[:40], "on top")),
    )
    blocks = (lines, Rows((Row("Served", name * 2),)), Items((Item(name, (name,)),)), Note(name))
    text = as_text(Report(name, blocks, (Section(name, blocks, alarm=True, value="12 %"),)), width=width)
    assert max(map(len, text.splitlines())) <= max(width, 10 + 2 + 2 + 8 + 2 + 40 + 3)
    assert " ".join(text.split()).count("late one night") >= 6


def test_a_table_without_room_for_its_last_cell_sets_it_below():
    table = Table((Column(), Column()), (("x" * 40, "on top of it all"),))
    assert as_text(Report(lead=(table,)), width=48).splitlines() == [
        "  " + "x" * 40,
        " " * 12 + "on top of it all",
    ]


def test_a_cell_with_a_bound_is_cut_or_stands_alone():
    rows = (("gin and a name", 1),)
    cut = Table((Column(most=5, cut=True, gap=0), Column(right=True, least=3, gap=0)), rows)
    assert as_text(Report(lead=(cut,))) == "gin a  1"
    alone = Table((Column(most=5, gap=2), Column(right=True, least=3, gap=0)), rows)
    assert as_text(Report(lead=(alone,))) == "  gin and a name\n         1"


def test_bold_marks_titles_and_what_is_loud_and_nothing_is_said_by_it_alone():
    report = Report(
        "Title", (Rows((Row("Lost", "milk", loud=True), Row("Kept", "gin"))),), (Section("Head"),)
    )
    bold = as_text(report, bold=True)
    assert re.findall(r"\x1b\[1m(.*?)\x1b\[0m", bold) == ["Title", "Lost          milk", "Head"]
    assert re.sub(r"\x1b\[\d?m", "", bold) == as_text(report)


def test_a_figure_stays_with_its_unit_at_a_fold():
    text = as_text(Report(lead=(Rows((Row("Served", f"{'x' * 62} 18\N{NO-BREAK SPACE}%"),)),)))
    assert text.splitlines()[1].strip() == "18 %"


def _everywhere(text: str) -> tuple[Block, ...]:
    return (
        Note(text),
        Rows((Row(text, text),)),
        Items((Item(text, (text,)),)),
        Table((Column(text), Column(text)), ((text, text),)),
        Plot(text, words=text),
    )


def test_no_users_text_is_markup_in_any_form():
    report = Report(HOSTILE, _everywhere(HOSTILE), (Section(HOSTILE, _everywhere(HOSTILE), value=HOSTILE),))
    page = as_html(report, title=HOSTILE, why=HOSTILE)
    assert "<script" not in page
    assert page.count("</style>") == 1
    outside = re.sub(r"```.*?```", "", as_markdown(report), flags=re.DOTALL)
    assert not re.search(r"^# head|(?<!\\)<script|(?<!\\)\*loud", outside, re.MULTILINE)
    text = as_text(Report(lead=(Note("a\x1b[2Jb"), Rows((Row("x", "\x1b[2J"),)), Plot("\x1b[2J"))))
    assert "\x1b" not in text


def test_a_drawing_cannot_leave_its_fence():
    markdown = as_markdown(Report(lead=(Plot("```\n# out\n```"),)))
    assert markdown.splitlines()[0] == "````"
    assert markdown.splitlines()[-1] == "````"


def test_a_plot_shows_its_drawing_on_a_page_and_its_letters_at_a_terminal():
    plot = Plot("o---", wide="<svg>w</svg>", narrow="<svg>n</svg>", words="Each scale is fitted.")
    page, text = as_html(Report("Life", (plot,))), as_text(Report("Life", (plot,)))
    assert '<div class="wide"><svg>w</svg></div>\n<div class="narrow"><svg>n</svg></div>' in page
    assert '<p class="small">Each scale is fitted.</p>' in page
    assert "o---" not in page
    assert text == "Life\no---"


def test_on_a_narrow_terminal_a_bounded_column_is_no_wider_than_its_cells():
    table = Table(
        (Column(most=34, cut=True), Column(right=True, least=8, gap=0), Column()), (("gin", "25 ml", "spec"),)
    )
    assert as_text(Report(lead=(table,))) == f"  {'gin':<34}   25 ml  spec"
    assert as_text(Report(lead=(table,)), width=60) == "  gin   25 ml  spec"


def test_a_row_of_a_table_that_stands_out_is_bold():
    table = Table((Column("name"),), (("this",), ("that",)), strong=frozenset({1}))
    assert as_text(Report(lead=(table,)), bold=True) == "  name\n  this\n\x1b[1m  that\x1b[0m"


def test_an_empty_table_is_nothing_in_any_form():
    report = Report(lead=(Table((Column("name"), Column("to pack")), ()),))
    assert as_text(report) == as_markdown(report) == ""
    assert "<table" not in as_html(report)


@pytest.mark.parametrize(
    "name",
    [
        "Gin &copy; Co",
        "> Sour",
        "10. Bell",
        "7) Bell",
        "+ Bell",
        "- Bell",
        "# Bell",
        "*Salt* _Bell_ `x` a|b <i>",
        "[x](y)",
    ],
)
def test_markdown_shows_a_name_as_it_is_written_at_the_start_of_a_line_and_in_it(name):
    said = as_markdown(Report(lead=(Note(name), Items((Item(name, (name,)),)))))
    html = MarkdownIt("commonmark").enable("table").render(said)
    assert unescape(re.sub(r"<[^>]*>", "", html)).split() == [*name.split()] * 3
    assert as_markdown(Report(lead=(Note("15 -> 20 ml, 1.5 units"),))) == "15 -> 20 ml, 1.5 units"


def test_a_letter_two_cells_wide_counts_for_two_and_no_word_is_lost():
    def cells(line: str) -> int:
        return sum(2 if east_asian_width(letter) in "WF" else 1 for letter in line)

    for text in ("海霧の鐘" * 40, "a" + "鐘" * 79, "Bell 鐘 " * 30):
        folded = as_text(Report(lead=(Note(text, hang=7, cut=True), Items((Item(text, (text,)),)))))
        assert max(map(cells, folded.split("\n"))) <= 80
        assert "".join(folded.split()) == "".join(text.split()) * 3
    assert as_text(Report(lead=(Note("x" * 90),))) == "x" * 90, "an address is to be copied whole"
