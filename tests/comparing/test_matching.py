"""A drink, an event, a bottle is the same under another name, and is told so once."""

from tests.houses import LONG, SHORE_GIN, SOUR
from tests.revisions.repositories import figures, told


def test_a_rename_is_told_as_one_whatever_else_was_tweaked(house):
    spec = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/salt-sour.md", spec.replace("Marsh Sour", "Salt Sour").replace("25 ml", "20 ml"))
    (house.house / "specs/marsh-sour.md").unlink()
    house.edit("events/small-supper.yaml", "marsh-sour", "salt-sour")
    assert told(house.compared()) == [
        "renamed marsh-sour salt-sour",
        "salt-sour: name Marsh Sour -> Salt Sour",
        "salt-sour: measure lemon juice 25 ml -> 20 ml",
        *figures("salt-sour", "lemon juice 25 ml -> 20 ml", "strength", "volume", "sugar", "acid", "cost"),
    ]


def test_one_drink_gone_and_a_different_one_new_is_no_rename(house):
    (house.house / "specs/marsh-sour.md").unlink()
    house.write(
        "specs/long-walk.md",
        "---\nname: Long Walk\npour: 150 ml white wine\ntop: soda water\nglass: wine\n---\nCold.\n",
    )
    house.edit("events/small-supper.yaml", "marsh-sour: 9.50", "long-walk: 6.00")
    assert told(house.compared()) == [
        "new Long Walk",
        "gone Marsh Sour",
        "small-supper: on the menu now: Long Walk 6.00 GBP",
        "small-supper: off the menu: Marsh Sour",
    ]


def test_an_event_under_another_file_name_is_the_same_event(house):
    text = (house.house / "events/small-supper.yaml").read_text("utf-8")
    house.write("stock/more.yaml", SHORE_GIN)
    house.commit("A gin for the shore")
    (house.house / "events/small-supper.yaml").unlink()
    house.write("events/supper.yaml", text.replace("menu:", "bottles:\n  gin: shore gin\nmenu:"))
    lines = told(house.compared())
    assert "marsh-sour: almond not -> contains <garden gin -> shore gin" in lines
    assert lines[-1] == "supper: file small-supper -> supper"
    assert not [line for line in lines if line.startswith("event ")]


def test_an_event_of_another_name_and_day_with_the_same_menu_is_the_same_event(house):
    text = (house.house / "events/small-supper.yaml").read_text("utf-8")
    (house.house / "events/small-supper.yaml").unlink()
    house.write("events/tall.yaml", text.replace("Small Supper", "Tall Supper").replace("12-12", "12-13"))
    assert told(house.compared()) == [
        "tall: name Small Supper -> Tall Supper",
        "tall: file small-supper -> tall",
        "tall: date 2026-12-12 -> 2026-12-13",
    ]


def test_two_drinks_that_change_files_are_not_rewritten(house):
    house.write("specs/long-walk.md", LONG)
    house.commit("A second drink")
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", LONG)
    house.write("specs/long-walk.md", sour)
    assert sorted(told(house.compared())) == [
        "renamed long-walk marsh-sour",
        "renamed marsh-sour long-walk",
        "small-supper: off the menu: Marsh Sour",
        "small-supper: on the menu now: Long Walk 9.50 GBP",
    ]


def test_two_sours_that_change_names_are_told_by_their_names(house):
    other = SOUR.lstrip("\n").replace("Marsh Sour", "Fen Sour").replace("50 ml gin", "40 ml gin")
    house.write("specs/fen-sour.md", other)
    house.commit("A second sour")
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", other)
    house.write("specs/fen-sour.md", sour)
    lines = told(house.compared())
    assert "renamed marsh-sour fen-sour" in lines
    assert not [line for line in lines if "measure" in line or "strength" in line]


def test_a_stock_line_called_otherwise_is_told_once(house):
    house.edit("stock/all.yaml", "garden gin:\n", "walled garden gin:\n")
    assert told(house.compared()) == ["stock garden gin = walled garden gin"]
    house.edit_stock("walled garden gin", "price: 14.00", "price: 15.00")
    house.edit_stock("walled garden gin", "aliases: [gin]", "aliases: [gin, garden gin]")
    assert told(house.compared()) == [
        "marsh-sour: cost <walled garden gin: price 14.00 -> 15.00",
        "stock walled garden gin: price 14.00 -> 15.00 (1)",
        "stock garden gin = walled garden gin",
    ]


def test_another_name_for_the_same_bottle_is_no_change(house):
    house.edit("specs/marsh-sour.md", "50 ml gin", "50 ml garden gin")
    assert told(house.compared()) == []
    house.edit("specs/marsh-sour.md", "50 ml garden gin", "55 ml garden gin")
    assert "marsh-sour: measure garden gin 50 ml -> 55 ml" in told(house.compared())


def test_a_renamed_bottle_whose_measure_moves_too_is_still_that_bottle(house):
    house.edit("specs/marsh-sour.md", "15 ml sugar syrup", "15 ml orgeat")
    house.commit("Orgeat")
    house.edit("stock/all.yaml", "orgeat:\n", "almond orgeat:\n")
    house.edit_stock("almond orgeat", "contains: [almond]", "contains: [almond]\n  may contain: [peanut]")
    house.edit("specs/marsh-sour.md", "15 ml orgeat", "20 ml almond orgeat")
    lines = told(house.compared())
    assert "stock orgeat = almond orgeat" in lines
    assert "marsh-sour: measure almond orgeat 15 ml -> 20 ml" in lines
    assert "marsh-sour: peanut not -> may <almond orgeat: may contain + peanut" in lines
