"""What a name is known by, whoever typed it and wherever it is asked for."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from menugen.names import folded, name_key, slug_of, typed_slug
from tests.houses import HOUSE, STOCK
from tests.reading.held import reading_of, told


@given(st.text(max_size=20))
def test_a_key_is_its_own_key_however_its_accents_are_typed(name: str) -> None:
    key = name_key(name)
    assert name_key(key) == key
    for form in ("NFC", "NFD"):
        assert name_key(unicodedata.normalize(form, name)) == key
    assert name_key(f"  {name}\t") == key


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Garden  Gin ", "garden gin"),
        ("Cre\u0300me de Menthe", "CR\u00c8ME DE MENTHE"),
        ("Straße", "STRASSE"),
        # Folding parts the small letter from its two marks, and the capital one from one of them.
        ("\u0390", "\u03aa\u0301"),
    ],
)
def test_names_of_one_thing_have_one_key(one: str, other: str) -> None:
    assert name_key(one) == name_key(other)
    assert folded(one.strip()).split() == folded(other).split()


def test_names_of_two_things_have_two() -> None:
    assert name_key("gin") != name_key("g in")
    assert name_key("cr\u00e8me") != name_key("creme")


def test_a_slug_is_the_file_s_name_without_folder_and_ending() -> None:
    assert [slug_of(file) for file in ("specs/a.b.md", "a", "x/.hidden", "cafe\u0301.yaml")] == [
        "a.b",
        "a",
        ".hidden",
        "caf\u00e9",
    ]


def test_who_types_a_slug_may_type_the_file_or_its_path() -> None:
    typed = ("cafe\u0301", "caf\u00e9.md", "specs/caf\u00e9.md", "./caf\u00e9.md/")
    assert {typed_slug(one, ".md") for one in typed} == {"caf\u00e9"}
    assert [typed_slug(one, ".yaml", ".yml") for one in ("a.yml", "a.yaml", "a.v2", "a.md")] == [
        "a",
        "a",
        "a.v2",
        "a.md",
    ]


SPEC = "---\nname: A\npour:\n  - 50 ml garden gin\nglass: coupe\n---\n"


def test_a_swap_may_be_typed_with_two_spaces_as_the_line_it_replaces_may() -> None:
    spec = SPEC.replace("glass:", "swap: {garden  GIN: lemon juice}\nglass:")
    house = reading_of({"house.yaml": HOUSE, "stock/a.yaml": STOCK, "specs/a.md": spec}).house
    assert house is not None
    assert [swap.replaces for swap in house.specs["a"].swaps] == ["garden gin"]


def test_another_name_of_a_bottle_at_fault_is_known_however_many_spaces_it_has() -> None:
    stock = "tall gin:\n  aliases: [garden  gin]\n  abv: forty\n  contains: none\n"
    assert reading_of({"house.yaml": HOUSE, "stock/a.yaml": stock, "specs/a.md": SPEC}).broken_stock == {
        "tall gin",
        "garden gin",
    }


def test_two_bottles_are_one_name_whichever_way_a_capital_is_put_together() -> None:
    stock = "\u0390 gin:\n  contains: none\n\u03aa\u0301 gin:\n  contains: none\n"
    assert "stock-name-twice" in told({"house.yaml": HOUSE, "stock/a.yaml": stock})


def test_sections_have_anchors_of_their_own_whatever_is_called_alike() -> None:
    # The drink "short" has that anchor; a section that sells out keeps its own, and so do those after it.
    event = "event: A\ndate: 2026-12-12\nmenu:\n"
    event += "".join(
        f"  - section: {name}\n    drinks: [{slug}]\n"
        for name, slug in (("Short", "short"), ("Long & tall", "b"), ("LONG, tall!", "c"), ("“…”", "d"))
    )
    specs = {f"specs/{slug}.md": SPEC for slug in ("short", "b", "c", "d")}
    house = reading_of({"house.yaml": HOUSE, "stock/a.yaml": STOCK, "events/a.yaml": event, **specs}).house
    assert house is not None
    ids = [section.id for section in house.events["a"].sections]
    assert ids == ["short-2", "long-tall", "long-tall-2", "section"]
