"""Glasses by name: what an ordinary one holds and how it is shaped."""

from dataclasses import dataclass
from functools import cache, lru_cache

from menugen.reference.names import plain_name
from menugen.reference.package_data import package_data


@dataclass(frozen=True, slots=True)
class ReferenceGlass:
    """An ordinary glass of its name.

    Attributes:
        name: As we spell it: "coupe", "irish coffee".
        names: Other names it goes by.
        brim_ml: What it holds to the brim.
        wash_line_share: How much of that a drink usually fills, 0 to 1.
        wash_line_habit: The habit behind it, in words.
        profile_mm: (height, inner radius) from the bottom of the bowl to the rim.
        stem_mm: Height of stem and foot under the bowl; 0 for none.
        foot_mm: Radius of the foot; 0 for none.
        standing: What the size rests on.
    """

    name: str
    names: tuple[str, ...]
    brim_ml: float
    wash_line_share: float
    wash_line_habit: str
    profile_mm: tuple[tuple[float, float], ...]
    stem_mm: float
    foot_mm: float
    standing: str


@lru_cache(maxsize=1024)
def glass(name: str) -> ReferenceGlass | None:
    """Return the glass of this name or alias, or None; "old-fashioned glass" is a rocks glass."""
    wanted = plain_name(name)
    by_name = _by_name()
    return by_name.get(wanted) or by_name.get(wanted.removesuffix(" glass"))


def glass_names() -> tuple[str, ...]:
    """Return our spelling of every glass, in alphabetical order."""
    return tuple(sorted({known.name for known in _by_name().values()}))


@cache
def _by_name() -> dict[str, ReferenceGlass]:
    found: dict[str, ReferenceGlass] = {}
    for entry in package_data("glasses")["glasses"]:
        share, habit = entry["wash_line"]
        known = ReferenceGlass(
            name=entry["name"],
            names=tuple(entry["names"]),
            brim_ml=float(entry["brim_ml"]),
            wash_line_share=float(share),
            wash_line_habit=habit,
            profile_mm=tuple((float(height), float(radius)) for height, radius in entry["profile"]),
            stem_mm=float(entry["stem_mm"]),
            foot_mm=float(entry["foot_mm"]),
            standing=entry["standing"],
        )
        found.update((plain_name(name), known) for name in (known.name, *known.names))
    return found
