"""The small drawings that stand beside an allergen's word, as one hidden set a page can point into.

Each lies in themes/base/icons as a file of its own: one 24 x 24 grid, one stroke, the colour of the words
around it. An icon never stands without its word, so it is hidden from screen readers.
"""

import re
from collections.abc import Iterable
from functools import cache

from markupsafe import Markup

from menugen.shipped import shipped_folder

UNKNOWN = "other"
"""What stands in for a thing that has no drawing of its own."""

_OUTER = re.compile(r'<svg xmlns="[^"]*" viewBox="0 0 24 24" ([^>]*)>(.*)</svg>\s*', re.DOTALL)


def icon_symbols(names: Iterable[str]) -> Markup:
    """Return one hidden SVG that holds a symbol for each name, to stand once near the top of a page.

    A page then draws one with `<svg class="icon" aria-hidden="true"><use href="#a-milk"></use></svg>`.

    Args:
        names: Icons wanted, in any order, repeated or not. A name without a drawing brings the symbol of
            `UNKNOWN`, and an empty name brings nothing: see `icon_name`.

    Returns:
        The set, symbols sorted by name; empty when nothing is wanted. No style attribute, which a strict
        content policy would refuse: the stroke travels as SVG attributes.
    """
    drawings = _drawings()
    wanted = sorted({icon_name(name) for name in names if name})
    if not wanted:
        return Markup("")
    symbols = "".join(
        f'<symbol id="a-{name}" viewBox="0 0 24 24" {drawings[name][0]}>{drawings[name][1]}</symbol>'
        for name in wanted
    )
    # The drawings ship with the program, and the names were matched against them.
    return Markup(f'<svg class="icon-set" width="0" height="0" aria-hidden="true">{symbols}</svg>')  # noqa: S704


def icon_name(name: str) -> str:
    """Return the name of the symbol a page draws for this icon: its own or `UNKNOWN`; empty stays empty."""
    return name if not name or name in _drawings() else UNKNOWN


@cache
def _drawings() -> dict[str, tuple[str, str]]:
    """By name: the attributes of the pen, and what is drawn."""
    found = {}
    for file in (shipped_folder("themes") / "base" / "icons").glob("*.svg"):
        outer = _OUTER.fullmatch(file.read_text(encoding="utf-8"))
        if outer is None:
            raise ValueError(f"{file.name} is not drawn on the 24 x 24 grid")
        found[file.stem] = (outer[1], outer[2])
    return found
