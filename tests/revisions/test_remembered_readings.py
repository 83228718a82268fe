"""A house read after another one says what it says when nothing is remembered."""

import pytest

from menugen.reading import DiskFiles, HouseFiles, read_event, read_house, read_spec
from menugen.reading.stock_file import read_stock
from menugen.revisions.revision import files_at
from tests.houses import SOUR, TextFiles, texts
from tests.revisions.repositories import Books, books

READERS = (read_spec, read_stock, read_event)


def same(files: HouseFiles, first_files: HouseFiles) -> None:
    """Assert that a house is read the same after another as with nothing remembered."""
    for reader in READERS:
        reader.cache_clear()
    alone = read_house(files)
    for reader in READERS:
        reader.cache_clear()
    read_house(first_files)
    after = read_house(files)
    assert after.house == alone.house
    assert after.problems == alone.problems
    assert after.broken_specs == alone.broken_specs
    assert after.broken_stock == alone.broken_stock
    assert after.broken_events == alone.broken_events


@pytest.fixture
def house(tmp_path) -> Books:
    files = texts()
    for number in range(5):
        files[f"specs/sour-{number}.md"] = SOUR.lstrip("\n").replace("Marsh Sour", f"Sour {number}")
        files[f"library/old-{number}.md"] = SOUR.lstrip("\n").replace("Marsh Sour", f"Old {number}")
    files["house.yaml"] += "specs: [specs, ./library]\n"
    return books(tmp_path, files)


EDITS = {
    "nothing": lambda house: None,
    "a spec": lambda house: house.edit("specs/sour-1.md", "50 ml", "60 ml"),
    "a spec of the library": lambda house: house.edit("library/old-1.md", "50 ml", "60 ml"),
    "every spec": lambda house: [house.edit(f"specs/sour-{n}.md", "50 ml", "60 ml") for n in range(5)],
    "a spec that breaks": lambda house: house.edit("specs/sour-1.md", "glass:", "glas:"),
    "a spec that goes": lambda house: (house.house / "specs/sour-1.md").unlink(),
    "a spec that comes": lambda house: house.write("specs/new.md", SOUR.lstrip("\n")),
    "one slug twice": lambda house: house.write("library/sour-1.md", SOUR.lstrip("\n")),
    "one slug twice, in other letters": lambda house: house.write("library/SOUR-1.md", SOUR.lstrip("\n")),
    "stock": lambda house: house.edit("stock/all.yaml", "14.00", "15.00"),
    "stock that breaks": lambda house: house.edit("stock/all.yaml", "abv: 40 %", "abv: strong"),
    "a second stock file": lambda house: house.write("stock/more.yaml", "rye:\n  contains: none\n"),
    "a stock name twice": lambda house: house.write("stock/more.yaml", "Orgeat:\n  contains: none\n"),
    "an alias twice": lambda house: house.write(
        "stock/more.yaml", "x:\n  aliases: [GIN]\n  contains: none\n"
    ),
    "a stock file nobody can read": lambda house: house.write("stock/more.yaml", "x: [\n"),
    "a second event": lambda house: house.write(
        "events/a.yaml", "event: A\ndate: 2026-12-01\nmenu:\n  - section: S\n    drinks: [sour-1]\n"
    ),
    "an event that breaks": lambda house: house.edit("events/small-supper.yaml", "date:", "dat:"),
    "the settings": lambda house: house.edit("house.yaml", "GB-ENG", "US"),
    "settings that break": lambda house: house.write("house.yaml", "name: [x\n"),
    "no settings": lambda house: (house.house / "house.yaml").unlink(),
    "folders": lambda house: house.edit("house.yaml", "[specs, ./library]", "[library]"),
    "an event": lambda house: house.edit("events/small-supper.yaml", "9.50", "9.00"),
}


@pytest.mark.slow
@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS.keys())
def test_a_house_is_the_same_read_after_another_as_alone(house, edit):
    old = files_at(house.house, "HEAD")
    edit(house)
    disk = DiskFiles(house.house)
    same(old, disk)
    same(disk, old)
    house.commit("Edited")
    new = files_at(house.house, "HEAD")
    same(old, new)
    same(new, old)


def test_files_that_know_no_ids_are_compared_by_what_they_hold():
    changed = texts(**{"specs/other.md": SOUR.lstrip("\n").replace("Marsh", "Other")})
    same(TextFiles(texts()), TextFiles(changed))
    same(TextFiles(changed), TextFiles(texts()))


def test_what_is_the_same_is_not_read_again(house):
    first = read_house(DiskFiles(house.house)).house
    second = read_house(files_at(house.house, "HEAD")).house
    assert first is not None
    assert second is not None
    taken = [slug for slug, spec in second.specs.items() if spec is first.specs[slug]]
    assert len(taken) == 11


def test_another_ounce_is_another_reading(house):
    house.edit("specs/sour-1.md", "50 ml", "2 oz")
    first = read_house(DiskFiles(house.house)).house
    house.edit("house.yaml", "GB-ENG", "US")
    second = read_house(DiskFiles(house.house)).house
    assert first is not None
    assert second is not None
    volumes = [one.specs["sour-1"].lines[0].measure.volume_ml for one in (first, second)]
    assert volumes[0] != volumes[1]
