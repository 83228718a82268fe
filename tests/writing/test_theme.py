"""Looks: what may be written in one, how one builds on another, and whether it can be read."""

from pathlib import Path

import pytest
import yaml

from menugen.reading import json_schemas
from menugen.shipped import shipped_folder
from menugen.writing.theme import (
    PAIRS,
    ThemeFault,
    contrast_findings,
    load_theme,
    theme_names,
    tight,
)
from tests.reading.json_schema import faults as schema_faults

SHIPPED = shipped_folder("themes")
SLATE = yaml.safe_load((SHIPPED / "slate" / "theme.yaml").read_text(encoding="utf-8"))


def written(folder: Path, tokens: object, style: str | None = "", name: str = "mine") -> Path:
    home = folder / name
    home.mkdir()
    text = tokens if isinstance(tokens, str) else yaml.safe_dump(tokens, width=1000)
    (home / "theme.yaml").write_text(text, encoding="utf-8")
    if style is not None:
        (home / "style.css").write_text(style, encoding="utf-8")
    return folder


def changed(*path: str, to: object) -> dict[str, object]:
    tokens = yaml.safe_load(yaml.safe_dump(SLATE))
    place = tokens
    for key in path[:-1]:
        place = place[key]
    if to is None:
        del place[path[-1]]
    else:
        place[path[-1]] = to
    return tokens


@pytest.mark.parametrize("name", theme_names([SHIPPED]))
def test_every_colour_of_a_shipped_look_can_be_read(name):
    assert contrast_findings(load_theme([SHIPPED], name)) == ()


def test_names_are_those_of_all_folders_but_the_base(tmp_path):
    (tmp_path / "base").mkdir()
    (tmp_path / "base" / "theme.yaml").touch()
    written(tmp_path, SLATE)
    assert set(theme_names([tmp_path, SHIPPED])) >= {"mine", "slate", "lawn", "bunting"}
    assert "base" not in theme_names([tmp_path, SHIPPED])
    assert theme_names([tmp_path / "nowhere"]) == ()


@pytest.mark.parametrize(
    ("tokens", "message"),
    [
        (
            changed("colours", "light", "text", to="red"),
            '"red" is not a colour; write it in quotes: "#1a2b3c"',
        ),
        (changed("colours", "light", "text", to="#12345g"), '"#12345g" is not a colour'),
        (changed("colours", "dark", "text", to=None), 'colours, dark: "text" is missing'),
        (changed("colours", "dark", "glow", to="#ffffff"), '"glow" is not a key of the colours'),
        (changed("colours", "dark", to=None), "colours, dark: nothing is said here"),
        (changed("colours", to="#ffffff"), '"colours" must be keys and values'),
        (changed("colours", to=None), "colours, light: nothing is said here"),
        (changed("colours", "light", "text", to=["#ffffff"]), '"text" must be a colour, not a list'),
        (
            "colours:\n  light:\n    text: #ffffff\n",
            '"text" has no value; write it in quotes: "#1a2b3c"',
        ),
        (changed("type", "body", to="serif;}body{display:none"), "is not a row of font families"),
        (changed("type", "size", to="16px"), '"16px" is not a length; write it as 1.25rem'),
        (changed("space", "step", to=None), 'space: "step" is missing'),
        (changed("shadows", to="many"), '"shadows" is not a key known here'),
        (changed("extends", to="../slate"), '"../slate" is not the name of a look'),
        (changed("fonts", to="Lawn"), 'item 1 of "fonts" must be keys and values'),
        (
            changed("fonts", to=[{"family": "Lawn"}]),
            '"file" is missing; add a line such as "file: fonts/lawn.otf"',
        ),
        ("title: a\ntitle: b\n", '"title" stands here a second time'),
        ("- a\n- b\n", "this is a list, where keys and values are expected"),
        ("colours: [", "cannot be read from here on"),
        ("", "nothing is written here"),
    ],
)
def test_a_fault_is_said_plainly(tmp_path, tokens, message):
    folder = written(tmp_path, tokens)
    with pytest.raises(ThemeFault) as caught:
        load_theme([folder, SHIPPED], "mine")
    said = caught.value.problems[0]
    assert message in "; ".join((said.message, *said.hints))
    assert Path(caught.value.problems[0].where.file) == folder / "mine" / "theme.yaml"


def test_a_fault_has_its_line(tmp_path):
    written(tmp_path, 'extends: slate\ncolours:\n  dark:\n    text: "#12345"\n')
    with pytest.raises(ThemeFault) as caught:
        load_theme([tmp_path, SHIPPED], "mine")
    assert caught.value.problems[0].where[1:] == (4, 11, 19)
    assert str(caught.value).startswith(f"{tmp_path / 'mine' / 'theme.yaml'}:4: ")


@pytest.mark.parametrize(
    "style",
    [
        "@import 'https://example.org/x.css';",
        "p { background: url(https://example.org/x.png) }",
        "p { background: url( '//example.org/x.png') }",
        'p { background: url("x.png") }',
        "p { background: URL(x.png) }",
        "p { background: image-set('x.png' 1x) }",
        "p::before { content: '</style><script>' }",
    ],
)
def test_a_style_sheet_that_loads_or_breaks_out_is_refused(tmp_path, style):
    folder = written(tmp_path, SLATE, style)
    with pytest.raises(ThemeFault):
        load_theme([folder, SHIPPED], "mine")


@pytest.mark.parametrize("quote", ["", '"', "'"])
def test_a_style_sheet_may_hold_its_own_pictures(tmp_path, quote):
    picture = f"url({quote}data:image/png;base64,AAAA{quote})"
    folder = written(tmp_path, SLATE, f"p {{ background: {picture} }}")
    assert picture in load_theme([folder, SHIPPED], "mine").style


def test_a_missing_theme_names_those_there_are(tmp_path):
    with pytest.raises(ThemeFault, match=r'no theme called "velvet"; there is: .*slate'):
        load_theme([tmp_path, SHIPPED], "velvet")
    with pytest.raises(ThemeFault, match='no theme called "base"'):
        load_theme([SHIPPED], "base")
    written(tmp_path, SLATE, style=None)
    with pytest.raises(ThemeFault, match=r"style\.css: this file cannot be read"):
        load_theme([tmp_path, SHIPPED], "mine")
    (tmp_path / "mine" / "style.css").write_bytes(b"\xff\xfe")
    with pytest.raises(ThemeFault, match="not UTF-8"):
        load_theme([tmp_path, SHIPPED], "mine")


def test_the_houses_own_look_comes_before_the_shipped_one_of_the_same_name(tmp_path):
    written(tmp_path, changed("colours", "light", "ground", to="#ffffff"), name="slate")
    (tmp_path / "slate" / "notices.html.jinja").write_text("ours", encoding="utf-8")
    theme = load_theme([tmp_path, SHIPPED], "slate")
    assert theme.light["ground"] == "#ffffff"
    assert theme.templates.get_template("notices.html.jinja").render() == "ours"


def test_a_look_that_extends_says_only_what_changes(tmp_path):
    written(tmp_path, 'extends: lawn\ncolours:\n  dark:\n    ground: "#101820"\nspace: {step: 2rem}\n', None)
    lawn, mine = load_theme([SHIPPED], "lawn"), load_theme([tmp_path, SHIPPED], "mine")
    assert mine.dark == {**lawn.dark, "ground": "#101820", "band": "#101820"}
    assert mine.light == lawn.light
    assert mine.fonts == lawn.fonts
    assert mine.style == lawn.style.replace(lawn.dark["ground"], "#101820").replace("step:1rem", "step:2rem")


def test_a_look_may_extend_the_one_whose_name_it_takes(tmp_path):
    written(tmp_path, 'extends: slate\ncolours: {light: {ground: "#ffffff"}}\n', None, name="slate")
    theme = load_theme([tmp_path, SHIPPED], "slate")
    assert theme.light["ground"] == "#ffffff"
    assert theme.light["text"] == SLATE["colours"]["light"]["text"]


def test_styles_and_templates_lie_on_top_of_those_that_are_extended(tmp_path):
    written(tmp_path, "extends: slate\n", "h1 { color: red }", name="first")
    written(tmp_path, "extends: first\n", "h1 { color: blue }", name="second")
    (tmp_path / "first" / "notices.html.jinja").write_text("first", encoding="utf-8")
    (tmp_path / "second" / "missing.html.jinja").write_text("second", encoding="utf-8")
    theme = load_theme([tmp_path, SHIPPED], "second")
    assert theme.style.endswith("h1{color: red}h1{color: blue}")
    assert theme.templates.get_template("notices.html.jinja").render() == "first"
    assert theme.templates.get_template("missing.html.jinja").render() == "second"


def test_looks_that_extend_each_other_or_nothing_are_told_at_the_line(tmp_path):
    written(tmp_path, "title: One\nextends: two\n", name="one")
    written(tmp_path, "extends: one\n", name="two")
    written(tmp_path, "extends: velvet\n", name="three")
    written(tmp_path, "extends: base\n", name="four")
    with pytest.raises(ThemeFault, match=r'two/theme\.yaml:1: extends: "one" builds on this one in turn'):
        load_theme([tmp_path, SHIPPED], "one")
    with pytest.raises(ThemeFault, match=r'three/theme\.yaml:1: extends: there is no theme called "velvet"'):
        load_theme([tmp_path, SHIPPED], "three")
    with pytest.raises(ThemeFault, match='no theme called "base"'):
        load_theme([tmp_path, SHIPPED], "four")


def test_a_colour_that_cannot_be_read_is_told_with_one_that_can(tmp_path):
    written(tmp_path, 'extends: slate\ncolours:\n  dark:\n    quiet: "#554c40"\n')
    (finding,) = contrast_findings(load_theme([tmp_path, SHIPPED], "mine"))
    assert finding.message == 'in the dark colours, "quiet" on "ground" has a contrast of 2.19; it needs 4.5'
    assert finding.path == ("colours", "dark", "quiet")
    assert finding.where == (str(tmp_path / "mine" / "theme.yaml"), 4, 12, 21)
    assert finding.nearest in finding.hint
    (tmp_path / "mine" / "theme.yaml").write_text(
        f'extends: slate\ncolours: {{dark: {{quiet: "{finding.nearest}"}}}}', encoding="utf-8"
    )
    assert contrast_findings(load_theme([tmp_path, SHIPPED], "mine")) == ()


def test_a_changed_ground_is_told_of_itself_not_of_the_words_of_another_look(tmp_path):
    written(tmp_path, 'extends: slate\ncolours:\n  light:\n    ground: "#8a8a8a"\n')
    findings = contrast_findings(load_theme([tmp_path, SHIPPED], "mine"))
    assert {finding.over for finding in findings} >= {"quiet", "rule", "focus"}
    for finding in findings:
        assert finding.path == ("colours", "light", "ground")
        assert finding.where.line == 4
        assert f'"{finding.over}" on "ground"' in finding.message


def test_a_contrast_that_just_misses_is_not_told_as_enough(tmp_path):
    # #777777 on white: 4.478. Source: worked out by the formula of WCAG 2.2.
    light = {**SLATE["colours"]["light"], "ground": "#ffffff", "quiet": "#777777"}
    written(tmp_path, changed("colours", "light", to=light))
    (finding,) = contrast_findings(load_theme([tmp_path, SHIPPED], "mine"))
    assert "has a contrast of 4.47; it needs 4.5" in finding.message


def test_every_pair_that_meets_is_checked(tmp_path):
    """Each colour in turn is made that of what it lies on; only that pair is then told."""
    for number, (over, under, _) in enumerate(PAIRS):
        scheme = {**SLATE["colours"]["light"], "band": "#ffe0e0", "on band": "#000000"}
        written(
            tmp_path, changed("colours", "light", to={**scheme, over: scheme[under]}), name=f"mine-{number}"
        )
        (finding,) = contrast_findings(load_theme([tmp_path, SHIPPED], f"mine-{number}"))
        assert (finding.over, finding.meets, finding.ratio) == (over, under, 1.0)


def test_a_band_nobody_speaks_of_is_the_ground():
    theme = load_theme([SHIPPED], "slate")
    assert (theme.light["band"], theme.light["on band"]) == (theme.light["ground"], theme.light["strong"])
    assert "--on-band:" in theme.style


@pytest.mark.parametrize("name", theme_names([SHIPPED]))
def test_the_schema_takes_what_the_shipped_looks_say(name):
    said = yaml.safe_load((SHIPPED / name / "theme.yaml").read_text(encoding="utf-8"))
    assert schema_faults(said, json_schemas()["theme"]) == []


@pytest.mark.parametrize(
    "wrong",
    [
        changed("colours", "light", "text", to="red"),
        changed("colours", "dark", "glow", to="#ffffff"),
        changed("shadows", to="many"),
        changed("type", "size", to="16px"),
        changed("fonts", to=[{"family": "Lawn"}]),
    ],
)
def test_the_schema_refuses_what_loading_refuses(wrong):
    assert schema_faults(wrong, json_schemas()["theme"]) != []


def test_tight_keeps_what_matters():
    css = (
        "/* a\n remark */ a > b ,\n c { margin : 0 ; color: red; }\n"
        "@media (min-width: 2em) and print { p { x: calc(1em + 2px) } }"
    )
    assert (
        tight(css) == "a > b,c{margin : 0;color: red}@media (min-width: 2em) and print{p{x: calc(1em + 2px)}}"
    )
