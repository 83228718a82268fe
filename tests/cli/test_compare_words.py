"""Every sentence of `menugen compare` once, at 80 columns, as it is printed.

After a change of words, run with UPDATE_EXPECTED=1 and read the difference.
"""

import json
import os
import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from menugen.alarms import alarm_words, alarms, phrase
from menugen.cli.compare_json import compare_json
from menugen.cli.compare_text import compare_markdown, compare_text, moved_lines
from menugen.comparing import Cause, Change, Comparison, Subject
from tests.cli.inside import menugen
from tests.houses import SHORE_GIN
from tests.revisions.repositories import Books, books

EXPECTED = Path(__file__).parent / "compare_words.txt"

LONG = "The Very Long And Winding Evening Walk Along The Old Salt Path"

LABELS = """
oat cream:
  bottle: 1 l
  price: 3.00
  contains: [oats]
  checked: 2026-11-01
sea rum:
  kind: rum
  bottle: 700 ml
  price: 20.00
  abv: 40 %
  contains: none
  checked: 2026-11-01
tar bitters:
  bottle: 100 ml
  price: 9.00
  abv: 44 %
  contains: none
  checked: 2026-11-01
reed tea:
  bottle: 1 kg
  price: 12.00
  contains: none
  checked: 2026-10-30
"""


def _spec(name: str, *lines: str, more: str = "") -> str:
    poured = "".join(f"  - {line}\n" for line in lines)
    return f"---\nname: {name}\npour:\n{poured}glass: coupe\nmethod: shake\n{more}---\nNice.\n"


def _event(name: str, *drinks: str, more: str = "", date: str = "2026-12-20") -> str:
    listed = "".join(f"      - {drink}\n" for drink in drinks)
    address = f"https://menu.example/{name.lower().replace(' ', '-')}/"
    return f"event: {name}\ndate: {date}\naddress: {address}\n{more}menu:\n  - section: All\n    drinks:\n{listed}"


def _older(house: Books) -> None:
    house.write("stock/more.yaml", LABELS.lstrip())
    house.write("stock/unread.yaml", "fog vermouth:\n  knid: vermouth\n  bottle: 700 ml\n")
    for slug, text in {
        "felt-hat": _spec("Felt Hat", "40 ml sea rum", "20 ml lemon juice"),
        "long-walk": _spec(
            LONG, "30 ml oat cream", "20 ml sea rum", more="swap:\n  oat cream: single cream\n"
        ),
        "brine-bell": _spec("Brine Bell", "50 ml white wine", "20 ml orgeat"),
        "eel-lane": _spec("Eel Lane", "50 ml white wine", "10 ml soda water"),
        "gate-post": _spec("Gate Post", "30 ml tar bitters", "20 ml lemon juice"),
        "fog-bell": _spec("Fog Bell", "50 ml fog vermouth"),
        "kelp-rope": _spec("Kelp Rope", "20 ml single cream", "30 ml sea rum"),
        "heron-row": _spec("Heron Row", "20 ml sea rum", "10 ml nothing known"),
        "ivy-gate": _spec("Ivy Gate", "20 ml tar bitters"),
        "jetty-light": _spec("Jetty Light", "25 ml tar bitters"),
        "lamp-oil": "---\nnam: Lamp Oil\n---\n",
        "old-quay": _spec("Old Quay", "50 ml white wine"),
    }.items():
        house.write(f"specs/{slug}.md", text)
    cards = "printed: 7f3a2c1\nequipment: [shakers]\n"
    house.write(
        "events/harbour-night.yaml",
        _event("Harbour Night", "long-walk", "brine-bell", "eel-lane", "fog-bell", "kelp-rope", more=cards),
    )
    house.write("events/pier-lunch.yaml", _event("Pier Lunch", "kelp-rope"))
    house.write("events/tar-night.yaml", _event("Tar Night", "kelp-rope"))
    house.commit("Before the winter menu, with a subject that is longer than a line of a terminal is wide")


def _newer(house: Books) -> None:
    edit, stock = house.edit, house.edit_stock
    edit("stock/more.yaml", "contains: [oats]", "contains: [oats, milk]\n  may contain: [hazelnut]")
    edit(
        "stock/more.yaml",
        "abv: 40 %\n  contains: none",
        "abv: 43 %\n  contains: none\n  cautions: [caffeine]",
    )
    edit("stock/more.yaml", "abv: 44 %\n  contains: none", "abv: 44 %\n  contains: [walnut]")
    stock("garden gin", "aliases: [gin]\n  ", "")
    house.write("stock/shore.yaml", SHORE_GIN.replace("kind: gin", "aliases: [gin]\n  kind: gin"))
    stock("egg white", "contains: [egg]\n  cautions: [raw egg]", "contains: none\n  cautions: none")
    stock("orgeat", "  contains: [almond]\n  checked: 2026-11-01\n", "")
    stock("lemon juice", "price: 5.00", "price: 6.00")
    stock("soda water", "checked: 2026-11-01", "checked: 2026-11-20")
    stock("lemon", "price: 3.00", "price: 3.50")
    edit("stock/more.yaml", "reed tea:", "reed leaf tea:")
    edit("specs/heron-row.md", "10 ml nothing known", "10 ml lemon juice")
    edit("specs/ivy-gate.md", "Ivy Gate", "Iron Gate")
    (house.house / "specs/jetty-light.md").rename(house.house / "specs/pier-light.md")
    edit("specs/pier-light.md", "Jetty Light", "Pier Light")
    edit("specs/long-walk.md", "swap:\n  oat cream: single cream\n", "swap:\n  oat cream: aquafaba\n")
    edit("specs/marsh-sour.md", "15 ml sugar syrup", "20 ml sugar syrup")
    edit("specs/marsh-sour.md", "swap:\n  egg white: 20 ml aquafaba\n", "")
    (house.house / "specs/eel-lane.md").unlink()
    house.write("specs/lane.md", _spec("Eel Lane", "50 ml single cream"))
    (house.house / "specs/old-quay.md").unlink()
    edit("specs/kelp-rope.md", "20 ml single cream", "20 xx single cream")
    house.write("specs/salt-gate.md", _spec("Salt Gate", "40 ml sea rum"))
    edit("events/harbour-night.yaml", "equipment: [shakers]", "equipment: [a blender shared with milk]")
    edit("events/harbour-night.yaml", "      - eel-lane", "      - lane\n      - salt-gate")
    edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 10.00")
    (house.house / "events/pier-lunch.yaml").unlink()
    edit("events/tar-night.yaml", "date:", "dat:")
    house.write("events/quay-lunch.yaml", _event("Quay Lunch", "felt-hat", "long-walk", date="2027-01-09"))
    edit("house.yaml", "region: GB-ENG", "region: GB-ENG\nlarge cube: 60 mm")


@pytest.fixture
def house(tmp_path) -> Books:
    return books(tmp_path)


@pytest.fixture(scope="module")
def winter(tmp_path_factory) -> Comparison:
    house = books(tmp_path_factory.mktemp("words"))
    _older(house)
    _newer(house)
    return house.compared()


def test_every_sentence_once(winter):
    text = compare_text(winter, bold=False) + "\n"
    if os.environ.get("UPDATE_EXPECTED"):
        EXPECTED.write_text(text, encoding="utf-8", newline="\n")
    assert text == EXPECTED.read_text("utf-8")
    assert max(map(len, text.splitlines())) <= 80


def test_markdown_says_the_same_and_json_no_less(winter):
    html = re.sub(r"<[^>]*>", " ", MarkdownIt().render(compare_markdown(winter)))
    assert unescape(html).replace("⚠", "").split() == EXPECTED.read_text("utf-8").replace("!!", "").split()
    told = json.loads(compare_json(winter))
    assert told["new_events"] == [
        {"event": "quay-lunch", "name": "Quay Lunch", "date": "2027-01-09", "menu": ["Felt Hat", LONG]}
    ]
    assert told["not_on_cards"][0]["cards"] == "7f3a2c1"
    faults = {one["now"]["drink"]: (one["in_older"], one["in_newer"]) for one in told["not_compared"]}
    assert faults == {
        "fog-bell": (True, True), "heron-row": (True, False), "kelp-rope": (False, True), "lamp-oil": (True, True),
    }  # fmt: skip
    moves = [move for drink in told["drinks"] for move in (*drink["allergens"], *drink["moves"])]
    assert [one["label"] for one in moves if one.get("fact") == "unread"] == ["orgeat"]
    labels = [label for one in moves for label in one["labels"]]
    assert {"name": "oat cream", "said": None, "says": "contains milk"} in labels
    assert {"name": "egg white", "said": "contains egg", "says": None} in labels
    assert {one["substance"] for one in moves if "substance" in one and one["on_no_menu"]} == {"walnut"}


DRINK = Subject("drink", "Fog Bell", "fog-bell", "Fog Bell", "fog-bell")


RYE = Cause("rum", "rum: x", "rum", "contains rye", "contains wheat")
OUT, RULES = Cause("rum", "- 10 ml rum"), Cause("rules", "rules of GB-ENG -> IE")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            Change(
                "allergen", DRINK, "contains", "may contain", (OUT,), ("Pier Lunch",), "almond", "almonds"
            ),
            "almonds: was CONTAINS, now MAY CONTAIN (at Pier Lunch), because 10 ml rum was taken out",
        ),
        (
            Change("allergen", DRINK, "", "contains", (RYE,), fact="wheat", word="blé"),
            (
                "wheat (blé): was not named, now CONTAINS, because the label of rum "
                'now says "contains wheat" and no longer says "contains rye"'
            ),
        ),
        (
            Change("allergen", DRINK, "", "contains", (RULES,), fact="egg", word="eggs"),
            "eggs: was not named, now CONTAINS, because other rules hold: GB-ENG -> IE",
        ),
        (Change("caution", DRINK, "raw egg", "", fact="raw egg"), "raw egg: was a CAUTION, now not named"),
        (Change("unread", DRINK, "read", "not read", word="rum"), "rum: its label was read, now NOT READ"),
        (Change("unknown", DRINK, after="x"), "not known"),
        (Change("listing", DRINK, word="almonds under Tree nuts"), "almonds under Tree nuts"),
        (
            Change("not on cards", DRINK, after="7f3a2c1", where=("Pier Lunch",)),
            "not on the printed cards of Pier Lunch (7f3a2c1)",
        ),
    ],
    ids=lambda one: one.kind if isinstance(one, Change) else "",
)
def test_one_line_of_an_evening_or_a_history(change, words):
    assert alarm_words(change, "Fog Bell") == f"!! Fog Bell: {words}"
    assert alarm_words(change) == f"!! {words}"
    assert words.startswith(phrase(change))
    swapped = replace(change, swap="rum instead of gin")
    assert alarm_words(swapped, "Fog Bell") == f"!! Fog Bell with rum instead of gin: {words}"


def test_a_label_that_no_menu_pours_is_no_drink_s_gain_and_says_which_would_pour_it(house):
    house.write("specs/felt-hat.md", _spec("Felt Hat", "40 ml white wine"))
    house.commit("On no menu")
    house.edit_stock("white wine", "contains: [sulphites]", "contains: [sulphites, walnut]")
    lines = compare_text(house.compared(), bold=False).splitlines()
    assert lines[3:] == [
        "!! ALLERGENS GAINED in 1 drink on no menu",
        "!!   walnuts: was not named, now CONTAINS",
        "!!     in no drink on a menu; Felt Hat would pour it",
        '!!     because the label of white wine now says "contains walnut"',
    ]
    house.commit("Walnut")
    house.edit_stock("white wine", "contains: [sulphites, walnut]", "contains: [sulphites]")
    lines = compare_text(house.compared(), bold=False).splitlines()
    # What it pours no longer has it: nothing "would".
    assert lines[3:6] == [
        "!! ALLERGENS LOST in 1 drink on no menu: read these labels again",
        "!!   walnuts: was CONTAINS, now not named",
        "!!     on no menu: Felt Hat",
    ]
    house.commit("No walnut")
    house.edit_stock("white wine", "price: 6.00", "price: 7.00")
    house.edit_stock("soda water", "contains: none", "may contain: [milk]\n  contains: none")
    text = compare_text(house.compared(), bold=False)
    assert '  soda water: now says "may contain milk", in no drink\n' in text
    assert "  white wine: price 6.00 -> 7.00\n    Felt Hat: cost 0.32 -> 0.37 GBP" in text


def test_many_drinks_of_one_cause_share_a_line_and_what_many_are_like_now_is_not_said(house):
    slugs = [f"bell-{number}" for number in range(7)]
    for slug in slugs:
        house.write(f"specs/{slug}.md", _spec(slug.title(), "40 ml white wine"))
    house.write("events/harbour-night.yaml", _event("Harbour Night", *slugs))
    house.commit("Seven")
    house.edit_stock("white wine", "price: 6.00", "price: 7.00")
    names = "Bell-0, Bell-1, Bell-2, Bell-3, Bell-4, Bell-5, Bell-6"
    assert f"    {names}: cost" in compare_text(house.compared(), bold=False)
    house.edit_stock("white wine", "abv:", "avb:")
    house.commit("A slip")
    house.edit_stock("white wine", "avb:", "abv:")
    assert " now: " not in compare_text(house.compared(), bold=False)


def test_drinks_that_were_declared_otherwise_before_are_not_put_together():
    other = DRINK._replace(name="Gale", id="gale", old_name="Gale", old_id="gale")
    said = [
        Change("allergen", drink, before, "contains", (RYE,), fact="wheat", word="wheat")
        for drink, before in ((DRINK, ""), (other, "may contain"))
    ]
    (section,) = alarms(said)
    why = 'because the label of rum now says "contains wheat" and no longer says "contains rye"'
    assert section.title == "ALLERGENS GAINED in 2 drinks"
    assert [(item.text, item.under) for item in section.blocks[0].items] == [
        ("wheat: was MAY CONTAIN, now CONTAINS", ("Gale", why)),
        ("wheat: was not named, now CONTAINS", ("Fog Bell", why)),
    ]


def test_a_figure_names_one_or_two_of_its_causes_and_no_list_of_them():
    causes = tuple(Cause(name, f"{name} 1 -> 2 ml") for name in ("gin", "rum", "rye", "tea"))
    said = [
        Change("figure", DRINK, "1 %", "2 %", causes[:count], fact=f"figure {count}") for count in (2, 3, 4)
    ]
    *_, (_, (figures,)) = moved_lines(said)
    assert figures == "figure 2 1 -> 2 % (gin and rum), figure 3 1 -> 2 %, figure 4 1 -> 2 %"


def test_what_moved_at_one_event_alone_says_where(house):
    house.write("specs/felt-hat.md", _spec("Felt Hat", "40 ml white wine"))
    other = "bottles:\n  white wine: lemon juice\n"
    house.write("events/harbour-night.yaml", _event("Harbour Night", "felt-hat"))
    house.write("events/pier-lunch.yaml", _event("Pier Lunch", "felt-hat", more=other))
    house.commit("Two menus")
    house.edit_stock("white wine", "price: 6.00", "price: 7.00")
    text = compare_text(house.compared(), bold=False)
    assert "  white wine: price 6.00 -> 7.00\n    Felt Hat (at Harbour Night): cost 0.32 -> 0.37 GBP" in text


def test_a_history_says_once_what_guests_were_told_otherwise(house):
    house.edit_stock("egg white", "cautions: [raw egg]", "cautions: none")
    house.commit("No raw egg")
    said = menugen("drink", "marsh-sour", "--history", cwd=house.house).stdout
    assert "\n  !! raw egg: was a CAUTION, now not named, because stock no longer says" in said
    assert said.count("raw egg:") == 1
    assert "caution raw egg ->" not in said
    assert "caution - raw egg" not in said
