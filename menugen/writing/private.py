"""The last check before a site goes out: does any private text stand in it?

The pages' type has no field for such text, so this finds only what was copied by hand, or a fault of ours.
"""

import re
from collections.abc import Iterable, Mapping
from html import unescape
from typing import NamedTuple

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|\w+")
_TAG = re.compile(r"<[^<>]*>")
_ONLY_ASCII_WORDS = bytes(byte if chr(byte).isalnum() and byte < 128 else 32 for byte in range(256))
_TEXT = (".html", ".json", ".txt", ".svg", ".css", ".xml", ".webmanifest", ".js")


class _Secret(NamedTuple):
    """A private text, in its place among the others, and its words as they are looked for."""

    order: int
    text: str
    phrase: str


def private_leaks(files: Mapping[str, bytes], secrets: Iterable[str]) -> list[str]:
    """Return a sentence for each private text found in a file, naming both; in order of files, then secrets.

    Whole words are compared, without their marks and markup, so "**Ten** seconds dry" is found as "Ten
    seconds dry" and a price of "17.90" is not found in "117.90". Attributes and comments are searched as
    well.

    Args:
        files: Contents by path; only kinds that hold text are searched.
        secrets: Texts as the user wrote them; those without a word are passed over. Give a price only if no
            guest's price could equal it.
    """
    by_run: dict[bytes, list[_Secret]] = {}
    for order, secret in enumerate(dict.fromkeys(secrets)):
        words = _WORD.findall(secret)
        if words:
            by_run.setdefault(_rarest_run(secret), []).append(_Secret(order, secret, f" {' '.join(words)} "))
    leaks = []
    for path, content in files.items():
        if not path.endswith(_TEXT):
            continue
        # Most pages hold no long word of any secret; only those that do are read word by word.
        runs = {b"", *content.translate(_ONLY_ASCII_WORDS).split()}
        suspects = sorted(found for run in by_run.keys() & runs for found in by_run[run])
        if suspects:
            text = unescape(content.decode(errors="replace"))
            told = [f" {' '.join(_WORD.findall(plain))} " for plain in (text, _TAG.sub(" ", text))]
            leaks += [
                f'{path} holds the private text "{suspect.text}"'
                for suspect in suspects
                if any(suspect.phrase in words for words in told)
            ]
    return leaks


def _rarest_run(secret: str) -> bytes:
    """Return the longest run of ASCII letters and digits, the one least likely to stand on a page by chance.

    Empty where there is none: such a secret is looked for on every page.
    """
    return max(secret.encode().translate(_ONLY_ASCII_WORDS).split(), key=len, default=b"")
