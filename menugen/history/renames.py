"""Which drink that is gone lives on under another name: told by what is poured."""

from collections.abc import Mapping

from menugen.history.differences import amount_of, name_of
from menugen.records import Line, Spec

ALIKE = 0.6
"""Share of two specs that must agree before one is taken for the other. Judged on the starter library, where no two
different drinks reach it; no published source."""

_MOST_TRIED = 40_000
"""Pairs compared at most; past that only drinks with the very same lines are matched."""


def renamed(gone: Mapping[str, Spec], added: Mapping[str, Spec]) -> dict[str, str]:
    """Return old slug -> new slug for every drink that is gone under one name and there under another.

    Args:
        gone: Specs only the older house has.
        added: Specs only the newer house has.
    """
    pairs: list[tuple[float, str, str]] = []
    if len(gone) * len(added) <= _MOST_TRIED:
        for old_slug, old in gone.items():
            for new_slug, new in added.items():
                score = likeness(old, new)
                if score >= ALIKE:
                    pairs.append((-score, old_slug, new_slug))
    else:
        by_lines: dict[frozenset[object], list[str]] = {}
        for slug, spec in added.items():
            by_lines.setdefault(_lines(spec), []).append(slug)
        pairs = [
            (-1.0, slug, other) for slug, spec in gone.items() for other in by_lines.get(_lines(spec), ())
        ]
    found: dict[str, str] = {}
    taken: set[str] = set()
    for _, old_slug, new_slug in sorted(pairs):
        if old_slug not in found and new_slug not in taken:
            found[old_slug] = new_slug
            taken.add(new_slug)
    return found


def likeness(old: Spec, new: Spec) -> float:
    """Return how much of two specs is the same, 0 to 1: things with their amounts, a little for name and glass."""
    before, after = _amounts(old), _amounts(new)
    names = before.keys() | after.keys()
    if not names:
        return 0.0
    shared = sum(_share(before.get(name), after.get(name)) for name in names) / len(names)
    same_name = 0.05 * (name_of(old.name) == name_of(new.name))
    same_glass = 0.02 * (name_of(old.glass) == name_of(new.glass))
    return min(1.0, shared + same_name + same_glass)


def _lines(spec: Spec) -> frozenset[object]:
    return frozenset((name_of(line.name), line.role, amount_of(line.measure)) for line in spec.lines)


def _amounts(spec: Spec) -> dict[str, Line]:
    return {name_of(line.name): line for line in spec.lines}


def _share(old: Line | None, new: Line | None) -> float:
    """Return how much of one line the other is: 0 for none, 1 for the same amount."""
    if old is None or new is None:
        return 0.0
    one, other = old.measure, new.measure
    for before, after in (
        (one.volume_ml, other.volume_ml),
        (one.mass_g, other.mass_g),
        (one.count, other.count),
    ):
        if before is not None and after is not None:
            return min(before, after) / max(before, after)
    return 1.0 if one.unit == other.unit else 0.5
