"""Two menus of one event, as guests were shown the one and are to be shown the other: what is declared otherwise."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from menugen.comparing import HOUSE, Change, Subject, level
from menugen.names import name_key
from menugen.replacing.shown import ShownDrink, ShownMenu, ShownWay


@dataclass(frozen=True, slots=True)
class Difference:
    """All that is otherwise.

    Attributes:
        changes: What is declared otherwise, drink by drink.
        drinks: (page, name now) of the drinks that could be compared.
        came: Drinks that no guest has been shown, under this name or another.
        gone: Names of drinks that are not on the menu any more.
        renamed: (name then, name now).
        swaps_new: (drink's name, swap) of choices that were not there.
        sold_out: Names of drinks that are off now.
        poured_again: Names of drinks that were off.
        alcohol: Names of drinks that were called alcohol free, or poured where none is, and are neither now.
        around: What else is not as it was and may be why: "the place: England before, Ireland now".
    """

    changes: tuple[Change, ...] = ()
    drinks: frozenset[tuple[str, str]] = frozenset()
    came: tuple[ShownDrink, ...] = ()
    gone: tuple[str, ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()
    swaps_new: tuple[tuple[str, str], ...] = ()
    sold_out: tuple[str, ...] = ()
    poured_again: tuple[str, ...] = ()
    alcohol: tuple[str, ...] = ()
    around: tuple[str, ...] = ()


NO_DIFFERENCE = Difference()


def compare_menus(pairs: Sequence[tuple[ShownMenu, ShownMenu]]) -> Difference:
    """Return what guests are shown otherwise.

    A drink is held against the one that had its page, and against each that had its name: what guests were told, they
    were told under the name.

    Args:
        pairs: (then, now), one a language that was published; the first is the one the code opens.
    """
    if not pairs:
        return NO_DIFFERENCE
    found: dict[tuple[object, ...], tuple[Change, list[str]]] = {}
    for old, new in pairs:
        for key, change in _of_menu(old, new):
            found.setdefault(key, (change, []))[1].append(new.language)
    compared = {new.language for _, new in pairs}
    changes = tuple(
        change if set(languages) == compared else replace(change, where=tuple(dict.fromkeys(languages)))
        for change, languages in found.values()
    )
    old, new = pairs[0]
    before = _Earlier(old, new)
    matched = [(drink, before.of(drink)) for drink in new.drinks]
    kept = {one.id for _, earlier in matched for one in earlier}
    return Difference(
        changes=changes,
        drinks=frozenset((drink.id, drink.name) for drink, earlier in matched if earlier),
        came=tuple(drink for drink, earlier in matched if not earlier),
        gone=tuple(drink.name for drink in old.drinks if drink.id not in kept),
        renamed=tuple(
            (one.name, drink.name)
            for drink, earlier in matched
            for one in earlier
            if one.id == drink.id and one.name != drink.name and old.spoken == new.spoken
        ),
        swaps_new=tuple(
            (drink.name, way.text)
            for drink, earlier in matched
            if earlier
            for key, way in drink.swaps.items()
            if not any(_same_swap(one, key, way) for one in earlier)
        ),
        sold_out=tuple(
            drink.name
            for drink, earlier in matched
            if earlier and drink.sold_out and not earlier[-1].sold_out
        ),
        poured_again=tuple(
            drink.name
            for drink, earlier in matched
            if earlier and not drink.sold_out and earlier[-1].sold_out
        ),
        alcohol=tuple(
            drink.name
            for drink, earlier in matched
            if drink.alcohol_free is False and any(one.alcohol_free is not False for one in earlier)
        ),
        around=tuple(_around(old, new)),
    )


def _around(old: ShownMenu, new: ShownMenu) -> Iterator[str]:
    if old.region_code != new.region_code:
        yield f"the place: {old.region} before, {new.region} now"
    if old.date != new.date:
        yield f"the day: {old.date} before, {new.date} now"


class _Earlier:
    """The drinks of an earlier menu, by page and by name: a long menu is gone through once."""

    def __init__(self, old: ShownMenu, new: ShownMenu) -> None:
        self._has_names = old.spoken == new.spoken
        self._by_page: dict[str, list[ShownDrink]] = {}
        self._by_name: dict[str, list[ShownDrink]] = {}
        for drink in old.drinks:
            self._by_page.setdefault(drink.id, []).append(drink)
            self._by_name.setdefault(name_key(drink.name), []).append(drink)

    def of(self, drink: ShownDrink) -> tuple[ShownDrink, ...]:
        """Return the drinks that one is held against: those that had its name first, the one that had its page last."""
        same_page = self._by_page.get(drink.id, [])
        name = name_key(drink.name)
        if not self._has_names or any(name_key(one.name) == name for one in same_page):
            # It has kept page and name; another of that name had a page of its own.
            return tuple(same_page)
        same_name = (one for one in self._by_name.get(name, []) if one.id != drink.id)
        return (*same_name, *same_page)


class _Alike(NamedTuple):
    """What of two menus may be compared.

    Attributes:
        headings: The law's headings: one place has listed both.
        words: What is known by its words alone: both are in one language.
    """

    headings: bool
    words: bool


def _of_menu(old: ShownMenu, new: ShownMenu) -> Iterator[tuple[tuple[object, ...], Change]]:
    """Yield each change with what makes it the same in another language."""
    if old.spoken == new.spoken:
        for sentence in dict.fromkeys((*new.kitchen, *old.kitchen)):
            then, now = (sentence if sentence in menu.kitchen else "" for menu in (old, new))
            if then != now:
                yield ("kitchen", sentence), Change("kitchen", HOUSE, then, now, fact=sentence, word=sentence)
    alike = _Alike(old.region_code == new.region_code, old.spoken == new.spoken)
    before = _Earlier(old, new)
    for drink in new.drinks:
        for earlier in before.of(drink):
            # In another language a drink is called otherwise: that is no other name.
            old_name = earlier.name if old.spoken == new.spoken else drink.name
            subject = Subject("drink", drink.name, drink.id, old_name, earlier.id)
            for key, change in _of_drink(earlier, drink, subject, alike=alike):
                yield (drink.id, key, *_same(change), level(change.before)), change


def _same(change: Change) -> tuple[object, ...]:
    """Return what is the same in every language of a change, but for how it was before."""
    return change.kind, change.fact, level(change.after)


def _of_drink(
    old: ShownDrink, new: ShownDrink, drink: Subject, *, alike: _Alike
) -> Iterator[tuple[str, Change]]:
    """Yield what is otherwise of each way to make a drink; of a swap only what is not so of the drink as written."""
    seen = set()

    def unseen(moved: Iterable[Change], swap: str) -> Iterator[Change]:
        yield from (replace(change, swap=swap) for change in moved if _same(change) not in seen)

    of_drink = tuple(_of_way(old.made, new.made, drink, alike=alike))
    yield from (("", change) for change in of_drink)
    seen |= {_same(change) for change in of_drink}
    of_swaps = []
    for key, way in new.swaps.items():
        earlier = _swap_of(old, key, way)
        # What a new way leaves out is no loss: the drink as written is still there.
        moved = (
            _of_way(earlier, way, drink, alike=alike)
            if earlier
            else (change for change in _of_way(old.made, way, drink, alike=alike) if change.gained)
        )
        of_swaps += [(key, change) for change in unseen(moved, way.text)]
    yield from of_swaps
    seen |= {_same(change) for _, change in of_swaps}
    for key, way in new.combined.items():
        # They come and go with what they leave out; each of their swaps has been looked at by itself.
        if key in old.combined:
            yield from (
                (key, change)
                for change in unseen(_of_way(old.combined[key], way, drink, alike=alike), way.text)
            )
    for key, way in old.swaps.items():
        if not _same_swap(new, key, way):
            yield key, Change("swap", drink, way.text, fact=key, word=way.text)


def _swap_of(drink: ShownDrink, key: str, way: ShownWay) -> ShownWay | None:
    by_text = (one for one in drink.swaps.values() if one.text == way.text)
    return drink.swaps.get(key) or next(by_text, None)


def _same_swap(drink: ShownDrink, key: str, way: ShownWay) -> bool:
    return _swap_of(drink, key, way) is not None


def _of_way(old: ShownWay, new: ShownWay, drink: Subject, *, alike: _Alike) -> Iterator[Change]:
    """Yield what one way to make a drink is declared with otherwise.

    Args:
        old: It then.
        new: It now.
        drink: The drink.
        alike: What of the two menus may be compared.
    """
    for substance in dict.fromkeys((*new.marks, *old.marks)):
        was, now = old.marks.get(substance), new.marks.get(substance)
        if not alike.words and not any(mark and mark.entry for mark in (was, now)):
            continue
        before, after = (mark.level if mark else "" for mark in (was, now))
        word = now.word if now else was.word if was else ""
        if before != after:
            yield Change("allergen", drink, before, after, fact=substance, word=word)
        elif was and now and was.entry != now.entry and alike.headings:
            words = f"{word} under {now.entry}, {was.entry} before"
            yield Change("listing", drink, before, after, fact=substance, word=words)
    for name in dict.fromkeys((*new.cautions, *old.cautions)):
        then, today = old.cautions.get(name, ""), new.cautions.get(name, "")
        if (name in old.cautions) != (name in new.cautions):
            yield Change("caution", drink, then, today, fact=name, word=today or then)
