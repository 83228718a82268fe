"""The filter that needs no script: rules that hide a drink while the box of something in it is ticked."""

import re
from collections.abc import Iterable

from menugen.menu.guest import Choice, GuestDrink

_OUTSIDE_TOKEN = re.compile(r"[^A-Za-z0-9_-]+")


def token(identity: str) -> str:
    """Return an id as one word that is safe in an attribute and in a selector: "pine nut" is "pine-nut".

    Two ids that come out alike hide each other's drinks as well: a filter may hide too much, never too
    little.
    """
    return _OUTSIDE_TOKEN.sub("-", identity).strip("-") or "-"


def has_tokens(drink: GuestDrink) -> str:
    """Return all that a drink contains, may contain or was distilled from, as tokens with spaces between."""
    marks = (*drink.contains, *drink.may_contain, *drink.distilled_from)
    return " ".join(dict.fromkeys(token(mark.id) for mark in marks))


def sieve_rules(choices: Iterable[Choice]) -> str:
    """Return the style rules of the filter, for browsers that know `:has()`.

    Each box hides its drinks, shows its word beside the closed filter, and shows in each section that lost a
    drink the sentence that says so.
    """
    pairs = [
        (f"#out_{name}", f'[data-has~="{name}"]') for name in dict.fromkeys(token(c.id) for c in choices)
    ]
    rules = [_rule(box, drinks) for box, drinks in pairs]
    rules += [
        f"body:has({box}:checked) .left-out [data-for={_quoted(box[5:])}]{{display:inline}}"
        for box, _ in pairs
    ]
    rules.append(_rule("#only_free", ":not([data-free])"))
    rules.append(_rule("#hide_off", "[data-off]"))
    return f"@supports selector(:has(*)){{.sieve[hidden]{{display:block}}{''.join(rules)}}}"


def _rule(box: str, drinks: str) -> str:
    return (
        f"body:has({box}:checked) .drink{drinks}{{display:none}}"
        f"body:has({box}:checked) section:has(.drink{drinks}) .some-hidden{{display:block}}"
    )


def _quoted(text: str) -> str:
    return f'"{text}"'
