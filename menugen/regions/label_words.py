"""What the words of ingredient lists mean: substances, a question, or a thing that no law lists."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import product
from typing import Any

from menugen.regions.data_files import load

UNLISTED = "unlisted"
"""What stands in brackets behind a word that no law lists and menugen does not know: "fairy fruit (unlisted)"."""

_SURE = ("always", "usual")
_BRACKETS = re.compile(r"^(?P<outer>[^()\[\]]+?)\s*[(\[](?P<inner>.+)[)\]]\s*$")
_COLON = re.compile(r"^(?P<outer>[^:()]+?)\s*:\s*(?P<inner>.+)$")
_INNER_BREAKS = re.compile(r"[,;/]")
_LEFT_OUT = re.compile(r"\d+(?:[.,]\d+)?\s*%|[*\u00b0\u00b9\u00b2\u00b3\u2020\u2021.]+$|\*")
_BREAKS = re.compile(r"[\s_\-\u2010-\u2015()\[\]]+")
_ADDITIVE = re.compile(r"(?:e|ins|no)? ?(?P<number>\d{3,4})(?P<letter>[a-f]?)")
_LETTERS = str.maketrans({"ł": "l", "ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ı": "i", "’": "'", "‘": "'"})
_SPELLED_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})
_SHORTEST_PLURAL = 4
"""Letters a word has at the least to be read as an English plural."""
_PLURALS_WITH_S = ("en", "fr", "es", "pt")


@dataclass(frozen=True, slots=True)
class LabelWord:
    """What one word of a label stands for.

    Attributes:
        said: As typed, to be shown where no law lists it.
        substances: Ids it surely brings; empty where it brings none that is known here.
        asks: Ids it may bring: the label has to be read again for them. They are a question and never an answer.
        must_name: Whether it says nothing by itself: "nuts", "may contain". Then one of `asks` has to be named.
        or_another: Whether it may as well be something no law lists: "starch".
        why: What makes it unclear, in a phrase; may be empty.
        thing: What a regime may exempt, by its name in regimes.yaml; empty for most.
    """

    said: str
    substances: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    must_name: bool = False
    or_another: bool = False
    why: str = ""
    thing: str = ""

    @property
    def is_clear(self) -> bool:
        """Whether it asks nothing."""
        return not self.asks and not self.must_name


@lru_cache(maxsize=4096)
def label_word(word: str) -> LabelWord | None:
    """Return what a word of a label means; None where it is not known.

    Capitals, accents, hyphens, an English plural, a percentage and an asterisk make no difference. What stands in
    brackets is read as well and answers for what stands before it: "lecithin (soya)", "nuts (almonds)".
    """
    said = " ".join(word.split())
    if found := _whole(said):
        return replace(found, said=said)
    found = _in_parts(said) or _without_qualifiers(said)
    return replace(found, said=found.said if found.said else said) if found else None


@cache
def substance_words(language: str = "") -> tuple[str, ...]:
    """Return the words that `label_word` knows as their files have them, sorted; to look for near misses in.

    Args:
        language: Of the words; empty for every language.
    """
    return tuple(sorted({word for word, spoken, _ in _entries() if language in ("", spoken)}))


def _whole(said: str) -> LabelWord | None:
    plain = _plain(_LEFT_OUT.sub(" ", said))
    for candidate in (plain, _plain(said)):
        if not candidate:
            continue
        if found := _additive(candidate) or _found(candidate):
            return found
        for opening in _openings():
            if candidate.startswith(f"{opening} ") and (found := _whole(candidate[len(opening) + 1 :])):
                return found
    return None


def _found(plain: str) -> LabelWord | None:
    forms = [plain, *_singulars(plain)]
    if known := next((_plain_names()[form] for form in forms if form in _plain_names()), None):
        return known
    exact, loose = _tables()
    for table in (exact, loose):
        for form in (*forms, *(form.replace(" ", "") for form in forms)):
            if form in table:
                return table[form]
    return None


def _additive(plain: str) -> LabelWord | None:
    match = _ADDITIVE.fullmatch(plain)
    return _additives().get(f"e{match['number']}{match['letter']}") if match else None


def _in_parts(said: str) -> LabelWord | None:
    """Return what a phrase with something in brackets, or behind a colon, means; None where a part is not known."""
    match = _BRACKETS.match(said) or _COLON.match(said)
    if match is None:
        return None
    outer, inner = label_word(match["outer"]), [part.strip() for part in _INNER_BREAKS.split(match["inner"])]
    if [_plain(part) for part in inner] == [UNLISTED]:
        return replace(outer or LabelWord(""), said=match["outer"])
    parts = [label_word(part) for part in inner if part]
    known = [part for part in parts if part is not None]
    if outer is None or len(known) < len(parts) or not known:
        return None
    return _together(outer, known)


def _together(outer: LabelWord, inner: list[LabelWord]) -> LabelWord:
    """Return a thing with what its brackets say of it: clear words there answer what the thing itself asks."""
    sure = dict.fromkeys((*outer.substances, *(one for part in inner for one in part.substances)))
    # "wheat (gluten)": what the brackets ask is answered by the thing before them.
    open_ones = [part for part in inner if not part.is_clear and sure.keys().isdisjoint(part.asks)]
    answered = any(part.is_clear for part in inner)
    asking = [*open_ones, *(() if answered or outer.is_clear else (outer,))]
    if not outer.is_clear and outer.must_name and not sure.keys().isdisjoint(outer.asks):
        asking = open_ones
    asks = dict.fromkeys(one for part in asking for one in part.asks if one not in sure)
    return LabelWord(
        said="",
        substances=tuple(sure),
        asks=tuple(asks),
        must_name=any(part.must_name for part in asking) and not sure,
        or_another=any(part.or_another for part in asking),
        why=next((part.why for part in asking if part.why), ""),
        thing=outer.thing if not any(part.substances for part in inner) else "",
    )


def _without_qualifiers(said: str) -> LabelWord | None:
    """Return what is meant by a phrase whose whole is not known, less the words that leave a thing what it is."""
    words = _plain(_LEFT_OUT.sub(" ", said)).split()
    while words:
        length = next((n for n in (3, 2, 1) if len(words) > n and " ".join(words[:n]) in _qualifiers()), 0)
        if length:
            words = words[length:]
        else:
            length = next(
                (n for n in (3, 2, 1) if len(words) > n and " ".join(words[-n:]) in _qualifiers()), 0
            )
            if not length:
                return None
            words = words[:-length]
        if found := _found(" ".join(words)):
            return replace(found, said="", thing="")
    return None


def _plain(word: str) -> str:
    """Return the word in small letters without accents, hyphens and runs of space as one space."""
    bare = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", word.casefold().translate(_LETTERS))
        if not unicodedata.combining(letter)
    )
    return _BREAKS.sub(" ", bare).strip(" .,;*")


def _spellings(word: str, language: str) -> Iterator[str]:
    """Yield how a word of the data may be written: with its accents or without, in German with "ae" as well."""
    yield _plain(word)
    if language == "de":
        yield _plain(unicodedata.normalize("NFC", word.casefold()).translate(_SPELLED_OUT))


def _singulars(plain: str) -> tuple[str, ...]:
    """Return what a phrase is when words of it that may be plurals are read as singulars."""
    choices = [(word, *_singular(word)) for word in plain.split()]
    if len(choices) > 5 or all(len(one) == 1 for one in choices):
        return ()
    return tuple(" ".join(words) for words in product(*choices))[1:]


def _singular(word: str) -> tuple[str, ...]:
    if len(word) < _SHORTEST_PLURAL or not word.endswith("s") or word.endswith("ss"):
        return ()
    if word.endswith("ies"):
        return (f"{word[:-3]}y", word[:-1])
    if word.endswith("es"):
        return (word[:-1], word[:-2])
    return (word[:-1],)


_Entry = tuple[str, str, LabelWord]
"""A word of the data, its language, and what it means."""


@cache
def _entries() -> tuple[_Entry, ...]:
    """Return every word, those that name one substance first."""
    found: list[_Entry] = [(word, "en", LabelWord("", (key,))) for key, word in _english_names()]
    data = load("label_words.yaml")
    for key, by_language in load("substance_names.yaml")["names"]["of"].items():
        meaning = LabelWord("", (key,))
        found += ((word, language, meaning) for language, words in by_language.items() for word in words)
    for row in data["words"]:
        found += _of_row(row, _meaning(row))
    for row in data["asked"]:
        asks = tuple(row["choices"])
        meaning = LabelWord(
            "", asks=asks, must_name=True, or_another=row.get("or_another", False), why=row["why"]
        )
        found += _of_row(row, meaning)
    for row in data["unlisted"]:
        found += _of_row(row, LabelWord(""))
    return tuple(found)


def _of_row(row: Mapping[str, Any], meaning: LabelWord) -> Iterator[_Entry]:
    for language in load("label_words.yaml")["openings"]:
        yield from ((word, language, meaning) for word in row.get(language, ()))


def _meaning(row: Mapping[str, Any]) -> LabelWord:
    return LabelWord(
        "",
        substances=tuple(one for one, sure in row["is"].items() if sure in _SURE),
        asks=tuple(one for one, sure in row["is"].items() if sure not in _SURE),
        must_name=bool(row["is"]) and not any(sure in _SURE for sure in row["is"].values()),
        or_another=True,
        why=row.get("note", "") or row.get("names", ""),
        thing=row.get("thing", ""),
    )


def _english_names() -> Iterator[tuple[str, str]]:
    """Yield (id, word) for every English name of a substance; an id that labels print as a word that asks is none."""
    for key, entry in load("substances.yaml")["substances"].items():
        ids = () if entry.get("id_asks") else (key,)
        for word in (*ids, entry["word"], entry["word"].removesuffix(" (gluten)"), *entry["also"]):
            yield key, word


@cache
def _plain_names() -> Mapping[str, LabelWord]:
    """Return what English names of substances mean: most labels need no other words, and reading those takes time."""
    return {_plain(word): LabelWord("", (key,)) for key, word in _english_names()}


@cache
def _tables() -> tuple[Mapping[str, LabelWord], Mapping[str, LabelWord]]:
    """Return the words as they stand in the data, and what plurals among them are in the singular."""
    exact: dict[str, LabelWord] = {}
    loose: dict[str, LabelWord] = {}
    names: set[tuple[str, str]] = set()
    for word, language, meaning in _entries():
        for form in _spellings(word, language):
            for written in dict.fromkeys((form, form.replace(" ", ""))):
                if (written, language) in names and not _is_name(meaning):
                    continue  # A substance's own name is what it is called, whatever else its language says with it.
                known = exact.get(written)
                exact[written] = meaning if known is None or known == meaning else _merged(known, meaning)
                if _is_name(meaning):
                    names.add((written, language))
            if language in _PLURALS_WITH_S:
                for singular in _singulars(form):
                    loose.setdefault(singular, meaning)
    return exact, loose


def _is_name(meaning: LabelWord) -> bool:
    return meaning == LabelWord("", meaning.substances[:1])


def _merged(one: LabelWord, other: LabelWord) -> LabelWord:
    """Return what a word means that two languages mean differently: what both are sure of; the rest is a question."""
    sure = tuple(item for item in one.substances if item in other.substances)
    every = (*one.substances, *one.asks, *other.substances, *other.asks)
    asks = tuple(item for item in dict.fromkeys(every) if item not in sure)
    return LabelWord(
        "",
        sure,
        asks,
        must_name=not sure and bool(asks),
        or_another=one.or_another or other.or_another,
        why=one.why or other.why,
    )


@cache
def _additives() -> Mapping[str, LabelWord]:
    return {
        number.casefold(): _meaning(row)
        for row in load("label_words.yaml")["additives"]
        for number in row["e"]
    }


@cache
def _openings() -> tuple[str, ...]:
    return tuple(_each(load("label_words.yaml")["openings"].values()))


@cache
def _qualifiers() -> frozenset[str]:
    return frozenset(_each(load("label_words.yaml")["qualifiers"].values()))


def _each(lists: Iterable[Iterable[str]]) -> Iterator[str]:
    return (_plain(word) for words in lists for word in words)
