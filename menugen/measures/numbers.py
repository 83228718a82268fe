"""Numbers as a bartender writes them: 45, 22.5, 1/2, ½, 1 1/2, 1½."""

import re
from typing import NamedTuple

from menugen.measures.fault import Fault

_VULGAR = {
    "¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅕": 1 / 5, "⅖": 2 / 5, "⅗": 3 / 5,
    "⅘": 4 / 5, "⅙": 1 / 6, "⅚": 5 / 6, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8,
}  # fmt: skip
_ONE_NUMBER = rf"""
    (?: (?P<whole>\d+) [ ]? )? (?P<vulgar>[{"".join(_VULGAR)}])
  | (?: (?P<mixed>\d+) [ ]+ )? (?P<above>\d+) [ ]? [/⁄] [ ]? (?P<below>\d+)
  | (?P<plain> \d+ (?:\.\d+)? | \.\d+ )
"""
_NUMBER = re.compile(_ONE_NUMBER, re.VERBOSE | re.ASCII)
_COMMA = re.compile(r"\d+,\d+", re.ASCII)
_RANGE = re.compile(
    r"(?P<low>[\d.]+|[¼½¾⅓⅔])\s*(?:[-–—]|\bto\b|\bor\b)\s*(?P<high>[\d.]+|[¼½¾⅓⅔])(?=\D|$)", re.ASCII
)
_SIGNED = re.compile(r"[-−–]\s*[\d.¼½¾⅓⅔]", re.ASCII)
_MORE_OF_A_NUMBER = re.compile(r"\s*[-–—.,/⁄]?\s*[\d¼½¾⅓⅔]", re.ASCII)


class Number(NamedTuple):
    """A number at the start of a text.

    Attributes:
        value: 0 or more.
        text: As typed.
        rest: What follows, trimmed on the left.
    """

    value: float
    text: str
    rest: str


def leading_number(text: str) -> Number | Fault | None:
    """Return the number a text begins with, what is wrong with it, or None where it begins with none."""
    if fault := _no_single_number(text):
        return fault
    if not text or not (text[0].isdigit() or text[0] in _VULGAR or (text[0] == "." and text[1:2].isdigit())):
        return None
    found = _NUMBER.match(text)
    if found is None:
        return Fault("not-a-number", f'"{text}" does not begin with a number', "use the digits 0 to 9")
    value = _value(found)
    if value is None or _MORE_OF_A_NUMBER.match(text, found.end()):
        return Fault("not-a-number", f'"{text}" does not begin with one number', 'write "1 1/2" or "1.5"')
    return Number(value, found.group().strip(), text[found.end() :].lstrip())


def parse_number(text: str) -> float | Fault:
    """Return the number a text consists of: 0 or more."""
    number = leading_number(text.strip())
    if isinstance(number, Fault):
        return number
    if number is None or number.rest:
        return Fault("not-a-number", f'"{text}" is not a number', "write the figure alone, such as 0.45")
    return number.value


def _no_single_number(text: str) -> Fault | None:
    """Return what is wrong with a number below zero, with a comma, or one of two."""
    if _SIGNED.match(text):
        return Fault("measure-not-positive", f'"{text}" is less than nothing', "write an amount above 0")
    if found := _COMMA.match(text):
        return _comma(found.group())
    if found := _RANGE.match(text):
        return Fault(
            "measure-range",
            f'"{found.group()}" is a range, and a drink is worked out from one amount',
            f'write the amount you pour, such as "{found["low"]}{_unit_after(text, found.end())}"',
            found.group(),
        )
    return None


def _value(found: re.Match[str]) -> float | None:
    """Return what the number comes to, or None for a fraction that is none (over zero, or "1 3/2")."""
    if (plain := found["plain"]) is not None:
        return float(plain)
    if (vulgar := found["vulgar"]) is not None:
        return float(found["whole"] or 0) + _VULGAR[vulgar]
    above, below = float(found["above"]), float(found["below"])
    if not 0 < below < 1000 or above > 1000 or (found["mixed"] is not None and above >= below):
        return None
    return float(found["mixed"] or 0) + above / below


def _comma(typed: str) -> Fault:
    """Return the fault of a decimal comma; three places may also be thousands, so both are offered."""
    whole, places = typed.split(",")
    hint = f'write "{whole}.{places}"'
    if len(places) == 3:
        hint = f'write "{whole}{places}" for thousands, "{whole}.{places}" for a decimal point'
    return Fault("decimal-comma", f'"{typed}" has a comma in the number', hint, typed)


def _unit_after(text: str, end: int) -> str:
    rest = text[end:]
    word = rest.split()[0] if rest.split() else ""
    return f" {word}" if rest[:1].isspace() and word else word
