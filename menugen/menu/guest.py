"""The records a guest's pages are made of. Every text is final: rounded, formatted and in the guest's language."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, Literal, NamedTuple


class PageText(NamedTuple):
    """A text of the user's for a page, or a stretch of a sentence.

    Attributes:
        text: As it stands on the page.
        language: BCP 47 where it is not the page's; empty where it is.
    """

    text: str
    language: str = ""


@dataclass(frozen=True, slots=True)
class NamedSubstance:
    """One thing that a label names.

    Attributes:
        id: "almond".
        word: What the menu says: "almonds".
    """

    id: str
    word: str


@dataclass(frozen=True, slots=True)
class AllergenMark:
    """One thing a drink contains, may contain or was distilled from.

    Attributes:
        id: The entry of the region's list ("nuts"), or the substance itself where the region lists nothing for it
            ("coconut"). Also what the filter hides by.
        word: What the menu says: "almonds", "milk".
        icon: Name of the icon in themes/base/icons; empty if there is none.
        substances: Each of the things that `word` names.
    """

    id: str
    word: str
    icon: str
    substances: tuple[NamedSubstance, ...] = ()


@dataclass(frozen=True, slots=True)
class GuestFact:
    """One more thing that holds of a way of making a drink, or is not known to: an entry of the table of facts.

    Attributes:
        key: What `menu.json` calls it: "vegan".
        text: What the page says where it holds.
        holds: Whether it is known to hold.
    """

    key: str
    text: str
    holds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWay:
    """What guests are shown of one way of making a drink: as written, or with swaps made.

    Attributes:
        strength: "about 14 %", or the region's word ("alcohol free") where it holds; empty at an event that says
            nothing of alcohol, as none may be poured there.
        units: "1.4 units", "less than 0.1 units"; "about 1.8 units in one serve, 18 units in all" of a drink that
            guests share; empty without alcohol.
        alcohol_free: Whether the region's threshold for an alcohol-free drink is met, error included.
        contains: In the order of the region's list.
        may_contain: The same; never repeats `contains`.
        distilled_from: What spirits in it were distilled from, where the law of the place does not settle that it need
            not be said; never repeats the other two, and is to be treated with the same caution.
        distilled_words: All that those spirits were distilled from, in stretches of one language.
        also_named: What labels name and no law of the place lists, as they say it; may be empty.
        also_warned_of: The same of what labels warn of.
        cautions: Sentences for guests, most grave first.
        caution_ids: What each of `cautions` is about, in the same order: "raw egg".
        facts: What else the table of facts has for guests, whether it holds or not.
    """

    strength: str
    units: str
    alcohol_free: bool = False
    contains: tuple[AllergenMark, ...]
    may_contain: tuple[AllergenMark, ...]
    distilled_from: tuple[AllergenMark, ...] = ()
    distilled_words: tuple[PageText, ...] = ()
    also_named: tuple[PageText, ...] = ()
    also_warned_of: tuple[PageText, ...] = ()
    cautions: tuple[str, ...] = ()
    caution_ids: tuple[str, ...] = ()
    facts: tuple[GuestFact, ...] = field(default=(), repr=False)

    @property
    def known_facts(self) -> tuple[GuestFact, ...]:
        """What of `facts` holds."""
        return tuple(fact for fact in self.facts if fact.holds)

    @property
    def ids(self) -> frozenset[str]:
        """All that it contains, may contain or was distilled from, by the ids the filter hides by."""
        return frozenset(mark.id for mark in (*self.contains, *self.may_contain, *self.distilled_from))

    def by_field(self) -> dict[str, Any]:
        """Return all of the above by name, for the drink or the swap that is made this way."""
        return {one.name: getattr(self, one.name) for one in fields(ShownWay)}


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestSwap(ShownWay):
    """A stated alternative, or several at once, worked out like a drink of its own.

    Attributes:
        runs: "oat cream instead of single cream", in stretches of one language.
        name: "oat cream", what is used instead; None where several swaps are made.
        brings: What the drink as written does not have, in short: "adds oats (gluten)", "alcohol free".
        of: Positions among the drink's swaps: its own alone, or of those that are made at once.
        id: The same in every language of the menu: "egg white -> aquafaba".
    """

    runs: tuple[PageText, ...]
    name: PageText | None = None
    brings: tuple[str, ...] = ()
    of: tuple[int, ...] = ()
    id: str = ""

    @property
    def text(self) -> str:
        """The whole sentence."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class GlassPicture:
    """What is needed to draw a drink in its glass, to scale. All lengths in mm.

    Attributes:
        glass: The kind of glass ("coupe").
        profile_mm: (height, inner radius) from the bottom of the bowl to the rim.
        stem_mm: Height of the stem and foot under the bowl; 0 for none.
        foot_mm: Radius of the foot; 0 for none.
        level_mm: Height of the liquid's surface above the bottom of the bowl, ice included.
        foam_mm: Thickness of the foam on the surface; 0 for none.
        liquid: "#rrggbb".
        float_colour: "#rrggbb" of a float; empty for none.
        float_mm: Thickness of the float; 0 for none.
        ice: "none", "cubed", "large cube", "crushed".
        cubes: How many cubes lie in the drink; 1 for a large cube, 0 for ice that is no cubes.
        cube_mm: Side of one cube; 0 where there is none.
        cube_foot_mm: How high over the bottom of the bowl a large cube stands or floats; 0 for other ice.
        less_ice: Whether there is less ice than usual, since the drink needs the room.
        rim: Whether the rim is dressed.
        inside: Whether sauce runs down the inside.
        inside_colour: "#rrggbb" of that sauce; empty for none.
        garnish: As the spec names them; writing/drawing.py draws those it has a glyph for.
    """

    glass: str
    profile_mm: tuple[tuple[float, float], ...]
    stem_mm: float
    foot_mm: float
    level_mm: float
    foam_mm: float
    liquid: str
    float_colour: str
    float_mm: float
    ice: Literal["none", "cubed", "large cube", "crushed"]
    cubes: int
    cube_mm: float
    cube_foot_mm: float
    less_ice: bool
    rim: bool
    inside: bool
    inside_colour: str
    garnish: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestDrink(ShownWay):
    """One drink on the menu, shown as it is written.

    Attributes:
        id: The slug; also the page's file name and the anchor.
        name: As the spec has it.
        lead: Markdown, one paragraph: the line that tempts; may be empty.
        story: Markdown, the rest of the guest's notes, for the drink's own page; may be empty.
        made_with: "gin, lemon juice, samphire syrup, egg white": kinds, no measures.
        price: "£9.50" or "free"; empty where nothing is said of it.
        off: Sold out right now.
        glass: "coupe".
        picture: None where the glass has no measured profile.
        swaps: Stated alternatives.
        name_language: BCP 47 of the name where it is not the page's; empty otherwise.
        notes_language: The same, of lead and story.
        made_with_language: The same.
        glass_language: The same.
        price_value: The price for machines, "9.50", "0", in the menu's currency; empty where nothing is said of it.
        combined: Swaps made at once that leave out what none of them does alone; not all there could be.
        serves: How many guests share it; 1 for one guest's drink. Strength and price are of the whole.
        serves_words: "10 serves"; empty for one guest's drink.
        price_for: What the price is for: "for all 10 serves"; empty for one guest's drink, and where there is none.
    """

    id: str
    name: str
    lead: str
    story: str
    made_with: str
    price: str
    off: bool
    glass: str
    picture: GlassPicture | None
    swaps: tuple[GuestSwap, ...]
    name_language: str = ""
    notes_language: str = ""
    made_with_language: str = ""
    glass_language: str = ""
    price_value: str = ""
    combined: tuple[GuestSwap, ...] = ()
    serves: int = 1
    serves_words: str = ""
    price_for: str = ""

    @property
    def ways(self) -> "tuple[GuestDrink | GuestSwap, ...]":
        """Every way to make it: as written, with one swap, with several."""
        return (self, *self.swaps, *self.combined)


@dataclass(frozen=True, slots=True)
class GuestSection:
    """A heading with its drinks.

    Attributes:
        id: Part of its anchor; the same in every language of the menu.
        name: The heading.
        note: Markdown, one paragraph; may be empty.
        drinks: In order.
        name_language: BCP 47 of the name where it is not the page's; empty otherwise.
        note_language: The same, of the note.
    """

    id: str
    name: str
    note: str
    drinks: tuple[GuestDrink, ...]
    name_language: str = ""
    note_language: str = ""


@dataclass(frozen=True, slots=True)
class TableColumn:
    """A column of the allergen table: an entry of the region's list that some drink is declared with in any way."""

    mark: AllergenMark


@dataclass(frozen=True, slots=True)
class Choice:
    """One box of the filter: leaves out drinks that contain or may contain this, or were distilled from it.

    A drink stays while some way of making it is left.

    Attributes:
        id: What it leaves out.
        label: Its name.
        icon: Name of the icon; empty if there is none.
        left: How many drinks are left where this box alone is ticked, "12 of 15"; empty where nobody counted.
    """

    id: str
    label: str
    icon: str
    left: str = ""


@dataclass(frozen=True, slots=True)
class Notice:
    """One sentence of the responsible-drinking notices.

    Attributes:
        id: Stable name, unique on the page.
        topic: What it is about; notices of one topic stand together.
        text: Plain text; empty where the wording says it all.
        required: Whether the place's rules ask for it on the menu, as far as our data knows.
        prominent: Whether it belongs on the menu itself and the table menu, not only on the notices page.
        text_language: BCP 47 of the text where it is not the page's; empty otherwise.
        wording: The law's own words, which no translation takes the place of: they stand before the text. Empty where
            the law fixes none, and where they are in the page's language and so are the text.
        wording_language: BCP 47 of the wording.
    """

    id: str
    topic: Literal[
        "allergens",
        "age",
        "strength",
        "pregnancy",
        "driving",
        "water",
        "help",
        "health",
        "measures",
        "prices",
        "house",
    ]
    text: str
    required: bool
    prominent: bool
    text_language: str = ""
    wording: str = ""
    wording_language: str = ""


@dataclass(frozen=True, slots=True)
class LanguageLink:
    """The way to the same menu in another language.

    Attributes:
        code: BCP 47.
        name: In that language: "Français".
        root: What leads from this menu's root to that one's: "fr/" or "../".
    """

    code: str
    name: str
    root: str


@dataclass(frozen=True, slots=True)
class CardChange:
    """What is otherwise than a printed card's menu has it, of all ways to make a drink that it is so of.

    Attributes:
        made: The names of those drinks, each with its swap where it is made with one; in stretches of one language.
        told: "now contains sulphites; may now contain celery, mustard".
    """

    made: tuple[PageText, ...]
    told: str

    @property
    def text(self) -> str:
        """The line as one text."""
        return f"{''.join(said.text for said in self.made)} – {self.told}"


@dataclass(frozen=True, slots=True)
class SinceCard:
    """What guests must know of allergens who hold a printed card; never empty.

    Attributes:
        gained: What the card does not warn of, or cannot be compared; gravest first.
        lost: What it names and labels no longer do.
        advice: Sentences.
    """

    gained: tuple[CardChange, ...] = ()
    lost: tuple[CardChange, ...] = ()
    advice: tuple[str, ...] = ()

    def sentences(self) -> tuple[str, ...]:
        """Return all of it, a text a line."""
        return (*(change.text for change in (*self.gained, *self.lost)), *self.advice)


@dataclass(frozen=True, slots=True)
class GuestMenu:
    """All that may be written for the guests of one event.

    Attributes:
        slug: The event's.
        house: The bar's name.
        event: The event's name.
        when: "Saturday 12 December 2026, 7 pm to 12:30 am"; worked out from the event, never from the clock.
        venue: May be empty.
        language: BCP 47 of every text but the user's own words.
        direction: Of the language.
        theme: Name of the look.
        sections: The menu.
        columns: Of the allergen table.
        choices: Of the filter, in the order of the region's list.
        has_alcohol_free: Whether any drink is or can be made so; the filter offers it only then.
        notices: In the order they are shown.
        kitchen: The honest cross-contact sentence(s), from the event's shared equipment.
        price_note: "Prices include VAT." or the like; empty where there are no prices, and where nobody said.
        region_name: "England".
        contact: How to reach the bar; may be empty.
        address: Where the site will lie; empty where not said.
        tables: Table numbers that get a card of their own; empty means one card for all.
        listed: Whether search engines may list the pages.
        version: What a saved copy and a table card can be told apart by; the same in all languages of an event.
        words: Interface words by id, in the language: see menu/words.py for the list.
        folder: Where it lies in the event's site: empty for the first language, "fr/" for a further one.
        languages: The ways to the other languages; empty where there is one only.
        event_language: BCP 47 of the event's name where it is not the page's; empty otherwise.
        venue_language: The same, of the venue.
        currency: Of the prices, ISO 4217; empty where there are none.
        date: The day of the event, ISO 8601.
        uncommitted: Whether the house's files differed from the revision that `version` begins with.
        version_line: "Menu 7f3a2c1 · 12 December 2026", for the small type of pages and cards.
        since_card: For guests who hold a printed card that says otherwise of allergens; None where none does.
        region_code: ISO 3166 of the place whose rules hold.
        has_alcohol: Whether any drink holds some. Where none does, nothing is said of age, units or driving.
        free_left: How many drinks are or can be made alcohol-free, "4 of 15".
        on_left: How many drinks are not sold out, "13 of 15".
    """

    slug: str
    house: str
    event: str
    when: str
    venue: str
    language: str
    direction: Literal["ltr", "rtl"]
    theme: str
    sections: tuple[GuestSection, ...]
    columns: tuple[TableColumn, ...]
    choices: tuple[Choice, ...]
    has_alcohol_free: bool
    notices: tuple[Notice, ...]
    kitchen: tuple[str, ...]
    price_note: str
    region_name: str
    contact: str
    address: str
    tables: tuple[int, ...]
    listed: bool
    version: str
    words: Mapping[str, str]
    folder: str = ""
    languages: tuple[LanguageLink, ...] = ()
    event_language: str = ""
    venue_language: str = ""
    currency: str = ""
    date: str = ""
    uncommitted: bool = False
    version_line: str = ""
    since_card: SinceCard | None = None
    region_code: str = ""
    has_alcohol: bool = True
    free_left: str = ""
    on_left: str = ""
