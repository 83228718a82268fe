"""What changed between two houses: as text for a terminal, as Markdown for a merge request."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from menugen.alarms import alarms, at_events, in_no_drink, label_words, level_words, some
from menugen.comparing import Change, Comparison, Subject, bottle_thing, by_subject, told_otherwise
from menugen.drink_facts import compared_facts
from menugen.problems import Problem, Span
from menugen.report import Item, Note, Report, Section, as_markdown, as_text, counted, listed

_MOST_CAUSES = 2
"""Causes that are named beside one figure: more would be nearly all of the drink."""

_MOST_KNOWN = 6
"""Drinks of one fault of which it is said what they are like now."""

_SAY_THEMSELVES = ("measure", *(fact.name for fact in compared_facts() if fact.says_itself))
"""Facts whose values need no name before them: "2.2 -> 2.7 units"."""

_WRITTEN = ("measure", "making", "swap")
"""Facts a spec itself says: they are the causes of others."""


def compare_text(comparison: Comparison, *, bold: bool) -> str:
    """Return the comparison as text, 80 columns wide, what guests are told otherwise first.

    Args:
        comparison: What changed.
        bold: Whether headings may be set bold; nothing is said by that alone.
    """
    return as_text(_report(comparison), bold=bold)


def compare_markdown(comparison: Comparison) -> str:
    """Return the comparison as CommonMark, to paste where a change is discussed."""
    return as_markdown(_report(comparison))


def _report(comparison: Comparison) -> Report:
    sections = list(_sections(comparison))
    if comparison.readable and not comparison.changes:
        # The sentence for no change promises no more than was compared.
        partly = comparison.notes or comparison.old.errors or comparison.new.errors
        nothing = "No fact changed in what could be compared." if partly else "No fact changed."
        sections.append(Section(blocks=(Note(nothing),)))
    sides = (f"Older: {comparison.old.label}", f"Newer: {comparison.new.label}")
    return Report(lead=tuple(Note(side, hang=7, cut=True) for side in sides), sections=tuple(sections))


class _Told:
    """The changes of a comparison as they are told, each where it says most and nowhere else."""

    def __init__(self, comparison: Comparison) -> None:
        self.alarms = [one for one in told_otherwise(comparison.changes) if one.kind != "unknown"]
        alarming = set(self.alarms)
        self.drinks = {
            drink: facts
            for drink, changes in comparison.drinks.items()
            if (facts := [one for one in _unnamed(changes) if one not in alarming])
        }
        self.bottles = bottles(comparison.drinks)
        self.stock = by_subject(comparison.of("stock", "says"))
        said = [change.after for sort in ("house", "event") for change in comparison.of(sort, "says")]
        heads = [
            *(bottle_thing(before, after) for _, before, after in self.bottles),
            *(subject.name for subject in self.stock),
            *said,
        ]
        self.by_thing = {
            drink: thing for drink, facts in self.drinks.items() if (thing := _only_thing(facts, heads))
        }
        self._warned = {cause.text for one in self.alarms for cause in one.causes}
        of_drinks = (facts for drink, facts in self.drinks.items() if drink not in self.by_thing)
        self._shown = {cause.text for facts in of_drinks for one in facts for cause in one.causes}

    def under(self, thing: str) -> tuple[str, ...]:
        """Return a line for what one thing alone did to drinks, or a sentence that begins with it."""
        alike: dict[str, list[str]] = {}
        for drink, only in self.by_thing.items():
            if thing == only or thing.startswith(f"{only} "):
                facts = self.drinks[drink]
                places = {(one.where, one.unlisted) for one in facts}
                name = drink.name
                if len(places) == 1:
                    # Where it holds is said once if it is one place.
                    name += _where(facts[0])
                    facts = [replace(one, where=(), unlisted=False) for one in facts]
                alike.setdefault(", ".join(map(fact_words, facts)), []).append(name)
        return tuple(f"{some(names)}: {words}" for words, names in alike.items())

    def remains(self, words: str, *, has_drinks: bool) -> bool:
        """Return whether a cause has not been told: among what guests are told otherwise, or of a drink."""
        return words not in self._warned and (has_drinks or words not in self._shown)


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
    yield from alarms(told.alarms, _not_compared(comparison))
    yield from listed("Drinks", _drinks(comparison))
    yield from listed("Bottles and stock", _stock(comparison, told))
    for drink, facts in told.drinks.items():
        if drink not in told.by_thing:
            yield from listed(drink.name, (Item(head, under) for head, under in moved_lines(facts)))
    yield from listed("Events", _events(comparison))
    for event, changes in by_subject(comparison.of("event", "says")).items():
        yield from listed(event.name, _sentences(changes, told))
    yield from listed("The house", _sentences(comparison.of("house", "says"), told))
    yield from _problems(comparison)
    yield from listed("Of this comparison", map(Item, comparison.notes))


def _only_thing(facts: Iterable[Change], heads: Collection[str]) -> str:
    """Return the one thing told elsewhere that all that changed of a drink comes from; empty where it is not so."""
    things = {cause.thing for one in facts for cause in one.causes}
    if len(things) != 1 or not all(one.causes for one in facts):
        return ""
    [thing] = things
    is_told = any(head == thing or head.startswith(f"{thing} ") for head in heads)
    return thing if thing and is_told else ""


def _not_compared(comparison: Comparison) -> Iterator[Item]:
    """Yield what has a fault in one of the houses, or in both, what has the same fault together."""
    groups: dict[str, list[str]] = {}
    under: dict[str, list[str]] = {}
    for sort in ("drink", "event"):
        for one in comparison.of(sort, "unknown"):
            why = _not_known(one)
            name = f"the event {one.subject.name}" if sort == "event" else one.subject.name
            groups.setdefault(why, []).append(name)
            if facts := _known_facts(comparison.known_of(one)):
                under.setdefault(why, []).append(f"{name} now: {facts}")
    for why, names in groups.items():
        # Of more nobody would read it: then something that all of them share is at fault.
        now = under.get(why, ()) if len(names) <= _MOST_KNOWN else ()
        yield Item(f"{why}: {', '.join(names)}", tuple(now))


def _not_known(one: Change) -> str:
    """Return in which house something is not known, and which fault keeps it so."""
    side = "either" if one.before and one.after else "the older" if one.before else "the newer"
    why = []
    for cause in one.causes:
        place = cause.text.partition(": ")[0]
        is_stock = cause.subject.startswith("stock/")
        why.append(f"{place} cannot be read" if is_stock else f"of {place}" if place != cause.text else place)
    return f"Not known in {side} house, because {' and '.join(dict.fromkeys(why))}"


def _known_facts(known: Sequence[Change]) -> str:
    """Return what a drink that has no earlier self is like; empty where it could not be worked out."""
    if not known:
        return ""
    said = level_words((one.after, one.word) for one in known if one.is_allergen)
    return ", ".join(
        [*(one.after for one in known if one.kind == "figure"), *(said or ["labels name no allergen in it"])]
    )


def _drinks(comparison: Comparison) -> Iterator[Item]:
    for one in comparison.of("drink", "added"):
        facts = _known_facts(comparison.known_of(one))
        yield Item(f"new: {one.subject.name}" + (f", {facts}" if facts else ""))
    if gone := [one.subject.old_name for one in comparison.of("drink", "gone")]:
        yield Item("gone: " + ", ".join(gone))
    for drink in comparison.drinks:
        if (drink.id, drink.name) != (drink.old_id, drink.old_name):
            yield Item(renamed_words(drink))


def renamed_words(drink: Subject) -> str:
    """Return what a drink was called and is called, with the names of its files where those differ."""
    if drink.id == drink.old_id:
        return f"{drink.old_name} is now called {drink.name}"
    if drink.name == drink.old_name:
        return f"{drink.name} is now made by the spec {drink.id}, was {drink.old_id}"
    return f"{drink.old_name} ({drink.old_id}) is now called {drink.name} ({drink.id})"


def _stock(comparison: Comparison, told: _Told) -> Iterator[Item]:
    """Yield each bottle and stock line that changed, with what it did to the drinks that only it has changed."""
    for (name, before, after), reaches in told.bottles.items():
        thing = bottle_thing(before, after)
        under = told.under(thing)
        if told.remains(thing, has_drinks=bool(under)) or under:
            yield Item(f"{name}: {thing}" if under else f"{name}: {thing}, {_reach(reaches, ())}", under)
    for one in comparison.of("stock", "name"):
        yield Item(f"{one.before} is now called {one.after}")
    for subject, changes in told.stock.items():
        name, under = subject.name, told.under(subject.name)
        left = [
            label_words(one.after)
            for one in changes
            if told.remains(f"{name}: {one.after}", has_drinks=bool(under))
        ]
        if len(left) < len(changes) or len(left) > 1:
            # The day is of no use beside what was read that day.
            left = [text for text in left if not text.startswith(("label read", "the day its label"))]
        if left:
            head = f"{name}: {'; '.join(left)}"
            yield Item(head if under else f"{head}, {_reach(changes[0].where, changes[0].would)}", under)
    if added := [one.subject.name for one in comparison.of("stock", "added")]:
        yield Item("new in stock: " + some(added))
    if gone := [one.subject.old_name for one in comparison.of("stock", "gone")]:
        yield Item("gone from stock: " + some(gone))


def _reach(poured: Sequence[str], would: Sequence[str]) -> str:
    return f"in {counted(len(poured), 'drink')}: {some(poured)}" if poured else in_no_drink(some(would))


def _events(comparison: Comparison) -> Iterator[Item]:
    for one in comparison.of("event", "added"):
        yield Item(f"new: {one.subject.name}, {one.after}: {some(one.where) or 'nothing on its menu'}")
    yield from (Item(f"gone: {one.subject.old_name}") for one in comparison.of("event", "gone"))


def _sentences(changes: Iterable[Change], told: _Told) -> Iterator[Item]:
    """Yield what an event or the house says differently, each with what it alone did to drinks."""
    yield from (Item(one.after, told.under(one.after)) for one in changes)


def moved_lines(changes: Iterable[Change]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what changed of one drink: each cause once, and under the last of them what they came to together.

    What only one or two of the causes bear on says which.
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
        last += at_events(where)
        effects = [replace(one, where=()) for one in effects]
    swaps = {one.swap for one in effects}
    if len(swaps) == 1 and (swap := swaps.pop()):
        last += "" if last.startswith("swap ") else f" (with {swap})"
        effects = [replace(one, swap="") for one in effects]
    came_to = ", ".join(fact_words(one) + _from(one, causes) for one in effects)
    yield last, (came_to,) if came_to else ()


def _from(one: Change, causes: Collection[str]) -> str:
    """Return which of a drink's causes a fact comes from, where it is one or two of several."""
    own = dict.fromkeys(cause.subject for cause in one.causes)
    if not own or len(own) > _MOST_CAUSES or len({cause.text for cause in one.causes}) == len(causes):
        return ""
    return f" ({' and '.join(own)})"


def fact_words(one: Change) -> str:
    """Return a change of a drink that is no alarm as one phrase: "strength 18.1 -> 20.3 % vol"."""
    fact = "" if one.called in _SAY_THEMSELVES else f"{one.called} "
    before, after = one.before, one.after
    if one.kind == "swap" and not before:
        words = f"new swap: {after}"
    elif one.kind == "figure" or (before and after):
        number, _, unit = before.partition(" ")
        same_unit = unit and after.endswith(f" {unit}") and number.replace(".", "").isnumeric()
        short = same_unit and one.kind not in _WRITTEN
        words = f"{fact}{number if short else before or 'none'} -> {after or 'none'}"
    else:
        words = f"{fact}+ {after}" if after else f"{fact}- {before}"
    swap = f"with {one.swap}: " if one.swap else ""
    return f"{swap}{words}{_where(one)}"


def _where(one: Change) -> str:
    return " (on no menu)" if one.unlisted else at_events(one.where)


def _problems(comparison: Comparison) -> Iterator[Section]:
    """Yield what is wrong with the two houses; what is wrong with both, once."""

    def fault(problem: Problem) -> tuple[str, str, str]:
        return problem.where.file, problem.code, problem.message

    old, new = comparison.old.errors, comparison.new.errors
    then, now = set(map(fault, old)), set(map(fault, new))
    for title, found in (
        ("Problems in both houses", (one for one in new if fault(one) in then)),
        ("Problems in the older house", (one for one in old if fault(one) not in now)),
        ("Problems in the newer house", (one for one in new if fault(one) not in then)),
    ):
        yield from listed(title, map(_problem, found))


def _problem(problem: Problem) -> Item:
    where = problem.where
    at = f"{where.file}:{where.line}:{where.column}" if isinstance(where, Span) else where.file
    return Item(f"{at}: {problem.code}: {problem.message}")
