"""One drink's life as a page for the bar alone: all in one file, for no website."""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from markupsafe import Markup

from menugen.writing.policy import seal
from menugen.writing.templates import LookTemplates


@dataclass(frozen=True, slots=True)
class LifeFact:
    """One thing that moved.

    Attributes:
        text: What: "strength 18.1 -> 20.3 % vol".
        under: What stands indented under it.
        alarm: Whether it must not be missed: an allergen gained.
    """

    text: str
    under: tuple[str, ...] = ()
    alarm: bool = False


@dataclass(frozen=True, slots=True)
class LifeEntry:
    """One version.

    Attributes:
        when: "2026-11-20 7f3a2c1"; "not committed yet".
        subject: The commit's; may be empty.
        facts: What moved.
        figures: What it comes to, a phrase each: "18.1 % vol".
    """

    when: str
    subject: str
    facts: tuple[LifeFact, ...]
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LifePage:
    """A drink's life.

    Attributes:
        name: The drink.
        slug: Its file's name.
        entries: The newest first.
        wide: The chart for a desk and for paper: an SVG element.
        narrow: The same for a phone.
        notes: What the reader must know of the page itself.
    """

    name: str
    slug: str
    entries: tuple[LifeEntry, ...]
    wide: str
    narrow: str
    notes: tuple[str, ...]


def life_page(page: LifePage) -> str:
    """Return the page as HTML that loads nothing: its style is in it, and its policy allows no other."""
    template = _environment().from_string(_text("life.html"))
    own = {"style": _text("life.css"), "wide": page.wide, "narrow": page.narrow}
    # The style is ours, and the charts are drawn with every word of a user's escaped.
    html = template.render(page=page, **{name: Markup(text) for name, text in own.items()})  # noqa: S704
    return seal(html)


@cache
def _environment() -> LookTemplates:
    return LookTemplates(())


@cache
def _text(name: str) -> str:
    return files("menugen.writing").joinpath("private_pages", name).read_text("utf-8")
