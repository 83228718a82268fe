"""One line of stock: a bottle, carton, fruit or preparation."""

import re
from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainValidator, ValidationInfo, WithJsonSchema

from menugen import reference
from menugen.measures import (
    ConcentrationUnit,
    Fault,
    Size,
    parse_concentration,
    parse_density,
    parse_number,
    parse_size,
    parse_strength,
    parse_sulphites,
)
from menugen.problems import did_you_mean
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.forms.values import (
    Cautions,
    Day,
    LongText,
    Price,
    Texts,
    WholeNumber,
    checked,
    choice,
    kind_of,
    one_text,
)

_COLOUR = re.compile(r"#[0-9a-f]{6}", re.IGNORECASE | re.ASCII)
_PIECE_HINT = 'write what one adds, "30 ml" or "4 g"; leave it out for things that add nothing'
_MEASURE_SCHEMA = {"type": "string"}


def _substances(value: Any, info: ValidationInfo) -> tuple[str, ...]:
    """Return the substances a label lists; none of them only where that is said in so many words.

    An empty value may be a form nobody filled in, and would read as "free of everything": it is refused.
    """
    if isinstance(value, dict):
        raise wrong_shape(f"must be a list of substances, not {kind_of(value)}", "write [milk, almond]")
    typed = value if isinstance(value, list) else [value]
    if not any(typed):
        key = (info.field_name or "").replace("_", " ")
        hint = f'write "{key}: none" once you have read the label'
        raise refused(
            Fault("contains-empty", "is left empty, which does not say that the label was read", hint),
            of_key=True,
        )
    words = []
    for index, item in enumerate(typed):
        inside = (index,) if isinstance(value, list) else ()
        if not isinstance(item, str) or not item.strip():
            raise wrong_shape("must be a list of substances", "write [milk, almond]", inside=inside)
        word = " ".join(item.split())
        outside = re.sub(r"\([^()]*\)|\[[^\[\]]*\]", "", word)
        if any(bracket in outside for bracket in "()"):
            # In a list in brackets, YAML itself parts "soy sauce (soya, wheat)" at the comma.
            raise refused(
                Fault(
                    "wrong-shape",
                    f'"{word}" is half of something in brackets',
                    'write it in quotes: ["soy sauce (soya, wheat)"]',
                ),
                inside=inside,
            )
        if "," in outside or ";" in outside:
            listed = ", ".join(part.strip() for part in re.split("[,;]", word))
            raise refused(
                Fault("wrong-shape", f'"{word}" is several substances', f"write [{listed}]"), inside=inside
            )
        words.append(word)
    if all(word.casefold() == "none" for word in words):
        return ()
    if any(word.casefold() == "none" for word in words):
        raise refused(
            Fault("none-with-others", 'says "none" and names substances', "keep one or the other"),
            of_key=True,
        )
    return tuple(dict.fromkeys(words))


def _size(value: Any, info: ValidationInfo) -> Size:
    size = parse_size(one_text(value), ounce=info.context["ounce"] if info.context else "trade")
    if isinstance(size, Fault):
        raise refused(size)
    return size


def _piece(value: Any, info: ValidationInfo) -> Size:
    """Return what one piece adds; a bare number is no amount, and nothing at all is said by leaving the key out."""
    text = one_text(value)
    size = parse_size(text, ounce=info.context["ounce"] if info.context else "trade")
    if isinstance(size, Fault):
        adds_nothing = size.code == "figure-out-of-range" and parse_number(text.partition(" ")[0]) == 0.0
        raise refused(replace(size, hint=_PIECE_HINT) if size.code == "size-form" or adds_nothing else size)
    return size


def _colour(text: str) -> str | Fault:
    if _COLOUR.fullmatch(text):
        return text.lower()
    return Fault(
        "colour-form", f'"{text}" is not a colour', 'write it in quotes, as "#8a4b2a": red, green, blue'
    )


def _kind(text: str) -> str | Fault:
    """Return a kind as typed: a reference kind, or a name that ends in one, such as "unsweetened oat milk"."""
    if reference.is_kind(text):
        return text
    of_class = reference.kinds_of_class(text)
    hints = did_you_mean(text, reference.kind_names())
    if of_class:
        hints = (f"name the kind itself: {', '.join(of_class)}",)
    return Fault(
        "unknown-kind",
        f'"{text}" is no kind that menugen knows',
        (hints or ('write a usual kind, such as "gin" or "lemon juice", or take the line out',))[0],
        text,
    )


PLACES_KEPT = ("fridge", "room", "freezer")
_KEPT_MEANT = {
    "refrigerator": "fridge", "refrigerated": "fridge", "chilled": "fridge", "cold": "fridge", "cooler": "fridge",
    "cool": "fridge", "shelf": "room", "room temperature": "room", "ambient": "room", "warm": "room", "bar": "room",
    "back bar": "room", "speed rail": "room", "rail": "room", "frozen": "freezer",
}  # fmt: skip

Substances = Annotated[
    tuple[str, ...],
    PlainValidator(_substances),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "array", "items": {"type": "string"}, "minItems": 1},
                {"type": "string", "minLength": 1},
            ]
        }
    ),
]
Amount = Annotated[Size, PlainValidator(_size), WithJsonSchema(_MEASURE_SCHEMA)]
Piece = Annotated[Size, PlainValidator(_piece), WithJsonSchema(_MEASURE_SCHEMA)]
Dissolved = Annotated[
    tuple[float, ConcentrationUnit],
    PlainValidator(checked(parse_concentration)),
    WithJsonSchema(_MEASURE_SCHEMA),
]

Strength = Annotated[float, PlainValidator(checked(parse_strength)), WithJsonSchema(_MEASURE_SCHEMA)]
Density = Annotated[float, PlainValidator(checked(parse_density)), WithJsonSchema(_MEASURE_SCHEMA)]
Sulphites = Annotated[float, PlainValidator(checked(parse_sulphites)), WithJsonSchema(_MEASURE_SCHEMA)]
Kind = Annotated[str, PlainValidator(checked(_kind)), WithJsonSchema({"type": "string", "minLength": 1})]
Colour = Annotated[str, PlainValidator(checked(_colour)), WithJsonSchema({"type": "string"})]


class StockForm(BaseModel):
    """One thing that is poured, eaten or put on a glass."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Stock line")

    bottle: Amount | None = Field(None, description="What one bottle or carton holds.", examples=["700 ml"])
    each: Piece | None = Field(
        None, description="What one counted piece adds to a drink.", examples=["30 ml"]
    )
    pack: WholeNumber | None = Field(None, description="How many pieces are bought together.", examples=[12])
    price: Price | None = Field(None, description="Of one bottle or pack, without tax.", examples=[17.90])
    supplier: LongText = Field(
        "", description="Who it is bought from; never shown to guests.", examples=["Quay Stores"]
    )
    abv: Strength | None = Field(None, description="Strength on the label.", examples=["24 %", "80 proof"])
    sugar: Dissolved | None = Field(
        None, description="As labelled or measured.", examples=["240 g/l", "50 brix"]
    )
    acid: Dissolved | None = Field(None, description="As labelled or measured.", examples=["60 g/l"])
    fat: Dissolved | None = Field(None, description="As labelled.", examples=["19 g/100 ml"])
    density: Density | None = Field(None, description="As measured.", examples=["1.03 g/ml"])
    kept: Annotated[
        Literal["", "fridge", "room", "freezer"],
        PlainValidator(choice("a place things are kept", PLACES_KEPT, _KEPT_MEANT)),
        WithJsonSchema({"enum": list(PLACES_KEPT)}),
    ] = Field(
        "",
        description="Where it is kept until it is poured, if that is not where its kind usually is: how cold it meets "
        "the ice.",
        examples=["freezer"],
    )
    contains: Substances | None = Field(
        None,
        description='Substances the label lists; "none" only after reading it.',
        examples=[["milk"], "none"],
    )
    may_contain: Substances = Field(
        (), alias="may contain", description="Substances the label warns of.", examples=[["almond"]]
    )
    distilled_from: Substances = Field(
        (), alias="distilled from", description="What a spirit was distilled from.", examples=[["barley"]]
    )
    fined_with: Substances = Field(
        (),
        alias="fined with",
        description="What it was cleared or processed with; the law of the place says whether that is declared.",
        examples=[["isinglass"]],
    )
    sulphites: Sulphites | None = Field(
        None, description="Total sulphur dioxide, where known.", examples=["35 mg/l"]
    )
    cautions: Cautions | None = Field(
        None,
        description='Cautions that come with it; "none" where what its kind is known for does not apply.',
        examples=[["raw egg"], "none"],
    )
    checked: Day | None = Field(None, description="When the label was read.", examples=["2026-11-02"])
    aliases: Texts = Field((), description="Other names specs use for it.", examples=[["sugar syrup"]])
    kind: Kind = Field(
        "", description="The reference kind whose values stand in for missing ones.", examples=["gin"]
    )
    colour: Colour = Field("", description="Of the liquid.", examples=["#8a4b2a"])
    note: LongText = Field("", description="For the bar; never shown to guests.", examples=["keep cold"])
