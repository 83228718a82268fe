"""A drink as written and as it would be, side by side: text for a terminal, data for JSON."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from menugen.bar import Cost
from menugen.cli.drink_json import cost_data, serve_data
from menugen.cli.drink_text import beside_others, money, own_words, row
from menugen.cli.label_text import NOTHING_DECLARED, also_named, contains_words, distilled_words, words_of
from menugen.cli.working_text import WIDTH
from menugen.facts import DrinkFacts, Serve, Setting
from menugen.facts.aims import Aimed, Reached
from menugen.facts.family import FamilyPlane
from menugen.facts.shared import one_serve
from menugen.facts.taste import taste_of
from menugen.measures import OunceKind, show_ml, show_ounces
from menugen.menu.strength import strength_words
from menugen.records import Line

_COLUMN = 14
_NAME = WIDTH - 3 * _COLUMN


@dataclass(frozen=True, slots=True)
class Side:
    """A drink and what it costs."""

    facts: DrinkFacts
    cost: Cost


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


def _cells(name: str, *cells: str) -> str:
    return (f"{name:<{_NAME}.{_NAME}}" + "".join(f"{cell:>{_COLUMN}}" for cell in cells)).rstrip()


def _number(value: float | None, decimals: int) -> str:
    """Return a figure as printed, without a minus before a nought."""
    if value is None:
        return "-"
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def _drawn(line: _Row) -> str:
    name = f"{line.label}, {line.unit}" if line.unit else line.label
    before, after = _number(line.before, line.decimals), _number(line.after, line.decimals)
    change = ""
    if line.before is not None and line.after is not None and before != after:
        # The difference of what is printed, so that a reader who subtracts gets the same.
        change = f"{float(after) - float(before):+.{line.decimals}f}"
    return _cells(name, before, after, change)


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


def _lines(before: DrinkFacts, after: DrinkFacts, ounce: OunceKind) -> list[str]:
    """Return the lines that differ: what was poured, and what would be."""
    old, new = list(before.spec.lines), list(after.spec.lines)
    kept = [line for line in old if line in new]
    gone, come = [line for line in old if line not in kept], [line for line in new if line not in kept]
    told = []
    for was in list(gone):
        now = next((line for line in come if line.name == was.name and line.role is was.role), None)
        if now is not None:
            told.append(_cells(f"  {was.name}", _amount(before, was, ounce), _amount(after, now, ounce)))
            gone.remove(was)
            come.remove(now)
    told += [_cells(f"  {was.name}", _amount(before, was, ounce), "-") for was in gone]
    told += [_cells(f"  {now.name}", "-", _amount(after, now, ounce)) for now in come]
    # What is topped up follows from the rest of the drink.
    for line in kept:
        amounts = [_amount(facts, line, ounce) for facts in (before, after)]
        if line.measure.unit == "top" and len(set(amounts)) > 1:
            told.append(_cells(f"  {line.name}", *amounts))
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


def shifts(before: Serve, after: Serve) -> tuple[Shift, ...]:
    """Return which allergens, traces and cautions come in and go out."""
    pairs = (
        ("Contains", words_of(before.declaration.contains), words_of(after.declaration.contains)),
        ("May contain", words_of(before.declaration.may_contain), words_of(after.declaration.may_contain)),
        ("Distilled", distilled_words(before.declaration), distilled_words(after.declaration)),
        ("Also named", also_named(before.declaration), also_named(after.declaration)),
        ("Cautions", list(before.cautions), list(after.cautions)),
    )
    return tuple(
        Shift(
            what,
            tuple(word for word in new if word not in old),
            None if after.unread and what != "Cautions" else tuple(word for word in old if word not in new),
            tuple(new),
        )
        for what, old, new in pairs
    )


def _bold(text: str, colour: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if colour else text


def _shift_rows(shift: Shift, after: Serve, colour: bool) -> list[str]:
    """Return what the drink would hold, and below it what is new and what is gone, in words that stand out."""
    is_unknown = shift.what == "Contains" and bool(after.unread)
    if not (shift.after or shift.gained or shift.lost or is_unknown):
        return []
    held = contains_words(after) if shift.what == "Contains" else ", ".join(shift.after) or NOTHING_DECLARED
    told = [row(shift.what, held)]
    if shift.gained:
        told.append(_bold(row(">>> GAINED", ", ".join(shift.gained).upper()), colour))
    if shift.lost:
        told.append(_bold(row("<<< LOST", ", ".join(shift.lost)), colour))
    return told


def _steps(aimed: Aimed) -> str:
    return " and ".join(dict.fromkeys(aimed.steps))


def _aim_row(item: Reached, aimed: Aimed) -> str:
    unit = f" {item.unit}" if item.unit else ""
    target, value = f"{item.target:.{item.decimals}f}", f"{item.value:.{item.decimals}f}"
    if item.is_there:
        return row("Aim", f"{item.figure} {target}{unit}: comes to {value}{unit}")
    way = "above" if item.miss > 0 else "below"
    end = f"; {' and '.join(aimed.at_the_end)} at the end of what is tried" if aimed.at_the_end else ""
    text = (
        f"{item.figure} {target}{unit}: NOT REACHED in steps of {_steps(aimed)}; it stays "
        f"{abs(item.miss):.{item.decimals}f}{unit} {way}, at {value}{unit}{end}"
    )
    return row("Aim", text)


def change_text(
    before: Side,
    after: Side,
    setting: Setting,
    currency: str,
    aimed: Aimed | None,
    plane: FamilyPlane | None,
    *,
    ounce: OunceKind,
    colour: bool,
) -> str:
    """Return a drink as written and as it would be, in 80 columns; `plane` is that of the changed drink."""
    out = [_bold(_cells(before.facts.spec.name, "as written", "as changed", "change"), colour)]
    lines = _lines(before.facts, after.facts, ounce)
    out += lines or [row("", "no line changes")]
    out.append("")
    out += [_drawn(line) for line in _rows(before.facts, after.facts, setting)]
    out.append(_cost_row(before.cost, after.cost, currency))
    missing = tuple(dict.fromkeys((*before.cost.unknown, *after.cost.unknown)))
    if missing:
        out.append(row("", f"cost without {', '.join(missing)}"))
    out.append("")
    old, new = (
        strength_words(side.facts.serve).replace("\N{NO-BREAK SPACE}", " ") for side in (before, after)
    )
    out.append(row("Menu says", new if old == new else f"{new}; before: {old}"))
    if plane is not None and plane.others:
        out.append(row("Beside others", beside_others(plane)))
    for shift in shifts(before.facts.serve, after.facts.serve):
        out += _shift_rows(shift, after.facts.serve, colour)
    if aimed is not None:
        out.append("")
        chosen = ", chosen because it moves the figure most; --by names another" if aimed.chosen else ""
        out.append(row("Free to move", f"{' and '.join(aimed.by)} in steps of {_steps(aimed)}{chosen}"))
        out += [_aim_row(item, aimed) for item in aimed.reached]
    return "\n".join(out)


def _cost_row(before: Cost, after: Cost, currency: str) -> str:
    """Return the cost row; its change is the difference of what is printed."""
    old, new = (cost.known.quantize(Decimal("0.01"), ROUND_HALF_UP) for cost in (before, after))
    change = new - old
    told = f"{'+' if change > 0 else '-'}{money(abs(change), currency)}" if change else ""
    return _cells("Cost without tax", money(old, currency), money(new, currency), told)


def change_data(
    before: Side, after: Side, setting: Setting, currency: str, aimed: Aimed | None
) -> dict[str, Any]:
    """Return the same as plain data."""
    sides = {
        name: {
            **serve_data(side.facts.serve, setting.region),
            "cost": cost_data(side.cost, currency),
        }
        for name, side in (("as_written", before), ("as_changed", after))
    }
    moved = {
        shift.what.lower().replace(" ", "_"): {
            "gained": list(shift.gained),
            "lost": None if shift.lost is None else list(shift.lost),
        }
        for shift in shifts(before.facts.serve, after.facts.serve)
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
