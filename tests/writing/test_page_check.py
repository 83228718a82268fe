"""The last look at pages: what it finds, and what it lets pass."""

import pytest

from menugen.writing.page_check import PageCheck
from tests.writing.fixtures import page_faults

HEAD = '<!doctype html>\n<html lang="en"><head><title>x</title><style>a > b{}</style></head><body>'
FOOT = "</body></html>\n"


def page(body: str) -> bytes:
    return f"{HEAD}{body}{FOOT}".encode()


SOUND = {
    "site/index.html": page('<a href="drinks/a.html#top">a</a><a href="#here">b</a><p id="here">c<br>d</p>'),
    "site/drinks/a.html": page(
        '<h1 id="top">a</h1><a href="../index.html">b</a><a href="../t/">c</a><a href="./">d</a><a href="../">e</a>'
        '<a href="https://example.org/gone">f</a><a href="mailto:a@example.org">g</a><svg><use href="#top"/></svg>'
    ),
    "site/t/index.html": page('<label for="x">x</label><input id="x"><a href="../assets/a%20b.css">y</a>'),
    "site/drinks/index.html": page(""),
    "site/assets/a b.css": b"a{}",
}


def test_sound_pages_pass():
    assert page_faults(SOUND) == ()


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        ('<a href="gone.html">x</a>', 'links to "gone.html", which is not there'),
        ('<img src="gone.png">', 'links to "gone.png", which is not there'),
        ('<a href="#gone">x</a>', 'links to "#gone", but there is no such place on that page'),
        ('<a href="drinks/a.html#gone">x</a>', 'links to "drinks/a.html#gone", but there is no such place'),
        ('<a href="../index.html">x</a>', 'links to "../index.html", which is not there'),
        ('<svg><use href="#a-gone"/></svg>', 'links to "#a-gone", but there is no such place'),
        ('<label for="gone">x</label>', 'points to the id "gone", which it does not have'),
        ('<p id="a">x</p><p id="a">y</p>', 'uses the id "a" twice'),
        ("<p>x", 'closes "body" where it is not open'),
        ("<p><b>x</p></b>", 'closes "p" where it is not open'),
        ("</body></html><div>", 'closes "body" where it is not open'),
    ],
)
def test_each_fault_is_named(body, fault):
    found = page_faults({**SOUND, "site/page.html": page(body)})
    assert len(found) == 1
    assert found[0].startswith("site/page.html ")
    assert fault in found[0]


def test_what_is_no_page_is_named():
    assert page_faults({"a.html": b"<p>x</p>"}) == ("a.html does not start as an HTML page",)
    assert page_faults({"a.html": b"<!doctype html><p>"}) == ('a.html never closes "p"',)


@pytest.mark.parametrize(
    ("pieces", "fault"),
    [
        ([HEAD, '<p id="a">x</p>\n', '<p id="a">y</p>\n', FOOT], 'uses the id "a" twice'),
        ([HEAD, "<p>x\n", "</b></p>\n", FOOT], 'closes "b" where it is not open'),
        (
            [HEAD, '<a href="#b">x</a>\n', '<p id="c">y</p>\n', FOOT],
            'links to "#b", but there is no such place',
        ),
        ([HEAD, '<a href="#b">x</a>\n', '<p id="b">y</p>\n', FOOT], ""),
        ([HEAD, "<ul>\n<li>x\n", "</li>\n</ul>\n", FOOT], ""),
        ([HEAD, '<p\nid="a">x</p>\n<a\nhref="#a">y</a>\n', FOOT], ""),
        (
            [HEAD, '<p\nid="a">x</p>\n<a\nhref="#b">y</a>\n', FOOT],
            'links to "#b", but there is no such place',
        ),
    ],
)
def test_a_page_in_pieces_and_tags_over_lines_are_read_alike(pieces, fault):
    check = PageCheck()
    assert list(check.page("a.html", pieces)) == pieces
    found = check.faults({"a.html"})
    assert len(found) == (fault != "")
    assert fault in "".join(map(str, found))
    assert tuple(map(str, found)) == page_faults({"a.html": "".join(pieces).encode()})


def test_of_many_pages_with_one_dead_link_the_first_is_named():
    pages = {f"drinks/{letter}.html": page('<a href="../gone.html">x</a>') for letter in "abc"}
    assert page_faults(pages) == ('drinks/a.html links to "../gone.html", which is not there',)
