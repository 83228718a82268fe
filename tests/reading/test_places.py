import pytest

from menugen.problems import Place, Span
from menugen.reading import Sources
from tests.reading.held import HeldFiles

STOCK = """\
# spirits
gin:
  contains: [wheat, barley]
  aliases:
    - house gin
    - bar gin
  note: |
    kept cold
    and dry
cafe\u0301: {abv: 24 %, "key": 'quoted'}
"""
SPEC = """\
---
name: A
pour:
  - 50 ml gin
  - {pour: 10 ml rum, as: float}
  - pour: 5 ml port
    note: last
garnish: lemon twist
swap:
  gin: rum
---
gin: not this one
"""


@pytest.fixture(scope="module")
def sources() -> Sources:
    return Sources(
        HeldFiles({"stock/a.yaml": STOCK.encode(), "specs/a.md": SPEC.replace("\n", "\r\n").encode()})
    )


@pytest.mark.parametrize(
    ("place", "line", "column", "end"),
    [
        (Place("stock/a.yaml"), 1, 1, 10),
        (Place("stock/a.yaml", ("gin",), "key"), 2, 1, 4),
        (Place("stock/a.yaml", ("gin",)), 2, 1, 4),
        (Place("stock/a.yaml", ("gin", "contains"), "key"), 3, 3, 11),
        (Place("stock/a.yaml", ("gin", "contains", 1)), 3, 21, 27),
        (Place("stock/a.yaml", ("gin", "aliases", 1)), 6, 7, 14),
        (Place("stock/a.yaml", ("gin", "aliases", 1), quote="bar"), 6, 7, 10),
        (Place("stock/a.yaml", ("gin", "note")), 7, 9, 10),
        (Place("stock/a.yaml", ("gin", "note"), quote="dry"), 9, 9, 12),
        (Place("stock/a.yaml", ("gin", "nowhere", 3)), 2, 1, 4),
        (Place("stock/a.yaml", ("nowhere",)), 1, 1, 10),
        (Place("stock/a.yaml", ("caf\u00e9", "abv")), 10, 14, 18),
        (Place("stock/a.yaml", ("caf\u00e9", "key")), 10, 27, 35),
        (Place("specs/a.md"), 1, 1, 4),
        (Place("specs/a.md", ("pour", 0)), 4, 5, 14),
        (Place("specs/a.md", ("pour", 0), quote="gin"), 4, 11, 14),
        (Place("specs/a.md", ("pour", 0), quote="not there"), 4, 5, 14),
        (Place("specs/a.md", ("pour", 1, "pour"), quote="rum"), 5, 18, 21),
        (Place("specs/a.md", ("pour", 2)), 6, 5, 9),
        (Place("specs/a.md", ("pour", 2, "note")), 7, 11, 15),
        (Place("specs/a.md", ("garnish", 0)), 8, 10, 21),
        (Place("specs/a.md", ("garnish", 0), quote="twist"), 8, 16, 21),
        (Place("specs/a.md", ("garnish", "nowhere"), "key"), 8, 10, 21),
        (Place("specs/a.md", ("garnish", "nowhere"), quote="twist"), 8, 10, 21),
        (Place("specs/a.md", ("swap", "gin", 0), quote="rum"), 10, 8, 11),
        (Place("specs/a.md", ("swap", "gin"), "key"), 10, 3, 6),
    ],
)
def test_a_place_is_found_on_the_page(
    sources: Sources, place: Place, line: int, column: int, end: int
) -> None:
    assert sources.span(place) == Span(place.file, line, column, end)


def test_a_whole_word_is_meant_before_a_part_of_one() -> None:
    sources = Sources(HeldFiles({"a.yaml": b"a: 50 ml ginger gin\n"}))
    assert sources.span(Place("a.yaml", ("a",), quote="gin")) == Span("a.yaml", 1, 17, 20)
    assert sources.span(Place("a.yaml", ("a",), quote="ging")) == Span("a.yaml", 1, 10, 14)


def test_places_before_a_fault_of_the_yaml_are_still_found() -> None:
    sources = Sources(HeldFiles({"a.yaml": b"a: 1\nb: [\n"}))
    assert sources.span(Place("a.yaml", ("a",))) == Span("a.yaml", 1, 4, 5)
    assert sources.span(Place("a.yaml", ("b", 0))) == Span("a.yaml", 2, 1, 2)


def test_a_file_that_is_not_there_has_no_text_and_one_place() -> None:
    sources = Sources(HeldFiles({}))
    assert sources.text("nowhere.yaml") == ""
    assert sources.span(Place("nowhere.yaml", ("a", 1))) == Span("nowhere.yaml", 1, 1, 1)
