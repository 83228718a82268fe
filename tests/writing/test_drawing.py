"""The glass drawings: the level is where the sum says, nothing leaves the glass, and nothing but a drawing gets in."""

import gzip
import io
import math
import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from menugen.menu import GlassPicture
from menugen.mixing import height_of_ml, volume_to_mm
from menugen.reference import glass, glass_names
from menugen.writing.drawing import FRAME_MM, PENS_MM, WIDEST_MM
from menugen.writing.drawing_svg import event_icon, glass_svg, path_text
from menugen.writing.garnish import SHAPES, garnish_glyph
from menugen.writing.glass_curve import at_height, band, filled, inner_wall
from menugen.writing.ice import cubes, large_cube
from menugen.writing.strokes import path

COUPE = ((0.0, 0.0), (3.0, 15.0), (8.5, 27.5), (17.0, 39.5), (27.0, 45.5), (40.0, 50.0))
TUMBLER = ((0.0, 33.0), (4.0, 35.0), (67.5, 38.0))
PLAIN = GlassPicture(
    glass="coupe",
    profile_mm=COUPE,
    stem_mm=85.0,
    foot_mm=36.0,
    level_mm=30.0,
    foam_mm=0.0,
    liquid="#d9a04a",
    float_colour="",
    float_mm=0.0,
    ice="none",
    cubes=0,
    cube_mm=0.0,
    cube_foot_mm=0.0,
    less_ice=False,
    rim=False,
    inside=False,
    inside_colour="",
    garnish=(),
)
EVERYTHING = replace(
    PLAIN,
    foam_mm=6.0,
    float_colour="#7a1f2b",
    float_mm=8.0,
    ice="crushed",
    rim=True,
    inside=True,
    inside_colour="",
    garnish=("lemon twist", "mint sprig", "edible flower"),
)


def shipped(name: str) -> GlassPicture:
    known = glass(name)
    assert known is not None
    return replace(
        PLAIN,
        glass=name,
        profile_mm=known.profile_mm,
        stem_mm=known.stem_mm,
        foot_mm=known.foot_mm,
        level_mm=known.profile_mm[-1][0] * 0.8,
    )


def points(outline: str) -> list[tuple[float, float]]:
    """Points along a path of M, L, H, V, C, Q and l, curves walked in sixteen steps."""
    found, x, y = [], 0.0, 0.0
    for command, text in re.findall(r"([A-Za-z])([^A-Za-z]*)", outline):
        numbers = [float(number) for number in re.findall(r"-?\d*\.?\d+", text)]
        pairs = list(zip(numbers[::2], numbers[1::2], strict=False))
        if command in "CQ":
            hull = [(x, y), *pairs]
            found += [bent(hull, step / 16) for step in range(1, 17)]
            x, y = pairs[-1]
        elif command == "l":
            for dx, dy in pairs:
                x, y = x + dx, y + dy
                found.append((x, y))
        elif command != "z":
            assert command in "MLHV"
            x = numbers[0] if command in "MLH" else x
            y = numbers[-1] if command in "MLV" else y
            found.append((x, y))
    return found


def bent(hull: list[tuple[float, float]], t: float) -> tuple[float, float]:
    """The point of a Bezier curve."""
    while len(hull) > 1:
        hull = [(a + (c - a) * t, b + (d - b) * t) for (a, b), (c, d) in pairwise(hull)]
    return hull[0]


def paths(drawing: str, name: str) -> list[str]:
    return re.findall(rf'<path class="{name}"[^>]* d="([^"]*)"', drawing)


def profiles() -> st.SearchStrategy[tuple[tuple[float, float], ...]]:
    step = st.floats(1, 60)
    radius = st.floats(5, 60)
    return st.lists(st.tuples(step, radius), min_size=1, max_size=8).flatmap(
        lambda rest: st.floats(0, 40).map(
            lambda first: (
                (0.0, first),
                *((sum(s for s, _ in rest[: at + 1]), r) for at, (_, r) in enumerate(rest)),
            )
        )
    )


@given(profiles())
def test_the_wall_is_the_profile_but_for_rounded_corners(profile):
    wall = inner_wall(profile)
    assert at_height(wall, profile[0][0]).radius == pytest.approx(profile[0][1])
    assert at_height(wall, profile[-1][0]).radius == pytest.approx(profile[-1][1])
    for (low, low_radius), (high, high_radius) in pairwise(profile):
        # The middle of a piece is beyond the reach of either corner's rounding, which ends there at the furthest.
        assert at_height(wall, (low + high) / 2).radius == pytest.approx(
            (low_radius + high_radius) / 2, abs=1e-6
        )


@given(profiles())
def test_the_wall_never_leaves_the_measured_radii(profile):
    wall = inner_wall(profile)
    radii = [radius for _, radius in profile]
    for step in range(50):
        assert min(radii) - 1e-6 <= at_height(wall, wall[-1].height * step / 49).radius <= max(radii) + 1e-6


@given(profiles(), st.floats(-10, 500), st.floats(-10, 500))
def test_a_part_of_the_wall_is_the_same_curve(profile, one, other):
    wall = inner_wall(profile)
    top = wall[-1].height
    low, high = sorted((min(max(one, 0.0), top), min(max(other, 0.0), top)))
    if high - low < 0.5:
        return
    part = band(wall, low, high)
    for share in (0.0, 0.25, 0.5, 0.8, 1.0):
        height = low + share * (high - low)
        assert at_height(part, height).radius == pytest.approx(at_height(wall, height).radius, abs=1e-6)


def test_a_straight_glass_is_drawn_straight():
    wall = inner_wall(((0.0, 10.0), (50.0, 35.0), (100.0, 60.0)))
    assert [at_height(wall, height).radius for height in (0, 20, 60, 100)] == pytest.approx([10, 20, 40, 60])


@pytest.mark.parametrize("profile", [(), ((0.0, 3.0),), ((0.0, 3.0), (0.0, 4.0)), ((5.0, 3.0), (2.0, 4.0))])
def test_a_profile_that_is_none_is_refused(profile):
    with pytest.raises(ValueError, match="profile"):
        glass_svg(replace(PLAIN, profile_mm=profile), size="small")


@pytest.mark.slow
@pytest.mark.parametrize("name", glass_names())
def test_the_drawn_curve_holds_what_the_sum_says(name):
    # Rounded corners take a little of the room that the sum over straight pieces has: no more than the eye could tell.
    profile = shipped(name).profile_mm
    wall = inner_wall(profile)
    for share in (0.3, 0.5, 0.8, 1.0):
        level = profile[-1][0] * share
        slices = 2000
        radii = [at_height(wall, level * (at + 0.5) / slices).radius for at in range(slices)]
        drawn_ml = math.pi * sum(radius**2 for radius in radii) * level / slices / 1000
        assert drawn_ml == pytest.approx(volume_to_mm(profile, level), rel=0.03)


@pytest.mark.parametrize("ml", [60, 120, 180])
def test_the_level_is_where_that_many_millilitres_come_to(ml):
    level = height_of_ml(COUPE, ml)
    drawing = glass_svg(replace(PLAIN, level_mm=level), size="large")
    walked = points(paths(drawing, "glass-liquid")[0])
    assert -min(y for _, y in walked) == pytest.approx(level, abs=0.06)
    assert max(y for _, y in walked) == 0
    surface = [x for x, y in walked if y == min(y for _, y in walked)]
    assert max(surface) == pytest.approx(at_height(inner_wall(COUPE), level).radius, abs=0.06)


def test_both_sides_mirror_each_other():
    walked = points(paths(glass_svg(PLAIN, size="large"), "glass-liquid")[0])
    for x, y in walked:
        assert any(abs(-x - across) < 0.11 and abs(y - down) < 0.11 for across, down in walked)


def test_a_float_lies_on_top_and_counts_in_the_level():
    drawing = glass_svg(replace(PLAIN, float_colour="#7a1f2b", float_mm=8.0), size="large")
    below = [y for _, y in points(paths(drawing, "glass-liquid")[0])]
    above = [y for _, y in points(paths(drawing, "glass-float")[0])]
    assert min(below) == max(above) == -22
    assert min(above) == -30


def test_foam_lies_on_the_liquid_and_stays_in_the_glass_but_for_its_bulge():
    drawing = glass_svg(replace(PLAIN, level_mm=36.0, foam_mm=20.0), size="large")
    ends = [y for _, y in points(paths(drawing, "glass-foam")[0])]
    assert max(ends) == -36
    assert min(ends) == -42.5  # the rim at 40, and the bulge
    assert "glass-foam" not in glass_svg(replace(PLAIN, level_mm=40.0, foam_mm=6.0), size="large")


def test_an_empty_glass_is_drawn_empty_and_an_overfull_one_full():
    empty = glass_svg(replace(PLAIN, level_mm=0.0, foam_mm=6.0), size="small")
    assert not re.search("glass-liquid|glass-float|glass-foam", empty)
    assert glass_svg(replace(PLAIN, level_mm=99.0), size="small") == glass_svg(
        replace(PLAIN, level_mm=40.0), size="small"
    )


def iced(picture: GlassPicture, ice: str) -> GlassPicture:
    """The same on ice: cubes of 25 mm, as many as fit, or a large one of 45 mm."""
    many, side_mm = {"cubed": (20, 25.0), "large cube": (1, 45.0)}.get(ice, (0, 0.0))
    return replace(picture, ice=ice, cubes=many, cube_mm=side_mm)


@pytest.mark.slow
@pytest.mark.parametrize("name", glass_names())
@pytest.mark.parametrize("kind", ["cubed", "large cube"])
@pytest.mark.parametrize("side_mm", [20.0, 25.0, 33.0, 45.0, 55.0])
@pytest.mark.parametrize("share", [0.5, 0.8, 0.95])
def test_ice_stays_within_the_glass(share, side_mm, kind, name):
    wall = inner_wall(shipped(name).profile_mm)
    level_mm = wall[-1].height * share
    foot_mm = max(0.0, level_mm - 0.917 * side_mm)
    outline = cubes(wall, level_mm, 20, side_mm) if kind == "cubed" else large_cube(wall, foot_mm, side_mm)
    cuts = points(path_text(outline))
    assert cuts or (kind == "cubed" and side_mm > 25.0)
    for x, y in cuts:
        assert abs(x) <= at_height(wall, -y).radius
        assert y <= 0


def test_as_many_cubes_are_drawn_as_there_are():
    wall = inner_wall(TUMBLER)
    for count in range(1, 5):
        assert path_text(cubes(wall, 58.0, count, 25.0)).count("M") == count
    assert path_text(cubes(wall, 58.0, 99, 25.0)).count("M") < 10, "no more than there is room for"


def test_a_cube_is_drawn_to_its_size_wherever_the_drink_stands():
    wall = inner_wall(TUMBLER)
    for side_mm in (40.0, 45.0, 50.0):
        for foot_mm in (0.0, 8.0):
            across = [x for x, _ in points(path_text(large_cube(wall, foot_mm, side_mm)))]
            assert max(across) - min(across) == pytest.approx(side_mm * 1.06, abs=0.2)


def test_less_crushed_ice_makes_no_dome():
    picture = replace(PLAIN, profile_mm=TUMBLER, stem_mm=0.0, foot_mm=0.0, level_mm=58.0, ice="crushed")
    heights = [
        -min(
            y
            for _, y in points(
                paths(glass_svg(replace(picture, less_ice=less), size="small"), "glass-ice")[0]
            )
        )
        for less in (False, True)
    ]
    assert heights[0] > 67.5 > heights[1]


@pytest.mark.parametrize("ice", ["cubed", "large cube", "crushed"])
def test_each_kind_of_ice_is_drawn_and_none_is_not(ice):
    picture = replace(PLAIN, profile_mm=TUMBLER, stem_mm=0.0, foot_mm=0.0, level_mm=58.0)
    assert "glass-ice" in glass_svg(iced(picture, ice), size="small")
    assert "glass-ice" not in glass_svg(picture, size="small")


@pytest.mark.parametrize(("field", "name"), [("rim", "glass-rim"), ("inside", "glass-sauce")])
def test_what_dresses_the_glass_is_drawn_only_where_it_is(field, name):
    assert name in glass_svg(replace(PLAIN, **{field: True}), size="small")
    assert name not in glass_svg(PLAIN, size="small")


@pytest.mark.slow
@pytest.mark.parametrize("name", glass_names())
@pytest.mark.parametrize("size", PENS_MM)
def test_every_glass_has_one_scale_and_is_small(size, name):
    for ice in ("none", "cubed", "large cube", "crushed"):
        drawing = glass_svg(
            replace(
                iced(shipped(name), ice),
                rim=True,
                inside=True,
                inside_colour="",
                foam_mm=5.0,
                garnish=EVERYTHING.garnish,
            ),
            size=size,
        )
        left, _, width, _ = map(float, re.search(r'viewBox="([^"]*)"', drawing)[1].split())
        if name != "punch bowl":
            assert (left, width) == (-FRAME_MM / 2, FRAME_MM)
        assert "height=" not in drawing
        assert len(gzip.compress(drawing.encode(), mtime=0)) < 2000


@pytest.mark.parametrize("size", PENS_MM)
def test_a_bowl_is_wider_than_the_frame_and_drawn_to_one_smaller_scale(size):
    drawing = glass_svg(replace(shipped("punch bowl"), ice="cubed"), size=size)
    left, _, width, _ = map(float, re.search(r'viewBox="([^"]*)"', drawing)[1].split())
    assert left == -width / 2
    assert width == pytest.approx(FRAME_MM * 125 / WIDEST_MM, abs=0.1)
    # On the page it is as wide as any other, and its line as thick.
    plain = glass_svg(shipped("coupe"), size=size)
    shown_width = re.compile(r'<svg class="glass" width="([^"]*)"')
    assert shown_width.search(drawing)[1] == shown_width.search(plain)[1]
    pen = float(re.search(r'"glass-line" stroke="[^"]*" stroke-width="([^"]*)"', drawing)[1])
    assert pen * FRAME_MM / width == pytest.approx(PENS_MM[size], rel=0.05)


@pytest.mark.parametrize("name", glass_names())
def test_the_frame_holds_the_whole_glass(name):
    picture = shipped(name)
    drawing = glass_svg(picture, size="large")
    left, top, width, height = map(float, re.search(r'viewBox="([^"]*)"', drawing)[1].split())
    walked = [point for line in paths(drawing, "glass-line") for point in points(line)]
    assert all(left <= x <= left + width for x, _ in walked)
    assert all(top <= y <= top + height for _, y in walked)
    assert top + height >= picture.stem_mm


def test_a_drawing_is_hidden_from_screen_readers_and_allowed_by_a_strict_policy():
    drawing = glass_svg(EVERYTHING, size="large")
    root = ElementTree.fromstring(drawing)  # noqa: S314  (our own text)
    assert root.get("aria-hidden") == "true"
    assert root.get("class") == "glass"
    names = {name for part in root.iter() for name in part.attrib}
    assert not names & {"style", "id", "href", "onload"}  # an id would clash on a page of many drinks
    assert {part.tag for part in root.iter()} == {"svg", "g", "path"}


def test_two_drinks_in_the_same_glass_look_different():
    drawings = {
        glass_svg(replace(PLAIN, **changed), size="small")
        for changed in (
            {},
            {"liquid": "#7a1f2b"},
            {"level_mm": 25.0},
            {"foam_mm": 6.0},
            {"garnish": ("orange wheel",)},
            {"ice": "cubed", "cubes": 3, "cube_mm": 25.0},
            {"ice": "cubed", "cubes": 1, "cube_mm": 25.0},
            {"ice": "crushed"},
            {"ice": "crushed", "less_ice": True},
            {"rim": True},
            {"inside": True},
            {"float_colour": "#7a1f2b", "float_mm": 5.0},
        )
    }
    assert len(drawings) == 12


def test_the_same_drink_gives_the_same_drawing():
    assert glass_svg(EVERYTHING, size="small") == glass_svg(EVERYTHING, size="small")
    assert glass_svg(EVERYTHING, size="small") != glass_svg(EVERYTHING, size="large")


def test_another_size_is_refused():
    with pytest.raises(ValueError, match="small"):
        glass_svg(PLAIN, size="huge")


@pytest.mark.slow
@given(colour=st.text(), words=st.lists(st.text(max_size=20), max_size=4), name=st.text())
def test_no_text_of_the_user_reaches_the_drawing(colour, words, name):
    drawing = glass_svg(
        replace(EVERYTHING, glass=name, liquid=colour, float_colour=colour, garnish=tuple(words)),
        size="small",
    )
    root = ElementTree.fromstring(drawing)  # noqa: S314  (our own text)
    assert {part.tag for part in root.iter()} <= {"svg", "g", "path"}
    for part in root.iter():
        assert re.fullmatch(r"none|currentColor|#[0-9a-fA-F]{6}|#fff", part.get("fill", "none"))
        assert re.fullmatch(r"currentColor|#[0-9a-f]{6}", part.get("stroke", "currentColor"))


@pytest.mark.parametrize(
    ("words", "glyph"),
    [
        ("lemon twist", "twist"),
        ("Orange Peel", "twist"),
        ("strips of lemon zest", "twist"),
        ("dried orange wheel", "wheel"),
        ("lime slices", "wheel"),
        ("lime wedges", "wedge"),
        ("mint sprig", "sprig"),
        ("mint leaves", "sprig"),
        ("basil leaf", "leaf"),
        ("bay leaves", "leaf"),
        ("cocktail cherries", "cherry"),
        ("green olives", "olive"),
        ("cinnamon stick", "cinnamon"),
        ("grated cinnamon", "grating"),
        ("grated nutmeg", "grating"),
        ("cocoa powder", "grating"),
        ("edible flowers", "flower"),
        ("cucumber ribbon", "cucumber"),
        ("coffee beans", "bean"),
        ("pineapple wedge", "pineapple"),
        ("star anise", "star"),
        ("raspberries", "berry"),
        ("celery stick", "celery"),
        ("chillies", "chilli"),
        ("paper lantern", ""),
        ("", ""),
    ],
)
def test_a_garnish_is_drawn_as_what_its_words_mean(words, glyph):
    assert garnish_glyph(words) == glyph


@pytest.mark.parametrize("glyph", SHAPES)
def test_a_glyph_means_itself_and_is_drawn(glyph):
    assert garnish_glyph(glyph) == glyph
    drawing = glass_svg(replace(PLAIN, garnish=(glyph,)), size="small")
    assert path_text(SHAPES[glyph].line) in drawing
    top = float(re.search(r'viewBox="\S+ (\S+)', drawing)[1])
    assert top <= -40 or SHAPES[glyph].spot == "surface"


def test_an_unknown_garnish_is_left_out():
    assert glass_svg(replace(PLAIN, garnish=("paper lantern",)), size="small") == glass_svg(
        PLAIN, size="small"
    )


def test_two_garnishes_on_the_lip_take_a_side_each():
    drawing = glass_svg(replace(PLAIN, garnish=("lime wheel", "lemon twist", "olive")), size="small")
    assert re.findall(r'transform="([^"]*)"', drawing) == [
        "translate(50 -40)",
        "translate(-50 -40) scale(-1 1)",
    ]


def test_a_garnish_keeps_clear_of_a_handle():
    mug = replace(PLAIN, glass="mug", profile_mm=TUMBLER, stem_mm=0.0, foot_mm=0.0, garnish=("lime wheel",))
    assert 'translate(-38 -67.5) scale(-1 1)"' in glass_svg(mug, size="small")


def test_a_path_is_as_short_as_it_can_be():
    assert path_text(path("M", 1.04, -2.0, "h", 0.0, "C", -0.04, 3.25, 10.0, 7.96)) == "M1-2h0C0 3.2 10 8"
    assert path_text(filled(inner_wall(((0.0, 10.0), (30.0, 10.0))), 0.0, 30.0)).startswith(
        "M10 0L10-30H-10L-10 0z"
    )


def test_the_event_s_icon_takes_the_look_s_colours_and_nothing_else():
    icon = ElementTree.fromstring(event_icon(ground="#ffffff", line="#123456", liquid="#abcdef"))  # noqa: S314
    used = {part.get(name) for part in icon.iter() for name in ("fill", "stroke")} - {None, "none"}
    assert used == {"#ffffff", "#123456", "#abcdef"}
    assert event_icon() == event_icon()
    with pytest.raises(ValueError, match="rrggbb"):
        event_icon(ground="red")


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("forced", ["none", "active"])
def test_a_browser_paints_liquid_below_the_level_and_glass_above(chromium, scheme, forced):
    page = chromium.new_page(color_scheme=scheme, forced_colors=forced)
    page.set_content(
        "<meta name=color-scheme content='light dark'><style>body{margin:0;background:Canvas;color:CanvasText}"
        ".glass{width:520px;display:block}</style>" + str(glass_svg(PLAIN, size="large"))
    )
    with Image.open(io.BytesIO(page.screenshot())) as shot:
        picture = shot.convert("RGB")
    page.close()
    scale = 520 / FRAME_MM
    rim = 0.9 * scale  # half the pen over the lip, and half more for the frame

    def at(x_mm: float, height_mm: float) -> tuple[int, int, int]:
        return picture.getpixel((round(260 + x_mm * scale), round(rim + (40 - height_mm) * scale)))

    liquid, ground = (0xD9, 0xA0, 0x4A), picture.getpixel((2, 515))
    assert [at(0, 28), at(30, 25), at(0, 3)] == [liquid] * 3
    assert at(0, 34) == at(30, 34) == ground != liquid
    assert any(at(x / 4, 36) != ground for x in range(180, 210)), "the wall of the glass is drawn"
