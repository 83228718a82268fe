"""A drink from its pours: mixed, thinned by ice, topped, with the range each figure may lie in."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from menugen.mixing.balance import STANDARD, Conditions
from menugen.mixing.dilution import Step, melt_of
from menugen.mixing.figure import Figure, around, exactly
from menugen.mixing.liquid import Liquid, mix, water
from menugen.mixing.oiml import WATER_G_PER_ML

LABEL_TOLERANCE_PERCENT_VOL = 0.3
"""How far a bottle may lie off its label: spirits and all other drinks above 1.2 % vol that have no figure of
their own. Source: Regulation (EU) No 1169/2011, Annex XII."""

JIGGER_TOLERANCE = 0.04
"""How far a pour may lie off its measure, as a share: 1 ml on 25 ml. Common practice, no published source."""

MODEL_TOLERANCE = 0.003
"""How far the worked-out volume of a mixture may lie off, as a share: against a fuller model at most 0.26 %
in drinks a third of which is heavy syrup, computed."""

MELT_G_PER_MINUTE: Mapping[str, float] = {
    "none": 0.0,
    "cubed": 1.0,
    "large cube": 0.8,
    "cracked": 1.3,
    "crushed": 2.0,
}
"""Ice that melts in a glass standing in a warm room. A bare glass of 0.02 m2 takes up about 4 W from still
air 20 C warmer (10 W/m2K, from memory), which melts 0.7 g a minute; condensation and a hand add to that. The
steps between kinds of ice are common practice, no published source. Take half to double."""

ICE_IN_A_GLASS_G = 120.0
"""More than this does not melt into one glass. Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class Made:
    """A drink worked out.

    Attributes:
        mix: What meets the ice.
        melt_ratio: Melt water over the volume of the mix.
        melt_g: Melt water.
        melt_basis: The rule behind it; see `dilution.Melt`.
        melt_source: Where that rule comes from.
        drink: As served, all that is poured after the ice included.
        poured_abv_percent: Strength of all pours together, no ice melted.
        served_abv_percent: Strength as handed over. Its range covers the bottles' labels, the jigger, the
            melting and the model.
        volume_ml: As handed over, ice left out.
    """

    mix: Liquid
    melt_ratio: Figure
    melt_g: Figure
    melt_basis: str
    melt_source: str
    drink: Liquid
    poured_abv_percent: Figure
    served_abv_percent: Figure
    volume_ml: Figure

    @property
    def ethanol_ml(self) -> float:
        """Pure alcohol in the drink: the sum of the pours, whatever the ice does."""
        return self.drink.ethanol_ml

    @property
    def ethanol_g(self) -> float:
        """The same in grams."""
        return self.drink.ethanol_g


def make(
    mixed: Sequence[Liquid],
    after: Sequence[Liquid],
    steps: Sequence[Step],
    *,
    ice: str,
    measured_ratio: float | None = None,
    conditions: Conditions = STANDARD,
    labels_off_by: Sequence[float] | None = None,
) -> Made:
    """Return the drink these pours and this method make.

    Args:
        mixed: Pours that meet the ice.
        after: Pours that go in afterwards: tops, floats.
        steps: The method in order; none means "build".
        ice: The ice in the glass: "none", "cubed", "large cube", "cracked" or "crushed".
        measured_ratio: Melt water over mix volume as the house measured it; None: worked out.
        conditions: Temperatures and masses.
        labels_off_by: How far the strength of each pour may lie off, % vol: those of `mixed`, then those of
            `after`. None: 0.3 for each that holds alcohol.

    Raises:
        ValueError: An unknown step or ice, or a figure below 0.
    """
    before = mix(mixed)
    melt = melt_of(
        before, steps or (Step("build"),), ice=ice, measured_ratio=measured_ratio, conditions=conditions
    )
    grams = before.volume_ml * WATER_G_PER_ML
    melt_g = Figure(melt.ratio.value * grams, melt.ratio.low * grams, melt.ratio.high * grams)
    pours = (*mixed, *after)
    off_by = labels_off_by
    if off_by is None:
        off_by = [LABEL_TOLERANCE_PERCENT_VOL if pour.ethanol_g > 0.0 else 0.0 for pour in pours]
    poured = mix(pours)
    drink = mix((poured, water(melt_g.value))) if melt_g.value > 0.0 else poured
    return Made(
        mix=before,
        melt_ratio=melt.ratio,
        melt_g=melt_g,
        melt_basis=melt.basis,
        melt_source=melt.source,
        drink=drink,
        poured_abv_percent=_strength(poured, pours, off_by, exactly(0.0)),
        served_abv_percent=_strength(drink, pours, off_by, melt_g),
        volume_ml=_volume_ml(drink, pours, melt_g),
    )


def after_minutes_on_ice(made: Made, ice: str, minutes: float) -> Figure:
    """Return the strength of a drink that has stood on ice.

    For staff: guests are told the strength as handed over.

    Args:
        made: The drink as handed over.
        ice: The ice in the glass.
        minutes: How long it has stood; 0 or more.

    Raises:
        ValueError: No such ice, or a time below 0.
    """
    if ice not in MELT_G_PER_MINUTE:
        raise ValueError(f'no kind of ice is called "{ice}"')
    if not 0.0 <= minutes < math.inf:
        raise ValueError("a drink stands for 0 minutes or more")
    served = made.served_abv_percent
    melt_g = MELT_G_PER_MINUTE[ice] * minutes
    if served.value == 0.0 or melt_g == 0.0:
        return served

    volume_ml = made.drink.volume_ml

    def thinned(strength: float, melted_g: float) -> float:
        return strength * volume_ml / (volume_ml + min(melted_g, ICE_IN_A_GLASS_G) / WATER_G_PER_ML)

    strength = mix((made.drink, water(min(melt_g, ICE_IN_A_GLASS_G)))).abv_percent
    low, high = thinned(served.low, 2.0 * melt_g), thinned(served.high, 0.5 * melt_g)
    return Figure(strength, min(low, strength), max(high, strength))


def _strength(liquid: Liquid, pours: Sequence[Liquid], off_by: Sequence[float], melt_g: Figure) -> Figure:
    """Return a strength with its range: independent errors add by their squares."""
    if liquid.ethanol_g == 0.0:
        return exactly(0.0)
    strength, volume_ml = liquid.abv_percent, liquid.volume_ml
    squares = (MODEL_TOLERANCE * strength) ** 2 if len(pours) > 1 or melt_g.value > 0.0 else 0.0
    for pour, label in zip(pours, off_by, strict=True):
        share = pour.volume_ml / volume_ml
        squares += ((pour.abv_percent - strength) * JIGGER_TOLERANCE * share) ** 2 + (label * share) ** 2
    wetter_ml = volume_ml + (melt_g.high - melt_g.value) / WATER_G_PER_ML
    drier_ml = volume_ml - (melt_g.value - melt_g.low) / WATER_G_PER_ML
    below = math.sqrt(squares + (strength - strength * volume_ml / wetter_ml) ** 2)
    above = math.sqrt(squares + (strength * volume_ml / drier_ml - strength) ** 2)
    return around(strength, below, min(above, max(0.0, 100.0 - strength)))


def _volume_ml(liquid: Liquid, pours: Sequence[Liquid], melt_g: Figure) -> Figure:
    squares = sum((JIGGER_TOLERANCE * pour.volume_ml) ** 2 for pour in pours)
    below = math.sqrt(squares + ((melt_g.value - melt_g.low) / WATER_G_PER_ML) ** 2)
    above = math.sqrt(squares + ((melt_g.high - melt_g.value) / WATER_G_PER_ML) ** 2)
    return around(liquid.volume_ml, below, above)
