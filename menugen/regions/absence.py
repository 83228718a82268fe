"""Phrases that promise that an allergen is not there, which no label and no shaker can keep.

A text is made plain first: small letters, accents in one piece, no Arabic vowel signs, one character between two words.
Then, language by language, the words that can be promised away are marked by a sign of their own. Both keep the
patterns of the phrases short, which take longer to make than most texts to search.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import Any, Literal, NamedTuple

from menugen.regions.data_files import load

_WORD, _WHO = "\ue000", "\ue001"
"""What stands for an allergen, and for guests a drink may be fit for, in a marked text: no keyboard has them."""

_SPACING = re.compile(r"(?:[\s\-\u2010-\u2015*_]|&nbsp;|&#160;)+")
"""What lies between two words on a page, where notes are Markdown."""
_GAP = r"[ \n-]"
"""The same in a plain text: one character."""

_BEGINS = r"(?:(?<![^\W_])|(?=n't))"
_ENDS = r"(?![^\W_])"
_SIGN = re.compile(r"\{(\w+)\}|\[([^]]+)\]|(-\?)|(\s+)")
_TOKEN = re.compile(r"[^\W_]+")
_JOINS = re.compile(rf"{_GAP}|'")
_UNEVEN = re.compile(r"[^\S \n]|[\u2010-\u2015*_]|[ \n-]{2}|&(?:nbsp|#160);")
_CLAUSE_ENDS = re.compile(r"[.!?;:,\n]")
_SIGNS_OVER_LETTERS = re.compile("[\u0300-\u036f\u0640\u064b-\u0652\u2019]")

Mark = Literal["word", "who", "other"]


class AbsencePromise(NamedTuple):
    """A phrase that calls something free of an allergen.

    Attributes:
        phrase: As the user typed it.
        start: Where it begins in the text, counted from 0.
        end: One past its last character.
    """

    phrase: str
    start: int
    end: int


class _Plain(NamedTuple):
    """A text for comparison, and where each of its characters was; one more at the end."""

    text: str
    at: Sequence[int]


@lru_cache(maxsize=8192)
def absence_promises(text: str) -> tuple[AbsencePromise, ...]:
    """Return the phrases of a text, in any language known here, that call it free of an allergen."""
    plain = _evenly_spaced(_plain(text))
    small = _Plain(_small(plain.text), plain.at)
    heard = frozenset(_TOKEN.findall(small.text))
    found = [
        phrase
        for code, vocabulary in _vocabularies().items()
        if not heard.isdisjoint(vocabulary)
        for phrase in _found(code, plain, small)
    ]
    nothing = [phrase for phrase in found if not phrase.promises]
    promises: list[AbsencePromise] = []
    for start, end, _ in sorted(
        set(found).difference(nothing), key=lambda phrase: (phrase.start, -phrase.end)
    ):
        # What promises nothing in one language may hold words that promise something in another.
        within = any(phrase.start <= start and end <= phrase.end for phrase in nothing)
        if not within and (not promises or start >= promises[-1].end):
            promises.append(AbsencePromise(text[start:end], start, end))
    return tuple(promises)


def _plain(text: str) -> _Plain:
    if _SIGNS_OVER_LETTERS.search(text) is None:
        return _Plain(text, range(len(text) + 1))
    letters: list[str] = []
    at: list[int] = []
    for place, letter in enumerate(text):
        if "\u0640" <= letter <= "\u0652" and _SIGNS_OVER_LETTERS.match(letter):
            continue
        if letters and unicodedata.combining(letter):
            whole = unicodedata.normalize("NFC", letters[-1] + letter)
            if len(whole) == 1:
                letters[-1] = whole
                continue
        letters.append("'" if letter == "\u2019" else letter)
        at.append(place)
    return _Plain("".join(letters), (*at, len(text)))


def _evenly_spaced(plain: _Plain) -> _Plain:
    """Return a text with one character between two words: a line feed where a line ends, a lone hyphen, or a space."""
    text, at = plain
    if _UNEVEN.search(text) is None:
        return plain
    parts: list[str] = []
    places: list[int] = []
    done = 0
    for found in _SPACING.finditer(text):
        start, end = found.span()
        spacing = found.group()
        parts += [text[done:start], "\n" if "\n" in spacing else "-" if spacing == "-" else " "]
        places += at[done : start + 1]
        done = end
    return _Plain("".join((*parts, text[done:])), (*places, *at[done:]))


def _small(text: str) -> str:
    small = text.lower()
    return (
        small
        if len(small) == len(text)
        else "".join(one if len(one.lower()) > 1 else one.lower() for one in text)
    )


@dataclass(frozen=True, slots=True)
class _Language:
    """How one language promises. In each pattern the group "promise" is one; a match without it promises nothing.

    Attributes:
        marks: By its first word, each row of words that is marked, the longest first.
        prefixes: What may be written on to such a row.
        joiner: The letter among them that joins a word to others: "and" in Arabic.
        written: What is looked for in the text as it is.
        exact: The same, for phrases whose capitals matter.
    """

    marks: Mapping[str, tuple[tuple[tuple[str, ...], Mark], ...]]
    prefixes: tuple[str, ...]
    joiner: str
    written: re.Pattern[str]
    exact: re.Pattern[str]


class _Phrase(NamedTuple):
    """A phrase of the user's own text, and whether it promises something."""

    start: int
    end: int
    promises: bool


def _found(code: str, plain: _Plain, small: _Plain) -> Iterator[_Phrase]:
    """Yield what a language finds in a text: its promises, and what only looks like one."""
    language = _language(code)
    searched = [(language.written, small), (language.exact, plain)]
    marked = _marked(language, small)
    if _WORD in marked.text or _WHO in marked.text:
        searched.insert(0, (_marked_phrases(code), marked))
    for pattern, where in searched:
        for found in pattern.finditer(where.text):
            end = where.at[found.end()]
            if where.text[found.end() - 1] in (_WORD, _WHO):
                end = _end_of_mark(where, found.end() - 1, small)
            start = found.start()
            promises = found["promise"] is not None and not _is_denied(where.text, start)
            while start and where.text[start - 1].isalpha():
                start -= 1  # "n't" is quoted with its verb
            yield _Phrase(where.at[start], end, promises)


def _end_of_mark(where: _Plain, mark: int, small: _Plain) -> int:
    """Return the end, in the user's text, of what a mark stands for: gaps behind it are not part of it."""
    start, end = where.at[mark], where.at[mark + 1]
    tokens = [
        token.end()
        for token in _TOKEN.finditer(small.text)
        if start <= small.at[token.start()] and small.at[token.end() - 1] < end
    ]
    return small.at[tokens[-1] - 1] + 1 if tokens else end


def _is_denied(text: str, start: int) -> bool:
    """Return whether words before a promise, in its own clause, take it back."""
    denial, but = _denials()
    clause = max((end.end() for end in _CLAUSE_ENDS.finditer(text, 0, start)), default=0)
    denials = list(denial.finditer(text, clause, start))
    return bool(denials) and but.search(text, denials[-1].end(), start) is None


@cache
def _denials() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Return what takes back a promise behind it, and what begins a new thought, in any language."""
    entries = load("absence_words.yaml")["languages"].values()
    denial, but = ([say for entry in entries for say in entry[key]] for key in ("denials", "but"))
    return _phrases(denial), _phrases(but)


def _marked(language: _Language, small: _Plain) -> _Plain:
    """Return a text in which a mark stands for each allergen, and for guests a drink may be fit for."""
    text, at = small
    tokens = list(_TOKEN.finditer(text))
    parts: list[str] = []
    places: list[int] = []
    done = number = 0
    while number < len(tokens):
        mark, count, joined = _mark(language, text, tokens, number)
        start, end = tokens[number].start(), tokens[number + count - 1].end()
        number += count
        if mark != "other":
            start += joined
            parts += [text[done:start], _WORD if mark == "word" else _WHO]
            places += [*at[done:start], at[start]]
            done = end
    return _Plain("".join((*parts, text[done:])), (*places, *at[done:]))


def _mark(language: _Language, text: str, tokens: list[re.Match[str]], number: int) -> tuple[Mark, int, int]:
    """Return what the words from here on are, how many they are, and how many letters join them to others."""
    first = tokens[number].group()
    for prefix in ("", *language.prefixes):
        begins = first.removeprefix(prefix)
        for row, mark in language.marks.get(begins, ()) if first.startswith(prefix) else ():
            here = tokens[number : number + len(row)]
            words = [begins, *(token.group() for token in here[1:])]
            if words == list(row) and all(
                _JOINS.fullmatch(text, a.end(), b.start()) for a, b in pairwise(here)
            ):
                return mark, len(row), 1 if prefix.startswith(language.joiner) and prefix else 0
    return "other", 1, 0


@cache
def _vocabularies() -> Mapping[str, frozenset[str]]:
    """Return, by language, words of which a text holds one wherever it promises something."""
    return {code: _vocabulary(entry) for code, entry in load("absence_words.yaml")["languages"].items()}


def _vocabulary(entry: Mapping[str, Any]) -> frozenset[str]:
    # Of several words the longest says most: "a nut allergy" is not looked for by its "a".
    found = {max(_row(words), key=len) for words in (*entry["words"], *entry["who"])}
    found = {prefix + word for prefix in ("", *entry.get("prefixes", ())) for word in found}
    for form in entry["forms"]:
        say = form["say"]
        written = _TOKEN.findall(say.partition("}")[2] if "{stem}" in say else say)
        if "{stem}" in say:
            found |= {stem + ending for stem in entry["stems"] for ending in ("", *written)}
        elif "{" not in say:
            found |= {one + other for one in written for other in ("", *written)}
    return frozenset(word.lower() for word in found)


@cache
def _language(code: str) -> _Language:
    """Return one language; made when a text first holds a word of it."""
    entry = load("absence_words.yaml")["languages"][code]
    marks: dict[str, list[tuple[tuple[str, ...], Mark]]] = {}
    kinds: tuple[tuple[str, Mark], ...] = (("not_words", "other"), ("who", "who"), ("words", "word"))
    for key, mark in kinds:
        for words in entry[key]:
            row = _row(words)
            marks.setdefault(row[0], []).append((row, mark))
    return _Language(
        marks={first: tuple(sorted(rows, key=lambda row: -len(row[0]))) for first, rows in marks.items()},
        prefixes=tuple(entry.get("prefixes", ())),
        joiner=next(
            (word for word in entry["or"] if len(word) == 1 and word in entry.get("prefixes", ())), ""
        ),
        written=_promises(entry, marked=False),
        exact=_promise((), (form["say"] for form in entry["forms"] if form.get("exact")), {}),
    )


@cache
def _marked_phrases(code: str) -> re.Pattern[str]:
    """Return what is looked for in a marked text; made when a text first has a mark."""
    return _promises(load("absence_words.yaml")["languages"][code], marked=True)


def _promises(entry: Mapping[str, Any], *, marked: bool) -> re.Pattern[str]:
    forms = (form["say"] for form in entry["forms"] if not form.get("exact"))
    nothing = entry["promises_nothing"]
    return _promise(
        (say for say in nothing if _has_marks(say) is marked),
        (say for say in forms if _has_marks(say) is marked),
        _signs(entry),
    )


def _row(words: str) -> tuple[str, ...]:
    return tuple(_TOKEN.findall(_plain(words).text.lower()))


def _has_marks(say: str) -> bool:
    return "{" in say and "{stem}" not in say


def _signs(entry: Mapping[str, Any]) -> Mapping[str, str]:
    """Return the pattern of each name in braces."""
    between = "".join(f"(?:{_one_of(entry['between'])}(?:{_GAP}|(?<=')))*")
    item = rf"(?:[^\W_]+|{_WORD})(?:{_GAP}[^\W_]+)?"
    # Where prefixes are written on to a word, so is what joins it to others.
    joined = rf",?{_GAP}{_one_of(entry['or'])}{_GAP}{'?' if entry.get('prefixes') else ''}"
    listed = f"(?:(?:{item}(?:,{_GAP}|{joined})){{0,3}}{item}{joined})?"
    return {
        "word": _WORD,
        "any": f"{between}{listed}{between}{_WORD}",
        "stem": _one_of(entry["stems"]) or r"(?!)",
        "who": _WHO,
    }


def _promise(nothing: Iterable[str], forms: Iterable[str], signs: Mapping[str, str]) -> re.Pattern[str]:
    """Return the pattern of some forms of promising, and of phrases that hold one and promise nothing."""
    either, passed = _any_of(forms, signs), _any_of(nothing, signs)
    return re.compile(f"{_BEGINS}(?:(?:{passed}){_ENDS}|(?P<promise>{either}){_ENDS})")


def _any_of(says: Iterable[str], signs: Mapping[str, str]) -> str:
    """Return the pattern of any of some phrases. Those that end in {any} share its pattern, which is long."""
    begun: list[str] = []
    whole: list[str] = []
    for say in says:
        (begun if say.endswith("{any}") else whole).append(_pattern(say.removesuffix("{any}"), signs))
    shared = [f"(?:{'|'.join(begun)}){signs['any']}"] if begun else []
    return "|".join((*shared, *whole)) or r"(?!)"


def _phrases(says: Iterable[str]) -> re.Pattern[str]:
    return re.compile(f"{_BEGINS}(?:{'|'.join(_pattern(say, {}) for say in says)}){_ENDS}")


def _pattern(say: str, signs: Mapping[str, str]) -> str:
    """Return the pattern of one phrase of the data."""
    say = _plain(say).text
    parts, at = [], 0
    for sign in _SIGN.finditer(say):
        parts.append(re.escape(say[at : sign.start()]))
        name, either, hyphen, _ = sign.groups()
        if name:
            parts.append(signs[name])
        elif either:
            parts.append(f"(?:{'|'.join(_pattern(one, signs) for one in either.split('|'))})")
        else:
            parts.append(f"{_GAP}?" if hyphen else _GAP)
        at = sign.end()
    return "".join(parts) + re.escape(say[at:])


def _one_of(words: Iterable[str]) -> str:
    longest_first = sorted({_plain(word).text for word in words}, key=lambda word: (-len(word), word))
    either = "|".join(_GAP.join(map(re.escape, re.split(r"[\s\-]+", word))) for word in longest_first)
    return f"(?:{either})" if either else ""
