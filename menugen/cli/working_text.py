"""The working of a drink's figures, as a lab note for a terminal and as plain data for JSON."""

import re
import textwrap
from collections.abc import Iterable, Sequence
from typing import Any

from menugen.drink_facts.shown import figure_data, ranged
from menugen.facts.family import FamilyPlane
from menugen.facts.lab_note import SPEC, Given, Working

WIDTH = 80
INDENT = 4
_DOUBT_WIDTH = 44
_HELD_TOGETHER = re.compile(r"(?<=\d) (?=ml|g|%|J|K|l\b)|(?<==) (?=\d)")
_PLANE_WIDTH = 56
_PLANE_HEIGHT = 12


def _wrapped(text: str, first: str, rest: int) -> str:
    """Return a text folded to the width; a figure stays with its unit and with the sign before it."""
    held = _HELD_TOGETHER.sub("\N{NO-BREAK SPACE}", text)
    folded = textwrap.fill(
        held,
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * rest,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return folded.replace("\N{NO-BREAK SPACE}", " ")


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

    def lines(self) -> Iterable[str]:
        """Yield every source with its number."""
        for source, number in self._numbers.items():
            label = f"[{number}] ".rjust(INDENT + 2)
            yield _wrapped(source, label, len(label))


def _runs(numbers: Sequence[int]) -> str:
    """Return "3, 5-7"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def _given(item: Given, notes: _Notes) -> str:
    value = f"{item.value:.6g} {item.unit}".rstrip()
    off_by = f"within {item.tolerance:.3g}" if item.tolerance else ""
    left = f"{'':{INDENT}}{item.name:<34.34}{value:>12}  {off_by:<12} {item.basis}"
    return f"{left} {notes.cite(item.source)}".rstrip()


def _one(working: Working, notes: _Notes, bold: bool) -> list[str]:
    result = ranged(working.figure, working.decimals, working.unit)
    name = f"{working.name} {notes.cite(*working.sources)}".rstrip()
    fits = len(name) + len(result) + 2 <= WIDTH
    head = [name + result.rjust(WIDTH - len(name))] if fits else [name, result.rjust(WIDTH)]
    out = [f"\x1b[1m{line}\x1b[0m" if bold else line for line in head]
    out += [_given(item, notes) for item in working.given]
    out += [_wrapped(step, " " * INDENT, INDENT + 2) for step in working.steps]
    decimals = working.decimals + 1
    for doubt in working.doubts:
        if max(doubt.below, doubt.above) < 0.5 * 10**-decimals:
            continue
        below, above = f"{doubt.below:.{decimals}f}", f"{doubt.above:.{decimals}f}"
        spread = f"+/- {below}" if below == above else f"-{below} +{above}"
        cited = notes.cite(*doubt.sources)
        left = f"{'':{INDENT}}doubt: {doubt.what}"
        if len(left) > _DOUBT_WIDTH:
            out.append(left)
            left = ""
        out.append(f"{left:<{_DOUBT_WIDTH}} {spread:>16} {cited}".rstrip())
    return out


def working_text(workings: Sequence[Working], plane: FamilyPlane | None, *, colour: bool) -> str:
    """Return every figure with its working, and its family, in 80 columns."""
    notes = _Notes()
    blocks = ["\n".join(_one(working, notes, colour)) for working in workings]
    if plane is not None:
        blocks.append("\n".join(_family(plane, colour)))
    note = "Independent doubts add by their squares. A single bottle's figures are those of its label."
    blocks.append(_wrapped(note, "", 0))
    blocks.append("\n".join(("Sources", *notes.lines())))
    return "\n\n".join(blocks)


def _family(plane: FamilyPlane, colour: bool) -> list[str]:
    head = f'The family "{plane.family}", as served'
    out = [f"\x1b[1m{head}\x1b[0m" if colour else head]
    out.append(f"{'':{INDENT}}{'':<34}{'sugar g/l':>10}{'acid g/l':>10}{'% vol':>8}")
    rows = sorted((plane.here, *plane.others), key=lambda drink: (drink.sugar_g_per_l, drink.slug))
    for drink in rows:
        mark = ">" if drink is plane.here else " "
        star = "*" if drink.stand_ins else ""
        name = f"{drink.name}{star}"
        row = (
            f"{'':{INDENT - 2}}{mark} {name:<34.34}{drink.sugar_g_per_l:>10.0f}{drink.acid_g_per_l:>10.1f}"
            f"{drink.strength_percent:>8.1f}"
        )
        out.append(f"\x1b[1m{row}\x1b[0m" if colour and drink is plane.here else row)
    if any(drink.stand_ins for drink in rows):
        text = "* with usual values for bottles the house does not have, strengths too: to compare by, nothing else"
        out.append(_wrapped(text, " " * INDENT, INDENT + 2))
    if plane.left_out:
        out.append(
            _wrapped(
                f"left out, not all of it is known: {', '.join(plane.left_out)}", " " * INDENT, INDENT + 2
            )
        )
    return [*out, "", *_plane(plane)]


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
    label = " " * INDENT
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
