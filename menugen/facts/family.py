"""A drink beside the others of its family, worked out by the same engine in the same setting."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from menugen import reference
from menugen.facts.bottles import Bottles
from menugen.facts.event import Setting
from menugen.facts.glasses import find_vessel, pieces_of
from menugen.facts.liquids import strength_is_missing
from menugen.facts.serve import DrinkFacts, Serve, work_out_drink
from menugen.facts.taste import taste_of
from menugen.names import name_key
from menugen.problems import Place
from menugen.records import Line, Role, Spec, StockLine

EACH_ML: Mapping[str, float] = {"egg_white": 32.0, "egg_yolk": 16.5, "whole_egg": 48.0}
"""One of them, where no bottle of the house says: 33, 17 and 50 g of a large egg at about 1.03 g/ml. USDA SR, household
weights, from memory. For comparison only."""

EACH_G: Mapping[str, float] = {"sugar cube": 4.0}
"""The same for pieces that dissolve. Common practice, no published source."""

_NOT_DRUNK = (Role.RIM, Role.GARNISH)
_DRY = frozenset(
    {"leaf", "leaves", "sprig", "sprigs", "mint", "clove", "cloves", "pod", "pods", "bean", "beans"}
)


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A drink on the plane of sugar and acid.

    Attributes:
        slug: Of its spec.
        name: As guests read it.
        sugar_g_per_l: As served.
        acid_g_per_l: As served.
        strength_percent: As served, % vol.
        stand_ins: Names that no bottle of the house fills, or whose label states no strength: usual values of
            their kind stood in for them. Good enough to compare by, and for nothing else.
    """

    slug: str
    name: str
    sugar_g_per_l: float
    acid_g_per_l: float
    strength_percent: float
    stand_ins: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FamilyPlane:
    """A drink and its family.

    Attributes:
        family: As the spec says.
        here: The drink itself.
        others: The rest of the family, from the driest to the sweetest.
        left_out: Names of drinks of the family that could not be worked out.
    """

    family: str
    here: Neighbour
    others: tuple[Neighbour, ...]
    left_out: tuple[str, ...]

    @property
    def sweeter_than(self) -> int:
        """How many of the others hold less sugar in a litre."""
        return sum(other.sugar_g_per_l < self.here.sugar_g_per_l for other in self.others)

    @property
    def sharper_than(self) -> int:
        """How many of the others hold less acid in a litre."""
        return sum(other.acid_g_per_l < self.here.acid_g_per_l for other in self.others)


def family_plane(facts: DrinkFacts, setting: Setting, library: Iterable[Spec]) -> FamilyPlane | None:
    """Return a drink beside its family; None where its spec names no family.

    Args:
        facts: The drink, worked out.
        setting: The house, bottles and rules that all are worked out with.
        library: Drinks from elsewhere to set beside it; where the house has a spec of the same slug, that counts.
    """
    family = name_key(facts.spec.family)
    if not family:
        return None
    every = {spec.slug: spec for spec in library} | dict(setting.house.specs)
    others, left_out = [], []
    for spec in every.values():
        if spec.slug == facts.spec.slug or name_key(spec.family) != family:
            continue
        neighbour = _neighbour(spec, setting)
        if neighbour is None:
            left_out.append(spec.name)
        else:
            others.append(neighbour)
    others.sort(key=lambda other: (other.sugar_g_per_l, other.slug))
    return FamilyPlane(
        facts.spec.family,
        _placed(facts.spec, facts.serve, setting, ()),
        tuple(others),
        tuple(sorted(left_out)),
    )


def _placed(spec: Spec, serve: Serve, setting: Setting, stand_ins: tuple[str, ...]) -> Neighbour:
    taste = taste_of(serve, setting.region.energy_factors)
    return Neighbour(
        spec.slug,
        spec.name,
        taste.sugar_g_per_l.figure.value,
        taste.acid_g_per_l.figure.value,
        taste.strength.figure.value,
        stand_ins,
    )


def _neighbour(spec: Spec, setting: Setting) -> Neighbour | None:
    """Return a drink worked out with the house's bottles, else usual values; None where that cannot be done."""
    by_name, stand_ins, lines = dict(setting.bottles.by_name), [], []
    for line in spec.lines:
        if line.role in _NOT_DRUNK:
            continue
        stock = setting.bottles.find(line.name)
        if stock is None and line.measure.count is not None and _gives_no_juice(line):
            continue
        if stock is None or strength_is_missing(stock) or _size_is_missing(line, stock):
            stock = _stand_in(line, stock)
            if stock is None:
                return None
            stand_ins.append(line.name)
            by_name[name_key(line.name)] = stock
        lines.append(line)
    vessel = find_vessel(spec.glass, setting.house.glasses, pieces_of(setting.house))
    if not lines or (vessel is None and any(line.measure.unit == "top" for line in lines)):
        return None
    tonight = {
        name: bottle
        for name, bottle in setting.bottles.tonight.items()
        if name not in map(name_key, stand_ins)
    }
    try:
        facts = work_out_drink(
            replace(spec, lines=tuple(lines), swaps=()), Bottles(by_name, tonight), vessel, setting.region
        )
    except ValueError:  # a label that contradicts itself; its own drinks are told of it
        return None
    return None if facts is None else _placed(spec, facts.serve, setting, tuple(dict.fromkeys(stand_ins)))


def _gives_no_juice(line: Line) -> bool:
    """Return whether a counted thing adds nothing to drink: leaves and spices do not, pressed fruit does."""
    return name_key(line.name).split()[-1] in _DRY


def _size_is_missing(line: Line, stock: StockLine) -> bool:
    known = reference.ingredient(stock.kind or stock.name)
    sized = known is not None and known.id in EACH_ML
    return line.measure.count is not None and sized and not (stock.each_ml or stock.each_g)


def _stand_in(line: Line, stock: StockLine | None) -> StockLine | None:
    """Return a bottle of the usual kind for a name, or None where no kind of that name is known."""
    known = reference.ingredient((stock.kind or stock.name) if stock else line.name)
    each_g = EACH_G.get(name_key(line.name))
    if known is None and each_g is None:
        return None
    each_ml = EACH_ML.get(known.id) if known is not None else None
    if line.measure.count is not None and each_ml is None and each_g is None:
        return None
    abv = known.abv_percent if known is not None else None
    if known is not None and abv is None and reference.is_alcoholic_kind(line.name):
        return None
    if stock is not None:
        return replace(
            stock,
            abv_percent=stock.abv_percent if stock.abv_percent is not None else abv,
            each_ml=stock.each_ml or each_ml,
        )
    return StockLine(
        name=line.name,
        kind=known.id if known is not None else "",
        each_ml=each_ml,
        each_g=each_g,
        abv_percent=abv,
        cautions=(),
        place=Place("the library"),
    )
