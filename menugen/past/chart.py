"""A drink's strength, sugar and cost over time, as an SVG for the bar's pages."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from html import escape
from typing import NamedTuple

from menugen.comparing import DrinkFigures
from menugen.past.drink_history import DrinkHistory, DrinkVersion, VersionKind

WIDE, NARROW = 680, 300
"""Widths of a chart for a desk and for a phone, in units that are pixels at its natural size."""

_UNCOMMITTED = "now"
_LEAST_SPAN = 0.05
"""A scale spans at least this share of its highest value, so that a hair's breadth is not drawn as a cliff."""

_LEFT, _RIGHT, _TITLE, _PANEL, _GAP, _AXIS = 48, 52, 30, 84, 20, 34
_LETTER = 6.6
"""Width of a letter at the chart's font size, roughly: what keeps two labels apart."""


class _Measure(NamedTuple):
    """One thing that is charted."""

    title: str
    unit: str
    decimals: int
    value: Callable[[DrinkFigures], float | None]

    def of(self, version: DrinkVersion) -> float | None:
        return self.value(version.figures) if version.figures else None

    def is_part(self, version: DrinkVersion) -> bool:
        """Return whether only a part is known: so it is of a cost without all its prices."""
        return self.title == "cost" and version.figures is not None and bool(version.figures.unpriced)

    def number(self, value: float, *, part: bool = False) -> str:
        return f"{value:.{self.decimals}f}{'+' if part else ''}"


class _Scale(NamedTuple):
    """Where the values of one measure begin and end."""

    low: float
    high: float

    def share(self, value: float) -> float:
        """Return how far up a value stands, 0 to 1."""
        return (value - self.low) / (self.high - self.low)


def _measures(life: DrinkHistory) -> tuple[_Measure, ...]:
    currency = next((version.figures.currency for version in life.versions if version.figures), "")
    return (
        _Measure("strength", "% vol", 1, lambda one: one.strength_percent),
        _Measure("sugar", "g/l", 0, lambda one: one.sugar_g_per_l),
        _Measure("cost", currency, 2, lambda one: None if one.cost is None else float(one.cost)),
    )


def _scale(values: Sequence[float]) -> _Scale:
    low, high = min(values), max(values)
    least = (_LEAST_SPAN * high) or 1.0
    if high - low < least:
        middle = (low + high) / 2
        low, high = max(0.0, middle - least / 2), middle + least / 2
    return _Scale(low, high)


def _values(life: DrinkHistory, measure: _Measure) -> list[float]:
    return [value for version in life.versions if (value := measure.of(version)) is not None]


def _day(version: DrinkVersion) -> str:
    return version.commit.day if version.commit else _UNCOMMITTED


def _short(version: DrinkVersion) -> str:
    return version.commit.short if version.commit else ""


class _Point(NamedTuple):
    """One version in one panel: where it stands, its value as shown, what it is called, whether that is a part."""

    x: float
    y: float
    number: str
    name: str
    part: bool


class _Run(NamedTuple):
    """Versions whose value is known, one after the other; `end` is how far the last one held."""

    points: tuple[_Point, ...]
    end: float


def chart_svg(life: DrinkHistory, width: int = WIDE) -> str:
    """Return the chart as one SVG element that needs nothing else: three steps of lines, one under the other.

    A value holds until the next version, so lines are steps; where it is not known there is no line. Time runs evenly
    from left to right. Each scale is fitted to its values, and its ends are written beside it. Colours are those of the
    text around it, so that it reads on light and on dark. Private: it holds the cost.

    Args:
        life: The drink's life.
        width: WIDE or NARROW; it is to be shown at its natural size, so that its letters stay readable.
    """
    measures = _measures(life)
    height = len(measures) * (_TITLE + _PANEL + _GAP) + _AXIS
    count = len(life.versions)
    title = f"{life.name}: strength, sugar and cost over {count} version{'' if count == 1 else 's'}"
    across = _across(life.versions, width)
    look = 'role="img" font-family="sans-serif" font-size="12" fill="currentColor"'
    size = f'viewBox="0 0 {width} {height}" width="{width}" height="{height}"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} aria-label="{escape(title)}" {look}>',
        f"<title>{escape(title)}</title>",
    ]
    for number, measure in enumerate(measures):
        parts += _panel(life, measure, across, number * (_TITLE + _PANEL + _GAP), width)
    parts += _days(life.versions, across, height - 12, width)
    return "\n".join([*parts, "</svg>"]) + "\n"


def _across(versions: Sequence[DrinkVersion], width: int) -> list[float]:
    """Return where each version stands from left to right, by its time."""
    left, right = float(_LEFT), float(width - _RIGHT)
    times: list[datetime] = []
    for version in versions:
        # Clocks of two people differ: a version never stands before the one it followed.
        clock = version.commit.clock if version.commit else None
        times.append(max(clock or datetime.min, times[-1] if times else datetime.min))  # noqa: DTZ901  # as Commit.clock
    if not times:
        return []
    uncommitted = versions[-1].commit is None and len(versions) > 1
    # What is not committed has no time: it stands at the end, a step past the last that has one.
    end = right - (right - left) / 12 if uncommitted else right
    span = times[-1] - times[0]
    if span <= timedelta(0):
        step = (right - left) / max(1, len(times) - 1)
        return [left + index * step for index in range(len(times))]
    placed = [left + (end - left) * ((time - times[0]) / span) for time in times]
    return [*placed[:-1], right] if uncommitted else placed


def _panel(
    life: DrinkHistory, measure: _Measure, across: Sequence[float], top: float, width: int
) -> Iterator[str]:
    bottom = top + _TITLE + _PANEL
    values = _values(life, measure)
    title = f"{measure.title}, {measure.unit}" if measure.unit else measure.title
    yield f'<text x="0" y="{top + 13:.0f}" font-weight="bold">{escape(title)}</text>'
    if not values:
        yield f'<text x="{_LEFT}" y="{top + _TITLE + _PANEL / 2:.0f}">not known</text>'
        return
    scale = _scale(values)
    for value, y in ((scale.high, top + _TITLE), (scale.low, bottom)):
        yield (
            f'<path d="M{_LEFT} {y:.1f}H{width - _RIGHT}" stroke="currentColor" stroke-width="1" opacity="0.3"/>'
        )
        yield f'<text x="{_LEFT - 8}" y="{y + 4:.1f}" text-anchor="end">{measure.number(value)}</text>'
    runs = list(_runs(life, measure, across, scale, bottom))
    for run in runs:
        yield _steps(run)
    points = [point for run in runs for point in run.points]
    radius = 3 if len(points) <= 24 else 2
    for point in points:
        told = escape(f"{point.name}: {point.number} {measure.unit}".rstrip())
        look = f'r="{radius + 1}" fill="none" stroke="currentColor"' if point.part else f'r="{radius}"'
        yield f'<circle cx="{point.x:.1f}" cy="{point.y:.1f}" {look}><title>{told}</title></circle>'
    # The scale tells the highest and the lowest; the first stands among them where there is room, the last beside them.
    first, last = points[0], points[-1]
    if first is not last and first.x == _LEFT and top + _TITLE + 14 <= first.y <= bottom - 14:
        yield f'<text x="{_LEFT - 8}" y="{first.y + 4:.1f}" text-anchor="end">{first.number}</text>'
    newest = life.versions[-1]
    if measure.of(newest) is None:
        words = "gone" if newest.kind is VersionKind.GONE else "unknown"
        yield f'<text x="{across[-1] + 8:.1f}" y="{(top + _TITLE + bottom) / 2 + 4:.1f}">{words}</text>'
    else:
        yield f'<text x="{last.x + 8:.1f}" y="{last.y + 4:.1f}">{last.number}</text>'


def _runs(
    life: DrinkHistory, measure: _Measure, across: Sequence[float], scale: _Scale, bottom: float
) -> Iterator[_Run]:
    """Yield the points of one panel, those of an unbroken stretch together."""
    points: list[_Point] = []
    for x, version in zip(across, life.versions, strict=True):
        value = measure.of(version)
        if value is None:
            if points:
                yield _Run(tuple(points), x)
            points = []
            continue
        name = f"{_day(version)} {_short(version)}".rstrip()
        part = measure.is_part(version)
        number = measure.number(value, part=part)
        points.append(_Point(x, bottom - _PANEL * scale.share(value), number, name, part))
    if points:
        yield _Run(tuple(points), points[-1].x)


def _steps(run: _Run) -> str:
    first, *others = run.points
    path = f"M{first.x:.1f} {first.y:.1f}" + "".join(f"H{point.x:.1f}V{point.y:.1f}" for point in others)
    return f'<path d="{path}H{run.end:.1f}" fill="none" stroke="currentColor" stroke-width="1.5"/>'


def _days(versions: Sequence[DrinkVersion], across: Sequence[float], y: float, width: int) -> Iterator[str]:
    """Yield the days under the chart: the first and the last, and between them as many as find room."""
    if not versions:
        return
    days = {version.commit.day for version in versions if version.commit}
    labels = [(x, _time(version, alone=len(days) > 1)) for x, version in zip(across, versions, strict=True)]
    taken: list[tuple[float, float]] = []
    for x, day in _ends_first(labels):
        wide = len(day) * _LETTER
        left = min(max(0.0, x - wide / 2), width - wide)
        if any(left < end + 10 and start < left + wide + 10 for start, end in taken):
            continue
        taken.append((left, left + wide))
        yield f'<path d="M{x:.1f} {y - 16:.1f}v5" stroke="currentColor"/>'
        yield f'<text x="{left:.1f}" y="{y:.1f}">{escape(day)}</text>'


def _time(version: DrinkVersion, *, alone: bool) -> str:
    """Return the day of a version, with its hour where the day alone tells nothing."""
    if version.commit is None or alone:
        return _day(version)
    return f"{version.commit.day} {version.commit.clock:%H:%M}"


def _ends_first(labels: Sequence[tuple[float, str]]) -> Iterable[tuple[float, str]]:
    return dict.fromkeys((labels[0], labels[-1], *labels))
