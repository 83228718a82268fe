"""The working of a drink's figures, as sections of a report and as plain data for JSON."""

import re
from collections.abc import Iterator, Sequence
from typing import Any

from menugen.drink_facts import figure_data, ranged
from menugen.facts import SPEC, Doubt, FamilyPlane, Given, Working
from menugen.report import Block, Column, Note, Plot, Section, Table

_INDENT = 4
_HELD_TOGETHER = re.compile(r"(?<=\d) (?=ml|g|%|J|K|l\b)|(?<==) (?=\d)")
_PLANE_WIDTH = 56
_PLANE_HEIGHT = 12
_NAME = 34

_GIVEN = (
    Column(most=_NAME, cut=True, gap=_INDENT),
    Column(right=True, least=12, gap=0),
    Column(least=12),
    Column(gap=1),
)
_DOUBTS = (Column(most=44 - _INDENT, gap=_INDENT), Column(right=True, least=16, gap=1), Column(gap=1))
_SOURCES = (Column(right=True, least=_INDENT + 1, gap=0), Column(gap=1))
_FAMILY = (
    Column(least=1),
    Column(most=_NAME, cut=True, gap=1),
    Column("sugar g/l", right=True, least=10, gap=0),
    Column("acid g/l", right=True, least=10, gap=0),
    Column("% vol", right=True, least=8, gap=0),
)


def _held(text: str, indent: int = 0, hang: int = 0) -> Note:
    """Return a paragraph whose figures stay with their unit and with the sign before them."""
    return Note(_HELD_TOGETHER.sub("\N{NO-BREAK SPACE}", text), indent, hang)


class _Notes:
    """Sources, numbered in the order they are first cited."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def cite(self, *sources: str) -> str:
        """Return "[3, 5-7]" for sources; the spec and what stands above need none."""
        cited = {source for source in sources if source not in ("", SPEC)}
        for source in sources:
            if source in cited:
                self._numbers.setdefault(source, len(self._numbers) + 1)
        return f"[{_runs(sorted(self._numbers[source] for source in cited))}]" if cited else ""

    def table(self) -> Table:
        """Return every source with its number."""
        return Table(_SOURCES, tuple((f"[{number}]", source) for source, number in self._numbers.items()))


def _runs(numbers: Sequence[int]) -> str:
    """Return "3, 5-7"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def _given(item: Given, notes: _Notes) -> tuple[str, ...]:
    value = f"{item.value:.6g} {item.unit}".rstrip()
    off_by = f"within {item.tolerance:.3g}" if item.tolerance else ""
    return item.name, value, off_by, f"{item.basis} {notes.cite(item.source)}".rstrip()


def _doubt(doubt: Doubt, decimals: int, notes: _Notes) -> tuple[str, ...]:
    below, above = f"{doubt.below:.{decimals}f}", f"{doubt.above:.{decimals}f}"
    spread = f"+/- {below}" if below == above else f"-{below} +{above}"
    return f"doubt: {doubt.what}", spread, notes.cite(*doubt.sources)


def _one(working: Working, notes: _Notes) -> Section:
    title = f"{working.name} {notes.cite(*working.sources)}".rstrip()
    given = tuple(_given(item, notes) for item in working.given)
    decimals = working.decimals + 1
    doubts = tuple(
        _doubt(doubt, decimals, notes)
        for doubt in working.doubts
        if max(doubt.below, doubt.above) >= 0.5 * 10**-decimals
    )
    steps = (_held(step, _INDENT, 2) for step in working.steps)
    blocks: tuple[Block, ...] = (Table(_GIVEN, given), *steps, Table(_DOUBTS, doubts))
    return Section(title, blocks, value=ranged(working.figure, working.decimals, working.unit))


def working_sections(workings: Sequence[Working], plane: FamilyPlane | None) -> Iterator[Section]:
    """Yield every figure with its working, then the drink's family and the sources."""
    notes = _Notes()
    for working in workings:
        yield _one(working, notes)
    if plane is not None:
        yield Section(f'The family "{plane.family}", as served', tuple(_family(plane)))
        yield Section(blocks=(Plot("\n".join(_plane(plane))),))
    note = "Independent doubts add by their squares. A single bottle's figures are those of its label."
    yield Section(blocks=(_held(note),))
    yield Section("Sources", (notes.table(),))


def _family(plane: FamilyPlane) -> Iterator[Block]:
    drinks = sorted((plane.here, *plane.others), key=lambda drink: (drink.sugar_g_per_l, drink.slug))
    rows = tuple(
        (
            ">" if drink is plane.here else "",
            f"{drink.name}{'*' if drink.stand_ins else ''}",
            f"{drink.sugar_g_per_l:.0f}",
            f"{drink.acid_g_per_l:.1f}",
            f"{drink.strength_percent:.1f}",
        )
        for drink in drinks
    )
    yield Table(_FAMILY, rows, strong=frozenset({drinks.index(plane.here)}))
    if any(drink.stand_ins for drink in drinks):
        text = "* with usual values for bottles the house does not have, strengths too: to compare by, nothing else"
        yield _held(text, _INDENT, 2)
    if plane.left_out:
        yield _held(f"left out, not all of it is known: {', '.join(plane.left_out)}", _INDENT, 2)


def _plane(plane: FamilyPlane) -> list[str]:
    """Draw sugar to the right and acid upwards, the drink itself as a full mark."""
    every = (plane.here, *plane.others)
    most_sugar = max(drink.sugar_g_per_l for drink in every) or 1.0
    most_acid = max(drink.acid_g_per_l for drink in every) or 1.0
    rows = [[" "] * (_PLANE_WIDTH + 1) for _ in range(_PLANE_HEIGHT + 1)]
    for drink in (*plane.others, plane.here):
        column = round(drink.sugar_g_per_l / most_sugar * _PLANE_WIDTH)
        row = _PLANE_HEIGHT - round(drink.acid_g_per_l / most_acid * _PLANE_HEIGHT)
        rows[row][column] = "#" if drink is plane.here else "o"
    label = " " * _INDENT
    drawn = [f"{label}{most_acid:>5.1f} |" + "".join(rows[0]).rstrip()]
    drawn += [f"{label}{'':>5} |" + "".join(row).rstrip() for row in rows[1:-1]]
    drawn.append(f"{label}{'0':>5} |" + "".join(rows[-1]).rstrip())
    drawn.append(f"{label}{'acid':>5} +" + "-" * (_PLANE_WIDTH + 1))
    scale = f"0{'sugar, g/l':^{_PLANE_WIDTH - 6}}{most_sugar:>6.0f}"
    drawn.append(f"{label}{'g/l':>5}  {scale}")
    drawn.append(f"{label}{'':>5}  # {plane.here.name}, o the others")
    return drawn


def working_json(workings: Sequence[Working]) -> list[dict[str, Any]]:
    """Return the same structure as data."""
    return [
        {
            "name": working.name,
            "unit": working.unit,
            **figure_data(working.figure),
            "given": [
                {
                    "name": item.name,
                    "value": round(item.value, 6),
                    "unit": item.unit,
                    "basis": item.basis,
                    "source": item.source,
                    "within": round(item.tolerance, 6),
                }
                for item in working.given
            ],
            "steps": list(working.steps),
            "doubts": [
                {
                    "what": doubt.what,
                    "below": round(doubt.below, 6),
                    "above": round(doubt.above, 6),
                    "sources": list(doubt.sources),
                }
                for doubt in working.doubts
            ],
            "sources": list(working.sources),
        }
        for working in workings
    ]


def plane_json(plane: FamilyPlane) -> dict[str, Any]:
    """Return a drink's family as data."""
    return {
        "family": plane.family,
        "sweeter_than": plane.sweeter_than,
        "sharper_than": plane.sharper_than,
        "of": len(plane.others),
        "left_out": list(plane.left_out),
        "drinks": [
            {
                "drink": drink.slug,
                "name": drink.name,
                "sugar_g_per_l": round(drink.sugar_g_per_l, 4),
                "acid_g_per_l": round(drink.acid_g_per_l, 4),
                "strength_percent": round(drink.strength_percent, 4),
                "stand_ins": list(drink.stand_ins),
            }
            for drink in (plane.here, *plane.others)
        ],
    }
