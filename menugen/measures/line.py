"""One line of a spec: a measure and a name."""

import re
import unicodedata
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache

from menugen.measures.fault import Fault
from menugen.measures.numbers import Number, leading_number
from menugen.measures.units import OunceKind, Unit, units

_CLOSE = 0.82
_MOST_ML = 5000.0
_MOST_G = 5000.0
_MOST_PIECES = 500.0
_LONGEST = 200
_TOP = re.compile(r"top(?:\s+up)?\s+with\s+(?P<rest>.+)", re.IGNORECASE)
_ONE_OF = re.compile(r"an?\s+(?P<rest>\S.*)", re.IGNORECASE)
_MEASURE_LAST = re.compile(
    r"(?P<name>\D+?)[\s,:]+(?P<number>[\d¼½¾⅓⅔][\d.,/ ¼½¾⅓⅔]*)\s*(?P<unit>[^\W\d]+)", re.ASCII
)
_TIMES = re.compile(r"[x×*]\s*[\d¼½¾⅓⅔]", re.ASCII | re.IGNORECASE)
_PARTS = frozenset({"part", "parts"})
_UNSIZED = frozenset({
    "shot", "shots", "jigger", "jiggers", "measure", "measures", "pony", "ponies", "nip", "nips", "dram", "drams",
    "spoon", "spoons", "spoonful", "spoonfuls", "cap", "caps", "capful", "capfuls", "glug", "glugs", "glass", "glasses",
    "gill", "gills", "pint", "pints", "quart", "quarts",
})  # fmt: skip
"""Bar words for amounts that differ from house to house; counted as pieces they would lose their strength."""


@dataclass(frozen=True, slots=True)
class ParsedLine:
    """A measure and a name. At most one of the amounts is set; "top with" alone sets none.

    Attributes:
        name: What is measured, trimmed.
        text: The measure as typed; empty where the line states none.
        unit: "ml", "oz", "dash" ...; "part" for parts; "each" for counted things; "top" for "top with".
        volume_ml: More than 0.
        mass_g: More than 0.
        count: More than 0; 1 where nothing is stated.
        top: Whether the line said "top with".
    """

    name: str
    text: str
    unit: str
    volume_ml: float | None = None
    mass_g: float | None = None
    count: float | None = None
    top: bool = False


@lru_cache(maxsize=8192)
def parse_line(text: str, *, ounce: OunceKind, part_ml: float | None) -> ParsedLine | Fault:
    """Return what a line of a spec measures. Bars pour the same few lines over and over: they are remembered.

    Args:
        text: "45 ml dark rum", "1½ oz rye", "2 dashes of bitters", "8 mint leaves", "top with soda water".
        ounce: The ounce the house means.
        part_ml: What a part is in this spec; None where it has not said.
    """
    line = " ".join(text.split())
    if not line or len(line) > _LONGEST:
        return _no_line(line)
    if found := _TOP.fullmatch(line):
        return _topped(found["rest"], ounce, part_ml)
    number = leading_number(line)
    if isinstance(number, Fault):
        return number
    if number is not None:
        return _measured(number, line, ounce, part_ml)
    if found := _ONE_OF.fullmatch(line):
        article = line[: found.start("rest")].rstrip()
        return _measured(Number(1.0, article, found["rest"]), line, ounce, part_ml)
    return _unnumbered(line, ounce, part_ml)


def _no_line(line: str) -> Fault:
    if line:
        message = f"this line is longer than {_LONGEST} characters"
        return Fault("text-too-long", message, "one line names one thing")
    return Fault("empty-value", "this line is empty", 'write a measure and a name, such as "45 ml dark rum"')


def _topped(rest: str, ounce: OunceKind, part_ml: float | None) -> ParsedLine | Fault:
    inner = parse_line(rest, ounce=ounce, part_ml=part_ml)
    if isinstance(inner, Fault):
        return inner
    if inner.text:
        return ParsedLine(
            inner.name, inner.text, inner.unit, inner.volume_ml, inner.mass_g, inner.count, top=True
        )
    return ParsedLine(inner.name, "", "top", top=True)


def _unnumbered(line: str, ounce: OunceKind, part_ml: float | None) -> ParsedLine | Fault:
    """Read a line without a number: one of it, unless its measure stands last or is a unit with "of"."""
    words = line.split()
    if len(words) > 2 and words[1].casefold() == "of" and _key(words[0]) in units(ounce):
        return _measured(Number(1.0, "", line), line, ounce, part_ml)
    found = _MEASURE_LAST.fullmatch(line)
    if found and found["unit"].casefold() in units(ounce).keys() | _PARTS:
        measure = f"{found['number'].strip()} {found['unit']}"
        return Fault(
            "measure-after-name",
            f'"{line}" has its measure behind the name',
            f'write "{measure} {found["name"].strip()}"',
        )
    if unicodedata.category(line[0]) == "Nd":
        return Fault("not-a-number", f'"{line}" does not begin with a number', "use the digits 0 to 9")
    return ParsedLine(line, "", "each", count=1.0)


def _measured(number: Number, line: str, ounce: OunceKind, part_ml: float | None) -> ParsedLine | Fault:
    if not number.value > 0:
        return Fault(
            "measure-not-positive",
            f'"{line}" measures nothing',
            "write an amount above 0, or take the line out",
            number.text,
        )
    word, name = _split_unit(number.rest, ounce)
    known = units(ounce)
    if not word:
        return _counted(number, name, line)
    if not name:
        return Fault("name-missing", f'"{line}" does not say what is poured', f'write "{line} dark rum"')
    measure = f"{number.text} {word}".strip()
    if _key(word) in _PARTS:
        if part_ml is None:
            return Fault(
                "part-not-set",
                f'"{line}" is measured in parts, and the spec does not say what a part is',
                'add a line such as "part: 25 ml" to the spec',
                measure,
            )
        return _sized(Unit("part", part_ml, None), number.value, measure, name, line)
    return _sized(known[_key(word)], number.value, measure, name, line)


def _sized(unit: Unit, value: float, measure: str, name: str, line: str) -> ParsedLine | Fault:
    volume_ml = None if unit.volume_ml is None else value * unit.volume_ml
    mass_g = None if unit.mass_g is None else value * unit.mass_g
    if not ((volume_ml or 0.0) <= _MOST_ML and (mass_g or 0.0) <= _MOST_G):
        return _too_large(line, measure)
    return ParsedLine(name, measure, unit.name, volume_ml, mass_g)


@lru_cache(maxsize=4096)
def _near_unit(word: str) -> str:
    """Return the unit a word was probably meant to be; empty where it is just a word. Specs repeat few of them.

    A pear is no part and a punch no pinch: the first letter must agree, and short words are too close to each other.
    """
    typed, words = _key(word), [*units("trade"), *_PARTS]
    if typed.removesuffix("s") in words:
        return typed.removesuffix("s")
    alike = [unit for unit in sorted(words) if unit[0] == typed[:1] and len(unit) > 3]
    return next(iter(get_close_matches(typed, alike, n=1, cutoff=_CLOSE)), "")


def _counted(number: Number, name: str, line: str) -> ParsedLine | Fault:
    if not name:
        return Fault(
            "name-missing", f'"{line}" does not say what is poured', 'write for instance "45 ml dark rum"'
        )
    if _TIMES.match(name):
        return Fault("not-a-number", f'"{line}" multiplies', 'write the whole amount, such as "50 ml gin"')
    first, _, others = name.partition(" ")
    if others and first.casefold() in _UNSIZED:
        return Fault(
            "unknown-unit",
            f'a "{first}" is not the same everywhere',
            f'write how much it is with you, such as "25 ml {others.removeprefix("of ")}"',
            first,
        )
    if others and (close := _near_unit(first)):
        return Fault(
            "unknown-unit",
            f'"{first}" is not a unit',
            f'write "{number.text} {close} {others.removeprefix("of ")}"',
            first,
        )
    if not number.value <= _MOST_PIECES:
        return _too_large(line, number.text)
    return ParsedLine(name, number.text, "each", count=number.value)


def _too_large(line: str, quote: str) -> Fault:
    return Fault(
        "measure-too-large",
        f'"{line}" is more than fits in any glass',
        "measures are for one drink; batches are worked out from them",
        quote,
    )


def _key(word: str) -> str:
    """Return a typed unit as it is listed: "fl. oz" and "Tsp." are written with dots and capitals too."""
    return word.casefold().replace(".", "")


def _split_unit(rest: str, ounce: OunceKind) -> tuple[str, str]:
    """Split "bar spoon of honey" into the unit as typed and the name; without a unit it is empty."""
    known = units(ounce)
    words = rest.split(" ")
    for length in (2, 1):
        word = " ".join(words[:length])
        if len(words) < length or not (_key(word) in known or _key(word) in _PARTS):
            continue
        left = words[length:]
        if left and left[0].casefold() == "of":
            left = left[1:]
        return word, " ".join(left)
    return "", rest
