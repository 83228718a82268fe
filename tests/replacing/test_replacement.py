"""What guests were shown and are to be shown: no allergen or caution changes under a name without a word."""

import json
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from menugen.comparing import LEVELS
from menugen.replacing import (
    Replacement,
    hold_against,
    menus_among,
    menus_elsewhere,
    replacement_json,
    report_text,
)
from menugen.replacing.difference import compare_menus
from menugen.replacing.shown import read_menu
from menugen.writing.output import MARKER
from tests.replacing.menus import Form, as_form_1, content, drink, marks, menu, put, swap

NOT, DISTILLED, MAY, YES = LEVELS


def held(tmp_path: Path, old: Form | list[Form], new: Form | list[Form]) -> Replacement:
    put(tmp_path / "supper", *(old if isinstance(old, list) else [old]))
    return again(tmp_path, new)


def holding(event: str, name: str, folder: Path, new: dict[str, bytes]) -> Replacement:
    return hold_against(event, name, folder, {path: partial(bytes, made) for path, made in new.items()})


def again(tmp_path: Path, new: Form | list[Form]) -> Replacement:
    menus = new if isinstance(new, list) else [new]
    paths = {f"site/{form['language']}/menu.json" if number else "site/menu.json": content(form)
             for number, form in enumerate(menus)}  # fmt: skip
    return holding("supper", "Small Supper", tmp_path / "supper", paths)


def changes(one: Replacement) -> list[tuple[str, str, str, str]]:
    """Return (drink, substance or caution, before, after); a caution is there or not."""
    return [
        (change.subject.name, change.fact, *(YES if said == change.word else said for said in sides))
        for change in one.difference.changes
        for sides in [(change.before, change.after)]
    ]


@pytest.mark.parametrize(
    ("before", "after", "expected"),
    [
        (drink("Sour"), drink("Sour", ["walnut"]), [("Sour", "walnut", NOT, YES)]),
        (drink("Sour", ["walnut"]), drink("Sour"), [("Sour", "walnut", YES, NOT)]),
        (drink("Sour", [], ["milk"]), drink("Sour", ["milk"]), [("Sour", "milk", MAY, YES)]),
        (drink("Sour", ["milk"]), drink("Sour", [], ["milk"]), [("Sour", "milk", YES, MAY)]),
        (drink("Sour"), drink("Sour", [], ["milk"]), [("Sour", "milk", NOT, MAY)]),
        (drink("Sour", ["milk"]), drink("Sour", ["milk"]), []),
        # One nut for another, under one heading of the law's list.
        (
            drink("Sour", ["nuts:almond=almonds"]),
            drink("Sour", ["nuts:walnut=walnuts"]),
            [("Sour", "walnut", NOT, YES), ("Sour", "almond", YES, NOT)],
        ),
        (drink("Sour"), drink("Sour", cautions=["raw egg"]), [("Sour", "raw egg", NOT, YES)]),
        (drink("Sour", cautions=["raw egg"]), drink("Sour"), [("Sour", "raw egg", YES, NOT)]),
        # Off the menu's list of what is poured, and on guests' pages all the same.
        (drink("Sour"), drink("Sour", ["walnut"], sold_out=True), [("Sour", "walnut", NOT, YES)]),
        (drink("Sour", ["nuts:almond"]), drink("Sour", ["tree nuts:almond"]), [("Sour", "almond", YES, YES)]),
    ],
)
def test_every_way_to_gain_and_lose_is_seen(tmp_path, before, after, expected):
    one = held(tmp_path, menu(before), menu(after))
    assert changes(one) == expected
    assert one.alarming == bool(expected)


def test_words_alone_are_no_change_and_neither_are_fields_that_come_and_go(tmp_path):
    old = menu(drink("Sour", ["egg=eggs"], notes="x", cautions=["raw egg"]), extra=1)
    new = menu(drink("Sour", ["egg=egg"], strength="9 %", cautions=["raw egg"]), more=[])
    new["sections"][0]["drinks"][0]["cautions"] = ["Raw egg is in it."]
    one = held(tmp_path, old, new)
    assert not one.alarming
    assert "no allergen or caution" in report_text([one], bold=False)


def test_what_guests_were_told_under_a_name_is_held_against_what_has_that_name_now(tmp_path):
    old = menu(drink("Fog", ["milk"], id="a"), drink("Gale", ["egg"], id="b"))
    new = menu(drink("Gale", ["milk"], id="a"), drink("Fog", ["egg"], id="b"))
    one = held(tmp_path, old, new)
    assert {(name, subject, after) for name, subject, _, after in changes(one)} == {
        ("Gale", "milk", YES), ("Gale", "egg", NOT), ("Fog", "egg", YES), ("Fog", "milk", NOT),
    }  # fmt: skip
    assert one.difference.came == one.difference.gone == ()


def test_what_had_the_name_speaks_for_it_and_not_what_had_the_page(tmp_path):
    old = menu(drink("Fog", ["milk"], id="a"), drink("Gale", ["egg"], id="b"))
    one = held(tmp_path, old, menu(drink("Gale", ["egg"], id="a"), drink("Fog", ["milk"], id="b")))
    assert not one.alarming


def test_two_drinks_of_one_name_on_a_menu_are_both_held_against(tmp_path):
    old = menu(drink("Fog", ["milk"], id="a"), drink("Fog", [], id="b"))
    assert changes(held(tmp_path, old, menu(drink("Fog", [], id="c")))) == [("Fog", "milk", YES, NOT)]


def test_a_drink_keeps_its_past_through_another_name_and_through_another_file(tmp_path):
    old = menu(drink("Fog", ["milk"], id="a"), drink("Gale", ["egg"], id="b"))
    new = menu(drink("Mist", ["milk", "soya"], id="a"), drink("GALE ".strip(), ["fish"], id="c"))
    one = held(tmp_path, old, new)
    assert changes(one) == [
        ("Mist", "soya", NOT, YES), ("GALE", "fish", NOT, YES), ("GALE", "egg", YES, NOT),
    ]  # fmt: skip
    assert one.difference.renamed == (("Fog", "Mist"),)
    assert [told["was"] for told in replacement_json(one)["changes"]] == [
        "Fog",
        "another drink, b",
        "another drink, b",
    ]


def test_drinks_that_come_and_go_are_named_and_are_no_alarm(tmp_path):
    one = held(tmp_path, menu(drink("Fog", ["milk"])), menu(drink("Gale", ["egg=eggs"], ["milk"])))
    assert not one.alarming
    text = report_text([one], bold=False)
    assert "new: Gale; contains eggs; may contain milk" in text
    assert "gone: Fog" in text


def test_a_swap_says_only_what_the_drink_does_not_and_a_choice_that_is_gone_is_missed(tmp_path):
    oat, soy = "cream -> oat cream", "cream -> soy cream"
    old = menu(drink("Silk", ["milk"], swaps=[swap(oat, ["oats"])]))
    moved = held(
        tmp_path, old, menu(drink("Silk", ["milk", "egg"], swaps=[swap(oat, ["oats", "egg", "nut"])]))
    )
    assert changes(moved) == [("Silk", "egg", NOT, YES), ("Silk", "nut", NOT, YES)]
    assert [bool(change.swap) for change in moved.difference.changes] == [False, True]
    new_way = again(tmp_path, menu(drink("Silk", ["milk"], swaps=[swap(oat, ["oats"]), swap(soy, ["soya"])])))
    assert changes(new_way) == [("Silk", "soya", NOT, YES)]
    gone = again(tmp_path, menu(drink("Silk", ["milk"])))
    assert [(change.kind, change.fact) for change in gone.difference.changes] == [("swap", oat)]
    assert "SWAPS GONE in 1 drink" in report_text([gone], bold=False)
    same = again(tmp_path, old)
    assert not same.alarming


def test_a_choice_is_the_same_whatever_what_it_takes_the_place_of_is_called(tmp_path):
    old = menu(drink("Silk", ["milk"], swaps=[swap("single cream -> oat cream", ["oats"])]))
    renamed = menu(drink("Silk", ["milk"], swaps=[swap("farm cream -> oat cream", ["oats"])]))
    assert not held(tmp_path, old, renamed).alarming
    other = menu(drink("Silk", ["milk"], swaps=[swap("farm cream -> soy cream", ["oats"])]))
    assert [change.kind for change in again(tmp_path, other).difference.changes] == ["allergen", "swap"]
    moved = menu(drink("Silk", ["milk"], swaps=[swap("farm cream -> oat cream", ["oats", "nut"])]))
    assert ("Silk", "nut", NOT, YES) in changes(again(tmp_path, moved))
    more = [swap("single cream -> oat cream", ["oats"]), swap("egg -> oat cream", ["oats", "milk"])]
    assert changes(again(tmp_path, menu(drink("Silk", ["milk"], swaps=more)))) == [("Silk", "oats", NOT, YES)]


def test_what_a_spirit_was_distilled_from_is_a_declaration_of_its_own(tmp_path):
    base = drink("Fog") | {"distilled_from": marks("wheat")}
    assert changes(held(tmp_path, menu(drink("Fog")), menu(base))) == [("Fog", "wheat", NOT, DISTILLED)]
    one = held(tmp_path, menu(base), menu(drink("Fog", ["wheat"])))
    assert "wheat: was DISTILLED FROM, now CONTAINS" in report_text([one], bold=False)
    lost = held(tmp_path, menu(drink("Fog", ["wheat"])), menu(base))
    assert "wheat: was CONTAINS, now DISTILLED FROM" in report_text([lost], bold=False)
    assert not lost.difference.changes[0].gained


def test_what_no_law_lists_is_compared_by_its_words_in_one_language(tmp_path):
    old = drink("Fog") | {"also_named": "mango, Chestnut", "also_warned_of": ""}
    new = drink("Fog") | {"also_named": "chestnut", "also_warned_of": "mango"}
    assert changes(held(tmp_path, menu(old), menu(new))) == [("Fog", "mango", YES, MAY)]
    french = menu(drink("Fog") | {"also_named": "mangue"}, language="fr")
    assert not held(tmp_path, menu(old), french).difference.changes


def test_swaps_made_at_once_say_only_what_no_swap_says_and_are_no_choice_that_goes(tmp_path):
    def silk(single: list[str], both: list[str] | None) -> Form:
        more = {} if both is None else {"combined_swaps": [swap("a -> b, c -> d", both)]}
        return menu(drink("Silk", ["milk"], swaps=[swap("a -> b", single)], **more))

    assert changes(held(tmp_path, silk([], []), silk(["egg"], ["egg", "nut"]))) == [
        ("Silk", "egg", NOT, YES), ("Silk", "nut", NOT, YES),
    ]  # fmt: skip
    assert not held(tmp_path, silk([], []), silk([], None)).alarming
    assert not held(tmp_path, silk([], None), silk([], ["egg"])).alarming


def test_a_drink_that_was_called_alcohol_free_is_named(tmp_path):
    one = held(tmp_path, menu(drink("Fog", alcohol_free=True)), menu(drink("Fog", alcohol_free=False)))
    assert "no longer alcohol free: Fog" in report_text([one], bold=False)
    assert not one.alarming
    where_none_is_poured = menu(drink("Fog"))
    assert held(tmp_path, where_none_is_poured, menu(drink("Fog", alcohol_free=False))).difference.alcohol
    free = menu(drink("Fog", alcohol_free=True))
    assert not held(tmp_path, free, where_none_is_poured).difference.alcohol


def test_cautions_of_swaps_are_compared_once_the_form_has_them(tmp_path):
    old = menu(drink("Silk", swaps=[swap("a -> b", cautions=["No."], caution_ids=["dry ice"])]))
    new = menu(drink("Silk", swaps=[swap("a -> b", cautions=[], caution_ids=[])]))
    assert changes(held(tmp_path, old, new)) == [("Silk", "dry ice", YES, NOT)]


def test_what_is_said_of_shared_equipment_is_part_of_it(tmp_path):
    one = held(tmp_path, menu(), menu(kitchen=[]))
    assert [(change.kind, change.after) for change in one.difference.changes] == [("kitchen", NOT)]
    assert "Drinks share shakers." in report_text([one], bold=False)


def test_every_language_is_read_and_a_change_in_one_alone_says_which(tmp_path):
    fr = menu(drink("Aigre", ["milk=lait"], id="sour"), language="fr")
    en = menu(drink("Sour", ["milk"], id="sour"))
    both = held(
        tmp_path, [en, fr], [menu(drink("Sour", id="sour")), menu(drink("Aigre", id="sour"), language="fr")]
    )
    assert changes(both) == [("Sour", "milk", YES, NOT)]
    assert both.difference.changes[0].languages == ()
    one = again(tmp_path, [en, menu(drink("Aigre", id="sour"), language="fr")])
    assert [change.languages for change in one.difference.changes] == [("fr",)]
    assert "in fr" in report_text([one], bold=False)


def test_what_the_languages_said_otherwise_before_is_listed_for_each(tmp_path):
    """A guest who read "may contain" is told another thing now than one who read nothing."""
    old = [menu(drink("Sour", [], ["milk"])), menu(drink("Sour"), language="fr")]
    new = [menu(drink("Sour", ["milk"])), menu(drink("Sour", ["milk"]), language="fr")]
    one = held(tmp_path, old, new)
    assert changes(one) == [("Sour", "milk", MAY, YES), ("Sour", "milk", NOT, YES)]
    assert [change.languages for change in one.difference.changes] == [("en",), ("fr",)]


def test_a_language_that_goes_is_held_against_the_first_and_one_that_comes_is_said(tmp_path):
    en, fr = menu(drink("Sour", ["milk"], id="s")), menu(drink("Aigre", ["milk"], id="s"), language="fr")
    gone = held(tmp_path, [fr], [menu(drink("Sour", ["egg"], id="s"))])
    assert {(subject, after) for _, subject, _, after in changes(gone)} == {("egg", YES), ("milk", NOT)}
    assert gone.difference.renamed == ()
    assert gone.notes == ("no longer published in fr: its pages go", "published in en for the first time")
    put(tmp_path / "supper", en)
    (tmp_path / "supper/site/fr").mkdir(exist_ok=True)
    assert again(tmp_path, [en, fr]).notes == ("published in fr for the first time",)


def test_another_place_has_other_headings_and_another_english_and_neither_is_an_alarm(tmp_path):
    old = menu(drink("Sour", ["nuts:almond"]), language="en-GB")
    new = menu(
        drink("Sour", ["tree-nuts:almond"]), language="en-US", region="United States", region_code="US"
    )
    one = held(tmp_path, old, new)
    assert not one.alarming
    assert one.notes == ()
    walnut = again(tmp_path, {**new, "sections": menu(drink("SOUR", ["nuts:walnut"], id="x"))["sections"]})
    assert changes(walnut) == [("SOUR", "walnut", NOT, YES), ("SOUR", "almond", YES, NOT)]
    assert "the place: England before, United States now" in report_text([walnut], bold=False)


def beside(tmp_path: Path, new: Form | list[Form], *published: Form) -> Replacement:
    """Return what an event's first output is held against beside the menus of other events."""
    for number, form in enumerate(published):
        put(tmp_path / f"event-{number}", form)
    menus = new if isinstance(new, list) else [new]
    paths = {f"site/{form['language']}/menu.json" if number else "site/menu.json": partial(content, form)
             for number, form in enumerate(menus)}  # fmt: skip
    others = partial(menus_elsewhere, tmp_path, "supper")
    return hold_against("supper", "Small Supper", tmp_path / "supper", paths, others=others)


def test_a_new_event_is_held_against_what_every_other_menu_has_under_its_names(tmp_path):
    one = beside(
        tmp_path,
        menu(drink("Sour", ["walnut"]), drink("FOG", ["egg"], id="z"), drink("New", ["fish"])),
        menu(drink("Sour", ["milk"]), drink("Fog", ["egg", "soya"])),
        menu(drink("Sour", ["milk"]), drink("Fog", [], ["egg"])),
    )
    assert changes(one) == [("Sour", "walnut", NOT, YES), ("Sour", "milk", YES, NOT)]
    assert one.first
    assert one.alarming
    text = report_text([one], bold=False)
    assert "compared with other events' menus" in " ".join(text.split())
    assert "walnut" in text


def test_a_new_event_names_what_no_menu_had_with_what_it_is_declared_with(tmp_path):
    one = beside(tmp_path, menu(drink("Fog"), drink("New", ["fish"])), menu(drink("Fog")))
    assert changes(one) == []
    assert [drink.name for drink in one.difference.came] == ["New"]
    text = report_text([one], bold=False)
    assert text.splitlines()[:4] == [
        "no allergen or caution gained or lost against what was published before",
        "",
        "Drinks",
        "  new: New; contains fish",
    ]
    assert "compared with other events' menus" in " ".join(text.split())
    # Beside the menus of another house nobody knows what is new.
    (tmp_path / "away").mkdir()
    other = beside(tmp_path / "away", menu(drink("New", ["fish"])), menu(drink("Fog"), house="Away"))
    assert other.difference.came == ()
    assert "so there is nothing to compare with" in " ".join(report_text([other], bold=False).split())


def test_a_name_that_moves_to_another_drink_is_held_against_the_menus_that_had_it(tmp_path):
    put(tmp_path / "supper", menu(drink("Lark", id="a")))
    one = beside(tmp_path, menu(drink("Cream", id="a")), menu(drink("Cream", ["milk"], id="b")))
    assert changes(one) == [("Cream", "milk", YES, NOT)]
    assert one.difference.renamed == (("Lark", "Cream"),)


@pytest.mark.parametrize("cautions", [[], ["raw egg"]])
def test_a_caution_that_some_menu_has_and_another_has_not_is_neither_gained_nor_lost(tmp_path, cautions):
    some = menu(drink("Sour", cautions=["raw egg"])), menu(drink("Sour"))
    assert changes(beside(tmp_path, menu(drink("Sour", cautions=cautions)), *some)) == []


def test_a_caution_that_no_menu_has_is_gained_and_one_that_all_have_is_lost(tmp_path):
    some = menu(drink("Sour", cautions=["raw egg"])), menu(drink("Sour", cautions=["raw egg"]))
    one = beside(tmp_path, menu(drink("Sour", cautions=["quinine"])), *some)
    assert changes(one) == [("Sour", "quinine", NOT, YES), ("Sour", "raw egg", YES, NOT)]


def test_a_drink_that_joins_a_menu_that_is_published_is_held_against_the_others(tmp_path):
    put(tmp_path / "supper", menu(drink("Fog")))
    one = beside(
        tmp_path, menu(drink("Fog"), drink("Sour", ["walnut"])), menu(drink("Sour"), drink("Fog", ["egg"]))
    )
    assert changes(one) == [("Sour", "walnut", NOT, YES)]
    assert [drink.name for drink in one.difference.came] == ["Sour"]


def test_only_the_house_s_own_menus_that_can_be_read_speak_for_a_name(tmp_path):
    new = menu(drink("Sour", ["walnut"]))
    assert not beside(tmp_path, new, menu(drink("Sour"), house="Another Bar")).alarming
    assert not beside(tmp_path, new, menu(drink("Sour"), language="fr")).alarming
    (tmp_path / "event-0/site/menu.json").write_bytes(b"{")
    (tmp_path / "notes").mkdir()
    assert "nothing to compare with" in report_text([beside(tmp_path, new)], bold=False)


def test_a_name_in_another_language_is_held_against_menus_in_that_language(tmp_path):
    new = [menu(drink("Sour", ["walnut"], id="s")), menu(drink("Aigre", ["walnut"], id="s"), language="fr")]
    put(tmp_path / "other", menu(drink("Bitter", id="b")), menu(drink("Aigre", id="b"), language="fr"))
    one = beside(tmp_path, new)
    assert [(change.subject.name, change.fact, change.languages) for change in one.difference.changes] == [
        ("Aigre", "walnut", ("fr",))
    ]


def test_nothing_there_is_said_and_is_no_alarm(tmp_path):
    one = again(tmp_path, menu(drink("Sour", ["milk"])))
    assert one.first
    assert not one.alarming
    (tmp_path / "supper").mkdir()
    assert again(tmp_path, menu()).first
    assert "no earlier output" in report_text([one], bold=False)


@pytest.mark.parametrize(
    ("written", "why"),
    [
        (b"{", "is damaged"),
        (b"[" * 200_000, "is damaged"),
        (b"\xff\xfe", "is damaged"),
        (b"[]", "no menu of menugen's"),
        (b'{"menu": true}', "no menu of menugen's"),
        (content(menu() | {"menu": 3}), "newer menugen (form 3; this one reads 2)"),
        (content(menu() | {"sections": None}), '"sections" is not as it should be'),
        (content(menu() | {"house": 7}), '"house" is not as it should be'),
        (content(menu({"id": "a", "name": "A"})), '"contains" is not as it should be'),
        (content(menu(drink("A") | {"swaps": 1})), '"swaps" is not as it should be'),
        (content(menu(drink("A") | {"cautions": None})), '"cautions" is not as it should be'),
        (content(menu(drink("A") | {"may_contain": "milk"})), '"may_contain" is not as it should be'),
        (content(menu(drink("A") | {"contains": [{"id": "x", "word": "x"}]})), '"substances" is not'),
        (content(menu(drink("A") | {"caution_ids": ["one"]})), '"caution_ids" does not fit'),
        (None, "is missing"),
    ],
)
def test_an_earlier_output_that_cannot_be_read_is_said_and_alarms(tmp_path, written, why):
    put(tmp_path / "supper", menu())
    place = tmp_path / "supper/site/menu.json"
    place.unlink() if written is None else place.write_bytes(written)
    one = again(tmp_path, menu(drink("Sour")))
    assert one.alarming
    assert why in "".join(one.unsure)
    assert "NOT COMPARED" in report_text([one], bold=False)
    assert replacement_json(one)["not_compared"] == list(one.unsure)


def test_one_language_that_cannot_be_read_hides_nothing_of_the_others(tmp_path):
    put(tmp_path / "supper", menu(drink("Sour")), menu(language="fr"))
    (tmp_path / "supper/site/fr/menu.json").write_bytes(b"")
    one = again(tmp_path, menu(drink("Sour", ["egg"])))
    assert changes(one) == [("Sour", "egg", NOT, YES)]
    assert len(one.unsure) == 1


def test_a_folder_that_nobody_knows_is_never_called_the_first(tmp_path):
    (tmp_path / "supper").mkdir()
    (tmp_path / "supper/thesis.txt").write_text("x", encoding="utf-8")
    one = again(tmp_path, menu())
    assert one.alarming
    assert not one.first
    (tmp_path / "supper" / MARKER).write_text("x", encoding="utf-8")
    assert "is missing" in again(tmp_path, menu()).unsure[0]


def test_an_older_form_is_compared_by_its_words_and_says_so(tmp_path):
    old = menu(drink("Sour", ["egg=eggs"], cautions=["raw egg"], swaps=[swap("a -> b", ["milk"])]))
    old["sections"][0]["drinks"][0]["contains"].append(
        {"id": "nuts", "word": "almonds, hazelnuts", "substances": {}}
    )
    new = menu(
        drink("Sour", ["egg=eggs", "nuts:almond=almonds", "nuts:hazelnut=hazelnuts"],
              cautions=["raw egg"], swaps=[swap("a -> b", ["milk"])])
    )  # fmt: skip
    new["sections"][0]["drinks"][0]["contains"][1:] = [
        {
            "id": "nuts",
            "word": "almonds, hazelnuts",
            "substances": {"almond": "almonds", "hazelnut": "hazelnuts"},
        }
    ]
    same = held(tmp_path, as_form_1(old), new)
    assert changes(same) == []
    assert same.alarming
    assert "older menugen" in same.unsure[0]
    more = json.loads(content(new))
    more["sections"][0]["drinks"][0]["contains"][1]["word"] = "almonds, walnuts"
    assert changes(again(tmp_path, more)) == [("Sour", "walnuts", NOT, YES), ("Sour", "hazelnuts", YES, NOT)]


def test_an_older_form_in_a_language_that_is_gone_is_not_guessed_at(tmp_path):
    one = held(tmp_path, as_form_1(menu(drink("Aigre", ["egg=oeuf"]), language="fr")), menu(drink("Sour")))
    assert changes(one) == []
    assert any("cannot be compared with another language" in why for why in one.unsure)


def test_the_first_language_s_menu_comes_first_and_nothing_else_is_one():
    paths = [
        "site/fr/menu.json",
        "site/menu.json",
        "site/ar/menu.json",
        "print/menu.json",
        "site/a/b/menu.json",
    ]
    assert menus_among(paths) == ("site/menu.json", "site/ar/menu.json", "site/fr/menu.json")


def several(tmp_path: Path) -> list[Replacement]:
    names = [f"Drink Number {number}" for number in range(12)]
    old = menu(*(drink(name) for name in names))
    new = menu(
        *(drink(name, ["nuts:walnut=walnuts"]) for name in names),
        region="Ireland",
        region_code="IE",
        date="2027-01-01",
    )
    put(tmp_path / "one", old)
    put(tmp_path / "two", old)
    return [
        holding("one", "First", tmp_path / "one", {"site/menu.json": content(new)}),
        holding("two", "Second", tmp_path / "two", {"site/menu.json": content(new)}),
    ]


def test_one_cause_in_twelve_drinks_of_two_events_is_one_line_with_every_name(tmp_path):
    text = report_text(several(tmp_path), bold=False, in_git="my-bar")
    lines = text.splitlines()
    assert lines[:2] == ["!! ALLERGENS GAINED in 12 drinks", "!!   walnuts: was not named, now CONTAINS"]
    joined = " ".join(line.removeprefix("!!").strip() for line in lines)
    assert all(joined.count(f"Drink Number {number}") >= 1 for number in range(12))
    assert joined.count("Drink Number 7") == 1
    assert max(map(len, lines)) <= 80
    assert "First: the place: England before, Ireland now" in text
    assert "Second: the day: 2026-12-12 before, 2027-01-01 now" in text
    assert "why: menugen compare 1a2b3c4 --house my-bar" in text


def test_where_it_is_so_at_one_event_alone_that_event_is_named(tmp_path):
    one = several(tmp_path)[0]
    same = (tmp_path / "two/site/menu.json").read_bytes()
    quiet = holding("two", "Second", tmp_path / "two", {"site/menu.json": same})
    text = report_text([one, quiet], bold=False)
    assert "Drink Number 3 (at First)" in " ".join(text.replace("!!", "").split())
    namesakes = [replace(each, name="Party") for each in (one, quiet)]
    assert "(at Party (one))" in " ".join(report_text(namesakes, bold=False).replace("!!", "").split())


def test_what_is_so_at_two_of_three_events_names_both_and_shared_equipment_its_own(tmp_path):
    old = menu(drink("Fog"))
    new = menu(drink("Fog", ["milk"]), kitchen=["Drinks share a whisk."])
    for event in ("one", "two", "three"):
        put(tmp_path / event, old)
    held_events = [
        holding(event, event.title(), tmp_path / event, {"site/menu.json": content(made)})
        for event, made in (("one", new), ("two", new), ("three", old))
    ]
    text = report_text(held_events, bold=False)
    assert "!!     Fog (at One, Two)\n" in text
    assert "!!   new: Drinks share a whisk. (at One, Two)\n" in text
    (only,) = [line for line in report_text(held_events[:1], bold=False).splitlines() if "new: " in line]
    assert only == "!!   new: Drinks share a whisk. (at One)"


def test_gained_comes_first_then_what_is_not_known_then_lost(tmp_path):
    put(
        tmp_path / "supper",
        menu(drink("A", ["milk"], cautions=["quinine"]), drink("B")),
        menu(language="fr"),
    )
    (tmp_path / "supper/site/fr/menu.json").write_bytes(b"")
    one = again(tmp_path, menu(drink("A", cautions=["raw egg"]), drink("B", ["egg"], sold_out=True)))
    heads = [
        line
        for line in report_text([one], bold=False).splitlines()
        if line and not line.startswith(("!!  ", " "))
    ]
    assert heads == [
        "!! ALLERGENS GAINED in 1 drink",
        "!! CAUTIONS GAINED in 1 drink",
        "!! NOT COMPARED, OR NOT IN FULL",
        "!! ALLERGENS LOST in 1 drink: read these labels again",
        "!! CAUTIONS LOST in 1 drink",
        "Drinks",
    ]


def test_a_word_the_publisher_may_not_read_stands_beside_its_name(tmp_path):
    old, new = menu(drink("A"), language="fr"), menu(drink("A", ["walnut=noix"]), language="fr")
    assert "walnut (noix): was not named, now CONTAINS" in report_text([held(tmp_path, old, new)], bold=False)


def test_no_control_character_of_an_earlier_output_reaches_a_terminal(tmp_path):
    one = held(tmp_path, menu(drink("A\x1b[2J", ["egg"], id="a")), menu(drink("B\x07", id="a")))
    text = report_text([one], bold=False)
    assert "\x1b" not in text
    assert "\x07" not in text


def test_the_data_for_programs_has_it_all(tmp_path):
    old = menu(drink("A", ["milk"], cautions=["quinine"]), drink("Gone"))
    new = menu(drink("A", [], ["milk"], swaps=[swap("x -> y", ["soya"])]), drink("New", ["egg"], ["fish"]))
    told: dict[str, Any] = replacement_json(held(tmp_path, old, new))
    json.dumps(told)
    assert [(one["about"], one["before"], one["after"], one["swap"]) for one in told["changes"]] == [
        ("allergen", "contains", "may contain", None),
        ("caution", True, False, None),
        ("allergen", None, "contains", "x out, in: y"),
    ]
    assert told["drinks_new"] == [
        {
            "drink": "new",
            "name": "New",
            "contains": ["egg"],
            "may_contain": ["fish"],
            "distilled_from": [],
            "cautions": [],
        }
    ]
    assert told["drinks_gone"] == ["Gone"]
    assert told["swaps_new"] == [{"name": "A", "swap": "x out, in: y"}]


def test_a_substance_in_both_lists_counts_as_the_graver(tmp_path):
    both = drink("A", ["milk"], ["milk"])
    assert changes(held(tmp_path, menu(both), menu(drink("A", ["milk"])))) == []
    named = drink("A", [], ["mango"]) | {"also_named": "mango"}
    assert changes(held(tmp_path, menu(drink("A")), menu(named))) == [("A", "mango", NOT, YES)]
    assert marks("milk")[0]["substances"] == {"milk": "milk"}


def test_a_long_menu_is_gone_through_once():
    """Twice the drinks cost twice the looks at a name, and not four times."""

    def looks(number: int) -> int:
        count = 0

        class Name(str):
            __slots__ = ()

            def __hash__(self) -> int:
                # Whoever asks for its key hashes it.
                nonlocal count
                count += 1
                return super().__hash__()

        made = json.loads(content(menu(*(drink(f"Drink {each}") for each in range(number)))))
        shown = read_menu(content(made))
        declared = [replace(one.declared, name=Name(one.name)) for one in shown.drinks]
        drinks = tuple(replace(one, declared=said) for one, said in zip(shown.drinks, declared, strict=True))
        named = replace(shown, drinks=drinks)
        compare_menus([(named, named)])
        return count

    assert 0 < looks(80) <= 2 * looks(40)


def test_in_another_language_a_drink_is_not_called_otherwise(tmp_path):
    fr = menu(drink("Aigre", ["milk=lait"], id="sour"), language="fr")
    en = menu(drink("Sour", ["milk"], id="sour"))
    gone = held(tmp_path, [en, fr], [menu(drink("Sour", id="sour"))])
    assert {told["was"] for told in replacement_json(gone)["changes"]} == {None}
