"""One drink worked out, as written and with each of its swaps."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, islice, product
from typing import NamedTuple

from menugen import mixing, reference, regions
from menugen.facts.bottles import Bottles
from menugen.facts.cautions import drink_cautions
from menugen.facts.glasses import USUAL_PIECES, Vessel
from menugen.facts.in_glass import Froth, InGlass, foam_ml, held_back_ml, in_glass, liquid_to_line_ml
from menugen.facts.labels import carried, drink_class
from menugen.facts.liquids import (
    BottledLiquid,
    Content,
    bottled_stock,
    poured,
    strength_is_missing,
    worded_class,
)
from menugen.mixing import WATER_G_PER_ML, Liquid, Made, Step
from menugen.names import name_key
from menugen.records import Line, MethodStep, Role, Spec, StockLine, Swap
from menugen.reference import KeptAt
from menugen.regions import Declaration, Descriptor, Region

_IN_THE_GLASS = (Role.TOP, Role.FLOAT, Role.INSIDE, Role.RINSE)
"""Roles that go into the glass and are not mixed with the rest. A rinse is counted whole: what is thrown out differs by
hand, and strength must never be understated."""

ON_THE_GLASS = (Role.RIM, Role.GARNISH)
"""Roles that add allergens and cost and no volume, unless it is alcohol that is measured."""

MOST_COMBINED = 12
"""Ways to make a drink with several swaps at once that are worked out; those of fewer swaps first. A drink of more has
ways that nobody worked out, and none of them is offered to a guest: a filter may hide too much, never too little."""

LEAST_TOP_ML = 5.0
"""Under this a "top with" line is told to the user as having no room. Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class BottleLine:
    """A line of a spec with the bottle that fills it.

    Attributes:
        line: As written.
        stock: What is poured or put on.
        volume_ml: What it adds to the drink; 0 for counted things without a volume, and for rims and garnishes but
            measured alcohol.
        mass_g: For solids measured by weight; 0 otherwise.
        contents: What is dissolved in it and where that is known from; empty where it adds nothing.
        bottled: A litre of what is in the bottle; None where it adds no liquid.
        on_top: Whether it goes into the glass and not into what is mixed before: tops, floats, and what holds gas
            whatever list it is in.
    """

    line: Line
    stock: StockLine
    volume_ml: float
    mass_g: float
    contents: tuple[Content, ...]
    bottled: BottledLiquid | None
    on_top: bool = False

    @property
    def kept(self) -> KeptAt:
        """Where it is kept until it is poured, by stock, else by its kind."""
        return _kept(self.stock.kept, self.stock.kind or self.stock.name)[0]


@dataclass(frozen=True, slots=True)
class Serve:
    """One way of making a drink, worked out.

    Attributes:
        lines: With their bottles and volumes; "top with" solved.
        made: The physics.
        declaration: What it contains and may contain, in the region's terms.
        descriptor: The region's word for its strength, where one holds.
        cautions: Ids, most grave first.
        fit: How it sits in the glass, after what the method leaves behind; None where the glass is unknown.
        top_room_ml: What was found for "top with" lines; None where there are none.
        serves: How many guests share it; every other figure is of the whole. 1 for one guest's drink.
    """

    lines: tuple[BottleLine, ...]
    made: Made
    declaration: Declaration
    descriptor: Descriptor | None
    cautions: tuple[str, ...]
    fit: InGlass | None
    top_room_ml: float | None
    serves: int = 1

    @property
    def served_ml(self) -> float:
        """What comes into the glass, ice left out."""
        return self.made.volume_ml.value

    @property
    def sole_bottle(self) -> BottleLine | None:
        """The line of a drink that is one bottle poured and nothing else but ice; None for any other."""
        liquids = [item for item in self.lines if item.volume_ml > 0 or item.mass_g > 0]
        return liquids[0] if len({item.stock.name for item in liquids}) == 1 else None

    @property
    def labelled_percent(self) -> float | None:
        """The strength on the label of a bottle that is poured neat, by which it goes; None for a mixed drink."""
        sole = self.sole_bottle
        return sole.stock.abv_percent if sole is not None and self.made.melt_g.value == 0 else None

    @property
    def at_most_percent(self) -> float:
        """The strength by which a claim is judged: a lone bottle goes by its label, a mixture by the doubt in it."""
        sole = self.sole_bottle
        label = sole.stock.abv_percent if sole is not None else None
        return self.made.served_abv_percent.high if label is None else label

    @property
    def claims_as(self) -> str:
        """The class whose own rules for words of strength hold: "beer", "cider", "wine"; empty for any other."""
        sole = self.sole_bottle
        return worded_class(sole.stock, sole.line.name) if sole is not None else ""

    @property
    def unread(self) -> tuple[str, ...]:
        """Names in stock of what is in it and whose label nobody has read: with one, the declaration is incomplete."""
        return tuple(dict.fromkeys(item.stock.name for item in self.lines if item.stock.contains is None))

    @property
    def strengthless(self) -> tuple[str, ...]:
        """Names in stock of bottles with alcohol that do not say how much: with one, the strength is not known."""
        return tuple(
            dict.fromkeys(
                item.stock.name for item in self.lines if item.contents and strength_is_missing(item.stock)
            )
        )


@dataclass(frozen=True, slots=True)
class SwapFacts:
    """A stated alternative and the drink it makes."""

    swap: Swap
    serve: Serve

    @property
    def text(self) -> str:
        """It in words: "aquafaba instead of egg white"."""
        return f"{self.swap.line.name} instead of {self.swap.replaces}"


@dataclass(frozen=True, slots=True)
class CombinedFacts:
    """Several swaps made at once, each of another line, and the drink they make.

    Attributes:
        of: Their positions among the swaps worked out one at a time, in order; two or more.
        serve: With all of them made.
    """

    of: tuple[int, ...]
    serve: Serve


@dataclass(frozen=True, slots=True)
class DrinkFacts:
    """One drink worked out.

    Attributes:
        spec: As written.
        vessel: The glass; None where no glass of that name is known.
        serve: As written.
        swaps: With each swap made, one at a time.
        combined: With several made at once, as far as they were worked out: see `MOST_COMBINED`.
    """

    spec: Spec
    vessel: Vessel | None
    serve: Serve
    swaps: tuple[SwapFacts, ...]
    combined: tuple[CombinedFacts, ...] = ()

    @property
    def ways(self) -> tuple[Serve, ...]:
        """Every way of making it that was worked out: as written, with one swap, with several."""
        return (self.serve, *(swap.serve for swap in self.swaps), *(many.serve for many in self.combined))


def _amount(line: Line, stock: StockLine) -> tuple[float, float]:
    """Return (millilitres, grams) that a line adds; counted things come to what stock says one is."""
    measure = line.measure
    if line.role in ON_THE_GLASS:
        # Rum that is measured is drunk, whatever it is called, and strength must never be understated.
        is_drunk = bool(stock.abv_percent) or strength_is_missing(stock)
        return (measure.volume_ml or 0.0) if is_drunk else 0.0, 0.0
    if measure.volume_ml is not None:
        return measure.volume_ml, 0.0
    if measure.mass_g is not None:
        return 0.0, measure.mass_g
    if measure.count is not None:
        return measure.count * (stock.each_ml or 0.0), measure.count * (stock.each_g or 0.0)
    return 0.0, 0.0


def _bottle_line(line: Line, stock: StockLine) -> BottleLine:
    volume_ml, mass_g = _amount(line, stock)
    adds = volume_ml > 0 or line.measure.unit == "top"
    bottled = bottled_stock(stock) if adds else None
    return BottleLine(line, stock, volume_ml, mass_g, bottled.contents if bottled else (), bottled)


def line_liquid(item: BottleLine) -> Liquid:
    """Return what a line adds to the glass.

    What is weighed dissolves: a sweetener as sugar, salt and spice as they are.
    """
    return _liquid(_amount_of(item))


class _Poured(NamedTuple):
    """What a line adds to the glass, apart from its name: all that physics asks of it."""

    bottled: BottledLiquid | None
    volume_ml: float
    mass_g: float
    is_sweet: bool
    kept_c: float
    usual_c: float


@lru_cache(maxsize=4096)
def _kept(said: str, kind_or_name: str) -> tuple[KeptAt, KeptAt]:
    """Return where a bottle is kept, and where its kind usually is."""
    usual = reference.usually_kept(reference.ingredient(kind_or_name))
    return (reference.kept_at(said)._replace(source="stock says so") if said else usual), usual


def _goes_on_top(item: BottleLine, method: Sequence[MethodStep]) -> bool:
    """Return whether a line goes into the glass, not into what is mixed before: no tin is closed on bubbles."""
    if item.line.role is not Role.POUR:
        return item.line.role in _IN_THE_GLASS or item.volume_ml > 0
    if not any(step.verb in mixing.MIXED_APART for step in method):
        return False
    return reference.holds_gas(reference.ingredient(item.stock.kind or item.stock.name))


def _amount_of(item: BottleLine) -> _Poured:
    sweet = item.mass_g > 0 and (item.stock.sugar is not None or drink_class(item.stock) == "sweetener")
    kept, usual = _kept(item.stock.kept, item.stock.kind or item.stock.name)
    return _Poured(item.bottled, item.volume_ml, item.mass_g, sweet, kept.celsius, usual.celsius)


def _liquid(item: _Poured) -> Liquid:
    if item.mass_g > 0:
        return mixing.sucrose_solid(item.mass_g) if item.is_sweet else Liquid(solids_g=item.mass_g)
    return poured(item.bottled, item.volume_ml) if item.bottled is not None else Liquid()


def _label_off_by(item: _Poured) -> float:
    """Return how far the strength of what a line pours may lie off, in % vol."""
    contents = item.bottled.contents if item.bottled is not None else ()
    return next((content.tolerance.amount for content in contents if content.what == "strength"), 0.0)


def _make(lines: Sequence[BottleLine], spec: Spec, vessel: Vessel | None) -> Made:
    drunk = [item for item in lines if item.volume_ml or item.mass_g]
    large_cube_g = (vessel.ice if vessel else USUAL_PIECES).large_cube_g
    return _made(
        tuple(_amount_of(item) for item in drunk if not item.on_top),
        tuple(_amount_of(item) for item in drunk if item.on_top),
        spec.method,
        spec.strain,
        spec.ice,
        large_cube_g if spec.ice == "large cube" else None,
        spec.melt_ratio,
        spec.melt_by_weight,
    )


@lru_cache(maxsize=8192)
def _made(
    mixed: tuple[_Poured, ...],
    after: tuple[_Poured, ...],
    method: tuple[MethodStep, ...],
    strain: str,
    ice: str,
    ice_g: float | None,
    melt_ratio: float | None,
    by_weight: bool,
) -> Made:
    """Return the drink; the same pours and method make the same one, whatever a price or an allergen list says.

    Args:
        mixed: What is mixed.
        after: What goes into the glass afterwards.
        method: The steps.
        strain: As in `Spec`.
        ice: The ice in the glass; empty for none.
        ice_g: What a large cube weighs; None for other ice.
        melt_ratio: The house's own; None: worked out.
        by_weight: Whether that is a ratio of weights; it is turned into one of volumes by the density of the mix.
    """
    steps = tuple(Step(step.verb, step.seconds) for step in method)
    liquids, tops = [_liquid(item) for item in mixed], [_liquid(item) for item in after]
    if melt_ratio is not None and by_weight:
        mix = mixing.mix(liquids if mixing.is_worked_on_ice(steps) else (*liquids, *tops))
        melt_ratio = (
            melt_ratio * mix.mass_g / (WATER_G_PER_ML * mix.volume_ml) if mix.volume_ml > 0.0 else 0.0
        )
    poured = (*mixed, *after)
    return mixing.make(
        liquids,
        tops,
        steps,
        ice=ice or "none",
        measured_ratio=melt_ratio,
        labels_off_by=[_label_off_by(item) for item in poured],
        kept_c=[item.kept_c for item in poured],
        usual_c=[item.usual_c for item in poured],
        ice_g=ice_g,
        held_back_ml=held_back_ml(method, strain),
    )


def _foam_ml(lines: Sequence[BottleLine], spec: Spec) -> float:
    """Return the air in the foam."""
    froths = [
        Froth(
            known.id if (known := reference.ingredient(item.stock.kind or item.stock.name)) else "",
            item.line.role,
            item.volume_ml,
            next((content.amount for content in item.contents if content.what == "fat"), 0.0),
        )
        for item in lines
        if item.volume_ml > 0
    ]
    return foam_ml(spec.method, froths)


_NEAR_ENOUGH_ML = 1e-4
_MOST_ROUNDS = 20


def _solve_top(lines: list[BottleLine], spec: Spec, vessel: Vessel) -> float | None:
    """Fill the "top with" lines, in place, with what reaches the wash line; return the room that was found.

    What is topped up melts some of the ice itself, so the room is found in rounds, each closing most of what is left.
    """
    open_lines = [index for index, item in enumerate(lines) if item.line.measure.unit == "top"]
    if not open_lines:
        return None
    reached_ml = liquid_to_line_ml(_foam_ml(lines, spec), vessel, spec.ice or "none")
    room_ml = 0.0
    for _ in range(_MOST_ROUNDS):
        missing_ml = reached_ml - _make(lines, spec, vessel).volume_ml.value
        if abs(missing_ml) < _NEAR_ENOUGH_ML or room_ml + missing_ml <= 0.0:
            break
        room_ml += missing_ml
        for index in open_lines:
            lines[index] = replace(lines[index], volume_ml=room_ml / len(open_lines))
    return room_ml


def poured_into(
    lines: list[BottleLine], spec: Spec, vessel: Vessel | None
) -> tuple[Made, InGlass | None, float | None]:
    """Return the drink these lines make, how it sits in its glass, and the room found for "top with".

    Args:
        lines: With their bottles; in place, "top with" lines are filled and it is marked what goes on top.
        spec: Whose method, strain and ice hold.
        vessel: The glass; None where it is unknown, and then nothing is topped.
    """
    for index, item in enumerate(lines):
        if item.on_top != _goes_on_top(item, spec.method):
            lines[index] = replace(item, on_top=not item.on_top)
    top_room_ml = _solve_top(lines, spec, vessel) if vessel else None
    made = _make(lines, spec, vessel)
    if vessel is None:
        return made, None, None
    fit = in_glass(made.volume_ml.value, made.left_ml, _foam_ml(lines, spec), vessel, spec.ice or "none")
    return made, fit, top_room_ml


def _serve(lines: list[BottleLine], spec: Spec, vessel: Vessel | None, region: Region) -> Serve:
    made, fit, top_room_ml = poured_into(lines, spec, vessel)
    serve = Serve(
        lines=tuple(lines),
        made=made,
        declaration=regions.declare(
            region.regime, [carried(item.stock, item.volume_ml) for item in lines], made.volume_ml.low
        ),
        descriptor=None,
        cautions=(),
        fit=fit,
        top_room_ml=top_room_ml,
        serves=spec.serves,
    )
    strength = made.served_abv_percent
    most = max(strength.value, serve.at_most_percent)
    descriptor = region.descriptor(min(strength.low, most), strength.value, most)
    alcohol = made.ethanol_ml > 0 and not (descriptor is not None and descriptor.alcohol_free)
    cautions = drink_cautions([(item.line, item.stock) for item in lines], spec, alcohol=alcohol)
    return replace(serve, descriptor=descriptor, cautions=cautions)


def made_otherwise(serve: Serve, spec: Spec, vessel: Vessel | None, region: Region) -> Serve:
    """Return the same pours made by another method, on other ice or in another glass; "top with" is found anew.

    Args:
        serve: The drink as it is.
        spec: Whose method, strain, ice and melt hold.
        vessel: The glass.
        region: The rules.
    """
    lines = [
        replace(item, volume_ml=0.0) if item.line.measure.unit == "top" else item for item in serve.lines
    ]
    return _serve(lines, spec, vessel, region)


def work_out_drink(spec: Spec, bottles: Bottles, vessel: Vessel | None, region: Region) -> DrinkFacts | None:
    """Return a drink worked out with tonight's bottles and the region's rules.

    Lines whose name fills no bottle make the whole drink unknowable: then the answer is None, and the caller has
    already told the user why. A swap whose line cannot be filled is left out in the same way.

    Raises:
        ValueError: A label contradicts itself; problems of that kind are found before this is called.
    """
    lines: list[BottleLine] = []
    for line in spec.lines:
        stock = bottles.find(line.name)
        if stock is None:
            return None
        lines.append(_bottle_line(line, stock))
    swaps: list[SwapFacts] = []
    changes: list[tuple[int, BottleLine]] = []
    for swap in spec.swaps:
        stock = bottles.find(swap.line.name)
        index = _swapped_line(spec, swap)
        if stock is None or index is None:
            continue
        changes.append((index, _bottle_line(_in_place_of(lines[index].line, swap.line), stock)))
        swaps.append(SwapFacts(swap, _serve(_changed(lines, changes[-1:]), spec, vessel, region)))
    combined = [
        CombinedFacts(of, _serve(_changed(lines, [changes[at] for at in of]), spec, vessel, region))
        for of in islice(_combinations([index for index, _ in changes]), MOST_COMBINED)
    ]
    return DrinkFacts(spec, vessel, _serve(lines, spec, vessel, region), tuple(swaps), tuple(combined))


def _changed(lines: Sequence[BottleLine], changes: Sequence[tuple[int, BottleLine]]) -> list[BottleLine]:
    made = list(lines)
    for index, line in changes:
        made[index] = line
    return made


def _combinations(replaced: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Yield the swaps that can be made together, by position, those of fewer swaps first.

    Args:
        replaced: For each swap, the position of the line it replaces: two swaps of one line exclude each other.
    """
    by_line: dict[int, list[int]] = {}
    for swap, line in enumerate(replaced):
        by_line.setdefault(line, []).append(swap)
    for count in range(2, len(by_line) + 1):
        for alternatives in combinations(by_line.values(), count):
            yield from (tuple(sorted(of)) for of in product(*alternatives))


def _in_place_of(replaced: Line, line: Line) -> Line:
    """Return a swap's line as it stands in the drink: with the measure of the line it replaces if it has none.

    A rim or a garnish adds no volume: in place of what is drunk it is counted whole, or strength would be understated.
    """
    is_counted = line.role in ON_THE_GLASS and replaced.role not in ON_THE_GLASS
    return replace(
        line,
        role=replaced.role if is_counted else line.role,
        measure=line.measure if line.measure.text else replaced.measure,
    )


def _swapped_line(spec: Spec, swap: Swap) -> int | None:
    """Return the position of the line a swap replaces; reading has told of swaps that replace none."""
    wanted = name_key(swap.replaces)
    return next((index for index, line in enumerate(spec.lines) if name_key(line.name) == wanted), None)
