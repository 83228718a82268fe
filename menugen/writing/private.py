"""The last check before a site goes out: does any private text stand in it?

The pages' type has no field for such text, so this finds only what was copied by hand, or a fault of ours.
"""

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

_STRETCH = 40_000
"""Characters that are searched at once: the more words, the more private texts seem to be among them."""

_OVERLAP = 10_000
"""Characters that are searched again with the next stretch, since a text may lie across the two."""

_IN_A_ROW = 3

_FEW = 300
"""Private texts that are compared with a page one by one sooner than the page is read more slowly for all of them."""

_Runs = tuple[bytes, ...]
"""ASCII letters and digits as they stand together, in order: what is quickly told of a text."""


class _Secret(NamedTuple):
    """A private text, in its place among the others; its words as they are looked for; its runs."""

    order: int
    text: str
    phrase: str
    runs: _Runs


class LeakCheck:
    """Looks for private texts in one file after another.

    Attributes:
        leaks: A sentence for each that was found, naming both; in order of files, then secrets.
    """

    def __init__(self, secrets: Iterable[str]) -> None:
        """Take the private texts, as the user wrote them; those without a word are passed over.

        Args:
            secrets: Give a price only if no guest's price could equal it.
        """
        self.leaks: list[str] = []
        told = []
        for order, text in enumerate(dict.fromkeys(secrets)):
            words = _WORD.findall(text)
            if words:
                told.append(_Secret(order, text, f" {' '.join(words)} ", _runs(text)))
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
        before = ""
        for piece in pieces:
            for stretch in _stretches(before + piece):
                for secret in self._found(stretch):
                    found[secret.order] = secret.text
            before = piece[_between_words(piece, len(piece) - _OVERLAP) :]
            yield piece
        self.leaks += [f'{path} holds the private text "{found[order]}"' for order in sorted(found)]

    def _found(self, text: str) -> list[_Secret]:
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
        return [suspect for suspect in suspects if suspect.phrase in words]


def private_leaks(files: Mapping[str, bytes], secrets: Iterable[str]) -> list[str]:
    """Return a sentence for each private text found in a file, naming both; in order of files, then secrets.

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
    return check.leaks


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
