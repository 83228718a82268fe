"""What a place wants said or done, and what a careful bar says anyway."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from menugen.regions.certainty import weakest
from menugen.regions.data_files import load

Topic = Literal[
    "allergens", "age", "strength", "pregnancy", "driving", "water", "help", "health", "measures", "prices"
]
Where = Literal["menu", "premises", "container", "website", "staff", "offer"]
Standing = Literal["required", "customary", "required in some places"]
NeedsAge = Literal["", "served", "lower", "one"]

_NAME = re.compile(r"\{(\w+)\}")
_SPACES = re.compile(r"[ \n\t]+")


@dataclass(frozen=True, slots=True)
class PlaceNotice:
    """One sentence for guests, one duty for the bar, or both.

    Attributes:
        id: Unique in a region: "age".
        topic: What it is about.
        where: Where it belongs.
        standing: Whether a rule asks for it, as far as the data know.
        text: For a guest, in English, ready for the menu; what the law's own words mean where it fixes them.
            Empty where it is only a duty for the bar.
        pattern: The text before the place's facts were filled in: "Alcohol is served only to guests aged {age} or
            over." A catalogue of another language is looked up by this.
        filling: What was filled in, by the name in braces, in English; empty where the place has nothing to say.
        duty: What the operator has to do; empty where the text says it all.
        prominent: Whether the text belongs on the menu itself, not only on a page of notices.
        wording: The law's exact words, where it fixes them; otherwise empty. A menu in any language has them.
        wording_language: BCP 47 of the wording; empty without one.
        of_alcohol: Whether it speaks of alcohol, so that it has no place where none is poured.
        needs_caution: The notice is for menus with a drink that carries this caution; empty for every menu.
        needs_age: The notice is for menus with a drink that is "served" from the place's usual age, or for those
            whose drinks all have its "lower" one; "one" in places with one age, and empty, for every menu.
        source: Ids of sources.
        how: "read", "reported" or "memory".
        from_date: First day in force; None where no day is known.
        until_date: First day no longer in force; None where none is known.
    """

    id: str
    topic: Topic
    where: Where
    standing: Standing
    text: str
    pattern: str
    filling: tuple[tuple[str, str], ...]
    duty: str
    prominent: bool
    wording: str
    wording_language: str
    of_alcohol: bool
    needs_caution: str
    needs_age: NeedsAge
    source: tuple[str, ...]
    how: str
    from_date: date | None
    until_date: date | None


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact of a place that notices are filled from: its age, guideline, help line.

    Attributes:
        text: What stands in the notice's place; empty leaves the notice out.
        source: Ids of sources.
        how: "read", "reported" or "memory".
    """

    text: str
    source: tuple[str, ...]
    how: str


def place_notice(raw: Mapping[str, Any], facts: Mapping[str, Fact]) -> PlaceNotice | None:
    """Return a notice with the place's facts filled in, or None where neither text nor duty is left.

    Args:
        raw: One entry of a place's `notices`.
        facts: By the name that stands in braces in the text.
    """
    pattern = raw.get("text", "")
    asked = {name: facts[name] for name in names_in(pattern)}
    used = [fact for fact in asked.values() if fact.text]
    text = filled(pattern, {name: fact.text for name, fact in asked.items()})
    duty = raw.get("duty", "")
    if not (text or duty):
        return None
    own = tuple(raw.get("source", ()))
    source = (*own, *(one for fact in used for one in fact.source if one not in own))
    wording = raw.get("wording", {})
    return PlaceNotice(
        id=raw["id"],
        topic=raw["topic"],
        where=raw["where"],
        standing=raw["standing"],
        text=text,
        pattern=pattern if text else "",
        filling=tuple((name, fact.text) for name, fact in asked.items()) if text else (),
        duty=duty,
        prominent=raw.get("prominent", False),
        wording=next(iter(wording.values()), ""),
        wording_language=next(iter(wording), ""),
        of_alcohol=raw.get("of_alcohol", raw["topic"] in load("everywhere.yaml")["topics_of_alcohol"]),
        needs_caution=raw.get("needs_caution", ""),
        needs_age=raw.get("needs_age", ""),
        source=tuple(dict.fromkeys(source)),
        how=weakest([*([weakest(raw["how"])] if "how" in raw else []), *(fact.how for fact in used)]),
        from_date=raw.get("from"),
        until_date=raw.get("until"),
    )


def names_in(pattern: str) -> list[str]:
    """Return the names in braces in a notice's pattern, in order."""
    return _NAME.findall(pattern)


def filled(pattern: str, filling: Mapping[str, str]) -> str:
    """Return a notice's pattern with its {names} filled in; empty where it has names and all of them are empty."""
    names = names_in(pattern)
    if names and not any(filling[name] for name in names):
        return ""
    # An empty name leaves a space too many. Spaces that keep a line together are no such spaces.
    return _SPACES.sub(" ", _NAME.sub(lambda match: filling[match.group(1)], pattern)).strip(" ")
