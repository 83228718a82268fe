"""A drink's history as a picture."""

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from menugen.comparing import DrinkFigures
from menugen.past.chart import NARROW, WIDE, chart_svg
from menugen.past.drink_history import DrinkHistory, DrinkVersion, VersionKind
from menugen.revisions import Commit

SPACE = "{http://www.w3.org/2000/svg}"
BEGAN = datetime(2026, 1, 1, 10)  # noqa: DTZ001  # a wall clock has no offset


def figures(strength: float | None = 12.0, sugar: float = 60.0, cost: str | None = "1.80") -> DrinkFigures:
    known = {"strength_percent": strength, "sugar_g_per_l": sugar, "cost": Decimal(cost) if cost else None}
    return DrinkFigures(
        **known, currency="GBP", contains=(), may_contain=(), distilled_from=(), unread=(), unpriced=()
    )


def version(days: float, shown: DrinkFigures | None, turn: VersionKind = VersionKind.CHANGED) -> DrinkVersion:
    clock = BEGAN + timedelta(days=days)
    return DrinkVersion(
        turn, Commit(f"{int(days * 24):040x}"[::-1], f"{clock:%Y-%m-%d}", "", clock, clock), figures=shown
    )


def life(*versions: DrinkVersion, name: str = "Marsh Sour") -> DrinkHistory:
    return DrinkHistory("marsh-sour", name, versions, ())


def drawn(one: DrinkHistory, width: int = WIDE) -> ElementTree.Element:
    return ElementTree.fromstring(chart_svg(one, width))  # noqa: S314  # our own text


def places(svg: ElementTree.Element) -> list[tuple[float, float]]:
    return [(float(dot.attrib["cx"]), float(dot.attrib["cy"])) for dot in svg.iter(f"{SPACE}circle")]


def words(svg: ElementTree.Element) -> list[tuple[str, float, float, float]]:
    """Return each text with its left and right edge and its height, from the widest its letters can be."""
    found = []
    for text in svg.findall(f"{SPACE}text"):
        wide = 7.5 * len(text.text or "")
        x = float(text.attrib["x"])
        left = x - wide if text.attrib.get("text-anchor") == "end" else x
        found.append((text.text or "", left, left + wide, float(text.attrib["y"])))
    return found


class TestAsAPicture:
    def test_time_runs_evenly(self):
        first, second, third = places(
            drawn(life(version(0, figures()), version(1, figures()), version(10, figures())))
        )[:3]
        assert (third[0] - first[0]) == pytest.approx(10 * (second[0] - first[0]), rel=0.01)

    def test_a_small_move_is_not_flat_and_the_ends_of_the_scale_are_said(self):
        svg = drawn(life(version(0, figures(11.8)), version(1, figures(11.2))))
        (_, high), (_, low) = places(svg)[:2]
        assert low - high > 60
        assert {"11.8", "11.2"} <= {text for text, *_ in words(svg)}

    def test_a_hairs_breadth_is_no_cliff(self):
        (_, one), (_, other) = places(drawn(life(version(0, figures(11.80)), version(1, figures(11.81)))))[:2]
        assert abs(one - other) < 10

    def test_there_is_no_line_where_nothing_is_known(self):
        svg = drawn(
            life(version(0, figures()), version(1, None), version(2, figures()), version(3, figures()))
        )
        steps = [
            path.attrib["d"] for path in svg.findall(f"{SPACE}path") if path.attrib.get("fill") == "none"
        ]
        assert len(steps) == 6  # two stretches in each of three panels
        across = sorted({x for x, _ in places(svg)})
        before, after = steps[:2]
        assert after.startswith(f"M{across[1]:.1f} ")
        end = float(before.rpartition("H")[2])
        assert across[0] < end < across[1]  # it held until it was not known any more

    @pytest.mark.parametrize(("turn", "word"), [(VersionKind.GONE, "gone"), (VersionKind.CHANGED, "unknown")])
    def test_what_ends_unknown_ends_in_a_word(self, turn, word):
        svg = drawn(life(version(0, figures(11)), version(1, figures(12)), version(2, None, turn)))
        assert [text for text, *_ in words(svg)].count(word) == 3

    def test_a_cost_without_all_its_prices_is_marked_as_a_part(self):
        whole, part = figures(), replace(figures(cost="1.50"), unpriced=("lemon",))
        one = life(version(0, whole), version(1, part))
        rings = [dot for dot in drawn(one).iter(f"{SPACE}circle") if dot.attrib.get("fill") == "none"]
        assert len(rings) == 1

    @pytest.mark.parametrize("width", [NARROW, WIDE])
    @pytest.mark.parametrize("count", [1, 2, 12, 60])
    def test_no_two_words_overlap_and_none_leaves_the_picture(self, count, width):
        # Days as a drink is really tuned: many tries at first, then now and again.
        many = [
            version(
                number**1.6,
                figures(10 + number * 7 % 11 / 3, 40 + number * 5 % 37, f"{1 + number % 6 / 7:.2f}"),
            )
            for number in range(count)
        ]
        svg = drawn(life(*many), width)
        told = words(svg)
        for index, (_, left, right, y) in enumerate(told):
            assert left >= -1
            assert right <= width + 8
            for _, other_left, other_right, other_y in told[index + 1 :]:
                assert abs(y - other_y) >= 11 or right <= other_left or other_right <= left
        assert all(0 <= x <= width for x, _ in places(svg))

    def test_what_is_not_committed_stands_last(self):
        svg = drawn(
            life(
                version(0, figures()),
                version(1, figures()),
                DrinkVersion(VersionKind.CHANGED, None, figures=figures(9)),
            )
        )
        first, second, now = places(svg)[:3]
        assert first[0] < second[0] < now[0]
        assert "now" in [text for text, *_ in words(svg)]

    def test_clocks_that_run_backwards_never_turn_the_line_back(self):
        across = [
            x
            for x, _ in places(
                drawn(life(version(0, figures()), version(5, figures()), version(3, figures())))
            )[:3]
        ]
        assert across == sorted(across)

    def test_commits_of_one_second_do_not_lie_on_each_other(self):
        across = [x for x, _ in places(drawn(life(version(0, figures()), version(0, figures(13)))))[:2]]
        assert across[0] < across[1]

    def test_a_name_cannot_break_out(self):
        text = chart_svg(life(version(0, figures()), name='<script>"Sour" & Co'))
        assert "<script>" not in text
        ElementTree.fromstring(text)  # noqa: S314  # our own text
