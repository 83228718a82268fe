"""Pages in pieces: nothing is lost, nothing is cut in two."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.writing.pieces import LazySequence, PackedPieces, in_pieces

LINES = st.lists(
    st.sampled_from(
        [
            "<p>a</p>",
            "words",
            "",
            '<a href="x">y</a>',
            "<style>",
            "</style>",
            "<!--",
            "-->",
            "é…",
            "<script>x",
        ]
    ),
    max_size=40,
)


@given(LINES, st.integers(1, 60), st.integers(1, 17))
def test_the_pieces_are_the_page(lines, at_least, step):
    page = "\n".join(lines)
    pieces = list(in_pieces((page[at : at + step] for at in range(0, len(page), step)), at_least))
    assert "".join(pieces) == page
    assert all(pieces)
    assert all(piece.startswith("<") for piece in pieces[1:])
    assert "".join(PackedPieces(pieces)) == page


def test_a_short_page_is_one_piece_and_a_long_one_several():
    line = "<p>a drink</p>\n"
    assert list(in_pieces([line] * 5, 1000)) == [line * 5]
    pieces = list(in_pieces([line] * 500, 1000))
    assert len(pieces) > 5
    assert all(1000 - len(line) <= len(piece) <= 2000 for piece in pieces[:-1])


@pytest.mark.parametrize(
    ("opens", "closes"), [("<style>", "</style>"), ("<!--", "-->"), ("<script>", "</script>")]
)
def test_what_is_no_markup_is_never_cut(opens, closes):
    inner = opens + "\n" + "<p>\n" * 90 + closes + "\n"
    page = ("<p>\n" + inner + "<p>\n" * 300) * 3
    pieces = list(in_pieces(page.splitlines(keepends=True), 50))
    assert len(pieces) > 2
    assert all(piece.count(opens) == piece.count(closes) for piece in pieces)


def test_a_row_is_made_when_it_is_looked_at_and_each_time():
    made = []
    row = LazySequence((1, 2, 3), lambda number: made.append(number) or number * 10)
    assert len(row) == 3
    assert not made
    assert list(row) == [10, 20, 30] == list(row)
    assert (row[0], row[-1], list(row[1:])) == (10, 30, [20, 30])
    assert made == [1, 2, 3, 1, 2, 3, 1, 3, 2, 3]
