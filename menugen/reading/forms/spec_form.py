"""The front matter of a spec."""

import re
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

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

from menugen.measures import Fault, ParsedLine, Size, parse_line, parse_number, parse_size, parse_volume
from menugen.problems import did_you_mean
from menugen.reading.forms.refusal import refused, wrong_shape
from menugen.reading.forms.translation_form import SpecTranslations
from menugen.reading.forms.values import (
    Cautions,
    LongText,
    Text,
    as_list,
    checked,
    choice,
    kind_of,
    long_text,
    one_text,
)
from menugen.records import MethodStep

METHODS = (
    "shake", "dry shake", "reverse dry shake", "stir", "build", "blend", "flash blend", "throw", "roll",
    "swizzle", "muddle", "layer", "heat", "pour",
)  # fmt: skip
STRAINS = ("fine", "single", "dump")
ICES = ("none", "cubed", "large cube", "cracked", "crushed")
ROLES = ("pour", "top", "float", "rinse", "inside", "rim", "garnish")

_STRAINS_MEANT = {
    "double": "fine",
    "double strain": "fine",
    "fine strain": "fine",
    "strain": "single",
    "dirty": "dump",
}
_ICES_MEANT = {
    "cubes": "cubed", "ice": "cubed", "cubed ice": "cubed", "crushed ice": "crushed", "block": "large cube",
    "one large cube": "large cube", "no": "none", "no ice": "none", "up": "none",
}  # fmt: skip
_METHODS_MEANT = {
    "shaken": "shake", "stirred": "stir", "built": "build", "blended": "blend", "thrown": "throw",
    "rolled": "roll", "hard shake": "shake", "wet shake": "shake", "muddled": "muddle", "warm": "heat",
    "hot": "heat",
}  # fmt: skip
_CAUTION_MEANT = {
    "flame": "flaming", "flambé": "flaming", "flambe": "flaming", "ignite": "flaming", "light": "flaming",
    "set alight": "flaming", "smoke": "smoke", "dry ice": "dry ice",
}  # fmt: skip
"""Steps that are no step and ask for a caution, which is named where it is said and never taken silently."""
_STEP = re.compile(
    r"(?P<verb>\D+?)(?:\s+(?:for\s+)?(?P<seconds>\d+(?:\.\d+)?)\s*(?:s|sec|secs|seconds?))?", re.ASCII
)
MOST_SERVES = 500
"""More guests than this share no bowl: a figure has been mistyped. Our own bound."""

_NUMBERS_IN_WORDS = {
    "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11,
    "twelve": 12, "a dozen": 12, "dozen": 12, "fifteen": 15, "sixteen": 16, "twenty": 20, "thirty": 30, "forty": 40,
    "fifty": 50,
}  # fmt: skip
_SERVES = re.compile(r"\D*?(?P<whole>\d{1,9})(?!\d|[.,/]\d)\D*", re.ASCII)
_LONGEST_STEP_S = 3600.0
_MOST_MELT = 3.0
_UNUSED_PART_ML = 1.0
_MELT_KEYS = ("before", "after")
_MELT_EXAMPLE = "write {before: 90 g, after: 130 g}, or the ratio alone: 0.45"
_MELT_SCHEMA = {
    "anyOf": [
        {"type": ["string", "number"]},
        {
            "type": "object",
            "properties": {"before": {"type": "string"}, "after": {"type": "string"}},
            "required": ["before", "after"],
            "additionalProperties": False,
        },
    ]
}


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """A line as it stands in one of a spec's lists.

    Attributes:
        parsed: What it says.
        role: What `as` says it does; empty where the list decides.
        note: For the bar; may be empty.
        steps: How far inside the list's element the line stands: nothing, or the key of a mapping.
    """

    parsed: ParsedLine
    role: str
    note: str
    steps: tuple[str, ...]


def _line(value: Any, info: ValidationInfo) -> WrittenLine:
    if isinstance(value, dict):
        return _line_with_keys(value, info)
    if isinstance(value, list):
        raise wrong_shape("must be one line, not a list")
    return WrittenLine(_parsed(value, info, ()), "", "", ())


def _line_with_keys(value: dict[str, Any], info: ValidationInfo) -> WrittenLine:
    for key, typed in value.items():
        if key not in {"pour", "as", "note"}:
            measure = typed if isinstance(typed, str) else "45 ml"
            hint = f'write the line as "{measure} {key}"'
            if len(value) > 1:
                hint = (
                    did_you_mean(key, ("pour", "as", "note")) or ("the keys of a line are pour, as, note",)
                )[0]
            raise refused(
                Fault("unknown-key", f'"{key}" is not a key of a line', hint), inside=(key,), on="key"
            )
    if not value.get("pour"):
        raise refused(
            Fault("missing-key", '"pour" is missing', "write {pour: 10 ml dark rum, as: float}"), on="key"
        )
    role = _role(value["as"]) if value.get("as") else ""
    note = long_text(value.get("note", ""))
    return WrittenLine(_parsed(value["pour"], info, ("pour",)), role, note, ("pour",))


def _role(value: Any) -> str:
    if not isinstance(value, str):
        raise wrong_shape(f"must be one word, not {kind_of(value)}", inside=("as",))
    word = " ".join(value.split()).casefold()
    if word in ROLES:
        return word
    hint = did_you_mean(word, ROLES) or (f"write one of: {', '.join(ROLES)}",)
    raise refused(
        Fault("unknown-choice", f'"{value}" is not a role a line can have', hint[0]), inside=("as",)
    )


def _parsed(value: Any, info: ValidationInfo, inside: tuple[str, ...]) -> ParsedLine:
    if not isinstance(value, str):
        raise wrong_shape(f"must be one line, not {kind_of(value)}", inside=inside)
    # A part that is itself at fault is told once, at its own place.
    part_ml = info.data.get("part", _UNUSED_PART_ML)
    parsed = parse_line(value, ounce=_ounce(info), part_ml=part_ml)
    if isinstance(parsed, Fault):
        raise refused(parsed, inside=inside)
    return parsed


def _ounce(info: ValidationInfo) -> Any:
    return info.context["ounce"] if info.context else "trade"


def _part(value: Any, info: ValidationInfo) -> float:
    volume_ml = parse_volume(one_text(value), ounce=_ounce(info))
    if isinstance(volume_ml, Fault):
        raise refused(volume_ml)
    return volume_ml


def _serves(text: str) -> int | Fault:
    """Read how many share one making: a whole number, 2 or more."""
    count = int(text) if re.fullmatch(r"\d{1,9}", text, re.ASCII) else None
    if count == 1:
        return Fault(
            "figure-out-of-range",
            "one serve is one guest's drink, as every drink is",
            'take the line out; "serves" is for a bowl or a jug that guests share',
        )
    if count is not None and count > MOST_SERVES:
        return Fault(
            "figure-out-of-range",
            f'"{text}" serves are more than one making fills',
            f"write {MOST_SERVES} or fewer: as many as the bowl or the jug comes to",
        )
    if count:
        return count
    meant = _NUMBERS_IN_WORDS.get(text.casefold().removesuffix(" guests").removesuffix(" people"))
    if meant is None and (found := _SERVES.fullmatch(text)):
        meant = int(found["whole"])
    example = meant if meant and 2 <= meant <= MOST_SERVES else 10
    return Fault(
        "number-form",
        f'"{text}" is not a whole number, 2 or more',
        f'write the digits alone, such as "serves: {example}"',
    )


def _step(value: Any) -> MethodStep:
    typed = one_text(value)
    if "," in typed or " and " in typed or " then " in typed:
        steps = re.split(r"\s*,\s*(?:and\s+|then\s+)?|\s+(?:and|then)\s+", typed)
        raise refused(Fault("wrong-shape", f'"{typed}" is several steps', f"write [{', '.join(steps)}]"))
    found = _STEP.fullmatch(typed)
    if found is None:
        raise refused(
            Fault("unknown-choice", f'"{typed}" is not a step', 'write it as "shake" or "shake 12 s"')
        )
    if caution := _CAUTION_MEANT.get(found["verb"].casefold()):
        told = f'"{found["verb"]}" is not a step of the method'
        hint = f'take it out and say "cautions: [{caution}]"; how it is done belongs under "## Bar notes"'
        raise refused(Fault("unknown-choice", told, hint, typed))
    verb = choice("a step of the method", METHODS, _METHODS_MEANT)(found["verb"])
    seconds = float(found["seconds"]) if found["seconds"] else None
    if seconds is not None and not 0 < seconds <= _LONGEST_STEP_S:
        raise refused(
            Fault("figure-out-of-range", f'"{typed}" lasts no time or more than an hour', "check the figure")
        )
    return MethodStep(verb, seconds)


@dataclass(frozen=True, slots=True)
class WrittenMelt:
    """What the house measured: melt water over the mix, by volume or by weight."""

    ratio: float
    by_weight: bool


def _melt(value: Any) -> WrittenMelt:
    if isinstance(value, dict):
        return _measured_melt(value)
    ratio = parse_number(one_text(value))
    if isinstance(ratio, Fault):
        raise refused(ratio)
    return _likely_melt(ratio, one_text(value), by_weight=False)


def _measured_melt(value: dict[str, Any]) -> WrittenMelt:
    """Read {before: 90 g, after: 130 g}: one drink, weighed or measured before it meets the ice and after."""
    for key in value:
        if key not in _MELT_KEYS:
            hint = did_you_mean(key, _MELT_KEYS) or (_MELT_EXAMPLE,)
            raise refused(
                Fault("unknown-key", f'"{key}" is not a key of "melt"', hint[0]), inside=(key,), on="key"
            )
    amounts: dict[str, Size] = {}
    for key in _MELT_KEYS:
        if not value.get(key):
            raise refused(Fault("missing-key", f'"{key}" is missing', _MELT_EXAMPLE), on="key")
        size = parse_size(one_text(value[key]))
        if isinstance(size, Fault):
            raise refused(size, inside=(key,))
        amounts[key] = size
    before, after = (amounts[key] for key in _MELT_KEYS)
    by_weight = before.mass_g is not None
    old, new = (before.mass_g, after.mass_g) if by_weight else (before.volume_ml, after.volume_ml)
    if old is None or new is None:
        told = "one figure is a weight and the other a volume"
        raise refused(
            Fault("size-form", told, "write both in grams, or both in millilitres"), inside=("after",)
        )
    if new < old:
        told = f'"{value["after"]}" is less than before'
        raise refused(Fault("figure-out-of-range", told, "ice only adds water"), inside=("after",))
    return _likely_melt(new / old - 1.0, f"{value['before']} to {value['after']}", by_weight=by_weight)


def _likely_melt(ratio: float, typed: str, *, by_weight: bool) -> WrittenMelt:
    if ratio > _MOST_MELT:
        raise refused(
            Fault(
                "figure-out-of-range",
                f'"{typed}" is more water than a drink takes up',
                "write melt water over the volume poured: 0.45 for 45 ml on 100 ml",
            )
        )
    return WrittenMelt(ratio, by_weight)


def _name_of_a_line(key: str, info: ValidationInfo) -> str:
    """Refuse a swap for something the spec does not hold, unless the lines themselves are at fault."""
    if all(role in info.data for role in ROLES if role != "float") and "float_" in info.data:
        names = [
            line.parsed.name
            for role in ROLES
            for line in info.data["float_" if role == "float" else role] or ()
        ]
        if key.casefold() not in {name.casefold() for name in names}:
            hint = did_you_mean(key, names) or (f"the lines here are: {', '.join(names)}",)
            raise refused(
                Fault("swap-without-line", f'no line of this spec is called "{key}"', hint[0]), on="key"
            )
    return key


def _swaps(value: Any) -> dict[str, Any]:
    if isinstance(value, dict):
        return value
    raise wrong_shape(
        f"must be names and what replaces them, not {kind_of(value)}",
        'write "swap:" and below it "  gin: juniper water"',
    )


_LINE_SCHEMA = {
    "anyOf": [
        {
            "type": "string",
            "examples": ["45 ml dark rum", "2 dashes aromatic bitters", "top with soda water"],
        },
        {
            "type": "object",
            "properties": {
                "pour": {"type": "string", "description": "The line."},
                "as": {"enum": list(ROLES), "description": "What it does in the drink."},
                "note": {"type": "string", "description": "For the bar; never shown to guests."},
            },
            "required": ["pour"],
            "additionalProperties": False,
        },
    ]
}
Line = Annotated[WrittenLine, PlainValidator(_line), WithJsonSchema(_LINE_SCHEMA)]
Lines = Annotated[
    tuple[Line, ...],
    BeforeValidator(as_list("lines", one_has_key="pour"), json_schema_input_type=list[Line] | Line),
]
NeededLines = Annotated[
    tuple[Line, ...],
    BeforeValidator(
        as_list("lines", needed=True, one_has_key="pour"), json_schema_input_type=list[Line] | Line
    ),
]
Step = Annotated[
    MethodStep,
    PlainValidator(_step),
    WithJsonSchema({"type": "string", "pattern": f"^({'|'.join(METHODS)})( [0-9.]+ ?s)?$"}),
]
Steps = Annotated[
    tuple[Step, ...], BeforeValidator(as_list("steps"), json_schema_input_type=list[Step] | Step)
]
Serves = Annotated[
    int,
    PlainValidator(checked(_serves)),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "integer", "minimum": 2, "maximum": MOST_SERVES},
                {"type": "string", "pattern": "^[0-9]+$"},
            ]
        }
    ),
]
SwappedName = Annotated[str, AfterValidator(_name_of_a_line)]


class SpecForm(BaseModel):
    """One drink as it is made."""

    model_config = ConfigDict(extra="forbid", frozen=True, title="Spec")

    meant: ClassVar[dict[str, str]] = dict.fromkeys(
        ("serve", "serving", "servings", "portions", "people", "guests", "for", "yield", "yields"), "serves"
    )
    """What other people write for a key here."""

    name: Text = Field(description="As guests read it.", examples=["Saltmarsh Sour"])
    serves: Serves | None = Field(
        None,
        description="How many guests share one making: a bowl or a jug, which is its glass.",
        examples=[10],
    )
    part: Annotated[float, PlainValidator(_part), WithJsonSchema({"type": "string"})] | None = Field(
        None, description="What one part is, where lines are measured in parts.", examples=["25 ml"]
    )
    pour: NeededLines = Field(
        description="What is measured in.", examples=[["50 ml gin", "25 ml lemon juice"]]
    )
    top: Lines = Field(
        (), description="Poured last, up to the wash line or as much as stated.", examples=["soda water"]
    )
    float_: Lines = Field((), alias="float", description="Laid on the surface.", examples=["10 ml dark rum"])
    rinse: Lines = Field((), description="Coats the glass and is thrown out.", examples=["5 ml absinthe"])
    inside: Lines = Field((), description="Drawn on the inside of the glass.", examples=["10 ml plum sauce"])
    rim: Lines = Field((), description="What the rim is dressed with.", examples=["smoked salt"])
    garnish: Lines = Field((), description="What goes on the drink.", examples=["lemon twist"])
    method: Steps = Field(
        (), description="Steps in order; none means built.", examples=[["dry shake", "shake 12 s"]]
    )
    strain: Annotated[
        str,
        PlainValidator(choice("a strain", STRAINS, _STRAINS_MEANT)),
        WithJsonSchema({"enum": [*STRAINS, None]}),
    ] = Field("", description="How it leaves the tin.", examples=["fine"])
    glass: Text = Field(description="A glass of the house or a usual one.", examples=["coupe"])
    ice: Annotated[
        str,
        PlainValidator(choice("a kind of ice", ICES, _ICES_MEANT)),
        WithJsonSchema({"enum": [*ICES, None]}),
    ] = Field("", description="The ice in the glass.", examples=["cubed"])
    swap: Annotated[dict[SwappedName, Lines], BeforeValidator(_swaps)] = Field(
        {}, description="Stated alternatives, by the name of the line they replace.",
        examples=[{"single cream": "oat cream"}],
    )  # fmt: skip
    cautions: Cautions | None = Field(
        None,
        description='Cautions that belong to how it is made; "none" where its words only look like one.',
        examples=[["flaming"], "none"],
    )
    family: Text = Field("", description="The kind of drink it is compared with.", examples=["sour"])
    melt: Annotated[WrittenMelt, PlainValidator(_melt), WithJsonSchema(_MELT_SCHEMA)] | None = Field(
        None,
        description="Melt water over the volume poured, or one drink before and after, as the house measured it.",
        examples=["0.45", {"before": "90 g", "after": "130 g"}],
    )
    source: LongText = Field("", description="Where the measures come from.", examples=["our own"])
    translations: SpecTranslations = Field(
        {},
        description="What guests read of it in other languages.",
        examples=[{"fr": {"name": "Aigre du pré"}}],
    )
