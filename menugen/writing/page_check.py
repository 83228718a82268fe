"""The last look at pages before they are published: is each one whole, and does every link lead somewhere?

The pages of a site share most of their lines, so each different line is read once and what it holds is remembered.
"""

import posixpath
import re
from collections.abc import Container, Iterable, Iterator
from functools import lru_cache
from html import unescape
from typing import NamedTuple
from urllib.parse import unquote

_TAG = re.compile(r"<(/?)([a-zA-Z][a-zA-Z0-9]*)([^<>]*)>")
_ATTRIBUTE = re.compile(r"""\s(id|href|src|for|aria-labelledby)="([^"]*)\"""")
_RAW = re.compile(r"(<(style|script)\b[^<>]*>).*?(</\2>)", re.DOTALL)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_OUTSIDE = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")
VOID = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr")
)
_LONGEST = 400
"""Characters of a line worth remembering; longer ones are drawings, and no two are alike."""


class _Held(NamedTuple):
    """What a stretch of a page holds.

    Attributes:
        ends: Tags it closes without opening them, in order; then those it opens and leaves open, with a "+" before.
        ids: In order.
        here: (kind, value) of what must be an id of the page: links to "#...", labels.
        away: Relative links to other files.
    """

    ends: tuple[str, ...]
    ids: tuple[str, ...]
    here: tuple[tuple[str, str], ...]
    away: tuple[str, ...]


_NOTHING = _Held((), (), (), ())


class _Seen(NamedTuple):
    """What was found in a page so far.

    Attributes:
        opened: Tags that are open; `_BROKEN` once one was closed that is not.
        ids: The page's.
        here: (kind, value) as in `_Held`, each once.
        away: By relative link of any page of this folder: the first page it stands on.
    """

    opened: list[str]
    ids: set[str]
    here: dict[tuple[str, str], None]
    away: dict[str, str]


_BROKEN = ["!"]


class PageFault(NamedTuple):
    """Something wrong with a page.

    Attributes:
        page: Its path in the output.
        message: What is wrong with it; the page is its subject.
        link: The address that leads nowhere; empty where the fault is another.
    """

    page: str
    message: str
    link: str = ""

    def __str__(self) -> str:
        """Return it as a sentence."""
        return f"{self.page} {self.message}"


class PageCheck:
    """Looks at pages one after another, and keeps of them what links can lead to and no more."""

    def __init__(self) -> None:
        self._faults: list[PageFault] = []
        self._anchors: dict[str, frozenset[str]] = {}
        self._away: dict[str, dict[str, str]] = {}

    def page(self, path: str, pieces: Iterable[str]) -> Iterator[str]:
        """Yield the pieces of a page on, looking at each."""
        seen = _Seen([], set(), {}, self._away.setdefault(posixpath.dirname(path), {}))
        first = True
        for piece in pieces:
            if first and not piece[:200].lstrip().lower().startswith("<!doctype html>"):
                self._faults.append(PageFault(path, "does not start as an HTML page"))
            first = False
            self._faults.extend(PageFault(path, fault) for fault in _faults_in(piece, path, seen))
            yield piece
        if seen.opened and seen.opened != _BROKEN:
            self._faults.append(PageFault(path, f'never closes "{seen.opened[-1]}"'))
        self._anchors[path] = frozenset(seen.ids)
        self._faults.extend(PageFault(path, *fault) for fault in _lost(seen))

    def faults(self, files: Container[str]) -> tuple[PageFault, ...]:
        """Return each thing wrong with the pages so far; of pages in one folder with a dead link, the first is named.

        Args:
            files: Paths of every file of the output.
        """
        dead = (
            PageFault(path, f'links to "{value}", {fault}', value)
            for folder, links in self._away.items()
            for value, path in links.items()
            if (fault := self._dead(folder, value, files))
        )
        return (*self._faults, *dead)

    def _dead(self, folder: str, value: str, files: Container[str]) -> str:
        address, _, fragment = value.partition("#")
        target = _resolved(folder, address)
        if target not in files:
            return "which is not there"
        if fragment and target in self._anchors and unquote(fragment) not in self._anchors[target]:
            return "but there is no such place on that page"
        return ""


def _faults_in(piece: str, path: str, seen: _Seen) -> Iterator[str]:
    """Add what a piece of a page holds to what was seen; yield what is wrong with it."""
    for held in _stretches(piece):
        if held is _NOTHING:
            continue
        if held.ends and seen.opened != _BROKEN and (wrong := _closed(seen.opened, held.ends)):
            seen.opened[:] = _BROKEN
            yield f'closes "{wrong}" where it is not open'
        for name in held.ids:
            if name in seen.ids:
                yield f'uses the id "{name}" twice'
            seen.ids.add(name)
        if held.here:
            seen.here.update(dict.fromkeys(held.here))
        for value in held.away:
            if value not in seen.away:
                seen.away[value] = path


def _stretches(piece: str) -> Iterator[_Held]:
    # Two searches that know how they begin are many times faster than one for either.
    plain = _COMMENT.sub("", _RAW.sub(r"\1\3", piece))
    lines = plain.split("\n")
    if any(line.count("<") != line.count(">") for line in lines if len(line) > _LONGEST):
        return iter((_held(plain),))
    try:
        return iter([_short(line) if len(line) <= _LONGEST else _held(line) for line in lines])
    except _TagOverLines:
        return iter((_held(plain),))


class _TagOverLines(Exception):
    """A tag of a template begins on one line and ends on another."""


@lru_cache(maxsize=4096)
def _short(line: str) -> _Held:
    if line.count("<") != line.count(">"):
        raise _TagOverLines
    return _held(line)


def _held(text: str) -> _Held:
    """Return what a stretch without a half tag holds."""
    ends = _ends(text)
    ids: list[str] = []
    here: list[tuple[str, str]] = []
    away: list[str] = []
    for kind, raw in _ATTRIBUTE.findall(text) if '="' in text else ():
        value = unescape(raw)
        if kind == "id":
            ids.append(raw)
        elif kind in ("for", "aria-labelledby") or value.startswith("#") or not value:
            here.append((kind, value))
        elif not _OUTSIDE.match(value):
            away.append(value)
    return _Held(ends, tuple(ids), tuple(here), tuple(away)) if ends or ids or here or away else _NOTHING


def _ends(text: str) -> tuple[str, ...]:
    closes: list[str] = []
    opens: list[str] = []
    for closing, name, rest in _TAG.findall(text):
        if closing:
            if not opens:
                closes.append(name)
            elif opens.pop() != name:
                # Whoever puts the stretches together finds the fault at this very tag.
                closes.append(f"!{name}")
        elif name not in VOID and not rest.endswith("/"):
            opens.append(name)
    return (*closes, *(f"+{name}" for name in opens))


def _closed(opened: list[str], ends: Iterable[str]) -> str:
    """Carry on with the tags that are open, in place; return the tag that is closed and not open, if there is one."""
    for end in ends:
        if end[0] == "+":
            opened.append(end[1:])
        elif end[0] == "!" or not opened or opened.pop() != end:
            return end.lstrip("!")
    return ""


def _lost(seen: _Seen) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with a page that points to no place on it, and the link where it is one."""
    for kind, value in seen.here:
        if kind in ("for", "aria-labelledby"):
            if value not in seen.ids:
                yield f'points to the id "{value}", which it does not have', ""
        elif value[1:] and unquote(value[1:]) not in seen.ids:
            yield f'links to "{value}", but there is no such place on that page', value


@lru_cache(maxsize=4096)
def _resolved(folder: str, address: str) -> str:
    """Return the file that an address leads to from a page in this folder."""
    plain = unquote(address.partition("?")[0])
    target = posixpath.normpath(posixpath.join(folder, plain))
    if plain.endswith(("/", "/.", "/..")) or plain in (".", ".."):
        return "index.html" if target == "." else f"{target}/index.html"
    return target
