"""What is said of one fact of a drink, and where: the shape of a line of the table."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, NamedTuple

from menugen.bar import Cost, serve_cost
from menugen.facts import DrinkFacts, FamilyPlane, OneServe, Serve, TasteFacts, one_serve, taste_of
from menugen.records import Event, MenuEntry
from menugen.regions import Region
from menugen.report import Row


class AtEvent(NamedTuple):
    """A drink on an event's menu, and the currency its guests pay in (ISO 4217)."""

    event: Event
    entry: MenuEntry
    currency: str


class MenuWords(NamedTuple):
    """What an English menu says of a way of making a drink.

    Attributes:
        strength: "about 14 %".
        units: "1.4 units"; empty without alcohol.
    """

    strength: str
    units: str


_NOTHING = MenuWords("", "")


@dataclass(frozen=True)
class Way:
    """One way of making a drink, with all that its facts are read from.

    Attributes:
        serve: This way: as written, or with a swap.
        facts: The drink.
        region: The rules it was worked out with.
        currency: Of its cost, ISO 4217; empty where not known.
        says: What the menu says of it; empty texts where nobody asks.
        at: The drink on an event's menu; None at home, and where the event does not list it.
        family: Where it stands in its family; None where that is not asked, or it has none.
    """

    serve: Serve
    facts: DrinkFacts
    region: Region
    currency: str = ""
    says: MenuWords = _NOTHING
    at: AtEvent | None = None
    family: FamilyPlane | None = None

    @cached_property
    def taste(self) -> TasteFacts:
        """Sugar, acid, energy and the rest, each with its range."""
        return taste_of(self.serve, self.region.energy_factors)

    @cached_property
    def one(self) -> OneServe:
        """One guest's part; all of it where nobody shares it."""
        return one_serve(self.serve, self.taste)

    @cached_property
    def cost(self) -> Cost:
        """What it costs to make."""
        return serve_cost(self.serve)


class Value(NamedTuple):
    """What is compared, and how it is shown: no difference is reported between two values that read alike."""

    value: float | str
    show: Callable[[], str]


class Compared(NamedTuple):
    """A fact that `menugen compare` reports.

    Attributes:
        name: "strength"; the `fact` of a change in JSON.
        of: Its value, as fine as it is shown.
        bears_on: What of a line moves it: "amount", "strength", "alcohol", "kind", "sugar", "acid", "cost", "named",
            or the name of a key of a stock line.
        rules: The field of a place's rules that moves it; empty where none does.
        says_itself: Whether its value needs no name before it: "2.2 -> 2.7 units".
        of_shared: Whether it is a fact of shared drinks alone.
    """

    name: str
    of: Callable[[Way], Value]
    bears_on: tuple[str, ...]
    rules: str = ""
    says_itself: bool = False
    of_shared: bool = False


class WordList(NamedTuple):
    """Words of which each may come or go with a change: `menugen drink --set`.

    Attributes:
        name: "Contains".
        words: Those of one way of making the drink.
        by_label: Whether a label that nobody has read may add some.
    """

    name: str
    words: Callable[[Serve], Sequence[str]]
    by_label: bool = True


class ToldGuests(NamedTuple):
    """What guests are told where it holds: on the page, and as true or false in `menu.json`.

    It is read from the drink alone, never from what it costs.

    Attributes:
        key: "vegan", in `menu.json`.
        text: What the page says where it holds, in English: the key of its translations.
        holds: Whether it is known to hold; False as soon as anything is not known.
    """

    key: str
    text: str
    holds: Callable[[Serve], bool]


def _no_rows(_: Way) -> Iterable[Row]:
    return ()


def _no_data(_: Way) -> Mapping[str, Any]:
    return {}


def _no_words(_: Way) -> str:
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One fact of a drink, and how it is said everywhere; what is left out is not said there.

    Attributes:
        name: What it is called in the table.
        rows: In the text of `menugen drink`, whose order is the table's.
        part: In which of the two paragraphs: of how it is made, or of what it contains and costs.
        data: In JSON, of every way to make the drink.
        one_serve: The same of one guest's part of a shared drink.
        phrase: In one line about a swap.
        lists: Words that a change brings in or takes out.
        compared: What `menugen compare` reports.
        guests: What guests are told.
    """

    name: str
    rows: Callable[[Way], Iterable[Row]] = _no_rows
    part: Literal["making", "contents"] = "making"
    data: Callable[[Way], Mapping[str, Any]] = _no_data
    one_serve: Callable[[Way], Mapping[str, Any]] = _no_data
    phrase: Callable[[Way], str] = _no_words
    lists: tuple[WordList, ...] = ()
    compared: tuple[Compared, ...] = ()
    guests: ToldGuests | None = None
