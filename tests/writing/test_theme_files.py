"""The files of a stranger's look: ordinary files of its own folder, none too large, and all faults told at once."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from menugen.problems import Problem
from menugen.shipped import shipped_folder
from menugen.writing import theme_files
from menugen.writing.font_apart import CannotCut, cut_apart
from menugen.writing.fonts import FontFile, StandIn, cut_fonts
from menugen.writing.theme import ThemeFault, load_theme

SHIPPED = shipped_folder("themes")
LAWN = SHIPPED / "lawn" / "fonts" / "lawn-regular.otf"
FONT = "fonts: [{family: Lawn, file: fonts/a.otf, licence: fonts/a.txt}]\n"

_TOO_DEEP = re.compile("nested more than 20 levels deep|cannot be read from here on")
"""The parsers of some releases of PyYAML give up by themselves at a depth of their own."""

needs_pipes = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no named pipes here")


def look(folder: Path, text: str = "extends: slate\n") -> Path:
    home = folder / "mine"
    (home / "fonts").mkdir(parents=True)
    (home / "theme.yaml").write_text(text, encoding="utf-8")
    (home / "fonts" / "a.otf").write_bytes(LAWN.read_bytes())
    (home / "fonts" / "a.txt").write_text("Free to use.", encoding="utf-8")
    return home


def faults(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(ThemeFault) as caught:
        load_theme([folder, SHIPPED], "mine")
    return caught.value.problems


def fault(folder: Path) -> Problem:
    return faults(folder)[0]


FILES = ("theme.yaml", "style.css", "notices.html.jinja", "fonts/a.otf", "fonts/a.txt")


@needs_pipes
@pytest.mark.parametrize("name", FILES)
def test_a_pipe_is_not_waited_for(tmp_path, name):
    home = look(tmp_path, f"extends: slate\n{FONT}")
    (home / name).unlink(missing_ok=True)
    os.mkfifo(home / name)
    found = fault(tmp_path)
    assert Path(found.where.file) == home / name
    assert found.message == "this is no ordinary file"


@pytest.mark.parametrize("name", FILES)
def test_a_folder_is_no_file(tmp_path, name):
    home = look(tmp_path, f"extends: slate\n{FONT}")
    (home / name).unlink(missing_ok=True)
    (home / name).mkdir()
    assert fault(tmp_path).message == "this is a folder"


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("to", ["/dev/zero", "elsewhere", "nowhere", "itself"])
def test_a_link_leads_nowhere_else(tmp_path, name, to):
    home = look(tmp_path, f"extends: slate\n{FONT}")
    (tmp_path / "elsewhere").write_text("a{}", encoding="utf-8")
    (home / name).unlink(missing_ok=True)
    target = {"/dev/zero": Path("/dev/zero"), "itself": home / name}.get(to, tmp_path / to)
    (home / name).symlink_to(target)
    found = fault(tmp_path)
    assert Path(found.where.file) == home / name
    assert any(
        word in found.message for word in ("out of the look's folder", "leads to nothing", "cannot be read")
    )


def test_a_link_within_the_look_is_its_own(tmp_path):
    home = look(tmp_path)
    (home / "fonts" / "other.css").write_text("p{color:red}", encoding="utf-8")
    (home / "style.css").symlink_to(home / "fonts" / "other.css")
    assert load_theme([tmp_path, SHIPPED], "mine").style.endswith("p{color:red}")


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("theme.yaml", theme_files.LARGEST_TEXT),
        ("style.css", theme_files.LARGEST_STYLE),
        ("notices.html.jinja", theme_files.LARGEST_TEMPLATE),
        ("fonts/a.otf", theme_files.LARGEST_FONT),
        ("fonts/a.txt", theme_files.LARGEST_TEXT),
    ],
)
def test_no_file_is_larger_than_it_needs_to_be(tmp_path, name, most):
    home = look(tmp_path, f"extends: slate\n{FONT}")
    with (home / name).open("ab") as file:
        file.truncate(most + 1)
    found = fault(tmp_path)
    assert Path(found.where.file) == home / name
    assert "larger than" in found.message


def test_a_file_that_grew_since_it_was_looked_at_is_cut_off(tmp_path, monkeypatch):
    home = look(tmp_path)
    monkeypatch.setattr(theme_files, "own_file", lambda home, name, _largest: home / name)
    with pytest.raises(ThemeFault, match="larger than"):
        theme_files.read_own(home, "theme.yaml", 5)


@pytest.mark.parametrize("name", ["../slate/theme.yaml", "/etc/passwd", "..\\x", "C:x", "a/../../x", "a\0b"])
def test_a_name_stays_in_the_folder(tmp_path, name):
    with pytest.raises(ThemeFault, match="outside the look's folder"):
        theme_files.own_file(look(tmp_path), name, 100)


def test_a_font_s_name_stays_in_the_folder(tmp_path):
    for number, name in enumerate(("../x.otf", "/etc/passwd", "..\\\\x.otf", "gone.otf", "")):
        look(
            tmp_path / str(number),
            f'extends: slate\nfonts: [{{family: A, file: "{name}", licence: fonts/a.txt}}]\n',
        )
        found = fault(tmp_path / str(number))
        assert "in this theme's folder" in found.message
        assert found.where.line == 2


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("extends: slate\ntitle: " + "[" * 5000, 2, _TOO_DEEP),
        ("extends: slate\ntitle: " + "[" * 30 + "]" * 30, 2, "nested more than 20 levels deep"),
        (
            "extends: slate\n" + "".join(" " * n + "a:\n" for n in range(900)),
            22,
            "nested more than 20 levels deep",
        ),
        ("extends: slate\ntitle: [" + "a," * 100_001 + "]", 2, "more than 100000 values"),
        ("title: &a x\nabout: *a\n", 1, '"&a" marks a place to refer to'),
        ("title: !!python/object/apply:os.system [x]\n", 1, "is a type tag"),
        ("extends: slate\n---\nextends: lawn\n", 2, "a second document begins here"),
        ("extends: slate\ntitle: \0", 2, "an invisible character"),
        ('extends: slate\ntype: {body: "Georgia\\"; serif"}', 2, "is not a row of font families"),
        ('extends: slate\ntype: {body: "\'Georgia"}', 2, "is not a row of font families"),
        ("extends: slate\ntype: {body: 'Georgia,'}", 2, "is not a row of font families"),
        ('extends: slate\ntype: {body: "Source Sans 3, serif"}', 2, "is not a row of font families"),
        ("extends: slate\ntype: {size: ١rem}", 2, "is not a length"),
        (f"extends: slate\ntype: {{size: {'9' * 500}rem}}", 2, "…"),
        ("extends: slate\nspace: {step: 1rem;}a{b}", 2, ""),
        (
            f"extends: slate\n{FONT.replace('licence', 'stand in: {Georgia: 00 %}, licence')}",
            2,
            '"00 %" is not a share',
        ),
        (
            f"extends: slate\n{FONT.replace('Lawn', chr(39) + 'La' + chr(34) + 'wn' + chr(39))}",
            2,
            "is not the name of a font",
        ),
    ],
)
def test_what_theme_yaml_cannot_say(tmp_path, text, line, message):
    home = look(tmp_path, text)
    found = fault(tmp_path)
    assert message.search(found.message) if isinstance(message, re.Pattern) else message in found.message
    assert (Path(found.where.file), found.where.line) == (home / "theme.yaml", line)
    assert len(found.message) < 400


def test_families_that_mean_one_thing_pass(tmp_path):
    for number, families in enumerate(
        ("Georgia, serif", '"Source Sans 3", sans-serif', "'A B',  \"C\" ,d", "-apple-system, Segoe UI")
    ):
        said = families.replace("'", "''")
        look(tmp_path / str(number), f"extends: slate\ntype: {{body: '{said}'}}\n")
        assert "--body:" in load_theme([tmp_path / str(number), SHIPPED], "mine").style


def test_all_that_is_wrong_with_tokens_is_told_at_once(tmp_path):
    look(
        tmp_path,
        "extends: slate\ncolours:\n  light: {ground: red, txt: '#000000'}\n  dark: {text: '#12'}\ntype: {size: 16px}\n"
        "fonts:\n  - {family: A}\n  - {family: B, file: x, licence: y}\n",
    )
    assert [one.where.line for one in faults(tmp_path)] == [3, 3, 4, 5, 7, 7, 8, 8]
    assert faults(tmp_path)[1].hints == ('did you mean "text"?',)


def test_all_that_a_whole_look_lacks_is_told_at_once(tmp_path):
    look(tmp_path, "colours:\n  light: {ground: '#ffffff'}\n")
    every = faults(tmp_path)
    assert 'colours, light: "text" is missing' in [one.message for one in every]
    assert any(one.message.startswith("colours, dark: nothing is said here") for one in every)


@pytest.mark.slow
def test_a_stranger_s_font_is_cut_to_the_same_bytes(tmp_path):
    home = look(tmp_path)
    mine = FontFile("Lawn", home / "fonts" / "a.otf", "400", (StandIn(("Georgia",), 85.0),))
    ours = FontFile("Lawn", LAWN, "400", (StandIn(("Georgia",), 85.0),))
    assert cut_fonts([mine], "Saltmarsh Öäł") == cut_fonts([ours], "Saltmarsh Öäł")


@pytest.mark.slow
def test_a_font_that_takes_too_much_is_stopped(tmp_path, monkeypatch):
    from menugen.writing import font_apart

    home = look(tmp_path)
    bomb = font_with_a_map_of_everything(LAWN.read_bytes(), 3000)
    (home / "fonts" / "a.otf").write_bytes(bomb)
    monkeypatch.setattr(font_apart, "_LONGEST_WAIT_S", 60)
    with pytest.raises(ThemeFault, match="damaged, or takes too long") as caught:
        cut_fonts([FontFile("Lawn", home / "fonts" / "a.otf", "400", ())], "abc")
    assert Path(caught.value.problems[0].where.file) == home / "fonts" / "a.otf"


def font_with_a_map_of_everything(source: bytes, times: int) -> bytes:
    """Return the font with a table of characters that says of all there are, again and again, which glyph they have."""
    import struct
    from io import BytesIO

    from fontTools.ttLib import TTFont
    from fontTools.ttLib.tables.DefaultTable import DefaultTable

    groups = b"".join(struct.pack(">LLL", 0, 0x10FFFF, 1) for _ in range(times))
    table = struct.pack(">HHLLL", 12, 0, 16 + len(groups), 0, times) + groups
    font = TTFont(BytesIO(source))
    made = DefaultTable("cmap")
    made.data = struct.pack(">HHHHL", 0, 1, 3, 10, 12) + table
    font.tables["cmap"] = made
    out = BytesIO()
    font.save(out)
    return out.getvalue()


def test_the_font_cutter_takes_no_module_from_where_it_is_started(tmp_path, monkeypatch):
    """A house that holds a folder "menugen" or "fontTools" is started in like any other."""
    for name in ("menugen", "fontTools", "struct"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "__init__.py").write_text("open('run', 'w').close()", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert cut_apart(LAWN.read_bytes(), "abc")[:4] == b"wOF2"
    assert not (tmp_path / "run").exists()


def test_a_font_cutter_that_cannot_start_is_told(monkeypatch):
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    with pytest.raises(CannotCut):
        cut_apart(LAWN.read_bytes(), "abc")
    monkeypatch.undo()
    monkeypatch.setattr(
        subprocess, "run", lambda *_args, **_more: (_ for _ in ()).throw(subprocess.TimeoutExpired("x", 1))
    )
    with pytest.raises(CannotCut):
        cut_apart(LAWN.read_bytes(), "abc")


def test_all_that_is_wrong_with_a_look_in_any_of_its_files_is_told_at_once(tmp_path):
    home = look(
        tmp_path,
        "colours: {light: {ground: red}, dark: x}\ntitle: a\ntitle: b\ntype: [size]\n"
        "fonts: [{family: A, file: gone.otf, licence: ../b.txt, stand in: {'*': 0 %}}]\n",
    )
    (home / "style.css").write_text("@import 'x';", encoding="utf-8")
    (home / "notices.html.jinja").write_text("{% if %}", encoding="utf-8")
    found = sorted(
        (Path(one.where.file).name, one.where.line, one.code, one.message) for one in faults(tmp_path)
    )
    assert [(name, line, code) for name, line, code, _ in found if "is missing" not in _] == [
        ("notices.html.jinja", 1, "theme-fault"),
        ("style.css", 1, "theme-fault"),
        *[("theme.yaml", 1, "theme-fault")] * 2,
        ("theme.yaml", 1, "wrong-shape"),
        ("theme.yaml", 3, "repeated-key"),
        ("theme.yaml", 4, "wrong-shape"),
        *[("theme.yaml", 5, "theme-fault")] * 4,
    ]
    # What is there and at fault is not missed as well.
    missing = [message for *_, message in found if "is missing" in message]
    assert len(missing) == 7
    assert not any('"ground"' in message for message in missing)


def test_a_look_that_cannot_be_decoded_is_told_as_every_other_file(tmp_path):
    home = look(tmp_path)
    (home / "theme.yaml").write_bytes(b"title: \xff\n")
    assert (fault(tmp_path).code, fault(tmp_path).where.line) == ("not-utf8", 1)
    (home / "theme.yaml").write_bytes(b"<<<<<<< ours\ntitle: a\n=======\n")
    assert fault(tmp_path).code == "merge-unfinished"


def test_what_another_look_says_wrongly_is_told_in_its_own_file(tmp_path):
    look(tmp_path, "extends: other\nspace: {step: 1px}\n")
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "theme.yaml").write_text("extends: slate\nspace: {stp: 1rem}\n", encoding="utf-8")
    found = [(Path(one.where.file).parent.name, one.where[1:]) for one in faults(tmp_path)]
    assert found == [("mine", (2, 15, 18)), ("other", (2, 9, 12))]


def test_a_font_of_another_look_is_taken_from_its_own_folder(tmp_path):
    home = look(tmp_path, f"extends: slate\n{FONT}")
    (tmp_path / "over").mkdir()
    (tmp_path / "over" / "theme.yaml").write_text("extends: mine\n", encoding="utf-8")
    (font,) = load_theme([tmp_path, SHIPPED], "over").fonts
    assert font.file == home / "fonts" / "a.otf"


def test_no_more_faults_of_one_look_are_told_than_can_be_read(tmp_path):
    look(tmp_path, "extends: slate\n" + "".join(f"key {number}: x\n" for number in range(50)))
    assert len(faults(tmp_path)) == 20


@pytest.mark.parametrize(("typed", "column"), [("../slate", 10), ("[slate]", 1), ("", 1)])
def test_nothing_is_missed_where_the_look_that_is_built_on_is_mistyped(tmp_path, typed, column):
    look(tmp_path, f"extends: {typed}\n")
    assert [one.where[1:3] for one in faults(tmp_path)] == [(1, column)]


def test_a_key_that_was_left_empty_says_nothing(tmp_path):
    home = look(
        tmp_path,
        (SHIPPED / "slate" / "theme.yaml").read_text("utf-8").rpartition("\nspace:")[0] + "\nspace:\n",
    )
    (home / "style.css").touch()
    assert [one.message for one in faults(tmp_path)] == [
        "space: nothing is said here; it takes: step, measure"
    ]


def test_a_colour_may_be_typed_in_capitals(tmp_path):
    look(tmp_path, 'extends: slate\ncolours: {light: {ground: "#FFFDF8"}}\n')
    assert load_theme([tmp_path, SHIPPED], "mine").light["ground"] == "#fffdf8"


def test_what_a_look_says_wrongly_is_not_missed_as_well_where_it_builds_on_another(tmp_path):
    look(tmp_path, "extends: other\nspace: wide\n")
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "theme.yaml").write_text("title: Bare\n", encoding="utf-8")
    said = [one.message for one in faults(tmp_path)]
    assert [message for message in said if "space" in message] == ['"space" must be keys and values']
