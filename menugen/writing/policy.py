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


def inline_hashes(html: str) -> tuple[str, ...]:
    """Return the policy's sources for the page's inline styles, in order, each once."""
    return tuple(dict.fromkeys(_hash(style) for style in _STYLE.findall(html)))


def policy(hashes: Iterable[str], *, stylesheet: bool) -> str:
    """Return the policy of a page.

    Args:
        hashes: Of its inline styles, from `inline_hashes`.
        stylesheet: Whether it also loads the site's stylesheet.
    """
    styles = [*(["'self'"] if stylesheet else []), *hashes] or ["'none'"]
    return "; ".join(
        (
            "default-src 'none'",
            f"style-src {' '.join(styles)}",
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
    rule = policy(inline_hashes(html), stylesheet='rel="stylesheet"' in html)
    return html.replace(CHARSET, f'{CHARSET}\n<meta http-equiv="Content-Security-Policy" content="{rule}">')


def headers_text(pages: Iterable[str]) -> str:
    """Return the headers that a host could send with every one of these pages, one a line."""
    hashes = tuple(dict.fromkeys(found for page in pages for found in inline_hashes(page)))
    return (
        f"Content-Security-Policy: {policy(sorted(hashes), stylesheet=True)}; frame-ancestors 'none'\n"
        "X-Content-Type-Options: nosniff\n"
        "Referrer-Policy: no-referrer\n"
    )


def _hash(style: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(style.encode()).digest()).decode()}'"
