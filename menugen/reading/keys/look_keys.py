"""The keys of a look's theme.yaml; its tokens are told apart by their form alone."""

import re
from collections.abc import Mapping
from typing import Any

from menugen.problems import Place
from menugen.reading.keys.inner import mapping_of
from menugen.reading.keys.key import Key, Problems, Table, Units, Value, listed, refused, refused_key
from menugen.reading.keys.values import by_name, kind_of, list_of
from menugen.reading.yaml_text import Data
from menugen.records import Look, LookFont

STANDS_IN: Mapping[str, str] = {"band": "ground", "on band": "strong"}
"""Colours that may be left out, each with the one that stands in."""

MOST_FONTS = 12
_LONGEST_QUOTE = 60
_ONE_FAMILY = r"""("[A-Za-z0-9 -]+"|'[A-Za-z0-9 -]+'|-?[A-Za-z][A-Za-z0-9-]*( [A-Za-z][A-Za-z0-9-]*)*)"""


def quoted(text: str) -> str:
    """Return a text in quotes, for a message; of a long one its beginning, and on one line."""
    plain = " ".join(text.split())
    return f'"{plain}"' if len(plain) <= _LONGEST_QUOTE else f'"{plain[:_LONGEST_QUOTE]}…"'


def _of_form(pattern: str, what: str, hint: str, *, or_number: bool = False) -> Value[str]:
    """Return the kind of value that is one text of a form.

    Args:
        pattern: The form.
        what: What has it, for the message: "a colour".
        hint: What to write.
        or_number: Whether YAML takes some for numbers, 1.5 and 400, so that an editor must let them pass.
    """
    form = re.compile(pattern)

    def read(value: Data, place: Place, _units: Units) -> str | Problems:
        if not isinstance(value, str):
            return refused_key(place, "wrong-shape", f"must be {what}, not {kind_of(value)}", hint)
        if not value:
            return refused_key(place, "empty-value", "has no value", hint)
        if not form.fullmatch(value):
            return refused(place, "theme-fault", f"{quoted(value)} is not {what}", hint)
        return value

    kinds = ["string", "number"] if or_number else "string"
    return Value(read, lambda: {"type": kinds, "pattern": f"^({pattern})$"})


def _any_text(value: Data, place: Place, _units: Units) -> str | Problems:
    if isinstance(value, str):
        return value
    return refused_key(place, "wrong-shape", f"must be one text, not {kind_of(value)}")


def _colour(value: Data, place: Place, units: Units) -> str | Problems:
    colour = _ANY_COLOUR.read(value, place, units)
    return colour if isinstance(colour, Problems) else colour.lower()


def _stand_ins(
    value: Data, place: Place, units: Units
) -> tuple[tuple[tuple[str, ...], float], ...] | Problems:
    shares = _SHARES.read(value, place, units)
    problems = Problems(shares if isinstance(shares, Problems) else ())
    for names in value if isinstance(value, dict) else ():
        if isinstance(wrong := _NAMES.read(names, place.at(names, on="key"), units), Problems):
            problems += wrong
    if problems or isinstance(shares, Problems):
        return problems
    return tuple(
        (tuple(one.strip() for one in names.split(",")), float(share.rstrip(" %")))
        for names, share in shares.items()
    )


def _fonts(value: Data, place: Place, units: Units) -> tuple[LookFont, ...] | Problems:
    if isinstance(value, list) and len(value) > MOST_FONTS:
        return refused_key(place, "figure-out-of-range", f"has more than {MOST_FONTS}", "leave some out")
    return _ANY_FONTS.read(value, place, units)


def _font_text(font: LookFont) -> str:
    stand_ins = f" ({_STAND_INS.text(font.stand_ins)})" if font.stand_ins else ""
    return f"{font.family} {font.weight} from {font.file}{stand_ins}"


_ANY_COLOUR = _of_form("#[0-9a-fA-F]{6}", "a colour", 'write it in quotes: "#1a2b3c"')
_COLOUR = Value(_colour, _ANY_COLOUR.schema)
_LENGTH = _of_form(
    r"[0-9]{1,4}(\.[0-9]{1,4})?(rem|em|ch)?", "a length", "write it as 1.25rem", or_number=True
)
_FAMILIES = _of_form(
    f"{_ONE_FAMILY}( *, *{_ONE_FAMILY})*",
    "a row of font families",
    'write one after the other, a name with a figure in quotes: "Source 3", serif',
)
_FAMILY = _of_form("[A-Za-z][A-Za-z0-9 -]{0,40}", "the name of a font", "write it as Lawn")
_NAMES = _of_form(
    "[A-Za-z][A-Za-z0-9 -]*(, ?[A-Za-z][A-Za-z0-9 -]*)*", "what a font is called", "write it as Georgia"
)
_WEIGHT = _of_form("[1-9]00( [1-9]00)?", "a weight", 'write one, or two: "400 700"', or_number=True)
_SHARES = by_name(
    _of_form(r"([1-9][0-9]{1,2}(\.[0-9])?) ?%", "a share", "write it as 85 %"),
    "names of fonts, each with a width",
    'write "stand in:" and below it "  Georgia: 85 %"',
)
_STAND_INS = Value(
    _stand_ins,
    _SHARES.schema,
    lambda stand_ins: listed(f"{', '.join(names)} {percent:g} %" for names, percent in stand_ins),
)
_LOOK = _of_form("[a-z0-9][a-z0-9-]*", "the name of a look", "a look is named after its folder: slate")
_TEXT = Value(_any_text, lambda: {"type": "string"})


def _token(name: str, value: Value[str], said: str, example: str, *meant: str) -> Key:
    return Key(name, (name,), value, "compared", said, (example,), reads_blank=True, meant=meant)


def _tokens(*keys: Key, title: str, called: str, said: str) -> Value[dict[str, Any]]:
    """Return the kind of value that is a mapping of tokens, which stay as they are."""
    return mapping_of(Table(title, said, None, keys, called=called), lambda tokens, _place: tokens)


# fmt: off
_SCHEME = _tokens(
    _token("ground", _COLOUR, "The page.", "#fffdf8", "background", "paper", "page"),
    _token("text", _COLOUR, "Words.", "#2a2622", "ink", "words"),
    _token("strong", _COLOUR, "Names and the contains line: the highest contrast of all.", "#0d0b09"),
    _token("quiet", _COLOUR, "What is read second.", "#5a544c"),
    _token("link", _COLOUR, "Links.", "#2a2622"),
    _token("rule", _COLOUR, "Lines and ornaments, and words only where they are large.", "#7a746c", "line"),
    _token("focus", _COLOUR, "The ring round what the keyboard is on.", "#0c5a3a"),
    _token("control", _COLOUR, "Edges of boxes to tick.", "#5c7b69"),
    _token("band", _COLOUR, "A strip under words; where nothing is said, the ground.", "#e9a23b"),
    _token("on band", _COLOUR, "Words on that strip; where nothing is said, the strong colour.", "#0d0b09"),
    title="Colours", called="the colours", said="Colours by name.",
)
_COLOURS = _tokens(
    Key("light", ("light",), _SCHEME, "compared",
        "A colour for each of these names.", ({"ground": "#fffdf8"},)),
    Key("dark", ("dark",), _SCHEME, "compared",
        "A colour for each of these names.", ({"ground": "#101820"},)),
    title="Light and dark", called="light and dark", said="Once for light and once for dark.",
)
_TYPE = _tokens(
    _token("body", _FAMILIES, "Font families for running words, best first.", "Georgia, serif"),
    _token("names", _FAMILIES, "Font families for names and headings, best first.", "Georgia, serif", "headings"),
    _token("size", _LENGTH, "Of running words on a phone.", "1.25rem"),
    _token("size wide", _LENGTH, "Of running words where there is room.", "1.3rem"),
    _token("leading", _LENGTH, "Height of a line, as a multiple of the size.", "1.5", "line height"),
    title="Type", called="the type", said="Families and sizes of letters.",
)
_SPACE = _tokens(
    _token("step", _LENGTH, "The room between things.", "1rem"),
    _token("measure", _LENGTH, "How long a line may grow.", "34rem", "width"),
    title="Space", called="the space", said="Room between things and in lines.",
)
FONT = Table(
    "Font", "A font file of the look's own.", LookFont,
    (
        Key("family", ("family",), _FAMILY, "compared",
            "The name the type tokens call it by.", ("Lawn",), is_needed=True, reads_blank=True),
        Key("file", ("file",), _TEXT, "compared",
            "An .otf or .ttf in this folder.", ("fonts/lawn.otf",), is_needed=True, reads_blank=True),
        Key("weight", ("weight",), _WEIGHT, "compared",
            "One weight, or the range it is given out for.", ("400 700",), reads_blank=True),
        Key("licence", ("licence",), _TEXT, "compared",
            "Its licence, in this folder.", ("fonts/LICENCE.txt",), is_needed=True, reads_blank=True),
        Key("stand in", ("stand_ins",), _STAND_INS, "compared",
            "Fonts shown until it has come, and how wide to set them: its words' width over theirs.",
            ({"Georgia": "85 %"},)),
    ),
    called="a font",
)
_ANY_FONTS = list_of(mapping_of(FONT, lambda fields, _place: LookFont(**fields)), "fonts", one_has_key="file")
LOOK = Table(
    "Theme", "A look: its tokens. One that extends another says only what changes.", Look,
    (
        Key("title", ("title",), _TEXT, "prose",
            "What people call the look.", ("Harvest",)),
        Key("about", ("about",), _TEXT, "prose",
            "What it is like, in a sentence.", ("Straw, rust and lamplight.",), meant=("description",)),
        Key("extends", ("extends",), _LOOK, "compared",
            "The look it builds on; left out, it says everything itself.", ("slate",), reads_blank=True),
        Key("colours", ("colours",), _COLOURS, "compared",
            "Once for light and once for dark.", ({"light": {"ground": "#fffdf8"}},)),
        Key("type", ("type",), _TYPE, "compared",
            "Families and sizes of letters.", ({"size": "1.25rem"},)),
        Key("space", ("space",), _SPACE, "compared",
            "Room between things and in lines.", ({"step": "1rem"},)),
        Key("fonts", ("fonts",), Value(_fonts, _ANY_FONTS.schema,
            lambda fonts: listed(_font_text(font) for font in fonts or ()), FONT), "compared",
            "Font files of its own, in this folder.",
            ([{"family": "Lawn", "file": "fonts/lawn.otf", "licence": "fonts/LICENCE.txt"}],)),
    ),
)
# fmt: on
