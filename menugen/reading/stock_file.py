"""A stock file to StockLines."""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from menugen.measures import OunceKind
from menugen.problems import Place, Problem, error
from menugen.reading.keys import STOCK, Units, as_list, fields_of, read_keys
from menugen.reading.keys.values import LONGEST_NAME
from menugen.reading.spec_file import REMEMBERED
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import StockLine


class StockReading(NamedTuple):
    """What a stock file says.

    Attributes:
        lines: Those without a fault.
        broken: Names and aliases of the others, as typed; None where they cannot be told.
        problems: Everything that is wrong.
    """

    lines: tuple[StockLine, ...]
    broken: tuple[str, ...] | None
    problems: tuple[Problem, ...]


@lru_cache(maxsize=REMEMBERED)
def read_stock(text: str, file: str, ounce: OunceKind) -> StockReading:
    """Read a stock file.

    Args:
        text: The file, lines divided by line feeds.
        file: Its path, relative to the house.
        ounce: The ounce the house means.
    """
    data, problems = read_mapping(text, file)
    if data is None:
        return StockReading((), None, tuple(problems))
    lines: list[StockLine] = []
    broken: list[str] = []
    for key, value in data.items():
        place = Place(file, (key,), "key")
        name = " ".join(key.split())
        faults = list(_name_faults(name, place))
        if isinstance(value, dict) or value == "":
            values, wrong = read_keys(STOCK, value if isinstance(value, dict) else {}, place, Units(ounce))
            faults += wrong
            if not faults:
                lines.append(StockLine(name=name, place=place, **fields_of(STOCK, values)))
        else:
            faults.append(
                error(
                    "wrong-shape",
                    f'"{name}" must be keys and values, such as "bottle: 700 ml"',
                    Place(file, (key,)),
                    "indent what belongs to it below its name",
                )
            )
        if faults:
            broken += [name, *_aliases(value)]
            problems += faults
    return StockReading(tuple(lines), tuple(broken), tuple(problems))


def _name_faults(name: str, place: Place) -> Iterator[Problem]:
    if len(name) > LONGEST_NAME:
        yield error("text-too-long", f"this name is longer than {LONGEST_NAME} characters", place)


def _aliases(value: Data) -> list[str]:
    """Return the other names of a line at fault, so that nobody misses them as well."""
    if not isinstance(value, dict):
        return []
    return [alias for alias in as_list(value.get("aliases", [])) if isinstance(alias, str)]
