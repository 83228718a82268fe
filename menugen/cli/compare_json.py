"""What changed between two houses, as JSON for a program."""

import json
from collections.abc import Iterable
from typing import Any

from menugen.comparing.changes import Comparison, Declared, DrinkMoves, NewDrink
from menugen.problems import Problem, Span


def compare_json(comparison: Comparison) -> str:
    """Return the comparison as JSON; private, since it holds costs."""
    told = {
        "compare": 1,
        "old": _side(comparison.old.label, comparison.old.revision, comparison.old.errors),
        "new": _side(comparison.new.label, comparison.new.revision, comparison.new.errors),
        "drinks_added": [_new_json(drink) for drink in comparison.added],
        "drinks_gone": [{"drink": slug, "name": name} for slug, name in comparison.gone],
        "not_compared": [{"fault_in": one.fault_in, "now": _new_json(one.now)} for one in comparison.unseen],
        "events_not_compared": [
            {"fault_in": one.fault_in, "event": one.now.slug, "name": one.now.name}
            for one in comparison.events_unseen
        ],
        "drinks": [drink_json(drink) for drink in comparison.drinks],
        "bottles": [
            {"name": one.name, "before": one.before, "after": one.after, "drinks": list(one.reaches)}
            for one in comparison.bottles
        ],
        "stock": [
            {"name": one.name, "what": list(one.what), "drinks": list(one.reaches)}
            for one in comparison.stock
        ],
        "stock_renamed": [{"before": before, "after": after} for before, after in comparison.stock_renamed],
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
        "problems": [_problem_json(one) for one in errors],
    }


def _problem_json(problem: Problem) -> dict[str, Any]:
    where = problem.where
    told: dict[str, Any] = {"file": where.file, "code": problem.code, "message": problem.message}
    if isinstance(where, Span):
        told |= {"line": where.line, "column": where.column}
    return {**told, "hints": list(problem.hints)}


def _new_json(drink: NewDrink) -> dict[str, Any]:
    known = bool(drink.strength)
    return {
        "drink": drink.slug,
        "name": drink.name,
        "strength": drink.strength or None,
        "contains": list(drink.contains) if known else None,
        "may_contain": list(drink.may_contain) if known else None,
        "distilled_from": list(drink.distilled_from) if known else None,
    }


def drink_json(drink: DrinkMoves) -> dict[str, Any]:
    """Return what moved of one drink as plain data."""
    levels = {
        Declared.CONTAINS: "contains",
        Declared.MAY_CONTAIN: "may contain",
        Declared.DISTILLED_FROM: "distilled from",
        Declared.NOT: None,
    }
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
                "causes": [cause.text for cause in one.causes],
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
                "causes": [cause.text for cause in one.causes],
                "events": list(one.where),
            }
            for one in drink.moves
        ],
        "bottles": [
            {"name": name, "before": before, "after": after} for name, before, after in drink.bottles
        ],
    }
