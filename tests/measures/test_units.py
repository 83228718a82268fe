"""The table of units that commands read is what pint reads in bar_units.txt.

After a change of bar_units.txt, run with UPDATE_EXPECTED=1 and read the difference.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from menugen.measures import units as units_module
from menugen.measures.units import defined_units, units

TABLE = Path(units_module.__file__).with_name("bar_units.tsv")
USED = """
import sys
from menugen.measures import parse_line, parse_size
for line in ("1/2 oz rye", "2 ozs gin", "1 gill of gin"):
    parse_line(line, ounce="us", part_ml=None)
parse_size("70 cl")
print("pint" in sys.modules)
"""


@pytest.fixture
def nothing_remembered() -> None:
    units.cache_clear()
    units_module._every_unit.cache_clear()


def unit_table() -> str:
    """Return what bar_units.tsv holds: the version of bar_units.txt, then each word, its unit, and that in ml or g."""
    rows = [
        f"{word}\t{unit.name}\t"
        + (f"{unit.mass_g}\tg" if unit.volume_ml is None else f"{unit.volume_ml}\tml")
        for word, unit in defined_units().items()
    ]
    return "".join(f"{row}\n" for row in (units_module._version(), *rows))


def test_the_table_is_what_pint_reads() -> None:
    if os.environ.get("UPDATE_EXPECTED"):
        TABLE.write_text(unit_table(), encoding="utf-8", newline="\n")
    assert TABLE.read_text("utf-8") == unit_table()
    assert units_module._every_unit() == defined_units()


def test_a_table_of_other_definitions_is_not_believed(
    nothing_remembered: None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    changed = tmp_path / "bar_units.txt"
    changed.write_text(
        units_module._DEFINITIONS.read_text("utf-8").replace("dash = 0.8 * ml", "dash = 0.9 * ml"), "utf-8"
    )
    monkeypatch.setattr(units_module, "_DEFINITIONS", changed)
    assert units("trade")["dashes"].volume_ml == pytest.approx(0.9)
    assert units("us")["fl oz"].volume_ml == pytest.approx(29.5735295625)
    units.cache_clear()
    units_module._every_unit.cache_clear()


def test_pint_is_not_started_for_what_the_table_holds() -> None:
    used = subprocess.run([sys.executable, "-c", USED], capture_output=True, text=True, check=True)
    assert used.stdout == "False\n"


def test_the_ounces_of_a_law_are_no_words_that_a_line_may_have() -> None:
    for ounce in ("trade", "us", "imperial"):
        assert {"us ounce", "imperial ounce", "us_ounce", "imperial_ounce"}.isdisjoint(units(ounce))
        assert units(ounce)["fl oz"] == units(ounce)["oz"]
