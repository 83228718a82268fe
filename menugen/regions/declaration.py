"""From what each line of a drink carries to what the place's law, and good sense, make the menu say."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from menugen.regions.regimes import Regime, RegimeEntry, Threshold
from menugen.regions.substance_list import substance, substances

SULPHITES = "sulphites"


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
    """

    substances: frozenset[str] = frozenset()
    may_contain: frozenset[str] = frozenset()
    distilled_from: frozenset[str] = frozenset()
    sulphites_mg_per_l: float | None = None
    volume_ml: float = 0.0
    kind: str = ""


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
    """What a drink contains and may contain, in the order of the law's list, then what the law does not list.

    No substance stands in both. An empty tuple means that nothing was declared, never that nothing is there.
    """

    contains: tuple[Declared, ...]
    may_contain: tuple[Declared, ...]


def declare(regime: Regime, carried: Sequence[Carried], served_volume_ml: float) -> Declaration:
    """Return what the menu must and should say of a drink.

    What a bottle was distilled from is declared only where the regime lists it and writes no exemption. What
    a label says is contained is always shown, listed or not; only sulphites can fall below a threshold, and
    only when every line that carries them states an amount.

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
    listed = regime.listed
    for line in carried:
        for one in _present(line, listed):
            contained.add(one)
            entry = listed.get(one)
            if entry and entry.duty and line.kind not in entry.no_duty_in:
                on_duty.add(one)
    sulphite_entry = listed.get(SULPHITES)
    if SULPHITES in contained and not _sulphites_count(
        sulphite_entry.threshold if sulphite_entry else None, carried, served_volume_ml
    ):
        contained.discard(SULPHITES)
    perhaps = {one for line in carried for one in line.may_contain} - contained
    lawful = {one for one in perhaps if one in listed and listed[one].duty}
    return Declaration(
        contains=tuple(_grouped(regime, contained, on_duty)),
        may_contain=tuple(_grouped(regime, perhaps, lawful)),
    )


def _present(line: Carried, listed: Mapping[str, RegimeEntry]) -> Iterator[str]:
    yield from line.substances
    if line.sulphites_mg_per_l:
        yield SULPHITES
    for one in line.distilled_from:
        entry = listed.get(one)
        if entry and not entry.distillate_exempt:
            yield one


def _sulphites_count(
    threshold: Threshold | None, carried: Sequence[Carried], served_volume_ml: float
) -> bool:
    """Return whether the sulphites of all lines together are declared."""
    if threshold is None or served_volume_ml <= 0:
        return True
    total_mg = 0.0
    for line in carried:
        if SULPHITES not in line.substances and not line.sulphites_mg_per_l:
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
