"""Sugar in water: density, degrees Brix, grams per litre and how much dissolves.

Brix is grams of sucrose in 100 g of solution. Density is true density (in vacuo), not apparent. Sources:
ICUMSA SPS-4 (1994), coefficients as given by Bubnik, Kadlec, Urban and Bruhns, "Sugar Technologists Manual"
(Bartens, 1995), a4 as in Llano-Restrepo (2005), which differs by 0.0001 kg/m3; solubility by Bubnik and
Kadlec in Mathlouthi and Reiser, "Sucrose" (1995).
"""

HIGHEST_BRIX = 85.0

_TERMS = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
"""Rows a to e: the j-th row goes with x^j, x = (t - 20)/100, the k-th number in it with the k-th power of the
share of sucrose by mass."""


def density_g_per_ml(brix: float, temperature_c: float = 20.0) -> float:
    """Return the density of a sucrose solution.

    Args:
        brix: Grams of sucrose in 100 g, 0 to 85.
        temperature_c: 0 to 100 C.

    Raises:
        ValueError: A figure lies outside that range.
    """
    if not 0.0 <= brix <= HIGHEST_BRIX:
        raise ValueError(f"a syrup lies between 0 and {HIGHEST_BRIX:g} Brix, not at {brix:g}")
    if not 0.0 <= temperature_c <= 100.0:
        raise ValueError(f"the sugar tables hold from 0 to 100 C, not at {temperature_c:g} C")
    share = brix / 100.0
    x = (temperature_c - 20.0) / 100.0
    total = _water_kg_per_m3(temperature_c)
    for j, row in enumerate(_TERMS):
        part = 0.0
        for coefficient in reversed(row):
            part = (part + coefficient) * share
        total += part * x**j
    return total / 1000.0


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


def g_per_l_to_brix(g_per_l: float) -> float:
    """Return the Brix of plain sugar and water that holds so many grams a litre at 20 C.

    Args:
        g_per_l: 0 to about 1,227, which is 85 Brix.

    Raises:
        ValueError: More than that.
    """
    low, high = 0.0, HIGHEST_BRIX
    if not 0.0 <= g_per_l <= brix_to_g_per_l(high):
        raise ValueError(f"{g_per_l:g} g of sugar in a litre is more than syrup holds")
    while high - low > 1e-10:
        middle = (low + high) / 2.0
        if brix_to_g_per_l(middle) < g_per_l:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


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


def _water_kg_per_m3(t: float) -> float:
    """Return the density of water, from the same standard."""
    above = 999.83952 + t * (
        16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 - t * 281.03006e-12)))
    )
    return above / (1.0 + 16.887236e-3 * t)
