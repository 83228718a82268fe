"""What a stock line says now and did not say before.

A supplier, a note and a colour change nothing in a drink and are passed over; so is the same figure in another unit.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Literal, NamedTuple, TypeAlias

from menugen import regions
from menugen.facts import grams_per_litre, stock_cautions
from menugen.reading import STOCK, differences
from menugen.records import Concentration, StockLine

_Words: TypeAlias = "Callable[[StockLine, StockLine], Iterator[Phrase]]"

_SAME_G_PER_L = 1e-6
"""Two concentrations closer than this are one, written differently."""


class Phrase(NamedTuple):
    """One thing that a stock line says differently.

    Attributes:
        about: What it bears on: "strength", "sugar", "acid", "fat", "amount", "density", "kept", "kind", "price",
            "label" or "read".
        text: "40 -> 43 % vol".
        substances: Ids of what it says of allergens, or of cautions.
        said: What the label said and says no longer, in its own words: "contains almonds".
        says: What it says now.
    """

    about: str
    text: str
    substances: frozenset[str] = frozenset()
    said: str = ""
    says: str = ""


def label_was_read_again(old: StockLine, new: StockLine) -> bool:
    """Return whether the label was read on another day."""
    return new.checked is not None and new.checked != old.checked


def stock_moves(old: StockLine, new: StockLine) -> tuple[Phrase, ...]:
    """Return a phrase for each thing that a stock line says differently; nothing where it says the same."""
    if old is new or old == new:
        return ()
    moved = {difference.key: difference for difference in differences(STOCK, old, new)}
    # A line that says nothing of cautions has those of its kind and its name.
    concerned = {*moved, *(("cautions",) if old.name != new.name or "kind" in moved else ())}
    if "contains" in moved:
        concerned.add("checked")
    told = [phrase for key, words in _WORDS.items() if key in concerned for phrase in words(old, new)]
    for key, (_, before, after) in moved.items():
        if key not in _WORDS:
            told.append(Phrase(key, f"{key} {before or 'not said'} -> {after or 'not said'}"))
    return tuple(sorted(told, key=lambda phrase: phrase.about == "price"))


def _reading(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    if label_was_read_again(old, new):
        yield Phrase("read", f"label read again {new.checked}")
    elif old.checked is not None and new.checked is None:
        yield Phrase("read", "the day its label was read is gone")
    if old.contains is None and new.contains is not None:
        yield Phrase("read", "label read")


def _contains(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    if old.contains is not None and new.contains is None:
        # Then nobody knows what it contains: that is no loss of a substance.
        said = f"contains {', '.join(old.contains) or 'none'}"
        yield Phrase("label", "what it contains is no longer said", substances(old.contains), said)
    else:
        yield from _gains_and_losses("contains", old.contains or (), new.contains or ())


def _fined_with(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    for sign, one, other in (("+", new, old), ("-", old, new)):
        for word in one.fined_with:
            # Isinglass and fish gelatine are both fish, and a law may exempt the one alone: the word itself is told.
            if word not in other.fined_with:
                label = f"fined with {word}"
                said, says = ("", label) if sign == "+" else (label, "")
                yield Phrase("label", f"fined with {sign} {word}", substances([word]), said, says)


def _sulphites(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    told = _figures(old.sulphites_mg_per_l, new.sulphites_mg_per_l, "mg/l")
    yield Phrase("label", f"sulphites {told}", frozenset({"sulphites"}))


def _strength(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    yield Phrase("strength", _figures(old.abv_percent, new.abv_percent, "% vol"))


def _dissolved(key: Literal["sugar", "acid", "fat"]) -> _Words:
    def words(old: StockLine, new: StockLine) -> Iterator[Phrase]:
        before, after = getattr(old, key), getattr(new, key)
        if not _same_amount(old, before, new, after):
            yield Phrase(key, f"{key} {_concentration(before)} -> {_concentration(after)}")

    return words


def _size(about: str, words: str, *fields: tuple[str, str]) -> _Words:
    """Return what tells of figures, each a field of the record and its unit."""

    def told(old: StockLine, new: StockLine) -> Iterator[Phrase]:
        for field, unit in fields:
            before, after = getattr(old, field), getattr(new, field)
            if before != after:
                yield Phrase(about, f"{words} {_figures(before, after, unit)}")

    return told


def _price(old: StockLine, new: StockLine) -> Iterator[Phrase]:
    yield Phrase("price", f"price {_money(old.price)} -> {_money(new.price)}")


_WORDS: Mapping[str, _Words] = {
    "checked": _reading,
    "contains": _contains,
    "may contain": lambda old, new: _gains_and_losses("may contain", old.may_contain, new.may_contain),
    "distilled from": lambda old, new: _gains_and_losses(
        "distilled from", old.distilled_from, new.distilled_from
    ),
    "fined with": _fined_with,
    "cautions": lambda old, new: _gains_and_losses("caution", stock_cautions(old), stock_cautions(new)),
    "sulphites": _sulphites,
    "abv": _strength,
    "sugar": _dissolved("sugar"),
    "acid": _dissolved("acid"),
    "fat": _dissolved("fat"),
    "each": _size("amount", "one", ("each_ml", "ml"), ("each_g", "g")),
    "density": _size("density", "density", ("density_g_per_ml", "g/ml")),
    "price": _price,
    "bottle": _size("price", "bottle", ("bottle_ml", "ml"), ("bottle_g", "g")),
    "pack": _size("price", "pack", ("pack", "")),
}
"""How a change of each key is worded, in the order it is told; every other compared key is worded by the table."""


def substances(words: Iterable[str]) -> frozenset[str]:
    """Return the ids of the substances these words name; a word that names none stands for itself."""
    found = [(word, regions.label_word(word)) for word in words]
    return frozenset(
        one
        for word, known in found
        for one in ((known and known.substances) or ((known.said if known else word).casefold(),))
    )


def _gains_and_losses(what: str, before: Iterable[str], after: Iterable[str]) -> Iterator[Phrase]:
    """Yield "contains + almond", "contains - milk"; the same substance in other words is no change."""
    # A caution is no word of a label: "raw egg" is not egg.
    read = _by_themselves if what == "caution" else _by_substance
    old, new = read(before), read(after)
    for sign, moved, words in (("+", new.keys() - old.keys(), new), ("-", old.keys() - new.keys(), old)):
        for one in sorted(moved):
            label = f"{what} {words[one]}"
            said, says = ("", label) if sign == "+" else (label, "")
            yield Phrase("label", f"{what} {sign} {one.replace('_', ' ')}", frozenset({one}), said, says)


def _by_themselves(words: Iterable[str]) -> dict[str, str]:
    return {word: word for word in words}


def _by_substance(words: Iterable[str]) -> dict[str, str]:
    """Return the first of these words that names each substance."""
    return {one: word for word in reversed(list(words)) for one in substances([word])}


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
