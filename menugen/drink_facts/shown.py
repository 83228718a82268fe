"""Figures and money as they are shown: with their range, or to four decimals for a program."""

from decimal import ROUND_HALF_UP, Decimal

from babel import Locale
from babel.numbers import format_currency

from menugen.drink_facts.fact import Value
from menugen.mixing import Figure


def ranged(figure: Figure, decimals: int, unit: str) -> str:
    """Return "11.5 % vol (10.8 to 12.3)"; without a range where there is none."""
    value = f"{figure.value:.{decimals}f} {unit}".rstrip()
    low, high = f"{figure.low:.{decimals}f}", f"{figure.high:.{decimals}f}"
    return value if low == high else f"{value} ({low} to {high})"


def figure_data(figure: Figure) -> dict[str, float]:
    """Return a figure as JSON keeps it, to four decimals."""
    return {"value": round(figure.value, 4), "low": round(figure.low, 4), "high": round(figure.high, 4)}


def money(amount: Decimal, currency: str) -> str:
    """Return an amount as it is printed: "£1.58"."""
    return format_currency(to_cents(amount), currency, locale=Locale("en", "GB"))


def to_cents(amount: Decimal) -> Decimal:
    """Return an amount to two places."""
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def rounded(value: float, decimals: int, unit: str) -> Value:
    """Return a figure that is compared as it is shown: "18.1 % vol"."""
    return Value(value, lambda: f"{value:.{decimals}f} {unit}")


def words(text: str) -> Value:
    """Return a text that is compared as it stands."""
    return Value(text, lambda: text)
