"""Tidying changes how a file looks, never what it says, and does nothing the second time."""

import importlib
import subprocess
from pathlib import Path
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.reading import Data, DiskFiles, read_mapping, read_nodes
from menugen.tidying import files_of_house, files_of_library, tidy, tidy_result, tidy_stray_result
from menugen.tidying.setting import all_comments
from menugen.tidying.taking_apart import take_apart

REPOSITORY = Path(__file__).resolve().parents[2]


def tidied(text: str, kind: str) -> str:
    found = tidy(dedent(text).lstrip("\n").encode(), "file", kind)  # type: ignore[arg-type]  # one of the four
    assert not found.left_alone, found.left_alone
    return found.content.decode()


def comments_of(text: str) -> list[str]:
    top = read_nodes(text, "file").top
    assert top is not None
    return all_comments(take_apart(text, top))


def test_a_spec_is_put_in_order_and_its_notes_are_not_touched():
    text = """
    ---
    glass:   coupe
    # the old way
    method: ['dry shake', shake]   # hard


    name: Marsh Sour
    garnish: [lemon twist, cherry]
    pour:
    - 50 ml gin
    -   25 ml lemon juice  # fresh
    swap: {gin: 50 ml rum}
    ---
    Notes   stay.\x20\x20

    - even   these
    """
    assert tidied(text, "spec") == (
        "---\nname: Marsh Sour\ngarnish:\n  - lemon twist\n  - cherry\npour:\n  - 50 ml gin\n"
        "  - 25 ml lemon juice  # fresh\n# the old way\nmethod: ['dry shake', shake]  # hard\nglass: coupe\n"
        "swap:\n  gin: 50 ml rum\n---\nNotes   stay.  \n\n- even   these\n"
    )


def test_a_garnish_that_comes_last_stands_behind_the_glass():
    text = "---\nname: A\ngarnish: twist\nglass: coupe\npour: 50 ml gin\n---\n"
    # Its lines are read as garnish first: that order means something, and is kept.
    assert tidied(text, "spec") == "---\nname: A\ngarnish: twist\npour: 50 ml gin\nglass: coupe\n---\n"
    text = "---\nname: A\npour: 50 ml gin\ngarnish: twist\nglass: coupe\n---\n"
    assert tidied(text, "spec") == "---\nname: A\npour: 50 ml gin\nglass: coupe\ngarnish: twist\n---\n"


def test_how_many_a_bowl_serves_follows_its_name():
    text = "---\nglass: punch bowl\npour: 500 ml gin\nserves: 10  # a ladle each\nname: A\n---\n"
    ordered = "---\nname: A\nserves: 10  # a ladle each\npour: 500 ml gin\nglass: punch bowl\n---\n"
    assert tidied(text, "spec") == ordered


def test_stock_stands_by_the_alphabet_with_a_blank_line_between():
    text = """
    # Ours.

    rum:
      contains: [ almond,milk ]
      bottle: 700 ml
      # weighed in May
      price:   17.90            # without tax
    gin: {contains: none, bottle: 700 ml}



    # the last one
    ale:
        contains:
        - barley
    # nothing follows
    """
    assert tidied(text, "stock") == (
        "# Ours.\n\ngin:\n  bottle: 700 ml\n  contains: none\n\n"
        "rum:\n  bottle: 700 ml\n  # weighed in May\n  price: 17.90  # without tax\n"
        "  contains: [almond, milk]\n\n"
        "# the last one\nale:\n  contains: [barley]\n# nothing follows\n"
    )


def test_an_event_has_a_blank_line_around_what_takes_several():
    text = """
    date: 2026-12-12
    menu:
    - drinks:
      - a: 9.50
      - b
      section: All
    event: Supper
    off: [b]
    """
    assert tidied(text, "event") == (
        "event: Supper\ndate: 2026-12-12\n\nmenu:\n  - section: All\n    drinks:\n      - a: 9.50\n\n      - b\n\n"
        "off:\n  - b\n"
    )


def test_stock_under_a_heading_stays_under_it():
    text = """
    # What is poured.

    rum:
      price: 1
    gin:
      price: 2

    # Liqueurs

    walnut liqueur:
      price: 3
    cream liqueur:
      price: 4
    # the good one
    vermouth:
      price: 5
    sherry:
      price: 6
    port:
      price: 7
    """
    names = [line for line in tidied(text, "stock").split("\n") if line and not line.startswith(" ")]
    assert names == [
        *("# What is poured.", "gin:", "rum:", "# Liqueurs", "cream liqueur:", "walnut liqueur:"),
        # What touches one bottle may speak of that bottle alone, or of those that follow.
        *("# the good one", "vermouth:", "port:", "sherry:"),
    ]
    assert "# Liqueurs\n\ncream liqueur:" in tidied(text, "stock")


def test_what_is_off_stands_by_the_alphabet_each_with_its_comment():
    text = "event: Supper\noff: [sour,  # no lemons\n  bramble, alexander]\n"
    assert tidied(text, "event") == (
        "event: Supper\n\noff:\n  - alexander\n  - bramble\n  - sour  # no lemons\n"
    )


def test_two_habits_become_one():
    drinks = "event: A\nmenu:\n  - section: All\n    drinks:\n"
    assert tidied(f"{drinks}      - {{a: 9.50}}\n      - b: 9\n", "event") == (
        "event: A\n\nmenu:\n  - section: All\n    drinks:\n      - a: 9.50\n\n      - b: 9\n"
    )
    assert tidied("menu: [{drinks: [a], section: All}]\n", "event") == (
        "menu:\n  - section: All\n    drinks:\n      - a\n"
    )
    lines = "---\nname: A\npour:\n  - {as: float, pour: 30 ml   red bitter}\n  - as: float\n    pour: 5 ml rum\n---\n"
    assert tidied(lines, "spec") == (
        "---\nname: A\npour:\n  - {pour: 30 ml red bitter, as: float}\n  - {pour: 5 ml rum, as: float}\n---\n"
    )
    assert tidied(
        "name: A\nglasses:\n  coupe:\n    profile:\n    - - 0\n      - 5\n    - [10, 20]\n", "house"
    ) == ("name: A\n\nglasses:\n  coupe:\n    profile: [[0, 5], [10, 20]]\n")
    assert tidied("rum:\n  bottle: 700   ml\n  note: a  b\nale:\n  price: '1  2'\n", "stock") == (
        "ale:\n  price: '1  2'\n\nrum:\n  bottle: 700 ml\n  note: a  b\n"
    )


def _ended(value: Data) -> Data:
    return value.rstrip("\n") if isinstance(value, str) else value


@pytest.mark.parametrize(
    "text",
    [
        "name: >\n  folded\n  text\n\n  here\nregion: GB\n",
        "name: |+\n  kept\n\nregion: GB\n",
        "name: 'two\n\n  lines'\n",
        'name: "a \\\n  b"\n',
        "name: plain\n  goes on\n",
        "name: # beside nothing\n  late\n",
        "name: x#y\nregion: 'a # b'  # c\n",
        "rules:\n  - a  # one\n  # between\n  - b\n  # after the last\nname: x\n",
        "rules: [a, # inside\n  b]\nname: x\n",
        "rules: []\nglasses: {}\nname:\n",
        "glasses:\n  coupe: {brim: 1, profile: [[0, 5], [10, 20]]}\n",
        "? name\n: x\n",
        '"name": x\n',
        "name: &a x\n",
        "name: x\nname: y\n",
        "# only a comment\n",
        "- a\n- b\n",
        "rules:\n-\n- a\n",
        "rules:\n  -\n    - a\n    - b\n",
        "name: 波 # 船\nregion: é\n",
        "rules: >\n  the last line has no end",
        "region: \u3000\nname: a\u00a0\n",
        'name: "a\u00a0\n\n  b\u00a0"\n',
    ],
)
def test_whatever_is_written_it_says_the_same_and_is_tidy_the_second_time(text):
    once = tidy(text.encode(), "house.yaml", "house")
    before, faults = read_mapping(text, "house.yaml")
    if before is None or faults:
        assert once.left_alone
        assert once.content == text.encode()
        return
    after, _ = read_mapping(once.content.decode(), "house.yaml")
    # A block at the end of a file has a line end only where the file has one; reading takes it away.
    assert after is not None
    assert {key: _ended(value) for key, value in after.items()} == {
        key: _ended(value) for key, value in before.items()
    }
    assert tidy(once.content, "house.yaml", "house").content == once.content
    assert comments_of(once.content.decode()) == comments_of(text)


def test_most_odd_forms_are_tidied_and_not_only_left_alone():
    for text in (
        "name: >\n  folded\n  text\nregion:  GB\n",
        "name: plain\n  goes on\n",
        "rules: [a, # in\n  b]\n",
        "languages:\n- en, gb\n- fr\n",
        "name: >\n  the last line has no end",
        "name: |+\n  kept\n\n\nregion: GB\n",
        "region: \u3000\nname: a\u00a0\n",
    ):
        assert not tidy(text.encode(), "house.yaml", "house").left_alone


def test_a_line_that_is_a_key_stands_in_brackets_only_where_it_means_the_same():
    head = "---\nname: A\npour:\n"
    assert tidied(f"{head}  - ? 50 ml gin\n---\n", "spec") == f"{head}  - {{50 ml gin: }}\n---\n"
    for line in ("a, b: c", "x [y]: z", "{x}: y"):
        lines = f"{head}  - '{line}'\n  - {line}\n---\n"
        if not read_mapping(lines, "a.md", base=4, end=len(lines) - 4)[1]:
            assert tidied(lines, "spec") == lines


def test_a_bottle_keeps_its_place_below_a_line_that_was_taken_out_of_another():
    text = """
    sugar:
      price: 1
      checked: 2026-11-01
    milk:
      contains: [milk]
    #   checked: 2026-11-02
    lemon:
      price: 3
    gin:
      price: 2
    """
    once = tidied(text, "stock")
    assert tidied(once, "stock") == once
    assert "\n\n#   checked: 2026-11-02\nlemon:\n" in once


def test_a_line_that_was_taken_out_is_left_where_it_is_the_second_time():
    text = """
    ---
    name: A
    #   - 1 egg white
    method: shake
    pour:
    glass: coupe
    ---
    """
    once = tidied(text, "spec")
    assert once.count("# ") == 1
    assert tidied(once, "spec") == once


def test_line_ends_and_a_byte_order_mark_stay_as_they_were():
    text = "\ufeff---\r\nglass: coupe\r\nname: A\r\n---\r\nNotes\r\nmixed\n"
    found = tidy(text.encode(), "a.md", "spec")
    assert found.content.decode() == "\ufeff---\r\nname: A\r\nglass: coupe\r\n---\r\nNotes\r\nmixed\n"
    assert tidy(found.content, "a.md", "spec").content == found.content


def test_what_is_not_text_is_left_alone():
    for content in (b"\xff\xfe", b"name: \xff\n", b"name: \x00\n", b""):
        found = tidy(content, "house.yaml", "house")
        assert found.left_alone
        assert found.content == content


_WORDS = st.sampled_from(
    ["gin", "50 ml rum", "a b", "x#y", "it's", "é", "波", "9.50", "no", "19:00", "a: b", "- c", "#d"]
)
_KEYS = st.sampled_from(
    ["name", "region", "rules", "glasses", "coupe", "own key", "theme", "specs", "événement"]
)
_COMMENTS = st.sampled_from(["", "", "", "# a", "#b", "#  c # d"])


@st.composite
def values(draw, depth: int):
    kind = draw(st.sampled_from(["word", "word", "list", "map"] if depth else ["word"]))
    if kind == "word":
        return draw(_WORDS)
    if kind == "list":
        return [draw(values(depth - 1)) for _ in range(draw(st.integers(0, 3)))]
    return {draw(_KEYS): draw(values(depth - 1)) for _ in range(draw(st.integers(0, 3)))}


def _quoted(draw, word: str) -> str:
    plain = all(mark not in word for mark in ("#", ": ")) and not word.startswith("- ")
    style = draw(st.sampled_from(["plain", "single", "double"] if plain else ["single", "double"]))
    if style == "plain":
        return word
    return "'" + word.replace("'", "''") + "'" if style == "single" else f'"{word}"'


def _flow(draw, value) -> str:
    if isinstance(value, str):
        return _quoted(draw, value)
    space = draw(st.sampled_from(["", " ", "  "]))
    if isinstance(value, list):
        return f"[{space}" + f",{space}".join(_flow(draw, one) for one in value) + f"{space}]"
    return (
        f"{{{space}"
        + f",{space}".join(f"{key}: {_flow(draw, one)}" for key, one in value.items())
        + f"{space}}}"
    )


def _block(draw, value, indent: int) -> list[str]:
    """Return a mapping or list as somebody in a hurry would write it."""
    lines: list[str] = []
    pad = " " * indent
    items = list(value.items()) if isinstance(value, dict) else [(None, one) for one in value]
    for key, one in items:
        comment = draw(_COMMENTS)
        if comment:
            lines.append(" " * draw(st.integers(0, indent + 3)) + comment)
        lines += [""] * draw(st.sampled_from([0, 0, 1, 2]))
        beside = draw(_COMMENTS)
        beside = f"{draw(st.sampled_from([' ', '    ']))}{beside}" if beside else ""
        lead = f"{pad}-" if key is None else f"{pad}{key}:"
        if isinstance(one, str) or not one or draw(st.booleans()):
            lines.append(f"{lead}{draw(st.sampled_from([' ', '   ']))}{_flow(draw, one)}{beside}")
        else:
            lines.append(f"{lead}{beside}")
            lines += _block(draw, one, indent + draw(st.integers(1, 4)))
    return lines


@st.composite
def messy_files(draw) -> str:
    value = draw(st.dictionaries(_KEYS, values(3), min_size=1, max_size=5))
    lines = _block(draw, value, 0)
    end = draw(_COMMENTS)
    return "\n".join([*lines, *([end] if end else [])]) + draw(st.sampled_from(["", "\n", "\n\n"]))


@pytest.mark.slow
@given(messy_files(), st.sampled_from(["house", "stock", "event"]))
def test_tidying_never_changes_what_is_said_and_settles_at_once(text, kind):
    before, faults = read_mapping(text, "f")
    once = tidy(text.encode(), "f", kind)
    if before is None or faults:
        assert once.left_alone
        return
    assert not once.left_alone, text
    after, _ = read_mapping(once.content.decode(), "f")
    assert after == before  # the words here are no measures, and none of the keys is "off"
    assert comments_of(once.content.decode()) == comments_of(text)
    assert tidy(once.content, "f", kind).content == once.content


@pytest.mark.slow
@given(messy_files(), st.text(alphabet="ab -#\n`", max_size=40))
def test_a_spec_keeps_its_lines_in_order_and_its_notes_to_the_byte(front, notes):
    text = f"---\n{front.rstrip()}\n---\n{notes}"
    once = tidy(text.encode(), "f.md", "spec")
    if once.left_alone:
        return
    assert once.content.decode().endswith(f"\n---\n{notes}")
    assert tidy(once.content, "f.md", "spec").content == once.content


@pytest.mark.parametrize("place", ["demo_data", "menugen/cli/first_house", "specs"])
def test_what_comes_with_menugen_is_tidy(place):
    files = DiskFiles(REPOSITORY / place)
    if place == "specs":
        looked = [tidy_stray_result(files, file) for file in files_of_library(files)]
    else:
        looked = [tidy_result(files, file, kind) for file, kind in files_of_house(files)]
    assert looked
    assert not [one.file for one in looked if one.tidied is not None or one.left_alone]


@pytest.mark.parametrize("name", ["slate", "lawn", "bunting"])
def test_looks_that_come_with_menugen_are_tidy(name):
    assert tidy_result(DiskFiles(REPOSITORY / "themes" / name), "theme.yaml", "theme").tidied is None


UNTIDY_LOOK = """\
# By the sea.
fonts:
  - {licence: a.txt, stand in: {Georgia: 85 %, Arial: 90 %}, family: Lawn, file: a.otf}
space: {measure: 30em, step: 1rem}   # narrow
colours:
  dark: {text: "#ffffff", ground: "#000000"}
  # Paper, not white.
  light: {ground: "#fffefa"}
extends: slate
"""
TIDY_LOOK = """\
# By the sea.

extends: slate
colours:
  # Paper, not white.
  light:
    ground: "#fffefa"
  dark:
    ground: "#000000"
    text: "#ffffff"
space:  # narrow
  step: 1rem
  measure: 30em
fonts:
  - family: Lawn
    file: a.otf
    licence: a.txt
    stand in:
      Georgia: 85 %
      Arial: 90 %
"""


def test_a_look_is_tidied_with_its_comments_and_stand_ins_keep_their_order():
    assert tidy(UNTIDY_LOOK.encode(), "theme.yaml", "theme").content.decode() == TIDY_LOOK


def test_the_looks_of_a_house_are_among_its_files_and_what_is_a_link_is_not(tmp_path):
    (tmp_path / "house.yaml").write_text("name: A\n", encoding="utf-8")
    for name in ("mine", "linked", "base"):
        (tmp_path / "themes" / name).mkdir(parents=True)
    (tmp_path / "themes" / "mine" / "theme.yaml").write_text("extends: slate\n", encoding="utf-8")
    (tmp_path / "themes" / "linked" / "theme.yaml").symlink_to(tmp_path / "house.yaml")
    (tmp_path / "themes" / "elsewhere").symlink_to(tmp_path / "themes" / "mine")
    found = list(files_of_house(DiskFiles(tmp_path)))
    assert found == [("house.yaml", "house"), ("themes/mine/theme.yaml", "theme")]


@pytest.fixture(scope="module")
def merging(tmp_path_factory) -> Path:
    """A folder for all examples: each writes its three files over the last one's."""
    return tmp_path_factory.mktemp("merging")


def merged(base: str, ours: str, theirs: str, folder: Path) -> str | None:
    """Return what git makes of two people's files; None where it asks."""
    paths = [folder / name for name in ("ours", "base", "theirs")]
    for path, text in zip(paths, (ours, base, theirs), strict=True):
        path.write_text(text, encoding="utf-8", newline="\n")
    done = subprocess.run(
        ["git", "merge-file", "-p", *map(str, paths)], capture_output=True, text=True, check=False
    )
    return done.stdout if done.returncode == 0 else None


@pytest.mark.slow
@given(st.data())
def test_the_prices_of_two_drinks_are_changed_by_two_people(merging, data):
    drinks = [f"drink-{letter}" for letter in "abcdef"]
    cut = data.draw(st.integers(1, 5))
    sections = [drinks[:cut], drinks[cut:]]
    base = tidied(
        "event: A\nmenu:\n"
        + "".join(
            f"- section: S{len(names)}\n  drinks: [{', '.join(f'{name}: 9' for name in names)}]\n"
            for names in sections
        ),
        "event",
    )
    mine, yours = data.draw(st.permutations(drinks))[:2]
    ours = tidied(base.replace(f"{mine}: 9", f"{mine}: 10"), "event")
    theirs = tidied(base.replace(f"{yours}: 9", f"{yours}: 8"), "event")
    both = base.replace(f"{mine}: 9", f"{mine}: 10").replace(f"{yours}: 9", f"{yours}: 8")
    assert merged(base, ours, theirs, merging) == both


@pytest.mark.slow
@given(st.data())
def test_two_bottles_are_changed_or_added_by_two_people(merging, data):
    def bottle(name: str) -> str:
        return f"{name}:\n  bottle: 700 ml\n  price: 9\n  contains: none\n"

    names = ["ale", "gin", "mead", "rum", "vermouth"]
    base = tidied("# Ours.\n" + "".join(map(bottle, names)), "stock")
    changes = {
        **{name: base.replace(f"{name}:\n  bottle: 700", f"{name}:\n  bottle: 750") for name in names},
        **{name: base + bottle(name) for name in ("brandy", "kvass", "perry", "tea", "zest cordial")},
    }
    mine, yours = data.draw(st.permutations(sorted(changes)))[:2]
    ours, theirs = tidied(changes[mine], "stock"), tidied(changes[yours], "stock")
    both = merged(base, ours, theirs, merging)
    assert both is not None
    assert tidied(both, "stock") == both
    for name in (mine, yours):
        one_line = f"{name}:\n  bottle: {750 if name in names else 700} ml\n"
        assert one_line in both


def test_an_accent_typed_in_two_characters_stands_where_one_in_one_character_does():
    names = ("z\u00e9ro syrup", "zest", "\u00e9 water", "ale")
    typed = "".join(f"{name}:\n  contains: none\n" for name in names)
    decomposed = typed.replace("\u00e9", "e\u0301")
    assert tidied(decomposed, "stock").replace("e\u0301", "\u00e9") == tidied(typed, "stock")


@pytest.mark.parametrize("lost", ["glass: coupe", "# kept"])
def test_a_file_that_would_lose_something_is_left_alone(monkeypatch, lost):
    module = importlib.import_module("menugen.tidying.tidy")  # the room exports a function of that name

    whole = module.set_document
    monkeypatch.setattr(
        module, "set_document", lambda *args, **named: whole(*args, **named).replace(f"{lost}\n", "")
    )
    text = b"---\nname: A\npour: 50 ml gin\n\n\nglass: coupe\n# kept\nice: cubed\n---\n"
    found = tidy(text, "a.md", "spec")
    assert found.content == text
    assert "without changing what it says" in found.left_alone
