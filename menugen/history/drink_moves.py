"""Two versions of one drink: which facts moved, and why."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from menugen import mixing
from menugen.bar import Cost, serve_cost
from menugen.facts import BottleLine, DrinkFacts, Serve
from menugen.history.changes import AllergenMove, Declared, Move
from menugen.history.differences import (
    Difference,
    all_causes,
    allergen_causes,
    amount_of,
    cost_causes,
    differences,
    figure_causes,
    line_words,
    name_of,
    paired,
    written_move,
)
from menugen.records import Spec
from menugen.regions import Region


@dataclass(frozen=True, slots=True)
class Seen:
    """A drink worked out in one setting of one house.

    Attributes:
        facts: The drink.
        region: The rules it was worked out with.
        currency: Of its cost, ISO 4217; empty where not known.
    """

    facts: DrinkFacts
    region: Region
    currency: str


@dataclass(frozen=True, slots=True)
class _Figure:
    """A worked-out figure as it is shown, and the least change worth telling: half its last digit."""

    value: float
    shown: str
    least: float


@dataclass(frozen=True, slots=True)
class _Pair:
    """One way of making a drink, then and now.

    Attributes:
        old: The drink then.
        new: The drink now.
        was: This way of making it then: as written, or with a swap.
        now: The same now.
        found: The lines that differ.
        around: What differs around the lines, in words.
        swap: Which swap it is; empty for the drink as written.
    """

    old: Seen
    new: Seen
    was: Serve
    now: Serve
    found: tuple[Difference, ...]
    around: tuple[str, ...]
    swap: str

    @property
    def everything(self) -> tuple[str, ...]:
        """Every difference in words: the cause of what no single line explains."""
        return (*all_causes(self.found), *self.around)


def written_moves(old: Spec, new: Spec) -> tuple[Move, ...]:
    """Return what a spec asks for differently, whatever bottles fill it. Notes and spelling are no facts."""
    moves = []
    if old.name != new.name:
        moves.append(Move("name", old.name, new.name))
    for before, after in paired(old.lines, new.lines):
        words = written_move(
            old.lines[before] if before is not None else None, new.lines[after] if after is not None else None
        )
        if any(words):
            moves.append(Move("measure", *words))
    for fact, was, now in (
        ("method", _method(old), _method(new)),
        ("strain", old.strain or "none", new.strain or "none"),
        ("glass", old.glass, new.glass),
        ("ice", old.ice or "none", new.ice or "none"),
        ("melt", _ratio(old.melt_ratio), _ratio(new.melt_ratio)),
    ):
        if name_of(was) != name_of(now):
            moves.append(Move(fact, was, now))
    return (*moves, *_swap_moves(old, new))


def _method(spec: Spec) -> str:
    steps = (f"{step.verb} {step.seconds:g} s" if step.seconds else step.verb for step in spec.method)
    return ", ".join(steps) or "build"


def _ratio(ratio: float | None) -> str:
    return "worked out" if ratio is None else f"{ratio:g}"


def _swaps(spec: Spec) -> dict[tuple[str, str], tuple[str, tuple[object, ...]]]:
    """Return what each swap says, by the two names that make it that swap."""
    return {
        (name_of(swap.replaces), name_of(swap.line.name)): (
            f"{line_words(swap.line)} instead of {swap.replaces}",
            amount_of(swap.line.measure),
        )
        for swap in spec.swaps
    }


def _swap_moves(old: Spec, new: Spec) -> Iterator[Move]:
    before, after = _swaps(old), _swaps(new)
    for key in dict.fromkeys((*before, *after)):
        (was, old_amount), (now, new_amount) = before.get(key, ("", ())), after.get(key, ("", ()))
        # A swap without a measure of its own follows the line it replaces: that line is told of already.
        if not was or not now or (old_amount != new_amount and was != now):
            yield Move("swap", was, now)


def seen_moves(old: Seen, new: Seen) -> tuple[tuple[AllergenMove, ...], tuple[Move, ...]]:
    """Return what a drink is declared with differently, and which worked-out facts moved; swaps after the drink.

    A swap tells only what the drink as written does not tell already.
    """
    was, now = old.facts.serve, new.facts.serve
    pair = _Pair(old, new, was, now, differences(was.lines, now.lines), tuple(_around(old, new)), "")
    allergens, moves = list(_allergens(pair)), list(_moves(pair))
    told = {(one.substance, one.before, one.after) for one in allergens}
    known_causes = {*pair.everything, *(cause for move in moves for cause in move.causes)}
    before = {_swap_key(swap.swap.replaces, swap.swap.line.name): swap.serve for swap in old.facts.swaps}
    for swap in new.facts.swaps:
        earlier = before.get(_swap_key(swap.swap.replaces, swap.swap.line.name))
        if earlier is None:
            continue
        words = f"{swap.swap.line.name} instead of {swap.swap.replaces}"
        found = differences(earlier.lines, swap.serve.lines)
        swapped = _Pair(old, new, earlier, swap.serve, found, pair.around, words)
        allergens += [
            one for one in _allergens(swapped) if (one.substance, one.before, one.after) not in told
        ]
        moves += [one for one in _moves(swapped) if not known_causes.issuperset(one.causes)]
    allergens.sort(key=lambda one: (not one.gained, -one.after, bool(one.swap)))
    return tuple(allergens), tuple(moves)


def _swap_key(replaces: str, name: str) -> tuple[str, str]:
    return name_of(replaces), name_of(name)


def _around(old: Seen, new: Seen) -> Iterator[str]:
    """Yield what differs around the lines: method, ice, glass, place."""
    one, other = old.facts.spec, new.facts.spec
    for fact, was, now in (
        ("method", _method(one), _method(other)),
        ("strain", one.strain or "none", other.strain or "none"),
        ("ice", one.ice or "none", other.ice or "none"),
        ("melt", _ratio(one.melt_ratio), _ratio(other.melt_ratio)),
        ("glass", one.glass, other.glass),
    ):
        if name_of(was) != name_of(now):
            yield f"{fact} {was} -> {now}"
    vessels = old.facts.vessel, new.facts.vessel
    if vessels[0] and vessels[1] and name_of(one.glass) == name_of(other.glass):
        for words, before, after in (
            ("holds", vessels[0].brim_ml, vessels[1].brim_ml),
            ("wash line", vessels[0].wash_line_ml, vessels[1].wash_line_ml),
        ):
            if abs(before - after) > 1e-6:
                yield f"glass {other.glass}: {words} {before:.0f} -> {after:.0f} ml"
                break
    if old.region != new.region:
        yield f"rules of {old.region.code} -> {new.region.code}"


def declared(serve: Serve) -> dict[str, tuple[Declared, str]]:
    """Return how a drink is declared with each substance, and the menu's word for it."""
    told: dict[str, tuple[Declared, str]] = {}
    for level, groups in (
        (Declared.MAY_CONTAIN, serve.declaration.may_contain),
        (Declared.CONTAINS, serve.declaration.contains),
    ):
        for group in groups:
            for substance, word in zip(group.substances, group.words, strict=True):
                told[substance] = (level, word)
    return told


def _allergens(pair: _Pair) -> Iterator[AllergenMove]:
    before, after = declared(pair.was), declared(pair.now)
    for substance in dict.fromkeys((*after, *before)):
        was, now = (side.get(substance, (Declared.NOT, "")) for side in (before, after))
        if was[0] == now[0]:
            continue
        causes = allergen_causes(pair.found, substance)
        if not causes and pair.old.region != pair.new.region:
            causes = tuple(phrase for phrase in pair.around if phrase.startswith("rules "))
        # Sulphites are summed over all lines: then everything that moves the sum is a cause.
        yield AllergenMove(substance, now[1] or was[1], was[0], now[0], pair.swap, causes or pair.everything)


def _moves(pair: _Pair) -> Iterator[Move]:
    """Yield what moved of a drink, its allergens left out, each with its causes."""
    costs = serve_cost(pair.was), serve_cost(pair.now)
    before, after = _figures(pair.was, pair.old, costs[0]), _figures(pair.now, pair.new, costs[1])
    for fact, was in before.items():
        now = after[fact]
        if was.shown != now.shown and abs(was.value - now.value) >= min(was.least, now.least):
            why = tuple(dict.fromkeys(_causes(pair, fact, costs))) or pair.everything
            yield Move(fact, was.shown, now.shown, pair.swap, why)
    for caution in dict.fromkeys((*pair.now.cautions, *pair.was.cautions)):
        told = [caution if caution in serve.cautions else "" for serve in (pair.was, pair.now)]
        if told[0] != told[1]:
            yield Move("caution", told[0], told[1], pair.swap, _caution_causes(pair.found, caution))


def _causes(pair: _Pair, fact: str, costs: tuple[Cost, Cost]) -> tuple[str, ...]:
    """Return why one figure moved: the lines that bear on it, then what differs around them."""
    topped = any(item.line.measure.unit == "top" for item in (*pair.was.lines, *pair.now.lines))
    filled = pair.around if topped else ()
    of_place = tuple(phrase for phrase in pair.around if phrase.startswith("rules "))
    of_making = tuple(phrase for phrase in pair.around if topped or not phrase.startswith("glass "))
    match fact:
        case "units":
            return (*figure_causes(pair.found, _alcohol), *(filled or of_place))
        case "cost":
            amounts = _cost_amounts(pair.was, costs[0]) | _cost_amounts(pair.now, costs[1])
            return (*cost_causes(pair.found, lambda item: (amounts.get(id(item)),)), *filled)
        case "volume":
            return (*figure_causes(pair.found, _volume), *of_making)
        case "fit":
            of_glass = (phrase for phrase in pair.around if not phrase.startswith("rules "))
            return (*figure_causes(pair.found, _volume), *of_glass)
        case "menu's word":
            return (*figure_causes(pair.found, _dissolved("strength")), *of_making, *of_place)
        case _:
            return (*figure_causes(pair.found, _dissolved(fact)), *of_making)


def _caution_causes(found: Sequence[Difference], caution: str) -> tuple[str, ...]:
    concerned = [
        one
        for one in found
        if any(item is not None and caution in item.stock.cautions for item in (one.old, one.new))
    ]
    return all_causes(concerned)


def _figures(serve: Serve, seen: Seen, cost: Cost) -> dict[str, _Figure]:
    made = serve.made
    unit = seen.region.drink_unit
    sugar, acid = mixing.sugar_g_per_l(made.drink), mixing.titratable_acid_g_per_l(made.drink)
    word = serve.descriptor.term if serve.descriptor else "none"
    return {
        "strength": _shown(made.served_abv_percent.value, 1, "% vol"),
        "volume": _shown(made.volume_ml.value, 0, "ml"),
        "units": _Figure(
            unit.count(made.ethanol_ml), unit.shown(made.ethanol_ml) or f"no {unit.plural}", 0.05
        ),
        "sugar": _shown(sugar, 0, "g/l"),
        "acid": _shown(acid, 1, "g/l"),
        "cost": _cost(cost, seen.currency),
        "fit": _fit(serve, seen),
        "menu's word": _Figure(0.0, word, 0.0),
    }


def _shown(value: float, decimals: int, unit: str) -> _Figure:
    return _Figure(value, f"{value:.{decimals}f} {unit}", 0.5 * 10**-decimals)


def _cost(cost: Cost, currency: str) -> _Figure:
    if cost.unknown:
        names = ", ".join(sorted(set(cost.unknown)))
        return _Figure(-1.0, f"not known (no price or size: {names})", 0.0)
    amount = cost.known.quantize(Decimal("0.01"), ROUND_HALF_UP)
    return _Figure(float(cost.known), f"{amount} {currency}".rstrip(), 0.005)


def _fit(serve: Serve, seen: Seen) -> _Figure:
    """Return whether a drink fits its glass; how far it runs over is told only where that began or ended."""
    vessel, fit = seen.facts.vessel, serve.fit
    if vessel is None or fit is None:
        return _Figure(-1.0, f"no {seen.facts.spec.glass} known", 0.5)
    over_ml = round(fit.over_brim_ml)
    if over_ml > 0:
        return _Figure(1.0, f"{over_ml} ml over the brim of the {vessel.name}", 0.5)
    return _Figure(0.0, f"fits the {vessel.name}", 0.5)


def _cost_amounts(serve: Serve, cost: Cost) -> dict[int, float | None]:
    """Return what each line costs, by the line itself; two lines may be written alike."""
    return {
        id(item): None if line.amount is None else float(line.amount)
        for item, line in zip(serve.lines, cost.lines, strict=True)
    }


def _per_measure(item: BottleLine, what: str) -> float:
    return sum(content.amount for content in item.contents if content.what == what)


def _amount_ml(item: BottleLine) -> float:
    """Return what a line pours; nothing for what fills up the glass, since that follows from all the others."""
    return 0.0 if item.line.measure.unit == "top" else item.volume_ml


def _volume(item: BottleLine) -> tuple[float | None, ...]:
    return (_amount_ml(item), item.mass_g)


def _alcohol(item: BottleLine) -> tuple[float | None, ...]:
    strength = _per_measure(item, "strength")
    return (_amount_ml(item) * strength, strength)


def _dissolved(what: str) -> Callable[[BottleLine], tuple[float | None, ...]]:
    return lambda item: (_amount_ml(item), item.mass_g, _per_measure(item, what))


@dataclass(frozen=True, slots=True)
class DrinkFigures:
    """What a drink comes to, for a chart.

    Attributes:
        strength_percent: As served, percent by volume.
        sugar_g_per_l: Grams in a litre of the drink.
        cost: To make one, without tax, not rounded; None where a price or a size is not known.
        currency: Of the cost; empty where not known.
        contains: The menu's words for what it contains, as far as labels had been read.
        may_contain: The same for what it may contain.
        unread: Names in stock of what is in it and whose label nobody had read.
    """

    strength_percent: float
    sugar_g_per_l: float
    cost: Decimal | None
    currency: str
    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unread: tuple[str, ...]


def drink_figures(seen: Seen) -> DrinkFigures:
    """Return what a drink as written comes to."""
    serve = seen.facts.serve
    cost = serve_cost(serve)
    return DrinkFigures(
        strength_percent=serve.made.served_abv_percent.value,
        sugar_g_per_l=mixing.sugar_g_per_l(serve.made.drink),
        cost=None if cost.unknown else cost.known,
        currency=seen.currency,
        contains=tuple(word for group in serve.declaration.contains for word in group.words),
        may_contain=tuple(word for group in serve.declaration.may_contain for word in group.words),
        unread=serve.unread,
    )
