"""Dangers beyond allergens that a drink can carry, and what guests and the bar are told of them."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from menugen.regions.data_files import load


@dataclass(frozen=True, slots=True)
class Caution:
    """A danger, with our own words for it. They replace no law, label, doctor or pharmacist.

    Attributes:
        id: "raw egg".
        guest: A sentence shown with the drink; None where it is the bar's to look after, or must not be done.
        bar: For the spec card and the briefing.
        of_alcohol: Whether it speaks of alcohol, so that it has no place where none is poured.
        forbids: Whether the bar is told not to serve it at all.
        with_alcohol: The caution it comes with in a drink that also holds alcohol; empty for most.
        facts: What it rests on, for the operator.
        sources: Ids of sources.
        how: "read", "reported" or "memory".
    """

    id: str
    guest: str | None
    bar: str
    of_alcohol: bool
    forbids: bool
    with_alcohol: str
    facts: str
    sources: tuple[str, ...]
    how: str


def caution(caution_id: str) -> Caution:
    """Return a caution by its id; hyphens and spaces are alike.

    Raises:
        KeyError: There is no such caution (a bug upstream: reading has looked among `known_cautions`).
    """
    return _table()[_plain(caution_id)]


@cache
def known_cautions() -> tuple[str, ...]:
    """Return every id, most grave first."""
    return tuple(known.id for known in _table().values())


def with_alcohol(cautions: Iterable[str]) -> tuple[str, ...]:
    """Return the cautions that these bring along in a drink that also holds alcohol."""
    carried = set(cautions)
    return tuple(known.id for known in _table().values() if known.with_alcohol in carried)


@cache
def _table() -> dict[str, Caution]:
    return {
        _plain(raw["id"]): Caution(
            id=raw["id"],
            guest=raw.get("guest"),
            bar=raw["bar"],
            of_alcohol=raw.get("of_alcohol", False),
            forbids=raw.get("forbids", False),
            with_alcohol=raw.get("with_alcohol", ""),
            facts=raw["facts"],
            sources=tuple(raw["source"]),
            how=raw["how"],
        )
        for raw in load("cautions.yaml")["cautions"]
    }


def _plain(caution_id: str) -> str:
    return caution_id.replace("-", " ")
