"""Which known words a mistyped one may have meant."""

from collections.abc import Iterable
from difflib import SequenceMatcher

_CLOSE = 0.75
"""Share of letters that must agree, as difflib counts them; lower brings in words that only rhyme."""


def near(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return up to three known words that are close to this one, the closest first.

    Letter case is passed over. A word that is already known, but for its case, comes back alone.
    """
    typed = word.casefold()
    scored: list[tuple[float, str]] = []
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(typed)
    for candidate in dict.fromkeys(known):
        other = candidate.casefold()
        if other == typed:
            return (candidate,)
        # No pair of words can agree more than their lengths allow: most of a long list ends here.
        if 2 * min(len(typed), len(other)) < _CLOSE * (len(typed) + len(other)):
            continue
        matcher.set_seq1(other)
        if matcher.quick_ratio() >= _CLOSE and (score := matcher.ratio()) >= _CLOSE:
            scored.append((-score, candidate))
    return tuple(candidate for _, candidate in sorted(scored)[:3])


def did_you_mean(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return one hint that names the near words, ready for a Problem; empty where nothing is near."""
    words = [f'"{candidate}"' for candidate in near(word, known)]
    if not words:
        return ()
    if len(words) == 1:
        return (f"did you mean {words[0]}?",)
    return (f"did you mean {', '.join(words[:-1])} or {words[-1]}?",)
