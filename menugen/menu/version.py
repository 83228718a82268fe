"""What an event's menu is called, so that a printed card can say which menu it belongs to."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

from menugen.menu.guest import GuestDrink, GuestMenu, GuestSection

_STATED_AS: Mapping[str, str] = {"PageText": "Said"}
"""Kinds of record that have another name now than the one a version states them by: cards are out with that one."""

_STATED_FIRST: Mapping[str, str] = {
    "GuestDrink": "id name lead story made_with strength units alcohol_free contains may_contain cautions price off "
    "glass picture swaps name_language notes_language made_with_language glass_language price_value distilled_from "
    "distilled_words also_named also_warned_of caution_ids combined serves serves_words price_for",
    "GuestSwap": "runs strength units contains may_contain name brings alcohol_free distilled_from distilled_words "
    "also_named also_warned_of cautions of id caution_ids",
}
"""The order in which a version states fields, where it is not that of the record; any other field comes after."""


def menu_version(menus: Iterable[GuestMenu], revision: str, *, uncommitted: bool) -> str:
    """Return what an event's menu is called in all its languages, so that two different menus never share a version.

    A committed house is named by its revision. Without git, seven hex digits of everything guests are shown stand
    instead; behind a revision and "+" they name what was not committed yet, and behind "+" alone a house of which
    nothing was: no revision is looked for by that name.
    """
    if revision and not uncommitted:
        return revision
    whole = hashlib.sha256()
    for menu in menus:
        for part in _parts(replace(menu, uncommitted=uncommitted, words={})):
            whole.update(part.encode())
    digest = whole.hexdigest()[:7]
    return f"{revision}+{digest}" if uncommitted else digest


def _parts(value: Any) -> Iterator[str]:
    """Yield what a menu states, bit by bit down to the drinks: a long one need not be whole in memory."""
    if isinstance(value, GuestMenu | GuestSection):
        name, names = _form(type(value))  # type: ignore[arg-type]  # a class is Hashable
        yield f"{name}("
        for number, field in enumerate(names):
            yield f"{', ' if number else ''}{field}="
            yield from _parts(getattr(value, field))
        yield ")"
    elif isinstance(value, tuple) and value and isinstance(value[0], GuestSection | GuestDrink):
        yield "("
        for number, item in enumerate(value):
            yield ", " if number else ""
            yield from _parts(item)
        yield ",)" if len(value) == 1 else ")"
    else:
        yield _stated(value)
        if isinstance(value, GuestDrink):
            # What the table of facts has for guests is part of a version only where there is something.
            yield from (_stated(way.facts) for way in value.ways if way.facts)


def _stated(value: Any) -> str:
    """Return a value in one text: records and their fields by name, lists in brackets, texts in quotes.

    A menu that has not changed must have the version that its cards carry: this form stays, whatever the code calls
    the records.
    """
    if isinstance(value, str):
        return repr(value)
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key!r}: {_stated(item)}' for key, item in value.items())}}}"
    name, names = _form(type(value))  # type: ignore[arg-type]  # a class is Hashable
    if name:
        return f"{name}({', '.join([f'{field}={_stated(getattr(value, field))}' for field in names])})"
    if isinstance(value, tuple):
        return f"({', '.join([_stated(item) for item in value])}{',' if len(value) == 1 else ''})"
    return repr(value)


@cache
def _form(kind: type) -> tuple[str, tuple[str, ...]]:
    """Return the name a kind of record is stated by, and its fields; no name for what is no record."""
    name = _STATED_AS.get(kind.__name__, kind.__name__)
    if is_dataclass(kind):
        first = _STATED_FIRST.get(name, "").split()
        return name, tuple(dict.fromkeys((*first, *(field.name for field in fields(kind) if field.repr))))
    names: tuple[str, ...] = getattr(kind, "_fields", ())
    return name if names else "", names
