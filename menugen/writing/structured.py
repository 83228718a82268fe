"""The menu for search engines: schema.org Menu, MenuSection, MenuItem and Offer, as JSON-LD in the menu's page.

Source of the names: schema.org, "Menu", "MenuSection", "MenuItem", "Offer", "ItemAvailability"; of how a page holds
them: W3C JSON-LD 1.1, "Embedding JSON-LD in HTML Documents". From memory.

`suitableForDiet` is never said. Every diet it can name (RestrictedDiet) promises that something is absent, and a menu
that knows only what labels list can promise nothing of the kind: a drink without milk on its labels is not vegan for
it, as sugar, colours and the fining of wine need not be listed, and shakers are shared. "Alcohol-free" is no diet.

The price of a bowl that guests share is the whole's, and the offer's description says so.
"""

import json
from functools import lru_cache

from markupsafe import Markup

from menugen.menu import GuestDrink, GuestMenu, GuestSection
from menugen.writing.notes import inline_html

_CONTEXT = "https://schema.org"
"""Names the vocabulary; nothing is fetched from there."""


def structured_menu(menu: GuestMenu) -> Markup:
    """Return the JSON-LD of a menu, ready to stand between script tags; empty for a menu that may not be listed.

    An unlisted menu leaves it out, as it has no other reader than search engines.
    """
    if not menu.listed:
        return Markup()
    told = {
        "@context": _CONTEXT,
        "@type": "Menu",
        "name": menu.event,
        "inLanguage": menu.language,
        **_said("url", menu.address),
        "hasMenuSection": [],
    }
    head, _, foot = _text(told).rpartition("[]")
    # Section by section, since the records of all drinks at once are many times larger than the text.
    sections = ",".join(_text(_section(section, menu)) for section in menu.sections)
    return Markup(f"{head}[{sections}]{foot}")  # noqa: S704  (escaped in _text)


def _text(told: object) -> str:
    text = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
    # Within a script "<" could end it, and "&" is no entity there: as escapes of JSON both are plain text everywhere.
    for letter in "<>&":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return text


@lru_cache(maxsize=4096)
def plain_text(markdown: str) -> str:
    """Return one paragraph of Markdown as the words a reader sees, without marks or links.

    Remembered, since a drink's line is wanted for the menu and for its own page.
    """
    return inline_html(markdown).striptags()


def _section(section: GuestSection, menu: GuestMenu) -> dict[str, object]:
    return {
        "@type": "MenuSection",
        "name": section.name,
        **_said("description", plain_text(section.note)),
        "hasMenuItem": [_item(drink, menu) for drink in section.drinks],
    }


def _item(drink: GuestDrink, menu: GuestMenu) -> dict[str, object]:
    return {
        "@type": "MenuItem",
        "name": drink.name,
        **_said("description", plain_text(drink.lead) or drink.made_with),
        "url": f"{menu.address}drinks/{drink.id}.html",
        **({"offers": _offer(drink, menu)} if drink.price_value and menu.currency else {}),
    }


def _offer(drink: GuestDrink, menu: GuestMenu) -> dict[str, str]:
    return {
        "@type": "Offer",
        "price": drink.price_value,
        "priceCurrency": menu.currency,
        **_said("description", drink.price_for),
        "availability": f"{_CONTEXT}/{'SoldOut' if drink.off else 'InStock'}",
    }


def _said(name: str, text: str) -> dict[str, str]:
    return {name: text} if text else {}
