"""What a style sheet of a look may hold, read as a browser reads it: nothing that loads, and nothing that breaks out.

Comes in: CSS. Goes out: what it may not hold, with line and column. What is known to load nothing is let through, and
everything else is refused, so that what browsers learn next year is refused as well. tinycss2 is imported only where
there is such a sheet: the shipped looks are held to the same by tests.

Source: W3C, CSS Syntax Module Level 3, for how a sheet is cut into tokens. What of it loads: CSS Images 4,
CSS Values 5, CSS Fonts 4, CSS Cascade 5; from memory.
"""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

PICTURES = ("avif", "gif", "jpeg", "png", "svg+xml", "webp")
"""Kinds of picture a sheet may hold in itself. An SVG that is shown as a picture runs and loads nothing.

Source: SVG Integration, "secure static mode" and "secure animated mode"; from memory.
"""

FUNCTIONS = frozenset(
    """
    abs acos asin atan atan2 attr blur brightness calc circle clamp color color-mix conic-gradient contrast cos counter
    counters cubic-bezier drop-shadow ellipse env exp fit-content format grayscale hsl hsla hue-rotate hwb hypot inset
    invert lab lch light-dark linear linear-gradient local log matrix matrix3d max min minmax mod oklab oklch opacity
    path perspective polygon pow radial-gradient ray rect rem repeat repeating-conic-gradient repeating-linear-gradient
    repeating-radial-gradient rgb rgba rotate rotate3d rotatex rotatey rotatez round saturate scale scale3d scalex
    scaley scalez scroll sepia shape sign sin skew skewx skewy sqrt steps symbols tan translate translate3d translatex
    translatey translatez var view xywh
    dir has host is lang not nth-child nth-col nth-last-child nth-last-col nth-last-of-type nth-of-type part selector
    state style where
    annotation character-variant ornaments styleset stylistic swash
    """.split()  # noqa: SIM905
)
"""Functions of values and selectors that load nothing."""

RULES = frozenset(
    """
    container counter-style font-face font-feature-values font-palette-values keyframes layer media page property scope
    starting-style supports view-transition -webkit-keyframes
    annotation character-variant ornaments styleset stylistic swash
    bottom-center bottom-left bottom-left-corner bottom-right bottom-right-corner left-bottom left-middle left-top
    right-bottom right-middle right-top top-center top-left top-left-corner top-right top-right-corner
    """.split()  # noqa: SIM905
)
"""At-rules that load nothing."""

_RUN_OLD_CODE = frozenset({"behavior", "-ms-behavior", "-moz-binding"})
"""Properties by which old browsers loaded and ran code. Source: common knowledge of the trade; from memory."""

_PICTURE = re.compile(rf"data:image/(?:{'|'.join(map(re.escape, PICTURES))})[;,]", re.IGNORECASE)
_ONLY_PICTURES = (
    "a style sheet loads nothing: put a picture in it, url(data:image/png;base64,...), or leave it out"
)
_END = "end-of-sheet"
"""Begins with a hexadecimal digit, so that a backslash before it makes another name of it."""
_UNREADABLE = {
    "bad-string": "this text is not closed on its line",
    "eof-in-string": "this text is never closed",
    "bad-url": "this address cannot be read",
    "eof-in-url": "this address is never closed",
}
DEEPEST = 60
"""Brackets within one another, of whatever kind."""

_MOST = 20
"""Faults of one sheet that are told."""


class StyleFault(NamedTuple):
    """Something a sheet may not hold; line and column count from 1, and line 0 is the whole sheet."""

    line: int
    column: int
    message: str
    hint: str


def style_faults(css: str) -> tuple[StyleFault, ...]:
    """Return what a style sheet may not hold, in order; of very many, the first.

    Args:
        css: The sheet.
    """
    return _faults(css, "\n")


def published_faults(css: str) -> tuple[StyleFault, ...]:
    """Return what is wrong with a whole sheet as it is published, where other rules may follow at once.

    Taking out comments and spaces must not have made anything else of it.
    """
    return _faults(css, "")


def value_faults(value: str) -> tuple[StyleFault, ...]:
    """Return what may not be in the value of an attribute that is read as CSS; "url(#name)" is of the same page."""
    return tuple(_walked(_parsed(value), values=True))


# The look of a house is read again for each of its events.
@lru_cache(maxsize=32)
def _faults(css: str, before_the_end: str) -> tuple[StyleFault, ...]:
    at = css.find("<")
    if at >= 0:
        line = css.count("\n", 0, at) + 1
        column = at - css.rfind("\n", 0, at)
        return (
            StyleFault(
                line,
                column,
                'a style sheet may not hold "<", as it also lies inside pages',
                'write "(max-width: 30em)" for "(width <= 30em)"',
            ),
        )
    tokens = _parsed(f"{css}{before_the_end}{_END}{{}}")
    found = []
    for fault in _walked(tokens, values=False):
        found.append(fault)
        if len(found) == _MOST:
            return tuple(found)
    if not found and not _ends(tokens):
        found.append(
            StyleFault(
                0, 0, "something in this style sheet is opened and never closed", 'look for a missing "}"'
            )
        )
    return tuple(found)


def _parsed(css: str) -> Sequence[Any]:
    import tinycss2  # type: ignore[import-untyped]  # it comes without types

    tokens: Sequence[Any] = tinycss2.parse_component_value_list(css)
    return tokens


def _ends(tokens: Sequence[Any]) -> bool:
    """Return whether the mark at the end was read as one, and so all before it is closed."""
    if len(tokens) < 2:
        return False
    name, block = tokens[-2:]
    return name.type == "ident" and name.value == _END and block.type == "{} block" and not block.content


def _walked(tokens: Sequence[Any], *, values: bool) -> Iterator[StyleFault]:
    """Yield what may not be among these tokens and what they hold, in order."""
    left = [iter(tokens)]
    before = ""
    named: tuple[Any, str] | None = None
    while left:
        token = next(left[-1], None)
        if token is None:
            left.pop()
            continue
        kind = token.type
        if kind in ("whitespace", "comment"):
            continue
        if named is not None and kind == "literal" and token.value == ":":
            yield _fault(named[0], f'"{named[1]}" would run code', "leave it out")
        named = None
        if kind == "ident" and token.lower_value in _RUN_OLD_CODE and before != ".":
            named = (token, token.lower_value)
        before = token.value if kind == "literal" else kind
        yield from _token(token, values=values)
        inside = token.arguments if kind == "function" else getattr(token, "content", None)
        if isinstance(inside, list):
            if len(left) >= DEEPEST:
                yield _fault(token, f"this is nested more than {DEEPEST} deep", "write it flat")
                return
            left.append(iter(inside))


def _token(token: Any, *, values: bool) -> Iterator[StyleFault]:
    kind = token.type
    if kind == "error":
        yield _fault(
            token,
            _UNREADABLE.get(token.kind, f'"{token.kind}" closes what is not open'),
            "close what is opened",
        )
    elif kind == "url":
        yield from _address(token, token.value, values=values)
    elif kind == "function":
        yield from _function(token, values=values)
    elif kind == "at-keyword":
        if token.lower_value not in RULES:
            loads = token.lower_value == "import"
            why = "would load another file" if loads else "is not among the rules a look may use"
            hint = "write the rules here, or build on the other look: extends" if loads else "leave it out"
            yield _fault(token, f'"@{_shown(token.value)}" {why}', hint)
    elif kind == "string" and "/*" in token.value:
        yield _fault(token, 'a text in a style sheet may not hold "/*"', "write it without the two")


def _function(token: Any, *, values: bool) -> Iterator[StyleFault]:
    name = token.lower_name
    arguments = [one for one in token.arguments if one.type not in ("whitespace", "comment")]
    if name == "url":
        if len(arguments) == 1 and arguments[0].type == "string":
            yield from _address(token, arguments[0].value, values=values)
        else:
            yield _loads(token, "url(")
    elif name == "attr":
        if any(one.type == "ident" and one.lower_value in ("url", "src") for one in arguments):
            yield _loads(token, "attr(... url)")
    elif name not in FUNCTIONS:
        yield _fault(
            token, f'"{_shown(token.name)}(" may load another file, or is not known here', _ONLY_PICTURES
        )


def _address(token: Any, address: str, *, values: bool) -> Iterator[StyleFault]:
    if values and address.startswith("#"):
        return
    if not _PICTURE.match(address):
        yield _loads(token, f"url({_shown(address)})")
    elif "/*" in address:
        yield _fault(token, 'a picture in a style sheet may not hold "/*"', "write it in base64")


def _loads(token: Any, what: str) -> StyleFault:
    return _fault(token, f'"{what}" would load another file', _ONLY_PICTURES)


def _fault(token: Any, message: str, hint: str) -> StyleFault:
    return StyleFault(token.source_line, token.source_column, message, hint)


def _shown(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= 60 else f"{plain[:60]}…"
