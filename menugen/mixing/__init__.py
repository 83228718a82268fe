"""Pure physics of a mixed drink: strength, volume, water from ice, sugar, acid, energy, glass fit.

Comes in: plain floats whose names carry the unit, and liquids made of them. Goes out: the same, and figures
with their range. Knows nothing of files, rules of places, bottles, specs or any library outside the standard
one. Every constant names its source beside it; tests/outside/ holds the published values it must meet.
"""

from menugen.mixing.balance import Conditions
from menugen.mixing.dilution import MELT_BASES, MIXED_APART, VERBS, Step, is_worked_on_ice
from menugen.mixing.drink import Made, after_minutes_on_ice, make
from menugen.mixing.energy import Energy, energy
from menugen.mixing.figure import Figure
from menugen.mixing.glass import (
    GlassFit,
    cube_goes_in,
    fit,
    height_of_ml,
    liquid_room_ml,
    liquid_to_ml,
    volume_to_mm,
)
from menugen.mixing.ice import CUBE_MM, ICE_KG_PER_M3, ICE_KINDS, LARGE_CUBE_MM, cube_g, cube_mm
from menugen.mixing.liquid import Liquid, liquid_from_label, mix, scaled, sucrose_solid, water
from menugen.mixing.sucrose import brix_to_g_per_l, g_per_l_to_brix
from menugen.mixing.taste import sugar_g_per_l, titratable_acid_g_per_l

__all__ = [
    "CUBE_MM",
    "ICE_KG_PER_M3",
    "ICE_KINDS",
    "LARGE_CUBE_MM",
    "MELT_BASES",
    "MIXED_APART",
    "VERBS",
    "Conditions",
    "Energy",
    "Figure",
    "GlassFit",
    "Liquid",
    "Made",
    "Step",
    "after_minutes_on_ice",
    "brix_to_g_per_l",
    "cube_g",
    "cube_goes_in",
    "cube_mm",
    "energy",
    "fit",
    "g_per_l_to_brix",
    "height_of_ml",
    "is_worked_on_ice",
    "liquid_from_label",
    "liquid_room_ml",
    "liquid_to_ml",
    "make",
    "mix",
    "scaled",
    "sucrose_solid",
    "sugar_g_per_l",
    "titratable_acid_g_per_l",
    "volume_to_mm",
    "water",
]
