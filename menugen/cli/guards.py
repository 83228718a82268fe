"""What a command is told to fail on, with `--fail-on`."""

from collections.abc import Sequence


class WrongGuard(Exception):
    """A word after --fail-on that guards nothing; the message is for the user."""


def guards(typed: str | None, known: Sequence[str]) -> frozenset[str]:
    """Return the words after --fail-on; none where it was not typed.

    Args:
        typed: "allergens,strength".
        known: The words there are.

    Raises:
        WrongGuard: It names nothing, or something else.
    """
    if typed is None:
        return frozenset()
    words = frozenset(word.strip() for word in typed.split(",") if word.strip())
    if not words:
        raise WrongGuard(f"--fail-on names nothing to guard against: {', '.join(known)}")
    if unknown := sorted(words.difference(known)):
        raise WrongGuard(f'--fail-on knows {", ".join(known)}, and not "{unknown[0]}"')
    return words
