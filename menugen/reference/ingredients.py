"""What an ordinary bottle of a kind holds, for labels that do not say."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from menugen.reference.names import endings, head_name, plain_name
from menugen.reference.package_data import package_data

ALCOHOLIC_ABOVE_PERCENT = 1.2
"""A kind that is usually stronger than this must state its strength. Regulation (EU) No 1169/2011, Article
28(2): strength is declared above 1.2 % vol."""


class ReferenceValue(NamedTuple):
    """One value with what it rests on.

    Attributes:
        value: In the unit of its name.
        status: "verified", "secondary", "computed" or "from memory"; see the head of data/ingredients.yaml.
        source: The citation, in words.
    """

    value: float
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class ReferenceIngredient:
    """An ordinary bottle of its kind.

    Attributes:
        id: What stock names in `kind:`, "lemon_juice".
        kind: The class it belongs to: "spirit", "juice", "dairy" ...
        names: Other names it goes by.
        colour: "#rrggbb" of the liquid; our own choice.
        as_sold: What it is when its name says it was "bottled" or "concentrated": ids of other kinds.
        values: By name: abv_percent, sugar_g_per_l, acid_g_per_l, fat_g_per_l, density_g_per_ml; a value we
            know nothing of is missing.
    """

    id: str
    kind: str
    names: tuple[str, ...]
    colour: str
    as_sold: Mapping[str, str]
    values: Mapping[str, ReferenceValue]

    def _value(self, name: str) -> float | None:
        known = self.values.get(name)
        return None if known is None else known.value

    @property
    def abv_percent(self) -> float | None:
        """Usual strength. Never a drink's strength: it only tells that a label must state one."""
        return self._value("abv_percent")

    @property
    def sugar_g_per_l(self) -> float | None:
        """Grams of sugar in a litre; None where not known."""
        return self._value("sugar_g_per_l")

    @property
    def acid_g_per_l(self) -> float | None:
        """Grams of acid, counted as citric, in a litre; None where not known."""
        return self._value("acid_g_per_l")

    @property
    def fat_g_per_l(self) -> float | None:
        """Grams of fat in a litre; None where not known."""
        return self._value("fat_g_per_l")

    @property
    def density_g_per_ml(self) -> float | None:
        """Grams in a millilitre at about 20 C; None where not known."""
        return self._value("density_g_per_ml")

    @property
    def is_alcoholic(self) -> bool:
        """Whether a bottle of this kind must state a strength."""
        return (self.abv_percent or 0.0) > ALCOHOLIC_ABOVE_PERCENT

    @property
    def source(self) -> str:
        """Where the values come from, each with its status."""
        return "; ".join(
            f"{_LABELS[name]}: {known.source} ({known.status})"
            for name, known in self.values.items()
            if name != "abv_percent"
        )

    @property
    def status(self) -> str:
        """The weakest status among the values; "from memory" where there are none."""
        found = {known.status for name, known in self.values.items() if name != "abv_percent"}
        return next((status for status in STATUSES if status in found), STATUSES[0])


_MOST_OFFERED = 6
"""Kinds of a class that are offered to someone who named the class."""

_NAUGHT = re.compile(r"(?<![\d.,])0([.,]0+)?( ?%| abv| proof)|(?<![\d.,])0[.,]0+(?![\d.,])")
"""A strength of nothing in a name: "0 %", "0.0", "0,0 %", but not "0.5 %" or "10 %"."""

STATUSES = ("from memory", "secondary", "computed", "verified")
"""From the weakest to the surest."""

_LABELS = {
    "abv_percent": "strength",
    "sugar_g_per_l": "sugar",
    "acid_g_per_l": "acid",
    "fat_g_per_l": "fat",
    "density_g_per_ml": "density",
}


@lru_cache(maxsize=4096)
def ingredient(kind_or_name: str) -> ReferenceIngredient | None:
    """Return the reference kind a stock name stands for, or None where we know none.

    A name may be an id ("lemon_juice"), an everyday name ("sugar syrup"), or end in one ("harbour gin" is a
    gin): the last words of a name say what a thing is. A name that says it is without alcohol is never an
    alcoholic kind.
    """
    found = made_as(kind_or_name)
    whole = plain_name(kind_or_name)
    if found is not None and whole not in _by_name() and found.is_alcoholic and says_alcohol_free(whole):
        return None
    return found


@lru_cache(maxsize=4096)
def made_as(kind_or_name: str) -> ReferenceIngredient | None:
    """Return the reference kind that a name stands for, alcohol or none: "alcohol-free lager" is a lager."""
    by_name = _by_name()
    whole = plain_name(kind_or_name)
    if whole in by_name:
        return by_name[whole]
    head = head_name(kind_or_name)
    for ending in endings(head):
        if ending in by_name:
            return _as_sold(by_name[ending], whole)
    juice = made_as(bare) if (bare := _without_state(head)) != head else None
    return _as_sold(juice, whole) if juice is not None and juice.kind == "juice" else None


def _without_state(head: str) -> str:
    """Return a head name without what its end says was done to a juice: "pear juice from concentrate"."""
    padded = f" {_words_only(head)}"
    for words in package_data("ingredients")["states"].values():
        for word in sorted(words, key=len, reverse=True):
            if padded.endswith(f" {word}"):
                return _without_state(padded.removesuffix(f" {word}").strip())
    return head


def _as_sold(found: ReferenceIngredient, whole: str) -> ReferenceIngredient | None:
    """Return what a juice is that a name ends in: the fresh one, or what the rest of the name says was done to it.

    None where it is a concentrate that we know no values of: those of the juice would be far too low.
    """
    if found.kind != "juice":
        return found
    states = package_data("ingredients")["states"]
    said = {
        state
        for state, words in states.items()
        if any(f" {word} " in f" {_words_only(whole)} " for word in words)
    }
    by_id = {known.id: known for known in all_ingredients()}
    if "direct" in said:
        return found
    if "bottled" in said and ("fresh" not in said or "concentrated" in said):
        return by_id[found.as_sold.get("bottled", found.id)]
    if "concentrated" in said:
        return by_id[found.as_sold["concentrated"]] if "concentrated" in found.as_sold else None
    return found


def _words_only(plain: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", plain).split())


def is_kind(typed: str) -> bool:
    """Return whether a word may be used for a kind: a kind we know, or one of those without its alcohol."""
    return made_as(typed) is not None


def kind_names() -> tuple[str, ...]:
    """Return every id and everyday name of a kind, ids with spaces, for near misses."""
    return tuple(
        dict.fromkeys(name.replace("_", " ") for one in all_ingredients() for name in (one.id, *one.names))
    )


def kinds_of_class(typed: str) -> tuple[str, ...]:
    """Return the first kinds of a class, "spirit"; nothing where there is no such class."""
    word = plain_name(typed)
    return tuple(one.id.replace("_", " ") for one in all_ingredients() if plain_name(one.kind) == word)[
        :_MOST_OFFERED
    ]


@cache
def all_ingredients() -> tuple[ReferenceIngredient, ...]:
    """Return every kind, in the order of the data file."""
    return tuple(
        ReferenceIngredient(
            id=entry["id"],
            kind=entry["class"],
            names=tuple(entry.get("names", ())),
            colour=entry["colour"],
            as_sold=entry.get("as sold", {}),
            values={
                name: ReferenceValue(float(entry[name][0]), entry[name][1], entry[name][2])
                for name in _LABELS
                if name in entry
            },
        )
        for entry in package_data("ingredients")["ingredients"]
    )


@lru_cache(maxsize=4096)
def is_alcoholic_kind(name: str) -> bool:
    """Return whether a stock name plainly names something alcoholic: "harbour gin", "cherry liqueur".

    Not "ginger beer", "wine vinegar", "rum syrup" or "alcohol-free gin". In doubt the answer is yes, as a
    strength that is asked for in vain costs a line and one that is missed costs more.
    """
    whole = plain_name(name)
    if says_alcohol_free(whole):
        return False
    words = _words()
    for ending in endings(head_name(name)):
        if ending in words["not_alcoholic"]:
            return False
        if ending in words["alcoholic"] or ending.removesuffix("s") in words["alcoholic"]:
            return True
        known = _by_name().get(ending)
        if known is not None:
            return known.is_alcoholic
    return any(whole.startswith(f"{opening} ") for opening in words["begins"])


def says_alcohol_free(plain: str) -> bool:
    """Return whether a plain name says that there is no alcohol in the thing."""
    padded = f" {plain} "
    return _NAUGHT.search(plain) is not None or any(f" {sign} " in padded for sign in _words()["free"])


def holds_words(plain: str, group: str) -> bool:
    """Return whether any words of a plain name are of a group of data/alcoholic_words.yaml.

    A phrase that names something without alcohol is passed over: the "bitter" of "bitter lemon" is no bitter.
    """
    words, groups = plain.split(), _words()
    start = 0
    while start < len(words):
        phrases = [" ".join(words[start:end]) for end in range(len(words), start, -1)]
        soft = next((phrase for phrase in phrases if phrase in groups["not_alcoholic"]), "")
        if not soft and any(
            one in groups[group] or one.removesuffix("s") in groups[group] for one in phrases
        ):
            return True
        start += len(soft.split()) or 1
    return False


@cache
def _by_name() -> dict[str, ReferenceIngredient]:
    return {plain_name(name): known for known in all_ingredients() for name in (known.id, *known.names)}


@cache
def _words() -> dict[str, frozenset[str]]:
    return {
        group: frozenset(plain_name(str(word)) for word in words)
        for group, words in package_data("alcoholic_words").items()
    }
