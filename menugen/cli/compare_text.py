"""What changed between two houses: as text for a terminal, as Markdown for a merge request, as JSON for a program."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from menugen.comparing import LEVELS, Cause, Change, Comparison, Subject, bottle_thing, by_subject, level
from menugen.drink_facts import compared_facts
from menugen.problems import Problem, Span
from menugen.report import Item, Note, Report, Section, as_markdown, as_text, counted, listed

_MOST_NAMES = 12
"""Names in one list before the rest is counted; never where allergens are told."""

_SAY_THEMSELVES = ("measure", *(fact.name for fact in compared_facts() if fact.says_itself))
"""Facts whose values need no name before them: "2.2 -> 2.7 units"."""

_WRITTEN = ("measure", "making", "swap")
"""Facts a spec itself says: they are the causes of others."""


def compare_text(comparison: Comparison, *, bold: bool) -> str:
    """Return the comparison as text, 80 columns wide, allergens gained first.

    Args:
        comparison: What changed.
        bold: Whether headings may be set bold; nothing is said by that alone.
    """
    return as_text(_report(comparison, "->", _nothing(comparison)), bold=bold)


def compare_markdown(comparison: Comparison) -> str:
    """Return the comparison as CommonMark, to paste where a change is discussed."""
    return as_markdown(_report(comparison, "\N{RIGHTWARDS ARROW}", f"{_nothing(comparison).capitalize()}."))


def _report(comparison: Comparison, arrow: str, nothing: str) -> Report:
    sections = list(_sections(comparison))
    if comparison.readable and not comparison.changes:
        sections.append(Section(blocks=(Note(nothing),)))
    return Report(
        lead=(Note(f"{comparison.old.label} {arrow} {comparison.new.label}"),), sections=tuple(sections)
    )


def _nothing(comparison: Comparison) -> str:
    """Return the sentence for no change; it promises no more than was compared."""
    partly = comparison.notes or comparison.old.errors or comparison.new.errors
    return "no fact changed in what could be compared" if partly else "no fact changed"


class _Told:
    """The changes of a comparison as they are told: a drink that one thing alone has changed, where that is told."""

    def __init__(self, comparison: Comparison) -> None:
        self.drinks = comparison.drinks
        self.bottles = bottles(self.drinks)
        stock = by_subject(comparison.of("stock", "says"))
        self.stock = {subject.name: changes for subject, changes in stock.items()}
        said = [change.after for sort in ("house", "event") for change in comparison.of(sort, "says")]
        heads = [*(bottle_thing(before, after) for _, before, after in self.bottles), *self.stock, *said]
        self.by_thing = {
            drink: thing for drink, changes in self.drinks.items() if (thing := _only_thing(changes, heads))
        }
        self.unknown = {change.subject.name for change in comparison.of("drink", "unknown")}

    def under(self, thing: str) -> dict[Subject, tuple[Change, ...]]:
        """Return the drinks that are told under one thing, or under a sentence that begins with it."""
        return {
            drink: self.drinks[drink]
            for drink, only in self.by_thing.items()
            if thing == only or thing.startswith(f"{only} ")
        }


def bottles(drinks: Mapping[Subject, Iterable[Change]]) -> dict[tuple[str, str, str], list[str]]:
    """Return the drinks in which a bottle took another's place, by (name in the spec, bottle before, bottle now)."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for drink, changes in drinks.items():
        for one in changes:
            if one.kind == "bottle":
                found.setdefault((one.fact, one.before, one.after), []).append(drink.name)
    return dict(sorted(found.items()))


def facts_of(changes: Iterable[Change]) -> list[Change]:
    """Return what changed of a drink but for its allergens, its bottles and the name of its file."""
    return [one for one in changes if one.kind not in ("allergen", "bottle", "file", "not on cards")]


def _unnamed(changes: Iterable[Change]) -> list[Change]:
    return [one for one in facts_of(changes) if one.kind != "name"]


def _sections(comparison: Comparison) -> Iterator[Section]:
    """Yield what is to be told, gravest first; sections without a line are left out.

    A drink that only a bottle or a label has changed is told where that bottle is; the others have a heading each.
    """
    told = _Told(comparison)
    allergens = [one for changes in told.drinks.values() for one in changes if one.is_allergen]
    gained = [one for one in allergens if one.gained]
    lost = [one for one in allergens if not one.gained]
    drinks = counted(len({one.subject.id for one in gained}), "drink")
    events = by_subject(comparison.of("event", "says", "kitchen"))
    yield from listed(f"ALLERGENS GAINED in {drinks}", _allergens(gained), alarm=True)
    yield from listed("NOT COMPARED, AND SO NOT KNOWN", _unknown(comparison), alarm=True)
    yield from listed("NOT ON PRINTED CARDS", _not_on_cards(comparison), alarm=True)
    yield from listed("Allergens declared no longer, or less firmly", _allergens(lost))
    yield from listed("Drinks", _drinks(comparison))
    yield from listed("Bottles and stock", _stock(comparison, told))
    for drink, changes in told.drinks.items():
        if drink not in told.by_thing:
            yield from listed(drink.name, (Item(head, under) for head, under in moved_lines(changes)))
    for event, changes in events.items():
        yield from listed(event.name, _sentences(changes, told))
    yield from listed("The house", _house(comparison, told))
    yield from _problems(comparison)
    yield from listed("Of this comparison", map(Item, comparison.notes))


def _only_thing(changes: Iterable[Change], heads: Collection[str]) -> str:
    """Return the one thing told elsewhere that all that changed of a drink comes from; empty where it is not so."""
    facts = _unnamed(changes)
    things = {cause.thing for one in facts for cause in one.causes}
    if len(things) != 1 or not all(one.causes for one in facts):
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
    yield from listed("Problems in both", (_problem(one) for one in new.errors if fault(one) in then))
    yield from listed(
        f"Problems in {old.label}", (_problem(one) for one in old.errors if fault(one) not in now)
    )
    yield from listed(
        f"Problems in {new.label}", (_problem(one) for one in new.errors if fault(one) not in then)
    )


def _sentences(changes: Iterable[Change], told: _Told) -> Iterator[Item]:
    """Yield what an event or the house says differently, each with what it alone did to drinks."""
    for one in changes:
        if one.kind == "kitchen":
            yield Item(f"{'shared now' if one.after else 'shared no longer'}: {one.word}")
            continue
        yield Item(one.after, tuple(_in_one_line(*drink) for drink in told.under(one.after).items()))


def _in_one_line(drink: Subject, changes: Iterable[Change]) -> str:
    """Return all that changed of a drink, in one line; where it holds is said once if it is one place."""
    facts = _unnamed(changes)
    places = {one.where for one in facts}
    if len(places) == 1 and (where := places.pop()):
        facts = [replace(one, where=()) for one in facts]
        return f"{drink.name} (at {', '.join(where)}): {', '.join(map(fact_words, facts))}"
    return f"{drink.name}: {', '.join(map(fact_words, facts))}"


def _house(comparison: Comparison, told: _Told) -> Iterator[Item]:
    yield from _sentences(comparison.of("house", "says"), told)
    yield from (Item(f"new event: {one.subject.name}") for one in comparison.of("event", "added"))
    yield from (Item(f"event gone: {one.subject.old_name}") for one in comparison.of("event", "gone"))


def _allergens(changes: Iterable[Change]) -> Iterator[Item]:
    """Yield what drinks are declared with differently, those of one kind and one cause together."""
    grouped: dict[tuple[str, str, str, tuple[Cause, ...]], dict[str, list[str]]] = {}
    # A law elsewhere may spell the same substance otherwise.
    words: dict[str, dict[str, None]] = {}
    for one in changes:
        name = f"{one.subject.name} with {one.swap}" if one.swap else one.subject.name
        name += " (on no menu)" if one.unlisted else ""
        key = (one.before, one.after, one.fact, one.causes)
        grouped.setdefault(key, {}).setdefault(name, []).extend(one.where)
        words.setdefault(one.fact, {})[one.word] = None
    for (before, after, substance, causes), drinks in sorted(
        grouped.items(), key=lambda item: (-level(item[0][1]), item[0][2], _because(item[0][3]))
    ):
        word = " or ".join(words[substance])
        was = f", {before} before" if before else ""
        names = [f"{name} (at {', '.join(where)})" if where else name for name, where in drinks.items()]
        under = [", ".join(names)]
        if causes:
            under.append(f"because {_because(causes)}")
        declared = (after or "not declared").upper()
        yield Item(f"{declared} {word}{was}: {counted(len(names), 'drink')}", tuple(under))


def _because(causes: Iterable[Cause]) -> str:
    return "; ".join(dict.fromkeys(cause.text for cause in causes))


def _not_on_cards(comparison: Comparison) -> Iterator[Item]:
    for one in comparison.of("drink", "not on cards"):
        yield Item(f"{one.subject.name}: new at {one.where[0]}, whose cards are of {one.after}")


def _unknown(comparison: Comparison) -> Iterator[Item]:
    for one in comparison.of("drink", "unknown"):
        facts = _known_facts(comparison.known_of(one))
        yield Item(
            f"{one.subject.name}: at fault in {one.before or one.after}", (f"now {facts}",) if facts else ()
        )
    for one in comparison.of("event", "unknown"):
        yield Item(f"event {one.subject.name}: at fault in {one.before or one.after}")


def _known_facts(known: Sequence[Change]) -> str:
    """Return what a drink that has no earlier self is like; empty where it could not be worked out."""
    if not known:
        return ""
    told = [one.after for one in known if one.kind == "figure"]
    for said in reversed(LEVELS[1:]):
        words = [one.word for one in known if one.is_allergen and one.after == said]
        if words:
            told.append(f"{said} {', '.join(words)}")
        elif said == LEVELS[-1]:
            told.append("labels name no allergen in it")
    return "; ".join(told)


def _drinks(comparison: Comparison) -> Iterator[Item]:
    for one in comparison.of("drink", "added"):
        facts = _known_facts(comparison.known_of(one))
        yield Item(f"new: {one.subject.name}" + (f", {facts}" if facts else ""))
    if gone := [one.subject.old_name for one in comparison.of("drink", "gone")]:
        yield Item("gone: " + ", ".join(gone))
    for drink in comparison.drinks:
        if drink.id != drink.old_id:
            yield Item(renamed_words(drink))
        elif drink.name != drink.old_name:
            yield Item(f"renamed: {drink.old_name} -> {drink.name}")


def renamed_words(drink: Subject) -> str:
    """Return what a drink was called and is called, with the names of its files."""
    return f"renamed: {drink.old_name} ({drink.old_id}) -> {drink.name} ({drink.id})"


def _stock(comparison: Comparison, told: _Told) -> Iterator[Item]:
    """Yield each bottle and stock line that changed, with what it did to the drinks that only it has changed."""
    for (name, before, after), reaches in told.bottles.items():
        thing = bottle_thing(before, after)
        yield _with_drinks(f"{name}: {thing}", thing, reaches, told)
    for one in comparison.of("stock", "name"):
        yield Item(f"{one.before} is called {one.after}")
    for name, changes in told.stock.items():
        head = f"{name}: {'; '.join(one.after for one in changes)}"
        yield _with_drinks(head, name, (*changes[0].where, *changes[0].would), told)
    if added := [one.subject.name for one in comparison.of("stock", "added")]:
        yield Item("new in stock: " + _some(added))
    if gone := [one.subject.old_name for one in comparison.of("stock", "gone")]:
        yield Item("gone from stock: " + _some(gone))


def _with_drinks(head: str, thing: str, reaches: Sequence[str], told: _Told) -> Item:
    here = {drink: told.drinks[drink] for drink, only in told.by_thing.items() if only == thing}
    if not here:
        return Item(f"{head}, {_reach(reaches)}")
    shown = [_in_one_line(*drink) for drink in here.items()]
    elsewhere = {drink.name: changes for drink, changes in told.drinks.items() if drink not in here}
    below = [name for name in reaches if name in elsewhere and facts_of(elsewhere[name])]
    under = {drink.name for drink in here} | told.unknown
    if below:
        shown.append(f"with other changes, below: {_some(below)}")
    if rest := [name for name in reaches if name not in under and name not in below]:
        shown.append(f"no figure moved: {_some(rest)}")
    return Item(f"{head}, in {counted(len(reaches), 'drink')}", tuple(shown))


def _reach(names: Sequence[str]) -> str:
    return f"in {counted(len(names), 'drink')}: {_some(names)}" if names else "in no drink"


def _some(names: Sequence[str]) -> str:
    if len(names) <= _MOST_NAMES:
        return ", ".join(names)
    return ", ".join(names[:_MOST_NAMES]) + f" and {len(names) - _MOST_NAMES} more"


def moved_lines(changes: Iterable[Change]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what changed of one drink: each cause once, and under the last of them what they came to together.

    What only some of the causes bear on says which.
    """
    facts = _unnamed(changes)
    effects = [one for one in facts if one.causes or one.kind not in _WRITTEN]
    heads = dict.fromkeys(fact_words(one) for one in facts if one not in effects)
    causes = {cause.text: cause for one in effects for cause in one.causes}
    heads |= dict.fromkeys(causes)
    if not heads:
        yield from ((fact_words(one), ()) for one in effects)
        return
    *first, last = heads
    yield from ((head, ()) for head in first)
    places = {one.where for one in effects}
    if len(places) == 1 and (where := places.pop()) and last in causes:
        last += f" (at {', '.join(where)})"
        effects = [replace(one, where=()) for one in effects]
    swaps = {one.swap for one in effects}
    if len(swaps) == 1 and (swap := swaps.pop()):
        last += "" if last.startswith("swap ") else f" (with {swap})"
        effects = [replace(one, swap="") for one in effects]
    yield last, tuple(fact_words(one) + _from(one, causes) for one in effects)


def _from(one: Change, causes: Collection[str]) -> str:
    """Return which of a drink's causes a fact comes from, where it is not all of them."""
    if not one.causes or len({cause.text for cause in one.causes}) == len(causes):
        return ""
    *first, last = dict.fromkeys(cause.subject for cause in one.causes)
    return f", from {', '.join(first)} and {last}" if first else f", from {last}"


def fact_words(one: Change) -> str:
    """Return a change of a drink as one phrase: "strength 18.1 -> 20.3 % vol"."""
    fact = "" if one.called in _SAY_THEMSELVES else f"{one.called} "
    if one.kind in ("listing", "unread"):
        words = one.word if one.kind == "listing" else f"nobody has read the label of {one.word} any more"
    elif one.before and one.after:
        number, _, unit = one.before.partition(" ")
        same_unit = unit and one.after.endswith(f" {unit}") and number.replace(".", "").isnumeric()
        short = same_unit and one.kind not in _WRITTEN
        words = f"{fact}{number if short else one.before} -> {one.after}"
    elif one.kind == "swap":
        words = f"new swap: {one.after}" if one.after else f"swap gone: {one.before}"
    else:
        words = f"{fact}+ {one.after}" if one.after else f"{fact}- {one.before}"
    swap = f"with {one.swap}: " if one.swap else ""
    where = f" (at {', '.join(one.where)})" if one.where else " (on no menu)" if one.unlisted else ""
    return f"{swap}{words}{where}"


def _problem(problem: Problem) -> Item:
    where = problem.where
    at = f"{where.file}:{where.line}:{where.column}" if isinstance(where, Span) else where.file
    return Item(f"{at}: {problem.code}: {problem.message}")
