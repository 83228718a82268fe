"""How well one colour can be read on another."""


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 (the same) to 21 (black on white).

    Args:
        one: "#rrggbb".
        other: "#rrggbb"; the order does not matter.

    Source: WCAG 2.2, "contrast ratio" and "relative luminance".
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
