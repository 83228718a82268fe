"""menugen served."""

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

from menugen.alarms import alarm_words
from menugen.cli.compare_json import drink_json
from menugen.cli.finding import NotFound, find_target
from menugen.cli.terminal import fail
from menugen.comparing import Change, drinks_in, line_words, price_text, told_otherwise
from menugen.drink_facts import also_named, distilled_words, label_data, not_read, words_of
from menugen.facts import BottleLine, DrinkFacts, EventFacts, Serve
from menugen.names import name_key
from menugen.past.menu_stages import EventServed, MenuStage
from menugen.past.served import ServedEvents, served
from menugen.records import Event, MenuEntry
from menugen.report import Item, Items, Report, Section, as_text, listed
from menugen.revisions import Commit, NoHistory


def run(args: argparse.Namespace) -> int:
    """Show what was on the menu then, and what was in it."""
    try:
        target = find_target(args.house)
        found = served(target.folder, args.when, args.event)
    except (NotFound, NoHistory) as fault:
        return fail(str(fault))
    if not found.events:
        code = fail(f"no event is known for {args.when}")
        if found.notes:
            print(_notes(found), file=sys.stderr)
        return code
    if args.json:
        events = [_event_json(one) for one in found.events]
        print(
            json.dumps(
                {"served": 1, "events": events, "notes": list(found.notes)}, ensure_ascii=False, indent=2
            )
        )
    else:
        parts = [as_text(_report(one, uncommitted="+" in args.when)) for one in found.events]
        print("\n\n".join([*parts, *([_notes(found)] if found.notes else [])]))
    return 0


def _notes(found: ServedEvents) -> str:
    return as_text(Report(sections=listed("Notes", map(Item, found.notes))))


_SUBJECT = 50
"""Letters of a commit's subject that are shown."""


class _Commits:
    """Names commits: the first time with their hours and their subject, from then on by seven digits."""

    def __init__(self) -> None:
        self._named: set[str] = set()

    def name(self, commit: Commit, at: datetime | None = None) -> str:
        """Return what a commit is called; its hour is left out where it has just been said, as `at`."""
        if commit.revision in self._named:
            return commit.short
        self._named.add(commit.revision)
        made, written = _minute(commit.clock), _minute(commit.written)
        words = [] if made == written == at else [f"committed {made:%Y-%m-%d %H:%M}"]
        if written != made:
            words.insert(0, f"written {written:%Y-%m-%d %H:%M}")
        cut = len(commit.subject) > _SUBJECT
        subject = f"{commit.subject[:_SUBJECT].rstrip()} ..." if cut else commit.subject
        return f"{commit.short} ({': '.join(filter(None, [', '.join(words), subject]))})"


def _report(one: EventServed, *, uncommitted: bool) -> Report:
    """Return an event: its menus in short, the last one in full, and what the others had that was different."""
    facts = one.last.facts
    event = facts.event
    hours = f", {_hours(event)}" if event.hours else ""
    place = f", {event.venue}" if event.venue else ""
    title = f"{event.name}, {event.date}{hours}{place} ({facts.setting.region.code})"
    sections = [Section(name, (Items(items),)) for name, items in _menu(facts)]
    if event.equipment:
        sections += listed("Equipment", [Item(", ".join(event.equipment))])
    for stage, following in zip(one.stages, one.stages[1:], strict=False):
        until = f"{following.since:%H:%M}"
        when = f"Before {until}" if stage is one.stages[0] else f"Between {stage.since:%H:%M} and {until}"
        sections += listed(f"{when} these were different:", _different(stage, following))
    for menu in one.possible:
        title_of_it = f"In menu {menu.commit.short} these were different:"
        sections += listed(title_of_it, _different(menu, one.last))
    return Report(title, (Items(tuple(_lead(one, uncommitted=uncommitted))),), tuple(sections))


def _lead(one: EventServed, *, uncommitted: bool) -> Iterator[Item]:
    """Yield which menus there were, what they told guests otherwise, and what is not certain."""
    commits = _Commits()
    if one.by_authors:
        yield Item(
            f"By the hours at which its commits were made, {one.by_authors}. Shown is what had been written by then; "
            "a rebase commits anew, and a merge brings later."
        )
    for stage in one.stages:
        named = commits.name(stage.commit, stage.since)
        yield Item(f"{_from(stage, one)}menu {named}", tuple(_changed(stage.changes)))
    for menu in one.possible:
        if told_otherwise(menu.changes) or _different(menu, one.last):
            yield _possible(menu, commits)
    yield from map(Item, _doubts(one, commits, uncommitted=uncommitted))
    if one.last.since is None:
        yield Item(f"(the whole evening: menugen served {one.last.facts.event.date})")
    if len(one.stages) > 1:
        began, ended = one.stages[0].commit.short, one.last.commit.short
        yield Item(f"The menu below is the last one (menugen compare {began} {ended} shows every change).")


def _doubts(one: EventServed, commits: _Commits, *, uncommitted: bool) -> Iterator[str]:
    if uncommitted:
        yield "The card was made with changes that were not committed; git does not know those."
    for passed in one.unpublishable:
        named = commits.name(passed.commit)
        yield f"{named} could not be published, so the menu before it stayed: {passed.problem}"
    for problem in one.last.errors:
        yield f"This menu could not be published as committed: {problem.where.file}: {problem.message}"
    if one.doubt is not None:
        last, later = commits.name(one.last.commit), commits.name(one.doubt)
        unless = "" if one.by_authors else ", unless one of their clocks was wrong"
        yield f"{last} follows {later}, made after the event: what that one changed is in this menu{unless}."


def _from(stage: MenuStage, one: EventServed) -> str:
    """Return from when a menu held; empty where it was the only one."""
    if stage.since is None or (len(one.stages) == 1 and not one.possible):
        return ""
    written = max(stage.commit.written, one.event.start)
    perhaps = f", perhaps from {written:%H:%M}" if _minute(written) < _minute(stage.since) else ""
    return f"from {stage.since:%H:%M}{perhaps}: "


def _minute(clock: datetime) -> datetime:
    return clock.replace(second=0, microsecond=0)


def _possible(menu: MenuStage, commits: _Commits) -> Item:
    """Return which other menu may have been on the tables, and why nobody can know."""
    named = commits.name(menu.commit, menu.since)
    why = "committed only after the event, as a rebase does"
    if menu.merge is not None:
        why = f"on a branch until {commits.name(menu.merge)}"
    if menu.beneath is not None:
        why += f"; it now has what {commits.name(menu.beneath)} changed, and had not then"
    changed = tuple(_changed(menu.changes))
    against = ". Against the menu below:" if changed else ""
    return Item(f"perhaps from {menu.since:%H:%M}: menu {named}, {why}{against}", changed)


def _changed(changes: Sequence[Change]) -> Iterator[str]:
    """Yield what guests were told otherwise, and what the event and the house said."""
    yield from (alarm_words(one, one.subject.name) for one in told_otherwise(changes))
    yield from _sentences(changes)


def _sentences(changes: Sequence[Change]) -> list[str]:
    """Return what the menu and the house say differently."""
    said = [one for one in changes if one.kind == "says" and one.subject.sort in ("event", "house")]
    return [one.after for one in sorted(said, key=lambda one: one.subject.sort)]


def _different(stage: MenuStage, other: MenuStage) -> list[Item]:
    """Return the drinks of a menu that another one does not have, or not as they are here."""
    known = {item for _, items in _menu(other.facts) for item in items}
    return [item for _, items in _menu(stage.facts) for item in items if item not in known]


def _menu(facts: EventFacts) -> Iterator[tuple[str, tuple[Item, ...]]]:
    for section in facts.event.sections:
        yield section.name, tuple(_drink(facts, entry) for entry in section.entries)


def _drink(event_facts: EventFacts, entry: MenuEntry) -> Item:
    facts = event_facts.drinks.get(entry.slug)
    if facts is None:
        return Item(f"{entry.slug}: could not be worked out")
    event = event_facts.event
    shown = event.shown_price(entry)
    price = "" if shown is None else f", {price_text(shown, _currency(event_facts))}"
    if facts.serve.serves > 1:
        price += f" for all {facts.serve.serves} serves" if shown else f", {facts.serve.serves} serves"
    off = ", sold out" if entry.slug in event.off else ""
    percent = _strength_percent(facts)
    strength = "strength not known" if percent is None else f"{percent:.1f} % vol"
    swaps = (
        f"with {swap.swap.line.name} instead of {swap.swap.replaces}: {_declared(swap.serve)}"
        for swap in facts.swaps
    )
    under = (*map(_line, facts.serve.lines), _declared(facts.serve), *swaps)
    return Item(f"{facts.spec.name}{price}{off}; {strength}", under)


def _line(item: BottleLine) -> str:
    same = name_key(item.stock.name) == name_key(item.line.name)
    bottle = "" if same else f": {item.stock.name}"
    read = f" (label read {item.stock.checked})" if item.stock.checked else " (label: no date)"
    return f"{line_words(item.line)}{bottle}{read}"


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
    told += [f"cautions: {', '.join(serve.cautions)}"] if serve.cautions else []
    return "; ".join(told)


def _currency(facts: EventFacts) -> str:
    return facts.event.currency or facts.setting.region.currency


def _hours(event: Event) -> str:
    return f"{event.hours.start:%H:%M}-{event.hours.end:%H:%M}" if event.hours else ""


def _event_json(one: EventServed) -> dict[str, Any]:
    event = one.last.facts.event
    return {
        "event": event.slug,
        "name": event.name,
        "date": str(event.date),
        "hours": _hours(event) or None,
        "place": event.venue or None,
        "region": one.last.facts.setting.region.code,
        "currency": _currency(one.last.facts),
        "revision": one.last.commit.revision,
        "committed": one.last.commit.day,
        "by_authors": one.by_authors or None,
        "problems": [{"file": p.where.file, "code": p.code, "message": p.message} for p in one.last.errors],
        "drinks": _drinks_json(one.last.facts),
        "menus": [_stage_json(stage) for stage in one.stages],
        "not_published": [
            {**_commit_json(unpublishable.commit), "problem": unpublishable.problem}
            for unpublishable in one.unpublishable
        ],
        "perhaps": [
            {
                **_stage_json(menu),
                "merged": menu.merge.day if menu.merge else None,
                "merge": menu.merge.revision if menu.merge else None,
            }
            for menu in one.possible
        ],
    }


def _stage_json(stage: MenuStage) -> dict[str, Any]:
    return {
        "from": stage.since.isoformat(timespec="minutes") if stage.since else None,
        **_commit_json(stage.commit),
        "changed": [drink_json(one) for one in drinks_in(stage.changes).values()],
        "menu": _sentences(stage.changes),
        "equipment": list(stage.facts.event.equipment),
        "drinks": _drinks_json(stage.facts),
    }


def _commit_json(commit: Commit) -> dict[str, str]:
    return {
        "revision": commit.revision,
        "written": commit.written.isoformat(timespec="minutes"),
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
