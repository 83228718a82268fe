"""A place and its rules, as they stand on a day."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import lru_cache
from itertools import chain
from typing import Any, Literal

from menugen.regions import strength_words as words
from menugen.regions.ages import Ages, ages_entry
from menugen.regions.alcohol import PouredAlcohol
from menugen.regions.certainty import weakest
from menugen.regions.data_files import load, place_files
from menugen.regions.drink_unit import DrinkUnit, drink_unit
from menugen.regions.energy_factors import EnergyFactors, energy_factors
from menugen.regions.notices import Fact, PlaceNotice, place_notice
from menugen.regions.parts import part_name, part_of, parts_of
from menugen.regions.price_floor import MinimumPrice, minimum_price_entry
from menugen.regions.regimes import Regime, in_force, load_regime
from menugen.regions.strength_words import Claim, Descriptor, StrengthWord

_ROOT = "everywhere"


_MOST_REGIONS = 256
"""Places and days kept: a preview that runs for years sees more days than any house has events at a time."""


class UnknownRegion(Exception):
    """No rules are known for a code.

    Attributes:
        code: As it was asked for.
        codes: Every code there is, sorted; those of the country's parts, where only the part is not known.
        meant: The code of the place that is meant by it, where people are known to write it so; else empty.
        country: In English, where rules are known for the country and ISO 3166-2 has no such part of it; else empty.
    """

    def __init__(self, code: str, codes: tuple[str, ...], country: str = "", meant: str = "") -> None:
        super().__init__(f"no rules are known for the region {code!r}")
        self.code = code
        self.codes = codes
        self.country = country
        self.meant = meant


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
        rules_of: The code whose rules these are: "US" for "US-OR", and `code` where it has an entry of its own.
        part_name: What the place is called in English where it has the rules of another: "Oregon"; else empty.
        parts_differ: Whether the rules of its parts matter so much that an event should name one.
        states: Where the code is no place but a name for several, theirs, sorted: an event names one. Else empty.
        name: In English, of the place whose rules these are.
        called: The name within a sentence: "the United States".
        country: ISO 3166-1; "EU" for the European Union.
        currency: ISO 4217.
        languages: BCP 47, the usual one first.
        ounce: What an ounce means here where nobody says otherwise.
        regime: The list of what must be declared.
        drink_unit: What alcohol is counted in.
        energy_factors: What a gram brings in energy by the labelling law.
        ages: Years from which drinks with alcohol are served.
        descriptors: Words for little or no alcohol: the place's own, then our cautious rule for the rest.
        notices: In the order of topics in the data; those in force on the day.
        helpline: None where no number with a checked source is known.
        guideline: The official low-risk advice in a sentence; None where none is known.
        pregnancy: Advice on alcohol in pregnancy, a sentence.
        tax_included: Whether menu prices include tax here.
        price_note: What a menu says whose prices are as is usual here.
        price_note_otherwise: What a menu says whose prices are not.
        minimum_prices: Those in force; empty where there is none.
        sources: Ids of every source used above, sorted.
    """

    code: str
    rules_of: str
    part_name: str
    parts_differ: bool
    states: tuple[str, ...]
    name: str
    called: str
    country: str
    currency: str
    languages: tuple[str, ...]
    ounce: Literal["trade", "us", "imperial"]
    regime: Regime
    drink_unit: DrinkUnit
    energy_factors: EnergyFactors
    ages: Ages
    descriptors: tuple[StrengthWord, ...]
    notices: tuple[PlaceNotice, ...]
    helpline: Helpline | None
    guideline: str | None
    pregnancy: str
    tax_included: bool
    price_note: str
    price_note_otherwise: str
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

    def tax_note(self, *, included: bool) -> str:
        """Return what a menu says of the tax, such as "Prices include VAT." or "VAT is added to these prices.".

        Args:
            included: Whether the prices are with it.
        """
        return self.price_note if included is self.tax_included else self.price_note_otherwise

    def claims(self, text: str, drink_class: str = "") -> tuple[Claim, ...]:
        """Return the phrases in a drink's name that claim something of its strength, with the limits here.

        Args:
            text: The name.
            drink_class: "beer", "cider" or "wine" where the drink is one of these and nothing else; empty otherwise.
        """
        return words.claims(self.descriptors, text, drink_class)


@lru_cache(maxsize=_MOST_REGIONS)
def load_region(code: str, on: date) -> Region:
    """Return a place's rules as they stand on a day.

    Args:
        code: ISO 3166-1 or -2, or "EU"; capitals do not matter. A part of a country that has no rules of its
            own here gets those of the larger part it belongs to, or its country's.
        on: The event's date.

    Raises:
        UnknownRegion: Nothing is known for the country, the country has no such part, or the code is none.
    """
    asked = code.strip().upper()
    rules_of = _rules_of(asked)
    lineage = _lineage(rules_of)
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
    ages = ages_entry(merged["age"])
    facts = _facts(merged, unit, ages)
    fitting = (raw for raw in notices.values() if raw.get("needs_age", "") in _AGES_SAID[ages.lower is None])
    told = [found for raw in fitting if (found := place_notice(raw, facts))]
    order = load(f"{_ROOT}.yaml")["topics"]
    told.sort(key=lambda notice: order.index(notice.topic))
    guideline = facts["guideline"].text
    descriptors = words.strength_words(terms)
    regime = load_regime(merged["regime"], on)
    prices = tuple(minimum_price_entry(raw) for raw in merged.get("minimum_price", ()) if in_force(raw, on))
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
        rules_of=rules_of,
        part_name="" if asked == rules_of else part_name(asked),
        parts_differ=lineage[-1].get("parts_differ", False),
        states=_states(rules_of) if lineage[-1].get("no_place") else (),
        name=merged["name"],
        called=lineage[-1].get("called", merged["name"]),
        country=asked.split("-")[0],
        currency=merged["currency"],
        languages=tuple(merged["languages"]),
        ounce=merged["ounce"],
        regime=regime,
        drink_unit=unit,
        energy_factors=factors,
        ages=ages,
        descriptors=descriptors,
        notices=tuple(told),
        helpline=_helpline(merged),
        guideline=guideline or None,
        pregnancy=facts["pregnancy"].text,
        tax_included=merged["prices"]["tax_included"],
        price_note=facts["price_note"].text,
        price_note_otherwise=merged["prices"]["otherwise"],
        minimum_prices=prices,
        sources=tuple(sorted(set(chain.from_iterable(used)))),
    )


def known_regions() -> tuple[tuple[str, str], ...]:
    """Return (code, English name) of every place that has rules here, sorted by code; a name for several is none."""
    named = [
        (code, place["name"])
        for country in place_files()
        for code, place in load(f"places/{country}.yaml")["places"].items()
        if not place.get("no_place")
    ]
    return tuple(sorted(named))


def minimum_price(
    region: Region,
    ethanol_ml: float,
    *,
    abv_percent: float = 100.0,
    pours: Collection[PouredAlcohol] = (),
) -> Decimal | None:
    """Return the lowest price a place allows for a drink on its day, or None where it sets none for such a drink.

    Args:
        region: The place on the day of the sale.
        ethanol_ml: Pure ethanol in the drink, 0 or more.
        abv_percent: The drink's strength, in % vol: some places set no price for weak ones.
        pours: What the ethanol comes from, bottle by bottle: some places price what is poured.

    Returns:
        In the region's currency, rounded as its rule says.
    """
    lowest = [
        entry.of(ethanol_ml, pours)
        for entry in region.minimum_prices
        if ethanol_ml > 0 and abv_percent > entry.above_abv_percent
    ]
    return max(lowest) if lowest else None


_AGES_SAID = {True: ("", "one"), False: ("", "served", "lower")}
"""Which notices on ages a place may have, by whether it has one age."""


def _rules_of(code: str) -> str:
    """Return the code of the place whose rules hold: its own, else those of what it is a part of."""
    country = code.split("-", maxsplit=1)[0]
    if country not in place_files():
        raise UnknownRegion(code, tuple(one for one, _ in known_regions()), meant=_meant(code))
    places = load(f"places/{country}.yaml")["places"]
    found = code
    while found not in places:
        if not part_name(found):
            called = places[country].get("called", places[country]["name"])
            raise UnknownRegion(code, _parts_or_states(country), called)
        found = part_of(found)
    return found


def _meant(code: str) -> str:
    """Return the country that is meant by a code that is not its own; empty where none is known to be."""
    return next(
        (
            country
            for country in place_files()
            if code in load(f"places/{country}.yaml")["places"][country].get("also", ())
        ),
        "",
    )


def _parts_or_states(country: str) -> tuple[str, ...]:
    """Return what may be written instead of a part that there is not."""
    return tuple(sorted({*_states(country), *parts_of(country), *_own_places(country)}))


def _own_places(country: str) -> tuple[str, ...]:
    places = load(f"places/{country}.yaml")["places"]
    return tuple(code for code, place in places.items() if not place.get("no_place"))


def _states(code: str) -> tuple[str, ...]:
    """Return the codes of the countries that share what stands under a code and belong to no other, sorted."""
    return tuple(
        country
        for country in place_files()
        if load(f"places/{country}.yaml")["places"][country].get("parent") == code
    )


def _lineage(code: str) -> list[dict[str, Any]]:
    """Return the place's data with those of its parents before it, the widest first."""
    country = code.split("-", maxsplit=1)[0]
    place = load(f"places/{country}.yaml")["places"][code]
    lineage = [place]
    while place.get("parent"):
        parent = place["parent"]
        place = load(f"places/{parent.split('-')[0]}.yaml")["places"][parent]
        lineage.append(place)
    lineage.append(load(f"{_ROOT}.yaml"))
    return lineage[::-1]


def _facts(merged: dict[str, Any], unit: DrinkUnit, ages: Ages) -> dict[str, Fact]:
    """Return what stands in braces in the notices, each with where it comes from."""
    line = _helpline(merged)
    prices = merged["prices"]
    none = Fact("", (), "read")
    return {
        "age": Fact(str(ages.served), ages.source, ages.how),
        "lower_age": Fact(str(ages.lower.age), ages.source, ages.how) if ages.lower else none,
        "unit": Fact(unit.sentence, unit.source, unit.how),
        "guideline": _fact(merged.get("guideline")) or none,
        "pregnancy": _fact(merged.get("pregnancy")) or none,
        "price_note": Fact(prices["text"], tuple(prices["source"]), weakest(prices["how"])),
        "helpline": Fact(
            f"{line.name}, {line.number}{f' ({line.note})' if line.note else ''}", line.source, line.how
        )
        if line
        else none,
    }


def _fact(raw: dict[str, Any] | None) -> Fact | None:
    return Fact(raw["text"], tuple(raw["source"]), weakest(raw["how"])) if raw else None


def _helpline(merged: dict[str, Any]) -> Helpline | None:
    raw = merged.get("helpline")
    if not raw or raw["how"] == "memory":
        return None  # a wrong number is worse than none
    return Helpline(raw["name"], raw["number"], raw.get("note", ""), tuple(raw["source"]), raw["how"])
