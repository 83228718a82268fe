"""One bottle's part in a drink, as rules on ages and prices look at it."""

from typing import NamedTuple


class PouredAlcohol(NamedTuple):
    """A pour with alcohol in it, or a garnish or rim that holds some.

    Attributes:
        kind: The class of its kind of ingredient, "spirit" or "beer"; empty where not known.
        volume_ml: Poured; 0 for what is on the glass and not in the drink.
        abv_percent: Strength of the bottle, more than 0.
    """

    kind: str
    volume_ml: float
    abv_percent: float
