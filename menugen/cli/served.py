"""menugen served."""

import argparse
import json
import textwrap
from collections.abc import Iterator
from typing import Any

from menugen.cli.compare_text import WIDTH
from menugen.cli.finding import NotFound, find_target
from menugen.cli.label_text import label_data, not_read, words_of
from menugen.cli.terminal import fail
from menugen.facts import DrinkFacts, Serve
from menugen.history import NoHistory, Served, served
from menugen.history.differences import line_words
from menugen.problems import visible
from menugen.records import MenuEntry


def run(args: argparse.Namespace) -> int:
    """Tell what was on the menu then, and what was in it."""
    try:
        target = find_target(args.house)
        found = served(target.folder, args.when, args.event)
    except (NotFound, NoHistory) as fault:
        return fail(str(fault))
    if args.table is not None:
        found = tuple(one for one in found if args.table in _tables(one))
    if not found:
        table = f" with a table {args.table}" if args.table is not None else ""
        return fail(f"no event{table} is known for {args.when}")
    if args.json:
        print(json.dumps([_event_json(one) for one in found], ensure_ascii=False, indent=2))
    else:
        print("\n\n".join("\n".join(_event_text(one, args.table, args.when)) for one in found))
    return 0


def _tables(one: Served) -> range:
    return range(1, (one.facts.event.tables or 0) + 1)


def _event_text(one: Served, table: int | None, when: str) -> Iterator[str]:
    event, commit = one.facts.event, one.commit
    place = f", {event.venue}" if event.venue else ""
    yield from _lines(f"{event.name}, {event.date}{place} ({one.facts.setting.region.code})", 0)
    yield from _lines(f"menu {commit.short}, committed {commit.day}: {commit.subject}", 0)
    if table is not None:
        yield f"table {table} of {event.tables}: every table has the same menu"
    if "+" in when:
        yield from _lines(
            "the card was made with changes that were not committed: those are not known here", 0
        )
    if one.meanwhile:
        earlier = ", ".join(commit.short for commit in one.meanwhile)
        yield from _lines(
            f"there are earlier commits of that day: {earlier}; the menu may have changed while it was on "
            f"(menugen compare {one.meanwhile[-1].short} {commit.short})",
            0,
        )
    for problem in one.errors:
        yield from _lines(f"not sound as committed: {problem.where.file}: {problem.message}", 0)
    for section in event.sections:
        yield ""
        yield section.name
        for entry in section.entries:
            facts = one.facts.drinks.get(entry.slug)
            if facts is None:
                yield f"  {entry.slug}: could not be worked out"
            else:
                yield from _drink_text(one, entry, facts)


def _drink_text(one: Served, entry: MenuEntry, facts: DrinkFacts) -> Iterator[str]:
    event = one.facts.event
    price = (
        f", {entry.price:.2f} {event.currency or one.facts.setting.region.currency}" if entry.price else ""
    )
    off = ", sold out" if entry.slug in event.off else ""
    strength = f"{facts.serve.made.served_abv_percent.value:.1f} % vol"
    yield from _lines(f"{facts.spec.name}{price}{off}; {strength}", 2)
    for item in facts.serve.lines:
        same = item.stock.name.casefold() == item.line.name.casefold()
        bottle = "" if same else f": {item.stock.name}"
        read = f" (label read {item.stock.checked})" if item.stock.checked else " (no day its label was read)"
        yield from _lines(f"{line_words(item.line)}{bottle}{read}", 4)
    yield from _lines(_declared(facts.serve), 4)
    for swap in facts.swaps:
        yield from _lines(
            f"with {swap.swap.line.name} instead of {swap.swap.replaces}: {_declared(swap.serve)}", 4
        )


def _declared(serve: Serve) -> str:
    contains, may_contain = words_of(serve.declaration.contains), words_of(serve.declaration.may_contain)
    told = [not_read(serve.unread)] if serve.unread else []
    if contains:
        told.append(f"CONTAINS {', '.join(contains)}")
    elif not serve.unread:
        told.append("contains no listed allergen on the labels read")
    if may_contain:
        told.append(f"MAY CONTAIN {', '.join(may_contain)}")
    return "; ".join(told)


def _lines(text: str, indent: int) -> list[str]:
    pad = " " * indent
    return textwrap.wrap(
        visible(text), WIDTH, initial_indent=pad, subsequent_indent=f"{pad}  ", break_on_hyphens=False
    )


def _event_json(one: Served) -> dict[str, Any]:
    event = one.facts.event
    return {
        "event": event.slug,
        "name": event.name,
        "date": str(event.date),
        "tables": event.tables,
        "region": one.facts.setting.region.code,
        "revision": one.commit.revision,
        "committed": one.commit.day,
        "earlier_that_day": [commit.revision for commit in one.meanwhile],
        "problems": [{"file": p.where.file, "code": p.code, "message": p.message} for p in one.errors],
        "drinks": [
            {
                "drink": slug,
                "name": facts.spec.name,
                "off": slug in event.off,
                "strength_percent": round(facts.serve.made.served_abv_percent.value, 4),
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
                    {
                        "use": swap.swap.line.name,
                        "instead_of": swap.swap.replaces,
                        **label_data(swap.serve),
                    }
                    for swap in facts.swaps
                ],
            }
            for slug, facts in one.facts.drinks.items()
        ],
    }
