"""What a gram of each thing brings in energy, by a place's labelling law."""

from dataclasses import dataclass
from typing import Any, NamedTuple


class EnergyPerGram(NamedTuple):
    """Energy of one gram, in each unit by the figures of the law."""

    kj: float
    kcal: float


@dataclass(frozen=True, slots=True)
class EnergyFactors:
    """The factors a label of the place is worked out with.

    Attributes:
        law: As the working of a figure names it.
        note: What the law leaves open; may be empty.
        alcohol: Of a gram of pure alcohol.
        carbohydrate: Of a gram of sugar or starch.
        organic_acid: Of a gram of citric, malic or another such acid; that of carbohydrate where the law has none.
        fat: Of a gram.
        protein: Of a gram.
        source: Ids of sources.
        how: "read", "reported" or "memory".
    """

    law: str
    note: str
    alcohol: EnergyPerGram
    carbohydrate: EnergyPerGram
    organic_acid: EnergyPerGram
    fat: EnergyPerGram
    protein: EnergyPerGram
    source: tuple[str, ...]
    how: str

    @property
    def cited(self) -> str:
        """The law and its figures in a sentence, for the working of a figure; says so where they are from memory."""
        of = (
            (self.alcohol, "alcohol"),
            (self.carbohydrate, "sugar"),
            (self.organic_acid, "organic acid"),
            (self.fat, "fat"),
        )
        (first, name), *rest = of
        figures = ", ".join(
            (
                f"{first.kj:.3g} kJ or {first.kcal:.3g} kcal to a gram of {name}",
                *(f"{one.kj:.3g} or {one.kcal:.3g} of {what}" for one, what in rest),
            )
        )
        return f"{self.law}{', from memory' if self.how == 'memory' else ''}: {figures}"


def energy_factors(raw: dict[str, Any]) -> EnergyFactors:
    """Return the factors of one `energy` entry; the format is explained in data/everywhere.yaml."""
    return EnergyFactors(
        law=raw["law"],
        note=raw.get("note", ""),
        alcohol=_per_gram(raw, "alcohol"),
        carbohydrate=_per_gram(raw, "carbohydrate"),
        organic_acid=_per_gram(raw, "organic acid"),
        fat=_per_gram(raw, "fat"),
        protein=_per_gram(raw, "protein"),
        source=tuple(raw["source"]),
        how=raw["how"],
    )


def _per_gram(raw: dict[str, Any], name: str) -> EnergyPerGram:
    """Return both figures; the one that the law does not print follows from the other."""
    if "kj" not in raw:
        kcal = raw["kcal"][name]
        return EnergyPerGram(kcal * raw["kj_per_kcal"], kcal)
    kj = raw["kj"][name]
    return EnergyPerGram(kj, raw["kcal"][name] if "kcal" in raw else kj / raw["kj_per_kcal"])
