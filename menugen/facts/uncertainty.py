"""How the doubts of the inputs add up to the range of a result.

Independent errors add by their squares. What several figures of a drink share (measures, bottles, melting, the model of
volumes) is reckoned once here, so that a strength, a sugar and an energy of one drink rest on the same doubts.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from menugen.facts.tolerances import (
    JIGGER_SOURCE,
    JIGGER_TOLERANCE,
    MODEL_SOURCE,
    MODEL_TOLERANCE,
)
from menugen.mixing import Figure


class Part(NamedTuple):
    """What one line brings of something.

    Attributes:
        amount: Grams, millilitres or kilojoules of it; 0 or more.
        off_by: How far what is in the bottle may lie off, for this much of it.
        volume_ml: Room the line takes in the drink.
        sources: Why it may be off by that; empty where it is not.
    """

    amount: float
    off_by: float
    volume_ml: float
    sources: tuple[str, ...]


class Doubt(NamedTuple):
    """One reason a result may lie off.

    Attributes:
        what: The reason, in words.
        below: How far down, in the result's unit; 0 or more.
        above: How far up.
        sources: What the reason rests on; may be empty.
    """

    what: str
    below: float
    above: float
    sources: tuple[str, ...]


class Worked(NamedTuple):
    """A result with its range and the doubts that make the range."""

    figure: Figure
    doubts: tuple[Doubt, ...]


class Volume(NamedTuple):
    """What a drink comes to, and what melting may make of it.

    Attributes:
        ml: As worked out; more than 0.
        drier_ml: With as little melt water as may be.
        wetter_ml: With as much.
        mixed: Whether anything was mixed, so that the model of volumes has a say.
    """

    ml: float
    drier_ml: float
    wetter_ml: float
    mixed: bool


def _worked(value: float, doubts: Sequence[Doubt], most: float = math.inf) -> Worked:
    below = math.sqrt(sum(doubt.below**2 for doubt in doubts))
    above = math.sqrt(sum(doubt.above**2 for doubt in doubts))
    told = tuple(doubt for doubt in doubts if max(doubt.below, doubt.above) > 0.0)
    return Worked(Figure(value, max(0.0, value - below), min(most, value + above)), told)


def _even(what: str, off_by: float, *sources: str) -> Doubt:
    return Doubt(what, off_by, off_by, sources)


def _root(values: Sequence[float]) -> float:
    return math.sqrt(sum(value * value for value in values))


def _jigger(off_by: float) -> Doubt:
    return _even(f"each measure within {JIGGER_TOLERANCE:.0%}".replace("%", " %"), off_by, JIGGER_SOURCE)


def _bottles(parts: Sequence[Part], off_by: float) -> Doubt:
    sources = dict.fromkeys(source for part in parts for source in part.sources)
    return _even("what the bottles hold", off_by, *sources)


def total(parts: Sequence[Part]) -> Worked:
    """Return all of it in the drink: the sum of the pours."""
    value = sum(part.amount for part in parts)
    return _worked(
        value,
        (
            _jigger(JIGGER_TOLERANCE * _root([part.amount for part in parts])),
            _bottles(parts, _root([part.off_by for part in parts])),
        ),
    )


def concentration(parts: Sequence[Part], volume: Volume, per_ml: float, most: float = math.inf) -> Worked:
    """Return how much of it is in so many millilitres of the drink as served.

    Args:
        parts: What every line brings, those that bring none of it too: they thin the drink.
        volume: What the drink comes to.
        per_ml: 1000 for grams per litre, 100 for a percentage by volume.
        most: What it cannot exceed, as a strength cannot exceed 100.
    """
    amount = sum(part.amount for part in parts)
    if amount == 0.0:
        return Worked(Figure(0.0, 0.0, 0.0), ())
    value = per_ml * amount / volume.ml
    pours = [per_ml * part.amount / volume.ml - value * part.volume_ml / volume.ml for part in parts]
    doubts = (
        _jigger(JIGGER_TOLERANCE * _root(pours)),
        _bottles(parts, per_ml * _root([part.off_by for part in parts]) / volume.ml),
        Doubt(
            "more or less melting",
            value - value * volume.ml / volume.wetter_ml,
            value * volume.ml / volume.drier_ml - value,
            (),
        ),
        _even("volume of the mixture", MODEL_TOLERANCE * value if volume.mixed else 0.0, MODEL_SOURCE),
    )
    return _worked(value, doubts, most)


def ratio(above: Sequence[Part], below: Sequence[Part]) -> Worked | None:
    """Return one thing over another, line by line the same pours; None where there is none of the other."""
    top, bottom = sum(part.amount for part in above), sum(part.amount for part in below)
    if bottom <= 0.0:
        return None
    value = top / bottom
    pours = [(one.amount - value * other.amount) / bottom for one, other in zip(above, below, strict=True)]
    bottles = [part.off_by / bottom for part in above] + [value * part.off_by / bottom for part in below]
    return _worked(
        value, (_jigger(JIGGER_TOLERANCE * _root(pours)), _bottles((*above, *below), _root(bottles)))
    )
