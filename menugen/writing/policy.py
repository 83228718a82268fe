"""The content policy of a page: what it may load; and the same as headers, for a host that takes them.

Source of the rules: W3C Content Security Policy Level 3, "The meta element" and "style-src"; OWASP Secure
Headers.
"""

import hashlib
import re
from base64 import b64encode
from collections.abc import Iterable

CHARSET = '<meta charset="utf-8">'
"""The policy governs only what follows it, so it comes straight after this."""

_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
"""A script with a type is data (JSON-LD): browsers do not run it, so no policy has to let it."""


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
        ValueError: The page does not declare its charset once, or carries a style attribute, which no hash
            allows.
    """
    if html.count(CHARSET) != 1:
        raise ValueError(f"a page must hold {CHARSET} once")
    if re.search(r"<[^<>]*\sstyle=", html):
        raise ValueError("a style attribute would be refused by the page's policy")
    rule = policy(inline_hashes(html), stylesheet='rel="stylesheet"' in html, scripts=script_hashes(html))
    return html.replace(CHARSET, f'{CHARSET}\n<meta http-equiv="Content-Security-Policy" content="{rule}">')


def headers_text(pages: Iterable[str], *, listed: bool = True) -> str:
    """Return the headers that a host could send with every file of these pages' site, one a line.

    Args:
        pages: The pages.
        listed: Whether search engines may list them. A page says so itself, other files can in no other way. There
            is no robots.txt: it counts at the top of a host alone, and would keep away who should read the pages' word.
    """
    styles: set[str] = set()
    scripts: set[str] = set()
    for page in pages:
        styles.update(inline_hashes(page))
        scripts.update(script_hashes(page))
    rule = policy(sorted(styles), stylesheet=True, scripts=sorted(scripts))
    unlisted = "" if listed else "X-Robots-Tag: noindex\n"
    return (
        f"Content-Security-Policy: {rule}; frame-ancestors 'none'\n"
        "X-Content-Type-Options: nosniff\n"
        f"Referrer-Policy: no-referrer\n{unlisted}"
    )


def _hash(style: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(style.encode()).digest()).decode()}'"
