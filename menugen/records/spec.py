"""One drink as it is made."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from menugen.problems import Place
from menugen.records.translation import SpecWords


class Role(Enum):
    """What a line does in the drink; every role can carry allergens and cost."""

    POUR = "pour"
    """Measured in before the ice does its work."""
    TOP = "top"
    """Poured last into the glass: a stated amount, or as much as reaches the wash line."""
    FLOAT = "float"
    """Laid on the surface."""
    RINSE = "rinse"
    """Coats the glass and is thrown out; a little stays."""
    INSIDE = "inside"
    """Sauce or syrup drawn on the inside of the glass."""
    RIM = "rim"
    GARNISH = "garnish"


@dataclass(frozen=True, slots=True)
class Measure:
    """How much of a thing a line asks for. Exactly one of the amounts is set, or none for "top with".

    Attributes:
        text: The measure as typed, "1 1/2 oz"; empty where the line states none.
        unit: The unit's name as in measures/bar_units.txt ("ml", "oz", "dash"), "part", "each" for counted things,
            "top" for "top with".
        volume_ml: Millilitres, more than 0.
        mass_g: Grams, more than 0 (sugar, salt).
        count: How many of a counted thing; stock says what one comes to.
    """

    text: str
    unit: str
    volume_ml: float | None = None
    mass_g: float | None = None
    count: float | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a spec: a measure of a named thing, not yet matched to a bottle.

    Attributes:
        name: The stock name or alias as typed, trimmed.
        measure: How much.
        role: What it does in the drink.
        note: A word for the bar beside the line; empty if none. Private.
        place: Where it was written.
    """

    name: str
    measure: Measure
    role: Role
    note: str
    place: Place


@dataclass(frozen=True, slots=True)
class MethodStep:
    """One step of the method, in order.

    Attributes:
        verb: One of METHODS in reading/keys/spec_keys.py ("shake", "dry shake", "stir", "build" ...).
        seconds: How long, where the spec says.
    """

    verb: str
    seconds: float | None = None


@dataclass(frozen=True, slots=True)
class Swap:
    """A stated alternative for one line.

    Attributes:
        replaces: The name of the line it takes the place of, as typed.
        line: What is used instead. A swap written without a measure has that of the line it replaces.
    """

    replaces: str
    line: Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """One drink as it is made.

    Attributes:
        slug: The file's name without ".md", NFC; what events list it by.
        name: As guests read it.
        lines: Pours, tops, floats, rinses, inside, rim and garnish, in the order of the file.
        method: Steps in order; empty means "build".
        strain: "fine", "single", "dump" or empty.
        glass: The glass's name as typed.
        ice: The ice in the glass as typed; empty means none.
        swaps: Stated alternatives.
        cautions: Ids of regions/data/cautions.yaml that belong to how it is made ("dry ice", "flaming"). None: nobody
            has said. Empty: there are none.
        family: The kind of drink it is compared with ("sour"); empty if not said.
        melt_ratio: Melt water over mix as the house measured it, by volume; None means worked out.
        source: Where the measures come from, for a classic; empty for the house's own.
        guest_notes: Markdown for guests; may be empty.
        bar_notes: Markdown under "## Bar notes". Private.
        comments: What stands in the guests' notes as a comment, in any language. Private.
        place: The document.
        translations: By BCP 47.
        melt_by_weight: Whether `melt_ratio` is one of weights and not of volumes.
        serves: How many guests one making is for: a bowl or a jug that they share, which is its glass. 1 where the
            spec does not say, and it is then one guest's drink.
    """

    slug: str
    name: str
    serves: int = 1
    lines: tuple[Line, ...]
    method: tuple[MethodStep, ...] = ()
    strain: str = ""
    glass: str
    ice: str = ""
    swaps: tuple[Swap, ...] = ()
    cautions: tuple[str, ...] | None = None
    family: str = ""
    melt_ratio: float | None = None
    melt_by_weight: bool = False
    source: str = ""
    translations: Mapping[str, SpecWords] = field(default_factory=dict)
    guest_notes: str = ""
    bar_notes: str = ""
    comments: tuple[str, ...] = ()
    place: Place
