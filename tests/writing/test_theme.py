"""Looks: what may be written in one, and whether it can be read."""

from pathlib import Path

import pytest
import yaml

from menugen.shipped import shipped_folder
from menugen.writing.contrast import contrast
from menugen.writing.theme import (
    READ_COLOURS,
    SEEN_COLOURS,
    ThemeFault,
    contrast_faults,
    load_theme,
    theme_names,
    tight,
)

SHIPPED = shipped_folder("themes")
SLATE = yaml.safe_load((SHIPPED / "slate" / "theme.yaml").read_text(encoding="utf-8"))


def written(folder: Path, tokens: object, style: str = "") -> Path:
    home = folder / "mine"
    home.mkdir()
    text = tokens if isinstance(tokens, str) else yaml.safe_dump(tokens)
    (home / "theme.yaml").write_text(text, encoding="utf-8")
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


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # WCAG 2.2, definition of contrast ratio: it ranges from 1 to 21.
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        # The two greys each side of 4.5 on white, as the web's testers know them (from memory).
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
    ],
)
def test_contrast_is_that_of_the_standard(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize("name", theme_names([SHIPPED]))
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_colour_of_a_shipped_look_can_be_read(name, scheme):
    theme = load_theme([SHIPPED], name)
    colours = getattr(theme, scheme)
    for colour in READ_COLOURS:
        assert contrast(colours[colour], colours["ground"]) >= 4.5, colour
    for colour in SEEN_COLOURS:
        assert contrast(colours[colour], colours["ground"]) >= 3, colour
    # What is contained is never the quietest thing on the page.
    strongest = max(READ_COLOURS, key=lambda colour: contrast(colours[colour], colours["ground"]))
    assert strongest == "strong"
    assert contrast_faults(theme) == ()


def test_a_colour_that_cannot_be_read_is_named(tmp_path):
    folder = written(tmp_path, changed("colours", "dark", "quiet", to="#554c40"))
    faults = contrast_faults(load_theme([folder, SHIPPED], "mine"))
    assert len(faults) == 1
    assert faults[0].startswith('in the dark colours, "quiet" on "ground" has a contrast of 2.')


def test_names_are_those_of_all_folders_but_the_base(tmp_path):
    (tmp_path / "base").mkdir()
    (tmp_path / "base" / "theme.yaml").touch()
    written(tmp_path, SLATE)
    assert set(theme_names([tmp_path, SHIPPED])) >= {"mine", "slate"}
    assert "base" not in theme_names([tmp_path, SHIPPED])
    assert theme_names([tmp_path / "nowhere"]) == ()


@pytest.mark.parametrize(
    ("tokens", "message"),
    [
        (changed("colours", "light", "text", to="red"), 'colours, light, text: write it as "#1a2b3c"'),
        (changed("colours", "light", "text", to="#12345g"), 'colours, light, text: write it as "#1a2b3c"'),
        (changed("colours", "dark", "text", to=None), 'colours, dark: "text" is missing'),
        (changed("colours", "dark", "glow", to="#ffffff"), 'colours, dark: there is no "glow"'),
        (changed("colours", "dark", to=None), "colours, dark: nothing is said here"),
        (changed("colours", to="#ffffff"), "colours, light: nothing is said here"),
        (changed("type", "body", to="serif;}body{display:none"), '"body" cannot be'),
        (changed("type", "size", to="16px"), '"size" cannot be "16px"'),
        (changed("space", "step", to=None), 'space: "step" is missing'),
        (changed("shadows", to="many"), 'a theme has no key "shadows"'),
        ("- a\n- b\n", "a theme is a list of keys"),
        ("colours: [", "this is not YAML"),
        ("", "a theme is a list of keys"),
    ],
)
def test_a_fault_is_said_plainly(tmp_path, tokens, message):
    folder = written(tmp_path, tokens)
    with pytest.raises(ThemeFault) as caught:
        load_theme([folder, SHIPPED], "mine")
    assert message in caught.value.message
    assert caught.value.file == folder / "mine" / "theme.yaml"


@pytest.mark.parametrize(
    "style",
    [
        "@import 'https://example.org/x.css';",
        "p { background: url(https://example.org/x.png) }",
        "p { background: url( '//example.org/x.png') }",
        "p { background: URL(x.png) }",
        "p::before { content: '</style><script>' }",
    ],
)
def test_a_style_sheet_that_loads_or_breaks_out_is_refused(tmp_path, style):
    folder = written(tmp_path, SLATE, style)
    with pytest.raises(ThemeFault):
        load_theme([folder, SHIPPED], "mine")


def test_a_style_sheet_may_hold_its_own_pictures(tmp_path):
    folder = written(tmp_path, SLATE, "p { background: url(data:image/png;base64,AAAA) }")
    assert "url(data:image/png;base64,AAAA)" in load_theme([folder, SHIPPED], "mine").style


def test_a_missing_theme_names_those_there_are(tmp_path):
    with pytest.raises(ThemeFault, match=r'no theme called "velvet"; there is: .*slate'):
        load_theme([tmp_path, SHIPPED], "velvet")
    with pytest.raises(ThemeFault, match='no theme called "base"'):
        load_theme([SHIPPED], "base")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "theme.yaml").write_text(yaml.safe_dump(SLATE), encoding="utf-8")
    with pytest.raises(ThemeFault, match=r"style\.css: this file cannot be read"):
        load_theme([tmp_path, SHIPPED], "mine")
    (tmp_path / "mine" / "style.css").write_bytes(b"\xff\xfe")
    with pytest.raises(ThemeFault, match="not UTF-8"):
        load_theme([tmp_path, SHIPPED], "mine")


def test_the_houses_own_look_comes_before_the_shipped_one_of_the_same_name(tmp_path):
    home = tmp_path / "slate"
    home.mkdir()
    tokens = changed("colours", "light", "ground", to="#ffffff")
    (home / "theme.yaml").write_text(yaml.safe_dump(tokens), encoding="utf-8")
    (home / "style.css").write_text("", encoding="utf-8")
    (home / "notices.html.jinja").write_text("ours", encoding="utf-8")
    theme = load_theme([tmp_path, SHIPPED], "slate")
    assert theme.light["ground"] == "#ffffff"
    assert theme.templates.get_template("notices.html.jinja").render() == "ours"


def test_tight_keeps_what_matters():
    css = (
        "/* a\n remark */ a > b ,\n c { margin : 0 ; color: red; }\n"
        "@media (min-width: 2em) and print { p { x: calc(1em + 2px) } }"
    )
    assert (
        tight(css) == "a > b,c{margin : 0;color: red}@media (min-width: 2em) and print{p{x: calc(1em + 2px)}}"
    )
