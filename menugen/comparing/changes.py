"""The one kind of change: what is said of a drink, a stock line, an event or the house, before and now, and why."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from menugen.problems import Problem

LEVELS = ("", "distilled from", "may contain", "contains")
"""How a menu speaks of a substance in a drink, the gravest last; empty where it does not name it."""

READ, NOT_READ = "read", "not read"
"""What is said of a label in a drink."""

REPLACED = "replaced"
"""Said of a swap in whose place another thing is offered now."""

Kind = Literal[
    # what guests are warned of; "unread" is a label in a drink, "not on cards" a drink that cards in print do not have
    "allergen", "listing", "caution", "swap", "kitchen", "unread", "not on cards",
    # what a spec asks for, and which bottle fills a line of it
    "name", "file", "measure", "making", "bottle",
    # what a drink comes to, one of the compared facts of drink_facts/
    "figure",
    # what one event's menu says of a drink
    "on the menu", "price",
    # a sentence of a stock line, an event or the house
    "says",
    # there or not: "unknown" is what has a fault in one of the houses, so that nobody can say what changed
    "added", "gone", "unknown",
]  # fmt: skip


class Subject(NamedTuple):
    """What a change is about.

    Attributes:
        sort: Which of the four it is.
        name: As guests read it now, or as stock has it; empty where it is gone.
        id: Its file's name now; empty where it is gone, and of stock and the house.
        old_name: What it was called; empty where it was not there, or nobody knows.
        old_id: Its file's name then; empty as old_name.
    """

    sort: Literal["drink", "stock", "event", "house"]
    name: str = ""
    id: str = ""
    old_name: str = ""
    old_id: str = ""


HOUSE = Subject("house")


class Cause(NamedTuple):
    """Why a fact changed.

    Attributes:
        subject: What it is about, in a word: "gin", "method".
        text: All of it: "gin 50 ml -> 55 ml", "shore gin: contains + almond".
        thing: The change that also says it: the name of a stock line, "gin -> other gin" of a bottle, or how a sentence
            of an event or of the house begins, "region GB-ENG -> IE". Empty where the drink's own spec is the cause.
        said: What the label of the stock line `subject` said and says no longer, in its own word: "contains almonds".
        says: What it says now and did not say. Both are empty where no word of a label is the cause.
    """

    subject: str
    text: str
    thing: str = ""
    said: str = ""
    says: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not as it was.

    Attributes:
        kind: What it is.
        subject: What it is about, under the name guests know it by: what has that name now, and what had it then.
        before: What was said, as shown, with its unit; one of LEVELS of an allergen; empty where nothing was.
        after: The same now. Of "unknown", `before` and `after` are what the houses with the fault are called, either or
            both. Of "unread", `after` is NOT_READ, and `before` READ or NOT_READ. Of "not on cards", `after` is the
            version the cards carry. Of an event that is new, `after` is its day, ISO 8601.
        causes: Why; empty where the change is its own cause, as a measure is.
        where: Where it holds, empty for everywhere it was compared. Of a drink, the events; of a stock line, the names
            of the drinks on a menu it is poured in, swaps included; of an event that is new, those on its menu.
        fact: Which one it is where a drink has several: a substance's id, a caution's, a figure's name, the key of the
            spec that says how it is made, the name in the spec of what a bottle fills, the stock line that is unread,
            what is shared; REPLACED of a swap in whose place another thing is offered.
        word: How the menu says that: "almonds".
        swap: "aquafaba instead of egg white" where only the drink with that swap is concerned; empty for the drink as
            written.
        languages: Of a menu, where not all of its languages are concerned: two drinks may exchange one translation.
        unlisted: Whether no menu has it: so the house itself would make the drink.
        would: Of a stock line, the names of the drinks that would pour it and are on no menu, or are poured otherwise
            there.
    """

    kind: Kind
    subject: Subject
    before: str = ""
    after: str = ""
    causes: tuple[Cause, ...] = ()
    where: tuple[str, ...] = ()
    fact: str = ""
    word: str = ""
    swap: str = ""
    languages: tuple[str, ...] = ()
    unlisted: bool = False
    would: tuple[str, ...] = ()

    @property
    def gained(self) -> bool:
        """Whether guests are warned of more than before."""
        return level(self.after) > level(self.before)

    @property
    def called(self) -> str:
        """What is not as it was, in a word: "strength", "measure"."""
        return self.fact if self.kind in ("figure", "making") else self.kind

    @property
    def is_allergen(self) -> bool:
        """Whether it is a substance that is declared differently."""
        return self.kind == "allergen"


def told_otherwise(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return what makes guests be told otherwise, or may: all that a guard of allergens stops for.

    What could not be compared may hide anything; a choice that is gone may have been somebody's way round an allergen.
    """
    return tuple(one for one in changes if _is_told_otherwise(one))


def _is_told_otherwise(one: Change) -> bool:
    if one.subject.sort == "drink" and one.kind in ("allergen", "listing", "caution"):
        # Of a drink that is new it is what it holds, and not how it was changed.
        return bool(one.subject.old_id)
    if one.kind == "swap":
        return bool(one.before) and (not one.after or one.fact == REPLACED)
    if one.kind == "unread":
        return one.after == NOT_READ
    return one.kind in ("unknown", "kitchen", "not on cards")


def level(said: str) -> int:
    """Return how grave it is what a menu says; any other text weighs as much as what is contained."""
    return LEVELS.index(said) if said in LEVELS else len(LEVELS) - 1


def by_subject(changes: Iterable[Change]) -> dict[Subject, tuple[Change, ...]]:
    """Return the changes of each thing, in the order in which they come."""
    found: dict[Subject, list[Change]] = {}
    for change in changes:
        found.setdefault(change.subject, []).append(change)
    return {subject: tuple(of_it) for subject, of_it in found.items()}


def drinks_in(changes: Iterable[Change]) -> dict[Subject, tuple[Change, ...]]:
    """Return what changed of each drink that was there before and is there now."""
    return by_subject(
        one for one in changes if one.subject.sort == "drink" and one.subject.id and one.subject.old_id
    )


def bottle_thing(before: str, after: str) -> str:
    """Return what a cause calls a bottle that took another's place."""
    return f"{before} -> {after}"


@dataclass(frozen=True, slots=True)
class ComparedHouse:
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
    """Two houses compared.

    Attributes:
        old: The older house.
        new: The newer one.
        changes: Every change once; those of drinks by the drink's name. What is known of a drink that is new, or had a
            fault, follows on its "added" or "unknown".
        notes: What the reader must know of the comparison itself: a merge half done, files that could not be read.
        readable: Whether both houses could be read at all.
    """

    old: ComparedHouse
    new: ComparedHouse
    changes: tuple[Change, ...]
    notes: tuple[str, ...]
    readable: bool = True

    @property
    def drinks(self) -> Mapping[Subject, tuple[Change, ...]]:
        """What changed of each drink that both houses have."""
        return drinks_in(self.changes)

    def of(self, sort: str, *kinds: Kind) -> Iterator[Change]:
        """Yield the changes of these kinds that are about drinks, stock, events or the house."""
        return (one for one in self.changes if one.subject.sort == sort and one.kind in kinds)

    def known_of(self, change: Change) -> tuple[Change, ...]:
        """Return what else is known of a drink that is new, or has a fault."""
        return tuple(
            one
            for one in self.changes
            if one.subject == change.subject and one.kind in ("figure", "allergen")
        )
