"""How well one colour can be read on another, and what would be read better."""

from collections.abc import Iterator


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 (the same) to 21 (black on white).

    Args:
        one: "#rrggbb".
        other: "#rrggbb"; the order does not matter.

    Source: WCAG 2.2, "contrast ratio" and "relative luminance".
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def nearest_passing(colour: str, other: str, least: float) -> str | None:
    """Return the colour nearest to one that has enough contrast with another.

    It is the same hue, mixed with as little black or white as will do.

    Args:
        colour: "#rrggbb"; returned as it is where it passes already.
        other: "#rrggbb", which stays.
        least: The contrast that is needed, at least 1.

    Returns:
        "#rrggbb"; None where neither black nor white would do, which can only be above a contrast of 4.58.
    """
    passing = (found for found in _mixes(colour) if contrast(found, other) >= least)
    return next(passing, None)


def _mixes(colour: str) -> Iterator[str]:
    """Yield the colour, then ever paler and darker ones."""
    yield colour
    channels = _channels(colour)
    for step in range(1, 256):
        for end in (255, 0):
            mixed = (round(channel + (end - channel) * step / 255) for channel in channels)
            yield "#" + "".join(f"{channel:02x}" for channel in mixed)


def _channels(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[start : start + 2], 16) for start in (1, 3, 5))


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(channel / 255) for channel in _channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
