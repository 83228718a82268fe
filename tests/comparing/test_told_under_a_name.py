"""What guests were told under a name is compared with what they are told under it now, whatever brought the difference.

Each test is a small history with its truth: what is told of each step, and whether a guard of allergens stops for it.
"""

import pytest

from menugen.comparing import Comparison, told_otherwise
from tests.houses import EVENT, LONG, SHORE_GIN, SOUR, texts
from tests.revisions.repositories import Books, books, git, told

DARK = """\
dark liqueur:
  bottle: 700 ml
  price: 17.00
  abv: 24 %
  contains: none
  checked: 2026-11-01
"""
FELT_HAT = """\
---
name: Felt Hat
pour: [40 ml dark liqueur, 20 ml lemon juice]
glass: sour
method: shake
---
Dark.
"""


def event(name: str, *drinks: str, more: str = "", day: str = "2026-12-19") -> str:
    listed = "".join(f"      - {one}: 9.00\n" for one in drinks)
    text = EVENT.lstrip("\n").replace("Small Supper", name).replace("2026-12-12", day)
    return text.replace("menu:", f"{more}menu:").replace("      - marsh-sour: 9.50\n", listed)


def declared(comparison: Comparison) -> list[str]:
    """Return what is declared otherwise; figures and what causes it are told beside that."""
    lines = [
        line
        for line in told(comparison)
        if "contains" in line.split(" <")[0] or " may" in line.split(" <")[0]
    ]
    return [line for line in lines if not line.startswith("stock ")]


def stops(comparison: Comparison) -> bool:
    return bool(told_otherwise(comparison.changes))


@pytest.fixture
def hat(tmp_path) -> Books:
    """A house with a drink on no menu."""
    return books(tmp_path, texts(**{"stock/dark.yaml": DARK, "specs/felt-hat.md": FELT_HAT}))


def label(house: Books, before: str, after: str) -> None:
    house.edit("stock/dark.yaml", before, after)


def test_a_label_of_a_bottle_that_no_menu_pours_is_a_change_of_the_drinks_that_would_pour_it(hat):
    label(hat, "contains: none", "contains: [walnut]")
    comparison = hat.compared()
    assert (
        told(comparison)[0]
        == "felt-hat: walnut not -> contains (on no menu) <dark liqueur: contains + walnut"
    )
    (stock,) = comparison.of("stock", "says")
    assert (stock.where, stock.would) == ((), ("Felt Hat",))
    assert stops(comparison)


def test_a_label_of_a_bottle_that_tonight_s_bottle_stands_in_for_is_one_too(tmp_path):
    supper = event("Small Supper", "marsh-sour", more="bottles:\n  gin: shore gin\n")
    house = books(tmp_path, texts(**{"stock/more.yaml": SHORE_GIN, "events/small-supper.yaml": supper}))
    house.edit_stock("garden gin", "contains: none", "contains: [walnut]")
    comparison = house.compared()
    assert declared(comparison) == [
        "marsh-sour: walnut not -> contains (on no menu) <garden gin: contains + walnut"
    ]
    assert not [line for line in told(comparison) if "strength" in line or "cost" in line]
    assert stops(comparison)
    house.commit("Walnut")
    house.write("events/second.yaml", event("Second Supper", "marsh-sour"))
    assert "marsh-sour: walnut not -> contains @Second Supper <shore gin -> garden gin" in told(
        house.compared()
    )


def test_a_price_of_a_bottle_that_no_menu_pours_stops_no_guard(tmp_path):
    supper = event("Small Supper", "marsh-sour", more="bottles:\n  gin: shore gin\n")
    house = books(tmp_path, texts(**{"stock/more.yaml": SHORE_GIN, "events/small-supper.yaml": supper}))
    house.edit_stock("garden gin", "14.00", "15.00")
    assert told(house.compared()) == ["stock garden gin: price 14.00 -> 15.00 (1)"]
    assert not stops(house.compared())


def test_a_house_that_moves_is_no_change_of_a_drink_whose_menus_stay_where_they_are(tmp_path):
    supper = event("Small Supper", "marsh-sour", more="region: GB-ENG\n")
    house = books(tmp_path, texts(**{"events/small-supper.yaml": supper}))
    house.edit("house.yaml", "region: GB-ENG", "region: US\ncurrency: GBP")
    assert told(house.compared()) == ["house region GB-ENG -> US", "house currency none -> GBP"]
    assert not stops(house.compared())


def test_a_bottle_that_no_spec_can_pour_is_told_and_stops_no_guard(house):
    house.edit_stock("orgeat", "contains: [almond]", "contains: [almond, walnut]")
    assert told(house.compared()) == ["stock orgeat: contains + walnut (0)"]
    assert not stops(house.compared())


def test_a_label_and_the_event_that_pours_it_are_told_as_one_change_of_the_drink(hat):
    label(hat, "contains: none", "contains: [walnut]")
    hat.commit("Walnut")
    hat.write("events/second.yaml", event("Second Supper", "felt-hat"))
    assert not stops(hat.compared()), "its own spec brought walnut before"
    both = hat.compared("HEAD~1")
    assert declared(both) == [
        "felt-hat: walnut not -> contains @Second Supper <dark liqueur: contains + walnut"
    ]
    assert stops(both)


def test_a_bottle_of_a_new_event_is_held_against_what_every_menu_declared_of_the_drink(hat):
    label(hat, "contains: none", "contains: [walnut]")
    hat.commit("Walnut")
    hat.write(
        "events/second.yaml", event("Second Supper", "marsh-sour", more="bottles:\n  gin: dark liqueur\n")
    )
    comparison = hat.compared()
    assert declared(comparison) == [
        "marsh-sour: walnut not -> contains @Second Supper <garden gin -> dark liqueur"
    ]
    assert "event + Second Supper" in told(comparison)
    assert stops(comparison)


def test_a_new_event_whose_drinks_are_as_some_menu_declared_them_is_no_alarm(tmp_path):
    other = event("Second Supper", "marsh-sour", more="bottles:\n  gin: shore gin\n")
    house = books(tmp_path, texts(**{"stock/more.yaml": SHORE_GIN, "events/second.yaml": other}))
    house.write("events/third.yaml", event("Third Supper", "marsh-sour", day="2026-12-26"))
    assert told(house.compared()) == ["event + Third Supper"]
    house.commit("A third")
    fourth = event("Fourth Supper", "marsh-sour", day="2026-12-27", more="bottles:\n  gin: shore gin\n")
    house.write("events/fourth.yaml", fourth)
    assert told(house.compared()) == ["event + Fourth Supper"]
    assert not stops(house.compared())


@pytest.mark.parametrize(
    ("contains", "expected"),
    [
        ("contains: none", []),
        ("contains: [almond]", []),
        ("contains: none\n  may contain: [almond]", []),
        ("contains: [hazelnut]", ["hazelnut not -> contains"]),
    ],
)
def test_what_lies_between_what_several_menus_declared_is_no_change(tmp_path, contains, expected):
    other = event("Second Supper", "marsh-sour", more="bottles:\n  gin: shore gin\n")
    fen = SHORE_GIN.replace("shore gin", "fen gin").replace("contains: [almond]", contains)
    house = books(tmp_path, texts(**{"stock/more.yaml": SHORE_GIN + fen, "events/second.yaml": other}))
    third = event("Third Supper", "marsh-sour", day="2026-12-26", more="bottles:\n  gin: fen gin\n")
    house.write("events/third.yaml", third)
    found = [line.partition(": ")[2].partition(" @")[0] for line in declared(house.compared())]
    assert found == expected


def test_a_new_event_that_declares_less_than_every_menu_did_says_so(house):
    house.write(
        "events/second.yaml", event("Second Supper", "marsh-sour", more="bottles:\n  egg white: aquafaba\n")
    )
    comparison = house.compared()
    assert [line.partition(" <")[0] for line in declared(comparison)] == [
        "marsh-sour: lupin not -> may @Second Supper",
        "marsh-sour: egg contains -> not @Second Supper",
    ]
    assert "marsh-sour: caution raw egg ->  @Second Supper <egg white -> aquafaba" in told(comparison)


def test_a_drink_that_no_menu_had_is_held_against_its_own_spec_and_what_it_lacks_is_no_loss(hat):
    label(hat, "contains: none", "contains: [walnut]")
    hat.commit("Walnut")
    second = event("Second Supper", "felt-hat", more="bottles:\n  dark liqueur: orgeat\n")
    hat.write("events/second.yaml", second)
    assert declared(hat.compared()) == [
        "felt-hat: almond not -> contains @Second Supper <dark liqueur -> orgeat"
    ]


def test_the_rules_of_a_new_event_s_place_are_no_change_of_a_drink_that_no_menu_had(hat):
    label(hat, "contains: none", "contains: none\n  distilled from: [wheat]")
    hat.commit("From wheat")
    hat.write("events/second.yaml", event("Second Supper", "felt-hat", more="region: US\n"))
    assert told(hat.compared()) == ["event + Second Supper"]


def test_a_drink_that_joins_a_menu_is_held_against_the_menus_that_had_it(tmp_path):
    second = event("Second Supper", "felt-hat", more="bottles:\n  gin: shore gin\n")
    files = {"stock/more.yaml": SHORE_GIN + DARK, "specs/felt-hat.md": FELT_HAT, "events/second.yaml": second}
    house = books(tmp_path, texts(**files))
    house.edit("events/second.yaml", "- felt-hat: 9.00", "- felt-hat: 9.00\n      - marsh-sour: 9.00")
    assert declared(house.compared()) == [
        "marsh-sour: almond not -> contains @Second Supper <garden gin -> shore gin"
    ]
    assert stops(house.compared())


def test_a_swap_that_a_new_event_s_bottle_fills_brings_its_allergen(hat):
    hat.write(
        "events/second.yaml", event("Second Supper", "marsh-sour", more="bottles:\n  aquafaba: orgeat\n")
    )
    comparison = hat.compared()
    assert (
        "marsh-sour [aquafaba instead of egg white]: almond not -> contains @Second Supper <aquafaba -> orgeat"
        in told(comparison)
    )
    assert stops(comparison)


def test_a_swap_whose_name_another_bottle_fills_is_the_same_choice(house):
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml foam")
    house.edit_stock("aquafaba", "  bottle:", "  aliases: [foam]\n  bottle:")
    house.commit("Foam")
    house.edit_stock("aquafaba", "  aliases: [foam]\n", "")
    house.edit_stock("soda water", "  bottle:", "  aliases: [foam]\n  bottle:")
    lines = told(house.compared())
    assert "marsh-sour [foam instead of egg white]: lupin may -> not <aquafaba -> soda water" in lines
    assert not [line for line in lines if ": swap" in line]


def test_two_drinks_of_one_name_on_a_menu_are_each_held_against_themselves(tmp_path):
    files = {"specs/club-sour.md": LONG.replace("Long Walk", "Marsh Sour")}
    files["events/small-supper.yaml"] = event("Small Supper", "marsh-sour", "club-sour")
    house = books(tmp_path, texts(**files))
    house.edit_stock("soda water", "contains: none", "contains: [soy]")
    house.edit_stock("garden gin", "contains: none", "contains: [hazelnut]")
    assert sorted(declared(house.compared())) == [
        "club-sour: soy not -> contains <soda water: contains + soy",
        "marsh-sour: hazelnut not -> contains <garden gin: contains + hazelnut",
    ]


def test_swaps_made_at_once_are_compared_where_they_alone_bring_something(house):
    house.edit(
        "specs/marsh-sour.md",
        "egg white: 20 ml aquafaba",
        "egg white: 20 ml aquafaba\n  gin: 50 ml white wine",
    )
    house.commit("Two swaps")
    house.edit_stock("white wine", "contains: [sulphites]\n  sulphites: 100 mg/l", "contains: none")
    house.edit_stock("aquafaba", "may contain: [lupin]", "may contain: [lupin, soy]")
    assert {line.partition(":")[0] for line in declared(house.compared())} == {
        "marsh-sour [white wine instead of gin]",
        "marsh-sour [aquafaba instead of egg white]",
    }


def test_one_name_in_a_new_file_with_other_pours_is_a_change_of_what_the_name_holds(house):
    (house.house / "specs/marsh-sour.md").unlink()
    house.write("specs/new-sour.md", LONG.replace("Long Walk", "Marsh Sour"))
    house.edit("events/small-supper.yaml", "- marsh-sour", "- new-sour")
    comparison = house.compared()
    lines = told(comparison)
    assert not [line for line in lines if line.startswith(("new ", "gone "))]
    assert declared(comparison) == [
        "new-sour: sulphites not -> contains <+ 100 ml white wine",
        "new-sour: egg contains -> not <- 1 egg white",
    ]
    assert "new-sour: caution raw egg ->  <- 1 egg white" in lines
    assert not [line for line in lines if "menu" in line], "the name is on the menu as it was"


def test_two_drinks_that_exchange_their_names_are_two_names_that_hold_other_things(tmp_path):
    files = texts(**{"specs/long-walk.md": LONG})
    files["events/small-supper.yaml"] += "      - long-walk: 6.00\n"
    house = books(tmp_path, files)
    house.edit("specs/marsh-sour.md", "Marsh Sour", "Long Walk")
    house.edit("specs/long-walk.md", "Long Walk", "Marsh Sour")
    comparison = house.compared()
    assert sorted(line.partition(" <")[0] for line in declared(comparison) if "[" not in line) == [
        "long-walk: egg contains -> not",
        "long-walk: sulphites not -> contains",
        "marsh-sour: egg not -> contains",
        "marsh-sour: sulphites contains -> not",
    ]
    assert {one.subject.name for one in comparison.changes if one.fact == "egg"} == {
        "Marsh Sour",
        "Long Walk",
    }
    assert stops(comparison)


def test_two_files_of_drinks_that_are_exchanged_change_no_name(tmp_path):
    files = texts(**{"specs/long-walk.md": LONG})
    files["events/small-supper.yaml"] += "      - long-walk: 6.00\n"
    house = books(tmp_path, files)
    sour = (house.house / "specs/marsh-sour.md").read_text("utf-8")
    house.write("specs/marsh-sour.md", LONG)
    house.write("specs/long-walk.md", sour)
    assert not stops(house.compared())
    assert not declared(house.compared())


def test_one_menu_may_list_another_spec_of_the_same_name(tmp_path):
    house = books(tmp_path, texts(**{"specs/club-sour.md": LONG.replace("Long Walk", "Marsh Sour")}))
    house.edit("events/small-supper.yaml", "- marsh-sour", "- club-sour")
    comparison = house.compared()
    assert declared(comparison) == [
        "club-sour: sulphites not -> contains <+ 100 ml white wine",
        "club-sour: egg contains -> not <- 1 egg white",
    ]
    assert not [line for line in told(comparison) if "the menu" in line]


def test_a_drink_whose_name_another_has_on_another_menu_is_held_against_its_own_event(tmp_path):
    club = event("Club Night", "club-sour")
    files = {"specs/club-sour.md": LONG.replace("Long Walk", "Marsh Sour"), "events/club.yaml": club}
    house = books(tmp_path, texts(**files))
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
    assert declared(house.compared()) == ["marsh-sour: milk not -> contains <egg white: contains + milk"]


FRENCH = "languages: [en, fr]\n"


def in_french(spec: str, name: str) -> str:
    return spec.lstrip("\n").replace("glass:", f"translations:\n  fr:\n    name: {name}\nglass:", 1)


def two_languages(tmp_path) -> Books:
    supper = event("Small Supper", "marsh-sour", "long-walk", more=FRENCH)
    specs = {"specs/marsh-sour.md": in_french(SOUR, "Aigre"), "specs/long-walk.md": in_french(LONG, "Balade")}
    return books(tmp_path, texts(**specs, **{"events/small-supper.yaml": supper}))


def test_a_new_name_in_one_language_is_no_alarm(tmp_path):
    house = two_languages(tmp_path)
    house.edit("specs/marsh-sour.md", "name: Aigre", "name: Acide")
    assert not stops(house.compared())
    assert not declared(house.compared())
    house.edit("specs/marsh-sour.md", "name: Marsh Sour", "name: Fen Sour")
    assert told(house.compared()) == ["marsh-sour: name Marsh Sour -> Fen Sour"]


def test_names_that_are_exchanged_in_one_language_alone_are_a_change_in_that_language(tmp_path):
    house = two_languages(tmp_path)
    house.edit("specs/marsh-sour.md", "name: Aigre", "name: Balade")
    house.edit("specs/long-walk.md", "name: Balade", "name: Aigre")
    comparison = house.compared()
    found = [one for one in comparison.changes if one.kind == "allergen" and not one.swap]
    assert {(one.subject.name, one.fact, one.after, one.languages) for one in found} == {
        ("Balade", "egg", "contains", ("fr",)),
        ("Balade", "sulphites", "", ("fr",)),
        ("Aigre", "egg", "", ("fr",)),
        ("Aigre", "sulphites", "contains", ("fr",)),
    }
    assert stops(comparison)


def test_a_drink_that_could_be_worked_out_in_neither_house_is_not_known(hat):
    hat.edit("specs/marsh-sour.md", "50 ml gin", "50 ml fog water")
    hat.commit("Nothing is called that")
    hat.edit("specs/marsh-sour.md", "Bright and short.", "Bright, short.")
    comparison = hat.compared()
    (one,) = comparison.of("drink", "unknown")
    assert (one.subject.name, one.before, one.after) == (
        "Marsh Sour",
        comparison.old.label,
        comparison.new.label,
    )
    assert stops(comparison)


def test_a_spec_that_neither_house_can_read_is_not_known(house):
    house.edit("specs/marsh-sour.md", "pour:", "por:")
    house.commit("A slip")
    house.edit("house.yaml", "The Test Bar", "The Tested Bar")
    comparison = house.compared()
    (one,) = comparison.of("drink", "unknown")
    assert (one.before, one.after) == (comparison.old.label, comparison.new.label)
    assert stops(comparison)


def test_an_event_that_neither_house_can_read_is_not_known(house):
    house.edit("events/small-supper.yaml", "date:", "dat:")
    house.commit("A slip")
    house.edit("house.yaml", "The Test Bar", "The Tested Bar")
    comparison = house.compared()
    (one,) = comparison.of("event", "unknown")
    assert (one.before, one.after) == (comparison.old.label, comparison.new.label)
    assert stops(comparison)


def test_a_label_that_is_unread_is_no_loss_and_is_not_passed_over(house):
    house.edit_stock("egg white", "  contains: [egg]\n", "")
    comparison = house.compared()
    assert told(comparison) == [
        "marsh-sour: unread egg white <egg white: what it contains is no longer said",
        "stock egg white: what it contains is no longer said (1)",
    ]
    (one,) = (one for one in comparison.changes if one.kind == "unread")
    assert [cause.said for cause in one.causes] == ["contains egg"]
    assert stops(comparison)
    house.commit("Unread")
    house.edit("house.yaml", "The Test Bar", "The Tested Bar")
    assert stops(house.compared()), "nobody knows what is in it"
    house.edit_stock("egg white", "  each:", "  contains: [egg]\n  each:")
    assert declared(house.compared()) == ["marsh-sour: egg not -> contains <egg white: contains + egg"]


def test_a_bottle_whose_label_nobody_has_read_takes_another_s_place(house):
    house.write("stock/more.yaml", SHORE_GIN.replace("  contains: [almond]\n", ""))
    house.commit("A gin for the shore")
    house.edit("events/small-supper.yaml", "menu:", "bottles:\n  gin: shore gin\nmenu:")
    assert "marsh-sour: unread shore gin <garden gin -> shore gin" in told(house.compared())
    assert stops(house.compared())


def test_a_drink_that_no_menu_had_and_whose_label_nobody_has_read_joins_one(hat):
    hat.write("stock/more.yaml", SHORE_GIN.replace("  contains: [almond]\n", ""))
    hat.commit("A gin for the shore")
    hat.write(
        "events/second.yaml", event("Second Supper", "felt-hat", more="bottles:\n  dark liqueur: shore gin\n")
    )
    assert "felt-hat: unread shore gin @Second Supper <dark liqueur -> shore gin" in told(hat.compared())
    assert stops(hat.compared())


def test_a_label_that_nobody_read_stops_no_guard_where_a_library_s_drink_alone_asks_for_it(tmp_path):
    house = books(
        tmp_path, texts(**{"stock/dark.yaml": DARK.replace("  contains: none\n", "")}), inside="bar"
    )
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs/felt-hat.md").write_text(FELT_HAT, "utf-8")
    (tmp_path / "specs/marsh-sour.md").write_text(SOUR.lstrip("\n"), "utf-8")
    house.edit("house.yaml", "region:", "specs: ../specs\nregion:")
    git(tmp_path, "add", "-A")
    house.commit("A library")
    house.edit("house.yaml", "The Test Bar", "The Tested Bar")
    assert not stops(house.compared())
    label(house, "  checked:", "  contains: [walnut]\n  checked:")
    assert stops(house.compared())


def test_a_choice_that_another_takes_the_place_of_stops_a_guard(house):
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml soda water")
    assert "marsh-sour: swap 20 ml aquafaba -> 20 ml soda water instead of egg white" in told(
        house.compared()
    )
    assert stops(house.compared())
    house.commit("Soda")
    house.edit("specs/marsh-sour.md", "20 ml soda water", "25 ml soda water")
    assert not stops(house.compared()), "it is measured otherwise, and is the same choice"
    house.edit("specs/marsh-sour.md", "swap:\n  egg white: 25 ml soda water\n", "")
    assert stops(house.compared())


def test_what_no_law_lists_is_compared_wherever_it_is_poured(hat):
    label(hat, "contains: none", "contains: [Mango]\n  may contain: [guava]")
    hat.commit("Mango")
    hat.write(
        "events/second.yaml", event("Second Supper", "marsh-sour", more="bottles:\n  gin: dark liqueur\n")
    )
    comparison = hat.compared()
    assert declared(comparison) == [
        "marsh-sour: mango not -> contains @Second Supper <garden gin -> dark liqueur",
        "marsh-sour: guava not -> may @Second Supper <garden gin -> dark liqueur",
    ]
    hat.commit("Second")
    label(hat, "contains: [Mango]", "contains: [mango]")
    assert not stops(hat.compared())


def test_a_name_that_goes_from_one_drink_to_another_is_on_the_menu_as_it_was(tmp_path):
    files = texts(**{"specs/long-walk.md": LONG})
    files["events/small-supper.yaml"] += "      - long-walk: 6.00\n"
    house = books(tmp_path, files)
    house.edit("specs/marsh-sour.md", "Marsh Sour", "Fen Sour")
    house.edit("specs/long-walk.md", "Long Walk", "Marsh Sour")
    of_event = [line for line in told(house.compared()) if line.startswith("small-supper: ")]
    assert of_event == [
        "small-supper: on the menu now: Fen Sour 9.50 GBP",
        "small-supper: off the menu: Long Walk",
        "small-supper: Marsh Sour: price 9.50 GBP -> 6.00 GBP",
    ]


def test_a_spec_that_cannot_be_read_is_on_the_menu_as_it_was(house):
    house.edit("events/small-supper.yaml", "menu:", "printed: 7f3a2c1\nmenu:")
    house.edit("specs/marsh-sour.md", "pour:", "por:")
    house.commit("A slip")
    house.edit("specs/marsh-sour.md", "por:", "pour:")
    assert told(house.compared()) == ["unseen marsh-sour"]


def test_a_caution_that_comes_or_goes_stops_a_guard(house):
    house.edit_stock("egg white", "cautions: [raw egg]", "cautions: none")
    house.commit("Pasteurised")
    assert stops(house.compared("HEAD~1"))
    house.edit_stock("egg white", "cautions: none", "cautions: [raw egg]")
    assert told(house.compared())[0] == "marsh-sour: caution  -> raw egg <egg white: caution + raw egg"
    assert stops(house.compared())


def test_a_caution_of_a_swap_comes_and_goes(house):
    house.edit_stock("aquafaba", "may contain: [lupin]", "may contain: [lupin]\n  cautions: [dry ice]")
    assert (
        "marsh-sour [aquafaba instead of egg white]: caution  -> dry ice <aquafaba: caution + dry ice"
        in told(house.compared())
    )
    assert stops(house.compared())


def test_shared_equipment_that_comes_or_goes_stops_a_guard(house):
    house.edit("events/small-supper.yaml", "menu:", "equipment: [shared blender]\nmenu:")
    assert told(house.compared()) == ["small-supper: shared  -> shared blender"]
    assert stops(house.compared())
    house.commit("A blender")
    house.edit("events/small-supper.yaml", "[shared blender]", "[Shared blender]")
    assert not stops(house.compared())
    house.edit("events/small-supper.yaml", "equipment: [Shared blender]\n", "")
    assert told(house.compared()) == ["small-supper: shared shared blender -> "]
    assert stops(house.compared())


def test_a_drink_that_printed_cards_do_not_have_stops_a_guard(hat):
    hat.edit("events/small-supper.yaml", "menu:", "printed: 7f3a2c1\nmenu:")
    hat.commit("Printed")
    assert not stops(hat.compared("HEAD~1"))
    hat.edit("events/small-supper.yaml", "- marsh-sour: 9.50", "- marsh-sour: 9.50\n      - felt-hat: 8.00")
    comparison = hat.compared()
    assert told(comparison) == [
        "not on cards felt-hat @Small Supper",
        "small-supper: on the menu now: Felt Hat 8.00 GBP",
    ]
    assert [one.after for one in told_otherwise(comparison.changes)] == ["7f3a2c1"]
    hat.commit("Felt Hat")
    hat.edit("specs/felt-hat.md", "Felt Hat", "Top Hat")
    assert not stops(hat.compared()), "it is on the cards by another name"


def test_a_drink_that_joins_a_menu_as_its_cards_are_forgotten_stops_a_guard(hat):
    hat.edit("events/small-supper.yaml", "menu:", "printed: 7f3a2c1\nmenu:")
    hat.commit("Printed")
    hat.edit("events/small-supper.yaml", "printed: 7f3a2c1\n", "")
    hat.edit("events/small-supper.yaml", "- marsh-sour: 9.50", "- marsh-sour: 9.50\n      - felt-hat: 8.00")
    assert "not on cards felt-hat @Small Supper" in told(hat.compared())


def test_what_is_so_on_every_menu_of_a_drink_names_none(house):
    house.write("events/second.yaml", event("Second Supper", "marsh-sour"))
    house.edit_stock("garden gin", "contains: none", "contains: [almond]")
    assert declared(house.compared()) == ["marsh-sour: almond not -> contains <garden gin: contains + almond"]


def test_a_drink_on_no_menu_that_cannot_be_made_is_not_known(hat):
    hat.edit("specs/felt-hat.md", "40 ml dark liqueur", "40 ml fog water")
    assert "unseen felt-hat" in told(hat.compared())
    hat.commit("Fog")
    hat.edit("specs/felt-hat.md", "40 ml fog water", "40 ml dark liqueur")
    hat.write("events/second.yaml", event("Second Supper", "felt-hat"))
    assert not stops(hat.compared()), "nobody was told anything of it"


def test_a_new_drink_on_a_menu_without_cards_stops_no_guard(hat):
    hat.edit("events/small-supper.yaml", "- marsh-sour: 9.50", "- marsh-sour: 9.50\n      - felt-hat: 8.00")
    assert not stops(hat.compared())


@pytest.mark.parametrize(
    "again",
    [
        ("menu:", "off: [marsh-sour]\nmenu:"),
        ("menu:", "off: [marsh-sour]\nhide off: yes\nmenu:"),
        ("section: All", "section: Others"),
        ("9.50", "11.00"),
        ("2026-12-12", "2026-12-13"),
        ("Small Supper", "Late Supper"),
    ],
)
def test_what_a_menu_says_of_other_things_stops_no_guard(tmp_path, again):
    files = texts(**{"specs/long-walk.md": LONG})
    files["events/small-supper.yaml"] += "      - long-walk: 6.00\n"
    house = books(tmp_path, files)
    house.edit("events/small-supper.yaml", *again)
    comparison = house.compared()
    assert comparison.changes
    assert not stops(comparison)


def test_an_ingredient_that_is_renamed_everywhere_is_no_fact_of_any_drink(house):
    house.edit("specs/marsh-sour.md", "15 ml sugar syrup", "15 ml orgeat")
    house.commit("Orgeat")
    house.edit("stock/all.yaml", "orgeat:\n", "orgeat:\n  kind: orgeat\n")
    house.commit("Its kind")
    house.edit("stock/all.yaml", "orgeat:", "almond cordial:")
    house.edit("specs/marsh-sour.md", "15 ml orgeat", "15 ml almond cordial")
    house.edit("stock/all.yaml", "aquafaba:", "chickpea water:")
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml chickpea water")
    assert told(house.compared()) == ["stock aquafaba = chickpea water", "stock orgeat = almond cordial"]
    assert not stops(house.compared())


def test_an_ingredient_renamed_everywhere_is_known_through_other_changes_of_the_same_day(hat):
    hat.edit("specs/marsh-sour.md", "swap:\n", "swap:\n  sugar syrup: 15 ml orgeat\n")
    hat.edit("specs/felt-hat.md", "20 ml lemon juice", "20 ml sugar syrup")
    hat.commit("Orgeat for syrup")
    hat.edit("stock/all.yaml", "sugar syrup:", "house sweet:")
    for path in ("specs/marsh-sour.md", "specs/felt-hat.md"):
        hat.edit(path, "sugar syrup", "house sweet")
    hat.edit("specs/felt-hat.md", "20 ml house sweet", "25 ml house sweet")
    hat.write(
        "specs/new-hat.md", FELT_HAT.replace("Felt Hat", "New Hat").replace("lemon juice", "house sweet")
    )
    comparison = hat.compared()
    assert "stock sugar syrup = house sweet" in told(comparison)
    assert not stops(comparison)
    hat.commit("Sweet")
    hat.edit("stock/all.yaml", "house sweet:", "plain sweet:")
    hat.edit_stock("plain sweet", "contains: none", "contains: none\n  may contain: [milk]")
    for path in ("specs/marsh-sour.md", "specs/felt-hat.md", "specs/new-hat.md"):
        hat.edit(path, "house sweet", "plain sweet")
    changes = told_otherwise(hat.compared().changes)
    assert {(one.kind, one.fact) for one in changes} == {("allergen", "milk")}, (
        "and orgeat is offered as it was"
    )


def test_an_ingredient_renamed_everywhere_whose_label_says_something_new_is_told(house):
    house.edit("stock/all.yaml", "aquafaba:", "chickpea water:")
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml chickpea water")
    house.edit_stock("chickpea water", "may contain: [lupin]", "may contain: [lupin, soy]")
    found = [line for line in told(house.compared()) if "soy" in line.partition(" <")[0]]
    assert found[0].startswith("marsh-sour [chickpea water instead of egg white]: soy not -> may")
    assert stops(house.compared())


def test_one_bottle_for_another_with_a_like_label_is_no_rename_where_a_spec_still_asks_for_the_first(
    tmp_path,
):
    other = SOUR.lstrip("\n").replace("Marsh Sour", "Twin")
    house = books(tmp_path, texts(**{"specs/twin.md": other}))
    house.edit("stock/all.yaml", "aquafaba:", "chickpea water:")
    house.edit("specs/marsh-sour.md", "20 ml aquafaba", "20 ml chickpea water")
    lines = told(house.compared())
    assert "stock + chickpea water" in lines
    assert "stock - aquafaba" in lines


def test_two_event_files_that_are_exchanged_are_no_fact(tmp_path):
    second = event("Second Supper", "marsh-sour", more="bottles:\n  gin: shore gin\n")
    house = books(tmp_path, texts(**{"stock/more.yaml": SHORE_GIN, "events/second.yaml": second}))
    first = (house.house / "events/small-supper.yaml").read_text("utf-8")
    house.write("events/small-supper.yaml", second)
    house.write("events/second.yaml", first)
    assert told(house.compared()) == []


def test_an_event_file_that_takes_another_name_and_day_in_its_place_is_the_same_event(house):
    house.edit("events/small-supper.yaml", "Small Supper", "Tall Supper")
    house.edit("events/small-supper.yaml", "2026-12-12", "2026-12-20")
    house.edit_stock("egg white", "contains: [egg]", "contains: [egg, milk]")
    lines = told(house.compared())
    assert lines[0] == "marsh-sour: milk not -> contains <egg white: contains + milk"
    assert "small-supper: name Small Supper -> Tall Supper" in lines


def test_a_cause_names_the_word_of_the_label(house):
    house.edit_stock("garden gin", "contains: none", "contains: [groundnuts]\n  may contain: [filberts]")
    found = {one.fact: one.causes[0] for one in house.compared().changes if one.kind == "allergen"}
    assert {fact: (cause.subject, cause.said, cause.says) for fact, cause in found.items()} == {
        "peanut": ("garden gin", "", "contains groundnuts"),
        "hazelnut": ("garden gin", "", "may contain filberts"),
    }
    house.commit("Groundnuts")
    house.edit_stock("garden gin", "contains: [groundnuts]\n  may contain: [filberts]", "contains: none")
    (cause,) = next(one.causes for one in house.compared().changes if one.fact == "peanut")
    assert (cause.said, cause.says) == ("contains groundnuts", "")


def test_a_place_that_lists_a_substance_and_a_label_that_names_it_are_both_causes(house):
    house.edit("house.yaml", "GB-ENG", "US")
    house.edit_stock("garden gin", "distilled from: [wheat]", "distilled from: [wheat, rye]")
    (line,) = [line for line in told(house.compared()) if line.startswith("marsh-sour: rye")]
    assert line == "marsh-sour: rye not -> distilled <garden gin: distilled from + rye; rules of GB-ENG -> US"


def test_a_new_event_says_its_day_and_what_is_on_its_menu(hat):
    hat.write("events/second.yaml", event("Second Supper", "felt-hat", "marsh-sour"))
    (one,) = hat.compared().of("event", "added")
    assert (one.after, one.where) == ("2026-12-19", ("Felt Hat", "Marsh Sour"))


def test_a_drink_that_only_events_have_a_bottle_for_is_no_fault_of_the_house(tmp_path):
    second = event("Second Supper", "marsh-sour", more="bottles:\n  fog water: soda water\n")
    files = {
        "specs/fog-bell.md": FELT_HAT.replace("Felt Hat", "Fog Bell").replace("dark liqueur", "fog water")
    }
    house = books(tmp_path, texts(**files, **{"events/second.yaml": second}))
    house.edit("specs/marsh-sour.md", "Bright and short.", "Bright, short.")
    assert told(house.compared()) == []
    house.edit("events/second.yaml", "- marsh-sour: 9.00", "- fog-bell: 9.00")
    assert not stops(house.compared())
    assert told(house.compared()) == [
        "second: on the menu now: Fog Bell 9.00 GBP",
        "second: off the menu: Marsh Sour",
    ]


def test_another_place_has_other_words_for_what_a_label_brings_and_it_is_told_once(tmp_path):
    house = books(
        tmp_path,
        texts(**{"events/small-supper.yaml": event("Small Supper", "marsh-sour", more="region: US\n")}),
    )
    house.edit_stock("garden gin", "contains: none", "contains: [soy]")
    assert declared(house.compared()) == ["marsh-sour: soy not -> contains <garden gin: contains + soy"]
