"""A stock file to StockLines."""

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from pydantic import ValidationError

from menugen.measures import ConcentrationUnit, OunceKind
from menugen.problems import Place, Problem, error
from menugen.reading.forms.refusal import known_keys, problems_of
from menugen.reading.forms.stock_form import StockForm
from menugen.reading.forms.values import LONGEST_NAME
from menugen.reading.spec_file import REMEMBERED, filled_in
from menugen.reading.yaml_text import Data, read_mapping
from menugen.records import Concentration, StockLine

_KEYS = frozenset(known_keys(StockForm))
_EMPTY_IS_A_FAULT = frozenset({"contains", "may contain", "distilled from", "fined with"})


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
            filled = filled_in(value or {}, _KEYS, _EMPTY_IS_A_FAULT) if isinstance(value, dict) else {}
            try:
                form = StockForm.model_validate(filled, context={"ounce": ounce})
            except ValidationError as failure:
                faults += problems_of(failure, place, StockForm, {})
            else:
                if not faults:
                    lines.append(_stock_line(name, form, place))
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
    aliases = value.get("aliases", [])
    return [
        alias for alias in (aliases if isinstance(aliases, list) else [aliases]) if isinstance(alias, str)
    ]


def _stock_line(name: str, form: StockForm, place: Place) -> StockLine:
    return StockLine(
        name=name,
        aliases=form.aliases,
        kind=form.kind,
        bottle_ml=form.bottle.volume_ml if form.bottle else None,
        bottle_g=form.bottle.mass_g if form.bottle else None,
        each_ml=form.each.volume_ml if form.each else None,
        each_g=form.each.mass_g if form.each else None,
        pack=form.pack,
        price=form.price,
        supplier=form.supplier,
        abv_percent=form.abv,
        sugar=_concentration(form.sugar),
        acid=_concentration(form.acid),
        fat=_concentration(form.fat),
        density_g_per_ml=form.density,
        contains=form.contains,
        may_contain=form.may_contain,
        distilled_from=form.distilled_from,
        fined_with=form.fined_with,
        sulphites_mg_per_l=form.sulphites,
        cautions=form.cautions,
        checked=form.checked,
        colour=form.colour,
        note=form.note,
        kept=form.kept,
        place=place,
    )


def _concentration(written: tuple[float, ConcentrationUnit] | None) -> Concentration | None:
    return Concentration(*written) if written else None
