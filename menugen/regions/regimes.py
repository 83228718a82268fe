"""What a law makes a bar declare, as it stands on a day."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from typing import Any, Literal

from menugen.regions.data_files import load

Operator = Literal["<", "<=", ">", ">=", "="]
Use = Literal["ingredient", "fining"]


@dataclass(frozen=True, slots=True)
class Threshold:
    """An amount from which a substance is declared.

    Attributes:
        operator: ">" or ">=", as the law writes it.
        mg_per_l: Milligrams in a litre of the drink as served; the laws say mg/kg or mg/l alike.
    """

    operator: Operator
    mg_per_l: float

    def reached(self, mg_per_l: float) -> bool:
        """Return whether a drink with this much is declared."""
        amount = round(mg_per_l, 6)  # 0.1 + 0.2 must not decide what a guest is told
        return amount >= self.mg_per_l if self.operator == ">=" else amount > self.mg_per_l


@dataclass(frozen=True, slots=True)
class Exemption:
    """One thing made from a listed substance that need not be declared, and on what condition.

    Attributes:
        thing: As label_words.yaml names it: "isinglass".
        of: Ids it is made from.
        use: "ingredient" or "fining".
        kinds: Kinds of drink it holds for, "ale"; empty for all.
        source: Ids of sources.
        how: "read" or "reported".
    """

    thing: str
    of: tuple[str, ...]
    use: Use
    kinds: frozenset[str]
    source: tuple[str, ...]
    how: str


@dataclass(frozen=True, slots=True)
class RegimeEntry:
    """One group of a law's list.

    Attributes:
        id: "nuts".
        name: The law's English name of the group.
        substances: Ids in the law's order.
        words: The law's word for a substance where it has one of its own.
        distillate_exempt: Whether the law, as read, asks for nothing where these were distilled.
        threshold: None where any amount counts.
        no_duty_in: Kinds of drink in which the law asks for nothing.
        duty: Whether the law lists it; otherwise it is shown because labels name it.
        bar_note: For the bar's own papers; may be empty.
        source: Ids of sources.
        how: "read", "reported" or "memory".
    """

    id: str
    name: str
    substances: tuple[str, ...]
    words: Mapping[str, str]
    distillate_exempt: bool
    threshold: Threshold | None
    no_duty_in: frozenset[str]
    duty: bool
    bar_note: str
    source: tuple[str, ...]
    how: str

    @property
    def label(self) -> str:
        """The name as it stands in a row of labels: "milk (including lactose)", "Brazil nut"."""
        own = self.words.get(self.substances[0], "") if len(self.substances) == 1 else ""
        return own if own.casefold() == self.name.casefold() else self.name[:1].lower() + self.name[1:]


@dataclass(frozen=True, slots=True)
class Regime:
    """A law's list of what must be declared.

    Attributes:
        id: "eu".
        name: Of the law, for the operator.
        menu_duty: Whether a menu must say it, in a phrase for the operator.
        menu_form: In what form, for the operator.
        entries: In the law's order.
        words: Words for substances no entry lists, where this place has its own.
        exemptions: Things made from what is listed that need not be declared.
        source: Ids of sources.
        how: "read", "reported" or "memory".
        listed: The entry of each substance the law lists, by id; worked out.
    """

    id: str
    name: str
    menu_duty: str
    menu_form: str
    entries: tuple[RegimeEntry, ...]
    words: Mapping[str, str]
    exemptions: tuple[Exemption, ...]
    source: tuple[str, ...]
    how: str
    listed: Mapping[str, RegimeEntry] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "listed", {one: entry for entry in self.entries for one in entry.substances})

    def exempts(self, thing: str, use: Use, kind_id: str) -> bool:
        """Return whether a thing in a kind of drink need not be declared; where the kind is not said, it must."""
        return any(
            one.thing == thing and one.use == use and (not one.kinds or kind_id in one.kinds)
            for one in self.exemptions
        )


@cache
def load_regime(regime_id: str, on: date) -> Regime:
    """Return a regime as it stands on a day.

    Raises:
        KeyError: There is no such regime (a fault in the data of a place).
    """
    raw = load("regimes.yaml")["regimes"][regime_id]
    return Regime(
        id=regime_id,
        name=raw["name"],
        menu_duty=raw["menu_duty"],
        menu_form=raw["menu_form"],
        entries=tuple(_entry(entry, on) for entry in raw["entries"] if in_force(entry, on)),
        words=raw.get("words", {}),
        exemptions=tuple(_exemption(one) for one in raw.get("exemptions", ())),
        source=tuple(raw["source"]),
        how=raw["how"],
    )


def every_entry() -> Iterator[RegimeEntry]:
    """Yield every entry of every law's list, whatever day it holds on."""
    for regime in load("regimes.yaml")["regimes"].values():
        yield from (_entry(raw, date.max) for raw in regime["entries"])


def in_force(entry: Mapping[str, Any], on: date) -> bool:
    """Return whether an entry with `from` (first day) and `until` (first day no longer) holds on a day."""
    first, end = entry.get("from"), entry.get("until")
    return (first is None or on >= first) and (end is None or on < end)


def _exemption(raw: Mapping[str, Any]) -> Exemption:
    return Exemption(
        raw["thing"],
        tuple(raw["of"]),
        raw["use"],
        frozenset(raw.get("in", ())),
        tuple(raw["source"]),
        raw["how"],
    )


def _entry(raw: Mapping[str, Any], on: date) -> RegimeEntry:
    former = [item["substance"] for item in raw.get("former", ()) if in_force(item, on)]
    limit = raw.get("threshold")
    return RegimeEntry(
        id=raw["id"],
        name=raw["name"],
        substances=(*raw["substances"], *former),
        words=raw.get("words", {}),
        distillate_exempt=raw.get("distillate") == "exempt",
        threshold=Threshold(limit["operator"], limit["mg_per_l"]) if limit else None,
        no_duty_in=frozenset(raw.get("no_duty_in", ())),
        duty=raw.get("duty", True),
        bar_note=raw.get("bar_note", ""),
        source=tuple(raw["source"]),
        how=raw["how"],
    )
