"""The site's worker: what keeps a copy of the menu on a guest's phone for when the network is gone.

Comes in: the finished files of a site. Goes out: `worker.js`, to lie at the site's root and govern it; and
`worker-off.js`, which an operator puts in its place to take every copy back. Its manners are told in the two scripts
of data/; a page that comes from the copy says so, with the version it belongs to.
"""

import hashlib
import json
from collections.abc import Collection, Iterable, Iterator
from importlib.resources import files as resources

from markupsafe import Markup

WORKER = "worker.js"
WORKER_OFF = "worker-off.js"

HIDDEN = '<p class="saved-copy" role="status" hidden>'
"""How the sentence about the copy opens in a page from the network; the worker takes `hidden` out of it."""

SHOWN = '<p class="saved-copy" role="status">'

_NOT_SAVED = frozenset({WORKER, WORKER_OFF, "404.html"})
"""The worker itself, and the page for addresses that are not there, which a host shows under any of them."""

_FIXED = (".css", ".woff2", ".svg")
"""Kinds of file, besides pages, that the first visit saves; pictures and forms for machines are left out."""


def register_script(root: str) -> Markup:
    """Return the script that gives a page its worker, without its tags. Nothing happens on a page opened from disk.

    Args:
        root: What leads from the page to the folder of `worker.js`: "" or "../".
    """
    # Built of a path we chose; `updateViaCache` keeps a host's long caching from delaying a newer menu.
    return Markup(  # noqa: S704
        'if("serviceWorker"in navigator&&location.protocol!="file:")'
        f'navigator.serviceWorker.register("{root}{WORKER}",{{updateViaCache:"none"}}).catch(()=>{{}})'
    )


def contents_version(files: Iterable[tuple[str, int, Iterable[bytes]]]) -> str:
    """Return 16 hex digits of these files, names and contents: one changed byte changes it.

    Args:
        files: Path, bytes and content of each, sorted by path.
    """
    whole = hashlib.sha256()
    for path, size, content in files:
        whole.update(f"{path}\0{size}\0".encode())
        for part in content:
            whole.update(part)
    return whole.hexdigest()[:16]


def savable(path: str, pieces: Iterable[str], mark: str) -> Iterator[str]:
    """Yield the pieces of a page on, holding it to what a phone needs to save it.

    Args:
        path: Of the page.
        pieces: Of the page; no line is cut.
        mark: As for `worker_files`.

    Raises:
        ValueError: It has no such word, or no sentence for the copy (a bug upstream: no phone would save it).
    """
    if path in _NOT_SAVED:
        yield from pieces
        return
    marked, hidden = False, 0
    for piece in pieces:
        marked = marked or mark in piece
        hidden += piece.count(HIDDEN)
        yield piece
    if not marked or hidden != 1:
        raise ValueError(f"{path} cannot be saved on a phone")


def worker_files(
    paths: Collection[str], version: str, mark: str, photos: Collection[str] = ()
) -> dict[str, str]:
    """Return the two scripts of a site by path.

    Args:
        paths: Every other file of the site, by POSIX path within it.
        version: Of their contents, from `contents_version`.
        mark: A word that stands in every page of this menu and of no other: its version. A phone saves no page
            without it, as the host may be halfway through an upload.
        photos: Where photos lie, seen from `worker.js`. A phone keeps those its guest has seen: to save all of them in
            all sizes would be paid for by every guest.
    """
    filled = {
        "@VERSION@": version,
        "@MARK@": json.dumps(mark),
        "@PAGES@": _listed([path for path in paths if path.endswith(".html") and path not in _NOT_SAVED]),
        "@FIXED@": _listed([path for path in paths if path.endswith(_FIXED)]),
        "@PHOTOS@": _listed(photos),
        "@HIDDEN@": json.dumps(HIDDEN),
        "@SHOWN@": json.dumps(SHOWN),
    }
    script = _script(WORKER)
    for hole, text in filled.items():
        script = script.replace(hole, text)
    return {WORKER: script, WORKER_OFF: _script(WORKER_OFF)}


def _listed(paths: Collection[str]) -> str:
    return json.dumps(sorted(paths), ensure_ascii=False, separators=(",", ":"))


def _script(name: str) -> str:
    return (resources("menugen.writing") / "data" / name).read_text(encoding="utf-8")
