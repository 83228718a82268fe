"""How strong a drink is, in words a guest can trust: rounded to what is known, never down across a legal line."""

from decimal import ROUND_HALF_UP, Decimal

from menugen.facts import Serve
from menugen.mixing import Figure

NO_BREAK = "\N{NO-BREAK SPACE}"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"


def rounded_percent(figure: Figure) -> str:
    """Return a strength as served: whole % vol, half below 10 %, tenths below 1.5 % where legal lines lie.

    Below 0.5 % the upper end of the range decides, so that nothing weak is made to look weaker than it may be.
    """
    if figure.high < 0.5:
        return f"under 0.5{NO_BREAK}% vol"
    value = Decimal(repr(figure.value))
    if value < Decimal("1.5"):
        return f"about {_plain(value.quantize(Decimal('0.1'), ROUND_HALF_UP))}{NO_BREAK}% vol"
    if value < 10:
        halves = (value * 2).quantize(Decimal(1), ROUND_HALF_UP) / 2
        return f"about {_plain(halves)}{NO_BREAK}% vol"
    return f"about {_plain(value.quantize(Decimal(1), ROUND_HALF_UP))}{NO_BREAK}% vol"


def _poured_neat(serve: Serve) -> float | None:
    """Return the label's strength where one bottle is poured and nothing else, else None."""
    liquids = [item for item in serve.lines if item.volume_ml > 0 or item.mass_g > 0]
    if len(liquids) == 1 and serve.made.melt_g.value == 0:
        return liquids[0].stock.abv_percent
    return None


def strength_words(serve: Serve) -> str:
    """Return what a menu says of a drink's strength; never empty."""
    strength = serve.made.served_abv_percent
    if serve.descriptor is not None and (serve.descriptor.alcohol_free or strength.value == 0):
        return serve.descriptor.term
    if strength.high == 0:
        return "no alcohol"
    label = _poured_neat(serve)
    figure = rounded_percent(strength) if label is None else f"{label:g}{NO_BREAK}% vol"
    return f"{serve.descriptor.term}, {figure}" if serve.descriptor is not None else figure
