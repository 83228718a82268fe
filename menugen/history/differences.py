"""What differs between two ways of making a drink, line by line: the causes of every fact that moves."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from menugen.facts import BottleLine
from menugen.history.stock_moves import (
    figure_moves,
    label_moves,
    label_was_read_again,
    price_moves,
    substances,
)
from menugen.records import Line, Measure, Role

_SAME = 1e-9
"""Two worked-out amounts closer than this are one amount."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One line that is not what it was.

    Attributes:
        old: The line before; None where it was not there.
        new: The line now; None where it is gone.
    """

    old: BottleLine | None
    new: BottleLine | None


def name_of(text: str) -> str:
    """Return the form names are compared in."""
    return " ".join(text.casefold().split())


def amount_of(measure: Measure) -> tuple[object, ...]:
    """Return what a measure asks for, however it is written: 1 1/2 oz and 45 ml may be one amount."""
    if measure.unit == "top":
        return ("top",)
    return (measure.volume_ml and round(measure.volume_ml, 6), measure.mass_g, measure.count)


def paired(old: Sequence[Line], new: Sequence[Line]) -> list[tuple[int | None, int | None]]:
    """Return which line became which, as positions; None stands for no line.

    A line is the same where its name and role are, else where its name is. What is left is one thing in the place of
    another where role and measure are the same; all else came or went.
    """
    left, free = list(range(len(old))), list(range(len(new)))
    found: dict[int, int] = {}
    likeness: tuple[Callable[[Line], object], ...] = (
        lambda line: (name_of(line.name), line.role, amount_of(line.measure)),
        lambda line: (name_of(line.name), line.role),
        lambda line: name_of(line.name),
        lambda line: (line.role, amount_of(line.measure)),
    )
    for alike in likeness:
        for position in list(left):
            match = next((one for one in free if alike(new[one]) == alike(old[position])), None)
            if match is not None:
                found[match] = position
                left.remove(position)
                free.remove(match)
    return [(found.get(position), position) for position in range(len(new))] + [
        (position, None) for position in left
    ]


def differences(old: Sequence[BottleLine], new: Sequence[BottleLine]) -> tuple[Difference, ...]:
    """Return every line that is not what it was: poured, measured or labelled differently."""
    pairs = paired([item.line for item in old], [item.line for item in new])
    told = []
    for before, after in pairs:
        one = old[before] if before is not None else None
        other = new[after] if after is not None else None
        if one is None or other is None or not _same(one, other):
            told.append(Difference(one, other))
    return tuple(told)


def _same(old: BottleLine, new: BottleLine) -> bool:
    return (
        old.stock == new.stock
        and old.line.role is new.line.role
        and name_of(old.line.name) == name_of(new.line.name)
        and amount_of(old.line.measure) == amount_of(new.line.measure)
    )


def line_words(line: Line) -> str:
    """Return a line as a bartender says it: "50 ml gin", "top with soda water"."""
    measure = "top with" if line.measure.unit == "top" else line.measure.text
    role = "" if line.role in (Role.POUR, Role.TOP) else f" ({line.role.value})"
    return f"{measure} {line.name}".strip() + role


def measure_words(measure: Measure, beside: Measure) -> str:
    """Return a measure; with what it comes to where the other is written in the same words."""
    if measure.unit == "top":
        return "top"
    text = measure.text or "one"
    if measure.text == beside.text and measure.volume_ml is not None:
        return f"{text} ({measure.volume_ml:.4g} ml)"
    return text


def written_move(old: Line | None, new: Line | None) -> tuple[str, str]:
    """Return a line before and now, in as few words as say the difference; two empty texts where there is none."""
    if old is None or new is None:
        return line_words(old) if old else "", line_words(new) if new else ""
    if name_of(old.name) == name_of(new.name) and old.role is new.role:
        if amount_of(old.measure) == amount_of(new.measure):
            return "", ""
        before, after = measure_words(old.measure, new.measure), measure_words(new.measure, old.measure)
        return f"{new.name} {before}", after
    return line_words(old), line_words(new)


def written_words(old: Line | None, new: Line | None) -> str:
    """Return the same as one phrase: "gin 50 ml -> 60 ml", "+ 10 ml orgeat"."""
    before, after = written_move(old, new)
    if before and after:
        return f"{before} -> {after}"
    return f"+ {after}" if after else f"- {before}" if before else ""


def _lines(difference: Difference) -> tuple[Line | None, Line | None]:
    return (
        difference.old.line if difference.old else None,
        difference.new.line if difference.new else None,
    )


def bottle_move(difference: Difference) -> tuple[str, str, str] | None:
    """Return (name in the spec, bottle before, bottle now) where one line is filled by another bottle."""
    old, new = difference.old, difference.new
    if old is None or new is None or name_of(old.stock.name) == name_of(new.stock.name):
        return None
    name = new.line.name if name_of(old.line.name) == name_of(new.line.name) else ""
    return name, old.stock.name, new.stock.name


def _bottle_words(difference: Difference) -> str:
    """Return "harbour gin -> shore gin" where one line is filled by another bottle."""
    moved = bottle_move(difference)
    return f"{moved[1]} -> {moved[2]}" if moved else ""


def all_causes(found: Sequence[Difference]) -> tuple[str, ...]:
    """Return every difference in words, for a fact that all of them bear on."""
    return tuple(
        dict.fromkeys(
            phrase
            for one in found
            for phrase in (
                *_causes_of_line(one),
                *_stock_words(one, figure_moves),
                *_stock_words(one, label_moves),
            )
        )
    )


def _causes_of_line(difference: Difference) -> Iterator[str]:
    if words := _bottle_words(difference):
        yield words
        old, new = _lines(difference)
        if old and new and amount_of(old.measure) != amount_of(new.measure):
            yield written_words(old, new)
    elif words := written_words(*_lines(difference)):
        yield words


def _stock_words(
    difference: Difference, moves: Callable[..., tuple[str, ...]], only: Sequence[str] = ()
) -> Iterator[str]:
    old, new = difference.old, difference.new
    if old is None or new is None or _bottle_words(difference):
        return
    for phrase in moves(old.stock, new.stock):
        if not only or any(phrase.startswith(word) for word in only):
            yield f"{new.stock.name}: {phrase}"


def figure_causes(
    found: Sequence[Difference],
    share: Callable[[BottleLine], tuple[float | None, ...]],
    moves: Callable[..., tuple[str, ...]] = figure_moves,
) -> tuple[str, ...]:
    """Return why a figure moved.

    Args:
        found: Everything that differs.
        share: What a line brings to the figure; a difference that brings the same as before is no cause.
        moves: The phrases of a stock line that bear on the figure.
    """
    told: dict[str, None] = {}
    for one in found:
        if one.old is not None and one.new is not None:
            if _alike(share(one.old), share(one.new)):
                continue
        elif not any(_brings(item, share) for item in (one.old, one.new)):
            continue
        for phrase in (*_causes_of_line(one), *_stock_words(one, moves)):
            told[phrase] = None
    return tuple(told)


def _brings(item: BottleLine | None, share: Callable[[BottleLine], tuple[float | None, ...]]) -> bool:
    """Return whether a line that came or went bears on a figure; what fills up a glass always does."""
    return item is not None and (item.line.measure.unit == "top" or any(part != 0.0 for part in share(item)))


def _alike(one: tuple[float | None, ...], other: tuple[float | None, ...]) -> bool:
    return all(
        a == b or (a is not None and b is not None and abs(a - b) <= _SAME)
        for a, b in zip(one, other, strict=True)
    )


def allergen_causes(found: Sequence[Difference], substance: str) -> tuple[str, ...]:
    """Return why a drink is declared with a substance differently; empty where no line says so."""
    told: dict[str, None] = {}
    for one in found:
        if _carries(one.old, substance) == _carries(one.new, substance):
            continue
        label = tuple(_label_words(one))
        for phrase in label or _causes_of_line(one):
            told[phrase] = None
    return tuple(told)


def _label_words(difference: Difference) -> Iterator[str]:
    """Yield the shortest true reason a label gives: that it was read again, else what it says differently."""
    old, new = difference.old, difference.new
    if old is None or new is None or _bottle_words(difference):
        return
    if label_was_read_again(old.stock, new.stock):
        yield f"{new.stock.name}: label read again {new.stock.checked}"
        return
    for phrase in label_moves(old.stock, new.stock):
        yield f"{new.stock.name}: {phrase}"


def _carries(item: BottleLine | None, substance: str) -> tuple[bool, ...]:
    if item is None:
        return (False, False, False)
    stock = item.stock
    sulphites = substance == "sulphites" and bool(stock.sulphites_mg_per_l)
    return (
        substance in substances(stock.contains or ()) or sulphites,
        substance in substances(stock.may_contain),
        substance in substances(stock.distilled_from),
    )


def cost_causes(
    found: Sequence[Difference], amount: Callable[[BottleLine], tuple[float | None, ...]]
) -> tuple[str, ...]:
    """Return why a cost moved."""

    def moves(old: object, new: object) -> tuple[str, ...]:
        return (*price_moves(old, new), *figure_moves(old, new))  # type: ignore[arg-type]  # both are stock lines

    return figure_causes(found, amount, moves)
