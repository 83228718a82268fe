"""What guests must know who hold a printed card: what its menu says of allergens and is so no longer.

Comes in: a menu as its card has it and as it is, both worked out. Goes out: a SinceCard, in the page's language.
Substances are compared, each by itself: of two nuts one may go and the other stay.
"""

from collections.abc import Iterable, Iterator
from enum import IntEnum
from typing import NamedTuple

from menugen import regions
from menugen.comparing import (
    CONTAINS,
    DISTILLED_FROM,
    LEVELS,
    MAY_CONTAIN,
    NOT_DECLARED,
    DeclaredWay,
    Subject,
    SwapKey,
    combined_key,
    declared,
    declared_drink,
    declared_otherwise,
    level,
    swap_key,
)
from menugen.facts import DrinkFacts, EventFacts, Serve
from menugen.menu import (
    CARD_PHRASES,
    ROW,
    WORDS,
    CardChange,
    GuestDrink,
    GuestMenu,
    OwnWords,
    PageLanguage,
    PageText,
    SinceCard,
    kitchen_lines,
)
from menugen.names import name_key
from menugen.past.printed_card import PrintedCard


class _Kind(IntEnum):
    """What can be so of a way to make a drink; the gravest first. All but a caution are called as their phrase is."""

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


_GAINED = {
    CONTAINS: _Kind.NOW_CONTAINS,
    MAY_CONTAIN: _Kind.MAY_NOW_CONTAIN,
    DISTILLED_FROM: _Kind.NOW_DISTILLED_FROM,
}
_LOST = {MAY_CONTAIN: _Kind.ONLY_MAY, DISTILLED_FROM: _Kind.ONLY_DISTILLED_FROM, "": _Kind.NO_MORE}
"""What is told of a substance, by how it is declared."""


class _Named(NamedTuple):
    """A substance that a sentence names, at its level where the drink is new; or a caution, which is a sentence."""

    word: str
    level: str = ""


class _Fact(NamedTuple):
    """One thing to tell of a way to make a drink."""

    kind: _Kind
    named: tuple[_Named, ...] = ()


_Told = tuple[_Fact, ...]
_Way = tuple[PageText, ...]
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
    gained = [(way, tuple(fact for fact in told if fact.kind not in _LOST.values())) for way, told in ways]
    lost = [(way, tuple(fact for fact in told if fact.kind in _LOST.values())) for way, told in ways]
    advice = list(_newly_shared(card, now, own))
    advice += [own.page.say(CARD_PHRASES["ask_first"])] if any(told for _, told in lost) else []
    advice += [own.page.say(CARD_PHRASES["unsure"])] if card.reasons else []
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
            name = (PageText(shown.name, shown.name_language),)
            # A guest knows a drink by its name in that language; one that is called otherwise now, by what is poured.
            then = by_name.get(name_key(shown.name)) or printed.get(card.drinks.get(shown.id, ""))
            if shown.id in card.unknown or (then is not None and then.spec.slug in card.unknown):
                yield name, (_Fact(_Kind.UNKNOWN),)
            elif then is None:
                yield name, tuple(_new(facts.serve))
                yield from ((name, (_caution(one),)) for one in shown.caution_ids)
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
    """Yield the ways to make one drink that both menus have, each with what is declared otherwise."""
    before, after = declared_drink(then), declared_drink(now)
    ways: dict[SwapKey | None, _Way] = {None: name}
    ways |= {
        swap_key(swap.swap, name_key): _with_swap(name, said.runs)
        for swap, said in zip(now.swaps, shown.swaps, strict=True)
    }
    for many in now.combined:
        runs = _row([shown.swaps[at].runs for at in many.of], own.page)
        ways[combined_key(many, now, name_key)] = _with_swap(name, runs)
    for swap in (one.swap for one in then.swaps):
        ways.setdefault(
            swap_key(swap, name_key), _with_swap(name, own.instead(swap.line.name, swap.replaces))
        )
    cautions = {*shown.caution_ids, *(one for swap in shown.swaps for one in swap.caution_ids)}
    found: dict[SwapKey | None, dict[_Kind, list[_Named]]] = {}
    subject = Subject("drink", now.spec.name, now.spec.slug, then.spec.name, then.spec.slug)
    for key, change in declared_otherwise([before], after, subject):
        if change.kind == "allergen":
            kinds = _GAINED if change.gained else _LOST
            named = _Named(change.word, change.before)
            found.setdefault(key, {}).setdefault(kinds[change.after], []).append(named)
        elif change.kind == "caution" and change.after and change.fact in cautions:
            yield ways[key], (_caution(change.fact),)
        elif change.kind == "swap" and _spared(before.swaps[key], before.made, after.made):
            yield ways[key], (_Fact(_Kind.SWAP_GONE),)
    for key, way in ways.items():
        told = sorted(found.get(key, {}).items())
        yield way, tuple(_Fact(kind, _gravest_first(named)) for kind, named in told)


def _caution(caution: str) -> _Fact:
    return _Fact(_Kind.CAUTION, (_Named(regions.caution(caution).guest or ""),))


def _spared(swap: DeclaredWay, then: DeclaredWay, now: DeclaredWay) -> bool:
    """Return whether a drink warned and warns of something that a swap it had did not warn of, or less firmly."""

    def grave(way: DeclaredWay, substance: str) -> int:
        return level(way.substances.get(substance, NOT_DECLARED).level)

    return (
        any(grave(swap, one) < min(grave(then, one), grave(now, one)) for one in then.substances)
        or not then.cautions.keys() & now.cautions.keys() <= swap.cautions.keys()
    )


def _with_swap(name: _Way, swap: tuple[PageText, ...]) -> _Way:
    return (*name, PageText(" ("), *swap, PageText(")"))


def _gravest_first(named: Iterable[_Named]) -> tuple[_Named, ...]:
    """Return what drinks were declared with, the gravest first; how grave is said no more, and so is alike."""
    return tuple(one._replace(level="") for one in sorted(named, key=lambda one: -level(one.level)))


def _new(serve: Serve) -> Iterator[_Fact]:
    said = sorted(declared(serve).values(), key=lambda how: -level(how.level))
    if said:
        yield _Fact(_Kind.NEW, tuple(_Named(how.word, how.level) for how in said))


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
            told=page.say(CARD_PHRASES["also"]).join(
                part for fact in told for part in _sentence(fact, page, several=len(same) > 1)
            ),
        )
        for told, same in gravest_first
    )


def _row(ways: Iterable[_Way], page: PageLanguage) -> tuple[PageText, ...]:
    """Return names in a row; neighbours of one language are one stretch."""
    stretches: list[PageText] = []
    for number, way in enumerate(ways):
        for said in (*((PageText(page.say(ROW)),) if number else ()), *way):
            if stretches and stretches[-1].language == said.language:
                stretches[-1] = PageText(stretches[-1].text + said.text, said.language)
            else:
                stretches.append(said)
    return tuple(stretches)


def _sentence(fact: _Fact, page: PageLanguage, *, several: bool) -> Iterator[str]:
    if fact.kind is _Kind.CAUTION:
        yield from (page.say(one.word) for one in fact.named)
        return
    phrase = fact.kind.name.lower()
    each = several and CARD_PHRASES.get(f"each_{phrase}")
    yield page.filled(each or CARD_PHRASES[phrase], words=_words(fact.named, page))
    if fact.kind is _Kind.NEW:
        for said in reversed(LEVELS[1:]):
            if named := [one for one in fact.named if one.level == said]:
                label = WORDS[f"listed_{said.replace(' ', '_')}"]
                yield page.filled(CARD_PHRASES["listed"], label=page.say(label), words=_words(named, page))


def _words(named: Iterable[_Named], page: PageLanguage) -> str:
    return page.row(list(dict.fromkeys(page.say(one.word) for one in named)))
