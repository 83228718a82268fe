"""What differs between two ways of making a drink, line by line: the causes of every fact that moves."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from menugen import regions
from menugen.comparing.changes import Cause, bottle_thing, level
from menugen.comparing.declared import CONTAINS, DISTILLED_FROM, MAY_CONTAIN
from menugen.comparing.stock_moves import stock_moves, substances
from menugen.facts import BottleLine, stock_cautions
from menugen.names import name_key
from menugen.records import Line, Measure, Role, StockLine

SULPHITES = "sulphites"

BOTH_WAYS = (CONTAINS, CONTAINS)
"""Said of a substance whose amount moved, whichever way."""

_CONTENTS = ("strength", "sugar", "acid", "fat")

PHYSICAL = frozenset({"amount", "density", "kept", "kind", *_CONTENTS})
"""What can move a figure that it is no part of: a stronger gin melts more ice, which thins the lemon juice too."""


class Names(NamedTuple):
    """What tells the thing that a name in a spec stands for, in either house; two names of one thing have one answer.

    Attributes:
        old: Of a name in the older house.
        new: Of a name in the newer house.
    """

    old: Callable[[str], str]
    new: Callable[[str], str]

    def same(self, before: str, after: str) -> bool:
        """Return whether two names ask for one thing: spelled alike, whatever fills them, or filled by one thing."""
        return name_key(before) == name_key(after) or self.old(before) == self.new(after)


SPELLED = Names(name_key, name_key)
"""Every name stands for itself."""


@dataclass(frozen=True, slots=True)
class LineDifference:
    """One thing that differs, and what it bears on.

    Attributes:
        cause: It, in words.
        about: What it changes of a line: "amount", "strength", "sugar", "acid", "fat", "density", "kind", "cost",
            "alcohol".
        substances: How each substance it bears on was said to be in it, and how it is now, by id.
        cautions: The same for cautions.
    """

    cause: Cause
    about: frozenset[str]
    substances: Mapping[str, tuple[str, str]]
    cautions: frozenset[str]


def amount_of(measure: Measure) -> tuple[object, ...]:
    """Return what a measure asks for, however it is written: 1 1/2 oz and 45 ml may be one amount."""
    if measure.unit == "top":
        return ("top",)
    return (measure.volume_ml and round(measure.volume_ml, 6), measure.mass_g, measure.count)


def paired(
    old: Sequence[Line], new: Sequence[Line], names: Names = SPELLED
) -> list[tuple[int | None, int | None]]:
    """Return which line became which, as positions; None stands for no line.

    A line is the same where the thing and its role are, else where the thing is. What is left is one thing in the place
    of another where role and measure are the same; all else came or went.
    """
    if len(old) == len(new) and all(before is after for before, after in zip(old, new, strict=True)):
        return [(position, position) for position in range(len(new))]
    one = [(name_key(line.name), line.role, amount_of(line.measure)) for line in old]
    other = [(name_key(line.name), line.role, amount_of(line.measure)) for line in new]
    if one == other:
        return [(position, position) for position in range(len(new))]
    things = [names.old(line.name) for line in old], [names.new(line.name) for line in new]
    left, free = list(range(len(old))), list(range(len(new)))
    found: dict[int, int] = {}
    alike: tuple[Callable[[int, int], bool], ...] = (
        lambda before, after: one[before] == other[after],
        lambda before, after: things[0][before] == things[1][after] and one[before][1:] == other[after][1:],
        lambda before, after: one[before][:2] == other[after][:2],
        lambda before, after: one[before][0] == other[after][0] or things[0][before] == things[1][after],
        lambda before, after: one[before][1:] == other[after][1:],
    )
    for is_one in alike:
        for position in list(left):
            match = next((now for now in free if is_one(position, now)), None)
            if match is not None:
                found[match] = position
                left.remove(position)
                free.remove(match)
    return [(found.get(position), position) for position in range(len(new))] + [
        (position, None) for position in left
    ]


def line_words(line: Line) -> str:
    """Return a line as a bartender says it: "50 ml gin", "top with soda water"."""
    measure = "top with" if line.measure.unit == "top" else line.measure.text
    role = "" if line.role in (Role.POUR, Role.TOP) else f" ({line.role.value})"
    return f"{measure} {line.name}".strip() + role


def measure_words(measure: Measure, beside: Measure) -> str:
    """Return a measure; with what it comes to where the other is written in another unit, or in the same words."""
    if measure.unit == "top":
        return "top"
    text = measure.text or "one"
    unlike = measure.unit not in (beside.unit, "ml") and beside.volume_ml is not None
    if (measure.text == beside.text or unlike) and measure.volume_ml is not None:
        return f"{text} ({measure.volume_ml:.4g} ml)"
    return text


def written_move(old: Line | None, new: Line | None, names: Names = SPELLED) -> tuple[str, str]:
    """Return a line before and now, in as few words as say the difference; two empty texts where there is none.

    Another name for the same thing is no difference: what is poured is the same.
    """
    if old is new:
        return "", ""
    if old is None or new is None:
        return line_words(old) if old else "", line_words(new) if new else ""
    if names.same(old.name, new.name) and old.role is new.role:
        if amount_of(old.measure) == amount_of(new.measure):
            return "", ""
        before, after = measure_words(old.measure, new.measure), measure_words(new.measure, old.measure)
        return f"{new.name} {before}", after
    words = line_words(old), line_words(new)
    if words[0] == words[1]:
        return f"{words[0]} as {old.role.value}", f"as {new.role.value}"
    return words


def as_phrase(before: str, after: str) -> str:
    """Return a written move as one phrase: "gin 50 ml -> 60 ml", "+ 10 ml orgeat", "- mint leaf"."""
    if before and after:
        return f"{before} -> {after}"
    return f"+ {after}" if after else f"- {before}" if before else ""


def bottle_move(old: BottleLine, new: BottleLine, names: Names) -> tuple[str, str, str] | None:
    """Return (name in the spec, bottle before, bottle now) where one thing is filled by another bottle."""
    if old.stock is new.stock or not names.same(old.line.name, new.line.name):
        return None
    if _is_one_bottle(old.stock, new.stock, names):
        return None
    return new.line.name, old.stock.name, new.stock.name


def _is_one_bottle(old: StockLine, new: StockLine, names: Names) -> bool:
    """Return whether two stock lines are one, perhaps called otherwise; an alias that moved is no bottle's name."""
    return names.old(old.name) == names.new(new.name)


def bottle_moves(
    old: Sequence[BottleLine], new: Sequence[BottleLine], names: Names
) -> Iterator[tuple[str, str, str]]:
    """Yield every line that another bottle fills; see `bottle_move`."""
    for one, other in _pairs(old, new, names):
        if one is not None and other is not None and (moved := bottle_move(one, other, names)):
            yield moved


def differences(
    old: Sequence[BottleLine], new: Sequence[BottleLine], names: Names = SPELLED
) -> tuple[LineDifference, ...]:
    """Return everything that differs between two ways of making a drink; nothing for what is only written otherwise."""
    return tuple(
        replace(part, about=part.about | {"unread"})
        if _is_unread(one, other) and "named" in part.about
        else part
        for one, other in _pairs(old, new, names)
        for part in _parts(one, other, names)
    )


def _is_unread(old: BottleLine | None, new: BottleLine | None) -> bool:
    """Return whether a line has a label now that nobody has read, and had none."""
    was_read = old is None or old.stock.contains is not None
    return was_read and new is not None and new.stock.contains is None


def _pairs(
    old: Sequence[BottleLine], new: Sequence[BottleLine], names: Names
) -> Iterator[tuple[BottleLine | None, BottleLine | None]]:
    for before, after in paired([item.line for item in old], [item.line for item in new], names):
        yield (old[before] if before is not None else None, new[after] if after is not None else None)


def _parts(old: BottleLine | None, new: BottleLine | None, names: Names) -> Iterator[LineDifference]:
    if old is None or new is None:
        if (item := new or old) is not None:
            words = line_words(item.line)
            cause = Cause(item.line.name, f"+ {words}" if old is None else f"- {words}")
            none: dict[str, str] = {}
            said = _said(item.stock)
            moved_substances = _moved(none, said) if old is None else _moved(said, none)
            yield LineDifference(cause, _all_of(item), moved_substances, _cautions(item))
        return
    if old.stock is new.stock and old.line is new.line:
        return
    written = written_move(old.line, new.line, names)
    moved = bottle_move(old, new, names)
    same_thing = names.same(old.line.name, new.line.name)
    if any(written):
        text = as_phrase(*written)
        about = _of_measure(old, new)
        if same_thing:
            yield LineDifference(Cause(new.line.name, text), about, _sulphites_of(old, new), frozenset())
        else:
            # One thing stands in the place of another: measure and bottle are one difference.
            yield LineDifference(
                Cause(new.line.name, text),
                about | _of_bottle(old, new) | _of_price(old.stock, new.stock),
                _moved(_said(old.stock), _said(new.stock)) | _figure_of_sulphites(old.stock, new.stock),
                _cautions(old) ^ _cautions(new),
            )
            return
    if moved:
        yield LineDifference(
            Cause(new.line.name, bottle_thing(moved[1], moved[2]), bottle_thing(moved[1], moved[2])),
            _of_bottle(old, new) | _of_price(old.stock, new.stock),
            _moved(_said(old.stock), _said(new.stock)) | _figure_of_sulphites(old.stock, new.stock),
            _cautions(old) ^ _cautions(new),
        )
    elif _is_one_bottle(old.stock, new.stock, names):
        yield from _stock_parts(old.stock, new.stock)


@lru_cache(maxsize=4096)
def _stock_parts(old: StockLine, new: StockLine) -> tuple[LineDifference, ...]:
    """Return a part for each phrase of a stock line: what the label says of a substance, a figure, the price."""
    return tuple(_parts_of_stock(old, new))


def _parts_of_stock(old: StockLine, new: StockLine) -> Iterator[LineDifference]:
    levels = _moved(_said(old), _said(new)) | _figure_of_sulphites(old, new)
    about = {
        "price": {"cost"},
        "strength": {"strength", "alcohol"},
        "amount": {"amount", "alcohol", "cost"},
        "label": {"named"},
        "read": set(),
    }
    for phrase in stock_moves(old, new):
        is_caution = phrase.about == "label" and phrase.text.startswith("caution ")
        on_label = phrase.about == "label" and not is_caution
        yield LineDifference(
            Cause(new.name, f"{new.name}: {phrase.text}", new.name, phrase.said, phrase.says),
            frozenset(about.get(phrase.about, {phrase.about})),
            {one: levels[one] for one in phrase.substances if on_label and one in levels},
            phrase.substances if is_caution else frozenset(),
        )


def _per_measure(item: BottleLine, what: str) -> float:
    return sum(content.amount for content in item.contents if content.what == what)


def _all_of(item: BottleLine) -> frozenset[str]:
    """Return what a line bears on that came or went."""
    if item.volume_ml <= 0.0 and item.mass_g <= 0.0 and item.line.measure.unit != "top":
        return frozenset({"cost", "named"})
    with_alcohol = {"strength", "alcohol"} if _per_measure(item, "strength") else set()
    return frozenset({"amount", "cost", "named", *with_alcohol})


def _words(stock: StockLine) -> tuple[object, ...]:
    """Return the words of a label that may be shown as they stand there."""
    return stock.contains, stock.may_contain, stock.distilled_from


def _of_measure(old: BottleLine, new: BottleLine) -> frozenset[str]:
    if amount_of(old.line.measure) == amount_of(new.line.measure) and old.line.role is new.line.role:
        return frozenset()
    return _all_of(old) | _all_of(new)


def _of_bottle(old: BottleLine, new: BottleLine) -> frozenset[str]:
    """Return what another bottle bears on by what is in it."""
    told = {what for what in _CONTENTS if abs(_per_measure(old, what) - _per_measure(new, what)) > 1e-9}
    if "strength" in told:
        told.add("alcohol")
    if old.stock.density_g_per_ml != new.stock.density_g_per_ml:
        told.add("density")
    if _words(old.stock) != _words(new.stock):
        told.add("named")
    if old.line.measure.count is not None and (old.volume_ml, old.mass_g) != (new.volume_ml, new.mass_g):
        told |= {"amount", "cost"}
    return frozenset(told)


def _of_price(old: StockLine, new: StockLine) -> frozenset[str]:
    prices = [(one.price, one.bottle_ml, one.bottle_g, one.pack, one.each_ml) for one in (old, new)]
    return frozenset({"cost"}) if prices[0] != prices[1] else frozenset()


def _said(stock: StockLine) -> dict[str, str]:
    """Return what a label says of substances, as far as a law may ask for it."""
    told = dict.fromkeys(substances(stock.distilled_from), DISTILLED_FROM)
    told |= dict.fromkeys(substances(stock.may_contain), MAY_CONTAIN)
    told |= dict.fromkeys(substances((*(stock.contains or ()), *stock.fined_with)), CONTAINS)
    if stock.sulphites_mg_per_l:
        told[SULPHITES] = CONTAINS
    return told


def _moved(before: Mapping[str, str], after: Mapping[str, str]) -> dict[str, tuple[str, str]]:
    pairs = {one: (before.get(one, ""), after.get(one, "")) for one in sorted({*before, *after})}
    return {one: levels for one, levels in pairs.items() if levels[0] != levels[1]}


def _figure_of_sulphites(old: StockLine, new: StockLine) -> dict[str, tuple[str, str]]:
    """Return sulphites where two bottles state other figures: they are summed, and weighed against the law's."""
    if old.sulphites_mg_per_l == new.sulphites_mg_per_l:
        return {}
    return {SULPHITES: BOTH_WAYS}


def _sulphites_of(old: BottleLine, new: BottleLine) -> dict[str, tuple[str, str]]:
    """Return what a measure bears on: only sulphites are summed, every other substance is there or not."""
    carries = SULPHITES in _said(old.stock) or SULPHITES in _said(new.stock)
    return {SULPHITES: BOTH_WAYS} if carries else {}


def causes_about(parts: Iterable[LineDifference], about: Collection[str]) -> tuple[Cause, ...]:
    """Return the causes that bear on any of these."""
    return tuple(dict.fromkeys(part.cause for part in parts if not part.about.isdisjoint(about)))


def allergen_causes(
    parts: Iterable[LineDifference], substance: str, before: str, after: str
) -> tuple[Cause, ...]:
    """Return why a drink is declared with a substance differently; empty where no part says so.

    What brings a trace is no cause of an ingredient, nor what goes and was none.
    """
    concerned = [part for part in parts if substance in part.substances]
    grave = [part for part in concerned if _bears(part.substances[substance], before, after)]
    return tuple(dict.fromkeys(part.cause for part in grave or concerned))


def _bears(levels: tuple[str, str], before: str, after: str) -> bool:
    if levels == BOTH_WAYS:
        return True
    was, now, came_from, came_to = (level(one) for one in (*levels, before, after))
    return now >= came_to and now > was if came_to > came_from else was > came_to and was > now


def _cautions(item: BottleLine) -> frozenset[str]:
    return frozenset(stock_cautions(item.stock, item.line.name))


def caution_causes(parts: Iterable[LineDifference], caution: str) -> tuple[Cause, ...]:
    """Return why a drink has a caution or has it no longer; empty where the spec itself says so.

    One that comes with alcohol moves with the caution it belongs to, else with the alcohol.
    """
    parts = tuple(parts)
    belongs_to = regions.caution(caution).with_alcohol
    concerned = [part for part in parts if part.cautions & {caution, belongs_to}]
    if belongs_to and not concerned:
        concerned = [part for part in parts if "alcohol" in part.about]
    return tuple(dict.fromkeys(part.cause for part in concerned))
