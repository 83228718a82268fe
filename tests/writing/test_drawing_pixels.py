"""Paths as points: each letter goes where SVG says, and our own drawings hold no other."""

import math
from dataclasses import replace
from itertools import chain

import pytest
from PIL import Image

from menugen.writing.drawing import draw_glass
from menugen.writing.drawing_pixels import drawing_pixels, line_points
from menugen.writing.garnish import SHAPES
from menugen.writing.strokes import Drawing, Stroke, path, typed_path
from tests.writing.fixtures import PROFILES, picture


@pytest.mark.parametrize(
    ("typed", "end"),
    [
        ("M1 2L5 7", (5, 7)),
        ("M1 2l5 7", (6, 9)),
        ("M1 2 5 7", (5, 7)),
        ("m1 2 5 7", (6, 9)),
        ("M1 2H9", (9, 2)),
        ("M1 2h-9v.5", (-8, 2.5)),
        ("M1 2V-3", (1, -3)),
        ("M0 0C0 9 9 9 9 0", (9, 0)),
        ("M1 1c0 9 9 9 9 0", (10, 1)),
        ("M0 0C0 9 9 9 9 0S18-9 18 0", (18, 0)),
        ("M0 0Q5 5 10-0", (10, 0)),
        ("M2 0A2 2 0 1 0-2 0", (-2, 0)),
        ("M2 3a2 2 0 0 1 2 2", (4, 5)),
        ("M3 4L8 8L9 1z", (3, 4)),
    ],
)
def test_a_stroke_ends_where_its_letters_lead(typed, end):
    assert line_points(typed_path(typed))[-1][-1] == pytest.approx(end)


def test_a_curve_passes_where_its_formula_says():
    # Halfway along a cubic is (start + 3 first + 3 second + end) / 8; along a quadratic (start + 2 pull + end) / 4.
    assert line_points(typed_path("M0 0C0 8 8 8 8 0"))[0][6] == pytest.approx((4, 6))
    assert line_points(typed_path("M0 0Q4 8 8 0"))[0][6] == pytest.approx((4, 4))


def test_a_smooth_curve_goes_on_as_the_one_before_it_arrived():
    whole = line_points(typed_path("M0 0C0 4 2 6 4 6C6 6 8 4 8 0"))
    assert line_points(typed_path("M0 0C0 4 2 6 4 6S8 4 8 0")) == whole
    after_a_line = line_points(typed_path("M0 0L4 6S8 4 8 0"))
    assert after_a_line[0][1:] == line_points(typed_path("M4 6C4 6 8 4 8 0"))[0]


ROOT = math.sqrt(2)


@pytest.mark.parametrize(
    ("flags", "centre", "middle"),
    [
        ("0 0", (0, 0), (ROOT, ROOT)),
        ("1 1", (0, 0), (-ROOT, -ROOT)),
        ("0 1", (2, 2), (2 - ROOT, 2 - ROOT)),
        ("1 0", (2, 2), (2 + ROOT, 2 + ROOT)),
    ],
)
def test_an_arc_takes_the_circle_and_the_way_round_that_it_says(flags, centre, middle):
    # From (0, 2) to (2, 0) with a radius of 2: two circles, and a short and a long way round each.
    points = line_points(typed_path(f"M0 2A2 2 0 {flags} 2 0"))[0]
    assert points[-1] == (2, 0)
    assert [math.dist(point, centre) for point in points] == pytest.approx([2] * len(points))
    assert points[len(points) // 2] == pytest.approx(middle)


def test_two_halves_are_a_whole_circle():
    points = list(chain.from_iterable(line_points(typed_path("M-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0z"))))
    assert [math.hypot(*point) for point in points] == pytest.approx([3] * len(points))
    assert max(y for _, y in points) == pytest.approx(3)
    assert min(y for _, y in points) == pytest.approx(-3)


def test_a_dot_is_a_stroke_and_a_lone_move_is_none():
    assert line_points(typed_path("M5 5h0")) == (((5, 5), (5, 5)),)
    assert line_points(typed_path("M5 5")) == ()
    assert line_points(typed_path("M0 0L1 1zM3 3L4 4")) == (((0, 0), (1, 1), (0, 0)), ((3, 3), (4, 4)))


@pytest.mark.parametrize("typed", ["L1 1", "M1", "M1 1L", "M1 1X3", "M1 1zL", "M1 1z3 3", "M1 L1 1", "3 3"])
def test_what_is_no_path_of_ours_is_told(typed):
    with pytest.raises(ValueError, match="path"):
        line_points(typed_path(typed))


def test_a_length_is_drawn_as_it_is_written():
    # So a picture and a page show one and the same line; what was typed finer stays as it is.
    assert line_points(path("M", 1.04, 2, "L", 0.96, 2.55)) == (((1, 2), (1, 2.5)),)
    assert line_points(typed_path("M1.04 2L.96 2.55")) == (((1.04, 2), (0.96, 2.55)),)


def test_every_garnish_and_every_glass_can_be_followed():
    for shape in SHAPES.values():
        assert line_points(shape.line)
        reached = -min(y for _, y in chain.from_iterable(line_points(shape.line)))
        assert shape.above_mm - 3 < reached < shape.above_mm + 0.5
    for glass in PROFILES:
        for ice in ("none", "cubed", "large cube", "crushed"):
            drawn = draw_glass(picture(glass, "#334455", ice=ice, foam=4.0), size="large")
            assert all(line_points(stroke.line) for stroke in drawn.strokes)


BOX = path("M", 0, 0, "H", 4, "V", 4, "H", 0, "z")


def pixels(*strokes: Stroke) -> Image.Image:
    """Draw on a white square of 20 mm, a pixel a mm, whose middle is the origin."""
    drawing = Drawing(strokes, -10, -10, 20, 20)
    return drawing_pixels(drawing, most=(20, 40), ground="#ffffff", line="#0000ff", heavier=1)


def test_a_stroke_is_drawn_at_its_place_and_mirrored_there():
    box = Stroke("a", BOX, fill="#ff0000")
    for stroke, inside, outside in (
        (box, (12, 12), (7, 12)),
        (replace(box, at=(3, -8)), (15, 4), (12, 12)),
        (replace(box, at=(3, -8), mirrored=True), (11, 4), (15, 4)),
    ):
        drawn = pixels(stroke)
        assert drawn.getpixel(inside) == (255, 0, 0)
        assert drawn.getpixel(outside) == (255, 255, 255)


def test_paint_is_as_dense_as_it_says_and_covers_what_was_drawn_before():
    red, thin = Stroke("a", BOX, fill="#ff0000"), Stroke("b", BOX, fill="#000000", fill_opacity=0.5)
    assert pixels(red, thin).getpixel((12, 12)) == (127, 0, 0)
    assert pixels(thin, red).getpixel((12, 12)) == (255, 0, 0)
    assert pixels(replace(thin, fill_opacity=0.0)).getpixel((12, 12)) == (255, 255, 255)


def test_a_pen_has_its_colour_or_that_of_the_words_around():
    line = path("M", -8, 0, "H", 8)
    pen = Stroke("a", line, ink="#00ff00", width_mm=4)
    assert pixels(pen).getpixel((10, 10)) == (0, 255, 0)
    assert pixels(replace(pen, ink="currentColor")).getpixel((10, 10)) == (0, 0, 255)
    assert pixels(replace(pen, ink_opacity=0.6)).getpixel((10, 10)) == (102, 255, 102)
