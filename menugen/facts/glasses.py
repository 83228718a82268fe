"""The glass a drink is served in, the house's own or the reference one of that name, and the ice that goes into it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from menugen import mixing, reference
from menugen.names import name_key
from menugen.records import House, HouseGlass

USUAL_WASH_LINE_SHARE = 0.9
"""Share of the brim a glass is filled to where nobody has said. Common practice, no published source."""

BOWLS = ("jug", "punch bowl")
"""What guests share a drink from, among the glasses that every house has; the smallest first."""


class IcePieces(NamedTuple):
    """What one piece of a bar's ice weighs.

    Attributes:
        cube_g: A cube of ordinary ice.
        large_cube_g: One large cube, of which a glass gets one.
    """

    cube_g: float
    large_cube_g: float


USUAL_PIECES = IcePieces(mixing.cube_g(mixing.CUBE_MM), mixing.cube_g(mixing.LARGE_CUBE_MM))
"""Where the house says nothing; reference/data/ice.yaml names the sources."""


def pieces_of(house: House) -> IcePieces:
    """Return the ice of a house, the usual where it has stated none."""
    return IcePieces(
        USUAL_PIECES.cube_g if house.cube_g is None else house.cube_g,
        USUAL_PIECES.large_cube_g if house.large_cube_g is None else house.large_cube_g,
    )


@dataclass(frozen=True, slots=True)
class Vessel:
    """A glass as used.

    Attributes:
        name: The kind, in our spelling ("coupe").
        brim_ml: What it holds to the brim.
        wash_line_ml: What it holds to the wash line.
        profile_mm: (height, inner radius) from the bottom of the bowl up; empty if not measured.
        stem_mm: Height of stem and foot under the bowl.
        foot_mm: Radius of the foot.
        ice: The pieces of ice the bar has for it.
    """

    name: str
    brim_ml: float
    wash_line_ml: float
    profile_mm: tuple[tuple[float, float], ...]
    stem_mm: float
    foot_mm: float
    ice: IcePieces = USUAL_PIECES


def find_vessel(name: str, own: Mapping[str, HouseGlass], ice: IcePieces = USUAL_PIECES) -> Vessel | None:
    """Return the glass of this name, or None where neither the house nor the reference list has one.

    A house that states only the size of a coupe gets the reference coupe's shape, scaled to that size.
    """
    known = reference.glass(name)
    mine = None if not own else {name_key(key): glass for key, glass in own.items()}.get(name_key(name))
    if own and mine is None and known is not None:
        mine = {name_key(key): glass for key, glass in own.items()}.get(name_key(known.name))
    if mine is None:
        if known is None:
            return None
        return Vessel(
            known.name,
            known.brim_ml,
            known.brim_ml * known.wash_line_share,
            known.profile_mm,
            known.stem_mm,
            known.foot_mm,
            ice,
        )
    share = known.wash_line_share if known else USUAL_WASH_LINE_SHARE
    wash_line_ml = mine.wash_line_ml if mine.wash_line_ml is not None else mine.brim_ml * share
    if known is None:
        return Vessel(mine.name, mine.brim_ml, wash_line_ml, mine.profile_mm, 0.0, 0.0, ice)
    if mine.profile_mm:
        return Vessel(
            mine.name, mine.brim_ml, wash_line_ml, mine.profile_mm, known.stem_mm, known.foot_mm, ice
        )
    grow = (mine.brim_ml / known.brim_ml) ** (1 / 3)
    profile = tuple((height * grow, radius * grow) for height, radius in known.profile_mm)
    return Vessel(
        mine.name, mine.brim_ml, wash_line_ml, profile, known.stem_mm * grow, known.foot_mm * grow, ice
    )


def vessel_names(own: Mapping[str, HouseGlass]) -> list[str]:
    """Return every glass name there is, for near misses."""
    return sorted({*own, *reference.glass_names()})
