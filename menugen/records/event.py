"""One occasion with a date, a place, guests and a menu."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from typing import NamedTuple

from menugen.problems import Place
from menugen.records.translation import EventWords, SectionWords


class Hours(NamedTuple):
    """From when to when the bar serves; an end before the start is the next morning."""

    start: time
    end: time


@dataclass(frozen=True, slots=True)
class MenuEntry:
    """One drink on the menu.

    Attributes:
        slug: The spec.
        price: What a guest pays, in the event's currency; 0 is free, None is not said.
    """

    slug: str
    price: Decimal | None
    place: Place


@dataclass(frozen=True, slots=True)
class MenuSection:
    """A heading on the menu with its drinks.

    Attributes:
        name: As guests read it.
        entries: Its drinks.
        place: Where it was written.
        id: Its anchor on a page, made of its name as written: a link to it holds in every language, and when another
            section has sold out.
        note: Markdown for guests; may be empty.
        translations: By BCP 47.
        comments: What stands in its notes as a comment, in any language. Private.
    """

    name: str
    entries: tuple[MenuEntry, ...]
    place: Place
    id: str = ""
    note: str = ""
    translations: Mapping[str, SectionWords] = field(default_factory=dict)
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One event, as written.

    Attributes:
        slug: The file's name without ".yaml", NFC; the folder it is published to.
        name: As guests read it.
        date: The day it begins; it decides which rules of the region hold.
        hours: None where not said.
        venue: Where it is; empty where not said.
        region: ISO 3166 code, upper case; the house's where the event says none.
        currency: ISO 4217; empty means the region's.
        languages: BCP 47, first is the one the QR opens; the house's, else the region's first, where none is said.
        guests: How many are expected. Private.
        tables: How many get a card of their own; None means one card for all.
        address: Where the site will lie, ending in "/"; empty where not said.
        printed: The version the printed cards carry, "7f3a2c1"; empty where not said.
        theme: The look; empty means the house's, else the default.
        equipment: What is shared between drinks, as typed.
        bottles: Which stock fills a name tonight: name -> stock name, both as typed.
        sections: The menu.
        pours_alcohol: Whether anything with alcohol may be poured: not with `alcohol: none`.
        hosted: Whether someone else pays for the guests' drinks, so that they are shown no prices.
        off: Slugs sold out right now.
        hide_off: Whether sold-out drinks leave the page.
        listed: Whether search engines may list the pages; they may unless the event says no.
        translations: By BCP 47.
    """

    slug: str
    name: str
    date: date
    hours: Hours | None = None
    venue: str = ""
    region: str = ""
    currency: str = ""
    languages: tuple[str, ...] = ()
    guests: int | None = None
    tables: int | None = None
    address: str = ""
    printed: str = ""
    theme: str = ""
    equipment: tuple[str, ...] = ()
    pours_alcohol: bool = True
    hosted: bool = False
    bottles: Mapping[str, str] = field(default_factory=dict)
    sections: tuple[MenuSection, ...]
    off: tuple[str, ...] = ()
    hide_off: bool = False
    listed: bool = True
    translations: Mapping[str, EventWords] = field(default_factory=dict)
    place: Place

    @property
    def has_prices(self) -> bool:
        """Whether guests are shown a price of any drink, "free" among them."""
        return not self.hosted and any(
            entry.price is not None for section in self.sections for entry in section.entries
        )

    @property
    def charges(self) -> bool:
        """Whether guests are shown a price of any drink that is more than nothing."""
        return any(self.shown_price(entry) for section in self.sections for entry in section.entries)

    def shown_price(self, entry: MenuEntry) -> Decimal | None:
        """Return the price of a drink that guests are shown; None where there is none, and where someone else pays."""
        return None if self.hosted else entry.price
