"""Values by kind: what ordinary bottles hold, how ordinary glasses are shaped, how ice packs.

Comes in: a name as the user typed it. Goes out: the reference entry with its values, each with source and
status, or None. Knows nothing of records, physics or places; a house's own figures always win over these.
"""

from menugen.reference.cautions import (
    made_cautions,
    noted_cautions,
    usual_cautions,
    words_of_caution,
)
from menugen.reference.glasses import ReferenceGlass, glass, glass_names
from menugen.reference.ice import ReferenceIce, ice
from menugen.reference.ingredients import (
    ReferenceIngredient,
    ReferenceValue,
    ingredient,
    is_alcoholic_kind,
    is_kind,
    kind_names,
    kinds_of_class,
    made_as,
)
from menugen.reference.kept import PLACES, KeptAt, holds_gas, kept_at, usually_kept
from menugen.reference.no_alcohol import is_known_without_alcohol, names_alcohol

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
    "ingredient",
    "is_alcoholic_kind",
    "is_kind",
    "is_known_without_alcohol",
    "kept_at",
    "kind_names",
    "kinds_of_class",
    "made_as",
    "made_cautions",
    "names_alcohol",
    "noted_cautions",
    "usual_cautions",
    "usually_kept",
    "words_of_caution",
]
