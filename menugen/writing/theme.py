"""A look: colours, type and spacing as checked tokens, one style sheet, and the templates of the pages.

A theme is a folder with `theme.yaml` (tokens, see `themes/slate/theme.yaml`), `style.css` and, if it needs
them, templates of its own that stand in for those of `themes/base`.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import yaml
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from menugen.writing.contrast import contrast

BASE = "base"
"""The folder whose templates and structure every theme builds on; it is no theme itself."""

COLOURS = ("ground", "text", "strong", "quiet", "link", "rule", "focus", "control")
"""What a theme gives a colour to, once for light and once for dark.

ground: the page. text: words. strong: names and the contains line. quiet: what is read second. link: links.
rule: lines and ornaments. focus: the ring round what the keyboard is on. control: edges of boxes to tick.
"""

READ_COLOURS = ("text", "strong", "quiet", "link")
SEEN_COLOURS = ("rule", "focus", "control")

TEXT_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3 (AA)."""

LINE_CONTRAST = 3.0
"""WCAG 2.2, success criterion 1.4.11 (AA)."""

TYPE = ("body", "names", "size", "size wide", "leading")
SPACE = ("step", "measure")

_COLOUR = re.compile(r"#[0-9a-f]{6}")
_LENGTH = re.compile(r"\d+(\.\d+)?(rem|em|ch)?")
_FONTS = re.compile(r"""[A-Za-z0-9 ,"'-]+""")
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SPACES = re.compile(r"\s+")
_AROUND_MARKS = re.compile(r"\s*([{};,])\s*")
_LOADS = re.compile(r"@import|url\(\s*[\"']?\s*(?!data:image/)[^)]*\)?", re.IGNORECASE)


class ThemeFault(Exception):
    """A theme cannot be used as it is.

    Attributes:
        file: The file to look at.
        message: What is wrong with it; stands alone, no full stop.
    """

    def __init__(self, file: Path, message: str) -> None:
        super().__init__(f"{file}: {message}")
        self.file = file
        self.message = message


@dataclass(frozen=True, slots=True)
class Theme:
    """A look, checked and ready.

    Attributes:
        name: Of its folder.
        light: "#rrggbb" by the names in COLOURS.
        dark: The same, for a dark room.
        style: The whole style sheet: tokens, structure, look; without comments.
        templates: The environment that finds the theme's templates first and the base's after.
    """

    name: str
    light: Mapping[str, str]
    dark: Mapping[str, str]
    style: str
    templates: Environment


def theme_names(folders: Sequence[Path]) -> tuple[str, ...]:
    """Return the names of the themes in these folders, sorted, each once."""
    found = {file.parent.name for folder in folders for file in folder.glob("*/theme.yaml")}
    return tuple(sorted(found - {BASE}))


def load_theme(folders: Sequence[Path], name: str) -> Theme:
    """Read a theme and check it.

    Args:
        folders: Where themes lie; the first that holds the name wins. One of them holds the base.
        name: Of the theme's folder.

    Raises:
        ThemeFault: There is no such theme, or a file of it is missing or says something it cannot.
    """
    home = next((folder / name for folder in folders if (folder / name / "theme.yaml").is_file()), None)
    if home is None or name == BASE:
        known = ", ".join(theme_names(folders)) or "none"
        raise ThemeFault(Path(name), f'there is no theme called "{name}"; there is: {known}')
    file = home / "theme.yaml"
    tokens = _read_tokens(file)
    light = _colours(file, tokens, "light")
    dark = _colours(file, tokens, "dark")
    structure = next(
        (_read(folder / BASE / "base.css") for folder in folders if (folder / BASE / "base.css").is_file()),
        "",
    )
    look = _read(home / "style.css")
    _refuse_what_loads(home / "style.css", look)
    searched = [home, *(folder / BASE for folder in folders)]
    return Theme(
        name=name,
        light=light,
        dark=dark,
        style=tight(_as_properties(file, tokens, light, dark) + structure + look),
        templates=Environment(
            loader=FileSystemLoader(searched),
            undefined=StrictUndefined,
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            cache_size=-1,
        ),
    )


def contrast_faults(theme: Theme) -> tuple[str, ...]:
    """Return a sentence for each colour too near its ground to be read; empty when all is well."""
    faults = []
    for scheme, colours in (("light", theme.light), ("dark", theme.dark)):
        for names, least in ((READ_COLOURS, TEXT_CONTRAST), (SEEN_COLOURS, LINE_CONTRAST)):
            for name in names:
                found = contrast(colours[name], colours["ground"])
                if found < least:
                    faults.append(
                        f'in the {scheme} colours, "{name}" on "ground" has a contrast of {found:.2f}; '
                        f"it needs {least}"
                    )
    return tuple(faults)


def tight(css: str) -> str:
    """Return the style sheet without comments and needless space. Text in quotes must be font names only."""
    return _AROUND_MARKS.sub(r"\1", _SPACES.sub(" ", _COMMENT.sub(" ", css))).replace(";}", "}").strip()


def _read(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise ThemeFault(file, "this file is not UTF-8 text") from None
    except OSError as fault:
        raise ThemeFault(file, f"this file cannot be read: {fault.strerror or fault}") from None


def _read_tokens(file: Path) -> Mapping[str, object]:
    try:
        tokens = yaml.safe_load(_read(file))
    except yaml.MarkedYAMLError as fault:
        line = f"line {fault.problem_mark.line + 1}: " if fault.problem_mark else ""
        raise ThemeFault(file, f"{line}this is not YAML: {fault.problem}") from None
    except yaml.YAMLError:
        raise ThemeFault(file, "this is not YAML") from None
    if not isinstance(tokens, dict):
        raise ThemeFault(file, "a theme is a list of keys: colours, type, space")
    for key in tokens:
        if key not in ("title", "about", "colours", "type", "space"):
            raise ThemeFault(file, f'a theme has no key "{key}"; it has: title, about, colours, type, space')
    return tokens


def _colours(file: Path, tokens: Mapping[str, object], scheme: str) -> Mapping[str, str]:
    both = tokens.get("colours")
    found = both.get(scheme) if isinstance(both, dict) else None
    colours = _exactly(file, found, COLOURS, f"colours, {scheme}")
    for name, value in colours.items():
        if not _COLOUR.fullmatch(value):
            raise ThemeFault(
                file, f'colours, {scheme}, {name}: write it as "#1a2b3c", in quotes; it is "{value}"'
            )
    return colours


def _exactly(file: Path, found: object, names: tuple[str, ...], what: str) -> dict[str, str]:
    if not isinstance(found, dict):
        raise ThemeFault(file, f"{what}: nothing is said here; it takes: {', '.join(names)}")
    for name in found:
        if name not in names:
            raise ThemeFault(file, f'{what}: there is no "{name}"; it takes: {", ".join(names)}')
    for name in names:
        if found.get(name) is None:
            raise ThemeFault(file, f'{what}: "{name}" is missing (a colour needs quotes round it)')
    return {name: str(found[name]) for name in names}


def _as_properties(
    file: Path, tokens: Mapping[str, object], light: Mapping[str, str], dark: Mapping[str, str]
) -> str:
    kind = _exactly(file, tokens.get("type"), TYPE, "type")
    space = _exactly(file, tokens.get("space"), SPACE, "space")
    for name, value in (*kind.items(), *space.items()):
        pattern = _FONTS if name in ("body", "names") else _LENGTH
        if not pattern.fullmatch(value):
            raise ThemeFault(file, f'"{name}" cannot be "{value}"')
    measures = _properties({**kind, **space})
    return (
        f":root{{{_properties(light)}{measures}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{_properties(dark)}}}}}"
    )


def _properties(values: Mapping[str, str]) -> str:
    return "".join(f"--{name.replace(' ', '-')}:{value};" for name, value in values.items())


def _refuse_what_loads(file: Path, css: str) -> None:
    if "<" in css:
        raise ThemeFault(file, 'a style sheet may not hold "<", as it also lies inside pages')
    found = _LOADS.search(_COMMENT.sub(" ", css))
    if found:
        raise ThemeFault(
            file,
            f'"{found.group(0)}" would load another file; a style sheet may hold only data:image pictures',
        )
