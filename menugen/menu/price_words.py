"""What a menu says of money: prices in words, and whether tax is in them."""

from decimal import Decimal

from menugen.menu.language import PageLanguage
from menugen.menu.words import FREE
from menugen.records import House
from menugen.regions import Region


def price_words(price: Decimal | None, currency: str, page: PageLanguage) -> str:
    """Return "£9.50", or "free" where it is 0; empty where there is no price.

    Args:
        price: What a guest pays.
        currency: ISO 4217.
        page: The language.
    """
    if price is None:
        return ""
    return page.price(price, currency) if price else page.say(FREE)


def tax_note(house: House, region: Region) -> str:
    """Return what a menu says of tax, in English: the place's sentence where the house says how it writes its prices.

    A house that is registered for the tax of its own country may not be so in another: away from home nothing is said.

    Args:
        house: The house.
        region: Where the event is.
    """
    if not house.tax_registered or house.prices_include_tax is None or not is_at_home(house, region):
        return ""
    return region.tax_note(included=house.prices_include_tax)


def is_at_home(house: House, region: Region) -> bool:
    """Return whether a place is in the house's own country; a house that names none is at home where it serves."""
    return not house.region or house.region.partition("-")[0] == region.country
