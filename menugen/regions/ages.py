"""From which age a place lets a drink be served: one age for all, or a lower one for some kinds of drink."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from menugen.regions.alcohol import PouredAlcohol
from menugen.regions.certainty import weakest


@dataclass(frozen=True, slots=True)
class LowerAge:
    """An age under the usual one, for drinks all of whose alcohol is of some kinds.

    Attributes:
        age: Years.
        classes: Of kinds of ingredients, "beer" or "wine"; empty where the kind does not matter.
        below_abv_percent: Every bottle is weaker than this; None where the strength does not matter.
        neat: Whether a mix with anything else is served from the usual age only.
    """

    age: int
    classes: frozenset[str]
    below_abv_percent: float | None
    neat: bool

    def holds(self, pours: Collection[PouredAlcohol], *, mixed: bool) -> bool:
        """Return whether a drink is served from this age.

        Args:
            pours: Its alcohol, bottle by bottle.
            mixed: Whether anything else is poured with the first of them.
        """
        return not (self.neat and mixed) and all(
            (not self.classes or pour.kind in self.classes)
            and (self.below_abv_percent is None or pour.abv_percent < self.below_abv_percent)
            for pour in pours
        )


@dataclass(frozen=True, slots=True)
class Ages:
    """From which age drinks with alcohol are served in a place.

    Attributes:
        served: Years, for any drink with alcohol.
        lower: For some kinds; None where one age holds for all.
        note: For the operator: exceptions and doubts; may be empty.
        source: Ids of sources.
        how: "read", "reported" or "memory", the weakest part of it.
    """

    served: int
    lower: LowerAge | None
    note: str
    source: tuple[str, ...]
    how: str

    def of(self, pours: Collection[PouredAlcohol], *, mixed: bool) -> int | None:
        """Return the age from which a drink is served; None for one without alcohol.

        Args:
            pours: Its alcohol, bottle by bottle. What is of no known kind counts as the strictest.
            mixed: Whether more than one thing is poured.
        """
        if not pours:
            return None
        return self.lower.age if self.lower and self.lower.holds(pours, mixed=mixed) else self.served


def ages_entry(raw: Mapping[str, Any]) -> Ages:
    """Return the record of a place's `age`."""
    lower = raw.get("lower")
    return Ages(
        served=raw["served"],
        lower=LowerAge(
            age=lower["age"],
            classes=frozenset(lower.get("classes", ())),
            below_abv_percent=lower.get("below_abv"),
            neat=lower.get("neat", False),
        )
        if lower
        else None,
        note=raw.get("note", ""),
        source=tuple(raw["source"]),
        how=weakest(raw["how"]),
    )
