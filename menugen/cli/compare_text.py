"""What changed between two houses: as text for a terminal, as Markdown for a merge request, as JSON for a program."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from menugen.comparing.changes import AllergenMove, Cause, Comparison, Declared, DrinkMoves, Move, NewDrink
from menugen.drink_facts import compared_facts
from menugen.problems import Problem, Span, visible
from menugen.problems.sections import ALARM, Item, Section, counted, section_lines, wrapped

_MOST_NAMES = 12
"""Names in one list before the rest is counted; never where allergens are told."""

_LEVEL_WORDS = {
    Declared.CONTAINS: "CONTAINS",
    Declared.MAY_CONTAIN: "MAY CONTAIN",
    Declared.DISTILLED_FROM: "DISTILLED FROM",
    Declared.NOT: "NOT DECLARED",
}


_SAY_THEMSELVES = ("measure", *(fact.name for fact in compared_facts() if fact.says_itself))
"""Facts whose values need no name before them: "2.2 -> 2.7 units"."""

_WRITTEN = ("measure", "method", "strain", "glass", "ice", "melt", "serves", "swap")
"""Facts a spec itself says: they are the causes of others."""


def compare_text(comparison: Comparison, *, bold: bool) -> str:
    """Return the comparison as text, 80 columns wide, allergens gained first.

    Args:
        comparison: What changed.
        bold: Whether headings may be set bold; nothing is said by that alone.
    """
    out = [*wrapped(f"{comparison.old.label} -> {comparison.new.label}")]
    out += section_lines(_sections(comparison), bold=bold)
    if comparison.nothing and comparison.readable:
        out += ["", _nothing(comparison)]
    return "\n".join(out)


def compare_markdown(comparison: Comparison) -> str:
    """Return the comparison as CommonMark, to paste where a change is discussed."""
    out = [f"{_escaped(comparison.old.label)} → {_escaped(comparison.new.label)}"]
    for section in _sections(comparison):
        mark = "⚠ " if section.lead else ""
        out += ["", f"### {mark}{_escaped(section.title)}", ""]
        for item in section.items:
            out.append(f"- {_escaped(item.text)}")
            out += [f"  - {_escaped(line)}" for line in item.under]
    if comparison.nothing and comparison.readable:
        out += ["", f"{_nothing(comparison).capitalize()}."]
    return "\n".join(out)


def _nothing(comparison: Comparison) -> str:
    """Return the sentence for no change; it promises no more than was compared."""
    partly = comparison.notes or comparison.old.errors or comparison.new.errors
    return "no fact changed in what could be compared" if partly else "no fact changed"


def _escaped(text: str) -> str:
    """Return a text whose marks Markdown leaves alone; a user's name is no heading, link, tag or new line."""
    return re.sub(r"([\\`*_\[\]<>#|~]|^[+-]|(?<=^\d)[.)])", r"\\\1", visible(text))


def _sections(comparison: Comparison) -> Iterator[Section]:
    """Yield what is to be told, gravest first; sections without a line are left out by whoever draws them.

    A drink that only a bottle or a label has changed is told where that bottle is; the others have a heading each.
    """
    moved = [(drink, one) for drink in comparison.drinks for one in drink.allergens]
    gained = [(drink, one) for drink, one in moved if one.gained]
    lost = [(drink, one) for drink, one in moved if not one.gained]
    drinks = len({drink.slug for drink, _ in gained})
    heads = [bottle.thing for bottle in comparison.bottles] + [stock.thing for stock in comparison.stock]
    heads += [*comparison.house, *(what for event in comparison.events for what in event.what)]
    by_thing = {drink.slug: thing for drink in comparison.drinks if (thing := _only_thing(drink, heads))}
    sections = [
        Section(f"ALLERGENS GAINED in {counted(drinks, 'drink')}", tuple(_allergens(gained)), ALARM),
        Section("NOT COMPARED, AND SO NOT KNOWN", tuple(_unseen(comparison)), ALARM),
        Section("Allergens declared no longer, or less firmly", tuple(_allergens(lost))),
        Section("Drinks", tuple(_drinks(comparison))),
        Section("Bottles and stock", tuple(_stock(comparison, by_thing))),
        *(
            Section(drink.name, tuple(Item(head, under) for head, under in moved_lines(drink)))
            for drink in comparison.drinks
            if drink.slug not in by_thing
        ),
        *(
            Section(event.name, tuple(_phrase(what, comparison.drinks, by_thing) for what in event.what))
            for event in comparison.events
        ),
        Section("The house", tuple(_house(comparison, by_thing))),
        *_problems(comparison),
        Section("Of this comparison", tuple(map(Item, comparison.notes))),
    ]
    return (section for section in sections if section.items)


def _only_thing(drink: DrinkMoves, heads: Collection[str]) -> str:
    """Return the one thing told elsewhere that all the moves of a drink come from; empty where it is not so."""
    told = [move for move in drink.moves if move.fact != "name"]
    things = {cause.thing for move in told for cause in move.causes}
    if len(things) != 1 or not all(move.causes for move in told):
        return ""
    [thing] = things
    is_told = any(head == thing or head.startswith(f"{thing} ") for head in heads)
    return thing if thing and is_told else ""


def _problems(comparison: Comparison) -> Iterator[Section]:
    """Yield what is wrong with the two houses; what is wrong with both, once."""

    def fault(problem: Problem) -> tuple[str, str, str]:
        return problem.where.file, problem.code, problem.message

    old, new = comparison.old, comparison.new
    then, now = set(map(fault, old.errors)), set(map(fault, new.errors))
    yield Section("Problems in both", tuple(_problem(one) for one in new.errors if fault(one) in then))
    yield Section(
        f"Problems in {old.label}", tuple(_problem(one) for one in old.errors if fault(one) not in now)
    )
    yield Section(
        f"Problems in {new.label}", tuple(_problem(one) for one in new.errors if fault(one) not in then)
    )


def _phrase(what: str, drinks: Sequence[DrinkMoves], by_thing: Mapping[str, str]) -> Item:
    """Return what an event or the house says differently, with what it did to the drinks that only it has changed."""
    here = (
        drink
        for drink in drinks
        if (thing := by_thing.get(drink.slug)) and (what == thing or what.startswith(f"{thing} "))
    )
    return Item(what, tuple(map(_in_one_line, here)))


def _in_one_line(drink: DrinkMoves) -> str:
    """Return all that moved of a drink, in one line; where it holds is said once if it is one place."""
    moves = [move for move in drink.moves if move.fact != "name"]
    places = {move.where for move in moves}
    if len(places) == 1 and (where := places.pop()):
        moves = [replace(move, where=()) for move in moves]
        return f"{drink.name} (at {', '.join(where)}): {', '.join(map(move_words, moves))}"
    return f"{drink.name}: {', '.join(map(move_words, moves))}"


def _house(comparison: Comparison, by_thing: Mapping[str, str]) -> Iterator[Item]:
    yield from (_phrase(what, comparison.drinks, by_thing) for what in comparison.house)
    yield from (Item(f"new event: {name}") for name in comparison.events_added)
    yield from (Item(f"event gone: {name}") for name in comparison.events_gone)


def _allergens(moved: Sequence[tuple[DrinkMoves, AllergenMove]]) -> Iterator[Item]:
    """Yield what drinks are declared with differently, those of one kind and one cause together."""
    grouped: dict[tuple[Declared, Declared, str, tuple[Cause, ...]], dict[str, list[str]]] = {}
    # A law elsewhere may spell the same substance otherwise.
    words: dict[str, dict[str, None]] = {}
    for drink, one in moved:
        name = f"{drink.name} with {one.swap}" if one.swap else drink.name
        key = (one.before, one.after, one.substance, one.causes)
        grouped.setdefault(key, {}).setdefault(name, []).extend(one.where)
        words.setdefault(one.substance, {})[one.word] = None
    for (before, after, substance, causes), drinks in sorted(
        grouped.items(), key=lambda item: (-item[0][1], item[0][2], _because(item[0][3]))
    ):
        word = " or ".join(words[substance])
        was = "" if after > before is Declared.NOT else f", {_LEVEL_WORDS[before].lower()} before"
        names = [f"{name} (at {', '.join(where)})" if where else name for name, where in drinks.items()]
        under = [", ".join(names)]
        if causes:
            under.append(f"because {_because(causes)}")
        yield Item(f"{_LEVEL_WORDS[after]} {word}{was}: {counted(len(names), 'drink')}", tuple(under))


def _because(causes: Iterable[Cause]) -> str:
    return "; ".join(dict.fromkeys(cause.text for cause in causes))


def _unseen(comparison: Comparison) -> Iterator[Item]:
    for drink in comparison.unseen:
        facts = _new_facts(drink.now)
        yield Item(f"{drink.now.name}: at fault in {drink.fault_in}", (f"now {facts}",) if facts else ())
    for event in comparison.events_unseen:
        yield Item(f"event {event.now.name}: at fault in {event.fault_in}")


def _new_facts(drink: NewDrink) -> str:
    """Return what a drink that has no earlier self is like; empty where it could not be worked out."""
    if not drink.strength:
        return ""
    told = [drink.strength]
    told.append(
        f"contains {', '.join(drink.contains)}" if drink.contains else "labels name no allergen in it"
    )
    if drink.may_contain:
        told.append(f"may contain {', '.join(drink.may_contain)}")
    if drink.distilled_from:
        told.append(f"distilled from {', '.join(drink.distilled_from)}")
    return "; ".join(told)


def _drinks(comparison: Comparison) -> Iterator[Item]:
    for new in comparison.added:
        facts = _new_facts(new)
        yield Item(f"new: {new.name}" + (f", {facts}" if facts else ""))
    if comparison.gone:
        yield Item("gone: " + ", ".join(name for _, name in comparison.gone))
    for drink in comparison.drinks:
        if drink.slug != drink.old_slug:
            yield Item(f"renamed: {drink.old_name} ({drink.old_slug}) -> {drink.name} ({drink.slug})")
        elif drink.name != drink.old_name:
            yield Item(f"renamed: {drink.old_name} -> {drink.name}")


def _stock(comparison: Comparison, by_thing: Mapping[str, str]) -> Iterator[Item]:
    """Yield each bottle and stock line that changed, with what it did to the drinks that only it has changed."""
    for bottle in comparison.bottles:
        head = f"{bottle.name}: {bottle.before} -> {bottle.after}"
        yield _with_drinks(head, bottle.thing, bottle.reaches, comparison, by_thing)
    for before, after in comparison.stock_renamed:
        yield Item(f"{before} is called {after}")
    for stock in comparison.stock:
        head = f"{stock.name}: {'; '.join(stock.what)}"
        yield _with_drinks(head, stock.thing, stock.reaches, comparison, by_thing)
    if comparison.stock_added:
        yield Item("new in stock: " + _some(comparison.stock_added))
    if comparison.stock_gone:
        yield Item("gone from stock: " + _some(comparison.stock_gone))


def _with_drinks(
    head: str,
    thing: str,
    reaches: Sequence[str],
    comparison: Comparison,
    by_thing: Mapping[str, str],
) -> Item:
    drinks = comparison.drinks
    unseen = {one.now.name for one in comparison.unseen}
    here = [drink for drink in drinks if by_thing.get(drink.slug) == thing]
    if not here:
        return Item(f"{head}, {_reach(reaches)}")
    shown = list(map(_in_one_line, here))
    under = {drink.name for drink in here}
    elsewhere = {
        drink.name for drink in drinks if drink.slug not in by_thing or by_thing[drink.slug] != thing
    }
    below = [name for name in reaches if name in elsewhere and _has_figures(name, drinks)]
    rest = [name for name in reaches if name not in under and name not in below and name not in unseen]
    if below:
        shown.append(f"with other changes, below: {_some(below)}")
    if rest:
        shown.append(f"no figure moved: {_some(rest)}")
    return Item(f"{head}, in {counted(len(reaches), 'drink')}", tuple(shown))


def _has_figures(name: str, drinks: Sequence[DrinkMoves]) -> bool:
    return any(drink.name == name and drink.moves for drink in drinks)


def _reach(names: Sequence[str]) -> str:
    return f"in {counted(len(names), 'drink')}: {_some(names)}" if names else "in no drink"


def _some(names: Sequence[str]) -> str:
    if len(names) <= _MOST_NAMES:
        return ", ".join(names)
    return ", ".join(names[:_MOST_NAMES]) + f" and {len(names) - _MOST_NAMES} more"


def moved_lines(drink: DrinkMoves) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what moved of one drink: each cause once, and under the last of them what they came to together.

    What only some of the causes bear on says which.
    """
    written = [move for move in drink.moves if move.fact in _WRITTEN and not move.causes]
    effects = [move for move in drink.moves if move.fact != "name" and move not in written]
    heads = dict.fromkeys(map(move_words, written))
    told = {cause.text: cause for move in effects for cause in move.causes}
    heads |= dict.fromkeys(told)
    if not heads:
        yield from ((move_words(move), ()) for move in effects)
        return
    *first, last = heads
    yield from ((head, ()) for head in first)
    places = {move.where for move in effects}
    if len(places) == 1 and (where := places.pop()) and last in told:
        last += f" (at {', '.join(where)})"
        effects = [replace(move, where=()) for move in effects]
    swaps = {move.swap for move in effects}
    if len(swaps) == 1 and (swap := swaps.pop()):
        last += "" if last.startswith("swap ") else f" (with {swap})"
        effects = [replace(move, swap="") for move in effects]
    yield last, tuple(move_words(move) + _from(move, told.values()) for move in effects)


def _from(move: Move, causes: Collection[Cause]) -> str:
    """Return which of a drink's causes a fact comes from, where it is not all of them."""
    if not move.causes or len({cause.text for cause in move.causes}) == len(causes):
        return ""
    *first, last = dict.fromkeys(cause.subject for cause in move.causes)
    return f", from {', '.join(first)} and {last}" if first else f", from {last}"


def move_words(move: Move) -> str:
    """Return a move as one phrase: "strength 18.1 -> 20.3 % vol"."""
    fact = "" if move.fact in _SAY_THEMSELVES else f"{move.fact} "
    if move.before and move.after:
        number, _, unit = move.before.partition(" ")
        same_unit = unit and move.after.endswith(f" {unit}") and number.replace(".", "").isnumeric()
        short = same_unit and move.fact not in _WRITTEN
        words = f"{fact}{number if short else move.before} -> {move.after}"
    elif move.fact == "swap":
        words = f"new swap: {move.after}" if move.after else f"swap gone: {move.before}"
    else:
        words = f"{fact}+ {move.after}" if move.after else f"{fact}- {move.before}"
    swap = f"with {move.swap}: " if move.swap else ""
    where = f" (at {', '.join(move.where)})" if move.where else ""
    return f"{swap}{words}{where}"


def _problem(problem: Problem) -> Item:
    where = problem.where
    at = f"{where.file}:{where.line}:{where.column}" if isinstance(where, Span) else where.file
    return Item(f"{at}: {problem.code}: {problem.message}")
