"""Every way to make a drink that guests may ask for: each swap, and several at once where that leaves more out."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from menugen import regions
from menugen.drink_facts import told_guests
from menugen.facts import DrinkFacts, Serve
from menugen.menu.guest import (
    AllergenMark,
    GuestDrink,
    GuestFact,
    GuestSwap,
    NamedSubstance,
    PageText,
    ShownWay,
)
from menugen.menu.language import PageLanguage
from menugen.menu.own_words import OwnWords
from menugen.menu.strength import strength_words
from menugen.menu.units import shared_units_words
from menugen.menu.words import ADDS, CARD_PHRASES, MAY_ADD, ROW
from menugen.regions import Declared, DrinkUnit

Marks = tuple[AllergenMark, ...]


@dataclass(frozen=True, slots=True)
class Manner:
    """How drinks are told of on one menu.

    Attributes:
        unit: What alcohol is counted in.
        own: The user's words, and the language.
        says_strength: Whether strength and units are shown: not where no alcohol may be poured.
        has_alcohol: Whether any drink of the menu holds some; where none does, no caution speaks of it.
    """

    unit: DrinkUnit
    own: OwnWords
    says_strength: bool
    has_alcohol: bool


def shown_way(serve: Serve, manner: Manner) -> ShownWay:
    """Return what guests are shown of one way of making a drink."""
    own, declaration = manner.own, serve.declaration
    page = own.page
    bases = [PageText(page.say(word)) for word in declaration.distilled_words]
    bases += [own.made_with([word]) for word in declaration.distilled_said]
    cautions = {
        name: page.say(caution.guest)
        for name, caution in ((name, regions.caution(name)) for name in serve.cautions)
        if caution.guest and (manner.has_alcohol or not caution.of_alcohol)
    }
    return ShownWay(
        strength=strength_words(serve, page) if manner.says_strength else "",
        units=shared_units_words(manner.unit, serve.made.ethanol_ml, serve.serves, page)
        if manner.says_strength
        else "",
        alcohol_free=manner.says_strength and _is_alcohol_free(serve),
        contains=_marks(declaration.contains, page),
        may_contain=_marks(declaration.may_contain, page),
        distilled_from=_marks(declaration.distilled_from, page),
        distilled_words=_between_commas(bases, page),
        also_named=(own.made_with(declaration.said),) if declaration.said else (),
        also_warned_of=(own.made_with(declaration.may_said),) if declaration.may_said else (),
        cautions=tuple(cautions.values()),
        caution_ids=tuple(cautions),
        facts=tuple(GuestFact(one.key, page.say(one.text), one.holds(serve)) for one in told_guests()),
    )


def _is_alcohol_free(serve: Serve) -> bool:
    """Whether the region's threshold for an alcohol-free drink is met."""
    return serve.descriptor is not None and serve.descriptor.alcohol_free


def guest_swaps(facts: DrinkFacts, manner: Manner) -> tuple[tuple[GuestSwap, ...], tuple[GuestSwap, ...]]:
    """Return the swaps, one at a time, and those worth making at once.

    Several at once are worth a line only where they leave out what none of them does alone.
    """
    own, as_written = manner.own, shown_way(facts.serve, manner)

    def made(
        serve: Serve, runs: tuple[PageText, ...], name: PageText | None, of: tuple[int, ...]
    ) -> GuestSwap:
        told = shown_way(serve, manner)
        ids = (
            f"{swap.replaces} -> {swap.line.name}".casefold() for swap in (facts.swaps[at].swap for at in of)
        )
        return GuestSwap(
            **told.by_field(),
            runs=runs,
            name=name,
            brings=tuple(_brings(facts.serve, as_written, serve, told, own.page)),
            of=of,
            id=", ".join(ids),
        )

    singles = tuple(
        made(
            swap.serve,
            own.instead(swap.swap.line.name, swap.swap.replaces),
            own.made_with([swap.swap.line.name]),
            (at,),
        )
        for at, swap in enumerate(facts.swaps)
    )
    held: dict[tuple[int, ...], tuple[bool, frozenset[str]]] = {
        (): (as_written.alcohol_free, _ids(facts.serve))
    }
    held |= {(at,): (one.alcohol_free, one.ids) for at, one in enumerate(singles)}
    combined = []
    for many in facts.combined:
        way = manner.says_strength and _is_alcohol_free(many.serve), _ids(many.serve)
        simpler = [known for of, known in held.items() if set(of) < set(many.of)]
        if any(free >= way[0] and ids <= way[1] for free, ids in simpler):
            continue
        held[many.of] = way
        runs = tuple(_in_a_row([singles[at].runs for at in many.of], own.page))
        combined.append(made(many.serve, runs, None, many.of))
    return singles, tuple(combined)


def drinks_out(drinks: Iterable[GuestDrink]) -> Counter[str]:
    """Return how many drinks contain or may contain a thing however they are made, by its id."""
    return Counter(
        one for drink in drinks for one in frozenset.intersection(*(way.ids for way in drink.ways))
    )


def free_left(drinks: Iterable[GuestDrink]) -> int:
    """Return how many drinks can be made in some way that is alcohol-free."""
    return sum(any(way.alcohol_free for way in drink.ways) for drink in drinks)


def _ids(serve: Serve) -> frozenset[str]:
    declared = serve.declaration
    every = (*declared.contains, *declared.may_contain, *declared.distilled_from)
    return frozenset(item.entry_id for item in every)


def _marks(declared: Iterable[Declared], page: PageLanguage) -> Marks:
    marks = []
    for item in declared:
        words = [page.say(word) for word in item.words]
        named = tuple(NamedSubstance(*pair) for pair in zip(item.substances, words, strict=True))
        marks.append(AllergenMark(item.entry_id, page.row(words), item.icon, named))
    return tuple(marks)


def _words(declared: Iterable[Declared]) -> dict[str, str]:
    return {one: word for item in declared for one, word in zip(item.substances, item.words, strict=True)}


def _brings(
    before: Serve, told_before: ShownWay, after: Serve, told: ShownWay, page: PageLanguage
) -> Iterator[str]:
    """Yield what a swap brings that the drink as written does not have: no alcohol, allergens, cautions."""
    if told.alcohol_free and not told_before.alcohol_free:
        yield told.strength
    for was, now in zip(told_before.facts, told.facts, strict=True):
        if now.holds and not was.holds:
            yield now.text
    contained, warned = _words(before.declaration.contains), _words(before.declaration.may_contain)
    distilled = _words(before.declaration.distilled_from)
    for phrase, found, known in (
        (ADDS, _words(after.declaration.contains), contained),
        (MAY_ADD, _words(after.declaration.may_contain), contained | warned),
        (CARD_PHRASES["now_distilled_from"], _words(after.declaration.distilled_from), contained | distilled),
    ):
        words = [page.say(word) for one, word in found.items() if one not in known]
        if words:
            yield page.filled(phrase, words=page.row(words))
    yield from (caution for caution in told.cautions if caution not in told_before.cautions)


def _in_a_row(sentences: Iterable[tuple[PageText, ...]], page: PageLanguage) -> Iterator[PageText]:
    for number, runs in enumerate(sentences):
        if number:
            yield PageText(page.say(ROW))
        yield from runs


def _between_commas(words: Iterable[PageText], page: PageLanguage) -> tuple[PageText, ...]:
    """Return words divided by commas; neighbours of one language are one stretch."""
    stretches: list[PageText] = []
    for number, word in enumerate(words):
        for said in (*((PageText(page.row(["", ""])),) if number else ()), word):
            if stretches and stretches[-1].language == said.language:
                stretches[-1] = PageText(stretches[-1].text + said.text, said.language)
            else:
                stretches.append(said)
    return tuple(stretches)
