"""The content policy of a page: what it may load; and the same as headers, for a host that takes them.

Source of the rules: W3C Content Security Policy Level 3, "The meta element" and "style-src"; OWASP Secure
Headers.
"""

import hashlib
import re
from base64 import b64encode
from collections.abc import Iterable, Iterator
from functools import lru_cache

from menugen.writing.pieces import PackedPieces

CHARSET = '<meta charset="utf-8">'
"""The policy governs only what follows it, so it comes straight after this."""

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
"""A script with a type is data (JSON-LD): browsers do not run it, so no policy has to let it."""


class Unsealed(ValueError):
    """A page cannot be given its policy; `str()` says why, with the page as its subject."""


def inline_hashes(html: str) -> tuple[str, ...]:
    """Return the policy's sources for the page's inline styles, in order, each once."""
    return tuple(dict.fromkeys(_hash(style) for style in _STYLE.findall(html)))


def script_hashes(html: str) -> tuple[str, ...]:
    """Return the policy's sources for the page's inline scripts, in order, each once."""
    return tuple(dict.fromkeys(_hash(script) for script in _SCRIPT.findall(html)))


def policy(hashes: Iterable[str], *, stylesheet: bool, scripts: Iterable[str] = ()) -> str:
    """Return the policy of a page.

    Args:
        hashes: Of its inline styles, from `inline_hashes`.
        stylesheet: Whether it also loads the site's stylesheet.
        scripts: Hashes of its inline scripts, from `script_hashes`; with any, the page may also have a worker.
    """
    styles = [*(["'self'"] if stylesheet else []), *hashes] or ["'none'"]
    run = tuple(scripts)
    # A worker is held to the headers it came with: where a host sends these, its fetches need connect-src.
    worker = (f"script-src {' '.join(run)}", "worker-src 'self'", "connect-src 'self'") if run else ()
    return "; ".join(
        (
            "default-src 'none'",
            f"style-src {' '.join(styles)}",
            *worker,
            "img-src 'self' data:",
            "font-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def seal(html: str) -> str:
    """Return the page with its policy put straight after the charset.

    Raises:
        Unsealed: The page does not declare its charset once, or carries a style attribute, which no hash
            allows.
    """
    return "".join(SealedPages().page((html,)))


class SealedPages:
    """Puts the policies in the pages of one site, and knows what the headers of all of them must allow."""

    def __init__(self) -> None:
        self._styles: set[str] = set()
        self._scripts: set[str] = set()

    def page(self, pieces: Iterable[str]) -> Iterator[str]:
        """Yield the pieces of a page with its policy put straight after the charset.

        The policy is known once all of the page has been seen; it is whole in memory only if it is one piece.

        Raises:
            Unsealed: As for `seal`.
        """
        styles: dict[str, None] = {}
        scripts: dict[str, None] = {}
        charsets, stylesheet = 0, False

        def seen(piece: str) -> str:
            nonlocal charsets, stylesheet
            charsets += piece.count(CHARSET)
            stylesheet = stylesheet or 'rel="stylesheet"' in piece
            if "style=" in piece and re.search(r"<[^<>]*\sstyle=", piece):
                raise Unsealed("holds a style attribute, which the policy of a page refuses")
            styles.update(dict.fromkeys(inline_hashes(piece)))
            scripts.update(dict.fromkeys(script_hashes(piece)))
            return piece

        rest = iter(pieces)
        first = seen(next(rest, ""))
        aside = PackedPieces(map(seen, rest))
        if charsets != 1 or CHARSET not in first:
            raise Unsealed(f"must hold {CHARSET} once, and early")
        self._styles.update(styles)
        self._scripts.update(scripts)
        rule = policy(styles, stylesheet=stylesheet, scripts=scripts)
        yield first.replace(
            CHARSET, f'{CHARSET}\n<meta http-equiv="Content-Security-Policy" content="{rule}">'
        )
        yield from aside

    def and_of(self, other: "SealedPages") -> None:
        """Take the pages of another part of the site to be of this one as well."""
        self._styles |= other._styles
        self._scripts |= other._scripts

    def headers(self, *, listed: bool) -> str:
        """Return the headers that a host could send with every file of these pages' site, one a line.

        Args:
            listed: Whether search engines may list them. A page says so itself, other files can in no other way. There
                is no robots.txt: it counts at the top of a host alone, and would keep away who should read the pages'
                word.
        """
        rule = policy(sorted(self._styles), stylesheet=True, scripts=sorted(self._scripts))
        unlisted = "" if listed else "X-Robots-Tag: noindex\n"
        return (
            f"Content-Security-Policy: {rule}; frame-ancestors 'none'\n"
            "X-Content-Type-Options: nosniff\n"
            f"Referrer-Policy: no-referrer\n{unlisted}"
        )


# A site has few styles and scripts, and each stands in many pages.
@lru_cache(maxsize=64)
def _hash(style: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(style.encode()).digest()).decode()}'"
