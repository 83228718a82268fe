"""How surely a fact is known: "read", "reported" or "memory"."""

from collections.abc import Iterable, Mapping

_ORDER = ("read", "reported", "memory")
"""From the surest on."""


def weakest(how: str | Mapping[str, str] | Iterable[str]) -> str:
    """Return the least certain of "read", "reported" and "memory".

    Args:
        how: One of them, as a fact in the data says it; those of its parts, by what the part is called; or several.
    """
    if isinstance(how, str):
        return how
    return max(how.values() if isinstance(how, Mapping) else how, key=_ORDER.index)
