"""What a menu declares of a drink, however it is made, and what of that is otherwise than it was under the same name.

A drink worked out and one read back from a published menu are both a DeclaredDrink: there is one rule for all.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple, TypeAlias

from menugen.comparing.changes import LEVELS, NOT_READ, READ, Change, Subject, level
from menugen.facts import CombinedFacts, DrinkFacts, Serve
from menugen.names import name_key
from menugen.records import Swap

_, DISTILLED_FROM, MAY_CONTAIN, CONTAINS = LEVELS

SwapKey: TypeAlias = Hashable
"""What makes a swap that swap, in every language and under every name of what it is made with."""


class DeclaredAs(NamedTuple):
    """How a menu speaks of one substance.

    Attributes:
        level: One of LEVELS.
        word: The menu's word: "almonds".
        heading: The group of the law's list it is shown under; empty for what no law lists, which is known by its word
            alone.
    """

    level: str = ""
    word: str = ""
    heading: str = ""


NOT_DECLARED = DeclaredAs()


@dataclass(frozen=True, slots=True)
class DeclaredWay:
    """One way to make a drink: as written, or with a swap.

    Attributes:
        substances: How it is declared with each; none stands at two levels.
        cautions: What they are about -> their text.
        text: The swap in words; empty for the drink as written.
        unread: What is in it whose label nobody has read: what stands for it in both houses -> its name in stock.
        offers: Of a swap, what stands for the thing it offers; empty where that is not known.
    """

    substances: Mapping[str, DeclaredAs]
    cautions: Mapping[str, str]
    text: str = ""
    unread: Mapping[str, str] = field(default_factory=dict)
    offers: str = ""


@dataclass(frozen=True, slots=True)
class DeclaredDrink:
    """A drink as a menu declares it.

    Attributes:
        id: Its page's name.
        name: As guests read it.
        made: As written.
        swaps: With each swap made, one at a time.
        combined: With several swaps made at once, as far as they are known.
    """

    id: str
    name: str
    made: DeclaredWay
    swaps: Mapping[SwapKey, DeclaredWay]
    combined: Mapping[SwapKey, DeclaredWay]


class Alike(NamedTuple):
    """What of two menus may be compared.

    Attributes:
        headings: The law's headings: one place has listed both.
        words: What is known by its words alone: both are in one language.
    """

    headings: bool = True
    words: bool = True


_ALL_ALIKE = Alike()


def declared(serve: Serve) -> dict[str, DeclaredAs]:
    """Return how a drink is declared with each substance; none stands at two levels."""
    groups = serve.declaration
    return {
        substance: DeclaredAs(said, word, group.entry_name)
        for said, found in (
            (DISTILLED_FROM, groups.distilled_from),
            (MAY_CONTAIN, groups.may_contain),
            (CONTAINS, groups.contains),
        )
        for group in found
        for substance, word in zip(group.substances, group.words, strict=True)
    }


def _as_said(serve: Serve) -> dict[str, DeclaredAs]:
    """Return what labels name and no law lists: it is on the menu all the same."""
    groups = serve.declaration
    return {
        word.casefold(): DeclaredAs(said, word)
        for said, words in (
            (DISTILLED_FROM, groups.distilled_said),
            (MAY_CONTAIN, groups.may_said),
            (CONTAINS, groups.said),
        )
        for word in words
    }


def declared_drink(facts: DrinkFacts, thing: Callable[[str], str] = name_key) -> DeclaredDrink:
    """Return what a menu declares of a drink that was worked out.

    Args:
        facts: The drink.
        thing: Returns what stands for a name in a spec, or in stock, in every house that is compared.
    """
    spec = facts.spec

    def way(serve: Serve, text: str = "", offers: str = "") -> DeclaredWay:
        cautions = {caution: caution for caution in serve.cautions}
        unread = {thing(name): name for name in serve.unread}
        return DeclaredWay({**_as_said(serve), **declared(serve)}, cautions, text, unread, offers)

    return DeclaredDrink(
        spec.slug,
        spec.name,
        way(facts.serve),
        {
            swap_key(one.swap, thing): way(one.serve, one.text, thing(one.swap.line.name))
            for one in facts.swaps
        },
        {
            combined_key(many, facts, thing): way(
                many.serve, ", ".join(facts.swaps[at].text for at in many.of)
            )
            for many in facts.combined
        },
    )


def swap_key(swap: Swap, thing: Callable[[str], str]) -> SwapKey:
    """Return what a swap is known by: the two things that make it that swap."""
    return thing(swap.replaces), thing(swap.line.name)


def combined_key(many: CombinedFacts, facts: DrinkFacts, thing: Callable[[str], str]) -> SwapKey:
    """Return what several swaps at once are known by."""
    return frozenset(swap_key(facts.swaps[at].swap, thing) for at in many.of)


def declared_otherwise(
    olds: Sequence[DeclaredDrink], new: DeclaredDrink, subject: Subject, alike: Alike = _ALL_ALIKE
) -> Iterator[tuple[SwapKey | None, Change]]:
    """Yield what is declared otherwise under a drink's name, with the swap it is so of; None for it as written.

    Of a swap only what is not so of the drink as written. What a new swap leaves out is no loss: the drink as written
    is still there.

    Args:
        olds: What menus declared under the name. Of several it is a change only where it is more than any of them
            declared, or less than all.
        new: What a menu declares now.
        subject: What both are called.
        alike: What of them may be compared.
    """
    seen: set[tuple[object, ...]] = set()

    def unseen(
        found: Iterable[Change], key: SwapKey | None, text: str
    ) -> Iterator[tuple[SwapKey | None, Change]]:
        fresh = [one for one in found if same_change(one) not in seen]
        yield from ((key, replace(one, swap=text)) for one in fresh)

    def then(ways: Sequence[DeclaredWay], now: DeclaredWay) -> Iterator[Change]:
        return _of_way(ways, now, subject, alike)

    of_drink = list(then([old.made for old in olds], new.made))
    yield from ((None, one) for one in of_drink)
    seen |= {same_change(one) for one in of_drink}
    choices = [same_choices(old, new) for old in olds]
    of_swaps = []
    for key, way in new.swaps.items():
        earlier = [old.swaps[was[key]] for old, was in zip(olds, choices, strict=True) if key in was]
        found = (
            then(earlier, way)
            if earlier
            else (one for one in then([old.made for old in olds], way) if one.gained or one.kind == "unread")
        )
        of_swaps += list(unseen(found, key, way.text))
    yield from of_swaps
    seen |= {same_change(one) for _, one in of_swaps}
    for key, way in new.combined.items():
        # They come and go with what they leave out; each of their swaps has been looked at by itself.
        if combined := [old.combined[key] for old in olds if key in old.combined]:
            yield from unseen(then(combined, way), key, way.text)
    kept = [set(was.values()) for was in choices]
    for key, way in olds[0].swaps.items():
        if not any(key in one for one in kept) and all(key in old.swaps for old in olds):
            yield key, Change("swap", subject, way.text, fact=str(key), word=way.text)


def same_change(one: Change) -> tuple[object, ...]:
    """Return what makes a change the same with a swap, and in another language, but for how it was before."""
    return one.kind, one.fact, level(one.after)


def same_choices(old: DeclaredDrink, new: DeclaredDrink) -> dict[SwapKey, SwapKey]:
    """Return which swap of an older drink is which of a newer one: key now -> key then.

    What is called the same is the same; so is what offers the same thing, declared as it was, in the place of something
    that is called otherwise now.
    """
    found = {key: key for key in new.swaps if key in old.swaps}
    for what_is_same in (_text, _offer):
        left = {what_is_same(way): key for key, way in old.swaps.items() if key not in found.values()}
        for key, way in new.swaps.items():
            if key not in found and (match := left.pop(what_is_same(way), None)) is not None:
                found[key] = match
    return found


def _text(way: DeclaredWay) -> Hashable:
    return way.text


def _offer(way: DeclaredWay) -> Hashable:
    levels = frozenset((substance, said.level) for substance, said in way.substances.items())
    return way.offers or way.text, levels, frozenset(way.cautions), frozenset(way.unread)


def _of_way(olds: Sequence[DeclaredWay], new: DeclaredWay, drink: Subject, alike: Alike) -> Iterator[Change]:
    """Yield what one way to make a drink is declared with otherwise."""
    newly_unread = {
        thing: name for thing, name in new.unread.items() if not any(thing in old.unread for old in olds)
    }
    for substance in dict.fromkeys(one for way in (new, *olds) for one in way.substances):
        now = new.substances.get(substance, NOT_DECLARED)
        known = sorted((old.substances.get(substance, NOT_DECLARED) for old in olds), key=_level)
        if not alike.words and not any(one.heading for one in (now, *known)):
            continue
        least, most = known[0], known[-1]
        was = most if _level(now) > _level(most) else least
        word = now.word or most.word
        if _level(now) > _level(most) or (_level(now) < _level(least) and not newly_unread):
            yield Change("allergen", drink, was.level, now.level, fact=substance, word=word)
        elif now.level and alike.headings and all(one.level and one.heading != now.heading for one in known):
            words = f"{word} under {now.heading}, {was.heading} before"
            yield Change("listing", drink, was.level, now.level, fact=substance, word=words)
    for caution in dict.fromkeys(one for way in (new, *olds) for one in way.cautions):
        said = [old.cautions.get(caution, "") for old in olds]
        today = new.cautions.get(caution, "")
        if (today and not any(said)) or (all(said) and not today):
            yield Change("caution", drink, said[0], today, fact=caution, word=today or said[0])
    for thing, name in new.unread.items():
        yield Change(
            "unread", drink, READ if thing in newly_unread else NOT_READ, NOT_READ, fact=name, word=name
        )


def _level(one: DeclaredAs) -> int:
    return level(one.level)


def words_at(level: str, known: Mapping[str, DeclaredAs]) -> tuple[str, ...]:
    """Return the words of everything that is declared at one level."""
    return tuple(one.word for one in known.values() if one.level == level)
