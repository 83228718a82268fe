"""How much ice there is in a glass: how loose ice packs and how it gives way, and what a cube weighs."""

from collections.abc import Mapping

ICE_KG_PER_M3 = 917.0
"""Density of solid ice at 0 C."""

PACKED_M3_PER_T: Mapping[str, float] = {"cubed": 1.8, "cracked": 1.6, "crushed": 1.45}
"""Room of a tonne of loose ice. Source: FAO Fisheries Technical Papers 331 (1992) and 436 (2003), stowage
rates, from memory: tube ice, nearest to cubes, 1.6 to 2.0 (middle taken), crushed block 1.4 to 1.5 (middle
taken); cracked ice is put at the dense end of cubes."""

USUAL_FILL = 0.6
"""Share of a packed glass of ice that a drink is usually served with, so that it has its room. A glass packed
to the rim takes more: see `packed_share`. Common practice, no published source."""

LEAST_FILL: Mapping[str, float] = {"cubed": 0.3, "cracked": 0.3, "crushed": 0.4}
"""The same where the drink needs the room: a bartender puts in less ice, down to this and no further. Three or four
cubes in a highball; crushed ice has to reach the surface. Common practice, no published source."""

CUBE_MM = 25.0
"""Side of a cube of ordinary ice. Common practice, no published source: machines make them of 20 to 32 mm."""

LARGE_CUBE_MM = 45.0
"""Side of one large cube. Common practice, no published source: moulds and cut blocks of 45 to 50 mm."""

ICE_KINDS = ("none", "cubed", "large cube", "cracked", "crushed")

_G_PER_MM3 = ICE_KG_PER_M3 * 1e-6


def cube_g(side_mm: float) -> float:
    """Return the mass of a cube of ice."""
    return _G_PER_MM3 * side_mm**3


def cube_mm(mass_g: float) -> float:
    """Return the side of a cube of ice: the inverse of `cube_g`."""
    return float((mass_g / _G_PER_MM3) ** (1.0 / 3.0))


LARGE_CUBE_G = cube_g(LARGE_CUBE_MM)


def packed_share(ice: str) -> float:
    """Return the share of a glass that loose ice packed to the level of the drink takes, 0 to 1.

    Raises:
        ValueError: No such kind of loose ice.
    """
    if ice == "none":
        return 0.0
    if ice not in PACKED_M3_PER_T:
        raise ValueError(
            f'no kind of ice is called "{ice}"' if ice not in ICE_KINDS else f"{ice} is not loose"
        )
    return 1000.0 / PACKED_M3_PER_T[ice] / ICE_KG_PER_M3


def usual_share(ice: str) -> float:
    """Return the share of the glass, up to the surface of the drink, that is loose ice as usually served.

    Raises:
        ValueError: No such kind of loose ice.
    """
    return packed_share(ice) * USUAL_FILL


def least_share(ice: str) -> float:
    """Return the same where the drink needs the room and there is as little ice as there may be.

    Raises:
        ValueError: No such kind of loose ice.
    """
    return packed_share(ice) * LEAST_FILL.get(ice, 0.0)
