"""The keys of one line of stock: a bottle, carton, fruit or preparation."""

import re
from dataclasses import replace

from menugen import reference
from menugen.measures import (
    Fault,
    Size,
    parse_concentration,
    parse_density,
    parse_number,
    parse_size,
    parse_strength,
    parse_sulphites,
)
from menugen.problems import Place, did_you_mean
from menugen.reading.keys.key import (
    Key,
    Problems,
    Table,
    Units,
    Value,
    listed,
    problem_at,
    refused,
    refused_key,
)
from menugen.reading.keys.values import (
    CAUTIONS,
    DAY,
    LONG_TEXT,
    PRICE,
    SIZE,
    TEXTS,
    WHOLE_NUMBER,
    as_list,
    choice,
    list_of,
    of_text,
    one_text,
    size_text,
)
from menugen.reading.yaml_text import Data
from menugen.records import Concentration, StockLine

_COLOUR = re.compile(r"#[0-9a-f]{6}", re.IGNORECASE | re.ASCII)
_PIECE_HINT = 'write what one adds, "30 ml" or "4 g"; leave it out for things that add nothing'
PLACES_KEPT = ("fridge", "room", "freezer")
_KEPT_MEANT = {
    "refrigerator": "fridge", "refrigerated": "fridge", "chilled": "fridge", "cold": "fridge", "cooler": "fridge",
    "cool": "fridge", "shelf": "room", "room temperature": "room", "ambient": "room", "warm": "room", "bar": "room",
    "back bar": "room", "speed rail": "room", "rail": "room", "frozen": "freezer",
}  # fmt: skip


_SUBSTANCES_HINT = "write [milk, almond]"


def _substances(value: Data, place: Place, units: Units) -> tuple[str, ...] | Problems:
    """Return the substances a label lists; none of them only where that is said in so many words.

    An empty value may be a form nobody filled in, and would read as "free of everything": it is refused.
    """
    if not isinstance(value, dict) and not any(as_list(value)):
        said = "is left empty, which does not say that the label was read"
        return refused_key(
            place, "contains-empty", said, f'write "{place.path[-1]}: none" once you have read the label'
        )
    words = _WORDS.read(value, place, units)
    if isinstance(words, Problems):
        # Brackets that are parted at a comma are one fault, and two words of the list.
        return Problems(words[:1])
    named = [word for word in words if word.casefold() != "none"]
    if named and len(named) < len(words):
        return refused_key(
            place, "none-with-others", 'says "none" and names substances', "keep one or the other"
        )
    return tuple(dict.fromkeys(named))


def _substance(value: Data, place: Place, _units: Units) -> str | Problems:
    if not isinstance(value, str) or not value.strip():
        return refused_key(place, "wrong-shape", "must be a list of substances", _SUBSTANCES_HINT)
    word = " ".join(value.split())
    outside = re.sub(r"\([^()]*\)|\[[^\[\]]*\]", "", word)
    if any(bracket in outside for bracket in "()"):
        # In a list in brackets, YAML itself parts "soy sauce (soya, wheat)" at the comma.
        half = f'"{word}" is half of something in brackets'
        return refused(place, "wrong-shape", half, 'write it in quotes: ["soy sauce (soya, wheat)"]')
    if "," in outside or ";" in outside:
        parts = ", ".join(part.strip() for part in re.split("[,;]", word))
        return refused(place, "wrong-shape", f'"{word}" is several substances', f"write [{parts}]")
    return word


_WORDS = list_of(Value(_substance, lambda: {"type": "string"}), "substances", hint=_SUBSTANCES_HINT)


def _piece(value: Data, place: Place, units: Units) -> Size | Problems:
    """Return what one piece adds; a bare number is no amount, and nothing at all is said by leaving the key out."""
    text = one_text(value, place)
    if isinstance(text, Problems):
        return text
    size = parse_size(text, ounce=units.ounce)
    if isinstance(size, Fault):
        adds_nothing = size.code == "figure-out-of-range" and parse_number(text.partition(" ")[0]) == 0.0
        if size.code == "size-form" or adds_nothing:
            size = replace(size, hint=_PIECE_HINT)
        return Problems([problem_at(place, size)])
    return size


def _dissolved(text: str) -> Concentration | Fault:
    found = parse_concentration(text)
    return found if isinstance(found, Fault) else Concentration(*found)


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


_TEXT = {"type": "string"}
SUBSTANCES = Value(
    _substances,
    lambda: {
        "anyOf": [
            {"type": "array", "items": {"type": "string"}, "minItems": 1},
            {"type": "string", "minLength": 1},
        ]
    },
    listed,
)
PIECE = Value(_piece, SIZE.schema, size_text)
DISSOLVED = of_text(_dissolved, _TEXT, lambda found: f"{found.value:g} {found.unit}")
STRENGTH = of_text(parse_strength, _TEXT, lambda percent: f"{percent:g} % vol")
DENSITY = of_text(parse_density, _TEXT, lambda density: f"{density:g} g/ml")
SULPHITES = of_text(parse_sulphites, _TEXT, lambda milligrams: f"{milligrams:g} mg/l")
KIND = of_text(_kind, {"type": "string", "minLength": 1})
COLOUR = of_text(_colour, _TEXT)
KEPT = of_text(choice("a place things are kept", PLACES_KEPT, _KEPT_MEANT), {"enum": list(PLACES_KEPT)})

# fmt: off
STOCK = Table(
    "Stock line", "One thing that is poured, eaten or put on a glass.", StockLine,
    (
        Key("aliases", ("aliases",), TEXTS, "prose",
            "Other names specs use for it.", (["sugar syrup"],)),
        Key("kind", ("kind",), KIND, "compared",
            "The reference kind whose values stand in for missing ones.", ("gin",)),
        Key("bottle", ("bottle_ml", "bottle_g"), SIZE, "compared",
            "What one bottle or carton holds.", ("700 ml",)),
        Key("each", ("each_ml", "each_g"), PIECE, "compared",
            "What one counted piece adds to a drink.", ("30 ml",)),
        Key("pack", ("pack",), WHOLE_NUMBER, "compared",
            "How many pieces are bought together.", (12,)),
        Key("price", ("price",), PRICE, "compared",
            "Of one bottle or pack, without tax.", (17.90,)),
        Key("supplier", ("supplier",), LONG_TEXT, "prose",
            "Who it is bought from; never shown to guests.", ("Quay Stores",)),
        Key("abv", ("abv_percent",), STRENGTH, "compared",
            "Strength on the label.", ("24 %", "80 proof")),
        Key("sugar", ("sugar",), DISSOLVED, "compared",
            "As labelled or measured.", ("240 g/l", "50 brix")),
        Key("acid", ("acid",), DISSOLVED, "compared",
            "As labelled or measured.", ("60 g/l",)),
        Key("fat", ("fat",), DISSOLVED, "compared",
            "As labelled.", ("19 g/100 ml",)),
        Key("density", ("density_g_per_ml",), DENSITY, "compared",
            "As measured.", ("1.03 g/ml",)),
        Key("kept", ("kept",), KEPT, "compared",
            "Where it is kept until it is poured, if that is not where its kind usually is: how cold it meets the ice.",
            ("freezer",)),
        Key("contains", ("contains",), SUBSTANCES, "compared",
            'Substances the label lists; "none" only after reading it.', (["milk"], "none"), reads_blank=True),
        Key("may contain", ("may_contain",), SUBSTANCES, "compared",
            "Substances the label warns of.", (["almond"],), reads_blank=True),
        Key("distilled from", ("distilled_from",), SUBSTANCES, "compared",
            "What a spirit was distilled from.", (["barley"],), reads_blank=True),
        Key("fined with", ("fined_with",), SUBSTANCES, "compared",
            "What it was cleared or processed with; the law of the place says whether that is declared.",
            (["isinglass"],), reads_blank=True),
        Key("sulphites", ("sulphites_mg_per_l",), SULPHITES, "compared",
            "Total sulphur dioxide, where known.", ("35 mg/l",)),
        Key("cautions", ("cautions",), CAUTIONS, "compared",
            'Cautions that come with it; "none" where what its kind is known for does not apply.',
            (["raw egg"], "none")),
        Key("checked", ("checked",), DAY, "compared",
            "When the label was read.", ("2026-11-02",)),
        Key("colour", ("colour",), COLOUR, "prose",
            "Of the liquid.", ("#8a4b2a",)),
        Key("note", ("note",), LONG_TEXT, "prose",
            "For the bar; never shown to guests.", ("keep cold",)),
    ),
    beside=("name", "place"),
)
# fmt: on
