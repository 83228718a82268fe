"""How sweet and how sour a drink is, by weight."""

from menugen.mixing.liquid import Liquid


def sugar_g_per_l(liquid: Liquid) -> float:
    """Return grams of sugar in a litre of the drink; 0 for an empty one."""
    return _per_litre(liquid.sugar_g, liquid)


def titratable_acid_g_per_l(liquid: Liquid) -> float:
    """Return grams of acid, counted as citric, in a litre of the drink; 0 for an empty one."""
    return _per_litre(liquid.acid_g, liquid)


def _per_litre(mass_g: float, liquid: Liquid) -> float:
    return 1000.0 * mass_g / liquid.volume_ml if liquid.volume_ml > 0.0 else 0.0
