"""The last look at pages before they are published: is each one whole, and does every link lead somewhere?"""

import posixpath
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from html import unescape
from urllib.parse import unquote

_TAG = re.compile(r"<(/?)([a-zA-Z][a-zA-Z0-9]*)([^<>]*)>")
_ATTRIBUTE = re.compile(r"""\s(id|href|src|for|aria-labelledby)="([^"]*)\"""")
_RAW = re.compile(r"(<(style|script)\b[^<>]*>).*?(</\2>)|<!--.*?-->", re.DOTALL)
_OUTSIDE = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")
_VOID = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr")
)


def page_faults(files: Mapping[str, bytes]) -> tuple[str, ...]:
    """Return a sentence for each thing wrong with the pages among these files; empty when all is well.

    A page must close what it opens and use an id once; each relative link, file and label must lead to one of
    `files` or to an id of the page. It reads the form our templates write: attributes in double quotes, ">"
    escaped in them.

    Args:
        files: Every file of the output, by POSIX path.
    """
    anchors: dict[str, set[str]] = {}
    links: list[tuple[str, str, str]] = []
    faults: list[str] = []
    for path, content in files.items():
        if not path.endswith(".html"):
            continue
        try:
            page = _RAW.sub(r"\1\3", content.decode())
        except UnicodeDecodeError:
            faults.append(f"{path} is not UTF-8 text")
            continue
        faults.extend(f"{path} {fault}" for fault in _open_ends(page))
        anchors[path] = set()
        for kind, value in _ATTRIBUTE.findall(page):
            if kind != "id":
                links.append((path, kind, unescape(value)))
            elif value in anchors[path]:
                faults.append(f'{path} uses the id "{value}" twice')
            else:
                anchors[path].add(value)
    faults.extend(_dead_ends(files, anchors, links))
    return tuple(faults)


def _open_ends(page: str) -> Iterator[str]:
    opened: list[str] = []
    if not page.lstrip().lower().startswith("<!doctype html>"):
        yield "does not start as an HTML page"
    for closing, name, rest in _TAG.findall(page):
        if closing:
            if not opened or opened.pop() != name:
                yield f'closes "{name}" where it is not open'
                return
        elif name not in _VOID and not rest.endswith("/"):
            opened.append(name)
    if opened:
        yield f'never closes "{opened[-1]}"'


def _dead_ends(
    files: Mapping[str, bytes], anchors: Mapping[str, set[str]], links: list[tuple[str, str, str]]
) -> Iterator[str]:
    for path, kind, value in links:
        if kind in ("for", "aria-labelledby"):
            if value not in anchors[path]:
                yield f'{path} points to the id "{value}", which it does not have'
            continue
        if _OUTSIDE.match(value):
            continue
        address, _, fragment = value.partition("#")
        target = _resolved(posixpath.dirname(path), address) if address else path
        if target not in files:
            yield f'{path} links to "{value}", which is not there'
        elif fragment and target in anchors and unquote(fragment) not in anchors[target]:
            yield f'{path} links to "{value}", but there is no such place on that page'


@lru_cache(maxsize=4096)
def _resolved(folder: str, address: str) -> str:
    """Return the file that an address leads to from a page in this folder."""
    plain = unquote(address.partition("?")[0])
    target = posixpath.normpath(posixpath.join(folder, plain))
    if plain.endswith(("/", "/.", "/..")) or plain in (".", ".."):
        return "index.html" if target == "." else f"{target}/index.html"
    return target
