"""menugen served."""

import argparse
import json
import sys
from collections.abc import Collection, Iterator, Sequence
from typing import Any

from menugen.cli.allergen_words import allergen_words
from menugen.cli.compare_json import drink_json
from menugen.cli.finding import NotFound, find_target
from menugen.cli.terminal import fail
from menugen.comparing import Change, drinks_in, line_words, price_text
from menugen.drink_facts import also_named, distilled_words, label_data, not_read, words_of
from menugen.facts import DrinkFacts, EventFacts, Serve
from menugen.names import name_key
from menugen.past.menu_stages import BranchCommit, EventServed, MenuStage
from menugen.past.served import ServedEvents, served
from menugen.records import Event, MenuEntry
from menugen.report import fold
from menugen.revisions import Commit, NoHistory


def run(args: argparse.Namespace) -> int:
    """Tell what was on the menu then, and what was in it."""
    try:
        target = find_target(args.house)
        found = served(target.folder, args.when, args.event)
    except (NotFound, NoHistory) as fault:
        return fail(str(fault))
    events = found.events
    if args.table is not None:
        events = tuple(one for one in events if args.table in _tables(one))
    if not events:
        table = f" with a table {args.table}" if args.table is not None else ""
        code = fail(f"no event{table} is known for {args.when}")
        for note in _notes(found):
            print(note, file=sys.stderr)
        return code
    if args.json:
        told = {"served": 1, "events": [_event_json(one) for one in events], "notes": list(found.notes)}
        print(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        parts = ["\n".join(_event_text(one, args.table, args.when)) for one in events]
        print("\n\n".join([*parts, *_notes(found)]))
    return 0


def _notes(found: ServedEvents) -> list[str]:
    return ["\n".join(_lines(f"note: {note}", 0)) for note in found.notes]


def _tables(one: EventServed) -> range:
    return range(1, (one.last.facts.event.tables or 0) + 1)


def _event_text(one: EventServed, table: int | None, when: str) -> Iterator[str]:
    event = one.last.facts.event
    hours = f", {_hours(event)}" if event.hours else ""
    place = f", {event.venue}" if event.venue else ""
    yield from _lines(f"{event.name}, {event.date}{hours}{place} ({one.last.facts.setting.region.code})", 0)
    yield from _stages_text(one)
    if table is not None:
        yield f"table {table} of {event.tables}: every table has the same menu"
    if "+" in when:
        yield from _lines(
            "the card was made with changes that were not committed: those are not known here", 0
        )
    if one.last.since is None:
        yield from _lines(f"(the whole evening: menugen served {event.date})", 0)
    for unpublishable in one.unpublishable:
        yield from _lines(
            f"{_named(unpublishable.commit)}: could not be published, so an older menu stayed: {unpublishable.problem}",
            0,
        )
    for problem in one.last.errors:
        yield from _lines(f"not sound as committed: {problem.where.file}: {problem.message}", 0)
    for branch in one.on_branches:
        yield from _branch_text(branch)
    yield from _menu_text(one.last.facts, one.last.facts.drinks.keys() | _listed(event))
    for stage, following in zip(one.stages, one.stages[1:], strict=False):
        others = _not_as_after(stage, following)
        if others:
            yield ""
            until = following.since.strftime("%H:%M") if following.since else ""
            yield from _lines(f"UNTIL {until}, menu {stage.commit.short}, other than after it", 0)
            yield from _menu_text(stage.facts, others)


def _stages_text(one: EventServed) -> Iterator[str]:
    """Yield which menus there were, and what touched allergens from one to the next."""
    if len(one.stages) == 1:
        yield from _lines(f"menu {_named(one.last.commit)}", 0)
        return
    yield "the menu changed while it was on; what follows is how it ended"
    for stage in one.stages:
        clock = _clock(stage, one.stages[0])
        yield from _lines(f"from {clock}: menu {_named(stage.commit)}", 2)
        yield from _changes_text(stage.changes)
    yield from _lines(
        f"(menugen compare {one.stages[0].commit.short} {one.last.commit.short} tells every fact that moved)",
        2,
    )


def _sentences(changes: Sequence[Change]) -> list[str]:
    """Return what the menu and the house say differently."""
    said = [one for one in changes if one.kind == "says" and one.subject.sort in ("event", "house")]
    return [one.after for one in sorted(said, key=lambda one: one.subject.sort)]


def _changes_text(changes: Sequence[Change]) -> Iterator[str]:
    """Yield what changed, what touches allergens in full."""
    drinks = drinks_in(changes)
    allergens = [one for of_drink in drinks.values() for one in of_drink if one.is_allergen]
    for one in allergens:
        yield from _lines(allergen_words(one, one.subject.name), 4)
    for words in _sentences(changes):
        yield from _lines(words, 4)
    touched = {one.subject for one in allergens}
    if others := [drink.name for drink in drinks if drink not in touched]:
        yield from _lines(f"changed, not in its allergens: {', '.join(others)}", 4)


def _branch_text(branch: BranchCommit) -> Iterator[str]:
    merged = f"merged {branch.merge.day} ({branch.merge.short})"
    yield from _lines(
        f"{_named(branch.commit)}: was committed then on a branch, at {branch.commit.clock:%H:%M}, and {merged}; "
        "a menu may have been published from there. Against the menu above:",
        0,
    )
    yield from _changes_text(branch.changes)


def _named(commit: Commit) -> str:
    return f"{commit.short}, committed {commit.day}: {commit.subject}".rstrip(": ")


def _clock(stage: MenuStage, first: MenuStage) -> str:
    """Return from when a menu held, with the day where that is not the day of the event."""
    if stage.since is None or first.since is None:
        return "the start"
    return (
        f"{stage.since:%H:%M}"
        if stage.since.date() == first.since.date()
        else f"{stage.since:%Y-%m-%d %H:%M}"
    )


def _listed(event: Event) -> set[str]:
    return {entry.slug for section in event.sections for entry in section.entries}


def _not_as_after(stage: MenuStage, following: MenuStage) -> set[str]:
    """Return the drinks of a menu that the following one has no longer, or not as they were."""
    moved = {drink.old_id for drink in drinks_in(following.changes)}
    return {
        slug for slug in _listed(stage.facts.event) if slug in moved or slug not in following.facts.drinks
    }


def _menu_text(facts: EventFacts, wanted: Collection[str]) -> Iterator[str]:
    for section in facts.event.sections:
        entries = [entry for entry in section.entries if entry.slug in wanted]
        if not entries:
            continue
        yield ""
        yield section.name
        for entry in entries:
            drink = facts.drinks.get(entry.slug)
            if drink is None:
                yield f"  {entry.slug}: could not be worked out"
            else:
                yield from _drink_text(facts, entry, drink)


def _drink_text(event_facts: EventFacts, entry: MenuEntry, facts: DrinkFacts) -> Iterator[str]:
    event = event_facts.event
    shown = event.shown_price(entry)
    price = "" if shown is None else f", {price_text(shown, _currency(event_facts))}"
    if facts.serve.serves > 1:
        price += f" for all {facts.serve.serves} serves" if shown else f", {facts.serve.serves} serves"
    off = ", sold out" if entry.slug in event.off else ""
    percent = _strength_percent(facts)
    strength = "strength not known" if percent is None else f"{percent:.1f} % vol"
    yield from _lines(f"{facts.spec.name}{price}{off}; {strength}", 2)
    for item in facts.serve.lines:
        same = name_key(item.stock.name) == name_key(item.line.name)
        bottle = "" if same else f": {item.stock.name}"
        read = f" (label read {item.stock.checked})" if item.stock.checked else " (no day its label was read)"
        yield from _lines(f"{line_words(item.line)}{bottle}{read}", 4)
    yield from _lines(_declared(facts.serve), 4)
    for swap in facts.swaps:
        yield from _lines(
            f"with {swap.swap.line.name} instead of {swap.swap.replaces}: {_declared(swap.serve)}", 4
        )


def _strength_percent(facts: DrinkFacts) -> float | None:
    """Return a drink's strength as served; None where a bottle does not say how strong it is."""
    return None if facts.serve.strengthless else facts.serve.made.served_abv_percent.value


def _declared(serve: Serve) -> str:
    declaration = serve.declaration
    contains, may_contain = words_of(declaration.contains), words_of(declaration.may_contain)
    told = [not_read(serve.unread)] if serve.unread else []
    if contains:
        told.append(f"CONTAINS {', '.join(contains)}")
    elif not serve.unread:
        told.append("contains no listed allergen on the labels read")
    if may_contain:
        told.append(f"MAY CONTAIN {', '.join(may_contain)}")
    if declaration.distilled_from:
        told.append(f"DISTILLED FROM {', '.join(distilled_words(declaration))}")
    told += [f"labels also name {words}" for words in also_named(declaration)]
    return "; ".join(told)


def _currency(facts: EventFacts) -> str:
    return facts.event.currency or facts.setting.region.currency


def _hours(event: Event) -> str:
    return f"{event.hours.start:%H:%M}-{event.hours.end:%H:%M}" if event.hours else ""


def _lines(text: str, indent: int) -> list[str]:
    pad = " " * indent
    return fold(text, first=pad, later=f"{pad}  ", long_words=True)


def _event_json(one: EventServed) -> dict[str, Any]:
    event = one.last.facts.event
    return {
        "event": event.slug,
        "name": event.name,
        "date": str(event.date),
        "hours": _hours(event) or None,
        "place": event.venue or None,
        "tables": event.tables,
        "region": one.last.facts.setting.region.code,
        "currency": _currency(one.last.facts),
        "revision": one.last.commit.revision,
        "committed": one.last.commit.day,
        "problems": [{"file": p.where.file, "code": p.code, "message": p.message} for p in one.last.errors],
        "drinks": _drinks_json(one.last.facts),
        "menus": [
            {
                "from": stage.since.isoformat(timespec="minutes") if stage.since else None,
                **_commit_json(stage.commit),
                **_changes_json(stage.changes),
                "drinks": _drinks_json(stage.facts),
            }
            for stage in one.stages
        ],
        "not_published": [
            {**_commit_json(unpublishable.commit), "problem": unpublishable.problem}
            for unpublishable in one.unpublishable
        ],
        "on_branches": [
            {
                **_commit_json(branch.commit),
                "merged": branch.merge.day,
                "merge": branch.merge.revision,
                **_changes_json(branch.changes),
            }
            for branch in one.on_branches
        ],
    }


def _changes_json(changes: Sequence[Change]) -> dict[str, Any]:
    drinks = drinks_in(changes)
    return {"changed": [drink_json(one) for one in drinks.values()], "menu": _sentences(changes)}


def _commit_json(commit: Commit) -> dict[str, str]:
    return {
        "revision": commit.revision,
        "committed": commit.clock.isoformat(timespec="minutes"),
        "subject": commit.subject,
    }


def _drinks_json(facts: EventFacts) -> list[dict[str, Any]]:
    """Return the drinks of a menu in its order; those that could not be worked out with nothing but their place."""
    told = []
    for section in facts.event.sections:
        for entry in section.entries:
            price = facts.event.shown_price(entry)
            place = {
                "drink": entry.slug,
                "section": section.name,
                "price": f"{price:.2f}" if price is not None else None,
                "off": entry.slug in facts.event.off,
            }
            drink = facts.drinks.get(entry.slug)
            told.append(place | (_drink_json(drink) if drink is not None else {"name": None}))
    return told


def _drink_json(facts: DrinkFacts) -> dict[str, Any]:
    percent = _strength_percent(facts)
    return {
        "name": facts.spec.name,
        "serves": facts.serve.serves,
        "strength_percent": None if percent is None else round(percent, 4),
        "lines": [
            {
                "line": line_words(item.line),
                "stock": item.stock.name,
                "label_read": str(item.stock.checked) if item.stock.checked else None,
            }
            for item in facts.serve.lines
        ],
        **label_data(facts.serve),
        "swaps": [
            {"use": swap.swap.line.name, "instead_of": swap.swap.replaces, **label_data(swap.serve)}
            for swap in facts.swaps
        ],
    }
