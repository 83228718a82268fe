"""What a measure says: "1½ oz" to millilitres and back, and the figures a label prints.

Comes in: text as typed. Goes out: plain floats with the unit in the name, or a Fault in plain words.
Knows nothing of: files, places, records. pint lives here alone, and loads when first needed.
"""

from menugen.measures.fault import Fault
from menugen.measures.label import (
    ConcentrationUnit,
    Size,
    parse_concentration,
    parse_cube,
    parse_density,
    parse_size,
    parse_strength,
    parse_sulphites,
    parse_volume,
)
from menugen.measures.line import ParsedLine, parse_line
from menugen.measures.numbers import parse_number
from menugen.measures.show import show_ml, show_ounces
from menugen.measures.units import OunceKind, ounce_ml

__all__ = [
    "ConcentrationUnit",
    "Fault",
    "OunceKind",
    "ParsedLine",
    "Size",
    "ounce_ml",
    "parse_concentration",
    "parse_cube",
    "parse_density",
    "parse_line",
    "parse_number",
    "parse_size",
    "parse_strength",
    "parse_sulphites",
    "parse_volume",
    "show_ml",
    "show_ounces",
]
