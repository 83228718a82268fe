"""A look: colours, type and spacing as checked tokens, one style sheet, fonts, and the templates of the pages.

A theme is a folder with `theme.yaml` (tokens, see tokens.py), `style.css` and, if it needs them, templates of its own
that stand in for those of `themes/base`. One that extends another says only what changes; its style sheet and its
templates come on top of the other's.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from menugen.problems import Problem, Span, error
from menugen.reading.theme_file import SCHEMES, ThemeFile, Token, Tokens, read_theme
from menugen.writing.contrast import contrast, nearest_passing
from menugen.writing.fonts import FontFile, with_stand_ins
from menugen.writing.style_rules import StyleFault, published_faults, style_faults
from menugen.writing.templates import BASE, ThemeTemplates
from menugen.writing.theme_fault import ThemeFault
from menugen.writing.theme_files import (
    LARGEST_STYLE,
    LARGEST_TEXT,
    is_shipped,
    is_there,
    read_own,
    read_own_text,
)
from menugen.writing.tokens import font_files, font_problems, laid_over, missing_tokens, with_bands

__all__ = [
    "PAIRS",
    "ContrastFinding",
    "Theme",
    "ThemeFault",
    "contrast_findings",
    "load_theme",
    "theme_names",
    "tight",
]

TEXT_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3 (AA)."""

LINE_CONTRAST = 3.0
"""WCAG 2.2, success criterion 1.4.11 (AA)."""

PAIRS: tuple[tuple[str, str, float], ...] = (
    ("text", "ground", TEXT_CONTRAST),
    ("strong", "ground", TEXT_CONTRAST),
    ("quiet", "ground", TEXT_CONTRAST),
    ("link", "ground", TEXT_CONTRAST),
    ("rule", "ground", LINE_CONTRAST),
    ("focus", "ground", LINE_CONTRAST),
    ("control", "ground", LINE_CONTRAST),
    ("on band", "band", TEXT_CONTRAST),
)
"""Which colour meets which, and the contrast it needs there."""

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SPACES = re.compile(r"\s+")
_AROUND_MARKS = re.compile(r"\s*([{};,])\s*")


@dataclass(frozen=True, slots=True)
class Theme:
    """A look, checked and ready.

    Attributes:
        name: Of its folder.
        file: Its theme.yaml.
        light: "#rrggbb" by the names of the colour tokens.
        dark: The same, for a dark room.
        style: The whole style sheet but the fonts': tokens, structure, look; without comments.
        inside: The same for a page that holds its styles, without what only the page of allergens needs.
        fonts: The look's own, to be cut for each site.
        tokens: What the colours were read from, by scheme.
        templates: The environment that finds the theme's templates first and the base's after.
    """

    name: str
    file: Path
    light: Mapping[str, str]
    dark: Mapping[str, str]
    style: str
    inside: str
    fonts: tuple[FontFile, ...]
    tokens: Mapping[str, Tokens]
    templates: ThemeTemplates


@dataclass(frozen=True, slots=True)
class ContrastFinding:
    """A colour too near the one it meets to be read or seen.

    Attributes:
        scheme: "light" or "dark".
        token: The one to change: the theme's own where only one of the two is.
        meets: The other.
        over: Which of the two lies on the other.
        ratio: What their contrast is.
        least: What it must be.
        nearest: The colour nearest to `token`'s that passes, "#rrggbb".
        where: Where `token` is written.
    """

    scheme: str
    token: str
    meets: str
    over: str
    ratio: float
    least: float
    nearest: str
    where: Span

    @property
    def path(self) -> tuple[str, str, str]:
        """The keys that lead to the token in its file."""
        return ("colours", self.scheme, self.token)

    @property
    def message(self) -> str:
        """What is wrong; stands alone, no full stop."""
        under = self.meets if self.over == self.token else self.token
        # Cut, not rounded: 4.499 must not be told as the 4.5 it misses.
        ratio = int(self.ratio * 100) / 100
        return (
            f'in the {self.scheme} colours, "{self.over}" on "{under}" has a contrast of {ratio:.2f}; '
            f"it needs {self.least:g}"
        )

    @property
    def hint(self) -> str:
        """What to write instead."""
        return f'a colour near it that passes: "{self.nearest}"'


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
    chain, problems = _chain(folders, name)
    tokens = chain[-1]
    for own in reversed(chain[:-1]):
        tokens = laid_over(own, tokens)
    homes = [Path(found.where.file).parent for found in chain]
    sheets = _Sheets(folders)
    structure, allergens = sheets.shared("base.css"), sheets.shared("allergens.css")
    looks = "".join(
        sheets.look(home, needed=found.extends is None)
        for home, found in zip(reversed(homes), reversed(chain), strict=True)
    )
    problems += [*missing_tokens(tokens), *sheets.problems]
    templates = None
    try:
        templates = ThemeTemplates([*homes, *(folder / BASE for folder in folders)])
    except ThemeFault as fault:
        problems += fault.problems
    if problems or templates is None:
        raise ThemeFault.all_of(problems)
    light, dark = with_bands(tokens.light), with_bands(tokens.dark)
    tokens = replace(tokens, light=light, dark=dark)
    fonts = next((fonts for found in chain if (fonts := font_files(found)) is not None), ())
    properties = _as_properties(tokens, fonts)
    style = tight(properties + structure + allergens + looks)
    inside = tight(properties + structure + looks)
    sheets.check_whole(style, inside)
    return Theme(
        name=name,
        file=homes[0] / "theme.yaml",
        light=_values(light),
        dark=_values(dark),
        style=style,
        inside=inside,
        fonts=fonts,
        tokens={"light": light, "dark": dark},
        templates=templates,
    )


def contrast_findings(theme: Theme) -> tuple[ContrastFinding, ...]:
    """Return each pair of colours that meets with too little contrast; empty when all is well."""
    return tuple(
        finding
        for scheme in SCHEMES
        for over, under, least in PAIRS
        for finding in _finding(theme, scheme, over, under, least)
    )


def _finding(theme: Theme, scheme: str, over: str, under: str, least: float) -> Iterator[ContrastFinding]:
    tokens = theme.tokens[scheme]
    upper, lower = tokens[over], tokens[under]
    ratio = contrast(upper.value, lower.value)
    if ratio >= least:
        return
    # A look that changes only the ground is told of the ground: the words are another look's and right there.
    own_lower_only = Path(upper.where.file) != theme.file and Path(lower.where.file) == theme.file
    token, meets = (under, over) if own_lower_only else (over, under)
    changed, kept = tokens[token], tokens[meets]
    yield ContrastFinding(
        scheme=scheme,
        token=token,
        meets=meets,
        over=over,
        ratio=ratio,
        least=least,
        nearest=nearest_passing(changed.value, kept.value, least) or changed.value,
        where=changed.where,
    )


class _Sheets:
    """The style sheets of a look, each held to its rules where it is not shipped, and what is wrong with them."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self.problems: list[Problem] = []
        self._folders = folders
        self._own: list[Path] = []

    def shared(self, name: str) -> str:
        """Return a style sheet of the base; empty where no folder has it."""
        homes = (folder / BASE for folder in self._folders)
        return next((self._read(home, name) for home in homes if is_there(home / name)), "")

    def look(self, home: Path, *, needed: bool) -> str:
        """Return the style sheet of one look; empty where it may be missing and is."""
        return self._read(home, "style.css") if needed or is_there(home / "style.css") else ""

    def _read(self, home: Path, name: str) -> str:
        try:
            css = read_own_text(home, name, LARGEST_STYLE)
        except ThemeFault as fault:
            self.problems += fault.problems
            return ""
        if is_shipped(home):
            return css
        file = home / name
        self._own.append(file)
        self.problems += [_style_problem(file, found) for found in style_faults(css)]
        return css

    def check_whole(self, *sheets: str) -> None:
        """Look at whole sheets as they are published, once nothing is wrong with what they are made of.

        Raises:
            ThemeFault: One reads otherwise than what it is made of.
        """
        if not self._own:
            return
        found = next((found for sheet in sheets for found in published_faults(sheet)), None)
        if found is not None:
            message = f"without its comments and spaces this reads otherwise: {found.message}"
            raise ThemeFault(self._own[-1], message, hint=found.hint)


def _style_problem(file: Path, found: StyleFault) -> Problem:
    column = max(found.column, 1)
    where = Span(str(file), found.line, column, column + 1) if found.line else Span(str(file), 1, 1, 1)
    return error("theme-fault", found.message, where, *([found.hint] if found.hint else []))


def tight(css: str) -> str:
    """Return the style sheet without comments and needless space. Text in quotes must be font names only."""
    return _AROUND_MARKS.sub(r"\1", _SPACES.sub(" ", _COMMENT.sub(" ", css))).replace(";}", "}").strip()


def _chain(folders: Sequence[Path], name: str) -> tuple[list[ThemeFile], list[Problem]]:
    """Return the theme and those it builds on, in order, and what is wrong with what they say.

    One that extends its own name means the next so called.

    Raises:
        ThemeFault: The chain breaks off: one cannot be read at all, or builds on what is not there.
    """
    chain: list[ThemeFile] = []
    problems: list[Problem] = []
    said: Token | None = None
    wanted = name
    while True:
        seen = {Path(found.where.file) for found in chain}
        homes = (folder / wanted for folder in folders)
        files = (home / "theme.yaml" for home in homes)
        file = next((found for found in files if is_there(found) and found not in seen), None)
        if file is None or wanted == BASE:
            raise ThemeFault.all_of([*problems, _no_such(folders, wanted, said)])
        found = read_theme(read_own(file.parent, file.name, LARGEST_TEXT), str(file))
        problems += found.problems
        theme = found.theme
        if theme is None:
            raise ThemeFault.all_of(problems)
        problems += font_problems(theme)
        chain.append(theme)
        said = theme.extends
        if said is None:
            if theme.is_written("extends"):
                raise ThemeFault.all_of(problems)
            return chain, problems
        wanted = said.value


def _no_such(folders: Sequence[Path], name: str, said: Token | None) -> Problem:
    known = ", ".join(theme_names(folders)) or "none"
    if said is None:
        return error(
            "theme-fault", f'there is no theme called "{name}"; there is: {known}', Span(name, 1, 1, 1)
        )
    if name in theme_names(folders):
        return error("theme-fault", f'extends: "{name}" builds on this one in turn', said.where)
    return error("theme-fault", f'extends: there is no theme called "{name}"; there is: {known}', said.where)


def _values(tokens: Tokens) -> Mapping[str, str]:
    return {name: token.value for name, token in tokens.items()}


def _as_properties(tokens: ThemeFile, fonts: tuple[FontFile, ...]) -> str:
    kind = {
        name: with_stand_ins(token.value, fonts) if name in ("body", "names") else token.value
        for name, token in tokens.type.items()
    }
    measures = _properties({**kind, **_values(tokens.space)})
    return (
        f":root{{{_properties(_values(tokens.light))}{measures}}}"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{_properties(_values(tokens.dark))}}}}}"
    )


def _properties(values: Mapping[str, str]) -> str:
    return "".join(f"--{name.replace(' ', '-')}:{value};" for name, value in values.items())
