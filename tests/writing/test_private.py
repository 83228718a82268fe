"""The last check for private text."""

import pytest

from menugen.writing.private import private_leaks


@pytest.mark.parametrize(
    ("content", "secret", "found"),
    [
        ("<p>Ten seconds <b>dry</b>, twelve with ice.</p>", "Ten seconds dry, twelve with ice", True),
        ("<p>Ten seconds dry</p>", "**Ten** seconds\ndry", True),
        ("<p>from O&#39;Hara &amp; Sons</p>", "O'Hara & Sons", True),
        ('<img alt="Corner Cellars">', "Corner Cellars", True),
        ("<!-- stock/spirits.yaml -->", "stock/spirits.yaml", True),
        ("<p>17.90</p>", "17.90", True),
        ("<p>keep the “crème de prune” behind</p>", "crème de prune", True),
        ("<p>見せない</p>", "見せない", True),
        ("<p>見せる</p>", "見せない", False),
        ("<p>117.90 or 17.905</p>", "17.90", False),
        ("<p>Ten dry seconds</p>", "Ten seconds dry", False),
        ("<p>Cornered</p>", "Corner", False),
        ("<p>anything</p>", " - ", False),
        ("<p>anything</p>", "", False),
    ],
)
def test_whole_words_are_found_through_markup(content, secret, found):
    assert private_leaks({"site/index.html": content.encode()}, [secret]) == (
        [f'site/index.html holds the private text "{secret}"'] if found else []
    )


def test_each_file_and_secret_is_named_and_pictures_are_passed_over():
    files = {"a.html": b"<p>north cellar</p>", "b.json": b'"north cellar"', "c.png": b"north cellar"}
    assert private_leaks(files, ["south cellar", "north cellar", "north cellar"]) == [
        'a.html holds the private text "north cellar"',
        'b.json holds the private text "north cellar"',
    ]
