"""The last check before a site goes out: does any private text stand in it?

The pages' type has no field for such text, so what this finds is a fault of ours, or words that a page says by itself:
a bar note may be called "Allergens", and a cost may be the price of a drink. Which of the two, whoever has asked finds
out by making the file again without the private texts: a file that comes out the same has none of them.
"""

import hashlib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from html import unescape
from itertools import pairwise
from typing import NamedTuple

from menugen.writing.pieces import in_pieces

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|\w+")
_TAG = re.compile(r"<[^<>]*>")
_ONLY_ASCII_WORDS = bytes(byte if chr(byte).isalnum() and byte < 128 else 32 for byte in range(256))
_TEXT = (".html", ".json", ".txt", ".svg", ".css", ".xml", ".webmanifest", ".js")

_ESCAPE = re.compile(r"\\(?:u[0-9a-fA-F]{4}|.)")
"""A character as JSON writes it where it may not stand as it is; none of them is part of a word."""

_STRETCH = 40_000
"""Characters that are searched at once: the more words, the more private texts seem to be among them."""

_OVERLAP = 10_000
"""Characters that are searched again with the next stretch, since a text may lie across the two."""

_IN_A_ROW = 3

_FEW = 300
"""Private texts that are compared with a page one by one sooner than the page is read more slowly for all of them."""

_Runs = tuple[bytes, ...]
"""ASCII letters and digits as they stand together, in order: what is quickly told of a text."""


class Found(NamedTuple):
    """A private text that stands in a file.

    Attributes:
        path: The file.
        text: As the user wrote it.
    """

    path: str
    text: str


class _Secret(NamedTuple):
    """A private text, in its place among the others; its words as they are looked for; its runs.

    The path of a file is looked for letter by letter, and not within another: "/bar" is no word of a page.
    """

    order: int
    text: str
    phrase: str
    runs: _Runs
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
            secrets: Looked for word by word.
            paths: Of folders and files, from the top of the disk.
        """
        self.found: list[Found] = []
        self._digests: dict[str, bytes] = {}
        self._looked_for = (tuple(secrets), tuple(paths))
        secrets, paths = self._looked_for
        letters = {
            path: re.compile(rf"(?:(?<![\w./\\])|(?<=file://)){re.escape(path)}(?!\w)") for path in paths
        }
        told = []
        for order, text in enumerate(dict.fromkeys((*secrets, *letters))):
            words = _WORD.findall(text)
            if words:
                told.append(_Secret(order, text, f" {' '.join(words)} ", _runs(text), letters.get(text)))
        common = Counter(run for secret in told for run in secret.runs)
        # The run of each that is least likely to stand on a page by chance; empty where it has none.
        self._by_run: dict[bytes, list[frozenset[bytes]]] = {}
        for secret in told:
            rarest_run = min(secret.runs, key=lambda run: (common[run], -len(run)), default=b"")
            self._by_run.setdefault(rarest_run, []).append(frozenset(secret.runs))
        # A few runs in a row are hardly ever there by chance, however many texts there are.
        self._by_row: dict[_Runs, list[_Secret]] = {}
        for secret in told:
            rows = _rows(secret.runs, min(_IN_A_ROW, len(secret.runs)))
            rarest = min(rows, key=lambda row: (sum(common[run] for run in row), row), default=())
            self._by_row.setdefault(rarest, []).append(secret)
        self._lengths = {len(row) for row in self._by_row if row}

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
        written = (text, _ESCAPE.sub(" ", text)) if "\\" in text else (text,)
        return [secret for one in written for secret in self._found_as_written(one)]

    def _found_as_written(self, text: str) -> list[_Secret]:
        # Most pages lack a word of every secret; only those that may lack none are read more slowly.
        runs = {b"", *_runs(text)}
        near = [needed for run in self._by_run.keys() & runs for needed in self._by_run[run]]
        if len(near) <= _FEW and not any(needed <= runs for needed in near):
            return []
        shown = unescape(text)
        return [secret for plain in (shown, _TAG.sub(" ", shown)) for secret in self._found_in(plain)]

    def _found_in(self, plain: str) -> list[_Secret]:
        runs = _runs(plain)
        rows = {row for length in self._lengths for row in _rows(runs, length)}
        suspects = [one for row in ((), *(self._by_row.keys() & rows)) for one in self._by_row.get(row, ())]
        words = f" {' '.join(_WORD.findall(plain))} " if suspects else ""
        return [suspect for suspect in suspects if suspect.stands_in(plain, words)]


def private_texts_in(files: Mapping[str, bytes], secrets: Iterable[str]) -> list[Found]:
    """Return each private text found in a file; in order of files, then secrets.

    Whole words are compared, without their marks and markup, so "**Ten** seconds dry" is found as "Ten
    seconds dry" and a price of "17.90" is not found in "117.90". Attributes and comments are searched as
    well.

    Args:
        files: Contents by path; only kinds that hold text are searched.
        secrets: As `LeakCheck` takes them.
    """
    check = LeakCheck(secrets)
    for path, content in files.items():
        for _ in check.text(path, in_pieces((content.decode(errors="replace"),))):
            pass
    return check.found


def untold(secrets: Iterable[str], public: Iterable[str]) -> frozenset[str]:
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


def _runs(text: str) -> _Runs:
    return tuple(text.encode().translate(_ONLY_ASCII_WORDS).split())


def _rows(runs: _Runs, length: int) -> Iterator[_Runs]:
    """Yield each row of so many runs that follow one another; none where the length is 0."""
    return zip(*(runs[start:] for start in range(length)), strict=False)
