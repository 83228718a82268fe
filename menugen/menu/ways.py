"""Every way to make a drink that guests may ask for: each swap, and several at once where that leaves more out."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from menugen import regions
from menugen.facts import DrinkFacts, Serve
from menugen.menu.guest import AllergenMark, GuestDrink, GuestSwap, NamedSubstance, Said
from menugen.menu.language import PageLanguage
from menugen.menu.own_words import OwnWords
from menugen.menu.strength import strength_words
from menugen.menu.units import units_words
from menugen.menu.words import ADDS, MAY_ADD, ROW
from menugen.regions import Declared, DrinkUnit

Marks = tuple[AllergenMark, ...]


@dataclass(frozen=True, slots=True)
class WayWords:
    """How one page speaks of a way of making a drink.

    Attributes:
        page: Its language.
        unit: What the place counts alcohol in.
        says_strength: Whether anything is said of strength; it is not where no alcohol may be poured.
        has_alcohol: Whether any drink of the event holds some; without, cautions of alcohol have nothing to be about.
    """

    page: PageLanguage
    unit: DrinkUnit
    says_strength: bool
    has_alcohol: bool

    def facts(self, serve: Serve) -> tuple[str, str, Marks, Marks]:
        """Return strength, units, contains and may contain."""
        return (
            self.strength(serve),
            units_words(self.unit, serve.made.ethanol_ml, self.page) if self.says_strength else "",
            self._marks(serve.declaration.contains),
            self._marks(serve.declaration.may_contain),
        )

    def strength(self, serve: Serve) -> str:
        """Return what is said of strength; empty where nothing is."""
        return strength_words(serve, self.page) if self.says_strength else ""

    def alcohol_free(self, serve: Serve) -> bool:
        """Whether the region's threshold for an alcohol-free drink is met, and said to be."""
        return self.says_strength and serve.descriptor is not None and serve.descriptor.alcohol_free

    def cautions(self, serve: Serve) -> dict[str, str]:
        """Return what guests are told of cautions, by id, most grave first."""
        told = ((name, regions.caution(name)) for name in serve.cautions)
        return {
            name: self.page.say(caution.guest)
            for name, caution in told
            if caution.guest and (self.has_alcohol or not caution.of_alcohol)
        }

    def brings(self, before: Serve, after: Serve) -> Iterator[str]:
        """Yield what a way has that the drink as written does not: no alcohol, allergens, cautions."""
        if self.alcohol_free(after) and not self.alcohol_free(before):
            yield self.strength(after)
        contained, warned = _words(before.declaration.contains), _words(before.declaration.may_contain)
        for phrase, found, known in (
            (ADDS, _words(after.declaration.contains), contained),
            (MAY_ADD, _words(after.declaration.may_contain), contained | warned),
        ):
            words = [self.page.say(word) for one, word in found.items() if one not in known]
            if words:
                yield self.page.filled(phrase, words=self.page.row(words))
        known = self.cautions(before)
        yield from (said for caution, said in self.cautions(after).items() if caution not in known)

    def _marks(self, declared: Iterable[Declared]) -> Marks:
        marks = []
        for item in declared:
            words = [self.page.say(word) for word in item.words]
            named = tuple(NamedSubstance(*pair) for pair in zip(item.substances, words, strict=True))
            marks.append(AllergenMark(item.entry_id, self.page.row(words), item.icon, named))
        return tuple(marks)


def guest_swaps(
    facts: DrinkFacts, words: WayWords, own: OwnWords
) -> tuple[tuple[GuestSwap, ...], tuple[GuestSwap, ...]]:
    """Return the swaps, one at a time, and those worth making at once.

    Several at once are worth a line only where they leave out what none of them does alone.

    Args:
        facts: The drink.
        words: How the page speaks.
        own: The user's words on it.
    """

    def made(serve: Serve, of: tuple[int, ...]) -> GuestSwap:
        swaps = [facts.swaps[at].swap for at in of]
        said = [own.instead(swap.line.name, swap.replaces) for swap in swaps]
        cautions = words.cautions(serve)
        return GuestSwap(
            tuple(_in_a_row(said, words.page)),
            *words.facts(serve),
            name=own.made_with([swaps[0].line.name]) if len(swaps) == 1 else None,
            brings=tuple(words.brings(facts.serve, serve)),
            alcohol_free=words.alcohol_free(serve),
            cautions=tuple(cautions.values()),
            id=", ".join(f"{swap.replaces} -> {swap.line.name}".casefold() for swap in swaps),
            caution_ids=tuple(cautions),
            of=of,
        )

    held: dict[tuple[int, ...], Serve] = {(): facts.serve}
    held |= {(at,): swap.serve for at, swap in enumerate(facts.swaps)}
    singles = tuple(made(serve, of) for of, serve in held.items() if of)
    combined = []
    for many in facts.combined:
        simpler = [serve for of, serve in held.items() if set(of) < set(many.of)]
        if not any(_leaves_out_as_much(serve, many.serve, words) for serve in simpler):
            held[many.of] = many.serve
            combined.append(made(many.serve, many.of))
    return singles, tuple(combined)


def drinks_out(drinks: Iterable[GuestDrink]) -> Counter[str]:
    """Return how many drinks contain or may contain a thing however they are made, by its id."""
    return Counter(
        one for drink in drinks for one in frozenset.intersection(*(way.ids for way in drink.ways))
    )


def free_left(drinks: Iterable[GuestDrink]) -> int:
    """Return how many drinks can be made in some way that is alcohol-free."""
    return sum(any(way.alcohol_free for way in drink.ways) for drink in drinks)


def _leaves_out_as_much(way: Serve, other: Serve, words: WayWords) -> bool:
    return _ids(way) <= _ids(other) and words.alcohol_free(way) >= words.alcohol_free(other)


def _ids(serve: Serve) -> frozenset[str]:
    declared = serve.declaration
    return frozenset(item.entry_id for item in (*declared.contains, *declared.may_contain))


def _words(declared: Iterable[Declared]) -> dict[str, str]:
    return {one: word for item in declared for one, word in zip(item.substances, item.words, strict=True)}


def _in_a_row(sentences: Iterable[tuple[Said, ...]], page: PageLanguage) -> Iterator[Said]:
    for number, runs in enumerate(sentences):
        if number:
            yield Said(page.say(ROW))
        yield from runs
