"""Measures with one space where somebody typed several: "30 ml   gin" is read as "30 ml gin"."""

import re
from collections.abc import Iterable

from menugen.records import Role
from menugen.tidying.layout import Document, Entry, Listing, Scalar

_MEASURED = frozenset(
    {
        *(role.value for role in Role),
        *(
            "abv",
            "acid",
            "bottle",
            "density",
            "drinks",
            "each",
            "fat",
            "part",
            "price",
            "sugar",
            "sulphites",
            "swap",
        ),
    }
)
"""Keys whose values are measures and prices, or lists of them."""

_SEVERAL = re.compile("  +")


def one_space(text: str) -> str:
    """Return a text with single spaces in it."""
    return _SEVERAL.sub(" ", text)


def even_spaces(document: Document) -> None:
    """Write the measures of a document with single spaces, in place. What stands in quotes stays as it is."""
    _within(document.top.entries, measured=False)


def _within(entries: Iterable[Entry], *, measured: bool) -> None:
    for entry in entries:
        is_measured = measured or entry.name in _MEASURED
        value = entry.value
        if isinstance(value, Listing):
            _within(value.entries, measured=is_measured)
        elif is_measured and not value.style and "\n" not in value.text:
            entry.value = Scalar(one_space(value.text), one_space(value.value), "")
