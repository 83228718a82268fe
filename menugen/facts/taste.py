"""How a drink tastes in numbers: sugar, acid, one against the other, strength, energy, fat."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from menugen.facts.serve import BottleLine, Serve, line_liquid
from menugen.facts.tolerances import What
from menugen.facts.uncertainty import Part, Volume, Worked, concentration, ratio, total
from menugen.mixing import ETHANOL_G_PER_ML, WATER_G_PER_ML, Liquid
from menugen.regions import EnergyFactors

_WHATS: tuple[What, ...] = ("strength", "sugar", "acid", "fat")


@dataclass(frozen=True, slots=True)
class TasteFacts:
    """What a drink holds, each with its range.

    Grams and energy are of all that is poured, as the units are: where guests share it, of the whole bowl or jug, and
    facts/shared.py has one serve's. Protein and starch bring no energy here, since no bottle states them.

    Attributes:
        strength: % vol as served.
        units_ml: Millilitres of pure alcohol.
        sugar_g: Grams, counted as sucrose.
        sugar_g_per_l: The same in a litre of the drink as served.
        acid_g: Grams of titratable acid, counted as citric.
        acid_g_per_l: The same in a litre.
        sweet_to_sour: Grams of sugar to a gram of acid; None where there is no acid.
        fat_g: Grams.
        energy_kj: By the place's labelling factors.
        energy_kcal: The same, from its own factors.
    """

    strength: Worked
    units_ml: Worked
    sugar_g: Worked
    sugar_g_per_l: Worked
    acid_g: Worked
    acid_g_per_l: Worked
    sweet_to_sour: Worked | None
    fat_g: Worked
    energy_kj: Worked
    energy_kcal: Worked


def poured_lines(serve: Serve) -> tuple[BottleLine, ...]:
    """Return the lines that bring something to drink."""
    return tuple(item for item in serve.lines if item.volume_ml > 0 or item.mass_g > 0)


def _off_by(item: BottleLine, what: What) -> tuple[float, str]:
    """Return how far what a line brings may lie off (grams, or ml for strength), and why."""
    content = next((content for content in item.contents if content.what == what), None)
    if content is None:
        return 0.0, ""
    per_ml = 100.0 if what == "strength" else 1000.0
    return content.tolerance.amount * item.volume_ml / per_ml, content.tolerance.source


def _grams(liquid: Liquid, what: What) -> float:
    match what:
        case "strength":
            return liquid.ethanol_ml
        case "sugar":
            return liquid.sugar_g
        case "acid":
            return liquid.acid_g
        case "fat":
            return liquid.fat_g


def _parts(poured: Sequence[tuple[BottleLine, Liquid]], what: What) -> tuple[Part, ...]:
    """Return what each line brings of one thing: grams, or millilitres of pure alcohol for "strength"."""
    parts = []
    for item, liquid in poured:
        off_by, source = _off_by(item, what)
        parts.append(Part(_grams(liquid, what), off_by, liquid.volume_ml, (source,) if source else ()))
    return tuple(parts)


def share_in_glass(serve: Serve, item: BottleLine) -> float:
    """Return how much of a line comes into the glass: what is mixed leaves a little behind in the tin."""
    return 1.0 if item.on_top else serve.made.kept_share


def _in_glass(parts: Sequence[Part], shares: Sequence[float]) -> tuple[Part, ...]:
    """Return what of each part comes into the glass."""
    return tuple(
        Part(part.amount * share, part.off_by * share, part.volume_ml * share, part.sources)
        for part, share in zip(parts, shares, strict=True)
    )


def _energy_parts(parts: Mapping[What, Sequence[Part]], factors: Mapping[What, float]) -> tuple[Part, ...]:
    """Return the energy each line brings, by the labelling factors of one unit."""
    return tuple(
        Part(
            sum(part.amount * factors[what] for what, part in zip(parts, of_line, strict=True)),
            math.hypot(*(part.off_by * factors[what] for what, part in zip(parts, of_line, strict=True))),
            of_line[0].volume_ml,
            tuple(dict.fromkeys(source for part in of_line for source in part.sources)),
        )
        for of_line in zip(*parts.values(), strict=True)
    )


@cache
def energy_per_amount(law: EnergyFactors, unit: Literal["kj", "kcal"]) -> Mapping[What, float]:
    """Return the energy of a gram of each thing by a place's law; of a millilitre for "strength"."""
    return {
        "strength": getattr(law.alcohol, unit) * ETHANOL_G_PER_ML,
        "sugar": getattr(law.carbohydrate, unit),
        "acid": getattr(law.organic_acid, unit),
        "fat": getattr(law.fat, unit),
    }


def volume_of(serve: Serve) -> Volume:
    """Return what the drink comes to, and what melting may make of it."""
    made = serve.made
    ml, melt = made.volume_ml.value, made.melt_g
    return Volume(
        ml,
        drier_ml=ml - (melt.value - melt.low) / WATER_G_PER_ML,
        wetter_ml=ml + (melt.high - melt.value) / WATER_G_PER_ML,
        mixed=len(poured_lines(serve)) > 1 or melt.value > 0.0,
    )


def taste_of(serve: Serve, law: EnergyFactors) -> TasteFacts:
    """Return a drink's taste in numbers, as it is served.

    Args:
        serve: The drink.
        law: What a gram brings in energy where it is served.
    """
    poured, volume = [(item, line_liquid(item)) for item in poured_lines(serve)], volume_of(serve)
    alcohol, sugar, acid, fat = (_parts(poured, what) for what in _WHATS)
    parts = dict(zip(_WHATS, (alcohol, sugar, acid, fat), strict=True))
    shares = [share_in_glass(serve, item) for item, _ in poured]
    strong, sweet, sour = (_in_glass(part, shares) for part in (alcohol, sugar, acid))
    return TasteFacts(
        strength=concentration(strong, volume, 100.0, most=100.0),
        units_ml=total(alcohol),
        sugar_g=total(sugar),
        sugar_g_per_l=concentration(sweet, volume, 1000.0),
        acid_g=total(acid),
        acid_g_per_l=concentration(sour, volume, 1000.0),
        sweet_to_sour=ratio(sweet, sour),
        fat_g=total(fat),
        energy_kj=total(_energy_parts(parts, energy_per_amount(law, "kj"))),
        energy_kcal=total(_energy_parts(parts, energy_per_amount(law, "kcal"))),
    )
