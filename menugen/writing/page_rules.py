"""What a page may hold that a look's own templates wrote: nothing that loads or runs but what a page has anyway.

Comes in: a finished page, in pieces. Goes out: the same, or a fault. A page is held to a form so plain that it has one
reading: tags with attributes in double quotes, comments without brackets, and only text in a style, a script, a title.
What a browser sees is then what is seen here. The page's content policy is a second lock.

Source: WHATWG HTML, "Tokenization"; from memory.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from html import unescape
from typing import NamedTuple

from menugen.writing.notes import is_safe_link
from menugen.writing.page_check import VOID
from menugen.writing.style_rules import PICTURES, StyleFault, style_faults, value_faults

ELEMENTS = frozenset(
    """
    a abbr address article aside b bdi bdo blockquote body br button caption cite code col colgroup data dd details
    div dl dt em fieldset figcaption figure footer form h1 h2 h3 h4 h5 h6 head header hgroup hr html i img input
    label legend li link main mark menu meta nav ol output p picture pre q rp rt ruby s samp script search section
    small source span strong style sub summary sup table tbody td tfoot th thead time title tr u ul wbr circle
    clippath defs desc ellipse g line lineargradient mask path pattern polygon polyline radialgradient rect stop
    svg symbol text tspan use
    """.split()  # noqa: SIM905
)

ATTRIBUTES = frozenset(
    """
    abbr accesskey alt autocomplete charset checked class cols colspan content datetime decoding dir disabled
    fetchpriority for headers height hidden href hreflang id inert itemprop itemscope label lang loading media name
    open property rel reversed role rows rowspan scope sizes span spellcheck src srcset start summary tabindex
    title translate type value width clip-path clip-rule clippathunits color cx cy d dominant-baseline dx dy fill
    fill-opacity fill-rule focusable font-size font-weight fx fy gradienttransform gradientunits mask maskunits
    offset opacity paint-order pathlength patterntransform patternunits points preserveaspectratio r rx ry
    shape-rendering spreadmethod stop-color stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap
    stroke-linejoin stroke-miterlimit stroke-opacity stroke-width text-anchor transform vector-effect viewbox x x1
    x2 xmlns y y1 y2
    """.split()  # noqa: SIM905
)
"""What may be written besides `data-...` and `aria-...`."""

_AS_CSS = ("clip-path", "color", "fill", "mask", "stop-color", "stroke")
_ONLY_TEXT = ("script", "style", "title")
_METAS = ("color-scheme", "description", "referrer", "robots", "theme-color", "viewport")

_SPACE = r"[ \t\n\f\r]"
_PART = re.compile(
    r"<!--[^<>]*-->|<!doctype html>|"
    rf'<(?P<ends>/?)(?P<name>[a-z][a-z0-9]*)(?P<more>(?:{_SPACE}+[a-z][a-z0-9:_.-]*(?:="[^"<>]*")?)*){_SPACE}*/?>',
    re.IGNORECASE,
)
_ATTRIBUTE = re.compile(rf'{_SPACE}+([a-z][a-z0-9:_.-]*)(?:="([^"<>]*)")?', re.IGNORECASE)
_PICTURE = re.compile(rf"data:image/(?:{'|'.join(map(re.escape, PICTURES))})[;,][\x21-\x7e]*", re.IGNORECASE)
_BESIDE = re.compile(r"(?![/\\])[^\s\\:\x00-\x20]*")
"""An address of the same site: without a scheme, a host, or a character that browsers drop."""

_BEGINS = ("<!doctype html>", "<html", "<head>", '<meta charset="utf-8">')
_NOTHING_ELSE = "a page loads and runs nothing but what is its own: take it out"
_WORDS_OF_A_FAULT = 60


class RefusedPart(NamedTuple):
    """Something a look's templates wrote on a page and may not; `words` are how it is written, the surest first."""

    words: tuple[str, ...]
    message: str
    hint: str


class OwnParts(NamedTuple):
    """What is ours on a page, whoever wrote the rest.

    Attributes:
        style: The style that may stand in it as it is.
        scripts: The scripts that may stand in it.
        saved: The sentence that a copy on a phone shows, as it opens; the page has it once. Empty for none.
        version: Of the menu, which a phone looks for in the page; empty for none.
    """

    style: str
    scripts: tuple[str, ...]
    saved: str
    version: str


def checked_page(
    pieces: Iterable[str], own: OwnParts, fault: Callable[[RefusedPart], Exception]
) -> Iterator[str]:
    """Yield the pieces of a page on, once each is seen to hold nothing it may not.

    Args:
        pieces: Of the page, each cut outside of tags.
        own: What is ours on it.
        fault: Makes what is raised.
    """
    page = _Page(own)
    for piece in pieces:
        for found in page.faults(piece):
            raise fault(found)
        yield piece
    for found in page.at_the_end():
        raise fault(found)


class _Page:
    def __init__(self, own: OwnParts) -> None:
        self._own = own
        self._saved = 0
        self._has_version = False
        self._begun: list[str] = []
        self._charsets = 0
        self._open: list[tuple[str, tuple[str, ...]]] = []

    def faults(self, piece: str) -> Iterator[RefusedPart]:
        self._saved += piece.count(self._own.saved) if self._own.saved else 0
        self._has_version = self._has_version or self._own.version in piece
        at = 0
        within: re.Match[str] | None = None
        while True:
            start = piece.find("<", at)
            if within is not None:
                yield from self._inside(within, piece[at : start if start >= 0 else len(piece)])
            if start < 0:
                break
            part = _PART.match(piece, start)
            if part is None:
                yield _unreadable(piece, start)
                return
            name = (part["name"] or "").lower()
            yield from self._beginning(part.group().lower())
            if within is not None and not (part["ends"] and name == within["name"].lower()):
                inside = within["name"].lower()
                yield RefusedPart(
                    _words(piece, start, name),
                    f"a <{inside}> may hold nothing but text",
                    f'close it with "</{inside}>"',
                )
            within = part if name in _ONLY_TEXT and not part["ends"] else None
            if name:
                yield from self._tag(part, name, _words(piece, start, name))
            at = part.end()
        if len(self._begun) < len(_BEGINS):
            yield _head_first()
        if within is not None:
            yield RefusedPart((within.group(),), f'"{within.group()}" is never closed', "close it")

    def _beginning(self, tag: str) -> Iterator[RefusedPart]:
        if len(self._begun) < len(_BEGINS) and not tag.startswith("<!--"):
            self._begun.append(tag)
            if not tag.startswith(_BEGINS[len(self._begun) - 1]):
                yield _head_first()

    def at_the_end(self) -> Iterator[RefusedPart]:
        if len(self._begun) < len(_BEGINS):
            yield _head_first()
        for name, words in self._open[-1:]:
            yield RefusedPart(words, f'"<{name}>" is never closed', f'close it with "</{name}>"')
        if self._own.saved and (self._saved != 1 or not self._has_version):
            yield RefusedPart(
                (self._own.saved, "saved-copy", "<main"),
                "no phone could keep a copy of this page",
                f"a page has {self._own.saved}{{{{ words.saved_copy }}}}</p> once, and {{{{ menu.version_line }}}}",
            )

    def _tag(self, part: re.Match[str], name: str, words: tuple[str, ...]) -> Iterator[RefusedPart]:
        if name not in ELEMENTS:
            yield RefusedPart(words, f'a look\'s template may not write "<{name}>"', _NOTHING_ELSE)
        if name == "meta" and "charset" in part["more"].lower():
            self._charsets += 1
            if self._charsets > 1:
                yield _head_first()
        if part["ends"]:
            yield from self._closed(name, words)
            return
        if name not in VOID and not part.group().endswith("/>"):
            self._open.append((name, words))
        said: dict[str, str] = {}
        for attribute, raw in _ATTRIBUTE.findall(part["more"]):
            said.setdefault(attribute.lower(), unescape(raw))
            yield from _attribute(name, attribute.lower(), unescape(raw), words)
        yield from _whole(name, said, words)

    def _closed(self, name: str, words: tuple[str, ...]) -> Iterator[RefusedPart]:
        opened, written = self._open.pop() if self._open else ("", words)
        if opened == name:
            return
        if any(one == name for one, _ in self._open):
            yield RefusedPart(written, f'"<{opened}>" is never closed', f'close it with "</{opened}>"')
        else:
            yield RefusedPart(words, f'"</{name}>" closes what is not open', "take it out")

    def _inside(self, opened: re.Match[str], text: str) -> Iterator[RefusedPart]:
        name = opened["name"].lower()
        tag = opened.group()
        words = (f"{tag}{text[:_WORDS_OF_A_FAULT]}", *_lines(text), tag)
        if (
            name == "script"
            and tag.lower() != '<script type="application/ld+json">'
            and text not in self._own.scripts
        ):
            yield RefusedPart(words, "a look's template may write no script", _NOTHING_ELSE)
        if name == "style" and text != self._own.style:
            for found in _style_faults(text):
                yield RefusedPart(words, f"in a <style>, {found.message}", found.hint)


def _attribute(element: str, name: str, value: str, words: tuple[str, ...]) -> Iterator[RefusedPart]:
    written = (f"{name}=", *words)
    if name in _READ_APART:
        yield from _READ_APART[name](element, name, value, words)
    elif name.startswith("on"):
        yield RefusedPart(written, f'"{name}" would run a script', _NOTHING_ELSE)
    elif name == "style":
        yield RefusedPart(
            written, "a style attribute would be refused by the page's policy", "write it in style.css"
        )
    elif name not in ATTRIBUTES and not name.startswith(("data-", "aria-")):
        yield RefusedPart(written, f'a look\'s template may not write the attribute "{name}"', "take it out")
    elif name in _AS_CSS and ("(" in value or "\\" in value):
        for found in value_faults(value):
            yield RefusedPart(written, f'in "{name}", {found.message}', found.hint)


def _pictures(element: str, name: str, value: str, words: tuple[str, ...]) -> Iterator[RefusedPart]:
    every = [value] if name == "src" else [one.split()[0] for one in value.split(",") if one.split()]
    if name == "srcset" and "data:" in value.lower():
        # Its commas are not those between pictures.
        every = [value]
    for address in every:
        if element not in ("img", "source") or not (
            _BESIDE.fullmatch(address) or _PICTURE.fullmatch(address)
        ):
            yield _loads(f"{name}=", address, words)


def _href(element: str, _name: str, value: str, words: tuple[str, ...]) -> Iterator[RefusedPart]:
    if element == "a":
        if not is_safe_link(value) and not value.startswith(("#", "http://")):
            yield RefusedPart(
                ("href=", *words),
                f'"{_short(value)}" is no address that a page may lead to',
                "write an https: address",
            )
    elif element == "link":
        if not _BESIDE.fullmatch(value):
            yield _loads("href=", value, words)
    elif element != "use" or not value.startswith("#"):
        yield _loads("href=", value, words)


_READ_APART = {"href": _href, "src": _pictures, "srcset": _pictures}


def _whole(name: str, said: dict[str, str], words: tuple[str, ...]) -> Iterator[RefusedPart]:
    """Yield what is wrong with all that a tag says."""
    if name == "meta":
        known = said.get("name", "").lower() in _METAS or said.get("property", "").startswith("og:")
        if not known and set(said) != {"charset"}:
            yield RefusedPart(words, "a look's template may not write this <meta>", _NOTHING_ELSE)
        if said.get("name", "").lower() == "referrer" and said.get("content") != "no-referrer":
            yield RefusedPart(
                words, "a page tells no other where its guest came from", 'write content="no-referrer"'
            )
    elif name == "link" and said.get("rel", "").lower() not in ("icon", "stylesheet"):
        yield RefusedPart(words, "a look's template may not write this <link>", _NOTHING_ELSE)
    elif name == "script" and said not in ({}, {"type": "application/ld+json"}):
        yield RefusedPart(words, "a look's template may write no script", _NOTHING_ELSE)
    elif name == "style" and said:
        yield RefusedPart(
            words, "a <style> takes no attributes, so that the page's policy knows it", 'write "<style>"'
        )


def _loads(what: str, address: str, words: tuple[str, ...]) -> RefusedPart:
    return RefusedPart(
        (what, *words), f'"{_short(address)}" would load something from elsewhere', _NOTHING_ELSE
    )


def _head_first() -> RefusedPart:
    return RefusedPart(
        ("<head", "<html", "<!doctype"),
        'a page begins with <!doctype html>, <html>, <head> and <meta charset="utf-8">, which it has once: '
        "its policy then holds for all of it",
        "build on frame.html.jinja, or begin as it does",
    )


def _unreadable(piece: str, at: int) -> RefusedPart:
    shown = piece[at : at + _WORDS_OF_A_FAULT].split("\n", maxsplit=1)[0]
    return RefusedPart(
        (shown, shown.split(" ")[0]),
        f'this tag cannot be read for sure: "{_short(shown)}"',
        'write attributes in double quotes, and "&lt;" for "<"',
    )


def _words(piece: str, at: int, name: str) -> tuple[str, ...]:
    tag = piece[at : at + _WORDS_OF_A_FAULT].split("\n", maxsplit=1)[0]
    return (tag, tag.split(">")[0], f"<{name}")


def _lines(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.split("\n") if len(line.strip()) > 8)[:5]


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _WORDS_OF_A_FAULT else f"{plain[:_WORDS_OF_A_FAULT]}…"


@lru_cache(maxsize=16)
def _style_faults(css: str) -> tuple[StyleFault, ...]:
    return style_faults(css)
