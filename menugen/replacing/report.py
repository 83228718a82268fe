"""What a publish takes the place of, as text for a terminal and as plain data for a program."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from menugen.comparing import LEVELS, Change, level
from menugen.replacing.replacement import Replacement
from menugen.replacing.shown import ShownDrink
from menugen.report import Item, Report, Section, as_text, counted, fold, listed

_REVISION = re.compile(r"([0-9a-f]{7})(\+.*)?")

NOTHING = "no allergen or caution gained or lost against what was published before"


def report_text(replacements: Sequence[Replacement], *, bold: bool, in_git: str = "") -> str:
    """Return what guests are shown otherwise, 80 columns wide, allergens gained first; ends with a line's end.

    Args:
        replacements: One an event.
        bold: Whether headings may be set bold; nothing is said by that alone.
        in_git: The house's folder as a shell is given it, where git can say why something changed; else empty.
    """
    names = Counter(one.name for one in replacements)
    replacements = [
        replace(one, name=f"{one.name} ({one.event})") if names[one.name] > 1 else one for one in replacements
    ]
    compared = [one for one in replacements if not one.first]
    sections = list(_sections(compared))
    lines = as_text(Report(sections=tuple(sections)), bold=bold).split("\n") if sections else []
    if compared and not any(one.alarming for one in compared):
        lines = [*fold(NOTHING), *([""] if lines else []), *lines]
    else:
        lines += _why(compared, in_git)
    for one in replacements:
        if one.first:
            lines += fold(
                f"{one.name}: no earlier output in {one.folder.as_posix()}, so there is nothing to compare with",
                long_words=True,
            )
        elif one.renamed:
            lines += fold(
                f"{one.name}: compared with {one.folder.as_posix()}, which is probably the same event under its "
                "earlier name",
                long_words=True,
            )
    if sections:
        lines.append("")
    return "".join(f"{line}\n" for line in lines)


def _why(compared: Iterable[Replacement], in_git: str) -> Iterator[str]:
    if not in_git:
        return
    versions = (_REVISION.fullmatch(one.version) for one in compared if one.difference.changes)
    revisions = dict.fromkeys(version[1] for version in versions if version)
    for revision in revisions:
        yield ""
        house = "" if in_git == "." else f" --house {in_git}"
        yield from fold(f"why: menugen compare {revision}{house}", long_words=True)


def _sections(replacements: Sequence[Replacement]) -> Iterator[Section]:
    """Yield what there is to show, gravest first; each with a line at least."""
    moved = [(one, change) for one in replacements for change in one.difference.changes]

    def those(kind: str, *, gained: bool) -> list[tuple[Replacement, Change]]:
        return [pair for pair in moved if pair[1].kind == kind and pair[1].gained == gained]

    def drinks(pairs: Iterable[tuple[Replacement, Change]]) -> str:
        return counted(len({(change.subject.id, change.subject.name) for _, change in pairs}), "drink")

    gained, lost = those("allergen", gained=True), those("allergen", gained=False)
    cautions, cautions_lost = those("caution", gained=True), those("caution", gained=False)
    swaps, listings = those("swap", gained=False), those("listing", gained=False)
    kitchen = [*those("kitchen", gained=True), *those("kitchen", gained=False)]
    unsure = tuple(Item(f"{one.name}: {why}") for one in replacements for why in one.unsure)
    for title, found in (
        (f"ALLERGENS GAINED in {drinks(gained)}", _grouped(gained, replacements)),
        (f"CAUTIONS GAINED in {drinks(cautions)}", _grouped(cautions, replacements)),
        ("NOT COMPARED, OR NOT IN FULL", unsure),
        (f"Allergens declared no longer, or less firmly, in {drinks(lost)}", _grouped(lost, replacements)),
        (f"Cautions no longer shown in {drinks(cautions_lost)}", _grouped(cautions_lost, replacements)),
        (f"Choices gone in {drinks(swaps)}", _grouped(swaps, replacements)),
        ("Shared equipment, otherwise told", _grouped(kitchen, replacements)),
        ("Allergens under another heading", _grouped(listings, replacements)),
    ):
        yield from listed(title, found, alarm=True)
    yield from listed("Drinks", _drinks(replacements))
    yield from listed("What else is not as it was", _around(replacements, changed=bool(moved)))


def _grouped(moved: Sequence[tuple[Replacement, Change]], all_of: Sequence[Replacement]) -> Iterator[Item]:
    """Yield each change once, with every drink it happened in, and where it did not happen at all of them, where."""
    groups: dict[tuple[str, int, int], dict[str, list[str]]] = {}
    heads: dict[tuple[str, int, int], Change] = {}
    drinks_of = {_who(change): (change.subject.id, change.subject.name) for _, change in moved}
    for one, change in moved:
        key = (change.fact, level(change.before), level(change.after))
        if change.kind == "listing":
            # It is under another heading whichever way it is declared.
            key = (change.fact, 0, 0)
        heads.setdefault(key, change)
        events = groups.setdefault(key, {}).setdefault(_who(change), [])
        if one.name not in events:
            events.append(one.name)
    for key, names in sorted(groups.items(), key=lambda item: (-item[0][2], item[0][0])):
        change = heads[key]
        if not change.subject.id:
            yield Item(f"{'+' if change.gained else '-'} {change.word}", (_at_events(names, all_of),))
            continue
        drinks = [
            f"{who} (at {', '.join(at)})" if _elsewhere(drinks_of[who], at, all_of) else who
            for who, at in names.items()
        ]
        yield Item(f"{_head(change)}: {counted(len(drinks), 'drink')}", (", ".join(drinks),))


def _at_events(names: dict[str, list[str]], all_of: Sequence[Replacement]) -> str:
    events = [event for at in names.values() for event in at]
    return "at every event" if len(events) == len(all_of) > 1 else f"at {', '.join(events)}"


def _elsewhere(drink: tuple[str, str], at: Sequence[str], all_of: Sequence[Replacement]) -> bool:
    """Return whether the drink was compared at an event where this did not happen."""
    return any(drink in one.difference.drinks and one.name not in at for one in all_of)


def _was(change: Change) -> str:
    """Return what a drink was called before, or which other drink had its name; empty where it is as it was."""
    drink = change.subject
    if drink.old_id != drink.id:
        return f"another drink, {drink.old_id}"
    return drink.old_name if drink.old_name != drink.name else ""


def _who(change: Change) -> str:
    """Return the drink, what it was called, the swap, and the languages where it is not all of them."""
    told = [change.subject.name]
    if was := _was(change):
        told.append(f"({was} before)")
    if change.swap:
        told.append(f"with {change.swap}")
    if change.languages:
        told.append(f"in {', '.join(change.languages)}")
    return " ".join(told)


def _head(change: Change) -> str:
    word = change.word
    if change.kind == "caution":
        return change.fact
    if change.kind in ("swap", "listing"):
        return word
    if change.fact.casefold() not in word.casefold():
        # Whoever publishes need not read the language of the menu.
        word = f"{change.fact} ({word})"
    was = f", {change.before} before" if change.before else ""
    return f"{(change.after or 'not declared').upper()} {word}{was}"


def _new_drink(drink: ShownDrink) -> str:
    told = [drink.name]
    told += [
        f"{said} {', '.join(words)}"
        for said in reversed(LEVELS[1:])
        if (words := [mark.word for mark in drink.declared.made.substances.values() if mark.level == said])
    ]
    told += drink.declared.made.cautions
    return "; ".join(told) if len(told) > 1 else f"{drink.name}; labels name no allergen in it"


def _drinks(replacements: Sequence[Replacement]) -> Iterator[Item]:
    several = len(replacements) > 1
    for one in replacements:
        at = f" (at {one.name})" if several else ""
        found = one.difference
        yield from (Item(f"new{at}: {_new_drink(drink)}") for drink in found.came)
        yield from (Item(f"new choice{at}: {name}, {swap}") for name, swap in found.swaps_new)
        yield from (Item(f"renamed{at}: {was} -> {now}") for was, now in found.renamed)
        for what, names in (
            ("no longer alcohol free", found.alcohol),
            ("gone", found.gone),
            ("sold out now", found.sold_out),
            ("poured again", found.poured_again),
        ):
            if names:
                yield Item(f"{what}{at}: {', '.join(names)}")


def _around(replacements: Sequence[Replacement], *, changed: bool) -> Iterator[Item]:
    for one in replacements:
        around = one.difference.around if changed else ()
        yield from (Item(f"{one.name}: {what}") for what in (*around, *one.notes))


def replacement_json(one: Replacement) -> dict[str, Any]:
    """Return what one event's output takes the place of as plain data."""
    found = one.difference
    return {
        "first": one.first,
        "compared_with": None if one.first else str(one.folder),
        "version": one.version or None,
        "not_compared": list(one.unsure),
        "changes": [_change_json(change) for change in found.changes],
        "drinks_new": [_new_json(drink) for drink in found.came],
        "drinks_gone": list(found.gone),
        "drinks_renamed": [{"before": was, "after": now} for was, now in found.renamed],
        "swaps_new": [{"name": name, "swap": swap} for name, swap in found.swaps_new],
        "sold_out": list(found.sold_out),
        "poured_again": list(found.poured_again),
        "alcohol_free_no_longer": list(found.alcohol),
        "notes": [*found.around, *one.notes],
    }


def _change_json(change: Change) -> dict[str, Any]:
    is_level = change.kind in ("allergen", "listing")
    before, after = (said or None if is_level else bool(said) for said in (change.before, change.after))
    return {
        "about": change.kind,
        "drink": change.subject.id or None,
        "name": change.subject.name or None,
        "was": _was(change) or None,
        "subject": change.fact,
        "word": change.word,
        "before": before,
        "after": after,
        "gained": change.gained,
        "swap": change.swap or None,
        "languages": list(change.languages),
    }


def _new_json(drink: ShownDrink) -> dict[str, Any]:
    marks = drink.declared.made.substances.items()
    levels = {
        said: [substance for substance, mark in marks if mark.level == said] for said in reversed(LEVELS[1:])
    }
    return {
        "drink": drink.id,
        "name": drink.name,
        **{said.replace(" ", "_"): substances for said, substances in levels.items()},
        "cautions": list(drink.declared.made.cautions),
    }
