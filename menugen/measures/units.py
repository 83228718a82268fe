"""The bar's units and what one of each comes to.

bar_units.txt defines them, and pint reads it. What it read is kept in bar_units.tsv, since pint takes longer to start
than most commands run: as long as that table is of this very file, it is read alone. tests/measures/test_units.py
holds the one to the other, and writes the table after a change.
"""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Literal, NamedTuple
from zlib import crc32

OunceKind = Literal["trade", "us", "imperial"]

_OUNCE_NAMES: Mapping[OunceKind, str] = {"trade": "oz", "us": "us ounce", "imperial": "imperial ounce"}
_DEFINITIONS = Path(__file__).with_name("bar_units.txt")
_TABLE = Path(__file__).with_name("bar_units.tsv")
_ONLY_BY_KIND = frozenset({"us_ounce", "imperial_ounce"})


class Unit(NamedTuple):
    """A unit of volume or of mass; exactly one of the factors is set.

    Attributes:
        name: As in bar_units.txt ("ml", "oz", "dash").
        volume_ml: What one of it comes to in millilitres; None for a unit of mass.
        mass_g: What one of it comes to in grams; None for a unit of volume.
    """

    name: str
    volume_ml: float | None
    mass_g: float | None


def ounce_ml(kind: OunceKind) -> float:
    """Return the millilitres in one ounce of this kind: the trade's 30, or the US or imperial fluid ounce."""
    volume_ml = units(kind)["oz"].volume_ml
    assert volume_ml is not None  # noqa: S101 (bar_units.txt is part of the package)
    return volume_ml


@cache
def units(ounce: OunceKind) -> Mapping[str, Unit]:
    """Return every word for a unit, lower case, with its factor; "oz" means the kind of ounce asked for."""
    found = dict(_every_unit())
    ounce_factor = found[_OUNCE_NAMES[ounce]].volume_ml
    for word, unit in found.items():
        if unit.name == "oz":
            found[word] = unit._replace(volume_ml=ounce_factor)
    return {word: unit for word, unit in found.items() if unit.name not in _ONLY_BY_KIND}


@cache
def _every_unit() -> Mapping[str, Unit]:
    version, *rows = _TABLE.read_text("utf-8").splitlines()
    if version != _version():
        return defined_units()
    found = {}
    for row in rows:
        word, name, amount, base = row.split("\t")
        found[word] = Unit(name, float(amount), None) if base == "ml" else Unit(name, None, float(amount))
    return found


def _version() -> str:
    return f"{crc32(_DEFINITIONS.read_text('utf-8').encode()):08x}"


def defined_units() -> Mapping[str, Unit]:
    """Return every word for a unit as pint reads bar_units.txt."""
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(_DEFINITIONS, cache_folder=None)
    found: dict[str, Unit] = {}
    for word in registry:
        one = registry.Quantity(1.0, word).to_base_units()
        is_volume = one.is_compatible_with("ml")
        found[word.replace("_", " ")] = Unit(
            name=registry.get_name(word),
            volume_ml=one.magnitude if is_volume else None,
            mass_g=None if is_volume else one.magnitude,
        )
    return found
