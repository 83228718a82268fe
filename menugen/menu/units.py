"""How much alcohol is in a drink, in the place's unit and the page's language."""

from decimal import Decimal
from fractions import Fraction

from menugen.menu.language import NO_BREAK, PageLanguage
from menugen.menu.words import EACH_AND_ALL, LESS_THAN, SERVE, SERVES, UNDER_EACH_AND_ALL
from menugen.regions import DrinkUnit, split_fraction


def shared_units_words(unit: DrinkUnit, ethanol_ml: float, serves: int, page: PageLanguage) -> str:
    """Return "about 1.8 units in one serve, 17.6 units in all"; empty without alcohol.

    Each is rounded by itself from what is in the glass. Nobody ladles to the drop, so one serve's is always "about".

    Args:
        unit: What the place counts in.
        ethanol_ml: Pure ethanol in the whole, 0 or more.
        serves: How many guests share it; 1 says what is in one drink, as `units_words`.
        page: The language.
    """
    whole = units_words(unit, ethanol_ml, page)
    if serves == 1 or not whole:
        return whole
    one = unit.figure(ethanol_ml / serves)
    phrase = UNDER_EACH_AND_ALL if one is not None and one.less_than else EACH_AND_ALL
    return page.filled(phrase, each=units_words(unit, ethanol_ml / serves, page), all=whole)


def serves_words(serves: int, page: PageLanguage) -> str:
    """Return "10 serves"; empty for one guest's drink."""
    if serves == 1:
        return ""
    return f"{page.number(serves)}{NO_BREAK}{page.noun(SERVE, SERVES, Decimal(serves))}"


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
