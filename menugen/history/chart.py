"""A drink's strength, sugar and cost over its versions: bars for a terminal, an SVG for the bar's private pages."""

from collections.abc import Callable, Sequence
from html import escape
from typing import NamedTuple

from menugen.history.drink_moves import DrinkFigures
from menugen.history.life import Life, Version

_BAR = 12
_WIDTH, _HEIGHT, _LEFT, _RIGHT, _TOP, _GAP = 640, 90, 150, 40, 20, 26
_UNCOMMITTED = "now"


class _Measure(NamedTuple):
    """One thing that is charted."""

    title: str
    value: Callable[[DrinkFigures], float | None]
    shown: Callable[[float], str]


def _measures(life: Life) -> tuple[_Measure, ...]:
    currency = next((version.figures.currency for version in life.versions if version.figures), "")
    return (
        _Measure("strength", lambda one: one.strength_percent, lambda value: f"{value:.1f} %"),
        _Measure("sugar", lambda one: one.sugar_g_per_l, lambda value: f"{value:.0f} g/l"),
        _Measure(
            f"cost, {currency}" if currency else "cost",
            lambda one: None if one.cost is None else float(one.cost),
            lambda value: f"{value:.2f}",
        ),
    )


def _value(version: Version, measure: _Measure) -> float | None:
    return measure.value(version.figures) if version.figures else None


def chart_text(life: Life) -> str:
    """Return a table with bars, 80 columns wide, a version a line; empty where there is nothing to draw."""
    if not life.versions:
        return ""
    measures = _measures(life)
    most = [
        max((value for version in life.versions if (value := _value(version, one)) is not None), default=0.0)
        for one in measures
    ]
    out = [" " * 12 + "".join(f"{one.title:<{_BAR + 10}}" for one in measures).rstrip()]
    for version in life.versions:
        cells = []
        for one, top in zip(measures, most, strict=True):
            value = _value(version, one)
            if value is None:
                cells.append(f"{'not known':<{_BAR + 10}}")
                continue
            bar = "#" * round(_BAR * value / top) if top > 0 else ""
            cells.append(f"{one.shown(value):>8} {bar:<{_BAR}} ")
        out.append(f"{_day(version):<11} {''.join(cells)}".rstrip())
    return "\n".join(out)


def _day(version: Version) -> str:
    return version.commit.day if version.commit else _UNCOMMITTED


def chart_svg(life: Life) -> str:
    """Return the chart as one SVG element that needs nothing else: three steps of lines, one under the other.

    Colours are those of the text around it, so that it reads on light and on dark; values stand beside their points,
    so that nothing is said by the line alone. Private: it holds the cost.
    """
    measures = _measures(life)
    height = _TOP + len(measures) * (_HEIGHT + _GAP) + 20
    title = f"{escape(life.name)}: strength, sugar and cost over {len(life.versions)} versions"
    look = (
        'role="img" aria-labelledby="life-title" font-family="sans-serif" font-size="12" fill="currentColor"'
    )
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" {look}>',
        f'<title id="life-title">{title}</title>',
    ]
    across = _across(len(life.versions))
    for number, one in enumerate(measures):
        top = _TOP + number * (_HEIGHT + _GAP)
        parts.append(f'<text x="0" y="{top + _HEIGHT / 2:.0f}">{escape(one.title)}</text>')
        parts += _line(life, one, across, top)
    ends = {0: "start", len(life.versions) - 1: "end"}
    for index, anchor in ends.items():
        if life.versions:
            parts.append(
                f'<text x="{across[index]:.0f}" y="{height - 6}" text-anchor="{anchor}">'
                f"{escape(_day(life.versions[index]))}</text>"
            )
    return "\n".join([*parts, "</svg>"]) + "\n"


def _across(count: int) -> list[float]:
    """Return where each version stands, from left to right: one after another, however long it held."""
    step = (_WIDTH - _LEFT - _RIGHT) / max(1, count - 1)
    return [_LEFT + index * step for index in range(count)]


def _line(life: Life, measure: _Measure, across: Sequence[float], top: float) -> list[str]:
    points = [
        (x, value)
        for x, version in zip(across, life.versions, strict=True)
        if (value := _value(version, measure)) is not None
    ]
    if not points:
        return [f'<text x="{_LEFT}" y="{top + _HEIGHT / 2:.0f}">not known</text>']
    most = max(value for _, value in points) or 1.0
    placed = [(x, top + _HEIGHT - 70 * value / most, value) for x, value in points]
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y, _ in placed)
    drawn = [f'<polyline points="{path}" fill="none" stroke="currentColor" stroke-width="1.5"/>']
    drawn += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y, _ in placed]
    shown = ""
    for x, y, value in placed:
        # A value is written where it differs from the one before it.
        if measure.shown(value) != shown:
            shown = measure.shown(value)
            drawn.append(f'<text x="{x:.1f}" y="{y - 7:.1f}" text-anchor="middle">{escape(shown)}</text>')
    return drawn
