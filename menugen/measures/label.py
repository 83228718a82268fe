"""The figures on a label: sizes, strength, what is dissolved, density, sulphites."""

import re
from dataclasses import replace
from typing import Literal, NamedTuple

from menugen.measures.fault import Fault
from menugen.measures.numbers import leading_number
from menugen.measures.units import OunceKind, units

_LONGEST = 80
_LARGEST = 1_000_000.0
"""Millilitres or grams of one bottle, carton or piece."""
_LIGHTEST_G_PER_ML = 0.7
_HEAVIEST_G_PER_ML = 1.7
_MOST_SULPHITES_MG_PER_L = 2000.0
_MAY_BE_NONE = frozenset({"strength-form", "concentration-form", "sulphites-form"})
"""What a label may state as 0; a size or a density is more."""
_PERCENT = re.compile(r"%\s*(?:vol\.?|abv|by volume|alc\.?(?:/vol\.?)?)?", re.IGNORECASE)
_PROOF = re.compile(r"(?:us\s+)?proof", re.IGNORECASE)
_G_PER_L = re.compile(r"(?:g|grams?)\s*(?:/|per)\s*(?:l|litre|liter)", re.IGNORECASE)
_G_PER_100_ML = re.compile(r"(?:g|grams?)\s*(?:/|per)\s*100\s*ml", re.IGNORECASE)
_BRIX = re.compile(r"°?\s*(?:brix|bx)", re.IGNORECASE)
_MASS_PERCENT = re.compile(r"%(?:\s*(?:mass|by mass|w/w|m/m))?", re.IGNORECASE)
_DENSITY = re.compile(r"(?:g\s*/\s*ml|kg\s*/\s*l|g\s*/\s*cm(?:3|³))", re.IGNORECASE)
_SIDES_MM = {"mm": 1.0, "cm": 10.0}
_SMALLEST_CUBE_MM, _LARGEST_CUBE_MM = 5.0, 120.0
_ICE_G_PER_MM3 = 917e-6
"""Solid ice at 0 C, as in mixing/ice.py."""
_SULPHITES = re.compile(r"(?:mg\s*(?:/|per)\s*(?:l|litre|liter)|ppm)", re.IGNORECASE)

ConcentrationUnit = Literal["g/l", "brix", "% mass", "g/100 ml"]
"""Grams per litre, grams of sucrose per 100 g, grams per 100 g, and what nutrition labels print."""

_CONCENTRATIONS: tuple[tuple[re.Pattern[str], ConcentrationUnit, float], ...] = (
    (_G_PER_L, "g/l", 2000.0),
    (_G_PER_100_ML, "g/100 ml", 200.0),
    (_BRIX, "brix", 100.0),
    (_MASS_PERCENT, "% mass", 100.0),
)


class Size(NamedTuple):
    """What one bottle, carton or piece holds; exactly one of the two is set."""

    volume_ml: float | None
    mass_g: float | None


class _Figure(NamedTuple):
    value: float
    unit: str


def parse_volume(text: str, *, ounce: OunceKind = "trade") -> float | Fault:
    """Return the millilitres of "700 ml", "70 cl" or "1 oz"; more than 0."""
    size = _size(text, ounce, "700 ml")
    if isinstance(size, Fault):
        return size
    if size.volume_ml is None:
        return Fault("size-form", f'"{text}" is a weight, and a volume is asked for', 'write it as "30 ml"')
    return size.volume_ml


def parse_size(text: str, *, ounce: OunceKind = "trade") -> Size | Fault:
    """Return what "700 ml", "1 kg" or "4 g" comes to; more than 0."""
    return _size(text, ounce, "700 ml", "1 kg")


def _size(text: str, ounce: OunceKind, *examples: str) -> Size | Fault:
    figure = _figure(text, "size-form", "a size", *examples)
    if isinstance(figure, Fault):
        return figure
    unit = units(ounce).get(figure.unit.casefold())
    if unit is None:
        return _no_unit(text, figure, "size-form", "a size", *examples)
    volume_ml = None if unit.volume_ml is None else figure.value * unit.volume_ml
    mass_g = None if unit.mass_g is None else figure.value * unit.mass_g
    amount = volume_ml if volume_ml is not None else (mass_g or 0.0)
    if not 0 < amount <= _LARGEST:
        return Fault("figure-out-of-range", f'"{text}" is no size of a bottle or a piece', "check the figure")
    return Size(volume_ml, mass_g)


def parse_strength(text: str) -> float | Fault:
    """Return the alcohol by volume in percent, 0 to 100, of "24 %", "24% vol" or "80 proof" (US scale)."""
    figure = _figure(text, "strength-form", "a strength", "24 %")
    if isinstance(figure, Fault):
        return figure
    if _PERCENT.fullmatch(figure.unit):
        percent = figure.value
    elif _PROOF.fullmatch(figure.unit):
        # 27 CFR 5.1: US proof is twice the percentage of alcohol by volume.
        percent = figure.value / 2
    elif "proof" in figure.unit.casefold():
        return Fault(
            "strength-form",
            f'"{text}" can be the US or the British scale of proof',
            'write the percentage the label gives, such as "40 %", or "80 proof" for the US scale',
        )
    else:
        return _no_unit(text, figure, "strength-form", "a strength", "24 %")
    if not percent <= 100:
        return Fault("figure-out-of-range", f'"{text}" is stronger than pure alcohol', "check the figure")
    return percent


def parse_concentration(text: str) -> tuple[float, ConcentrationUnit] | Fault:
    """Return how much is dissolved: the figure and "g/l", "brix", "% mass" or "g/100 ml"; 0 or more."""
    examples = ("240 g/l", "11 g/100 ml", "50 brix", "12 %")
    figure = _figure(text, "concentration-form", "how much is dissolved", *examples)
    if isinstance(figure, Fault):
        return figure
    for shape, unit, most in _CONCENTRATIONS:
        if shape.fullmatch(figure.unit):
            if not figure.value <= most:
                return Fault(
                    "figure-out-of-range", f'"{text}" is more than can be dissolved', "check the figure"
                )
            return figure.value, unit
    return _no_unit(text, figure, "concentration-form", "how much is dissolved", *examples)


def parse_density(text: str) -> float | Fault:
    """Return grams per millilitre of "1.03 g/ml"; 0.7 to 1.7, what a drink can have."""
    figure = _figure(text, "density-form", "a density", "1.03 g/ml")
    if isinstance(figure, Fault):
        return figure
    if not _DENSITY.fullmatch(figure.unit):
        return _no_unit(text, figure, "density-form", "a density", "1.03 g/ml")
    if not _LIGHTEST_G_PER_ML <= figure.value <= _HEAVIEST_G_PER_ML:
        return Fault(
            "figure-out-of-range",
            f'"{text}" is no density of a drink',
            "water has 1 g/ml, spirits a little less, syrups up to about 1.4",
        )
    return figure.value


def parse_cube(text: str) -> float | Fault:
    """Return what a cube of ice weighs in grams, of its side, "25 mm", or of its weight, "14 g"."""
    figure = _figure(text, "cube-form", "the size of a cube of ice", "25 mm", "14 g")
    if isinstance(figure, Fault):
        return figure
    unit = figure.unit.casefold()
    if unit in _SIDES_MM:
        mass_g = _ICE_G_PER_MM3 * (figure.value * _SIDES_MM[unit]) ** 3
    elif unit in ("g", "gram", "grams"):
        mass_g = figure.value
    else:
        return _no_unit(text, figure, "cube-form", "the size of a cube of ice", "25 mm", "14 g")
    if not _ICE_G_PER_MM3 * _SMALLEST_CUBE_MM**3 <= mass_g <= _ICE_G_PER_MM3 * _LARGEST_CUBE_MM**3:
        return Fault(
            "figure-out-of-range",
            f'"{text}" is no size of a cube of ice in a glass',
            "write the side of one cube, such as 25 mm, or what one weighs, such as 14 g",
        )
    return mass_g


def parse_sulphites(text: str) -> float | Fault:
    """Return milligrams of total sulphur dioxide per litre of "35 mg/l" or "35 ppm"; 0 or more."""
    figure = _figure(text, "sulphites-form", "an amount of sulphites", "35 mg/l")
    if isinstance(figure, Fault):
        return figure
    if not _SULPHITES.fullmatch(figure.unit):
        return _no_unit(text, figure, "sulphites-form", "an amount of sulphites", "35 mg/l")
    if not figure.value <= _MOST_SULPHITES_MG_PER_L:
        return Fault(
            "figure-out-of-range", f'"{text}" is far more sulphites than a drink holds', "check the figure"
        )
    return figure.value


def _figure(text: str, code: str, what: str, *examples: str) -> _Figure | Fault:
    if len(text) > _LONGEST:
        return Fault(code, f"this is too long for {what}", _write(examples))
    number = leading_number(" ".join(text.split()))
    if isinstance(number, Fault):
        if number.code == "measure-not-positive" and code in _MAY_BE_NONE:
            return replace(number, hint="write an amount of 0 or more")
        return number
    if number is None:
        return Fault(code, f'"{text}" is not {what}', _write(examples))
    return _Figure(number.value, number.rest)


def _no_unit(text: str, figure: _Figure, code: str, what: str, *examples: str) -> Fault:
    if not figure.unit:
        with_units = tuple(f"{text.strip()} {example.partition(' ')[2]}" for example in examples)
        return Fault(code, f'"{text}" has no unit', _write(with_units))
    return Fault(code, f'"{text}" is not {what}', _write(examples), figure.unit)


def _write(examples: tuple[str, ...]) -> str:
    return "write it as " + " or ".join(f'"{example}"' for example in examples)
