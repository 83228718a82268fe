"""Fonts of a look: cut to what is shown, the same bytes each time, with stand-ins that hold their place."""

import re
from importlib.resources import files as resources
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from fontTools.ttLib import TTFont

from menugen.menu import WORDS
from menugen.shipped import shipped_folder
from menugen.writing.file_cache import FileCache
from menugen.writing.fonts import (
    ALWAYS,
    FontFile,
    StandIn,
    characters_of,
    cut_fonts,
    early_script,
    with_stand_ins,
)
from menugen.writing.theme import ThemeFault, load_theme, theme_names
from tests.conftest import FONTS
from tests.writing.fixtures import rich_menu

SHIPPED = shipped_folder("themes")
LAWN = SHIPPED / "lawn" / "fonts" / "lawn-regular.otf"
BUNTING = SHIPPED / "bunting" / "fonts" / "bunting.ttf"
WITH_STAND_INS = [name for name in theme_names([SHIPPED]) if load_theme([SHIPPED], name).fonts]
EUROPE = (
    "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõöøùúûüýþÿŒœŠšŽžŸ"
    "ĄąĆćĘęŁłŃńŚśŹźŻżČčĎďĚěŇňŘřŤťŮůŐőŰűĂăȘșȚțĞğİıŞşŴŵŶŷẀẁẂẃẄẅẞ€£¥½¼¾°–—‘’“”„…"
)


def font(file: Path, *stand_ins: StandIn, family: str = "Lawn", weight: str = "400") -> FontFile:
    return FontFile(family, file, weight, stand_ins)


def only_file(fonts: list[FontFile], characters: str) -> bytes:
    (content,) = cut_fonts(fonts, characters).files.values()
    return content


def letters(content: bytes) -> set[str]:
    return {chr(code) for code in TTFont(BytesIO(content)).getBestCmap()}


@pytest.mark.parametrize("file", [LAWN, BUNTING])
def test_a_cut_font_has_the_characters_asked_for_and_few_others(file):
    cut = only_file([font(file)], "Saltmarsh Öäł")
    assert letters(cut) >= set("SaltmarshÖäł")
    assert letters(cut) <= {*"SaltmarshÖäł", *"SALTMARSHÖÄŁ", *ALWAYS}
    assert len(cut) < file.stat().st_size / 4
    assert TTFont(BytesIO(cut)).flavor == "woff2"


@pytest.mark.slow
@pytest.mark.parametrize("file", [LAWN, BUNTING])
def test_the_same_characters_give_the_same_bytes_in_any_order(file):
    from menugen.writing import fonts

    one = cut_fonts([font(file)], "abc def")
    fonts.cut_font.cache_clear()
    assert cut_fonts([font(file)], "fed cba") == one
    assert cut_fonts([font(file)], "abc defg").files.keys() != one.files.keys()


def test_a_font_cut_before_is_not_cut_again(tmp_path, monkeypatch):
    from menugen.writing import fonts

    kept = FileCache(tmp_path / "kept")
    one = cut_fonts([font(LAWN)], "abc", kept)
    monkeypatch.setattr(fonts, "cut_font", None)
    assert cut_fonts([font(LAWN)], "cab", kept) == one
    with pytest.raises(ThemeFault):
        cut_fonts([font(LAWN)], "abcd", kept)


def test_small_capitals_and_figures_are_kept():
    cut = TTFont(BytesIO(only_file([font(LAWN)], "abc 123")))
    features = {record.FeatureTag for record in cut["GSUB"].table.FeatureList.FeatureRecord}
    assert features >= {"smcp", "c2sc", "onum", "lnum", "tnum"}
    assert "kern" in {record.FeatureTag for record in cut["GPOS"].table.FeatureList.FeatureRecord}


def test_a_cut_font_still_names_its_owner_and_licence():
    for file in (LAWN, BUNTING):
        names = TTFont(BytesIO(only_file([font(file)], "abc")))["name"]
        assert "Copyright" in names.getDebugName(0)
        assert "SIL Open Font License" in names.getDebugName(13)


def test_a_font_without_the_letters_is_left_out_and_what_stands_in_stays():
    cut = cut_fonts([font(LAWN, StandIn(("Georgia",), 85.0))], "عشاء ١٢")
    assert cut.files == {}
    assert 'local("Georgia")' in cut.style
    assert "woff2" not in cut.style


@pytest.mark.parametrize("file", [LAWN, BUNTING])
def test_a_stand_in_keeps_to_the_line_of_the_font_to_come(file):
    source = TTFont(file)
    units, line = source["head"].unitsPerEm, source["hhea"]
    style = cut_fonts([font(file, StandIn(("Georgia",), 80.0))], "a").style
    assert "size-adjust:80%" in style
    told = {name: float(share) for name, share in re.findall(r"(\w+)-override:([\d.]+)%", style)}
    assert told == pytest.approx(
        {
            "ascent": line.ascent / units / 0.8 * 100,
            "descent": -line.descent / units / 0.8 * 100,
            "gap": 0,
        },
        abs=0.051,
    )


def test_stand_ins_follow_their_family_in_a_list():
    fonts = [
        font(LAWN, StandIn(("Georgia",), 85.0), StandIn(("Palatino", "Palatino Linotype"), 85.0)),
        font(LAWN, StandIn(("Georgia Bold",), 80.0), weight="700"),
    ]
    assert with_stand_ins("Lawn, Georgia, serif", fonts) == 'Lawn,"Lawn 1","Lawn 2",Georgia,serif'
    assert with_stand_ins('"Lawn Two", serif', fonts) == '"Lawn Two",serif'


@pytest.mark.slow
def test_what_is_no_font_or_a_damaged_one_is_said(tmp_path):
    for name, content, message in (
        ("text.otf", b"not a font", "this is no OpenType font"),
        ("short.otf", LAWN.read_bytes()[:2000], "this font is damaged"),
        ("head.ttf", b"\0\1\0\0" + b"\xff" * 40, "this font is damaged"),
    ):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(ThemeFault, match=message):
            cut_fonts([font(tmp_path / name, StandIn(("Georgia",), 85.0))], "abc")
    with pytest.raises(ThemeFault, match="this file cannot be read"):
        cut_fonts([font(tmp_path / "gone.otf")], "abc")


def test_every_text_of_a_menu_is_gathered():
    menu = rich_menu(event="Ωmega", words={**rich_menu().words, "skip": "Жump"})
    found = characters_of(menu)
    assert {"Ω", "Ж", "£", "½"} - set(found) == {"½"}
    assert found == "".join(sorted(set(found)))


@pytest.mark.slow
@pytest.mark.parametrize("weight", ["DejaVuSans", "DejaVuSans-Bold"])
def test_no_text_of_ours_needs_a_letter_that_a_plain_computer_lacks(weight):
    """A letter that no font has is drawn as a box."""
    ours = set(characters_of(WORDS))
    for file in resources("menugen.menu").joinpath("catalogues").iterdir():
        for message in read_po(BytesIO(file.read_bytes())):
            texts = message.string if isinstance(message.string, tuple) else (message.string,)
            ours.update(*texts)
    drawn = {letter for letter in ours if letter.isprintable()}
    assert len(drawn) > 150
    assert drawn - letters((FONTS / f"{weight}.ttf").read_bytes()) == set()


@pytest.mark.parametrize("name", WITH_STAND_INS)
def test_a_shipped_look_knows_the_fonts_of_phones_and_of_plain_computers(name):
    """Apple's and Microsoft's, Android's, and what Debian and others have beside a browser."""
    for shipped in load_theme([SHIPPED], name).fonts:
        named = {each for stand_in in shipped.stand_ins for each in stand_in.names}
        for family in (
            ("Noto Serif", "DejaVu Serif") if name == "lawn" else ("Roboto", "Noto Sans", "DejaVu Sans")
        ):
            assert any(each.startswith(family) for each in named), (shipped.file.name, family)


def test_the_script_asks_for_every_font_and_says_how_only_of_a_host():
    assert early_script(()) == ""
    script = early_script(("../assets/lawn-400.1a.woff2", "../assets/lawn-700.2b.woff2"))
    assert 'of ["../assets/lawn-400.1a.woff2","../assets/lawn-700.2b.woff2"])' in script
    assert 'if(location.protocol!="file:")link.crossOrigin=""' in script
    assert "<" not in script


def test_letters_never_change_on_a_page_that_is_read():
    assert "font-display:optional" in cut_fonts([font(LAWN)], "abc").style


@pytest.mark.parametrize("name", theme_names([SHIPPED]))
def test_a_shipped_look_ships_the_licence_and_source_of_its_fonts(name):
    for shipped in load_theme([SHIPPED], name).fonts:
        folder = shipped.file.parent
        assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / "OFL.txt").read_text(encoding="utf-8")
        assert shipped.file.name in (folder / "OFL.txt").read_text(encoding="utf-8")
        assert shipped.file.name in (folder / "SOURCES.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("file", [LAWN, BUNTING, LAWN.with_name("lawn-semibold.ttf")])
def test_a_shipped_font_writes_the_languages_of_europe(file):
    assert set(EUROPE) - letters(file.read_bytes()) == set()


def test_a_font_must_lie_in_the_themes_folder_with_its_licence(tmp_path):
    home = tmp_path / "mine"
    home.mkdir()
    for entry, message in (
        ("file: ../font.otf, licence: font.otf", r'fonts, file: there is no "\.\./font\.otf"'),
        ("file: font.otf, licence: OFL.txt", 'fonts, licence: there is no "OFL.txt"'),
        ("file: font.otf", '"licence" is missing'),
        ("file: font.otf, licence: font.otf, weight: bold", '"bold" is not a weight'),
        ("file: font.otf, licence: font.otf, stand in: {Georgia: wide}", '"wide" is not a share'),
    ):
        (tmp_path / "font.otf").write_bytes(LAWN.read_bytes())
        (home / "font.otf").write_bytes(LAWN.read_bytes())
        (home / "theme.yaml").write_text(f"extends: slate\nfonts: [{{family: Mine, {entry}}}]\n", "utf-8")
        with pytest.raises(ThemeFault, match=message) as caught:
            load_theme([tmp_path, SHIPPED], "mine")
        assert caught.value.problems[0].where.line == 2
