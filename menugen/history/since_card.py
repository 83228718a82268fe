"""What guests must know who hold a printed card: what it says of allergens and is so no longer."""

from collections.abc import Callable, Iterator

from menugen.menu import GuestMenu
from menugen.menu.guest import GuestDrink, GuestSwap
from menugen.menu.words import (
    DECLARED_NO_MORE,
    MAY_NOW_CONTAIN,
    NEW_CONTAINS,
    NEW_MAY_CONTAIN,
    NOW_CONTAINS,
)

Filled = Callable[..., str]
"""Says an English phrase in the page's language, its {names} filled in."""


def changes_since_card(printed: GuestMenu, now: GuestMenu, filled: Filled) -> tuple[str, ...]:
    """Return a sentence for each change that touches allergens; what was gained stands first.

    Prices, drinks that went and drinks that sold out touch none and are not told. Nothing is called free of anything:
    what a label names no longer is said so, with the advice to ask.

    Args:
        printed: The menu the card was printed from, in the language of the other.
        now: The menu as it is.
        filled: Says a phrase of menu/words.py in that language.
    """
    before = {drink.id: drink for section in printed.sections for drink in section.drinks}
    gained: list[str] = []
    lost: list[str] = []
    for section in now.sections:
        for drink in section.drinks:
            earlier = before.get(drink.id)
            if earlier is None:
                gained += _new(drink, filled)
                continue
            told: set[tuple[str, str]] = set()
            for name, was, made in _ways(earlier, drink):
                # What holds of the drink itself is not said again of each of its swaps.
                for phrase, words in (*_gained(was, made), *_lost(was, made)):
                    if (phrase, words) not in told:
                        sentence = filled(phrase, drink=name, words=words)
                        (lost if phrase == DECLARED_NO_MORE else gained).append(sentence)
                told.update((*_gained(was, made), *_lost(was, made)))
    return tuple(dict.fromkeys((*gained, *lost)))


def _ways(
    before: GuestDrink, now: GuestDrink
) -> Iterator[tuple[str, GuestDrink | GuestSwap, GuestDrink | GuestSwap]]:
    """Yield each way of making a drink that both menus have, with its name."""
    yield now.name, before, now
    swaps = {swap.text: swap for swap in before.swaps}
    for swap in now.swaps:
        # A swap the card does not know is compared with the drink as the card has it.
        yield f"{now.name} ({swap.text})", swaps.get(swap.text, before), swap


def _gained(before: GuestDrink | GuestSwap, now: GuestDrink | GuestSwap) -> Iterator[tuple[str, str]]:
    """Yield (phrase, words) for each thing the menu warns of now and did not then."""
    warned = (*before.contains, *before.may_contain)
    for phrase, marks, known in (
        (NOW_CONTAINS, now.contains, before.contains),
        (MAY_NOW_CONTAIN, now.may_contain, warned),
    ):
        for mark in marks:
            # One mark names several things, "almonds, hazelnuts": fewer of them than before are no gain.
            if not any(mark.id == other.id and mark.word in other.word for other in known):
                yield phrase, mark.word


def _lost(before: GuestDrink | GuestSwap, now: GuestDrink | GuestSwap) -> Iterator[tuple[str, str]]:
    still = {mark.id for mark in (*now.contains, *now.may_contain)}
    for mark in (*before.contains, *before.may_contain):
        if mark.id not in still:
            yield DECLARED_NO_MORE, mark.word


def _new(drink: GuestDrink, filled: Filled) -> Iterator[str]:
    for phrase, marks in ((NEW_CONTAINS, drink.contains), (NEW_MAY_CONTAIN, drink.may_contain)):
        yield from (filled(phrase, drink=drink.name, words=mark.word) for mark in marks)
