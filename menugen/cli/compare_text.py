"""What changed between two houses: as text for a terminal, as Markdown for a merge request, as JSON for a program."""

import json
import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from menugen.history import AllergenMove, Comparison, Declared, DrinkMoves, Move
from menugen.problems import Problem

WIDTH = 80
_MOST_NAMES = 12
"""Names in one list before the rest is counted; never where allergens are told."""

_ALARM = "!! "
_LEVEL_WORDS = {
    Declared.CONTAINS: "CONTAINS",
    Declared.MAY_CONTAIN: "MAY CONTAIN",
    Declared.NOT: "NOT DECLARED",
}


_SAY_THEMSELVES = ("measure", "units", "fit")
"""Facts whose values need no name before them: "2.2 -> 2.7 units"."""


class _Item(NamedTuple):
    """One line of a section, and what stands indented under it."""

    text: str
    under: tuple[str, ...] = ()


class _Section(NamedTuple):
    """A heading with its lines; `lead` begins each of them where they must not be missed."""

    title: str
    items: tuple[_Item, ...]
    lead: str = ""


def compare_text(comparison: Comparison, *, bold: bool) -> str:
    """Return the comparison as text, 80 columns wide, allergens gained first.

    Args:
        comparison: What changed.
        bold: Whether headings may be set bold; nothing is said by that alone.
    """
    out = [*_wrapped(f"{comparison.old.label} -> {comparison.new.label}", "", "")]
    for section in _sections(comparison):
        title = f"\x1b[1m{section.title}\x1b[0m" if bold else section.title
        out += ["", section.lead + title if section.lead else title]
        for item in section.items:
            out += _wrapped(item.text, section.lead + "  ", section.lead + "    ")
            for line in item.under:
                out += _wrapped(line, section.lead + "    ", section.lead + "      ")
    if comparison.nothing:
        out += ["", _nothing(comparison)]
    return "\n".join(out)


def _wrapped(text: str, first: str, later: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    ) or [first.rstrip()]


def compare_markdown(comparison: Comparison) -> str:
    """Return the comparison as CommonMark, to paste where a change is discussed."""
    out = [f"{_escaped(comparison.old.label)} → {_escaped(comparison.new.label)}"]
    for section in _sections(comparison):
        mark = "⚠ " if section.lead else ""
        out += ["", f"### {mark}{_escaped(section.title)}", ""]
        for item in section.items:
            out.append(f"- {_escaped(item.text)}")
            out += [f"  - {_escaped(line)}" for line in item.under]
    if comparison.nothing:
        out += ["", f"{_nothing(comparison).capitalize()}."]
    return "\n".join(out)


def _nothing(comparison: Comparison) -> str:
    """Return the sentence for no change; it promises no more than was compared."""
    return "no fact changed in what could be compared" if comparison.notes else "no fact changed"


def _escaped(text: str) -> str:
    """Return a text whose marks Markdown leaves alone; a user's name is no heading, link or tag."""
    return re.sub(r"([\\`*_\[\]<>#|~])", r"\\\1", text)


def _sections(comparison: Comparison) -> Iterator[_Section]:
    """Yield what is to be told, gravest first; sections without a line are left out by whoever draws them."""
    moved = [(drink, one) for drink in comparison.drinks for one in drink.allergens]
    gained = [(drink, one) for drink, one in moved if one.gained]
    lost = [(drink, one) for drink, one in moved if not one.gained]
    drinks = len({drink.slug for drink, _ in gained})
    sections = [
        _Section(f"ALLERGENS GAINED in {_counted(drinks, 'drink')}", tuple(_allergens(gained)), _ALARM),
        _Section("Allergens declared no longer, or less firmly", tuple(_allergens(lost))),
        _Section("Drinks", tuple(_drinks(comparison))),
        _Section("Bottles and stock", tuple(_stock(comparison))),
        *(
            _Section(drink.name, tuple(_Item(head, under) for head, under in moved_lines(drink)))
            for drink in comparison.drinks
        ),
        *(_Section(event.name, tuple(map(_Item, event.what))) for event in comparison.events),
        _Section("The house", tuple(_house(comparison))),
        *(
            _Section(f"Problems in {side.label}", tuple(map(_problem, side.errors)))
            for side in (comparison.old, comparison.new)
        ),
        _Section("Of this comparison", tuple(map(_Item, comparison.notes))),
    ]
    return (section for section in sections if section.items)


def _house(comparison: Comparison) -> Iterator[_Item]:
    yield from map(_Item, comparison.house)
    yield from (_Item(f"new event: {name}") for name in comparison.events_added)
    yield from (_Item(f"event gone: {name}") for name in comparison.events_gone)


def _allergens(moved: Sequence[tuple[DrinkMoves, AllergenMove]]) -> Iterator[_Item]:
    """Yield what drinks are declared with differently, those of one kind and one cause together."""
    grouped: dict[tuple[Declared, Declared, str, tuple[str, ...]], list[str]] = {}
    for drink, one in moved:
        swap = f" with {one.swap}" if one.swap else ""
        where = f" (at {', '.join(one.where)})" if one.where else ""
        key = (one.before, one.after, one.word, one.causes)
        grouped.setdefault(key, []).append(f"{drink.name}{swap}{where}")
    for (before, after, word, causes), names in sorted(
        grouped.items(), key=lambda item: (-item[0][1], item[0][2], item[0][3])
    ):
        was = "" if after > before is Declared.NOT else f", {_LEVEL_WORDS[before].lower()} before"
        under = [", ".join(names)]
        if causes:
            under.append("because " + "; ".join(causes))
        yield _Item(f"{_LEVEL_WORDS[after]} {word}{was}: {_counted(len(names), 'drink')}", tuple(under))


def _drinks(comparison: Comparison) -> Iterator[_Item]:
    if comparison.added:
        yield _Item("new: " + ", ".join(name for _, name in comparison.added))
    if comparison.gone:
        yield _Item("gone: " + ", ".join(name for _, name in comparison.gone))
    for drink in comparison.drinks:
        if drink.slug != drink.old_slug:
            yield _Item(f"renamed: {drink.old_name} ({drink.old_slug}) -> {drink.name} ({drink.slug})")
        elif drink.name != drink.old_name:
            yield _Item(f"renamed: {drink.old_name} -> {drink.name}")


def _stock(comparison: Comparison) -> Iterator[_Item]:
    for bottle in comparison.bottles:
        yield _Item(
            f"{bottle.name}: {bottle.before} -> {bottle.after}, {_reach(bottle.reaches)}",
        )
    for stock in comparison.stock:
        yield _Item(f"{stock.name}: {'; '.join(stock.what)}, {_reach(stock.reaches)}")
    if comparison.stock_added:
        yield _Item("new in stock: " + _some(comparison.stock_added))
    if comparison.stock_gone:
        yield _Item("gone from stock: " + _some(comparison.stock_gone))


def _reach(names: Sequence[str]) -> str:
    return f"in {_counted(len(names), 'drink')}: {_some(names)}" if names else "in no drink"


def _some(names: Sequence[str]) -> str:
    if len(names) <= _MOST_NAMES:
        return ", ".join(names)
    return ", ".join(names[:_MOST_NAMES]) + f" and {len(names) - _MOST_NAMES} more"


def moved_lines(drink: DrinkMoves) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what moved of one drink: what was written, then each cause with what it came to."""
    grouped: dict[tuple[str, ...], list[str]] = {}
    for move in drink.moves:
        if move.fact == "name":
            continue
        if not move.causes:
            yield move_words(move), ()
        else:
            grouped.setdefault(move.causes, []).append(move_words(move))
    for causes, lines in grouped.items():
        yield "because " + "; ".join(causes), tuple(lines)


def move_words(move: Move) -> str:
    """Return a move as one phrase: "strength 18.1 -> 20.3 % vol"."""
    fact = "" if move.fact in _SAY_THEMSELVES else f"{move.fact} "
    if move.before and move.after:
        number, _, unit = move.before.partition(" ")
        same_unit = unit and move.after.endswith(f" {unit}") and number.replace(".", "").isdigit()
        words = f"{fact}{number if same_unit else move.before} -> {move.after}"
    else:
        words = f"{fact}+ {move.after}" if move.after else f"{fact}- {move.before}"
    swap = f"with {move.swap}: " if move.swap else ""
    where = f" (at {', '.join(move.where)})" if move.where else ""
    return f"{swap}{words}{where}"


def _problem(problem: Problem) -> _Item:
    return _Item(f"{problem.where.file}: {problem.code}: {problem.message}")


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def compare_json(comparison: Comparison) -> str:
    """Return the comparison as JSON; private, since it holds costs."""
    told = {
        "compare": 1,
        "old": _side(comparison.old.label, comparison.old.revision, comparison.old.errors),
        "new": _side(comparison.new.label, comparison.new.revision, comparison.new.errors),
        "drinks_added": [{"drink": slug, "name": name} for slug, name in comparison.added],
        "drinks_gone": [{"drink": slug, "name": name} for slug, name in comparison.gone],
        "drinks": [drink_json(drink) for drink in comparison.drinks],
        "bottles": [
            {"name": one.name, "before": one.before, "after": one.after, "drinks": list(one.reaches)}
            for one in comparison.bottles
        ],
        "stock": [
            {"name": one.name, "what": list(one.what), "drinks": list(one.reaches)}
            for one in comparison.stock
        ],
        "stock_added": list(comparison.stock_added),
        "stock_gone": list(comparison.stock_gone),
        "house": list(comparison.house),
        "events_added": list(comparison.events_added),
        "events_gone": list(comparison.events_gone),
        "events": [
            {"event": one.slug, "name": one.name, "what": list(one.what)} for one in comparison.events
        ],
        "notes": list(comparison.notes),
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _side(label: str, revision: str, errors: Iterable[Problem]) -> dict[str, Any]:
    return {
        "label": label,
        "revision": revision or None,
        "problems": [{"file": one.where.file, "code": one.code, "message": one.message} for one in errors],
    }


def drink_json(drink: DrinkMoves) -> dict[str, Any]:
    """Return what moved of one drink as plain data."""
    levels = {Declared.CONTAINS: "contains", Declared.MAY_CONTAIN: "may contain", Declared.NOT: None}
    return {
        "drink": drink.slug,
        "name": drink.name,
        "was": {"drink": drink.old_slug, "name": drink.old_name},
        "allergens": [
            {
                "substance": one.substance,
                "word": one.word,
                "before": levels[one.before],
                "after": levels[one.after],
                "gained": one.gained,
                "swap": one.swap or None,
                "causes": list(one.causes),
                "events": list(one.where),
            }
            for one in drink.allergens
        ],
        "moves": [
            {
                "fact": one.fact,
                "before": one.before,
                "after": one.after,
                "swap": one.swap or None,
                "causes": list(one.causes),
                "events": list(one.where),
            }
            for one in drink.moves
        ],
        "bottles": [
            {"name": name, "before": before, "after": after} for name, before, after in drink.bottles
        ],
    }
