"""What the operator owns, eats into and puts on glasses."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from menugen.problems import Place


@dataclass(frozen=True, slots=True)
class Concentration:
    """How much of something is dissolved, with the meaning the label gave it.

    Attributes:
        value: The figure as written.
        unit: "g/l" is grams per litre of the liquid; "brix" is grams of sucrose per 100 g;
            "% mass" is grams per 100 g; "g/100 ml" is what nutrition labels print.
    """

    value: float
    unit: Literal["g/l", "brix", "% mass", "g/100 ml"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLine:
    """One bottle, carton, fruit or preparation.

    Attributes:
        name: The key it stands under.
        aliases: Other names that specs may use for it.
        kind: A reference kind (reference/data/ingredients.yaml) whose values stand in for missing ones; empty if
            not said.
        bottle_ml: What one bottle or carton holds.
        bottle_g: The same for things bought by weight.
        each_ml: What one counted piece adds to the drink: an egg white, 30 ml. None: it adds no volume.
        each_g: The same for counted solids: a sugar cube, 4 g.
        pack: How many pieces are bought together; None for bottles.
        price: Price of one bottle or pack without tax. Private.
        supplier: Private.
        abv_percent: Strength on the label; None where nothing is stated.
        sugar, acid, fat: As labelled; None where nothing is stated.
        density_g_per_ml: As measured; None where nothing is stated.
        kept: Where it is kept until it is poured; empty where nothing is said, and then its kind decides.
        contains: Substances the label lists. None: nobody has read it. Empty: read, and it lists none.
        may_contain: Substances the label warns of.
        distilled_from: What a spirit was distilled from.
        fined_with: What it was cleared or processed with, none of which was meant to stay in it.
        sulphites_mg_per_l: Total sulphur dioxide, where known.
        cautions: Ids of regions/data/cautions.yaml. None: nobody has said, and what its kind is known for holds.
            Empty: looked at, and there are none.
        checked: When the label was read.
        colour: "#rrggbb" of the liquid; empty if not said.
        note: Private.
        place: The key.
    """

    name: str
    aliases: tuple[str, ...] = ()
    kind: str = ""
    bottle_ml: float | None = None
    bottle_g: float | None = None
    each_ml: float | None = None
    each_g: float | None = None
    pack: int | None = None
    price: Decimal | None = None
    supplier: str = ""
    abv_percent: float | None = None
    sugar: Concentration | None = None
    acid: Concentration | None = None
    fat: Concentration | None = None
    density_g_per_ml: float | None = None
    kept: Literal["", "fridge", "room", "freezer"] = ""
    contains: tuple[str, ...] | None = None
    may_contain: tuple[str, ...] = ()
    distilled_from: tuple[str, ...] = ()
    fined_with: tuple[str, ...] = ()
    sulphites_mg_per_l: float | None = None
    cautions: tuple[str, ...] | None = None
    checked: date | None = None
    colour: str = ""
    note: str = ""
    place: Place
