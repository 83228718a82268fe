"""Food energy of a drink."""

from collections.abc import Mapping
from typing import NamedTuple

from menugen.mixing.liquid import Liquid


class Energy(NamedTuple):
    """Energy of a serving, or of one gram.

    Each is summed from its own factors, never converted into the other.
    """

    kj: float
    kcal: float


ENERGY_PER_G: Mapping[str, Energy] = {
    "alcohol": Energy(29.0, 7.0),
    "carbohydrate": Energy(17.0, 4.0),
    "polyols": Energy(10.0, 2.4),
    "organic acid": Energy(13.0, 3.0),
    "fat": Energy(37.0, 9.0),
    "salatrims": Energy(25.0, 6.0),
    "protein": Energy(17.0, 4.0),
    "fibre": Energy(8.0, 2.0),
    "erythritol": Energy(0.0, 0.0),
}
"""Conversion factors per gram. Source: Regulation (EU) No 1169/2011, Annex XIV. Other places have others; they come in
from outside."""


def energy(liquid: Liquid, protein_g: float = 0.0, *, per_g: Mapping[str, Energy] = ENERGY_PER_G) -> Energy:
    """Return the energy of all of a liquid. Melt water adds none; solids of unknown make are not counted.

    Args:
        liquid: As served.
        protein_g: Grams of protein in it, where known; 0 or more.
        per_g: Energy of a gram of "alcohol", "carbohydrate", "organic acid", "fat" and "protein".

    Raises:
        ValueError: The protein is below 0.
    """
    if protein_g < 0.0:
        raise ValueError("protein cannot be below 0 g")
    amounts_g = (
        ("alcohol", liquid.ethanol_g),
        ("carbohydrate", liquid.sugar_g),
        ("organic acid", liquid.acid_g),
        ("fat", liquid.fat_g),
        ("protein", protein_g),
    )
    return Energy(
        sum(per_g[name].kj * grams for name, grams in amounts_g),
        sum(per_g[name].kcal * grams for name, grams in amounts_g),
    )
