"""Two versions of one drink: which facts moved, and why."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from menugen.comparing.changes import REPLACED, Cause, Change, Subject, level
from menugen.comparing.declared import (
    Alike,
    SwapKey,
    combined_key,
    declared,
    declared_drink,
    declared_otherwise,
    swap_key,
)
from menugen.comparing.differences import (
    BOTH_WAYS,
    PHYSICAL,
    LineDifference,
    Names,
    allergen_causes,
    amount_of,
    causes_about,
    caution_causes,
    differences,
    line_words,
    paired,
    written_move,
)
from menugen.comparing.figures import DrinkInSetting
from menugen.drink_facts import Compared, Value, compared_facts, compared_values
from menugen.facts import DrinkFacts, Serve, made_otherwise
from menugen.mixing import cube_mm
from menugen.names import name_key
from menugen.reading import SPEC, KeyDifference
from menugen.reading import differences as key_differences
from menugen.records import Role, Spec, Swap
from menugen.regions import Regime

_SAID_APART = frozenset({"name", "swap", "cautions", *(role.value for role in Role)})
"""Keys of a spec whose changes are said line by line, or of what is worked out."""

_NOTHING_SAID = {"method": "build", "melt": "worked out", "serves": "1"}
"""What holds where a spec does not say; "none" where it is not here."""

_ORDER = ("method", "strain", "glass", "ice", "melt", "serves")

_SAME = 1e-9
"""Two worked-out amounts closer than this are one amount."""


@dataclass(frozen=True, slots=True)
class _WayMade:
    """One way to make a drink, then and now.

    Attributes:
        old: The drink then.
        new: The drink now.
        was: This way to make it then: as written, or with a swap.
        now: The same now.
        lines: Everything that differs in its lines.
        around: What differs around the lines.
        swap: Which swap it is; empty for the drink as written.
    """

    old: DrinkInSetting
    new: DrinkInSetting
    was: Serve
    now: Serve
    lines: tuple[LineDifference, ...]
    around: tuple[Cause, ...]
    swap: str = ""

    @property
    def physical(self) -> tuple[Cause, ...]:
        """Every cause that can move a figure it is no part of, through the melt or what tops up the glass."""
        return (*causes_about(self.lines, PHYSICAL), *self.around)

    @property
    def rules(self) -> tuple[Cause, ...]:
        """The place or the day, where its rules are a cause."""
        return tuple(cause for cause in self.around if cause.subject == "rules")


def drink_subject(old: Spec, new: Spec) -> Subject:
    """Return a drink that both houses have."""
    return Subject("drink", new.name, new.slug, old.name, old.slug)


def written_changes(old: Spec, new: Spec, names: Names) -> Iterator[Change]:
    """Yield what a spec asks for differently, whatever bottles fill it.

    Notes and spelling are no facts, and neither is another name for the same thing.
    """
    subject = drink_subject(old, new)
    if old.slug != new.slug:
        yield Change("file", subject, old.slug, new.slug)
    if old.name != new.name:
        yield Change("name", subject, old.name, new.name)
    for before, after in paired(old.lines, new.lines, names):
        words = written_move(
            old.lines[before] if before is not None else None,
            new.lines[after] if after is not None else None,
            names,
        )
        if any(words):
            yield Change("measure", subject, *words)
    for key, was, now in _making(old, new):
        if name_key(was) != name_key(now):
            yield Change("making", subject, was, now, fact=key)
    yield from (Change("swap", subject, was, now, fact=how) for was, now, how in _swap_words(old, new, names))


def _making(old: Spec, new: Spec) -> list[KeyDifference]:
    """Return what is said differently of how a drink is made, in words."""
    made = [
        KeyDifference(key, *(text or _NOTHING_SAID.get(key, "none") for text in texts))
        for key, *texts in key_differences(SPEC, old, new)
        if key not in _SAID_APART
    ]
    return sorted(made, key=lambda one: _ORDER.index(one.key) if one.key in _ORDER else len(_ORDER))


def _swap_words(old: Spec, new: Spec, names: Names) -> Iterator[tuple[str, str, str]]:
    """Yield each swap that differs, before and now, empty where it is not there, and REPLACED where another is."""
    # What a swap takes the place of may be called otherwise: then it is what became of that line.
    became = {
        (name_key(old.lines[was].name), name_key(new.lines[now].name))
        for was, now in paired(old.lines, new.lines, names)
        if was is not None and now is not None
    }

    def is_one(before: Swap, after: Swap) -> bool:
        replaces = name_key(before.replaces), name_key(after.replaces)
        is_same_line = names.same(before.replaces, after.replaces) or replaces in became
        return is_same_line and names.same(before.line.name, after.line.name)

    stayed = {
        id(swap): earlier
        for swap in new.swaps
        if (earlier := next((one for one in old.swaps if is_one(one, swap)), None)) is not None
    }
    gone = [swap for swap in old.swaps if not any(swap is one for one in stayed.values())]
    for swap in new.swaps:
        words = f"{line_words(swap.line)} instead of {swap.replaces}"
        if (earlier := stayed.get(id(swap))) is not None:
            if not _is_one_measure(old, earlier, new, swap):
                yield line_words(earlier.line), words, ""
        elif other := next((one for one in gone if names.same(one.replaces, swap.replaces)), None):
            gone.remove(other)
            yield line_words(other.line), words, REPLACED
        else:
            yield "", words, ""
    yield from ((f"{line_words(swap.line)} instead of {swap.replaces}", "", "") for swap in gone)


def _is_one_measure(old: Spec, before: Swap, new: Spec, after: Swap) -> bool:
    """Return whether a swap is measured as it was.

    One without a measure of its own follows the line it replaces: that line is told of already.
    """
    return amount_of(before.line.measure) == amount_of(after.line.measure) or (
        _follows(old, before) and _follows(new, after)
    )


def _follows(spec: Spec, swap: Swap) -> bool:
    replaced = name_key(swap.replaces)
    return any(name_key(line.name) == replaced and line.measure == swap.line.measure for line in spec.lines)


def drink_changes(old: DrinkInSetting, new: DrinkInSetting, names: Names) -> Iterator[Change]:
    """Yield which worked-out facts of a drink changed, those that a menu declares left out.

    A swap tells only what the drink as written does not tell already.
    """
    ways = _Ways(old, new, names)
    made = ways.as_written
    others = list(_figures(made))
    yield from others
    known = {
        *(line.cause for line in made.lines),
        *made.around,
        *(cause for one in others for cause in one.causes),
    }
    for key in ways.swaps_of_both:
        found = _figures(ways.of(key))
        yield from (one for one in found if not known.issuperset(one.causes))


def declared_changes(
    olds: Sequence[DrinkInSetting], new: DrinkInSetting, names: Names, subject: Subject
) -> tuple[Change, ...]:
    """Return what is declared otherwise under a drink's name, and why; the gravest first.

    Args:
        olds: What had the name on older menus.
        new: What has it on a newer one.
        names: What each name in a spec stands for.
        subject: What both are called.
    """
    ways = _Ways(olds[0], new, names)
    same_place = all(old.region.code == new.region.code for old in olds)
    befores = [declared_drink(old.facts, names.old) for old in olds]
    found = declared_otherwise(
        befores, declared_drink(new.facts, names.new), subject, Alike(headings=same_place)
    )
    # A swap that is gone is said of the spec.
    told = [replace(one, causes=_why(ways.of(key), one)) for key, one in found if one.kind != "swap"]
    kinds = ("allergen", "caution", "listing", "unread")
    told.sort(key=lambda one: (kinds.index(one.kind), not one.gained, -level(one.after), bool(one.swap)))
    return tuple(told)


class _Ways:
    """The ways to make a drink, then and now, by what `declared_drink` calls them; None for it as written."""

    def __init__(self, old: DrinkInSetting, new: DrinkInSetting, names: Names) -> None:
        self._old, self._new, self._names = old, new, names
        self._around = tuple(_around(old, new))
        self._before = {swap_key(swap.swap, names.old): swap for swap in old.facts.swaps}
        self._after = {swap_key(swap.swap, names.new): swap for swap in new.facts.swaps}

    @property
    def swaps_of_both(self) -> tuple[SwapKey, ...]:
        """The swaps that were there and are there."""
        return tuple(key for key in self._after if key in self._before)

    @property
    def as_written(self) -> _WayMade:
        """The drink without a swap."""
        return self._made(self._old.facts.serve, self._new.facts.serve)

    def of(self, key: SwapKey | None) -> _WayMade:
        """Return one way to make it."""
        if key is None:
            return self.as_written
        if key not in self._after:
            old, new = (
                _combined(self._old.facts, self._names.old),
                _combined(self._new.facts, self._names.new),
            )
            return self._made(old[key], new[key])
        after = self._after[key]
        swap, words = after.swap, after.text
        # As in `same_choices`: it offers what a swap offered that is not there by its own name.
        offered = (one for other, one in self._before.items() if other not in self._after)
        before = self._before.get(key) or next(
            (
                one
                for one in offered
                if one.text == words or self._names.same(one.swap.line.name, swap.line.name)
            ),
            None,
        )
        if before is None:
            cause = Cause(words, f"swap + {line_words(swap.line)}")
            every = frozenset(declared(after.serve)), frozenset(after.serve.cautions)
            whole = LineDifference(cause, frozenset(), dict.fromkeys(every[0], BOTH_WAYS), every[1])
            return replace(self.as_written, now=after.serve, lines=(whole,), swap=words)
        made = self._made(before.serve, after.serve)
        return replace(
            made, lines=tuple(_as_swap(line, before.swap, swap) for line in made.lines), swap=words
        )

    def _made(self, was: Serve, now: Serve) -> _WayMade:
        lines = differences(was.lines, now.lines, self._names)
        return _WayMade(self._old, self._new, was, now, lines, self._around)


def _combined(facts: DrinkFacts, thing: Callable[[str], str]) -> dict[SwapKey, Serve]:
    return {combined_key(many, facts, thing): many.serve for many in facts.combined}


def _as_swap(line: LineDifference, before: Swap, after: Swap) -> LineDifference:
    """Return a difference with the words the spec itself has for it, where the swap's own measure is what differs."""
    if line.cause.subject != after.line.name or line.cause.thing:
        return line
    text = f"swap {line_words(before.line)} -> {line_words(after.line)} instead of {after.replaces}"
    return replace(line, cause=Cause(after.line.name, text))


def _around(old: DrinkInSetting, new: DrinkInSetting) -> Iterator[Cause]:
    """Yield what differs around the lines: method, ice, glass, place."""
    one, other = old.facts.spec, new.facts.spec
    for fact, was, now in _making(one, other):
        if name_key(was) != name_key(now):
            yield Cause(fact, f"{fact} {was} -> {now}")
    vessels = old.facts.vessel, new.facts.vessel
    if vessels[0] and vessels[1] and name_key(one.glass) == name_key(other.glass):
        for words, before, after in (
            ("holds", vessels[0].brim_ml, vessels[1].brim_ml),
            ("wash line", vessels[0].wash_line_ml, vessels[1].wash_line_ml),
        ):
            if abs(before - after) > 1e-6:
                text = f"glass {other.glass}: {words} {before:.0f} -> {after:.0f} ml"
                yield Cause("glass", text, f"glass {name_key(other.glass)}")
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


def _why(made: _WayMade, one: Change) -> tuple[Cause, ...]:
    """Return why one way to make a drink is declared otherwise."""
    if one.kind == "caution":
        return caution_causes(made.lines, one.fact)
    if one.kind == "unread":
        return causes_about(made.lines, ("unread",))
    if one.kind == "listing":
        return made.rules
    causes = allergen_causes(made.lines, one.fact, one.before, one.after)
    regimes = made.old.region.regime, made.new.region.regime
    if _duties(regimes[0], one.fact) != _duties(regimes[1], one.fact):
        causes += made.rules
    # Sulphites are weighed against the whole drink: then everything that can thin it is a cause.
    return causes or made.physical


def _duties(regime: Regime, substance: str) -> tuple[object, ...]:
    """Return what a law's list says of a substance that can decide whether it is declared."""
    entry = regime.listed.get(substance)
    lifted = frozenset(one for one in regime.exemptions if substance in one.of)
    return (lifted,) if entry is None else (lifted, entry.threshold, entry.distillate_exempt)


def _figures(made: _WayMade) -> Iterator[Change]:
    """Yield which figures of a drink changed, each with its causes."""
    before, after = compared_values(made.old.way(made.was)), compared_values(made.new.way(made.now))
    bearing = _bearing(made, after)
    for fact in compared_facts():
        was, now = before[fact.name], after[fact.name]
        if was.value == now.value or (fact.of_shared and made.was.serves == made.now.serves == 1):
            continue
        # Told is what reads otherwise, however little it moved: so the steps of a history add up to the whole.
        shown = was.show(), now.show()
        if shown[0] != shown[1]:
            why = tuple(dict.fromkeys(_causes(made, fact, bearing))) or made.physical
            why = why or tuple(dict.fromkeys(line.cause for line in made.lines))
            subject = drink_subject(made.old.facts.spec, made.new.facts.spec)
            yield Change("figure", subject, *shown, why, fact=fact.name, swap=made.swap)


def _bearing(made: _WayMade, now: Mapping[str, Value]) -> dict[str, frozenset[str]]:
    """Return which figures each thing around the lines bears on: those that move when it alone is undone."""
    if not made.lines and len(made.around) == 1:
        return {made.around[0].subject: frozenset(now)}
    found: dict[str, frozenset[str]] = {}
    old, new = made.old.facts, made.new.facts
    for cause in made.around:
        if cause.subject == "rules":
            regions = made.old.region, made.new.region
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
        undone = compared_values(made.new.way(made_otherwise(made.now, spec, vessel, made.new.region)))
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


def _causes(made: _WayMade, fact: Compared, bearing: Mapping[str, frozenset[str]]) -> tuple[Cause, ...]:
    """Return why one figure moved: the lines that bear on it, then what differs around them."""
    around = tuple(cause for cause in made.around if fact.name in bearing[cause.subject])
    return (*causes_about(made.lines, fact.bears_on), *around)
