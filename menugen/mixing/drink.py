"""A drink from its pours: mixed, thinned by ice, topped, with the range each figure may lie in."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from menugen.mixing.balance import STANDARD, Conditions, mean_c
from menugen.mixing.dilution import Melt, Step, is_worked_on_ice, melt_of, melt_on_top
from menugen.mixing.figure import Figure, around, exactly
from menugen.mixing.liquid import Liquid, mix, scaled, water
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


LEFT_BEHIND_AT_MOST = 0.1
"""Share of what was mixed that stays in the tin at most, for small drinks. Common practice, no published source."""


@dataclass(frozen=True, slots=True)
class Made:
    """A drink worked out.

    Attributes:
        poured: All that is poured, before any ice melts.
        mix: What meets the ice first: in the tin, or for a built drink all that is in the glass.
        is_worked: Whether that is in the tin, so that tops and floats come after it.
        melt_ratio: Melt water over the volume of the mix.
        mix_melt_g: Melt water in the mix.
        melt_basis: The rule behind it; see `dilution.Melt`.
        melt_source: Where that rule comes from.
        top_melt_g: Melt water of the ice in the glass that what is poured on top of a worked mix takes up.
        ingredient_c: Temperature of the mix before it meets the ice, as the balance of heat takes it.
        top_c: The same of what is poured on top; 0 where nothing is.
        left_ml: What stays in the tin, on its ice and in the strainer.
        kept_share: Share of what was mixed that comes into the glass, 0 to 1.
        drink: What is in the glass, ice left out.
        poured_abv_percent: Strength of `poured`.
        served_abv_percent: Strength of `drink`, as handed over. Its range covers the bottles' labels, the jigger, the
            melting and the model.
        volume_ml: Volume of `drink`, as handed over. Its range covers the jigger, the melting and what stays behind.
    """

    poured: Liquid
    mix: Liquid
    is_worked: bool
    melt_ratio: Figure
    mix_melt_g: Figure
    melt_basis: str
    melt_source: str
    top_melt_g: Figure
    ingredient_c: float
    top_c: float
    left_ml: float
    kept_share: float
    drink: Liquid
    poured_abv_percent: Figure
    served_abv_percent: Figure
    volume_ml: Figure

    @property
    def ethanol_ml(self) -> float:
        """Pure alcohol in all that is poured, whatever the ice does and the tin keeps."""
        return self.poured.ethanol_ml

    @property
    def ethanol_g(self) -> float:
        """The same in grams."""
        return self.poured.ethanol_g

    @property
    def melt_g(self) -> Figure:
        """Melt water in the glass: that of the mix, less what stays behind with it, and that of the top."""
        return _together(self.mix_melt_g, self.kept_share if self.is_worked else 1.0, self.top_melt_g)


def make(
    mixed: Sequence[Liquid],
    after: Sequence[Liquid],
    steps: Sequence[Step],
    *,
    ice: str,
    measured_ratio: float | None = None,
    conditions: Conditions = STANDARD,
    labels_off_by: Sequence[float] | None = None,
    kept_c: Sequence[float] | None = None,
    usual_c: Sequence[float] | None = None,
    ice_g: float | None = None,
    held_back_ml: float = 0.0,
) -> Made:
    """Return the drink these pours and this method make.

    A built drink meets the ice in its glass with all that is in it. Where the method works the mix on ice, `after`
    meets the ice in the glass instead. The published equations stand for bottles kept where their kind usually is, so a
    worked mix is taken at `conditions.ingredient_c`, and only what is kept elsewhere than usual warms or cools it.

    Args:
        mixed: Pours that are mixed.
        after: Pours that go into the glass afterwards: tops, floats.
        steps: The method in order; none means "build".
        ice: The ice in the glass: "none", "cubed", "large cube", "cracked" or "crushed".
        measured_ratio: Melt water over mix volume as the house measured it; None: worked out.
        conditions: Temperatures and masses.
        labels_off_by: How far the strength of each pour may lie off, % vol: those of `mixed`, then those of
            `after`. None: 0.3 for each that holds alcohol.
        kept_c: The temperature each pour is kept at, in the same order. None: that of `conditions`.
        usual_c: The temperature its kind is usually kept at. None: `kept_c`.
        ice_g: Ice in the glass, where that is known; no more of it melts.
        held_back_ml: What stays in the tin and the strainer, of what is mixed; at most a tenth of it does.

    Raises:
        ValueError: An unknown step or ice, or a figure below 0.
    """
    if not 0.0 <= held_back_ml < math.inf:
        raise ValueError("what stays in the tin is 0 ml or more")
    pours = (*mixed, *after)
    at_c = tuple(kept_c) if kept_c is not None else (conditions.ingredient_c,) * len(pours)
    usually_c = tuple(usual_c) if usual_c is not None else at_c
    every_step = tuple(steps) or (Step("build"),)
    is_worked = is_worked_on_ice(every_step)
    in_glass = replace(conditions, ingredient_c=0.0)

    def on_ice(liquid: Liquid, celsius: float) -> Conditions:
        found = replace(in_glass, ingredient_c=celsius)
        if ice_g is None or liquid.volume_ml == 0.0:
            return found
        return replace(found, ice_g_per_mix_ml=min(found.ice_g_per_mix_ml, ice_g / liquid.volume_ml))

    apart, top = mix(mixed), mix(after)
    top_c = mean_c(after, at_c[len(mixed) :])
    if is_worked:
        warmer = [kept - usual for kept, usual in zip(at_c, usually_c, strict=True)][: len(mixed)]
        mix_c = conditions.ingredient_c + mean_c(mixed, warmer)
        melt = melt_of(
            apart,
            every_step,
            ice=ice,
            measured_ratio=measured_ratio,
            conditions=replace(conditions, ingredient_c=mix_c),
        )
        tin = mix((apart, water(_grams(melt, apart).value)))
    else:
        tin = apart
    left_ml = min(held_back_ml, LEFT_BEHIND_AT_MOST * tin.volume_ml)
    kept_share = 1.0 - left_ml / tin.volume_ml if left_ml > 0.0 else 1.0
    strained = [scaled(liquid, kept_share) for liquid in mixed] if left_ml > 0.0 else list(mixed)
    if is_worked:
        first, top_melt_g = apart, _grams(melt_on_top(top, ice=ice, conditions=on_ice(top, top_c)), top)
    else:
        first, top_melt_g = mix((*strained, *after)), exactly(0.0)
        mix_c, top_c = mean_c((*strained, *after), at_c), 0.0
        melt = melt_of(
            first, every_step, ice=ice, measured_ratio=measured_ratio, conditions=on_ice(first, mix_c)
        )
    mix_melt_g = _grams(melt, first)
    melt_g = _together(mix_melt_g, kept_share if is_worked else 1.0, top_melt_g)
    off_by = labels_off_by
    if off_by is None:
        off_by = [LABEL_TOLERANCE_PERCENT_VOL if pour.ethanol_g > 0.0 else 0.0 for pour in pours]
    served = (*strained, *after)
    poured = mix(pours)
    drink = mix((*served, water(melt_g.value)))
    return Made(
        poured=poured,
        mix=first,
        is_worked=is_worked,
        melt_ratio=melt.ratio,
        mix_melt_g=mix_melt_g,
        melt_basis=melt.basis,
        melt_source=melt.source,
        top_melt_g=top_melt_g,
        ingredient_c=mix_c,
        top_c=top_c,
        left_ml=left_ml,
        kept_share=kept_share,
        drink=drink,
        poured_abv_percent=_strength(poured, pours, off_by, exactly(0.0)),
        served_abv_percent=_strength(drink, served, off_by, melt_g),
        volume_ml=_volume_ml(drink, served, melt_g, left_ml / 2.0),
    )


def _grams(melt: Melt, of: Liquid) -> Figure:
    """Return the melt water of a liquid in grams."""
    grams, ratio = of.volume_ml * WATER_G_PER_ML, melt.ratio
    return Figure(ratio.value * grams, ratio.low * grams, ratio.high * grams)


def _together(one: Figure, share: float, other: Figure) -> Figure:
    """Return a share of one figure and all of another: independent errors add by their squares."""
    below = math.hypot(share * (one.value - one.low), other.value - other.low)
    above = math.hypot(share * (one.high - one.value), other.high - other.value)
    return around(share * one.value + other.value, below, above)


def after_minutes_on_ice(made: Made, ice: str, minutes: float, ice_g: float = ICE_IN_A_GLASS_G) -> Figure:
    """Return the strength of a drink that has stood on ice.

    For staff: guests are told the strength as handed over.

    Args:
        made: The drink as handed over.
        ice: The ice in the glass.
        minutes: How long it has stood; 0 or more.
        ice_g: Ice in the glass; no more of it melts.

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
        return strength * volume_ml / (volume_ml + min(melted_g, ice_g) / WATER_G_PER_ML)

    strength = mix((made.drink, water(min(melt_g, ice_g)))).abv_percent
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


def _volume_ml(liquid: Liquid, pours: Sequence[Liquid], melt_g: Figure, left_off_by_ml: float) -> Figure:
    squares = sum((JIGGER_TOLERANCE * pour.volume_ml) ** 2 for pour in pours) + left_off_by_ml**2
    below = math.sqrt(squares + ((melt_g.value - melt_g.low) / WATER_G_PER_ML) ** 2)
    above = math.sqrt(squares + ((melt_g.high - melt_g.value) / WATER_G_PER_ML) ** 2)
    return around(liquid.volume_ml, below, above)
