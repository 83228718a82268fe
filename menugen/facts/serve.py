"""One drink worked out, as written and with each of its swaps."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from menugen import mixing, reference, regions
from menugen.facts.bottles import Bottles, name_key
from menugen.facts.cautions import drink_cautions
from menugen.facts.glasses import Vessel
from menugen.facts.in_glass import Froth, InGlass, foam_ml, in_glass, left_behind_ml, room_for_top_ml
from menugen.facts.liquids import BottledLiquid, Content, bottled_stock, poured, strength_is_missing
from menugen.mixing import Liquid, Made, Step
from menugen.mixing.oiml import WATER_G_PER_ML
from menugen.records import Line, MethodStep, Role, Spec, StockLine, Swap
from menugen.regions import Carried, Declaration, Descriptor, Region

_AFTER_THE_ICE = (Role.TOP, Role.FLOAT, Role.INSIDE, Role.RINSE)
"""Roles that meet the drink in the glass. A rinse is counted whole: what is thrown out differs by hand, and strength
must never be understated."""

_ON_THE_GLASS = (Role.RIM, Role.GARNISH)
"""Roles that add allergens and cost and no volume."""

LEAST_TOP_ML = 5.0
"""Under this a "top with" line is told to the user as having no room. Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class BottleLine:
    """A line of a spec with the bottle that fills it.

    Attributes:
        line: As written.
        stock: What is poured or put on.
        volume_ml: What it adds to the drink; 0 for rims, garnishes and counted things without a volume.
        mass_g: For solids measured by weight; 0 otherwise.
        contents: What is dissolved in it and where that is known from; empty where it adds nothing.
        bottled: A litre of what is in the bottle; None where it adds no liquid.
    """

    line: Line
    stock: StockLine
    volume_ml: float
    mass_g: float
    contents: tuple[Content, ...]
    bottled: BottledLiquid | None


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
        """What comes into the glass, ice left out; all that was made where the glass is unknown."""
        return self.fit.liquid_ml if self.fit is not None else self.made.volume_ml.value

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


@dataclass(frozen=True, slots=True)
class DrinkFacts:
    """One drink worked out.

    Attributes:
        spec: As written.
        vessel: The glass; None where no glass of that name is known.
        serve: As written.
        swaps: With each swap made, one at a time.
    """

    spec: Spec
    vessel: Vessel | None
    serve: Serve
    swaps: tuple[SwapFacts, ...]


def _amount(line: Line, stock: StockLine) -> tuple[float, float]:
    """Return (millilitres, grams) that a line adds; counted things come to what stock says one is."""
    measure = line.measure
    if line.role in _ON_THE_GLASS:
        return 0.0, 0.0
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


def _kind(stock: StockLine) -> str:
    """Return the class of drink a bottle belongs to, "spirit" or "beer"; empty where not known."""
    known = reference.ingredient(stock.kind or stock.name)
    return known.kind if known is not None else ""


def _carried(item: BottleLine) -> Carried:
    """Return what a line brings by way of allergens.

    What sits on the glass adds no known volume, so a sulphite figure of its own cannot be summed: it is left out, and
    the rule for "no figure" declares it.
    """
    stock = item.stock
    return Carried(
        substances=frozenset(filter(None, map(regions.substance_id, stock.contains or ()))),
        may_contain=frozenset(filter(None, map(regions.substance_id, stock.may_contain))),
        distilled_from=frozenset(filter(None, map(regions.substance_id, stock.distilled_from))),
        sulphites_mg_per_l=stock.sulphites_mg_per_l if item.volume_ml > 0 else None,
        volume_ml=item.volume_ml,
        kind=_kind(stock),
    )


class _Poured(NamedTuple):
    """What a line adds to the glass, apart from its name: all that physics asks of it."""

    bottled: BottledLiquid | None
    volume_ml: float
    mass_g: float
    is_sweet: bool


def _amount_of(item: BottleLine) -> _Poured:
    sweet = item.mass_g > 0 and (item.stock.sugar is not None or _kind(item.stock) == "sweetener")
    return _Poured(item.bottled, item.volume_ml, item.mass_g, sweet)


def _liquid(item: _Poured) -> Liquid:
    if item.mass_g > 0:
        return mixing.sucrose_solid(item.mass_g) if item.is_sweet else Liquid(solids_g=item.mass_g)
    return poured(item.bottled, item.volume_ml) if item.bottled is not None else Liquid()


def _label_off_by(item: _Poured) -> float:
    """Return how far the strength of what a line pours may lie off, in % vol."""
    contents = item.bottled.contents if item.bottled is not None else ()
    return next((content.tolerance.amount for content in contents if content.what == "strength"), 0.0)


def _make(lines: Sequence[BottleLine], spec: Spec) -> Made:
    drunk = [item for item in lines if item.volume_ml or item.mass_g]
    return _made(
        tuple(_amount_of(item) for item in drunk if item.line.role is Role.POUR),
        tuple(_amount_of(item) for item in drunk if item.line.role in _AFTER_THE_ICE),
        spec.method,
        spec.ice,
        spec.melt_ratio,
        spec.melt_by_weight,
    )


@lru_cache(maxsize=8192)
def _made(
    mixed: tuple[_Poured, ...],
    after: tuple[_Poured, ...],
    method: tuple[MethodStep, ...],
    ice: str,
    melt_ratio: float | None,
    by_weight: bool,
) -> Made:
    """Return the drink; the same pours and method make the same one, whatever a price or an allergen list says.

    Args:
        mixed: What meets the ice.
        after: What goes in afterwards.
        method: The steps.
        ice: The ice in the glass; empty for none.
        melt_ratio: The house's own; None: worked out.
        by_weight: Whether that is a ratio of weights; it is turned into one of volumes by the density of the mix.
    """
    liquids = [_liquid(item) for item in mixed]
    if melt_ratio is not None and by_weight:
        mix = mixing.mix(liquids)
        melt_ratio = (
            melt_ratio * mix.mass_g / (WATER_G_PER_ML * mix.volume_ml) if mix.volume_ml > 0.0 else 0.0
        )
    return mixing.make(
        liquids,
        [_liquid(item) for item in after],
        tuple(Step(step.verb, step.seconds) for step in method) or (Step("build", None),),
        ice=ice or "none",
        measured_ratio=melt_ratio,
        labels_off_by=[_label_off_by(item) for item in (*mixed, *after)],
    )


def _left_and_foam_ml(lines: Sequence[BottleLine], spec: Spec, made: Made) -> tuple[float, float]:
    """Return what the method leaves behind, and the air in the foam."""
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
    mixed_ml = made.mix.volume_ml + made.melt_g.value
    return left_behind_ml(spec.method, spec.strain, mixed_ml), foam_ml(spec.method, froths)


def _solve_top(lines: list[BottleLine], spec: Spec, vessel: Vessel) -> float | None:
    """Fill the "top with" lines, in place, with what reaches the wash line; return the room that was found."""
    open_lines = [index for index, item in enumerate(lines) if item.line.measure.unit == "top"]
    if not open_lines:
        return None
    so_far = _make(lines, spec)
    left_ml, air_ml = _left_and_foam_ml(lines, spec, so_far)
    room_ml = room_for_top_ml(so_far.volume_ml.value, left_ml, air_ml, vessel, spec.ice or "none")
    for index in open_lines:
        lines[index] = replace(lines[index], volume_ml=room_ml / len(open_lines))
    return room_ml


def poured_into(
    lines: list[BottleLine], spec: Spec, vessel: Vessel | None
) -> tuple[Made, InGlass | None, float | None]:
    """Return the drink these lines make, how it sits in its glass, and the room found for "top with".

    Args:
        lines: With their bottles; "top with" lines are filled in place.
        spec: Whose method, strain and ice hold.
        vessel: The glass; None where it is unknown, and then nothing is topped.
    """
    top_room_ml = _solve_top(lines, spec, vessel) if vessel else None
    made = _make(lines, spec)
    if vessel is None:
        return made, None, None
    left_ml, air_ml = _left_and_foam_ml(lines, spec, made)
    return made, in_glass(made.volume_ml.value, left_ml, air_ml, vessel, spec.ice or "none"), top_room_ml


def _serve(lines: list[BottleLine], spec: Spec, vessel: Vessel | None, region: Region) -> Serve:
    made, fit, top_room_ml = poured_into(lines, spec, vessel)
    strength = made.served_abv_percent
    descriptor = region.descriptor(strength.low, strength.value, strength.high)
    alcohol = made.ethanol_ml > 0 and not (descriptor is not None and descriptor.alcohol_free)
    return Serve(
        lines=tuple(lines),
        made=made,
        declaration=regions.declare(region.regime, [_carried(item) for item in lines], made.volume_ml.low),
        descriptor=descriptor,
        cautions=drink_cautions([(item.line, item.stock) for item in lines], spec, alcohol=alcohol),
        fit=fit,
        top_room_ml=top_room_ml,
        serves=spec.serves,
    )


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
    swaps = []
    for swap in spec.swaps:
        stock = bottles.find(swap.line.name)
        index = _swapped_line(spec, swap)
        if stock is None or index is None:
            continue
        changed = [
            *lines[:index],
            _bottle_line(_in_place_of(lines[index].line, swap.line), stock),
            *lines[index + 1 :],
        ]
        swaps.append(SwapFacts(swap, _serve(changed, spec, vessel, region)))
    return DrinkFacts(spec, vessel, _serve(lines, spec, vessel, region), tuple(swaps))


def _in_place_of(replaced: Line, line: Line) -> Line:
    """Return a swap's line as it stands in the drink: in the replaced line's role, with its measure if it has none."""
    return replace(line, role=replaced.role, measure=line.measure if line.measure.text else replaced.measure)


def _swapped_line(spec: Spec, swap: Swap) -> int | None:
    """Return the position of the line a swap replaces; reading has told of swaps that replace none."""
    wanted = name_key(swap.replaces)
    return next((index for index, line in enumerate(spec.lines) if name_key(line.name) == wanted), None)
