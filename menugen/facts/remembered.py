"""Drinks worked out before, by all they hang on: from one save in the preview to the next, most are as they were.

A text is read once, so that a spec that nobody has changed is the same object; what else a drink hangs on is compared.
"""

from collections.abc import Mapping
from datetime import date
from typing import Generic, NamedTuple, TypeVar

from menugen.facts.glasses import IcePieces
from menugen.records import HouseGlass, Spec, StockLine
from menugen.regions import Region

T = TypeVar("T")


class Circumstances(NamedTuple):
    """All that a drink hangs on beside its spec; what differs most often comes first.

    Attributes:
        date: As in `Setting`.
        region: The rules.
        tonight: As in `Bottles`.
        glasses: The house's own.
        ice: The house's.
        broken_stock: As in `Broken`.
        by_name: As in `Bottles`.
        pours_alcohol: As in `Event`.
    """

    date: date | None
    region: Region
    tonight: Mapping[str, str]
    glasses: Mapping[str, HouseGlass]
    ice: IcePieces
    broken_stock: frozenset[str]
    by_name: Mapping[str, StockLine]
    pours_alcohol: bool = True


class Remembered(Generic[T]):
    """What was worked out of each spec, in the circumstances of late."""

    def __init__(self, most: int) -> None:
        """Remember nothing yet.

        Args:
            most: Specs, in all circumstances together, from which on the oldest circumstances are forgotten.
        """
        self._most = most
        self._latest_first: list[tuple[Circumstances, dict[int, tuple[Spec, T]]]] = []

    def of(self, now: Circumstances) -> dict[int, tuple[Spec, T]]:
        """Return what is remembered in these circumstances, by the id of each spec; who finds nothing adds it."""
        at = next((at for at, (known, _) in enumerate(self._latest_first) if known == now), None)
        found = (now, {}) if at is None else self._latest_first.pop(at)
        self._latest_first.insert(0, found)
        while len(self._latest_first) > 1 and sum(len(kept) for _, kept in self._latest_first) >= self._most:
            self._latest_first.pop()
        if len(found[1]) >= self._most:
            found[1].clear()
        return found[1]
