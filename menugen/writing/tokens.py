"""The tokens of a look: what `theme.yaml` may say, read with the place of every value.

Each table below is what both the check and the JSON Schema are made of. Every value is taken as the text that was
typed: a colour, a length and a share are told apart by their form alone.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

import yaml

from menugen.problems import near
from menugen.writing.fonts import FontFile, StandIn
from menugen.writing.look_files import LARGEST_FONT, LARGEST_TEXT, is_there, own_file
from menugen.writing.theme_fault import ThemeFault, TokenPlace, quoted, raise_all

COLOURS: Mapping[str, str] = {
    "ground": "the page",
    "text": "words",
    "strong": "names and the contains line: the highest contrast of all",
    "quiet": "what is read second",
    "link": "links",
    "rule": "lines and ornaments, and words only where they are large",
    "focus": "the ring round what the keyboard is on",
    "control": "edges of boxes to tick",
}
"""What a look gives a colour to, once for light and once for dark."""

BAND_COLOURS: Mapping[str, tuple[str, str]] = {
    "band": ("a strip under words; where nothing is said, the ground", "ground"),
    "on band": ("words on that strip; where nothing is said, the strong colour", "strong"),
}
"""Colours that may be left out, with the one that stands in."""

TYPE: Mapping[str, str] = {
    "body": "font families for running words, best first",
    "names": "font families for names and headings, best first",
    "size": "of running words on a phone",
    "size wide": "of running words where there is room",
    "leading": "height of a line, as a multiple of the size",
}
SPACE: Mapping[str, str] = {
    "step": "the room between things",
    "measure": "how long a line may grow",
}
SCHEMES = ("light", "dark")

_TOP = ("title", "about", "extends", "colours", "type", "space", "fonts")
_FONT = ("family", "file", "weight", "licence", "stand in")

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_LENGTH = re.compile(r"[0-9]{1,4}(\.[0-9]{1,4})?(rem|em|ch)?")
_ONE_FAMILY = r"""("[A-Za-z0-9 -]+"|'[A-Za-z0-9 -]+'|-?[A-Za-z][A-Za-z0-9-]*( [A-Za-z][A-Za-z0-9-]*)*)"""
_FAMILIES = re.compile(f"{_ONE_FAMILY}( *, *{_ONE_FAMILY})*")
_FAMILY = re.compile(r"[A-Za-z][A-Za-z0-9 -]{0,40}")
_NAMES = re.compile(r"[A-Za-z][A-Za-z0-9 -]*(, ?[A-Za-z][A-Za-z0-9 -]*)*")
_WEIGHT = re.compile(r"[1-9]00( [1-9]00)?")
_SHARE = re.compile(r"([1-9][0-9]{1,2}(?:\.[0-9])?) ?%")
_THEME = re.compile(r"[a-z0-9][a-z0-9-]*")

MOST_FONTS = 12
_MOST_FAULTS = 20

_Read = TypeVar("_Read")

DEEPEST = 20
MOST_VALUES = 100_000
"""What every other YAML file of a house may hold."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Token(NamedTuple):
    """A value and where it is written."""

    value: str
    place: TokenPlace


Tokens = Mapping[str, Token]


@dataclass(frozen=True, slots=True)
class ThemeFile:
    """What one `theme.yaml` says.

    Attributes:
        file: It.
        extends: The theme it builds on; None for none.
        light: Colours by the names in COLOURS and BAND_COLOURS.
        dark: The same, for a dark room.
        type: By the names in TYPE.
        space: By the names in SPACE.
        fonts: Fonts of its own; None where nothing is said of them.
    """

    file: Path
    extends: Token | None
    light: Tokens
    dark: Tokens
    type: Tokens
    space: Tokens
    fonts: tuple[FontFile, ...] | None


def read_theme_file(file: Path, text: str) -> ThemeFile:
    """Return what a theme.yaml says, each value checked for its form; it need not be all a look needs.

    Raises:
        ThemeFault: It is no YAML, or says something a look has no word for; all that is wrong with it at once.
    """
    reader = _Reader(file)
    top = reader.top(text)
    known = {**COLOURS, **BAND_COLOURS}
    extends = top.get("extends")
    try:
        colours = reader.mapping(top.get("colours"), "colours", SCHEMES)
        found = ThemeFile(
            file=file,
            extends=reader.token(extends, "extends", _THEME, "the name of a look: slate")
            if extends
            else None,
            light=reader.colours(colours.get("light"), "colours, light", known),
            dark=reader.colours(colours.get("dark"), "colours, dark", known),
            type=reader.measures(top.get("type"), "type", TYPE),
            space=reader.measures(top.get("space"), "space", SPACE),
            fonts=reader.fonts(top["fonts"]) if "fonts" in top else None,
        )
    except ThemeFault as fault:
        raise_all([*reader.faults, fault])
        raise
    raise_all(reader.faults)
    return found


def laid_over(own: ThemeFile, base: ThemeFile) -> ThemeFile:
    """Return a look with what `own` says, and what `base` says where `own` is silent."""
    return replace(
        own,
        extends=base.extends,
        light={**base.light, **own.light},
        dark={**base.dark, **own.dark},
        type={**base.type, **own.type},
        space={**base.space, **own.space},
        fonts=base.fonts if own.fonts is None else own.fonts,
    )


def completed(theme: ThemeFile) -> ThemeFile:
    """Return a look with a value for every token.

    Raises:
        ThemeFault: One that has no stand-in is missing; all that are, at once.
    """
    faults = []
    for tokens, needed, what in (
        (theme.light, COLOURS, "colours, light"),
        (theme.dark, COLOURS, "colours, dark"),
        (theme.type, TYPE, "type"),
        (theme.space, SPACE, "space"),
    ):
        if not tokens:
            faults.append(
                ThemeFault(theme.file, f"{what}: nothing is said here; it takes: {', '.join(needed)}")
            )
            continue
        faults += [
            ThemeFault(theme.file, f'{what}: "{name}" is missing') for name in needed if name not in tokens
        ]
    raise_all(faults)
    return replace(theme, light=_with_band(theme.light), dark=_with_band(theme.dark))


def _with_band(tokens: Tokens) -> Tokens:
    return {**{name: tokens[other] for name, (_, other) in BAND_COLOURS.items()}, **tokens}


class _Reader:
    """Turns the nodes of one file into tokens; a class because every fault names the file."""

    def __init__(self, file: Path) -> None:
        self.faults: list[ThemeFault] = []
        self._file = file

    def top(self, text: str) -> dict[str, Any]:
        try:
            self._refuse_what_is_too_much(text)
            node = yaml.compose(text, Loader=_LOADER)
        except yaml.MarkedYAMLError as fault:
            mark = fault.problem_mark
            place = TokenPlace(self._file, mark.line + 1, mark.column + 1, mark.column + 2) if mark else None
            raise ThemeFault(self._file, f"this is not YAML: {fault.problem}", place) from None
        except (yaml.YAMLError, ValueError):
            raise ThemeFault(self._file, "this is not YAML") from None
        if not isinstance(node, yaml.MappingNode):
            raise ThemeFault(self._file, f"a theme is a list of keys: {', '.join(_TOP)}")
        return self.mapping(node, "", _TOP)

    def _refuse_what_is_too_much(self, text: str) -> None:
        """Look at a text before anything is made of it: what is nested without end cannot even be thrown away."""
        deep = values = 0
        for event in yaml.parse(text, Loader=_LOADER):
            if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None) is not None:
                raise self.fault(
                    event, "values cannot refer to each other here", "write the value out at each place"
                )
            if getattr(event, "tag", None) is not None:
                raise self.fault(event, "this is a type tag", "take it out; every value is read as text")
            deep += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            values += isinstance(event, yaml.NodeEvent)
            if deep > DEEPEST:
                raise self.fault(event, f"this is nested more than {DEEPEST} levels deep")
            if values > MOST_VALUES:
                raise self.fault(event, f"this file holds more than {MOST_VALUES} values")

    def mapping(self, node: Any, what: str, names: tuple[str, ...] | Mapping[str, object]) -> dict[str, Any]:
        """Return the nodes of a mapping by key; empty where there is none."""
        if node is None or (isinstance(node, yaml.ScalarNode) and node.value in ("", "~", "null")):
            return {}
        if not isinstance(node, yaml.MappingNode):
            raise self.fault(node, f"{what}: this is a list of keys; it takes: {', '.join(names)}")
        found: dict[str, Any] = {}
        for key, value in node.value:
            name = key.value if isinstance(key, yaml.ScalarNode) else ""
            if name not in names:
                said = f"{what}: there is no {quoted(name)}" if what else f"a theme has no key {quoted(name)}"
                close = near(name, list(names))
                hint = f'did you mean "{close[0]}"?' if close else ""
                self._add(key, f"{said}; it {'takes' if what else 'has'}: {', '.join(names)}", hint)
            elif name in found:
                self._add(key, f'"{name}" is said twice', "keep one of the two")
            else:
                found[name] = value
        return found

    def _add(self, node: Any, message: str, hint: str = "") -> None:
        """Remember a fault and go on: the rest is looked at too."""
        if len(self.faults) < _MOST_FAULTS:
            self.faults.append(self.fault(node, message, hint))

    def colours(self, node: Any, what: str, names: Mapping[str, object]) -> Tokens:
        advice = 'a colour, in quotes: "#1a2b3c"'
        said = self.mapping(node, what, names)
        tokens = {
            name: found
            for name, value in said.items()
            for found in self._each(self.token, value, f"{what}, {name}", _COLOUR, advice)
        }
        return {name: Token(token.value.lower(), token.place) for name, token in tokens.items()}

    def measures(self, node: Any, what: str, names: Mapping[str, object]) -> Tokens:
        tokens = {}
        for name, value in self.mapping(node, what, names).items():
            families = name in ("body", "names")
            advice = (
                'font families, one after the other; a name with a figure in quotes: "Source 3", serif'
                if families
                else "a length: 1.25rem"
            )
            form = _FAMILIES if families else _LENGTH
            for found in self._each(self.token, value, f"{what}, {name}", form, advice):
                tokens[name] = found
        return tokens

    def fonts(self, node: Any) -> tuple[FontFile, ...]:
        if not isinstance(node, yaml.SequenceNode):
            raise self.fault(node, f"fonts: this is a list; each font takes: {', '.join(_FONT)}")
        if len(node.value) > MOST_FONTS:
            raise self.fault(node, f"fonts: a look has {MOST_FONTS} at most")
        return tuple(font for item in node.value for font in self._each(self._font, item))

    def _each(self, read: Callable[..., _Read], *args: Any) -> tuple[_Read, ...]:
        """Return what is read, alone; nothing where it is at fault, which is remembered."""
        try:
            return (read(*args),)
        except ThemeFault as fault:
            if len(self.faults) < _MOST_FAULTS:
                self.faults.append(fault)
            return ()

    def _font(self, node: Any) -> FontFile:
        said = self.mapping(node, "fonts", _FONT)
        for name in ("family", "file", "licence"):
            if name not in said:
                raise self.fault(node, f'fonts: "{name}" is missing')
        family = self.token(said["family"], "fonts, family", _FAMILY, "a name: Lawn").value
        weight = "400"
        if "weight" in said:
            weight = self.token(said["weight"], "fonts, weight", _WEIGHT, 'a weight, or two: "400 700"').value
        self._own_file(said["licence"], "licence", LARGEST_TEXT)
        return FontFile(
            family=family,
            file=self._own_file(said["file"], "file", LARGEST_FONT),
            weight=weight,
            stand_ins=self._stand_ins(said.get("stand in")),
        )

    def _own_file(self, node: Any, what: str, largest: int) -> Path:
        name = node.value if isinstance(node, yaml.ScalarNode) else ""
        try:
            return own_file(self._file.parent, name, largest)
        except ThemeFault as fault:
            if name and is_there(fault.file) and "lies outside" not in fault.message:
                raise
            said = f"fonts, {what}: there is no {quoted(name)} in this theme's folder"
            raise self.fault(node, said) from None

    def _stand_ins(self, node: Any) -> tuple[StandIn, ...]:
        if node is None:
            return ()
        if not isinstance(node, yaml.MappingNode):
            raise self.fault(node, "fonts, stand in: this is font names, each with a width: Georgia: 85 %")
        found = []
        for key, value in node.value:
            names = self.token(key, "fonts, stand in", _NAMES, "what a font is called: Georgia").value
            share = self.token(value, f"fonts, stand in, {names}", _SHARE, "a share: 85 %").value
            found.append(StandIn(tuple(name.strip() for name in names.split(",")), float(share.rstrip(" %"))))
        return tuple(found)

    def token(self, node: Any, what: str, form: re.Pattern[str], advice: str) -> Token:
        value = node.value if isinstance(node, yaml.ScalarNode) else "a list"
        if not form.fullmatch(value):
            raise self.fault(node, f"{what}: {quoted(value)} cannot be; write {advice}")
        return Token(value, self._place(node))

    def fault(self, node: Any, message: str, hint: str = "") -> ThemeFault:
        return ThemeFault(self._file, message, self._place(node), hint)

    def _place(self, node: Any) -> TokenPlace:
        start, end = node.start_mark, node.end_mark
        last = end.column if end.line == start.line else start.column + 1
        return TokenPlace(self._file, start.line + 1, start.column + 1, last + 1)


def theme_schema() -> dict[str, object]:
    """Return the JSON Schema of theme.yaml, draft 2020-12, for editors that check it as it is typed."""
    colours = {
        name: {"type": "string", "pattern": f"^{_COLOUR.pattern}$", "description": said}
        for name, said in {**COLOURS, **{name: said for name, (said, _) in BAND_COLOURS.items()}}.items()
    }
    scheme = _object(colours)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Theme",
        "description": "A look: its tokens. One that extends another says only what changes.",
        **_object(
            {
                "title": {"type": "string"},
                "about": {"type": "string"},
                "extends": {"type": "string", "pattern": f"^{_THEME.pattern}$"},
                "colours": _object(dict.fromkeys(SCHEMES, scheme)),
                "type": _object(
                    {
                        name: _scalar(_FAMILIES if name in ("body", "names") else _LENGTH, said)
                        for name, said in TYPE.items()
                    }
                ),
                "space": _object({name: _scalar(_LENGTH, said) for name, said in SPACE.items()}),
                "fonts": {
                    "type": "array",
                    "items": _object(
                        {
                            "family": _scalar(_FAMILY, "the name the type tokens call it by"),
                            "file": {"type": "string", "description": "an .otf or .ttf in this folder"},
                            "weight": _scalar(_WEIGHT, "one weight, or the range it is given out for"),
                            "licence": {"type": "string", "description": "its licence, in this folder"},
                            "stand in": {
                                "type": "object",
                                "description": "fonts shown until it has come, and how wide to set them",
                                "additionalProperties": _scalar(_SHARE, "its words' width over theirs"),
                            },
                        },
                        required=("family", "file", "licence"),
                    ),
                },
            }
        ),
    }


def _object(properties: Mapping[str, object], *, required: tuple[str, ...] = ()) -> dict[str, object]:
    found: dict[str, object] = {
        "type": "object",
        "additionalProperties": False,
        "properties": dict(properties),
    }
    return {**found, "required": list(required)} if required else found


def _scalar(form: re.Pattern[str], said: str) -> dict[str, object]:
    # YAML reads 1.5 and 400 as numbers, so an editor's check must let them pass.
    return {"type": ["string", "number"], "pattern": f"^{form.pattern}$", "description": said}
