"""What guests must know who hold a printed card: what its menu says of allergens and is so no longer.

Comes in: a menu as its card has it and as it is, both worked out. Goes out: a SinceCard, in the page's language.
Substances are compared, each by itself: of two nuts one may go and the other stay.
"""

from collections.abc import Iterable, Iterator, Mapping
from enum import IntEnum
from typing import NamedTuple

from menugen import regions
from menugen.comparing import (
    CONTAINS,
    DISTILLED_FROM,
    LEVELS,
    MAY_CONTAIN,
    NOT_DECLARED,
    DeclaredAs,
    declared,
    level,
)
from menugen.facts import DrinkFacts, EventFacts, Serve
from menugen.menu import (
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
    CardChange,
    GuestDrink,
    GuestMenu,
    GuestSwap,
    OwnWords,
    PageLanguage,
    Said,
    SinceCard,
    kitchen_lines,
)
from menugen.names import name_key
from menugen.past.printed_card import PrintedCard


class _Kind(IntEnum):
    """What can be so of a way to make a drink; the gravest first."""

    NOW_CONTAINS = 0
    NEW = 1
    UNKNOWN = 2
    MAY_NOW_CONTAIN = 3
    CAUTION = 4
    NOW_DISTILLED_FROM = 5
    SWAP_GONE = 6
    ONLY_MAY = 7
    ONLY_DISTILLED_FROM = 8
    NO_MORE = 9


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


_OF_LEVELS = {
    ("", CONTAINS): _Kind.NOW_CONTAINS,
    (DISTILLED_FROM, CONTAINS): _Kind.NOW_CONTAINS,
    (MAY_CONTAIN, CONTAINS): _Kind.NOW_CONTAINS,
    ("", MAY_CONTAIN): _Kind.MAY_NOW_CONTAIN,
    (DISTILLED_FROM, MAY_CONTAIN): _Kind.MAY_NOW_CONTAIN,
    ("", DISTILLED_FROM): _Kind.NOW_DISTILLED_FROM,
    (CONTAINS, MAY_CONTAIN): _Kind.ONLY_MAY,
    (CONTAINS, DISTILLED_FROM): _Kind.ONLY_DISTILLED_FROM,
    (MAY_CONTAIN, DISTILLED_FROM): _Kind.ONLY_DISTILLED_FROM,
}
"""What is told of a substance, by how it was declared and how it is; one that is declared no longer is NO_MORE."""


class _Named(NamedTuple):
    """A substance that a sentence names, at its level where the drink is new; or a caution, a sentence of its own."""

    substance: str
    word: str
    level: str = ""


class _Fact(NamedTuple):
    """One thing to tell of a way to make a drink."""

    kind: _Kind
    named: tuple[_Named, ...] = ()


_Told = tuple[_Fact, ...]
_Way = tuple[Said, ...]
"""The name of a drink, with its swap where it is made with one."""


def since_card(card: PrintedCard, now: EventFacts, menu: GuestMenu, own: OwnWords) -> SinceCard | None:
    """Return what touches allergens and has changed since the card was printed; None where nothing has.

    Prices, drinks that went and drinks that sold out touch none and are not told; cautions and equipment that are new
    are, and not those that are gone. Nothing is called free of anything: what a label names no longer is said so, with
    the advice to ask. Where the card's menu is not known in full, guests are told that, too.

    Args:
        card: The card's menu.
        now: The event as it is.
        menu: The same, as guests see it.
        own: The user's words in that menu's language.
    """
    ways = list(_ways(card, now, menu, own)) if card.facts else []
    gained = [(way, tuple(fact for fact in told if fact.kind not in _LOST)) for way, told in ways]
    lost = [(way, tuple(fact for fact in told if fact.kind in _LOST)) for way, told in ways]
    advice = list(_newly_shared(card, now, own))
    advice += [own.page.say(ASK_FIRST)] if any(told for _, told in lost) else []
    advice += [own.page.say(CARD_UNSURE)] if card.reasons else []
    if not advice and not any(told for _, told in gained):
        return None
    return SinceCard(
        gained=_together(gained, own.page),
        lost=_together(lost, own.page),
        advice=tuple(advice),
    )


def _newly_shared(card: PrintedCard, now: EventFacts, own: OwnWords) -> tuple[str, ...]:
    """Return a sentence on equipment that drinks share now and did not."""
    known = {name_key(name) for name in card.facts.event.equipment} if card.facts else set()
    added = [name for name in now.event.equipment if name_key(name) not in known]
    return kitchen_lines(own, added)[:1] if added and card.facts else ()


def _ways(card: PrintedCard, now: EventFacts, menu: GuestMenu, own: OwnWords) -> Iterator[tuple[_Way, _Told]]:
    """Yield each way to make each drink with all there is to tell of it, in the order of the menu."""
    printed = _on_card(card.facts) if card.facts else {}
    by_name = {name_key(own.spec_name(drink.spec).text): drink for drink in printed.values()}
    for section in menu.sections:
        for shown in section.drinks:
            facts = now.drinks[shown.id]
            name = (Said(shown.name, shown.name_language),)
            # A guest knows a drink by its name in that language; one that is called otherwise now, by what is poured.
            then = by_name.get(name_key(shown.name)) or printed.get(card.drinks.get(shown.id, ""))
            if shown.id in card.unknown or (then is not None and then.spec.slug in card.unknown):
                yield name, (_Fact(_Kind.UNKNOWN),)
            elif then is None:
                yield name, tuple(_new(facts.serve))
                yield from _cautions(name, shown, ())
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
    before = declared(then.serve)
    of_drink = tuple(_changed(before, now.serve))
    yield name, of_drink
    yield from _cautions(name, shown, then.serve.cautions)
    newly = {*shown.caution_ids} - {*then.serve.cautions}
    known = {_swap_key(swap.swap.replaces, swap.swap.line.name): swap for swap in then.swaps}
    for swap, said in zip(now.swaps, shown.swaps, strict=True):
        earlier = known.pop(_swap_key(swap.swap.replaces, swap.swap.line.name), None)
        told = list(_changed(declared(earlier.serve) if earlier else before, swap.serve))
        if earlier is None:
            # The card does not know this way: what it brings is told, and what it leaves out is no loss.
            told = [fact for fact in told if fact.kind not in _LOST]
        way = _with_swap(name, said.runs)
        yield way, tuple(_beyond(told, of_drink))
        yield from _cautions(way, said, newly.union((earlier or then).serve.cautions))
    for swap in known.values():
        if _spared(swap.serve, then.serve, now.serve):
            said_then = own.instead(swap.swap.line.name, swap.swap.replaces)
            yield _with_swap(name, said_then), (_Fact(_Kind.SWAP_GONE),)


def _spared(swap: Serve, then: Serve, now: Serve) -> bool:
    """Return whether a drink warned and warns of something that a swap it had did not warn of, or less firmly."""
    of_swap, before, after = declared(swap), declared(then), declared(now)
    less = {one: level(of_swap.get(one, NOT_DECLARED).level) for one in before.keys() & after.keys()}
    return any(
        least < min(level(before[one].level), level(after[one].level)) for one, least in less.items()
    ) or not {*then.cautions} & {*now.cautions} <= {*swap.cautions}


def _cautions(way: _Way, shown: GuestDrink | GuestSwap, known: Iterable[str]) -> Iterator[tuple[_Way, _Told]]:
    """Yield each caution of a way to make a drink that is new, apart from all else: it is a sentence."""
    for caution in shown.caution_ids:
        if caution not in known:
            yield way, (_Fact(_Kind.CAUTION, (_Named(caution, regions.caution(caution).guest or ""),)),)


def _swap_key(replaces: str, name: str) -> tuple[str, str]:
    return name_key(replaces), name_key(name)


def _with_swap(name: _Way, swap: tuple[Said, ...]) -> _Way:
    return (*name, Said(" ("), *swap, Said(")"))


def _gravest_first(said: Mapping[str, DeclaredAs]) -> list[tuple[str, DeclaredAs]]:
    return sorted(said.items(), key=lambda item: -level(item[1].level))


def _changed(before: Mapping[str, DeclaredAs], serve: Serve) -> Iterator[_Fact]:
    """Yield what one way to make a drink gained and lost; while a label is unread nothing is called lost."""
    after = declared(serve)
    found: dict[_Kind, list[_Named]] = {}
    for substance, now in after.items():
        was = before.get(substance, NOT_DECLARED)
        if (kind := _OF_LEVELS.get((was.level, now.level))) is not None:
            found.setdefault(kind, []).append(_Named(substance, now.word))
    gone = [_Named(one, was.word) for one, was in _gravest_first(before) if one not in after]
    if gone:
        found[_Kind.NO_MORE] = gone
    for kind in sorted(found):
        if kind not in _LOST or not serve.unread:
            yield _Fact(kind, tuple(found[kind]))


def _beyond(told: Iterable[_Fact], of_drink: _Told) -> Iterator[_Fact]:
    """Yield what holds of a swap and not of the drink itself."""
    already = {(fact.kind, one.substance) for fact in of_drink for one in fact.named}
    for fact in told:
        if left := tuple(one for one in fact.named if (fact.kind, one.substance) not in already):
            yield _Fact(fact.kind, left)


def _new(serve: Serve) -> Iterator[_Fact]:
    named = tuple(_Named(one, said.word, said.level) for one, said in _gravest_first(declared(serve)))
    if named:
        yield _Fact(_Kind.NEW, named)


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
    if fact.kind is _Kind.CAUTION:
        yield from (page.say(one.word) for one in fact.named)
        return
    phrase = _PHRASES[fact.kind][several]
    yield page.filled(phrase, words=_words(fact.named, page))
    if fact.kind is _Kind.NEW:
        for said in reversed(LEVELS[1:]):
            if named := [one for one in fact.named if one.level == said]:
                label = WORDS[f"listed_{said.replace(' ', '_')}"]
                yield page.filled(LISTED, label=page.say(label), words=_words(named, page))


def _words(named: Iterable[_Named], page: PageLanguage) -> str:
    return page.row(list(dict.fromkeys(page.say(one.word) for one in named)))
