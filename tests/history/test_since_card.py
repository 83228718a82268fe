"""What a guest with a printed card is told."""

import json

from menugen.history import changes_since_card
from menugen.menu import GuestMenu
from menugen.menu.words import CARD_PHRASES
from menugen.publishing import event_files, event_menu, look_at_house
from menugen.reading import DiskFiles
from tests.history.repositories import Books, books, git


def menu(house: Books) -> GuestMenu:
    (facts,) = look_at_house(house.house, DiskFiles(house.house)).events
    return event_menu(facts)


def filled(phrase: str, **names: str) -> str:
    assert phrase in CARD_PHRASES
    return phrase.format(**names)


def since(house: Books, printed: GuestMenu) -> tuple[str, ...]:
    return changes_since_card(printed, menu(house), filled)


def test_what_touches_no_allergen_is_not_told(tmp_path):
    house = books(tmp_path)
    printed = menu(house)
    house.edit("events/small-supper.yaml", "9.50", "12.00")
    house.edit("events/small-supper.yaml", "menu:", "off: [marsh-sour]\nmenu:")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    assert since(house, printed) == ()


def test_what_a_bottle_brings_is_told_with_its_swaps_only_where_they_differ(tmp_path):
    house = books(tmp_path)
    printed = menu(house)
    house.edit_stock("aquafaba", "may contain: [lupin]", "contains: [lupin]\n  may contain: [soy]")
    house.edit_stock("aquafaba", "  contains: none\n", "")
    assert since(house, printed) == (
        "Since the card was printed: Marsh Sour (aquafaba instead of egg white) now contains lupin.",
        "Since the card was printed: Marsh Sour (aquafaba instead of egg white) may now contain soybeans.",
    )


def test_gains_come_first_and_a_loss_is_no_promise(tmp_path):
    house = books(tmp_path)
    printed = menu(house)
    house.edit_stock("egg white", "contains: [egg]", "contains: [milk]")
    gained, *others = since(house, printed)
    assert gained == "Since the card was printed: Marsh Sour now contains milk."
    assert others == [
        "Since the card was printed: the labels of Marsh Sour no longer name eggs. Ask us before you rely on it."
    ]
    assert not any("free" in sentence for sentence in CARD_PHRASES)


def test_a_drink_the_card_does_not_know_says_what_it_contains(tmp_path):
    house = books(tmp_path)
    printed = menu(house)
    house.write(
        "specs/orgeat-soda.md",
        "---\nname: Almond Soda\npour: 20 ml orgeat\ntop: soda water\nglass: highball\n---\nTall.\n",
    )
    house.edit("events/small-supper.yaml", "      - marsh-sour", "      - orgeat-soda\n      - marsh-sour")
    assert since(house, printed) == ("Not on the printed card: Almond Soda, which contains almonds.",)


def test_a_warning_that_became_an_ingredient_is_told(tmp_path):
    house = books(tmp_path)
    house.edit_stock("garden gin", "contains: none", "contains: none\n  may contain: [almond]")
    printed = menu(house)
    house.edit_stock("garden gin", "contains: none\n  may contain: [almond]", "contains: [almond]")
    assert since(house, printed) == ("Since the card was printed: Marsh Sour now contains almonds.",)


def test_one_nut_fewer_is_no_gain_and_one_more_is(tmp_path):
    house = books(tmp_path)
    house.edit_stock("garden gin", "contains: none", "contains: [almond, hazelnut]")
    two = menu(house)
    house.edit_stock("garden gin", "contains: [almond, hazelnut]", "contains: [almond]")
    one = menu(house)
    assert changes_since_card(two, one, filled) == ()
    assert changes_since_card(one, two, filled) == (
        "Since the card was printed: Marsh Sour now contains almonds, hazelnuts.",
    )


def test_the_page_and_the_machines_are_told_where_the_event_names_its_cards(tmp_path):
    house = books(tmp_path)
    printed = git(house.house, "rev-parse", "HEAD")[:7]
    house.edit("events/small-supper.yaml", "menu:", f"printed: {printed}\nmenu:")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    look = look_at_house(house.house, DiskFiles(house.house))
    assert not [problem for problem in look.problems if problem.code == "printed-unknown"]
    files = event_files(look, look.events[0])
    sentence = "Since the card was printed: Marsh Sour now contains almonds."
    form = json.loads(files["site/menu.json"])
    assert form["changes"] == [sentence]
    assert (form["date"], form["uncommitted"]) == ("2026-12-12", True)
    assert sentence in files["site/index.html"].decode()
    assert sentence in files["site/t/index.html"].decode()
    assert form["version"] in files["print/cards-a4.html"].decode()


def test_a_card_nobody_knows_is_told_and_stops_nothing(tmp_path):
    house = books(tmp_path)
    house.edit("events/small-supper.yaml", "menu:", "printed: 0123456\nmenu:")
    look = look_at_house(house.house, DiskFiles(house.house))
    (problem,) = [problem for problem in look.problems if problem.code == "printed-unknown"]
    assert 'git knows no revision "0123456" here' in problem.message
    assert not look.stopped
    assert b"Since the card" not in event_files(look, look.events[0])["site/index.html"]
