"""What cannot be read or worked out is told as not known, and never as unchanged, new or gone."""

import pytest

from menugen.comparing import NOT_READ, NewHouse
from tests.houses import LONG, SHORE_GIN, texts
from tests.revisions.repositories import books, only_drink, told


def test_a_revision_with_faults_is_compared_as_far_as_it_can_be_read(house):
    house.write("specs/broken.md", "---\nname: Broken\npour: 50 xx\n")
    house.edit("specs/marsh-sour.md", "50 ml gin", "60 ml gin")
    comparison = house.compared()
    assert "marsh-sour: measure gin 50 ml -> 60 ml" in told(comparison)
    assert comparison.notes == ()
    (unknown,) = comparison.of("drink", "unknown")
    assert (unknown.subject.id, unknown.before, unknown.after) == ("broken", "", "your working files")
    assert [cause.text for cause in unknown.causes] == [
        'specs/broken.md line 1: the part that begins with "---" is never closed'
    ]
    assert [problem.code for problem in comparison.new.errors] == ["front-matter-unclosed"]
    assert comparison.old.errors == ()
    assert not list(comparison.of("drink", "added"))


def test_stock_that_cannot_be_read_is_not_called_gone(house):
    house.edit("stock/all.yaml", "  abv: 40 %\n", "  abv: forty\n")
    comparison = house.compared()
    assert not list(comparison.of("stock", "gone"))
    assert any("garden gin" in note for note in comparison.notes)


def test_an_unread_label_on_both_sides_is_told_as_a_problem_of_both(house):
    house.edit_stock("garden gin", "  contains: none\n", "")
    house.commit("Not read yet")
    house.edit("specs/marsh-sour.md", "Bright", "Very bright")
    comparison = house.compared()
    assert [problem.code for problem in comparison.old.errors] == ["label-not-read"]
    assert [problem.code for problem in comparison.new.errors] == ["label-not-read"]


def test_a_house_that_was_not_there_yet_is_said_so(tmp_path):
    house = books(tmp_path, {"README.txt": "soon"})
    for name, text in texts().items():
        house.write(name, text)
    with pytest.raises(NewHouse, match=r"\(2026-11-01, As we began\) has none"):
        house.compared()


def test_a_strength_that_nobody_states_is_not_known_and_not_nothing(house):
    house.edit_stock("garden gin", "  abv: 40 %\n", "")
    comparison = house.compared()
    moves = {one.called: one.after for one in only_drink(comparison)[1]}
    assert moves["strength"] == "not known (no strength stated: garden gin)"
    assert moves["units"] == "units not known"
    assert "menu's word" not in moves
    assert [problem.code for problem in comparison.new.errors] == ["strength-not-stated"]


def test_a_menu_that_lists_what_is_not_there_is_a_problem_of_the_new_house(house):
    house.write("specs/long-walk.md", LONG)
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "marsh-sour: 9.50\n      - long-walk: 6.00")
    house.commit("On the menu")
    (house.house / "specs/long-walk.md").unlink()
    comparison = house.compared()
    assert [(one.code, one.where.line > 1) for one in comparison.new.errors] == [("unknown-drink", True)]
    assert comparison.old.errors == ()


def test_a_drink_at_fault_then_is_not_passed_over_now(house):
    house.edit("specs/marsh-sour.md", "name:", "nome:")
    house.commit("A slip")
    house.edit("specs/marsh-sour.md", "nome:", "name:")
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    comparison = house.compared()
    (one,) = comparison.of("drink", "unknown")
    _, *allergens = comparison.known_of(one)
    assert [(known.after, known.word) for known in allergens] == [
        ("contains", "eggs"),
        ("contains", "almonds"),
    ]
    assert (one.before, one.after) == (comparison.old.label, "")
    assert told(comparison)[-1] == "stock garden gin: contains + almond (1)"


def test_a_label_nobody_reads_any_more_says_so_once(house):
    house.edit_stock("egg white", "  contains: [egg]\n", "")
    (stock,) = house.compared().of("stock", "says")
    assert stock.after == "what it contains is no longer said"


def test_an_event_nobody_can_read_is_not_compared_and_said_so(house):
    house.edit("events/small-supper.yaml", "date:", "dat:")
    comparison = house.compared()
    (unknown,) = comparison.of("event", "unknown")
    assert (unknown.subject.name, unknown.before, unknown.after) == (
        "Small Supper",
        "",
        "your working files",
    )
    assert unknown.causes[0].text.startswith("events/small-supper.yaml line 2: ")
    assert comparison.changes


def test_one_stock_file_nobody_can_read_leaves_the_others_compared(house):
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("Two files")
    house.write("stock/more.yaml", "x: [\n")
    house.edit_stock("garden gin", "price: 14.00", "price: 15.00")
    comparison = house.compared()
    assert comparison.notes == ("stock that cannot be read in the newer house: shore gin",)
    assert "stock garden gin: price 14.00 -> 15.00 (1)" in told(comparison)


def test_a_label_nobody_has_read_in_either_house_is_not_known_and_an_error_of_both(house):
    house.edit_stock("garden gin", "  contains: none\n", "")
    house.commit("Not read")
    comparison = house.compared()
    assert [(one.kind, one.fact, one.before) for one in comparison.changes] == [
        ("unread", "garden gin", NOT_READ)
    ]
    for side in (comparison.old, comparison.new):
        assert [problem.code for problem in side.errors] == ["label-not-read"]


def test_what_is_not_known_says_which_fault_keeps_it_so(house):
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg")
    (unknown,) = house.compared().of("drink", "unknown")
    (cause,) = unknown.causes
    assert cause.subject == "stock/all.yaml"
    house.commit("A slip")
    house.edit_stock("egg white", "contains: [egg", "contains: [egg]")
    house.edit_stock("lemon juice", "  checked: 2026-11-01", "  checked: soon")
    (unknown,) = house.compared().of("drink", "unknown")
    assert (bool(unknown.before), bool(unknown.after), len(unknown.causes)) == (True, True, 2)
    assert unknown.causes[1].text.startswith("stock/all.yaml line 16: ")
    house.edit_stock("lemon juice", "  checked: soon", "  checked: 2026-11-01")
    house.commit("Mended")
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml fog")
    (unknown,) = house.compared().of("drink", "unknown")
    assert [one.text for one in unknown.causes] == [
        'specs/marsh-sour.md line 4: nothing in stock is called "fog"'
    ]
