"""Which cautions a drink carries: those that labels and its spec name, and those that nobody has said and are known.

A line that says nothing of cautions carries what its kind is known for, until it says `cautions: none`: a guest who is
pregnant is better off with a sentence too many. What has no place in a drink has none, whatever a line says.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from menugen import reference, regions
from menugen.facts.bottles import Bottles, shelve
from menugen.problems import Place, Problem, error, warning
from menugen.records import Event, House, Line, Spec, StockLine

_MOST_DRINKS_NAMED = 6


def stock_cautions(stock: StockLine, called: str = "") -> tuple[str, ...]:
    """Return the cautions of a stock line: as it says, else as its kind is known for.

    Args:
        stock: The line.
        called: What the spec calls it; empty where that does not matter.
    """
    usual = reference.usual_cautions(stock.kind, stock.name, called)
    if stock.cautions is None:
        return usual
    return (*stock.cautions, *(one for one in usual if _forbidden(one) and one not in stock.cautions))


def drink_cautions(poured: Sequence[tuple[Line, StockLine]], spec: Spec, *, alcohol: bool) -> tuple[str, ...]:
    """Return the cautions of one way of making a drink, most grave first.

    Args:
        poured: Its lines, each with its bottle.
        spec: How it is made.
        alcohol: Whether there is alcohol in it.
    """
    named = {caution for line, stock in poured for caution in stock_cautions(stock, line.name)}
    if spec.cautions is None:
        named |= {caution for line, _ in poured for caution in _of_line(line)}
        named |= {caution for _, _, cautions in _notes(spec) for caution in cautions}
    else:
        named |= set(spec.cautions)
    if alcohol:
        named |= set(regions.with_alcohol(named))
    return tuple(caution for caution in regions.known_cautions() if caution in named)


def check_spec_cautions(spec: Spec, bottles: Bottles) -> Iterator[Problem]:
    """Yield what its words show and a spec does not say of cautions, and what has no place in a drink.

    Args:
        spec: The drink.
        bottles: What there is tonight.
    """
    carried: set[str] = set()
    for line in _every_line(spec):
        stock = bottles.find(line.name)
        if stock is None:
            continue
        carried |= set(stock_cautions(stock, line.name))
        for caution in reference.usual_cautions(stock.kind, stock.name, line.name):
            if _forbidden(caution) and caution not in (stock.cautions or ()):
                yield _no_place(caution, line.place._replace(quote=line.name))
    if spec.cautions is None:
        yield from _check_words(spec, carried)


def _check_words(spec: Spec, carried: Iterable[str]) -> Iterator[Problem]:
    """Yield a problem for each caution that a spec's words show and that nothing in it carries."""
    told = set(carried)
    for caution, place, shown_by in _shown(spec):
        if caution in told:
            continue
        told.add(caution)
        if _forbidden(caution):
            yield _no_place(caution, place, 'write "cautions: none" if the drink is made without it')
            continue
        yield warning(
            "caution-not-said",
            f'{spec.name} says nothing of cautions, and {shown_by} shows "{caution}"',
            place,
            f'write "cautions: [{caution}]" in the spec, or "cautions: none" where it does not apply',
            "until then guests are shown it",
        )


def _shown(spec: Spec) -> Iterator[tuple[str, Place, str]]:
    """Yield each caution that a spec's words show, where, and by what."""
    for line in _every_line(spec):
        yield from ((caution, line.place, f'"{line.name}"') for caution in _of_line(line))
    for what, text, cautions in _notes(spec):
        for caution in cautions:
            found = re.search(re.escape(caution), text, re.IGNORECASE)
            place = spec.place.at("name") if what == "name" else spec.place
            yield caution, place._replace(quote=found.group()) if found else place, f"the {what}"


def _every_line(spec: Spec) -> tuple[Line, ...]:
    return (*spec.lines, *(swap.line for swap in spec.swaps))


def unsaid_cautions(house: House, event: Event | None = None) -> Iterator[Problem]:
    """Yield one warning for each stock line that says nothing of cautions and is known for one, with its drinks.

    Args:
        house: The house.
        event: The only event that matters; None for all of them, and for drinks of the house that are on no menu.
    """
    found: dict[str, _Unsaid] = {}
    for spec, bottles in _made_with(house, event):
        for line in _every_line(spec):
            stock = bottles.find(line.name)
            if stock is None or stock.cautions is not None:
                continue
            cautions = [one for one in stock_cautions(stock, line.name) if not _forbidden(one)]
            if cautions:
                unsaid = found.setdefault(stock.name, _Unsaid(stock, {}, {}))
                unsaid.cautions.update(dict.fromkeys(cautions))
                unsaid.drinks[spec.slug] = spec.name
    for unsaid in found.values():
        yield _unsaid_in_stock(unsaid)


class _Unsaid(NamedTuple):
    """A stock line that says nothing of cautions: which it is known for, and its drinks by slug."""

    stock: StockLine
    cautions: dict[str, None]
    drinks: dict[str, str]


def _made_with(house: House, event: Event | None) -> Iterator[tuple[Spec, Bottles]]:
    """Yield each drink with the bottles it is made with: at every event that lists it, or at home where none does."""
    listed: set[str] = set()
    for one in house.events.values():
        slugs = dict.fromkeys(entry.slug for section in one.sections for entry in section.entries)
        listed |= slugs.keys()
        if event is None or one.slug == event.slug:
            bottles = shelve(house.stock, one.bottles)
            yield from ((house.specs[slug], bottles) for slug in slugs if slug in house.specs)
    if event is None:
        at_home = shelve(house.stock, {})
        for slug, spec in house.specs.items():
            if slug not in listed and not spec.place.file.startswith("../"):
                yield spec, at_home


def _unsaid_in_stock(unsaid: _Unsaid) -> Problem:
    cautions, name = list(unsaid.cautions), unsaid.stock.name
    drinks = list(unsaid.drinks.values())
    named = _row([*drinks[:_MOST_DRINKS_NAMED], *_more(len(drinks) - _MOST_DRINKS_NAMED)])
    known_for = _row([f'"{caution}"' for caution in cautions])
    return warning(
        "caution-not-said",
        f'"{name}" says nothing of cautions, and its kind is known for {known_for}',
        unsaid.stock.place._replace(on="key"),
        f'read the label and write "cautions: [{", ".join(cautions)}]", or "cautions: none" where it does not apply',
        f"until then guests are shown it with {named}",
    )


def _more(count: int) -> list[str]:
    return [f"{count} more"] if count > 0 else []


def _row(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else list(words))


def _no_place(caution: str, place: Place, *hints: str) -> Problem:
    return error(
        "must-not-be-served",
        f'"{caution}" has no place in a drink',
        place,
        regions.caution(caution).bar,
        *hints,
    )


def _forbidden(caution: str) -> bool:
    return caution in regions.known_cautions() and regions.caution(caution).forbids


def _of_line(line: Line) -> tuple[str, ...]:
    return reference.made_cautions(f"{line.name} {line.note}".strip())


def _notes(spec: Spec) -> Iterable[tuple[str, str, tuple[str, ...]]]:
    """Return what a spec's texts show beside its lines, with the text."""
    texts = [("name", spec.name), ("guest notes", spec.guest_notes), ("bar notes", spec.bar_notes)]
    told = [(part, text, reference.noted_cautions(part, text)) for part, text in texts if text]
    # What is hidden from guests in a comment is a bar note in another place.
    return (
        *told,
        *(("comment", text, reference.noted_cautions("bar notes", text)) for text in spec.comments),
    )
