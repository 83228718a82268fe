"""How much alcohol is in a drink, in the place's unit and the page's language."""

from decimal import Decimal
from fractions import Fraction

from menugen.menu.language import PageLanguage
from menugen.menu.words import LESS_THAN
from menugen.regions import DrinkUnit, split_fraction


def units_words(unit: DrinkUnit, ethanol_ml: float, page: PageLanguage) -> str:
    """Return "1.4 units", "1½ verre standard", "less than 0.1 units"; empty without alcohol.

    Args:
        unit: What the place counts in.
        ethanol_ml: Pure ethanol in the drink, 0 or more.
        page: The language.
    """
    figure = unit.figure(ethanol_ml)
    if figure is None:
        return ""
    exact = Decimal(figure.units.numerator) / Decimal(figure.units.denominator)
    # A half is "one half of a unit": the noun stands as it does with one.
    noun = page.noun(unit.name, unit.plural, Decimal(1) if figure.as_one else exact)
    shown = f"{_number(unit, figure.units, exact, page)} {noun}"
    return page.filled(LESS_THAN, figure=shown) if figure.less_than else shown


def _number(unit: DrinkUnit, units: Fraction, exact: Decimal, page: PageLanguage) -> str:
    if unit.style == "decimal":
        return page.number(exact)
    whole, sign = split_fraction(units)
    return f"{page.number(whole) if whole else ''}{sign}"
