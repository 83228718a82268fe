"""Menus of our own invention for the tests of pages: a full evening, a single drink, and a very long list."""

from collections.abc import Mapping
from dataclasses import replace

from menugen.menu import (
    WORDS,
    AllergenMark,
    CardChange,
    Choice,
    GlassPicture,
    GuestDrink,
    GuestMenu,
    GuestSection,
    GuestSwap,
    Notice,
    PageText,
    SinceCard,
    TableColumn,
)
from menugen.menu.guest import NamedSubstance
from menugen.writing.cards import lay_cards
from menugen.writing.checked_output import CheckedOutput
from menugen.writing.output import Memory
from menugen.writing.photos import Photo
from menugen.writing.pieces import in_pieces
from menugen.writing.site import lay_site
from menugen.writing.theme import Theme

MILK = AllergenMark("milk", "milk", "milk")
EGG = AllergenMark("egg", "egg", "egg", (NamedSubstance("hen egg", "egg"),))
ALMOND = AllergenMark("nuts", "almonds", "nuts")
HAZELNUT = AllergenMark("nuts", "hazelnuts", "nuts")
CELERY = AllergenMark("celery", "celery", "celery")
FISH = AllergenMark("fish", "fish", "fish")
MUSTARD = AllergenMark("mustard", "mustard", "mustard")
SESAME = AllergenMark("sesame", "sesame", "sesame")
SULPHITES = AllergenMark("sulphites", "sulphites", "sulphites")
BARLEY = AllergenMark("cereals", "barley", "cereals")
SOYA = AllergenMark("soybeans", "soya", "soy")
COCONUT = AllergenMark("coconut", "coconut", "coconut")
ALL_MARKS = (BARLEY, EGG, FISH, SOYA, MILK, ALMOND, CELERY, MUSTARD, SESAME, SULPHITES, COCONUT)

SINCE_CARD = SinceCard(
    gained=(
        CardChange(
            (PageText("Saltmarsh Sour, Hedge School"),),
            "each now contains sulphites; each may now contain celery",
        ),
        CardChange(
            (
                PageText("The Lighthouse Keeper's Long Winter Evening by the Iron Stove ("),
                PageText("Johannisbeerschaumwein", "de"),
                PageText(" instead of oat cream)"),
            ),
            "now contains almonds",
        ),
    ),
    lost=(CardChange((PageText("Lamplighter"),), "labels no longer name milk"),),
    advice=("Ask us before you rely on what labels no longer name.",),
)
"""What a printed card says otherwise: a row of names, a name as long as any with a swap in another language, a loss."""

PROFILES = {
    "coupe": (((0.0, 4.0), (6.0, 22.0), (16.0, 38.0), (34.0, 47.0), (46.0, 48.0)), 78.0, 34.0),
    "highball": (((0.0, 27.0), (4.0, 29.0), (142.0, 32.0)), 0.0, 0.0),
    "rocks": (((0.0, 36.0), (5.0, 38.0), (86.0, 42.0)), 0.0, 0.0),
    "wine": (((0.0, 5.0), (14.0, 28.0), (40.0, 41.0), (72.0, 38.0), (96.0, 33.0)), 85.0, 36.0),
}


def picture(
    glass: str, liquid: str, *, ice: str = "none", foam: float = 0.0, garnish: str = "twist"
) -> GlassPicture:
    profile, stem, foot = PROFILES[glass]
    return GlassPicture(
        glass=glass,
        profile_mm=profile,
        stem_mm=stem,
        foot_mm=foot,
        level_mm=profile[-1][0] * 0.82,
        foam_mm=foam,
        liquid=liquid,
        float_colour="",
        float_mm=0.0,
        ice=ice,  # type: ignore[arg-type]
        cubes={"cubed": 7, "large cube": 1}.get(ice, 0),
        cube_mm={"cubed": 25.0, "large cube": 45.0}.get(ice, 0.0),
        cube_foot_mm=0.0,
        less_ice=False,
        rim=False,
        inside=False,
        inside_colour="",
        garnish=(garnish,),
    )


def drink(identity: str, name: str, **changes: object) -> GuestDrink:
    base: dict[str, object] = {
        "id": identity,
        "name": name,
        "lead": "Cold, dry and salty.",
        "story": "",
        "made_with": "dry gin, fino sherry, samphire syrup",
        "strength": "about 18 %",
        "units": "1.6 units",
        "alcohol_free": False,
        "contains": (),
        "may_contain": (),
        "cautions": (),
        "price": "£9.50",
        "off": False,
        "glass": "coupe",
        "picture": picture("coupe", "#d9c98a"),
        "swaps": (),
    }
    return GuestDrink(**{**base, **changes})  # type: ignore[arg-type]


def swap(
    of: tuple[int, ...],
    new: str,
    old: str,
    strength: str,
    contains: tuple[AllergenMark, ...] = (),
    may_contain: tuple[AllergenMark, ...] = (),
    **changes: object,
) -> GuestSwap:
    base: dict[str, object] = {
        "runs": (PageText(f"{new} instead of {old}"),),
        "strength": strength,
        "units": "",
        "contains": contains,
        "may_contain": may_contain,
        "name": PageText(new),
        "alcohol_free": strength == "alcohol free",
        "of": of,
    }
    return GuestSwap(**{**base, **changes})  # type: ignore[arg-type]


def _sections() -> tuple[GuestSection, ...]:
    sour = drink(
        "saltmarsh-sour",
        "Saltmarsh Sour",
        lead="Bright, saline and silky: a hedgerow sour with a *wave* in it.",
        story="First made for a wedding on the mud flats.\n\n# How it drinks\n\nSharp, then [soft](https://example.org/).",
        made_with="dry gin, lemon juice, samphire syrup, egg white",
        strength="about 16 %",
        units="2 units",
        contains=(EGG, SULPHITES),
        may_contain=(MILK,),
        cautions=("Made with raw egg white.",),
        picture=picture("coupe", "#e6dd9c", foam=9.0),
        swaps=(
            swap((0,), "aquafaba", "egg white", "about 16 %", (SULPHITES,), (MILK,), units="2 units"),
            swap((1,), "juniper water", "dry gin", "alcohol free", (EGG, SULPHITES), (MILK,)),
        ),
        combined=(
            replace(
                swap((0, 1), "aquafaba", "egg white", "alcohol free", (SULPHITES,), (MILK,)),
                runs=(PageText("aquafaba instead of egg white, juniper water instead of dry gin"),),
                name=None,
            ),
        ),
    )
    harbour = drink("quiet-harbour", "Quiet Harbour", contains=(SULPHITES,), off=True, price="£6.00")
    orchard = drink(
        "orchard-gate",
        "Orchard Gate",
        lead="Pressed apple, cold tea and a little smoke. Nobody will ask why you are not drinking.",
        made_with="pressed apple juice, smoked black tea, verjus, soda water",
        strength="alcohol free",
        units="",
        alcohol_free=True,
        price="£5.00",
        glass="highball",
        picture=picture("highball", "#b8742c", ice="cubed", garnish="wheel"),
    )
    tide = drink(
        "ebb-tide",
        "Ebb Tide",
        price="£8.50",
        contains=(FISH, CELERY, MUSTARD),
        may_contain=(SULPHITES,),
        lead="Tomato water, celery and a dark savoury finish, long over ice.",
        glass="highball",
        made_with="vodka, tomato water, celery bitters, savoury sauce",
        strength="about 11 %",
        units="1.9 units",
        picture=picture("highball", "#b5442f", ice="cubed", garnish="sprig"),
    )
    long_name = drink(
        "the-very-long-evening",
        "The Long Evening at the Far End of the Old Boathouse Landing",
        lead="Dark rum, walnut and burnt sugar, stirred until the talk slows down.",
        made_with="dark rum, walnut liqueur, burnt sugar syrup, aromatic bitters",
        strength="about 28 %",
        units="2.6 units",
        contains=(ALMOND, HAZELNUT, SULPHITES),
        may_contain=(MILK, SESAME),
        price="",
        glass="rocks",
        picture=picture("rocks", "#5a2a12", ice="large cube"),
    )
    cream = drink(
        "lamplighter",
        "Lamplighter",
        contains=(MILK, BARLEY),
        may_contain=(ALMOND, HAZELNUT),
        glass="rocks",
        lead="Hot coffee, whisky and cold cream. Drink it through the cream.",
        price="£10.00",
        made_with="blended whisky, filter coffee, brown sugar syrup, single cream",
        strength="about 13 %",
        units="1.8 units",
        cautions=("Served hot.", "Contains caffeine."),
        picture=picture("rocks", "#2a1509", foam=12.0, garnish="grating"),
        swaps=(
            swap((0,), "oat cream", "single cream", "about 13 %", (BARLEY,), (ALMOND,), units="1.8 units"),
        ),
    )
    more = [
        drink(
            "glasshouse",
            "Glasshouse",
            lead="Cucumber, dill and white port with tonic.",
            contains=(SULPHITES,),
            made_with="white port, cucumber, dill, tonic water",
            strength="about 7 %",
            units="1 unit",
            glass="wine",
            price="£8.00",
            picture=picture("wine", "#cfe0a4", ice="cubed", garnish="cucumber"),
        ),
        drink(
            "brass-band",
            "Brass Band",
            lead="Rye, sweet vermouth and a bitter orange liqueur.",
            contains=(SULPHITES,),
            made_with="rye, sweet vermouth, bitter orange liqueur",
            strength="about 27 %",
            units="2.7 units",
            picture=picture("coupe", "#8c2f12", garnish="cherry"),
        ),
        drink(
            "small-hours",
            "Small Hours",
            lead="Coffee and coconut, shaken very cold.",
            contains=(COCONUT,),
            made_with="aged rum, coffee, coconut cream",
            strength="about 15 %",
            units="1.7 units",
            picture=picture("coupe", "#3a1d0e", foam=6.0, garnish="bean"),
        ),
        drink(
            "hedge-school",
            "Hedge School",
            lead="Blackberry, thyme and gin over crushed ice.",
            contains=(SULPHITES,),
            made_with="dry gin, blackberry liqueur, lemon juice, thyme",
            strength="about 17 %",
            units="1.9 units",
            glass="rocks",
            picture=picture("rocks", "#6b1d4a", ice="crushed", garnish="sprig"),
        ),
        drink(
            "sesame-and-ash",
            "Sesame and Ash",
            lead="Smoky, nutty, dry.",
            contains=(SESAME,),
            may_contain=(ALMOND,),
            made_with="agave spirit, tahini and date syrup, lime juice",
            glass="rocks",
            price="£10.50",
            picture=picture("rocks", "#c9b183", ice="large cube", garnish="wedge"),
        ),
        drink(
            "low-water",
            "Low Water",
            lead="Dry cider, lemon and sage.",
            contains=(SULPHITES,),
            glass="wine",
            made_with="dry cider, lemon juice, sage syrup",
            strength="about 4 %",
            units="0.7 units",
            price="£6.50",
            picture=picture("wine", "#e0c766", ice="cubed", garnish="leaf"),
        ),
        drink(
            "milk-round",
            "Milk Round",
            lead="",
            contains=(MILK,),
            may_contain=(),
            strength="alcohol free",
            units="",
            alcohol_free=True,
            made_with="whole milk, cardamom, rosewater",
            swaps=(
                swap((0,), "oat drink", "whole milk", "alcohol free", (BARLEY,), brings=("adds barley",)),
                swap((1,), "soya drink", "whole milk", "alcohol free", (SOYA,), brings=("adds soya",)),
            ),
            price="£4.50",
            glass="highball",
            picture=picture("highball", "#f3ead7", ice="cubed", garnish="flower"),
        ),
        drink(
            "bitter-rind",
            "Bitter Rind",
            lead="Grapefruit, tonic, a stiff pinch of salt.",
            contains=(),
            strength="alcohol free",
            units="",
            alcohol_free=True,
            made_with="grapefruit juice, tonic water, salt",
            price="£4.50",
            glass="highball",
            picture=None,
        ),
    ]
    return (
        GuestSection(
            "before-supper",
            "Before supper",
            "Short, cold and dry.",
            (sour, harbour, orchard, more[0], more[5]),
        ),
        GuestSection("with-supper", "With supper", "", (tide, more[3], more[4], more[6], more[7])),
        GuestSection("after-dark", "After dark", "Slow ones.", (long_name, cream, more[1], more[2])),
    )


NOTICES = (
    Notice(
        "ask",
        "allergens",
        "Ask the bar about allergens before you order. Ingredients can change during the evening.",
        True,
        True,
    ),
    Notice(
        "age",
        "age",
        "Alcohol is sold to people of 18 and over. You may be asked for proof of age.",
        True,
        True,
    ),
    Notice(
        "pregnancy",
        "pregnancy",
        "If you are pregnant or trying, the safest choice is no alcohol.",
        False,
        True,
    ),
    Notice("driving", "driving", "If you are driving, choose a drink without alcohol.", False, True),
    Notice(
        "measures",
        "measures",
        "Spirits are poured in 25 ml and 35 ml measures or multiples of them.",
        True,
        False,
    ),
    Notice("water", "water", "Tap water is free: ask at the bar.", True, True),
    Notice("units", "strength", "A unit is 10 ml of pure alcohol.", False, False),
    Notice(
        "help",
        "help",
        "Worried about your own drinking or someone else's? A doctor can help in confidence.",
        False,
        False,
    ),
    Notice("house", "house", "We stop pouring at half past midnight.", False, False),
)


def _left(drinks: list[GuestDrink], without: str) -> str:
    left = [d for d in drinks if not all(without in way.ids for way in d.ways)]
    return f"{len(left)} of {len(drinks)}"


def menu_of(sections: tuple[GuestSection, ...], **changes: object) -> GuestMenu:
    drinks = [d for section in sections for d in section.drinks]
    found = {mark.id for d in drinks for mark in (*d.contains, *d.may_contain)}
    marks = [mark for mark in ALL_MARKS if mark.id in found]
    ways = {one for d in drinks for way in d.ways for one in way.ids}
    avoided = [mark for mark in ALL_MARKS if mark.id in ways]
    words = {"nuts": "tree nuts", "cereals": "cereals with gluten"}
    base: dict[str, object] = {
        "slug": "lantern-supper",
        "house": "Wick & Tide",
        "event": "Lantern Supper",
        "when": "Saturday 12 December 2026, 7 pm to 12:30 am",
        "venue": "The Old Boathouse",
        "language": "en-GB",
        "direction": "ltr",
        "theme": "slate",
        "sections": sections,
        "columns": tuple(
            TableColumn(AllergenMark(mark.id, words.get(mark.id, mark.word), mark.icon)) for mark in marks
        ),
        "choices": tuple(
            Choice(mark.id, words.get(mark.id, mark.word), mark.icon, _left(drinks, mark.id))
            for mark in avoided
        ),
        "has_alcohol_free": any(way.alcohol_free for d in drinks for way in d.ways),
        "notices": NOTICES,
        "kitchen": ("Shakers and the blender are shared and rinsed, not washed, between drinks.",),
        "price_note": "Prices include VAT.",
        "region_name": "England",
        "contact": "hello@wickandtide.example",
        "address": "https://menu.example/lantern/",
        "tables": tuple(range(1, 15)),
        "listed": False,
        "version": "3f9a1c02",
        "since_card": SINCE_CARD,
        "version_line": "Menu 3f9a1c02 · 12 December 2026",
        "words": WORDS,
    }
    return GuestMenu(**{**base, **changes})  # type: ignore[arg-type]


def rich_menu(**changes: object) -> GuestMenu:
    """Three sections, fourteen drinks: swaps, cautions, one off, one without a price, one with a sixty-letter name."""
    return menu_of(_sections(), **changes)


def single_menu() -> GuestMenu:
    only = drink("quiet-harbour", "Quiet Harbour", price="")
    return menu_of(
        (GuestSection("tonight", "Tonight", "", (only,)),),
        notices=(),
        kitchen=(),
        price_note="",
        contact="",
        since_card=None,
    )


def long_menu(count: int = 80, sections: int = 8) -> GuestMenu:
    """Many drinks, made from those of the full evening under numbered names."""
    pool = [d for section in _sections() for d in section.drinks]
    made: list[list[GuestDrink]] = [[] for _ in range(sections)]
    for number in range(count):
        model = pool[number % len(pool)]
        fields = {name: getattr(model, name) for name in GuestDrink.__dataclass_fields__}
        name = f"{model.name} {number + 1}" if len(model.name) < 40 else f"Long Evening {number + 1}"
        made[number * sections // count].append(
            GuestDrink(**{**fields, "id": f"drink-{number + 1}", "name": name})
        )
    names = [
        "Before supper",
        "Sours",
        "Long",
        "With supper",
        "Without alcohol",
        "Hot",
        "After dark",
        "Last orders",
    ]
    return menu_of(
        tuple(
            GuestSection(f"part-{number}", names[number % len(names)], "", tuple(drinks))
            for number, drinks in enumerate(made)
        )
    )


CARD_MENU = GuestMenu(
    slug="lantern-supper",
    house="The Tide Table",
    event="Lantern Supper",
    when="Saturday 12 December 2026",
    venue="The Old Boathouse",
    language="en-GB",
    direction="ltr",
    theme="slate",
    sections=(),
    columns=(),
    choices=(),
    has_alcohol_free=False,
    notices=(),
    kitchen=(),
    price_note="",
    region_name="England",
    contact="",
    address="https://menu.example/lantern/",
    tables=(),
    listed=False,
    version="3f9c2a",
    version_line="Menu 3f9c2a · 12 December 2026",
    words=WORDS,
)
"""An event with an address and no drinks: all that its table cards and its code are made of."""


def site_files(menu: GuestMenu, theme: Theme, photos: Mapping[str, Photo] | None = None) -> dict[str, bytes]:
    """Return every file of a site by path, in order."""
    out = Memory()
    lay_site(menu, theme, out, photos)
    return dict(sorted(out.files.items()))


def card_files(menu: GuestMenu) -> dict[str, bytes]:
    """Return the files of the table cards by name."""
    out = Memory()
    lay_cards(menu, out)
    return out.files


def page_faults(files: Mapping[str, bytes]) -> tuple[str, ...]:
    """Return what a publish would find wrong with the pages among these files."""
    out = CheckedOutput(Memory())
    for path, content in files.items():
        if path.endswith(".html"):
            out.text(path, in_pieces((content.decode(),)))
        else:
            out.data(path, content)
    return tuple(map(str, out.faults()))
