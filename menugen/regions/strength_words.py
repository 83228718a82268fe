"""Words that say how strong a drink is: which hold here, and which a drink's name claims."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any

from menugen.regions.data_files import load
from menugen.regions.regimes import Operator


@dataclass(frozen=True, slots=True)
class StrengthWord:
    """What a place says of a word for little or no alcohol.

    Attributes:
        group: The family of words it is about: "alcohol-free".
        term: As this place spells it: "alcohol free".
        allowed: False where the place does not want the word on such a drink at all.
        operator: How the strength is compared with the limit.
        limit_percent: Alcohol by volume; None where the word is not allowed.
        only_for: "beer", "wine" ... where the rule is about one kind of drink; empty where it holds for any.
        offered: Whether the menu may use it of its own accord.
        alcohol_free: Whether it tells a guest that there is no alcohol to speak of.
        why: What it rests on, for the operator.
        source: Ids of sources.
        how: "read", "reported" or "memory".
    """

    group: str
    term: str
    allowed: bool
    operator: Operator
    limit_percent: float | None
    only_for: str
    offered: bool
    alcohol_free: bool
    why: str
    source: tuple[str, ...]
    how: str

    def holds(self, abv_percent: float) -> bool:
        """Return whether the word may be used of a drink of this strength."""
        return (
            self.allowed
            and self.limit_percent is not None
            and _within(self.operator, self.limit_percent, abv_percent)
        )


@dataclass(frozen=True, slots=True)
class Descriptor:
    """A word for a drink's strength that holds here.

    Attributes:
        term: As the place spells it.
        alcohol_free: Whether a guest who drinks no alcohol may take it so.
    """

    term: str
    alcohol_free: bool


@dataclass(frozen=True, slots=True)
class Claim:
    """A phrase in a drink's name that says something of its strength.

    Attributes:
        phrase: As the user typed it.
        start: Where it begins in the text, counted from 0.
        end: One past its last character.
        limit_percent: The strength the place allows it up to; None where the word is not allowed at all.
        operator: How the strength is compared with the limit.
        term: The family of words: "alcohol-free".
        allowed: False where the place does not want the word on such a drink.
        why: What the limit rests on, for the operator.
        source: Ids of sources.
    """

    phrase: str
    start: int
    end: int
    limit_percent: float | None
    operator: Operator
    term: str
    allowed: bool
    why: str
    source: tuple[str, ...]

    def holds(self, abv_high_percent: float) -> bool:
        """Return whether the claim is true of a drink whose strength is at most this."""
        return (
            self.allowed
            and self.limit_percent is not None
            and _within(self.operator, self.limit_percent, abv_high_percent)
        )


def strength_words(raw: Iterable[Mapping[str, Any]]) -> tuple[StrengthWord, ...]:
    """Return a place's words, then our own cautious rule for each family it says nothing general of."""
    common = load("strength_words.yaml")["groups"]
    own = [_word(entry, common.get(entry["group"], {})) for entry in raw]
    general = {word.group for word in own if not word.only_for}
    for group, entry in common.items():
        if group in general:
            continue
        # "no alcohol" means what "alcohol-free" means here, where the place has a figure for that.
        like = next((word for word in own if word.group == entry.get("like") and not word.only_for), None)
        if like and like.allowed:
            own.append(replace(like, group=group, term=entry["term"], offered=False))
        elif "otherwise" in entry:
            own.append(
                _word({"group": group, "offered": group == "alcohol-free", **entry["otherwise"]}, entry)
            )
    return tuple(own)


def descriptor(words: Iterable[StrengthWord], abv_high_percent: float) -> Descriptor | None:
    """Return the offered word with the lowest limit that still holds at this strength, or None."""
    fitting = [word for word in words if word.offered and not word.only_for and word.holds(abv_high_percent)]
    if not fitting:
        return None
    word = min(fitting, key=lambda word: (word.limit_percent, word.term))
    return Descriptor(word.term, word.alcohol_free)


def claims(words: Iterable[StrengthWord], text: str, drink_class: str = "") -> tuple[Claim, ...]:
    """Return the phrases in a text that claim something of strength, in the order they stand.

    Args:
        words: The place's.
        text: A name or a sentence.
        drink_class: "beer", "cider" or "wine" of a drink that is one of these and nothing else, for which a rule of
            its own comes before the general one; empty for any other.
    """
    if not _grouped_phrases(text):
        return ()
    by_group: dict[str, StrengthWord] = {}
    words = tuple(words)
    for word in (*(word for word in words if word.only_for and word.only_for == drink_class), *words):
        if word.only_for in ("", drink_class):
            by_group.setdefault(word.group, word)  # the place's own comes before its parent's
    found: list[Claim] = []
    for match, group in _grouped_phrases(text):
        rule = by_group.get(group)
        if rule:
            found.append(_claim(match, rule))
    return tuple(found)


@lru_cache(maxsize=8192)
def _grouped_phrases(text: str) -> tuple[tuple[re.Match[str], str], ...]:
    """Return each phrase of a text that may claim something, with what it claims."""
    return tuple((match, _group_of().get(_plain(match.group()), "")) for match in _phrases().finditer(text))


def _claim(match: re.Match[str], rule: StrengthWord) -> Claim:
    return Claim(
        phrase=match.group(),
        start=match.start(),
        end=match.end(),
        limit_percent=rule.limit_percent,
        operator=rule.operator,
        term=rule.group,
        allowed=rule.allowed,
        why=rule.why,
        source=rule.source,
    )


def _word(raw: Mapping[str, Any], common: Mapping[str, Any]) -> StrengthWord:
    allowed = raw.get("allowed", True)
    return StrengthWord(
        group=raw["group"],
        term=raw.get("term") or common["term"],
        allowed=allowed,
        operator=raw.get("operator", "="),
        limit_percent=float(raw["abv"]) if allowed else None,
        only_for=raw.get("only_for", ""),
        offered=raw.get("offered", allowed and not raw.get("only_for")),
        alcohol_free=common.get("alcohol_free", False),
        why=raw["why"],
        source=tuple(raw["source"]),
        how=raw["how"],
    )


def _within(operator: Operator, limit: float, abv_percent: float) -> bool:
    abv = round(abv_percent, 6)
    if operator == "<":
        return abv < limit
    if operator == "<=":
        return abv <= limit
    return abv == limit


_GAP = r"[\s\-\u2010-\u2015]*"


@cache
def _group_of() -> dict[str, str]:
    groups = load("strength_words.yaml")["groups"]
    return {_plain(phrase): group for group, entry in groups.items() for phrase in entry["phrases"]}


@cache
def _phrases() -> re.Pattern[str]:
    data = load("strength_words.yaml")
    every = [phrase for entry in data["groups"].values() for phrase in entry["phrases"]] + data["not_claims"]
    every.sort(key=len, reverse=True)
    either = "|".join(_GAP.join(re.escape(part) for part in re.split(r"[\s\-]+", phrase)) for phrase in every)
    # Neither inside a word, nor the end of a figure: "10 %" and "5.0 %" claim nothing.
    return re.compile(rf"(?<!\w)(?<!\d[.,])(?:{either})(?!\w)", re.IGNORECASE)


def _plain(phrase: str) -> str:
    return re.sub(_GAP, "", phrase.casefold())
