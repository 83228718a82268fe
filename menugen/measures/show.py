"""Volumes as a bar writes them."""

from fractions import Fraction

from menugen.measures.units import OunceKind, ounce_ml

_STEPS = (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), Fraction(1))
_SMALL_STEPS = (Fraction(1, 4), Fraction(1, 3), Fraction(1, 2), Fraction(2, 3), Fraction(3, 4), Fraction(1))
"""Below one ounce the trade also pours thirds; above it nobody marks a jigger so."""
_NEAR_A_STEP = 0.016
"""Share by which a volume may miss a step: the trade's 30 ml ounce is 1.5 % more than the US one."""


def show_ml(volume_ml: float) -> str:
    """Return "45 ml", "22.5 ml", "0.05 ml": tenths, hundredths below one millilitre, then one figure.

    Args:
        volume_ml: 0 or more.
    """
    if volume_ml >= 1 or volume_ml == 0:
        figure = f"{volume_ml:.1f}"
    else:
        figure = f"{volume_ml:.2f}" if volume_ml >= 0.01 else f"{volume_ml:.1g}"
    if "." in figure and "e" not in figure:
        figure = figure.rstrip("0").rstrip(".")
    return f"{figure} ml"


def show_ounces(volume_ml: float, ounce: OunceKind) -> str:
    """Return "1 1/2 oz" on the bar's ladder of quarters (and thirds below one), else one decimal.

    Less than a quarter of an ounce stays in millilitres, which is what a bar spoon or a dash is measured in.
    """
    ounces = volume_ml / ounce_ml(ounce)
    step = _step_near(ounces)
    if step is None and ounces < 0.25:
        return show_ml(volume_ml)
    # Rounding may itself bring a figure to a step: 5.83 is 5.8, and that is poured as 5 3/4.
    step = step or _step_near(round(ounces, 1))
    return f"{_mixed(step) if step else f'{ounces:.1f}'} oz"


def _step_near(ounces: float) -> Fraction | None:
    whole = int(ounces)
    steps = _SMALL_STEPS if whole == 0 else tuple(whole + step for step in _STEPS)
    step = min(steps, key=lambda step: abs(ounces - step))
    return step if abs(ounces - step) <= _NEAR_A_STEP * step else None


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)
