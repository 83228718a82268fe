"""Comments in notes: what is one, what guests read without it, and what is not quite one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.reading.comments import without_comments
from tests.reading.held import reading_of

SPEC = "---\nname: Sour\npour: 50 ml gin\nglass: coupe\n{more}---\n"


@pytest.mark.parametrize(
    ("written", "read", "comments"),
    [
        ("Short <!-- cold tin --> and dry.", "Short and dry.", ("cold tin",)),
        ("<!-- cold tin -->Short.", "Short.", ("cold tin",)),
        ("<!-- cold tin --> Short.", "Short.", ("cold tin",)),
        ("Short. <!-- cold tin -->", "Short.", ("cold tin",)),
        ("Short.  <!-- cold tin -->\nAnd dry.", "Short.\nAnd dry.", ("cold tin",)),
        ("Short\n<!-- cold tin -->\nand dry.", "Short\nand dry.", ("cold tin",)),
        ("Short.\n\n<!-- cold\n\ntin -->\n\nDry.", "Short.\n\n\nDry.", ("cold\n\ntin",)),
        ("<!-- a --><!-- b -->\n<!-- c -->\nDry.", "Dry.", ("a", "b", "c")),
        ("sal<!-- a -->ine", "saline", ("a",)),
        ("    <!-- a -->\n\nDry.", "Dry.", ("a",)),
        ("```\n<!-- a -->\n```", "```\n```", ("a",)),
        ("Dry.<!---->", "Dry.", ()),
        ("Dry. <!--> x --> y", "Dry. y", ("> x",)),
        (r"Dry \<!-- a \-->", r"Dry \<!-- a \-->", ()),
        (r"Dry \\<!-- a -->", r"Dry \\", ("a",)),
        ("5 < 6 -- and <b>bold</b> - no", "5 < 6 -- and <b>bold</b> - no", ()),
        ("", "", ()),
    ],
)
def test_what_guests_read_of_a_note(written, read, comments):
    found = without_comments(written)
    assert (found.text, found.comments, found.fault) == (read, comments, None)


@pytest.mark.parametrize(
    ("written", "code", "at"),
    [
        ("Dry. <!-- a", "comment-unclosed", "<!--"),
        ("Dry. <!-- a ->", "comment-unclosed", "<!--"),
        ("<!-- a --> Dry <!-- b\n\nmore", "comment-unclosed", "<!-- b"),
        ("Dry <!-- a\n\nmore <!-- b -->", "comment-unclosed", "<!-- a"),
        ("Dry <!- a ->", "comment-form", "<!-"),
        ("Dry <! -- a -->", "comment-form", "<! "),
        ("Dry < !-- a -->", "comment-form", "< !-"),
        ("Dry <-- a -->", "comment-form", "<--"),
        ("Dry. a -->", "comment-form", "-->"),
        ("Dry. a -- >", "comment-form", "-- >"),
        ("<!-- a --> Dry. b -->", "comment-form", "-->"),
        ("<!<!-- a -->-- b -->", "comment-form", "-->"),
    ],
)
def test_what_is_not_quite_a_comment_is_told_where_it_stands(written, code, at):
    fault = without_comments(written).fault
    assert fault is not None
    assert fault.fault.code == code
    place = written.rindex(at) if code == "comment-form" else written.index(at)
    assert written[fault.start : fault.end] == fault.fault.quote
    assert fault.start == place
    assert fault.fault.hint


MARKS = st.lists(
    st.sampled_from(["<!--", "-->", "<", "!", "-", ">", "\\", "a", " ", "\n", "`", "<!"]), max_size=14
)


@given(MARKS.map("".join))
def test_a_note_without_a_fault_holds_no_comment_and_loses_no_other_word(written):
    found = without_comments(written)
    if found.fault is not None:
        assert 0 <= found.fault.start < found.fault.end <= len(written)
        return
    again = without_comments(found.text)
    assert again.text == found.text
    assert again.comments == ()
    words = "".join("".join((found.text, *found.comments)).split())
    marks = written.count("a")
    assert words.count("a") == marks


@pytest.mark.slow
def test_a_very_long_note_of_marks_is_read_at_once():
    for piece in ("<!-- a --> ", "<!--", "-->", "\\", "<!", "a <!-- b"):
        without_comments(piece * 100_000)


def test_comments_are_private_in_every_note_of_a_house():
    spec = SPEC.format(more='translations:\n  fr: {notes: "Vif. <!-- Anne -->"}\n')
    event = (
        "event: Supper\ndate: 2026-12-12\nmenu:\n  - section: All\n    note: Short. <!-- Bea -->\n"
        '    translations:\n      fr: {note: "Court. <!-- Cleo -->"}\n    drinks: [sour]\n'
    )
    bar = "Bright. <!-- Anna -->\n\n## Bar notes\nCold tin. <!-- Dora -->"
    reading = reading_of({"specs/sour.md": spec + bar, "events/supper.yaml": event})
    assert reading.problems == ()
    assert reading.house is not None
    sour, (section,) = reading.house.specs["sour"], reading.house.events["supper"].sections
    assert (sour.guest_notes, sour.translations["fr"].notes, sour.comments) == (
        "Bright.",
        "Vif.",
        ("Anna", "Anne"),
    )
    assert sour.bar_notes == "Cold tin. <!-- Dora -->"
    assert (section.note, section.translations["fr"].note) == ("Short.", "Court.")
    assert section.comments == ("Bea", "Cleo")


def test_bar_notes_begin_at_their_heading_whatever_comment_is_open():
    reading = reading_of(
        {"specs/sour.md": SPEC.format(more="") + "Dry <!-- a\n\n## Bar notes\nCold. -->\nsecret"}
    )
    assert [problem.code for problem in reading.problems] == ["comment-unclosed"]
