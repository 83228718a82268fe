"""How strong a drink is, in words a guest can trust: rounded to what is known, never down across a legal line."""

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from menugen.facts import Serve
from menugen.menu.language import PageLanguage, english
from menugen.menu.words import ABOUT, LABELLED, NO_ALCOHOL, UNDER
from menugen.mixing import Figure

LEGAL_LINES = (Decimal("0.05"), Decimal("0.5"), Decimal("1.2"))
"""Strengths, % vol, at which the law of several places changes what a drink may be called or must say; see
regions/data/strength_words.yaml and Regulation (EU) No 1169/2011, Article 28(2)."""

_TENTH = Decimal("0.1")


def rounded_percent(figure: Figure) -> tuple[str, Decimal]:
    """Return a strength as served: whole % vol, half below 10 %, tenths below 1.5 % where legal lines lie.

    Near a legal line the upper end of the range decides: what may lie above it is never rounded down to it or under it.

    Returns:
        The phrase it is said in, of menu/words.py, and the figure.
    """
    if figure.high < 0.5:
        return UNDER, Decimal("0.5")
    shown, high = _rounded(Decimal(repr(figure.value))), Decimal(repr(figure.high))
    for line in LEGAL_LINES:
        if shown <= line < high:
            shown = line.quantize(_TENTH, ROUND_FLOOR) + _TENTH
    return ABOUT, shown


def _rounded(value: Decimal) -> Decimal:
    if value < Decimal("1.5"):
        return value.quantize(_TENTH, ROUND_HALF_UP)
    if value < 10:
        return (value * 2).quantize(Decimal(1), ROUND_HALF_UP) / 2
    return value.quantize(Decimal(1), ROUND_HALF_UP)


def strength_words(serve: Serve, page: PageLanguage | None = None) -> str:
    """Return what a menu says of a drink's strength; never empty.

    Args:
        serve: One way of making the drink.
        page: The language; None is English.
    """
    page = page or english()
    strength = serve.made.served_abv_percent
    descriptor, label = serve.descriptor, serve.labelled_percent
    if descriptor is not None and ((descriptor.alcohol_free and not label) or strength.value == 0):
        return page.say(descriptor.term)
    if strength.high == 0:
        return page.say(NO_ALCOHOL)
    phrase, figure = rounded_percent(strength) if label is None else (LABELLED, Decimal(f"{label:g}"))
    shown = page.percent(phrase, figure)
    return page.row([page.say(descriptor.term), shown]) if descriptor is not None else shown
