"""A drink as written and as it would be, side by side: text for a terminal, data for JSON."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from menugen.bar import Cost
from menugen.cli.drink_report import own_words
from menugen.drink_facts import (
    NOTHING_DECLARED,
    Way,
    beside_others,
    contains_words,
    cost_data,
    money,
    to_cents,
    way_data,
    word_lists,
)
from menugen.facts import Aimed, DrinkFacts, Reached, Serve, Setting, one_serve, taste_of
from menugen.measures import OunceKind, show_ml, show_ounces
from menugen.records import Line
from menugen.report import WIDTH, Block, Column, Report, Row, Rows, Section, Table

_COLUMN = 14
_NAME = WIDTH - 3 * _COLUMN


@dataclass(frozen=True, slots=True)
class _Row:
    """A figure before and after; None where the drink has none."""

    label: str
    unit: str
    decimals: int
    before: float | None
    after: float | None


def _figures(serve: Serve, setting: Setting) -> list[tuple[str, str, int, float | None]]:
    """Return label, unit, decimals and value of every figure, in the order they are printed."""
    taste, made = taste_of(serve, setting.region.energy_factors), serve.made
    sour = taste.sweet_to_sour
    unit = setting.region.drink_unit
    of_all = ", in all" if serve.serves > 1 else ""
    one = one_serve(serve, taste)
    in_one = [
        (f"{unit.short[0].upper() + unit.short[1:]}, one serve", "", 2, unit.count(one.ethanol_ml)),
        ("Energy, one serve", "kcal", 0, one.energy_kcal.figure.value),
    ]
    return [
        ("Strength", "% vol", 1, taste.strength.figure.value),
        ("Served", "ml", 0, made.volume_ml.value),
        (unit.short[0].upper() + unit.short[1:] + of_all, "", 2, unit.count(made.ethanol_ml)),
        ("Sugar", "g/l", 0, taste.sugar_g_per_l.figure.value),
        ("Acid", "g/l", 1, taste.acid_g_per_l.figure.value),
        ("Sweet to sour", "", 1, sour.figure.value if sour is not None else None),
        (f"Energy{of_all}", "kJ", 0, taste.energy_kj.figure.value),
        (f"Energy{of_all}", "kcal", 0, taste.energy_kcal.figure.value),
        (f"Fat{of_all}", "g", 1, taste.fat_g.figure.value),
        *(in_one if serve.serves > 1 else ()),
    ]


def _rows(before: DrinkFacts, after: DrinkFacts, setting: Setting) -> list[_Row]:
    pairs = zip(_figures(before.serve, setting), _figures(after.serve, setting), strict=True)
    rows = [_Row(label, unit, decimals, old, new) for (label, unit, decimals, old), (*_, new) in pairs]
    glasses = []
    for facts in (before, after):
        fit, vessel = facts.serve.fit, facts.vessel
        known = fit is not None and vessel is not None
        glasses.append(vessel.brim_ml - fit.surface_ml - fit.foam_ml if known and fit and vessel else None)
    rows.append(_Row("Free under the brim", "ml", 0, *glasses))
    return [line for line in rows if line.before or line.after]


_Cells = tuple[str, str, str, str]


def _table(rows: Iterable[_Cells], *, strong: frozenset[int] = frozenset()) -> Table:
    figures = (Column(right=True, least=_COLUMN, gap=0),) * 3
    return Table((Column(most=_NAME, cut=True, gap=0), *figures), tuple(rows), strong=strong)


def _number(value: float | None, decimals: int) -> str:
    """Return a figure as printed, without a minus before a nought."""
    if value is None:
        return "-"
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def _compared(line: _Row) -> _Cells:
    name = f"{line.label}, {line.unit}" if line.unit else line.label
    before, after = _number(line.before, line.decimals), _number(line.after, line.decimals)
    change = ""
    if line.before is not None and line.after is not None and before != after:
        # The difference of what is printed, so that a reader who subtracts gets the same.
        change = f"{float(after) - float(before):+.{line.decimals}f}"
    return name, before, after, change


def _amount(facts: DrinkFacts, line: Line, ounce: OunceKind) -> str:
    item = next(item for item in facts.serve.lines if item.line == line)
    words = own_words(line)
    if words and len(words) < _COLUMN:
        return words
    if line.measure.unit == "oz":
        return show_ounces(item.volume_ml, ounce)
    if line.measure.volume_ml is not None or line.measure.unit == "top":
        return show_ml(item.volume_ml)
    return f"{item.mass_g:g} g" if line.measure.mass_g is not None else line.measure.text or "one"


def _lines(before: DrinkFacts, after: DrinkFacts, ounce: OunceKind) -> list[_Cells]:
    """Return the lines that differ: what was poured, and what would be."""
    old, new = list(before.spec.lines), list(after.spec.lines)
    kept = [line for line in old if line in new]
    gone, come = [line for line in old if line not in kept], [line for line in new if line not in kept]
    told: list[_Cells] = []
    for was in list(gone):
        now = next((line for line in come if line.name == was.name and line.role is was.role), None)
        if now is not None:
            told.append((f"  {was.name}", _amount(before, was, ounce), _amount(after, now, ounce), ""))
            gone.remove(was)
            come.remove(now)
    told += [(f"  {was.name}", _amount(before, was, ounce), "-", "") for was in gone]
    told += [(f"  {now.name}", "-", _amount(after, now, ounce), "") for now in come]
    # What is topped up follows from the rest of the drink.
    for line in kept:
        was_ml, now_ml = (_amount(facts, line, ounce) for facts in (before, after))
        if line.measure.unit == "top" and was_ml != now_ml:
            told.append((f"  {line.name}", was_ml, now_ml, ""))
    return told


@dataclass(frozen=True, slots=True)
class Shift:
    """What a change brings in and takes out.

    Attributes:
        what: "Contains", "May contain", "Distilled" (from what), "Also named" or "Cautions".
        gained: New with the change, as far as labels say.
        lost: No longer there; None where a label that nobody has read may bring it back.
        after: What the changed drink has.
    """

    what: str
    gained: tuple[str, ...]
    lost: tuple[str, ...] | None
    after: tuple[str, ...]


def shifts(before: Serve, after: Serve) -> Iterator[Shift]:
    """Yield which allergens, traces and cautions come in and go out."""
    for one in word_lists():
        old, new = one.words(before), one.words(after)
        unknown = one.by_label and bool(after.unread)
        gained = tuple(word for word in new if word not in old)
        lost = None if unknown else tuple(word for word in old if word not in new)
        yield Shift(one.name, gained, lost, tuple(new))


def _shift_rows(shift: Shift, after: Serve) -> Iterator[Row]:
    """Yield what the drink would hold, and below it what is new and what is gone, in words that stand out."""
    is_unknown = shift.what == "Contains" and bool(after.unread)
    if not (shift.after or shift.gained or shift.lost or is_unknown):
        return
    held = contains_words(after) if shift.what == "Contains" else ", ".join(shift.after) or NOTHING_DECLARED
    yield Row(shift.what, held)
    if shift.gained:
        yield Row("!! GAINED", ", ".join(shift.gained).upper(), loud=True)
    if shift.lost:
        yield Row("!! LOST", ", ".join(shift.lost).upper(), loud=True)


def _steps(aimed: Aimed) -> str:
    return " and ".join(dict.fromkeys(aimed.steps))


def _aim_row(item: Reached, aimed: Aimed) -> Row:
    unit = f" {item.unit}" if item.unit else ""
    target, value = f"{item.target:.{item.decimals}f}", f"{item.value:.{item.decimals}f}"
    if item.is_there:
        return Row("Aim", f"{item.figure} {target}{unit}: comes to {value}{unit}")
    way = "above" if item.miss > 0 else "below"
    end = f"; {' and '.join(aimed.at_the_end)} at the end of what is tried" if aimed.at_the_end else ""
    text = (
        f"{item.figure} {target}{unit}: NOT REACHED in steps of {_steps(aimed)}; it stays "
        f"{abs(item.miss):.{item.decimals}f}{unit} {way}, at {value}{unit}{end}"
    )
    return Row("Aim", text)


def change_report(
    before: Way, after: Way, setting: Setting, aimed: Aimed | None, *, ounce: OunceKind
) -> Report:
    """Return a drink as written beside what it would be."""
    head = (before.facts.spec.name, "as written", "as changed", "change")
    lines = _lines(before.facts, after.facts, ounce)
    measures: list[Block] = [_table((head, *lines), strong=frozenset({0}))]
    if not lines:
        measures.append(Rows((Row("", "no line changes"),)))
    rows = [_compared(line) for line in _rows(before.facts, after.facts, setting)]
    figures: list[Block] = [_table((*rows, _cost_row(before.cost, after.cost, after.currency)))]
    if missing := dict.fromkeys((*before.cost.unknown, *after.cost.unknown)):
        figures.append(Rows((Row("", f"cost without {', '.join(missing)}"),)))
    old, new = before.says.strength, after.says.strength
    said = [Row("Menu says", new if old == new else f"{new}; before: {old}")]
    if after.family is not None and after.family.others:
        said.append(Row("Beside others", beside_others(after.family)))
    for shift in shifts(before.serve, after.serve):
        said += _shift_rows(shift, after.serve)
    sections = [Section(blocks=tuple(blocks)) for blocks in (measures, figures, [Rows(tuple(said))])]
    if aimed is not None:
        chosen = ", chosen because it moves the figure most; --by names another" if aimed.chosen else ""
        free = Row("Free to move", f"{' and '.join(aimed.by)} in steps of {_steps(aimed)}{chosen}")
        aims = (_aim_row(item, aimed) for item in aimed.reached)
        sections.append(Section(blocks=(Rows((free, *aims)),)))
    return Report(sections=tuple(sections))


def _cost_row(before: Cost, after: Cost, currency: str) -> _Cells:
    """Return the cost row; its change is the difference of what is printed."""
    old, new = to_cents(before.known), to_cents(after.known)
    change = new - old
    told = f"{'+' if change > 0 else '-'}{money(abs(change), currency)}" if change else ""
    return "Cost without tax", money(old, currency), money(new, currency), told


def change_data(before: Way, after: Way, aimed: Aimed | None) -> dict[str, Any]:
    """Return the same as plain data."""
    sides = {
        name: {**way_data(way), "cost": cost_data(way.cost, way.currency)}
        for name, way in (("as_written", before), ("as_changed", after))
    }
    moved = {
        shift.what.lower().replace(" ", "_"): {
            "gained": list(shift.gained),
            "lost": None if shift.lost is None else list(shift.lost),
        }
        for shift in shifts(before.serve, after.serve)
    }
    told: dict[str, Any] = {"drink": before.facts.spec.slug, **sides, "changes": moved}
    if aimed is not None:
        told["moved"] = {
            "by": list(aimed.by),
            "steps": list(aimed.steps),
            "aims": [_aim_data(item) for item in aimed.reached],
        }
    return told


def _aim_data(item: Reached) -> dict[str, Any]:
    return {
        "figure": item.figure,
        "unit": item.unit,
        "target": round(item.target, 4),
        "value": round(item.value, 4),
        "reached": item.is_there,
        "off_by": round(item.miss, 4),
    }
