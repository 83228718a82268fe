"""The last check before a site goes out: does any private text stand in it?

The pages' type has no field for such text, so this finds only what was copied by hand, or a fault of ours.
"""

import re
from collections.abc import Iterable, Mapping
from html import unescape

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|\w+")
_TAG = re.compile(r"<[^<>]*>")
_TEXT = (".html", ".json", ".txt", ".svg", ".css", ".xml", ".webmanifest", ".js")


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
    by_word: dict[str, list[tuple[int, str, str]]] = {}
    for order, secret in enumerate(dict.fromkeys(secrets)):
        words = _WORD.findall(secret)
        if words:
            # Filed under its longest word, the one least likely to stand on a page by chance.
            by_word.setdefault(max(words, key=len), []).append((order, secret, f" {' '.join(words)} "))
    leaks = []
    for path, content in files.items():
        if not path.endswith(_TEXT):
            continue
        text = unescape(content.decode(errors="replace"))
        words = _WORD.findall(text)
        suspects = sorted(found for word in by_word.keys() & set(words) for found in by_word[word])
        if suspects:
            runs = [f" {' '.join(run)} " for run in (words, _WORD.findall(_TAG.sub(" ", text)))]
            leaks += [
                f'{path} holds the private text "{secret}"'
                for _, secret, phrase in suspects
                if any(phrase in run for run in runs)
            ]
    return leaks
