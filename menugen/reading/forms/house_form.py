"""The house's settings."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
)

from menugen.measures import Fault, parse_cube, parse_number, parse_volume
from menugen.problems import did_you_mean
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.forms.translation_form import HouseTranslations, HouseWordsForm, as_many_rules
from menugen.reading.forms.values import (
    Currency,
    Languages,
    LongText,
    Region,
    Sentences,
    Text,
    Theme,
    YesOrNo,
    as_list,
    checked,
    choice,
    kind_of,
)

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
_GLASS_KEYS = ("brim", "wash line", "profile")
_TALLEST_MM = 500.0
_MOST_ML = 20_000.0


@dataclass(frozen=True, slots=True)
class WrittenGlass:
    """A glass of the house, as written.

    Attributes:
        brim: Volume as typed and found sound; what an ounce of it comes to is known once the whole file is read.
        wash_line: The same; empty where nothing is said.
        profile_mm: As in records.HouseGlass.
    """

    brim: str
    wash_line: str
    profile_mm: tuple[tuple[float, float], ...]


def _folder(text: str) -> str | Fault:
    if text.startswith(("/", "~")) or "\\" in text or _DRIVE.match(text):
        return Fault(
            "path-not-relative",
            f'"{text}" is not a path that starts from this folder',
            'write it with forward slashes from here: "specs" or "../specs"',
        )
    return text.rstrip("/") or "."


def _glass(value: Any) -> WrittenGlass:
    if isinstance(value, str):
        _volume(value, ())
        return WrittenGlass(value, "", ())
    if not isinstance(value, dict):
        raise wrong_shape(
            f"must be a volume or keys and values, not {kind_of(value)}", 'write it as "coupe: 180 ml"'
        )
    for key in value:
        if key not in _GLASS_KEYS:
            hint = (did_you_mean(key, _GLASS_KEYS) or (f"the keys of a glass are {', '.join(_GLASS_KEYS)}",))[
                0
            ]
            raise refused(
                Fault("unknown-key", f'"{key}" is not a key of a glass', hint), inside=(key,), on="key"
            )
    if not value.get("brim"):
        raise refused(
            Fault("missing-key", '"brim" is missing', 'add a line such as "brim: 180 ml"'), on="key"
        )
    brim_ml = _volume(value["brim"], ("brim",))
    wash_line_ml = _volume(value["wash line"], ("wash line",)) if value.get("wash line") else None
    if wash_line_ml is not None and wash_line_ml > brim_ml:
        raise refused(
            Fault(
                "figure-out-of-range", "the wash line is above the brim", "the brim is the larger of the two"
            ),
            inside=("wash line",),
        )
    profile_mm = _profile(value["profile"]) if value.get("profile") else ()
    return WrittenGlass(value["brim"], value.get("wash line") or "", profile_mm)


def _volume(value: Any, inside: tuple[str, ...]) -> float:
    if not isinstance(value, str):
        raise wrong_shape(f"must be a volume, not {kind_of(value)}", 'write it as "180 ml"', inside=inside)
    volume_ml = parse_volume(value)
    if isinstance(volume_ml, Fault):
        raise refused(volume_ml, inside=inside)
    if volume_ml > _MOST_ML:
        raise refused(
            Fault("figure-out-of-range", f'"{value}" is no size of a glass', "check the figure"),
            inside=inside,
        )
    return volume_ml


def _profile(value: Any) -> tuple[tuple[float, float], ...]:
    hint = "write height and inner radius in mm from the bottom up: [[0, 5], [60, 45]]"
    if not isinstance(value, list) or len(value) < 2:
        raise refused(
            Fault("glass-profile", "this is no list of heights and radii", hint), inside=("profile",)
        )
    pairs: list[tuple[float, float]] = []
    for index, pair in enumerate(value):
        inside = ("profile", index)
        if (
            not isinstance(pair, list)
            or len(pair) != 2
            or not all(isinstance(figure, str) for figure in pair)
        ):
            raise refused(Fault("glass-profile", "this is no height and radius", hint), inside=inside)
        figures = [parse_number(figure) for figure in pair]
        if any(isinstance(figure, Fault) or figure > _TALLEST_MM for figure in figures):
            raise refused(Fault("glass-profile", "this is no height and radius in mm", hint), inside=inside)
        height, radius = (figure for figure in figures if not isinstance(figure, Fault))
        if pairs and height <= pairs[-1][0]:
            raise refused(
                Fault("glass-profile", "this height is not above the one before", hint), inside=inside
            )
        pairs.append((height, radius))
    if not any(radius > 0 for _, radius in pairs):
        raise refused(Fault("glass-profile", "this glass holds nothing", hint), inside=("profile",))
    return tuple(pairs)


def _glasses(value: Any) -> dict[str, Any]:
    if isinstance(value, dict):
        return value
    raise wrong_shape(
        f"must be names and volumes, not {kind_of(value)}", 'write "glasses:" and below it "  coupe: 180 ml"'
    )


def _with_all_rules(
    translations: dict[str, HouseWordsForm], info: ValidationInfo
) -> Mapping[str, HouseWordsForm]:
    # Rules at fault are told of already; there is nothing to count against.
    return as_many_rules(translations, info.data["rules"]) if "rules" in info.data else translations


_GLASS_SCHEMA = {
    "anyOf": [
        {"type": "string", "examples": ["180 ml"]},
        {
            "type": "object",
            "properties": {
                "brim": {"type": "string", "description": "What it holds filled to the brim."},
                "wash line": {"type": "string", "description": "What it holds at the wash line."},
                "profile": {
                    "type": "array",
                    "description": "Height and inner radius in mm, from the bottom of the bowl to the rim.",
                    "items": {
                        "type": "array",
                        "items": {"type": ["number", "string"]},
                        "minItems": 2,
                        "maxItems": 2,
                    },
                    "minItems": 2,
                },
            },
            "required": ["brim"],
            "additionalProperties": False,
        },
    ]
}
Glass = Annotated[WrittenGlass, PlainValidator(_glass), WithJsonSchema(_GLASS_SCHEMA)]
Cube = Annotated[float, PlainValidator(checked(parse_cube)), WithJsonSchema({"type": "string"})]
Folder = Annotated[str, PlainValidator(checked(_folder)), WithJsonSchema({"type": "string"})]
Folders = Annotated[
    tuple[Folder, ...], BeforeValidator(as_list("folders"), json_schema_input_type=list[Folder] | Folder)
]


class HouseForm(BaseModel):
    """The settings of a house."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="House")

    name: Text = Field(description="The bar's name, as guests read it.", examples=["The Lantern Cart"])
    region: Region = Field("", description="ISO 3166 code events inherit.", examples=["GB-ENG"])
    currency: Currency = Field("", description="ISO 4217 code events inherit.", examples=["GBP"])
    languages: Languages = Field((), description="BCP 47 tags events inherit.", examples=[["en"]])
    ounce: Annotated[
        str,
        PlainValidator(choice("a kind of ounce", OUNCES, _OUNCES_MEANT)),
        WithJsonSchema({"enum": list(OUNCES)}),
    ] = Field(
        "", description="Which ounce specs mean: 30 ml, the US or the imperial one.", examples=["trade"]
    )
    theme: Theme = Field("", description="The look events inherit.", examples=["slate"])
    contact: LongText = Field(
        "", description="How guests can reach the bar.", examples=["hello@lantern.example"]
    )
    rules: Sentences = Field(
        (), description="House rules for guests, a sentence each.", examples=[["Ask for water."]]
    )
    tax_registered: YesOrNo | None = Field(
        None,
        alias="tax registered",
        description="Whether the bar is registered for the tax on what it sells: VAT, GST, sales tax.",
        examples=["yes"],
    )
    prices_include_tax: YesOrNo | None = Field(
        None,
        alias="prices include tax",
        description="Whether prices on menus are with that tax.",
        examples=["yes"],
    )
    glasses: Annotated[dict[str, Glass], BeforeValidator(_glasses)] = Field(
        {}, description="The house's own glasses.", examples=[{"coupe": "180 ml"}]
    )
    cube: Cube | None = Field(
        None, description="Its cubes of ice: the side of one, or what it weighs.", examples=["25 mm", "14 g"]
    )
    large_cube: Cube | None = Field(
        None,
        alias="large cube",
        description="Its large cubes, one to a glass: the side of one, or what it weighs; of a sphere the weight.",
        examples=["50 mm", "110 g"],
    )
    specs: Folders = Field(("specs",), description="Where specs lie.", examples=["specs"])
    stock: Folders = Field(("stock",), description="Where stock lies.", examples=["stock"])
    events: Folders = Field(("events",), description="Where events lie.", examples=["events"])
    translations: Annotated[HouseTranslations, AfterValidator(_with_all_rules)] = Field(
        {}, description="Rules and names in other languages.", examples=[{"fr": {"words": {"gin": "gin"}}}]
    )
