"""The last check before a site goes out: does any private text stand in it?

The pages' type has no field for such text, so what this finds is a fault of ours, or words that a page says by itself:
a bar note may be called "Allergens", and a cost may be the price of a drink. Which of the two, whoever has asked finds
out by making the file again without the private texts: a file that comes out the same has none of them.
"""

import hashlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from html import unescape
from itertools import pairwise
from typing import NamedTuple

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|\w+")
_TAG = re.compile(r"<[^<>]*>")
_LETTERS, _DIGITS = (
    bytes(byte if byte < 128 and kept(chr(byte)) else 32 for byte in range(256))
    for kept in (str.isalpha, str.isdigit)
)
"""What is quickly found of words: wherever a text has a word, it has the runs of that word, which are the ASCII letters
that stand together in it. Those of a text without any are its digits: drawings are full of them."""

_TEXT = (".html", ".json", ".txt", ".svg", ".css", ".xml", ".webmanifest", ".js")

_ESCAPE = re.compile(r"\\(?:u[0-9a-fA-F]{4}|.)")
"""A character as JSON writes it where it may not stand as it is; none of them is part of a word."""

_STRETCH = 40_000
"""Characters that are searched at once: the more words, the more private texts seem to be among them."""

_OVERLAP = 10_000
"""Characters that are searched again with the next stretch, since a text may lie across the two."""

_SHORT_LINE, _SHORT_LINES = 400, 4096
_LONG_LINES = 64
"""Lines that are remembered, since the pages of a site share most of theirs. Of those that are longer than a short one
only the last few: the symbols of a page come back, and no two drawings are alike."""

_MANY = 25
"""Texts from which on it pays to cut a stretch into its runs, instead of looking through it for each."""

_IN_A_ROW = 3


class Found(NamedTuple):
    """A private text that stands in a file.

    Attributes:
        path: The file.
        text: As the user wrote it.
    """

    path: str
    text: str


class _Secret(NamedTuple):
    """A private text, in its place among the others.

    Attributes:
        order: Its place.
        text: As the user wrote it.
        phrase: Its words as they are looked for.
        runs: Each once; empty where it has neither ASCII letter nor digit.
        row: Three of them that follow one another, or as many as it has.
        letters: The path of a file is looked for letter by letter, and not within another: "/bar" is no word of a page.
    """

    order: int
    text: str
    phrase: str
    runs: frozenset[bytes]
    row: bytes
    letters: re.Pattern[str] | None

    def stands_in(self, plain: str, words: str) -> bool:
        return self.phrase in words if self.letters is None else self.letters.search(plain) is not None


class LeakCheck:
    """Looks for private texts in one file after another.

    Attributes:
        found: In order of files, then secrets.
    """

    def __init__(self, secrets: Iterable[str], paths: Iterable[str] = ()) -> None:
        """Take the private texts, as the user wrote them; those without a word are passed over.

        Args:
            secrets: TidyResult for word by word.
            paths: Of folders and files, from the top of the disk.
        """
        self.found: list[Found] = []
        self._digests: dict[str, bytes] = {}
        self._looked_for = (tuple(secrets), tuple(paths))
        secrets, paths = self._looked_for
        letters = {
            path: re.compile(rf"(?:(?<![\w./\\])|(?<=file://)){re.escape(path)}(?!\w)") for path in paths
        }
        runs = {text: _cut(text, _LETTERS) or _cut(text, _DIGITS) for text in (*secrets, *letters)}
        common = Counter(run for every in runs.values() for run in every)
        # By the run of each that is least likely to stand on a page by chance; empty where it has none.
        self._by_run: dict[bytes, list[_Secret]] = {}
        for order, (text, own) in enumerate(runs.items()):
            words = _WORD.findall(text)
            if not words:
                continue
            rarest = min(own, key=lambda run: (common[run], -len(run), run), default=b"")
            row = min(_rows(own), key=lambda row: (sum(common[run] for run in row), row))
            phrase = f" {' '.join(words)} "
            secret = _Secret(order, text, phrase, frozenset(own), _apart(row), letters.get(text))
            self._by_run.setdefault(rarest, []).append(secret)
        self._known = frozenset(common)
        self._kinds = (_LETTERS, _DIGITS) if any(run.isdigit() for run in common) else (_LETTERS,)
        self._of_short_line = lru_cache(_SHORT_LINES)(self._of_line)
        self._of_long_line = lru_cache(_LONG_LINES)(self._of_line)

    def text(self, path: str, pieces: Iterable[str]) -> Iterator[str]:
        """Yield the pieces of a text on, looking at each."""
        if not path.endswith(_TEXT):
            yield from pieces
            return
        found: dict[int, str] = {}
        content = hashlib.sha256()
        before = ""
        for piece in pieces:
            content.update(piece.encode("utf-8", "surrogatepass"))
            for stretch in _stretches(before + piece):
                for secret in self._found(stretch):
                    found[secret.order] = secret.text
            before = piece[_between_words(piece, len(piece) - _OVERLAP) :]
            yield piece
        if found:
            self.found += [Found(path, found[order]) for order in sorted(found)]
            self._digests[path] = content.digest()

    def anew(self) -> "LeakCheck":
        """Return a check for the same texts that has looked at nothing."""
        return LeakCheck(*self._looked_for)

    def only_here(self, other: "LeakCheck") -> tuple[Found, ...]:
        """Return what was found here because somebody wrote it.

        Args:
            other: A check of the same files as they are if nobody has written a private text. What is in one of them,
                too, is the page's own, as long as the file is the same in both.
        """
        new = [one for one in self.found if one not in set(other.found)]
        changed = [one for one in self.found if self._digests[one.path] != other._digests.get(one.path)]
        return tuple(new or changed)

    def _found(self, text: str) -> list[_Secret]:
        """Return those that stand in a stretch, some of them perhaps twice.

        Of few are all runs on a page: only where there are such is the page read word by word.
        """
        lines = {*text.split("\n")}
        long = {line for line in lines if len(line) > _SHORT_LINE}
        runs = {b""}.union(*map(self._of_short_line, lines - long), *map(self._of_long_line, long))
        suspects = [
            one for run in self._by_run.keys() & runs for one in self._by_run[run] if one.runs <= runs
        ]
        if not suspects:
            return []
        written = (text, _ESCAPE.sub(" ", text)) if "\\" in text else (text,)
        return [secret for one in written for secret in _standing_in(unescape(one), suspects)]

    def _of_line(self, line: str) -> frozenset[bytes]:
        """Return the runs of a line that are runs of private texts as well."""
        written = (line, _ESCAPE.sub(" ", line)) if "\\" in line else (line,)
        return self._known.intersection(
            [run for one in written for kept in self._kinds for run in _cut(one, kept)]
        )


def _standing_in(shown: str, suspects: list[_Secret]) -> Iterator[_Secret]:
    for plain in (shown, _TAG.sub(" ", shown)):
        likely = _with_a_row(suspects, plain)
        words = f" {' '.join(_WORD.findall(plain))} " if likely else ""
        yield from (secret for secret in likely if secret.stands_in(plain, words))


def _with_a_row(suspects: list[_Secret], plain: str) -> list[_Secret]:
    """Return those of which a few runs stand there in a row: hardly any do by chance, however many texts there are."""
    letters, digits = _cut(plain, _LETTERS), _cut(plain, _DIGITS)
    if len(suspects) < _MANY:
        text = _apart(letters) + _apart(digits)
        return [secret for secret in suspects if secret.row in text]
    rows = {
        _apart(row)
        for runs in (letters, digits)
        for length in range(_IN_A_ROW + 1)
        for row in _rows(runs, length)
    }
    return [secret for secret in suspects if secret.row in rows]


def not_public(secrets: Iterable[str], public: Iterable[str]) -> frozenset[str]:
    """Return those private texts that are no part of any public one, letter by letter.

    A bar has a note or two for each drink: to look for each in every other's texts would take a night for a large one.

    Args:
        secrets: Not empty.
        public: Texts that the user has written for guests.
    """
    texts = [text for text in public if text]
    words: set[str] = set()
    for text in texts:
        words.update(text.split())
    vocabulary = "\n".join(("", *words, ""))
    told: set[str] = set()
    by_pair: dict[tuple[str, ...], list[str]] = {}
    private = set(secrets)
    for secret in private:
        parts = secret.split()
        # Between its first and its last word, which may be cut, a text has whole words.
        pairs: list[tuple[str, ...]] = [*pairwise(parts[1:-1])] or [tuple(parts[1:-1])]
        if not all(word in words for pair in pairs for word in pair):
            continue
        if pairs[0]:
            longest = max(pairs, key=lambda pair: sum(map(len, pair)))
            by_pair.setdefault(longest, []).append(secret)
        elif _may_hold(vocabulary, parts) and any(secret in text for text in texts):
            told.add(secret)
    for text in texts:
        parts = text.split()
        for pair in by_pair.keys() & {*pairwise(parts), *zip(parts, strict=True)}:
            told.update(secret for secret in by_pair[pair] if secret in text)
    return frozenset(private - told)


def _may_hold(vocabulary: str, parts: list[str]) -> bool:
    """Return whether words, one a line, are there that end as the first of two parts and begin as the last."""
    if len(parts) == 2:
        return f"{parts[0]}\n" in vocabulary and f"\n{parts[1]}" in vocabulary
    return not parts or parts[0] in vocabulary


def _stretches(text: str) -> Iterator[str]:
    """Yield a text in stretches that overlap: the words of a long one, each alone, would fill the memory."""
    start = 0
    while len(text) - start > 2 * _STRETCH:
        end = _between_words(text, start + _STRETCH)
        again = _between_words(text, end - _OVERLAP)
        if again <= start:
            # One word as long as a piece: no menu has it.
            break
        yield text[start:end]
        start = again
    yield text[start:]


def _between_words(text: str, near: int) -> int:
    """Return a place in a text before this one where no word is cut, as half a word would be another word."""
    return max(text.rfind(gap, 0, near) for gap in " \n") + 1 if near > 0 else 0


def _cut(text: str, kept: bytes) -> list[bytes]:
    return text.encode("utf-8", "surrogatepass").translate(kept).split()


def _rows(runs: Sequence[bytes], length: int = _IN_A_ROW) -> Iterator[Sequence[bytes]]:
    """Yield each row of so many runs that follow one another; all of them where there are no more."""
    length = min(length, len(runs))
    return zip(*(runs[start:] for start in range(length)), strict=False) if length else iter(((),))


def _apart(runs: Sequence[bytes]) -> bytes:
    return b" %b " % b" ".join(runs) if runs else b""
