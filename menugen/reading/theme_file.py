"""A theme.yaml to what it says: the tokens of a look, each with where it is written.

Each table below is what both the check and the JSON Schema are made of. Every value is taken as the text that was
typed: a colour, a length and a share are told apart by their form alone.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from menugen.problems import Problem, Span, error, near
from menugen.reading.text import decode, span_of
from menugen.reading.yaml_nodes import Node, read_nodes

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

_ALL_COLOURS = {**COLOURS, **{name: said for name, (said, _) in BAND_COLOURS.items()}}
_TOP: Mapping[str, str] = {
    "title": "what people call the look",
    "about": "what it is like, in a sentence",
    "extends": "the look it builds on; left out, it says everything itself",
    "colours": "once for light and once for dark",
    "type": "families and sizes of letters",
    "space": "room between things and in lines",
    "fonts": "font files of its own, in this folder",
}
_FONT = ("family", "file", "weight", "licence", "stand in")

MOST_FONTS = 12
_MOST_PROBLEMS = 20
_LONGEST_QUOTE = 60


class _Form(NamedTuple):
    """How a value must look, and what to write instead of one that does not."""

    pattern: re.Pattern[str]
    advice: str
    example: str


_ONE_FAMILY = r"""("[A-Za-z0-9 -]+"|'[A-Za-z0-9 -]+'|-?[A-Za-z][A-Za-z0-9-]*( [A-Za-z][A-Za-z0-9-]*)*)"""
_COLOUR = _Form(re.compile(r"#[0-9a-fA-F]{6}"), 'a colour, in quotes: "#1a2b3c"', "#1a2b3c")
_LENGTH = _Form(re.compile(r"[0-9]{1,4}(\.[0-9]{1,4})?(rem|em|ch)?"), "a length: 1.25rem", "1.25rem")
_FAMILIES = _Form(
    re.compile(f"{_ONE_FAMILY}( *, *{_ONE_FAMILY})*"),
    'font families, one after the other; a name with a figure in quotes: "Source 3", serif',
    "Georgia, serif",
)
_FAMILY = _Form(re.compile(r"[A-Za-z][A-Za-z0-9 -]{0,40}"), "a name: Lawn", "Lawn")
_NAMES = _Form(
    re.compile(r"[A-Za-z][A-Za-z0-9 -]*(, ?[A-Za-z][A-Za-z0-9 -]*)*"),
    "what a font is called: Georgia",
    "Georgia",
)
_WEIGHT = _Form(re.compile(r"[1-9]00( [1-9]00)?"), 'a weight, or two: "400 700"', "400 700")
_SHARE = _Form(re.compile(r"([1-9][0-9]{1,2}(?:\.[0-9])?) ?%"), "a share: 85 %", "85 %")
_THEME = _Form(re.compile(r"[a-z0-9][a-z0-9-]*"), "the name of a look: slate", "slate")
_TYPE_FORMS = {name: _FAMILIES if name in ("body", "names") else _LENGTH for name in TYPE}
_TYPE_FORMS["leading"] = _LENGTH._replace(example="1.5")
_SPACE_FORMS = dict.fromkeys(SPACE, _LENGTH) | {"measure": _LENGTH._replace(example="34rem")}


class Token(NamedTuple):
    """A value and where it is written. One at fault is empty: that it is there is known, and nobody misses it."""

    value: str
    where: Span


Tokens = Mapping[str, Token]


class LookFont(NamedTuple):
    """A font as a look names it.

    Attributes:
        family: What the type tokens call it.
        file: The .otf or .ttf, by its name in the look's folder.
        licence: The same of its licence.
        weight: "400", or a range it is given out for: "400 900".
        stand_ins: Fonts shown until it has come, each with its names and how wide to set it, as a share in per cent.
    """

    family: str
    file: Token
    licence: Token
    weight: str
    stand_ins: tuple[tuple[tuple[str, ...], float], ...]


@dataclass(frozen=True, slots=True)
class ThemeFile:
    """What one theme.yaml says; it need not be all a look needs.

    Attributes:
        where: Its beginning, for what is wrong with the whole.
        extends: The theme it builds on; None for none.
        light: Colours by the names in COLOURS and BAND_COLOURS.
        dark: The same, for a dark room.
        type: By the names in TYPE.
        space: By the names in SPACE.
        fonts: Fonts of its own; None where nothing is said of them.
        no_keys: Which of the above, "type" or "colours, dark", are said and hold no keys, which is a problem already.
    """

    where: Span
    extends: Token | None
    light: Tokens
    dark: Tokens
    type: Tokens
    space: Tokens
    fonts: tuple[LookFont, ...] | None
    no_keys: frozenset[str]


class LookReading(NamedTuple):
    """What a theme.yaml says, and everything that is wrong with it; None where there is no telling what was meant."""

    look: ThemeFile | None
    problems: tuple[Problem, ...]


def read_theme(content: bytes, file: str) -> LookReading:
    """Read a theme.yaml.

    Args:
        content: It.
        file: Its name, for the problems.
    """
    decoded = decode(content, file)
    if decoded.problem is not None:
        return LookReading(None, (decoded.problem,))
    found = read_nodes(decoded.text, file)
    if found.top is None or found.entries is None:
        is_no_look = ("empty-file", "not-a-mapping")
        hint = f"a look is a list of keys: {', '.join(_TOP)}"
        return LookReading(
            None,
            tuple(replace(one, hints=(hint,)) if one.code in is_no_look else one for one in found.problems),
        )
    reader = _Reader(decoded.text, file, found.problems)
    look = reader.look(found.top)
    return LookReading(look, tuple(reader.problems[:_MOST_PROBLEMS]))


class _Reader:
    """Turns the nodes of one file into tokens; a class because all its parts add to one list of problems."""

    def __init__(self, text: str, file: str, problems: Iterable[Problem]) -> None:
        self.problems = list(problems)
        self._text = text
        self._file = file
        self._no_keys: set[str] = set()

    def look(self, top: Node) -> ThemeFile:
        said = self._mapping(top, "", _TOP)
        colours = self._mapping(said.get("colours"), "colours", SCHEMES)
        schemes = {
            scheme: self._tokens(
                colours.get(scheme), f"colours, {scheme}", dict.fromkeys(_ALL_COLOURS, _COLOUR)
            )
            for scheme in SCHEMES
        }
        return ThemeFile(
            where=Span(self._file, 1, 1, 1),
            extends=self._token(said["extends"], "extends", _THEME) if "extends" in said else None,
            light=_lowered(schemes["light"]),
            dark=_lowered(schemes["dark"]),
            type=self._tokens(said.get("type"), "type", _TYPE_FORMS),
            space=self._tokens(said.get("space"), "space", _SPACE_FORMS),
            fonts=self._fonts(said["fonts"]) if "fonts" in said else None,
            no_keys=frozenset(self._no_keys),
        )

    def _mapping(self, node: Node | None, what: str, names: Iterable[str]) -> dict[str, Node]:
        """Return what stands behind the known keys of a mapping; nothing where there is none."""
        if node is None or node.value == "":
            return {}
        known = list(names)
        if not isinstance(node.value, dict):
            self._add(node, f"{what}: this is a list of keys; it takes: {', '.join(known)}")
            self._no_keys |= {what, *(f"{what}, {name}" for name in known)}
            return {}
        for name, value in node.value.items():
            if name not in known and value.key is not None:
                said = f"{what}: there is no {quoted(name)}" if what else f"a theme has no key {quoted(name)}"
                close = near(name, known)
                self.problems.append(
                    error(
                        "theme-fault",
                        f"{said}; it {'takes' if what else 'has'}: {', '.join(known)}",
                        span_of(self._text, self._file, *value.key),
                        *([f'did you mean "{close[0]}"?'] if close else []),
                    )
                )
        return {name: value for name, value in node.value.items() if name in known}

    def _tokens(self, node: Node | None, what: str, forms: Mapping[str, _Form]) -> Tokens:
        return {
            name: self._token(value, f"{what}, {name}", forms[name])
            for name, value in self._mapping(node, what, forms).items()
        }

    def _token(self, node: Node, what: str, form: _Form) -> Token:
        return Token(self._checked(node, node.value, what, form), self._where(node))

    def _checked(self, node: Node, value: object, what: str, form: _Form) -> str:
        """Return a text that has its form; the empty text for one that has not, which is a problem."""
        text = value if isinstance(value, str) else "a list"
        if isinstance(value, str) and form.pattern.fullmatch(text):
            return text
        self._add(node, f"{what}: {quoted(text)} cannot be; write {form.advice}")
        return ""

    def _fonts(self, node: Node) -> tuple[LookFont, ...]:
        if not isinstance(node.value, list):
            self._add(node, f"fonts: this is a list; each font takes: {', '.join(_FONT)}")
            return ()
        if len(node.value) > MOST_FONTS:
            self._add(node, f"fonts: a look has {MOST_FONTS} at most")
            return ()
        return tuple(font for item in node.value if (font := self._font(item)) is not None)

    def _font(self, node: Node) -> LookFont | None:
        said = self._mapping(node, "fonts", _FONT)
        missing = [name for name in ("family", "file", "licence") if name not in said]
        for name in missing:
            self._add(node, f'fonts: "{name}" is missing')
        weight = self._token(said["weight"], "fonts, weight", _WEIGHT).value if "weight" in said else "400"
        family = self._token(said["family"], "fonts, family", _FAMILY).value if "family" in said else ""
        stand_ins = self._stand_ins(said["stand in"]) if "stand in" in said else ()
        if missing:
            return None
        return LookFont(family, self._name(said["file"]), self._name(said["licence"]), weight, stand_ins)

    def _name(self, node: Node) -> Token:
        return Token(node.value if isinstance(node.value, str) else "", self._where(node))

    def _stand_ins(self, node: Node) -> tuple[tuple[tuple[str, ...], float], ...]:
        if not isinstance(node.value, dict):
            self._add(node, "fonts, stand in: this is font names, each with a width: Georgia: 85 %")
            return ()
        found = []
        for name, value in node.value.items():
            names = self._checked(value, name, "fonts, stand in", _NAMES)
            share = self._checked(value, value.value, f"fonts, stand in, {quoted(name)[1:-1]}", _SHARE)
            if names and share:
                found.append((tuple(one.strip() for one in names.split(",")), float(share.rstrip(" %"))))
        return tuple(found)

    def _add(self, node: Node, message: str) -> None:
        self.problems.append(error("theme-fault", message, self._where(node)))

    def _where(self, node: Node) -> Span:
        return span_of(self._text, self._file, node.start, node.end)


def _lowered(tokens: Tokens) -> Tokens:
    return {name: Token(token.value.lower(), token.where) for name, token in tokens.items()}


def quoted(text: str) -> str:
    """Return a text in quotes, for a message; of a long one its beginning, and on one line."""
    plain = " ".join(text.split())
    return f'"{plain}"' if len(plain) <= _LONGEST_QUOTE else f'"{plain[:_LONGEST_QUOTE]}…"'


def theme_schema() -> dict[str, object]:
    """Return the JSON Schema of theme.yaml, draft 2020-12, for editors that check it as it is typed."""
    colours = {name: _scalar(_COLOUR, said, "string") for name, said in _ALL_COLOURS.items()}
    text: dict[str, object] = {"type": "string"}
    font = {
        "family": _scalar(_FAMILY, "the name the type tokens call it by"),
        "file": {**text, "description": "an .otf or .ttf in this folder", "examples": ["fonts/lawn.otf"]},
        "weight": _scalar(_WEIGHT, "one weight, or the range it is given out for"),
        "licence": {**text, "description": "its licence, in this folder", "examples": ["fonts/LICENCE.txt"]},
        "stand in": {
            "type": "object",
            "description": "fonts shown until it has come, and how wide to set them",
            "additionalProperties": _scalar(_SHARE, "its words' width over theirs"),
            "examples": [{"Georgia": "85 %"}],
        },
    }
    values: dict[str, dict[str, object]] = {
        "title": {**text, "examples": ["Harvest"]},
        "about": {**text, "examples": ["Straw, rust and lamplight."]},
        "extends": _scalar(_THEME, "", "string"),
        "colours": _object(
            {
                name: {**_object(colours), "description": "a colour for each of the names below"}
                for name in SCHEMES
            }
        ),
        "type": _object({name: _scalar(_TYPE_FORMS[name], said) for name, said in TYPE.items()}),
        "space": _object({name: _scalar(_SPACE_FORMS[name], said) for name, said in SPACE.items()}),
        "fonts": {"type": "array", "items": _object(font, required=("family", "file", "licence"))},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Theme",
        "description": "A look: its tokens. One that extends another says only what changes.",
        **_object({name: {**values[name], "description": said} for name, said in _TOP.items()}),
    }


def _object(properties: Mapping[str, object], *, required: tuple[str, ...] = ()) -> dict[str, object]:
    found: dict[str, object] = {
        "type": "object",
        "additionalProperties": False,
        "properties": dict(properties),
    }
    return {**found, "required": list(required)} if required else found


def _scalar(form: _Form, said: str, *kinds: str) -> dict[str, object]:
    # YAML reads 1.5 and 400 as numbers, so an editor's check must let them pass.
    return {
        "type": list(kinds) or ["string", "number"],
        "pattern": f"^{form.pattern.pattern}$",
        "description": said,
        "examples": [form.example],
    }
