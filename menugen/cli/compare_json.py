"""What changed between two houses, as JSON for a program."""

import json
from collections.abc import Sequence
from typing import Any

from menugen.cli.compare_text import bottles, facts_of
from menugen.comparing import LEVELS, Change, ComparedHouse, Comparison, by_subject
from menugen.problems import Problem, Span


def compare_json(comparison: Comparison) -> str:
    """Return the comparison as JSON; private, since it holds costs."""
    drinks = comparison.drinks
    stock, events = (by_subject(comparison.of(sort, "says")) for sort in ("stock", "event"))
    told = {
        "compare": 1,
        "old": _house_json(comparison.old),
        "new": _house_json(comparison.new),
        "drinks_added": [_known_json(comparison, one) for one in comparison.of("drink", "added")],
        "drinks_gone": [
            {"drink": one.subject.old_id, "name": one.subject.old_name}
            for one in comparison.of("drink", "gone")
        ],
        "not_compared": [
            {**_fault_json(one), "now": _known_json(comparison, one)}
            for one in comparison.of("drink", "unknown")
        ],
        "events_not_compared": [
            {**_fault_json(one), "event": one.subject.id, "name": one.subject.name}
            for one in comparison.of("event", "unknown")
        ],
        "drinks": [drink_json(changes) for changes in drinks.values()],
        "bottles": [
            {"name": name, "before": before, "after": after, "drinks": reaches}
            for (name, before, after), reaches in bottles(drinks).items()
        ],
        "stock": [
            {
                "name": one.name,
                "what": [said.after for said in changes],
                "drinks": list(changes[0].where),
                "would_be_in": list(changes[0].would),
            }
            for one, changes in stock.items()
        ],
        "stock_renamed": [
            {"before": one.before, "after": one.after} for one in comparison.of("stock", "name")
        ],
        "stock_added": [one.subject.name for one in comparison.of("stock", "added")],
        "stock_gone": [one.subject.old_name for one in comparison.of("stock", "gone")],
        "house": [one.after for one in comparison.of("house", "says")],
        "events_added": [one.subject.name for one in comparison.of("event", "added")],
        "new_events": [
            {"event": one.subject.id, "name": one.subject.name, "date": one.after, "menu": list(one.where)}
            for one in comparison.of("event", "added")
        ],
        "events_gone": [one.subject.old_name for one in comparison.of("event", "gone")],
        "events": [
            {"event": one.id, "name": one.name, "what": [said.after for said in changes]}
            for one, changes in events.items()
        ],
        "shared": [
            {"event": one.subject.id, "what": one.word, "before": bool(one.before), "after": bool(one.after)}
            for one in comparison.of("event", "kitchen")
        ],
        "not_on_cards": [
            {
                "drink": one.subject.id,
                "name": one.subject.name,
                "events": list(one.where),
                "cards": one.after,
            }
            for one in comparison.of("drink", "not on cards")
        ],
        "notes": list(comparison.notes),
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _house_json(house: ComparedHouse) -> dict[str, Any]:
    problems = [_problem_json(one) for one in house.errors]
    return {"label": house.label, "revision": house.revision or None, "problems": problems}


def _problem_json(problem: Problem) -> dict[str, Any]:
    where = problem.where
    spot = {"line": where.line, "column": where.column} if isinstance(where, Span) else {}
    told = {"file": where.file, "code": problem.code, "message": problem.message}
    return {**told, **spot, "hints": list(problem.hints)}


def _fault_json(one: Change) -> dict[str, Any]:
    return {"fault_in": one.before or one.after, "in_older": bool(one.before), "in_newer": bool(one.after)}


def _known_json(comparison: Comparison, change: Change) -> dict[str, Any]:
    known = comparison.known_of(change)
    return {
        "drink": change.subject.id,
        "name": change.subject.name,
        "strength": next((one.after for one in known if one.kind == "figure"), None),
        **{
            said.replace(" ", "_"): [one.word for one in known if one.after == said] if known else None
            for said in reversed(LEVELS[1:])
        },
    }


def drink_json(changes: Sequence[Change]) -> dict[str, Any]:
    """Return what changed of one drink as plain data."""
    drink = changes[0].subject
    return {
        "drink": drink.id,
        "name": drink.name,
        "was": {"drink": drink.old_id, "name": drink.old_name},
        "allergens": [
            {
                "substance": one.fact,
                "word": one.word,
                "before": one.before or None,
                "after": one.after or None,
                "gained": one.gained,
                **_why(one),
            }
            for one in changes
            if one.is_allergen
        ],
        "moves": [
            {
                "fact": one.called,
                "before": one.before,
                "after": one.after,
                **({"label": one.fact} if one.kind == "unread" else {}),
                **_why(one),
            }
            for one in facts_of(changes)
        ],
        "bottles": [
            {"name": one.fact, "before": one.before, "after": one.after}
            for one in changes
            if one.kind == "bottle"
        ],
    }


def _why(one: Change) -> dict[str, Any]:
    return {
        "swap": one.swap or None,
        "causes": [cause.text for cause in one.causes],
        "labels": [
            {"name": cause.subject, "said": cause.said or None, "says": cause.says or None}
            for cause in one.causes
            if cause.said or cause.says
        ],
        "events": list(one.where),
        "languages": list(one.languages),
        "on_no_menu": one.unlisted,
    }
