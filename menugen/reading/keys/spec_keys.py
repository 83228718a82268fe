"""The keys of a spec's front matter."""

import re
from dataclasses import dataclass, replace
from typing import NamedTuple

from menugen.measures import Fault, ParsedLine, Size, parse_line, parse_number, parse_volume
from menugen.problems import Place
from menugen.reading.keys.inner import GUESTS_NOTES, mapping_of, translations
from menugen.reading.keys.key import (
    Key,
    Problems,
    Schema,
    Table,
    Units,
    Value,
    listed,
    problem_at,
    read_keys,
    refused,
    refused_key,
)
from menugen.reading.keys.values import (
    CAUTIONS,
    LONG_TEXT,
    SIZE,
    TEXT,
    by_name,
    choice,
    kind_of,
    list_of,
    of_text,
    one_text,
)
from menugen.reading.yaml_text import Data
from menugen.records import Line, MethodStep, Spec, SpecWords, Swap

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
_MELT_EXAMPLE = "write {before: 90 g, after: 130 g}, or the ratio alone: 0.45"


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """A line as it stands in one of a spec's lists.

    Attributes:
        parsed: What it says.
        place: Where it says so.
        role: What `as` says it does; empty where the list decides.
        note: For the bar; may be empty.
    """

    parsed: ParsedLine
    place: Place
    role: str = ""
    note: str = ""


class Melt(NamedTuple):
    """What the house measured: melt water over the mix, by volume or by weight."""

    ratio: float
    by_weight: bool


def _line(value: Data, place: Place, units: Units) -> WrittenLine | Problems:
    """Read a line alone, or with keys."""
    if not isinstance(value, dict):
        parsed = _parsed(value, place, units)
        return parsed if isinstance(parsed, Problems) else WrittenLine(parsed, place)
    if len(value) == 1 and not value.keys() & LINE.by_name.keys():
        [(key, typed)] = value.items()
        measure = typed if isinstance(typed, str) else "45 ml"
        return refused(
            place.at(key, on="key"),
            "unknown-key",
            f'"{key}" is not a key of a line',
            f'write the line as "{measure} {key}"',
        )
    return _LINE_OF_KEYS.read(value, place, units)


def _parsed(value: Data, place: Place, units: Units) -> ParsedLine | Problems:
    if not isinstance(value, str):
        return refused_key(place, "wrong-shape", f"must be one line, not {kind_of(value)}")
    parsed = parse_line(value, ounce=units.ounce, part_ml=units.part_ml)
    return Problems([problem_at(place, parsed)]) if isinstance(parsed, Fault) else parsed


def _part(value: Data, place: Place, units: Units) -> float | Problems:
    text = one_text(value, place)
    if isinstance(text, Problems):
        return text
    volume_ml = parse_volume(text, ounce=units.ounce)
    return Problems([problem_at(place, volume_ml)]) if isinstance(volume_ml, Fault) else volume_ml


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


def _step(typed: str) -> MethodStep | Fault:
    if "," in typed or " and " in typed or " then " in typed:
        steps = re.split(r"\s*,\s*(?:and\s+|then\s+)?|\s+(?:and|then)\s+", typed)
        return Fault("wrong-shape", f'"{typed}" is several steps', f"write [{', '.join(steps)}]")
    found = _STEP.fullmatch(typed)
    if found is None:
        return Fault("unknown-choice", f'"{typed}" is not a step', 'write it as "shake" or "shake 12 s"')
    if caution := _CAUTION_MEANT.get(found["verb"].casefold()):
        told = f'"{found["verb"]}" is not a step of the method'
        hint = f'take it out and say "cautions: [{caution}]"; how it is done belongs under "## Bar notes"'
        return Fault("unknown-choice", told, hint, typed)
    verb = _VERB(found["verb"])
    if isinstance(verb, Fault):
        return verb
    seconds = float(found["seconds"]) if found["seconds"] else None
    if seconds is not None and not 0 < seconds <= _LONGEST_STEP_S:
        return Fault(
            "figure-out-of-range", f'"{typed}" lasts no time or more than an hour', "check the figure"
        )
    return MethodStep(verb, seconds)


_VERB = choice("a step of the method", METHODS, _METHODS_MEANT)


def _step_text(step: MethodStep) -> str:
    return f"{step.verb} {step.seconds:g} s" if step.seconds else step.verb


_ICE = choice("a kind of ice", ICES, _ICES_MEANT)


def _ice(typed: str) -> str | Fault:
    word = _ICE(typed)
    return "" if word == "none" else word


def _melt(value: Data, place: Place, units: Units) -> Melt | Problems:
    """Read a ratio, or {before: 90 g, after: 130 g}: one drink, measured before it meets the ice and after."""
    if isinstance(value, dict):
        sizes, problems = read_keys(MELT, value, place, units)
        return problems or _measured_melt(value, sizes["before"], sizes["after"], place)
    typed = one_text(value, place)
    if isinstance(typed, Problems):
        return typed
    ratio = parse_number(typed)
    if isinstance(ratio, Fault):
        return Problems([problem_at(place, ratio)])
    return _likely_melt(Melt(ratio, by_weight=False), typed, place)


def _measured_melt(typed: dict[str, Data], before: Size, after: Size, place: Place) -> Melt | Problems:
    by_weight = before.mass_g is not None
    old, new = (before.mass_g, after.mass_g) if by_weight else (before.volume_ml, after.volume_ml)
    if old is None or new is None:
        told = "one figure is a weight and the other a volume"
        return refused(place.at("after"), "size-form", told, "write both in grams, or both in millilitres")
    if new < old:
        told = f'"{typed["after"]}" is less than before'
        return refused(place.at("after"), "figure-out-of-range", told, "ice only adds water")
    return _likely_melt(Melt(new / old - 1.0, by_weight), f"{typed['before']} to {typed['after']}", place)


def _likely_melt(melt: Melt, typed: str, place: Place) -> Melt | Problems:
    if melt.ratio > _MOST_MELT:
        return refused(
            place,
            "figure-out-of-range",
            f'"{typed}" is more water than a drink takes up',
            "write melt water over the volume poured: 0.45 for 45 ml on 100 ml",
        )
    return melt


def _melt_text(melt: tuple[float, bool]) -> str:
    ratio, by_weight = melt
    return f"{ratio:g} by weight" if by_weight else f"{ratio:g}"


def _line_text(line: Line) -> str:
    return f"{line.measure.text} {line.name}".strip()


def _swaps_text(swaps: tuple[Swap, ...]) -> str:
    return listed(f"{_line_text(swap.line)} instead of {swap.replaces}" for swap in swaps)


def _line_schema() -> Schema:
    examples = ["45 ml dark rum", "2 dashes aromatic bitters", "top with soda water"]
    return {"anyOf": [{"type": "string", "examples": examples}, LINE.schema()]}


# fmt: off
LINE = Table(
    "Line", "A line with keys of its own.", WrittenLine,
    (
        Key("pour", ("parsed",), Value(_parsed, lambda: {"type": "string"}), "compared",
            "The line.", ("10 ml dark rum",), is_needed=True),
        Key("as", ("role",), of_text(choice("a role a line can have", ROLES), {"enum": list(ROLES)}), "compared",
            "What it does in the drink.", ("float",)),
        Key("note", ("note",), LONG_TEXT, "prose",
            "For the bar; never shown to guests.", ("from the freezer",)),
    ),
    beside=("place",), called="a line", example="write {pour: 10 ml dark rum, as: float}",
)
MELT = Table(
    "Measured melt", "One drink before it meets the ice and after.", None,
    (
        Key("before", (), SIZE, "compared", "Before it meets the ice.", ("90 g",), is_needed=True),
        Key("after", (), SIZE, "compared", "After it.", ("130 g",), is_needed=True),
    ),
    called='"melt"', example=_MELT_EXAMPLE,
)
# fmt: on
_LINE_OF_KEYS = mapping_of(LINE, lambda fields, place: WrittenLine(place=place.at("pour"), **fields))
LINES_OF = Value(_line, _line_schema, _line_text, LINE)
LINES = list_of(LINES_OF, "lines", one_has_key="pour")
NEEDED_LINES = list_of(LINES_OF, "lines", is_needed=True, one_has_key="pour")
PART = Value(_part, LONG_TEXT.schema)
STEPS = list_of(
    of_text(
        _step,
        {"type": "string", "pattern": f"^({'|'.join(METHODS)})( [0-9.]+ ?s)?$"},
        _step_text,
    ),
    "steps",
)
SERVES = of_text(
    _serves,
    {
        "anyOf": [
            {"type": "integer", "minimum": 2, "maximum": MOST_SERVES},
            {"type": "string", "pattern": "^[0-9]+$"},
            {"type": "null"},
        ]
    },
)
STRAIN = of_text(choice("a strain", STRAINS, _STRAINS_MEANT), {"enum": [*STRAINS, None]})
ICE = of_text(_ice, {"enum": [*ICES, None]})
_SWAPPED = by_name(LINES, "names and what replaces them", 'write "swap:" and below it "  gin: juniper water"')
SWAPS = replace(_SWAPPED, text=_swaps_text)
MELTS = Value(_melt, lambda: {"anyOf": [{"type": ["string", "number"]}, MELT.schema()]}, _melt_text, MELT)

# fmt: off
_NAME = Key(
    "name", ("name",), TEXT, "compared",
    "As guests read it.", ("Saltmarsh Sour",), is_needed=True, translated="Aigre du pré",
)
_NOTES = Key(
    "notes", ("notes", "comments"), GUESTS_NOTES, "prose",
    "The notes for guests, Markdown.", ("Vif et salin.",), reads_blank=True,
)
SPEC = Table(
    "Spec", "One drink as it is made.", Spec,
    (
        _NAME,
        Key("serves", ("serves",), SERVES, "compared",
            "How many guests share one making: a bowl or a jug, which is its glass.", (10,),
            meant=("serve", "serving", "servings", "portions", "people", "guests", "for", "yield", "yields")),
        Key("part", (), PART, "prose",  # it is in the lines that are measured in it
            "What one part is, where lines are measured in parts.", ("25 ml",)),
        Key("pour", ("lines",), NEEDED_LINES, "compared",
            "What is measured in.", (["50 ml gin", "25 ml lemon juice"],), is_needed=True),
        Key("top", ("lines",), LINES, "compared",
            "Poured last, up to the wash line or as much as stated.", ("soda water",)),
        Key("float", ("lines",), LINES, "compared",
            "Laid on the surface.", ("10 ml dark rum",)),
        Key("rinse", ("lines",), LINES, "compared",
            "Coats the glass and is thrown out.", ("5 ml absinthe",)),
        Key("inside", ("lines",), LINES, "compared",
            "Drawn on the inside of the glass.", ("10 ml plum sauce",)),
        Key("rim", ("lines",), LINES, "compared",
            "What the rim is dressed with.", ("smoked salt",)),
        Key("garnish", ("lines",), LINES, "compared",
            "What goes on the drink.", ("lemon twist",)),
        Key("method", ("method",), STEPS, "compared",
            "Steps in order; none means built.", (["dry shake", "shake 12 s"],)),
        Key("strain", ("strain",), STRAIN, "compared",
            "How it leaves the tin.", ("fine",)),
        Key("glass", ("glass",), TEXT, "compared",
            "A glass of the house or a usual one.", ("coupe",), is_needed=True),
        Key("ice", ("ice",), ICE, "compared",
            "The ice in the glass.", ("cubed",)),
        Key("swap", ("swaps",), SWAPS, "compared",
            "Stated alternatives, by the name of the line they replace.", ({"single cream": "oat cream"},)),
        Key("cautions", ("cautions",), CAUTIONS, "compared",
            'Cautions that belong to how it is made; "none" where its words only look like one.',
            (["flaming"], "none")),
        Key("family", ("family",), TEXT, "prose",
            "The kind of drink it is compared with.", ("sour",)),
        Key("melt", ("melt_ratio", "melt_by_weight"), MELTS, "compared",
            "Melt water over the volume poured, or one drink before and after, as the house measured it.",
            ("0.45", {"before": "90 g", "after": "130 g"})),
        Key("source", ("source",), LONG_TEXT, "prose",
            "Where the measures come from.", ("our own",)),
        translations("Spec", SpecWords, (_NAME,), {"fr": {"name": "Aigre du pré"}}, _NOTES),
    ),
    beside=("slug", "guest_notes", "bar_notes", "comments", "place"),
)
# fmt: on
