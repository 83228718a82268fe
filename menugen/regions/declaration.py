"""From what each line of a drink carries to what the place's law, and good sense, make the menu say."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from menugen.regions.regimes import Regime, Threshold, Use
from menugen.regions.substance_list import substance, substances

SULPHITES = "sulphites"


class Made(NamedTuple):
    """Something made from substances that a law may exempt, on a condition.

    Attributes:
        thing: As label_words.yaml names it: "isinglass".
        use: What it is there for.
        substances: Ids that are declared where the law exempts nothing.
        said: As the label has it, to be shown where it does.
    """

    thing: str
    use: Use
    substances: frozenset[str]
    said: str


@dataclass(frozen=True, slots=True)
class Carried:
    """What one poured line, rim or garnish brings into the drink.

    Attributes:
        substances: Ids the label says it contains.
        may_contain: Ids the label says it may contain.
        distilled_from: Ids of what it was distilled from, nothing of which was added afterwards.
        sulphites_mg_per_l: Total sulphur dioxide measured or on the label; None where no figure is known.
        volume_ml: Poured, 0 or more; 0 for rims and garnishes.
        kind: "spirit", "beer", "wine" ...; empty where not known.
        kind_id: The kind its stock line says it is, "ale"; empty where it says none: a guess exempts nothing.
        made: What a law may exempt: a refined oil, what a beer was fined with.
        said: What the label names and no law lists, as typed.
        may_said: The same of what the label warns of.
        distilled_said: The same of what it was distilled from.
    """

    substances: frozenset[str] = frozenset()
    may_contain: frozenset[str] = frozenset()
    distilled_from: frozenset[str] = frozenset()
    sulphites_mg_per_l: float | None = None
    volume_ml: float = 0.0
    kind: str = ""
    kind_id: str = ""
    made: tuple[Made, ...] = ()
    said: tuple[str, ...] = ()
    may_said: tuple[str, ...] = ()
    distilled_said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Declared:
    """One group of the law's list that the menu names.

    Attributes:
        entry_id: Of the law's list, or the substance itself where the law lists nothing for it.
        entry_name: The law's name of the group: "Nuts".
        substances: Ids found, in the law's order.
        words: A menu word for each of them: "almonds", "barley (gluten)".
        icon: Name of the icon.
        duty: Whether the law asks for it; otherwise it is shown all the same.
    """

    entry_id: str
    entry_name: str
    substances: tuple[str, ...]
    words: tuple[str, ...]
    icon: str
    duty: bool


@dataclass(frozen=True, slots=True)
class Declaration:
    """What a drink contains, may contain and was distilled from: in the law's order, then what the law does not list.

    No substance stands in two of them. An empty tuple means that nothing was declared, never that nothing is there.

    Attributes:
        contains: What labels say is in it.
        may_contain: What labels warn of.
        distilled_from: What spirits in it were distilled from, where the law, as read, does not exempt that: apart from
            what it contains, and treated with the same caution.
        distilled_words: The words for all that those spirits were distilled from, what the drink contains as well
            included, so that nobody takes a part for the whole; empty where `distilled_from` is.
        distilled_said: What no law lists and they were distilled from, as typed: "maize"; empty where those two are.
        said: What labels name and no law here lists or declares, as typed, never as if a law listed it.
        may_said: The same of what labels warn of.
    """

    contains: tuple[Declared, ...]
    may_contain: tuple[Declared, ...]
    distilled_from: tuple[Declared, ...] = ()
    distilled_words: tuple[str, ...] = ()
    distilled_said: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    may_said: tuple[str, ...] = ()


def declare(regime: Regime, carried: Sequence[Carried], served_volume_ml: float) -> Declaration:
    """Return what the menu must and should say of a drink.

    What a bottle was distilled from is said apart, and only where the regime writes no exemption: then all of it, so
    that nobody takes a part for the whole. What a label says is contained is always shown, listed or not; only
    sulphites can fall below a threshold, and only when every line that carries them states an amount.

    Args:
        regime: The law's list on the day.
        carried: Every line of the drink.
        served_volume_ml: Of the drink as handed over, dilution included and ice not; 0 where it is not known,
            which counts every sulphite.

    Raises:
        ValueError: A substance is not known (a bug upstream).
    """
    contained: set[str] = set()
    on_duty: set[str] = set()
    for line in carried:
        for one in _present(regime, line):
            contained.add(one)
            entry = regime.listed.get(one)
            if entry and entry.duty and line.kind not in entry.no_duty_in:
                on_duty.add(one)
    sulphite_entry = regime.listed.get(SULPHITES)
    if SULPHITES in contained and not _sulphites_count(
        sulphite_entry.threshold if sulphite_entry else None, carried, served_volume_ml
    ):
        contained.discard(SULPHITES)
    perhaps = {one for line in carried for one in line.may_contain} - contained
    lawful = {one for one in perhaps if one in regime.listed and regime.listed[one].duty}
    spirits = [line for line in carried if not _is_exempt(regime, line)]
    every_base = {one for line in spirits for one in line.distilled_from}
    bases = every_base - contained - perhaps
    base_groups = _as_bases(_grouped(regime, every_base if bases else set(), set()))
    return Declaration(
        contains=tuple(_grouped(regime, contained, on_duty)),
        may_contain=tuple(_grouped(regime, perhaps, lawful)),
        distilled_from=tuple(_as_bases(_grouped(regime, bases, set()))),
        distilled_words=tuple(word for group in base_groups for word in group.words),
        distilled_said=_each_once(word for line in spirits for word in line.distilled_said) if bases else (),
        said=_each_once(word for line in carried for word in _as_said(regime, line)),
        may_said=_each_once(word for line in carried for word in line.may_said),
    )


def _present(regime: Regime, line: Carried) -> Iterator[str]:
    yield from line.substances
    if line.sulphites_mg_per_l:
        yield SULPHITES
    for one in line.made:
        if not regime.exempts(one.thing, one.use, line.kind_id):
            yield from one.substances


def _as_said(regime: Regime, line: Carried) -> Iterator[str]:
    """Yield what a line names that no law lists, or that the law exempts; what it was fined with is for the bar."""
    yield from line.said
    for one in line.made:
        if one.use == "ingredient" and regime.exempts(one.thing, one.use, line.kind_id):
            yield one.said


def _is_exempt(regime: Regime, line: Carried) -> bool:
    """Return whether the law, as read, asks for nothing of all that a line was distilled from.

    What a law does not list at all is as good as exempt where that law speaks of distillates, and unsettled where it
    does not: of a spirit of wheat and rye in the United States, both are said.
    """
    speaks = any(entry.distillate_exempt for entry in regime.entries)
    entries = [regime.listed.get(one) for one in line.distilled_from]
    return all(speaks if entry is None else entry.distillate_exempt for entry in entries)


def _as_bases(groups: Iterator[Declared]) -> Iterator[Declared]:
    """Yield groups in the words for what a spirit was distilled from: "wheat" and not "wheat (gluten)"."""
    for group in groups:
        known = map(substance, group.substances)
        words = (one.base if word == one.word else word for one, word in zip(known, group.words, strict=True))
        yield replace(group, words=tuple(words))


def _each_once(words: Iterable[str]) -> tuple[str, ...]:
    """Return the words in their order, each as it was typed first."""
    first: dict[str, str] = {}
    for word in words:
        first.setdefault(word.casefold(), word)
    return tuple(first.values())


def _sulphites_count(
    threshold: Threshold | None, carried: Sequence[Carried], served_volume_ml: float
) -> bool:
    """Return whether the sulphites of all lines together are declared."""
    if threshold is None or served_volume_ml <= 0:
        return True
    total_mg = 0.0
    for line in carried:
        brings = SULPHITES in line.substances or any(SULPHITES in one.substances for one in line.made)
        if not brings and not line.sulphites_mg_per_l:
            continue
        if line.sulphites_mg_per_l is None or line.volume_ml <= 0:
            return True  # no figure, or a garnish that was never measured
        total_mg += line.sulphites_mg_per_l * line.volume_ml / 1000
    return threshold.reached(total_mg * 1000 / served_volume_ml)


def _grouped(regime: Regime, found: set[str], on_duty: set[str]) -> Iterator[Declared]:
    if not found:
        return
    left = set(found)
    for entry in regime.entries:
        if left.isdisjoint(entry.substances):
            continue
        members = tuple(one for one in entry.substances if one in left)
        left.difference_update(members)
        words = tuple(entry.words.get(one) or substance(one).word for one in members)
        duty = any(one in on_duty for one in members)
        yield Declared(entry.id, entry.name, members, words, substance(members[0]).icon, duty)
    if not left:
        return
    unknown = left.difference(substances())
    if unknown:
        message = f"not substances: {sorted(unknown)}"
        raise ValueError(message)
    for one in substances():
        if one in left:
            word = regime.words.get(one) or substance(one).word
            name = word[0].upper() + word[1:]
            yield Declared(one, name, (one,), (word,), substance(one).icon, duty=False)
