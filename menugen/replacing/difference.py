"""Two menus of one event, as guests were shown the one and are to be shown the other: what is declared otherwise."""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from menugen.comparing import (
    HOUSE,
    Alike,
    Change,
    Subject,
    declared_otherwise,
    level,
    same_change,
    same_choices,
)
from menugen.names import name_key
from menugen.replacing.shown import ShownDrink, ShownMenu


@dataclass(frozen=True, slots=True)
class Difference:
    """All that is otherwise.

    Attributes:
        changes: What is declared otherwise, drink by drink.
        drinks: (page, name now) of the drinks that could be compared.
        came: Drinks that were not on the menu; of a new event, those whose name no other menu has.
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


def compare_menus(
    pairs: Sequence[tuple[ShownMenu, ShownMenu]], others: Callable[[], Sequence[ShownMenu]] = tuple
) -> Difference:
    """Return what guests are shown otherwise.

    A drink is held against the one that had its name, since what guests were told, they were told under that; against
    the one that had its page where it is called otherwise now. A name that is new on the menu is held against what
    other menus have under it, too.

    Args:
        pairs: (then, now), one a language that was published; the first is the one the code opens.
        others: Returns the house's other menus that are published; asked for where a name is new on this one.
    """
    if not pairs:
        return NO_DIFFERENCE
    found: list[tuple[str, tuple[object, ...], Change]] = []
    for old, new in pairs:
        found += ((new.language, key, change) for key, change in _of_menu(old, new))
        before = _Earlier(old, new)
        if unheard := [drink for drink in new.drinks if not before.named(drink)]:
            found += ((new.language, key, change) for key, change in _joined(unheard, new, others()))
    changes = _once(found, {new.language for _, new in pairs})
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
            for key, way in drink.declared.swaps.items()
            if not any(key in same_choices(one.declared, drink.declared) for one in earlier)
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


def compare_first(news: Sequence[ShownMenu], others: Sequence[ShownMenu]) -> Difference:
    """Return what guests of a new event are shown otherwise than the house's other menus have it.

    Args:
        news: Its menu in each language.
        others: The menus of other events that are published.
    """
    found = [(new.language, key, change) for new in news for key, change in _joined(new.drinks, new, others)]
    first = news[0] if news else None
    known = _known_names(first, others) if first else {}
    return Difference(
        changes=_once(found, {new.language for new in news}),
        came=tuple(one for one in first.drinks if name_key(one.name) not in known) if first and known else (),
    )


def _once(
    found: Iterable[tuple[str, tuple[object, ...], Change]], compared: Collection[str]
) -> tuple[Change, ...]:
    """Return each change once, with its languages where they are not all that were compared."""
    told: dict[tuple[object, ...], tuple[Change, dict[str, None]]] = {}
    for language, key, change in found:
        told.setdefault(key, (change, {}))[1][language] = None
    return tuple(
        change if languages.keys() == compared else replace(change, languages=tuple(languages))
        for change, languages in told.values()
    )


def _joined(
    drinks: Iterable[ShownDrink], new: ShownMenu, others: Sequence[ShownMenu]
) -> Iterator[tuple[tuple[object, ...], Change]]:
    """Yield what drinks are declared with, beyond or short of all that other menus have under their names."""
    known = _known_names(new, others)
    for drink in drinks:
        if olds := known.get(name_key(drink.name)):
            subject = Subject("drink", drink.name, drink.id, drink.name, olds[0].id)
            menus = [one.declared for one in olds]
            for key, change in declared_otherwise(menus, drink.declared, subject, Alike(headings=False)):
                yield (drink.id, key, *same_change(change)), change


def _known_names(new: ShownMenu, others: Iterable[ShownMenu]) -> dict[str, list[ShownDrink]]:
    """Return what the house's other menus have in the language of one, by name."""
    known: dict[str, list[ShownDrink]] = {}
    for menu in others:
        if (
            menu.spoken == new.spoken
            and menu.by_words == new.by_words
            and name_key(menu.house) == name_key(new.house)
        ):
            for one in menu.drinks:
                known.setdefault(name_key(one.name), []).append(one)
    return known


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
        """Return the drinks that one is held against: those that had its name; where none had, the one of its page."""
        same_page, same_name = self._by_page.get(drink.id, []), self._named(drink)
        return tuple([one for one in same_name if one in same_page] or same_name or same_page)

    def named(self, drink: ShownDrink) -> bool:
        """Return whether one had a drink's name; in another language, whether one had its page."""
        return bool(self._named(drink) if self._has_names else self._by_page.get(drink.id))

    def _named(self, drink: ShownDrink) -> list[ShownDrink]:
        return self._by_name.get(name_key(drink.name), []) if self._has_names else []


def _of_menu(old: ShownMenu, new: ShownMenu) -> Iterator[tuple[tuple[object, ...], Change]]:
    """Yield each change with what makes it the same in another language."""
    if old.spoken == new.spoken:
        for sentence in dict.fromkeys((*new.kitchen, *old.kitchen)):
            then, now = (sentence if sentence in menu.kitchen else "" for menu in (old, new))
            if then != now:
                yield ("kitchen", sentence), Change("kitchen", HOUSE, then, now, fact=sentence, word=sentence)
    alike = Alike(headings=old.region_code == new.region_code, words=old.spoken == new.spoken)
    before = _Earlier(old, new)
    for drink in new.drinks:
        for earlier in before.of(drink):
            # In another language a drink is called otherwise: that is no other name.
            old_name = earlier.name if old.spoken == new.spoken else drink.name
            subject = Subject("drink", drink.name, drink.id, old_name, earlier.id)
            for key, change in declared_otherwise([earlier.declared], drink.declared, subject, alike):
                yield (drink.id, key, *same_change(change), level(change.before)), change
