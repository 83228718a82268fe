"""Pure physics of a mixed drink: strength, volume, water from ice, sugar, acid, energy, glass fit.

Comes in: plain floats whose names carry the unit, and liquids made of them. Goes out: the same, and figures
with their range. Knows nothing of files, rules of places, bottles, specs or any library outside the standard
one. Every constant names its source beside it; tests/outside/ holds the published values it must meet.
"""

from menugen.mixing.balance import ICE_MELTING_J_PER_G, STANDARD, Conditions, heat_capacity_j_per_k
from menugen.mixing.dilution import (
    EQUATIONS_FROM,
    EQUATIONS_TO,
    FLOOR_SOURCE,
    MELT_BASES,
    MIXED_APART,
    SHAKEN,
    STIRRED,
    VERBS,
    Step,
    ceiling_ratio,
    floor_ratio,
    is_worked_on_ice,
    melt_of,
)
from menugen.mixing.drink import (
    ICE_IN_A_GLASS_G,
    JIGGER_TOLERANCE,
    LABEL_TOLERANCE_PERCENT_VOL,
    MELT_G_PER_MINUTE,
    MODEL_TOLERANCE,
    Made,
    after_minutes_on_ice,
    make,
)
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
from menugen.mixing.ice import (
    CUBE_MM,
    ICE_KG_PER_M3,
    ICE_KINDS,
    LARGE_CUBE_MM,
    LEAST_FILL,
    USUAL_FILL,
    cube_g,
    cube_mm,
    least_share,
    usual_share,
)
from menugen.mixing.liquid import (
    FAT_ML_PER_G,
    SOLIDS_ML_PER_G,
    SUGAR_ML_PER_G,
    Liquid,
    liquid_from_label,
    mix,
    scaled,
    sucrose_solid,
    water,
)
from menugen.mixing.oiml import ETHANOL_G_PER_ML, WATER_G_PER_ML, density_at_20_c_g_per_ml
from menugen.mixing.sucrose import brix_to_g_per_l
from menugen.mixing.taste import sugar_g_per_l, titratable_acid_g_per_l

__all__ = [
    "CUBE_MM",
    "EQUATIONS_FROM",
    "EQUATIONS_TO",
    "ETHANOL_G_PER_ML",
    "FAT_ML_PER_G",
    "FLOOR_SOURCE",
    "ICE_IN_A_GLASS_G",
    "ICE_KG_PER_M3",
    "ICE_KINDS",
    "ICE_MELTING_J_PER_G",
    "JIGGER_TOLERANCE",
    "LABEL_TOLERANCE_PERCENT_VOL",
    "LARGE_CUBE_MM",
    "LEAST_FILL",
    "MELT_BASES",
    "MELT_G_PER_MINUTE",
    "MIXED_APART",
    "MODEL_TOLERANCE",
    "SHAKEN",
    "SOLIDS_ML_PER_G",
    "STANDARD",
    "STIRRED",
    "SUGAR_ML_PER_G",
    "USUAL_FILL",
    "VERBS",
    "WATER_G_PER_ML",
    "Conditions",
    "Energy",
    "Figure",
    "GlassFit",
    "Liquid",
    "Made",
    "Step",
    "after_minutes_on_ice",
    "brix_to_g_per_l",
    "ceiling_ratio",
    "cube_g",
    "cube_goes_in",
    "cube_mm",
    "density_at_20_c_g_per_ml",
    "energy",
    "fit",
    "floor_ratio",
    "heat_capacity_j_per_k",
    "height_of_ml",
    "is_worked_on_ice",
    "least_share",
    "liquid_from_label",
    "liquid_room_ml",
    "liquid_to_ml",
    "make",
    "melt_of",
    "mix",
    "scaled",
    "sucrose_solid",
    "sugar_g_per_l",
    "titratable_acid_g_per_l",
    "usual_share",
    "volume_to_mm",
    "water",
]
