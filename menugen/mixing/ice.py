"""How much of a glass the ice in it takes."""

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

LARGE_CUBE_SHARE = 0.45
"""Share of what is in the glass that one large cube takes: a cube of 45 mm stands on 20 of the 41 to 50 cm2 of an
old-fashioned glass, and ordinary drinks do not reach over it. Computed; the size is common practice, no published
source."""

ICE_KINDS = ("none", "cubed", "large cube", "cracked", "crushed")


def packed_share(ice: str) -> float:
    """Return the share of a glass that ice packed to the level of the drink takes, 0 to 1.

    Raises:
        ValueError: No such kind of ice.
    """
    _check(ice)
    if ice == "none":
        return 0.0
    if ice == "large cube":
        return LARGE_CUBE_SHARE
    return 1000.0 / PACKED_M3_PER_T[ice] / ICE_KG_PER_M3


def usual_share(ice: str) -> float:
    """Return the share of the glass, up to the surface of the drink, that is ice as usually served.

    Raises:
        ValueError: No such kind of ice.
    """
    share = packed_share(ice)
    return share if ice == "large cube" else share * USUAL_FILL


def _check(ice: str) -> None:
    if ice not in ICE_KINDS:
        raise ValueError(f'no kind of ice is called "{ice}"')
