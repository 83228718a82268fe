"""A liquid as the masses in it, and its volume and strength at 20 C.

The model: sugar and acid take up the same room whatever they are dissolved in; what is left is ethanol and
water, which take up what the alcohol tables say for the ethanol's share of the two. Fat and other solids keep
their own room. Against a fuller model the volume is within 0.3 % (0.1 % vol at 30 % vol).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from menugen.mixing import oiml

SUGAR_ML_PER_G = 0.62
"""Room of a gram of dissolved sugar or fruit acid. ICUMSA SPS-4 gives 0.616 to 0.631 from 5 to 70 Brix; as
the sugar takes the same room before and after mixing, the choice hardly touches a drink."""

FAT_ML_PER_G = 1.071
"""Room of a gram of milk fat at 20 C, computed from the densities of skimmed milk, 12, 20 and 37 % cream
(University of Guelph, Dairy Chemistry and Physics, H. D. Goff, table of fluid dairy densities)."""

SOLIDS_ML_PER_G = 0.65
"""Room of a gram of other solids (protein, milk sugar, salts, fruit). Computed, and from memory in part: 0.63
from skimmed milk of 1.033 g/ml with 9 % solids, 0.67 from egg white of 1.04 g/ml with 12 %."""

DENSITY_SLACK = 0.02
"""How far a stated density may lie under the worked-out one: weights by household measure are good to 2 %."""


@dataclass(frozen=True, slots=True)
class Liquid:
    """What is in a pour, a mix or a drink, in grams. Each is 0 or more.

    Attributes:
        ethanol_g: Pure alcohol.
        water_g: Water.
        sugar_g: Sugars, counted as sucrose.
        acid_g: Fruit acids, counted as citric.
        fat_g: Fat and oil.
        solids_g: Anything else: protein, milk solids, salt, pulp.
        volume_ml: Room it takes at 20 C; worked out.

    Raises:
        ValueError: A mass is below 0 or no number.
    """

    ethanol_g: float = 0.0
    water_g: float = 0.0
    sugar_g: float = 0.0
    acid_g: float = 0.0
    fat_g: float = 0.0
    solids_g: float = 0.0
    volume_ml: float = field(init=False, compare=False)

    def __post_init__(self) -> None:
        masses = (self.ethanol_g, self.water_g, self.sugar_g, self.acid_g, self.fat_g, self.solids_g)
        if not (min(masses) >= 0.0 and math.isfinite(sum(masses))):
            raise ValueError("a liquid cannot hold less than nothing of anything")
        volume_ml = _room_of_dissolved_ml(self.sugar_g, self.acid_g, self.fat_g, self.solids_g)
        spirit_g = self.ethanol_g + self.water_g
        if spirit_g > 0.0:
            volume_ml += spirit_g / oiml.density_at_20_c_g_per_ml(self.ethanol_g / spirit_g)
        object.__setattr__(self, "volume_ml", volume_ml)

    @property
    def mass_g(self) -> float:
        """All of it together."""
        return self.ethanol_g + self.water_g + self.sugar_g + self.acid_g + self.fat_g + self.solids_g

    @property
    def ethanol_ml(self) -> float:
        """Pure alcohol in millilitres at 20 C: what units of alcohol are counted from."""
        return self.ethanol_g / oiml.ETHANOL_G_PER_ML

    @property
    def abv_percent(self) -> float:
        """Strength in % vol at 20 C; 0 for an empty liquid."""
        return 100.0 * self.ethanol_ml / self.volume_ml if self.volume_ml > 0.0 else 0.0

    @property
    def ethanol_mass_fraction(self) -> float:
        """Ethanol's share of ethanol and water, by mass, 0 to 1; 0 where there is neither."""
        spirit_g = self.ethanol_g + self.water_g
        return self.ethanol_g / spirit_g if spirit_g > 0.0 else 0.0


def water(mass_g: float) -> Liquid:
    """Return plain water, as from melted ice."""
    return Liquid(water_g=mass_g)


def sucrose_solid(mass_g: float) -> Liquid:
    """Return dry sugar; in the drink it takes the room of dissolved sugar."""
    return Liquid(sugar_g=mass_g)


def mix(liquids: Iterable[Liquid]) -> Liquid:
    """Return all of them together. Masses add; the volume is worked out anew, so it may shrink a little."""
    parts = tuple(liquids)
    # fsum rounds once, at the end: the order of the pours cannot change a bit of the result.
    return Liquid(
        math.fsum(part.ethanol_g for part in parts),
        math.fsum(part.water_g for part in parts),
        math.fsum(part.sugar_g for part in parts),
        math.fsum(part.acid_g for part in parts),
        math.fsum(part.fat_g for part in parts),
        math.fsum(part.solids_g for part in parts),
    )


def scaled(liquid: Liquid, factor: float) -> Liquid:
    """Return so many times the liquid; `factor` is 0 or more."""
    return Liquid(
        liquid.ethanol_g * factor,
        liquid.water_g * factor,
        liquid.sugar_g * factor,
        liquid.acid_g * factor,
        liquid.fat_g * factor,
        liquid.solids_g * factor,
    )


def liquid_from_label(
    volume_ml: float,
    abv_percent: float,
    *,
    sugar_g_per_l: float = 0.0,
    acid_g_per_l: float = 0.0,
    fat_g_per_l: float = 0.0,
    solids_g_per_l: float = 0.0,
    density_g_per_ml: float | None = None,
) -> Liquid:
    """Return what a pour holds, from what its label says.

    The label's strength already counts the sugar in; it is kept as it stands.

    Args:
        volume_ml: Poured at 20 C; 0 or more.
        abv_percent: Strength on the label, 0 to 100.
        sugar_g_per_l: Grams of sugar in a litre of the liquid; acid, fat and other solids likewise. 0 or
            more.
        acid_g_per_l: See there.
        fat_g_per_l: See there.
        solids_g_per_l: See there.
        density_g_per_ml: As measured. What it shows beyond the parts named is taken for other solids. None:
            unknown.

    Raises:
        ValueError: The figures cannot belong to one liquid; the message says in plain words why.
    """
    figures = (volume_ml, abv_percent, sugar_g_per_l, acid_g_per_l, fat_g_per_l, solids_g_per_l)
    if not all(math.isfinite(figure) and figure >= 0.0 for figure in figures):
        raise ValueError("volume, strength, sugar, acid, fat and solids cannot be below 0")
    if abv_percent > 100.0:
        raise ValueError(f"{abv_percent:g} % vol is more than pure alcohol")
    litres = volume_ml / 1000.0
    ethanol_ml = volume_ml * abv_percent / 100.0
    sugar_g, acid_g, fat_g = sugar_g_per_l * litres, acid_g_per_l * litres, fat_g_per_l * litres
    solids_g = solids_g_per_l * litres
    liquid = _fill_with_water(
        volume_ml, ethanol_ml, sugar_g=sugar_g, acid_g=acid_g, fat_g=fat_g, solids_g=solids_g
    )
    if density_g_per_ml is None or volume_ml == 0.0:
        return liquid
    if not (math.isfinite(density_g_per_ml) and density_g_per_ml > 0.0):
        raise ValueError("a density is more than 0 g/ml")
    missing_g = volume_ml * density_g_per_ml - liquid.mass_g
    if missing_g <= 0.0:
        if -missing_g > DENSITY_SLACK * liquid.mass_g:
            raise ValueError(
                f"a density of {density_g_per_ml:g} g/ml contradicts the strength and sugar,"
                f" which come to {liquid.mass_g / volume_ml:.3f} g/ml"
            )
        return liquid
    # A gram of solids adds its own mass and drives out the water it takes the room of.
    for _ in range(8):
        solids_g += missing_g / (1.0 - SOLIDS_ML_PER_G)
        liquid = _fill_with_water(
            volume_ml, ethanol_ml, sugar_g=sugar_g, acid_g=acid_g, fat_g=fat_g, solids_g=solids_g
        )
        missing_g = volume_ml * density_g_per_ml - liquid.mass_g
    return liquid


def _room_of_dissolved_ml(sugar_g: float, acid_g: float, fat_g: float, solids_g: float) -> float:
    return SUGAR_ML_PER_G * (sugar_g + acid_g) + FAT_ML_PER_G * fat_g + SOLIDS_ML_PER_G * solids_g


def _fill_with_water(
    volume_ml: float, ethanol_ml: float, *, sugar_g: float, acid_g: float, fat_g: float, solids_g: float
) -> Liquid:
    """Return the liquid whose volume is made up to `volume_ml` with water."""
    spirit_ml = volume_ml - _room_of_dissolved_ml(sugar_g, acid_g, fat_g, solids_g)
    # A whisker of rounding is forgiven: 100 % vol is 100 ml of alcohol in 100 ml.
    slack_ml = 1e-9 * volume_ml
    if spirit_ml < ethanol_ml - slack_ml:
        raise ValueError("so much sugar, acid, fat and solids leave no room for the rest of the liquid")
    spirit_ml = max(spirit_ml, ethanol_ml)
    ethanol_g = ethanol_ml * oiml.ETHANOL_G_PER_ML
    if spirit_ml == 0.0:
        return Liquid(0.0, 0.0, sugar_g, acid_g, fat_g, solids_g)
    share = oiml.mass_fraction(min(1.0, ethanol_ml / spirit_ml))
    water_g = max(0.0, spirit_ml * oiml.density_at_20_c_g_per_ml(share) - ethanol_g)
    return Liquid(ethanol_g, water_g, sugar_g, acid_g, fat_g, solids_g)
