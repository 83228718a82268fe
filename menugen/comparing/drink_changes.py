"""Two versions of one drink: which facts moved, and why."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from menugen.comparing.changes import Cause, Change, Kind, Subject, level
from menugen.comparing.declared import NOT_DECLARED, declared
from menugen.comparing.differences import (
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
from menugen.facts import Serve, made_otherwise
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

    def changed(
        self, kind: Kind, before: str, after: str, causes: Iterable[Cause], fact: str = "", word: str = ""
    ) -> Change:
        """Return a change of the drink made this way."""
        subject = drink_subject(self.old.facts.spec, self.new.facts.spec)
        return Change(kind, subject, before, after, tuple(causes), (), fact, word, self.swap)


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
    yield from (Change("swap", subject, *words) for words in _swap_words(old, new, names))


def _making(old: Spec, new: Spec) -> list[KeyDifference]:
    """Return what is said differently of how a drink is made, in words."""
    made = [
        KeyDifference(key, *(text or _NOTHING_SAID.get(key, "none") for text in texts))
        for key, *texts in key_differences(SPEC, old, new)
        if key not in _SAID_APART
    ]
    return sorted(made, key=lambda one: _ORDER.index(one.key) if one.key in _ORDER else len(_ORDER))


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


def _swap_words(old: Spec, new: Spec, names: Names) -> Iterator[tuple[str, str]]:
    """Yield each swap that differs, before and now; empty where it was not there or is there no longer."""
    before, after = _swaps(old, names.old), _swaps(new, names.new)
    became = _swapped_for(old, new, names)
    for key, swap in after.items():
        earlier = before[became[key]] if key in became else None
        words = line_words(swap.line)
        if earlier is None:
            yield "", f"{words} instead of {swap.replaces}"
        elif became[key] != key or not _is_one_measure(old, earlier, new, swap):
            yield line_words(earlier.line), f"{words} instead of {swap.replaces}"
    for key, swap in before.items():
        if key not in after and key not in became.values():
            yield f"{line_words(swap.line)} instead of {swap.replaces}", ""


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


def drink_changes(old: DrinkInSetting, new: DrinkInSetting, names: Names) -> tuple[Change, ...]:
    """Return what a drink is declared with differently, gravest first, then which worked-out facts changed.

    A swap tells only what the drink as written does not tell already. One that was not there is held against what it
    stands in the place of: another swap of that line, else the drink as it was written.
    """
    was, now = old.facts.serve, new.facts.serve
    around = tuple(_around(old, new))
    made = _WayMade(old, new, was, now, differences(was.lines, now.lines, names), around)
    allergens, others = list(_allergens(made)), list(_figures(made))
    as_written = {(one.fact, one.before, one.after) for one in allergens}
    known = {
        *(line.cause for line in made.lines),
        *around,
        *(cause for one in others for cause in one.causes),
    }
    before = {_key(swap.swap, names.old): swap for swap in old.facts.swaps}
    became = _swapped_for(old.facts.spec, new.facts.spec, names)
    for swap in new.facts.swaps:
        key = _key(swap.swap, names.new)
        words = f"{swap.swap.line.name} instead of {swap.swap.replaces}"
        earlier = before.get(became.get(key, key))
        if earlier is None or became.get(key) != key:
            swapped = _WayMade(old, new, earlier.serve if earlier else was, swap.serve, (), around, words)
            found = _brought(swapped, Cause(words, f"swap + {line_words(swap.swap.line)}"))
        else:
            lines = tuple(
                _as_swap(line, earlier.swap, swap.swap)
                for line in differences(earlier.serve.lines, swap.serve.lines, names)
            )
            swapped = _WayMade(old, new, earlier.serve, swap.serve, lines, around, words)
            found = _allergens(swapped)
            others += [one for one in _figures(swapped) if not known.issuperset(one.causes)]
        allergens += [one for one in found if (one.fact, one.before, one.after) not in as_written]
    allergens.sort(key=lambda one: (not one.gained, -level(one.after), bool(one.swap)))
    return (*allergens, *others)


def _as_swap(line: LineDifference, before: Swap, after: Swap) -> LineDifference:
    """Return a difference with the words the spec itself has for it, where the swap's own measure is what differs."""
    if line.cause.subject != after.line.name or line.cause.thing:
        return line
    text = f"swap {line_words(before.line)} -> {line_words(after.line)} instead of {after.replaces}"
    return replace(line, cause=Cause(after.line.name, text))


def _key(swap: Swap, thing: Callable[[str], str]) -> _SwapKey:
    return thing(swap.replaces), thing(swap.line.name)


def _brought(made: _WayMade, cause: Cause) -> Iterator[Change]:
    """Yield what a swap that is new declares and what it stands in the place of did not."""
    before = declared(made.was)
    for substance, now in declared(made.now).items():
        earlier = before.get(substance, NOT_DECLARED)
        if level(now.level) > level(earlier.level):
            yield made.changed("allergen", earlier.level, now.level, (cause,), substance, now.word)


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


def _allergens(made: _WayMade) -> Iterator[Change]:
    before, after = declared(made.was), declared(made.now)
    regimes = made.old.region.regime, made.new.region.regime
    for substance in dict.fromkeys((*after, *before)):
        was, now = before.get(substance, NOT_DECLARED), after.get(substance, NOT_DECLARED)
        if was.level == now.level:
            continue
        causes = allergen_causes(made.lines, substance, was.level, now.level)
        if _duties(regimes[0], substance) != _duties(regimes[1], substance):
            causes += made.rules
        # Sulphites are weighed against the whole drink: then everything that can thin it is a cause.
        why = causes or made.physical
        yield made.changed("allergen", was.level, now.level, why, substance, now.word or was.word)


def _duties(regime: Regime, substance: str) -> tuple[object, ...]:
    """Return what a law's list says of a substance that can decide whether it is declared."""
    entry = regime.listed.get(substance)
    lifted = frozenset(one for one in regime.exemptions if substance in one.of)
    return (lifted,) if entry is None else (lifted, entry.threshold, entry.distillate_exempt)


def gained_at(olds: Sequence[DrinkInSetting], new: DrinkInSetting, names: Names) -> tuple[Change, ...]:
    """Return what a drink is declared with on a menu it was not on, beyond all it was declared with before.

    Args:
        olds: The drink where it was poured then, at least at home.
        new: The drink where it is poured now, too.
        names: What each name in a spec stands for.
    """
    known: dict[str, int] = {}
    for old in olds:
        for substance, said in declared(old.facts.serve).items():
            known[substance] = max(level(said.level), known.get(substance, 0))
    old = olds[0]
    was, now = old.facts.serve, new.facts.serve
    made = _WayMade(old, new, was, now, differences(was.lines, now.lines, names), tuple(_around(old, new)))
    return tuple(one for one in _allergens(made) if level(one.after) > known.get(one.fact, 0))


def _figures(made: _WayMade) -> Iterator[Change]:
    """Yield what changed of a drink, its allergens left out, each with its causes."""
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
            yield made.changed("figure", shown[0], shown[1], why, fact.name)
    for caution in dict.fromkeys((*made.now.cautions, *made.was.cautions)):
        told = [caution if caution in serve.cautions else "" for serve in (made.was, made.now)]
        if told[0] != told[1]:
            yield made.changed("caution", told[0], told[1], caution_causes(made.lines, caution))
    regions = made.old.region, made.new.region
    if regions[0].code == regions[1].code and regions[0].regime != regions[1].regime:
        # The law's list changed with the day: what is declared is found under another head.
        listed = declared(made.was)
        for substance, new in sorted(declared(made.now).items(), key=lambda item: -level(item[1].level)):
            old = listed.get(substance, new)
            if (old.word, old.heading) != (new.word, new.heading):
                words = [f"{one.word} under {one.heading}" for one in (old, new)]
                yield made.changed("listing", words[0], words[1], made.rules)


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
