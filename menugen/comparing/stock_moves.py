"""What a stock line says now and did not say before.

A supplier, a note and a colour change nothing in a drink and are passed over; so is the same figure in another unit.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import NamedTuple

from menugen import regions
from menugen.facts.cautions import stock_cautions
from menugen.facts.liquids import grams_per_litre
from menugen.records import Concentration, StockLine

_SAME_G_PER_L = 1e-6
"""Two concentrations closer than this are one, written differently."""


class Phrase(NamedTuple):
    """One thing that a stock line says differently.

    Attributes:
        about: What it bears on: "strength", "sugar", "acid", "fat", "amount", "density", "kept", "kind", "price",
            "label" or "read".
        text: "40 -> 43 % vol".
        substances: Ids of what it says of allergens, or of cautions.
    """

    about: str
    text: str
    substances: frozenset[str] = frozenset()


def label_was_read_again(old: StockLine, new: StockLine) -> bool:
    """Return whether the label was read on another day."""
    return new.checked is not None and new.checked != old.checked


def stock_moves(old: StockLine, new: StockLine) -> tuple[Phrase, ...]:
    """Return a phrase for each thing that a stock line says differently; nothing where it says the same."""
    if old is new or old == new:
        return ()
    return (*label_moves(old, new), *figure_moves(old, new), *price_moves(old, new))


def label_moves(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    """Yield what the label says differently of what is in the bottle, and whether it was read again."""
    if label_was_read_again(old, new):
        yield Phrase("read", f"label read again {new.checked}")
    elif old.checked is not None and new.checked is None:
        yield Phrase("read", "the day its label was read is gone")
    if old.contains is None and new.contains is not None:
        yield Phrase("read", "label read")
    if old.contains is not None and new.contains is None:
        # Then nobody knows what it contains: that is no loss of a substance.
        yield Phrase("label", "what it contains is no longer said", substances(old.contains))
    for words, before, after in (
        ("contains", old.contains or (), old.contains if new.contains is None else new.contains),
        ("may contain", old.may_contain, new.may_contain),
        ("distilled from", old.distilled_from, new.distilled_from),
    ):
        yield from _gains_and_losses(words, before, after or ())
    for sign, one, other in (("+", new, old), ("-", old, new)):
        for word in one.fined_with:
            # Isinglass and fish gelatine are both fish, and a law may exempt the one alone: the word itself is told.
            if word not in other.fined_with:
                yield Phrase("label", f"fined with {sign} {word}", substances([word]))
    yield from _gains_and_losses("caution", stock_cautions(old), stock_cautions(new))
    if old.sulphites_mg_per_l != new.sulphites_mg_per_l:
        told = _figures(old.sulphites_mg_per_l, new.sulphites_mg_per_l, "mg/l")
        yield Phrase("label", f"sulphites {told}", frozenset({"sulphites"}))


def figure_moves(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    """Yield what is said differently of strength, sweetness, size and density."""
    if old.abv_percent != new.abv_percent:
        yield Phrase("strength", _figures(old.abv_percent, new.abv_percent, "% vol"))
    for words, before, after in (
        ("sugar", old.sugar, new.sugar),
        ("acid", old.acid, new.acid),
        ("fat", old.fat, new.fat),
    ):
        if before != after and not _same_amount(old, before, new, after):
            yield Phrase(words, f"{words} {_concentration(before)} -> {_concentration(after)}")
    for about, words, size_before, size_after, unit in (
        ("amount", "one", old.each_ml, new.each_ml, "ml"),
        ("amount", "one", old.each_g, new.each_g, "g"),
        ("density", "density", old.density_g_per_ml, new.density_g_per_ml, "g/ml"),
    ):
        if size_before != size_after:
            yield Phrase(about, f"{words} {_figures(size_before, size_after, unit)}")
    if old.kept != new.kept:
        yield Phrase("kept", f"kept {old.kept or 'not said'} -> {new.kept or 'not said'}")
    if old.kind != new.kind:
        yield Phrase("kind", f"kind {old.kind or 'not said'} -> {new.kind or 'not said'}")


def price_moves(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    """Yield what is said differently of the price, and of how much it buys."""
    if old.price != new.price:
        yield Phrase("price", f"price {_money(old.price)} -> {_money(new.price)}")
    for words, before, after, unit in (
        ("bottle", old.bottle_ml, new.bottle_ml, "ml"),
        ("bottle", old.bottle_g, new.bottle_g, "g"),
        ("pack", old.pack, new.pack, ""),
    ):
        if before != after:
            yield Phrase("price", f"{words} {_figures(before, after, unit)}")


def substances(words: Iterable[str]) -> frozenset[str]:
    """Return the ids of the substances these words name; a word that names none stands for itself."""
    found = [(word, regions.label_word(word)) for word in words]
    return frozenset(
        one
        for word, known in found
        for one in ((known and known.substances) or (known.said if known else word,))
    )


def _gains_and_losses(what: str, before: Iterable[str], after: Iterable[str]) -> Iterator[Phrase]:
    """Yield "contains + almond", "contains - milk"; the same substance in other words is no change."""
    # A caution is no word of a label: "raw egg" is not egg.
    old, new = (frozenset(words) if what == "caution" else substances(words) for words in (before, after))
    for sign, moved in (("+", new - old), ("-", old - new)):
        for one in sorted(moved):
            yield Phrase("label", f"{what} {sign} {one.replace('_', ' ')}", frozenset({one}))


def _figures(before: float | None, after: float | None, unit: str) -> str:
    old, new = ("not said" if value is None else f"{value:g}" for value in (before, after))
    return f"{old} -> {new} {unit}".rstrip() if after is not None else f"{old} {unit}".rstrip() + f" -> {new}"


def _same_amount(
    old: StockLine, before: Concentration | None, new: StockLine, after: Concentration | None
) -> bool:
    if before is None or after is None:
        return False
    try:
        one = grams_per_litre(before, old.density_g_per_ml)
        other = grams_per_litre(after, new.density_g_per_ml)
    except ValueError:
        # A figure that cannot be is told of as a problem; here it is compared as it is written.
        return False
    return abs(one - other) <= _SAME_G_PER_L


def _concentration(written: Concentration | None) -> str:
    return "not said" if written is None else f"{written.value:g} {written.unit}"


def _money(amount: Decimal | None) -> str:
    return "not said" if amount is None else f"{amount:.2f}"
