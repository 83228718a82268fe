"""The picture beside a posted address: the right size, the menu's own glass and colours, whatever the words."""

from dataclasses import replace
from io import BytesIO

import pytest
from PIL import Image, ImageChops, ImageFont

from menugen.menu import GuestMenu
from menugen.shipped import shipped_folder
from menugen.writing import link_picture
from menugen.writing.file_cache import FileCache
from menugen.writing.link_picture import _LETTERS, LinkCard, _font, draw_card, link_card
from menugen.writing.theme import load_theme
from tests.writing.fixtures import drink, menu_of, rich_menu, single_menu

COLOURS = load_theme([shipped_folder("themes")], "slate").dark


def card(menu: GuestMenu | None = None, **changes: object) -> LinkCard:
    return replace(link_card(menu or rich_menu(), COLOURS), **changes)


def drawn(shown: LinkCard) -> Image.Image:
    return Image.open(BytesIO(draw_card(shown)))


def rgb(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[at : at + 2], 16) for at in (1, 3, 5))


def spread(image: Image.Image, colour: str) -> tuple[int, int, int, int] | None:
    """The box round every pixel of exactly this colour."""
    apart = ImageChops.difference(image, Image.new("RGB", image.size, colour)).convert("L")
    return apart.point(lambda level: 255 if level == 0 else 0).getbbox()


def test_it_is_a_png_of_the_shape_that_is_cropped_least_and_light_enough_to_be_shown():
    content = draw_card(card())
    image = Image.open(BytesIO(content))
    assert (image.format, image.size, image.mode) == ("PNG", (1200, 630), "RGB")
    assert len(content) < 150_000
    assert set(image.info) <= {"dpi"}


def test_the_same_card_gives_the_same_bytes_even_when_drawn_afresh():
    first = draw_card(card())
    draw_card.cache_clear()
    _font.cache_clear()
    assert draw_card(card()) == first


def test_every_part_of_the_card_is_in_the_picture():
    pictures = {
        draw_card(shown)
        for shown in (
            card(),
            card(house="Other"),
            card(event="Other"),
            card(lines=("Other",)),
            card(glass=None),
            card(from_right=True),
            card(colours=("#000000", *card().colours[1:])),
        )
    }
    assert len(pictures) == 7


def test_the_glass_is_of_the_first_drink_that_can_be_had_and_stands_across_from_the_words():
    menu = rich_menu()
    first = menu.sections[0].drinks[0]
    assert card(menu).glass == first.picture
    gone = replace(
        menu,
        sections=(
            replace(menu.sections[0], drinks=(replace(first, off=True), *menu.sections[0].drinks[1:])),
            *menu.sections[1:],
        ),
    )
    assert card(gone).glass == menu.sections[0].drinks[2].picture
    assert first.picture is not None
    left, _, right, bottom = spread(drawn(card()), first.picture.liquid)
    assert left > 780
    assert right < 1200 - 80
    assert bottom < 630 - 80
    words = spread(drawn(card()), COLOURS["strong"])
    assert words[0] >= 80
    assert words[2] < left
    left, _, right, _ = spread(drawn(card(from_right=True)), first.picture.liquid)
    assert right < 420


def test_a_menu_without_a_drawn_glass_has_the_whole_width_for_words():
    bare = menu_of((replace(single_menu().sections[0], drinks=(drink("a", "A", picture=None),)),))
    assert card(bare).glass is None
    long = card(bare, event="The Long Evening at the Far End of the Old Boathouse Landing")
    assert spread(drawn(long), COLOURS["strong"])[2] > 800


@pytest.mark.slow
@pytest.mark.parametrize(
    "event",
    [
        "A",
        "W" * 400,
        "Long " * 80,
        "Donaudampfschifffahrtsgesellschaft Sommernachtsfest",
        "Święto Świateł",
        " ",
    ],
)
@pytest.mark.parametrize("from_right", [False, True])
def test_no_words_run_into_the_glass_the_rule_or_the_edge(event, from_right):
    shown = card(
        event=event, lines=("day " * 100, "place " * 100), house="House " * 50, from_right=from_right
    )
    image = drawn(shown)
    glass = drawn(replace(shown, event="", lines=(), house=""))
    assert spread(image.crop((0, 0, 50, 630)), COLOURS["strong"]) is None
    box = spread(image, COLOURS["strong"])
    rule = spread(image, COLOURS["rule"])
    assert rule is not None
    if event.strip():
        assert box is not None
        assert box[3] <= rule[1]
        assert box[0] >= 75
        assert box[2] <= 1200 - 75
        liquid = spread(glass, shown.glass.liquid)
        assert box[0] > liquid[2] if from_right else box[2] < liquid[0]


@pytest.mark.slow
@pytest.mark.parametrize(
    "text", ["عشاء", "夕食", "Supper 🍸", "Sup\u202eper", "e\u0331nd", "a\x00b", "\ud800"]
)
def test_words_whose_letters_are_missing_are_left_out_whole(text):
    assert draw_card(card(event=text)) == draw_card(card(event=""))


def test_letters_made_of_two_signs_are_put_together():
    assert draw_card(card(event="Cafe\u0301")) == draw_card(card(event="Café"))
    assert draw_card(card(event="7\u202fpm")) == draw_card(card(event="7\u00a0pm"))


def test_every_letter_that_is_promised_is_there():
    font: ImageFont.FreeTypeFont = _font(40)

    def shape(letter: str) -> tuple[object, bytes]:
        mask = font.getmask(letter)
        return mask.size, bytes(mask)

    missing = shape("\uffff")
    promised = [chr(code) for code in range(0x20, 0x2200) if _LETTERS.fullmatch(chr(code))]
    assert len(promised) > 680
    assert [letter for letter in promised if shape(letter) == missing] == []


def test_the_letters_come_with_their_licence():
    folder = (shipped_folder("themes").parent / "menugen/writing/data/letters").resolve()
    text = (folder / "noto-serif.LICENSE.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert "Copyright 2015" in text


def test_colours_are_those_of_the_look():
    image = drawn(card())
    assert image.getpixel((3, 3)) == rgb(COLOURS["ground"])
    for name in ("strong", "text", "quiet", "rule"):
        assert spread(image, COLOURS[name]) is not None, name


def test_the_same_pixels_are_not_packed_again(tmp_path, monkeypatch):
    made = FileCache(tmp_path)
    first = draw_card(card(), made)
    monkeypatch.setattr(link_picture, "_png", None)
    draw_card.cache_clear()
    assert draw_card(card(), made) == first
    with pytest.raises(TypeError):
        draw_card(card(event="Another"), made)
    monkeypatch.undo()
    assert draw_card(card(event="Another"), made) != first
