"""How strong a drink is, in words a guest can trust: rounded to what is known, never down across a legal line."""

from decimal import ROUND_HALF_UP, Decimal

from menugen.facts import Serve
from menugen.menu.language import PageLanguage, english
from menugen.menu.words import ABOUT, LABELLED, NO_ALCOHOL, UNDER
from menugen.mixing import Figure


def rounded_percent(figure: Figure) -> tuple[str, Decimal]:
    """Return a strength as served: whole % vol, half below 10 %, tenths below 1.5 % where legal lines lie.

    Below 0.5 % the upper end of the range decides, so that nothing weak is made to look weaker than it may be.

    Returns:
        The phrase it is said in, of menu/words.py, and the figure.
    """
    if figure.high < 0.5:
        return UNDER, Decimal("0.5")
    value = Decimal(repr(figure.value))
    if value < Decimal("1.5"):
        return ABOUT, value.quantize(Decimal("0.1"), ROUND_HALF_UP)
    if value < 10:
        return ABOUT, (value * 2).quantize(Decimal(1), ROUND_HALF_UP) / 2
    return ABOUT, value.quantize(Decimal(1), ROUND_HALF_UP)


def _poured_neat(serve: Serve) -> float | None:
    """Return the label's strength where one bottle is poured and nothing else, else None."""
    liquids = [item for item in serve.lines if item.volume_ml > 0 or item.mass_g > 0]
    if len(liquids) == 1 and serve.made.melt_g.value == 0:
        return liquids[0].stock.abv_percent
    return None


def strength_words(serve: Serve, page: PageLanguage | None = None) -> str:
    """Return what a menu says of a drink's strength; never empty.

    Args:
        serve: One way of making the drink.
        page: The language; None is English.
    """
    page = page or english()
    strength = serve.made.served_abv_percent
    descriptor = serve.descriptor
    if descriptor is not None and (descriptor.alcohol_free or strength.value == 0):
        return page.say(descriptor.term)
    if strength.high == 0:
        return page.say(NO_ALCOHOL)
    label = _poured_neat(serve)
    phrase, figure = rounded_percent(strength) if label is None else (LABELLED, Decimal(f"{label:g}"))
    shown = page.percent(phrase, figure)
    return page.row([page.say(descriptor.term), shown]) if descriptor is not None else shown
