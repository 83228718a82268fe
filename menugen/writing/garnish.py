"""The small family of garnishes a glass is drawn with, and which of them a spec's words mean.

Every shape is a line drawing in mm, y downwards, seen dead level, round the point it is fixed to.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from menugen.writing.strokes import Line, typed_path

Spot = Literal["rim", "stand", "surface"]
"""Where a garnish goes: over the lip, leaning in the glass, or floating."""


@dataclass(frozen=True, slots=True)
class Shape:
    """How one garnish is drawn.

    Attributes:
        spot: Where its origin lies. "rim": on the lip, with the middle of the glass to the left. "stand": in the
            middle of the stem where it passes the rim, or a little over the surface of a drink far below it.
            "surface": on the surface.
        line: How it is drawn.
        above_mm: How far it rises over its origin.
    """

    spot: Spot
    line: Line
    above_mm: float


def _shape(spot: Spot, path: str, above_mm: float) -> Shape:
    return Shape(spot, typed_path(path), above_mm)


def _ball(x: float, y: float, r: float) -> str:
    return f"M{x - r:g} {y:g}a{r:g} {r:g} 0 1 0 {2 * r:g} 0a{r:g} {r:g} 0 1 0-{2 * r:g} 0z"


def _grains(*places: tuple[float, float]) -> str:
    return "".join(f"M{x:g} {y:g}l2-.8" for x, y in places)


_FLOWER = "".join(_ball(x, y, 4) for x, y in ((0, -12.8), (6.5, -8), (4, -0.5), (-4, -0.5), (-6.5, -8)))

SHAPES: Mapping[str, Shape] = MappingProxyType(
    {
        "twist": _shape(
            "rim",
            "M-7-13C3-21 15-13 9-5 5 1-2 1 1 7c3 5 10 2 12-2M-7-13c4 4 10 0 11 5 1 5-11 7-8 16s16 6 17-3",
            18,
        ),
        "wheel": _shape("rim", _ball(0, -4, 15) + "M0-19V11M-13-11.5L13 3.5M-13 3.5L13-11.5", 19),
        "wedge": _shape("rim", "M-11-15A16.3 16.3 0 0 1 11 9ZM0-3L15 1.5M0-3L12-14M0-3L-3.5-18.5", 20),
        "cucumber": _shape(
            "rim", _ball(0, -4, 15) + _ball(0, -4, 10.5) + _grains((-1, -8), (-5, -1), (3, -1)), 19
        ),
        "pineapple": _shape(
            "rim",
            "M-12 8L2-15L14 6Q1 14-12 8zM-6 2l13-4M-3-5l7-2"
            "M2-15C-1-22-4-25-9-27M2-15C1-23 1-28 3-33M2-15C5-22 8-25 13-26",
            33,
        ),
        "chilli": _shape("rim", "M-9-8C2-12 15 0 12 20 7 12-6 6-9-8zM-9-8L-14-14", 14),
        "olive": _shape("rim", "M12-16L-31 27" + _ball(-12, 8, 6.5) + _ball(-23, 19, 6.5), 16),
        "berry": _shape("rim", "M12-16L-31 27" + _ball(-8, 4, 5) + _ball(-16, 12, 5) + _ball(-24, 20, 5), 16),
        "sprig": _shape(
            "stand",
            "M0 14V-3M0-3C-8-9-7-20 0-27 7-20 8-9 0-3zM-1 1C-11 2-18-5-19-13-9-14-2-8-1 1z"
            "M1 1C11 2 18-5 19-13 9-14 2-8 1 1z",
            27,
        ),
        "cinnamon": _shape("stand", "M-5 14L3-29l8 1.5L4 15zM7-28L-.5 14.5", 29),
        "celery": _shape(
            "stand",
            "M-5 14L-4-14h9l2 28M1-10v24M-4-14c-8 0-11-7-9-13 4 0 6 2 7 5 0-6 2-9 7-11 4 2 6 5 6 11"
            " 1-3 3-5 7-5 2 6-2 13-9 13",
            33,
        ),
        "cherry": _shape("surface", _ball(0, -4, 8) + "M1-12C1-21 7-28 15-30", 30),
        "leaf": _shape("surface", "M-15 1C-9-13 7-14 16-6 9 5-6 8-15 1zM-15 1L5-4", 13),
        "flower": _shape("surface", _ball(0, -6, 2.5) + _FLOWER, 17),
        "star": _shape(
            "surface",
            _ball(0, -3, 3) + "M0-7v-9M0 1v9M4-3h10M-4-3h-10M3-6l7-7M-3-6l-7-7M3 0l7 7M-3 0l-7 7",
            16,
        ),
        "bean": _shape(
            "surface",
            "M-4-3c-3-8 2-13 6-13s7 7 1 13zM-1-3c1-4 1-8 3-13M-17 2c1-7 7-8 10-5s1 9-3 9-7-1-7-4z"
            "M-15 4c3-1 5-3 7-6M6 1c4-5 10-4 11 0s-3 7-6 6-6-2-5-6zM8 4c3 0 5-1 8-4",
            16,
        ),
        "grating": _shape(
            "surface",
            _grains((-15, -1), (-9, -4), (-5, 0), (0, -4), (4, 0), (9, -4), (14, -1), (-12, 3), (8, 3)),
            5,
        ),
    }
)
"""By glyph. Line drawings of our own."""

_MEANT: tuple[tuple[str, str], ...] = (
    ("grating", "grated grating dusted dusting dust powder powdered ground shaved nutmeg cocoa"),
    ("cucumber", "cucumber"),
    ("pineapple", "pineapple"),
    ("celery", "celery"),
    ("star", "anise"),
    ("cinnamon", "cinnamon cassia"),
    ("bean", "bean"),
    ("chilli", "chilli chili chile jalapeno"),
    ("olive", "olive"),
    ("cherry", "cherry"),
    ("flower", "flower blossom petal viola pansy borage nasturtium marigold elderflower rose hibiscus"),
    ("twist", "twist peel zest swath coin horse"),
    ("wedge", "wedge fan half segment"),
    ("wheel", "wheel slice round disc"),
    ("berry", "berry raspberry blackberry strawberry blueberry cranberry onion grape melon lychee"),
    ("sprig", "sprig bouquet mint rosemary thyme lavender dill fennel samphire heather frond tip top"),
    ("leaf", "leaf basil sage bay verbena sorrel shiso"),
)
"""Glyph and the words that mean it; the first line with any of a garnish's words wins, so a shape beats the fruit."""


def garnish_glyph(name: str) -> str:
    """Return the glyph that a garnish's words mean: "dried orange wheel" gives "wheel".

    Args:
        name: As the spec has it, or a glyph itself; upper and lower case alike, one or many.

    Returns:
        A key of `SHAPES`, or an empty string when nothing of the family is meant.
    """
    words = {form for word in re.findall(r"[a-z]+", name.lower()) for form in _singular(word)}
    return next((glyph for glyph, meant in _MEANT if glyph in words or words & set(meant.split())), "")


def _singular(word: str) -> tuple[str, ...]:
    """The word and what it may be the plural of."""
    return (
        word,
        word.removesuffix("s"),
        word.removesuffix("es"),
        re.sub("ies$", "y", word),
        re.sub("ves$", "f", word),
    )
