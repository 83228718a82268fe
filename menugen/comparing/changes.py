"""What changed between two houses, as records: each change once, with its cause."""

from dataclasses import dataclass
from enum import IntEnum

from menugen.problems import Problem


class Declared(IntEnum):
    """How a menu speaks of a substance in a drink; more is graver."""

    NOT = 0
    DISTILLED_FROM = 1
    MAY_CONTAIN = 2
    CONTAINS = 3


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a fact moved.

    Attributes:
        subject: What it is about, in a word: "gin", "method".
        text: All of it: "gin 50 ml -> 55 ml", "shore gin: contains + almond".
        thing: What else tells of it: the `thing` of a BottleMove or a StockMove, or how a phrase of an event or of the
            house begins, "region GB-ENG -> IE", "glass coupe". Empty where the drink's own spec is the cause.
    """

    subject: str
    text: str
    thing: str = ""


@dataclass(frozen=True, slots=True)
class AllergenMove:
    """One substance that a drink is declared with differently.

    Attributes:
        substance: Its id, "almond".
        word: What the menu says, "almonds".
        before: How it was declared.
        after: How it is declared now.
        swap: "aquafaba instead of egg white" where only the drink with that swap is concerned; empty for the drink as
            written.
        causes: Why: "harbour gin -> shore gin".
        where: The events it holds at; empty means everywhere the drink was compared.
    """

    substance: str
    word: str
    before: Declared
    after: Declared
    swap: str
    causes: tuple[Cause, ...]
    where: tuple[str, ...] = ()

    @property
    def gained(self) -> bool:
        """Whether the menu warns of more than before."""
        return self.after > self.before


@dataclass(frozen=True, slots=True)
class Move:
    """One other fact of a drink that is not what it was.

    Attributes:
        fact: What it is called: "strength", "cost", "measure", "method".
        before: As shown, with its unit; empty where there was none.
        after: The same now.
        swap: As in AllergenMove.
        causes: As in AllergenMove; empty where the move is its own cause, as a measure is.
        where: As in AllergenMove.
    """

    fact: str
    before: str
    after: str
    swap: str = ""
    causes: tuple[Cause, ...] = ()
    where: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DrinkMoves:
    """One drink that is in both houses, and what moved.

    Attributes:
        slug: Its file's name in the newer house.
        name: As guests read it now.
        old_slug: Its name in the older house; the same unless it was renamed.
        old_name: As guests read it then.
        allergens: Gravest first.
        moves: In the order they are shown.
        bottles: Bottles that fill a line of it differently: (name in the spec, bottle before, bottle now).
    """

    slug: str
    name: str
    old_slug: str
    old_name: str
    allergens: tuple[AllergenMove, ...]
    moves: tuple[Move, ...]
    bottles: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class NewDrink:
    """A drink only the newer house has.

    Attributes:
        slug: Its file's name.
        name: As guests read it.
        strength: "18.1 % vol"; empty where it could not be worked out.
        contains: The menu's words for what it contains.
        may_contain: The same for what it may contain.
        distilled_from: The same for what spirits in it were distilled from.
    """

    slug: str
    name: str
    strength: str = ""
    contains: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    distilled_from: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Unseen:
    """A drink, or an event, of which nobody can say what changed.

    Attributes:
        fault_in: What the house is called in which it has a fault.
        now: It as it is, as far as that is known.
    """

    fault_in: str
    now: NewDrink


@dataclass(frozen=True, slots=True)
class StockMove:
    """One stock line that says something else now.

    Attributes:
        name: Its name.
        what: A phrase for each thing that changed: "40 -> 43 % vol", "label read again 2026-11-20".
        reaches: Names of the drinks it is poured in, in order; swaps count.
    """

    name: str
    what: tuple[str, ...]
    reaches: tuple[str, ...]

    @property
    def thing(self) -> str:
        """What a cause calls it."""
        return self.name


@dataclass(frozen=True, slots=True)
class BottleMove:
    """One bottle that took the place of another.

    Attributes:
        name: What the specs call it; empty where they name the bottle itself.
        before: The bottle.
        after: The bottle now.
        reaches: Names of the drinks it is poured in, in order.
    """

    name: str
    before: str
    after: str
    reaches: tuple[str, ...]

    @property
    def thing(self) -> str:
        """What a cause calls it."""
        return bottle_thing(self.before, self.after)


def bottle_thing(before: str, after: str) -> str:
    """Return what a cause calls a bottle that took another's place."""
    return f"{before} -> {after}"


@dataclass(frozen=True, slots=True)
class EventMoves:
    """One event, and what its menu says differently.

    Attributes:
        slug: The event's file's name now.
        name: As guests read it.
        what: A phrase each: "on the menu now: Fog Bell", "Marsh Sour: 9.50 -> 10.00 GBP".
    """

    slug: str
    name: str
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two houses.

    Attributes:
        label: What it is called: "7f3a2c1 (2026-11-20, Swap the gin)", "the files as they lie".
        revision: Full hash; empty for the files as they lie.
        errors: What keeps parts of it from being read or worked out.
    """

    label: str
    revision: str
    errors: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two houses compared; every change once.

    Attributes:
        old: The older house.
        new: The newer one.
        added: Drinks only the newer house has.
        gone: (slug, name) of drinks only the older house has.
        unseen: Drinks of both houses that cannot be compared.
        events_unseen: Events of both houses that cannot be compared, by slug and name.
        drinks: Those in both with something moved, by name.
        bottles: Bottles that took another's place.
        stock: Stock lines that say something else.
        stock_renamed: (name then, name now) of stock lines that are called otherwise.
        stock_added: Names only the newer house has in stock.
        stock_gone: Names only the older house has in stock.
        house: What house.yaml says differently.
        events_added: Names of events.
        events_gone: Names of events.
        events: Those in both with something moved.
        notes: What the reader must know of the comparison itself: a merge half done, drinks that could not be compared.
        readable: Whether both houses could be read at all.
    """

    old: Side
    new: Side
    added: tuple[NewDrink, ...]
    gone: tuple[tuple[str, str], ...]
    unseen: tuple[Unseen, ...]
    events_unseen: tuple[Unseen, ...]
    drinks: tuple[DrinkMoves, ...]
    bottles: tuple[BottleMove, ...]
    stock: tuple[StockMove, ...]
    stock_renamed: tuple[tuple[str, str], ...]
    stock_added: tuple[str, ...]
    stock_gone: tuple[str, ...]
    house: tuple[str, ...]
    events_added: tuple[str, ...]
    events_gone: tuple[str, ...]
    events: tuple[EventMoves, ...]
    notes: tuple[str, ...]
    readable: bool = True

    @property
    def nothing(self) -> bool:
        """Whether no fact changed at all."""
        return not any(
            (
                self.added,
                self.gone,
                self.unseen,
                self.events_unseen,
                self.drinks,
                self.bottles,
                self.stock,
                self.stock_renamed,
                self.stock_added,
                self.stock_gone,
                self.house,
                self.events_added,
                self.events_gone,
                self.events,
            )
        )
