"""What guests are told otherwise, in words: the same for two houses, a publish, an evening and a drink's history.

Comes in: changes, as comparing/ finds them. Goes out: the sections that stand first in a report, and single phrases.
Knows nothing of: where the changes were found, or how a report is drawn.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from menugen.comparing import LEVELS, Cause, Change, level
from menugen.report import ALARM, Item, Section, counted, listed

_MOST_NAMES = 12
"""Names in one list before the rest is counted; never where guests are told otherwise."""

_ON_LABELS = ("contains", "may contain", "distilled from", "fined with", "caution")
"""What stock says of a label, or warns of."""

_HEADS = (
    ("ALLERGENS GAINED in {}", "allergen", True),
    ("CAUTIONS GAINED in {}", "caution", True),
    ("NOT COMPARED, OR NOT IN FULL", "unknown", None),
    ("ALLERGENS LOST in {}: read these labels again", "allergen", False),
    ("CAUTIONS LOST in {}", "caution", False),
    ("LABELS NO LONGER READ in {}", "unread", None),
    ("SWAPS GONE in {}", "swap", None),
    ("SHARED EQUIPMENT CHANGED", "kitchen", None),
    ("NEW ON A MENU WHOSE CARDS ARE PRINTED", "not on cards", None),
    ("MOVED TO ANOTHER HEADING in {}", "listing", None),
)
"""Headings, the gravest first, each with a kind of change; whether gained or lost, where that matters."""


def alarms(changes: Iterable[Change], not_compared: Iterable[Item] = ()) -> Iterator[Section]:
    """Yield what guests are told otherwise, gravest first, what has the same cause together.

    Args:
        changes: Whose subjects are drinks and events; see `told_otherwise`.
        not_compared: What nobody can know, in words.
    """
    known = list(changes)
    for title, kind, gained in _HEADS:
        found = [one for one in known if one.kind == kind and gained in (None, one.gained)]
        items = not_compared if kind == "unknown" else _items(found)
        yield from listed(title.format(_number(found)), items, alarm=True)


def _number(found: Iterable[Change]) -> str:
    """Return how many drinks it is so of: those on menus, then those that no menu has."""
    everywhere, on_menus = set(), set()
    for one in found:
        everywhere.add((one.subject.id, one.subject.name))
        if not one.unlisted:
            on_menus.add((one.subject.id, one.subject.name))
    on_none = len(everywhere - on_menus)
    if not on_menus:
        return f"{counted(on_none, 'drink')} on no menu"
    return counted(len(on_menus), "drink") + (f" and {on_none} on no menu" if on_none else "")


def _items(changes: Iterable[Change]) -> Iterator[Item]:
    """Yield each change once, with every drink it happened in, where it did, and why."""

    def order(one: Change) -> tuple[object, ...]:
        why = because(one.causes)
        if one.kind == "listing":
            return (one.fact, why)
        said = (one.before, one.after) if one.kind in ("swap", "not on cards") else ()
        return (-level(one.after), one.fact, -level(one.before), *said, why)

    for _, same in groupby(sorted(changes, key=order), order):
        group = list(same)
        one = group[0]
        # A law elsewhere may spell the same substance otherwise.
        word = " or ".join(dict.fromkeys(each.word for each in group if each.kind == "allergen"))
        if one.subject.sort == "drink":
            yield Item(phrase(one, word), tuple(filter(None, (*_names(group), because(one.causes)))))
        else:
            events = dict.fromkeys(event for each in group for event in each.where or (each.subject.name,))
            yield Item(phrase(one) + at_events(events))


def _names(group: Sequence[Change]) -> Iterator[str]:
    """Yield the drinks of some changes: those on menus, then those that no menu has."""
    on_menus: dict[str, list[str]] = {}
    elsewhere = ", ".join(dict.fromkeys(_who(one) for one in group if one.unlisted))
    for one in group:
        if not one.unlisted:
            on_menus.setdefault(_who(one), []).extend(one.where if one.kind != "not on cards" else ())
    if not on_menus and group[0].gained:
        yield in_no_drink(elsewhere)
        return
    if on_menus:
        yield ", ".join(f"{who}{at_events(events)}" for who, events in on_menus.items())
    if elsewhere:
        yield f"on no menu: {elsewhere}"


def at_events(events: Iterable[str]) -> str:
    """Return " (at Small Supper)", or nothing where no event is named."""
    names = ", ".join(dict.fromkeys(events))
    return f" (at {names})" if names else ""


def in_no_drink(others: str) -> str:
    """Return that nothing on a menu has it, and which drinks would."""
    return f"in no drink on a menu; {others} would pour it" if others else "in no drink"


def some(names: Sequence[str]) -> str:
    """Return names as a list; of many the first, and how many more there are."""
    if len(names) <= _MOST_NAMES:
        return ", ".join(names)
    return ", ".join(names[:_MOST_NAMES]) + f" and {len(names) - _MOST_NAMES} more"


def _who(one: Change) -> str:
    """Return the drink, what it was called, the swap, and the languages where it is not all of them."""
    drink = one.subject
    was = f"was {drink.old_name}" if drink.old_name not in ("", drink.name) else ""
    if drink.old_id not in ("", drink.id):
        was = was or "another spec now"
    return (
        drink.name
        + (f" ({was})" if was else "")
        + (f" with {one.swap}" if one.swap else "")
        + (f" in {', '.join(one.languages)}" if one.languages else "")
    )


def phrase(one: Change, word: str = "") -> str:
    """Return what guests are told otherwise, its drink left out: "almonds: was CONTAINS, now not named".

    Args:
        one: One of the kinds that `told_otherwise` knows.
        word: Stands for the menu's own word.
    """
    match one.kind:
        case "allergen":
            word = word or one.word
            # Whoever publishes need not read the language of the menu.
            is_plain = one.fact.replace("_", " ").casefold() in word.casefold()
            before, after = (said.upper() or "not named" for said in (one.before, one.after))
            words = f"{word if is_plain else f'{one.fact} ({word})'}: was {before}, now {after}"
        case "caution":
            before, after = ("a CAUTION" if said else "not named" for said in (one.before, one.after))
            words = f"{one.fact}: was {before}, now {after}"
        case "unread":
            words = f"{one.word}: its label was read, now NOT READ"
        case "swap":
            words = f"{one.before}: now {one.after}" if one.after else f"{one.before}: no longer offered"
        case "kitchen":
            words = f"{'new' if one.after else 'gone'}: {one.word}"
        case "not on cards":
            words = f"not on the printed cards of {', '.join(one.where)} ({one.after})"
        case "unknown":
            words = "not known"
        case _:
            words = one.word
    return words


def alarm_words(one: Change, drink: str = "") -> str:
    """Return what guests are told otherwise in one line, with a mark that nobody misses without colour.

    Args:
        one: What changed.
        drink: The drink's name, where the reader does not know which it is.
    """
    swap = f" with {one.swap}" if one.swap else ""
    name = f"{drink}{swap}: " if drink else f"{swap.strip()}: " if swap else ""
    at = "" if one.kind == "not on cards" else at_events(one.where)
    why = because(one.causes)
    return f"{ALARM}{name}{phrase(one)}{at}{f', {why}' if why else ''}"


def because(causes: Iterable[Cause]) -> str:
    """Return why something changed, as a clause; empty where nothing is known."""
    told = list(dict.fromkeys(map(_cause, causes)))
    return f"because {'; '.join(told)}" if told else ""


def _cause(cause: Cause) -> str:
    """Return a cause as a clause; a label's with the very word that came or went."""
    if cause.said or cause.says:
        says, said = (
            cause.says and f'now says "{cause.says}"',
            cause.said and f'no longer says "{cause.said}"',
        )
        now = " and ".join(filter(None, (says, said)))
        is_of_stock = cause.text.endswith("no longer said") or (cause.says or cause.said).startswith(
            "caution "
        )
        return f"stock {now} of {cause.subject}" if is_of_stock else f"the label of {cause.subject} {now}"
    for begins, words in (("swap + ", "the swap is new: "), ("rules of ", "other rules hold: ")):
        if cause.text.startswith(begins):
            return words + cause.text.removeprefix(begins)
    sign, _, what = cause.text.partition(" ")
    if sign == "+":
        return f"{what} was added"
    if sign == "-":
        return f"{what} was taken out"
    return f"of {cause.subject}: {cause.text}" if cause.thing == cause.text else f"of {cause.text}"


def label_words(text: str) -> str:
    """Return what a stock line says otherwise, its label in its own words: "now says contains fish"."""
    for sign, says in ((" + ", "now says"), (" - ", "no longer says")):
        what, found, word = text.partition(sign)
        if found and what in _ON_LABELS:
            return f'{says} "{what} {word}"'
    return text


def level_words(known: Iterable[tuple[str, str]]) -> list[str]:
    """Return what a drink is declared with, (level, word) of each: ["contains egg, milk", "may contain nuts"]."""
    pairs = list(known)
    return [
        f"{said} {', '.join(words)}"
        for said in reversed(LEVELS[1:])
        if (words := [word for found, word in pairs if found == said])
    ]
