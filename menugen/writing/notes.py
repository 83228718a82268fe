"""The operator's own words, from Markdown to safe HTML.

Raw HTML is shown as the text it is, pictures become their description, and a link survives only if it leads
to an `https:`, `mailto:` or `tel:` address or to another page of the same site. The page's content policy is
a second lock.
"""

import re
from collections.abc import MutableMapping, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.rules_core import StateCore
from markdown_it.token import Token
from markupsafe import Markup, escape

_OUTSIDE = ("https:", "mailto:", "tel:")
_BACKSLASH = re.compile(r"\\|%5c", re.IGNORECASE)
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")


def inline_html(markdown: str, *, root: str = "") -> Markup:
    """Return one paragraph of Markdown as HTML without the paragraph around it.

    Args:
        markdown: CommonMark; line breaks and blank lines count as spaces.
        root: What leads from the page to the site's root ("" or "../"); a note's relative links count from
            the root.
    """
    one_paragraph = " ".join(markdown.split())
    return Markup(_parser().renderInline(one_paragraph, {"root": root}))  # noqa: S704  (HTML is off in the parser)


def block_html(markdown: str, *, root: str = "") -> Markup:
    """Return whole notes as HTML: paragraphs, lists, headings from the second level down.

    Args:
        markdown: CommonMark.
        root: As for `inline_html`.
    """
    return Markup(_parser().render(markdown, {"root": root}).rstrip("\n"))  # noqa: S704  (HTML is off in the parser)


def site_links(markdown: str) -> tuple[str, ...]:
    """Return the links of a note that lead to a page of the same site, as written, in order, each once."""
    found = []
    for token in _parser().parse(markdown):
        for child in token.children or ():
            address = str(child.attrs.get("href", "")) if child.type == "link_open" else ""
            if address and not _SCHEME.match(address) and not address.startswith("#"):
                found.append(address)
    return tuple(dict.fromkeys(found))


def is_safe_link(address: str) -> bool:
    """Whether a link may stand on a guest's page: https, mailto, tel, or a path within the site."""
    if _SCHEME.match(address):
        return address.lower().startswith(_OUTSIDE)
    # A leading slash would leave the site's folder, and two of them, or backslashes, the host.
    return (
        not address.startswith("/") and not _BACKSLASH.search(address) and ":" not in address.split("/", 1)[0]
    )


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False})
    # The library asks this of every link, and leaves as text what is refused.
    setattr(parser, "validateLink", is_safe_link)  # noqa: B010  (a type checker takes methods for fixed)
    parser.core.ruler.push("lower_headings", _lower_headings)
    parser.add_render_rule("image", _picture_as_words)
    parser.add_render_rule("link_open", _link_from_root)
    return parser


def _lower_headings(state: StateCore) -> None:
    above: list[str] = []
    for token in state.tokens:
        if token.type == "heading_open":
            # "h1" < "h2": whatever levels the writer used, the page has its own h1 and skips none below it.
            above = [*(level for level in above if level < token.tag), token.tag]
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(6, len(above) + 1)}"


def _picture_as_words(
    self: RendererHTML, tokens: Sequence[Token], index: int, options: Any, env: MutableMapping[str, Any]
) -> str:
    return str(escape(self.renderInlineAsText(tokens[index].children, options, env)))


def _link_from_root(
    _self: RendererHTML, tokens: Sequence[Token], index: int, _options: Any, env: MutableMapping[str, Any]
) -> str:
    address = str(tokens[index].attrs["href"])
    if not _SCHEME.match(address) and not address.startswith("#"):
        address = f"{env['root']}{address}"
    return f'<a href="{escape(address)}">'
