"""What a publish takes the place of, as text for a terminal and as plain data for a program."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from menugen.alarms import alarms, level_words
from menugen.comparing import LEVELS, Change
from menugen.replacing.difference import NO_DIFFERENCE
from menugen.replacing.replacement import Replacement
from menugen.replacing.shown import ShownDrink
from menugen.report import Item, Report, Section, as_text, fold, listed

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
    compared = [one for one in replacements if not one.first or one.difference != NO_DIFFERENCE]
    sections = list(_sections(compared))
    lines = as_text(Report(sections=tuple(sections)), bold=bold).split("\n") if sections else []
    if compared and not any(one.alarming for one in compared):
        lines = [*fold(NOTHING), *([""] if lines else []), *lines]
    else:
        lines += _why(compared, in_git)
    if sections and any(one.first or one.renamed for one in replacements):
        lines.append("")
    for one in replacements:
        if one.first:
            what = (
                "compared with other events' menus"
                if one.difference != NO_DIFFERENCE
                else "so there is nothing to compare with"
            )
            lines += fold(
                f"{one.name}: no earlier output in {one.folder.as_posix()}, {what}", long_words=True
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
    changes = list(_changes(replacements))
    yield from alarms(changes, (Item(f"{one.name}: {why}") for one in replacements for why in one.unsure))
    yield from listed("Drinks", _drinks(replacements))
    yield from listed("Also changed", _around(replacements, changed=bool(changes)))


def _changes(replacements: Sequence[Replacement]) -> Iterator[Change]:
    """Yield each change once, with its events where it is not so at all of them."""
    at: dict[Change, list[str]] = {}
    for one in replacements:
        for change in one.difference.changes:
            at.setdefault(change, []).append(one.name)
    for change, events in at.items():
        drink = (change.subject.id, change.subject.name)
        # At another event the drink was compared, and is as it was.
        is_known = any(drink in one.difference.drinks and one.name not in events for one in replacements)
        yield replace(change, where=tuple(events) if is_known or not change.subject.id else ())


def _was(change: Change) -> str:
    """Return what a drink was called before, or which other drink had its name; empty where it is as it was."""
    drink = change.subject
    if drink.old_id != drink.id:
        return f"another drink, {drink.old_id}"
    return drink.old_name if drink.old_name != drink.name else ""


def _new_drink(drink: ShownDrink) -> str:
    made = drink.declared.made
    told = [*level_words((mark.level, mark.word) for mark in made.substances.values()), *made.cautions]
    return "; ".join([drink.name, *(told or ["labels name no allergen in it"])])


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
