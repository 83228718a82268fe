"""How much ice must melt, and how much at most can, by the balance of heat.

Heat comes from the drink, the vessel and, below 0 C, the ice itself; melting takes it up. The heat of mixing
is left out (it adds up to a tenth, from memory), as is the water that clings to wet ice (0 to 10 g a drink,
common practice).
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from menugen.mixing import oiml
from menugen.mixing.liquid import Liquid

ICE_MELTING_J_PER_G = 334.0
"""Heat of fusion. Source: FAO, ice in fisheries, 80 kcal/kg; textbook values run from 333.6 to 334.7
kJ/kg."""

ICE_J_PER_G_K = 2.10
"""Heat capacity of ice near 0 C. Source: textbook appendix, thermodynamic properties of water and ice."""

STEEL_J_PER_G_K = 0.5
"""Heat capacity of stainless steel; from memory."""

SUGAR_J_PER_G_K = 1.8
"""Heat a gram of dissolved sugar or acid takes up; computed from 3.0 J/gK of a 50 Brix syrup (secondary
source)."""

FAT_J_PER_G_K = 2.0
"""From memory."""

SOLIDS_J_PER_G_K = 1.5
"""From memory."""

_HEAT_CAPACITY = ((0.0, 4.218), (0.1, 4.33), (0.25, 4.29), (0.6, 3.48), (0.8, 2.92), (1.0, 2.34))
"""J/gK of ethanol and water by the ethanol's share of mass. Source: Perry's Chemical Engineers' Handbook, page 2-184,
specific heats of aqueous solutions, as reproduced on a public page; means of its values at 3 and 23 C, which a drink
cools between. Water: 4.218 J/gK at 0 C, textbook appendix."""

_FREEZING_BY_VOLUME = (
    (0.0, 0.0), (0.1, -4.0), (0.2, -9.0), (0.3, -15.0), (0.4, -23.0), (0.5, -32.0), (0.6, -37.0),
)  # fmt: skip
"""C at which a mixture of ethanol and water begins to freeze, by share of volume. Source: Engineering ToolBox, "Ethanol
Freeze Protected Water Solutions"."""

_FREEZING = tuple((oiml.mass_fraction(share), celsius) for share, celsius in _FREEZING_BY_VOLUME)


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a drink is made under. Masses go with the mix, so that doubling every pour changes no strength.

    Attributes:
        ingredient_c: Temperature of what is poured, -30 to 100 C; the others likewise.
        ice_c: Temperature of the ice, at most 0 C. 0 is ice that stands wet in the well.
        vessel_c: Temperature of the tin or mixing glass.
        ice_g_per_mix_ml: Ice that is worked with: 150 g to a drink of 100 ml.
        vessel_g_per_mix_ml: Steel that is cooled along: a tin of 400 g to a drink of 100 ml.

    The temperatures and masses are common practice, no published source.
    """

    ingredient_c: float = 20.0
    ice_c: float = 0.0
    vessel_c: float = 20.0
    ice_g_per_mix_ml: float = 1.5
    vessel_g_per_mix_ml: float = 4.0

    def __post_init__(self) -> None:
        temperatures = (self.ingredient_c, self.ice_c, self.vessel_c)
        if not (all(-30.0 <= celsius <= 100.0 for celsius in temperatures) and self.ice_c <= 0.0):
            raise ValueError("temperatures lie between -30 and 100 C, and ice is not above 0 C")
        if not (0.0 <= self.ice_g_per_mix_ml < 100.0 and 0.0 <= self.vessel_g_per_mix_ml < 100.0):
            raise ValueError("masses are 0 or more, and less than 100 g to a ml")


STANDARD = Conditions()


def heat_capacity_j_per_k(liquid: Liquid) -> float:
    """Return the heat that warms all of the liquid by 1 C."""
    return (
        (liquid.ethanol_g + liquid.water_g) * _between(_HEAT_CAPACITY, liquid.ethanol_mass_fraction)
        + (liquid.sugar_g + liquid.acid_g) * SUGAR_J_PER_G_K
        + liquid.fat_g * FAT_J_PER_G_K
        + liquid.solids_g * SOLIDS_J_PER_G_K
    )


def mean_c(liquids: Sequence[Liquid], celsius: Sequence[float]) -> float:
    """Return the temperature that liquids of these temperatures have together, each weighed by the heat it holds.

    Args:
        liquids: What is put together.
        celsius: The temperature of each.

    Returns:
        The temperature; 0 where there is nothing.
    """
    held = [heat_capacity_j_per_k(liquid) for liquid in liquids]
    whole = math.fsum(held)
    if whole == 0.0:
        return 0.0
    # fsum rounds once, at the end: the order of the pours cannot change a bit of the result.
    return math.fsum(one * degrees for one, degrees in zip(held, celsius, strict=True)) / whole


def freezing_c(ethanol_mass_fraction: float) -> float:
    """Return the temperature at which ethanol and water begin to freeze; no drink on ice is colder.

    Sugar, which lowers it by about 1 C in a sweet drink, is left out.

    Args:
        ethanol_mass_fraction: 0 to 1; above 60 % vol the value there, which no drink on ice stays above.
    """
    return _between(_FREEZING, ethanol_mass_fraction)


def floor_melt_g(mix: Liquid, conditions: Conditions = STANDARD) -> float:
    """Return the melt water that brings the mix just to 0 C, the vessel left out.

    0 where the pours, or very cold ice, need no melting to get there.
    """
    ice_g = conditions.ice_g_per_mix_ml * mix.volume_ml
    heat_j = heat_capacity_j_per_k(mix) * conditions.ingredient_c + ice_g * ICE_J_PER_G_K * conditions.ice_c
    return min(ice_g, max(0.0, heat_j / ICE_MELTING_J_PER_G))


def ceiling_melt_g(mix: Liquid, conditions: Conditions = STANDARD) -> float:
    """Return the melt water once drink, vessel and ice are all at the thinned drink's freezing line.

    Never below the floor, and never more than the ice there is.
    """
    ice_g = conditions.ice_g_per_mix_ml * mix.volume_ml
    vessel_j_per_k = conditions.vessel_g_per_mix_ml * mix.volume_ml * STEEL_J_PER_G_K
    mix_j_per_k = heat_capacity_j_per_k(mix)
    spirit_g = mix.ethanol_g + mix.water_g

    def surplus_g(melt_g: float) -> float:
        """Return the ice that the heat could melt beyond `melt_g`; it falls as `melt_g` grows."""
        thinned_g = spirit_g + melt_g
        final_c = freezing_c(mix.ethanol_g / thinned_g) if thinned_g > 0.0 else 0.0
        heat_j = (
            mix_j_per_k * (conditions.ingredient_c - final_c)
            + vessel_j_per_k * (conditions.vessel_c - final_c)
            + ice_g * ICE_J_PER_G_K * (conditions.ice_c - final_c)
        )
        return heat_j / (ICE_MELTING_J_PER_G + ICE_J_PER_G_K * final_c) - melt_g

    floor_g = floor_melt_g(mix, conditions)
    low, high = floor_g, ice_g
    if high - low <= 0.0 or surplus_g(high) >= 0.0:
        return max(low, high)
    if surplus_g(low) <= 0.0:
        return low
    for _ in range(24):
        middle = (low + high) / 2.0
        if surplus_g(middle) > 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _between(points: tuple[tuple[float, float], ...], x: float) -> float:
    """Return the value at x on straight lines between points; the last value beyond the last."""
    at = bisect_right(points, (x, float("inf")))
    if at == 0:
        return points[0][1]
    if at == len(points):
        return points[-1][1]
    (x0, y0), (x1, y1) = points[at - 1], points[at]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
