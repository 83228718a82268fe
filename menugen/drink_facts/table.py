"""The table of a drink's facts, in the order a bartender reads them, and what follows from it."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Literal

from menugen.drink_facts import labels, making, prices, taste
from menugen.drink_facts.fact import Compared, Fact, ToldGuests, Value, Way, WordList
from menugen.report import Row

FACTS: tuple[Fact, ...] = (
    *making.FACTS,
    *prices.RULES_OF_SALE,
    *taste.FACTS,
    *labels.FACTS,
    *prices.MONEY,
)
"""Every fact. A new one stands in the text where it stands here, and comes last in JSON and in a comparison."""

_IN_DATA = (
    "serves", "lines", "poured", "melt", "served", "alcohol", "menu says", "age", "lowest price",
    "labels", "cautions", "sugar", "acid", "sweet to sour", "fat", "energy", "glass",
)  # fmt: skip
"""The order programs have always been given them in, which is not a bartender's."""

_IN_COMPARISON = (
    "strength", "volume", "units", "units a serve", "sugar", "acid", "cost", "fit", "menu's word",
    "age", "lowest price",
)  # fmt: skip
"""The order changes have always been reported in."""


def rows_of(way: Way, part: Literal["making", "contents"]) -> Iterator[Row]:
    """Yield one paragraph of a drink's text."""
    for fact in FACTS:
        if fact.part == part:
            yield from fact.rows(way)


def way_phrase(way: Way) -> str:
    """Return what is to be said of a way of making a drink in one line."""
    return "; ".join(filter(None, (fact.phrase(way) for fact in FACTS)))


def way_data(way: Way) -> dict[str, Any]:
    """Return a way of making a drink as plain data."""
    facts = sorted(FACTS, key=lambda fact: _place(fact.name, _IN_DATA))
    one = _merged(fact.one_serve(way) for fact in facts) if way.serve.serves > 1 else None
    return {**_merged(fact.data(way) for fact in facts), "one_serve": one}


def compared_facts() -> tuple[Compared, ...]:
    """Return what is compared of a drink, in the order it is reported."""
    found = [compared for fact in FACTS for compared in fact.compared]
    return tuple(sorted(found, key=lambda compared: _place(compared.name, _IN_COMPARISON)))


def compared_values(way: Way) -> dict[str, Value]:
    """Return what is compared of one way to make a drink, by the fact's name."""
    return {compared.name: compared.of(way) for compared in compared_facts()}


def word_lists() -> Iterator[WordList]:
    """Yield the words that a change may bring in or take out."""
    return (words for fact in FACTS for words in fact.lists)


def told_guests() -> Iterator[ToldGuests]:
    """Yield what guests are told of a way of making a drink beside its strength and what its labels say."""
    return (fact.guests for fact in FACTS if fact.guests is not None)


def _place(name: str, order: Sequence[str]) -> int:
    return order.index(name) if name in order else len(order)


def _merged(parts: Iterable[Any]) -> dict[str, Any]:
    """Return all that facts say; what two of them say under one key stands together there."""
    whole: dict[str, Any] = {}
    for part in parts:
        for key, value in part.items():
            known = whole.get(key)
            whole[key] = {**known, **value} if isinstance(known, dict) else value
    return whole
