"""Two versions of one drink: which facts moved, and why."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from menugen.comparing.changes import AllergenMove, Cause, Declared, Move
from menugen.comparing.differences import (
    PHYSICAL,
    Names,
    Part,
    allergen_causes,
    amount_of,
    causes_about,
    caution_causes,
    differences,
    line_words,
    name_of,
    paired,
    written_move,
)
from menugen.comparing.figures import Seen
from menugen.drink_facts import Compared, Value, compared_facts, compared_values
from menugen.facts import Serve, made_otherwise
from menugen.mixing import cube_mm
from menugen.records import Spec, Swap
from menugen.regions import Regime

LISTING = "listing"
"""The fact of a substance that the law's list has under another head."""

_SAME = 1e-9
"""Two worked-out amounts closer than this are one amount."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """One way of making a drink, then and now.

    Attributes:
        old: The drink then.
        new: The drink now.
        was: This way of making it then: as written, or with a swap.
        now: The same now.
        parts: Everything that differs in its lines.
        around: What differs around the lines.
        swap: Which swap it is; empty for the drink as written.
    """

    old: Seen
    new: Seen
    was: Serve
    now: Serve
    parts: tuple[Part, ...]
    around: tuple[Cause, ...]
    swap: str

    @property
    def physical(self) -> tuple[Cause, ...]:
        """Every cause that can move a figure it is no part of, through the melt or what tops up the glass."""
        return (*causes_about(self.parts, PHYSICAL), *self.around)


def written_moves(old: Spec, new: Spec, names: Names) -> tuple[Move, ...]:
    """Return what a spec asks for differently, whatever bottles fill it.

    Notes and spelling are no facts, and neither is another name for the same thing.
    """
    moves = []
    if old.name != new.name:
        moves.append(Move("name", old.name, new.name))
    for before, after in paired(old.lines, new.lines, names):
        words = written_move(
            old.lines[before] if before is not None else None,
            new.lines[after] if after is not None else None,
            names,
        )
        if any(words):
            moves.append(Move("measure", *words))
    for fact, was, now in _making(old, new):
        if name_of(was) != name_of(now):
            moves.append(Move(fact, was, now))
    return (*moves, *_swap_moves(old, new, names))


def _making(old: Spec, new: Spec) -> tuple[tuple[str, str, str], ...]:
    """Return (fact, then, now) of how a drink is made."""
    return (
        ("method", _method(old), _method(new)),
        ("strain", old.strain or "none", new.strain or "none"),
        ("glass", old.glass, new.glass),
        ("ice", old.ice or "none", new.ice or "none"),
        ("melt", _ratio(old), _ratio(new)),
        ("serves", str(old.serves), str(new.serves)),
    )


def _method(spec: Spec) -> str:
    steps = (f"{step.verb} {step.seconds:g} s" if step.seconds else step.verb for step in spec.method)
    return ", ".join(steps) or "build"


def _ratio(spec: Spec) -> str:
    if spec.melt_ratio is None:
        return "worked out"
    return f"{spec.melt_ratio:g} by weight" if spec.melt_by_weight else f"{spec.melt_ratio:g}"


_SwapKey = tuple[str, str]


def _swaps(spec: Spec, thing: Callable[[str], str]) -> dict[_SwapKey, Swap]:
    """Return each swap by the two things that make it that swap."""
    return {(thing(swap.replaces), thing(swap.line.name)): swap for swap in spec.swaps}


def _swapped_for(old: Spec, new: Spec, names: Names) -> dict[_SwapKey, _SwapKey]:
    """Return which swap now stands where which stood: the same one, else the one other thing for the same line."""
    before, after = _swaps(old, names.old), _swaps(new, names.new)
    found = {key: key for key in after if key in before}
    for key in after:
        gone = [one for one in before if one[0] == key[0] and one not in after]
        come = [one for one in after if one[0] == key[0] and one not in before]
        if key not in found and gone and len(come) == len(gone):
            found[key] = gone[come.index(key)]
    return found


def _swap_moves(old: Spec, new: Spec, names: Names) -> Iterator[Move]:
    before, after = _swaps(old, names.old), _swaps(new, names.new)
    became = _swapped_for(old, new, names)
    for key, swap in after.items():
        earlier = before[became[key]] if key in became else None
        words = line_words(swap.line)
        if earlier is None:
            yield Move("swap", "", f"{words} instead of {swap.replaces}")
        elif became[key] != key or not _is_one_measure(old, earlier, new, swap):
            yield Move("swap", line_words(earlier.line), f"{words} instead of {swap.replaces}")
    for key, swap in before.items():
        if key not in after and key not in became.values():
            yield Move("swap", f"{line_words(swap.line)} instead of {swap.replaces}", "")


def _is_one_measure(old: Spec, before: Swap, new: Spec, after: Swap) -> bool:
    """Return whether a swap is measured as it was.

    One without a measure of its own follows the line it replaces: that line is told of already.
    """
    return amount_of(before.line.measure) == amount_of(after.line.measure) or (
        _follows(old, before) and _follows(new, after)
    )


def _follows(spec: Spec, swap: Swap) -> bool:
    replaced = name_of(swap.replaces)
    return any(name_of(line.name) == replaced and line.measure == swap.line.measure for line in spec.lines)


def seen_moves(old: Seen, new: Seen, names: Names) -> tuple[tuple[AllergenMove, ...], tuple[Move, ...]]:
    """Return what a drink is declared with differently, and which worked-out facts moved; swaps after the drink.

    A swap tells only what the drink as written does not tell already. One that was not there is held against what it
    stands in the place of: another swap of that line, else the drink as it was written.
    """
    was, now = old.facts.serve, new.facts.serve
    around = tuple(_around(old, new))
    pair = _Pair(old, new, was, now, differences(was.lines, now.lines, names), around, "")
    allergens, moves = list(_allergens(pair)), list(_moves(pair))
    told = {(one.substance, one.before, one.after) for one in allergens}
    known = {
        *(part.cause for part in pair.parts),
        *around,
        *(cause for move in moves for cause in move.causes),
    }
    before_swaps = {_key(swap.swap, names.old): swap for swap in old.facts.swaps}
    before = {key: swap.serve for key, swap in before_swaps.items()}
    became = _swapped_for(old.facts.spec, new.facts.spec, names)
    for swap in new.facts.swaps:
        key = _key(swap.swap, names.new)
        words = f"{swap.swap.line.name} instead of {swap.swap.replaces}"
        earlier = before.get(became.get(key, key))
        if earlier is None or became.get(key) != key:
            brought = _brought(earlier or was, swap.serve, words, line_words(swap.swap.line))
            allergens += [one for one in brought if (one.substance, one.before, one.after) not in told]
            continue
        parts = tuple(
            _as_swap(part, before_swaps[key].swap, swap.swap)
            for part in differences(earlier.lines, swap.serve.lines, names)
        )
        swapped = _Pair(old, new, earlier, swap.serve, parts, around, words)
        allergens += [
            one for one in _allergens(swapped) if (one.substance, one.before, one.after) not in told
        ]
        moves += [one for one in _moves(swapped) if not known.issuperset(one.causes)]
    allergens.sort(key=lambda one: (not one.gained, -one.after, bool(one.swap)))
    return tuple(allergens), tuple(moves)


def _as_swap(part: Part, before: Swap, after: Swap) -> Part:
    """Return a part with the words the spec itself has for it, where the swap's own measure is what differs."""
    if part.cause.subject != after.line.name or part.cause.thing:
        return part
    text = f"swap {line_words(before.line)} -> {line_words(after.line)} instead of {after.replaces}"
    return replace(part, cause=Cause(after.line.name, text))


def _key(swap: Swap, thing: Callable[[str], str]) -> _SwapKey:
    return thing(swap.replaces), thing(swap.line.name)


def _brought(was: Serve, now: Serve, swap: str, line: str) -> Iterator[AllergenMove]:
    """Yield what a swap that is new declares and what it stands in the place of did not."""
    before, after = declared(was), declared(now)
    cause = Cause(swap, f"swap + {line}")
    for substance, (level, word) in after.items():
        earlier = before.get(substance, (Declared.NOT, ""))[0]
        if level > earlier:
            yield AllergenMove(substance, word, earlier, level, swap, (cause,))


def _around(old: Seen, new: Seen) -> Iterator[Cause]:
    """Yield what differs around the lines: method, ice, glass, place."""
    one, other = old.facts.spec, new.facts.spec
    for fact, was, now in _making(one, other):
        if name_of(was) != name_of(now):
            yield Cause(fact, f"{fact} {was} -> {now}")
    vessels = old.facts.vessel, new.facts.vessel
    if vessels[0] and vessels[1] and name_of(one.glass) == name_of(other.glass):
        for words, before, after in (
            ("holds", vessels[0].brim_ml, vessels[1].brim_ml),
            ("wash line", vessels[0].wash_line_ml, vessels[1].wash_line_ml),
        ):
            if abs(before - after) > 1e-6:
                text = f"glass {other.glass}: {words} {before:.0f} -> {after:.0f} ml"
                yield Cause("glass", text, f"glass {name_of(other.glass)}")
                break
        cubes = vessels[0].ice.large_cube_g, vessels[1].ice.large_cube_g
        if one.ice == other.ice == "large cube" and abs(cubes[0] - cubes[1]) > 1e-6:
            sides = [f"{cube_mm(grams):.0f}" for grams in cubes]
            yield Cause(
                "cube", f"the house's large cube {sides[0]} -> {sides[1]} mm", "the house's large cube"
            )
    if old.region != new.region:
        if old.region.code == new.region.code:
            yield Cause("rules", f"other rules of {new.region.code} on another day")
        else:
            moved = f"{old.region.code} -> {new.region.code}"
            yield Cause("rules", f"rules of {moved}", f"region {moved}")


def declared(serve: Serve) -> dict[str, tuple[Declared, str]]:
    """Return how a drink is declared with each substance, and the menu's word for it."""
    told: dict[str, tuple[Declared, str]] = {}
    for level, groups in (
        (Declared.DISTILLED_FROM, serve.declaration.distilled_from),
        (Declared.MAY_CONTAIN, serve.declaration.may_contain),
        (Declared.CONTAINS, serve.declaration.contains),
    ):
        for group in groups:
            for substance, word in zip(group.substances, group.words, strict=True):
                told[substance] = (level, word)
    return told


def _allergens(pair: _Pair) -> Iterator[AllergenMove]:
    before, after = declared(pair.was), declared(pair.now)
    regimes = pair.old.region.regime, pair.new.region.regime
    for substance in dict.fromkeys((*after, *before)):
        was, now = (side.get(substance, (Declared.NOT, "")) for side in (before, after))
        if was[0] == now[0]:
            continue
        causes = allergen_causes(pair.parts, substance, was[0], now[0])
        if _duties(regimes[0], substance) != _duties(regimes[1], substance):
            causes += tuple(cause for cause in pair.around if cause.subject == "rules")
        # Sulphites are weighed against the whole drink: then everything that can thin it is a cause.
        yield AllergenMove(substance, now[1] or was[1], was[0], now[0], pair.swap, causes or pair.physical)


def _duties(regime: Regime, substance: str) -> tuple[object, ...]:
    """Return what a law's list says of a substance that can decide whether it is declared."""
    entry = regime.listed.get(substance)
    lifted = frozenset(one for one in regime.exemptions if substance in one.of)
    return (lifted,) if entry is None else (lifted, entry.threshold, entry.distillate_exempt)


def gained_at(olds: Sequence[Seen], new: Seen, names: Names) -> tuple[AllergenMove, ...]:
    """Return what a drink is declared with on a menu it was not on, beyond all it was declared with before.

    Args:
        olds: The drink where it was poured then, at least at home.
        new: The drink where it is poured now, too.
        names: What each name in a spec stands for.
    """
    known: dict[str, Declared] = {}
    for old in olds:
        for substance, (level, _) in declared(old.facts.serve).items():
            known[substance] = max(level, known.get(substance, Declared.NOT))
    old = olds[0]
    was, now = old.facts.serve, new.facts.serve
    pair = _Pair(old, new, was, now, differences(was.lines, now.lines, names), tuple(_around(old, new)), "")
    return tuple(one for one in _allergens(pair) if one.after > known.get(one.substance, Declared.NOT))


def _listings(serve: Serve) -> dict[str, str]:
    """Return each substance a drink is declared with as the law's list has it: "coconut under Tree nuts"."""
    declaration = serve.declaration
    groups = (*declaration.contains, *declaration.may_contain, *declaration.distilled_from)
    return {
        substance: f"{word} under {group.entry_name}"
        for group in groups
        for substance, word in zip(group.substances, group.words, strict=True)
    }


def _moves(pair: _Pair) -> Iterator[Move]:
    """Yield what moved of a drink, its allergens left out, each with its causes."""
    before, after = compared_values(pair.old.way(pair.was)), compared_values(pair.new.way(pair.now))
    bearing = _bearing(pair, after)
    for fact in compared_facts():
        was, now = before[fact.name], after[fact.name]
        if was.value == now.value or (fact.of_shared and pair.was.serves == pair.now.serves == 1):
            continue
        # Told is what reads otherwise, however little it moved: so the steps of a history add up to the whole.
        shown = was.show(), now.show()
        if shown[0] != shown[1]:
            why = tuple(dict.fromkeys(_causes(pair, fact, bearing))) or pair.physical
            yield Move(fact.name, *shown, pair.swap, why)
    for caution in dict.fromkeys((*pair.now.cautions, *pair.was.cautions)):
        told = [caution if caution in serve.cautions else "" for serve in (pair.was, pair.now)]
        if told[0] != told[1]:
            yield Move("caution", told[0], told[1], pair.swap, caution_causes(pair.parts, caution))
    regions = pair.old.region, pair.new.region
    if regions[0].code == regions[1].code and regions[0].regime != regions[1].regime:
        # The law's list changed with the day: what is declared is found under another head.
        listed = _listings(pair.was), _listings(pair.now)
        rules = tuple(cause for cause in pair.around if cause.subject == "rules")
        for substance, words in listed[1].items():
            if listed[0].get(substance, words) != words:
                yield Move(LISTING, listed[0][substance], words, pair.swap, rules)


def _bearing(pair: _Pair, now: Mapping[str, Value]) -> dict[str, frozenset[str]]:
    """Return which figures each thing around the lines bears on: those that move when it alone is undone."""
    if not pair.parts and len(pair.around) == 1:
        return {pair.around[0].subject: frozenset(now)}
    found: dict[str, frozenset[str]] = {}
    old, new = pair.old.facts, pair.new.facts
    for cause in pair.around:
        if cause.subject == "rules":
            regions = pair.old.region, pair.new.region
            found["rules"] = frozenset(
                fact.name
                for fact in compared_facts()
                if fact.rules and getattr(regions[0], fact.rules) != getattr(regions[1], fact.rules)
            )
            continue
        spec, vessel = _undone(cause.subject, old.spec, new.spec), new.vessel
        if cause.subject == "glass":
            vessel = old.vessel
        if cause.subject == "cube" and vessel is not None and old.vessel is not None:
            vessel = replace(vessel, ice=old.vessel.ice)
        undone = compared_values(pair.new.way(made_otherwise(pair.now, spec, vessel, pair.new.region)))
        found[cause.subject] = frozenset(
            fact for fact, value in now.items() if not _is_one(value.value, undone[fact].value)
        )
    return found


def _is_one(one: float | str, other: float | str) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= _SAME
    return one == other


def _undone(what: str, old: Spec, new: Spec) -> Spec:
    match what:
        case "method":
            return replace(new, method=old.method)
        case "strain":
            return replace(new, strain=old.strain)
        case "ice":
            return replace(new, ice=old.ice)
        case "melt":
            return replace(new, melt_ratio=old.melt_ratio, melt_by_weight=old.melt_by_weight)
        case "serves":
            return replace(new, serves=old.serves)
        case _:
            return new


def _causes(pair: _Pair, fact: Compared, bearing: Mapping[str, frozenset[str]]) -> tuple[Cause, ...]:
    """Return why one figure moved: the lines that bear on it, then what differs around them."""
    around = tuple(cause for cause in pair.around if fact.name in bearing[cause.subject])
    return (*causes_about(pair.parts, fact.bears_on), *around)
