"""Which measures bring a drink nearest to a figure it should have, in steps a bar can measure."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal, NamedTuple

from menugen import mixing
from menugen.facts.bottles import Bottles
from menugen.facts.event import Setting
from menugen.facts.serve import BottleLine, DrinkFacts, line_liquid, poured_into, work_out_drink
from menugen.facts.what_if import WrongChange, find_line, meant, sides
from menugen.measures import (
    Fault,
    OunceKind,
    ounce_ml,
    parse_concentration,
    parse_number,
    parse_strength,
    parse_volume,
    show_ml,
    show_ounces,
)
from menugen.mixing import Made
from menugen.names import name_key
from menugen.records import Line, Measure, Role, Spec
from menugen.regions import DrinkUnit

AS_BEFORE = "as before"

STEP_ML = 2.5
"""What a bar measures to where it measures in millilitres: half of the smallest mark on most jiggers. Common practice,
no published source. Where a line is in ounces the step is a quarter of one."""

STEP_G = 1.0
"""The same for what is weighed. Common practice, no published source."""

COARSER = (1, 2, 4, 10, 20, 40)
"""What a step is multiplied by for the measures of a bowl or a jug, until the search has few enough of them: nobody
measures half a litre to 2.5 ml. Common practice, no published source."""

MOST = 120.0
"""No single measure is tried above so many ml or g, or twice what the spec has of it, whichever is more."""

MOST_STEPS = 120
"""More marks than this are tried of no measure: a step too small for the search is taken for wrong use."""

MOVING_COSTS = 0.05
"""What moving a measure by one step weighs against missing an aim by as much as still counts as there: among measures
that come about as near, those nearest to the spec win."""

MOST_BY = 2
MOST_AIMS = 3

_Read = Callable[[Made, DrinkUnit], float | None]


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure that can be aimed for.

    Attributes:
        unit: Of its values; may be empty.
        close: How near counts as there.
        decimals: That make sense of it.
        read: From a drink, with what alcohol is counted in; None where it has none.
        parse: From what was typed.
        example: Of what can be typed.
        moved_by: What of a pour moves it most.
    """

    unit: str
    close: float
    decimals: int
    read: _Read
    parse: Callable[[str], float | Fault]
    example: str
    moved_by: Literal["ethanol_g", "sugar_g", "acid_g", "volume_ml"]


class Aim(NamedTuple):
    """A figure a drink should come to: one of `AIMS`, and its target; None means what it was before."""

    figure: str
    target: float | None


@dataclass(frozen=True, slots=True)
class Reached:
    """How near an aim came.

    Attributes:
        figure: One of `AIMS`.
        unit: Of both values; may be empty.
        target: What was asked for.
        value: What it comes to.
        close: How near counts as there.
        decimals: That make sense of it.
    """

    figure: str
    unit: str
    target: float
    value: float
    close: float
    decimals: int

    @property
    def miss(self) -> float:
        """How far above (or, below 0, under) the target it stays."""
        return self.value - self.target

    @property
    def is_there(self) -> bool:
        """Whether it came near enough."""
        return abs(self.miss) <= self.close + 1e-9


@dataclass(frozen=True, slots=True)
class Aimed:
    """The outcome of a search.

    Attributes:
        spec: With the measures found.
        by: Names whose measures were free, as the spec writes them.
        chosen: Whether `by` was chosen here and not by the user.
        steps: The step of each, as a bar says it: "2.5 ml", "1/4 oz", "1 g".
        reached: Each aim, in the order asked for.
        at_the_end: Names whose measure stands at the most or least that was tried, where an aim was missed.
    """

    spec: Spec
    by: tuple[str, ...]
    chosen: bool
    steps: tuple[str, ...]
    reached: tuple[Reached, ...]
    at_the_end: tuple[str, ...]


def _grams_per_litre(text: str) -> float | Fault:
    parsed = parse_concentration(text)
    if isinstance(parsed, Fault):
        return parsed
    value, unit = parsed
    if unit == "g/100 ml":
        return value * 10.0
    if unit != "g/l":
        return Fault("concentration-form", f'"{text}" is not in grams to a litre', 'write it as "60 g/l"')
    return value


def _units(text: str) -> float | Fault:
    return parse_number(text.casefold().removesuffix("units").removesuffix("unit").strip())


# fmt: off
_FIGURES: Mapping[str, _Figure] = {
    "strength": _Figure(
        "% vol", 0.25, 1, lambda made, _: made.served_abv_percent.value,
        parse_strength, "abv=12 %", "ethanol_g"),
    "sweetness": _Figure(
        "g/l", 2.0, 0, lambda made, _: mixing.sugar_g_per_l(made.drink),
        _grams_per_litre, "sweetness=60 g/l", "sugar_g"),
    "acid": _Figure(
        "g/l", 0.25, 1, lambda made, _: mixing.titratable_acid_g_per_l(made.drink),
        _grams_per_litre, "acid=7 g/l", "acid_g"),
    "balance": _Figure(
        "", 0.25, 1, lambda made, _: made.drink.sugar_g / made.drink.acid_g if made.drink.acid_g > 0.0 else None,
        parse_number, "balance=8", "sugar_g"),
    "volume": _Figure(
        "ml", 2.0, 0, lambda made, _: made.volume_ml.value,
        parse_volume, "volume=120 ml", "volume_ml"),
    "units": _Figure(
        "units", 0.05, 2, lambda made, unit: unit.count(made.ethanol_ml),
        _units, "units=1.5", "ethanol_g"),
}
# fmt: on
"""How near counts as there is a quarter or half of what a guest's page rounds to. "Balance" is grams of sugar to a gram
of acid."""

_ALSO: Mapping[str, str] = {
    "abv": "strength",
    "sugar": "sweetness",
    "sharpness": "acid",
    "sweet to sour": "balance",
}

AIMS = tuple(_FIGURES)


def parse_aim(typed: str) -> Aim:
    """Return an aim as typed: "abv=12 %", "sweetness=as before".

    Raises:
        WrongChange: It is none.
    """
    left, right = sides(typed, "--aim", "abv=12 %")
    key = name_key(left)
    name = _ALSO.get(key, key)
    if name not in _FIGURES:
        raise WrongChange(f'--aim knows no "{left}": it knows abv, {", ".join(AIMS)}')
    if name_key(right) == AS_BEFORE:
        return Aim(name, None)
    figure = _FIGURES[name]
    target = figure.parse(right)
    if isinstance(target, Fault):
        raise WrongChange(f'--aim "{typed}": {target.message}; write for instance --aim "{figure.example}"')
    return Aim(name, target)


def aimed(
    spec: Spec,
    setting: Setting,
    before: DrinkFacts,
    aims: Sequence[Aim],
    by: Sequence[str],
    step_ml: float | None,
    ounce: OunceKind,
) -> Aimed:
    """Return the drink with one or two measures moved, in bar-sized steps, so that it comes nearest to its aims.

    Every combination of steps is tried, so nothing nearer has been missed within what is tried.

    Args:
        spec: The drink, with changes already made.
        setting: Where it is worked out.
        before: The drink as written: what "as before" means.
        aims: One to three.
        by: Names of the lines that may move; empty: the line that moves each aim's figure most, two at most.
        step_ml: The step of what is measured by volume, more than 0; None: 2.5 ml, or a quarter ounce for a line in
            ounces, and more for the measures of a bowl. What is weighed moves by whole grams.
        ounce: The ounce of the house.

    Raises:
        WrongChange: A name or an aim does not suit this drink.
    """
    if len(aims) > MOST_AIMS or len(by) > MOST_BY:
        raise WrongChange(
            f"no more than {MOST_AIMS} aims and {MOST_BY} measures to reach them by can be given"
        )
    now = work_out_drink(spec, setting.bottles, before.vessel, setting.region)
    if now is None:
        raise WrongChange(f"{spec.name} cannot be worked out as it stands")
    targets = [_target(aim, before, setting) for aim in aims]
    lines = now.serve.lines
    indices = _free_lines(spec, setting.bottles, by) if by else _sensible_lines(now, aims, before.spec)
    steps = [_step(spec.lines[index], step_ml, ounce) for index in indices]
    grids = [_grid(spec.lines[index], step) for index, step in zip(indices, steps, strict=True)]
    best: tuple[float, tuple[float, ...], tuple[Reached, ...]] | None = None
    for amounts in product(*grids):
        made = _poured(lines, indices, amounts, now)
        reached = tuple(
            _reached(aim.figure, target, made, setting, spec.serves)
            for aim, target in zip(aims, targets, strict=True)
        )
        missed = sum((item.miss / item.close) ** 2 for item in reached)
        moved = sum(
            abs(amount - _amount(spec.lines[index])) / step
            for index, amount, step in zip(indices, amounts, steps, strict=True)
        )
        score = missed + MOVING_COSTS * moved
        if best is None or score < best[0]:
            best = (score, amounts, reached)
    if best is None:
        raise WrongChange("there is nothing to try: name a measure with --by")
    _, amounts, reached = best
    missed_one = not all(item.is_there for item in reached)
    return Aimed(
        _with_amounts(spec, indices, amounts, ounce),
        tuple(spec.lines[index].name for index in indices),
        not by,
        tuple(_shown(spec.lines[index], step, ounce) for index, step in zip(indices, steps, strict=True)),
        reached,
        tuple(
            spec.lines[index].name
            for index, amount, grid in zip(indices, amounts, grids, strict=True)
            if missed_one and amount in (grid[0], grid[-1])
        ),
    )


def _amount(line: Line) -> float:
    """Return what a line has, in ml or g; 0 for what is counted or topped up."""
    return line.measure.volume_ml or line.measure.mass_g or 0.0


def _poured(
    lines: Sequence[BottleLine], indices: Sequence[int], amounts: Sequence[float], now: DrinkFacts
) -> Made:
    moved = [replace(item, volume_ml=0.0) if item.line.measure.unit == "top" else item for item in lines]
    for index, amount in zip(indices, amounts, strict=True):
        weighed = lines[index].line.measure.mass_g is not None
        moved[index] = (
            replace(lines[index], mass_g=amount) if weighed else replace(lines[index], volume_ml=amount)
        )
    return poured_into(moved, now.spec, now.vessel)[0]


def _target(aim: Aim, before: DrinkFacts, setting: Setting) -> float:
    if aim.target is not None:
        return aim.target
    value = _read(aim.figure, before.serve.made, setting, before.serve.serves)
    if value is None:
        raise WrongChange(
            f"{before.spec.name} as written has no {aim.figure} to keep: there is no acid in it"
        )
    return value


def _read(figure: str, made: Made, setting: Setting, serves: int) -> float | None:
    """Return a figure of a drink; of one that guests share the units are those of one serve, as a guest reads them."""
    value = _FIGURES[figure].read(made, setting.region.drink_unit)
    return value / serves if value is not None and figure == "units" else value


def _reached(figure: str, target: float, made: Made, setting: Setting, serves: int) -> Reached:
    known = _FIGURES[figure]
    value = _read(figure, made, setting, serves)
    if value is None:
        raise WrongChange(f"this drink can have no {figure}: there is no acid in it")
    unit = f"{known.unit} in one serve" if figure == "units" and serves > 1 else known.unit
    return Reached(figure, unit, target, value, known.close, known.decimals)


def _step(line: Line, step_ml: float | None, ounce: OunceKind) -> float:
    if line.measure.mass_g is None and step_ml:
        return step_ml
    fine = STEP_G if line.measure.mass_g is not None else STEP_ML
    if line.measure.unit == "oz":
        fine = ounce_ml(ounce) / 4.0
    steps = (fine * coarser for coarser in COARSER)
    return next((step for step in steps if _most(line) / step <= MOST_STEPS), fine)


def _most(line: Line) -> float:
    return max(MOST, 2.0 * _amount(line))


def _shown(line: Line, amount: float, ounce: OunceKind) -> str:
    """Return an amount in the unit a line is measured in."""
    if line.measure.mass_g is not None:
        return f"{amount:g} g"
    return show_ounces(amount, ounce) if line.measure.unit == "oz" else show_ml(amount)


def _grid(line: Line, step: float) -> list[float]:
    """Return what is tried for one line: whole steps, and what the spec has now."""
    now = _amount(line)
    steps = int(_most(line) / step + 1e-9)
    if not 1 <= steps <= MOST_STEPS:
        raise WrongChange(
            f"steps of {show_ml(step)} are not ones a bar can measure: write --step 5 ml, or leave it out"
        )
    return sorted({*(step * number for number in range(1, steps + 1)), now})


def _with_amounts(spec: Spec, indices: Sequence[int], amounts: Sequence[float], ounce: OunceKind) -> Spec:
    lines = list(spec.lines)
    for index, amount in zip(indices, amounts, strict=True):
        line = lines[index]
        if amount == _amount(line):
            continue
        text = _shown(line, amount, ounce)
        if line.measure.mass_g is not None:
            measure = Measure(text, "g", mass_g=amount)
        else:
            measure = Measure(text, "oz" if line.measure.unit == "oz" else "ml", volume_ml=amount)
        lines[index] = replace(line, measure=measure)
    return replace(spec, lines=tuple(lines), swaps=())


def _free_lines(spec: Spec, bottles: Bottles, names: Sequence[str]) -> list[int]:
    indices: list[int] = []
    for name in names:
        index = find_line(spec, name, bottles)
        if index is None:
            raise WrongChange(
                f'--by "{name}": no line of {spec.name} is called that{meant(name, spec, bottles)}'
            )
        if not _can_move(spec.lines[index]):
            raise WrongChange(
                f'--by "{name}": it is neither measured by volume nor weighed here, so it cannot be moved in steps'
            )
        if index not in indices:
            indices.append(index)
    return indices


def _can_move(line: Line) -> bool:
    return _amount(line) > 0.0 and line.role not in (Role.RIM, Role.GARNISH)


def _sensible_lines(facts: DrinkFacts, aims: Sequence[Aim], written: Spec) -> list[int]:
    """Return the line that brings most of what each aim is about, two at most; what has just been set stays put."""
    indices: list[int] = []
    for aim in aims[:MOST_BY]:
        what = _FIGURES[aim.figure].moved_by
        amounts = {
            index: float(getattr(line_liquid(item), what))
            for index, item in enumerate(facts.serve.lines)
            if _can_move(item.line) and item.line in written.lines and index not in indices
        }
        most = max(amounts, key=lambda index: amounts[index], default=None)
        if most is None or amounts[most] <= 0.0:
            raise WrongChange(
                f'no measured line of {facts.spec.name} moves its {aim.figure}: name one with --by "NAME"'
            )
        indices.append(most)
    return indices
