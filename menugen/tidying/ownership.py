"""Which key or item a comment on a line of its own belongs to, and moves with.

In this order:

1. At the top of the file it speaks of the whole, and stays there.
2. A line taken out with a "#" belongs to where the line would stand: "# - 5 ml lemon juice" to the list above it.
3. Indented deeper than what follows, it belongs to what it stands under.
4. It belongs to what it touches: without a blank line, to what stands above it where only that touches it, else to what
   follows.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from menugen.tidying.layout import Comments, Document, Entry, Scalar

_ITEM_TAKEN_OUT = re.compile(r"#+[ \t]*-(?:[ \t]|$)")
_KEY_TAKEN_OUT = re.compile(r"#+[ \t]*([^\s:#][^:#]*):(?:[ \t]|$)")


@dataclass(slots=True)
class Spot:
    """Where an entry begins, its column, the spot it lies in, and where its brackets close (0 for none)."""

    at: int
    column: int
    entry: Entry
    around: "Spot | None"
    closes: int = 0

    def chain(self) -> "Iterator[Spot]":
        """Yield this spot and those it lies in, outwards."""
        spot: Spot | None = self
        while spot is not None:
            yield spot
            spot = spot.around

    def out_of_brackets(self, at: int) -> "Spot":
        """Return this spot, or the outermost it lies in whose brackets have closed by here."""
        found = self
        for spot in self.chain():
            if 0 < spot.closes <= at:
                found = spot
        return found

    def open_brackets(self, at: int) -> "Spot | None":
        """Return the innermost spot whose brackets are open here; None where none are."""
        return next((spot for spot in self.chain() if spot.closes > at), None)

    def holds(self, other: "Spot | None") -> bool:
        """Return whether another spot is this one or lies in it."""
        return other is not None and any(spot is self for spot in other.chain())


@dataclass(slots=True)
class Run:
    """Comments in lines that follow each other, in one column.

    Attributes:
        column: Counted from 0.
        texts: A line each.
        first_line: Counted from 0.
        last_line: The same.
        after_blank: Whether the line above is blank.
        touches_above: Whether no blank line parts it from what stands above the comments.
        touches_below: Whether none parts it from what follows them.
    """

    column: int
    texts: Comments
    first_line: int
    last_line: int
    after_blank: bool = False
    touches_above: bool = False
    touches_below: bool = False


@dataclass(slots=True)
class Gap:
    """What stands between two entries: the comments there, the entry before them and the one that follows."""

    at: int
    before: Spot | None
    following: Spot | None
    runs: list[Run]


def give_gap(gap: Gap, document: Document) -> None:
    """Give the comments between two entries to what they belong to; their order stays."""
    if gap.before is None and gap.following is not None:
        _give_top(gap.runs, gap.following.entry, document)
        return
    given: Comments | None = None
    owner: Spot | None = None
    onwards = False
    for run in gap.runs:
        found = None if onwards else _owner(run, gap)
        if found is not None and (owner is None or found.holds(owner)):
            below_already = found is owner and given is found.entry.below
            owner, given = found, found.entry.below if below_already else _place_under(found, run)
        elif found is None or given is None:
            onwards = True
            given = gap.following.entry.above if gap.following is not None else document.tail
        _join(given, run)
    if onwards and gap.following is not None and not gap.runs[-1].touches_below:
        gap.following.entry.above.append("")


def _give_top(runs: list[Run], first: Entry, document: Document) -> None:
    of_the_whole = [run for run in runs if not run.touches_below]
    if not of_the_whole:
        of_the_whole, document.touched = runs, first
    for run in runs:
        _join(document.head if run in of_the_whole else first.above, run)


def _join(place: Comments, run: Run) -> None:
    if place and run.after_blank:
        place.append("")
    place += run.texts


def _place_under(owner: Spot, run: Run) -> Comments:
    value = owner.entry.value
    is_block = isinstance(value, Scalar) and value.style in ("|", ">")
    # Indented under a block of lines, it would be one of them.
    taken_out_of_it = _is_empty(owner.entry) and _ITEM_TAKEN_OUT.match(run.texts[0])
    deeper = run.column > owner.column or taken_out_of_it
    return owner.entry.inside if deeper and not is_block else owner.entry.below


def _is_empty(entry: Entry) -> bool:
    value = entry.value
    return not value.text if isinstance(value, Scalar) else not value.entries


def _owner(run: Run, gap: Gap) -> Spot | None:
    """Return the spot above that a run belongs to; None where it belongs to what follows."""
    if gap.before is None:
        return None
    brackets = gap.before.open_brackets(gap.at)
    if brackets is not None:
        return _owner_in_brackets(gap.before, gap.following, brackets)
    before = gap.before.out_of_brackets(gap.at)
    return _taken_out_of(run, before, gap.following) or _stands_under(run, before, gap.following)


def _owner_in_brackets(before: Spot, following: Spot | None, brackets: Spot) -> Spot | None:
    """Return the same inside brackets, where columns say nothing."""
    if following is not None and following.at < brackets.closes:
        return None
    return next((spot for spot in before.chain() if spot.around is brackets), brackets)


def _stands_under(run: Run, before: Spot, following: Spot | None) -> Spot | None:
    """Return the spot that a run stands under, by its column and by what it touches."""
    under = next((spot for spot in before.chain() if spot.column <= run.column), None)
    if under is None or under.holds(following):
        return None
    if following is None:
        belongs = under.around is not None or under.column < run.column or run.touches_above
    else:
        belongs = run.column > following.column or (run.touches_above and not run.touches_below)
    return under if belongs else None


def _taken_out_of(run: Run, before: Spot, following: Spot | None) -> Spot | None:
    """Return what a line belongs to that was taken out with a "#"; None where it is no such line."""
    if _ITEM_TAKEN_OUT.match(run.texts[0]):
        if following is not None and following.entry.key is None:
            return None
        found = next((spot for spot in before.chain() if spot.entry.key is None), None)
        if _is_empty(before.entry) and before.entry.key is not None:
            found = before
        return None if found is None or found.holds(following) else found
    if run.touches_above and (key := _KEY_TAKEN_OUT.match(run.texts[0])) is not None:
        name = key[1].strip()
        if following is not None and following.entry.name == name:
            return None
        found = next(
            (spot for spot in before.chain() if spot.entry.key is not None and spot.entry.name == name), None
        )
        return None if found is None or found.holds(following) else found
    return None
