"""Sugar in water at 20 C: density, degrees Brix, grams per litre and how much dissolves.

Brix is grams of sucrose in 100 g of solution. Density is true density (in vacuo), not apparent.
Sources: ICUMSA SPS-4 (1994), the terms for 20 C, as given by Bubnik, Kadlec, Urban and Bruhns, "Sugar
Technologists Manual" (Bartens, 1995), a4 as in Llano-Restrepo (2005), which differs by 0.0001 kg/m3; solubility
by Bubnik and Kadlec in Mathlouthi and Reiser, "Sucrose" (1995).
"""

HIGHEST_BRIX = 85.0

_WATER_KG_PER_M3 = 998.2031
"""Density of water at 20 C by the water formula of the same standard."""

_A = (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890)
"""a1 to a6, kg/m3: powers 1 to 6 of the share of sucrose by mass."""


def density_g_per_ml(brix: float) -> float:
    """Return the density of a sucrose solution at 20 C.

    Args:
        brix: Grams of sucrose in 100 g, 0 to 85.

    Raises:
        ValueError: The figure lies outside that range.
    """
    if not 0.0 <= brix <= HIGHEST_BRIX:
        raise ValueError(f"a syrup lies between 0 and {HIGHEST_BRIX:g} Brix, not at {brix:g}")
    share = brix / 100.0
    total = 0.0
    for coefficient in reversed(_A):
        total = (total + coefficient) * share
    return (_WATER_KG_PER_M3 + total) / 1000.0


def brix_to_g_per_l(brix: float, density: float | None = None) -> float:
    """Return grams of sugar in a litre, at 20 C.

    Args:
        brix: Grams of sugar in 100 g; 0 to 85 where no density is given, else 0 to 100.
        density: Grams per millilitre of the liquid as measured. None: that of plain sugar and water.

    Raises:
        ValueError: A figure lies outside that range.
    """
    if density is None:
        density = density_g_per_ml(brix)
    if not 0.0 <= brix <= 100.0 or density <= 0.0:
        raise ValueError(f"{brix:g} g of sugar in 100 g at {density:g} g/ml cannot be")
    return brix * density * 10.0


def solubility_brix(temperature_c: float) -> float:
    """Return the Brix above which sugar crystallises out of plain syrup.

    Args:
        temperature_c: 0 to 100 C.

    Raises:
        ValueError: Outside that range.
    """
    if not 0.0 <= temperature_c <= 100.0:
        raise ValueError(f"the sugar tables hold from 0 to 100 C, not at {temperature_c:g} C")
    t = temperature_c
    return 64.447 + 0.08222 * t + 0.0016169 * t**2 - 1.558e-6 * t**3 - 4.63e-8 * t**4
