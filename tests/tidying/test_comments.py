"""A comment stays beside, above or under the line it spoke of, wherever tidying puts that line."""

from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.tidying import tidy


def tidied(text: str, kind: str) -> str:
    found = tidy(text.encode(), "file", kind)  # type: ignore[arg-type]  # one of the four
    assert not found.left_alone, found.left_alone
    again = tidy(found.content, "file", kind)  # type: ignore[arg-type]
    assert again.content == found.content, "it does not settle at once"
    return found.content.decode()


def spec(front: str) -> str:
    lines = tidied("---\n" + dedent(front).lstrip("\n") + "---\nNotes\n", "spec").split("\n")
    return "\n".join(lines[1:-3]) + "\n"


def event(text: str) -> str:
    return tidied(dedent(text).lstrip("\n"), "event")


def test_what_is_indented_under_an_empty_key_moves_with_it():
    assert event("""
        event: Supper
        off:
          # negroni  (the vermouth runs low)
        menu:
          - section: All
            drinks:
              - negroni
        """).endswith("\n\noff:\n  # negroni  (the vermouth runs low)\n")


def test_a_line_taken_out_stays_with_its_list_though_the_dash_stands_under_the_key():
    assert spec("""
        name: Sour
        glass: double rocks
        pour:
        - 30 ml gin
        # - 5 ml lemon juice   tried, too sour
        # and too thin
        ice: large cube
        method: build
        """) == dedent("""\
        name: Sour
        pour:
          - 30 ml gin
          # - 5 ml lemon juice   tried, too sour
          # and too thin
        method: [build]
        glass: double rocks
        ice: large cube
        """).replace("[build]", "build")


def test_a_line_taken_out_by_an_editor_at_the_margin_stays_with_its_list():
    assert (
        spec("""
        glass: sour
        pour:
          - 30 ml gin
        #  - 5 ml lemon juice
        name: Sour
        """)
        == "name: Sour\npour:\n  - 30 ml gin\n  #  - 5 ml lemon juice\nglass: sour\n"
    )


def test_the_only_line_taken_out_of_a_list_stays_in_it():
    assert (
        event("""
        off:
        # - negroni
        event: Supper
        """)
        == "event: Supper\n\noff:\n  # - negroni\n"
    )


def test_a_key_taken_out_stays_with_the_key_of_that_name():
    assert (
        spec("""
        glass: sour
        # glass: coupe
        name: Sour
        pour: 30 ml gin
        ice: none
        """)
        == "name: Sour\npour: 30 ml gin\nglass: sour\n# glass: coupe\n\nice: none\n"
    )


def test_words_about_the_next_key_are_no_line_taken_out():
    assert spec("""
        name: Sour
        pour:
        - 30 ml gin
        # Ice, from best to worst:
        # - large cube
        ice: large cube
        method: build
        """) == (
        "name: Sour\npour:\n  - 30 ml gin\nmethod: build\n"
        "# Ice, from best to worst:\n# - large cube\nice: large cube\n"
    )


def test_what_stands_at_the_top_speaks_of_the_whole_and_stays_there():
    head = "# Ours since the first season.\n# Hands off.\n"
    assert spec(f"{head}garnish: twist\nname: Sour\n") == f"{head}\nname: Sour\ngarnish: twist\n"
    assert spec(f"{head}name: Sour\ngarnish: twist\n") == f"{head}name: Sour\ngarnish: twist\n"


def test_of_two_at_the_top_the_second_belongs_to_the_first_key():
    assert (
        spec("""
        # Ours.

        # as in May
        garnish: twist
        name: Sour
        """)
        == "# Ours.\n\nname: Sour\n# as in May\ngarnish: twist\n"
    )


def test_what_touches_only_the_line_above_belongs_to_it():
    assert (
        spec("""
        garnish: twist
        # or a cherry

        name: Sour
        """)
        == "name: Sour\ngarnish: twist\n# or a cherry\n"
    )


def test_a_heading_between_two_blank_lines_stays_one():
    text = "gin:\n  price: 1\n\n# Liqueurs\n\nwalnut liqueur:\n  price: 2\n"
    assert tidied(text, "stock") == text


@pytest.mark.parametrize("dash", ["-\n  # gone\n  section: T\n  ", "-\n  # a-b - c\n  section: T\n  ", "- "])
def test_a_comment_under_a_dash_settles_at_once(dash):
    text = f"menu:\n{dash}drinks:\n  # gone\n" + ("  - a\n" if "section" in dash else "  section: T\n")
    event(text)


def test_what_stood_above_the_section_stands_above_its_dash():
    assert event("menu:\n- drinks:\n  # gone\n  section: T\n") == (
        "menu:\n  # gone\n  - section: T\n    drinks:\n"
    )


def test_comments_in_brackets_stay_in_the_list():
    assert (
        event("""
        off: [a,  # no mint
          # until ten
          b
          # - c
        ]
        event: Supper
        """)
        == "event: Supper\n\noff:\n  - a  # no mint\n  # until ten\n  - b\n  # - c\n"
    )


@pytest.mark.parametrize("style", ["|", ">"])
def test_a_comment_under_a_block_of_lines_is_not_drawn_into_it(style):
    assert (
        spec(f"""
        source: {style}
            A guest,
            in June
          # which June?
        name: Sour
        """)
        == f"name: Sour\nsource: {style}\n  A guest,\n  in June\n# which June?\n"
    )


def test_at_the_end_only_what_is_indented_moves_with_the_last_key():
    front = "name: Sour\nice: none\npour: 30 ml gin\n\n"
    assert spec(f"{front}  # squeezed today\n") == (
        "name: Sour\npour: 30 ml gin\n  # squeezed today\nice: none\n"
    )
    assert spec(f"{front}# squeezed today\n") == (
        "name: Sour\npour: 30 ml gin\nice: none\n\n# squeezed today\n"
    )


def test_two_comments_keep_their_order_though_the_second_is_about_less():
    assert (
        spec("""
        glass: sour
        pour:
          - 30 ml gin
        # of the pour

            # of the gin
        name: Sour
        """)
        == "name: Sour\npour:\n  - 30 ml gin\n# of the pour\n\n# of the gin\n\nglass: sour\n"
    )


class _Page:
    """A messy file written down line by line, and for each comment in it where it must stand afterwards."""

    def __init__(self, draw) -> None:
        self.draw = draw
        self.lines: list[str] = []
        self.places: dict[str, tuple[str, str]] = {}
        self.dash = draw(st.sampled_from([0, 2, 3]))

    def comment(self, where: str, line: str) -> str:
        text = f"# said {len(self.places)} - of: [it"
        self.places[text] = (where, line)
        return text

    def put(self, pad: int, line: str, told: str, *, leaf: bool = True) -> None:
        """Write a line; told is what of it can be found again."""
        if self.draw(st.integers(0, 4)) == 0:
            # Blank lines may stand above a comment that touches its line; at the top it would speak of the whole.
            self.lines += [""] * self.draw(st.integers(0, 2)) if self.lines else ["# whole", ""]
            self.lines += [
                " " * pad + self.comment("above", told) for _ in range(self.draw(st.integers(1, 2)))
            ]
        beside = f"  {self.comment('beside', told)}" if self.draw(st.integers(0, 4)) == 0 else ""
        self.lines.append(" " * pad + line + beside)
        if leaf and self.draw(st.integers(0, 5)) == 0:
            self.lines.append(" " * (pad + self.draw(st.integers(1, 5))) + self.comment("under", told))
            self.lines += [""] * self.draw(st.integers(0, 1))

    def words(self, pad: int, key: str, words: list[str]) -> None:
        """Write a list under a key."""
        if self.draw(st.booleans()) and len(words) < 3:
            self.put(pad, f"{key}: [{', '.join(words)}]", f"{key}:", leaf=False)
            return
        self.put(pad, f"{key}:", f"{key}:", leaf=False)
        for word in words:
            self.put(pad + self.dash, f"-{' ' * self.draw(st.integers(1, 3))}{word}", word)


@st.composite
def pages(draw) -> tuple[str, str, dict[str, tuple[str, str]]]:
    page = _Page(draw)
    kind = draw(st.sampled_from(["spec", "event", "stock"]))
    count = st.integers(1, 3)
    if kind == "stock":
        for name in draw(st.permutations(["rum", "gin", "ale"])):
            page.put(0, f"{name}:", f"{name}:", leaf=False)
            for key in draw(st.permutations(["price", "bottle", "note"])):
                page.put(2, f"{key}: {name} {key}", f"{name} {key}")
        return kind, "\n".join(page.lines) + "\n", page.places
    plain = ["name", "glass", "ice", "family"] if kind == "spec" else ["event", "date", "place", "theme"]
    long = ["pour", "garnish", "cautions"] if kind == "spec" else ["off", "equipment", "menu"]
    for key in draw(st.permutations([*plain, *long])):
        if key in plain:
            page.put(0, f"{key}: the {key}", f"the {key}")
        elif key != "menu":
            page.words(0, key, [f"{key} {number}" for number in range(draw(count))])
        else:
            page.put(0, "menu:", "menu:", leaf=False)
            for number in range(draw(count)):
                page.put(page.dash, f"- section: S{number}", f"S{number}", leaf=False)
                page.put(page.dash + 2, f"note: N{number}", f"N{number}")
                page.put(page.dash + 2, "drinks:", f"drinks:  D{number}", leaf=False)
                page.put(page.dash + 4, f"- a{number}: 9", f"a{number}")
    return kind, "\n".join(page.lines) + "\n", page.places


@pytest.mark.slow
@given(pages())
def test_every_comment_keeps_its_neighbour(page):
    kind, text, places = page
    after = tidied(f"---\n{text}---\n" if kind == "spec" else text, kind).split("\n")
    for comment, (where, told) in places.items():
        (number,) = [at for at, line in enumerate(after) if line.endswith(comment)]
        step = {"above": 1, "under": -1, "beside": 0}[where]
        at = number + step
        while after[at].lstrip().startswith("#"):
            at += step
        assert told.split("  ")[0] in after[at], (comment, where, told, after)
    assert len([line for line in after if "# said" in line]) == len(places)
