"""The keys of house.yaml."""

import re
from typing import Any

from menugen.measures import Fault, parse_cube, parse_number, parse_volume
from menugen.problems import Place
from menugen.reading.keys.inner import mapping_of, translations
from menugen.reading.keys.key import (
    Key,
    Problems,
    Schema,
    Table,
    Units,
    Value,
    problem_at,
    refused,
    refused_key,
)
from menugen.reading.keys.values import (
    CURRENCY,
    LANGUAGES,
    LONG_TEXT,
    REGION,
    SENTENCES,
    TEXT,
    THEME,
    YES_OR_NO,
    by_name,
    choice,
    kind_of,
    list_of,
    of_text,
)
from menugen.reading.yaml_text import Data
from menugen.records import House, HouseGlass, HouseWords

OUNCES = ("trade", "us", "imperial")
_OUNCES_MEANT = {
    "uk": "imperial",
    "british": "imperial",
    "usa": "us",
    "american": "us",
    "bar": "trade",
    "30 ml": "trade",
}
_DRIVE = re.compile(r"[A-Za-z]:")
_TALLEST_MM = 500.0
_MOST_ML = 20_000.0
_PROFILE_HINT = "write height and inner radius in mm from the bottom up: [[0, 5], [60, 45]]"

Profile = tuple[tuple[float, float], ...]


def _folder(text: str) -> str | Fault:
    if text.startswith(("/", "~")) or "\\" in text or _DRIVE.match(text):
        return Fault(
            "path-not-relative",
            f'"{text}" is not a path that starts from this folder',
            'write it with forward slashes from here: "specs" or "../specs"',
        )
    return text.rstrip("/") or "."


def _volume(value: Data, place: Place, units: Units) -> float | Problems:
    if not isinstance(value, str):
        return refused_key(
            place, "wrong-shape", f"must be a volume, not {kind_of(value)}", 'write it as "180 ml"'
        )
    volume_ml = parse_volume(value, ounce=units.ounce)
    if isinstance(volume_ml, Fault):
        return Problems([problem_at(place, volume_ml)])
    if volume_ml > _MOST_ML:
        return refused(place, "figure-out-of-range", f'"{value}" is no size of a glass', "check the figure")
    return volume_ml


def _profile(value: Data, place: Place, _units: Units) -> Profile | Problems:
    if not isinstance(value, list) or len(value) < 2:
        return refused(place, "glass-profile", "this is no list of heights and radii", _PROFILE_HINT)
    pairs: list[tuple[float, float]] = []
    for index, typed in enumerate(value):
        pair = _height_and_radius(typed)
        if isinstance(pair, str):
            return refused(place.at(index), "glass-profile", pair, _PROFILE_HINT)
        if pairs and pair[0] <= pairs[-1][0]:
            above = "this height is not above the one before"
            return refused(place.at(index), "glass-profile", above, _PROFILE_HINT)
        pairs.append(pair)
    if not any(radius > 0 for _, radius in pairs):
        return refused(place, "glass-profile", "this glass holds nothing", _PROFILE_HINT)
    return tuple(pairs)


def _height_and_radius(typed: Data) -> tuple[float, float] | str:
    """Return a height and a radius in mm, or what keeps them from being that."""
    figures = [figure for figure in typed if isinstance(figure, str)] if isinstance(typed, list) else []
    if len(figures) != len(typed) or len(figures) != 2:
        return "this is no height and radius"
    height, radius = (parse_number(figure) for figure in figures)
    if isinstance(height, Fault) or isinstance(radius, Fault) or max(height, radius) > _TALLEST_MM:
        return "this is no height and radius in mm"
    return height, radius


def _profile_schema() -> Schema:
    pair = {"type": "array", "items": {"type": ["number", "string"]}, "minItems": 2, "maxItems": 2}
    return {"type": "array", "items": pair, "minItems": 2}


def _volume_text(volume_ml: float) -> str:
    return f"{volume_ml:g} ml"


VOLUME = Value(_volume, lambda: {"type": "string"}, _volume_text)

# fmt: off
GLASS = Table(
    "Glass", "A glass of the house's own.", HouseGlass,
    (
        Key("brim", ("brim_ml",), VOLUME, "compared",
            "What it holds filled to the brim.", ("180 ml",), is_needed=True),
        Key("wash line", ("wash_line_ml",), VOLUME, "compared",
            "What it holds at the wash line.", ("160 ml",)),
        Key("profile", ("profile_mm",), Value(_profile, _profile_schema), "prose",
            "Height and inner radius in mm, from the bottom of the bowl to the rim.", ([[0, 5], [60, 45]],)),
    ),
    beside=("name", "place"), called="a glass",
)
# fmt: on


def _glass_of(fields: dict[str, Any], place: Place) -> HouseGlass | Problems:
    glass = HouseGlass(name=str(place.path[-1]), place=Place(place.file, place.path, "key"), **fields)
    if glass.wash_line_ml is not None and glass.wash_line_ml > glass.brim_ml:
        return refused(
            place.at("wash line"),
            "figure-out-of-range",
            "the wash line is above the brim",
            "the brim is the larger of the two",
        )
    return glass


_GLASS_OF_KEYS = mapping_of(GLASS, _glass_of)


def _glass(value: Data, place: Place, units: Units) -> HouseGlass | Problems:
    if isinstance(value, dict):
        return _GLASS_OF_KEYS.read(value, place, units)
    if isinstance(value, list):
        return refused_key(
            place,
            "wrong-shape",
            "must be a volume or keys and values, not a list",
            'write it as "coupe: 180 ml"',
        )
    brim_ml = _volume(value, place, units)
    return brim_ml if isinstance(brim_ml, Problems) else _glass_of({"brim_ml": brim_ml}, place)


def _glass_text(glass: HouseGlass) -> str:
    wash_line = f", wash line {_volume_text(glass.wash_line_ml)}" if glass.wash_line_ml else ""
    return f"{_volume_text(glass.brim_ml)}{wash_line}"


GLASSES = by_name(
    Value(
        _glass,
        lambda: {"anyOf": [{"type": "string", "examples": ["180 ml"]}, GLASS.schema()]},
        _glass_text,
        GLASS,
    ),
    "names and volumes",
    'write "glasses:" and below it "  coupe: 180 ml"',
)
CUBE = of_text(parse_cube, {"type": "string"}, lambda mass_g: f"{mass_g:g} g")
FOLDERS = list_of(of_text(_folder, {"type": "string"}), "folders")
OUNCE = of_text(choice("a kind of ounce", OUNCES, _OUNCES_MEANT), {"enum": list(OUNCES)})

# fmt: off
_RULES = Key(
    "rules", ("rules",), SENTENCES, "prose",
    "House rules for guests, a sentence each.", (["Ask for water."],), translated=["Demandez de l'eau."],
)
_NAMES = Key(
    "words", ("names",),
    by_name(TEXT, "names and what they are called", 'write "words:" and below it "  gin: gin"'), "prose",
    "Names of what is poured, of glasses and equipment, as they are written elsewhere.",
    ({"lemon juice": "jus de citron"},), reads_blank=True,
)
HOUSE = Table(
    "House", "The settings of a house.", House,
    (
        Key("name", ("name",), TEXT, "compared",
            "The bar's name, as guests read it.", ("The Lantern Cart",), is_needed=True),
        Key("region", ("region",), REGION, "compared",
            "ISO 3166 code events inherit.", ("GB-ENG",)),
        Key("currency", ("currency",), CURRENCY, "compared",
            "ISO 4217 code events inherit.", ("GBP",)),
        Key("languages", ("languages",), LANGUAGES, "compared",
            "BCP 47 tags events inherit.", (["en"],)),
        Key("ounce", ("ounce",), OUNCE, "compared",
            "Which ounce specs mean: 30 ml, the US or the imperial one.", ("trade",)),
        Key("theme", ("theme",), THEME, "prose",
            "The look events inherit.", ("slate",)),
        Key("contact", ("contact",), LONG_TEXT, "prose",
            "How guests can reach the bar.", ("hello@lantern.example",)),
        Key("cube", ("cube_g",), CUBE, "compared",
            "Its cubes of ice: the side of one, or what it weighs.", ("25 mm", "14 g")),
        Key("large cube", ("large_cube_g",), CUBE, "compared",
            "Its large cubes, one to a glass: the side of one, or what it weighs; of a sphere the weight.",
            ("50 mm", "110 g")),
        Key("specs", ("spec_folders",), FOLDERS, "prose",
            "Where specs lie.", ("specs",)),
        Key("stock", ("stock_folders",), FOLDERS, "prose",
            "Where stock lies.", ("stock",)),
        Key("events", ("event_folders",), FOLDERS, "prose",
            "Where events lie.", ("events",)),
        _RULES,
        Key("tax registered", ("tax_registered",), YES_OR_NO, "compared",
            "Whether the bar is registered for the tax on what it sells: VAT, GST, sales tax.", ("yes",)),
        Key("prices include tax", ("prices_include_tax",), YES_OR_NO, "compared",
            "Whether prices on menus are with that tax.", ("yes",)),
        Key("glasses", ("glasses",), GLASSES, "compared",
            "The house's own glasses.", ({"coupe": "180 ml"},)),
        translations("House", HouseWords, (_RULES,), {"fr": {"words": {"gin": "gin"}}}, _NAMES),
    ),
    beside=("specs", "stock", "events", "place"),
)
# fmt: on
