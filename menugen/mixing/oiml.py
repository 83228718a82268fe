"""Density of ethanol and water together, and the way between share by mass and share by volume.

Source: OIML R 22, "International Alcoholometric Tables" (1975), general formula and coefficients; the same
formula stands in Council Directive 76/766/EEC, Annex 4. Holds from -20 to 40 C.
"""

from functools import lru_cache

LOWEST_C = -20.0
HIGHEST_C = 40.0

_A = (
    9.982012300e2,
    -1.929769495e2,
    3.891238958e2,
    -1.668103923e3,
    1.352215441e4,
    -8.829278388e4,
    3.062874042e5,
    -6.138381234e5,
    7.470172998e5,
    -5.478461354e5,
    2.234460334e5,
    -3.903285426e4,
)
"""A1 to A12: powers 0 to 11 of the mass fraction."""

_B = (-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11)
"""B1 to B6: powers 1 to 6 of (t - 20)."""

_C = (
    (
        1.693443461530087e-1,
        -1.046914743455169e1,
        7.196353469546523e1,
        -7.047478054272792e2,
        3.924090430035045e3,
        -1.210164659068747e4,
        2.248646550400788e4,
        -2.605562982188164e4,
        1.852373922069467e4,
        -7.420201433430137e3,
        1.285617841998974e3,
    ),
    (
        -1.193013005057010e-2,
        2.517399633803461e-1,
        -2.170575700536993,
        1.353034988843029e1,
        -5.029988758547014e1,
        1.096355666577570e2,
        -1.422753946421155e2,
        1.080435942856230e2,
        -4.414153236817392e1,
        7.442971530188783,
    ),
    (
        -6.802995733503803e-4,
        1.876837790289664e-2,
        -2.002561813734156e-1,
        1.022992966719220,
        -2.895696483903638,
        4.810060584300675,
        -4.672147440794683,
        2.458043105903461,
        -5.411227621436812e-1,
    ),
    (4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6),
    (-2.788074354782409e-8, 1.345612883493354e-8),
)
"""C1,k to C5,k: row i goes with (t - 20)^i, the k-th number in it with the k-th power of the mass fraction.

They all vanish at 20 C, where a wrong digit in them would go unseen: check against mixtures off 20 C.
"""


def _polynomial(coefficients: tuple[float, ...], x: float) -> float:
    """Return c0 + c1 x + c2 x^2 ... by Horner's rule."""
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * x + coefficient
    return total


def density_at_20_c_g_per_ml(mass_fraction: float) -> float:
    """Return the density of an ethanol-water mixture at 20 C, in vacuo.

    Args:
        mass_fraction: Ethanol by mass, 0 to 1; not checked here, this is the innermost sum of the program.
    """
    return _polynomial(_A, mass_fraction) / 1000.0


def density_g_per_ml(mass_fraction: float, temperature_c: float = 20.0) -> float:
    """Return the density of an ethanol-water mixture, in vacuo.

    Args:
        mass_fraction: Ethanol by mass, 0 to 1.
        temperature_c: -20 to 40 C. Above the freezing line is up to the caller.

    Raises:
        ValueError: A figure lies outside the range of the tables.
    """
    _check_fraction(mass_fraction)
    if not LOWEST_C <= temperature_c <= HIGHEST_C:
        raise ValueError(
            f"the alcohol tables hold from {LOWEST_C:g} to {HIGHEST_C:g} C, not at {temperature_c:g} C"
        )
    t = temperature_c - 20.0
    total = _polynomial(_A, mass_fraction) + t * _polynomial(_B, t)
    power = 1.0
    for row in _C:
        power *= t
        total += power * mass_fraction * _polynomial(row, mass_fraction)
    return total / 1000.0


def volume_fraction(mass_fraction: float, temperature_c: float = 20.0) -> float:
    """Return the ethanol share by volume (1 means 100 % vol) that belongs to a share by mass.

    Args:
        mass_fraction: 0 to 1.
        temperature_c: The temperature the volumes are measured at; a label's strength means 20 C.

    Raises:
        ValueError: A figure lies outside the range of the tables.
    """
    if temperature_c == 20.0:
        _check_fraction(mass_fraction)
        return mass_fraction * density_at_20_c_g_per_ml(mass_fraction) / ETHANOL_G_PER_ML
    return (
        mass_fraction * density_g_per_ml(mass_fraction, temperature_c) / density_g_per_ml(1.0, temperature_c)
    )


@lru_cache(maxsize=4096)
def mass_fraction(volume_fraction_wanted: float, temperature_c: float = 20.0) -> float:
    """Return the ethanol share by mass that belongs to a share by volume: the inverse of `volume_fraction`.

    Args:
        volume_fraction_wanted: 0 to 1.
        temperature_c: As for `volume_fraction`.

    Raises:
        ValueError: A figure lies outside the range of the tables.
    """
    _check_fraction(volume_fraction_wanted)
    if volume_fraction_wanted in (0.0, 1.0):
        return volume_fraction_wanted
    # The share by volume rises smoothly with the share by mass, so the secant rule closes in within a few
    # steps.
    before, now = (
        0.75 * volume_fraction_wanted,
        0.8 * volume_fraction_wanted + 0.2 * volume_fraction_wanted**2,
    )
    error_before = volume_fraction(before, temperature_c) - volume_fraction_wanted
    for _ in range(50):
        error = volume_fraction(now, temperature_c) - volume_fraction_wanted
        if abs(error) < 1e-15 or error == error_before:
            break
        following = now - error * (now - before) / (error - error_before)
        before, error_before = now, error
        now = min(1.0, max(0.0, following))
    return now


def _check_fraction(fraction: float) -> None:
    if not 0.0 <= fraction <= 1.0:
        raise ValueError(f"a share of ethanol lies between 0 and 1, not at {fraction:g}")


ETHANOL_G_PER_ML = density_at_20_c_g_per_ml(1.0)
"""Density of ethanol at 20 C by the formula, 0.789239; the erratum on the cover of OIML R 22 prints 789.24
kg/m3."""

WATER_G_PER_ML = density_at_20_c_g_per_ml(0.0)
"""Density of water at 20 C by the formula, 0.998201."""
