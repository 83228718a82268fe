"""Every way to make a drink that guests may ask for: each swap, and several at once where that leaves more out."""

from collections import Counter
from collections.abc import Iterable, Iterator

from menugen import regions
from menugen.facts import DrinkFacts, Serve
from menugen.menu.guest import AllergenMark, GuestDrink, GuestSwap, Said
from menugen.menu.language import PageLanguage
from menugen.menu.own_words import OwnWords
from menugen.menu.strength import strength_words
from menugen.menu.units import units_words
from menugen.menu.words import ADDS, MAY_ADD, ROW
from menugen.regions import Declared, DrinkUnit

Marks = tuple[AllergenMark, ...]


def serve_facts(serve: Serve, unit: DrinkUnit, page: PageLanguage) -> tuple[str, str, Marks, Marks]:
    """Return strength, units, contains and may contain of one way of making a drink."""
    return (
        strength_words(serve, page),
        units_words(unit, serve.made.ethanol_ml, page),
        _marks(serve.declaration.contains, page),
        _marks(serve.declaration.may_contain, page),
    )


def is_alcohol_free(serve: Serve) -> bool:
    """Whether the region's threshold for an alcohol-free drink is met."""
    return serve.descriptor is not None and serve.descriptor.alcohol_free


def caution_words(serve: Serve, page: PageLanguage) -> tuple[str, ...]:
    """Return what guests are told to mind, most grave first."""
    return tuple(
        page.say(guest) for guest in filter(None, (regions.caution(one).guest for one in serve.cautions))
    )


def guest_swaps(
    facts: DrinkFacts, unit: DrinkUnit, page: PageLanguage, own: OwnWords
) -> tuple[tuple[GuestSwap, ...], tuple[GuestSwap, ...]]:
    """Return the swaps, one at a time, and those worth making at once.

    Several at once are worth a line only where they leave out what none of them does alone.
    """

    def made(serve: Serve, runs: tuple[Said, ...], name: Said | None, of: tuple[int, ...]) -> GuestSwap:
        return GuestSwap(
            runs,
            *serve_facts(serve, unit, page),
            name=name,
            brings=tuple(_brings(facts.serve, serve, page)),
            alcohol_free=is_alcohol_free(serve),
            cautions=caution_words(serve, page),
            of=of,
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
    as_written = is_alcohol_free(facts.serve), _ids(facts.serve)
    held: dict[tuple[int, ...], tuple[bool, frozenset[str]]] = {(): as_written}
    held |= {(at,): (one.alcohol_free, one.ids) for at, one in enumerate(singles)}
    combined = []
    for many in facts.combined:
        way = is_alcohol_free(many.serve), _ids(many.serve)
        simpler = [known for of, known in held.items() if set(of) < set(many.of)]
        if any(free >= way[0] and ids <= way[1] for free, ids in simpler):
            continue
        held[many.of] = way
        runs = tuple(_in_a_row([singles[at].runs for at in many.of], page))
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
    return frozenset(item.entry_id for item in (*declared.contains, *declared.may_contain))


def _marks(declared: Iterable[Declared], page: PageLanguage) -> Marks:
    return tuple(
        AllergenMark(item.entry_id, page.row([page.say(word) for word in item.words]), item.icon)
        for item in declared
    )


def _words(declared: Iterable[Declared]) -> dict[str, str]:
    return {one: word for item in declared for one, word in zip(item.substances, item.words, strict=True)}


def _brings(before: Serve, after: Serve, page: PageLanguage) -> Iterator[str]:
    """Yield what a swap brings that the drink as written does not have: no alcohol, allergens, cautions."""
    if is_alcohol_free(after) and not is_alcohol_free(before):
        yield strength_words(after, page)
    contained, warned = _words(before.declaration.contains), _words(before.declaration.may_contain)
    for phrase, found, known in (
        (ADDS, _words(after.declaration.contains), contained),
        (MAY_ADD, _words(after.declaration.may_contain), contained | warned),
    ):
        words = [page.say(word) for one, word in found.items() if one not in known]
        if words:
            yield page.filled(phrase, words=page.row(words))
    yield from (
        caution for caution in caution_words(after, page) if caution not in caution_words(before, page)
    )


def _in_a_row(sentences: Iterable[tuple[Said, ...]], page: PageLanguage) -> Iterator[Said]:
    for number, runs in enumerate(sentences):
        if number:
            yield Said(page.say(ROW))
        yield from runs
