"""A figure together with the range it may lie in."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A worked-out value and how far off it may be, in the unit its name says.

    Attributes:
        value: The best estimate.
        low: The lowest it is likely to be; never above `value`.
        high: The highest it is likely to be; never below `value`.
    """

    value: float
    low: float
    high: float


def exactly(value: float) -> Figure:
    """Return a figure without spread."""
    return Figure(value, value, value)


def around(value: float, below: float, above: float, *, floor: float = 0.0) -> Figure:
    """Return a figure with its spread to either side.

    Args:
        value: The best estimate.
        below: How far down it may lie; 0 or more.
        above: How far up it may lie; 0 or more.
        floor: What it cannot fall under, as a strength cannot fall under 0; at most `value`.
    """
    return Figure(value, max(floor, value - below), value + above)
