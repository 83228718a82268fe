"""The operator's own words, from Markdown to safe HTML.

Raw HTML is shown as the text it is, pictures become their description, and a link survives only if it leads
to an `https:`, `mailto:` or `tel:` address or to another page of the same site. The page's content policy is
a second lock.
"""

import re
from collections.abc import Iterator, MutableMapping, Sequence
from functools import cache
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.common.utils import escapeHtml
from markdown_it.renderer import RendererHTML
from markdown_it.rules_core import StateCore
from markdown_it.token import Token
from markupsafe import Markup, escape

_OUTSIDE = ("https:", "mailto:", "tel:")
_BACKSLASH = re.compile(r"\\|%5c", re.IGNORECASE)
_SENTENCE_END = re.compile(r"[.!?…؟][\"'’”»)]*(?=\s)|[。！？]")
_HARDLY_TOO_LONG = 1.2
"""A paragraph is not cut for less than a fifth: the way to the rest of it would be as long as the rest."""
_MARKS = re.compile(r"[\\`*_\[<&\0]")
"""What a sentence has that is more than its words: most have none, and need no parser."""
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")


def inline_html(markdown: str, *, root: str = "") -> Markup:
    """Return one paragraph of Markdown as HTML without the paragraph around it.

    Args:
        markdown: CommonMark; line breaks and blank lines count as spaces.
        root: What leads from the page to the site's root ("" or "../"); a note's relative links count from
            the root.
    """
    one_paragraph = " ".join(markdown.split())
    if not _MARKS.search(one_paragraph):
        return Markup(escapeHtml(one_paragraph))  # noqa: S704  (as the library writes words)
    return Markup(_parser().renderInline(one_paragraph, {"root": root}))  # noqa: S704  (HTML is off in the parser)


def opening_html(markdown: str, characters: int, *, root: str = "") -> tuple[Markup, bool]:
    """Return how a paragraph of Markdown begins, as HTML, and whether it goes on after that.

    It is cut after a sentence where one ends in time, else between two words and with an ellipsis; a paragraph that is
    hardly too long is left whole.

    Args:
        markdown: As for `inline_html`.
        characters: To be seen at most.
        root: As for `inline_html`.
    """
    env = {"root": root}
    one_paragraph = " ".join(markdown.split())
    if len(one_paragraph) <= characters * _HARDLY_TOO_LONG and not _MARKS.search(one_paragraph):
        return inline_html(one_paragraph), False
    parser = _parser()
    (paragraph,) = parser.parseInline(one_paragraph, env)
    shown = paragraph.children or []
    seen = "".join(map(_seen, shown))
    if len(seen) <= characters * _HARDLY_TOO_LONG:
        return Markup(parser.renderer.render([paragraph], parser.options, env)), False  # noqa: S704  (as above)
    sentences = [found.end() for found in _SENTENCE_END.finditer(seen, 0, characters)]
    if sentences and sentences[-1] >= characters / 3:
        kept = _cut(shown, sentences[-1], "")
    else:
        space = seen.rfind(" ", 0, characters)
        kept = _cut(shown, space if space > 0 else characters, "…")
    html = parser.renderer.render([paragraph.copy(children=list(kept))], parser.options, env)
    return Markup(html), True  # noqa: S704  (HTML is off in the parser)


def block_html(markdown: str, *, root: str = "") -> Markup:
    """Return whole notes as HTML: paragraphs, lists, headings from the second level down.

    Args:
        markdown: CommonMark.
        root: As for `inline_html`.
    """
    return Markup(_parser().render(markdown, {"root": root}).rstrip("\n"))  # noqa: S704  (HTML is off in the parser)


def site_links(markdown: str) -> tuple[str, ...]:
    """Return the links of a note that lead to a page of the same site, as written, in order, each once."""
    if "[" not in markdown:
        return ()
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


def _seen(token: Token) -> str:
    """Return the words a piece of a paragraph shows."""
    if token.type in ("softbreak", "hardbreak"):
        return " "
    return token.content if token.nesting == 0 else ""


def _cut(tokens: Sequence[Token], end: int, mark: str) -> Iterator[Token]:
    """Yield the pieces of a paragraph up to a character that is seen, with a mark behind it, and close what is open."""
    opened: list[Token] = []
    left = end
    for token in tokens:
        if token.nesting > 0:
            opened.append(token)
        elif token.nesting < 0:
            opened.pop()
        elif len(_seen(token)) >= left:
            yield token.copy(content=token.content[:left].rstrip() + mark, children=None, type="text")
            break
        left -= len(_seen(token))
        yield token
    for token in reversed(opened):
        yield Token(token.type.replace("_open", "_close"), token.tag, -1)


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
