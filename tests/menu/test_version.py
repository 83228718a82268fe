"""What a menu is called without git: cards are printed with it, so a menu that stays the same keeps its name."""

from dataclasses import fields, replace
from decimal import Decimal

from menugen.menu import PageText
from menugen.menu.guest import GuestFact
from menugen.menu.version import _parts, _stated, menu_version
from tests.writing.fixtures import rich_menu


def stated(value: object) -> str:
    return "".join(_parts(value))


def test_a_menu_is_stated_by_the_names_that_its_records_had_when_the_first_card_was_printed():
    assert _stated((PageText("gin's", "fr"),)) == """(Said(text="gin's", language='fr'),)"""
    assert _stated({"a": (), "b": (Decimal("9.50"), None, True, 0.1)}) == (
        "{'a': (), 'b': (Decimal('9.50'), None, True, 0.1)}"
    )
    menu = rich_menu()
    assert stated(menu).startswith("GuestMenu(slug='")
    drink = menu.sections[0].drinks[0]
    without_facts = stated(drink)[: len(_stated(drink))]
    assert without_facts.startswith(f"GuestDrink(id={drink.id!r}, name={drink.name!r}")
    assert "facts=" not in without_facts


def test_whatever_guests_read_is_in_a_version_and_words_of_the_pages_are_not():
    menu = rich_menu()
    known = menu_version([menu], "", uncommitted=False)
    assert menu_version([replace(menu, words={"a": "b"})], "", uncommitted=False) == known
    assert menu_version([menu, menu], "", uncommitted=False) != known
    for field in fields(menu):
        if isinstance(value := getattr(menu, field.name), str):
            assert (
                menu_version([replace(menu, **{field.name: f"{value}x"})], "", uncommitted=False) != known
            ), field.name
    section = menu.sections[0]
    drink = replace(section.drinks[0], off=not section.drinks[0].off)
    other = replace(
        menu, sections=(replace(section, drinks=(drink, *section.drinks[1:])), *menu.sections[1:])
    )
    assert menu_version([other], "", uncommitted=False) != known


def test_what_else_is_known_of_a_drink_is_in_a_version():
    menu = rich_menu()
    section = menu.sections[0]

    def version(**changes: object) -> str:
        drink = replace(section.drinks[0], **changes)
        sections = (replace(section, drinks=(drink, *section.drinks[1:])), *menu.sections[1:])
        return menu_version([replace(menu, sections=sections)], "", uncommitted=False)

    none, yes, no = (
        version(facts=facts) for facts in ((), *((GuestFact("vegan", "Vegan", x),) for x in (True, False)))
    )
    assert len({none, yes, no}) == 3


def test_a_revision_names_a_menu_and_what_is_not_committed_stands_behind_it():
    menu = rich_menu()
    assert menu_version([menu], "7f3a2c1", uncommitted=False) == "7f3a2c1"
    assert menu_version([menu], "7f3a2c1", uncommitted=True).startswith("7f3a2c1+")
    assert menu_version([menu], "", uncommitted=True).startswith("+")
