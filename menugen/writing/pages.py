"""What each template receives: one typed object, with every text and link ready to be placed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from menugen.menu import AllergenMark, Choice, GuestDrink, GuestMenu, GuestSwap, Notice, TableColumn


@dataclass(frozen=True, slots=True)
class Link:
    """A way to another place; `name` is what it says, and `language` its BCP 47 where it is not the page's."""

    address: str
    name: str
    language: str = ""


@dataclass(frozen=True, slots=True)
class Posted:
    """What is shown where someone posts a page's address: Open Graph has these from addresses that are whole.

    Attributes:
        title: What the page is of.
        address: Of the page.
        picture: Of the picture.
        width: The picture's, pixels.
        height: The picture's, pixels.
    """

    title: str
    address: str
    picture: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Frame:
    """What surrounds every page.

    Attributes:
        title: Of the page; different on each.
        menu: The whole menu.
        words: Interface words, with their names filled in.
        root: What leads from here to the site's root: "" or "../".
        links: To the sections, and from other pages to the whole menu; may be empty.
        sections: Those links as they stand on the page; empty where there are none.
        ways: To the same page in the menu's other languages, each named in its own; may be empty.
        letters: The script that asks for the look's fonts; empty where the page shows none.
        stylesheet: The stylesheet's address from here; empty where the styles lie inside the page.
        style: Styles inside the page; may be empty.
        icons: The symbols of the icons used on this page; may be empty.
        saving: The script that has the phone keep a copy; empty on a page it cannot keep.
        description: What the page is about in a line, for search engines and posted links; may be empty.
        posted: None where the site has no address yet.
    """

    title: str
    menu: GuestMenu
    words: Mapping[str, str]
    root: str
    links: tuple[Link, ...]
    sections: Markup
    ways: tuple[Link, ...]
    letters: Markup
    stylesheet: str
    style: Markup
    icons: Markup
    saving: Markup
    description: str
    posted: Posted | None


@dataclass(frozen=True, slots=True)
class Ticked:
    """What boxes of the filter must be ticked for something to happen; never where both are empty.

    Attributes:
        any: One of these, words with spaces between.
        every: One for each way of a family, by the family's number.
    """

    any: str
    every: str


@dataclass(frozen=True, slots=True)
class WayTicks:
    """When a way of making a drink is offered.

    Attributes:
        out: It is not, once one of these is ticked.
        wanted: It is, once no simpler way is left.
    """

    out: str
    wanted: Ticked


@dataclass(frozen=True, slots=True)
class DrinkTicks:
    """What a drink, and each thing that stands with it on a menu, is shown or hidden by.

    Attributes:
        out: It is hidden, as no way of it is left.
        as_written_out: One of these puts it out as it is written.
        none_besides: Nothing is left to say of how else it could be made while it can be had as written.
        swaps: One of these puts out the swap at that place.
        ways: When each way but the one as written is offered in its place: each swap, then those made at once.
    """

    out: Ticked
    as_written_out: str
    none_besides: Ticked
    swaps: tuple[str, ...]
    ways: tuple[WayTicks, ...]


@dataclass(frozen=True, slots=True)
class WayView:
    """A way of making a drink other than as written."""

    swap: GuestSwap
    ticks: WayTicks


@dataclass(frozen=True, slots=True)
class DrinkView:
    """A drink, its notes made safe.

    Attributes:
        drink: The drink.
        address: Of its own page, from this page.
        lead: One paragraph; may be empty.
        more: Whether the lead is cut and goes on at its own page.
        story: Paragraphs; empty outside the drink's own page.
        ticks: What the filter does with it.
        ways: How else it can be made.
        picture: The drink's photo, else its glass, drawn; may be empty.
    """

    drink: GuestDrink
    address: str
    lead: Markup
    more: bool
    story: Markup
    ticks: DrinkTicks
    ways: tuple[WayView, ...]
    picture: Markup


@dataclass(frozen=True, slots=True)
class SectionView:
    """A section with its anchor and its note made safe; languages as in GuestSection."""

    anchor: str
    name: str
    note: Markup
    drinks: Sequence[DrinkView]
    name_language: str
    note_language: str


@dataclass(frozen=True, slots=True)
class ChoiceView:
    """A box of the filter; `token` names it in attributes and style rules."""

    token: str
    choice: Choice


@dataclass(frozen=True, slots=True)
class MenuPage:
    """The menu, or the table menu.

    Attributes:
        frame: What surrounds it.
        sections: The drinks.
        choices: Of the filter.
        any_off: Whether a drink is sold out; the filter offers to hide them only then.
        notices: The prominent ones.
        long: Whether the menu fills two columns where there is room for them.
        data: The menu for search engines, JSON-LD; empty on the table menu and where it may not be listed.
    """

    frame: Frame
    sections: Sequence[SectionView]
    choices: tuple[ChoiceView, ...]
    any_off: bool
    notices: tuple[Notice, ...]
    long: bool
    data: Markup


@dataclass(frozen=True, slots=True)
class DrinkPage:
    """One drink with all its facts and its swaps."""

    frame: Frame
    view: DrinkView


@dataclass(frozen=True, slots=True)
class TableRow:
    """A drink among the allergens, in a table where there is room for one and in a list where there is not.

    Attributes:
        name: Of the drink.
        language: BCP 47 of the name where it is not the page's.
        address: Of its own page.
        off: Whether it is sold out.
        cells: One a column: "contains", "may contain", "distilled from" or "" (not listed).
        contains: The same as a list says it.
        may_contain: Likewise.
        distilled_from: Likewise.
        not_listed: The columns that are left.
    """

    name: str
    language: str
    address: str
    off: bool
    cells: tuple[str, ...]
    contains: tuple[AllergenMark, ...]
    may_contain: tuple[AllergenMark, ...]
    distilled_from: tuple[AllergenMark, ...]
    not_listed: tuple[AllergenMark, ...]


@dataclass(frozen=True, slots=True)
class SectionTable:
    """The allergen table of one section; `language` is that of the name where it is not the page's."""

    anchor: str
    name: str
    language: str
    rows: Sequence[TableRow]


@dataclass(frozen=True, slots=True)
class AllergenPage:
    """Drinks by allergens. With no columns there is no table, and a sentence says why.

    Attributes:
        frame: What surrounds it.
        columns: Allergens.
        tables: One a section.
        width: How much room the columns ask for: "narrow", "wide" or "widest".
    """

    frame: Frame
    columns: tuple[TableColumn, ...]
    tables: Sequence[SectionTable]
    width: Literal["narrow", "wide", "widest"]


@dataclass(frozen=True, slots=True)
class NoticeGroup:
    """Notices under one heading, those of one topic together."""

    heading: str
    topics: tuple[tuple[Notice, ...], ...]


@dataclass(frozen=True, slots=True)
class NoticePage:
    """Strength, law and help."""

    frame: Frame
    groups: tuple[NoticeGroup, ...]


@dataclass(frozen=True, slots=True)
class MissingPage:
    """What a host shows for an address that is not there; `home` leads to the menu."""

    frame: Frame
    home: str


Page = MenuPage | DrinkPage | AllergenPage | NoticePage | MissingPage
"""What a template of a whole page receives."""
