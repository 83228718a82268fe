"""The last check for private text."""

import re
from html import unescape

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.writing.pieces import in_pieces
from menugen.writing.private import LeakCheck, not_public


def private_texts_in(files, secrets):
    """Return what a check finds in files by path."""
    check = LeakCheck(secrets)
    for path, content in files.items():
        assert "".join(check.text(path, in_pieces((content.decode(),)))) == content.decode()
    return check.found


@pytest.mark.parametrize(
    ("content", "secret", "found"),
    [
        ("<p>Ten seconds <b>dry</b>, twelve with ice.</p>", "Ten seconds dry, twelve with ice", True),
        ("<p>Ten seconds dry</p>", "**Ten** seconds\ndry", True),
        ("<p>from O&#39;Hara &amp; Sons</p>", "O'Hara & Sons", True),
        ('<img alt="Corner Cellars">', "Corner Cellars", True),
        ("<!-- stock/spirits.yaml -->", "stock/spirits.yaml", True),
        ("<p>17.90</p>", "17.90", True),
        ("<p>keep 7.5 ml back</p>", "keep 7.5ml back", True),
        ("<p>keep the “crème de prune” behind</p>", "crème de prune", True),
        ("<p>見せない</p>", "見せない", True),
        ("<p>見せる</p>", "見せない", False),
        ("<p>117.90 or 17.905</p>", "17.90", False),
        ("<p>Ten dry seconds</p>", "Ten seconds dry", False),
        ("<p>Cornered</p>", "Corner", False),
        ('<script>{"x":"from O\'Hara \\u0026 Sons"}</script>', "O'Hara & Sons", True),
        ('{"x": "ten\\tseconds\\ndry"}', "ten seconds dry", True),
        (r"<p>C:\bar\new</p>", r"C:\bar\new", True),
        ("<p>anything</p>", " - ", False),
        ("<p>anything</p>", "", False),
    ],
)
def test_whole_words_are_found_through_markup(content, secret, found):
    assert private_texts_in({"site/index.html": content.encode()}, [secret]) == (
        [("site/index.html", secret)] if found else []
    )


def test_each_file_and_secret_is_named_and_pictures_are_passed_over():
    files = {"a.html": b"<p>north cellar</p>", "b.json": b'"north cellar"', "c.png": b"north cellar"}
    assert private_texts_in(files, ["south cellar", "north cellar", "north cellar"]) == [
        ("a.html", "north cellar"),
        ("b.json", "north cellar"),
    ]


def test_a_text_across_two_pieces_is_found_once_and_half_a_word_is_none():
    check = LeakCheck(["ten seconds dry", "safe"])
    pieces = ["<p>unsafe, and ten\n", "<b>seconds</b> dry</p>\n", "<p>ten seconds dry</p>\n"]
    assert list(check.text("a.html", pieces)) == pieces
    assert check.found == [("a.html", "ten seconds dry")]


def test_of_many_texts_alike_the_one_that_stands_there_is_named():
    secrets = [f"shake for {number} seconds with ice" for number in range(300)]
    files = {
        "a.html": b"<p>Shake for 5 minutes with ice: 7 seconds.</p>",
        "b.html": b"<p>shake for 7 seconds with ice</p>",
    }
    assert private_texts_in(files, secrets) == [("b.html", "shake for 7 seconds with ice")]


@pytest.mark.parametrize("gap", [" ", "\n", "x"])
def test_a_very_long_line_is_searched_to_its_end(gap):
    filling = ("unsafe" + gap) * 150_000
    for text in (
        f"ten seconds dry {filling}",
        f"{filling} ten seconds dry",
        f"{filling} ten seconds dry {filling}",
    ):
        assert len(private_texts_in({"a.json": text.encode()}, ["safe", "ten seconds dry", "safe x"])) == 1


@pytest.mark.slow
@pytest.mark.parametrize("at", range(39_960, 40_040, 3))
def test_a_text_is_found_wherever_a_long_one_is_divided(at):
    text = ("ab " * 40_000)[:at] + " ten seconds dry " + "ab " * 40_000
    assert private_texts_in({"a.json": text.encode()}, ["ten seconds dry"])


@pytest.mark.parametrize(
    ("content", "path", "found"),
    [
        ("<!-- /bar/specs/a.md -->", "/bar", True),
        ('<a href="/bar">', "/bar", True),
        ("file:///houses/bar", "/houses/bar", True),
        ("file: /houses/bar/specs", "/houses/bar", True),
        ('<a href="../bar/x.html">https://menu.example/bar</a>', "/bar", False),
        ("<p>houses bar</p> /barn", "/houses/bar", False),
        (r'{"x": "D:\houses\bar"}', r"D:\houses\bar", True),
    ],
)
def test_a_path_is_found_letter_by_letter_from_its_beginning(content, path, found):
    check = LeakCheck((), (path,))
    assert list(check.text("a.html", (content,))) == [content]
    assert check.found == ([("a.html", path)] if found else [])


def test_what_is_there_without_anybody_having_written_it_is_the_pages_own():
    def looked(*pieces: str) -> LeakCheck:
        check = LeakCheck(["9.50", "cold tin"])
        list(check.text("a.html", pieces))
        list(check.text("b.html", ("<p>9.50</p>",)))
        return check

    seen = looked("<p>9.50</p>\n", "<p>cold</p>")
    assert seen.found == [("a.html", "9.50"), ("b.html", "9.50")]
    assert seen.only_here(looked("<p>9.50</p>\n<p>cold</p>")) == ()
    assert seen.only_here(looked("<p>9.50</p>\n<p>warm</p>")) == (("a.html", "9.50"),)
    assert seen.only_here(looked("<p>9</p>")) == (("a.html", "9.50"),)
    assert looked("9.50 cold tin").only_here(looked("9.50 tin")) == (("a.html", "cold tin"),)
    assert seen.only_here(seen.anew()) == tuple(seen.found)


TEXTS = st.lists(st.text("ab \n", max_size=12), max_size=6)


@given(TEXTS, TEXTS)
def test_a_text_is_told_when_it_is_part_of_a_public_one(secrets, public):
    secrets = [secret for secret in secrets if secret]
    assert not_public(secrets, public) == {
        secret for secret in secrets if not any(secret in text for text in public)
    }


def read_word_by_word(page: str, secrets: list[str]) -> list[str]:
    """Return the private texts of a page as they are found with time to spare: each compared with all of its words."""
    word = re.compile(r"\d+(?:[.,:]\d+)*|\w+")
    variants = {page, re.sub(r"\\(?:u[0-9a-fA-F]{4}|.)", " ", page)}
    shown = {unescape(one) for one in variants}
    shown |= {re.sub(r"<[^<>]*>", " ", one) for one in shown}
    texts = [f" {' '.join(word.findall(one))} " for one in shown]
    return [
        secret
        for secret in dict.fromkeys(secrets)
        if (words := " ".join(word.findall(secret))) and any(f" {words} " in text for text in texts)
    ]


SHREDS = st.sampled_from(
    ["a", "b", "ab", "7", "7.5", "é", " ", " ", "\n", "<b>", "</b>", "<a\nb>", "&amp;", "\\n", "."]
)
PAGES = st.lists(SHREDS, max_size=40).map("".join)
SECRETS = st.lists(
    st.lists(st.sampled_from(["a", "b", "ab", "7", "7.5", "é", " ", "."]), min_size=1, max_size=8).map(
        "".join
    ),
    max_size=40,
)


def test_of_many_texts_those_without_letters_are_found_too():
    secrets = [*(f"{number} {number}.5" for number in range(40)), "\u898b\u305b\u306a\u3044", "dry tin"]
    page = " ".join(secrets)
    assert private_texts_in({"a.html": f"<p>{page}</p>".encode()}, secrets) == [
        ("a.html", secret) for secret in secrets
    ]


@given(st.lists(PAGES, min_size=1, max_size=3), SECRETS)
def test_what_is_found_quickly_is_what_a_page_holds_word_by_word(pages, secrets):
    check = LeakCheck(secrets)
    for number, page in enumerate(pages):
        list(check.text(f"{number}.html", (page,)))
    assert check.found == [
        (f"{number}.html", secret)
        for number, page in enumerate(pages)
        for secret in read_word_by_word(page, secrets)
    ]
