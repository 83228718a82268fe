"""What a note may bring onto a page: words, and links that lead somewhere safe."""

import re
from html import unescape

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from menugen.writing.notes import block_html, inline_html, is_safe_link, opening_html

DEAD = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '<a href="javascript:alert(1)">tap</a>',
    "<!-- a remark -->",
    "<b>bold</b>",
    "[tap](javascript:alert(1))",
    "[tap](JaVaScRiPt:alert(1))",
    "[tap](javascript&colon;alert(1))",
    "[tap](&#106;avascript:alert(1))",
    "[tap](data:text/html;base64,PHNjcmlwdD4=)",
    "[tap](vbscript:x)",
    "[tap](file:///etc/passwd)",
    "[tap](http://example.org/)",
    "[tap](//example.org/x)",
    "[tap](/\\example.org/x)",
    "[tap](\\\\example.org/x)",
    "[tap](/elsewhere.html)",
    "[tap][1]\n\n[1]: //example.org/x",
    "<http://example.org/>",
    "<javascript:alert(1)>",
    "![a lamp](https://example.org/lamp.png)",
    "![a lamp](lamp.png)",
]


@pytest.mark.parametrize("markdown", DEAD)
def test_markup_pictures_and_unsafe_links_are_dead(markdown):
    for html in (str(inline_html(markdown)), str(block_html(markdown))):
        assert set(re.findall(r"<([a-z0-9]+)", html)) <= {"p"}, html
        assert "href" not in html.replace("href=&quot;", "")


@pytest.mark.parametrize(
    ("markdown", "html"),
    [
        (
            "see [the coast](https://example.org/a?b=1&c)",
            'see <a href="https://example.org/a?b=1&amp;c">the coast</a>',
        ),
        ("[write](mailto:bar@example.org)", '<a href="mailto:bar@example.org">write</a>'),
        ("[ring](tel:+441632960000)", '<a href="tel:+441632960000">ring</a>'),
        ("[its sister](drinks/ebb-tide.html)", '<a href="../drinks/ebb-tide.html">its sister</a>'),
        ("[below](#ebb-tide)", '<a href="#ebb-tide">below</a>'),
        ("a *wave* and a **tide**", "a <em>wave</em> and a <strong>tide</strong>"),
        ("![a lamp](lamp.png) lit", "a lamp lit"),
        ("one\n\ntwo\nthree", "one two three"),
        ("Wick & Tide", "Wick &amp; Tide"),
    ],
)
def test_what_survives_in_one_paragraph(markdown, html):
    assert str(inline_html(markdown, root="../")) == html


@pytest.mark.parametrize(
    ("written", "placed"),
    [
        ("# One\n\n## Two\n\n###### Six\n\n## Two", ["h2", "h3", "h4", "h3"]),
        ("### Three\n\n# One\n\n### Three", ["h2", "h2", "h3"]),
        ("## Two\n\n## Two", ["h2", "h2"]),
    ],
)
def test_headings_stand_under_the_pages_own_and_skip_no_level(written, placed):
    html = str(block_html(written))
    assert re.findall(r"<(h\d)>", html) == placed
    assert re.findall(r"</(h\d)>", html) == placed


@given(st.text(max_size=80))
def test_no_text_breaks_out(text):
    html = str(block_html(text)) + str(inline_html(text))
    tags = {
        "p",
        "em",
        "strong",
        "code",
        "pre",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "ul",
        "ol",
        "li",
        "blockquote",
        "hr",
        "br",
        "a",
    }
    assert set(re.findall(r"</?([A-Za-z!][A-Za-z0-9]*)", html)) <= tags


@given(st.text(max_size=30))
def test_a_safe_link_has_no_scheme_but_three(address):
    if is_safe_link(address) and re.match(r"[A-Za-z][A-Za-z0-9+.-]*:", address):
        assert address.lower().startswith(("https:", "mailto:", "tel:"))


def seen(html: str) -> str:
    return unescape(re.sub("<[^<>]*>", "", html))


LONG = "One *two three* four. " * 30


def test_a_long_paragraph_is_cut_after_a_sentence_and_says_that_it_goes_on():
    html, more = opening_html(LONG, 100)
    assert more
    assert html.endswith("One <em>two three</em> four.")
    assert 60 < len(seen(html)) <= 100


def test_without_a_sentence_in_time_it_is_cut_between_words_with_an_ellipsis():
    html, more = opening_html("quiet *slow and [far away](https://example.org/) still* " * 20, 100)
    assert more
    assert seen(html).removesuffix("…") == ("quiet slow and far away still " * 20)[: len(seen(html)) - 1]
    assert re.search(r"\w…(</em>)?$", html)


def test_what_is_open_where_it_is_cut_is_closed():
    html, more = opening_html("*one [two three four five](https://example.org/) six* seven eight nine", 16)
    assert (html, more) == ('<em>one <a href="https://example.org/">two three…</a></em>', True)


@pytest.mark.parametrize("text", ["Cold, dry and salty.", "", "word " * 23])
def test_what_is_hardly_too_long_stays_whole(text):
    assert opening_html(text, 100) == (inline_html(text), False)


def test_a_language_without_spaces_is_cut_as_well():
    html, more = opening_html("字" * 50 + "。" + "字" * 300, 100)
    assert (html, more) == ("字" * 50 + "。", True)
    assert opening_html("字" * 300, 100) == ("字" * 100 + "…", True)


@given(st.text(max_size=400), st.integers(1, 80))
def test_however_it_is_cut_it_stays_words_and_every_tag_is_closed(text, characters):
    html, more = opening_html(text, characters)
    opened = []
    for closes, name in re.findall(r"<(/?)([a-z]+)[^<>]*>", html):
        if closes:
            assert opened.pop() == name
        elif name != "br":
            opened.append(name)
    assert opened == []
    whole = seen(inline_html(text))
    assert (seen(html) == whole) if not more else len(seen(html)) <= characters + 1
    assert "<script" not in html


@given(
    st.text(
        st.sampled_from("ab .,!?'\"&>|~^{}()]#+-=:;$%@/\\*_`éش\u00a0\t\n\0") | st.characters(codec="utf-8")
    )
)
def test_a_sentence_is_written_as_the_library_writes_it(text):
    text = text.replace("[", "(").replace("<", "(")
    written = MarkdownIt("commonmark", {"html": False}).renderInline(" ".join(text.split()))
    assert inline_html(text) == written
    assert opening_html(text, 10_000) == (written, False)
