"""A place and its rules, as they stand on a day."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import chain
from typing import Any, Literal

from menugen.regions import strength_words as words
from menugen.regions.data_files import load, place_files
from menugen.regions.drink_unit import DrinkUnit, drink_unit
from menugen.regions.energy_factors import EnergyFactors, energy_factors
from menugen.regions.notices import Fact, PlaceNotice, place_notice
from menugen.regions.price_floor import MinimumPrice, minimum_price_entry
from menugen.regions.regimes import Regime, in_force, load_regime
from menugen.regions.strength_words import Claim, Descriptor, StrengthWord

_ROOT = "everywhere"


class UnknownRegion(Exception):
    """No rules are known for a code.

    Attributes:
        code: As it was asked for.
        codes: Every code there is, sorted.
    """

    def __init__(self, code: str, codes: tuple[str, ...]) -> None:
        super().__init__(f"no rules are known for the region {code!r}")
        self.code = code
        self.codes = codes


@dataclass(frozen=True, slots=True)
class Helpline:
    """Someone to talk to about drinking.

    Attributes:
        name: Of the service.
        number: As it is dialled in the country.
        note: Hours and languages, as far as they were read; may be empty.
        source: Ids of sources.
        how: "read" or "reported"; a number from memory is not kept as a help line.
    """

    name: str
    number: str
    note: str
    source: tuple[str, ...]
    how: str


@dataclass(frozen=True, slots=True)
class Region:
    """What a place's rules say on a day. Nothing here is legal advice: the licensing authority decides.

    Attributes:
        code: ISO 3166-1 or -2 as it was asked for; "US-OR" has the rules of "US" and keeps its code.
        name: In English.
        country: ISO 3166-1; "EU" for the European Union.
        currency: ISO 4217.
        languages: BCP 47, the usual one first.
        ounce: What an ounce means here where nobody says otherwise.
        regime: The list of what must be declared.
        drink_unit: What alcohol is counted in.
        energy_factors: What a gram brings in energy by the labelling law.
        age: Years from which a mixed drink with spirits is served.
        age_note: For the operator: exceptions and doubts; may be empty.
        descriptors: Words for little or no alcohol: the place's own, then our cautious rule for the rest.
        notices: In the order of topics in the data; those in force on the day.
        helpline: None where no number with a checked source is known.
        guideline: The official low-risk advice in a sentence; None where none is known.
        pregnancy: Advice on alcohol in pregnancy, a sentence.
        tax_included: Whether menu prices include tax here.
        price_note: What the menu says of it.
        minimum_prices: Every one known, past and coming; `minimum_price` picks. Empty where there is none.
        sources: Ids of every source used above, sorted.
    """

    code: str
    name: str
    country: str
    currency: str
    languages: tuple[str, ...]
    ounce: Literal["trade", "us", "imperial"]
    regime: Regime
    drink_unit: DrinkUnit
    energy_factors: EnergyFactors
    age: int
    age_note: str
    descriptors: tuple[StrengthWord, ...]
    notices: tuple[PlaceNotice, ...]
    helpline: Helpline | None
    guideline: str | None
    pregnancy: str
    tax_included: bool
    price_note: str
    minimum_prices: tuple[MinimumPrice, ...]
    sources: tuple[str, ...]

    def descriptor(self, abv_low: float, abv_value: float, abv_high: float) -> Descriptor | None:
        """Return the word that may stand for a drink's strength here, or None.

        Args:
            abv_low: Lower bound of the strength as served, per cent by volume.
            abv_value: The strength as worked out.
            abv_high: Upper bound; only a word that holds for this is returned.

        Raises:
            ValueError: The bounds are not in order.
        """
        if not abv_low <= abv_value <= abv_high:
            message = f"bounds out of order: {abv_low}, {abv_value}, {abv_high}"
            raise ValueError(message)
        return words.descriptor(self.descriptors, abv_high)

    def claims(self, text: str, drink_class: str = "") -> tuple[Claim, ...]:
        """Return the phrases in a drink's name that claim something of its strength, with the limits here.

        Args:
            text: The name.
            drink_class: "beer", "cider" or "wine" where the drink is one of these and nothing else; empty otherwise.
        """
        return words.claims(self.descriptors, text, drink_class)


@cache
def load_region(code: str, on: date) -> Region:
    """Return a place's rules as they stand on a day.

    Args:
        code: ISO 3166-1 or -2, or "EU"; capitals do not matter. A part of a country that has no rules of its
            own here gets its country's.
        on: The event's date.

    Raises:
        UnknownRegion: Nothing is known for the country, or the code is none.
    """
    asked = code.strip().upper()
    lineage = _lineage(asked)
    merged: dict[str, Any] = {}
    notices: dict[str, dict[str, Any]] = {}
    terms: list[dict[str, Any]] = []
    for place in lineage:
        merged.update(place)
        for notice in place.get("notices", ()):
            if in_force(notice, on):
                notices[notice["id"]] = notice
        terms = [*place.get("strength_words", ()), *terms]
    unit, factors = drink_unit(merged["drink_unit"]), energy_factors(merged["energy"])
    facts = _facts(merged, unit)
    told = [found for raw in notices.values() if (found := place_notice(raw, facts))]
    order = load(f"{_ROOT}.yaml")["topics"]
    told.sort(key=lambda notice: order.index(notice.topic))
    guideline = facts["guideline"].text
    descriptors = words.strength_words(terms)
    regime = load_regime(merged["regime"], on)
    prices = tuple(minimum_price_entry(raw) for raw in merged.get("minimum_price", ()))
    used = [
        *(notice.source for notice in told),
        *(word.source for word in descriptors),
        *(price.source for price in prices),
        *(entry.source for entry in regime.entries),
        *(fact.source for fact in facts.values()),
        unit.source,
        factors.source,
        regime.source,
    ]
    return Region(
        code=asked,
        name=merged["name"],
        country=asked.split("-")[0],
        currency=merged["currency"],
        languages=tuple(merged["languages"]),
        ounce=merged["ounce"],
        regime=regime,
        drink_unit=unit,
        energy_factors=factors,
        age=merged["age"]["served"],
        age_note=merged["age"].get("note", ""),
        descriptors=descriptors,
        notices=tuple(told),
        helpline=_helpline(merged),
        guideline=guideline or None,
        pregnancy=facts["pregnancy"].text,
        tax_included=merged["prices"]["tax_included"],
        price_note=facts["price_note"].text,
        minimum_prices=prices,
        sources=tuple(sorted(set(chain.from_iterable(used)))),
    )


def known_regions() -> tuple[tuple[str, str], ...]:
    """Return (code, English name) of every place that has rules here, sorted by code."""
    named = [
        (code, place["name"])
        for country in place_files()
        for code, place in load(f"places/{country}.yaml")["places"].items()
    ]
    return tuple(sorted(named))


def minimum_price(region: Region, ethanol_ml: float, on: date) -> Decimal | None:
    """Return the lowest price a place allows for an amount of alcohol on a day, or None where it sets none.

    Args:
        region: The place.
        ethanol_ml: Pure ethanol in the drink, 0 or more.
        on: The day of the sale.

    Returns:
        In the region's currency, rounded as its rule says.
    """
    lowest = [
        entry.of(ethanol_ml)
        for entry in region.minimum_prices
        if (entry.from_date is None or on >= entry.from_date)
        and (entry.until_date is None or on < entry.until_date)
    ]
    return max(lowest) if lowest else None


def _lineage(code: str) -> list[dict[str, Any]]:
    """Return the place's data with those of its parents before it, the widest first."""
    country = code.split("-", maxsplit=1)[0]
    if country not in place_files():
        raise UnknownRegion(code, tuple(one for one, _ in known_regions()))
    places = load(f"places/{country}.yaml")["places"]
    place = places.get(code, places[country])
    lineage = [place]
    while place.get("parent"):
        parent = place["parent"]
        place = load(f"places/{parent.split('-')[0]}.yaml")["places"][parent]
        lineage.append(place)
    lineage.append(load(f"{_ROOT}.yaml"))
    return lineage[::-1]


def _facts(merged: dict[str, Any], unit: DrinkUnit) -> dict[str, Fact]:
    """Return what stands in braces in the notices, each with where it comes from."""
    line = _helpline(merged)
    age, prices = merged["age"], merged["prices"]
    none = Fact("", (), "read")
    return {
        "age": Fact(str(age["served"]), tuple(age["source"]), age["how"]),
        "unit": Fact(unit.sentence, unit.source, unit.how),
        "guideline": _fact(merged.get("guideline")) or none,
        "pregnancy": _fact(merged.get("pregnancy")) or none,
        "price_note": Fact(prices["text"], tuple(prices["source"]), prices["how"]),
        "helpline": Fact(
            f"{line.name}, {line.number}{f' ({line.note})' if line.note else ''}", line.source, line.how
        )
        if line
        else none,
    }


def _fact(raw: dict[str, Any] | None) -> Fact | None:
    return Fact(raw["text"], tuple(raw["source"]), raw["how"]) if raw else None


def _helpline(merged: dict[str, Any]) -> Helpline | None:
    raw = merged.get("helpline")
    if not raw or raw["how"] == "memory":
        return None  # a wrong number is worse than none
    return Helpline(raw["name"], raw["number"], raw.get("note", ""), tuple(raw["source"]), raw["how"])
