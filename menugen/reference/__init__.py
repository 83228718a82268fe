"""Values by kind: what ordinary bottles hold, how ordinary glasses are shaped, how ice packs.

Comes in: a name as the user typed it. Goes out: the reference entry with its values, each with source and
status, or None. Knows nothing of records, physics or places; a house's own figures always win over these.
"""

from menugen.reference.glasses import ReferenceGlass, glass, glass_names
from menugen.reference.ice import ReferenceIce, ice, ice_names
from menugen.reference.ingredients import (
    ReferenceIngredient,
    ReferenceValue,
    ingredient,
    is_alcoholic_kind,
)
from menugen.reference.kept import PLACES, KeptAt, holds_gas, kept_at, usually_kept

__all__ = [
    "PLACES",
    "KeptAt",
    "ReferenceGlass",
    "ReferenceIce",
    "ReferenceIngredient",
    "ReferenceValue",
    "glass",
    "glass_names",
    "holds_gas",
    "ice",
    "ice_names",
    "ingredient",
    "is_alcoholic_kind",
    "kept_at",
    "usually_kept",
]
