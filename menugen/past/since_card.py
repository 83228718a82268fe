"""What guests must know who hold a printed card: what its menu says of allergens and is so no longer.

Comes in: a menu as its card has it and as it is, both worked out. Goes out: a SinceCard, in the page's language.
Substances are compared, each by itself: of two nuts one may go and the other stay.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum

from menugen.facts import DrinkFacts, EventFacts, Serve
from menugen.menu import CardChange, GuestDrink, GuestMenu, Said, SinceCard
from menugen.menu.language import PageLanguage
from menugen.menu.own_words import OwnWords
from menugen.menu.words import (
    ALSO,
    ASK_FIRST,
    CARD_UNSURE,
    DECLARED_NO_MORE,
    EACH_MAY_NOW_CONTAIN,
    EACH_NOW_CONTAINS,
    LISTED,
    MAY_NOW_CONTAIN,
    NOT_COMPARED,
    NOT_ON_CARD,
    NOW_CONTAINS,
    NOW_DISTILLED_FROM,
    NOW_ONLY_DISTILLED_FROM,
    NOW_ONLY_MAY,
    ROW,
    SWAP_GONE,
    WORDS,
)
from menugen.past.printed_card import PrintedCard


class _Kind(IntEnum):
    """What can be so of a way to make a drink; the gravest first."""

    NOW_CONTAINS = 0
    NEW = 1
    UNKNOWN = 2
    MAY_NOW_CONTAIN = 3
    NOW_DISTILLED_FROM = 4
    SWAP_GONE = 5
    ONLY_MAY = 6
    ONLY_DISTILLED_FROM = 7
    NO_MORE = 8


_PHRASES: Mapping[_Kind, tuple[str, str]] = {
    _Kind.NOW_CONTAINS: (NOW_CONTAINS, EACH_NOW_CONTAINS),
    _Kind.MAY_NOW_CONTAIN: (MAY_NOW_CONTAIN, EACH_MAY_NOW_CONTAIN),
    _Kind.NOW_DISTILLED_FROM: (NOW_DISTILLED_FROM, NOW_DISTILLED_FROM),
    _Kind.NEW: (NOT_ON_CARD, NOT_ON_CARD),
    _Kind.UNKNOWN: (NOT_COMPARED, NOT_COMPARED),
    _Kind.SWAP_GONE: (SWAP_GONE, SWAP_GONE),
    _Kind.ONLY_MAY: (NOW_ONLY_MAY, NOW_ONLY_MAY),
    _Kind.ONLY_DISTILLED_FROM: (NOW_ONLY_DISTILLED_FROM, NOW_ONLY_DISTILLED_FROM),
    _Kind.NO_MORE: (DECLARED_NO_MORE, DECLARED_NO_MORE),
}
"""What is said of one way to make a drink, and of each of several."""

_LOST = (_Kind.ONLY_MAY, _Kind.ONLY_DISTILLED_FROM, _Kind.NO_MORE)


@dataclass(frozen=True, slots=True)
class _Named:
    """What a way to make a drink is known to hold: substance -> the menu's word, in the order of the law's list."""

    contains: Mapping[str, str]
    may_contain: Mapping[str, str]
    distilled_from: Mapping[str, str]

    def holds(self) -> Mapping[str, str]:
        """Return all of it."""
        return {**self.contains, **self.may_contain, **self.distilled_from}


@dataclass(frozen=True, slots=True)
class _Fact:
    """One thing to tell of a way to make a drink.

    Attributes:
        kind: What it is.
        contains: Substance -> the menu's word, of what the sentence names.
        may_contain: The same; only of a drink that is new.
        distilled_from: The same; only of a drink that is new.
    """

    kind: _Kind
    contains: tuple[tuple[str, str], ...] = ()
    may_contain: tuple[tuple[str, str], ...] = ()
    distilled_from: tuple[tuple[str, str], ...] = ()


_Told = tuple[_Fact, ...]
_Way = tuple[Said, ...]
"""The name of a drink, with its swap where it is made with one."""


def since_card(card: PrintedCard, now: EventFacts, menu: GuestMenu, own: OwnWords) -> SinceCard | None:
    """Return what touches allergens and has changed since the card was printed; None where nothing has.

    Prices, drinks that went and drinks that sold out touch none and are not told. Nothing is called free of anything:
    what a label names no longer is said so, with the advice to ask. Where the card's menu is not known in full, guests
    are told that, too.

    Args:
        card: The card's menu.
        now: The event as it is.
        menu: The same, as guests see it.
        own: The user's words in that menu's language.
    """
    ways = list(_ways(card, now, menu, own)) if card.facts else []
    gained = [(way, tuple(fact for fact in told if fact.kind not in _LOST)) for way, told in ways]
    lost = [(way, tuple(fact for fact in told if fact.kind in _LOST)) for way, told in ways]
    advice = [ASK_FIRST] if any(told for _, told in lost) else []
    advice += [CARD_UNSURE] if card.reasons else []
    if not advice and not any(told for _, told in gained):
        return None
    return SinceCard(
        gained=_together(gained, own.page),
        lost=_together(lost, own.page),
        advice=tuple(own.page.say(sentence) for sentence in advice),
    )


def _ways(card: PrintedCard, now: EventFacts, menu: GuestMenu, own: OwnWords) -> Iterator[tuple[_Way, _Told]]:
    """Yield each way to make each drink with all there is to tell of it, in the order of the menu."""
    printed = _on_card(card.facts) if card.facts else {}
    by_name = {drink.spec.name.casefold(): drink for drink in printed.values()}
    for section in menu.sections:
        for shown in section.drinks:
            facts = now.drinks[shown.id]
            name = (Said(shown.name, shown.name_language),)
            # A card tells a drink by its name; one that is called otherwise now is known by what is poured.
            then = by_name.get(facts.spec.name.casefold()) or printed.get(card.drinks.get(shown.id, ""))
            if shown.id in card.unknown or (then is not None and then.spec.slug in card.unknown):
                yield name, (_Fact(_Kind.UNKNOWN),)
            elif then is None:
                yield name, tuple(_new(facts.serve))
            else:
                yield from _ways_of(name, then, facts, shown, own)


def _on_card(facts: EventFacts) -> dict[str, DrinkFacts]:
    """Return the drinks that guests saw on the card's menu."""
    event = facts.event
    hidden = set(event.off) if event.hide_off else set()
    return {slug: drink for slug, drink in facts.drinks.items() if slug not in hidden}


def _ways_of(
    name: _Way, then: DrinkFacts, now: DrinkFacts, shown: GuestDrink, own: OwnWords
) -> Iterator[tuple[_Way, _Told]]:
    """Yield the ways to make one drink that both menus have."""
    before, after = _named(then.serve), _named(now.serve)
    of_drink = tuple(_changed(before, after, now.serve))
    yield name, of_drink
    known = {_swap_key(swap.swap.replaces, swap.swap.line.name): swap for swap in then.swaps}
    for swap, said in zip(now.swaps, shown.swaps, strict=True):
        earlier = known.pop(_swap_key(swap.swap.replaces, swap.swap.line.name), None)
        made = _named(swap.serve)
        if earlier is None:
            # The card does not know this way: what it brings is told, and what it leaves out is no loss.
            told = [fact for fact in _changed(before, made, swap.serve) if fact.kind not in _LOST]
        else:
            told = list(_changed(_named(earlier.serve), made, swap.serve))
        yield _with_swap(name, said.runs), tuple(_beyond(told, of_drink))
    for swap in known.values():
        left_out = before.holds().keys() - _named(swap.serve).holds().keys()
        if left_out & after.holds().keys():
            said_then = own.instead(swap.swap.line.name, swap.swap.replaces)
            yield _with_swap(name, said_then), (_Fact(_Kind.SWAP_GONE),)


def _swap_key(replaces: str, name: str) -> tuple[str, str]:
    return replaces.casefold(), name.casefold()


def _with_swap(name: _Way, swap: tuple[Said, ...]) -> _Way:
    return (*name, Said(" ("), *swap, Said(")"))


def _named(serve: Serve) -> _Named:
    declaration = serve.declaration
    contains, may_contain, distilled_from = (
        {one: word for item in declared for one, word in zip(item.substances, item.words, strict=True)}
        for declared in (declaration.contains, declaration.may_contain, declaration.distilled_from)
    )
    return _Named(contains, may_contain, distilled_from)


def _changed(before: _Named, after: _Named, serve: Serve) -> Iterator[_Fact]:
    """Yield what one way to make a drink gained and lost; while a label is unread nothing is called lost."""
    warned, of_the_drink = before.holds(), {**before.contains, **before.may_contain}
    found = {
        _Kind.NOW_CONTAINS: {k: word for k, word in after.contains.items() if k not in before.contains},
        _Kind.MAY_NOW_CONTAIN: {k: word for k, word in after.may_contain.items() if k not in of_the_drink},
        _Kind.NOW_DISTILLED_FROM: {k: word for k, word in after.distilled_from.items() if k not in warned},
    }
    if not serve.unread:
        found[_Kind.ONLY_MAY] = {k: word for k, word in after.may_contain.items() if k in before.contains}
        found[_Kind.ONLY_DISTILLED_FROM] = {
            k: word for k, word in after.distilled_from.items() if k in of_the_drink
        }
        found[_Kind.NO_MORE] = {k: word for k, word in warned.items() if k not in after.holds()}
    for kind, words in found.items():
        if words:
            yield _Fact(kind, tuple(words.items()))


def _beyond(told: Iterable[_Fact], of_drink: _Told) -> Iterator[_Fact]:
    """Yield what holds of a swap and not of the drink itself."""
    already = {fact.kind: dict(fact.contains).keys() for fact in of_drink}
    for fact in told:
        left = tuple(item for item in fact.contains if item[0] not in already.get(fact.kind, ()))
        if left:
            yield _Fact(fact.kind, left)


def _new(serve: Serve) -> Iterator[_Fact]:
    named = _named(serve)
    if named.holds():
        yield _Fact(
            _Kind.NEW,
            tuple(named.contains.items()),
            tuple(named.may_contain.items()),
            tuple(named.distilled_from.items()),
        )


def _together(ways: Iterable[tuple[_Way, _Told]], page: PageLanguage) -> tuple[CardChange, ...]:
    """Return a line for each set of things to tell, with all ways to make a drink that it is so of."""
    alike: dict[_Told, list[_Way]] = {}
    for way, told in ways:
        if told:
            alike.setdefault(told, []).append(way)
    gravest_first = sorted(alike.items(), key=lambda item: min(fact.kind for fact in item[0]))
    return tuple(
        CardChange(
            made=_row(same, page),
            told=page.say(ALSO).join(
                part for fact in told for part in _sentence(fact, page, several=len(same) > 1)
            ),
        )
        for told, same in gravest_first
    )


def _row(ways: Iterable[_Way], page: PageLanguage) -> tuple[Said, ...]:
    """Return names in a row; neighbours of one language are one stretch."""
    stretches: list[Said] = []
    for number, way in enumerate(ways):
        for said in (*((Said(page.say(ROW)),) if number else ()), *way):
            if stretches and stretches[-1].language == said.language:
                stretches[-1] = Said(stretches[-1].text + said.text, said.language)
            else:
                stretches.append(said)
    return tuple(stretches)


def _sentence(fact: _Fact, page: PageLanguage, *, several: bool) -> Iterator[str]:
    phrase = _PHRASES[fact.kind][several]
    yield page.filled(phrase, words=_words(fact.contains, page))
    if fact.kind is _Kind.NEW:
        for label, named in (
            ("listed_contains", fact.contains),
            ("listed_may_contain", fact.may_contain),
            ("listed_distilled_from", fact.distilled_from),
        ):
            if named:
                yield page.filled(LISTED, label=page.say(WORDS[label]), words=_words(named, page))


def _words(named: Iterable[tuple[str, str]], page: PageLanguage) -> str:
    return page.row(list(dict.fromkeys(page.say(word) for _, word in named)))
