"""One large cube in a glass: how much of it is under the surface.

It stands on the bottom, or where the glass is wide enough for its corners, until the drink lifts it; then it floats.
Its size is its own, whatever the drink.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from menugen.mixing.ice import ICE_KG_PER_M3

Profile = Sequence[tuple[float, float]]

SINKS_IN = ICE_KG_PER_M3 / 1000.0
"""Share of floating ice that is under the surface of a drink as heavy as water."""

_MM3_PER_ML = 1000.0


@dataclass(frozen=True, slots=True)
class Block:
    """A cube of ice in a glass.

    Attributes:
        side_mm: Its side; more than 0.
        brim_ml: What the glass holds to the brim.
        seat_mm: How high over the bottom of the glass it stands.
    """

    side_mm: float
    brim_ml: float
    seat_mm: float

    @property
    def most_ml(self) -> float:
        """Room it takes under the surface when it floats: no more, however deep the drink."""
        return SINKS_IN * self.side_mm**3 / _MM3_PER_ML

    def under_ml(self, height_mm: float) -> float:
        """Return how much of it is under a surface that stands so high in the glass."""
        deep_mm = min(max(0.0, height_mm - self.seat_mm), SINKS_IN * self.side_mm)
        return self.side_mm**2 * deep_mm / _MM3_PER_ML


def tumbler(brim_ml: float) -> tuple[tuple[float, float], ...]:
    """Return the shape a glass is taken for where nobody has measured it: straight, and as high as it is wide."""
    radius_mm = (brim_ml * _MM3_PER_ML / (2.0 * math.pi)) ** (1.0 / 3.0)
    return ((0.0, radius_mm), (2.0 * radius_mm, radius_mm))


@lru_cache(maxsize=1024)
def seat_mm(profile: tuple[tuple[float, float], ...], side_mm: float) -> float | None:
    """Return how high over the bottom of a glass a cube stands; None where its corners do not go in at the rim."""
    corner_mm = side_mm / math.sqrt(2.0)
    if profile[-1][1] < corner_mm:
        return None
    if profile[0][1] >= corner_mm:
        return 0.0
    for (low_mm, low_radius), (high_mm, high_radius) in pairwise(profile):
        if high_radius >= corner_mm:
            return low_mm + (high_mm - low_mm) * (corner_mm - low_radius) / (high_radius - low_radius)
    raise AssertionError("the rim is wide enough")
