"""What in one house is what in another: drinks by the name guests know, events, stock.

A drink is what has its name, whatever file that lies in and whatever is poured now: guests were told of it under that
name. One whose name is gone is looked for by what is poured, then by its file. So it is with events.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from menugen.comparing.differences import SPELLED, Names, amount_of, paired
from menugen.facts import shelve, stock_cautions
from menugen.names import name_key
from menugen.records import Event, House, Line, Spec, StockLine

ALIKE = 0.6
"""Share of two specs that must agree before one is taken for the other. Judged on the starter library, where no two
different drinks reach it; no published source."""

_MOSTLY, _NEARLY = 0.5, 0.8
"""Share of two menus that must be the same before events of one day, or of one place, are taken for one that was
renamed; our own choice."""

_MOST_TRIED = 40_000
"""Pairs compared at most; past that only drinks with the very same lines are matched."""


@dataclass(frozen=True, slots=True)
class Matches:
    """What of the newer house was already in the older one.

    Attributes:
        drinks: Slug now -> slug then, of every drink in both.
        events: Slug now -> slug then, of every event in both.
        stock: Name then -> name now, of stock lines that are called otherwise.
        names: What each name in a spec stands for.
    """

    drinks: Mapping[str, str]
    events: Mapping[str, str]
    stock: Mapping[str, str]
    names: Names


def match(
    old: House, new: House, *, old_broken: Collection[str] = (), new_broken: Collection[str] = ()
) -> Matches:
    """Return what of the newer house was already in the older one.

    Args:
        old: The older house.
        new: The newer one.
        old_broken: Slugs of specs the older house has and nobody can read: a file of that name is not new.
        new_broken: The same of the newer house: a drink of that name is not gone.
    """
    stock = _renamed_stock(old, new)
    called = {name_key(before): name_key(after) for before, after in stock.items()}
    names = Names(_things(old.stock, called), _things(new.stock, {}))
    drinks = _drinks(old.specs, new.specs, names, set(old_broken), set(new_broken))
    return Matches(drinks, _events(old.events, new.events, drinks), stock, names)


def _things(stock: Mapping[str, StockLine], called: Mapping[str, str]) -> Callable[[str], str]:
    """Return what tells the thing a name stands for: its stock line, under the name it has in the newer house."""
    bottles = shelve(stock, {})
    found: dict[str, str] = {}

    def thing(name: str) -> str:
        if name not in found:
            line = bottles.find(name)
            key = name_key(line.name if line is not None else name)
            found[name] = called.get(key, key)
        return found[name]

    return thing


def _renamed_stock(old_house: House, new_house: House) -> dict[str, str]:
    """Return name then -> name now of stock lines that are called otherwise.

    The line that keeps the old name as an alias is the same; so is one that says much the same under a longer or a
    shorter name, and one whose label is as it was where every spec asks for it by the new name. Another letter case is
    no other name.
    """
    old, new = old_house.stock, new_house.stock
    known = {name_key(name) for name in old}, {name_key(name) for name in new}
    gone = [line for line in old.values() if name_key(line.name) not in known[1]]
    added = [line for line in new.values() if name_key(line.name) not in known[0]]
    if not gone or not added:
        return {}
    asked = _asked_for(old_house), _asked_for(new_house)
    found: dict[str, str] = {}
    for line in added:
        for before in gone:
            if before.name not in found and (
                name_key(before.name) in {name_key(alias) for alias in line.aliases}
                or _is_same(before, line)
                or (_is_asked_for(asked, before, line) and _same_label(before, line))
            ):
                found[before.name] = line.name
                break
    return found


_Asked = Mapping[str, Collection[tuple[str, object]]]
"""What specs ask for, by name -> in which drinks, and in what role."""


def _asked_for(house: House) -> _Asked:
    asked: dict[str, set[tuple[str, object]]] = {}
    for spec in house.specs.values():
        swaps = ((swap.line.name, "swap") for swap in spec.swaps)
        for name, role in (*((line.name, line.role) for line in spec.lines), *swaps):
            asked.setdefault(name_key(name), set()).add((name_key(spec.name), role))
    return asked


def _is_asked_for(asked: tuple[_Asked, _Asked], old: StockLine, new: StockLine) -> bool:
    """Return whether specs ask for a line where they asked for another, which none asks for any more."""
    then, now = (
        {place for name in (line.name, *line.aliases) for place in known.get(name_key(name), ())}
        for known, line in zip(asked, (old, new), strict=True)
    )
    return name_key(old.name) not in asked[1] and not then.isdisjoint(now)


def _same_label(old: StockLine, new: StockLine) -> bool:
    labels = [
        (line.contains, line.may_contain, line.distilled_from, line.fined_with, line.sulphites_mg_per_l,
         stock_cautions(line), line.abv_percent, line.kind)
        for line in (old, new)
    ]  # fmt: skip
    return labels[0] == labels[1] and old.contains is not None


def _is_same(old: StockLine, new: StockLine) -> bool:
    """Return whether a line is another under a longer or a shorter name: as strong, and as sold or as labelled."""
    one, other = set(name_key(old.name).split()), set(name_key(new.name).split())
    if not (one <= other or other <= one) or (old.abv_percent, old.kind) != (new.abv_percent, new.kind):
        return False
    sold = [(line.price, line.bottle_ml, line.bottle_g, line.pack) for line in (old, new)]
    labelled = [(line.contains, line.may_contain, line.sugar, line.checked) for line in (old, new)]
    is_known = old.price is not None or old.checked is not None
    return is_known and (sold[0] == sold[1] or labelled[0] == labelled[1])


def _drinks(
    old: Mapping[str, Spec],
    new: Mapping[str, Spec],
    names: Names,
    old_broken: set[str],
    new_broken: set[str],
) -> dict[str, str]:
    found = {slug: slug for slug, spec in new.items() if slug in old and _same_name(old[slug], spec)}
    taken = set(found.values())
    by_name: dict[str, list[str]] = {}
    for slug, spec in old.items():
        if slug not in taken:
            by_name.setdefault(name_key(spec.name), []).append(slug)
    for slug, spec in new.items():
        if slug not in found and (namesakes := by_name.get(name_key(spec.name))):
            found[slug] = namesakes.pop(0)
    taken = set(found.values())
    left = {slug for slug in new if slug not in found and slug in old and slug not in taken}
    found |= {slug: slug for slug in left if likeness(old[slug], new[slug], names) >= ALIKE}
    taken = set(found.values())
    gone = {slug: spec for slug, spec in old.items() if slug not in taken and slug not in new_broken}
    added = {slug: spec for slug, spec in new.items() if slug not in found and slug not in old_broken}
    found |= {after: before for before, after in renamed(gone, added, names).items()}
    taken = set(found.values())
    # What is left in one file, and is like nothing else, was rewritten.
    found |= {slug: slug for slug in left if slug not in found and slug not in taken}
    return found


def _same_name(old: Spec, new: Spec) -> bool:
    return old is new or name_key(old.name) == name_key(new.name)


def renamed(gone: Mapping[str, Spec], added: Mapping[str, Spec], names: Names = SPELLED) -> dict[str, str]:
    """Return slug then -> slug now for every drink that is there under another name now.

    Args:
        gone: Specs of the older house whose name another drink has now, or none.
        added: Specs of the newer house that are not the drink of that name in the older one.
        names: What each name in a spec stands for.
    """
    pairs: list[tuple[float, str, str]] = []
    if len(gone) * len(added) <= _MOST_TRIED:
        for old_slug, old in gone.items():
            for new_slug, new in added.items():
                score = likeness(old, new, names)
                if score >= ALIKE:
                    pairs.append((-score, old_slug, new_slug))
    else:
        by_lines: dict[frozenset[object], list[str]] = {}
        for slug, spec in added.items():
            by_lines.setdefault(_lines(spec, names.new), []).append(slug)
        pairs = [
            (-1.0, slug, other)
            for slug, spec in gone.items()
            for other in by_lines.get(_lines(spec, names.old), ())
        ]
    found: dict[str, str] = {}
    taken: set[str] = set()
    for _, old_slug, new_slug in sorted(pairs):
        if old_slug not in found and new_slug not in taken:
            found[old_slug] = new_slug
            taken.add(new_slug)
    return found


def likeness(old: Spec, new: Spec, names: Names) -> float:
    """Return how much of two specs is the same, 0 to 1: things with their amounts, a little for name and glass."""
    pairs = paired(old.lines, new.lines, names)
    if not pairs:
        return 0.0
    shared = sum(
        _share(old.lines[before], new.lines[after])
        for before, after in pairs
        if before is not None
        and after is not None
        and names.same(old.lines[before].name, new.lines[after].name)
    )
    same_name = 0.05 * (name_key(old.name) == name_key(new.name))
    same_glass = 0.02 * (name_key(old.glass) == name_key(new.glass))
    return min(1.0, shared / _things_in(old, new, pairs, names) + same_name + same_glass)


def _things_in(old: Spec, new: Spec, pairs: Sequence[tuple[int | None, int | None]], names: Names) -> int:
    """Return how many things two specs name together; one in the place of another counts as two."""
    return sum(
        1
        if before is None or after is None or names.same(old.lines[before].name, new.lines[after].name)
        else 2
        for before, after in pairs
    )


def _lines(spec: Spec, thing: Callable[[str], str]) -> frozenset[object]:
    return frozenset((thing(line.name), line.role, amount_of(line.measure)) for line in spec.lines)


def _share(old: Line, new: Line) -> float:
    """Return how much of one line the other is, 1 for the same amount."""
    one, other = old.measure, new.measure
    for before, after in (
        (one.volume_ml, other.volume_ml),
        (one.mass_g, other.mass_g),
        (one.count, other.count),
    ):
        if before is not None and after is not None:
            return min(before, after) / max(before, after)
    return 1.0 if one.unit == other.unit else 0.5


def _events(old: Mapping[str, Event], new: Mapping[str, Event], drinks: Mapping[str, str]) -> dict[str, str]:
    """Return slug now -> slug then of events: of one name and day, else of one file, of one name, of much one menu."""
    found = {slug: slug for slug, event in new.items() if slug in old and _same_night(old[slug], event)}
    gone = {slug: event for slug, event in old.items() if slug not in found}
    tests: Iterable[Callable[[Event, Event], bool]] = (
        _same_night,
        lambda before, after: before.slug == after.slug,
        lambda before, after: name_key(before.name) == name_key(after.name),
        lambda before, after: before.date == after.date and _same_menu(before, after, drinks, _MOSTLY),
        lambda before, after: before.venue == after.venue and _same_menu(before, after, drinks, _NEARLY),
    )
    for is_one in tests:
        for slug, event in new.items():
            if slug in found:
                continue
            match = next((before for before, earlier in gone.items() if is_one(earlier, event)), None)
            if match is not None:
                found[slug] = match
                del gone[match]
    return found


def _same_night(old: Event, new: Event) -> bool:
    return old is new or (old.date == new.date and name_key(old.name) == name_key(new.name))


def _same_menu(old: Event, new: Event, drinks: Mapping[str, str], share: float) -> bool:
    before = {entry.slug for part in old.sections for entry in part.entries}
    after = {drinks.get(entry.slug, entry.slug) for part in new.sections for entry in part.entries}
    return len(before & after) > share * len(before | after)
