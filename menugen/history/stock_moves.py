"""What a stock line says now and did not say before, as phrases.

A supplier, a note and a colour change nothing in a drink and are passed over.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from menugen import regions
from menugen.records import Concentration, StockLine


def label_was_read_again(old: StockLine, new: StockLine) -> bool:
    """Return whether the label was read on another day."""
    return new.checked is not None and new.checked != old.checked


def stock_moves(old: StockLine, new: StockLine) -> tuple[str, ...]:
    """Return a phrase for each thing that a stock line says differently; nothing where it says the same."""
    if old == new:
        return ()
    return (*label_moves(old, new), *figure_moves(old, new), *price_moves(old, new))


def label_moves(old: StockLine, new: StockLine) -> tuple[str, ...]:
    """Return what the label says differently of what is in the bottle, and whether it was read again."""
    told = []
    if label_was_read_again(old, new):
        told.append(f"label read again {new.checked}")
    elif old.checked is not None and new.checked is None:
        told.append("the day its label was read is gone")
    if old.contains is None and new.contains is not None:
        told.append("label read")
    if old.contains is not None and new.contains is None:
        told.append("what it contains is no longer said")
    for words, before, after in (
        ("contains", old.contains or (), new.contains or ()),
        ("may contain", old.may_contain, new.may_contain),
        ("distilled from", old.distilled_from, new.distilled_from),
        ("caution", old.cautions, new.cautions),
    ):
        told += _gains_and_losses(words, before, after)
    if old.sulphites_mg_per_l != new.sulphites_mg_per_l:
        told.append("sulphites " + _figures(old.sulphites_mg_per_l, new.sulphites_mg_per_l, "mg/l"))
    return tuple(told)


def figure_moves(old: StockLine, new: StockLine) -> tuple[str, ...]:
    """Return what is said differently of strength, sweetness, size and density."""
    told = []
    if old.abv_percent != new.abv_percent:
        told.append(_figures(old.abv_percent, new.abv_percent, "% vol"))
    for words, before, after in (
        ("sugar", old.sugar, new.sugar),
        ("acid", old.acid, new.acid),
        ("fat", old.fat, new.fat),
    ):
        if before != after:
            told.append(f"{words} {_concentration(before)} -> {_concentration(after)}")
    for words, size_before, size_after, unit in (
        ("one", old.each_ml, new.each_ml, "ml"),
        ("one", old.each_g, new.each_g, "g"),
        ("density", old.density_g_per_ml, new.density_g_per_ml, "g/ml"),
    ):
        if size_before != size_after:
            told.append(f"{words} {_figures(size_before, size_after, unit)}")
    if old.kind != new.kind:
        told.append(f"kind {old.kind or 'not said'} -> {new.kind or 'not said'}")
    return tuple(told)


def price_moves(old: StockLine, new: StockLine) -> tuple[str, ...]:
    """Return what is said differently of the price, and of how much it buys."""
    told = []
    if old.price != new.price:
        told.append(f"price {_money(old.price)} -> {_money(new.price)}")
    for words, before, after, unit in (
        ("bottle", old.bottle_ml, new.bottle_ml, "ml"),
        ("bottle", old.bottle_g, new.bottle_g, "g"),
        ("pack", old.pack, new.pack, ""),
    ):
        if before != after:
            told.append(f"{words} {_figures(before, after, unit)}")
    return tuple(told)


def substances(words: Iterable[str]) -> frozenset[str]:
    """Return the ids of the substances these words name; a word that names none stands for itself."""
    return frozenset(regions.substance_id(word) or word for word in words)


def _gains_and_losses(what: str, before: Iterable[str], after: Iterable[str]) -> Iterator[str]:
    """Yield "contains + almond, - milk"; the same substance in other words is no change."""
    old, new = substances(before), substances(after)
    moved = [f"+ {one}" for one in sorted(new - old)] + [f"- {one}" for one in sorted(old - new)]
    if moved:
        yield f"{what} {', '.join(moved)}".replace("_", " ")


def _figures(before: float | None, after: float | None, unit: str) -> str:
    old, new = ("not said" if value is None else f"{value:g}" for value in (before, after))
    return f"{old} -> {new} {unit}".rstrip() if after is not None else f"{old} {unit}".rstrip() + f" -> {new}"


def _concentration(written: Concentration | None) -> str:
    return "not said" if written is None else f"{written.value:g} {written.unit}"


def _money(amount: Decimal | None) -> str:
    return "not said" if amount is None else f"{amount:.2f}"
